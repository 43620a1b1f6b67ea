"""A seam that is sewn in part and finished last is pressed as one, whatever the maker keeps or wishes."""

from __future__ import annotations

import random

import pytest
from bent_drafts import draw_patches, write_patches
from planned import plan_text, print_out, read_text, why_wrong

from planner.plan import plan_project
from planner.print_sheet import print_sheet
from planner.sheet import write_sheet

HOPES = """
project: Tidewater hopes
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  hopes: {block: bright hopes, size: 6, fabrics: {dark: navy, medium: coral, centre: shell}}
MADE
press:
  keep:
    - {block: hopes, at: "AT", toward: TOWARD}
"""
LOOSE = "make: [{block: hopes, count: 2}]"
QUILT = "quilt: {rows: [[hopes, hopes turn 90], [hopes turn 180, hopes]]}"
BEGUN, REST, BOTH = "4, 1 1/2", "1, 1 1/2", "3, 1 1/2"  # of the seam that is sewn in part: it stops at 3, 1 1/2


@pytest.mark.parametrize("made", [LOOSE, QUILT], ids=["loose", "quilt"])
@pytest.mark.parametrize("toward", ["open", "up", "down"])
@pytest.mark.parametrize("at", [BEGUN, REST, BOTH])
def test_both_parts_of_a_seam_are_pressed_as_it_is_kept_wherever_it_is_named(at: str, toward: str, made: str) -> None:
    plan = plan_text(HOPES.replace("MADE", made).replace("AT", at).replace("TOWARD", toward))
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    closing = [seam for seam in printed["seams"] if "closes" in seam]
    assert len(closing) == (2 if made == LOOSE else 4)
    for seam in closing:
        (begun,) = [other for other in printed["seams"] if other["id"] == seam["closes"]]
        assert seam["press"] == begun["press"]
        assert (seam["press"] == "open") == (toward == "open")
        assert seam["why"] == begun["why"] == "as you keep it"


def test_the_sheet_has_both_parts_pressed_open() -> None:
    text = HOPES.replace("MADE", LOOSE).replace("AT", REST)
    opened, other = (print_sheet(write_sheet(plan_text(text.replace("TOWARD", way)))) for way in ("open", "up"))
    assert (opened.count(" open, 2 presses"), other.count(" open, 2 presses")) == (2, 0)


def test_two_directions_for_the_parts_of_one_seam_are_told() -> None:
    more = f'    - {{block: hopes, at: "{REST}", toward: up}}\n'
    text = HOPES.replace("MADE", LOOSE).replace("AT", BEGUN).replace("TOWARD", "open") + more
    plan, faults = plan_project(read_text(text))
    assert plan is None
    assert [fault.words for fault in faults] == ["this seam is kept at another direction already; keep one of the two"]


def test_a_seam_that_is_sewn_in_two_parts_is_not_spun() -> None:
    chance = random.Random(204)
    wide, high = chance.choice([(4, 3), (4, 4), (3, 4), (5, 4)])
    text = write_patches(draw_patches(chance, wide, high, 8), chance, wide, high)
    plan = plan_text(f"{text}press: {{prefer: [spin]}}\n")
    assert why_wrong(print_out(plan)) == ()
    in_part = 0
    for block, seams in enumerate(plan.units.seams):
        for number, seam in enumerate(seams):
            if plan.units.units[seam.unit].closes or plan.units.units[seam.unit].open_rest:
                in_part += 1
                assert number not in plan.pressing.is_spun[block]
    assert in_part
