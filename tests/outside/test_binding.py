"""Binding against printed counts: BIND-1 to BIND-13, BIAS-1 to BIAS-3, DIS-6 and DIS-7 of the check values.

The sources differ in what they take off a strip (40 or 42 in of it, with or without what a join takes) and in what they
add for corners and closing (0 to 24 in). Each row is worked out with what its source takes; the program's own way is
40 in of a width of 42, slanted joins and 10 in, unless the maker says otherwise.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from planned import plan_text

from planner.cloth.binding import (
    Binding,
    find_bias_binding,
    find_bias_square,
    find_binding,
    lay_out_square,
    measure_bias,
)
from planner.cloth.finish_quilt import finish_quilt
from planner.cloth.round_length import round_to_buy
from planner.finish import BindingChoice
from planner.measure import read_number, spell_number

TWO_AND_A_HALF = Fraction(5, 2)
MAGAZINE = "allpeoplequilt.com quilts (counts; the rule is fitted here)"
BOARD = "quiltingboard.com, binding math t189575 and posts 7891512, 7400852"
TWO_A_STRIP = "castillejacotton.blogspot.com, 2 June 2013"
CONTINUOUS = "Continuous binding, sylviasquiltdepot.com; quicktipssewing.blogspot.com, Nov 2011 (+24)"
QUESTIONS = "secondary question pages: perkyhobby.com, teacherscollegesj.org, blogazonzon.com"
BIAS = "Continuous bias: mydecozo.co.uk; getasquiltingstudio.com, April 2018; 450 x 2 1/4 from a secondary copy"
# Counts without what a join takes: the join is in what is added, or in the 40 in
# id, wide, high, extra, inches of a strip, strips, source
PLAIN = [
    ("BIND-2", "50", "60", 10, 40, 6, f"{BOARD} (formula)"),
    ("BIND-2", "50", "60", 12, 40, 6, f"{BOARD} (formula)"),
    ("BIND-3", "46", "46", 0, 40, 5, CONTINUOUS),
    ("BIND-4", "96", "110", 12, 40, 11, BOARD),
    ("BIND-5", "60", "72", 10, 40, 7, "copy of an unnamed page: common practice, no source"),
    ("BIND-7", "84", "92", 0, 40, 9, QUESTIONS),
    ("DIS-6", "50", "60", 0, 40, 6, BOARD),
    ("DIS-6", "50", "60", 10, 40, 6, BOARD),
    ("DIS-6", "50", "60", 12, 40, 6, TWO_A_STRIP),
    ("DIS-6", "50", "60", 20, 40, 6, BOARD),
    ("DIS-6", "50", "60", 24, 40, 7, CONTINUOUS),
    ("DIS-7", "28", "28", 12, 40, 4, BOARD),
    ("DIS-7", "58 1/2", "58 1/2", 0, 40, 6, BOARD),
]
# With slanted joins: strips 2 1/2 x 42, 9 in for corners and closing
JOINED = [
    ("BIND-9", "58 1/2", "58 1/2", 7, "279"),
    ("BIND-10", "28", "28", 3, "121"),
    ("BIND-11", "73 1/2", "73 1/2", 8, "318 1/2"),
    ("BIND-12", "72 1/4", "82 1/2", 8, "318 1/2"),
    ("BIND-13", "81 3/4", "79 1/4", 9, "358"),
]


def go_round(wide: str, high: str) -> Fraction:
    return 2 * (read_number(wide) + read_number(high))


@pytest.mark.parametrize("row", PLAIN, ids=lambda row: f"{row[0]} +{row[3]}")
def test_strips_are_counted_as_printed(row: tuple[str, str, str, int, int, int, str]) -> None:
    _, wide, high, extra, strip, strips, _ = row
    # A strip of no width loses nothing in a slanted join
    found = find_binding(go_round(wide, high), Fraction(extra), Fraction(0), Fraction(strip), "slanted")
    assert found.strips == strips


@pytest.mark.parametrize("row", JOINED, ids=lambda row: row[0])
def test_strips_with_slanted_joins_are_counted_as_printed(row: tuple[str, str, str, int, str]) -> None:
    _, wide, high, strips, made = row
    found = find_binding(go_round(wide, high), Fraction(9), TWO_AND_A_HALF, Fraction(42), "slanted")
    assert (found.strips, found.made) == (strips, read_number(made)), MAGAZINE
    assert found.length <= found.made
    assert found.cloth == strips * TWO_AND_A_HALF


def test_two_inches_a_strip_go_with_its_join() -> None:
    """BIND-1, published: 50 x 60, strips of 40 of which a join takes 2: 6 strips."""
    found = find_binding(go_round("50", "60"), Fraction(0), Fraction(2), Fraction(40), "slanted")
    assert found.strips == 6, TWO_A_STRIP


def test_strips_take_the_cloth_that_is_printed() -> None:
    """BIND-3: 5 strips are 12 1/2 in, within 1/2 yd; BIND-4: 11 are 27 1/2; BIND-6: 7 are 17 1/2 in, 1/2 yd."""
    for wide, high, extra, inches, yards in (
        ("46", "46", 0, "12 1/2", "3/8"),
        ("96", "110", 12, "27 1/2", "7/8"),
        ("60", "72", 10, "17 1/2", "1/2"),
    ):
        # Strips of 42 1/2 with slanted joins of 2 1/2 are 40 each, and the last one has 2 1/2 more
        found = find_binding(go_round(wide, high), Fraction(extra), TWO_AND_A_HALF, Fraction(85, 2), "slanted")
        assert spell_number(found.cloth) == inches, (CONTINUOUS, BOARD, QUESTIONS)
        assert spell_number(round_to_buy(found.cloth).yards) == yards
    assert round_to_buy(5 * TWO_AND_A_HALF).yards <= Fraction(1, 2)


def test_the_way_round_and_what_is_added_are_as_printed() -> None:
    """BIND-4: 424 in; BIND-5: 274; BIND-7: 352; BIND-8: 64 x 64 and 16 are 272."""
    for wide, high, extra, length in (("96", "110", 12, 424), ("60", "72", 10, 274), ("84", "92", 0, 352)):
        found = find_binding(go_round(wide, high), Fraction(extra), TWO_AND_A_HALF, Fraction(42), "slanted")
        assert found.length == length
    assert find_binding(go_round("64", "64"), Fraction(16), TWO_AND_A_HALF, Fraction(40), "square").length == 272


def test_what_the_sources_differ_in_can_be_set_and_ours_is_told() -> None:
    """DIS-6: +10 is the default; +24 takes a strip more on 40 in. At 42 with joins 6 do. DIS-7: 28 x 28 in 3 or 4."""
    assert BindingChoice() == BindingChoice(None, TWO_AND_A_HALF, "straight", "slanted", Fraction(10))
    assert find_binding(go_round("50", "60"), Fraction(9), TWO_AND_A_HALF, Fraction(42), "slanted").strips == 6
    assert find_binding(go_round("28", "28"), Fraction(9), TWO_AND_A_HALF, Fraction(42), "slanted").strips == 3
    assert find_binding(go_round("58 1/2", "58 1/2"), Fraction(9), TWO_AND_A_HALF, Fraction(42), "slanted").strips == 7
    counts = []
    for extra in (0, 10, 24):
        plan = plan_text(f"""
