"""Squares and strips of the quick methods against printed charts: GEN, HST, QST, CHN, FG, E8, F4, STR and DIS of the
check values, each with its source; and the misprints that must not come out (NEG).

All at an allowance of 1/4 in where nothing else is said. "published (formula)": the rule was read, this size computed.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from outside.test_triangles import FLYING_GEESE, HALF_SQUARES, QUARTER_SQUARES
from planner.cloth.method_sizes import (
    count_segments,
    count_triangles,
    square_for_eight,
    square_for_four,
    square_for_halves,
    square_for_quarters,
    strip_for_halves,
    unit_of_four,
    unit_of_halves,
)
from planner.measure import read_number

SEAM = Fraction(1, 4)
SISTERS = "Block 6, sistersandquilters.blogspot.com, 22 May 2013"
EIGHT = "Half squares eight at a time, craftsy.com, January 2014"
ALL_ROUND = "Block of the whenever 3, futurecat.deardiary.net, 18 February 2018"
HOURGLASS_STARS = "Hourglass Stars wall hanging, allpeoplequilt.com, undated"
HOURGLASS = "allpeoplequilt.com block pages 2013-2019"


@pytest.mark.parametrize(("row", "finished", "cut", "source"), HALF_SQUARES)
def test_two_at_a_time_begins_with_the_printed_square(row: str, finished: str, cut: str, source: str) -> None:
    assert square_for_halves(read_number(finished), SEAM) == read_number(cut), (row, source)


@pytest.mark.parametrize(("row", "finished", "cut", "source"), QUARTER_SQUARES)
def test_hourglasses_begin_with_the_printed_square(row: str, finished: str, cut: str, source: str) -> None:
    assert square_for_quarters(read_number(finished), SEAM) == read_number(cut), (row, source)


@pytest.mark.parametrize(("row", "size", "large", "small", "source"), FLYING_GEESE)
def test_four_geese_begin_with_the_printed_squares(row: str, size: str, large: str, small: str, source: str) -> None:
    wide, high = (read_number(side) for side in size.split(" x "))
    assert square_for_quarters(wide, SEAM) == read_number(large), (row, source)
    assert square_for_halves(high, SEAM) == read_number(small), (row, source)


@pytest.mark.parametrize(
    ("row", "finished", "cut", "source"),
    [
        ("E8-1", "1 3/4", "5 1/4", SISTERS),
        ("E8-2", "2", "5 3/4", f"{EIGHT} (formula)"),
        ("E8-3", "3", "7 3/4", EIGHT),
        ("E8-4", "4", "9 3/4", f"{EIGHT} (formula)"),
    ],
)
def test_eight_at_a_time_begins_with_the_printed_square(row: str, finished: str, cut: str, source: str) -> None:
    assert square_for_eight(read_number(finished), SEAM) == read_number(cut), (row, source)


def test_four_sewn_all_round_give_the_printed_unit() -> None:
    """F4-1: squares 4 1/2 give units of 2 3/4, exactly 2.828427, trimmed."""
    assert unit_of_four(Fraction(9, 2), SEAM, Fraction(1, 4)) == Fraction(11, 4), ALL_ROUND
    # And the other way round: that unit, 2 1/4 finished, needs no larger square
    assert square_for_four(Fraction(9, 4), SEAM) <= Fraction(9, 2), ALL_ROUND


@pytest.mark.parametrize(
    ("row", "finished", "chain", "source"),
    [
        ("CHN-1", "6", ("7 1/4", "6 7/8", "6 1/2"), HOURGLASS_STARS),
        ("CHN-2", "3 1/2", ("4 3/4", "4 3/8", "4"), HOURGLASS),
    ],
)
def test_an_hourglass_is_trimmed_twice_as_printed(row: str, finished: str, chain: tuple[str, ...], source: str) -> None:
    first = square_for_quarters(read_number(finished), SEAM)
    middle = unit_of_halves(first, SEAM)
    assert (first, middle, unit_of_halves(middle, SEAM)) == tuple(map(read_number, chain)), (row, source)


@pytest.mark.parametrize("seam", ["1/8", "3/16", "1/4", "3/8", "1/2"])
@pytest.mark.parametrize("leg", ["3/4", "1 3/4", "3", "4 1/8", "11"])
def test_no_square_is_short_and_none_is_far_too_large(leg: str, seam: str) -> None:
    """Geometry, against squares of the true sizes: no root is rounded here."""
    size, allowance = read_number(leg), read_number(seam)
    sewn = size + 2 * allowance
    for square, per_step in ((square_for_four(size, allowance), Fraction(1, 8)),):
        # A quarter of the pair opens to a square of (square - 2 allowances) / sqrt(2)
        assert (square - 2 * allowance) ** 2 >= 2 * sewn**2
        assert (square - per_step - 2 * allowance) ** 2 < 2 * sewn**2
    strip = strip_for_halves(size, allowance)
    # From the seam to the tip a triangle measures sewn / sqrt(2)
    assert 2 * (strip - allowance) ** 2 >= sewn**2
    assert 2 * (strip - Fraction(1, 8) - allowance) ** 2 < sewn**2
    # A square sewn on both sides of its diagonal opens to square - sqrt(2) allowances
    for square in (square_for_halves(size, allowance), square_for_eight(size, allowance) / 2):
        assert (square - sewn) ** 2 >= 2 * allowance**2
        assert (square - sewn - allowance / 8) ** 2 < 2 * allowance**2


@pytest.mark.parametrize(
    ("row", "length", "segment", "many", "source"),
    [
        ("STR-4", "42", "2", 21, "J. Wickell, quilting.about.com and thesprucecrafts.com: double nine-patch"),
        ("STR-4", "21", "2", 10, "J. Wickell, quilting.about.com and thesprucecrafts.com: double nine-patch"),
        ("STR-5", "30", "6 1/2", 4, "allpeoplequilt.com block pages 2013-2019 (rail fence)"),
    ],
)
def test_a_strip_set_gives_the_printed_segments(row: str, length: str, segment: str, many: int, source: str) -> None:
    """Of the set of 42 in the page uses 20, two blocks' worth; of that of 21 in all 10."""
    assert count_segments(read_number(length), read_number(segment)) == many, (row, source)


