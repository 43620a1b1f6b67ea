"""Finished outline -> what to cut: the shape's name, its sizes, and the outline with its allowances.

All lengths in inches. Formulas: a half-square triangle is cut from a square of the finished leg + 7/2 allowances, a
quarter-square triangle from one of the finished long side + 5 allowances (published in the sources of GEN-1 to GEN-3
of the check values; exactly 2 + sqrt(2) and 2 + 2 sqrt(2) allowances, rounded so that nothing is short).
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, isqrt
from typing import Literal, NamedTuple, TypeVar

from planner.measure import Root, square_root
from planner.surd import Exact, ExactOutline, ExactPoint, Surd, size_of, to_length

ShapeName = Literal["square", "rectangle", "half-square triangle", "quarter-square triangle", "other"]
Corner = tuple[Fraction, Fraction]
Length = Fraction | Root

HALF_SQUARE = Fraction(7, 2)
QUARTER_SQUARE = Fraction(5)
SIXTEENTH = Fraction(1, 16)
ZERO = Fraction(0)
_GRID = 64  # parts of an inch that an outline without exact fractions is rounded to, outward


class Piece(NamedTuple):
    """What is cut: `finished` and `cut` are two lengths, the shorter first; `corners` the outline to cut, from 0, 0.

    Squares and rectangles: the sides. Half-square triangles: the legs, so that `cut` is the square that is halved.
    Quarter-square triangles: height and long side; the long side of `cut` is the square that is quartered. Others: the
    box round them as they lie on the grain.
    """

    shape: ShapeName
    finished: tuple[Length, Length]
    cut: tuple[Fraction, Fraction]
    corners: tuple[Corner, ...]


def size_piece(outline: ExactOutline, seam: Fraction, is_askew: bool = False) -> Piece:
    """What to cut for a finished outline (clockwise, no corner on a straight side), `seam` being the allowance.

    The grain of an askew piece lies half a right angle from the frame. ValueError for a coordinate with a root in what
    is no rectangle along the frame or along its diagonals.
    """
    sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in _pairs(outline)]
    if len(sides) == 4 and all(ax * bx + ay * by == 0 for (ax, ay), (bx, by) in _pairs(sides)):
        return _size_rectangle(sides[0], sides[1], seam)
    plain = _plain(outline)
    if len(plain) == 3:
        vectors = [(bx - ax, by - ay) for (ax, ay), (bx, by) in _pairs(plain)]
        (short, _, _), (other, _, _), (long, lx, ly) = sorted((x * x + y * y, x, y) for x, y in vectors)
        if short == other and short + other == long:
            if _is_on_grain((lx, ly), is_askew):
                return _size_quarter_square(square_root(long), square_root(long / 4), seam)
            return _size_half_square(square_root(short), seam)  # on its own grain, at any angle
    return _size_other(plain, seam)


_Vector = TypeVar("_Vector", Corner, ExactPoint)


def _pairs(points: Sequence[_Vector]) -> list[tuple[_Vector, _Vector]]:
    return [(points[number - 1], points[number]) for number in range(len(points))]


def _plain(outline: ExactOutline) -> tuple[Corner, ...]:
    plain = tuple((x, y) for x, y in outline if not isinstance(x, Surd) and not isinstance(y, Surd))
    if len(plain) < len(outline):
        raise ValueError("a root in an outline that is no rectangle")
    return plain


def _is_on_grain(side: Corner, is_askew: bool) -> bool:
    x, y = side
    return abs(x) == abs(y) if is_askew else 0 in side


def _size_rectangle(first: ExactPoint, second: ExactPoint, seam: Fraction) -> Piece:
    finished = _sort_lengths(measure_side(*first), measure_side(*second))
    short, long = (_widen(side, 2 * seam) for side in finished)
    corners = ((ZERO, ZERO), (long, ZERO), (long, short), (ZERO, short))
    return Piece("square" if finished[0] == finished[1] else "rectangle", finished, (short, long), corners)


def measure_side(x: Exact, y: Exact) -> Length:
    """How long a side of this direction is. ValueError where it has a root and lies neither along the frame nor along
    a diagonal."""
    if not isinstance(x, Surd) and not isinstance(y, Surd):
        return square_root(x * x + y * y)
    if x and y and size_of(x) != size_of(y):
        raise ValueError("a side with a root that lies neither upright, level nor along a diagonal")
    along = size_of(x) if x else size_of(y)
    return to_length(along * Surd(ZERO, Fraction(1), 2) if x and y else along)


def _sort_lengths(first: Length, second: Length) -> tuple[Length, Length]:
    """The shorter first."""
    one, other = (Surd(*side) if isinstance(side, Root) else side for side in (first, second))
    # Both may have roots of different numbers (never of a quilt's strips): then their squares tell
    if isinstance(one, Surd) and isinstance(other, Surd) and one.of != other.of:
        one, other = one.times * one.times * one.of, other.times * other.times * other.of
    return (first, second) if one <= other else (second, first)


def lengthen(side: Length, by: Fraction) -> Length:
    return Root(side.plain + by, side.times, side.of) if isinstance(side, Root) else side + by


def _widen(side: Length, by: Fraction) -> Fraction:
    longer = lengthen(side, by)
    return longer.up_to(SIXTEENTH) if isinstance(longer, Root) else longer


def _size_half_square(leg: Length, seam: Fraction) -> Piece:
    cut = _widen(leg, HALF_SQUARE * seam)
    return Piece("half-square triangle", (leg, leg), (cut, cut), ((ZERO, ZERO), (cut, ZERO), (ZERO, cut)))


def _size_quarter_square(long: Length, height: Length, seam: Fraction) -> Piece:
    cut = _widen(long, QUARTER_SQUARE * seam)
    corners = ((ZERO, ZERO), (cut, ZERO), (cut / 2, cut / 2))
    return Piece("quarter-square triangle", (height, long), (cut / 2, cut), corners)


def _size_other(outline: tuple[Corner, ...], seam: Fraction) -> Piece:
    corners = move_sides_out(outline, seam)
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    return Piece("other", _box(outline), _box(corners), tuple((x - left, y - top) for x, y in corners))


def _box(corners: tuple[Corner, ...]) -> tuple[Fraction, Fraction]:
    wide = max(x for x, _ in corners) - min(x for x, _ in corners)
    high = max(y for _, y in corners) - min(y for _, y in corners)
    return min(wide, high), max(wide, high)


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
    lines = [_move_out(start, end, seam) for start, end in _pairs(_plain(outline))]
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
        sizes.append(size if low_exact and high_exact else ceil(size / SIXTEENTH) * SIXTEENTH)
    return min(sizes), max(sizes)


class _Line(NamedTuple):
    """All points with a x + b y = c; outside is where it is more."""

    a: Fraction
    b: Fraction
    c: Fraction
    is_exact: bool


def _fixes(line: _Line, axis: int) -> bool:
    return line.is_exact and (line.b, line.a)[axis] == 0


def move_sides_out(outline: tuple[Corner, ...], by: Fraction) -> tuple[Corner, ...]:
    """The outline with every side moved outward: exact, or where that has no exact fraction, outward to the next
    1/64, so that nothing of the exact outline is lost."""
    lines = [_move_out(start, end, by) for start, end in _pairs(outline)]  # the side before each corner comes first
    moved = []
    for number, before in enumerate(lines):
        after = lines[(number + 1) % len(lines)]
        corner = _cross(before, after)
        moved.append(corner if before.is_exact and after.is_exact else _round_out(corner, before, after))
    return tuple(moved)


def _move_out(start: Corner, end: Corner, by: Fraction) -> _Line:
    a, b = end[1] - start[1], start[0] - end[0]  # points out of an outline that runs clockwise with y down
    length = square_root(a * a + b * b)
    reach = _above(length) if isinstance(length, Root) else length
    return _Line(a, b, a * start[0] + b * start[1] + by * reach, not isinstance(length, Root))


def _above(root: Root) -> Fraction:
    """A fraction that is above the root by less than 2**-39."""
    fine = 1 << 40
    square = root.times * root.times * root.of * fine * fine
    return Fraction(isqrt(ceil(square)) + 1, fine)


def _cross(first: _Line, second: _Line) -> Corner:
    by = first.a * second.b - first.b * second.a
    x = (first.c * second.b - first.b * second.c) / by
    y = (first.a * second.c - first.c * second.a) / by
    return x, y


def _round_out(corner: Corner, first: _Line, second: _Line) -> Corner:
    """A point of the 1/64 grid, near a corner, that lies outside both lines; on an upright or level line it stays.

    The nearest one where the corner is blunt. At a needle's point the grid has none nearby: there the point is moved
    out square to both sides by as much as rounding can bring it back, and rounded then.
    """
    x, y = corner
    keeps_x = any(line.b == 0 for line in (first, second))
    keeps_y = any(line.a == 0 for line in (first, second))
    for reach in (1, 2, 4):
        xs = [x] if keeps_x else _near(x, reach)
        ys = [y] if keeps_y else _near(y, reach)
        outside = [
            ((px - x) ** 2 + (py - y) ** 2, px, py)
            for px in xs
            for py in ys
            if all(line.a * px + line.b * py >= line.c for line in (first, second))
        ]
        if outside:
            _, px, py = min(outside)
            return px, py
    # Out along the sum of both unit normals (lengths are near enough): each line is left behind alike
    ways = [(line.a / size, line.b / size) for line in (first, second) for size in (_above_length(line),)]
    dx, dy = ways[0][0] + ways[1][0], ways[0][1] + ways[1][1]
    back = Fraction(1, _GRID)  # more than rounding both coordinates can move a point, square to any side
    far = max(back / (a * dx + b * dy) for a, b in ways)
    px, py = x + far * dx, y + far * dy
    return (x if keeps_x else _grid(px)), (y if keeps_y else _grid(py))


def _above_length(line: _Line) -> Fraction:
    length = square_root(line.a * line.a + line.b * line.b)
    return _above(length) if isinstance(length, Root) else length


def _grid(value: Fraction) -> Fraction:
    return Fraction(round(value * _GRID), _GRID)


def _near(value: Fraction, reach: int) -> list[Fraction]:
    whole = int(value * _GRID // 1)
    return [Fraction(whole + step, _GRID) for step in range(1 - reach, reach + 1)]
