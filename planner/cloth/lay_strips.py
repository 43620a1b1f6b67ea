"""Rectangles of one fabric -> strips across its usable width, as short in all as can be found, with a proven bound.

A maker cuts strips across the cloth, then cuts each strip down into columns, and a column that is lower than its strip
once more. So every cut goes from edge to edge. First the bound is found, with strips in fractions; the whole ones among
them are taken, and the few pieces that are left are laid by searches that count their steps. The time grows with the
number of sizes, not with that of pieces. Among layouts of one length the one with fewer widths of strip, then with
fewer settings for the cross cuts, is taken.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from math import floor
from operator import mul
from typing import NamedTuple

from planner.cloth.count_steps import Steps
from planner.cloth.fill_strip import Lying, Pattern, fill_strip, make_pattern
from planner.cloth.find_bound import Relaxed, relax
from planner.cloth.list_strips import list_patterns, list_sums

BOUND_STEPS, SEARCH_STEPS, MOST_KINDS = 40_000, 50_000, 8  # for each kind of a fabric, and for so many
MOST_TRIES = 40_000  # steps of one search
MOST_DIVES = 12
MOST_ROUNDS = 6
MOST_SETS = 40  # of heights that are filled
BREADTHS = (3, 1_000)  # strips that are tried in each place of a search, in one after the other
FINE = 1 << 40  # parts that worths are told in

Strips = tuple[tuple[Pattern, int], ...]  # strips and how many of each


class Laid(NamedTuple):
    """Strips that hold all that is wanted (and may hold more), their length in all, and what no layout goes below."""

    strips: Strips
    length: int
    at_least: int


class _Rank(NamedTuple):
    """Of two layouts the lesser is the better one."""

    length: int
    widths: int
    settings: int  # of the blade, for cross cuts


def lay_strips(lying: Sequence[Lying], wanted: Sequence[int], room: int) -> Laid:
    """The best layout of so many pieces of each kind in strips `room` wide. Each kind fits in one way at least."""
    return lay_once(tuple(lying), tuple(wanted), room)


@lru_cache(maxsize=64)  # fabrics often take the same pieces, and one layout is asked for by several
def lay_once(lying: tuple[Lying, ...], wanted: tuple[int, ...], room: int) -> Laid:
    """The same, kept."""
    if not any(wanted):
        return Laid((), 0, 0)
    layouts = _Layouts(lying, wanted, room)
    best = min(layouts.find(), key=_rank)
    return Laid(best, _rank(best).length, layouts.relaxed.at_least)


def _rank(strips: Strips) -> _Rank:
    heights = {pattern.high for pattern, _ in strips}
    settings = {(pattern.high, which) for pattern, _ in strips for which, _ in pattern.columns}
    return _Rank(sum(pattern.high * many for pattern, many in strips), len(heights), len(settings))


def _gather(strips: Sequence[tuple[Pattern, int]]) -> Strips:
    counts: dict[Pattern, int] = {}
    for pattern, many in strips:
        counts[pattern] = counts.get(pattern, 0) + many
    return tuple(counts.items())


def _take(left: list[int], pattern: Pattern, times: int) -> None:
    for kind, many in enumerate(pattern.gives):
        left[kind] = max(0, left[kind] - times * many)


class _Layouts:
    """What is looked for in one fabric, and how it is found."""

    def __init__(self, lying: Sequence[Lying], wanted: Sequence[int], room: int) -> None:
        self.lying = lying
        self.wanted = wanted
        self.room = room
        self.relaxed: Relaxed = relax(lying, wanted, room, Steps(BOUND_STEPS * min(len(wanted), MOST_KINDS)))
        self.steps = Steps(SEARCH_STEPS * min(len(wanted), MOST_KINDS))
        self.areas = [0] * len(wanted)
        self.lowest = [0] * len(wanted)  # how high a strip must be for a kind
        for way in lying:
            self.areas[way.kind] = way.wide * way.high
            self.lowest[way.kind] = min(self.lowest[way.kind] or way.high, way.high)

    def find(self) -> Iterator[Strips]:
        """Layouts, the first one at once."""
        best = self._lay_greedily()
        yield best
        known = _rank(best).length
        pool = dict.fromkeys(self.relaxed.seen)
        for spare in (0, 1, 2):
            if known == self.relaxed.at_least or self.steps.are_over:
                return
            # The whole strips of the bound's, but for so many of each; the rest is searched for
            whole = [
                (pattern, floor(amount) - spare) for pattern, amount in self.relaxed.amounts if amount >= spare + 1
            ]
            left = list(self.wanted)
            for pattern, times in whole:
                _take(left, pattern, times)
            length = sum(pattern.high * times for pattern, times in whole)
            for rest in self._find_rest(tuple(left), pool, known - length):
                found = _gather([*whole, *((pattern, 1) for pattern in rest)])
                known = min(known, _rank(found).length)
                yield found
            if not whole:
                return

    def _find_rest(self, left: tuple[int, ...], pool: dict[Pattern, None], below: int) -> Iterator[Sequence[Pattern]]:
        """Layouts of what is left, in several ways; `pool` keeps the strips that were met."""
        if not any(left):
            yield ()
            return
        pool |= dict.fromkeys(self._make_more(left))
        for rest in self._correct_worths(left):
            pool |= dict.fromkeys(rest)
            below = min(below, sum(pattern.high for pattern in rest))
            yield rest
        rest = self._choose_heights(left, below)
        if rest:
            below = sum(pattern.high for pattern in rest)
            yield rest
        listed = list_patterns(self.lying, left, self.room, self.steps)
        strips = tuple(pool | dict.fromkeys(listed))
        for breadth in BREADTHS:
            found = self._search(strips, left, below - 1, breadth)
            if found is not None:
                below = sum(pattern.high for pattern in found)
                yield found

    def _lay_greedily(self) -> Strips:
        """From the tallest down: strips full of one size, their ends filled with what is worth most."""
        left = list(self.wanted)
        strips: list[tuple[Pattern, int]] = []
        while any(left):
            _, kind = max((self.lowest[kind], kind) for kind, many in enumerate(left) if many)
            high, which = min((way.high, at) for at, way in enumerate(self.lying) if way.kind == kind)
            wide = self.lying[which].wide
            columns = min(self.room // wide, left[kind])
            others = [many if one != kind else 0 for one, many in enumerate(left)]
            rest = self.room - columns * wide
            end = fill_strip(self.lying, high, rest, self.relaxed.worths, others, self.steps).pattern
            pattern = make_pattern(self.lying, high, ((which, columns), *end.columns), left)
            times = min(left[one] // many for one, many in enumerate(pattern.gives) if many)
            strips.append((pattern, times))
            _take(left, pattern, times)
        return _gather(strips)

    def _make_more(self, left: Sequence[int]) -> Iterator[Pattern]:
        """Strips that pay when only so much is left, found as the bound is."""
        rest = list(left)
        for _ in range(MOST_DIVES):
            if not any(rest) or self.steps.are_over:
                return
            inner = relax(self.lying, rest, self.room, self.steps)
            yield from inner.seen
            # The strip of which most is cut; where it is less than a whole one, the one that lacks least
            pattern, amount = max(inner.amounts, key=lambda one: (one[1], one[0]))
            _take(rest, pattern, max(1, floor(amount)))

    def _correct_worths(self, wanted: Sequence[int]) -> Iterator[tuple[Pattern, ...]]:
        """Layouts strip by strip, each the one worth most for its height; what ends up in wasteful strips is then worth
        more, and so goes earlier, and better, into the next layout."""
        worths = [worth or 1 for worth in self.relaxed.worths]
        heights = sorted({way.high for way in self.lying if wanted[way.kind]})
        for _ in range(MOST_ROUNDS):
            left, strips = list(wanted), []
            while any(left):
                if self.steps.are_over:
                    return
                best = max(
                    (fill_strip(self.lying, high, self.room, worths, left, self.steps) for high in heights),
                    key=lambda filled: (Fraction(filled.worth, filled.pattern.high), filled.pattern.high),
                ).pattern
                used = sum(self.areas[kind] * many for kind, many in enumerate(best.gives))
                for kind, many in enumerate(best.gives):
                    if many:  # by its share of all of the kind half of what it took of the strip
                        took, twice = self.areas[kind] * best.high * FINE // used, 2 * wanted[kind]
                        worths[kind] = max(1, (worths[kind] * (twice - many) + took * many) // twice)
                _take(left, best, 1)
                strips.append(best)
            yield tuple(strips)

    def _choose_heights(self, wanted: Sequence[int], below: int) -> tuple[Pattern, ...]:
        """The first layout found shorter than `below` when the heights of all strips are chosen first, from the least
        sum on, and each strip is then filled as well as it can be."""
        heights = sorted({way.high for way in self.lying if wanted[way.kind]}, reverse=True)
        least = sum(many * worth for many, worth in zip(wanted, self.relaxed.worths, strict=True)) // FINE
        area = -(-sum(many * one for many, one in zip(wanted, self.areas, strict=True)) // self.room)
        tallest = max(self.lowest[kind] for kind, many in enumerate(wanted) if many)
        sets = [one for one in list_sums(heights, max(least, area), below) if one[0] >= tallest]
        sets.sort(key=lambda one: (sum(one), len(set(one)), one))
        for chosen in sets[:MOST_SETS]:
            for worths in (self.areas, self.relaxed.worths):
                for order in (chosen, chosen[::-1]):
                    if self.steps.are_over:
                        return ()
                    strips = self._fill_heights(order, wanted, worths)
                    if strips:
                        return strips
        return ()

    def _fill_heights(
        self, heights: Sequence[int], wanted: Sequence[int], worths: Sequence[int]
    ) -> tuple[Pattern, ...]:
        """Strips of these heights that hold all that is wanted, each filled as well as it can be; nothing where they
        don't come to it."""
        left, strips = list(wanted), []
        spare = sum(heights) * self.room - sum(many * area for many, area in zip(wanted, self.areas, strict=True))
        for high in heights:
            pattern = fill_strip(self.lying, high, self.room, worths, left, self.steps).pattern
            _take(left, pattern, 1)
            if pattern.columns:
                strips.append(pattern)
            held = sum(many * area for many, area in zip(pattern.gives, self.areas, strict=True))
            spare -= high * self.room - held
            if spare < 0:
                return ()
        return () if any(left) else tuple(strips)

    def _search(
        self, pool: Sequence[Pattern], left: tuple[int, ...], most: int, breadth: int
    ) -> tuple[Pattern, ...] | None:
        """Strips of the pool that hold what is left, no longer than `most` in all; None where none are found. Only the
        `breadth` most promising strips are tried in each place."""
        best: tuple[_Rank, tuple[Pattern, ...]] | None = None
        steps = Steps(min(MOST_TRIES, self.steps.left))
        known: dict[tuple[int, ...], int] = {}
        worths = self.relaxed.worths

        def look(left: tuple[int, ...], length: int, taken: tuple[Pattern, ...]) -> None:
            nonlocal best, most
            if not any(left):
                rank = _rank(_gather([(pattern, 1) for pattern in taken]))
                if best is None or rank < best[0]:
                    best, most = (rank, taken), rank.length - 1
                return
            if steps.are_over or known.get(left, length + 1) <= length:
                return
            known[left] = length
            weights = [many * worth for many, worth in zip(left, worths, strict=True)]
            needed = length * FINE + sum(weights)
            # The kind that weighs most must be in some strip
            kind = max(range(len(left)), key=lambda one: (weights[one], left[one], one))
            ways = []
            for pattern in pool:
                if pattern.gives[kind]:
                    held = sum(map(mul, map(min, left, pattern.gives), worths))
                    ways.append((pattern.high * FINE - held, pattern))
            steps.take(len(ways) + 1)
            ways.sort()
            for beyond, pattern in ways[:breadth]:
                if needed + beyond > most * FINE or steps.are_over:
                    return  # so would all that follow, as they give less for their height
                after = tuple(max(0, many - each) for many, each in zip(left, pattern.gives, strict=True))
                look(after, length + pattern.high, (*taken, pattern))

        at_start = steps.left
        look(left, 0, ())
        self.steps.take(at_start - steps.left)
        return None if best is None else best[1]
