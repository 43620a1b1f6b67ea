"""The least turned corners and partial seams that a small draft can be sewn with, by trying every order of sewing.

By definition alone, and sharing no code with the planner. A draft is its patches as polygons: tuples of (x, y), exact
(`Fraction`, or numbers with a root, `planner.checks.rooted`), all in one sense of rotation. Units are sets of patches.

- Two units are sewn along their whole common border, if that is one way from an end to an end, and nothing else comes
  between on the way. It costs a turn for each corner of that way.
- Or, where their common border is one straight line, along its first stretch only, which costs a partial seam. The rest
  is a slit. What comes to lie on both sides of that line later, next to the slit, is left open with it, if nothing is
  missing in between.
- A slit is closed along all of it. No way is sewn across the mouth of a slit, and no slit is closed across another.
"""

from __future__ import annotations

import heapq
import random
from collections.abc import Iterator, Sequence
from itertools import combinations, count, product
from typing import NamedTuple

from planner.checks.rooted import Number

Point = tuple[Number, Number]
Polygon = tuple[Point, ...]
Stretch = tuple[Point, Point]
Unit = frozenset[int]

OUTSIDE = -1  # as if it were a patch that is never sewn on


class Cost(NamedTuple):
    turns: int
    partials: int


class Slit(NamedTuple):
    """A line that is sewn at its first point only, and open at its last: all points of it where patches end."""

    line: tuple[Point, ...]
    patch: int  # one of the two beside its first stretch

    @property
    def mouth(self) -> Point:
        return self.line[-1]


class Step(NamedTuple):
    """One seam: `b` is empty where it closes `slit`. `way` leads from its one end to the other; of a seam sewn in part,
    which leaves `slit`, it is the whole border, sewn from its first point on. `slits` are those of both sides then."""

    a: Unit
    b: Unit
    way: tuple[Point, ...]
    slit: Slit | None = None
    slits: tuple[Slit, ...] = ()

    @property
    def cost(self) -> Cost:
        return Cost(len(self.way) - 2, int(self.slit is not None)) if self.b else Cost(0, 0)


class State(NamedTuple):
    units: frozenset[Unit]
    slits: frozenset[Slit]

    @property
    def is_finished(self) -> bool:
        return len(self.units) == 1 and not self.slits

    def find_unit(self, slit: Slit) -> Unit:
        return next(unit for unit in self.units if slit.patch in unit)

    def take(self, step: Step) -> State:
        if not step.b:
            return self._replace(slits=self.slits - {step.slit})
        units = self.units - {step.a, step.b} | {step.a | step.b}
        apart = {slit for slit in self.slits if slit.patch not in step.a | step.b}
        return State(units, frozenset((*apart, *step.slits, *((step.slit,) if step.slit else ()))))


class Order(NamedTuple):
    cost: Cost
    steps: tuple[Step, ...]


def find_fewest(patches: Sequence[Polygon]) -> Order | None:
    """An order with the fewest turns, and of those with the fewest partial seams; None where there is none. At most 8
    patches."""
    assert len(patches) <= 8, "trying everything takes too long"
    draft = Draft(patches)
    number = count()
    waiting: list[tuple[Cost, int, State, tuple[Step, ...]]] = [(Cost(0, 0), next(number), draft.begin(), ())]
    done: set[State] = set()
    while waiting:
        cost, _, state, steps = heapq.heappop(waiting)
        if state in done:
            continue
        done.add(state)
        if state.is_finished:
            return Order(cost, steps)
        for step in draft.list_steps(state):
            heapq.heappush(waiting, (add(cost, step.cost), next(number), state.take(step), (*steps, step)))
    return None


def draw_order(patches: Sequence[Polygon], chance: random.Random) -> Order | None:
    """Any order, by chance, most slits closed late; None where it leads nowhere."""
    draft = Draft(patches)
    state, steps, cost = draft.begin(), [], Cost(0, 0)
    while not state.is_finished:
        found = draft.list_steps(state)
        if not found:
            return None
        joining = [step for step in found if step.b]
        step = chance.choice(joining if joining and chance.random() < 0.8 else found)
        state, cost = state.take(step), add(cost, step.cost)
        steps.append(step)
    return Order(cost, tuple(steps))


def add(cost: Cost, more: Cost) -> Cost:
    return Cost(cost.turns + more.turns, cost.partials + more.partials)


