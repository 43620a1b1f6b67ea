"""Plan -> SVG: a block, the quilt, or the press map of either."""

from __future__ import annotations

from collections.abc import Iterator

from planner.pictures.draw_cloth import (
    Colours,
    count_turned,
    draw_block_borders,
    draw_letters,
    draw_patches,
    draw_turned,
)
from planner.pictures.draw_seams import (
    draw_arrows,
    draw_bands,
    draw_clashes,
    draw_lines,
    draw_numbers,
    place_arrows,
    place_numbers,
    trace_on_paper,
)
from planner.pictures.find_versions import Versions
from planner.pictures.lay_out_page import Sign, lay_out_page
from planner.pictures.paper import Paper
from planner.pictures.trace_seams import find_clashes
from planner.plan import Plan
from planner.say_made import say_block
from planner.turn_prints import NO_WAY

_NUMBERS = "A number on a seam: its place in the order of sewing"
_FALLS = "An arrow points to where the allowances of its seam fall"
_OPEN = "Pressed open: one allowance to each side"
_PRINTS = "An arrow behind the letter of a fabric: where the top of its print points"
_SPUN = "Arrows both ways on one seam: it is spun, its allowances fall one way up to the point and the other way beyond"


def draw_block(plan: Plan, block: int, colours: Colours) -> str:
    """A drafted block in its fabrics: its seams numbered in the order of sewing, with press arrows."""
    paper = Paper(plan, block)
    first_patch, first_seam = find_names(plan, block)
    traced = trace_on_paper(paper, block)
    arrows = place_arrows(paper, traced, is_numbered=True)
    numbers = place_numbers(paper, traced, block)
    taken = [*(room for arrow in arrows for room in arrow.take()), *(number.take() for number in numbers)]
    layers = [
        draw_patches(paper, colours, first_patch),
        draw_lines(paper, traced, first_seam),
        draw_letters(paper, colours, taken=taken),
        draw_arrows(paper, arrows, first_seam),
        draw_numbers(paper, numbers),
    ]
    title = _name(plan, block)
    many = len(traced)
    words = f"{title}. {len(paper.outlines)} patches and {many} seams. {_NUMBERS}. {_FALLS}."
    signs = [Sign("", _NUMBERS), Sign("arrow", _FALLS)] if traced else []
    signs += [*_sign_open(plan, block), *_sign_prints(paper)]
    return lay_out_page(paper, colours, title, words, layers, signs)


def draw_quilt(plan: Plan, colours: Colours) -> str:
    """The quilt in its fabrics, as one looks at it. ValueError where there is none."""
    if plan.blocks.top is None:
        raise ValueError("this project has no quilt")
    block = len(plan.blocks.drafted) - 1
    paper = Paper(plan, block)
    layers = [
        draw_patches(paper, colours, find_names(plan, block)[0]),
        draw_letters(paper, colours),
        draw_block_borders(paper),
        draw_turned(paper),
    ]
    signs = [Sign("border", f"The edge of a block: {say_block(plan.blocks, block)}"), *_sign_turned(paper)]
    signs += _sign_prints(paper)
    title = _name(plan, block)
    words = ". ".join([title, *(sign.words for sign in signs)]) + "."
    return lay_out_page(paper, colours, title, words, layers, signs)


