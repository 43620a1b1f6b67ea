"""Units -> where each seam is in a web: of the quilt, whose blocks are webbed, or of a webbed block.

A web is sewn column to column, row after row, and the threads between its rows are not cut; then its rows are joined.
A webbed block is a web of its own in every copy, loose or in the quilt, told in the block's own frame.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from functools import cached_property
from hashlib import sha256
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Seam, Side, Units
from planner.draw_drafts import find_halved
from planner.surd import Grid
from planner.tie_quilt import Span, find_spans
from planner.turns import Turn, plain_turn


class Web(NamedTuple):
    """A seam within a row of a web, where rows are fed one after the other and hang together: how far right it lies,
    how many columns lie left of it, its row from 1, and its upper end (in the unit's frame), which goes in first.

    `rows` is how many rows hang together; `of` tells the webbed block by its content, "" for the quilt. `hangs` says
    of the left and of the right side whether it was joined in the web before. `is_even`: all rows are parted alike.
    `turn` is how the frame of the webbed block lies in the chain's, which is the unit's or that after a half turn.
    """

    across: Grid
    columns: int
    row: int
    first: Point
    rows: int
    of: str = ""
    hangs: tuple[bool, bool] = (False, False)
    is_even: bool = True
    turn: Turn = 0

    @property
    def mark(self) -> str:
        """For the name of its chain."""
        return f"/{self.columns}.{self.row}{self.of}"


class RowSeam(NamedTuple):
    """A seam between rows of a webbed block, from 1: rows `first` to `above`, and rows from there to `last`. Side a
    lies above, or below. `is_last`: then the block is whole. `turn` as in `Web`."""

    first: int
    above: int
    last: int
    a_is_above: bool
    is_last: bool
    of: str
    turn: Turn

    @property
    def mark(self) -> str:
        """For the name of its chain."""
        return f"/{self.above}{self.of}"


class _Copy(NamedTuple):
    """A copy of a webbed block: its number among the drafted ones, its last seam, and how its unit lies where it is."""

    block: int
    last: int
    lying: Side | Seam


class Webs:
    """The webs of a project. `unit_names` tell units by their content; `half_turn` gives the press marks of a unit
    after a half turn of it."""

    def __init__(self, units: Units, unit_names: Sequence[str], half_turn: Callable[[int, str], str]) -> None:
        self.units = units
        self.unit_names = unit_names
        self.half_turn = half_turn
        self._names: dict[int, str] = {}
        self._versions: dict[str, list[str]] = {}

    def find(self, block: int, number: int, turned: bool, marks: Sequence[str]) -> Web | RowSeam | None:
        """Where a seam of a drafted block is in a web; None where it is in none. `turned`: its chain's frame is the
        unit's after a half turn. `marks` are the press marks of the results of all seams of the block."""
        copy = self._find_copy(block, number)
        if copy is not None:
            return self._find_in_block(copy, self.units.seams[block][number], turned, marks[copy.last])
        blocks = self.units.cuts.blocks
        is_webbed = blocks.top is not None and blocks.top.joining == "webbed" and blocks.drafted[block].is_top
        if not is_webbed or self.units.piece_of[1][number] >= 0:
            return None
        return self._find_in_quilt(self.units.seams[block][number], turned)

    def find_seam(self, block: int, number: int) -> tuple[int, int] | None:
        """The webbed block that a seam of a drafted block lies in, and which of its own seams it is there."""
        copy = self._find_copy(block, number)
        return None if copy is None else (copy.block, number - copy.last + len(self.units.seams[copy.block]) - 1)

    def _find_copy(self, block: int, number: int) -> _Copy | None:
        """The webbed block that a seam lies in."""
        blocks = self.units.cuts.blocks
        if not blocks.drafted[block].is_top:
            last = len(self.units.seams[block]) - 1
            return _Copy(block, last, self.units.roots[block]) if blocks.drafted[block].web else None
        assert blocks.top is not None
        piece = self.units.piece_of[1][number]
        inside = blocks.top.pieces[piece].block if piece >= 0 else -1
        if inside < 0 or not blocks.drafted[inside].web:
            return None
        last = self.units.joined[piece]
        return _Copy(inside, last, self.units.seams[block][last])

    def _find_in_block(self, copy: _Copy, seam: Seam, turned: bool, marks: str) -> Web | RowSeam | None:
        bounds = self.units.cuts.blocks.drafted[copy.block].web
        assert bounds is not None
        of, is_half_turned = self._name_web(copy, marks)
        unit = self.units.units[seam.unit]
        p, q = (self._place(point, seam, copy, is_half_turned) for point in unit.seam)
        lies = seam.turn - copy.lying.turn + self.units.roots[copy.block].turn  # in the block
        turn = plain_turn(-lies + 2 * (is_half_turned != turned))
        if p[1] == q[1]:
            place = bisect_left(bounds.rows, p[1])
            if bounds.rows[place] != p[1]:
                return None
            # Side a lies on the left of the way from p to q as it is drawn, where the normal points: below going right
            is_below = unit.a_on_normal == (p[0] < q[0])
            start, end = find_halved(place, len(bounds.rows) - 1)
            is_last = (start, end) == (0, len(bounds.rows) - 1)
            return RowSeam(start + 1, place, end, is_below == turned, is_last, of, turn)
        place = bisect_left(bounds.columns, p[0])
        if p[0] != q[0] or bounds.columns[place] != p[0]:
            return None
        row = bisect_left(bounds.rows, max(p[1], q[1]))
        first = self._turn_in_unit(seam, unit.seam[0] if p[1] < q[1] else unit.seam[1], turned)
        start, end = find_halved(place, len(bounds.columns) - 1)
        hangs = (place - start > 1, end - place > 1)
        return Web(p[0], place, row, first, len(bounds.rows) - 1, of, hangs, turn=turn)

    def _place(self, point: Point, seam: Seam, copy: _Copy, is_half_turned: bool) -> Point:
        """A point of a unit's own frame, as it is in the block by itself."""
        root = self.units.roots[copy.block]
        x, y = self.units.place_point(self.units.find_point(self.units.place_point(point, seam), copy.lying), root)
        block = self.units.cuts.blocks.drafted[copy.block]
        return (block.width - x, block.height - y) if is_half_turned else (x, y)

    def _turn_in_unit(self, seam: Seam, point: Point, turned: bool) -> Point:
        unit = self.units.units[seam.unit]
        return (unit.width - point[0], unit.height - point[1]) if turned else point

    def _name_web(self, copy: _Copy, marks: str) -> tuple[str, bool]:
        """A name of content for the webs that are sewn like this copy of a block, and whether it lies among them
        turned by half. Copies that are pressed otherwise are webs of their own."""
        number = self.units.roots[copy.block].unit
        bounds = self.units.cuts.blocks.drafted[copy.block].web
        assert bounds is not None
        is_half_turned = False
        if self.units.units[number].period == 2 and all(map(_is_even, bounds)):
            other = self.half_turn(number, marks)
            if other < marks:
                marks, is_half_turned = other, True
        name = self._names.get(copy.block)
        if name is None:
            spelled = (" ".join(str(self.units.cuts.blocks.inches(at)) for at in side) for side in bounds)
            digest = sha256("\n".join((self.unit_names[number], *spelled)).encode()).hexdigest()[:16]
            name = self._names[copy.block] = f"@{digest}"
        versions = self._versions.setdefault(name, [])
        if marks not in versions:
            versions.append(marks)
        version = versions.index(marks)
        return f"{name}.{version + 1}" if version else name, is_half_turned

    def _find_in_quilt(self, seam: Seam, turned: bool) -> Web | None:
        (px, py), (qx, qy) = (self.units.place_point(point, seam) for point in self.units.units[seam.unit].seam)
        if px != qx:
            return None
        rows, columns = self._spans
        first, last = min(py, qy), max(py, qy)
        row = next((row for row, (start, end) in enumerate(rows, 1) if start <= first and last <= end), 0)
        before = sum(end <= px for _, end in columns)
        if not row or not 0 < before < len(columns):
            return None
        unit = self.units.units[seam.unit]
        upper = self._turn_in_unit(seam, unit.seam[0] if py < qy else unit.seam[1], turned)
        top = self.units.cuts.blocks.top
        assert top is not None
        # It lies as the quilt does, not in piles
        return Web(px, before, row, upper, len(rows), hangs=(True, True), is_even=not top.on_point)

    @cached_property
    def _spans(self) -> tuple[list[Span], list[Span]]:
        """Where each row of blocks of the quilt begins and ends, and each column."""
        blocks = self.units.cuts.blocks
        assert blocks.top is not None
        return find_spans(blocks.top.pieces, blocks.drafted)


def find_web_units(units: Units) -> frozenset[int]:
    """The units that the cells of webbed blocks are joined to. Turned by half in its block such a unit might be cut
    otherwise than the rows beside it."""
    found = set()
    for drafted, seams in zip(units.cuts.blocks.drafted, units.seams, strict=True):
        for seam in seams if drafted.web else ():
            assert drafted.web is not None
            p, q = (units.place_point(point, seam) for point in units.units[seam.unit].seam)
            if (p[0] == q[0] and p[0] in drafted.web.columns) or (p[1] == q[1] and p[1] in drafted.web.rows):
                found.add(seam.unit)
    return frozenset(found)


def _is_even(bounds: Sequence[Grid]) -> bool:
    """Whether a half turn carries bounds onto themselves."""
    return all(start + end == bounds[-1] for start, end in zip(bounds, reversed(bounds), strict=True))