def test_at_each_end_of_a_pair_of_strips_half_a_triangle_is_lost() -> None:
    # Triangles head to foot on strips 3 wide: their long sides are 6, and each next one begins 3 further on
    assert [count_triangles(Fraction(length), Fraction(3)) for length in (5, 6, 9, 11, 12, 40)] == [0, 1, 2, 2, 3, 12]


@pytest.mark.parametrize(
    ("row", "size", "sources"),
    [
        ("NEG-21", Fraction(2), "Friendship star, yupedia.com"),
        ("NEG-28", Fraction(1, 2), "Fraser Valley Quilters' Guild, November 2000 block, fvqg.org"),
    ],
)
def test_half_squares_never_come_from_the_misprinted_square(row: str, size: Fraction, sources: str) -> None:
    for leg in (Fraction(1), Fraction(2), Fraction(7, 2), Fraction(6)):
        assert square_for_halves(leg, SEAM) != leg + size, (row, sources)
        assert square_for_halves(leg, SEAM) == leg + Fraction(7, 8), (row, sources)


def test_the_line_of_sewing_lies_one_allowance_from_the_diagonal() -> None:
    """NEG-22: sewn 1/2 from the diagonal a square 4 7/8 opens to 4.167893, short of 4 1/2; sewn 1/4 from it, it does
    not. Friendship star, monadnockquiltersguild.org, March 2021."""
    square = square_for_halves(Fraction(4), SEAM)
    assert square == read_number("4 7/8")
    assert unit_of_halves(square, Fraction(1, 2)) < Fraction(9, 2) <= unit_of_halves(square, SEAM)
