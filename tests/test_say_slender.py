"""Slender points are told: what is cut far longer than it is finished."""

from __future__ import annotations

from fractions import Fraction
from math import hypot

import pytest
from planned import SAMPLES, plan_sample, plan_text

from planner.cloth.templates import list_templates
from planner.print_sheet import print_sheet
from planner.say_slender import tell_slender
from planner.sheet import write_sheet
from planner.summarise import summarise

NEEDLE = """
project: Tidewater needle
measure: MEASURE
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  needle:
    size: 8
    box: 1000
    patches:
      - {fabric: navy, corners: "0,0 500,0 500,1 LEFT,1000 0,1000"}
      - {fabric: navy, corners: "500,0 1000,0 1000,1000 RIGHT,1000 500,1"}
      - {fabric: shell, corners: "LEFT,1000 500,1 RIGHT,1000"}
make: [{block: needle, count: 2}]
"""


def write_needle(half: int, measure: str = "in") -> str:
    text = NEEDLE.replace("LEFT", str(500 - half)).replace("RIGHT", str(500 + half))
    return text.replace("MEASURE", measure)


def test_a_needle_is_told_with_its_cut_length_and_its_finished_one() -> None:
    plan = plan_text(write_needle(1))
    (told,) = tell_slender(plan)
    # By hand: the apex goes up by an allowance over the sine of half its angle, the foot down by an allowance
    long = 8 * 0.999 + 0.25 + 0.25 * hypot(1, 999)
    assert 0 <= 258 + 1 / 16 - long < 1 / 8
    assert told.startswith(
        "Slender: 1 patch of needle is cut about 9/16 x about 258 1/16 in over all, and about 1/16 x"
    )
    assert told in summarise(plan)
    assert f"\n{told}\n" in print_sheet(write_sheet(plan))


@pytest.mark.parametrize(("half", "is_told"), [(60, True), (130, True), (180, False), (400, False)])
def test_a_piece_is_slender_where_eight_allowances_are_not_enough(half: int, is_told: bool) -> None:
    plan = plan_text(write_needle(half))
    longer = 0.25 + 0.25 * hypot(half, 999) / half
    wider = 0.5 * (hypot(half, 999) + half) / 999
    assert (max(longer, wider) > 2) == is_told
    assert bool([*tell_slender(plan)]) == is_told


def test_in_centimetres_no_inches_are_told() -> None:
    (told,) = tell_slender(plan_text(write_needle(1, "cm")))
    assert " in over all" not in told
    assert " cm over all" in told


def test_its_template_is_blunt_and_not_much_longer_than_the_patch() -> None:
    (needle,) = [one for one in list_templates(plan_text(write_needle(1))) if one.fabrics[0].fabric == "shell"]
    assert needle.is_blunt
    high = max(y for _, y in needle.cut) - min(y for _, y in needle.cut)
    assert Fraction(8) < high < Fraction(9)


@pytest.mark.parametrize("name", SAMPLES)
def test_no_sample_has_a_slender_point(name: str) -> None:
    assert [*tell_slender(plan_sample(name))] == []
