"""Plan -> a summary for `check`: what there is to sew, what is proven, and what a maker should know before cutting."""

from __future__ import annotations

from collections.abc import Iterator

from planner.blocks import Outline
from planner.cloth.cloth import find_misfits
from planner.find_joins import joins_of_block
from planner.measure import spell_number
from planner.plan import Plan
from planner.say_bias import BiasWords
from planner.say_made import count_blocks
from planner.say_slender import tell_slender
from planner.spread_passes import spread_passes


def summarise(plan: Plan) -> tuple[str, ...]:
    """Lines without an indent, the project's name first."""
    blocks = plan.blocks.drafted
    copies = sum(block.copies for block in blocks if not block.is_top) + count_blocks(plan.blocks)
    patches = sum(block.copies * len(block.patches) for block in blocks)
    seams, turning, in_part = _count_seams(plan)
    joins, nesting, at_open = _count_joins(plan)
    clashes, versions = plan.pressing.clashes, plan.pressing.two_ways
    most = "proven the most" if clashes == plan.least_clashes else "the most found"
    fewest = "proven the fewest" if versions == plan.least_versions else "the fewest found"
    lines = [
        plan.project.name,
        f"{_many(copies, 'block')}, {_many(patches, 'patch', 'patches')}, {_many(seams, 'seam')}",
        *([f"{_many(turning, 'seam')} set in: turning in an inner corner"] if turning else []),
        *([f"{_many(in_part, 'seam')} sewn in part and finished last"] if in_part else []),
        _tell_handling(plan),
        f"{nesting} of {_many(joins, 'join')} nest{at_open}" + (f" ({most})" if joins else ""),
        f"{_many(plan.pressing.two_ways, 'kind')} pressed two ways ({fewest})",
    ]
    lines += _tell_prints(plan)
    lines += _tell_quilt(plan)
    lines += _tell_webs(plan)
    lines += [f"Not used: {words}" for words in plan.project.unused]
    lines += _tell_narrow(plan)
    lines += tell_slender(plan)
    lines += [f"Too wide to cut, line {fault.line}: {fault.where}: {fault.words}" for fault in find_misfits(plan)]
    lines += BiasWords(plan, lambda pile: None).summarise()
    lines += tell_off_ruler(plan)
    return tuple(lines)


def _tell_handling(plan: Plan) -> str:
    handled = plan.handled
    words = (
        f"{_many(handled.kinds, 'kind')} of unit in {_many(handled.passes, 'pass', 'passes')}: "
        f"{spell_number(handled.minutes)} minutes of handling"
    )
    if handled.is_proven:
        most = plan.project.handling.passes
        proven = "the least" if most is None else f"the fewest kinds in at most {_many(most, 'pass', 'passes')}"
        return f"{words} (proven {proven})"
    return f"{words} (best found, at least {spell_number(handled.at_least)})"


def _count_seams(plan: Plan) -> tuple[int, int, int]:
    """All seams; those that are set in, and those that are sewn in part (what finishes them is counted with them)."""
    seams = turning = in_part = 0
    for block, sewn in zip(plan.blocks.drafted, plan.units.seams, strict=True):
        units = [plan.units.units[seam.unit] for seam in sewn]
        finished = sum(unit.closes is not None for unit in units)
        seams += block.copies * (len(sewn) - finished)
        turning += block.copies * sum(bool(unit.legs) for unit in units)
        in_part += block.copies * finished
    return seams, turning, in_part


def _count_joins(plan: Plan) -> tuple[int, int, str]:
    """The joins, how many of them nest, and words for those that lie at a seam that is pressed open."""
    joins = nesting = at_open = 0
    for number, block in enumerate(plan.blocks.drafted):
        for _, join, first, second in joins_of_block(plan.units, plan.joins, number):
            joins += block.copies
            nesting += block.copies * plan.press_words.nests(number, join, first, second)
            is_open = plan.press_words.is_open(number, first) or plan.press_words.is_open(number, second)
            at_open += block.copies * is_open
    return joins, nesting, f", {at_open} at open seams" if at_open else ""


