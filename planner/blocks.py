"""Project -> blocks with their patches in place, exact.

Coordinates leave this room as whole numbers: of `1/scale` inch, with one scale for the whole project, so that what
follows compares and turns shapes with integers alone (in a quilt on point that has borders, with whole numbers and
whole multiples of a root). x runs right, y down. An outline runs clockwise as it is seen, from its uppermost, then
leftmost corner, and has no corner on a straight side.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from itertools import accumulate
from math import lcm
from typing import NamedTuple

from planner.lay_out_top import TopLayout, lay_out_top
from planner.project import (
    Block,
    Cell,
    Change,
    Cut,
    Draft,
    DraftHere,
    FabricHere,
    Joining,
    Logs,
    PartHere,
    Patches,
    Project,
    Rows,
)
from planner.surd import Exact, ExactOutline, Grid, Surd

Point = tuple[Grid, Grid]
Outline = tuple[Point, ...]
# What is sewn as a unit: left, top, right, bottom. A rectangle along the diagonals has the box round it, and x of its
# uppermost corner.
Part = tuple[Grid, Grid, Grid, Grid] | tuple[Grid, Grid, Grid, Grid, Grid]
_Exact = tuple[Fraction, Fraction]

ZERO, HALF, ONE = Fraction(0), Fraction(1, 2), Fraction(1)


class Patch(NamedTuple):
    """One patch in its block: a fabric's name and the finished outline. One that is `askew` is cut along the edges of a
    quilt whose blocks stand on point: its grain runs half a right angle from the frame."""

    fabric: str
    outline: Outline
    askew: bool = False


@dataclass(frozen=True, slots=True)
class DraftedBlock:
    """One block as drafted, in one set of fabrics; all its copies are sewn alike.

    `parts` are stretches of `patches`, (first, one past the last), of what is sewn as a unit before it joins its
    neighbours; inner ones before outer ones.
    """

    name: str
    swap: tuple[tuple[str, str], ...]  # (fabric of the draft, fabric in its place)
    width: Grid
    height: Grid
    patches: tuple[Patch, ...]
    parts: tuple[tuple[int, int], ...]
    copies: int
    line: int
    is_top: bool = False  # the quilt: its blocks are `Top.pieces`

    @property
    def title(self) -> str:
        """The name, and what it has in place of the draft's fabrics: `star (amber for slate)`."""
        if not self.swap:
            return self.name
        swaps = [f"{new} for {old}" for old, new in self.swap[:2]]
        return f"{self.name} ({', '.join(swaps)}{' ...' if len(self.swap) > 2 else ''})"


class Piece(NamedTuple):
    """What the top is joined from, in its place in the quilt: a block (an index into `drafted`, turned clockwise by
    `turn` quarters), or a patch of its own (`block` is -1). `x`, `y` is the upper left corner of the box round it,
    `first` its first patch among those of the quilt."""

    block: int
    turn: int
    x: Grid
    y: Grid
    first: int


@dataclass(frozen=True, slots=True)
class Top:
    """The quilt as it is laid out. `inner` is what is whole before anything is sewn round it: what a border goes round,
    and strips that are pieced."""

    pieces: tuple[Piece, ...]
    inner: tuple[Part, ...]
    on_point: bool
    joining: Joining | None


