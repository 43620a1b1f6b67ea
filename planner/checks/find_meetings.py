"""Where seams meet: the points to match on every seam of a plan, and whether the allowances nest there."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from planner.checks.read_plan import Point, SeamRead, Work, cross
from planner.checks.rooted import Number
from planner.checks.sew_outlines import Sewn

_Side = Literal["a", "b"]


class Met(NamedTuple):
    """A join as the geometry has it: the seams of both sides, by their places among the seams."""

    a: int
    b: int
    nests: bool
    is_open: bool


Joins = dict[tuple[int, Point], Met]  # by the seam being sewn and the point


def find_meetings(work: Work, sewn: Sewn) -> Joins:
    """All joins.

    For each unit the seams that end at each point of it. Points inside a unit stay and do no harm: no later seam leads
    there. The smaller side's points are put to the larger's, so that few are ever moved. A seam that closes another has
    its one side on both its faces.
    """
    ends: list[dict[Point, tuple[int, ...]]] = [{} for _ in work.patches]
    joins: Joins = {}
    for place, seam in enumerate(work.seams):
        a, b = (ends[seam.sides[0]], ends[seam.sides[-1]])
        small, large = (a, b) if len(a) < len(b) else (b, a)
        for point in small:
            if point in large and _is_to_match(work, seam, point):
                of_a = _find_last(work, sewn, place, point, a[point], "a")
                of_b = _find_last(work, sewn, place, point, b[point], "b")
                if of_a is not None and of_b is not None:
                    joins[place, point] = _meet(work, sewn, place, point, of_a, of_b)
        if seam.b is not None:
            for point, seams in small.items():
                large[point] = tuple(sorted((*large.get(point, ()), *seams)))
        for point in (seam.start, seam.end):
            large[point] = (*large.get(point, ()), place)
        for side in seam.sides:
            ends[side] = {}
        ends.append(large)
    return joins


def _is_to_match(work: Work, seam: SeamRead, point: Point) -> bool:
    """Whether a point lies on a seam; not where it begins at what was sewn before."""
    is_sewn = seam.closes is not None and point in (work.seams[seam.closes].start, work.seams[seam.closes].end)
    return not is_sewn and any(_is_on(point, leg) for leg in pairwise(seam.way))


def _is_on(point: Point, leg: tuple[Point, Point]) -> bool:
    return not cross(*leg, point) and all(
        min(leg[0][axis], leg[1][axis]) <= point[axis] <= max(leg[0][axis], leg[1][axis]) for axis in (0, 1)
    )


def _find_last(work: Work, sewn: Sewn, place: int, point: Point, seams: Sequence[int], side: _Side) -> int | None:
    """Of seams that end at a point the last sewn whose end lies at the seam being sewn, on one side of it."""
    corner = _find_corner(work, sewn, place, point, side)
    rays = ((other, _find_ray(work.seams[other], point)) for other in reversed(seams))
    return next((other for other, ray in rays if corner is not None and _is_between(ray, corner)), None)


def _find_ray(seam: SeamRead, point: Point) -> Point:
    """The direction in which a seam leads away from its end."""
    way = seam.way if point == seam.start else seam.way[::-1]
    return _lead(way[0], way[1])


def _find_corner(work: Work, sewn: Sewn, place: int, point: Point, side: _Side) -> tuple[Point, Point] | None:
    """Where the cloth of a side lies at a point of a seam: from one direction round, from x to y, to another.

    An edge may come by more than once: along both faces of a slit, or where it touches itself.
    """
    seam, face = work.seams[place], sewn.faces[place]
    edge = sewn.edges[seam.sides[-1] if side == "b" else seam.a]
    if edge is None or face is None:
        return None
    legs = [leg for leg in pairwise(seam.way) if _is_on(point, leg)]
    ahead = [_lead(point, last) for _, last in legs if last != point]
    behind = [_lead(point, first) for first, _ in legs if first != point]
    goes_along = face == (side == "a")
    leaves, comes = (ahead, behind) if goes_along else (behind, ahead)
    for at, end in enumerate(edge):
        start, after = edge[at - 1], edge[(at + 1) % len(edge)]
        if point == end:
            corner = _lead(end, after), _lead(end, start)
        elif point != start and _is_on(point, (start, end)):
            corner = _lead(point, end), _lead(point, start)
        else:
            continue
        if any(_is_same(corner[0], way) for way in leaves) or any(_is_same(corner[1], way) for way in comes):
            return corner
    return None


def _lead(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _turn(first: Point, second: Point) -> Number:
    """Above 0 where the second direction is less than half a turn from x to y from the first."""
    return first[0] * second[1] - first[1] * second[0]


def _is_same(first: Point, second: Point) -> bool:
    return not _turn(first, second) and first[0] * second[0] + first[1] * second[1] > 0


def _is_between(ray: Point, corner: tuple[Point, Point]) -> bool:
    first, last = corner
    if _turn(first, last) > 0:
        return _turn(first, ray) > 0 and _turn(ray, last) > 0
    if _is_same(first, last):  # all round but for a slit
        return not _is_same(first, ray)
    return not (_turn(last, ray) >= 0 and _turn(ray, first) >= 0)


def _meet(work: Work, sewn: Sewn, place: int, point: Point, a: int, b: int) -> Met:
    ways = [falls_ahead(work, sewn, a, place, point, "a"), falls_ahead(work, sewn, b, place, point, "b")]
    is_open = None in ways
    return Met(a, b, not is_open and ways[0] != ways[1], is_open)


def falls_ahead(work: Work, sewn: Sewn, of_side: int, place: int, point: Point, side: _Side) -> bool | None:
    """Whether the allowances of a seam that ends at the seam being sewn fall toward the end of that; None: open.

    Seen from the point, along the seam that ends there: what lies beyond it (where a turn from x to y leads) is ahead
    if and only if its side lies on the other hand of the seam being sewn. So it does not matter where that turns.
    """
    seam = work.seams[of_side]
    if seam.press == "open":
        return None
    falls_beyond = sewn.faces[of_side] == (seam.press == "a")
    if point == seam.end:  # seen from there it leads the other way; and beyond a spin it is pressed to the other side
        falls_beyond = falls_beyond == (seam.spin is not None)
    lies_beyond = sewn.faces[place] == (side == "a")
    return falls_beyond != lies_beyond
