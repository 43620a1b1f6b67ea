"""Finished outline of a patch -> what to cut. A print that has a direction is laid on the cloth upright, and cut so."""

from __future__ import annotations

from fractions import Fraction

from planner.cut_sizes import Piece, size_other, size_piece
from planner.surd import Exact, ExactOutline, Surd
from planner.turn_prints import NO_WAY, is_aslant, turn_to_upright

ZERO = Fraction(0)
_HALF_ROOT = Surd(Fraction(0), Fraction(1, 2), 2)  # sine and cosine of half a right angle


def size_patch(outline: ExactOutline, seam: Fraction, is_askew: bool, up: int) -> Piece:
    """What to cut for a finished outline whose print points to `up`. Where that is a direction, the corners lie as on
    the cloth, the print upright; a half or a quarter of a square is then only what a square gives that is cut along its
    print. `is_askew` and faults as those of `size_piece`."""
    piece = size_piece(outline, seam, is_askew)
    if up == NO_WAY:
        return piece
    upright = lay_upright(outline, up)
    left, right, top, bottom = _box(upright)
    fills_corners = all(x in (left, right) and y in (top, bottom) for x, y in upright)
    if piece.shape == "quarter-square triangle" or (piece.shape != "other" and fills_corners):
        short, long = piece.cut
        wide, high = (long, short) if right - left >= bottom - top else (short, long)
        corners = tuple((_share(x, left, right) * wide, _share(y, top, bottom) * high) for x, y in upright)
        return piece._replace(corners=corners)
    other = size_other(upright, seam)
    # A square is a square at any angle of its print
    return piece._replace(corners=other.corners) if piece.shape in ("square", "rectangle") else other


def runs_down(piece: Piece) -> bool:
    """Whether the cut that makes a half of a square runs down from the upper left corner, the print upright."""
    ends = ((ZERO, ZERO), piece.cut)
    return piece.shape == "half-square triangle" and all(end in piece.corners for end in ends)


def lay_upright(outline: ExactOutline, up: int) -> ExactOutline:
    """An outline turned so that its print is upright: clockwise, from its uppermost, then leftmost corner."""
    corners = list(outline)
    for _ in range(turn_to_upright(up)):
        corners = [(-y, x) for x, y in corners]
    if is_aslant(up):  # it points to the upper left now
        corners = [((x - y) * _HALF_ROOT, (x + y) * _HALF_ROOT) for x, y in corners]
    first = min(range(len(corners)), key=lambda number: corners[number][::-1])
    return (*corners[first:], *corners[:first])


def _box(outline: ExactOutline) -> tuple[Exact, Exact, Exact, Exact]:
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), max(xs), min(ys), max(ys)


def _share(value: Exact, low: Exact, high: Exact) -> Fraction:
    """Where a corner lies between the sides of the box: at one of them, or in the middle."""
    return ZERO if value == low else Fraction(1) if value == high else Fraction(1, 2)
