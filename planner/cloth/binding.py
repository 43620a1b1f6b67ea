"""The strip that is sewn round a quilt: strips cut across the cloth, or on the bias out of one piece."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, isqrt
from typing import NamedTuple

from planner.finish import BindingJoin

JOIN_SEAM = Fraction(1, 4)  # inches, the allowance by which strips are joined


class Binding(NamedTuple):
    """Inches. `around` is the way round the top, `length` what has to be there with corners and closing; `strips` cut
    across the cloth make `made` of it, and take `cloth` of its length."""

    around: Fraction
    length: Fraction
    strips: int
    made: Fraction
    cloth: Fraction

    @property
    def joins(self) -> int:
        """Joins between strips; the one that closes the ring comes on top."""
        return self.strips - 1


class BiasBinding(NamedTuple):
    """Inches. A continuous strip on the bias comes out of a length `cloth` of the whole usable width, or of a square of
    side `square` (None where the cloth is narrower)."""

    around: Fraction
    length: Fraction
    cloth: Fraction
    square: Fraction | None


def find_binding(around: Fraction, extra: Fraction, width: Fraction, usable: Fraction, join: BindingJoin) -> Binding:
    """Strips `width` wide, as long as the cloth can be used. A slanted join takes as much of the length as a strip is
    wide, a square one two allowances; the usable width is more than that."""
    length = around + extra
    lost = lose_in_join(width, join)
    strips = max(1, ceil((length - lost) / (usable - lost)))
    return Binding(around, length, strips, strips * usable - (strips - 1) * lost, strips * width)


def lose_in_join(width: Fraction, join: BindingJoin) -> Fraction:
    """How much of the length one join of two strips takes."""
    return width if join == "slanted" else 2 * JOIN_SEAM


def find_bias_binding(around: Fraction, extra: Fraction, width: Fraction, usable: Fraction) -> BiasBinding:
    """A strip on the bias without an end: the piece is cut once from corner to corner at half a right angle, joined
    into a slanting one, and that into a tube. Both seams take their allowances."""
    length = around + extra
    side = find_bias_square(length, width)
    rest = usable - 2 * JOIN_SEAM
    cloth = Fraction(ceil((length * width + 2 * JOIN_SEAM * usable) / rest))
    return BiasBinding(around, length, max(cloth, Fraction(ceil(2 * width))), side if side <= usable else None)


def find_bias_square(length: Fraction, width: Fraction, seam: Fraction = JOIN_SEAM) -> Fraction:
    """The least whole inches of a square that gives this length; charts of the trade leave the two seams out (0)."""
    side = isqrt(floor(length * width))
    while measure_bias(Fraction(side), width, seam) < length:
        side += 1
    return Fraction(side)


def measure_bias(side: Fraction, width: Fraction, seam: Fraction = JOIN_SEAM) -> Fraction:
    """How long a strip on the bias a square gives: its area less that of two seams, by the width of the strip."""
    return (side * side - 4 * seam * side) / width


def lay_out_square(side: Fraction, usable: Fraction) -> Fraction:
    """The whole inches of cloth, all across, that are as large as a square."""
    return Fraction(ceil(side * side / usable))
