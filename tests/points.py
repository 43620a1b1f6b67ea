"""Points of a printed plan, exact: inches, x to the right, y down."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.checks.plan_file import PlanPatch, PlanPoint

Point = tuple[Fraction, Fraction]


def read_point(texts: PlanPoint) -> Point:
    """Two lengths: `["6 1/2", "3"]`."""
    x, y = (sum((Fraction(word) for word in text.split()), start=Fraction(0)) for text in texts)
    return x, y


def read_outline(patch: PlanPatch) -> tuple[Point, ...]:
    return tuple(read_point(corner) for corner in patch["corners"])


def turn(start: Point, end: Point, point: Point) -> Fraction:
    """Above 0 where the way start, end, point turns from x to y; 0 where the three lie in line."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def find_side(start: Point, end: Point, outline: Sequence[Point]) -> int:
    """On which side of a line an outline lies that it does not cut: 1 where turning from x to y leads, -1 where not."""
    turns = [turn(start, end, corner) for corner in outline]
    assert min(turns) >= 0 or max(turns) <= 0, "the line cuts it"
    return 1 if max(turns) > 0 else -1


def find_area(outline: Sequence[Point]) -> Fraction:
    first = outline[0]
    twice = sum((turn(first, outline[at - 1], corner) for at, corner in enumerate(outline)), start=Fraction(0))
    return abs(twice) / 2
