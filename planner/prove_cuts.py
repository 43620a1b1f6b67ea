"""The least handling that there is: the choice of cuts over all drafts of a project, solved and proven.

The graph of regions becomes a formula: a region that is used needs one of its cuts, a cut needs both its sides, and a
side must be sewn a pass earlier. For a number of passes the fewest kinds are then the least cost (`least_cost`), and
among those the fewest match points, then the least sum of squared seam lengths. Numbers of passes are tried from the
fewest up, until one more trip to the iron costs more than all the kinds it could save.

What a bound counts is, for each set of patches, the places where it is cut: never more than the kinds there are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import gcd

from planner.blocks import Point
from planner.find_cuts import Cuts, Placed, Seat, always, seat_within, turn_part, turn_placed, turn_point
from planner.least_cost import LeastCost, Literal, OutOfBudget
from planner.project import SOLVER_STEPS
from planner.surd import Grid

MOST_CONFLICTS = SOLVER_STEPS
FEW_CONFLICTS = 6_000  # where the bound for any number of passes was too hard already
MOST_OPTIONS = 12_000  # cuts in the graph; a larger one is not tried


@dataclass(frozen=True, slots=True)
class Front:
    """For a number of passes (None: however many): the fewest kinds found, the fewest that there can be, and the cuts
    (None: none found)."""

    passes: int | None
    kinds: int | None
    at_least: int
    cut: dict[int, int] | None

    @property
    def is_solved(self) -> bool:
        return self.kinds is not None


def fewest_kinds(
    graph: Graph, passes: int | None, conflicts: int = MOST_CONFLICTS, keep_going: Callable[[], bool] = always
) -> Front:
    """The least there is for so many passes, or the bound that was proven before the conflicts were used up. For any
    number of passes (None) only the bound."""
    problem = _Problem(graph, passes, LeastCost(keep_going, conflicts))
    try:
        return problem.solve()
    finally:
        problem.cost.close()


class Graph:
    """What the formula needs of the regions: their order, their fewest levels, which are one set of patches."""

    def __init__(self, cuts: Cuts) -> None:
        self.cuts = cuts
        regions = cuts.regions
        self.roots = list(dict.fromkeys(root.region for root in cuts.roots if len(regions[root.region].patches) > 1))
        reached = self._reach()
        self.order = sorted(reached, key=lambda number: (regions[number].rank, number))
        self.options = sum(len(regions[number].cuts) for number in self.order)
        self.fewest_levels: dict[int, int] = {}
        for number in self.order:
            self.fewest_levels[number] = 1 + min(
                max((self.fewest_levels[side] for side in self.sides(number, place)), default=0)
                for place in range(len(regions[number].cuts))
            )
        self.fewest_passes = max((self.fewest_levels[root] for root in self.roots), default=0)
        self.most_passes = self._count_most_passes()
        self._same_blocks = self._find_same_blocks()
        self._looks: dict[int, tuple[Placed, ...]] = {}
        alike: dict[tuple[Placed, ...], list[int]] = {}
        for number in self.order:
            alike.setdefault(self.look(number), []).append(number)
        # Blocks of a quilt that look the same after a half turn: better cut so that they can be turned
        self.symmetric = [
            number
            for number in dict.fromkeys(cuts.roots[block].region for block in cuts.blocks.in_quilt)
            if len(regions[number].patches) > 1 and self._is_half_turned(number)
        ]
        self.is_alone = {numbers[0] for numbers in alike.values() if len(numbers) == 1}

    def _find_same_blocks(self) -> dict[int, int]:
        """What stands for whole blocks in a layout that one can't tell apart, though their parts differ: a shape -> the
        first that looks so."""
        shapes = self.cuts.shapes
        first_of: dict[tuple[Placed, ...], int] = {}
        same: dict[int, int] = {}
        for number, shape in enumerate(shapes):
            if shape.region >= 0:
                block = self.cuts.regions[shape.region]
                look = turn_placed(shapes, block.patches, block.width, block.height, shape.turn)
                first = first_of.setdefault(tuple(sorted(look)), number)
                if first != number:
                    same[number] = first
        return same

    def look(self, number: int) -> tuple[Placed, ...]:
        """The patches of a region, lying as is told first; blocks in a layout that look the same are one."""
        found = self._looks.get(number)
        if found is None:
            found = self.cuts.regions[number].patches
            if any(shape in self._same_blocks for _, _, shape in found):
                found = min(self._look_turned(number, turn) for turn in range(4))
            self._looks[number] = found
        return found

    def _look_turned(self, number: int, turn: int) -> tuple[Placed, ...]:
        region = self.cuts.regions[number]
        turned = turn_placed(self.cuts.shapes, region.patches, region.width, region.height, turn)
        return tuple(sorted((y, x, self._same_blocks.get(shape, shape)) for y, x, shape in turned))

    def sides(self, number: int, place: int) -> list[int]:
        """The sides of a cut that are units themselves."""
        cut = self.cuts.regions[number].cuts[place]
        return [seat.region for seat in (cut.left, cut.right) if len(self.cuts.regions[seat.region].patches) > 1]

    def _count_most_passes(self) -> int:
        """So many passes are enough for every tree."""
        most: dict[int, int] = {}
        for number in self.order:
            sides = {side for place in range(len(self.cuts.regions[number].cuts)) for side in self.sides(number, place)}
            most[number] = 1 + max((most[side] for side in sides), default=0)
        return max((most[root] for root in self.roots), default=0)

    def _is_half_turned(self, number: int) -> bool:
        region = self.cuts.regions[number]
        turned = turn_placed(self.cuts.shapes, region.patches, region.width, region.height, 2)
        parts = (turn_part(turn_part(part, region.height), region.width) for part in region.parts)
        return tuple(sorted(turned)) == region.patches and tuple(sorted(parts)) == region.parts

    def mirror_cuts(self, number: int) -> Iterator[tuple[list[tuple[int, int]], int | None]]:
        """Of a region that looks the same after a half turn: the pairs of cuts that a half turn carries onto each other
        (region, place), and what lies between them, if that is more than a patch; or one cut through the middle."""
        regions = self.cuts.regions
        region = regions[number]
        for place, cut in enumerate(region.cuts):
            ends = self._half_turn(region.width, region.height, cut.ends)
            if ends == tuple(sorted(cut.ends)):
                yield [(number, place)], None
                continue
            for far in (cut.left, cut.right):
                for inner, other in enumerate(regions[far.region].cuts):
                    placed = tuple(sorted(self._seat_point(end, far) for end in other.ends))
                    if placed != ends:
                        continue
                    for between in (other.left, other.right):
                        middle = seat_within(self.cuts, far, between)
                        if self._is_centred(middle, region.width, region.height):
                            size = regions[middle.region].size
                            yield [(number, place), (far.region, inner)], middle.region if size > 1 else None

    def _is_centred(self, seat: Seat, width: Grid, height: Grid) -> bool:
        spread = self.cuts.spread(seat.region, seat.turn)
        return 2 * seat.x + spread.wide == width and 2 * seat.y + spread.high == height

    def _seat_point(self, point: Point, seat: Seat) -> Point:
        x, y = self.cuts.spread(seat.region, seat.turn).put(point, seat.turn)
        return x + seat.x, y + seat.y

    @staticmethod
    def _half_turn(width: Grid, height: Grid, ends: tuple[Point, Point]) -> tuple[Point, Point]:
        p, q = sorted((width - x, height - y) for x, y in ends)
        return p, q

    def _reach(self) -> set[int]:
        seen = set(self.roots)
        waiting = list(self.roots)
        while waiting:
            number = waiting.pop()
            for place in range(len(self.cuts.regions[number].cuts)):
                for side in self.sides(number, place):
                    if side not in seen:
                        seen.add(side)
                        waiting.append(side)
        return seen

    def place_of(self, number: int, place: int) -> tuple[Point, Point]:
        """Where a region is cut, the same for all turns that carry its patches onto themselves."""
        region = self.cuts.regions[number]
        ends = region.cuts[place].ends
        found = []
        for turn in range(4):
            if self._look_turned(number, turn) == self.look(number):
                p, q = sorted(turn_point(end, region.width, region.height, turn) for end in ends)
                found.append((p, q))
        return min(found)


class _Problem:
    def __init__(self, graph: Graph, passes: int | None, cost: LeastCost) -> None:
        self.graph = graph
        self.passes = passes
        self.cost = cost
        self.cut: dict[tuple[int, int], Literal] = {}
        self.latest = self._find_latest()
        self._symmetric: dict[int, Literal] = {}
        self.used = {number: cost.variable() for number in graph.order if self._fits(number)}
        # Whether a region is sewn by a pass; in its latest it always is
        self.sewn = {
            (number, level): cost.variable()
            for number in self.used
            for level in range(graph.fewest_levels[number], self.latest[number])
        }
        for number in self.used:
            self._need_a_cut(number)
        self._need_a_use()
        for root in graph.roots:
            cost.need(self.used[root])

    def _find_latest(self) -> dict[int, int]:
        """The latest pass in which each region can be sewn. Without a bound on passes: its fewest levels, so that
        nothing is said about when."""
        if self.passes is None:
            return self.graph.fewest_levels
        latest = dict.fromkeys(self.graph.roots, self.passes)
        for number in reversed(self.graph.order):
            if number not in latest:
                continue
            for place in range(len(self.graph.cuts.regions[number].cuts)):
                for side in self.graph.sides(number, place):
                    latest[side] = max(latest.get(side, 0), latest[number] - 1)
        return latest

    def _fits(self, number: int) -> bool:
        return self.graph.fewest_levels[number] <= self.latest.get(number, 0)

    def _need_a_cut(self, number: int) -> None:
        first, last = self.graph.fewest_levels[number], self.latest[number]
        for level in range(first, last - 1):
            self.cost.need(-self.sewn[number, level], self.sewn[number, level + 1])
        options = []
        for place in range(len(self.graph.cuts.regions[number].cuts)):
            sides = self.graph.sides(number, place)
            if self.passes is not None and any(
                side not in self.used or self.graph.fewest_levels[side] >= last for side in sides
            ):
                continue
            cut = self.cut[number, place] = self.cost.variable()
            options.append(cut)
            for side in sides:
                self.cost.need(-cut, self.used[side])
                for level in range(first, last + 1) if self.passes is not None else ():
                    in_time = [-cut] if level == last else [-cut, -self.sewn[number, level]]
                    if level - 1 < self.graph.fewest_levels[side]:
                        self.cost.need(*in_time)
                    elif level - 1 < self.latest[side]:
                        self.cost.need(*in_time, self.sewn[side, level - 1])
        self.cost.need(-self.used[number], *options)
        # Nothing is lost by cutting a region one way only, and only where it is used; it shortens the proofs
        for place, cut in enumerate(options):
            self.cost.need(-cut, self.used[number])
            for other in options[:place]:
                self.cost.need(-cut, -other)

    def _need_a_use(self) -> None:
        """What is used is a whole block, or a side of a cut."""
        users: dict[int, list[Literal]] = {number: [] for number in self.used}
        for (number, place), cut in self.cut.items():
            for side in self.graph.sides(number, place):
                users[side].append(cut)
        for number, cuts in users.items():
            if number not in self.graph.roots:
                self.cost.need(-self.used[number], *cuts)

    def solve(self) -> Front:
        try:
            kinds = self.cost.grant((-literal, 1) for literal in self._kinds())
        except OutOfBudget as spent:
            return Front(self.passes, None, spent.at_least, None)
        if self.passes is None:  # only a bound
            return Front(None, kinds, kinds, None)
        regions = self.graph.cuts.regions
        squares = {key: regions[key[0]].cuts[key[1]].square for key in self.cut}
        step = gcd(*squares.values()) if squares else 1
        try:
            self.cost.grant([(self._is_symmetric(root), 1) for root in self.graph.symmetric])
            self.cost.grant(
                (-cut, joins)
                for (number, place), cut in self.cut.items()
                if (joins := regions[number].cuts[place].joins)
            )
            self.cost.grant((-cut, squares[key] // step) for key, cut in self.cut.items())
            self.cost.settle(-cut for cut in self.cut.values())
        except OutOfBudget:
            pass  # as good as it is: the fewest kinds are proven
        return Front(self.passes, kinds, kinds, self._read_cuts())

    def _is_symmetric(self, number: int) -> Literal:
        """A literal that can hold only where the seams of a region that looks the same after a half turn do so too.

        They do where its cut runs through the middle (equal sides are cut alike), or where the far side is cut at the
        same distance from its other end, and what lies between is symmetric in turn.
        """
        if number in self._symmetric:
            return self._symmetric[number]
        holds = self._symmetric[number] = self.cost.variable()
        ways = []
        for cuts, middle in self.graph.mirror_cuts(number):
            if all(key in self.cut for key in cuts):
                way = self.cost.variable()
                ways.append(way)
                for key in cuts:
                    self.cost.need(-way, self.cut[key])
                if middle is not None:
                    self.cost.need(-way, self._is_symmetric(middle))
        self.cost.need(-holds, *ways)
        return holds

    def _kinds(self) -> Iterator[Literal]:
        """What is counted: a region that is used, or where sets of patches are met in several frames of parts, each
        place where one is cut."""
        places: dict[object, Literal] = {}
        for number in self.used:
            if number in self.graph.is_alone:
                yield self.used[number]
                continue
            for place in range(len(self.graph.cuts.regions[number].cuts)):
                if (number, place) not in self.cut:
                    continue
                key = (self.graph.look(number), self.graph.place_of(number, place))
                if key not in places:
                    places[key] = self.cost.variable()
                    yield places[key]
                self.cost.need(-self.cut[number, place], places[key])

    def _read_cuts(self) -> dict[int, int]:
        chosen: dict[int, int] = {}
        waiting = list(self.graph.roots)
        while waiting:
            number = waiting.pop()
            if number in chosen:
                continue
            chosen[number] = next(
                place
                for place in range(len(self.graph.cuts.regions[number].cuts))
                if (number, place) in self.cut and self.cost.is_true(self.cut[number, place])
            )
            waiting += self.graph.sides(number, chosen[number])
        return chosen
