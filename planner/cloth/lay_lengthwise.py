"""Long strips that are cut along the selvage, where cloth gives least: borders, sashing, strips of a print."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.cloth.rectangles import Rectangle

LONG = Fraction(24)  # inches: longer than a ruler reaches in one cut


def is_long(rectangle: Rectangle) -> bool:
    """Whether a piece is a long strip that may lie either way."""
    return rectangle.may_turn and max(rectangle.wide, rectangle.high) > LONG


def turn_lengthwise(rectangles: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    """The same, long strips along the cloth."""
    return tuple(
        one._replace(wide=min(one.wide, one.high), high=max(one.wide, one.high), may_turn=False)
        if is_long(one)
        else one
        for one in rectangles
    )
