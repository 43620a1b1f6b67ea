"""What sizes a plan must give to a patch or a unit of a certain outline: shape, finished, cut, unfinished."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import isqrt
from typing import NamedTuple

from planner.checks.plan_file import PlanShape
from planner.checks.read_plan import Outline, Point, Work
from planner.checks.surd import Surd, approach, next_above, read_surd, root_of

Corner = tuple[Fraction, Fraction]  # inches
Pair = tuple[Surd, Surd]

_SIXTEENTH = Fraction(1, 16)
_FINE = 1 << 80  # roots that no single surd can hold are taken this fine
_TINY = Fraction(1, 1 << 40)


class Piece(NamedTuple):
    """Inches, the shorter first. `cut` is None for another shape than the four that are cut from two lengths."""

    shape: PlanShape
    finished: Pair
    cut: Pair | None


class Widened(NamedTuple):
    """An outline with the seam allowance on all sides, its corners pointed; inches."""

    corners: tuple[Corner, ...]
    is_exact: bool  # else a corner has a root, and is taken so fine that no ruler could tell


def size_piece(outline: Outline, work: Work, is_askew: bool = False) -> Piece:
    """Shape and sizes of a convex piece. One that lies `is_askew` has its grain half a right angle from the frame."""
    allowance = work.allowance
    vectors = [_vector(outline, at) for at in range(len(outline))]
    squares = [Fraction(x * x + y * y, work.scale * work.scale) for x, y in vectors]
    if len(outline) == 4 and all(_is_square_corner(outline, at) for at in range(4)):
        shorter, longer = (root_of(square) for square in sorted(squares[:2]))
        cut = (_cut_above(shorter, 2 * allowance), _cut_above(longer, 2 * allowance))
        return Piece("square" if shorter == longer else "rectangle", (shorter, longer), cut)
    if len(outline) == 3:
        for at in range(3):
            leg, other = squares[at], squares[(at + 1) % 3]
            if leg == other and _is_square_corner(outline, at):
                x, y = vectors[at - 1]
                return _size_triangle(leg, (x - y, x + y) if is_askew else (x, y), allowance)
    return Piece("other", _sort_pair(_box(outline, work)), None)


def _size_triangle(leg_square: Fraction, long_side: Point, allowance: Fraction) -> Piece:
    """`long_side` is its direction against the grain."""
    if 0 not in long_side:
        leg = root_of(leg_square)
        cut = _cut_above(leg, Fraction(7, 2) * allowance)
        return Piece("half-square triangle", (leg, leg), (cut, cut))
    height, long = root_of(leg_square / 2), root_of(leg_square * 2)
    larger = _cut_above(long, 5 * allowance).plain
    return Piece("quarter-square triangle", (height, long), (Surd(larger / 2), Surd(larger)))


def _cut_above(finished: Surd, more: Fraction) -> Surd:
    whole = finished.plus(more)
    return Surd(next_above(whole, _SIXTEENTH)) if whole.square else whole


def why_not_unfinished(outline: Outline, work: Work, given: Sequence[str]) -> str | None:
    """Why these are not the unfinished sides of a unit of this outline; None when they are."""
    piece = size_piece(outline, work)
    if piece.shape in ("square", "rectangle"):
        shorter, longer = (side.plus(2 * work.allowance) for side in piece.finished)
        return why_not_pair(given, (shorter, longer))
    if piece.cut is not None:
        return why_not_pair(given, piece.cut)
    return why_not_box(given, widen(outline, work))


def why_not_pair(given: Sequence[str], right: Pair) -> str | None:
    """Why two lengths of the plan are not these two."""
    try:
        pair = read_pair(given)
    except ValueError as error:
        return str(error)
    return None if pair == right else f"{_spell_pair(pair)}, and should be {_spell_pair(right)}"


def why_not_box(given: Sequence[str], widened: Widened) -> str | None:
    """Why two lengths of the plan are not the sides of the box: where it has a root, up to 1/16 more is right."""
    right = sorted(_spread([corner[axis] for corner in widened.corners]) for axis in (0, 1))
    if widened.is_exact:
        return why_not_pair(given, (Surd(right[0]), Surd(right[1])))
    try:
        pair = read_pair(given)
    except ValueError as error:
        return str(error)
    if all(-_TINY <= approach(side, _FINE) - least <= _SIXTEENTH for side, least in zip(pair, right, strict=True)):
        return None
    least = " x ".join(str(round(side, 3)) for side in right)
    return f"{_spell_pair(pair)}, and should be the next above {least}"


def read_pair(texts: Sequence[str]) -> Pair:
    """Two lengths of a plan. ValueError where they are none, or the longer comes first."""
    first, second = (read_surd(text) for text in texts)
    if approach(first, _FINE) > approach(second, _FINE):
        raise ValueError(f"{_spell_pair((first, second))}: the longer comes first")
    return first, second


def widen(outline: Outline, work: Work) -> Widened:
    """A convex outline with the seam allowance on all sides."""
    width = work.allowance * work.scale
    lines = []  # the side that ends in the corner: normal, and how far out it lies
    is_exact = True
    for at, (x, y) in enumerate(outline):
        along = _vector(outline, at)
        normal = (along[1], -along[0])
        square = along[0] * along[0] + along[1] * along[1]
        is_exact = is_exact and isqrt(square) ** 2 == square
        length = Fraction(isqrt(square * _FINE * _FINE), _FINE)
        lines.append((normal, normal[0] * x + normal[1] * y + width * length))
    corners = []
    for at, (normal, out) in enumerate(lines):
        after, after_out = lines[(at + 1) % len(lines)]
        turn = (normal[0] * after[1] - normal[1] * after[0]) * work.scale
        corners.append(
            ((out * after[1] - after_out * normal[1]) / turn, (normal[0] * after_out - after[0] * out) / turn)
        )
    return Widened(tuple(corners), is_exact)


def _vector(outline: Outline, at: int) -> Point:
    """The side that ends in a corner."""
    return outline[at][0] - outline[at - 1][0], outline[at][1] - outline[at - 1][1]


def _is_square_corner(outline: Outline, at: int) -> bool:
    before, after = _vector(outline, at), _vector(outline, (at + 1) % len(outline))
    return before[0] * after[0] + before[1] * after[1] == 0


def _box(outline: Outline, work: Work) -> tuple[Fraction, Fraction]:
    xs, ys = zip(*outline, strict=True)
    return work.inches(max(xs) - min(xs)), work.inches(max(ys) - min(ys))


def _sort_pair(sides: tuple[Fraction, Fraction]) -> Pair:
    return Surd(min(sides)), Surd(max(sides))


def _spread(values: Sequence[Fraction]) -> Fraction:
    return max(values) - min(values)


def _spell_pair(pair: Pair) -> str:
    return f"{pair[0]} x {pair[1]}"
