"""A batting: its size, and off a roll the lengths of it that are joined edge to edge."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.finish import Run

SQUARE_YARD = 36 * 36  # square inches


class Batting(NamedTuple):
    """Inches. Off a roll `lengths` pieces, each `panel` long, lie side by side along the quilt or across it; `length`
    is what that takes of the roll. In one piece (no roll is named) it is as wide and as high as needed."""

    wide: Fraction
    high: Fraction
    run: Run
    lengths: int
    panel: Fraction
    length: Fraction

    @property
    def square_yards(self) -> Fraction:
        """The area, for comparing parcels; never a length to buy."""
        return self.wide * self.high / SQUARE_YARD


def find_batting(top: tuple[Fraction, Fraction], overhang: Fraction, roll: Fraction | None) -> Batting:
    """The batting for a top, larger by `overhang` on every side. `roll` is how wide the roll is: batting has no selvage
    and no seam, its edges are butted."""
    wide, high = top[0] + 2 * overhang, top[1] + 2 * overhang
    if roll is None:
        return Batting(wide, high, "along", 1, high, high)
    along, across = ceil(wide / roll), ceil(high / roll)
    if along * high <= across * wide:
        return Batting(wide, high, "along", along, high, along * high)
    return Batting(wide, high, "across", across, wide, across * wide)
