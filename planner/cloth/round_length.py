"""A length of cloth -> what is asked for in a shop: before it shrinks, and rounded up."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.measure import INCHES_PER_CM
from planner.project import YARD_STEP

YARD = 36  # inches
METRE_STEP = Fraction(1, 10)  # metres


class ToBuy(NamedTuple):
    """The same length in both measures, each rounded up by itself."""

    yards: Fraction
    metres: Fraction


def swell(length: Fraction, shrinkage: Fraction) -> Fraction:
    """How long cloth is before it shrinks by this part of itself to `length` inches."""
    return length / (1 - shrinkage)


def round_to_buy(length: Fraction, step: Fraction = YARD_STEP) -> ToBuy:
    """Inches, up to the next 1/8 yard (or another step) and to the next 10 cm."""
    yards = ceil(length / YARD / step) * step
    metres = ceil(length / INCHES_PER_CM / 100 / METRE_STEP) * METRE_STEP
    return ToBuy(yards, metres)
