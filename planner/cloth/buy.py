"""The length that a layout takes -> the length to buy: what is lost before and beside it, and what is spare."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from planner.cloth.round_length import ToBuy, round_to_buy, swell
from planner.project import YARD_STEP

# 35 in of a yard are cut into strips in the chart that STR-7 of the check values is taken from
SQUARED_END = Fraction(1)  # inches


class Bought(NamedTuple):
    """Inches: `layout` on shrunk cloth, `end` that goes with squaring, `margin` so that any one strip can be cut
    again, `raw` what all of it is before it shrinks; and what is bought."""

    layout: Fraction
    end: Fraction
    margin: Fraction
    raw: Fraction
    buy: ToBuy


def buy_length(layout: Fraction, margin: Fraction, shrinkage: Fraction, step: Fraction = YARD_STEP) -> Bought:
    """What to buy for a layout, in yards up to the next `step`; nothing where nothing is laid out."""
    if not layout:
        nothing = Fraction(0)
        return Bought(nothing, nothing, nothing, nothing, ToBuy(nothing, nothing))
    raw = swell(layout + SQUARED_END + margin, shrinkage)
    return Bought(layout, SQUARED_END, margin, raw, round_to_buy(raw, step))
