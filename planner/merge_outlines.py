"""Two outlines that share a stretch of border -> the outline of both together, inner corners and all."""

from __future__ import annotations

from itertools import pairwise

from planner.blocks import Outline, Point, tidy_outline
from planner.surd import sign_of

_Edge = tuple[Point, Point]


def merge_outlines(first: Outline, second: Outline) -> Outline:
    """The outline round two clockwise outlines that lie side by side. Where it touches itself in a point it passes
    there twice, each time round one of the two corners that meet there."""
    edges = set(_split(first, second)) | set(_split(second, first))
    outer: dict[Point, list[Point]] = {}
    for start, end in sorted(edge for edge in edges if edge[::-1] not in edges):
        outer.setdefault(start, []).append(end)
    corner = min(outer)  # nothing lies further left: there it is no hole
    begin = (corner, outer[corner][0])
    here, there = begin
    found = [corner]
    while (step := (there, _sharpest(here, there, outer[there]))) != begin:
        found.append(there)
        here, there = step
    return tidy_outline(found)


def _sharpest(here: Point, there: Point, beyond: list[Point]) -> Point:
    """Of the points to go on to the one furthest to the right: what lies between both ways is inside."""
    best = beyond[0]
    for point in beyond[1:]:
        if _turns_before(there, here, point, best):
            best = point
    return best


def _turns_before(middle: Point, back: Point, one: Point, other: Point) -> bool:
    """Whether, turning counterclockwise from the way back, one point is met before the other."""
    (bx, by), (px, py), (qx, qy) = ((x - middle[0], y - middle[1]) for x, y in (back, one, other))
    one_is_near, other_is_near = (sign_of(bx * y - by * x) < 0 for x, y in ((px, py), (qx, qy)))
    if one_is_near != other_is_near:
        return one_is_near
    return sign_of(px * qy - py * qx) < 0


def _split(outline: Outline, other: Outline) -> list[_Edge]:
    """The edges of an outline, divided where corners of the other lie on them."""
    edges: list[_Edge] = []
    for start, end in zip(outline, outline[1:] + outline[:1], strict=True):
        on_edge = sorted((point for point in other if _lies_between(start, point, end)), reverse=start > end)
        points = [start, *on_edge, end]
        edges += pairwise(points)
    return edges


def _lies_between(start: Point, point: Point, end: Point) -> bool:
    (ax, ay), (x, y), (bx, by) = start, point, end
    if (bx - ax) * (y - ay) != (by - ay) * (x - ax):
        return False
    return min(start, end) < point < max(start, end)
