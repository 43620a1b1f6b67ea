"""Units and their press directions -> piles: what lies in one heap because it is the same in every respect.

Names are made of content alone (fabrics, finished outlines in inches, seams, press marks), so that a pile, and a step
that works on it, keeps its name whatever else changes in the project.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache, lru_cache
from hashlib import sha256
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Segment, Side, Units, looks_alike, place_segments
from planner.cut_list import CutEntry
from planner.find_cuts import Cuts, Placed
from planner.find_joins import Joins, follow
from planner.find_webs import RowSeam, Web, Webs
from planner.press_seams import HalfTurn, Pressing, find_half_turn
from planner.surd import Grid
from planner.turn_prints import NO_WAY
from planner.turns import Turn, plain_turn

MOST_SPELLED = 100_000  # seams, and patches, whose text is kept: more would need much room
OPEN = "="  # the press mark of a seam whose allowances are pressed apart
SPUN = {"+": ">", "-": "<"}  # of one that is spun, by its mark at its first end; the same from whichever end one looks


class Pile(NamedTuple):
    """Equal pieces or units. `marks` are the press marks in the frame in which the pile lies ("" for patches)."""

    name: str
    unit: int
    marks: str


class Lying(NamedTuple):
    """A pile's unit as it is put into a larger one: turned clockwise by `turn` quarters from how the pile lies."""

    pile: str
    turn: Turn


class Outcome(NamedTuple):
    """One pile that comes out of a chain at the iron: toward side a or b (`is_open`: both), which pile, how many.

    `turn` is how the pile's frame lies in the chain's unit (0 or 2 quarters).
    """

    to_a: bool
    pile: str
    turn: int
    pairs: int
    is_open: bool = False
    is_spun: bool = False  # at the seam's first end as `to_a` says, beyond its join the other way


class Match(NamedTuple):
    """A join as it comes under the needle: where on the unit's last seam, and whether the allowance of side a, and of
    side b, falls ahead along it (from the seam's first point to its second). None where one of them is pressed open."""

    at: Point
    a_falls_ahead: bool
    b_falls_ahead: bool

    @property
    def nests(self) -> bool:
        return self.a_falls_ahead != self.b_falls_ahead


@dataclass(slots=True)
class Chain:
    """Pairs that are fed as one chain: the same two piles, joined alike. `unit` gives the geometry."""

    name: str
    unit: int
    sides: tuple[Lying, ...]  # a and b; of a seam that finishes one that was sewn in part only the unit it is in
    matches: tuple[Match, ...]
    pairs: int = 0
    outcomes: dict[str, Outcome] = field(default_factory=dict)
    blocks: dict[int, int] = field(default_factory=dict)  # drafted block -> pairs for one copy of it
    web: Web | None = None  # where this seam is in a web
    row_seam: RowSeam | None = None  # of a webbed block: which rows it joins
    seam_in: dict[int, int] = field(default_factory=dict)  # of a webbed block (drafted): which of its seams this is
    in_quilt: dict[int, set[int]] = field(default_factory=dict)  # drafted block -> pieces of the top that hold pairs
    after: set[str] = field(default_factory=set)  # the chains that its sides come out of

    @property
    def a(self) -> Lying:
        return self.sides[0]

    @property
    def b(self) -> Lying:
        """ValueError where there is none."""
        _, side = self.sides
        return side

    @property
    def row(self) -> int:
        """Of a web the row that is joined here, from 1, and not clipped from the one before; else 0."""
        return self.web.row if self.web else 0

    @property
    def stays_hanging(self) -> bool:
        """Whether what becomes of it hangs in the web of a block."""
        if self.row_seam is not None:
            return not self.row_seam.is_last
        return self.web is not None and bool(self.web.of)

    @property
    def unpressed(self) -> str:
        """The press marks of its unit, with a dot for its last seam."""
        return self.name.partition(":")[2].partition("/")[0]

    @property
    def shown_in(self) -> int:
        """A drafted block that has such a unit in it; the quilt only where no block has."""
        return next(iter(self.in_quilt), next(iter(self.blocks)))


@dataclass(frozen=True, slots=True)
class Piles:
    """`piles` by name; `chains` for each kind of seam; `unit_names` of every unit; `blocks` the pile of each block, and
    `top` the pile of each block of the quilt, as it lies there (None for a piece of the top that is no block)."""

    piles: dict[str, Pile]
    chains: dict[int, tuple[Chain, ...]]
    unit_names: tuple[str, ...]
    blocks: tuple[Lying, ...]
    top: tuple[Lying | None, ...] = ()


