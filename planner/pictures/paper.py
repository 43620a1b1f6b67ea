"""Where a drafted block lies on the paper: grid units -> billionths of an inch (or of a centimetre).

A quilt on point is drawn in the frame of its blocks, which is then turned as a whole, so that its numbers stay plain.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cached_property
from math import floor, isqrt
from typing import NamedTuple

from planner.blocks import Point
from planner.measure import INCHES_PER_CM
from planner.pictures.svg_elements import HALF_ROOT, ONE, Spot, spell_decimal
from planner.plan import Plan
from planner.surd import Grid, Surd
from planner.turn_prints import see_up


class Room(NamedTuple):
    """The middle of a patch (its centre of gravity) and how far it is from there to the nearest edge."""

    middle: Spot
    reach: int


class Paper:
    """The paper of one drafted block. All lengths are in billionths of `unit` ("in" or "cm")."""

    def __init__(self, plan: Plan, block: int) -> None:
        self.plan = plan
        self.drafted = plan.blocks.drafted[block]
        self.unit = plan.project.measure
        self._per_grid = Fraction(ONE, plan.blocks.scale)
        if self.unit == "cm":
            self._per_grid /= INCHES_PER_CM
        self._lengths: dict[Grid, int] = {}
        top = plan.blocks.top
        self.is_askew = self.drafted.is_top and top is not None and top.on_point
        self.outlines = [tuple(map(self.spot, patch.outline)) for patch in self.drafted.patches]
        self.left, self.top, self.width, self.height = self._find_frame()

    def length(self, value: Grid) -> int:
        """A length of the grid; exact where its decimals end after nine digits, else to the nearest billionth."""
        found = self._lengths.get(value)
        if found is None:
            if isinstance(value, Surd):
                root = Fraction(isqrt(value.of * ONE**4), ONE**2)
                exact = (value.plain + value.times * root) * self._per_grid
            else:
                exact = value * self._per_grid
            found = self._lengths[value] = floor(exact + Fraction(1, 2))
        return found

    def spot(self, point: Point) -> Spot:
        return self.length(point[0]), self.length(point[1])

    def inches(self, hundredths: int) -> int:
        """So many hundredths of an inch."""
        inch = ONE if self.unit == "in" else floor(ONE / INCHES_PER_CM)
        return inch * hundredths // 100

    def _find_frame(self) -> tuple[int, int, int, int]:
        """Left, top, width and height of the picture as one looks at it."""
        if self.is_askew:
            seen = [turn_to_eye(spot) for outline in self.outlines for spot in outline]
        else:
            seen = [spot for outline in self.outlines for spot in outline]
        xs, ys = [x for x, _ in seen], [y for _, y in seen]
        return min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)

    def place(self, x: int, y: int) -> str:
        """The transform that brings the picture's upper left corner, as one looks at it, to x, y."""
        shift = f"translate({spell_decimal(x - self.left)} {spell_decimal(y - self.top)})"
        return f"{shift} rotate(45)" if self.is_askew else shift

    def see_up(self, up: int) -> int:
        """Where a print that points to `up` in its frame points as one looks at the picture."""
        return see_up(up, self.is_askew)

    def see(self, spot: Spot, x: int, y: int) -> Spot:
        """Where a spot of the picture lies on the page when its upper left corner lies at x, y."""
        across, down = turn_to_eye(spot) if self.is_askew else spot
        return across + x - self.left, down + y - self.top

    @cached_property
    def rooms(self) -> list[Room]:
        """Of each patch."""
        known: dict[tuple[Spot, ...], Room] = {}
        rooms = []
        for outline in self.outlines:
            x0, y0 = outline[0]
            form = tuple((x - x0, y - y0) for x, y in outline)
            room = known.get(form)
            if room is None:
                room = known[form] = _find_room(form)
            rooms.append(Room((room.middle[0] + x0, room.middle[1] + y0), room.reach))
        return rooms

    @cached_property
    def typical(self) -> int:
        """The side of a square as large as a patch of the middle size."""
        areas = sorted(_twice_area(outline) // 2 for outline in self.outlines)
        return isqrt(areas[len(areas) // 2])

    @cached_property
    def thinnest(self) -> int:
        """How wide the thinnest patch is, about."""
        return 2 * min(room.reach for room in self.rooms)


def turn_to_eye(spot: Spot) -> Spot:
    """A spot of the frame of blocks that stand on point, as one looks at it."""
    x, y = spot
    return (x - y) * HALF_ROOT // ONE, (x + y) * HALF_ROOT // ONE


def distance(first: Spot, second: Spot) -> int:
    return isqrt((first[0] - second[0]) ** 2 + (first[1] - second[1]) ** 2)


def midway(first: Spot, second: Spot) -> Spot:
    return (first[0] + second[0]) // 2, (first[1] + second[1]) // 2


def _twice_area(outline: Sequence[Spot]) -> int:
    pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs))


def _find_room(outline: Sequence[Spot]) -> Room:
    pairs = list(zip(outline, (*outline[1:], outline[0]), strict=True))
    crosses = [ax * by - ay * bx for (ax, ay), (bx, by) in pairs]
    six_areas = 3 * sum(crosses)
    x = sum((a[0] + b[0]) * cross for (a, b), cross in zip(pairs, crosses, strict=True)) // six_areas
    y = sum((a[1] + b[1]) * cross for (a, b), cross in zip(pairs, crosses, strict=True)) // six_areas
    return Room((x, y), reach_from((x, y), outline))


def reach_from(spot: Spot, outline: Sequence[Spot]) -> int:
    """How far it is from a spot to the nearest edge of an outline."""
    x, y = spot
    return min(
        abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) // max(1, distance((ax, ay), (bx, by)))
        for (ax, ay), (bx, by) in zip(outline, (*outline[1:], outline[0]), strict=True)
    )
