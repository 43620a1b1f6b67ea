"""Thread and stitches against printed figures: THR-1 to THR-8, STL-1 to STL-4, TIME-9, DIS-14, DIS-16, NEG-14, NEG-15
and NEG-30 of the check values."""

from __future__ import annotations

from fractions import Fraction
from math import floor

import pytest
from planned import plan_text

from planner.cloth.finish_quilt import finish_quilt
from planner.cloth.thread import (
    LOCKSTITCH,
    count_stitches,
    count_to_inch,
    find_ratio,
    find_thread,
    measure_ratio,
    need_thread,
    sum_seams,
)
from planner.finish import ThreadChoice
from planner.measure import INCHES_PER_CM

RATIOS = "A. K. Das, and M. Islam, textilecalculation.blogspot.com, June and July 2015"
FACTORY = "apparel-merchandising.com, Aug 2011; apparelscience.com; melgeecrafts.com"
CHARTS = "stashbandit.net; piecefulkwilter.blogspot.com, May 2009; bonnysews.com, June 2020"
CLASSES = "allaboutqms.blogspot.com, April 2021; ASTM D6193-16, abstract"
MM = INCHES_PER_CM / 10
NINE_PATCH = """
project: Nine patch
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks: {nine patch: {size: 6, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]}}
make: [{block: nine patch, count: 1}]
"""


def test_a_lockstitch_takes_as_much_thread_as_is_printed() -> None:
    """THR-1, THR-2 and DIS-16, published: 2.2 and 2.5 times the seam at 10 stitches an inch, through 0.01 and 0.025 in.
    The larger one is the default, so that nothing runs out; it can be set."""
    assert find_ratio(Fraction("0.01"), 10) == Fraction("2.2"), RATIOS
    assert find_ratio(Fraction("0.025"), 10) == Fraction("2.5")
    assert ThreadChoice().ratio == Fraction("2.5"), FACTORY


def test_a_chainstitch_lies_three_times_along_its_seam() -> None:
    """THR-3, published: class 101 through 0.005 in, 9 an inch: 3.09. THR-8: 301, the lockstitch, has two threads."""
    assert find_ratio(Fraction("0.005"), 9, runs=3) == Fraction("3.09"), RATIOS
    assert LOCKSTITCH == 2, CLASSES


def test_half_of_the_thread_is_on_the_bobbin() -> None:
    """THR-4, published: 220 cm at 2.5 are 550, 275 of it on the bobbin. NEG-14: no quarter of 1210, 302.5."""
    plan = plan_text(f"{NINE_PATCH}finish: {{thread: {{ratio: 2.5, waste: 0}}}}\n")
    thread = finish_quilt(plan).thread
    assert thread.length == thread.seams * Fraction("2.5")
    assert thread.bobbin == thread.length / 2, FACTORY
    assert need_thread(Fraction(220), Fraction("2.5"), Fraction(0)) == 550
    assert need_thread(Fraction(220), Fraction("2.5"), Fraction(0)) / 2 == 275 != Fraction(1210) / 4


def test_thread_can_be_measured_by_unpicking_a_seam() -> None:
    """THR-5 and THR-6, published: 9 and 8 in out of 3 of seam, for 42 in and 15 % more: 7.62 yd printed, rounded up at
    each step; 19.5 of 15 cm and 62 of 15 cm, for 100 cm: 540 cm printed, with ratios to one decimal. Unrounded here."""
    yards = need_thread(Fraction(42), measure_ratio(Fraction(3), Fraction(9), Fraction(8)), Fraction("0.15")) / 36
    assert round(yards, 6) == Fraction("7.602778"), FACTORY
    assert 0 < Fraction("7.62") - yards < Fraction("0.02")
    ratio = measure_ratio(Fraction(15), Fraction("19.5"), Fraction(62))
    assert round(need_thread(Fraction(100), ratio, Fraction(0)), 6) == Fraction("543.333333")
    printed = measure_ratio(Fraction(1), Fraction("1.3"), Fraction("4.1"))
    assert need_thread(Fraction(100), printed, Fraction(0)) == 540
    assert need_thread(Fraction(100), printed, Fraction("0.15")) == 621
    assert ThreadChoice().waste == Fraction("0.15")


def test_the_seams_of_a_nine_patch_are_as_long_as_reckoned() -> None:
    """TIME-9, common practice, no source: six seams of 2 1/2 and two of 6 1/2 are 28 in, 336 stitches at 12 an inch.
    THR-7, published (formula): through 0.02 in at 12 an inch that takes 69.44 in."""
    plan = plan_text(NINE_PATCH)
    assert sum_seams(plan) == 28
    twelve = Fraction(1, 12)
    ratio = find_ratio(Fraction("0.02"), 12)
    thread = find_thread(plan, ThreadChoice(ratio, Fraction(0), twelve))
    assert thread.stitches == 336
    assert thread.length == Fraction("69.44"), RATIOS


def test_every_copy_and_every_seam_of_a_quilt_counts() -> None:
    """Four nine patches of 6 joined: 4 x 28, two seams of 6 1/2 and one of 12 1/2. Reckoned, no source."""
    text = NINE_PATCH.replace("make: [{block: nine patch, count: 1}]", "quilt: {rows: [[nine patch, nine patch]] }")
    assert sum_seams(plan_text(text)) == 2 * 28 + Fraction(13, 2)
    loose = NINE_PATCH.replace("count: 1", "count: 5")
    assert sum_seams(plan_text(loose)) == 5 * 28


@pytest.mark.parametrize(
    ("millimetres", "printed"),
    [("0.5", 50), ("1", 25), ("1.5", 16), ("2", 12), ("2.5", 10), ("3", 8), ("3.5", 7), ("4", 6), ("5", 5)],
)
def test_stitches_of_an_inch_are_as_in_the_chart(millimetres: str, printed: int) -> None:
    """STL-1 and STL-3, published, rounded down. NEG-15: 25 an inch are 1 mm, not 0.1. NEG-30 and DIS-14: 1 mm are 25,
    not 24, and 3 mm are 8, not 9."""
    assert count_to_inch(Fraction(millimetres) * MM) == printed, CHARTS


def test_a_second_chart_rounds_to_the_nearest() -> None:
    """STL-4 and DIS-14, published: 2 mm 13, 4 mm 6, 5 mm 5, 6 mm 4. Ours are the whole ones, so that a seam never has
    less than is told; only the first differs."""
    nearest = {stitch: floor(1 / (stitch * MM) + Fraction(1, 2)) for stitch in (2, 4, 5, 6)}
    assert nearest == {2: 13, 4: 6, 5: 5, 6: 4}, CHARTS
    assert {stitch: count_to_inch(stitch * MM) for stitch in nearest} == {2: 12, 4: 6, 5: 5, 6: 4}


def test_millimetres_of_a_stitch_are_as_printed() -> None:
    """STL-2, published: 12 an inch are 2.12 mm, 15 are 1.69."""
    assert [round(Fraction(1, count) / MM, 2) for count in (12, 15)] == [Fraction("2.12"), Fraction("1.69")], CHARTS
    assert count_stitches(Fraction(13, 2), Fraction(1, 12)) == 78, "TIME-6: 6 1/2 in at 12 an inch"
