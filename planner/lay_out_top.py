"""Quilt -> where every block, sash, border strip and setting triangle of the top lies, exact, in inches.

x runs right, y down. The frame is the quilt's; on point it is the frame of the blocks, which is turned by half a right
angle: its x runs down to the right as one looks at the quilt, its y down to the left. There borders lie aslant, and
what is moved by their width has a root.

A strip that is longer than its fabric is wide is pieced from equal lengths, as few as can be cut across the cloth.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import accumulate, pairwise
from math import ceil
from typing import NamedTuple

from planner.frame_on_point import frame_on_point
from planner.project import BlockHere, Project, Quilt, Sashing
from planner.surd import Exact, ExactOutline, ExactPoint, Surd, size_of

Sizes = Mapping[str, tuple[Exact, Exact]]  # a block's finished width and height, by name
Box = tuple[Exact, Exact, Exact, Exact]  # left, top, right, bottom
ZERO, HALF = Fraction(0), Fraction(1, 2)


class PlacedBlock(NamedTuple):
    """A block of the quilt; x, y is the upper left corner of the box round it as it lies."""

    here: BlockHere
    x: Exact
    y: Exact


class Strip(NamedTuple):
    """A patch of the top that belongs to no block."""

    fabric: str
    corners: ExactOutline


@dataclass(slots=True)
class TopLayout:
    """The top. `inner`: what is whole before anything is sewn round or onto it: boxes (left, top, right, bottom), on
    point slanting ones (the box round it, and x of its uppermost corner)."""

    on_point: bool
    blocks: list[PlacedBlock] = field(default_factory=list)
    strips: list[Strip] = field(default_factory=list)
    inner: list[tuple[Exact, ...]] = field(default_factory=list)

    def values(self) -> set[Fraction]:
        """Every coordinate; of one with a root its plain part and how often it has the root."""
        found = {value for block in self.blocks for value in (block.x, block.y)}
        found |= {value for strip in self.strips for corner in strip.corners for value in corner}
        found |= {value for part in self.inner for value in part}
        return {
            part for value in found for part in ((value.plain, value.times) if isinstance(value, Surd) else (value,))
        }

    def move(self, x: Exact, y: Exact) -> None:
        """Move every block and strip."""
        self.blocks = [PlacedBlock(here, a + x, b + y) for here, a, b in self.blocks]
        self.strips = [Strip(fabric, tuple((a + x, b + y) for a, b in corners)) for fabric, corners in self.strips]
        self.inner = [tuple(value + (x, y)[place % 2] for place, value in enumerate(part)) for part in self.inner]


def lay_out_top(project: Project, sizes: Sizes) -> TopLayout:
    """The quilt of a project without faults, which has one."""
    assert project.quilt is not None
    builder = _Builder(project, project.quilt, sizes)
    if project.quilt.layout == "on point":
        builder.set_on_point()
    else:
        builder.set_straight()
    return builder.layout


class _Builder:
    def __init__(self, project: Project, quilt: Quilt, sizes: Sizes) -> None:
        self.quilt = quilt
        self.sizes = sizes
        self.seam = project.seam
        self.usable = {fabric.name: fabric.usable for fabric in project.fabrics}
        self.layout = TopLayout(quilt.layout == "on point")

    def set_on_point(self) -> None:
        """Rows of n and n - 1 blocks in turn, the triangles that fill the edges, and borders round them.

        Seen from above, in half diagonals of a block, the middle of block c of row r lies at (2c + 1, r + 1), and one
        more to the right in a short row. A point (a, b) there is ((a + b) / 2, (b - a) / 2) sides in the blocks' frame.
        """
        quilt = self.quilt
        across, down = 2 * len(quilt.rows[0]), len(quilt.rows) + 1
        side = self.sizes[quilt.rows[0][0].block][0]

        def place(a: int, b: int) -> ExactPoint:
            return (a + b) * HALF * side, (b - a + across) * HALF * side

        for row, blocks in enumerate(quilt.rows):
            for column, here in enumerate(blocks):
                x, y = place(2 * column + 1 + row % 2, row + 1)
                self.layout.blocks.append(PlacedBlock(here, x - side / 2, y - side / 2))
        assert quilt.setting is not None
        for triangle in _edge_triangles(across, down):
            self.layout.strips.append(Strip(quilt.setting, tuple(place(a, b) for a, b in triangle)))
        longest = {fabric: usable - 2 * self.seam for fabric, usable in self.usable.items()}
        frame = frame_on_point(quilt.borders, across * HALF * side, down * HALF * side, longest)
        self.layout.strips += (Strip(fabric, corners) for fabric, corners in frame.strips)
        self.layout.inner += frame.inner
        self.layout.move(frame.shift, frame.shift)

    def set_straight(self) -> None:
        """Rows and columns, with sashing between them where there is some, and borders round them."""
        quilt = self.quilt
        sash: Exact = quilt.sashing.width if quilt.sashing else ZERO
        widths = [self._size(here)[0] for here in quilt.rows[0]]
        heights = [self._size(row[0])[1] for row in quilt.rows]
        lefts = list(accumulate((width + sash for width in widths), initial=ZERO))[:-1]
        tops = list(accumulate((height + sash for height in heights), initial=ZERO))[:-1]
        width, height = lefts[-1] + widths[-1], tops[-1] + heights[-1]
        for row, top in zip(quilt.rows, tops, strict=True):
            for here, left in zip(row, lefts, strict=True):
                self.layout.blocks.append(PlacedBlock(here, left, top))
        if quilt.sashing:
            self._add_sashing(
                quilt.sashing, list(zip(lefts, widths, strict=True)), list(zip(tops, heights, strict=True))
            )
        self._add_borders((ZERO, ZERO, width, height))

    def _size(self, here: BlockHere) -> ExactPoint:
        width, height = self.sizes[here.block]
        return (height, width) if here.turn % 2 else (width, height)

    def _add_sashing(self, sashing: Sashing, columns: list[ExactPoint], rows: list[ExactPoint]) -> None:
        """Strips to the right of each block but the last, and below each row but the last."""
        wide = sashing.width
        for number, (top, height) in enumerate(rows):
            for left, width in columns[:-1]:
                self._add_strip(sashing.fabric, (left + width, top, left + width + wide, top + height))
            if number + 1 == len(rows):
                break
            above = top + height
            if sashing.posts is None:
                right = columns[-1][0] + columns[-1][1]
                self._add_strip(sashing.fabric, (ZERO, above, right, above + wide))
                continue
            for place, (left, width) in enumerate(columns):
                self._add_strip(sashing.fabric, (left, above, left + width, above + wide))
                if place + 1 < len(columns):
                    post = (left + width, above, left + width + wide, above + wide)
                    self._add_strip(sashing.posts, post)

    def _add_borders(self, box: Box) -> None:
        """Frame after frame; all of it is moved so that the quilt begins at 0, 0."""
        for border in self.quilt.borders:
            left, top, right, bottom = box
            wide = border.width
            outer = (left - wide, top - wide, right + wide, bottom + wide)
            self._keep_whole(box)
            if border.mitred:
                self._add_mitred(border.fabric, box, outer)
                box = outer
                continue
            self._add_strip(border.fabric, (outer[0], top, left, bottom))
            self._add_strip(border.fabric, (right, top, outer[2], bottom))
            for y0, y1 in ((outer[1], top), (bottom, outer[3])):
                if border.posts is None:
                    self._add_strip(border.fabric, (outer[0], y0, outer[2], y1))
                else:
                    self._add_strip(border.posts, (outer[0], y0, left, y1))
                    self._add_strip(border.fabric, (left, y0, right, y1))
                    self._add_strip(border.posts, (right, y0, outer[2], y1))
            box = outer
        self.layout.move(-box[0], -box[1])

    def _add_strip(self, fabric: str, box: Box) -> None:
        left, top, right, bottom = box
        wide, high = right - left, bottom - top
        longest = self.usable[fabric] - 2 * self.seam
        many = ceil(max(wide, high) / longest)
        if many > 1:
            self._keep_whole(box)
        for number in range(many):
            first, last = Fraction(number, many), Fraction(number + 1, many)
            if wide >= high:
                x0, x1, y0, y1 = left + first * wide, left + last * wide, top, bottom
            else:
                x0, x1, y0, y1 = left, right, top + first * high, top + last * high
            self.layout.strips.append(Strip(fabric, ((x0, y0), (x1, y0), (x1, y1), (x0, y1))))

    def _add_mitred(self, fabric: str, inner: Box, outer: Box) -> None:
        """Four strips whose ends slant from the corners outside to those inside."""
        for side in range(4):
            start, end = _corner(outer, side), _corner(outer, side + 1)
            slant = _corner(inner, side + 1), _corner(inner, side)
            along = 0 if start[1] == end[1] else 1
            length = size_of(end[along] - start[along])
            # The point of a slanting end reaches out 1 + sqrt(2) allowances: less than 2 1/2
            many = ceil(length / (self.usable[fabric] - 5 * self.seam))
            strip = (start, end, *slant)
            if many > 1:
                xs, ys = [x for x, _ in strip], [y for _, y in strip]
                self._keep_whole((min(xs), min(ys), max(xs), max(ys)))
            low = min(start[along], end[along])
            bounds = [low + length * Fraction(place, many) for place in range(many + 1)]
            for near, far in pairwise(bounds):
                self.layout.strips.append(Strip(fabric, _cut_between(strip, along, near, far)))

    def _keep_whole(self, box: Box) -> None:
        self.layout.inner.append(box)


def _corner(box: Box, number: int) -> ExactPoint:
    """The corners of a box, clockwise from the upper left."""
    left, top, right, bottom = box
    return ((left, top), (right, top), (right, bottom), (left, bottom))[number % 4]


def _cut_between(outline: tuple[ExactPoint, ...], along: int, near: Exact, far: Exact) -> tuple[ExactPoint, ...]:
    """What lies of a convex outline between two lines across an axis (0: x, 1: y)."""
    for at, sign in ((near, 1), (far, -1)):
        kept: list[ExactPoint] = []
        for here, there in zip(outline, (*outline[1:], outline[0]), strict=True):
            inside, inside_there = sign * (here[along] - at), sign * (there[along] - at)
            if inside >= 0:
                kept.append(here)
            if inside * inside_there < 0:
                share = inside / (inside - inside_there)
                kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
        outline = tuple(kept)
    return outline


def _edge_triangles(across: int, down: int) -> Iterator[tuple[tuple[int, int], tuple[int, int], tuple[int, int]]]:
    """The setting triangles of a quilt on point, in half diagonals: along the edges, then the corners."""
    for a in range(2, across, 2):
        yield (a - 1, 0), (a + 1, 0), (a, 1)
    for b in range(2, down, 2):
        yield (across, b - 1), (across, b + 1), (across - 1, b)
    for a in range(across - 2, 0, -2):
        yield (a + 1, down), (a - 1, down), (a, down - 1)
    for b in range(down - 2, 0, -2):
        yield (0, b + 1), (0, b - 1), (1, b)
    for a, b in ((0, 0), (across, 0), (across, down), (0, down)):
        ahead, below = (1 if a == 0 else -1), (1 if b == 0 else -1)
        yield (a, b), (a + ahead, b), (a, b + below)
