"""How long the handling takes that methods differ in. Minutes.

No published times for patchwork at home were found; these are assumptions, told as such, and only what is left of them
when two methods are compared matters. The machine runs at 600 stitches a minute, 12 to an inch.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

REACH = Fraction(12)  # inches that are laid, or pressed, in one go


class Pace(NamedTuple):
    """Minutes for one of each; `inch` for an inch of seam."""

    cut: Fraction = Fraction(1, 12)  # ruler laid on, one stroke of the blade, two layers at most
    mark: Fraction = Fraction(1, 12)  # a line drawn from corner to corner
    lay: Fraction = Fraction(1, 8)  # two pieces taken up and laid right sides together, edges even
    feed: Fraction = Fraction(1, 30)  # brought under the needle
    inch: Fraction = Fraction(1, 50)
    press: Fraction = Fraction(1, 10)
    trim: Fraction = Fraction(1, 4)  # a unit trimmed to size on all four sides


PACE = Pace()


class Handwork(NamedTuple):
    """How often each thing is done; `inches` of seam in `seams` seams."""

    cuts: int = 0
    marks: int = 0
    laid: int = 0
    seams: int = 0
    inches: Fraction = Fraction(0)
    presses: int = 0
    trims: int = 0

    def minutes(self, pace: Pace = PACE) -> Fraction:
        """What all of it takes."""
        by_hand = self.cuts * pace.cut + self.marks * pace.mark + self.laid * pace.lay
        at_machine = self.seams * pace.feed + self.inches * pace.inch
        return by_hand + at_machine + self.presses * pace.press + self.trims * pace.trim


def count_strokes(count: int, wide: Fraction, usable: Fraction) -> int:
    """Strokes of the blade for so many squares or rectangles as wide as this: strips across the folded cloth, and cross
    cuts through both layers of them."""
    across = max(1, usable // wide)
    return -(-count // across) + -(-count // 2)