project: Binding
fabrics: {{navy: {{value: dark}}}}
blocks: {{plain: {{size: 49 1/2 x 59 1/2, rows: [[navy]]}}}}
quilt: {{rows: [[plain]]}}
finish: {{binding: {{fabric: navy, extra: {extra}}}}}
""")
        bound = finish_quilt(plan).binding
        assert bound is not None
        assert isinstance(bound.strip, Binding)
        assert (bound.strip.around, bound.strip.length) == (220, 220 + extra)
        counts.append(bound.strip.strips)
    # 40 in of 42 with slanted joins: 6 strips are 227 1/2
    assert counts == [6, 7, 7]


def test_a_square_gives_the_bias_strip_that_is_printed() -> None:
    """BIAS-1, published: a square of 20 gives 200 in of 2. Its seams are left out there; they take 10."""
    assert measure_bias(Fraction(20), Fraction(2), Fraction(0)) == 200, BIAS
    assert measure_bias(Fraction(20), Fraction(2)) == 190


@pytest.mark.parametrize(
    ("length", "width", "printed", "with_seams"),
    [("250", "2", 23, 23), ("55", "2 1/2", 12, 13), ("450", "2 1/4", 32, 33)],
)
def test_the_square_for_a_bias_strip_is_printed_and_with_its_seams_never_short(
    length: str, width: str, printed: int, with_seams: int
) -> None:
    """BIAS-2, published: 23, 12 and 32. The program counts the two seams of the tube too, so that nothing is short."""
    long, wide = read_number(length), read_number(width)
    assert find_bias_square(long, wide, Fraction(0)) == printed, BIAS
    assert find_bias_square(long, wide) == with_seams
    assert measure_bias(Fraction(with_seams), wide) >= long > measure_bias(Fraction(with_seams - 1), wide)


def test_a_square_is_as_large_as_the_strip_of_cloth_that_is_printed() -> None:
    """BIAS-3, published: a square of 18 as a strip of 42: 8 x 42."""
    assert lay_out_square(Fraction(18), Fraction(42)) == 8, BIAS


def test_a_bias_strip_out_of_the_whole_width_is_never_short() -> None:
    found = find_bias_binding(Fraction(240), Fraction(10), Fraction(2), Fraction(40))
    area = (found.cloth - Fraction(1, 2)) * (Fraction(40) - Fraction(1, 2))  # each side less the seam it is joined by
    assert area >= 250 * 2
    assert found.square == 23
    assert found.cloth <= find_bias_square(found.length, Fraction(2))
