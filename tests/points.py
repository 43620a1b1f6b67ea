"""Points of a printed plan, exact: inches, x to the right, y down. On a quilt on point they have a root of 2."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from planner.checks.plan_file import PlanPatch, PlanPoint, PlanSeam
from planner.checks.rooted import Rooted
from planner.checks.surd import read_rooted
from planner.surd import Exact, Surd, sign_of, size_of

Point = tuple[Exact, Exact]
Stretch = tuple[Point, Point]


def read_exact(text: str) -> Exact:
    """A length of a printed plan: `6 1/2`, `13/2 + 3/4*sqrt(2)`."""
    value = read_rooted(text)
    if isinstance(value, Rooted):
        return Surd(Fraction(value.plain), Fraction(value.times), value.of)
    return Fraction(value)


def read_point(texts: PlanPoint) -> Point:
    """Two lengths: `["6 1/2", "3"]`."""
    x, y = (read_exact(text) for text in texts)
    return x, y


def read_outline(patch: PlanPatch) -> tuple[Point, ...]:
    return tuple(read_point(corner) for corner in patch["corners"])


def read_way(seam: PlanSeam) -> tuple[Point, ...]:
    """The points along a seam, from its one end to its other: of one that is set in its corners as well."""
    legs = seam.get("legs") or [(seam["from"], seam["to"])]
    return (*(read_point(start) for start, _ in legs), read_point(seam["to"]))


def read_stretch(seam: PlanSeam) -> Stretch:
    """Where a seam lies: of one that is set in the stretch in the middle of its way, which the others follow."""
    stretches = list(pairwise(read_way(seam)))
    return stretches[len(stretches) // 2]


def to_float(value: Exact) -> float:
    return float(value.plain) + float(value.times) * value.of**0.5 if isinstance(value, Surd) else float(value)


def turn(start: Point, end: Point, point: Point) -> Exact:
    """Above 0 where the way start, end, point turns from x to y; 0 where the three lie in line."""
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


def find_side(start: Point, end: Point, outline: Sequence[Point]) -> int:
    """On which side of a line an outline lies that it does not cut: 1 where turning from x to y leads, -1 where not."""
    sides = {sign_of(turn(start, end, corner)) for corner in outline} - {0}
    assert len(sides) == 1, "the line cuts it"
    return sides.pop()


def find_side_at(start: Point, end: Point, outlines: Sequence[Sequence[Point]]) -> int:
    """On which side of a stretch those of these outlines lie that have an edge on it: what is sewn to a mitred border
    may reach beyond the line elsewhere."""
    return find_side(
        start, end, [corner for outline in outlines if lies_along(start, end, outline) for corner in outline]
    )


def lies_along(start: Point, end: Point, outline: Sequence[Point]) -> bool:
    """Whether an outline has an edge on the line of a stretch, and some of it within the stretch."""
    way = (end[0] - start[0], end[1] - start[1])
    reaches = [
        (point[0] - start[0]) * way[0] + (point[1] - start[1]) * way[1]
        for point in outline
        if turn(start, end, point) == 0
    ]
    return len(reaches) > 1 and max(reaches) > 0 and min(reaches) < way[0] * way[0] + way[1] * way[1]


def find_area(outline: Sequence[Point]) -> Exact:
    first = outline[0]
    twice: Exact = sum((turn(first, outline[at - 1], corner) for at, corner in enumerate(outline)), start=Fraction(0))
    return size_of(twice) / 2


def list_patches(side: str, seams: Mapping[str, PlanSeam]) -> list[str]:
    """The patches in a side of a seam; `seams` by their ids."""
    waiting, patches = [side], []
    while waiting:
        here = waiting.pop()
        if here in seams:
            waiting += [seams[here]["a"], seams[here]["b"] or ""]
        else:
            patches.append(here)
    return patches
