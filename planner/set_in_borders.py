"""Mitred borders: which strip of a frame is set in next, and along which stretches.

Four strips with slanting ends lie round a rectangle; no straight seam parts them. Two opposite ones are sewn on by a
straight seam; the other two are set in, each along the slant of one neighbour, the edge of what lies inside, and the
slant of the other neighbour.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.blocks import Outline, Point
from planner.surd import Grid, sign_of


class Mitre(NamedTuple):
    """A strip that is set in: the numbers of its patches among those given, and the way along its seam: from an outer
    corner to the inner one, along the inside, and out to the other outer corner."""

    strip: frozenset[int]
    legs: tuple[Point, Point, Point, Point]


def find_mitre(outlines: Sequence[Outline], width: Grid, height: Grid) -> Mitre | None:
    """The strip to set in last of a region width x height at 0, 0: the left or the right one, the upper or the lower
    one, whichever lies along all of its side with slanting ends. None where there is none."""
    box = ((0, 0), (width, 0), (width, height), (0, height))
    for side in (3, 1, 0, 2):
        start, end = box[side], box[(side + 1) % 4]
        found = _find_strip(outlines, start, end)
        if found is not None:
            return found
    return None


def _find_strip(outlines: Sequence[Outline], start: Point, end: Point) -> Mitre | None:
    """The strip between two corners of the box: patches with an edge on that side, which cover all of it."""
    ahead = (sign_of(end[0] - start[0]), sign_of(end[1] - start[1]))
    inward = (-ahead[1], ahead[0])

    def place(point: Point) -> Point:  # how far along the side, and how far inside it
        x, y = point[0] - start[0], point[1] - start[1]
        return x * ahead[0] + y * ahead[1], x * inward[0] + y * inward[1]

    length, _ = place(end)
    strip: set[int] = set()
    covered: Grid = 0
    deep: set[Point] = set()
    for number, outline in enumerate(outlines):
        placed = [place(point) for point in outline]
        on_side = sorted(along for along, far in placed if far == 0)
        if len(on_side) == 2:
            strip.add(number)
            covered += on_side[1] - on_side[0]
            deep.update(point for point in placed if point[1] > 0)
    if covered != length or not deep:
        return None
    width = max(far for _, far in deep)
    inner = sorted(along for along, far in deep if far == width)
    first, last = inner[0], inner[-1]
    if {first, length - last} != {width} or len(strip) == len(outlines):
        return None  # its ends do not slant by half a right angle

    def point(along: Grid, far: Grid) -> Point:
        return (
            start[0] + along * ahead[0] + far * inward[0],
            start[1] + along * ahead[1] + far * inward[1],
        )

    legs = (start, point(first, width), point(last, width), end)
    others = [set(outline) for number, outline in enumerate(outlines) if number not in strip]
    if not all(any(set(slant) <= outline for outline in others) for slant in (legs[:2], legs[2:])):
        return None  # a neighbour is not there yet, so it is the neighbour that is set in against this strip
    return Mitre(frozenset(strip), legs)
