"""Loose blocks -> pillow tops: how many blocks lie on one, the border that is missing, and the back."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import NamedTuple

HEM = Fraction(1)  # inches, turned in at the open edge of each half of the back


class Pillow(NamedTuple):
    """Inches. `across` x `down` blocks and, finished, `sides` more at the left and right and `ends` above and below.
    `strips` are the border as it is cut, side strips first: pairs of (short side, long side). The back is two pieces
    `back` (wide, high), which lie over each other in the middle."""

    across: int
    down: int
    sides: Fraction
    ends: Fraction
    strips: tuple[tuple[Fraction, Fraction], ...]
    back: tuple[Fraction, Fraction]

    @property
    def blocks(self) -> int:
        return self.across * self.down


def find_pillow(size: Fraction, block: tuple[Fraction, Fraction], overlap: Fraction, seam: Fraction) -> Pillow | None:
    """A square pillow of blocks of this finished size; None where a block is larger than the pillow. Common practice,
    no source: the back is two halves, hemmed, that lie over each other by `overlap`."""
    across, down = floor(size / block[0]), floor(size / block[1])
    if not across or not down:
        return None
    back = size + 2 * seam, (size + overlap) / 2 + seam + HEM
    sides, ends = (size - across * block[0]) / 2, (size - down * block[1]) / 2
    strips = [(sides + 2 * seam, down * block[1] + 2 * seam)] if sides else []
    strips += [(ends + 2 * seam, size + 2 * seam)] if ends else []
    return Pillow(across, down, sides, ends, tuple(strips), back)
