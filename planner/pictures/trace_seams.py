"""The seams of a drafted block as lines: where other seams end on them, and which way their allowances fall."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Seam
from planner.find_joins import is_on_normal_side, joins_of_block
from planner.plan import Plan


class Line(NamedTuple):
    """One seam. `stops` are the points that divide it, from its first end to its last: its ends, and where seams of
    its two sides end on it.

    `toward` points to where the allowances fall (any length), up to `turns_at`, and beyond it the other way; None
    where they are pressed apart.
    """

    number: int
    start: Point
    end: Point
    stops: tuple[Point, ...]
    toward: Point | None
    turns_at: Point | None


def trace_seams(plan: Plan, block: int) -> Iterator[Line]:
    """The seams of a drafted block, in their order in `plan.units.seams`."""
    units = plan.units
    seams = units.seams[block]
    ends: list[tuple[Point, Point]] = []
    on_normal: dict[int, bool] = {}
    for number, seam in enumerate(seams):
        unit = units.units[seam.unit]
        assert unit.a is not None
        if seam.unit not in on_normal:
            on_normal[seam.unit] = is_on_normal_side(units, unit.a, unit.seam)
        start, end = (units.place_point(point, seam) for point in unit.seam)
        ends.append((start, end))
        dx, dy = end[0] - start[0], end[1] - start[1]
        to_normal = on_normal[seam.unit] == plan.pressing.to_a[block][number]
        toward = (-dy, dx) if to_normal else (dy, -dx)
        turns_at = None
        if number in plan.pressing.is_spun[block]:
            (join,) = plan.joins.joins[seam.unit]
            turns_at = units.place_point(join.at, seam)
        is_open = number in plan.pressing.is_open[block]
        stops = _find_stops(plan, seams, ends, number)
        yield Line(number, start, end, stops, None if is_open else toward, turns_at)


def _find_stops(plan: Plan, seams: tuple[Seam, ...], ends: list[tuple[Point, Point]], number: int) -> tuple[Point, ...]:
    start, end = ends[number]
    dx, dy = end[0] - start[0], end[1] - start[1]
    left, right = sorted((start[0], end[0]))
    top, bottom = sorted((start[1], end[1]))
    found = {start, end}
    waiting = [seams[number].a, seams[number].b]
    while waiting:
        inner = waiting.pop()
        if inner < 0:
            continue
        seam = seams[inner]
        unit = plan.units.units[seam.unit]
        wide, high = (unit.width, unit.height) if seam.turn % 2 == 0 else (unit.height, unit.width)
        if seam.x > right or seam.x + wide < left or seam.y > bottom or seam.y + high < top:
            continue
        for x, y in ends[inner]:
            if left <= x <= right and top <= y <= bottom and (x - start[0]) * dy == (y - start[1]) * dx:
                found.add((x, y))
        waiting += [seam.a, seam.b]
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
