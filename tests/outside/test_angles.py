"""Blocks with lines at 45 degrees against what has been printed of them: SIS-1 to SIS-5, KX-1 and DIAG-3 of the check
values, each with its source. All at an allowance of 1/4 in, all published; exact sizes have a root of 2.
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from pathlib import Path

import pytest
from planned import plan_text, print_out, why_wrong
from points import read_exact

from planner.checks import plan_file
from planner.measure import Root, Ruler, read_number, spell_number
from planner.plan import Plan
from planner.surd import Exact, Surd

EIGHTH, SIXTEENTH = Fraction(1, 8), Fraction(1, 16)
LESSON_5 = "Lesson 5, Square in a square, slideblast.com"
DOCSBAY = "Number of squares from a fat quarter (yardage and on-point sheet), docsbay.net"
# id, the finished centre, the square that is cut in two for the corners, its exact value, the source
SQUARES_IN_SQUARES = [
    ("SIS-1", "4", "3 3/4", "3.681981", "Corner triangles for setting blocks on point, scrapish.com"),
    ("SIS-2", "6", "5 1/8", "5.096194", f"{DOCSBAY}; On-point settings tip, moonlightquilters.org"),
    ("SIS-3", "12", "9 3/8", "9.338835", f"{DOCSBAY}; Block on point, pinemeadowsdesigns.com"),
    ("SIS-4", "3 1/2", "3 3/8", "3.328427", LESSON_5),
]
KINGS_X = "Hidden Spools (King's X), quiltville.blogspot.com, June 2005"
FORMULAS = "K. Combs, Formulas for Quilters, 2002, karencombs.com"


def plan_square_in_square(size: str) -> Plan:
    """A square on its point in a block of this size."""
    return plan_text(
        f"""
project: Square in a square
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  square in square: {{size: {size}, square: {{centre: navy, around: shell}}}}
make: [{{block: square in square, count: 1}}]
"""
    )


def find_cut(printed: plan_file.Plan, shape: str) -> plan_file.PlanCut:
    (entry,) = [entry for entry in printed["cut"] if entry["shape"] == shape]
    return entry


def spell_decimals(value: Exact) -> str:
    """To six digits behind the point, rounded."""
    plain, times, of = (value.plain, value.times, value.of) if isinstance(value, Surd) else (value, Fraction(0), 1)
    fine = 10**12
    near = plain * fine + (1 if times >= 0 else -1) * isqrt(int(times * times * of * fine * fine))
    return f"{round(near / 10**6) / 10**6:.6f}"


def up_to_an_eighth(value: Fraction) -> str:
    return spell_number(-(-value // EIGHTH) * EIGHTH)


@pytest.mark.parametrize(("row", "centre", "corner", "exact", "source"), SQUARES_IN_SQUARES)
def test_corners_of_a_square_in_a_square_come_from_the_printed_square(
    row: str, centre: str, corner: str, exact: str, source: str
) -> None:
    """The block is as wide as the centre's diagonal: the centre, written in the size, comes out without a root."""
    side = read_number(centre)
    printed = print_out(plan_square_in_square(f"{side}r2"))
    assert why_wrong(printed) == (), row
    square, triangle = find_cut(printed, "square"), find_cut(printed, "half-square triangle")
    assert square["finished"] == [spell_number(side)] * 2, row
    assert square["cut"] == [spell_number(side + Fraction(1, 2))] * 2, row
    leg = read_exact(triangle["finished"][0])
    assert leg == Surd(Fraction(0), side / 2, 2), row
    # Exactly 2 + sqrt(2) allowances are needed on the leg; the rule is 7/2
    assert spell_decimals(leg + Fraction(1, 2) + Surd(Fraction(0), Fraction(1, 4), 2)) == exact, row
    cut = read_number(triangle["cut"][0])
    assert up_to_an_eighth(cut) == corner, (row, source)
    assert cut - SIXTEENTH < leg + Fraction(7, 8) <= cut
    assert (triangle["count"], square["count"]) == (4, 1)


def test_the_centre_of_a_square_in_a_square_of_12_is_cut_9() -> None:
    """SIS-5: block finished 12: cut centre 9, exactly 8.985281, nearest 1/8. Lesson 5, slideblast.com."""
    square = find_cut(print_out(plan_square_in_square("12")), "square")
    side = read_exact(square["finished"][0])
    assert square["finished"] == ["6*sqrt(2)", "6*sqrt(2)"]
    assert spell_decimals(side + Fraction(1, 2)) == "8.985281", LESSON_5
    assert square["cut"] == ["9", "9"], LESSON_5


def test_kings_x_of_triangles_3_high_measures_8_485281() -> None:
    """KX-1: four squares of two pieced triangles, height 3; 16 pieces, 15 seams; 8 1/2 to the nearest 1/8."""
    text = (Path(__file__).parent / "blocks" / "kings-x.yaml").read_text(encoding="utf-8")
    plan = plan_text(
        text.replace("size: 8 1/2", "size: 6r2")
        .replace("  - {block: KX-2, count: 1}\n", "")
        .replace("  - {block: equal fifths, count: 1}\n", "")
    )
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    assert (len(printed["patches"]), len(printed["seams"])) == (16, 15), KINGS_X
    (size, _) = printed["blocks"][0]["size"]
    assert size == "6*sqrt(2)"
    assert spell_decimals(read_exact(size)) == "8.485281", KINGS_X
    measured = read_number(Ruler("in").to_measure(Root(Fraction(0), Fraction(6), 2)).words.removeprefix("about "))
    assert spell_number(round(measured / EIGHTH) * EIGHTH) == "8 1/2", KINGS_X
    # Each triangle is 3 high: half the diagonal of a quarter of the block
    quarter = read_exact(size) / 2
    assert quarter * quarter * 2 == (2 * 3) ** 2


def test_an_eight_pointed_star_is_3_41_times_as_wide_as_its_diamonds_are_long() -> None:
    """DIAG-3: block / diamond side, 3.41, exactly 2 + sqrt(2). K. Combs, Formulas for Quilters."""
    text = (Path(__file__).parent.parent / "rooted" / "eight_points.yaml").read_text(encoding="utf-8")
    printed = print_out(plan_text(text))
    width = read_exact(printed["blocks"][0]["size"][0])
    corner = find_cut(printed, "square")["finished"][0]  # the squares in the corners are as wide as the diamonds
    ratio = width / read_exact(corner)
    assert spell_decimals(ratio) == "3.414214", FORMULAS
    assert spell_decimals(ratio)[:4] == "3.41", FORMULAS
