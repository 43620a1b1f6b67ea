"""Units -> what lies along each last seam: how long which fabric, and whether a bias edge does."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple

from planner.bend_cuts import lies_beside
from planner.blocks import Outline, Point
from planner.build_units import Segment, Unit, Units
from planner.find_cuts import Cuts, Normal
from planner.surd import Grid, size_of, to_least
from planner.turn_prints import NO_WAY
from planner.turns import turn_direction


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

    def _find_grain(self, number: int) -> Point:
        """A direction along which a shape is cut on grain. What lies turned by parts of a quarter was cut as its patch
        lies in its pile."""
        shape = self.units.cuts.shapes[number]
        grain = find_grain(shape.outline, shape.askew, shape.up)
        if shape.between and grain != find_grain(shape.outline, not shape.askew, shape.up):
            return self._grain_as_cut.get(number, grain)
        return grain

    @cached_property
    def _grain_as_cut(self) -> dict[int, Point]:
        """The grain of every shape that some patch looks like after a turn, as it lies then."""
        shapes = self.units.cuts.shapes
        found: dict[int, Point] = {}
        for unit in self.units.units:
            if unit.shape < 0:
                continue
            here = unit.shape
            for quarter in range(4):
                found.setdefault(here, turn_direction((1, 0), quarter))
                here = shapes[here].turned
            for turn, (other, _, _) in shapes[unit.shape].between.items():
                found.setdefault(other, turn_direction((1, 0), turn))
        return found

    def look(self, unit: Unit) -> tuple[Along, Along]:
        """What lies along a unit's last seam on side a, and on side b. The unit is no patch."""
        if unit.is_bent or unit.b is None:  # the patches of both sides may reach over the line
            return self._look_beside(unit)
        assert unit.a is not None
        (px, py), (dx, dy) = unit.seam[0], find_step(unit.seam)
        edges = self._edges.setdefault((-dy, dx), {})
        at = px * -dy + py * dx
        ahead: dict[str, Grid] = {}
        behind: dict[str, Grid] = {}
        bias_ahead = bias_behind = False
        for y, x, shape in unit.patches:
            here = edges.get(shape)
            if here is None:
                here = edges[shape] = _find_edges(self.units.cuts, shape, (-dy, dx), self._find_grain(shape))
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
        return sides if unit.a_on_normal else (sides[1], sides[0])

    def _look_beside(self, unit: Unit) -> tuple[Along, Along]:
        """The same of any seam, stretch by stretch: what lies beside it."""
        lengths: tuple[dict[str, Grid], dict[str, Grid]] = ({}, {})
        has_bias = [False, False]
        for leg in pairwise(unit.legs) if unit.legs else [unit.seam]:
            (px, py), (dx, dy) = leg[0], find_step(leg)
            start, stop = sorted(x * dx + y * dy for x, y in leg)
            for _, _, shape_number, outline in self._outlines(unit):
                is_on_normal = lies_beside(outline, *leg)
                if is_on_normal is None:
                    continue
                on_line = sorted(x * dx + y * dy for x, y in outline if (x - px) * dy == (y - py) * dx)
                which = is_on_normal != unit.a_on_normal
                shape = self.units.cuts.shapes[shape_number]
                long = min(stop, on_line[-1]) - max(start, on_line[0])
                lengths[which][shape.fabric] = lengths[which].get(shape.fabric, 0) + long
                has_bias[which] |= is_bias((dx, dy), self._find_grain(shape_number))
        return Along(lengths[0], has_bias[0]), Along(lengths[1], has_bias[1])

    def _outlines(self, unit: Unit) -> Iterator[tuple[Grid, Grid, int, Outline]]:
        for placed in unit.patches:
            yield *placed, self.units.cuts.outline(placed)


def find_step(seam: Segment) -> Point:
    """One step for all seams of a direction (see `to_least`)."""
    (px, py), (qx, qy) = seam
    return to_least(qx - px, qy - py)


def find_grain(outline: Outline, is_askew: bool = False, up: int = NO_WAY) -> Point:
    """A direction along which (and across which) a patch is cut on grain: the block's edges (where it `is_askew`, those
    of a quilt on point), but a square or a rectangle that lies askew is cut along its own sides, and half of a square
    along its short ones. What has a print with a direction is cut along that (`up`, see `turn_prints`)."""
    frame = (1, 1) if is_askew else (1, 0)
    if up != NO_WAY:
        return frame
    if len(outline) == 4:
        sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True)]
        if all(ax * bx + ay * by == 0 for (ax, ay), (bx, by) in pairwise(sides)):
            return sides[0]
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


def _find_edges(cuts: Cuts, shape: int, normal: Normal, grain: Point) -> _Edges:
    a, b = normal
    outline = cuts.shapes[shape].outline
    values = [a * x + b * y for x, y in outline]
    is_on_bias = is_bias((b, -a), grain)

    def edge(value: Grid) -> tuple[Grid, bool]:
        ends = [b * x - a * y for (x, y), here in zip(outline, values, strict=True) if here == value]
        return (max(ends) - min(ends), is_on_bias) if len(ends) == 2 else (0, False)

    return _Edges(min(values), max(values), edge(min(values)), edge(max(values)))
