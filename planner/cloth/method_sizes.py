"""What squares and strips each method of sewing triangles begins with, and what its units measure on the way.

Inches. A leg is that of the finished half square, a long side that of a finished quarter square. Rules are those of the
trade; where one has a root, the size goes up to the next `mark` of the ruler (1/8 in), so that nothing is short. What
comes out is then as wide as it should be or hardly more, and is trimmed.
"""

from __future__ import annotations

from fractions import Fraction

from planner.cut_sizes import HALF_SQUARE, QUARTER_SQUARE
from planner.measure import Root

EIGHTH = Fraction(1, 8)


def square_for_halves(leg: Fraction, seam: Fraction) -> Fraction:
    """The square that two half squares come from: cut once, or sewn on both sides of its diagonal."""
    return leg + HALF_SQUARE * seam


def square_for_quarters(long: Fraction, seam: Fraction) -> Fraction:
    """The square that four quarter squares come from; also the one square of four geese."""
    return long + QUARTER_SQUARE * seam


def square_for_four(leg: Fraction, seam: Fraction, mark: Fraction = EIGHTH) -> Fraction:
    """The square of a pair that is sewn all round and cut from corner to corner both ways: four units, their edges on
    the bias."""
    return Root(2 * seam, leg + 2 * seam, 2).up_to(mark)


def square_for_eight(leg: Fraction, seam: Fraction) -> Fraction:
    """The square of a pair that is sewn on both sides of both diagonals: eight units."""
    return 2 * square_for_halves(leg, seam)


def strip_for_halves(leg: Fraction, seam: Fraction, mark: Fraction = EIGHTH) -> Fraction:
    """How wide two strips are that are sewn together along both edges and cut into triangles, which lie head to foot:
    the long side of each is on a seam, its tip at the other edge. Their edges are on the bias."""
    half = leg / 2 + seam
    return Root(seam, half, 2).up_to(mark)  # the height of a triangle with the unit's own sides, and one allowance


def unit_of_four(square: Fraction, seam: Fraction, step: Fraction = EIGHTH) -> Fraction:
    """What can be trimmed, down to a `step` of the ruler, from the units of two squares sewn all round."""
    half = square / 2 - seam
    return Root(Fraction(0), half, 2).up_to(step) - step  # a root, so never on the ruler itself


def unit_of_halves(square: Fraction, seam: Fraction, step: Fraction = EIGHTH) -> Fraction:
    """What can be trimmed, down to a `step`, from the units of two squares sewn on both sides of the diagonal."""
    return Root(square, -seam, 2).up_to(step) - step


def count_triangles(length: Fraction, strip: Fraction) -> int:
    """How many triangles a pair of strips gives; at each end half of one is lost."""
    return max(0, length // strip - 1)


def count_segments(length: Fraction, segment: Fraction) -> int:
    """How many segments are cut across a strip set of this length."""
    return length // segment
