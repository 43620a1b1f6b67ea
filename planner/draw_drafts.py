"""A block -> its patches and its parts, drawn in inches: every draft fills what it is put into."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache
from itertools import accumulate
from typing import NamedTuple

from planner.project import Block, Cell, Change, Cut, Draft, DraftHere, FabricHere, Logs, PartHere, Patches, Rows
from planner.surd import Exact, ExactPoint

ZERO, HALF, ONE = Fraction(0), Fraction(1, 2), Fraction(1)


class _Place(NamedTuple):
    """Where a draft's unit square goes: x' = a x + b y + e, y' = c x + d y + f; a and d, or b and c, are 0."""

    a: Exact
    b: Exact
    c: Exact
    d: Exact
    e: Exact
    f: Exact

    def point(self, x: Exact, y: Exact) -> ExactPoint:
        if self.b:
            return self.b * y + self.e, self.c * x + self.f
        return self.a * x + self.e, self.d * y + self.f

    def within(self, left: Exact, top: Exact, right: Exact, bottom: Exact) -> _Place:
        """The place of a rectangle of this square, given in this square's own units."""
        wide, high = right - left, bottom - top
        e, f = self.point(left, top)
        return _Place(self.a * wide, self.b * high, self.c * wide, self.d * high, e, f)

    def changed(self, change: Change) -> _Place:
        """The same square, its content turned clockwise or mirrored first."""
        a, b, c, d, e, f = self
        if change == "mirrored":  # x -> 1 - x
            return _Place(-a, b, -c, d, e + a, f + c)
        if change == "turn 90":  # (x, y) -> (1 - y, x)
            return _Place(b, -a, d, -c, e + a, f + c)
        if change == "turn 180":
            return _Place(-a, -b, -c, -d, e + a + b, f + c + d)
        return _Place(-b, a, -d, c, e + b, f + d)  # (x, y) -> (y, 1 - x)


class Bounds(NamedTuple):
    """Where the columns and the rows of a webbed block begin and end: numbers of coordinates."""

    columns: tuple[int, ...]
    rows: tuple[int, ...]


class Drawing:
    """A block as it is drawn, in inches. Corners are numbers of `values`: each coordinate is one exact fraction once,
    since fractions are slow to compare and most corners share theirs with many others."""

    def __init__(self, width: Exact, height: Exact) -> None:
        self.width = width
        self.height = height
        self.patches: list[tuple[str, tuple[tuple[int, int], ...]]] = []
        self.parts: list[tuple[int, int]] = []
        self.web: Bounds | None = None
        self.values: dict[Exact, int] = {}
        self.number(width)
        self.number(height)

    def number(self, value: Exact) -> int:
        """The number of a coordinate."""
        return self.values.setdefault(value, len(self.values))

    def add(self, fabric: str, corners: Iterable[ExactPoint]) -> None:
        self.patches.append((fabric, tuple((self.number(x), self.number(y)) for x, y in corners)))


def draw_block(block: Block) -> Drawing:
    """A block in inches, its draft filling its size."""
    drawing = Drawing(block.width, block.height)
    place = _Place(block.width, ZERO, ZERO, block.height, ZERO, ZERO)
    if block.is_webbed and isinstance(block.draft, Rows):
        _draw_web(block.draft, place, drawing)
    else:
        _draw_draft(block.draft, place, drawing)
    if block.roles:
        fabric_for = dict(block.roles)
        drawing.patches = [(fabric_for[role], corners) for role, corners in drawing.patches]
    return drawing


def _draw_draft(draft: Draft, place: _Place, into: Drawing) -> None:
    if isinstance(draft, Rows):
        _draw_rows(draft, place, into)
    elif isinstance(draft, Patches):
        wide, high = draft.box
        for drawn in draft.patches:
            corners = tuple(place.point(x / wide, y / high) for x, y in drawn.corners)
            into.add(drawn.fabric, corners)
    else:
        _draw_logs(draft, place, into)


def _draw_rows(draft: Rows, place: _Place, into: Drawing) -> list[int]:
    """The first patch of each cell, row by row, and one past the last."""
    grid = _Grid(draft, place, into)
    firsts = []
    for row, cells in enumerate(draft.rows):
        for column, cell in enumerate(cells):
            firsts.append(len(into.patches))
            if isinstance(cell, FabricHere):
                into.patches.append((cell.fabric, grid.corners(column, row)))
            else:
                _draw_cell(cell, _UNIT, grid.place(column, row), into)
    return [*firsts, len(into.patches)]


def _draw_web(draft: Rows, place: _Place, into: Drawing) -> None:
    """Rows whose cells are webbed. What a web has on the way is whole before it joins its neighbours: every cell, in
    every row the same stretches of cells, half to half, then every row, and stretches of rows. So no other seam is
    left to choose."""
    firsts = _draw_rows(draft, place, into)
    grid = _Grid(draft, place, into)
    into.web = Bounds(grid.column_numbers, grid.row_numbers)
    columns = len(draft.widths)
    stretches = [
        (row * columns + start, row * columns + end)
        for row in range(len(draft.rows))
        for start, end in halve(0, columns)
    ]
    stretches += [(start * columns, end * columns) for start, end in halve(0, len(draft.rows))]
    found = {(firsts[start], firsts[end]) for start, end in stretches if firsts[end] - firsts[start] > 1}
    into.parts = sorted(found.union(into.parts), key=lambda part: (part[1], -part[0]))  # inner ones first