def draw_press_map(plan: Plan, block: int, colours: Colours) -> str:
    """Where the allowances of every seam of a drafted block, or of the quilt, fall; which kinds are pressed two ways,
    and which joins do not nest."""
    paper = Paper(plan, block)
    first_patch, first_seam = find_names(plan, block)
    traced = trace_on_paper(paper, block)
    versions = Versions(plan)
    arrows = place_arrows(paper, traced)
    taken = [room for arrow in arrows for room in arrow.take()]
    layers = [
        draw_patches(paper, colours, first_patch, is_pale=True),
        draw_letters(paper, colours, is_pale=True, taken=taken),
        draw_block_borders(paper),
        draw_bands(paper, traced, versions, block),
        draw_lines(paper, traced, first_seam, versions, block),
        draw_turned(paper),
        draw_arrows(paper, arrows, first_seam),
        draw_clashes(paper, block),
    ]
    signs = [Sign("arrow", _FALLS), *_sign_open(plan, block), *_sign_versions(plan, block, versions)]
    signs.append(_sign_clashes(plan, block))
    if plan.blocks.drafted[block].is_top:
        signs += _sign_turned(paper)
    signs += _sign_prints(paper)
    title = f"{_name(plan, block)}: press map"
    words = ". ".join([title, *(sign.words for sign in signs)]) + "."
    return lay_out_page(paper, colours, title, words, layers, signs, is_pale=True)


def _sign_clashes(plan: Plan, block: int) -> Sign:
    clashes = len(find_clashes(plan, block))
    if clashes:
        which = "A join that does" if clashes == 1 else f"{clashes} joins that do"
        return Sign("clash", f"{which} not nest: a pin on each side of the point")
    return Sign("", "No join clashes" if plan.pressing.is_open[block] else "Every join nests")


def _name(plan: Plan, block: int) -> str:
    drafted = plan.blocks.drafted[block]
    name, sides = ("The quilt", plan.quilt_size) if drafted.is_top else (drafted.title, plan.block_size(block))
    size = plan.ruler.sides(*(plan.ruler.to_measure(side) for side in sides))
    return f"{name}, {size} finished"


def _sign_prints(paper: Paper) -> Iterator[Sign]:
    if any(patch.up != NO_WAY for patch in paper.drafted.patches):
        yield Sign("", _PRINTS)


def _sign_open(plan: Plan, block: int) -> Iterator[Sign]:
    if plan.pressing.is_open[block]:
        yield Sign("open", _OPEN)
    if plan.pressing.is_spun[block]:
        yield Sign("", _SPUN)


def _sign_turned(paper: Paper) -> Iterator[Sign]:
    turns = count_turned(paper)
    where = "the triangle stands at the edge that is its upper one as drawn"
    if turns.found:
        yield Sign("turned", f"{_many(turns.found)} so that the joins nest: {where}")
    if turns.drawn:
        yield Sign("drawn", f"{_many(turns.drawn)} as the layout says: {where}")


def _many(blocks: int) -> str:
    return "A block that is turned" if blocks == 1 else f"{blocks} blocks that are turned"


def _sign_versions(plan: Plan, block: int, versions: Versions) -> Iterator[Sign]:
    """What the two patterns mean, and the kinds of this picture that have two versions."""
    units = plan.units
    kinds = {units.units[seam.unit].kind for seam in units.seams[block]}
    found = [kind for number, kind in versions.kinds.items() if number in kinds]
    if not found:
        yield Sign("", "No kind of unit here is pressed two ways")
        return
    yield Sign("first", "A kind pressed two ways, the larger pile: long dashes, slanting strokes over the allowances")
    yield Sign("second", "The same kind the other way, a pile of its own: dots, straight strokes over the allowances")
    for kind in found:
        yield Sign("", f"{plan.words.name(kind.unit)}: {kind.first} of the larger pile, {kind.second} of the other")


def find_names(plan: Plan, block: int) -> tuple[int, int]:
    """Under which numbers the plan file has the first patch and the first seam of a drafted block: of its first copy,
    or of the first one in the quilt."""
    patch = seam = 1
    for drafted, count in plan.blocks.made:
        if drafted == block:
            return patch, seam
        if not plan.blocks.drafted[drafted].is_top:
            patch += count * len(plan.blocks.drafted[drafted].patches)
            seam += count * len(plan.units.seams[drafted])
    assert plan.blocks.top is not None
    for piece, last in zip(plan.blocks.top.pieces, plan.units.joined, strict=True):
        if piece.block == block:
            return patch + piece.first, seam + max(0, last - len(plan.units.seams[block]) + 1)
    raise ValueError("this block is not made")
