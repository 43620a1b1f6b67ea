"""Project -> blocks with their patches in place, exact.

Coordinates leave this room as whole numbers: of `1/scale` inch, with one scale for the whole project, so that what
follows compares and turns shapes with integers alone (where the project has a root, with whole numbers and whole
multiples of that root). x runs right, y down. An outline runs clockwise as it is seen, from its uppermost, then
leftmost corner, and has no corner on a straight side.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from math import lcm
from typing import NamedTuple

from planner.draw_drafts import Drawing, draw_block
from planner.lay_out_top import TopLayout, lay_out_top
from planner.project import Block, BlockHere, Joining, Project
from planner.surd import DIAGONAL, Exact, ExactOutline, Grid, Surd, denominator_of, to_grid
from planner.turn_prints import NO_WAY, UPRIGHT, find_up, is_aslant, spell_way, turn_up

Point = tuple[Grid, Grid]
Outline = tuple[Point, ...]
# What is sewn as a unit: left, top, right, bottom. A rectangle along the diagonals has the box round it, and x of its
# uppermost corner.
Part = tuple[Grid, Grid, Grid, Grid] | tuple[Grid, Grid, Grid, Grid, Grid]
Swap = tuple[tuple[str, str], ...]  # (fabric of the draft, fabric in its place)


class Patch(NamedTuple):
    """One patch in its block: a fabric's name and the finished outline. One that is `askew` is cut along the edges of a
    quilt whose blocks stand on point: its grain runs half a right angle from the frame. `up` says where the top of its
    print points (see `turn_prints`)."""

    fabric: str
    outline: Outline
    askew: bool = False
    up: int = NO_WAY


class WebBounds(NamedTuple):
    """Where the columns and the rows of a webbed block begin and end, from 0 on."""

    columns: tuple[Grid, ...]
    rows: tuple[Grid, ...]


@dataclass(frozen=True, slots=True)
class DraftedBlock:
    """One block as drafted, in one set of fabrics; all its copies are sewn alike. Where prints have a direction it is
    another block when it lies turned in the quilt: `way` says how it lies, ` turn 90`.

    `parts` are stretches of `patches`, (first, one past the last), of what is sewn as a unit before it joins its
    neighbours; inner ones before outer ones.
    """

    name: str
    swap: Swap
    width: Grid
    height: Grid
    patches: tuple[Patch, ...]
    parts: tuple[tuple[int, int], ...]
    copies: int
    line: int
    is_top: bool = False  # the quilt: its blocks are `Top.pieces`
    way: str = ""
    web: WebBounds | None = None

    @property
    def title(self) -> str:
        """The name and the way, and what it has in place of the draft's fabrics: `star (amber for slate)`."""
        if not self.swap:
            return self.name + self.way
        swaps = [f"{new} for {old}" for old, new in self.swap[:2]]
        return f"{self.name}{self.way} ({', '.join(swaps)}{' ...' if len(self.swap) > 2 else ''})"


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
        return wide / DIAGONAL, high / DIAGONAL

    def outline_inches(self, outline: Outline) -> ExactOutline:
        return tuple((self.inches(x), self.inches(y)) for x, y in outline)


class _Key(NamedTuple):
    """What a drafted block is told by: how it is drawn, its fabrics, and where prints with a direction point."""

    name: str
    swap: Swap
    up: int


def lay_out_blocks(project: Project, finer: int = 1) -> Blocks:
    """Every block that the project makes, each draft in each set of fabrics once. The project has no faults. `finer`:
    so many times as many grid units to an inch as it needs."""
    named = {block.name: block for block in project.blocks}
    in_quilt = [here for row in project.quilt.rows for here in row] if project.quilt else []
    used = [*(make.block for make in project.make), *(here.block for here in in_quilt)]
    drawn = {name: draw_block(named[name]) for name in dict.fromkeys(used)}
    prints = frozenset(fabric.name for fabric in project.fabrics if fabric.directional)
    on_point = project.quilt is not None and project.quilt.layout == "on point"

    @cache
    def find_key(name: str, swap: Swap, up: int) -> _Key:
        new = dict(swap)
        has_way = prints and any(new.get(fabric, fabric) in prints for fabric, _ in drawn[name].patches)
        return _Key(name, swap, up if has_way else UPRIGHT)

    def find_number(here: BlockHere) -> int:
        return index[find_key(here.block, here.swap, find_up(on_point, here.turn))]

    copies: dict[_Key, int] = {}
    made: list[tuple[_Key, int]] = []
    for make in project.make:
        key = find_key(make.block, make.swap, UPRIGHT)
        copies[key] = copies.get(key, 0) + make.count
        made.append((key, make.count))
    for here in in_quilt:
        copies.setdefault(find_key(here.block, here.swap, find_up(on_point, here.turn)), 0)
    sizes = {name: (drawing.width, drawing.height) for name, drawing in drawn.items()}
    layout = lay_out_top(project, sizes) if project.quilt else None
    values = {value for drawing in drawn.values() for value in drawing.values}
    if layout is not None:
        values |= layout.values()
    scale = finer * lcm(*(denominator_of(value) for value in values))
    index = {key: number for number, key in enumerate(copies)}
    drafted = [
        replace(
            _place_on_grid(named[key.name], drawn[key.name], key, count, scale, prints),
            way=spell_way(key.up, key._replace(up=UPRIGHT) in copies),
        )
        for key, count in copies.items()
    ]
    batches = [(index[key], count) for key, count in made]
    if layout is None:
        return Blocks(scale, tuple(drafted), tuple(batches))
    top, quilt = _place_top(project, layout, drafted, find_number, scale, prints)
    batches.append((len(drafted), 1))
    return Blocks(scale, (*drafted, quilt), tuple(batches), top)


