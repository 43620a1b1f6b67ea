"""What the signs of a picture of a block or of the quilt mean, in a line each."""

from __future__ import annotations

from collections.abc import Iterator

from planner.pictures.find_versions import Versions
from planner.pictures.trace_seams import find_clashes
from planner.plan import Plan
from tui.draw_press import CLASH, PressMap
from tui.draw_quilt import Sight
from tui.place_quilt import mark_of, number_blocks

ARROWS_TOLD = "Arrows: the way the allowances fall"


def tell_block(plan: Plan, block: int) -> tuple[str, ...]:
    """Of a block with the numbers of its seams."""
    lines = [f"Numbers: seams in the order of sewing. {ARROWS_TOLD}."]
    signs = [
        *(["= pressed open"] if plan.pressing.is_open[block] else []),
        *(["@ spun round the point"] if plan.pressing.is_spun[block] else []),
    ]
    return (*lines, *([", ".join(signs)] if signs else []), _tell_fabrics(plan, block))


def tell_quilt(plan: Plan, sight: Sight) -> tuple[str, ...]:
    """Of the quilt in its fabrics."""
    lines = [] if sight.is_whole else [_tell_numbers(plan)]
    return (*lines, *_tell_turned(plan), _tell_fabrics(plan, len(plan.blocks.drafted) - 1))


def tell_press(plan: Plan, block: int, drawn: PressMap) -> tuple[str, ...]:
    """Of a press map."""
    return tuple(_tell_press(plan, block, drawn))


def _tell_press(plan: Plan, block: int, drawn: PressMap) -> Iterator[str]:
    is_top = plan.blocks.drafted[block].is_top
    if drawn.is_whole:
        yield f"{ARROWS_TOLD}."
    elif drawn.has_arrows:
        yield f"{ARROWS_TOLD}, here of the seams that join the blocks; each block has a map of its own."
        yield _tell_numbers(plan)
    else:
        yield "No room for the arrows here: seamrun draw FILE --press -o FILE.svg has them all."
        yield _tell_numbers(plan)
    if plan.pressing.is_open[block]:
        yield "An arrow both ways: pressed open."
    if plan.pressing.is_spun[block]:
        yield "Arrows against one another on one seam: spun round the point between them."
    yield from _tell_versions(plan, block)
    clashes = len(find_clashes(plan, block))
    if clashes:
        which = "a join that does" if clashes == 1 else f"the {clashes} joins that do"
        yield f"{CLASH} {which} not nest: a pin on each side of the point."
    else:
        yield "No join clashes." if plan.pressing.is_open[block] else "Every join nests."
    if is_top and not drawn.is_whole:
        yield from _tell_turned(plan)
    if drawn.is_whole:
        yield _tell_fabrics(plan, block)


def _tell_versions(plan: Plan, block: int) -> Iterator[str]:
    units = plan.units
    kinds = {units.units[seam.unit].kind for seam in units.seams[block]}
    found = [kind for number, kind in Versions(plan).kinds.items() if number in kinds]
    if found:
        yield "Strong lines: the smaller pile of a kind that is pressed two ways:"
    for kind in found:
        yield f"  {plan.words.name(kind.unit)}: {kind.first} one way, {kind.second} the other"


def _tell_numbers(plan: Plan) -> str:
    named = [f"{number} {plan.blocks.drafted[block].title}" for block, number in number_blocks(plan).items()]
    return f"Numbers: blocks. {', '.join(named)}."


def _tell_turned(plan: Plan) -> Iterator[str]:
    top = plan.blocks.top
    assert top is not None
    marks = [mark_of(plan, piece) for piece in top.pieces if piece.block >= 0]
    turned = sum(map(bool, marks))
    if turned:
        mark = next(filter(None, marks))
        which = "a block that lies turned" if turned == 1 else f"the {turned} blocks that lie turned"
        yield f"{mark} {which}: it points at the edge that is its upper one as drawn."


def _tell_fabrics(plan: Plan, block: int) -> str:
    used = {patch.fabric for patch in plan.blocks.drafted[block].patches}
    return ", ".join(f"{one.letter} {one.name}" for one in plan.project.fabrics if one.name in used)
