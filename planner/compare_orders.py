"""Plan -> what other orders of sewing would take: more passes or fewer, and the quilt joined in other ways."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.batch_seams import batch_seams
from planner.build_units import Units, build_units
from planner.choose_cuts import Choice, find_front
from planner.find_cuts import Cuts, always
from planner.measure import spell_number
from planner.plan import Cut, Plan, cut_blocks
from planner.project import Handling, Joining
from planner.prove_cuts import Front
from planner.surd import Exact, Grid

WAYS: tuple[Joining | None, ...] = (None, "rows", "quarters", "webbed")
JOINED: dict[Joining | None, str] = {
    None: "as is quickest",
    "rows": "row by row",
    "quarters": "by quarters",
    "webbed": "webbed",
}


class InPasses(NamedTuple):
    """The fewest kinds in so many passes, and the fewest that there can be."""

    passes: int
    kinds: int
    at_least: int
    minutes: Fraction
    is_taken: bool

    @property
    def is_proven(self) -> bool:
        return self.kinds == self.at_least


class Joined(NamedTuple):
    """What joining the quilt in one way comes to. `square` is the sum of the squared lengths of all seams that join it,
    in square feet. `why_not`: why it cannot be joined so; the rest then says nothing."""

    joining: Joining | None
    passes: int
    kinds: int
    minutes: Fraction
    at_least: Fraction
    square: Exact
    is_taken: bool
    why_not: str = ""

    @property
    def is_proven(self) -> bool:
        return self.minutes == self.at_least


class Orders(NamedTuple):
    """`front` from the fewest passes to where one more saves no kind; `ways` of joining, none without a quilt."""

    front: tuple[InPasses, ...]
    why: str
    ways: tuple[Joined, ...]
    why_joined: str


def compare_orders(plan: Plan, keep_going: Callable[[], bool] = always) -> Orders:
    """The orders that a maker can choose from, and why the plan takes the one it takes."""
    front = _trim(tuple(sorted(_list_front(plan, keep_going))), plan.handled.passes)
    ways = tuple(_join_every_way(plan, keep_going)) if plan.blocks.top else ()
    return Orders(front, _say_why(plan, front), ways, _say_why_joined(plan, ways) if ways else "")


def _list_front(plan: Plan, keep_going: Callable[[], bool]) -> Iterator[InPasses]:
    cuts, handling, handled = plan.units.cuts, plan.project.handling, plan.handled
    taken = False
    for one in find_front(cuts, keep_going, plan.project.handling.steps):
        assert one.passes is not None
        if one.passes == handled.passes:
            taken = True
            kinds = min(handled.kinds, _count_kinds(cuts, one))
            # The plan itself is what is told of its number of passes
            yield _weigh(handling, one.passes, handled.kinds, min(one.at_least, kinds), True)
        else:
            kinds = _count_kinds(cuts, one)
            yield _weigh(handling, one.passes, kinds, min(one.at_least, kinds), False)
    if not taken and handled.passes:
        bound = max(1, ceil((handled.at_least - handling.trip * handled.passes) / handling.pile))
        yield _weigh(handling, handled.passes, handled.kinds, min(bound, handled.kinds), True)


def _weigh(handling: Handling, passes: int, kinds: int, at_least: int, is_taken: bool) -> InPasses:
    return InPasses(passes, kinds, at_least, handling.trip * passes + handling.pile * kinds, is_taken)


def _count_kinds(cuts: Cuts, front: Front) -> int:
    """The kinds that come out in the end, which may be more than what the proof counts."""
    assert front.cut is not None
    return len(batch_seams(build_units(cuts, Choice(front.cut, Fraction(0)))).batches)


def _trim(front: tuple[InPasses, ...], taken: int) -> tuple[InPasses, ...]:
    """Without what follows the plan's own passes and saves nothing."""
    while len(front) > 1 and front[-1].kinds >= front[-2].kinds and front[-1].passes > taken:
        front = front[:-1]
    return front


def _say_why(plan: Plan, front: tuple[InPasses, ...]) -> str:
    """Why the plan takes as many passes as it takes, in one sentence."""
    handling = plan.project.handling
    if not front:
        return "there is nothing to sew"
    place = next(number for number, one in enumerate(front) if one.is_taken)
    here = front[place]
    if handling.passes is not None:
        how = (
            "no fewer kinds are possible in so many" if here.is_proven else "these are the fewest kinds found for them"
        )
        words = f"you allow {_many(handling.passes, 'pass', 'passes')}, and {how}"
        return words if here.passes == handling.passes else f"{words}; in {here.passes} already there are as few"
    if len(front) == 1:
        return "these are the fewest passes, and more of them save no kind"
    if place == 0:
        return f"the fewest passes take the least time; {_say_saving(handling, here, front[1])}"
    saved = _say_saving(handling, front[0], here)
    if place + 1 < len(front):
        return f"{saved}; {_say_saving(handling, here, front[place + 1])}"
    return saved