def _place_top(
    project: Project,
    layout: TopLayout,
    drafted: list[DraftedBlock],
    find_number: Callable[[BlockHere], int],
    scale: int,
    prints: frozenset[str],
) -> tuple[Top, DraftedBlock]:
    """The quilt on the grid: what it is joined from, and all its patches."""
    assert project.quilt is not None
    patches: list[Patch] = []
    pieces: list[Piece] = []
    turned: dict[tuple[int, int], tuple[Patch, ...]] = {}
    for placed in layout.blocks:
        number = find_number(placed.here)
        key = (number, placed.here.turn)
        if key not in turned:
            turned[key] = _turn_patches(drafted[number], placed.here.turn)
        x, y = to_grid(placed.x, scale), to_grid(placed.y, scale)
        pieces.append(Piece(number, placed.here.turn, x, y, len(patches)))
        patches += [Patch(p.fabric, tuple((a + x, b + y) for a, b in p.outline), p.askew, p.up) for p in turned[key]]
    for strip in layout.strips:
        outline = tidy_outline([(to_grid(x, scale), to_grid(y, scale)) for x, y in strip.corners])
        left, top = min(x for x, _ in outline), min(y for _, y in outline)
        pieces.append(Piece(-1, 0, left, top, len(patches)))
        up = find_up(layout.on_point) if strip.fabric in prints else NO_WAY
        patches.append(Patch(strip.fabric, outline, layout.on_point, up))
    inner: list[Part] = []
    for part in layout.inner:
        a, b, c, d, *upper = (to_grid(value, scale) for value in part)
        inner.append((a, b, c, d, upper[0]) if upper else (a, b, c, d))
    top_layout = Top(tuple(pieces), tuple(inner), layout.on_point, project.quilt.joining)
    width, height = max(x for p in patches for x, _ in p.outline), max(y for p in patches for _, y in p.outline)
    quilt = DraftedBlock("the quilt", (), width, height, tuple(patches), (), 1, project.quilt.line, is_top=True)
    return top_layout, quilt


def _turn_patches(block: DraftedBlock, turn: int) -> tuple[Patch, ...]:
    """A block's patches as they lie after so many quarter turns clockwise, from 0, 0 again."""
    patches, height, width = list(block.patches), block.height, block.width
    for _ in range(turn):
        patches = [
            Patch(p.fabric, tidy_outline((height - y, x) for x, y in p.outline), p.askew, turn_up(p.up, 1))
            for p in patches
        ]
        width, height = height, width
    return tuple(patches)


def _place_on_grid(
    block: Block, drawing: Drawing, key: _Key, copies: int, scale: int, prints: frozenset[str]
) -> DraftedBlock:
    new = dict(key.swap)
    on_grid = [to_grid(value, scale) for value in drawing.values]
    patches = tuple(
        Patch(new.get(fabric, fabric), tidy_outline([(on_grid[x], on_grid[y]) for x, y in corners]))
        for fabric, corners in drawing.patches
    )
    if prints:
        # What is printed is cut along its print
        patches = tuple(
            patch._replace(askew=is_aslant(key.up), up=key.up) if patch.fabric in prints else patch for patch in patches
        )
    width, height = (on_grid[drawing.number(side)] for side in (drawing.width, drawing.height))
    parts = tuple(drawing.parts)
    web = WebBounds(*(tuple(on_grid[at] for at in bounds) for bounds in drawing.web)) if drawing.web else None
    return DraftedBlock(block.name, key.swap, width, height, patches, parts, copies, block.line, web=web)


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