def name_units(units: Units, cuts: Iterable[CutEntry]) -> tuple[str, ...]:
    """A name for each unit by its content. Patches that are cut alike have one name."""
    spelling = _Spelling(units.cuts)
    cut_names: dict[int, str] = {}
    for entry in cuts:
        of_entry = units.cuts.shapes[units.units[entry.units[0]].shape]
        outline = spelling.points(of_entry.outline) if entry.piece.shape == "other" else str(entry.piece.finished)
        if entry.up != NO_WAY:
            outline = f"up {entry.up}: {spelling.points(of_entry.outline)}"
        for number in entry.units:
            cut_names[number] = _digest(entry.fabric, entry.piece.shape, outline)
    names = []
    for number, unit in enumerate(units.units):
        if unit.shape >= 0:
            names.append(cut_names.get(number, ""))
            continue
        patches = map(spelling.patch, unit.patches)
        seams = map(spelling.points, (unit.seam, *unit.seams))
        names.append(_digest("; ".join(patches), *seams))
    return tuple(names)


class _Spelling:
    """Patches, seams and points as text, in inches. Each is spelled once: units inside others have the same ones."""

    def __init__(self, cuts: Cuts) -> None:
        self.cuts = cuts
        self.number = cache(self._number)
        self.points = lru_cache(MOST_SPELLED)(self._points)
        self.patch = lru_cache(MOST_SPELLED)(self._patch)

    def _number(self, value: Grid) -> str:
        return str(self.cuts.blocks.inches(value))

    def _points(self, points: tuple[Point, ...]) -> str:
        return " ".join([f"{self.number(x)},{self.number(y)}" for x, y in points])

    def _patch(self, placed: Placed) -> str:
        shape = self.cuts.shapes[placed[2]]
        askew, up = " askew" if shape.askew else "", f" up {shape.up}" if shape.up != NO_WAY else ""
        return f"{shape.fabric}{askew}{up}: {self._points(self.cuts.outline(placed))}"


def name_piles(units: Units, joins: Joins, pressing: Pressing, unit_names: tuple[str, ...]) -> Piles:
    """Every pile of the project, and the chains that lead from one to the next."""
    return _Heap(units, joins, pressing, unit_names).sort()


def _digest(*content: str) -> str:
    return sha256("\n".join(content).encode()).hexdigest()[:16]


class _Alike(NamedTuple):
    """Seams of a quilt that are like others (seam -> the one it is like), and the pieces that are like a first one."""

    skipped: dict[int, int]
    pieces: dict[int, list[int]]


_FLIPPED = str.maketrans("+-", "-+")  # what is spun looks the same from both ends


class _Sources(NamedTuple):
    """Where the marks of a unit come from. `order`: for each of its seams the place among its own mark and those of
    side a and b, and as much further on as there are where the way is turned round. `own` is the last seam's place."""

    order: array[int]
    own: int
    a_on_normal: bool