@dataclass(frozen=True, slots=True)
class Blocks:
    """All blocks that are made. `made` lists the batches as the maker wrote them: (index into `drafted`, count). Where
    there is a quilt it is the last of `drafted`, and `top` says what it is joined from; a block that is only in the
    quilt has no copies of its own."""

    scale: int  # grid units to an inch
    drafted: tuple[DraftedBlock, ...]
    made: tuple[tuple[int, int], ...]
    top: Top | None = None

    @property
    def in_quilt(self) -> tuple[int, ...]:
        """The blocks of the quilt, each once: indices into `drafted`."""
        return tuple(dict.fromkeys(piece.block for piece in self.top.pieces if piece.block >= 0)) if self.top else ()

    def count(self, block: int) -> int:
        """How many of a drafted block are made: loose and in the quilt."""
        inside = sum(piece.block == block for piece in self.top.pieces) if self.top else 0
        return self.drafted[block].copies + inside

    def inches(self, units: Grid) -> Exact:
        return units / self.scale if isinstance(units, Surd) else Fraction(units, self.scale)

    @property
    def quilt_size(self) -> tuple[Exact, Exact]:
        """Width and height of the finished quilt as one looks at it. ValueError where there is none."""
        if self.top is None:
            raise ValueError("this project has no quilt")
        quilt = self.drafted[-1]
        if not self.top.on_point:
            return self.inches(quilt.width), self.inches(quilt.height)
        corners = [corner for patch in quilt.patches for corner in patch.outline]
        across, down = [x - y for x, y in corners], [x + y for x, y in corners]
        wide, high = (self.inches(max(values) - min(values)) for values in (across, down))
        shrink = Surd(ZERO, HALF, 2)  # 1 / sqrt(2)
        return wide * shrink, high * shrink

    def outline_inches(self, outline: Outline) -> ExactOutline:
        return tuple((self.inches(x), self.inches(y)) for x, y in outline)


class _Place(NamedTuple):
    """Where a draft's unit square goes: x' = a x + b y + e, y' = c x + d y + f; a and d, or b and c, are 0."""

    a: Fraction
    b: Fraction
    c: Fraction
    d: Fraction
    e: Fraction
    f: Fraction

    def point(self, x: Fraction, y: Fraction) -> _Exact:
        if self.b:
            return self.b * y + self.e, self.c * x + self.f
        return self.a * x + self.e, self.d * y + self.f

    def within(self, left: Fraction, top: Fraction, right: Fraction, bottom: Fraction) -> _Place:
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


def lay_out_blocks(project: Project) -> Blocks:
    """Every block that the project makes, each draft in each set of fabrics once. The project has no faults."""
    named = {block.name: block for block in project.blocks}
    copies: dict[tuple[str, tuple[tuple[str, str], ...]], int] = {}
    made: list[tuple[tuple[str, tuple[tuple[str, str], ...]], int]] = []
    for make in project.make:
        key = (make.block, make.swap)
        copies[key] = copies.get(key, 0) + make.count
        made.append((key, make.count))
    for here in (here for row in project.quilt.rows for here in row) if project.quilt else ():
        copies.setdefault((here.block, here.swap), 0)
    drawn: dict[str, _Drawing] = {}
    for name, _ in copies:
        if name not in drawn:
            drawn[name] = _draw(named[name])
    sizes = {name: (drawing.width, drawing.height) for name, drawing in drawn.items()}
    layout = lay_out_top(project, sizes) if project.quilt else None
    values = {value for drawing in drawn.values() for value in drawing.values}
    if layout is not None:
        values |= layout.values()
    scale = lcm(*(value.denominator for value in values))
    index = {key: number for number, key in enumerate(copies)}
    drafted = [_place_on_grid(named[name], drawn[name], swap, count, scale) for (name, swap), count in copies.items()]
    batches = [(index[key], count) for key, count in made]
    if layout is None:
        return Blocks(scale, tuple(drafted), tuple(batches))
    top, quilt = _place_top(project, layout, drafted, index, scale)
    batches.append((len(drafted), 1))
    return Blocks(scale, (*drafted, quilt), tuple(batches), top)


