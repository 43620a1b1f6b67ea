"""Cut sizes of triangles against printed charts: GEN, HST, QST and FG of the check values, each with its source.

Rules, and sizes computed by a rule that was read, are "published" and "published (formula)"; all at an allowance of
1/4 in where nothing else is said.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from planned import plan_text, print_out

from planner.measure import read_number, spell_number
from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import CutWork, assign_letters, write_sheet

NORTH_HAMPSHIRE = (
    "North Hampshire Quilters, Half square and quarter square triangles, north-hampshire-quilters.org.uk/hblk402b.htm"
)
FORMULAS = "K. Combs, Formulas for Quilters, 2002, karencombs.com"
HOW_TO_CUT = "How to measure and cut triangles, grannymaudsgirl.wordpress.com, 11 June 2018"
DELAWARE = "delawarequilts.com, block pages Friendship Star and Ohio Star Variation; angelthings.com, April 2001 block"
MINI_MADNESS = "June Mini Madness blocks 9 and 20, pamelaquilts.com, 2020"
CHART = "Scissortail Quilting, Quarter square triangle chart, scissortailquilting.com"
GEESE = "Four geese chart, members.shaw.ca/beverlysquiltingpage/ffg.htm, undated"
LARGE_GEESE = (
    f"{GEESE}; Fast flying geese, sylviasquiltdepot.com; second chart: quiltingpassion.com, 7 July 2004 (formula)"
)

# id, finished leg, the square that is cut in two, source
HALF_SQUARES = [
    ("HST-1", "1", "1 7/8", DELAWARE),
    ("HST-2", "1 1/2", "2 3/8", f"{DELAWARE}; {MINI_MADNESS}"),
    ("HST-3", "2", "2 7/8", f"{HOW_TO_CUT}; {DELAWARE}"),
    ("HST-4", "2 1/2", "3 3/8", "Lessons 6 and 12 (rail fence, churn dash), allthingsfrugal.com, undated"),
    ("HST-5", "3", "3 7/8", NORTH_HAMPSHIRE),
    ("HST-6", "3 1/2", "4 3/8", "Question 348, theqec.org, undated"),
    ("HST-7", "4", "4 7/8", DELAWARE),
    ("HST-8", "6", "6 7/8", "Quilters community pages (pinwheel), ukqu.co.uk, 16 December 2022"),
]
# id, finished long side, the square that is cut in four, source
QUARTER_SQUARES = [
    *(
        ("QST-1", finished, cut, CHART)
        for finished, cut in (("1", "2 1/4"), ("1 1/2", "2 3/4"), ("2", "3 1/4"), ("2 1/2", "3 3/4"))
    ),
    *(
        ("QST-2", finished, cut, CHART)
        for finished, cut in (("3", "4 1/4"), ("3 1/2", "4 3/4"), ("4", "5 1/4"), ("4 1/2", "5 3/4"))
    ),
    *(("QST-3", finished, cut, CHART) for finished, cut in (("5", "6 1/4"), ("5 1/2", "6 3/4"), ("6", "7 1/4"))),
]
# id, finished unit, the one large square and the four small ones that make four of it, source
FLYING_GEESE = [
    ("FG-1", "2 x 1", "3 1/4", "1 7/8", GEESE),
    ("FG-2", "3 x 1 1/2", "4 1/4", "2 3/8", GEESE),
    ("FG-3", "4 x 2", "5 1/4", "2 7/8", GEESE),
    ("FG-4", "5 x 2 1/2", "6 1/4", "3 3/8", GEESE),
    ("FG-5", "6 x 3", "7 1/4", "3 7/8", GEESE),
    ("FG-6", "7 x 3 1/2", "8 1/4", "4 3/8", GEESE),
    ("FG-7", "8 x 4", "9 1/4", "4 7/8", GEESE),
    ("FG-8", "9 x 4 1/2", "10 1/4", "5 3/8", LARGE_GEESE),
    ("FG-9", "10 x 5", "11 1/4", "5 7/8", LARGE_GEESE),
    ("FG-10", "11 x 5 1/2", "12 1/4", "6 3/8", LARGE_GEESE),
    ("FG-11", "12 x 6", "13 1/4", "6 7/8", LARGE_GEESE),
]


def plan_unit(size: str, draft: str, count: int, seam: str = "1/4") -> Plan:
    """Loose units of navy and shell, each a block by itself."""
    return plan_text(
        f"""
