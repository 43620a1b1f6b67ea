"""One piecing tree for each block: which cut each region gets, for the least handling of the whole project.

Handling is `trip` x passes + `pile` x kinds of unit, in minutes; among equals come fewer match points, then the least
sum of squared seam lengths (so that long seams come late and few). Equal regions are cut the same way wherever they
lie, so a choice is one cut for each region that is used. Where the maker says in how many passes at most, it is the
fewest kinds that are possible in so many, then the fewest passes for those.

The least is solved for and proven (`prove_cuts`). Where the graph is too large for that, or the budget is used up, the
best that a search finds is taken: for every number of passes the best trees from the bottom up, sharing what is already
there, then one region's cut changed at a time as long as that helps.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import NamedTuple

from planner.find_cuts import Cuts, always
from planner.project import Handling
from planner.prove_cuts import FEW_CONFLICTS, MOST_CONFLICTS, MOST_OPTIONS, Front, Graph, fewest_kinds

# How many changes of a single cut are tried before the search is content with what it has.
MOST_TRIALS = 1_500
MOST_STEPS = 4_000_000  # kinds that are looked at for that, over all changes
MOST_SHARED = 30_000  # regions in the graph: above, sets of kinds would take too much room
MORE_PASSES = 3  # passes beyond the fewest that are looked at

NO_CUTS: dict[int, int] = {}
Cost = tuple[Fraction | int, ...]  # what comes first; match points; squared lengths


@dataclass(frozen=True, slots=True)
class Choice:
    """The cut of each region that is used: an index into `Region.cuts`. Regions of one patch have none.

    `at_least` is the handling in minutes that is proven necessary (for the fewest kinds in the passes that the maker
    allows, where there is a bound on those); `front` what was solved for each number of passes. Where fewer passes are
    allowed than `fewest_passes` there is no choice, and `cut` is empty.
    """

    cut: dict[int, int]
    at_least: Fraction
    front: tuple[Front, ...] = ()
    fewest_passes: int = 0


def choose_cuts(
    cuts: Cuts,
    handling: Handling,
    keep_going: Callable[[], bool] = always,
    conflicts: int = MOST_CONFLICTS,
) -> Choice:
    """The best trees for all blocks together. Every root can be sewn by straight cuts (`cuts.stuck` is empty).

    `conflicts` bounds the proof of each number of passes. `keep_going` is asked now and then; once it says False the
    search stops with `InterruptedError`.
    """
    by_size = (handling.trip + handling.pile) * count_doublings(cuts)
    if not cuts.searched_all and all(len(region.cuts) <= 1 for region in cuts.regions):
        # A very large draft: nothing is left to choose
        cut = _follow_only_cuts(cuts)
        fewest = _count_passes(cuts, cut)
        is_allowed = handling.passes is None or fewest <= handling.passes
        return Choice(cut if is_allowed else {}, by_size, fewest_passes=fewest)
    graph = Graph(cuts)
    fewest, most = graph.fewest_passes, handling.passes
    if not graph.roots or (most is not None and most < fewest):
        return Choice({}, Fraction(0), fewest_passes=fewest)
    if graph.options > MOST_OPTIONS:
        at_least = (handling.trip + handling.pile) * fewest if cuts.searched_all else by_size
        return Choice(_search(cuts, handling, keep_going), at_least, fewest_passes=fewest)
    if most is not None:
        choice = _choose_within(graph, handling, most, keep_going, conflicts)
        return choice if cuts.searched_all else replace(choice, at_least=by_size)
    front = _solve_front(graph, partial(_may_pay, handling), keep_going, conflicts)
    solved = [(handling.trip * one.passes + handling.pile * one.kinds, one.cut) for one in _list_solved(front)]
    at_least = _bound(front, handling) if cuts.searched_all else by_size
    if solved and min(minutes for minutes, _ in solved) == at_least:
        cut = min(solved, key=lambda one: one[0])[1]
        return Choice(cut, at_least, front, fewest)
    # Something is unproven: the search may know better
    found = _search(cuts, handling, keep_going)
    minutes = handling.trip * _count_passes(cuts, found) + handling.pile * len(found)
    best = min([*solved, (minutes, found)], key=lambda one: one[0])
    return Choice(best[1], at_least, front, fewest)


def _choose_within(
    graph: Graph, handling: Handling, most: int, keep_going: Callable[[], bool], conflicts: int
) -> Choice:
    """The fewest kinds in at most so many passes, and of such choices one in the fewest passes."""
    front = _solve_front(graph, partial(_may_save, most), keep_going, conflicts)
    anyhow, *rest = front
    solved = _list_solved(front)
    fewest = graph.fewest_passes
    if len(solved) == len(rest):
        kinds, passes, cut = min(((one.kinds, one.passes, one.cut) for one in solved), key=lambda one: one[:2])
        return Choice(cut, handling.trip * passes + handling.pile * kinds, front, fewest)
    # The last of them is unproven: a bound for so many passes holds for more only where it holds for any
    last = max(anyhow.at_least, rest[-1].at_least) if rest[-1].passes == most else anyhow.at_least
    found = [_search(graph.cuts, handling, keep_going), *(one.cut for one in solved)]
    cut = min(found, key=lambda one: (len(one), _count_passes(graph.cuts, one)))
    return Choice(cut, handling.trip * fewest + handling.pile * last, front, fewest)


class _Solved(NamedTuple):
    passes: int
    kinds: int
    cut: dict[int, int]


def _list_solved(front: Iterable[Front]) -> list[_Solved]:
    """The numbers of passes that are solved, with the fewest kinds of each."""
    return [
        _Solved(one.passes, one.kinds, one.cut)
        for one in front
        if one.passes is not None and one.kinds is not None and one.cut is not None
    ]


def find_front(
    cuts: Cuts, keep_going: Callable[[], bool] = always, conflicts: int = MOST_CONFLICTS
) -> tuple[Front, ...]:
    """For each number of passes, from the fewest to where another saves no kind, the fewest kinds and cuts for them.

    `kinds` above `at_least` are the fewest that were found. Of a graph that is too large to prove anything a few
    numbers of passes are tried.
    """
    graph = Graph(cuts)
    if not graph.roots:
        return ()
    fewest = graph.fewest_passes
    if graph.options > MOST_OPTIONS:
        tried = range(fewest, fewest + MORE_PASSES + 1)
        least = fewest if cuts.searched_all else count_doublings(cuts)
        bare = (Front(passes, None, least, None) for passes in tried)
        return _fill_front(cuts, bare, 0, keep_going)
    anyhow, *rest = _solve_front(graph, partial(_may_save, None), keep_going, conflicts)
    return _fill_front(cuts, rest, anyhow.at_least, keep_going)


def _fill_front(cuts: Cuts, front: Iterable[Front], at_least: int, keep_going: Callable[[], bool]) -> tuple[Front, ...]:
    """What is not solved gets the best that a search finds. No number of passes takes more kinds than a smaller one,
    nor fewer than `at_least`."""
    filled: list[Front] = []
    for one in front:
        cut, bound = one.cut, max(one.at_least, at_least)
        if cut is None:
            assert one.passes is not None
            search = _Search(cuts, Handling(passes=one.passes), keep_going)
            cut = search.find_within(one.passes)
            if filled and filled[-1].cut is not None and len(filled[-1].cut) <= len(cut):
                cut = filled[-1].cut
        filled.append(Front(one.passes, len(cut) if one.kinds is None else one.kinds, bound, cut))
    return tuple(filled)


_GoesOn = Callable[[int, int, list[Front]], bool]  # passes, fewest kinds in any number of passes, what is solved


def _may_pay(handling: Handling, passes: int, fewest: int, solved: list[Front]) -> bool:
    """Whether so many passes can take less time than what is solved."""
    minutes = [handling.trip * one.passes + handling.pile * one.kinds for one in _list_solved(solved)]
    return not minutes or handling.trip * passes + handling.pile * fewest < min(minutes)


def _may_save(most: int | None, passes: int, fewest: int, solved: list[Front]) -> bool:
    """Whether so many passes are allowed and can save a kind."""
    return (most is None or passes <= most) and (not solved or (solved[-1].kinds or 0) > fewest)


def _follow_only_cuts(cuts: Cuts) -> dict[int, int]:
    """The choice where every region has one cut."""
    choice: dict[int, int] = {}
    waiting = [root.region for root in cuts.roots]
    while waiting:
        number = waiting.pop()
        if number not in choice and cuts.regions[number].cuts:
            choice[number] = 0
            cut = cuts.regions[number].cuts[0]
            waiting += [cut.left.region, cut.right.region]
    return choice


def count_doublings(cuts: Cuts) -> int:
    """A bound of the passes, and of the kinds, that holds whatever cuts were not looked at: a pass at most doubles what
    is in a unit, and each pass has a kind of its own."""
    return (max(cuts.regions[root.region].size for root in cuts.roots) - 1).bit_length()


def _solve_front(graph: Graph, goes_on: _GoesOn, keep_going: Callable[[], bool], conflicts: int) -> tuple[Front, ...]:
    """The fewest kinds for each number of passes, as long as one pass more is worth it; first for any number.

    Of cuts that were not looked at a solver knows nothing: where the draft was not searched all through it may look for
    trees, not for long, but nothing that it says is proven.
    """
    if graph.cuts.searched_all:
        anyhow = fewest_kinds(graph, None, conflicts, keep_going)
    else:
        anyhow = Front(None, None, count_doublings(graph.cuts), None)
    solved: list[Front] = []
    passes = graph.fewest_passes
    while passes <= graph.most_passes and goes_on(passes, anyhow.at_least, solved):
        here = fewest_kinds(graph, passes, conflicts if anyhow.is_solved else min(conflicts, FEW_CONFLICTS), keep_going)
        if not graph.cuts.searched_all:
            here = replace(here, at_least=anyhow.at_least)
        solved.append(here)
        if here.kinds is None:
            break  # a pass more only makes it harder
        passes += 1
    return (anyhow, *solved)


def _count_passes(cuts: Cuts, cut: dict[int, int]) -> int:
    """How many passes a choice takes."""
    levels: dict[int, int] = {}
    for number in sorted(cut, key=lambda other: cuts.regions[other].rank):
        here = cuts.regions[number].cuts[cut[number]]
        levels[number] = 1 + max(levels.get(here.left.region, 0), levels.get(here.right.region, 0))
    return max(levels.values(), default=0)


def _bound(front: tuple[Front, ...], handling: Handling) -> Fraction:
    """The least minutes that any number of passes can come to."""
    anyhow, *rest = front
    bounds = [
        handling.trip * one.passes + handling.pile * max(one.at_least, anyhow.at_least)
        for one in rest
        if one.passes is not None
    ]
    passes = [one.passes for one in rest if one.passes is not None]
    return min([*bounds, handling.trip * (max(passes) + 1) + handling.pile * anyhow.at_least])


def _search(cuts: Cuts, handling: Handling, keep_going: Callable[[], bool]) -> dict[int, int]:
    """The best trees that a search finds."""
    search = _Search(cuts, handling, keep_going)
    if search.is_large:
        return search.take_spare_cuts()
    best: dict[int, int] = {}
    before: dict[int, int] = {}
    best_cost: Cost | None = None
    for passes in range(search.fewest, min(search.most, search.fewest + MORE_PASSES) + 1):
        choice = search.share_trees(passes)
        if choice == before:
            break  # another pass changes nothing any more
        cost, before = search.cost(choice), choice
        if best_cost is None or cost < best_cost:
            best, best_cost = choice, cost
    return search.improve(best, MOST_TRIALS)


class _Search:
    def __init__(self, cuts: Cuts, handling: Handling, keep_going: Callable[[], bool]) -> None:
        self.cuts = cuts
        self.handling = handling
        self.keep_going = keep_going
        self.roots = list(dict.fromkeys(root.region for root in cuts.roots))
        # Small regions first: a side of a cut always stands before the region that is cut.
        self.order = sorted(self._reach(self.roots), key=self._rank)
        self._is_patch = [len(region.patches) == 1 for region in cuts.regions]
        self.fewest_levels = self._count_levels()
        self.fewest = max((self.fewest_levels[root] for root in self.roots), default=0)
        self.most = len(self.order) if handling.passes is None else handling.passes

    def _rank(self, number: int) -> tuple[tuple[int, int], int]:
        return self.cuts.regions[number].rank, number

    def _rank_down(self, number: int) -> tuple[int, int, int]:
        size, slits = self.cuts.regions[number].rank
        return -size, -slits, number

    def _reach(self, roots: Iterable[int]) -> set[int]:
        seen = set(roots)
        waiting = list(seen)
        while waiting:
            for cut in self.cuts.regions[waiting.pop()].cuts:
                for seat in (cut.left, cut.right):
                    if seat.region not in seen:
                        seen.add(seat.region)
                        waiting.append(seat.region)
        return seen

    def _count_levels(self) -> dict[int, int]:
        levels: dict[int, int] = {}
        for number in self.order:
            region = self.cuts.regions[number]
            if len(region.patches) == 1:
                levels[number] = 0
            else:
                levels[number] = 1 + min(max(levels[cut.left.region], levels[cut.right.region]) for cut in region.cuts)
        return levels

    @property
    def is_large(self) -> bool:
        return len(self.order) > MOST_SHARED

    def find_within(self, passes: int) -> dict[int, int]:
        """Good trees of at most so many passes, without much searching."""
        if self.is_large:
            return self.take_spare_cuts()
        return self.improve(self.share_trees(passes), MOST_TRIALS // 2)

    def share_trees(self, passes: int) -> dict[int, int]:
        """Trees of at most so many passes: bottom up the fewest kinds, what other blocks use counted as given."""
        shared: set[int] = set()
        trees: dict[int, dict[int, int]] = {}
        for _ in range(2):  # the second time round each block knows what the others use
            for root in sorted(self.roots, key=lambda number: -self.cuts.regions[number].size):
                trees[root] = self._best_tree(root, passes, shared)
                shared.update(trees[root])
        choice: dict[int, int] = {}
        for root in self.roots:
            for number, cut in trees[root].items():
                choice.setdefault(number, cut)
        return self._trim(choice)

    def _best_tree(self, root: int, passes: int, shared: set[int]) -> dict[int, int]:
        """For each region and number of passes the cut with the fewest kinds that are not shared already."""
        regions = self.cuts.regions
        found: dict[tuple[int, int], tuple[tuple[int, int, int], int, int]] = {}
        best_from: dict[int, list[int]] = {}
        reach = sorted(self._reach([root]), key=self._rank)
        # A set of kinds is the bits of a number; numbered anew, so that it is no longer than it must be
        bit = {number: 1 << place for place, number in enumerate(reach)}
        unshared = ~sum(one for number, one in bit.items() if number in shared)
        for number in reach:
            if len(regions[number].patches) == 1:
                continue
            if not self.keep_going():
                raise InterruptedError
            here = bit[number]
            depths: list[int] = []
            for depth in range(self.fewest_levels[number], passes + 1):
                best = None
                for place, cut in enumerate(regions[number].cuts):
                    kinds, joins, square = here, cut.joins, cut.square
                    possible = True
                    for seat in (cut.left, cut.right):
                        side = seat.region
                        if len(regions[side].patches) == 1:
                            continue
                        if self.fewest_levels[side] > depth - 1:
                            possible = False
                            break
                        (_, more_joins, more_square), more, _ = found[(side, self._depth(best_from, side, depth - 1))]
                        kinds |= more
                        joins += more_joins
                        square += more_square
                    if not possible:
                        continue
                    rank = ((kinds & unshared).bit_count(), joins, square)
                    if best is None or rank < best[0]:
                        best = (rank, kinds, place)
                assert best is not None
                previous = found.get((number, depths[-1])) if depths else None
                # More passes that gain nothing are no other tree
                if previous is None or best[0] < previous[0]:
                    found[(number, depth)] = best
                    depths.append(depth)
            best_from[number] = depths
        # Walk down with the passes that are left; a region met twice keeps the tighter of its trees.
        choice: dict[int, int] = {}
        left = {root: passes} if len(regions[root].patches) > 1 else {}
        for number in reversed(reach):  # the largest first: whatever it is a side of has been there
            if number not in left:
                continue
            depth = self._depth(best_from, number, left[number])
            place = found[(number, depth)][2]
            choice[number] = place
            for seat in (regions[number].cuts[place].left, regions[number].cuts[place].right):
                side = seat.region
                if len(regions[side].patches) > 1:
                    left[side] = min(left.get(side, passes), depth - 1)
        return choice

    @staticmethod
    def _depth(best_from: dict[int, list[int]], number: int, most: int) -> int:
        """The most passes, of those that make a difference, that are no more than `most`."""
        depths = best_from[number]
        return depths[bisect_right(depths, most) - 1]

    def _trim(self, choice: dict[int, int], spare: dict[int, int] = NO_CUTS) -> dict[int, int]:
        """The part of a choice that the roots need; `spare` has the cuts of what the choice leaves out."""
        used: dict[int, int] = {}
        waiting = list(self.roots)
        while waiting:
            number = waiting.pop()
            if number in used or self._is_patch[number]:
                continue
            place = choice.get(number)
            if place is None:
                place = spare[number]
            used[number] = place
            cut = self.cuts.regions[number].cuts[place]
            waiting.append(cut.left.region)
            waiting.append(cut.right.region)
        return used

    def cost(self, choice: dict[int, int]) -> Cost:
        passes = _count_passes(self.cuts, choice)
        joins = square = 0
        for number, place in choice.items():
            cut = self.cuts.regions[number].cuts[place]
            joins += cut.joins
            square += cut.square
        if self.handling.passes is None:
            return self.handling.trip * passes + self.handling.pile * len(choice), joins, square
        return max(0, passes - self.most), len(choice), passes, joins, square

    def improve(self, choice: dict[int, int], most_trials: int) -> dict[int, int]:
        """Change one region's cut at a time, as long as the whole gets cheaper. What is new below takes its best."""
        most_trials = min(most_trials, MOST_STEPS // max(1, len(choice)))
        cost = self.cost(choice)
        spare = self._spare_cuts()
        trials = 0
        changed = True
        while changed:
            changed = False
            for number in sorted(choice, key=self._rank_down):
                if number not in choice:
                    continue  # an earlier change did away with it
                for place in range(len(self.cuts.regions[number].cuts)):
                    if place == choice.get(number):
                        continue
                    trials += 1
                    if trials > most_trials:
                        return choice
                    if not self.keep_going():
                        raise InterruptedError
                    other = self._trim({**choice, number: place}, spare)
                    other_cost = self.cost(other)
                    if other_cost < cost:
                        choice, cost, changed = other, other_cost, True
        return choice

    def take_spare_cuts(self) -> dict[int, int]:
        """Trees in the fewest passes, for graphs in which sharing kinds would take too long: the shorter seams."""
        spare = {
            number: min(
                range(len(self.cuts.regions[number].cuts)),
                key=lambda place: self._rank_alone(number, place),
            )
            for number in self.order
            if len(self.cuts.regions[number].patches) > 1
        }
        return self._trim(spare)

    def _rank_alone(self, number: int, place: int) -> tuple[int, int, int]:
        cut = self.cuts.regions[number].cuts[place]
        level = max(self.fewest_levels[cut.left.region], self.fewest_levels[cut.right.region])
        return level, cut.joins, cut.square

    def _spare_cuts(self) -> dict[int, int]:
        """For every region the cut that is best by itself: fewest kinds in the fewest passes."""
        regions = self.cuts.regions
        kinds: dict[int, int] = {}
        spare: dict[int, int] = {}
        for number in self.order:
            cuts = regions[number].cuts
            if len(regions[number].patches) == 1:
                kinds[number] = 0
                continue
            ranks = []
            for place, cut in enumerate(cuts):
                level = max(self.fewest_levels[cut.left.region], self.fewest_levels[cut.right.region])
                both = (kinds[cut.left.region] | kinds[cut.right.region]) | 1 << number
                ranks.append((level, both.bit_count(), cut.joins, cut.square, place, both))
            best = min(ranks)
            spare[number], kinds[number] = best[4], best[5]
        return spare