def halve(start: int, end: int) -> Iterator[tuple[int, int]]:
    """A stretch of so many, its halves, and so on down to single ones. Of an odd number the first half is larger: a
    maker begins at the left and at the top."""
    yield start, end
    if end - start > 1:
        middle = (start + end + 1) // 2
        yield from halve(start, middle)
        yield from halve(middle, end)


@cache
def find_halved(place: int, many: int) -> tuple[int, int]:
    """The one of these stretches of 0 to `many` that is halved at a place."""
    return min(((start, end) for start, end in halve(0, many) if start < place < end), key=lambda one: one[1] - one[0])


class _Grid:
    """The lines between the columns and the rows of a draft where it is put, worked out once for all cells."""

    def __init__(self, draft: Rows, place: _Place, into: Drawing) -> None:
        self.on_side = bool(place.b)  # a quarter turn: columns run down, rows across
        (a, e), (d, f) = (
            ((place.c, place.f), (place.b, place.e)) if self.on_side else ((place.a, place.e), (place.d, place.f))
        )
        self.columns = [a * at + e for at in _bounds(draft.widths)]
        self.rows = [d * at + f for at in _bounds(draft.heights)]
        self.column_numbers = tuple(into.number(at) for at in self.columns)
        self.row_numbers = tuple(into.number(at) for at in self.rows)

    def corners(self, column: int, row: int) -> tuple[tuple[int, int], ...]:
        """The corners of a cell, from its upper left one on, by their numbers in the drawing."""
        left, right = self.column_numbers[column : column + 2]
        top, bottom = self.row_numbers[row : row + 2]
        if self.on_side:
            return (top, left), (top, right), (bottom, right), (bottom, left)
        return (left, top), (right, top), (right, bottom), (left, bottom)

    def place(self, column: int, row: int) -> _Place:
        left, right = self.columns[column : column + 2]
        top, bottom = self.rows[row : row + 2]
        if self.on_side:
            return _Place(ZERO, bottom - top, right - left, ZERO, top, left)
        return _Place(right - left, ZERO, ZERO, bottom - top, left, top)


@cache
def _bounds(proportions: tuple[Exact, ...]) -> tuple[Exact, ...]:
    total = sum(proportions)
    return tuple(value / total for value in accumulate(proportions, initial=ZERO))


_UNIT: tuple[ExactPoint, ...] = ((ZERO, ZERO), (ONE, ZERO), (ONE, ONE), (ZERO, ONE))


def _draw_cell(cell: Cell, face: tuple[ExactPoint, ...], place: _Place, into: Drawing) -> None:
    """Draw what fills `face`, a stretch of the unit cell that `place` puts into the block."""
    if isinstance(cell, FabricHere):
        into.add(cell.fabric, (place.point(x, y) for x, y in face))
    elif isinstance(cell, Cut):
        left, right = _cut_face(cell.stroke, face)
        _draw_cell(cell.left, left, place, into)
        _draw_cell(cell.right, right, place, into)
    else:
        first = len(into.patches)
        inner = place
        if face is not _UNIT:
            xs, ys = [x for x, _ in face], [y for _, y in face]
            inner = place.within(min(xs), min(ys), max(xs), max(ys))
        if isinstance(cell, DraftHere):
            _draw_draft(cell.draft, inner, into)
        else:
            _draw_part(cell, inner, into)
        if len(into.patches) - first > 1:
            into.parts.append((first, len(into.patches)))


def _draw_part(here: PartHere, place: _Place, into: Drawing) -> None:
    # The change written first is done first, so it is the innermost: the last one is applied to the place first.
    for change in reversed(here.changes):
        place = place.changed(change)
    _draw_draft(here.part.draft, place, into)


def _cut_face(stroke: str, face: tuple[ExactPoint, ...]) -> tuple[tuple[ExactPoint, ...], tuple[ExactPoint, ...]]:
    """The face left of the stroke's line and the face right of it."""

    def side(point: ExactPoint) -> Exact:  # below 0: left of the line
        x, y = point
        if stroke == "/":
            return x + y - 1
        if stroke == "\\":
            return x - y
        return x - HALF

    left: list[ExactPoint] = []
    right: list[ExactPoint] = []
    for here, there in zip(face, face[1:] + face[:1], strict=True):
        at_here, at_there = side(here), side(there)
        if at_here <= 0:
            left.append(here)
        if at_here >= 0:
            right.append(here)
        if at_here * at_there < 0:
            part = at_here / (at_here - at_there)
            crossing = (here[0] + part * (there[0] - here[0]), here[1] + part * (there[1] - here[1]))
            left.append(crossing)
            right.append(crossing)
    return tuple(left), tuple(right)


def _draw_logs(draft: Logs, place: _Place, into: Drawing) -> None:
    left: Exact = ZERO
    top: Exact = ZERO
    right, bottom = draft.centre_size
    rectangles = [(draft.centre, left, top, right, bottom)]
    for fabric, width, side in zip(draft.around, draft.widths, draft.sides, strict=True):
        if side == "right":
            rectangles.append((fabric, right, top, right + width, bottom))
            right += width
        elif side == "left":
            rectangles.append((fabric, left - width, top, left, bottom))
            left -= width
        elif side == "bottom":
            rectangles.append((fabric, left, bottom, right, bottom + width))
            bottom += width
        else:
            rectangles.append((fabric, left, top - width, right, top))
            top -= width
    wide, high = right - left, bottom - top
    first = len(into.patches)
    for fabric, x0, y0, x1, y1 in rectangles:
        corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        into.add(fabric, (place.point((x - left) / wide, (y - top) / high) for x, y in corners))
    # Each round so far is a unit: the first two, the first three, ... (all of them are the draft itself)
    into.parts.extend((first, first + many) for many in range(2, len(rectangles)))
