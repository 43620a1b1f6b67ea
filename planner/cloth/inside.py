"""Which rectangles lie inside an outline: what a label needs to know. Whole numbers, x right, y down."""

from __future__ import annotations

from collections.abc import Sequence

from planner.pictures.svg_elements import Spot

Corners = Sequence[Spot]


def is_inside(quad: Corners, outline: Corners) -> bool:
    """Whether a convex shape lies inside an outline, which may have inner corners."""
    return all(holds(outline, corner) for corner in quad) and not _do_cross(quad, outline)


def do_meet(first: Corners, second: Corners) -> bool:
    """Whether two convex shapes share any place."""
    return holds(first, second[0]) or holds(second, first[0]) or _do_cross(first, second)


def holds(outline: Corners, spot: Spot) -> bool:
    """Whether a spot lies in an outline (the even-odd rule)."""
    x, y = spot
    is_in = False
    for (ax, ay), (bx, by) in _sides(outline):
        # Left of the side, told without dividing
        if (ay > y) != (by > y) and ((bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0) == (by > ay):
            is_in = not is_in
    return is_in


def _do_cross(first: Corners, second: Corners) -> bool:
    return any(_cross(*one, *other) for one in _sides(first) for other in _sides(second))


def _cross(a: Spot, b: Spot, c: Spot, d: Spot) -> bool:
    """Whether two stretches cross; touching is none."""
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Spot, b: Spot, c: Spot) -> int:
    turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (turn > 0) - (turn < 0)


def _sides(outline: Corners) -> list[tuple[Spot, Spot]]:
    return [(outline[number - 1], outline[number]) for number in range(len(outline))]


def crop(outline: Corners, left: int, top: int, right: int, bottom: int) -> tuple[Spot, ...]:
    """What of an outline lies in a rectangle (Sutherland and Hodgman's way); empty where nothing does. Rounded."""
    found = list(outline)
    for axis, bound, sign in ((0, left, 1), (0, right, -1), (1, top, 1), (1, bottom, -1)):
        cropped: list[Spot] = []
        for start, end in _sides(found):
            is_in, was_in = sign * (end[axis] - bound) >= 0, sign * (start[axis] - bound) >= 0
            if is_in != was_in:
                cropped.append(_meet(start, end, axis, bound))
            if is_in:
                cropped.append(end)
        found = cropped
    return tuple(found) if measure_area(found) else ()


def _meet(start: Spot, end: Spot, axis: int, bound: int) -> Spot:
    over, under = bound - start[axis], end[axis] - start[axis]
    other = start[1 - axis] + (end[1 - axis] - start[1 - axis]) * over // under
    return (bound, other) if axis == 0 else (other, bound)


def measure_area(outline: Corners) -> int:
    """Twice the area."""
    return abs(sum(ax * by - ay * bx for (ax, ay), (bx, by) in _sides(outline)))
