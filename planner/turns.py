"""Turns of a frame: by quarters everywhere; by eighths where shapes have a root of 2, by twelfths with a root of 3.

A turn is counted in quarters clockwise: whole ones are whole numbers, an eighth of the full circle is 1/2. What is
turned is put back so that the upper left corner of the box round it is at 0, 0.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from planner.blocks import Point
from planner.surd import Grid, Surd, halve

Turn = int | Fraction

# The parts of a quarter by which shapes are turned, by the root that a project has; and what is between whole quarters
STEP = {2: Fraction(1, 2), 3: Fraction(1, 3)}
BETWEEN: dict[int, tuple[Fraction, ...]] = {
    of: tuple(step * many for many in range(int(4 / step)) if (step * many).denominator > 1)
    for of, step in STEP.items()
}


class Spread(NamedTuple):
    """The box round what is turned about 0, 0."""

    left: Grid
    top: Grid
    wide: Grid
    high: Grid

    def put(self, point: Point, turn: Turn) -> Point:
        """A point after the turn, as seen from the box's upper left corner."""
        x, y = rotate(point, turn)
        return x - self.left, y - self.top


def spread_box(width: Grid, height: Grid, turn: int) -> Spread:
    """Of a box with its upper left corner at 0, 0, turned by whole quarters."""
    quarters = turn % 4
    if quarters == 0:
        return Spread(0, 0, width, height)
    if quarters == 1:
        return Spread(-height, 0, height, width)
    if quarters == 2:
        return Spread(-width, -height, width, height)
    return Spread(0, -width, height, width)


def rotate(point: Point, turn: Turn) -> Point:
    """A point after a turn about 0, 0. `TooCoarse` where that is not on the grid."""
    x, y = point
    if isinstance(turn, int):
        for _ in range(turn % 4):
            x, y = -y, x
        return x, y
    whole, rest = _PARTS[turn % 4]
    x, y = _rotate_by_part(x, y, rest)
    for _ in range(whole):
        x, y = -y, x
    return x, y


# Each turn between whole quarters as those and what is left: 45, 30 or 60 degrees
_PARTS = {turn: (int(turn), int(90 * (turn - int(turn)))) for turns in BETWEEN.values() for turn in turns}


@lru_cache(1 << 16)
def _rotate_by_part(x: Grid, y: Grid, degrees: int) -> Point:
    if degrees == 45:  # cosine and sine are both half the root of 2
        return halve(_times_root(x - y, 2)), halve(_times_root(x + y, 2))
    if degrees == 30:  # half the root of 3, and a half
        return halve(_times_root(x, 3) - y), halve(x + _times_root(y, 3))
    return halve(x - _times_root(y, 3)), halve(_times_root(x, 3) + y)


def _times_root(value: Grid, of: int) -> Grid:
    if isinstance(value, Surd):
        return value * Surd(0, 1, of)
    return Surd(0, value, of) if value else 0


def plain_turn(turn: Turn) -> Turn:
    """The same within one circle; whole quarters as whole numbers."""
    turn %= 4
    return int(turn) if turn.denominator == 1 else turn


def to_eighths(turn: Turn) -> int:
    """Eighths of the circle, the nearest."""
    return (2 * turn + Fraction(1, 2)).__floor__() % 8


def turn_direction(vector: Point, turn: Turn) -> Point:
    """A direction, of any length, after a turn."""
    x, y = vector
    return rotate((x, y) if isinstance(turn, int) else (2 * x, 2 * y), turn)
