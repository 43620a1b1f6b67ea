"""Pieces of a print with a direction in words: how they lie on the cloth with the print upright."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.cut_prints import runs_down
from planner.cut_sizes import Piece
from planner.surd import sign_of
from planner.turn_prints import NO_WAY, UPRIGHT

_CORNERS = {(0, 0): "upper left", (1, 0): "upper right", (1, 1): "lower right", (0, 1): "lower left"}
_SIDES = {(0, -1): "at the top", (1, 0): "on the right", (0, 1): "at the bottom", (-1, 0): "on the left"}
WAYS = ("up", "up and to the right", "to the right", "down and to the right", "down", "down and to the left",
        "to the left", "up and to the left")  # fmt: skip
_ARROWS = "↑↗→↘↓↙←↖"
_NEAR = Fraction(1, 16)  # by how much corners that are rounded may be off


def is_along_print(piece: Piece) -> bool:
    """Whether a square or a rectangle lies along its print; triangles that are cut from a square always do."""
    wide, _ = _extent(piece)
    zero = Fraction(0)
    return (zero, zero) in piece.corners and (wide, zero) in piece.corners


def say_lying(piece: Piece, sizes: Sequence[str]) -> str:
    """How a piece lies: `square corner at the upper left`, `print along the 6 1/2 side`; nothing for a square along its
    print, and where only the outline tells. `sizes` are its two sides to cut, the shorter first."""
    wide, high = _extent(piece)
    if piece.shape == "half-square triangle":
        x, y = next(end for end in _CORNERS if (end[0] * wide, end[1] * high) not in piece.corners)
        return f"square corner at the {_CORNERS[1 - x, 1 - y]}"
    if piece.shape == "quarter-square triangle":
        apex = next(corner for corner in piece.corners if corner[0] * 2 == wide or corner[1] * 2 == high)
        return f"long side {_SIDES[sign_of(wide - 2 * apex[0]), sign_of(high - 2 * apex[1])]}"
    if piece.shape == "other":
        return ""
    if is_along_print(piece):
        return f"print along the {sizes[high > wide]} sides" if piece.shape == "rectangle" else ""
    is_even = all(any(abs(2 * x - end) <= _NEAR for end in (0, wide, 2 * wide)) for x, _ in piece.corners)
    return "print from corner to corner" if piece.shape == "square" and is_even else "print aslant"


def say_cut(piece: Piece) -> str:
    """How the squares are cut that a triangle comes out of, the print upright."""
    if piece.shape == "quarter-square triangle":
        return "corner to corner both ways"
    start, end = ("upper", "lower") if runs_down(piece) else ("lower", "upper")
    return f"from the {start} left to the {end} right corner"


def say_grain(piece: Piece) -> str:
    """Where the grain of a square or a rectangle lies that is cut along its print."""
    return "Grain along its sides" if is_along_print(piece) else "Grain along the print, all sides on the bias"


def say_way(up: int) -> str:
    """`print upright`, `print up and to the left`; nothing for a fabric without a direction."""
    return "" if up == NO_WAY else "print upright" if up == UPRIGHT else f"print {WAYS[up // 45]}"


def draw_way(up: int) -> str:
    """An arrow for where a print points; nothing for a fabric without a direction."""
    return "" if up == NO_WAY else _ARROWS[up // 45]


def _extent(piece: Piece) -> tuple[Fraction, Fraction]:
    return max(x for x, _ in piece.corners), max(y for _, y in piece.corners)
