"""The seams of a drafted block as lines: where other seams end on them, and which way their allowances fall."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Seam
from planner.find_joins import joins_of_block
from planner.plan import Plan


class Line(NamedTuple):
    """One seam, from its first end to its last. `legs` are its straight stretches, one but of a seam that is set in;
    each is told by the points that divide it: its ends, and where seams of the two sides end on it.

    `falls_left`: whether the allowances fall to the left of that way as it is seen on paper with y up (where (-dy, dx)
    points), up to `turns_at`, and beyond it the other way; None where they are pressed apart.
    """

    number: int
    legs: tuple[tuple[Point, ...], ...]
    falls_left: bool | None
    turns_at: Point | None


class Falls:
    """Which way the allowances of a block's seams fall."""

    def __init__(self, plan: Plan, block: int) -> None:
        self._plan = plan
        self._block = block

    def way(self, number: int) -> list[Point]:
        """The corners of a seam, from its first end to its last."""
        units, seam = self._plan.units, self._plan.units.seams[self._block][number]
        unit = units.units[seam.unit]
        return [units.place_point(point, seam) for point in unit.legs or unit.seam]

    def falls_left(self, number: int) -> bool | None:
        """As `Line.falls_left`."""
        units, pressing = self._plan.units, self._plan.pressing
        if number in pressing.is_open[self._block]:
            return None
        seam = units.seams[self._block][number]
        return units.units[seam.unit].a_on_normal == pressing.to_a[self._block][number]


def trace_seams(plan: Plan, block: int) -> Iterator[Line]:
    """The seams of a drafted block, in their order in `plan.units.seams`."""
    units = plan.units
    seams = units.seams[block]
    falls = Falls(plan, block)
    ends: list[tuple[Point, Point]] = []
    for number, seam in enumerate(seams):
        way = falls.way(number)
        ends.append((way[0], way[-1]))
        legs = tuple(_find_stops(plan, seams, ends, leg, number) for leg in pairwise(way))
        turns_at = None
        if number in plan.pressing.is_spun[block]:
            (join,) = plan.joins.joins[seam.unit]
            turns_at = units.place_point(join.at, seam)
        yield Line(number, legs, falls.falls_left(number), turns_at)


def _find_stops(
    plan: Plan, seams: tuple[Seam, ...], ends: list[tuple[Point, Point]], leg: tuple[Point, Point], number: int
) -> tuple[Point, ...]:
    start, end = leg
    dx, dy = end[0] - start[0], end[1] - start[1]
    left, right = sorted((start[0], end[0]))
    top, bottom = sorted((start[1], end[1]))
    found = {start, end}
    waiting = [*seams[number].sides]
    while waiting:
        inner = waiting.pop()
        if inner < 0:
            continue
        seam = seams[inner]
        unit = plan.units.units[seam.unit]
        wide, high = (unit.width, unit.height) if seam.turn % 2 == 0 else (unit.height, unit.width)
        if seam.x > right or seam.x + wide < left or seam.y > bottom or seam.y + high < top:
            continue  # nothing of it touches the seam
        for x, y in ends[inner]:
            if left <= x <= right and top <= y <= bottom and (x - start[0]) * dy == (y - start[1]) * dx:
                found.add((x, y))
        waiting += seam.sides
    return tuple(sorted(found, key=lambda point: point[0] * dx + point[1] * dy))


def find_clashes(plan: Plan, block: int) -> tuple[Point, ...]:
    """Where in a drafted block a join does not nest (an open seam is no clash), each point once."""
    words = plan.press_words
    found: dict[Point, None] = {}
    for number, join, first, second in joins_of_block(plan.units, plan.joins, block):
        if words.why_not_nesting(block, join, first, second) not in ("", "open"):
            found[plan.units.place_point(join.at, plan.units.seams[block][number])] = None
    return tuple(found)


def number_seams(plan: Plan, block: int) -> tuple[int, ...]:
    """For each seam of a drafted block its number from 1: batches in their order, within one from the upper left."""
    units = plan.units
    place_of = {batch.kind: place for place, batch in enumerate(plan.batches.batches)}
    order = []
    for number, seam in enumerate(units.seams[block]):
        unit = units.units[seam.unit]
        (px, py), (qx, qy) = (units.place_point(point, seam) for point in unit.seam)
        order.append((place_of[unit.kind], py + qy, px + qx, number))
    numbers = [0] * len(order)
    for place, (_, _, _, number) in enumerate(sorted(order), 1):
        numbers[number] = place
    return tuple(numbers)