_JOINED = {
    None: "as is quickest",
    "rows": "row by row",
    "quarters": "by quarters",
    "webbed": "in rows that hang together by their threads",
}


def _tell_quilt(plan: Plan) -> Iterator[str]:
    """The quilt: how large, how it is joined, which of its blocks lie turned."""
    top = plan.units.cuts.blocks.top  # with the way of joining that was chosen
    if top is None:
        return
    size = plan.ruler.sides(*(plan.ruler.to_measure(side) for side in plan.quilt_size))
    yield f"The quilt: {size} finished, joined {_JOINED[top.joining]}"
    turned = len(plan.turned)
    if turned:
        yield f"{_many(turned, 'block')} of the quilt turned so that the joins nest; the sheet says which"


def _tell_webs(plan: Plan) -> Iterator[str]:
    """The blocks that are webbed, and what webs cost: a column waits until all its rows are ready."""
    webbed = dict.fromkeys(block.name for block in plan.blocks.drafted if block.web)
    if webbed:
        yield f"Webbed, the rows of each block uncut: {', '.join(webbed)}"
    more = max(spread_passes(plan.batches, plan.piles).values(), default=0) - plan.batches.passes
    if more > 0:
        yield f"{_many(more, 'pass', 'passes')} more on the sheet: the rows of a web wait for one another"


def _tell_prints(plan: Plan) -> Iterator[str]:
    """The fabrics whose prints stay upright."""
    used = {patch.fabric for block in plan.blocks.drafted for patch in block.patches}
    found = [fabric.name for fabric in plan.project.fabrics if fabric.directional and fabric.name in used]
    if found:
        yield f"{_many(len(found), 'fabric')} with a direction, upright in every block: {', '.join(found)}"


def _tell_narrow(plan: Plan) -> Iterator[str]:
    """Patches that are narrower, finished, than one seam allowance: the two allowances beneath would overlap."""
    allowance = plan.project.seam * plan.blocks.scale
    for block in {(block.name, block.swap): block for block in plan.blocks.drafted}.values():  # however it lies
        narrow = sum(_is_narrower(patch.outline, allowance.numerator, allowance.denominator) for patch in block.patches)
        if narrow:
            yield (
                f"Narrow: {_many(narrow, 'patch', 'patches')} of {block.name} finished narrower than the seam "
                f"allowance of {plan.ruler.exact(plan.project.seam)}{' in' if plan.project.measure == 'in' else ''}"
            )


def _is_narrower(outline: Outline, over: int, under: int) -> bool:
    """Whether an outline's least width is below over/under grid units: its doubled area divided by its longest side
    (exact for triangles and rectangles, and never too small a width for other convex shapes)."""
    pairs = list(zip(outline, outline[1:] + outline[:1], strict=True))
    longest = max((bx - ax) ** 2 + (by - ay) ** 2 for (ax, ay), (bx, by) in pairs)
    twice_area = sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs)
    if len(outline) > 3:  # of a rectangle the width is its area by its longest side
        return twice_area**2 * under**2 < 4 * longest * over**2
    return twice_area**2 * under**2 < longest * over**2


def tell_off_ruler(plan: Plan) -> Iterator[str]:
    """Cut sizes that fall between the lines of a ruler, and the nearest block sizes that need none."""
    for off in plan.off_ruler:
        unit = plan.project.measure
        sizes = [plan.ruler.exact(size).removesuffix(" cm") for size in off.cut]
        sizes += [f"about {plan.ruler.to_cut(size).words.removeprefix('about ')}" for size in off.rooted]
        nearest = [
            f"{plan.ruler.sides(*(plan.ruler.to_measure(side) for side in size))}"
            for size in (off.smaller, off.larger)
            if size is not None
        ]
        but = "but for what is about, " if off.rooted else ""
        instead = f"; {but}no such size at {' or '.join(nearest)} finished" if nearest else ""
        size = plan.ruler.sides(*(plan.ruler.to_measure(side) for side in off.size))
        yield f"Off the ruler: {off.block} at {size} is cut {', '.join(sizes)} {unit}{instead}"


def _many(count: int, noun: str, several: str = "") -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {several or noun + 's'}"
