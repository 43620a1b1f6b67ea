"""What the sheet says of methods is what lies in the hand: sizes, grain, numbers, which side."""

from __future__ import annotations

import re
from functools import cache

import pytest
from planned import SAMPLES, plan_sample, plan_text

from planner.cloth.cloth import Cloth, work_out_cloth
from planner.cloth.cloth_csv import write_csv
from planner.cloth.draw_layout import draw_layout
from planner.cloth.print_cloth import print_cloth
from planner.print_sheet import print_sheet
from planner.say_step import Speaker
from planner.sheet import LayOutWork, SewWork, Sheet, UnitWork, assign_letters, write_sheet
from tui.draw_squares import draw_squares

TRIAL = """
project: Trial of methods
fabrics:
  slate: {value: dark, width: 44}
  shell: {value: light, width: 44}
  coral: {value: medium, width: 44, stock: [18 x 21, 18 x 21, 9 x 14]}
blocks:
  churn: {block: churn dash, size: 9, fabrics: {dark: slate, light: shell}}
  saw: {block: sawtooth star, size: 8, fabrics: {dark: coral, light: shell, centre: slate}}
  nine: {block: nine patch, size: 6, fabrics: {dark: slate, light: shell}}
  wheel: {block: pinwheel, size: 6, fabrics: {dark: slate, light: coral}}
make:
  - {block: churn, count: 5}
  - {block: saw, count: 3}
  - {block: nine, count: 7}
  - {block: wheel, count: 3}
methods:
  triangles: two at a time
  geese: four at a time
  rows: strip sets
  units:
    - {block: wheel, method: eight at a time}
"""
DIALS = """
project: Dials
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  dial: {size: 6, rows: [[(navy / shell) \\ (shell / navy)]]}
make: [{block: dial, count: 5}]
methods: {hourglasses: two at a time}
"""


@cache
def write(text: str) -> tuple[Sheet, list[str]]:
    sheet = write_sheet(plan_text(text))
    lines = print_sheet(sheet).splitlines()
    return sheet, [line.partition(". ")[2] for line in lines if line[:1].isdigit()]


@cache
def lay(text: str) -> Cloth:
    cloth, _ = work_out_cloth(plan_text(text))
    assert cloth is not None
    return cloth


def find_line(text: str, *words: str) -> str:
    """The one line in which all of these stand."""
    (line,) = (line for line in write(text)[1] if all(word in line for word in words))
    return line


def larger(text: str) -> str:
    return text.replace("methods:\n", "methods:\n  oversize: 1/8\n").replace("methods: {", "methods: {oversize: 1/8, ")


def test_a_unit_left_large_is_trimmed_in_a_step_of_its_own_to_its_two_sides() -> None:
    line = find_line(larger(TRIAL), "Trim Q to")
    assert line.startswith("Trim Q to 2 1/2 x 4 1/2, 12 units. ")
    assert "1/4 stays beyond the tip of the goose" in line
    assert "close the blade" in line
    assert find_line(larger(TRIAL), "Trim N to").startswith("Trim N to 3 1/2 x 3 1/2, 12 units. ")
    assert not any("dog ears of Q" in line or "dog ears of N" in line for line in write(larger(TRIAL))[1])
    assert not any("After pressing trim" in line for line in write(larger(TRIAL))[1])
    assert "trim again" in find_line(larger(TRIAL), "Measure Q: 2 1/2 x 4 1/2")
    assert "the allowance was too deep; too large: too narrow" in find_line(larger(TRIAL), "Measure S:")


def test_what_is_sewn_large_is_trimmed_after_pressing_and_before_it_is_measured() -> None:
    sheet, _ = write(larger(TRIAL))
    stages = [step.stage for step in sheet.steps if isinstance(step.work, UnitWork) and step.pass_number == 1]
    assert stages == ["press"] * 5 + ["measure", "trim", "measure", "trim", "measure", "measure"]


def test_what_is_half_made_is_not_measured() -> None:
    for text in (TRIAL, larger(TRIAL)):
        assert not any(line.startswith(("Measure L", "Trim the dog ears of L")) for line in write(text)[1])
    _, dials = write(DIALS)
    assert sum(line.startswith("Measure") for line in dials) == 0  # the half squares, and the blocks: squared up
    assert "each half square measures 6 7/8" in find_line(DIALS, "Press C")
    assert "each half square to 7" in find_line(larger(DIALS), "Trim C")
    # of 28 pairs of a row 7 are in longer strip sets
    assert "7 of them are in strips still" in find_line(TRIAL, "Measure M:")


def test_the_grain_told_is_that_of_what_is_cut() -> None:
    for line in (
        find_line(TRIAL, "Cut slate for pile B", "eight at a time"),
        find_line(TRIAL, "Cut shell for pile E"),
        find_line(TRIAL.replace("four at a time", "stitch and flip"), "for pile", "12 rectangles 2 1/2 x 4 1/2"),
    ):
        assert "Grain along its sides" in line
        assert "bias" not in line


def test_what_lies_between_the_lines_of_the_ruler_is_told_of_what_is_cut() -> None:
    text = DIALS.replace("fabrics:", "measure: cm\nfabrics:", 1).replace("size: 6", "size: 15.3")
    line = find_line(text, "Cut navy for pile")
    assert "3 squares about 19.1 cm" in line
    assert "Exactly 19.05 cm: between" in line


def test_the_bias_of_four_at_a_time_is_told_of_no_other_squares() -> None:
    four = TRIAL.replace("eight at a time", "two at a time").replace(
        "    - {block: wheel",
        "    - {unit: shell-slate triangle square, block: churn, method: four at a time}\n    - {block: wheel",
    )
    assert "on the bias" in find_line(four, "Cut slate for pile B", "(four at a time)")
    assert "on the bias" not in find_line(four, "Cut slate for pile B", "(two at a time)")


