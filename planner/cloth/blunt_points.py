"""An outline to cut -> the same with its sharp points cut off, so that edges meet when two pieces are laid together.

Inches, x right, y down. An edge that ends in a sharp point reaches far beyond its seam, and hides where the neighbour's
edge belongs. So both edges of the point end one allowance beyond the end of their seams, as those of a square do, and
the point is cut off straight between them. Nothing comes nearer to the seam line than the allowance.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import isqrt
from typing import NamedTuple

from planner.cut_sizes import Corner

# How far an edge may reach beyond one allowance past its seam and stay whole, in allowances: points of 60 degrees are
# cut off, those of 72 (a pentagon's are wider still) are not
LITTLE = Fraction(1, 2)
_FINE = 1 << 60


class _Line(NamedTuple):
    """All points whose way along x, y is `reach`; an edge that crosses it ends there."""

    x: Fraction
    y: Fraction
    reach: Fraction


def blunt_points(cut: Sequence[Corner], seam_line: Sequence[Corner], seam: Fraction) -> tuple[Corner, ...]:
    """`cut` and `seam_line` are outlines, clockwise, corner for corner; `seam` is the allowance. Each sharp point
    becomes two corners."""
    found: list[Corner] = []
    for number, corner in enumerate(cut):
        after = (number + 1) % len(cut)
        inner, before, behind = seam_line[number], seam_line[number - 1], seam_line[after]
        lines = [_square_off(inner, start, seam) for start in (before, behind)]
        if _is_sharp(before, inner, behind) and all(_sticks_out(corner, line, inner) for line in lines):
            found.append(_meet(lines[0], cut[number - 1], corner))
            found.append(_meet(lines[1], cut[after], corner))
        else:
            found.append(corner)
    return tuple(found)


def _is_sharp(before: Corner, inner: Corner, behind: Corner) -> bool:
    """Whether the outline turns to the right there by more than a right angle."""
    ax, ay = inner[0] - before[0], inner[1] - before[1]
    bx, by = behind[0] - inner[0], behind[1] - inner[1]
    return ax * by - ay * bx > 0 and ax * bx + ay * by < 0


def _square_off(inner: Corner, start: Corner, seam: Fraction) -> _Line:
    """The line square to a side of the seam line, one allowance beyond its end."""
    x, y = inner[0] - start[0], inner[1] - start[1]
    return _Line(x, y, x * inner[0] + y * inner[1] + seam * _measure(x, y))


def _measure(x: Fraction, y: Fraction) -> Fraction:
    """How long a way is, or hardly more."""
    square = (x * x + y * y) * _FINE * _FINE
    return Fraction(isqrt(square.numerator // square.denominator) + 1, _FINE)


def _sticks_out(corner: Corner, line: _Line, inner: Corner) -> bool:
    """Whether a corner is more than a little beyond the line."""
    beyond = line.x * corner[0] + line.y * corner[1] - line.reach
    allowance = line.reach - line.x * inner[0] - line.y * inner[1]
    return beyond > LITTLE * allowance


def _meet(line: _Line, start: Corner, end: Corner) -> Corner:
    """Where an edge crosses a line."""
    at, to = (line.x * x + line.y * y for x, y in (start, end))
    part = (line.reach - at) / (to - at)
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part
