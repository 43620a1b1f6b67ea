"""Units -> what lies along each last seam: how long which fabric, and whether a bias edge does."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from planner.blocks import Outline, Point
from planner.build_units import Segment, Side, Unit, Units
from planner.find_cuts import Cuts, Normal
from planner.find_joins import is_on_normal_side
from planner.surd import Grid, size_of, to_least


class Along(NamedTuple):
    """One side of a seam: the length that each fabric has there (in steps along the seam), and whether a bias edge is
    there."""

    lengths: dict[str, Grid]
    has_bias: bool


class _Edges(NamedTuple):
    """How far a shape at the origin reaches along a normal, and its edge at either end: length (0: a corner) and
    whether it is on the bias."""

    low: Grid
    high: Grid
    at_low: tuple[Grid, bool]
    at_high: tuple[Grid, bool]


class SeamSides:
    """Looks along seams. What it needs of a shape it works out once for each direction."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self._edges: dict[Normal, dict[int, _Edges]] = {}

    def look(self, unit: Unit) -> tuple[Along, Along]:
        """What lies along a unit's last seam on side a, and on side b. The unit is no patch."""
        assert unit.a is not None
        assert unit.b is not None
        if unit.legs:  # it bends: the patches of both sides may reach over the line
            return self._look_beside(unit.a, unit.seam), self._look_beside(unit.b, unit.seam)
        (px, py), (dx, dy) = unit.seam[0], find_step(unit.seam)
        edges = self._edges.setdefault((-dy, dx), {})
        at = px * -dy + py * dx
        ahead: dict[str, Grid] = {}
        behind: dict[str, Grid] = {}
        bias_ahead = bias_behind = False
        for y, x, shape in unit.patches:
            here = edges.get(shape)
            if here is None:
                here = edges[shape] = _find_edges(self.units.cuts, shape, (-dy, dx))
            rest = at - y * dx + x * dy
            if here.low == rest:
                length, is_on_bias = here.at_low
                if length:
                    fabric = self.units.cuts.shapes[shape].fabric
                    ahead[fabric] = ahead.get(fabric, 0) + length
                    bias_ahead |= is_on_bias
            elif here.high == rest:
                length, is_on_bias = here.at_high
                if length:
                    fabric = self.units.cuts.shapes[shape].fabric
                    behind[fabric] = behind.get(fabric, 0) + length
                    bias_behind |= is_on_bias
        sides = Along(ahead, bias_ahead), Along(behind, bias_behind)
        return sides if is_on_normal_side(self.units, unit.a, unit.seam) else (sides[1], sides[0])

    def _look_beside(self, side: Side, seam: Segment) -> Along:
        """What a side has along the line of a seam."""
        (px, py), (dx, dy) = seam[0], find_step(seam)
        lengths: dict[str, Grid] = {}
        has_bias = False
        for placed in self.units.place_near(side, seam):
            shape = self.units.cuts.shapes[placed[2]]
            outline = self.units.cuts.outline(placed)
            on_line = [x * dx + y * dy for x, y in outline if (x - px) * dy == (y - py) * dx]
            if len(on_line) == 2:
                lengths[shape.fabric] = lengths.get(shape.fabric, 0) + size_of(on_line[1] - on_line[0])
                has_bias |= is_bias((dx, dy), find_grain(outline, shape.askew))
        return Along(lengths, has_bias)


def find_step(seam: Segment) -> tuple[int, int]:
    """The shortest step of whole numbers along a seam."""
    (px, py), (qx, qy) = seam
    return to_least(qx - px, qy - py)


def find_grain(outline: Outline, is_askew: bool = False) -> Point:
    """A direction along which (and across which) a patch is cut on grain: the block's edges (where it `is_askew`, those
    of a quilt on point), but a square or a rectangle that lies askew is cut along its own sides, and half of a square
    along its short ones."""
    if len(outline) == 4:
        sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True)]
        if all(ax * bx + ay * by == 0 for (ax, ay), (bx, by) in pairwise(sides)):
            return sides[0]
    frame = (1, 1) if is_askew else (1, 0)
    if len(outline) == 3:
        sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True)]
        one, other, long = sorted(sides, key=lambda side: side[0] ** 2 + side[1] ** 2)
        is_half_square = one[0] * other[0] + one[1] * other[1] == 0 and size_of(one[0]) == size_of(other[1])
        if is_half_square and is_bias(long, frame):
            return one
    return frame


def is_bias(direction: Point, grain: Point) -> bool:
    """Whether an edge runs neither along the grain nor across it, and so stretches."""
    along = direction[0] * grain[1] - direction[1] * grain[0]
    across = direction[0] * grain[0] + direction[1] * grain[1]
    return along != 0 and across != 0


def _find_edges(cuts: Cuts, shape: int, normal: Normal) -> _Edges:
    a, b = normal
    outline = cuts.shapes[shape].outline
    values = [a * x + b * y for x, y in outline]
    is_on_bias = is_bias((b, -a), find_grain(outline, cuts.shapes[shape].askew))

    def edge(value: Grid) -> tuple[Grid, bool]:
        ends = [b * x - a * y for (x, y), here in zip(outline, values, strict=True) if here == value]
        return (max(ends) - min(ends), is_on_bias) if len(ends) == 2 else (0, False)

    return _Edges(min(values), max(values), edge(min(values)), edge(max(values)))