class Draft:
    """Patches, and what can be sewn of them. What is asked again and again is kept."""

    def __init__(self, patches: Sequence[Polygon]) -> None:
        self.patches = patches
        self.edges = [[(outline[place - 1], corner) for place, corner in enumerate(outline)] for outline in patches]
        self.shared = {
            (one, other): tuple(share(self.edges[one], self.edges[other]))
            for one, other in product(range(len(patches)), repeat=2)
            if one != other
        }
        self.touching = {point: frozenset(self._list_touching(point)) for outline in patches for point in outline}

    def _list_touching(self, point: Point) -> Iterator[int]:
        """The patches that a point lies on the edge of; and `OUTSIDE` where it is on the border of the draft."""
        at_point = [
            (place, start, end)
            for place, edges in enumerate(self.edges)
            for start, end in edges
            if is_on(point, start, end)
        ]
        yield from {place for place, _, _ in at_point}
        away = [end for _, _, end in at_point if end != point]
        back = [start for _, start, _ in at_point if start != point]
        if not all(any(is_ahead(other, point, end) for other in back) for end in away):
            yield OUTSIDE

    def begin(self) -> State:
        return State(frozenset(frozenset((place,)) for place in range(len(self.patches))), frozenset())

    def list_steps(self, state: State) -> list[Step]:
        """All that can be sewn next, in an order that does not depend on chance."""
        steps = []
        for slit in sorted(state.slits, key=repr):
            if not any({*other.line[1:]} & {*slit.line[1:-1]} for other in state.slits if other != slit):
                steps.append(Step(state.find_unit(slit), frozenset(), (slit.line[0], slit.mouth), slit))
        for a, b in combinations(sorted(state.units, key=sorted), 2):
            steps += self._join(state, a, b)
        return steps

    def _join(self, state: State, a: Unit, b: Unit) -> list[Step]:
        """The ways to sew two units together: none, whole, or in part."""
        pairs = list(product(sorted(a), sorted(b)))
        patch_at = {frozenset(stretch): min(pair) for pair in pairs for stretch in self.shared[pair]}
        border = [stretch for pair in pairs for stretch in self.shared[pair]]
        before = [slit for slit in sorted(state.slits, key=repr) if slit.patch in a | b]
        slits = []
        for slit in before:
            while self.touching[slit.mouth] <= a | b and (
                ahead := [stretch for stretch in border if goes_on(slit.line, stretch)]
            ):
                border.remove(ahead[0])
                slit = slit._replace(line=(*slit.line, *(point for point in ahead[0] if point != slit.mouth)))
            slits.append(slit)
        way = put_together(border)
        if way is None or any(not self.touching[point] <= a | b for point in way[1:-1]):
            return []
        if {slit.mouth for slit in (*before, *slits)} & set(way[1:-1]):
            return []
        corners = leave_out_straight(way)
        steps = [Step(a, b, corners, None, tuple(slits))]
        if len(corners) == 2:
            for line in (way, way[::-1]):
                slit = Slit(line, patch_at[frozenset(line[:2])])
                steps.append(Step(a, b, (line[0], line[-1]), slit, tuple(slits)))
        return steps


def goes_on(line: Sequence[Point], stretch: Stretch) -> bool:
    """Whether a stretch begins where a line ends, and leads on straight."""
    start, end = line[0], line[-1]
    return end in stretch and any(
        not turn(start, end, point) and reach(start, end, point) > reach(start, end, end) for point in stretch
    )


def is_ahead(point: Point, start: Point, end: Point) -> bool:
    """Whether a point lies on the line from a start through an end, on the hand of the end."""
    return not turn(start, end, point) and reach(start, end, point) > 0


def share(edges: Sequence[Stretch], others: Sequence[Stretch]) -> Iterator[Stretch]:
    """The stretches along which two patches border on each other."""
    for (start, end), (last, first) in product(edges, others):
        if turn(start, end, first) or turn(start, end, last) or reach(start, end, first) >= reach(start, end, last):
            continue
        low = first if reach(start, end, first) > 0 else start
        high = last if reach(start, end, last) < reach(start, end, end) else end
        if reach(start, end, low) < reach(start, end, high):
            yield low, high


def is_on(point: Point, start: Point, end: Point) -> bool:
    return not turn(start, end, point) and 0 <= reach(start, end, point) <= reach(start, end, end)


def put_together(border: Sequence[Stretch]) -> tuple[Point, ...] | None:
    """Stretches as one way; None where they are none, several, or a ring."""
    beside: dict[Point, list[Point]] = {}
    for start, end in border:
        beside.setdefault(start, []).append(end)
        beside.setdefault(end, []).append(start)
    ends = [point for point, others in beside.items() if len(others) == 1]
    if len(ends) != 2 or any(len(others) > 2 for others in beside.values()):
        return None
    way = [ends[0], *beside[ends[0]]]
    while way[-1] != ends[1]:
        way += [point for point in beside[way[-1]] if point != way[-2]]
    return tuple(way) if len(way) == len(beside) else None


def leave_out_straight(way: Sequence[Point]) -> tuple[Point, ...]:
    inside = (way[place] for place in range(1, len(way) - 1) if turn(way[place - 1], way[place], way[place + 1]))
    return (way[0], *inside, way[-1])


def turn(start: Point, end: Point, point: Point) -> Number:
    """0 where the point lies on the line through the two others."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def reach(start: Point, end: Point, point: Point) -> Number:
    """How far a point lies along a line from its start."""
    return (point[0] - start[0]) * (end[0] - start[0]) + (point[1] - start[1]) * (end[1] - start[1])
