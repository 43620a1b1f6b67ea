"""Sizes of sewn strips and squares against printed tests of the seam: SEAM of the check values, with its sources."""

from __future__ import annotations

from fractions import Fraction

import pytest
from planned import SAMPLES, plan_sample, plan_text, print_out, read_sample

from planner.measure import read_number, spell_number
from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import MachineWork, assign_letters, write_sheet

FABRICS = ("navy", "shell", "coral")


def plan_row(count: int, size: str, seam: str = "1/4") -> Plan:
    """One block: so many equal patches side by side, of three fabrics in turn."""
    row = ", ".join(FABRICS[place % 3] for place in range(count))
    return plan_text(
        f"""
project: Strips
seam: {seam}
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}, coral: {{value: medium}}}}
blocks: {{strips: {{size: {size}, rows: [[{row}]]}}}}
make: [{{block: strips, count: 1}}]
"""
    )


def read_cut(plan: Plan) -> set[tuple[str, ...]]:
    return {tuple(entry["cut"]) for entry in print_out(plan)["cut"]}


def read_unfinished(plan: Plan) -> tuple[str, ...]:
    """What the whole measures with its outer allowances."""
    return tuple(print_out(plan)["batches"][-1]["unfinished"])


def say_test_seam(plan: Plan) -> tuple[str, ...]:
    sheet = write_sheet(plan)
    (step,) = [step for step in sheet.steps if step.work == MachineWork("test seam")]
    return Speaker(sheet, assign_letters(sheet)).say(step).does


@pytest.mark.parametrize("name", [name for name in SAMPLES if read_sample(name).seam == Fraction(1, 4)])
def test_three_strips_of_one_and_a_half_measure_three_and_a_half(name: str) -> None:
    """SEAM-1: J. Cahoon, Testing your scant quarter-inch seam, quiltcentric.com, 16 Sept 2012;
    sonflowerquilts.blogspot.com, 25 May 2012. SEAM-2, the middle strip: quiltingaffection.blogspot.com, 25 Sept 2014;
    traceypereira.blogspot.com; avalanden.wordpress.com, 2 Jan 2010; sewmamasew.com, April 2010.
    """
    cut, measure = say_test_seam(plan_sample(name))
    assert cut == "Cut three strips 1 1/2 wide; sew them side by side and press"
    assert measure == "The three together must measure 3 1/2, the middle one 1"


def test_the_plan_of_three_such_strips_says_the_same() -> None:
    """SEAM-1, sources as above."""
    plan = plan_row(3, "3 x 9")
    assert read_cut(plan) == {("1 1/2", "9 1/2")}
    assert read_unfinished(plan) == ("3 1/2", "9 1/2")


def test_three_strips_of_two_leave_one_and_a_half_in_the_middle() -> None:
    """SEAM-3: J. Wickell, quilting.about.com and thesprucecrafts.com, seam test."""
    plan = plan_row(3, "4 1/2 x 9")
    assert read_cut(plan) == {("2", "9 1/2")}
    assert read_unfinished(plan) == ("5", "9 1/2")
    outlines = [patch["corners"] for patch in print_out(plan)["patches"]]
    widths = [sorted({read_number(x) for x, _ in outline}) for outline in outlines]
    assert [spell_number(right - left) for left, right in widths] == ["1 1/2"] * 3
    # The outer ones still have the allowance of their outer edge
    assert spell_number(widths[0][1] + plan.project.seam) == "1 3/4"


# SEAM-4 to SEAM-6: quiltingaffection.blogspot.com, 25 Sept 2014; traceypereira.blogspot.com;
# avalanden.wordpress.com, 2 Jan 2010; sewmamasew.com, April 2010
@pytest.mark.parametrize(
    ("row", "count", "size", "cut", "unfinished"),
    [
        ("SEAM-4", 3, "13 1/2 x 4 1/2", ("5", "5"), ("5", "14")),
        ("SEAM-5", 2, "4 x 2", ("2 1/2", "2 1/2"), ("2 1/2", "4 1/2")),
        ("SEAM-6", 2, "3 x 3 1/2", ("2", "4"), ("3 1/2", "4")),
    ],
)
def test_what_is_sewn_of_equal_patches_measures_what_is_printed(
    row: str, count: int, size: str, cut: tuple[str, str], unfinished: tuple[str, str]
) -> None:
    plan = plan_row(count, size)
    assert read_cut(plan) == {cut}, row
    assert read_unfinished(plan) == unfinished, row
    if row == "SEAM-4":  # the middle one, sewn on both sides, shows what is left of 5
        first, middle, last = plan.blocks.drafted[0].patches
        assert plan.blocks.inches(middle.outline[1][0] - middle.outline[0][0]) == Fraction(9, 2)


@pytest.mark.parametrize(
    ("row", "count", "cut", "seam", "too_deep", "short"),
    [
        # Two layers a seam; geometry, common practice, no source
        ("SEAM-7", 24, "2 1/2", "1/4", "1/16", "2 7/8"),
        ("SEAM-8", 9, "2", "1/4", "1/32", "1/2"),
    ],
)
def test_an_allowance_that_is_too_deep_shortens_a_row_by_twice_that_a_seam(
    row: str, count: int, cut: str, seam: str, too_deep: str, short: str
) -> None:
    sides = []
    for allowance in (read_number(seam), read_number(seam) + read_number(too_deep)):
        finished = read_number(cut) - 2 * allowance
        plan = plan_row(count, f"{count * finished} x {finished}", str(allowance))
        assert read_cut(plan) == {(cut, cut)}, row
        sides.append(read_number(read_unfinished(plan)[1]))
    assert spell_number(sides[0] - sides[1]) == short, row


def test_triangles_with_another_allowance_get_what_was_reckoned_for_it() -> None:
    """SEAM-9: 3/16 in place of 1/4. Only the width is printed: R. S. McKim, One Hundred and One Patchwork Patterns,
    1931, chapter III, read in online copies (101patchworkpatterns.com, easyquilting.info); the sizes are common
    practice, no source.
    """
    for cell, more, step in (("navy / shell", "5/8", "1/8"), ("(navy / shell) \\ (shell / navy)", "15/16", "1/16")):
        plan = plan_text(
            f"""
project: Triangles
seam: 3/16
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  unit:
    size: 3
    rows: [[{cell}]]
make: [{{block: unit, count: 1}}]
"""
        )
        ((_, cut),) = read_cut(plan)
        # To the nearest of these lines, as reckoned
        lines = (read_number(cut) - 3) / Fraction(step)
        assert round(lines) * Fraction(step) == Fraction(more)