class _Heap:
    def __init__(self, units: Units, joins: Joins, pressing: Pressing, unit_names: tuple[str, ...]) -> None:
        self.units = units
        self.joins = joins
        self.pressing = pressing
        self.unit_names = unit_names
        self.piles: dict[str, Pile] = {}
        self.chains: dict[str, Chain] = {}
        self._sources: dict[int, _Sources] = {}
        self._turned: dict[tuple[int, str], str] = {}
        self._half_turns: dict[int, HalfTurn] = {}
        self._alike: dict[int, bool] = {}
        self._webs = Webs(units, unit_names, self._turn)

    def sort(self) -> Piles:
        roots = []
        lying: tuple[Lying | None, ...] = ()
        for block, seams in enumerate(self.units.seams):
            marks = [""] * len(seams)
            chain_of: dict[int, str] = {}
            alike = self._find_alike(block)
            for number, seam in enumerate(seams):
                if number in alike.skipped:
                    marks[number] = marks[alike.skipped[number]]
                    continue
                sides = ["" if side < 0 else marks[side] for side in seam.sides]
                marks[number] = self._mark(block, number, sides)
            for number, seam in enumerate(seams) if self.units.cuts.blocks.drafted[block].copies else ():
                if number not in alike.skipped:
                    pieces = alike.pieces.get(self._piece(block, number), ())
                    chain = self._count(block, number, self.units.units[seam.unit].sides, marks, pieces)
                    chain_of[number] = chain.name
                    chain.after.update(chain_of[alike.skipped.get(side, side)] for side in seam.sides if side >= 0)
            root = self.units.roots[block]
            name, turn = self._pile(root.unit, marks[-1] if marks else "")
            roots.append(Lying(name, plain_turn(root.turn + turn)))
            if self.units.cuts.blocks.drafted[block].is_top:
                lying = tuple(self._lie_in_top(marks))
        by_kind: dict[int, list[Chain]] = {}
        for chain in self.chains.values():
            by_kind.setdefault(self.units.units[chain.unit].kind, []).append(chain)
        chains = {kind: tuple(members) for kind, members in by_kind.items()}
        return Piles(self.piles, chains, self.unit_names, tuple(roots), lying)

    def _piece(self, block: int, number: int) -> int:
        """The piece of the top that a seam lies in; -1 for none."""
        return self.units.piece_of[1][number] if self.units.cuts.blocks.drafted[block].is_top else -1

    def _find_alike(self, block: int) -> _Alike:
        """Of a quilt the blocks that are the same and pressed the same: what is said of one is said of all."""
        alike = _Alike({}, {})
        blocks = self.units.cuts.blocks
        if blocks.top is None or not blocks.drafted[block].is_top:
            return alike
        to_a, is_open, is_spun = (
            self.pressing.to_a[block],
            self.pressing.is_open[block],
            self.pressing.is_spun[block],
        )
        first_of: dict[object, tuple[int, int]] = {}
        for last, piece in sorted((last, piece) for piece, last in enumerate(self.units.joined) if last >= 0):
            unit = self.units.seams[block][last].unit
            start = last - self.units.units[unit].sewings + 1
            inside = range(start, last + 1)
            spun = tuple(number - start for number in inside if number in is_spun)
            open_seams = tuple(number - start for number in inside if number in is_open)
            key = (unit, to_a[start : last + 1], open_seams, spun, blocks.drafted[blocks.top.pieces[piece].block].web)
            first, first_start = first_of.setdefault(key, (piece, start))
            alike.pieces.setdefault(first, []).append(piece)
            if first != piece:
                alike.skipped.update((number, number - start + first_start) for number in inside)
        return alike

    def _lie_in_top(self, marks: list[str]) -> Iterator[Lying | None]:
        """The pile of each block of the quilt, from the marks of all seams of the top."""
        top = self.units.cuts.blocks.top
        assert top is not None
        for piece, last in zip(top.pieces, self.units.joined, strict=True):
            if piece.block < 0:
                yield None
            elif last < 0:
                yield Lying(self._pile(self.units.roots[piece.block].unit, "")[0], 0)
            else:
                seam = self.units.seams[-1][last]
                name, turn = self._pile(seam.unit, marks[last])
                yield Lying(name, plain_turn(seam.turn + turn))

    def _mark(self, block: int, place: int, sides: list[str]) -> str:
        """The press marks of a unit in its own frame, from its sides' and its last seam's direction."""
        to_a = self.pressing.to_a[block][place]
        number = self.units.seams[block][place].unit
        sources = self._sources.get(number)
        if sources is None:
            sources = self._sources[number] = self._find_sources(number)
        own = "+" if to_a == sources.a_on_normal else "-"
        if place in self.pressing.is_open[block]:
            own = OPEN
        elif place in self.pressing.is_spun[block]:
            own = SPUN[own]
        # All marks there are, as they stand and flipped, and of those the ones that the unit has, in its order
        marks = "".join((own, *sides))
        marks += marks.translate(_FLIPPED)
        return "".join([marks[source] for source in sources.order])

    def _find_sources(self, number: int) -> _Sources:
        unit = self.units.units[number]
        many = 1 + sum(len(self.units.units[side.unit].seams) for side in unit.sides)
        found: dict[Segment, int] = {}
        next_source = 1
        for side in unit.sides:
            within = self.units.units[side.unit]
            for p, q in place_segments(within.seams, self.units.spread(side.unit, side.turn), side):
                found[(p, q) if p < q else (q, p)] = next_source if p < q else next_source + many
                next_source += 1
        found[unit.line] = 0
        order = array("l", [found[segment] for segment in unit.seams])
        return _Sources(order, order.index(0), unit.a_on_normal)

    def _turn(self, number: int, marks: str) -> str:
        known = self._turned.get((number, marks))
        if known is None:
            if number not in self._half_turns:
                self._half_turns[number] = find_half_turn(self.units, number)
            known = self._turned[(number, marks)] = self._half_turns[number].marks(marks)
        return known

    def _looks_alike(self, number: int) -> bool:
        if number not in self._alike:
            self._alike[number] = looks_alike(self.units.cuts, self.units.units[number], 2)
        return self._alike[number]

    def _pile(self, number: int, marks: str) -> tuple[str, int]:
        """The pile of a unit with these marks, and how the pile's frame lies in the unit's."""
        unit = self.units.units[number]
        turn = 0
        if marks and self._looks_alike(number):
            turned = self._turn(number, marks)
            if turned < marks:
                marks, turn = turned, 2
        name = self.unit_names[number]
        if unit.shape < 0:
            name = f"{name}:{marks}"
        self.piles.setdefault(name, Pile(name, number, marks))
        return name, turn

    def _count(
        self,
        block: int,
        number: int,
        sides: tuple[Side, ...],
        all_marks: Sequence[str],
        pieces: Sequence[int],
    ) -> Chain:
        """Count a seam to its chain, which is returned: for all copies of its block, in a quilt for all pieces that are
        alike. `all_marks` are those of the results of all seams of the block."""
        seam = self.units.seams[block][number]
        unit = self.units.units[seam.unit]
        marks, side_marks = all_marks[number], ["" if side < 0 else all_marks[side] for side in seam.sides]
        own = self._sources[seam.unit].own
        unpressed = f"{marks[:own]}.{marks[own + 1 :]}"
        turned = False
        if unit.period == 2:
            other = self._turn(seam.unit, unpressed)
            if other < unpressed:
                unpressed, turned = other, True
        name = f"{self.unit_names[seam.unit]}:{unpressed}"
        held = self._webs.find(block, number, turned, all_marks)
        if held:
            name += held.mark
        chain = self.chains.get(name)
        if chain is None:
            lying = []
            for side, one in zip(sides, side_marks, strict=True):
                pile, turn = self._pile(side.unit, one)
                lying.append(Lying(pile, plain_turn(side.turn + turn + (2 if turned else 0))))
            if turned:
                lying.reverse()
            matches = self._match(block, number, turned)
            chain = self.chains[name] = Chain(name, seam.unit, tuple(lying), matches)
            if isinstance(held, Web):
                chain.web = held
            else:
                chain.row_seam = held
        found = self._webs.find_seam(block, number) if held else None
        if found:
            chain.seam_in.setdefault(*found)
        in_chain = self._turn(seam.unit, marks) if turned else marks
        pile, turn = self._pile(seam.unit, in_chain)
        copies = self.units.cuts.blocks.drafted[block].copies
        to_a = (in_chain[own] in "+>") == self._sources[seam.unit].a_on_normal
        before = chain.outcomes.get(pile)
        times = max(1, len(pieces))
        pairs = copies * times + (before.pairs if before else 0)
        mark = in_chain[own]
        chain.outcomes[pile] = Outcome(to_a, pile, turn, pairs, mark == OPEN, mark in SPUN.values())
        chain.pairs += copies * times
        chain.blocks[block] = chain.blocks.get(block, 0) + times
        for piece in pieces:
            assert self.units.cuts.blocks.top is not None
            inside = self.units.cuts.blocks.top.pieces[piece].block
            chain.in_quilt.setdefault(inside, set()).add(piece)
        return chain

    def _match(self, block: int, number: int, turned: bool) -> tuple[Match, ...]:
        seams = self.units.seams[block]
        is_open = self.pressing.is_open[block]
        unit = self.units.units[seams[number].unit]
        matches = []
        for join in self.joins.joins[seams[number].unit]:
            first, second = follow(seams, number, join.a), follow(seams, number, join.b)
            if first in is_open or second in is_open:
                continue
            a_ahead = self.pressing.falls_to_a(block, first, join.a_last) == join.a_ahead
            b_ahead = self.pressing.falls_to_a(block, second, join.b_last) == join.b_ahead
            if turned:  # the sides change places, and ahead is back
                at = (unit.width - join.at[0], unit.height - join.at[1])
                matches.append(Match(at, not b_ahead, not a_ahead))
            else:
                matches.append(Match(join.at, a_ahead, b_ahead))
        return tuple(sorted(matches))
