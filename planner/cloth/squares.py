"""How many equal squares come out of a piece of cloth, strip by strip."""

from __future__ import annotations

from fractions import Fraction
from math import floor


def count_squares(wide: Fraction, long: Fraction, side: Fraction) -> int:
    """Squares with this side, as cut, out of cloth of so much usable width and length; all in inches."""
    return count_in(wide, side) * count_in(long, side)


def count_in(length: Fraction, side: Fraction) -> int:
    """How many sides lie in a length, one after the other: a strip is cut across so often."""
    return floor(length / side)
