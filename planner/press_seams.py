"""Which way each seam's allowances fall, so that joins nest: the optimum in a strict order, proven.

1. Every join that can nest does. 2. The fewest kinds of unit are pressed two ways, then the fewest units lie in second
piles. 3. The maker's wishes, one after the other, each counted in seams. 4. A tie-break that depends on the project
alone. What the maker keeps comes before all of this, and so does what is already sewn and pressed: as little of it as
possible is left over.

All copies of a loose block are pressed alike: whatever is best for one is best for each, so nothing is lost by it. So
are all equal blocks of a quilt wherever the first two allow it, before the wishes: fewer piles, nothing to mix up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from itertools import accumulate
from types import MappingProxyType
from typing import NamedTuple

from planner.batch_seams import Batches
from planner.blocks import Point
from planner.build_units import Seam, Units, looks_alike
from planner.feed_units import Feed
from planner.find_cuts import always
from planner.find_joins import Join, Joins, follow, joins_of_block
from planner.find_kept import Kept
from planner.least_cost import LeastCost, Literal, OutOfBudget
from planner.look_along import SeamSides
from planner.project import WEIGHTS, Fabric, Wish
from planner.spin_seams import find_centres
from planner.surd import Grid
from planner.tie_bits import Ties

MOST_CONFLICTS = 100_000  # that the solver may meet for each aim
MOST_FALLS = 20_000  # choices that kinds have in common: of more the solver is not asked


class Sewn(NamedTuple):
    """So many of a unit are sewn already and still there; 0 where its step was begun and all is gone.

    `marks` say for each of `Unit.seams` on which side of its normal the allowances lie: `+` on the normal's, `-` on the
    other, `=` on both; `>` and `<` where it is spun: at its first end on the normal's, or not; `.` not pressed yet.
    """

    unit: int
    marks: str
    copies: int


class Leaning(NamedTuple):
    """What each wish says of a unit's last seam: True toward side a, False toward side b, None nothing."""

    light_weight: bool | None
    plain: bool | None
    dark: bool | None


@dataclass(frozen=True, slots=True)
class Pressing:
    """`to_a[block][seam]`: whether the allowances of a seam fall to its side a.

    `clashes` counts the joins that do not nest, `two_ways` the kinds pressed two ways, `second` the units in second
    piles. All are the least (and so is every wish, in its order) where `is_proven`; in large projects no solver may
    come to an end, and what is proven is that there are at least so many.
    """

    to_a: tuple[tuple[bool, ...], ...]
    clashes: int
    two_ways: int
    second: int
    leanings: tuple[Leaning, ...]  # of each unit
    is_open: tuple[frozenset[int], ...]  # of each block the seams that are pressed open
    is_spun: tuple[frozenset[int], ...]  # those that are spun: `to_a` holds at the first end, beyond the join not
    clashes_at_least: int
    two_ways_at_least: int

    def falls_to_a(self, block: int, number: int, at_last: bool) -> bool:
        """Whether a seam's allowances fall to its side a at its first end, or at its second."""
        return self.to_a[block][number] ^ (at_last and number in self.is_spun[block])


def press_seams(
    units: Units,
    batches: Batches,
    joins: Joins,
    feeds: tuple[Feed | None, ...],
    fabrics: tuple[Fabric, ...],
    prefer: tuple[Wish, ...],
    sewn: Sequence[Sewn] = (),
    keep_going: Callable[[], bool] = always,
    kept: Kept = MappingProxyType({}),
    conflicts: int = MOST_CONFLICTS,
) -> Pressing:
    """The best directions for all seams, given what the maker keeps and what is already sewn and pressed.

    `conflicts` bounds the proof of each of the aims.
    """
    leanings = _lean(units, joins, {fabric.name: fabric for fabric in fabrics})
    for is_tied in (True, False):
        problem = _Problem(units, batches, joins, feeds, leanings, is_tied, keep_going, kept, conflicts)
        try:
            pressing = problem.solve(prefer, sewn)
        except ValueError:  # what is tied leaves no way to press a centre, spun or not
            if not is_tied:
                raise
            pressing = None
        finally:
            problem.cost.close()
        if pressing is not None:
            return pressing
    raise AssertionError("without ties every problem has an answer")


def press_freer(
    units: Units,
    batches: Batches,
    joins: Joins,
    feeds: tuple[Feed | None, ...],
    pressing: Pressing,
    prefer: tuple[Wish, ...],
    kept: Kept,
    keep_going: Callable[[], bool] = always,
    conflicts: int | None = None,
) -> Pressing:
    """The best directions where one kind more than in `pressing` may be pressed two ways for the sake of the wishes.

    OutOfBudget where that takes more conflicts than these.
    """
    problem = _Problem(units, batches, joins, feeds, pressing.leanings, False, keep_going, kept, conflicts)
    try:
        return problem.solve_freer(prefer, pressing.two_ways + 1)
    finally:
        problem.cost.close()


