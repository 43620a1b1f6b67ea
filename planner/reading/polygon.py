"""Polygons, exactly: areas, turns, touching, overlap.

A polygon is the tuple of its corners, x right, y down; its last side runs back to the first corner. Coordinates are of
any ordered kind of number: `int`, `Fraction`, or one with roots. Only + - * and < are used on them, so nothing is
rounded and nothing is divided: a point that would need a division is a `Place`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any, Generic, NamedTuple, Protocol, TypeVar


class Coordinate(Protocol):
    """What is asked of a number. Of two with a root a plain one may come, so no type says what comes of what."""

    def __add__(self, other: Any, /) -> Any: ...
    def __sub__(self, other: Any, /) -> Any: ...
    def __mul__(self, other: Any, /) -> Any: ...
    def __lt__(self, other: Any, /) -> bool: ...


N = TypeVar("N", bound=Coordinate)


class Place(NamedTuple, Generic[N]):
    """The point (x / over, y / over); `over` is above 0."""

    x: N
    y: N
    over: N


class Box(NamedTuple, Generic[N]):
    """The upright rectangle round something."""

    west: N
    north: N
    east: N
    south: N

    def overlaps(self, other: Box[N]) -> bool:
        """Whether the two share more than a border."""
        return (
            self.west < other.east and other.west < self.east and self.north < other.south and other.north < self.south
        )

    def touches(self, other: Box[N]) -> bool:
        """Whether the two share anything."""
        return not (
            self.east < other.west or other.east < self.west or self.south < other.north or other.south < self.north
        )


def box_round(corners: Sequence[tuple[N, N]]) -> Box[N]:
    """The upright rectangle round at least one point."""
    xs = [x for x, _ in corners]
    ys = [y for _, y in corners]
    return Box(_least(xs), _least(ys), _most(xs), _most(ys))


def turn_at(a: tuple[N, N], b: tuple[N, N], c: tuple[N, N]) -> N:
    """Twice the area of the triangle: above 0 where going a, b, c turns clockwise as it is seen, 0 on a line."""
    turn: N = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return turn


def twice_area(corners: Sequence[tuple[N, N]]) -> N:
    """Twice the area of a simple polygon: above 0 where its corners run clockwise as it is seen."""
    first = corners[0]
    total: N = first[0] - first[0]
    for b, c in pairwise(corners[1:]):
        total = total + turn_at(first, b, c)
    return total


def run_clockwise(corners: Sequence[tuple[N, N]]) -> tuple[tuple[N, N], ...]:
    """The same simple polygon, its corners clockwise as it is seen."""
    return tuple(corners) if sign_of(twice_area(corners)) >= 0 else tuple(reversed(corners))


def drop_straight_corners(corners: Sequence[tuple[N, N]]) -> tuple[tuple[N, N], ...]:
    """The corners at which the outline turns: none twice in a row, none on a straight side.

    A corner at which the outline runs straight back is kept: it is no polygon's, and `find_touch` tells of it.
    """
    kept = [corner for corner, after in zip(corners, (*corners[1:], *corners[:1]), strict=True) if corner != after]
    if len(kept) < 3:
        return tuple(kept)
    return tuple(
        b
        for a, b, c in zip((kept[-1], *kept), kept, (*kept[1:], kept[0]), strict=False)
        if sign_of(turn_at(a, b, c)) or sign_of(_go_on(a, b, c)) < 0
    )


def find_touch(corners: Sequence[tuple[N, N]]) -> tuple[int, int] | None:
    """Two sides of a polygon that cross or touch where they should not, by number; None for a simple polygon.

    Side 0 runs from corner 0 to corner 1. At least three corners, none twice in a row.
    """
    count = len(corners)
    sides = [(corners[at], corners[(at + 1) % count]) for at in range(count)]
    boxes = [box_round(side) for side in sides]
    for first, second in pairs_that_touch(boxes):
        one, two = min(first, second), max(first, second)
        if two - one == 1 or two - one == count - 1:
            a, b, c = (*sides[one], sides[two][1]) if two - one == 1 else (*sides[two], sides[one][1])
            is_touch = not sign_of(turn_at(a, b, c)) and sign_of(_go_on(a, b, c)) < 0
        else:
            is_touch = _do_sides_touch(sides[one], sides[two])
        if is_touch:
            return one, two
    return None


def is_simple(corners: Sequence[tuple[N, N]]) -> bool:
    """Whether the outline has an area and neither crosses nor touches itself."""
    if len(corners) < 3 or any(a == b for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)):
        return False
    return find_touch(corners) is None and sign_of(twice_area(corners)) != 0


def is_convex(corners: Sequence[tuple[N, N]]) -> bool:
    """Whether a simple polygon turns one way only."""
    count = len(corners)
    turns = {sign_of(turn_at(corners[at - 2], corners[at - 1], corners[at])) for at in range(count)}
    return not {1, -1} <= turns


def where_in(corners: Sequence[tuple[N, N]], point: tuple[N, N]) -> int:
    """1 where the point lies inside of a simple polygon, 0 on its outline, -1 outside."""
    is_inside = False
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        turn = sign_of(turn_at(a, b, point))
        if turn == 0 and _is_between(a, b, point):
            return 0
        # a level ray from the point to the east: a side that ends on its line counts with its lower end alone
        if (a[1] < point[1]) != (b[1] < point[1]) and (turn > 0) == (a[1] < b[1]):
            is_inside = not is_inside
    return 1 if is_inside else -1


def triangulate(corners: Sequence[tuple[N, N]]) -> list[tuple[tuple[N, N], ...]]:
    """Triangles, clockwise as they are seen, that make up a simple polygon."""
    left = list(run_clockwise(corners))
    triangles: list[tuple[tuple[N, N], ...]] = []
    at = since = 0
    while len(left) > 2 and since <= len(left):
        at %= len(left)
        a, b, c = left[at - 1], left[at], left[(at + 1) % len(left)]
        turn = sign_of(turn_at(a, b, c))
        if turn == 0 or (turn > 0 and not _stands_any_in((a, b, c), left)):
            if turn:
                triangles.append((a, b, c))
            del left[at]
            since = 0
        else:
            at += 1
            since += 1
    return triangles


def find_overlap(first: Sequence[tuple[N, N]], second: Sequence[tuple[N, N]]) -> Place[N] | None:
    """A place inside both of two simple polygons; None where they share at most parts of their outlines."""
    if not box_round(first).overlaps(box_round(second)):
        return None
    if is_convex(first) and is_convex(second) and _is_line_between(run_clockwise(first), run_clockwise(second)):
        return None
    others = [(triangle, box_round(triangle)) for triangle in triangulate(second)]
    for triangle in triangulate(first):
        box = box_round(triangle)
        for other, other_box in others:
            if box.overlaps(other_box) and not _is_line_between(triangle, other):
                return _find_middle(triangle, other)
    return None


def pairs_that_touch(boxes: Sequence[Box[N]]) -> Iterator[tuple[int, int]]:
    """The pairs of boxes that share anything, by number, sought from west to east; of a pair the one further east is
    second."""
    order = sorted(range(len(boxes)), key=lambda at: boxes[at].west)
    near: list[int] = []
    for at in order:
        box = boxes[at]
        near = [other for other in near if not boxes[other].east < box.west]
        for other in near:
            if box.touches(boxes[other]):
                yield other, at
        near.append(at)


def sign_of(value: N) -> int:
    """1, 0 or -1."""
    zero = value - value
    return 1 if zero < value else -1 if value < zero else 0


def _least(values: Sequence[N]) -> N:
    least = values[0]
    for value in values:
        least = min(least, value)
    return least


def _most(values: Sequence[N]) -> N:
    most = values[0]
    for value in values:
        most = max(most, value)
    return most


def _go_on(a: tuple[N, N], b: tuple[N, N], c: tuple[N, N]) -> N:
    """Above 0 where the way from b to c goes on, more or less, as the way from a to b."""
    along: N = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return along


def _is_between(a: tuple[N, N], b: tuple[N, N], point: tuple[N, N]) -> bool:
    """Whether a point on the line through a and b lies on the side from a to b."""
    return sign_of(_go_on(a, point, b)) >= 0


def _do_sides_touch(first: tuple[tuple[N, N], tuple[N, N]], second: tuple[tuple[N, N], tuple[N, N]]) -> bool:
    (a, b), (c, d) = first, second
    abc, abd = sign_of(turn_at(a, b, c)), sign_of(turn_at(a, b, d))
    cda, cdb = sign_of(turn_at(c, d, a)), sign_of(turn_at(c, d, b))
    if abc * abd < 0 and cda * cdb < 0:
        return True
    return (
        (not abc and _is_between(a, b, c))
        or (not abd and _is_between(a, b, d))
        or (not cda and _is_between(c, d, a))
        or (not cdb and _is_between(c, d, b))
    )


def _stands_any_in(triangle: tuple[tuple[N, N], ...], points: Sequence[tuple[N, N]]) -> bool:
    a, b, c = triangle
    return any(
        point not in triangle
        and sign_of(turn_at(a, b, point)) >= 0
        and sign_of(turn_at(b, c, point)) >= 0
        and sign_of(turn_at(c, a, point)) >= 0
        for point in points
    )


def _is_line_between(first: Sequence[tuple[N, N]], second: Sequence[tuple[N, N]]) -> bool:
    """Whether a side of one of two convex polygons, both clockwise, leaves all of the other on its outer side."""
    for one, other in ((first, second), (second, first)):
        for a, b in zip(one, (*one[1:], one[0]), strict=True):
            if all(sign_of(turn_at(a, b, point)) <= 0 for point in other):
                return True
    return False


def _find_middle(first: Sequence[tuple[N, N]], second: Sequence[tuple[N, N]]) -> Place[N]:
    """A place inside both of two triangles, clockwise, that overlap: the mean of the corners of what they share."""
    # points as (x, y, over): the signed distance from a line is linear in these three, so no division is needed
    a, b, c = first
    one = turn_at(a, b, c)  # any number above 0 will do for a point without a division
    shared = [Place(x * one, y * one, one) for x, y in second]
    for start, end in ((a, b), (b, c), (c, a)):
        shared = _crop(shared, start, end)
    x = y = over = one - one
    for at, place in enumerate(shared):
        rest = one
        for other, other_place in enumerate(shared):
            if other != at:
                rest = rest * other_place.over
        x = x + place.x * rest
        y = y + place.y * rest
        over = over + place.over * rest
    return Place(x, y, over)


def _crop(places: list[Place[N]], start: tuple[N, N], end: tuple[N, N]) -> list[Place[N]]:
    """What of a convex polygon lies on the inner side of a line."""
    kept: list[Place[N]] = []
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    heights = [
        along_x * (place.y - start[1] * place.over) - along_y * (place.x - start[0] * place.over) for place in places
    ]
    for at, (place, height) in enumerate(zip(places, heights, strict=True)):
        before, height_before = places[at - 1], heights[at - 1]
        side, side_before = sign_of(height), sign_of(height_before)
        if side * side_before < 0:
            inner, outer = (place, before) if side > 0 else (before, place)
            above, below = (height, height_before) if side > 0 else (height_before, height)
            below = (below - below) - below
            kept.append(Place(*(n * above + m * below for n, m in zip(outer, inner, strict=True))))
        if side >= 0:
            kept.append(place)
    return kept