def _say_saving(handling: Handling, fewer: InPasses, more: InPasses) -> str:
    """`one pass more saves 5 kinds: 10 minutes for 3`."""
    passes, kinds = more.passes - fewer.passes, fewer.kinds - more.kinds
    words = "one pass more saves" if passes == 1 else f"{passes} passes more save"
    if kinds <= 0:
        return f"{words} no kind"
    gain, cost = spell_number(handling.pile * kinds), spell_number(handling.trip * passes)
    return f"{words} {_many(kinds, 'kind')}: {gain} minutes for {cost}"


def _join_every_way(plan: Plan, keep_going: Callable[[], bool]) -> Iterator[Joined]:
    """Every way to join the quilt; that of the plan too, even where it has no name."""
    assert plan.blocks.top is not None
    assert plan.units.cuts.blocks.top is not None
    taken = plan.units.cuts.blocks.top.joining
    for joining in WAYS:
        if joining == taken:
            handled = plan.handled
            yield Joined(joining, *handled[:3], plan.choice.at_least, _sum_squares(plan.units), True)
        elif joining is not None:
            blocks = replace(plan.blocks, top=replace(plan.blocks.top, joining=joining))
            yield _try(plan, joining, cut_blocks(plan.project, blocks, keep_going))


def _try(plan: Plan, joining: Joining, cut: object) -> Joined:
    handling = plan.project.handling
    if not isinstance(cut, Cut):
        assert isinstance(cut, tuple)
        return Joined(joining, 0, 0, Fraction(0), Fraction(0), Fraction(0), False, cut[0].words)
    batches = batch_seams(cut.units)
    passes, kinds = batches.passes, len(batches.batches)
    minutes = handling.trip * passes + handling.pile * kinds
    return Joined(joining, passes, kinds, minutes, cut.choice.at_least, _sum_squares(cut.units), False)


def _sum_squares(units: Units) -> Exact:
    """Of all seams that join the quilt, in square feet."""
    _, of_seam = units.piece_of
    blocks = units.cuts.blocks
    total: Grid = 0
    for seam, piece in zip(units.seams[-1], of_seam, strict=True):
        if piece < 0:
            (px, py), (qx, qy) = (units.place_point(point, seam) for point in units.units[seam.unit].seam)
            total = total + (qx - px) * (qx - px) + (qy - py) * (qy - py)
    return blocks.inches(total) * Fraction(1, 144 * blocks.scale)


def _say_why_joined(plan: Plan, ways: tuple[Joined, ...]) -> str:
    """Why the plan joins the quilt as it does, in one sentence."""
    assert plan.blocks.top is not None
    here = next(way for way in ways if way.is_taken)
    others = [way for way in ways if not way.is_taken and not way.why_not]
    if not others:
        return "no other way is possible"
    handling = plan.project.handling
    nearest = min(others, key=lambda way: (_rank(handling, way), way.square))
    other = JOINED[nearest.joining]
    mine, its = _rank(handling, here), _rank(handling, nearest)
    if plan.blocks.top.joining is not None:
        less = here.minutes - nearest.minutes
        return f"as you chose; {other} takes {_many_minutes(less)} less" if less > 0 else "as you chose"
    if mine < its:
        if handling.passes is not None and here.kinds < nearest.kinds:
            return f"{_many(nearest.kinds - here.kinds, 'kind')} fewer than {other}"
        return f"it takes the least time: {_many_minutes(nearest.minutes - here.minutes)} less than {other}"
    if mine > its:  # something is unproven
        return f"the best that was found; {other} may be tried"
    if here.square < nearest.square:
        return f"{other} takes as long, and its seams are longer"
    if here.joining == "rows":
        return f"{other} takes as long, and can't be pressed better"
    if here.square > nearest.square:
        return f"{other} takes as long; this has fewer points to match, or presses as well"
    return f"{other} takes as long, and is as good"


def _rank(handling: Handling, way: Joined) -> tuple[Fraction | int, ...]:
    return (way.minutes,) if handling.passes is None else (way.kinds, way.minutes)


def _many_minutes(minutes: Fraction) -> str:
    return "1 minute" if minutes == 1 else f"{spell_number(minutes)} minutes"


def _many(count: int, noun: str, several: str = "") -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {several or noun + 's'}"
