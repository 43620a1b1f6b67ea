"""Units -> what lies round the ends of a last seam: how wide the corner there is that its patches make, where the seam
must stop, since something is set in there later, and how far the raw edges go beyond it.

A slit (what is not sewn yet of a seam sewn in part) bounds such a corner as the border does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.bend_cuts import is_straight, lies_on
from planner.blocks import Outline, Point
from planner.build_units import Segment, Side, Unit, Units, list_ends, place_segments
from planner.find_cuts import Placed
from planner.measure import Root, square_root
from planner.surd import Grid, approach, sign_of, size_of

_FINE = Fraction(1, 1 << 40)


class Corner(NamedTuple):
    """What patches that are sewn together fill round a point: clockwise from the way to `start` to the way to `end`."""

    at: Point
    start: Point
    end: Point
    is_whole: bool = False  # it goes all round the point, maybe but for a slit

    @property
    def bend(self) -> int:
        """1 where the corner is less than straight, 0 where the border runs straight on, -1 of an inner corner."""
        if self.is_whole:
            return -1
        (ax, ay), (bx, by) = self._sides
        return sign_of(ax * by - ay * bx)

    def is_square_to(self, before: Point) -> bool:
        """Whether both of its sides are square to the way to a point."""
        x, y = before[0] - self.at[0], before[1] - self.at[1]
        return all(x * px + y * py == 0 for px, py in self._sides)

    @property
    def reach(self) -> Fraction:
        """How far a raw edge goes beyond the finished corner, for an allowance of 1: at an angle of t 1 / tan(t / 2),
        which is (1 + cos t) / sin t. Within 2**-39 of the exact value; of a corner less than straight only."""
        (ax, ay), (bx, by) = self._sides
        dot, cross = ax * bx + ay * by, approach(size_of(ax * by - ay * bx))
        lengths = square_root(Fraction(approach((ax * ax + ay * ay) * (bx * bx + by * by))))
        both = lengths.up_to(_FINE) if isinstance(lengths, Root) else lengths
        return Fraction(both + approach(dot)) / cross

    @property
    def _sides(self) -> tuple[Point, Point]:
        (x, y), (ax, ay), (bx, by) = self.at, self.start, self.end
        return (ax - x, ay - y), (bx - x, by - y)


class EdgeEnd(NamedTuple):
    """Where an edge to sew ends, which may be an inner corner, and how far beyond the end of the seam (squared, in grid
    units)."""

    corner: Corner
    beyond: Grid


def find_stops(units: Units, unit: Unit) -> tuple[Point, ...]:
    """The ends of a unit's last seam where it stops at the dot, one allowance from the raw edges: the inner corners of
    the unit, into which something is set later. Where it stops half way, since it is sewn in part, is none of them."""
    begun = unit.closes.stop if unit.closes else unit.stops_at
    return tuple(
        corner.at
        for corner, _ in _look_at_ends(units, unit)
        if corner.at != begun and not corner.is_whole and corner.bend < 0
    )


def has_ears(units: Units, unit: Unit) -> bool:
    """Whether points of allowance stick out past the raw edge at an end of a unit's last seam: where that meets the
    border askew. None do where the seam ends inside: in an inner corner, or where it stops half way."""
    return any(corner.bend >= 0 and not corner.is_square_to(before) for corner, before in _look_at_ends(units, unit))


def find_edge_end(units: Units, side: Side, end: Point, other: Point) -> EdgeEnd:
    """Where the edge ends that a side has along a seam from `other` to `end`, and maybe beyond."""
    placed = units.place_patches(side)
    slits = place_segments(units.units[side.unit].slits, units.spread(side.unit, side.turn), side)
    at, back = end, other
    while not (corner := _grow(_touch(units, placed, at), slits, at, back)).bend:
        at, back = corner.start if _is_same_way(at, back, corner.end) else corner.end, at
    return EdgeEnd(corner, (at[0] - end[0]) ** 2 + (at[1] - end[1]) ** 2)


def _look_at_ends(units: Units, unit: Unit) -> Iterator[tuple[Corner, Point]]:
    """What lies round each end of a unit's last seam, and the point that the seam comes from there."""
    for end, before in list_ends(unit):
        yield _grow(_touch(units, unit.patches, end), unit.slits, end, before), before


def _touch(units: Units, patches: Iterable[Placed], at: Point) -> list[Outline]:
    """Those patches of which the box touches a point."""
    (px, py), shapes = at, units.cuts.shapes
    return [
        units.cuts.outline((y, x, shape))
        for y, x, shape in patches
        if x <= px <= x + shapes[shape].width and y <= py <= y + shapes[shape].height
    ]


def _grow(outlines: Sequence[Outline], slits: Iterable[Segment], at: Point, along: Point) -> Corner:
    """What hangs together round a point on both sides of a seam that leaves it toward `along`, or on one side of it."""
    bits = list(_list_bits(outlines, at))
    bounds = [end for slit in slits if lies_on(at, *slit) for end in slit if end != at]
    ahead = next((bit for bit in bits if _is_same_way(at, bit[0], along)), None)
    behind = next((bit for bit in bits if _is_same_way(at, bit[1], along)), None)
    end = _follow(at, bits, bounds, ahead, 1) if ahead else along
    start = _follow(at, bits, bounds, behind, 0) if behind else along
    if start is None or end is None or _is_same_way(at, start, end):  # up to both sides of a slit that ends here
        return Corner(at, along, along, is_whole=True)
    return Corner(at, start, end)


def _follow(at: Point, bits: Sequence[Segment], bounds: Sequence[Point], first: Segment, way: int) -> Point | None:
    """The last side of what hangs together, clockwise (`way` 1) or the other way; None where it comes round."""
    here = first
    while not any(_is_same_way(at, here[way], bound) for bound in bounds):
        after = next((bit for bit in bits if _is_same_way(at, bit[1 - way], here[way])), None)
        if after is None:
            break
        if after == first:
            return None
        here = after
    return here[way]


def _list_bits(outlines: Sequence[Outline], at: Point) -> Iterator[Segment]:
    """What each patch fills round a point: clockwise from the first way to the second. Outlines go clockwise."""
    for outline in outlines:
        for place, corner in enumerate(outline):
            before, after = outline[place - 1], outline[(place + 1) % len(outline)]
            if corner == at:
                yield after, before
            elif after != at and lies_on(at, corner, after):
                yield after, corner


def _is_same_way(at: Point, one: Point, other: Point) -> bool:
    return one == other or is_straight(at, one, other) or is_straight(at, other, one)
