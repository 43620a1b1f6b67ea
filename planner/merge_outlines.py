"""Two outlines that share a stretch of border -> the outline of both together, inner corners and all."""

from __future__ import annotations

from itertools import pairwise

from planner.blocks import Outline, Point, tidy_outline

_Edge = tuple[Point, Point]


def merge_outlines(first: Outline, second: Outline) -> Outline:
    """The outline round two clockwise outlines that lie side by side."""
    edges = set(_split(first, second)) | set(_split(second, first))
    # Where the outline touches itself in a point two edges leave it: each is walked once, so that the walk ends
    outer: dict[Point, list[Point]] = {}
    for start, end in sorted(edge for edge in edges if edge[::-1] not in edges):
        outer.setdefault(start, []).append(end)
    here = min(outer)
    found = [here]
    while (here := outer[here].pop()) != found[0]:
        found.append(here)
    return tidy_outline(found)


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