class Ridge(NamedTuple):
    """A seam inside a unit, in the unit's frame: how to find it, and on which side of it its side a lies."""

    segment: tuple[Point, Point]
    path: tuple[bool, ...]
    a_on_normal: bool  # side a lies where (-dy, dx) points, from the segment's first end to its second


def find_ridges(units: Units, number: int) -> list[Ridge]:
    """All seams inside a unit, in the order of `Unit.seams`; one that was finished is found by its last sewing."""
    found: list[Ridge] = []
    finished: set[tuple[bool, ...]] = set()
    unit = units.units[number]
    waiting: list[tuple[Seam, tuple[bool, ...]]] = [(Seam(number, 0, 0, 0, 0, 0), ())]
    while waiting:
        here, path = waiting.pop()
        unit = units.units[here.unit]
        if unit.a is None:
            continue
        if unit.closes:  # it lies deeper, and so comes later
            finished.add((*path, *unit.closes.way))
        if path not in finished:
            p, q = (units.place_point(point, here) for point in unit.line)
            on_normal = unit.a_on_normal
            # Turning keeps left and right of the way; putting the ends in order again may not.
            found.append(Ridge((p, q), path, on_normal) if p < q else Ridge((q, p), path, not on_normal))
        for into_b, side in zip((False, True), unit.sides, strict=False):
            inner = units.seat_side(side, here)
            waiting.append((Seam(inner.unit, inner.turn, inner.x, inner.y, 0, 0), (*path, into_b)))
    return sorted(found)


def _lean(units: Units, joins: Joins, fabrics: dict[str, Fabric]) -> tuple[Leaning, ...]:
    leanings = []
    sides = SeamSides(units)
    for number, unit in enumerate(units.units):
        if unit.a is None:
            leanings.append(Leaning(None, None, None))
            continue
        lengths = [along.lengths.items() for along in sides.look(unit)]
        weights = [sum(long * WEIGHTS.index(fabrics[name].weight) for name, long in side) for side in lengths]
        values = [sum(long * fabrics[name].value for name, long in side) for side in lengths]
        meeting = joins.meeting[number]
        leanings.append(
            Leaning(
                None if weights[0] == weights[1] else weights[0] < weights[1],
                None if meeting[0] == meeting[1] else meeting[0] < meeting[1],
                None if values[0] == values[1] else values[0] > values[1],
            )
        )
    return tuple(leanings)


def lean_outward(units: Units, block: int, number: int) -> bool | None:
    """Toward side a (True) or b (False), whichever is away from the middle of the block (in a quilt of the block that
    the seam lies in; of a seam that joins, of the quilt); None where the seam crosses it."""
    seam = units.seams[block][number]
    around = _box_around(units, block, number)
    unit = units.units[seam.unit]
    assert unit.a is not None
    (px, py), (qx, qy) = (units.place_point(point, seam) for point in unit.seam)
    # Doubled, so that the middle stays a whole number
    left, top, right, bottom = around
    turned = (qx - px) * (top + bottom - 2 * py) - (qy - py) * (left + right - 2 * px)
    if turned == 0:
        return None
    middle_on_normal = turned > 0
    return unit.a_on_normal != middle_on_normal


def _box_around(units: Units, block: int, number: int) -> tuple[Grid, Grid, Grid, Grid]:
    drafted = units.cuts.blocks.drafted[block]
    piece = units.piece_of[1][number] if drafted.is_top else -1
    if piece < 0:
        return 0, 0, drafted.width, drafted.height
    whole = units.seams[block][units.joined[piece]]
    unit = units.units[whole.unit]
    wide, high = (unit.width, unit.height) if whole.turn % 2 == 0 else (unit.height, unit.width)
    return whole.x, whole.y, whole.x + wide, whole.y + high


def points_to_needle(join_ahead: bool, feed: Feed, seam: tuple[Point, Point]) -> bool:
    """Whether the allowance of the seam on top must fall to its side a to point toward the needle."""
    first_is_start = feed.first == seam[0]
    # Toward the needle is toward the first end; "ahead" is from the segment's start to its end
    return join_ahead != first_is_start


