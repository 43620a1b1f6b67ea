"""Plan -> what a maker wants to know of the pressing: what lies in two piles, what clashes and why, which wishes are
granted, and what one more pile would grant."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from planner.count_wishes import Granted, count_wishes
from planner.explain_clashes import Clash, count_at_open, explain_clashes
from planner.find_cuts import always
from planner.least_cost import OutOfBudget
from planner.place_seams import SeamPlaces
from planner.plan import Plan
from planner.press_seams import Pressing, press_freer
from planner.project import Keep
from planner.sheet import assign_letters, write_sheet

MOST_SEAMS_FREED = 3_000  # of a larger project it is not worked out what one more kind would grant
MOST_CONFLICTS = 20_000


class Heap(NamedTuple):
    """Units of a kind that fall one way: the letters of their piles, how many, and in which blocks."""

    letters: tuple[str, ...]
    units: int
    blocks: tuple[str, ...]


class TwoWays(NamedTuple):
    """A kind that is pressed two ways, the larger heap first."""

    unit: str
    first: Heap
    second: Heap


class More(NamedTuple):
    """What one kind more that is pressed two ways would grant; which kinds are so then and are not now (none: the gain
    is from larger second piles alone), and how many units lie in second piles then."""

    wishes: tuple[Granted, ...]
    units: tuple[str, ...]
    second: int


class Turned(NamedTuple):
    """A block to turn in the quilt by so many quarters, more than it is drawn."""

    row: int
    column: int
    block: str
    quarters: int


class Explained(NamedTuple):
    """All of it. `more` is None where one kind more grants nothing, or where that was not worked out (`is_more_known`
    is false)."""

    joins: int
    nesting: int
    at_open: int
    two_ways: tuple[TwoWays, ...]
    clashes: tuple[Clash, ...]
    wishes: tuple[Granted, ...]
    more: More | None
    is_more_known: bool
    turned: tuple[Turned, ...]
    kept: tuple[Keep, ...]


def explain_pressing(plan: Plan, keep_going: Callable[[], bool] = always) -> Explained:
    """What there is to say of a plan's pressing."""
    joins = sum(
        drafted.copies * len(plan.joins.joins[seam.unit])
        for block, drafted in enumerate(plan.blocks.drafted)
        for seam in plan.units.seams[block]
    )
    at_open = count_at_open(plan)
    wishes = count_wishes(plan, plan.pressing)
    more, is_known = _find_more(plan, wishes, keep_going)
    return Explained(
        joins,
        joins - at_open - plan.pressing.clashes,
        at_open,
        tuple(_list_two_ways(plan)),
        explain_clashes(plan, keep_going),
        wishes,
        more,
        is_known,
        tuple(_list_turned(plan)),
        plan.project.keep,
    )


class _Falls(NamedTuple):
    """The units of a kind by the way they fall: toward the normal of their last seam, or away from it."""

    units: dict[bool, int]
    blocks: dict[bool, dict[str, None]]


def _list_falls(plan: Plan, pressing: Pressing) -> dict[int, _Falls]:
    """Of all kinds that can be pressed two ways."""
    units, places = plan.units, SeamPlaces(plan)
    found: dict[int, _Falls] = {}
    on_normal = [unit.a_on_normal for unit in units.units]
    for block, drafted in enumerate(plan.blocks.drafted):
        for number, seam in enumerate(units.seams[block] if drafted.copies else ()):
            unit = units.units[seam.unit]
            if unit.period != 4 or number in pressing.is_open[block]:
                continue
            falls = found.setdefault(unit.kind, _Falls({True: 0, False: 0}, {True: {}, False: {}}))
            way = pressing.to_a[block][number] == on_normal[seam.unit]
            falls.units[way] += drafted.copies
            falls.blocks[way][places.find_name(block, number) or "the quilt"] = None
    return found


def _list_two_ways(plan: Plan) -> Iterator[TwoWays]:
    """The kinds that are pressed two ways, in the order in which they are sewn."""
    found = {kind: falls for kind, falls in _list_falls(plan, plan.pressing).items() if all(falls.units.values())}
    if not found:
        return
    letters = assign_letters(write_sheet(plan, (None, ())))
    for batch in plan.batches.batches:
        if batch.kind not in found:
            continue
        falls = found[batch.kind]
        heaps = []
        for way in (True, False):
            piles = dict.fromkeys(letters[pile] for pile in _list_piles(plan, batch.kind, way))
            heaps.append(Heap(tuple(piles), falls.units[way], tuple(falls.blocks[way])))
        first, second = sorted(heaps, key=lambda heap: -heap.units)
        yield TwoWays(plan.words.name(batch.units[0]), first, second)


def _list_piles(plan: Plan, kind: int, is_to_normal: bool) -> Iterator[str]:
    """The piles that a kind's units come to lie in which fall one way."""
    for chain in plan.piles.chains[kind]:
        unit = plan.units.units[chain.unit]
        assert unit.a is not None, "a patch has no seam"
        on_normal = unit.a_on_normal
        for outcome in chain.outcomes.values():
            if not outcome.is_open and (outcome.to_a == on_normal) == is_to_normal:
                yield outcome.pile


def _find_more(plan: Plan, wishes: tuple[Granted, ...], keep_going: Callable[[], bool]) -> tuple[More | None, bool]:
    """What one kind more would grant, and whether that is known."""
    if all(one.granted == one.of for one in wishes):
        return None, True
    seams = sum(len(seams) for seams, block in zip(plan.units.seams, plan.blocks.drafted, strict=True) if block.copies)
    if seams > MOST_SEAMS_FREED:
        return None, False
    try:
        freer = press_freer(
            plan.units,
            plan.batches,
            plan.joins,
            plan.feeds,
            plan.pressing,
            plan.project.prefer,
            plan.kept,
            keep_going,
            MOST_CONFLICTS,
        )
    except OutOfBudget:
        return None, False
    granted = count_wishes(plan, freer)
    if [one.granted for one in granted] <= [one.granted for one in wishes]:
        return None, True
    now, then = (
        {kind for kind, falls in _list_falls(plan, pressing).items() if all(falls.units.values())}
        for pressing in (plan.pressing, freer)
    )
    units = [batch.units[0] for batch in plan.batches.batches if batch.kind in then - now]
    return More(granted, tuple(plan.words.name(unit) for unit in units), freer.second), True


def _list_turned(plan: Plan) -> Iterator[Turned]:
    top = plan.blocks.top
    places = SeamPlaces(plan)
    for piece, corner in zip(top.pieces if top else (), places.corners, strict=False):
        quarters = plan.turned.get((piece.x, piece.y), 0)
        if quarters:
            yield Turned(*corner, plan.blocks.drafted[piece.block].name, quarters)
