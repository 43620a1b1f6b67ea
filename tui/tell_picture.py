"""What the signs of a picture of a block or of the quilt mean, in a line each."""

from __future__ import annotations

from collections.abc import Iterator

from planner.pictures.find_versions import Versions
from planner.pictures.trace_seams import find_clashes
from planner.plan import Plan
from planner.say_prints import say_way
from planner.turn_prints import see_up
from tui.canvas import HEAVY_SLANT, Canvas
from tui.draw_boxes import FADED
from tui.draw_press import CLASH, PressMap
from tui.draw_quilt import Sight
from tui.place_quilt import mark_of, number_blocks

ARROWS_TOLD = "Arrows: the way the allowances fall"
MARK_TOLD = "the mark of its slip"
SIGNS = (  # wherever they stand; what a picture of its own means is told with it
    ("▲", f"{MARK_TOLD}, where it points"),
    ("△", "in the quilt, a block that lies turned: where its upper edge as drawn is"),
    ("║", "the edges to sew; ╫ a pin"),
    ("┃", "the seam just sewn or pressed; where it slants it is dotted: *"),
    ("↑", "on an edge to sew, the ridge of a seam that meets it; on a seam, the way its allowances fall"),
    ("1", "in a box, a block, where there is no room for its patches"),
)


def tell_block(plan: Plan, block: int) -> tuple[str, ...]:
    """Of a block with the numbers of its seams."""
    lines = [f"Numbers: seams in the order of sewing. {ARROWS_TOLD}."]
    signs = [
        *(["= pressed open"] if plan.pressing.is_open[block] else []),
        *(["@ spun round the point"] if plan.pressing.is_spun[block] else []),
    ]
    return (*lines, *([", ".join(signs)] if signs else []), tell_fabrics(plan, block))


def tell_quilt(plan: Plan, sight: Sight) -> tuple[str, ...]:
    """Of the quilt in its fabrics."""
    lines = [] if sight.is_whole else [_tell_numbers(plan)]
    return (*lines, *_tell_turned(plan), tell_fabrics(plan, len(plan.blocks.drafted) - 1))


def tell_signs(plan: Plan, canvas: Canvas) -> str:
    """Of a unit or a pair: the fabrics whose letters can be read, the slip's mark, and the dots of a slanting seam."""
    seen = {(cell.fabric, cell.text) for row in canvas for cell in row if cell.role == "cloth"}
    marks = dict.fromkeys(cell.text for row in canvas for cell in row if cell.role == "mark")
    told = [f"{one.letter} {one.name}" for one in plan.project.fabrics if (one.name, one.letter[0]) in seen]
    dotted = {cell.role for row in canvas for cell in row if cell.text == HEAVY_SLANT and cell.role in ("sew", "seam")}
    what = "the edges to sew where they slant" if "sew" in dotted else "the seam where it slants"
    dots = [f"{HEAVY_SLANT} {what}"] if dotted else []
    return ", ".join([*told, *([f"{' '.join(marks)} {MARK_TOLD}"] if marks else []), *dots])


def tell_beside(plan: Plan, block: int, sight: Sight | None, is_marked: bool) -> tuple[str, ...]:
    """Of the picture beside the card: a block, or the quilt (`sight`); `is_marked` where one unit of it is meant."""
    told = tell_quilt(plan, sight) if sight is not None else (tell_fabrics(plan, block),)
    return (*told, *([f"{FADED} not in what is sewn here"] if is_marked else []))


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
        yield tell_fabrics(plan, block)


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


def tell_fabrics(plan: Plan, block: int) -> str:
    """Which letter is which fabric, of those in a block or in the quilt."""
    used = {patch.fabric for patch in plan.blocks.drafted[block].patches}
    return ", ".join(
        f"{one.letter} {one.name}{_tell_way(plan, block) if one.directional else ''}"
        for one in plan.project.fabrics
        if one.name in used
    )


def _tell_way(plan: Plan, block: int) -> str:
    """Where prints with a direction point, in the picture of a block that has some."""
    drafted, top = plan.blocks.drafted[block], plan.blocks.top
    up = max(patch.up for patch in drafted.patches)
    return f" ({say_way(see_up(up, drafted.is_top and top is not None and top.on_point))})"
