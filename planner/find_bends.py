"""Blocks -> their and-or graph where straight cuts do not do: set-in and partial seams for what is stuck.

Straight cuts come first: they take nothing away from what needs another seam. A region without any gets the seams that
`bend_cuts` finds on its map, and so on with what these leave. Of each region those cuts are kept that lead to the
fewest turns of seams in inner corners, and among them to the fewest seams that are sewn in part.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise
from math import floor
from typing import TypeVar

from planner.bend_cuts import FEW_PATCHES, Bend, Slit, Stretch, Ways
from planner.blocks import Blocks, Part, Point
from planner.find_cuts import (
    FREE_LOOKS,
    CutOption,
    Cuts,
    Placed,
    Rectangle,
    Region,
    Search,
    Seat,
    always,
    find_stuck,
    search_cuts,
)
from planner.prove_bends import Cost, add_costs, prove_bends
from planner.surd import Grid

MOST_SLITS = 4  # in one region at a time
MOST_LOOKS = 150_000  # patches in regions, times their seams, that are looked at freely; then the best halving alone

_T = TypeVar("_T")


def find_seams(blocks: Blocks, keep_going: Callable[[], bool] = always, free_looks: int = FREE_LOOKS) -> Cuts:
    """All regions that can be sewn on the way to the blocks, each with its cuts: straight ones, and where these do not
    do the others. `TooCoarse` where a seam stops half way between two points of the grid.

    `keep_going` is asked now and then; once it says False the search stops with `InterruptedError`.
    """
    search, cuts = search_cuts(blocks, keep_going, free_looks)
    if cuts.stuck:
        bender = _Bender(search, keep_going)
        bender.bend([root.region for root in cuts.roots])
        cuts.searched_all &= bender.left_out == 0
        cuts.stuck = find_stuck(search, cuts)
        search.keep_fewest_passes()
    return cuts


class _Bender:
    def __init__(self, search: Search, keep_going: Callable[[], bool]) -> None:
        self.search = search
        self.regions = search.regions
        self.keep_going = keep_going
        self.left_out = 0
        self._costs: dict[int, Cost | None] = {}
        self._bent: set[int] = set()  # what was stuck
        self._least: dict[int, int] = {}

    def bend(self, roots: Sequence[int]) -> None:
        """Seams for all that is stuck on the way down from these regions, until all can be sewn."""
        unsewn = [root for root in roots if self.find_cost(root) is None]
        waiting = deque(self._find_stuck(unsewn))
        looks = 0
        while waiting:
            if not self.keep_going():
                raise InterruptedError
            number = waiting.popleft()
            self._bent.add(number)
            known = len(self.regions)
            region = self.regions[number]
            was_free = looks <= MOST_LOOKS
            cuts = self._cut(number, is_free=was_free)
            region.cuts = tuple(cuts)
            self.search.explore(seat.region for cut in cuts for seat in (cut.left, cut.right))
            waiting += [new for new in range(known, len(self.regions)) if self._is_stuck(new)]
            # The map of a large region has so many more ways through it
            looks += len(region.patches) * len(cuts) * (1 + len(region.patches) // FEW_PATCHES) ** 2
            if was_free and looks > MOST_LOOKS:
                self._drop_unsettled()
                waiting.clear()
            if not waiting:
                waiting += [left for left in self._find_stuck(unsewn) if left not in self._bent]
        if not prove_bends(self, unsewn, self.keep_going):
            self.left_out += 1
        self._costs.clear()
        for number in range(len(self.regions)):
            self._keep_least(number)

    def _drop_unsettled(self) -> None:
        """Of every region keep the cuts of which the sides are cut already; where there is none the first. So little is
        left to look at."""
        for region in self.regions:
            settled = [
                cut for cut in region.cuts if not (self._is_stuck(cut.left.region) or self._is_stuck(cut.right.region))
            ]
            if region.cuts and len(settled) < len(region.cuts):
                kept = settled or region.cuts[:1]
                self.left_out += len(region.cuts) - len(kept)
                region.cuts = tuple(kept)

    def _is_stuck(self, number: int) -> bool:
        region = self.regions[number]
        return len(region.patches) > 1 and not region.cuts

    def _find_stuck(self, roots: Iterable[int]) -> list[int]:
        waiting = list(dict.fromkeys(roots))
        seen = set(waiting)
        found = []
        while waiting:
            number = waiting.pop()
            if self._is_stuck(number):
                found.append(number)
            for cut in self.regions[number].cuts:
                for seat in (cut.left, cut.right):
                    if seat.region not in seen:
                        seen.add(seat.region)
                        waiting.append(seat.region)
        return sorted(found)

    # -- what it costs

    def find_cost(self, number: int) -> Cost | None:
        """The fewest turns and partial seams with which a region can be sewn; None where it can't be."""
        waiting = [number]
        while waiting:
            here = waiting[-1]
            region = self.regions[here]
            if here in self._costs or len(region.patches) == 1:
                self._costs.setdefault(here, (0, 0))
                waiting.pop()
                continue
            sides = {seat.region for cut in region.cuts for seat in (cut.left, cut.right)}
            missing = [side for side in sides if side not in self._costs]
            if missing:
                waiting += missing
                continue
            costs = (self._add(cut) for cut in region.cuts)
            self._costs[here] = min((cost for cost in costs if cost is not None), default=None)
            waiting.pop()
        return self._costs[number]

    def _add(self, cut: CutOption) -> Cost | None:
        return add_costs(cut, self._costs.__getitem__)

    def forget_costs(self) -> None:
        """More seams are known now."""
        self._costs.clear()

    def is_straight(self, number: int) -> bool:
        """Whether straight seams divide a region, or nothing has to."""
        return number not in self._bent and not self._is_stuck(number)

    def count_least(self, number: int) -> int:
        """How many points there are in a region that every order turns at."""
        if number not in self._least:
            self._least[number] = self._map(self.regions[number])[0].count_turns()
        return self._least[number]

    def find_all_cuts(self, region: Region, extra: int | None) -> list[CutOption]:
        """All seams of a region that leave their lines at most so often; None: however often."""
        ways, parts = self._map(region)
        bends, is_all = ways.find_all(extra)
        self.left_out += not is_all
        slits = ways.find_slits() if len(region.slits) < MOST_SLITS else []
        found = [self._close(region, ways, slit) for slit in slits]
        return found + [self._divide(region, ways, parts, bend) for bend in bends]

    def _keep_least(self, number: int) -> None:
        region = self.regions[number]
        least = self.find_cost(number)
        region.cuts = tuple(cut for cut in region.cuts if least is not None and self._add(cut) == least)

    # -- the seams of one region

    def _cut(self, number: int, is_free: bool) -> list[CutOption]:
        """Its seams, the best first; where the search is not free any more that alone."""
        region = self.regions[number]
        ways, parts = self._map(region)
        self._least[number] = ways.count_turns()
        bends = ways.find_bends()
        if not bends and len(region.slits) < MOST_SLITS:
            slits = self._choose(ways.find_slits(), is_free)
            if slits:
                return [self._close(region, ways, slit) for slit in slits]
        bends = self._choose(bends or ways.find_single(), is_free)
        found = [self._divide(region, ways, parts, bend) for bend in bends]
        half = self.regions
        return sorted(found, key=lambda cut: abs(half[cut.left.region].size - half[cut.right.region].size))

    def _map(self, region: Region) -> tuple[Ways, list[tuple[Part, frozenset[int]]]]:
        """The map of a region, and the parts that must stay whole with the patches in each."""
        shapes = self.search.shapes
        outlines = [tuple((px + x, py + y) for px, py in shapes[shape].outline) for y, x, shape in region.patches]
        parts = [(part, self._hold(part, region.patches)) for part in region.parts]
        return Ways(outlines, region.slits, [members for _, members in parts]), parts

    def _choose(self, found: list[_T], is_free: bool) -> list[_T]:
        if is_free or not found:
            return found
        self.left_out += len(found) - 1
        return found[:1]

    def _hold(self, part: Part, patches: Sequence[Placed]) -> frozenset[int]:
        left, top, right, bottom = part[:4]
        shapes = self.search.shapes
        return frozenset(
            number
            for number, (y, x, shape) in enumerate(patches)
            if left <= x and top <= y and x + shapes[shape].width <= right and y + shapes[shape].height <= bottom
        )

    def _divide(
        self, region: Region, ways: Ways, parts: Sequence[tuple[Part, frozenset[int]]], bend: Bend
    ) -> CutOption:
        rest = frozenset(range(len(region.patches))) - bend.first
        seats = []
        for side in (bend.first, rest):
            patches = [region.patches[number] for number in sorted(side)]
            within = [part for part, members in parts if members < side]
            seats.append(self._seat(patches, within, ways.keep_slits(side)))
        square = sum((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 for p, q in pairwise(bend.legs))
        legs = bend.legs if len(bend.legs) > 2 else ()
        # It is known by its first stretch or its last, where it is begun: never at a slit, where it stops
        outer = [(legs[0], legs[1]), (legs[-1], legs[-2])] if legs else [bend.legs]
        slit = {point for stretch in region.slits for point in stretch}
        ends = min(outer, key=lambda leg: (leg[0] in slit, -_square((leg[0], leg[1])), sorted(leg)))
        p, q = sorted(ends)
        return CutOption((p, q), seats[0], seats[1], bend.joins, floor(square), legs)

    def _close(self, region: Region, ways: Ways, slit: Slit) -> CutOption:
        p, q = sorted((slit.stop, slit.end))
        seat = self._seat(list(region.patches), list(region.parts), (*region.slits, (p, q)))
        return CutOption((p, q), seat, seat, ways.count_closed(slit), floor(_square((p, q))), closes=True)

    def _seat(self, patches: list[Placed], parts: Sequence[Part], slits: Sequence[Stretch]) -> Seat:
        shapes = self.search.shapes
        lefts, tops = [x for _, x, _ in patches], [y for y, _, _ in patches]
        rights = [x + shapes[shape].width for _, x, shape in patches]
        bottoms = [y + shapes[shape].height for y, _, shape in patches]
        box: Rectangle = (min(lefts), min(tops), max(rights), max(bottoms))
        if slits:
            return self.search.seat_slit(patches, parts, slits, box)
        known = len(self.regions)
        seat = self.search.seat(patches, parts, box)
        if len(self.regions) > known:
            new = self.regions[seat.region]
            new.is_bent = not self._is_convex(new)
        return seat

    def _is_convex(self, region: Region) -> bool:
        """Whether the patches of a region fill all that a string round them encloses."""
        shapes = self.search.shapes
        corners = sorted({(px + x, py + y) for y, x, shape in region.patches for px, py in shapes[shape].outline})
        hull: list[Point] = []
        for points in (corners, corners[::-1]):
            turn: list[Point] = []
            for point in points:
                while len(turn) > 1 and _cross(turn[-2], turn[-1], point) <= 0:
                    turn.pop()
                turn.append(point)
            hull += turn[:-1]
        around = sum(ax * by - ay * bx for (ax, ay), (bx, by) in zip(hull, hull[1:] + hull[:1], strict=True))
        return around == sum(shapes[shape].twice_area for _, _, shape in region.patches)


def _cross(a: Point, b: Point, c: Point) -> Grid:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _square(stretch: tuple[Point, Point]) -> Grid:
    (ax, ay), (bx, by) = stretch
    return (bx - ax) ** 2 + (by - ay) ** 2