def test_laying_out_names_what_lies_there_and_how_many() -> None:
    line = find_line(TRIAL, "for pass 1")
    assert "K: 6 of your 12 squares 2 7/8, coral." in line
    assert "E: 3 squares 5 1/4, shell." in line
    assert "J: 2 squares 7 3/4, coral." in line
    assert "B: 2 squares 7 3/4 and 10 squares 3 7/8, slate." in line
    assert "C: strips 2 wide, 39, 14 1/2 and 18 long, slate." in line
    later = find_line(TRIAL, "for pass 2")
    assert "K: 6 squares 2 7/8, coral." in later
    assert "D: strip 2 1/2 wide, 18 long, slate." in later
    assert "D: strips 2 1/2 wide, 40 1/2, 13 and 18 (1 of your 2) long, slate." in line
    assert "P: 20 of shell-slate pair" in later
    assert "I: 9 of your 12, shell square 2 1/2." in find_line(TRIAL, "for pass 3")


@pytest.mark.parametrize("name", SAMPLES)
def test_a_pass_takes_no_more_of_a_pile_than_lies_there(name: str) -> None:
    sheet = write_sheet(plan_sample(name))
    speaker = Speaker(sheet, assign_letters(sheet))
    seen = 0
    for step in sheet.steps:
        if isinstance(step.work, LayOutWork):
            for line in speaker.say(step).does:
                told = re.search(r": (\d+) of your (\d+),", line)
                assert told is None or int(told[1]) < int(told[2]), line
                seen += 1
            for pile, many in step.work.piles:
                there = speaker.laid.count_single(pile, step.pass_number)
                assert there == 0 or there >= many
    assert seen


def test_what_comes_out_beyond_the_needed_is_told() -> None:
    assert "By eight at a time, 12 needed: 16 come out, 4 more than needed" in find_line(TRIAL, "Sew J and B")
    assert "12 of N, by eight at a time, and 4 more" in find_line(TRIAL, "Clip", "of N")
    assert "more than needed" not in find_line(TRIAL, "Sew F and B")


def test_two_sizes_of_one_pile_are_kept_apart() -> None:
    assert "Write B, squares 7 3/4, on a slip" in find_line(TRIAL, "pile B", "eight at a time")
    assert "apart from the other sizes of B" in find_line(TRIAL, "pile B", "two at a time")
    assert "Write D, strips 18 long, on a slip" in find_line(TRIAL, "pile D", "18 long")
    assert "Write A on a slip and pin it on." in find_line(TRIAL, "for pile A")


def test_where_the_small_squares_of_geese_lie_is_told() -> None:
    line = find_line(TRIAL, "Sew K and E")
    assert "6 small squares 2 7/8 on 3 large ones 5 1/4" in line
    assert "corner to corner of the large one, through both small ones" in line


def test_the_picture_shows_the_squares_of_geese_as_they_are_laid_together() -> None:
    sheet, _ = write(TRIAL)
    speaker = Speaker(sheet, assign_letters(sheet))
    works = [step.work for step in sheet.steps if isinstance(step.work, SewWork)]
    geese, strips, eight = works[:3]
    rows = ["".join(cell.text for cell in row).rstrip() for row in draw_squares(speaker, geese, 40, 20) or ()]
    assert rows[0] == "slanting: the line to draw"
    assert "c" in rows[3]
    assert rows[3].rstrip("│ ").endswith("h")
    assert "h" in rows[-3].split("c")[0]
    assert sum("╲" in row for row in rows) >= len(rows) - 5  # but where edges meet
    assert draw_squares(speaker, strips, 40, 20) is None
    assert draw_squares(speaker, eight, 40, 20) is not None
    assert draw_squares(speaker, geese, 40, 5) is None


def test_a_strip_set_says_which_strip_lies_on_which_side() -> None:
    assert "Left D, right M (mark" in find_line(TRIAL, "Sew D and M")


def test_an_edge_of_a_patch_is_named_by_the_size_it_was_cut() -> None:
    text = """
project: Compass
fabrics: {slate: {value: dark}, coral: {value: medium}, shell: {value: light}}
blocks: {compass: {block: eight-pointed star, size: 8, fabrics: {dark: slate, medium: coral, light: shell}}}
make: [{block: compass, count: 1}]
"""
    _, lines = write(text)
    assert any("squares 2 7/8" in line for line in lines)
    assert any("the 2 7/8 edge of" in line for line in lines)
    assert not any("2 13/16 of" in line for line in lines if line.startswith("Sew"))


@pytest.fixture(scope="module")
def trial_cloth() -> list[str]:
    return list(print_cloth(lay(TRIAL)))


def test_equal_strips_are_told_once(trial_cloth: list[str]) -> None:
    cloth = lay(TRIAL)
    for one in cloth.fabrics:
        for strips in (one.strips, *(piece.strips for piece in one.stock)):
            held = [(strip.high, strip.runs) for strip in strips]
            assert len(held) == len(set(held))
    assert "    each 3 squares 2 7/8, four geese [K]" in trial_cloth
    rows = [row for row in write_csv(cloth).splitlines() if ",stock 9 x 14," in row and "2 7/8" in row]
    assert len(rows) == 1
    assert any(line.startswith("strip") for line in draw_layout(cloth))


def test_a_piece_of_which_nothing_more_was_needed_is_told_so(trial_cloth: list[str]) -> None:
    assert "coral, piece 2 that is there, 18 x 21 in: not needed" in trial_cloth