class _Problem:
    """The formula of one project.

    Where all joins can nest at once (nearly always) the seams that they tie together are one choice, and so are the
    units of a kind where all kinds can then be pressed one way: with `is_tied` only what is left free goes to the
    solver. Where that cannot be, `solve` says None, and the whole is solved untied.
    """

    def __init__(
        self,
        units: Units,
        batches: Batches,
        joins: Joins,
        feeds: tuple[Feed | None, ...],
        leanings: tuple[Leaning, ...],
        is_tied: bool,
        keep_going: Callable[[], bool],
        kept: Kept,
        conflicts: int | None = None,
    ) -> None:
        self.conflicts = conflicts
        self.keep_going = keep_going
        self.units = units
        self.batches = batches
        self.joins = joins
        self.feeds = feeds
        self.leanings = leanings
        self.is_tied = is_tied
        self.kept = kept
        self.cost = LeastCost(keep_going, conflicts)
        self.copies = [block.copies for block in units.cuts.blocks.drafted]
        # What a seam counts: the copies of its block, also those that are pressed like it; 0 for one of these
        self.weights = [[self.copies[block]] * len(seams) for block, seams in enumerate(units.seams)]
        self.on_normal = [unit.a_on_normal for unit in units.units]
        # Seams are bits, numbered through all blocks: do the allowances fall to the seam's side a?
        self.first = list(accumulate((len(seams) for seams in units.seams), initial=0))
        self.to_a: list[list[Literal]] = []
        self.centres = find_centres(units, joins)
        # Where seams may be spun, those that can be have a second bit, for their second end
        self.last_bit: dict[int, int] = {}
        self.at_last: dict[int, Literal] = {}
        self.spun: dict[int, Literal] = {}  # by kind
        self._alike: dict[int, bool] = {}
        self.at_least: dict[str, int] = {}  # by aim: what is proven
        self._one_way: dict[int, Literal] = {}
        self._every: dict[tuple[Literal, ...], Literal] = {}

    def solve(self, prefer: tuple[Wish, ...], sewn: Sequence[Sewn]) -> Pressing | None:
        if "spin" in prefer or any(mark in "><" for one in sewn for mark in one.marks):
            self._number_last_ends()
        ties = self._new_ties(len(self.last_bit))
        if self.is_tied and not (self._tie_kept(ties) and self._tie_joins(ties)):
            return None
        one_way = ties.copy()
        all_one_way = self.is_tied and self._tie_kinds(one_way)
        if all_one_way:
            ties = one_way
        alike = ties.copy()
        if self.is_tied and self._tie_blocks(alike):
            ties = alike
            self._weigh_alike()
        self._name_bits(ties)
        self._let_spin()
        clashes = two_ways = second = 0
        try:
            if sewn:
                begun, there = self._use_sewn(sewn)
                # First that every step that was begun goes on, then that every unit that lies there is used
                wasted = self._grant(begun) + self._grant(there)
                if wasted and self.is_tied:
                    return None  # what is sewn may be worth a clash or a second version: that needs the whole formula
            if not self.is_tied:
                clashes = self._grant(self._nest(), "clashes")
            if not all_one_way:
                kinds, seconds = self._keep_alike()
                two_ways = self._grant(kinds, "two ways")
                second = self._grant(seconds)
        except OutOfBudget:
            clashes, two_ways, second = self._settle_by_ties(sewn)
        if "spin" not in prefer:  # then only what is spun already stays so
            with suppress(OutOfBudget):
                self._grant((-spun, 1) for spun in self.spun.values())
        for wish in prefer:
            with suppress(OutOfBudget):
                self._grant(self._wish(wish))
        self.cost.allow(self.conflicts)
        return self._read_off(clashes, two_ways, second)

    def _new_ties(self, more: int = 0) -> Ties:
        """A bit for each seam, and so many more; what finishes a seam falls as that does."""
        ties = Ties(self.first[-1] + 1 + more)
        for block, seams in enumerate(self.units.seams):
            for number, seam in enumerate(seams):
                closes = self.units.units[seam.unit].closes
                if closes:
                    begun = follow(seams, number, closes.way)
                    ties.tie(self.first[block] + number, self.first[block] + begun, False)
        return ties

    def solve_freer(self, prefer: tuple[Wish, ...], most: int) -> Pressing:
        """The best where so many kinds at most are pressed two ways, and that comes after the wishes."""
        if "spin" in prefer:
            self._number_last_ends()
        ties = self._new_ties(len(self.last_bit))
        free = ties.copy()
        all_nest = self._tie_kept(ties) and self._tie_joins(ties)
        alike = ties.copy()
        self._name_bits((alike if self._tie_blocks(alike) else ties) if all_nest else free)
        self._let_spin()
        clashes = 0 if all_nest else self.cost.grant(list(self._nest()))
        kinds, seconds = self._keep_alike()
        self.cost.need_at_most([-one_way for one_way, _ in kinds], most)
        for wish in prefer:
            self.cost.grant(self._wish(wish))
        two_ways, second = self.cost.grant(kinds), self.cost.grant(seconds)
        return self._read_off(clashes, two_ways, second)

    def _read_off(self, clashes: int, two_ways: int, second: int) -> Pressing:
        """What is solved; where it leaves a choice, the first in order."""
        self.cost.settle(dict.fromkeys(self._in_order()))
        to_a = [tuple(self.cost.is_true(literal) for literal in literals) for literals in self.to_a]
        for block, start in self._only_in_quilt():  # shown as its first copy in the quilt
            to_a[block] = to_a[-1][start : start + len(to_a[block])]
        is_open = [
            frozenset(number for number in range(len(seams)) if self.kept and self._is_open(block, number))
            for block, seams in enumerate(self.units.seams)
        ]
        is_spun = [
            frozenset(number for number, seam in enumerate(seams) if self._is_spun(block, number))
            for block, seams in enumerate(self.units.seams)
        ]
        at_least = self.at_least.get("clashes", 0), self.at_least.get("two ways", 0)
        for block, start in self._only_in_quilt():
            many = len(self.units.seams[block])
            is_spun[block] = frozenset(one - start for one in is_spun[-1] if start <= one < start + many)
        return Pressing(
            tuple(to_a), clashes, two_ways, second, self.leanings, tuple(is_open), tuple(is_spun), *at_least
        )

    def _number_last_ends(self) -> None:
        bit = self.first[-1]
        for block, number, seam in self._seams():
            if seam.unit in self.centres and (block, number) not in self.kept and not self._meets_open(block, number):
                bit += 1
                self.last_bit[self.first[block] + number] = bit

    def _meets_open(self, block: int, number: int) -> bool:
        """Whether a seam that crosses this one at its centre is pressed open."""
        seams = self.units.seams[block]
        join = self.centres[seams[number].unit]
        return any(self._is_open(block, follow(seams, number, path)) for path in (join.a, join.b))

    def _is_spun(self, block: int, number: int) -> bool:
        if self.first[block] + number not in self.last_bit:
            return False
        kind = self.units.units[self.units.seams[block][number].unit].kind
        return kind in self.spun and self.cost.is_true(self.spun[kind])

    def _end_bit(self, block: int, number: int, is_last: bool) -> int:
        bit = self.first[block] + number
        return self.last_bit.get(bit, bit) if is_last else bit

    def _end(self, block: int, number: int, is_last: bool) -> Literal:
        """That a seam's allowances fall to its side a at its first end, or at its second."""
        return (is_last and self.at_last.get(self.first[block] + number)) or self.to_a[block][number]

    def _let_spin(self) -> None:
        """Say what it takes to spin a kind: at every centre the crossing seams nest, and the two halves run round."""
        for block, number, seam in self._seams():
            if self.first[block] + number not in self.last_bit:
                continue
            join = self.centres[seam.unit]
            spun = self._spun_literal(self.units.units[seam.unit].kind)
            start, end = self._end(block, number, False), self._end(block, number, True)
            seams = self.units.seams[block]
            a = self._end(block, follow(seams, number, join.a), join.a_last)
            b = self._end(block, follow(seams, number, join.b), join.b_last)
            a, b = (a if join.a_ahead else -a), (b if join.b_ahead else -b)
            self._equal(start, end, unless=spun)
            self._equal(a, -b, unless=-spun)
            self._equal(start, a, unless=-spun)
            self._equal(end, -a, unless=-spun)

    def _spun_literal(self, kind: int) -> Literal:
        if kind not in self.spun:
            self.spun[kind] = self.cost.variable()
        return self.spun[kind]

    def _equal(self, first: Literal, second: Literal, unless: Literal) -> None:
        self.cost.need(unless, -first, second)
        self.cost.need(unless, first, -second)

    def _grant(self, wishes: Iterable[tuple[Literal, int]], aim: str = "") -> int:
        """The cost of granting these; OutOfBudget where it is not found with the conflicts that one aim may take."""
        weights: dict[Literal, int] = {}
        for literal, weight in wishes:
            weights[literal] = weights.get(literal, 0) + weight
        self.at_least[aim] = 0
        if len(weights) > MOST_FALLS:
            raise OutOfBudget(0)
        self.cost.allow(self.conflicts)
        try:
            self.at_least[aim] = self.cost.grant(weights.items())
        except OutOfBudget as spent:
            self.at_least[aim] = spent.at_least
            raise
        return self.at_least[aim]

    def _settle_by_ties(self, sewn: Sequence[Sewn]) -> tuple[int, int, int]:
        """Good directions without a proof: what is wanted most is tied first, and what contradicts it is left; no seam
        is spun. Clashes, kinds pressed two ways, units in second piles."""
        one_way = {kind for kind, literal in self._one_way.items() if self.cost.is_true(literal)}
        self.cost.close()
        self.cost = LeastCost(self.keep_going)
        self.last_bit, self.at_last, self.spun, self._every = {}, {}, {}, {}
        self.weights = [[self.copies[block]] * len(seams) for block, seams in enumerate(self.units.seams)]
        ties = self._new_ties()
        self._tie_kept(ties)
        self._tie_sewn(ties, sewn)
        # A list, since every join is to be tied that can be
        clashes = sum(
            [
                self.copies[block]
                for block in range(len(self.units.seams))
                for _, join, first, second in self._joins(block)
                if not ties.tie(self.first[block] + first, self.first[block] + second, join.a_ahead == join.b_ahead)
            ]
        )
        two_ways, second = self._tie_kinds_that_can_be(ties, one_way)
        alike = ties.copy()
        if self._tie_blocks(alike):
            ties = alike
            self._weigh_alike()
        self._name_bits(ties)
        return clashes, two_ways, second

    def _tie_kinds_that_can_be(self, ties: Ties, one_way: set[int]) -> tuple[int, int]:
        """Tie kinds so that they are pressed one way: first those of which it is known that they can be, then those
        that tie the fewest choices. Of the others as much as can be, the heaviest first."""

        def count_falls(kind: int) -> dict[tuple[int, bool], int]:
            """How many units fall to the normal by which bit, or by its opposite."""
            falls: dict[tuple[int, bool], int] = {}
            for block, number, unit in members[kind]:
                bit, is_opposite = ties.find(self.first[block] + number)
                key = bit, is_opposite ^ self.on_normal[unit]
                falls[key] = falls.get(key, 0) + self.copies[block]
            return falls

        members = self._members()
        many = {kind: len(count_falls(kind)) for kind in members}
        left = []
        for kind in sorted(members, key=lambda other: (other not in one_way, many[other], other)):
            falls = list(count_falls(kind))
            if any((bit, not is_opposite) in falls for bit, is_opposite in falls):
                left.append(kind)
                continue
            for bit, is_opposite in falls[1:]:
                ties.tie(falls[0][0], bit, falls[0][1] ^ is_opposite)
        second = 0
        for kind in left:
            (first, *_), *others = sorted(count_falls(kind).items(), key=lambda fall: (-fall[1], fall[0]))
            for (bit, is_opposite), _ in others:
                ties.tie(first[0], bit, first[1] ^ is_opposite)
            second += min(count_falls(kind).values())
        return len(left), second

    def _tie_sewn(self, ties: Ties, sewn: Sequence[Sewn]) -> None:
        """Tie as many units as are sewn already to the directions in which they are pressed, where that can be."""
        for number, marks, copies in sewn:
            kind, left = self.units.units[number].kind, max(copies, 1)
            for block, place, seam in self._seams():
                if left <= 0:
                    break
                if self.units.units[seam.unit].kind != kind:
                    continue
                wanted = self._read_marks(block, place, seam, marks)
                if wanted is not None and self._tie_all(ties, wanted):
                    left -= self.copies[block]

    def _tie_all(self, ties: Ties, wanted: list[tuple[int, bool]]) -> bool:
        """Tie bits to be as wanted, all of them or, where that contradicts what is tied, none."""
        true, true_is_opposite = ties.find(self.first[-1])
        must = {true: not true_is_opposite}
        for number, to_a in wanted:
            bit, is_opposite = ties.find(number)
            if must.setdefault(bit, to_a ^ is_opposite) != to_a ^ is_opposite:
                return False
        for number, to_a in wanted:
            ties.tie(number, self.first[-1], not to_a)
        return True

    def _read_marks(self, block: int, place: int, seam: Seam, marks: str) -> list[tuple[int, bool]] | None:
        """The seams inside a unit, and whether the marks say that each falls to its side a; None where one is spun."""
        if "<" in marks or ">" in marks:
            return None
        own = find_ridges(self.units, seam.unit)
        return [
            (self.first[block] + follow(self.units.seams[block], place, ridge.path), (mark == "+") == ridge.a_on_normal)
            for ridge, mark in zip(own, marks, strict=True)
            if mark in "+-"
        ]

    def _is_open(self, block: int, number: int) -> bool:
        return self.kept.get((block, number), True) is None

    def _tie_kept(self, ties: Ties) -> bool:
        """Tie what the maker keeps to the bit that is true; False where that contradicts itself."""
        true = self.first[-1]
        return all(
            ties.tie(self.first[block] + number, true, not to_a)
            for (block, number), to_a in self.kept.items()
            if to_a is not None
        )

    def _tie_blocks(self, ties: Ties) -> bool:
        """Tie equal blocks, in the quilt and loose, so that they are pressed alike; False where they cannot all be."""
        first_of: dict[int, tuple[int, int]] = {}
        return all(
            ties.tie(
                self._end_bit(block, start + number, is_last),
                self._end_bit(other, other_start + number, is_last),
                False,
            )
            for block, start, many, unit in self._whole_blocks()
            for other, other_start in (first_of.setdefault(unit, (block, start)),)
            for number in range(many)
            for is_last in ((False, True) if self.last_bit else (False,))
        )

    def _only_in_quilt(self) -> Iterator[tuple[int, int]]:
        """Blocks without copies of their own, and where in the seams of the top the first of each begins."""
        top = self.units.cuts.blocks.top
        waiting = {block for block, copies in enumerate(self.copies) if not copies}
        for piece, last in zip(top.pieces if top else (), self.units.joined, strict=True):
            if piece.block in waiting and last >= 0:
                waiting.remove(piece.block)
                yield piece.block, last - len(self.units.seams[piece.block]) + 1

    def _whole_blocks(self) -> Iterator[tuple[int, int, int, int]]:
        """Every block of several patches, loose or in the quilt: where its seams begin, how many, and its unit."""
        if not self.units.cuts.blocks.top:
            return
        top = len(self.units.roots) - 1
        for block, seams in enumerate(self.units.seams[:top]):
            if self.copies[block]:
                yield block, 0, len(seams), self.units.roots[block].unit
        for last in self.units.joined:
            if last >= 0:
                unit = self.units.seams[top][last].unit
                many = self.units.units[unit].sewings
                yield top, last - many + 1, many, unit

    def _weigh_alike(self) -> None:
        """Of equal blocks that are pressed alike the first counts for all of the quilt."""
        first_of: dict[int, int] = {}
        for block, start, many, unit in self._whole_blocks():
            if block + 1 < len(self.units.roots):
                continue
            first = first_of.setdefault(unit, start)
            weights = self.weights[block]
            for number in range(many):
                if first != start:
                    weights[first + number] += 1
                    weights[start + number] = 0

    def _joins(self, block: int) -> Iterator[tuple[int, Join, int, int]]:
        """The joins that nest or clash: those of a seam that is pressed open do neither."""
        if not self.copies[block]:
            return
        for found in joins_of_block(self.units, self.joins, block):
            if not (self.kept and (self._is_open(block, found[2]) or self._is_open(block, found[3]))):
                yield found

    def _tie_joins(self, ties: Ties) -> bool:
        """Tie the seams of every join so that it nests; False where they cannot all."""
        return all(
            ties.tie(
                self._end_bit(block, first, join.a_last),
                self._end_bit(block, second, join.b_last),
                join.a_ahead == join.b_ahead,
            )
            for block in range(len(self.units.seams))
            for _, join, first, second in self._joins(block)
        )

    def _tie_kinds(self, ties: Ties) -> bool:
        """Tie the seams of every kind so that it is pressed one way; False where they cannot all."""
        return all(
            ties.tie(
                self.first[block] + number,
                self.first[members[0][0]] + members[0][1],
                self.on_normal[unit] != self.on_normal[members[0][2]],
            )
            for members in self._members().values()
            for block, number, unit in members[1:]
        )

    def _name_bits(self, ties: Ties) -> None:
        """A variable for every bit that decides itself; the others are that of theirs, or its opposite."""
        variable: dict[int, Literal] = {}
        self.to_a = []
        for block, seams in enumerate(self.units.seams):
            literals = []
            for number in range(len(seams)):
                bit, opposite = ties.find(self.first[block] + number)
                if bit not in variable:
                    variable[bit] = self.cost.variable()
                literals.append(-variable[bit] if opposite else variable[bit])
            self.to_a.append(literals)
        for first, last in self.last_bit.items():
            bit, opposite = ties.find(last)
            if bit not in variable:
                variable[bit] = self.cost.variable()
            self.at_last[first] = -variable[bit] if opposite else variable[bit]
        for (block, number), to_a in self.kept.items():
            if to_a is not None:
                self.cost.need(self.to_a[block][number] if to_a else -self.to_a[block][number])
        true, opposite = ties.find(self.first[-1])
        if true in variable:
            self.cost.need(-variable[true] if opposite else variable[true])

    def _members(self) -> dict[int, list[tuple[int, int, int]]]:
        """The seams of every kind that can be pressed two ways: (block, seam, unit). Others are merely turned."""
        of_kind: dict[int, list[tuple[int, int, int]]] = {}
        for block, number, seam in self._seams():
            unit = self.units.units[seam.unit]
            if unit.period == 4:
                of_kind.setdefault(unit.kind, []).append((block, number, seam.unit))
        return of_kind

    def _seams(self) -> Iterator[tuple[int, int, Seam]]:
        """All seams that fall to one side."""
        for block, seams in enumerate(self.units.seams):
            if not self.copies[block]:
                continue
            for number, seam in enumerate(seams):
                if self.weights[block][number] and not (self.kept and self._is_open(block, number)):
                    yield block, number, seam

    def _normal_literal(self, block: int, number: int, unit: int) -> Literal:
        """That the allowances fall to the side of the unit's normal: what units of one kind have in common."""
        literal = self.to_a[block][number]
        return literal if self.on_normal[unit] else -literal

    def _nest(self) -> Iterator[tuple[Literal, int]]:
        for block in range(len(self.units.seams)):
            for _, join, first, second in self._joins(block):
                ahead, other = self._end(block, first, join.a_last), self._end(block, second, join.b_last)
                ahead, other = (ahead if join.a_ahead else -ahead), (other if join.b_ahead else -other)
                nests = self.cost.variable()
                self.cost.need(-nests, ahead, other)
                self.cost.need(-nests, -ahead, -other)
                yield nests, self.copies[block]

    def _keep_alike(self) -> tuple[list[tuple[Literal, int]], list[tuple[Literal, int]]]:
        """Wishes that a kind is pressed one way only, and that few units are in its second pile."""
        kinds, seconds = [], []
        for kind, members in self._members().items():
            # Seams that are tied together fall alike whatever is chosen: they are one wish, as heavy as all of them
            falls: dict[Literal, int] = {}
            for block, number, member in members:
                fall = self._normal_literal(block, number, member)
                falls[fall] = falls.get(fall, 0) + self.weights[block][number]
            if len(falls) == 1:
                continue
            first_pile, one_way = self.cost.variable(), self.cost.variable()
            self._one_way[kind] = one_way
            kinds.append((one_way, 1))
            for fall, copies in falls.items():
                self.cost.need(-one_way, -fall, first_pile)
                self.cost.need(-one_way, fall, -first_pile)
                in_first = self.cost.variable()
                self.cost.need(-in_first, -fall, first_pile)
                self.cost.need(-in_first, fall, -first_pile)
                seconds.append((in_first, copies))
        return kinds, seconds

    def _wish(self, wish: Wish) -> Iterator[tuple[Literal, int]]:
        if wish == "needle":
            yield from self._wish_needle()
            return
        if wish == "spin":
            yield from self._wish_spin()
            return
        for block, number, seam in self._seams():
            leaning = self.leanings[seam.unit]
            if wish == "light-weight":
                lean = leaning.light_weight
            elif wish == "plain":
                lean = leaning.plain
            elif wish == "dark":
                lean = leaning.dark
            else:
                lean = lean_outward(self.units, block, number)
            if lean is not None:
                literal = self.to_a[block][number]
                literal = literal if lean else -literal
                last = self.at_last.get(self.first[block] + number)
                if last is not None:  # one that is spun falls only half as wished
                    literal = self._all_of((literal, last if lean else -last))
                yield literal, self.weights[block][number]

    def _wish_spin(self) -> Iterator[tuple[Literal, int]]:
        weight: dict[int, int] = {}
        for block, number, seam in self._seams():
            kind = self.units.units[seam.unit].kind
            if kind in self.spun:
                weight[kind] = weight.get(kind, 0) + self.weights[block][number]
        for kind, many in weight.items():
            yield self.spun[kind], many

    def _wish_needle(self) -> Iterator[tuple[Literal, int]]:
        # What must hold for a seam's joins to help at the needle -> how many seams want the same
        wanted: dict[tuple[Literal, ...], int] = {}
        for block in range(len(self.units.seams)):
            needs: dict[int, set[Literal]] = {}
            for number, join, first, second in self._joins(block):
                if not self.weights[block][number]:
                    continue
                unit = self.units.units[self.units.seams[block][number].unit]
                feed = self.feeds[self.units.seams[block][number].unit]
                assert feed is not None
                on_top, ahead, is_last = (
                    (first, join.a_ahead, join.a_last) if feed.a_on_top else (second, join.b_ahead, join.b_last)
                )
                literal = self._end(block, on_top, is_last)
                wants = literal if points_to_needle(ahead, feed, unit.seam) else -literal
                needs.setdefault(number, set()).add(wants)
            for number, literals in needs.items():
                key = tuple(sorted(literals))
                wanted[key] = wanted.get(key, 0) + self.weights[block][number]
        for every, copies in wanted.items():
            if copies and not any(-literal in every for literal in every):  # else it is lost whatever happens
                yield (every[0] if len(every) == 1 else self._all_of(every)), copies

    def _all_of(self, literals: Iterable[Literal]) -> Literal:
        """A literal that can hold only where all of these do."""
        key = tuple(literals)
        if key not in self._every:
            self._every[key] = self.cost.variable()
            for literal in key:
                self.cost.need(-self._every[key], literal)
        return self._every[key]

    def _use_sewn(self, sewn: Sequence[Sewn]) -> tuple[list[tuple[Literal, int]], list[tuple[Literal, int]]]:
        """Wishes that the new plan has a place for what is already sewn: for one unit of each kind and marks, and for
        all of them."""
        begun, there = [], []
        for number, marks, copies in sewn:
            kind = self.units.units[number].kind
            matches: list[tuple[Literal, int]] = []
            for block, place, seam in self._seams():
                if self.units.units[seam.unit].kind != kind:
                    continue
                same = self._match(block, place, seam, marks)
                if same is not None:
                    matches.append((same, self.weights[block][place]))
            most = sum(weight for _, weight in matches)
            if most:
                begun.append((self._at_least(matches, 1), 1))
            if min(copies, most) > 1:
                there.append((self._at_least(matches, min(copies, most)), min(copies, most)))
        return begun, there

    def _match(self, block: int, place: int, seam: Seam, marks: str) -> Literal | None:
        """That this seam's unit is pressed as the marks say; a unit may lie half turned."""
        own = find_ridges(self.units, seam.unit)
        numbers = [follow(self.units.seams[block], place, ridge.path) for ridge in own]
        views: list[Sequence[str]] = [marks]
        # Once its last seam is pressed too, a unit that looks the same after a half turn lies in its pile either way
        if self.units.units[seam.unit].period == 2 or ("." not in marks and self._looks_alike(seam.unit)):
            views.append(turn_marks(self.units, seam.unit, marks))
        options = [
            self._all_of(
                literal
                for ridge, number, mark in zip(own, numbers, view, strict=True)
                for literal in self._wanted(block, number, mark, ridge.a_on_normal)
            )
            for view in views
        ]
        if len(options) == 1:
            return options[0]
        either = self.cost.variable()
        self.cost.need(-either, *options)
        return either

    def _looks_alike(self, number: int) -> bool:
        if number not in self._alike:
            self._alike[number] = looks_alike(self.units.cuts, self.units.units[number], 2)
        return self._alike[number]

    def _wanted(self, block: int, number: int, mark: str, a_on_normal: bool) -> Iterator[Literal]:
        """What must hold so that a seam is pressed as its mark says."""
        if mark == ".":
            return  # not pressed yet
        to_a = self.to_a[block][number]
        if mark in "+-":
            yield to_a if (mark == "+") == a_on_normal else -to_a
        if mark in "><":  # told from the seam's own first end, whichever way it lies
            on_normal = self.on_normal[self.units.seams[block][number].unit]
            yield to_a if (mark == ">") == on_normal else -to_a
        if self.first[block] + number in self.last_bit:
            spun = self._spun_literal(self.units.units[self.units.seams[block][number].unit].kind)
            yield spun if mark in "><" else -spun
        elif mark in "><":
            yield -to_a
            yield to_a  # it can't be spun now

    def _at_least(self, matches: list[tuple[Literal, int]], bound: int) -> Literal:
        """A literal that can hold only where the matches that hold weigh `bound` or more (a decision diagram)."""
        known: dict[tuple[int, int], Literal] = {}
        rest = [0]
        for _, weight in reversed(matches):
            rest.append(rest[-1] + weight)
        rest.reverse()

        def node(place: int, still: int) -> Literal | None:
            """None: already reached; else a literal that needs `still` more from `place` on."""
            if still <= 0:
                return None
            if (place, still) in known:
                return known[(place, still)]
            here = known[(place, still)] = self.cost.variable()
            if rest[place] < still:
                self.cost.need(-here)
                return here
            literal, weight = matches[place]
            without, with_it = node(place + 1, still), node(place + 1, still - weight)
            assert without is not None
            self.cost.need(-here, literal, without)
            if with_it is not None:
                self.cost.need(-here, -literal, with_it, without)
            return here

        top = node(0, bound)
        assert top is not None
        return top

    def _in_order(self) -> Iterable[Literal]:
        """The seams in the order of the batches, each toward its unit's normal first."""
        by_kind: dict[int, list[Literal]] = {}
        for block, number, seam in self._seams():
            by_kind.setdefault(self.units.units[seam.unit].kind, []).append(
                self._normal_literal(block, number, seam.unit)
            )
        for batch in self.batches.batches:
            yield from by_kind.get(batch.kind, ())


