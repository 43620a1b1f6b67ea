"""What lies turned so that the joins of a quilt nest: blocks, and units inside blocks, that look the same so.

Something may lie turned where its patches and its seams are carried onto themselves. Wanted is that every join nests
and every kind is pressed one way; for that the fewest units inside blocks are turned (by half), then the fewest blocks
of the top, and of those ways the first in the order of the layout. It is solved for on the kinds, not on the copies:
a quilt of 256 equal blocks has the formula of one block and 256 turns.

Where not all of that can be, few turns of blocks are tried one by one (`judge` says what each comes to); of many the
turns that leave the fewest joins unmatched are taken, without a proof.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Flipped, Seam, Side, Turned, Units, find_ways
from planner.end_directions import EndDirections
from planner.find_cuts import always
from planner.find_joins import Joins, follow, joins_of_seams
from planner.find_kept import Kept
from planner.find_webs import find_web_units
from planner.least_cost import LeastCost, Literal, OutOfBudget
from planner.tie_bits import Ties

MOST_TRIED = 64  # ways to turn that are tried one by one
MOST_JUDGED = 3_000  # seams of a quilt that is judged as a whole
MOST_CONFLICTS = 20_000


@dataclass(frozen=True, slots=True)
class Turning:
    """The blocks of the top that lie turned, by the corner of their place; the units inside blocks that lie turned by
    half; and whether nothing better can exist.

    `is_perfect`: with these turns every join nests and every kind is pressed one way.
    """

    turned: Turned = field(default_factory=dict)
    flipped: Flipped = frozenset()
    is_proven: bool = True
    is_perfect: bool = False

    @property
    def is_any(self) -> bool:
        return bool(self.turned or self.flipped)


Judge = Callable[[Turning], tuple[int, ...]]


def turn_blocks(
    units: Units, joins: Joins, kept: Kept, judge: Judge, keep_going: Callable[[], bool] = always
) -> Turning:
    """What of a quilt to turn. `judge` tells how good a way to turn is, the less the better."""
    if units.cuts.blocks.top is None:
        return Turning()
    layout = _Layout(units, joins, kept)
    if layout.fits_unturned():
        return Turning(is_perfect=True)
    found = layout.solve(keep_going)
    if found.is_perfect:
        return found
    if len(layout.seams) > MOST_JUDGED:
        return found
    free = [number for number, ways in enumerate(layout.ways) if len(ways) > 1]
    tried = [Turning(), found]
    every = 1
    for number in free:
        every *= len(layout.ways[number])
    is_proven = every <= MOST_TRIED and not layout.may_flip
    if every <= MOST_TRIED:
        ways = product(*(layout.ways[number] for number in free))
        tried += [Turning(layout.spell(dict(zip(free, turns, strict=True)))) for turns in ways]
    best = min(tried, key=lambda way: (*judge(way), len(way.flipped), len(way.turned)))
    return Turning(best.turned, best.flipped, is_proven)


class _Meeting(NamedTuple):
    """A join on a seam that joins the top: where, along which direction, and the two seams (of the top) that meet."""

    at: Point
    along: Point
    seams: tuple[int, int]
    ahead: tuple[bool, bool]


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
        self.copies: dict[int, int] = {}  # of each block's unit
        self.first_bit: dict[int, int] = {}
        self.owner = [-1] * len(self.seams)  # the piece that a seam of the top lies in
        self.start: dict[int, int] = {}  # the first seam of a piece
        self.bits = 0
        for block, root in enumerate(units.roots[: self.top]):
            if units.seams[block]:
                self._add_block(root.unit, units.seams[block], units.cuts.blocks.drafted[block].copies)
        for number, last in enumerate(units.joined):
            if last < 0:
                continue
            unit = self.seams[last].unit
            many = units.units[unit].sewings
            start = self.start[number] = last - many + 1
            if unit in self.block_seams:
                self.copies[unit] += 1
            else:
                seams = tuple(_number_from(seam, start) for seam in self.seams[start : last + 1])
                self._add_block(unit, seams, 1)
            self.owner[start : last + 1] = [number] * many
        self.joint_bit: dict[int, int] = {}
        for number, owner in enumerate(self.owner):
            if owner < 0:
                self.joint_bit[number] = self.bits
                self.bits += 1
        self._ways_of: dict[int, tuple[int, ...]] = {}
        self.ways = [self._find_ways(self.seams[last].unit) if last >= 0 else (0,) for last in units.joined]
        # What the maker keeps is told by its place in the block, so nothing inside blocks is turned then
        self.may_flip = not kept
        self.in_webs = find_web_units(units)

    def _add_block(self, unit: int, seams: tuple[Seam, ...], copies: int) -> None:
        if unit not in self.block_seams:
            self.block_seams[unit] = seams
            self.first_bit[unit] = self.bits
            self.bits += len(seams)
        self.copies[unit] = self.copies.get(unit, 0) + copies

    def _find_ways(self, unit: int) -> tuple[int, ...]:
        if unit not in self._ways_of:
            self._ways_of[unit] = find_ways(self.units.cuts, self.units.units[unit])
        return self._ways_of[unit]

    def may_turn(self, unit: int) -> bool:
        """Whether a unit may lie turned by half inside another."""
        return self.may_flip and unit not in self.in_webs and 2 in self._find_ways(unit)

    def spell(self, turns: Mapping[int, int]) -> Turned:
        return {(self.pieces[number].x, self.pieces[number].y): turn for number, turn in turns.items() if turn}

    # -- nothing turned

    def fits_unturned(self) -> bool:
        """Whether all is as it should be with nothing turned."""
        ties = Ties(self.bits + 1)
        if not all(ties.tie(*tie) for tie in self._fixed_ties()):
            return False
        for meeting in self._meetings():
            bits = [self._bit_of(self.top, number) for number in meeting.seams]
            if not ties.tie(bits[0], bits[1], meeting.ahead[0] == meeting.ahead[1]):
                return False
        return True

    def _fixed_ties(self) -> Iterator[tuple[int, int, bool]]:
        """Joins inside blocks, kinds pressed one way, what the maker keeps."""
        true = self.bits
        for unit, seams in self.block_seams.items():
            base = self.first_bit[unit]
            for _, join, first, second in joins_of_seams(seams, self.joins):
                yield base + first, base + second, join.a_ahead == join.b_ahead
            for number, seam in enumerate(seams):
                closes = self.units.units[seam.unit].closes
                if closes:  # it falls as what it finishes
                    yield base + number, base + follow(seams, number, closes.way), False
        first_of: dict[int, tuple[int, bool]] = {}
        for bit, seam in self._bits():
            sewn = self.units.units[seam.unit]
            if sewn.period == 4 and sewn.a is not None:
                on_normal = sewn.a_on_normal
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

    def _meetings(self) -> Iterator[_Meeting]:
        """The joins on the seams that join the top. An open seam neither nests nor clashes."""
        for number in self.joint_bit:
            seam = self.seams[number]
            found = self.joins.joins[seam.unit]
            if not found:
                continue
            p, q = (self.units.place_point(point, seam) for point in self.units.units[seam.unit].seam)
            for join in found:
                meet = follow(self.seams, number, join.a), follow(self.seams, number, join.b)
                if all(self.kept.get((self.top, one), True) is not None for one in meet):
                    at = self.units.place_point(join.at, seam)
                    yield _Meeting(at, (q[0] - p[0], q[1] - p[1]), meet, (join.a_ahead, join.b_ahead))

    # -- turned

    def solve(self, keep_going: Callable[[], bool]) -> Turning:
        """The fewest turns with which all nests; else with which the fewest joins do not."""
        cost = LeastCost(keep_going, MOST_CONFLICTS)
        try:
            return _Formula(self, cost).solve()
        except (OutOfBudget, ValueError):  # used up, or the maker keeps a kind at two directions
            return Turning(is_proven=False)
        finally:
            cost.close()


class _Formula:
    """The choices of a layout: which way each kind falls, each joining seam, and what lies turned."""

    def __init__(self, layout: _Layout, cost: LeastCost) -> None:
        self.layout = layout
        self.cost = cost
        self.units = layout.units
        self.ends = EndDirections(layout.units, layout.joins, cost, layout.may_turn)
        self.lies = self._lie_variables()
        self.joint: dict[int, Literal] = {}
        self._senses: dict[tuple[int, Point, Point], Literal] = {}
        for number in layout.joint_bit:
            self.joint[number] = self._joint(layout.seams[number])

    def _lie_variables(self) -> dict[tuple[int, int], Literal]:
        """For each piece that may be turned and each way: that it lies so. Exactly one holds."""
        lies: dict[tuple[int, int], Literal] = {}
        for piece, ways in enumerate(self.layout.ways):
            if len(ways) == 1:
                continue
            options = [self.cost.variable() for _ in ways]
            lies.update({(piece, turn): option for turn, option in zip(ways, options, strict=True)})
            self.cost.need(*options)
            for place, option in enumerate(options):
                for other in options[:place]:
                    self.cost.need(-option, -other)
        return lies

    def _joint(self, seam: Seam) -> Literal:
        """That the allowances of a joining seam fall to its side a; kinds alike, but those that are merely turned."""
        return self.ends.own(seam.unit) if self.units.units[seam.unit].period == 4 else self.cost.variable()

    def solve(self) -> Turning:
        clashes = self.cost.grant(list(self._nests()))
        self.cost.grant((-literal, 1) for literal in self.ends.flags.values())
        self.cost.grant((-literal, 1) for (_, turn), literal in self.lies.items() if turn)
        self.cost.settle(-literal for _, literal in sorted(self.ends.flags.items()))
        self.cost.settle(literal for (_, turn), literal in sorted(self.lies.items()) if not turn)
        turns = {piece: turn for (piece, turn), literal in self.lies.items() if self.cost.is_true(literal)}
        flipped = {flag for flag, literal in self.ends.flags.items() if self.cost.is_true(literal)}
        sides = frozenset(side for flag in flipped for side in self.units.find_sides(*flag))
        return Turning(self.layout.spell(turns), sides, not clashes, not clashes)

    def _nests(self) -> Iterator[tuple[Literal, int]]:
        """Wishes that joins nest, each weighed by how many there are."""
        for (block, number), to_a in self.layout.kept.items():
            if to_a is not None:
                literal = self._kept_literal(block, number)
                self.cost.need(literal if to_a else -literal)
        counted: dict[int, int] = {}
        for unit, seams in self.layout.block_seams.items():
            for seam in seams:
                counted[seam.unit] = counted.get(seam.unit, 0) + self.layout.copies[unit]
        for unit, many in counted.items():
            for a, b in self.ends.joins_of(unit):
                yield self._opposite(a, b), many
        for meeting in self.layout._meetings():
            a, b = (self._sense(meeting, which) for which in (0, 1))
            yield self._opposite(a, b), 1

    def _kept_literal(self, block: int, number: int) -> Literal:
        seam = self.units.seams[block][number]
        return self.joint[number] if block == self.layout.top and number in self.joint else self.ends.own(seam.unit)

    def _opposite(self, a: Literal, b: Literal) -> Literal:
        """A literal that can hold only where the two differ."""
        if a == -b:
            return self._true
        holds = self.cost.variable()
        self.cost.need(-holds, a, b)
        self.cost.need(-holds, -a, -b)
        return holds

    @property
    def _true(self) -> Literal:
        literal = self.cost.variable()
        self.cost.need(literal)
        return literal

    def _sense(self, meeting: _Meeting, which: int) -> Literal:
        """That the allowance of one of the two seams of a join falls ahead."""
        number = meeting.seams[which]
        if number in self.joint:
            return self.joint[number] if meeting.ahead[which] else -self.joint[number]
        owner = self.layout.owner[number]
        key = (owner, meeting.at, meeting.along)
        if key not in self._senses:
            self._senses[key] = self._piece_sense(owner, meeting)
        return self._senses[key]

    def _piece_sense(self, owner: int, meeting: _Meeting) -> Literal:
        whole = self.layout.seams[self.units.joined[owner]]
        by_turn = {
            turn: self.ends.placed_sense(
                Side(whole.unit, (whole.turn + turn) % 4, whole.x, whole.y), meeting.at, meeting.along
            )
            for turn in self.layout.ways[owner]
        }
        senses = set(by_turn.values())
        if len(senses) == 1:
            return senses.pop()
        found = self.cost.variable()
        for turn, literal in by_turn.items():
            lies = self.lies[owner, turn]
            self.cost.need(-lies, -found, literal)
            self.cost.need(-lies, found, -literal)
        return found


def _number_from(seam: Seam, start: int) -> Seam:
    """A seam of a stretch of seams, its sides numbered from the beginning of the stretch."""
    a, b = (None if side is None else side - start if side >= 0 else -1 for side in (seam.a, seam.b))
    assert a is not None
    return seam._replace(a=a, b=b)
