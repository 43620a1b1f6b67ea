"""What sizes a plan must give to a patch or a unit of a certain outline: shape, finished, cut, unfinished."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.checks.plan_file import PlanShape
from planner.checks.read_plan import Outline, PatchRead, Point, Work
from planner.checks.rooted import Number, Rooted, approach_number, divide
from planner.checks.surd import Surd, approach, next_above, read_surd, root_of, to_surd

Corner = tuple[Fraction, Fraction]  # inches
Pair = tuple[Surd, Surd]

_SIXTEENTH = Fraction(1, 16)
_FINE = 1 << 80  # roots that no single surd can hold are taken this fine
_HALF = Fraction(1, 2)
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


def size_piece(outline: Outline, work: Work) -> Piece:
    """Shape and sizes of a convex piece, its grain along x."""
    allowance = work.allowance
    vectors = [_vector(outline, at) for at in range(len(outline))]
    squares = [x * x + y * y for x, y in vectors]
    if len(outline) == 4 and all(_is_square_corner(outline, at) for at in range(4)):
        shorter, longer = _sort_pair(_measure(vectors[0], work), _measure(vectors[1], work))
        cut = (_cut_above(shorter, 2 * allowance), _cut_above(longer, 2 * allowance))
        return Piece("square" if shorter == longer else "rectangle", (shorter, longer), cut)
    if len(outline) == 3:
        for at in range(3):
            if squares[at] == squares[(at + 1) % 3] and _is_square_corner(outline, at):
                return _size_triangle(vectors[at], vectors[at - 1], work)
    return Piece("other", _sort_pair(*(to_surd(side) for side in _box(outline, work))), None)


def size_print(outline: Outline, work: Work) -> Piece:
    """The same of a piece whose print runs along y: a half of a square only where that is cut along the print."""
    piece = size_piece(outline, work)
    if piece.shape == "half-square triangle" and sum(0 in _vector(outline, at) for at in range(3)) < 2:
        return Piece("other", _sort_pair(*(to_surd(side) for side in _box(outline, work))), None)
    return piece


def cut_upright(piece: Piece, outline: Outline, work: Work) -> Widened:
    """The outline to cut of a piece whose print runs along y: of what is cut from two lengths along the print as those
    say, else as it is widened."""
    across, down = (_find_shares(values) for values in zip(*outline, strict=True))
    is_along = piece.shape == "quarter-square triangle" or _HALF not in (*across, *down)
    if piece.cut is None or not is_along:
        return widen(outline, work)
    wide, high = (side.plain for side in piece.cut)
    level, upright = _box(outline, work)
    if level > upright:
        wide, high = high, wide
    return Widened(tuple((x * wide, y * high) for x, y in zip(across, down, strict=True)), True)


def _find_shares(values: Sequence[Number]) -> list[Fraction]:
    """Where numbers lie between the least and the largest of them: at one, or somewhere between, told as half way."""
    ends = {0: min(values), 1: max(values)}
    return [next((Fraction(share) for share, end in ends.items() if value == end), _HALF) for value in values]


def lay_on_grain(patch: PatchRead) -> Outline:
    """Its outline, turned so that its grain runs along x."""
    if not patch.is_askew:
        return patch.outline
    half_root = Rooted(0, Fraction(1, 2), 2)
    return tuple(((x - y) * half_root, (x + y) * half_root) for x, y in patch.outline)


def _measure(vector: Point, work: Work) -> Surd:
    """How long a side is."""
    x, y = vector
    return root_of(divide(x * x + y * y, work.scale * work.scale))


def _size_triangle(leg_side: Point, long_side: Point, work: Work) -> Piece:
    if 0 not in long_side:
        leg = _measure(leg_side, work)
        cut = _cut_above(leg, Fraction(7, 2) * work.allowance)
        return Piece("half-square triangle", (leg, leg), (cut, cut))
    long = _measure(long_side, work)
    larger = _cut_above(long, 5 * work.allowance).plain
    return Piece("quarter-square triangle", (long.halve(), long), (Surd(larger / 2), Surd(larger)))


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
    is_exact = not any(isinstance(number, Rooted) for corner in outline for number in corner)
    points = [(approach_number(x, _FINE), approach_number(y, _FINE)) for x, y in outline]
    lines = []  # the side that ends in the corner: normal, and how far out it lies
    for at, (x, y) in enumerate(points):
        normal = (y - points[at - 1][1], points[at - 1][0] - x)
        length = root_of(normal[0] * normal[0] + normal[1] * normal[1])
        is_exact = is_exact and not length.square
        lines.append((normal, normal[0] * x + normal[1] * y + width * approach(length, _FINE)))
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


def _box(outline: Outline, work: Work) -> tuple[Number, Number]:
    xs, ys = zip(*outline, strict=True)
    return work.inches(max(xs) - min(xs)), work.inches(max(ys) - min(ys))


def _sort_pair(one: Surd, other: Surd) -> Pair:
    return (one, other) if approach(one, _FINE) <= approach(other, _FINE) else (other, one)


def _spread(values: Sequence[Fraction]) -> Fraction:
    return max(values) - min(values)


def _spell_pair(pair: Pair) -> str:
    return f"{pair[0]} x {pair[1]}"
