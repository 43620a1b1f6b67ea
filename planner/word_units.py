"""Units in words: what a maker would call them."""

from __future__ import annotations

from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from planner.blocks import Outline, Point
from planner.build_units import Units
from planner.cut_prints import size_patch
from planner.cut_sizes import Length, Piece, round_around, size_around, size_piece, size_unit
from planner.merge_outlines import merge_outlines
from planner.name_layouts import Border, LayoutName, find_borders, name_layouts
from planner.surd import ExactOutline

MOST_FABRICS = 3


class UnitWords:
    """Names and sizes of the units of one plan."""

    def __init__(self, units: Units, seam: Fraction) -> None:
        self.units = units
        self.seam = seam
        self._pieces: dict[int, Piece] = {}
        self._outlines: dict[int, Outline] = {}
        self._around: dict[int, Outline] = {}

    @cached_property
    def block_names(self) -> dict[int, str]:
        """The units that are whole blocks, by the block's name."""
        names: dict[int, str] = {}
        for block, root in zip(self.units.cuts.blocks.drafted, self.units.roots, strict=True):
            if not block.is_top:
                names.setdefault(root.unit, block.name + block.way)
        return names

    @cached_property
    def block_titles(self) -> dict[int, str]:
        """The same with what they have in place of the draft's fabrics: `star (amber for slate)`."""
        titles: dict[int, str] = {}
        for block, root in zip(self.units.cuts.blocks.drafted, self.units.roots, strict=True):
            if not block.is_top:
                titles.setdefault(root.unit, block.title)
        return titles

    @cached_property
    def layouts(self) -> dict[int, LayoutName]:
        """The units that join the quilt."""
        return name_layouts(self.units)

    @cached_property
    def borders(self) -> dict[int, Border]:
        """The pieces of the quilt that lie in a border."""
        return find_borders(self.units)

    def fabrics(self, number: int) -> tuple[str, ...]:
        """The fabrics of a unit as they are met in reading order, each once."""
        patches = sorted(self.units.units[number].patches)
        return tuple(dict.fromkeys(self.units.cuts.shapes[shape].fabric for _, _, shape in patches))

    def name(self, number: int) -> str:
        """`navy-shell triangle square`, `pinwheel block`; for a patch only its fabric."""
        unit = self.units.units[number]
        fabrics = self.fabrics(number)
        cloth = "-".join(fabrics[:MOST_FABRICS]) + ("..." if len(fabrics) > MOST_FABRICS else "")
        if unit.shape >= 0:
            return fabrics[0]
        if number in self.block_names:
            return f"{self.block_names[number]} block"
        if number in self.layouts:
            return self.layouts[number].in_full
        return f"{cloth} {self._noun(number)}"

    def _noun(self, number: int) -> str:
        unit = self.units.units[number]
        shapes = [self.units.cuts.shapes[shape] for _, _, shape in unit.patches]
        many = len(shapes)
        corners = {len(shape.outline) for shape in shapes}
        sizes = {frozenset((shape.width, shape.height)) for shape in shapes}
        is_square = self.is_rectangle(number) and unit.width == unit.height
        if corners == {3} and is_square:
            return {2: "triangle square", 4: "square of four triangles"}.get(many, f"square of {many} triangles")
        if corners == {3} and many == 2:
            return "pair of triangles"
        if corners == {4} and len(sizes) == 1 and is_square and all(shape.width == shape.height for shape in shapes):
            if many == 4:
                return "four patch"
            if many == 9:
                return "nine patch"
        if many == 2:
            return "pair"
        columns, lines = ({placed[axis] for placed in unit.patches} for axis in (1, 0))
        if corners == {4} and len(sizes) == 1 and 1 in (len(columns), len(lines)):
            return f"row of {many}"
        return f"unit of {many} patches"

    def is_rectangle(self, number: int) -> bool:
        """Whether a unit fills the box round it."""
        unit = self.units.units[number]
        area = sum(self.units.cuts.shapes[shape].twice_area for _, _, shape in unit.patches)
        return area == 2 * unit.width * unit.height

    def has_inner_corner(self, number: int) -> bool:
        """Whether a unit does not fill the outline round it: something is set in there later."""
        around = self._outline_around(number)
        pairs = zip(around, around[1:] + around[:1], strict=True)
        twice = sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs)
        return twice != sum(
            self.units.cuts.shapes[shape].twice_area for _, _, shape in self.units.units[number].patches
        )

    def outline(self, number: int) -> Outline:
        """The finished outline of a unit, clockwise, with its inner corners; what is open inside it counts as sewn."""
        waiting = [number]
        while waiting:
            here = waiting[-1]
            if here not in self._outlines:
                sides = self.units.units[here].sides
                is_bare = bool(sides) and self.has_inner_corner(here)
                missing = [side.unit for side in sides if side.unit not in self._outlines] if is_bare else []
                if missing:
                    waiting += missing
                    continue
                self._outlines[here] = self._merge(here) if is_bare else self._outline_whole(here)
            waiting.pop()
        return self._outlines[number]

    def _outline_whole(self, number: int) -> Outline:
        """The same of a patch, and of what has no inner corner."""
        unit = self.units.units[number]
        return self._outline_around(number) if unit.sides else self.units.cuts.outline(unit.patches[0])

    def _merge(self, number: int) -> Outline:
        """The same, from the outlines of what is sewn together."""
        first, *rest = (
            tuple(self.units.place_points(self._outlines[side.unit], side)) for side in self.units.units[number].sides
        )
        return merge_outlines(first, rest[0]) if rest else first

    def _outline_around(self, number: int) -> Outline:
        """What a string round a unit encloses."""
        if number not in self._around:
            unit = self.units.units[number]
            if self.is_rectangle(number):
                self._around[number] = ((0, 0), (unit.width, 0), (unit.width, unit.height), (0, unit.height))
            else:
                self._around[number] = _wrap({at for placed in unit.patches for at in self.units.cuts.outline(placed)})
        return self._around[number]

    def piece(self, number: int) -> Piece:
        """The sizes of a whole unit, as if it were one patch (of a patch, as it is cut)."""
        if number not in self._pieces:
            shape = self.units.units[number].shape
            outline = self._in_inches(number)
            if shape >= 0:
                patch = self.units.cuts.shapes[shape]
                self._pieces[number] = size_patch(outline, self.seam, patch.askew, patch.up)
            else:
                self._pieces[number] = size_piece(outline, self.seam)
        return self._pieces[number]

    def _in_inches(self, number: int) -> ExactOutline:
        return self.units.cuts.blocks.outline_inches(self.outline(number))

    def unfinished(self, number: int) -> tuple[Length, Length]:
        """The two sides with the outer allowances, the shorter first; of a unit that is no rectangle the box round
        it, of a triangle as it would be cut."""
        size = size_around if self.has_inner_corner(number) else size_unit
        return size(self._in_inches(number), self.seam)

    def is_rounded(self, number: int) -> tuple[bool, bool]:
        """Of both sides that a unit measures unfinished, whether they were rounded up since no fraction is exact."""
        if not self.has_inner_corner(number):
            piece = self.piece(number)
            if piece.shape != "other":  # the sides of a rectangle are told with their root, not rounded
                return (False, False) if piece.shape in ("square", "rectangle") else piece.rounded
        (_, is_short), (_, is_long) = round_around(self._in_inches(number), self.seam)
        return is_short, is_long


class _Turn(NamedTuple):
    start: Point
    middle: Point
    end: Point

    @property
    def is_right(self) -> bool:
        (ax, ay), (bx, by), (cx, cy) = self
        return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0


def _wrap(points: set[Point]) -> Outline:
    """The convex outline round points, clockwise as seen with y down (A. M. Andrew's monotone chain)."""
    order = sorted(points)
    halves = []
    for run in (order, order[::-1]):
        chain: list[Point] = []
        for point in run:
            while len(chain) > 1 and not _Turn(chain[-2], chain[-1], point).is_right:
                chain.pop()
            chain.append(point)
        halves.append(chain[:-1])
    return tuple(halves[0] + halves[1])
