"""A tube of cloth on the back of a quilt, for the rod that it hangs on."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

SLEEVE_SEAM = Fraction(1, 2)  # inches
HEM = Fraction(1)  # inches at each end: turned in, so that the rod shows there


class Sleeve(NamedTuple):
    """Inches. `deep` and `long` are what is cut, out of `strips` that are joined end to end; `cloth` is the length of
    cloth that they take."""

    deep: Fraction
    long: Fraction
    strips: int
    cloth: Fraction


def find_sleeve(top_width: Fraction, depth: Fraction, usable: Fraction) -> Sleeve:
    """A sleeve that lies `depth` deep and ends a hem short of each side. Common practice, no source: cut twice as deep
    and a seam, and as long as the quilt is wide."""
    deep = 2 * depth + 2 * SLEEVE_SEAM
    strips = max(1, ceil((top_width - 2 * SLEEVE_SEAM) / (usable - 2 * SLEEVE_SEAM)))
    return Sleeve(deep, top_width, strips, strips * deep)