project: Triangles
seam: {seam}
fabrics:
  navy:  {{value: dark}}
  shell: {{value: light}}
blocks:
  unit:
    size: {size}
    {draft}
make:
  - {{block: unit, count: {count}}}
"""
    )


def read_mat(plan: Plan) -> dict[str, str]:
    """What the cutting steps say, by fabric."""
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    works = [step.work for step in sheet.steps if isinstance(step.work, CutWork)]
    return {work.entry.fabric: speaker.mat_words(work) for work in works}


@pytest.mark.parametrize(("row", "finished", "cut", "source"), HALF_SQUARES)
def test_two_half_squares_come_from_the_printed_square(row: str, finished: str, cut: str, source: str) -> None:
    plan = plan_unit(finished, "rows: [[navy / shell]]", 2)
    assert set(read_mat(plan).values()) == {f"1 square {cut}, cut corner to corner: 2 triangles"}, (row, source)
    assert {tuple(entry["cut"]) for entry in print_out(plan)["cut"]} == {(cut, cut)}, (row, source)


@pytest.mark.parametrize(("row", "finished", "cut", "source"), QUARTER_SQUARES)
def test_four_quarter_squares_come_from_the_printed_square(row: str, finished: str, cut: str, source: str) -> None:
    plan = plan_unit(finished, "rows: [[(navy / shell) \\ (shell / navy)]]", 2)
    assert set(read_mat(plan).values()) == {f"1 square {cut}, cut corner to corner both ways: 4 triangles"}, (
        row,
        source,
    )
    assert {entry["cut"][1] for entry in print_out(plan)["cut"]} == {cut}, (row, source)


@pytest.mark.parametrize(("row", "size", "large", "small", "source"), FLYING_GEESE)
def test_four_geese_come_from_one_large_square_and_four_small_ones(
    row: str, size: str, large: str, small: str, source: str
) -> None:
    goose = (
        'box: 2 x 1\n    patches: [{fabric: shell, corners: "0,1 1,0 2,1"}, {fabric: navy, corners: "0,0 1,0 0,1"}, '
        '{fabric: navy, corners: "1,0 2,0 2,1"}]'
    )
    assert read_mat(plan_unit(size, goose, 4)) == {
        "shell": f"1 square {large}, cut corner to corner both ways: 4 triangles",
        "navy": f"4 squares {small}, each cut corner to corner: 8 triangles",
    }, (row, source)


@pytest.mark.parametrize(
    ("row", "draft", "more", "source"),
    [
        ("GEN-1", "navy / shell", "7/8", f"{NORTH_HAMPSHIRE}; {FORMULAS}; {HOW_TO_CUT}"),
        ("GEN-2", "(navy / shell) \\ (shell / navy)", "1 1/4", f"{NORTH_HAMPSHIRE}; {FORMULAS}; {HOW_TO_CUT}"),
    ],
)
def test_what_is_added_is_the_printed_constant(row: str, draft: str, more: str, source: str) -> None:
    for finished in ("3/4", "2", "4 1/8", "11"):
        plan = plan_unit(finished, f"rows: [[{draft}]]", 1)
        cut = {entry["cut"][1] for entry in print_out(plan)["cut"]}
        assert cut == {spell_number(read_number(finished) + read_number(more))}, (row, source)


@pytest.mark.parametrize("seam", ["1/8", "3/16", "1/4", "3/8", "1/2", "5/8"])
def test_any_allowance_is_added_three_and_a_half_or_five_times_and_is_never_short(seam: str) -> None:
    """GEN-3: 3.5 and 5 times the allowance; exactly 2 + sqrt(2) and 2 + 2 sqrt(2) times.

    Tilkkumatematiikkaa, tilkkutaiwas.blogspot.com, March 2012.
    """
    allowance = Fraction(seam)
    for draft, times, roots in (("navy / shell", Fraction(7, 2), 1), ("(navy / shell) \\ (shell / navy)", 5, 2)):
        (entry, _) = print_out(plan_unit("4", f"rows: [[{draft}]]", 1, seam))["cut"]
        more = read_number(entry["cut"][1]) - 4
        assert more == times * allowance
        # At least 2 + roots sqrt(2) allowances, and less than half an allowance more: 1/8 in at 1/4
        over = more - 2 * allowance
        assert over * over >= 2 * (roots * allowance) ** 2
        assert (over - allowance / 2) ** 2 < 2 * (roots * allowance) ** 2
