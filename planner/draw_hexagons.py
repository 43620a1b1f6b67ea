"""A field of hexagons in rows, and what fills the rectangle round it, patch by patch.

Hexagons stand on a point, their sides are 1. Rows lie half a hexagon askew to one another, long ones and such with one
less in turn. x runs right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from planner.draw_units import Drawn
from planner.surd import Exact, ExactOutline, ExactPoint, Surd

ZERO, HALF = Fraction(0), Fraction(1, 2)
_HALF_WIDE = Surd(ZERO, HALF, 3)


def box_of_hexagons(rows: Sequence[Sequence[str]]) -> ExactPoint:
    """How wide and how high a field is."""
    return 2 * max(map(len, rows)) * _HALF_WIDE, Fraction(3 * len(rows) + 1, 2)


def draw_hexagons(rows: Sequence[Sequence[str]], edge: str) -> list[Drawn]:
    """The hexagons row by row; then of the fabric `edge` the halves at the ends of the short rows, and what lies
    between the points of the first row and of the last and the border."""
    wide, high = box_of_hexagons(rows)
    longest = max(map(len, rows))
    drawn: list[Drawn] = []
    halves: list[ExactOutline] = []
    for number, row in enumerate(rows):
        middle = Fraction(3 * number + 2, 2)
        is_short = len(row) < longest
        for at, fabric in enumerate(row):
            left = (2 * at + is_short) * _HALF_WIDE
            drawn.append((fabric, _outline(left, middle)))
        if is_short:
            above, below = middle - HALF, middle + HALF
            for side, inner in ((ZERO, _HALF_WIDE), (wide, wide - _HALF_WIDE)):
                halves.append(((side, middle - 1), (inner, above), (inner, below), (side, middle + 1)))
    drawn += [(edge, half) for half in halves]
    for row, border, inner in ((rows[0], ZERO, HALF), (rows[-1], high, high - HALF)):
        # where its hexagons touch the border; from half to half where the row is short
        points = [(2 * at + 1) * _HALF_WIDE for at in range(longest)]
        if len(row) < longest:
            points = [ZERO, *(2 * at * _HALF_WIDE for at in range(1, longest)), wide]
        else:
            drawn.append((edge, ((ZERO, border), (points[0], border), (ZERO, inner))))
        for start, end in pairwise(points):
            drawn.append((edge, ((start, border), (end, border), ((start + end) * HALF, inner))))
        if len(row) == longest:
            drawn.append((edge, ((points[-1], border), (wide, border), (wide, inner))))
    return drawn


def _outline(left: Exact, middle: Exact) -> ExactOutline:
    """A hexagon, by its left side and the height of its middle."""
    centre, right = left + _HALF_WIDE, left + 2 * _HALF_WIDE
    return (
        (centre, middle - 1),
        (right, middle - HALF),
        (right, middle + HALF),
        (centre, middle + 1),
        (left, middle + HALF),
        (left, middle - HALF),
    )
