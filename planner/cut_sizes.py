"""Finished outline -> what to cut: the shape's name, its sizes, and the outline with its allowances.

All lengths in inches. Formulas: a half-square triangle is cut from a square of the finished leg + 7/2 allowances, a
quarter-square triangle from one of the finished long side + 5 allowances (published in the sources of GEN-1 to GEN-3
of the check values; exactly 2 + sqrt(2) and 2 + 2 sqrt(2) allowances, rounded so that nothing is short).
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Literal, NamedTuple, TypeVar

from planner.measure import Root
from planner.surd import Exact, ExactOutline, ExactPoint, Surd, from_length, root_of, size_of, to_length

ShapeName = Literal["square", "rectangle", "half-square triangle", "quarter-square triangle", "other"]
Corner = tuple[Fraction, Fraction]
Length = Fraction | Root

HALF_SQUARE = Fraction(7, 2)
QUARTER_SQUARE = Fraction(5)
SIXTEENTH = Fraction(1, 16)
ZERO, HALF = Fraction(0), Fraction(1, 2)
_FINE = Fraction(1, 1 << 40)
_GRID = 64  # parts of an inch that an outline without exact fractions is rounded to, outward


class Piece(NamedTuple):
    """What is cut: `finished` and `cut` are two lengths, the shorter first; `corners` the outline to cut, from 0, 0.

    Squares and rectangles: the sides. Half-square triangles: the legs, so that `cut` is the square that is halved.
    Quarter-square triangles: height and long side; the long side of `cut` is the square that is quartered. Others: the
    box round them as they lie on the grain. `rounded` says of both sizes to cut whether they were rounded up since no
    fraction is exact.
    """

    shape: ShapeName
    finished: tuple[Length, Length]
    cut: tuple[Fraction, Fraction]
    corners: tuple[Corner, ...]
    rounded: tuple[bool, bool] = (False, False)


def size_piece(outline: ExactOutline, seam: Fraction, is_askew: bool = False) -> Piece:
    """What to cut for a finished outline (clockwise, no corner on a straight side), `seam` being the allowance.

    The grain of an askew piece lies half a right angle from the frame.
    """
    sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in _pairs(outline)]
    if len(sides) == 4 and all(ax * bx + ay * by == 0 for (ax, ay), (bx, by) in _pairs(sides)):
        return _size_rectangle(sides[0], sides[1], seam)
    if len(sides) == 3:
        (short, _, _), (other, _, _), (long, lx, ly) = sorted((x * x + y * y, x, y) for x, y in sides)
        if short == other and short + other == long:
            if _is_on_grain((lx, ly), is_askew):
                return _size_quarter_square(root_of(long), root_of(long / 4), seam)
            return _size_half_square(root_of(short), seam)  # on its own grain, at any angle
    return size_other(outline, seam)


_Number = TypeVar("_Number", Fraction, Exact)
_Vector = TypeVar("_Vector", Corner, ExactPoint)


def _pairs(points: Sequence[_Vector]) -> list[tuple[_Vector, _Vector]]:
    return [(points[number - 1], points[number]) for number in range(len(points))]


def _is_on_grain(side: ExactPoint, is_askew: bool) -> bool:
    x, y = side
    return size_of(x) == size_of(y) if is_askew else 0 in side


def _size_rectangle(first: ExactPoint, second: ExactPoint, seam: Fraction) -> Piece:
    low, high = sorted(x * x + y * y for x, y in (first, second))
    finished = root_of(low), root_of(high)
    short, long = (_widen(side, 2 * seam) for side in finished)
    corners = ((ZERO, ZERO), (long, ZERO), (long, short), (ZERO, short))
    shape: ShapeName = "square" if finished[0] == finished[1] else "rectangle"
    rounded = isinstance(finished[0], Root), isinstance(finished[1], Root)
    return Piece(shape, finished, (short, long), corners, rounded)


def measure_side(x: Exact, y: Exact) -> Length:
    """How long a side of this direction is."""
    return root_of(x * x + y * y)


def lengthen(side: Length, by: Fraction) -> Length:
    return side._replace(plain=side.plain + by) if isinstance(side, Root) else side + by


def _widen(side: Length, by: Fraction) -> Fraction:
    longer = lengthen(side, by)
    return longer.up_to(SIXTEENTH) if isinstance(longer, Root) else longer


def _size_half_square(leg: Length, seam: Fraction) -> Piece:
    cut = _widen(leg, HALF_SQUARE * seam)
    corners = ((ZERO, ZERO), (cut, ZERO), (ZERO, cut))
    return Piece("half-square triangle", (leg, leg), (cut, cut), corners, (isinstance(leg, Root),) * 2)


def _size_quarter_square(long: Length, height: Length, seam: Fraction) -> Piece:
    cut = _widen(long, QUARTER_SQUARE * seam)
    corners = ((ZERO, ZERO), (cut, ZERO), (cut / 2, cut / 2))
    return Piece("quarter-square triangle", (height, long), (cut / 2, cut), corners, (isinstance(long, Root),) * 2)


def size_other(outline: ExactOutline, seam: Fraction) -> Piece:
    """What to cut for an outline by itself, its grain along x."""
    corners = move_sides_out(outline, seam)
    finished, box = _box(outline), _box(corners)
    around = _measure_around(outline, seam)
    rounded = [not is_exact or isinstance(size, Surd) for size, is_exact in around]
    if any(isinstance(side, Surd) for side in finished):
        exact = [size for size, is_exact in around if is_exact]
        box = [side if side in exact else _up(side) for side in box]
    short, long = sorted(finished)
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    moved = tuple((x - left, y - top) for x, y in corners)
    (low, is_low_rounded), (high, is_high_rounded) = sorted(zip(box, rounded, strict=True))
    lengths = to_length(short), to_length(long)
    return Piece("other", lengths, (low, high), moved, (is_low_rounded, is_high_rounded))


def _box(corners: Sequence[tuple[_Number, _Number]]) -> list[_Number]:
    """How wide and how high something is."""
    return [max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1)]


def _up(size: Exact) -> Fraction:
    return ceil(size / SIXTEENTH) * SIXTEENTH


def size_unit(outline: ExactOutline, seam: Fraction) -> tuple[Length, Length]:
    """What a sewn unit measures with its outer allowances, the shorter length first: a rectangle exactly, a triangle as
    a patch of this outline would be cut, and of other shapes the true box round it, up to the next 1/16 only where it
    has no exact fraction."""
    piece = size_piece(outline, seam)
    if piece.shape in ("square", "rectangle"):
        return lengthen(piece.finished[0], 2 * seam), lengthen(piece.finished[1], 2 * seam)
    return piece.cut if piece.shape != "other" else size_around(outline, seam)


def size_around(outline: ExactOutline, seam: Fraction) -> tuple[Fraction, Fraction]:
    """The two sides of the box round an outline with its allowances, the shorter first: exact, up to the next 1/16 only
    where it has no exact fraction. The outline may have inner corners."""
    (short, _), (long, _) = round_around(outline, seam)
    return short, long


def round_around(outline: ExactOutline, seam: Fraction) -> list[tuple[Fraction, bool]]:
    """The same, each with whether it is rounded up."""
    found = []
    for size, is_exact in _measure_around(outline, seam):
        found.append((_up(size), True) if isinstance(size, Surd) or not is_exact else (size, False))
    return sorted(found)


def _measure_around(outline: ExactOutline, seam: Fraction) -> list[tuple[Exact, bool]]:
    """How wide and how high an outline is with its allowances, and whether that is exact, not hardly more."""
    lines = _move_out(outline, seam)
    crossings = [(_cross(lines[number - 1], line), lines[number - 1], line) for number, line in enumerate(lines)]
    sizes = []
    for axis in (0, 1):
        # Where a corner lies on an exact level (or upright) side, that side alone says how high (or far) it is
        places = [
            (corner[axis], all(line.is_exact for line in meeting) or any(_fixes(line, axis) for line in meeting))
            for corner, *meeting in crossings
        ]
        (low, low_exact), (high, high_exact) = min(places), max(places)
        size = high - low
        sizes.append((size, low_exact and high_exact))
    return sizes


class _Line(NamedTuple):
    """All points with a x + b y = c; outside is where it is more."""

    a: Exact
    b: Exact
    c: Exact
    is_exact: bool


def _fixes(line: _Line, axis: int) -> bool:
    return line.is_exact and (line.b, line.a)[axis] == 0


def move_sides_out(outline: ExactOutline, by: Fraction) -> tuple[Corner, ...]:
    """The outline with every side moved outward: exact, or where that has no exact fraction, outward to the next
    1/64, so that nothing of the exact outline is lost."""
    lines = _move_out(outline, by)  # the side before each corner comes first
    moved = []
    for number, before in enumerate(lines):
        after = lines[(number + 1) % len(lines)]
        x, y = corner = _cross(before, after)
        is_exact = before.is_exact and after.is_exact
        if is_exact and not isinstance(x, Surd) and not isinstance(y, Surd):
            moved.append((x, y))
        else:
            moved.append(_round_out(corner, before, after))
    return tuple(moved)


def widen_outline(outline: ExactOutline, by: Fraction) -> ExactOutline:
    """The outline with every side moved outward, corner for corner, before anything is rounded to a grid."""
    lines = _move_out(outline, by)
    return tuple(_cross(before, after) for before, after in zip(lines, (*lines[1:], lines[0]), strict=True))


def _move_out(outline: ExactOutline, by: Fraction) -> list[_Line]:
    """Its sides, the last one first, each moved outward."""
    roots = {number.of for corner in outline for number in corner if isinstance(number, Surd)}
    lines = []
    for start, end in _pairs(outline):
        a, b = end[1] - start[1], start[0] - end[0]  # points out of an outline that runs clockwise with y down
        length = root_of(a * a + b * b)
        is_exact = not isinstance(length, Root) or length.of in roots
        reach = length.up_to(_FINE) if isinstance(length, Root) and not is_exact else from_length(length)
        lines.append(_Line(a, b, a * start[0] + b * start[1] + by * reach, is_exact))
    return lines


def _cross(first: _Line, second: _Line) -> ExactPoint:
    by = first.a * second.b - first.b * second.a
    x = (first.c * second.b - first.b * second.c) / by
    y = (first.a * second.c - first.c * second.a) / by
    return x, y


def _round_out(corner: ExactPoint, first: _Line, second: _Line) -> Corner:
    """A point of the 1/64 grid, near a corner, that lies outside both lines; on an upright or level line without a root
    it stays.

    The nearest one where the corner is blunt. At a needle's point the grid has none nearby: there the point is moved
    out square to both sides by as much as rounding can bring it back, and rounded then.
    """
    x, y = corner
    lines = (first, second)
    keeps_x = x if not isinstance(x, Surd) and any(line.b == 0 for line in lines) else None
    keeps_y = y if not isinstance(y, Surd) and any(line.a == 0 for line in lines) else None
    ways = [(1, keeps_x, keeps_y), (2, keeps_x, keeps_y), (4, keeps_x, keeps_y)]
    if first.is_exact and second.is_exact:  # then one number alone may have a root, and the other stays where it can
        ways.insert(0, (1, None if isinstance(x, Surd) else x, None if isinstance(y, Surd) else y))
    for reach, kept_x, kept_y in ways:
        outside = [
            ((px - x) ** 2 + (py - y) ** 2, px, py)
            for px in ([kept_x] if kept_x is not None else _near(x, reach))
            for py in ([kept_y] if kept_y is not None else _near(y, reach))
            if all(line.a * px + line.b * py >= line.c for line in lines)
        ]
        if outside:
            _, px, py = min(outside)
            return px, py
    # Out along the sum of both unit normals (lengths are near enough): each line is left behind alike
    out = [(line.a / size, line.b / size) for line in lines for size in (_measure_above(line),)]
    dx, dy = out[0][0] + out[1][0], out[0][1] + out[1][1]
    back = Fraction(1, _GRID)  # more than rounding both coordinates can move a point, square to any side
    far = max(back / (a * dx + b * dy) for a, b in out)
    return (
        keeps_x if keeps_x is not None else _grid(x + far * dx),
        keeps_y if keeps_y is not None else _grid(y + far * dy),
    )


def _measure_above(line: _Line) -> Fraction:
    """How long the normal of a line is, or hardly more."""
    length = root_of(line.a * line.a + line.b * line.b)
    return length.up_to(_FINE) if isinstance(length, Root) else length


def _grid(value: Exact) -> Fraction:
    return Fraction(floor(value * _GRID + HALF), _GRID)


def _near(value: Exact, reach: int) -> list[Fraction]:
    whole = floor(value * _GRID)
    return [Fraction(whole + step, _GRID) for step in range(1 - reach, reach + 1)]


def is_mirrored(corners: Sequence[Corner]) -> bool:
    """Whether an outline is its own mirror image, turned: both sides of the cloth give the same piece. Corners that are
    rounded up may be off a little."""
    looks = [
        ((bx - ax) ** 2 + (by - ay) ** 2, (bx - ax) * (cx - bx) + (by - ay) * (cy - by))
        for (ax, ay), (bx, by), (cx, cy) in zip(
            corners, [*corners[1:], corners[0]], [*corners[2:], *corners[:2]], strict=True
        )
    ]
    # Walked the other way round each side comes after the corner that it came before
    sides, turns = [side for side, _ in looks], [turn for _, turn in looks]
    mirrored = list(zip(sides[::-1], [*turns[-2::-1], turns[-1]], strict=True))
    near = max(sides) / 16

    def is_like(one: tuple[Fraction, Fraction], other: tuple[Fraction, Fraction]) -> bool:
        return abs(one[0] - other[0]) <= near and abs(one[1] - other[1]) <= near

    places = range(len(looks))
    return any(all(is_like(looks[at], mirrored[at - shift]) for at in places) for shift in places)