def _place_top(
    project: Project,
    layout: TopLayout,
    drafted: list[DraftedBlock],
    number_of: Mapping[tuple[str, tuple[tuple[str, str], ...]], int],
    scale: int,
) -> tuple[Top, DraftedBlock]:
    """The quilt on the grid: what it is joined from, and all its patches."""
    assert project.quilt is not None
    patches: list[Patch] = []
    pieces: list[Piece] = []
    turned: dict[tuple[int, int], tuple[Patch, ...]] = {}
    for placed in layout.blocks:
        number = number_of[placed.here.block, placed.here.swap]
        key = (number, placed.here.turn)
        if key not in turned:
            turned[key] = _turn_patches(drafted[number], placed.here.turn)
        x, y = _to_grid(placed.x, scale), _to_grid(placed.y, scale)
        pieces.append(Piece(number, placed.here.turn, x, y, len(patches)))
        patches += [Patch(p.fabric, tuple((a + x, b + y) for a, b in p.outline), p.askew) for p in turned[key]]
    for strip in layout.strips:
        outline = tidy_outline([(_to_grid(x, scale), _to_grid(y, scale)) for x, y in strip.corners])
        left, top = min(x for x, _ in outline), min(y for _, y in outline)
        pieces.append(Piece(-1, 0, left, top, len(patches)))
        patches.append(Patch(strip.fabric, outline, layout.on_point))
    inner: list[Part] = []
    for part in layout.inner:
        a, b, c, d, *upper = (_to_grid(value, scale) for value in part)
        inner.append((a, b, c, d, upper[0]) if upper else (a, b, c, d))
    top_layout = Top(tuple(pieces), tuple(inner), layout.on_point, project.quilt.joining)
    width, height = max(x for p in patches for x, _ in p.outline), max(y for p in patches for _, y in p.outline)
    quilt = DraftedBlock("the quilt", (), width, height, tuple(patches), (), 1, project.quilt.line, is_top=True)
    return top_layout, quilt


def _to_grid(inches: Exact, scale: int) -> Grid:
    if isinstance(inches, Surd):
        return Surd(int(inches.plain * scale), int(inches.times * scale), inches.of)
    return int(inches * scale)


def _turn_patches(block: DraftedBlock, turn: int) -> tuple[Patch, ...]:
    """A block's patches as they lie after so many quarter turns clockwise, from 0, 0 again."""
    patches, height, width = list(block.patches), block.height, block.width
    for _ in range(turn):
        patches = [Patch(p.fabric, tidy_outline((height - y, x) for x, y in p.outline), p.askew) for p in patches]
        width, height = height, width
    return tuple(patches)


class _Drawing:
    """A block as it is drawn, in inches. Corners are numbers of `values`: each coordinate is one exact fraction once,
    since fractions are slow to compare and most corners share theirs with many others."""

    def __init__(self, width: Fraction, height: Fraction) -> None:
        self.width = width
        self.height = height
        self.patches: list[tuple[str, tuple[tuple[int, int], ...]]] = []
        self.parts: list[tuple[int, int]] = []
        self.values: dict[Fraction, int] = {}
        self.number(width)
        self.number(height)

    def number(self, value: Fraction) -> int:
        """The number of a coordinate."""
        return self.values.setdefault(value, len(self.values))

    def add(self, fabric: str, corners: Iterable[_Exact]) -> None:
        self.patches.append((fabric, tuple((self.number(x), self.number(y)) for x, y in corners)))


def _draw(block: Block) -> _Drawing:
    drawing = _Drawing(block.width, block.height)
    _draw_draft(block.draft, _Place(block.width, ZERO, ZERO, block.height, ZERO, ZERO), drawing)
    return drawing


def _draw_draft(draft: Draft, place: _Place, into: _Drawing) -> None:
    if isinstance(draft, Rows):
        _draw_rows(draft, place, into)
    elif isinstance(draft, Patches):
        wide, high = draft.box
        for drawn in draft.patches:
            corners = tuple(place.point(x / wide, y / high) for x, y in drawn.corners)
            into.add(drawn.fabric, corners)
    else:
        _draw_logs(draft, place, into)


