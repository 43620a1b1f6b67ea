"""Units that join the quilt in words, by their place in it: `rows 1 to 3`, `the quilt with left border`.

Rows and columns are counted from the upper left. On point the rows that are sewn run aslant, down to the right; they
are counted from the upper right corner, those across them from the upper left. Borders are counted from the inside.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import NamedTuple

from planner.blocks import Outline, Piece
from planner.build_units import Units
from planner.surd import Grid

_SIDES = ("left", "right", "upper", "lower")


class _Box(NamedTuple):
    left: Grid
    top: Grid
    right: Grid
    bottom: Grid

    @property
    def corners(self) -> Outline:
        left, top, right, bottom = self
        return ((left, top), (right, top), (right, bottom), (left, bottom))

    def reach_of(self, other: _Box) -> Grid:
        """How far another box reaches out of this one at most; below 0 where it lies inside."""
        return max(self.left - other.left, self.top - other.top, other.right - self.right, other.bottom - self.bottom)

    def with_other(self, other: _Box) -> _Box:
        """The box round both."""
        return _Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    def grown(self, by: Grid) -> _Box:
        return _Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


class Border(NamedTuple):
    """Where a piece of a border is: which one, from 0; which side, or "corner"."""

    ring: int
    side: str


class _Held(NamedTuple):
    """What a unit holds: from which row and column to which, how many blocks (the first: `block`, a drafted one), the
    boxes round its blocks and round its blocks and sashes, setting triangles and sashes, pieces of borders."""

    rows: tuple[int, int] | None
    columns: tuple[int, int] | None
    blocks: int
    block: int
    round_blocks: _Box | None
    round_all: _Box | None
    inner: int
    borders: Mapping[Border, int]

    def with_other(self, other: _Held) -> _Held:
        borders = self.borders
        if other.borders:
            borders = {key: borders.get(key, 0) + other.borders.get(key, 0) for key in {**borders, **other.borders}}
        return _Held(
            _span(self.rows, other.rows),
            _span(self.columns, other.columns),
            self.blocks + other.blocks,
            self.block if self.blocks else other.block,
            _join(self.round_blocks, other.round_blocks),
            _join(self.round_all, other.round_all),
            self.inner + other.inner,
            borders,
        )


class LayoutName(NamedTuple):
    """`words` say where such a unit is, or the first of several: how many are `alike`, in all."""

    words: str
    alike: int

    @property
    def in_full(self) -> str:
        return self.words if self.alike == 1 else f"{self.words}, one of {self.alike} alike"


def name_layouts(units: Units) -> dict[int, LayoutName]:
    """For each unit that joins the quilt, and for strips of borders, its name. Empty without a quilt."""
    return dict(_Layouts(units).names()) if units.cuts.blocks.top else {}


def find_borders(units: Units) -> dict[int, Border]:
    """Of each piece of the top that lies in a border, which one. Empty without a quilt."""
    return _Layouts(units).borders if units.cuts.blocks.top else {}


class _Layouts:
    def __init__(self, units: Units) -> None:
        top = units.cuts.blocks.top
        assert top is not None
        self.units = units
        self.top = top
        self.drafted = units.cuts.blocks.drafted
        self.boxes = [self._box_of(piece) for piece in top.pieces]
        blocks = [box for box, piece in zip(self.boxes, top.pieces, strict=True) if piece.block >= 0]
        self.tops = sorted({box.top for box in blocks})
        self.lefts = sorted({box.left for box in blocks})

    def _box_of(self, piece: Piece) -> _Box:
        """In the frame of the blocks."""
        if piece.block < 0:
            return _round(self._outline(piece))
        block = self.drafted[piece.block]
        wide, high = (block.height, block.width) if piece.turn % 2 else (block.width, block.height)
        return _Box(piece.x, piece.y, piece.x + wide, piece.y + high)

    def _outline(self, piece: Piece) -> Outline:
        return self.drafted[-1].patches[piece.first].outline

    @cached_property
    def borders(self) -> dict[int, Border]:
        """Of each piece of the top that lies in a border, which one: by how far it reaches out from the blocks."""
        seen: dict[int, _Box] = {}
        hull: _Box | None = None
        for number, (piece, box) in enumerate(zip(self.top.pieces, self.boxes, strict=True)):
            corners = self._outline(piece) if piece.block < 0 else box.corners
            if self.top.on_point:  # as one looks at it
                corners = tuple((x - y, x + y) for x, y in corners)
            if piece.block < 0:
                seen[number] = _round(corners)
            else:
                hull = _join(hull, _round(corners))
        assert hull is not None
        around = hull
        out = {number: around.reach_of(box) for number, box in seen.items()}
        depths = sorted({depth for depth in out.values() if depth > 0})
        found = {}
        for number, depth in out.items():
            if depth > 0:
                ring = bisect_left(depths, depth)
                inside = around.grown(depths[ring - 1] if ring else 0)
                found[number] = Border(ring, _side_of(seen[number], inside))
        return found

    @cached_property
    def all_borders(self) -> dict[Border, int]:
        """How many pieces each side of each border has."""
        found: dict[Border, int] = {}
        for border in self.borders.values():
            found[border] = found.get(border, 0) + 1
        return found

    @cached_property
    def all_inner(self) -> int:
        """How many setting triangles, or sashes and posts, there are."""
        return sum(piece.block < 0 for piece in self.top.pieces) - len(self.borders)

    def _hold(self, number: int) -> _Held:
        """One piece of the top."""
        piece, box = self.top.pieces[number], self.boxes[number]
        if piece.block >= 0:
            row, column = bisect_left(self.tops, box.top) + 1, bisect_left(self.lefts, box.left) + 1
            return _Held((row, row), (column, column), 1, piece.block, box, box, 0, {})
        if number in self.borders:
            return _Held(None, None, 0, -1, None, None, 0, {self.borders[number]: 1})
        return _Held(None, None, 0, -1, None, box, 1, {})

    def names(self) -> Iterator[tuple[int, LayoutName]]:
        """Units and their names."""
        units = self.units
        of_patch, of_seam = units.piece_of
        strips = {piece.first: number for number, piece in enumerate(self.top.pieces) if piece.block < 0}
        held: dict[int, _Held] = {}  # of each seam that joins the quilt
        first: dict[int, _Held] = {}  # of each kind, where it is nearest to the upper left
        alike: dict[int, int] = {}
        for number, seam in enumerate(units.seams[-1]):
            if of_seam[number] >= 0:
                continue
            sides = []
            for side in seam.sides:
                piece = of_patch[~side] if side < 0 else of_seam[side]
                if side < 0 and piece < 0:
                    piece = strips[~side]
                sides.append(self._hold(piece) if piece >= 0 else held[side])
            here = sides[0]
            for other in sides[1:]:
                here = here.with_other(other)
            held[number] = here
            kind = units.units[seam.unit].kind
            before = first.get(kind)
            first[kind] = here if before is None else min(before, here, key=_place)
            alike[kind] = alike.get(kind, 0) + 1
        whole = units.units[units.roots[-1].unit].kind
        for number, unit in enumerate(units.units):
            one = first.get(unit.kind) if unit.shape < 0 else None
            if unit.kind == whole and one is not None:
                yield number, LayoutName("the quilt", 1)
            elif one is not None and (one.blocks or (one.borders and not one.inner)):
                words = self._name(one) if one.blocks else self._name_strips(one)
                yield number, LayoutName(words, alike[unit.kind])

    def _name(self, held: _Held) -> str:
        is_whole = held.blocks == len(self._places)
        words = "the quilt" if is_whole else self._name_place(held)
        around = self._say_triangles(held, is_whole) if self.top.on_point else self._say_sashes(held)
        borders = self._say_borders(held)
        if borders or around:
            return f"{words} with {' and '.join(filter(None, (around, borders)))}"
        if is_whole and self.all_borders:
            return f"{words} without {'its border' if self._rings == 1 else 'borders'}"
        return words

    @cached_property
    def _places(self) -> list[tuple[int, int]]:
        """Row and column of each block."""
        return [
            (bisect_left(self.tops, box.top) + 1, bisect_left(self.lefts, box.left) + 1)
            for box, piece in zip(self.boxes, self.top.pieces, strict=True)
            if piece.block >= 0
        ]

    @cached_property
    def _rings(self) -> int:
        return max((border.ring for border in self.all_borders), default=-1) + 1

    def _name_place(self, held: _Held) -> str:
        assert held.rows is not None
        assert held.columns is not None
        if self.top.on_point:
            return self._name_diagonal(held, held.rows, held.columns)
        rows, columns = _number("row", held.rows), _number("column", held.columns)
        if held.blocks == 1:
            return f"{self.drafted[held.block].name} in {rows}, {columns}"
        if held.columns == (1, len(self.lefts)):
            return rows
        return columns if held.rows == (1, len(self.tops)) else f"{rows}, {columns}"

    def _name_diagonal(self, held: _Held, rows: tuple[int, int], columns: tuple[int, int]) -> str:
        places = self._places
        across = f"{_number('diagonal row', rows)} from upper right"
        along = f"{_number('diagonal row', columns)} from upper left"
        of_rows = [column for row, column in places if rows[0] <= row <= rows[1]]
        of_columns = [row for row, column in places if columns[0] <= column <= columns[1]]
        if held.blocks == len(of_rows):
            return across
        if held.blocks == len(of_columns):
            return along
        if rows[0] == rows[1]:
            start = min(of_rows) - 1
            blocks = _number("block", (columns[0] - start, columns[1] - start))
            name = f"{self.drafted[held.block].name}, " if held.blocks == 1 else ""
            return f"{name}{blocks} of {across}"
        if columns[0] == columns[1]:
            start = min(of_columns) - 1
            return f"{_number('block', (rows[0] - start, rows[1] - start))} of {along}"
        return f"{held.blocks} blocks of {across}, {_span_words(columns)} from upper left"

    def _say_triangles(self, held: _Held, is_whole: bool) -> str:
        if is_whole:
            return "" if held.inner == self.all_inner else f"{held.inner} of {self.all_inner} triangles"
        return f"{held.inner} triangle{'' if held.inner == 1 else 's'}" if held.inner else ""

    def _say_sashes(self, held: _Held) -> str:
        """On which sides sashes lie that are between no two blocks of the unit."""
        inner, outer = held.round_blocks, held.round_all
        assert inner is not None
        assert outer is not None
        sides = [
            *(["left"] if outer.left < inner.left else []),
            *(["right"] if outer.right > inner.right else []),
            *(["above"] if outer.top < inner.top else []),
            *(["below"] if outer.bottom > inner.bottom else []),
        ]
        return f"sashing {_list(sides)}" if sides else ""

    def _say_borders(self, held: _Held) -> str:
        """Whole borders by their numbers, of others the sides that are there."""
        whole = []
        words = []
        for ring in range(self._rings):
            of_ring = {border: many for border, many in self.all_borders.items() if border.ring == ring}
            if all(held.borders.get(border, 0) == many for border, many in of_ring.items()):
                whole.append(ring + 1)
                continue
            sides = {side: held.borders.get(Border(ring, side), 0) for side in _SIDES}
            there = [side for side, many in sides.items() if many and many == of_ring.get(Border(ring, side))]
            part = [side for side, many in sides.items() if many and side not in there]
            words += [f"{how}{self._say_sides(ring, one)}" for how, one in (("", there), ("part of ", part)) if one]
        if whole and self._rings > 1:
            words.insert(0, _number("border", (whole[0], whole[-1])))
        return " and ".join(words)

    def _say_sides(self, ring: int, sides: list[str]) -> str:
        if self._rings > 1:
            return f"{_list(sides)} strip{'s' if len(sides) > 1 else ''} of border {ring + 1}"
        return f"{_list(sides)} border{'s' if len(sides) > 1 else ''}"

    def _name_strips(self, held: _Held) -> str:
        """What holds no block: strips of one side of a border, and corners."""
        sides = [border for border in held.borders if border.side != "corner"]
        if not sides:
            return "corners of the border"
        words = f"{_list([border.side for border in sides])} border"
        words = f"{words} {sides[0].ring + 1}" if self._rings > 1 else words
        many, of = held.borders[sides[0]], self.all_borders[sides[0]]
        words = words if many == of else f"{many} of {of} lengths of {words}"
        corners = sum(many for border, many in held.borders.items() if border.side == "corner")
        return words if not corners else f"{words} with {'1 corner' if corners == 1 else f'{corners} corners'}"


def _place(held: _Held) -> tuple[object, ...]:
    return held.rows or (), held.columns or (), sorted(held.borders)


def _side_of(box: _Box, inside: _Box) -> str:
    """On which side of another box one lies; `corner` where it lies on two."""
    sides = [
        *(["left"] if box.right <= inside.left else []),
        *(["right"] if box.left >= inside.right else []),
        *(["upper"] if box.bottom <= inside.top else []),
        *(["lower"] if box.top >= inside.bottom else []),
    ]
    return sides[0] if len(sides) == 1 else "corner"


def _round(outline: Outline) -> _Box:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return _Box(min(xs), min(ys), max(xs), max(ys))


def _join(one: _Box | None, other: _Box | None) -> _Box | None:
    if one is None or other is None:
        return one or other
    return one.with_other(other)


def _span(one: tuple[int, int] | None, other: tuple[int, int] | None) -> tuple[int, int] | None:
    if one is None or other is None:
        return one or other
    return min(one[0], other[0]), max(one[1], other[1])


def _number(noun: str, span: tuple[int, int]) -> str:
    """`row 2`, `rows 1 to 3`."""
    return f"{noun if span[0] == span[1] else f'{noun}s'} {_span_words(span)}"


def _span_words(span: tuple[int, int]) -> str:
    first, last = span
    return f"{first}" if first == last else f"{first} to {last}"


def _list(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
