"""Regions that no straight seam divides -> every seam that may be the best there, where the first look left a doubt.

A seam that follows lines turns only where no line runs through, and each such point is turned once in any order of
sewing: an order of such seams alone is the best. Where lines run round there is none, and then a seam that leaves its
line may still cost less than one that is sewn in part, or there may be no other. Such regions, if they are small, get
all their seams, but only those that the best order so far hopes for: what is not looked at yet counts as if every point
was turned once and no more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol

from planner.find_cuts import CutOption, Region, Search

MOST_PATCHES = 12  # of a region of which all seams are looked at
MOST_LOOKS = 150_000  # patches in regions, times their seams, that are looked at so
FEW_LOOKS = 50_000  # after so many without any order found, one is looked for before the best
MORE_LOOKS = 1_000_000  # that are looked at until there is any order

Cost = tuple[int, int]  # turns in inner corners, seams sewn in part


class Bends(Protocol):
    """What the search of seams tells and does of one region, by its number in `search.regions`."""

    search: Search

    def find_cost(self, number: int) -> Cost | None:
        """The fewest turns and partial seams of the orders found so far; None where there is none."""

    def forget_costs(self) -> None:
        """More seams are known now."""

    def is_straight(self, number: int) -> bool:
        """Whether straight seams divide a region, or nothing has to."""

    def count_least(self, number: int) -> int:
        """How many points there are in a region that every order turns at."""

    def find_all_cuts(self, region: Region, extra: int | None) -> list[CutOption]:
        """All seams of a region that leave their lines at most so often; None: however often."""


def add_costs(cut: CutOption, cost_of: Callable[[int], Cost | None]) -> Cost | None:
    """What a cut costs with all that is inside its sides."""
    turns, parts = max(0, len(cut.legs) - 2), int(cut.closes)
    for side in {cut.left.region} if cut.closes else (cut.left.region, cut.right.region):
        cost = cost_of(side)
        if cost is None:
            return None
        turns, parts = turns + cost[0], parts + cost[1]
    return turns, parts


def prove_bends(bends: Bends, roots: Sequence[int], keep_going: Callable[[], bool]) -> bool:
    """Add to the regions on the way down from these roots the seams that cost less, or as little, than those known.
    False where something was not looked at: there may be better ones.
    """
    proof = _Proof(bends, keep_going)
    proven = [proof.prove(root) for root in roots]
    return all(proven)


class _Proof:
    def __init__(self, bends: Bends, keep_going: Callable[[], bool]) -> None:
        self.bends = bends
        self.regions = bends.search.regions
        self.keep_going = keep_going
        self.looked_at: set[int] = set()
        self.looks = 0
        self.is_whole = True
        self.is_diving = False
        self._hopes: dict[int, Cost | None] = {}

    def prove(self, root: int) -> bool:
        """Whether nothing better than what is known in the end was left out."""
        while True:
            self._hopes.clear()
            self.bends.forget_costs()
            known = self.bends.find_cost(root)
            self.is_diving = known is None and self.looks > FEW_LOOKS
            hope = self._hope(root)
            if hope is None or known == hope:
                return self.is_whole
            waiting = self._find_hoped_for(root)
            if not waiting or self.looks > (MORE_LOOKS if known is None else MOST_LOOKS):
                return False
            extra = None if known is None else known[0] - self.bends.count_least(root)
            for number in waiting:
                if not self.keep_going():
                    raise InterruptedError
                self._look_at(number, extra)

    def _look_at(self, number: int, extra: int | None) -> None:
        region = self.regions[number]
        self.looked_at.add(number)
        cuts = self.bends.find_all_cuts(region, extra)
        self.looks += len(region.patches) * len(cuts)
        region.cuts = tuple(dict.fromkeys((*region.cuts, *cuts)))
        self.bends.search.explore(seat.region for cut in cuts for seat in (cut.left, cut.right))

    def _is_open(self, number: int) -> bool:
        """Whether a region has seams that are not looked at yet."""
        region = self.regions[number]
        if number in self.looked_at or len(region.patches) == 1 or self.bends.is_straight(number):
            return False
        known = self.bends.find_cost(number)
        if known == (self.bends.count_least(number), 0):
            return False
        if known is not None and len(region.patches) > MOST_PATCHES:
            self.is_whole = False
            return False
        return True

    def _hope(self, number: int) -> Cost | None:
        """The least that a region may cost."""
        waiting = [number]
        while waiting:
            here = waiting[-1]
            if here in self._hopes:
                waiting.pop()
                continue
            if len(self.regions[here].patches) == 1 or self._is_open(here):
                # To find any order small regions are hoped for most: what is large may come to much
                dread = len(self.regions[here].patches) ** 2 if self.is_diving else 0
                self._hopes[here] = (self.bends.count_least(here) + dread, 0)
                waiting.pop()
                continue
            missing = [side for side in self._sides(here) if side not in self._hopes]
            if missing:
                waiting += missing
                continue
            costs = [add_costs(cut, self._hopes.__getitem__) for cut in self.regions[here].cuts]
            self._hopes[here] = min((cost for cost in costs if cost is not None), default=None)
            waiting.pop()
        return self._hopes[number]

    def _sides(self, number: int) -> Iterable[int]:
        return {seat.region for cut in self.regions[number].cuts for seat in (cut.left, cut.right)}

    def _find_hoped_for(self, root: int) -> list[int]:
        """The regions not looked at yet in the orders of sewing that hope for the least; only those of one such order
        while any is looked for."""
        waiting, found, seen = [root], [], set()
        while waiting:
            here = waiting.pop()
            if here in seen or len(self.regions[here].patches) == 1:
                continue
            seen.add(here)
            if self._is_open(here):
                found.append(here)
                continue
            least = self._hopes[here]
            best = [cut for cut in self.regions[here].cuts if add_costs(cut, self._hopes.__getitem__) == least]
            waiting += [seat.region for cut in best[: 1 if self.is_diving else None] for seat in (cut.left, cut.right)]
        return sorted(found)