def _draw_rows(draft: Rows, place: _Place, into: _Drawing) -> None:
    grid = _Grid(draft, place, into)
    for row, cells in enumerate(draft.rows):
        for column, cell in enumerate(cells):
            if isinstance(cell, FabricHere):
                into.patches.append((cell.fabric, grid.corners(column, row)))
            else:
                _draw_cell(cell, _UNIT, grid.place(column, row), into)


class _Grid:
    """The lines between the columns and the rows of a draft where it is put, worked out once for all cells."""

    def __init__(self, draft: Rows, place: _Place, into: _Drawing) -> None:
        self.on_side = bool(place.b)  # a quarter turn: columns run down, rows across
        (a, e), (d, f) = (
            ((place.c, place.f), (place.b, place.e)) if self.on_side else ((place.a, place.e), (place.d, place.f))
        )
        self.columns = [a * at + e for at in _bounds(draft.widths)]
        self.rows = [d * at + f for at in _bounds(draft.heights)]
        self._column_numbers = [into.number(at) for at in self.columns]
        self._row_numbers = [into.number(at) for at in self.rows]

    def corners(self, column: int, row: int) -> tuple[tuple[int, int], ...]:
        """The corners of a cell, from its upper left one on, by their numbers in the drawing."""
        left, right = self._column_numbers[column : column + 2]
        top, bottom = self._row_numbers[row : row + 2]
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
def _bounds(proportions: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
    total = sum(proportions)
    return tuple(value / total for value in accumulate(proportions, initial=ZERO))


_UNIT: tuple[_Exact, ...] = ((ZERO, ZERO), (ONE, ZERO), (ONE, ONE), (ZERO, ONE))


def _draw_cell(cell: Cell, face: tuple[_Exact, ...], place: _Place, into: _Drawing) -> None:
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


def _draw_part(here: PartHere, place: _Place, into: _Drawing) -> None:
    # The change written first is done first, so it is the innermost: the last one is applied to the place first.
    for change in reversed(here.changes):
        place = place.changed(change)
    _draw_draft(here.part.draft, place, into)


def _cut_face(stroke: str, face: tuple[_Exact, ...]) -> tuple[tuple[_Exact, ...], tuple[_Exact, ...]]:
    """The face left of the stroke's line and the face right of it."""

    def side(point: _Exact) -> Fraction:  # below 0: left of the line
        x, y = point
        if stroke == "/":
            return x + y - 1
        if stroke == "\\":
            return x - y
        return x - HALF

    left: list[_Exact] = []
    right: list[_Exact] = []
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


def _draw_logs(draft: Logs, place: _Place, into: _Drawing) -> None:
    left, top = ZERO, ZERO
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


def _place_on_grid(
    block: Block, drawing: _Drawing, swap: tuple[tuple[str, str], ...], copies: int, scale: int
) -> DraftedBlock:
    new = dict(swap)
    on_grid = [int(value * scale) for value in drawing.values]
    patches = tuple(
        Patch(new.get(fabric, fabric), tidy_outline([(on_grid[x], on_grid[y]) for x, y in corners]))
        for fabric, corners in drawing.patches
    )
    width, height = (on_grid[drawing.number(side)] for side in (drawing.width, drawing.height))
    return DraftedBlock(block.name, swap, width, height, patches, tuple(drawing.parts), copies, block.line)


def tidy_outline(corners: Iterable[Point]) -> Outline:
    """The same outline as this room promises it: clockwise, from the uppermost, then leftmost corner, none in line."""
    points = list(corners)
    twice = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(points, points[1:] + points[:1], strict=True))
    if twice < 0:
        points.reverse()
    kept = []
    for number, (x, y) in enumerate(points):
        ax, ay = points[number - 1]
        bx, by = points[(number + 1) % len(points)]
        if (x - ax) * (by - y) != (y - ay) * (bx - x):
            kept.append((x, y))
    start = min(range(len(kept)), key=lambda number: (kept[number][1], kept[number][0]))
    return tuple(kept[start:] + kept[:start])