class HalfTurn(NamedTuple):
    """For each seam of a unit with a half turn in it the seam that comes to lie there, and whether its way is turned
    round by it."""

    comes_from: tuple[int, ...]
    is_flipped: tuple[bool, ...]

    def marks(self, marks: str) -> str:
        """The marks of the unit as they stand after the half turn."""
        both = zip(self.comes_from, self.is_flipped, strict=True)
        return "".join([_OTHER.get(marks[one], marks[one]) if flipped else marks[one] for one, flipped in both])


_OTHER = {"+": "-", "-": "+"}


def find_half_turn(units: Units, number: int) -> HalfTurn:
    """What a half turn does to a unit that it carries onto itself."""
    unit = units.units[number]
    place = {segment: index for index, segment in enumerate(unit.seams)}
    wide, high = unit.width, unit.height
    comes_from, is_flipped = [0] * len(unit.seams), [False] * len(unit.seams)
    for index, ((px, py), (qx, qy)) in enumerate(unit.seams):
        start, end = (wide - px, high - py), (wide - qx, high - qy)
        # A half turn carries left of the way to left of the way; ordering the ends anew turns the way round
        flipped = start > end
        there = place[(end, start) if flipped else (start, end)]
        comes_from[there], is_flipped[there] = index, flipped
    return HalfTurn(tuple(comes_from), tuple(is_flipped))


def turn_marks(units: Units, number: int, marks: str) -> str:
    """The marks of a unit with a half turn in it, as they stand after that half turn."""
    return find_half_turn(units, number).marks(marks)
