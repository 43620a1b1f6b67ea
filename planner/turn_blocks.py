"""Which blocks of the top are turned so that the joins between blocks nest: those that look the same after it.

A block may lie turned where its patches and its seams are carried onto themselves. Wanted are turns with which every
join nests, every kind is pressed one way and equal blocks are pressed alike; of such turns the fewest, and of those
the first in the order of the layout. They are solved for on the kinds, not on the copies: equal blocks share their
bits, so a quilt of 256 equal blocks has the formula of one block and 256 turns.

Where not all of that can be, few turns are tried one by one (`judge` says what each comes to); of many the turns that
leave the fewest joins between blocks unmatched are taken, without a proof.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Seam, Side, Turned, Units
from planner.find_cuts import always, turn_placed, turn_point, turn_vector
from planner.find_joins import Joins, follow, is_on_normal_side, joins_of_seams
from planner.find_kept import Kept
from planner.least_cost import LeastCost, Literal, OutOfBudget
from planner.tie_bits import Ties

MOST_TRIED = 64  # ways to turn that are tried one by one
MOST_CONFLICTS = 20_000
Judge = Callable[[Turned], tuple[int, ...]]


class Turning(NamedTuple):
    """The blocks to turn, by the corner of their place, and whether nothing better can exist.

    `is_perfect`: with these turns every join nests, every kind is pressed one way and equal blocks are pressed alike.
    """

    turned: Turned
    is_proven: bool
    is_perfect: bool = False


def turn_blocks(
    units: Units, joins: Joins, kept: Kept, judge: Judge, keep_going: Callable[[], bool] = always
) -> Turning:
    """The blocks of the top to turn. `judge` tells how good a way to turn is, the less the better."""
    if units.cuts.blocks.top is None:
        return Turning({}, True)
    layout = _Layout(units, joins, kept)
    if layout.fits_unturned():
        return Turning({}, True, True)
    if not any(len(ways) > 1 for ways in layout.ways):
        return Turning({}, True)
    found, is_perfect = layout.solve(keep_going)
    if is_perfect:
        return Turning(found, True, True)
    free = [number for number, ways in enumerate(layout.ways) if len(ways) > 1]
    every = 1
    for number in free:
        every *= len(layout.ways[number])
        if every > MOST_TRIED:
            best = min([{}, found], key=lambda turned: (*judge(turned), len(turned)))
            return Turning(best, False)
    tried = [layout.spell(dict(zip(free, turns, strict=True))) for turns in product(*(layout.ways[n] for n in free))]
    return Turning(min(tried, key=lambda turned: (*judge(turned), len(turned))), True)


def find_ways(units: Units, number: int) -> tuple[int, ...]:
    """The quarter turns after which a unit looks the same on both sides: its patches and its seams."""
    unit = units.units[number]
    ways = [0]
    for turn in (1, 2, 3):
        if turn % 2 and unit.width != unit.height:
            continue
        patches = turn_placed(units.cuts.shapes, unit.patches, unit.width, unit.height, turn)
        if tuple(sorted(patches)) != unit.patches:
            continue
        seams = []
        for segment in unit.seams:
            p, q = (turn_point(point, unit.width, unit.height, turn) for point in segment)
            seams.append((p, q) if p <= q else (q, p))
        if tuple(sorted(seams)) == unit.seams:
            ways.append(turn)
    return tuple(ways)


class _End(NamedTuple):
    """A seam that ends at a join: its bit, whether its side a lies ahead, in which piece, for which turn (-1: all)."""

    bit: int
    is_ahead: bool
    piece: int
    turn: int


class _Layout:
    """The top on the level of kinds. Bits: the seams of every block once, then the seams that join the top."""

    def __init__(self, units: Units, joins: Joins, kept: Kept) -> None:
        self.units = units
        self.joins = joins
        self.kept = kept
        assert units.cuts.blocks.top is not None
        self.pieces = units.cuts.blocks.top.pieces
        self.top = len(units.roots) - 1
        self.seams = units.seams[-1]
        self.block_seams: dict[int, tuple[Seam, ...]] = {}  # of each block's unit, numbered from 0
        self.first_bit: dict[int, int] = {}
        self.owner = [-1] * len(self.seams)  # the piece that a seam of the top lies in
        self.start: dict[int, int] = {}  # the first seam of a piece
        self.bits = 0
        for block, root in enumerate(units.roots):
            if units.seams[block] and block < self.top:
                self._add_block(root.unit, units.seams[block])
        for number, last in enumerate(units.joined):
            if last < 0:
                continue
            unit = self.seams[last].unit
            many = len(units.units[unit].patches) - 1
            start = self.start[number] = last - many + 1
            self._add_block(unit, tuple(_number_from(seam, start) for seam in self.seams[start : last + 1]))
            self.owner[start : last + 1] = [number] * many
        self.joint_bit: dict[int, int] = {}
        for number, owner in enumerate(self.owner):
            if owner < 0:
                self.joint_bit[number] = self.bits
                self.bits += 1
        ways = {unit: find_ways(units, unit) for unit in self.block_seams}
        self.ways = [ways[self.seams[last].unit] if last >= 0 else (0,) for last in units.joined]

    def _add_block(self, unit: int, seams: tuple[Seam, ...]) -> None:
        if unit not in self.block_seams:
            self.block_seams[unit] = seams
            self.first_bit[unit] = self.bits
            self.bits += len(seams)

    def spell(self, turns: Mapping[int, int]) -> Turned:
        return {(self.pieces[number].x, self.pieces[number].y): turn for number, turn in turns.items() if turn}

    def fits_unturned(self) -> bool:
        """Whether all is as it should be with no block turned."""
        ties = Ties(self.bits + 1)
        if not all(ties.tie(*tie) for tie in self._fixed_ties()):
            return False
        for ends in self._joints():
            (a,), (b,) = ([end for end in side if end.turn <= 0] for side in ends)
            if not ties.tie(a.bit, b.bit, a.is_ahead == b.is_ahead):
                return False
        return True

    def solve(self, keep_going: Callable[[], bool]) -> tuple[Turned, bool]:
        """The fewest turns with which all nests; else with which the fewest joins between blocks do not."""
        ties = Ties(self.bits + 1)
        is_perfect = not sum(not ties.tie(*tie) for tie in self._fixed_ties())
        cost = LeastCost(keep_going, MOST_CONFLICTS)
        try:
            lies = self._lie_variables(cost)
            opposites = _Opposites(cost, ties)
            nests = []
            for a_ends, b_ends in self._joints():
                fits = cost.variable()
                nests.append((fits, 1))
                for a, b in product(a_ends, b_ends):
                    unless = [-lies[end.piece, end.turn] for end in (a, b) if end.turn >= 0]
                    opposites.need(a, b, [-fits, *unless])
            clashes = cost.grant(nests)
            cost.grant((-literal, 1) for (_, turn), literal in lies.items() if turn)
            cost.settle(literal for (_, turn), literal in sorted(lies.items()) if not turn)
            turns = {piece: turn for (piece, turn), literal in lies.items() if cost.is_true(literal)}
            return self.spell(turns), is_perfect and not clashes
        except OutOfBudget:
            return {}, False
        finally:
            cost.close()

    def _lie_variables(self, cost: LeastCost) -> dict[tuple[int, int], Literal]:
        """For each piece that may be turned and each way: that it lies so. Exactly one holds."""
        lies: dict[tuple[int, int], Literal] = {}
        for piece, ways in enumerate(self.ways):
            if len(ways) == 1:
                continue
            options = [cost.variable() for _ in ways]
            lies.update({(piece, turn): option for turn, option in zip(ways, options, strict=True)})
            cost.need(*options)
            for place, option in enumerate(options):
                for other in options[:place]:
                    cost.need(-option, -other)
        return lies

    def _fixed_ties(self) -> Iterator[tuple[int, int, bool]]:
        """What holds whichever way blocks lie: joins inside blocks, kinds pressed one way, what the maker keeps."""
        true = self.bits
        for unit, seams in self.block_seams.items():
            base = self.first_bit[unit]
            for _, join, first, second in joins_of_seams(seams, self.joins):
                yield base + first, base + second, join.a_ahead == join.b_ahead
        first_of: dict[int, tuple[int, bool]] = {}
        for bit, seam in self._bits():
            sewn = self.units.units[seam.unit]
            if sewn.period == 4 and sewn.a is not None:
                on_normal = is_on_normal_side(self.units, sewn.a, sewn.seam)
                other, other_on_normal = first_of.setdefault(sewn.kind, (bit, on_normal))
                if other != bit:
                    yield bit, other, on_normal != other_on_normal
        for (block, number), to_a in self.kept.items():
            if to_a is not None:
                yield self._bit_of(block, number), true, not to_a

    def _bits(self) -> Iterator[tuple[int, Seam]]:
        for unit, seams in self.block_seams.items():
            for number, seam in enumerate(seams):
                yield self.first_bit[unit] + number, seam
        for number, bit in self.joint_bit.items():
            yield bit, self.seams[number]

    def _bit_of(self, block: int, number: int) -> int:
        if block < self.top:
            return self.first_bit[self.units.roots[block].unit] + number
        owner = self.owner[number]
        if owner < 0:
            return self.joint_bit[number]
        return self.first_bit[self.seams[self.units.joined[owner]].unit] + number - self.start[owner]

    def _joints(self) -> Iterator[tuple[list[_End], list[_End]]]:
        """The joins on the seams that join the top: for each side the seams that may end there, by how blocks lie."""
        for number in self.joint_bit:
            seam = self.seams[number]
            found = self.joins.joins[seam.unit]
            if not found:
                continue
            p, q = (self.units.place_point(point, seam) for point in self.units.units[seam.unit].seam)
            along = q[0] - p[0], q[1] - p[1]
            for join in found:
                first, second = follow(self.seams, number, join.a), follow(self.seams, number, join.b)
                if any(self.kept.get((self.top, one), True) is None for one in (first, second)):
                    continue  # an open seam neither nests nor clashes
                at = self.units.place_point(join.at, seam)
                yield self._ends(first, join.a_ahead, at, along), self._ends(second, join.b_ahead, at, along)

    def _ends(self, number: int, is_ahead: bool, at: Point, along: Point) -> list[_End]:
        owner = self.owner[number]
        if owner < 0 or len(self.ways[owner]) == 1:
            return [_End(self._bit_of(self.top, number), is_ahead, owner, -1)]
        last = self.units.joined[owner]
        whole = self.seams[last]
        ends = []
        for turn in self.ways[owner]:
            side = Side(whole.unit, (whole.turn + turn) % 4, whole.x, whole.y)
            end = self.joins.ends[whole.unit][self.units.find_point(at, side)]
            toward = turn_vector(end.toward_a, side.turn)
            inner = follow(self.seams, last, end.path)
            ahead = toward[0] * along[0] + toward[1] * along[1] > 0
            ends.append(_End(self._bit_of(self.top, inner), ahead, owner, turn))
        return ends


class _Opposites:
    """That two bits are opposite (the seams fall opposite ways), as literals that are shared."""

    def __init__(self, cost: LeastCost, ties: Ties) -> None:
        self.cost = cost
        self.ties = ties
        self._variable: dict[int, Literal] = {}
        self._known: dict[tuple[int, int, bool], Literal] = {}

    def need(self, a: _End, b: _End, others: list[Literal]) -> None:
        """That the two nest, or one of the others holds."""
        (first, first_flips), (second, second_flips) = self.ties.find(a.bit), self.ties.find(b.bit)
        is_opposite = (a.is_ahead == b.is_ahead) ^ first_flips ^ second_flips
        if first != second:
            self.cost.need(*others, self._literal(min(first, second), max(first, second), is_opposite))
        elif is_opposite:  # they never nest
            self.cost.need(*others)

    def _literal(self, first: int, second: int, is_opposite: bool) -> Literal:
        key = (first, second, is_opposite)
        if key not in self._known:
            x, y = self._bit(first), self._bit(second)
            holds = self._known[key] = self.cost.variable()
            self.cost.need(-holds, x, y if is_opposite else -y)
            self.cost.need(-holds, -x, -y if is_opposite else y)
        return self._known[key]

    def _bit(self, bit: int) -> Literal:
        if bit not in self._variable:
            self._variable[bit] = self.cost.variable()
        return self._variable[bit]


def _number_from(seam: Seam, start: int) -> Seam:
    """A seam of a stretch of seams, its sides numbered from the beginning of the stretch."""
    return seam._replace(a=seam.a - start if seam.a >= 0 else -1, b=seam.b - start if seam.b >= 0 else -1)
