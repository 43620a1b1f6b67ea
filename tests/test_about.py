"""A length that is measured or only tells how large something is says so where it is not exact: `about` stands before
it. What is cut was rounded up for the ruler, and is cut just so: strips are told plainly."""

from __future__ import annotations

import re
from functools import cache

import pytest
from planned import plan_text

from planner.print_sheet import print_sheet
from planner.sheet import write_sheet
from planner.summarise import summarise

HEAD = "project: Tidewater\nfabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}\n"
STAR = """
blocks: {star: {block: eight-pointed star, size: 12, fabrics: {dark: navy, medium: coral, light: shell}}}
make: [{block: star, count: 2}]
"""
HEXAGONS = """
blocks:
  field: {size: 9 x 5r3, hexagons: {rows: [[navy, coral, navy], [coral, navy], [navy, coral, navy]], edge: shell}}
make: [{block: field, count: 1}]
"""
SEVENTHS = """
blocks: {rail: {size: 12, rows: [[navy / shell, navy, shell, navy, shell, navy, shell]]}}
make: [{block: rail, count: 2}]
"""
# What is not exact, worked out by hand, with what is printed of it. A star of 12 has sides of 12 / (2 + r2) = 3.515;
# its diamonds are 2.985 x 7.19 over all as cut.
# A hexagon 3 high is 2 r3 = 3.464 wide from point to point
INEXACT = {
    STAR: ["7 1/4", "6 7/8", "9 3/8"],
    HEXAGONS: ["4 1/16", "5 11/16", "2 3/4"],
    SEVENTHS: ["2 1/4", "2 5/16", "15 13/16", "2 3/16", "3 15/16", "5 5/8", "7 3/8"],
}


@cache
def print_all(text: str) -> tuple[str, ...]:
    plan = plan_text(HEAD + text)
    return (*summarise(plan), *print_sheet(write_sheet(plan)).splitlines())


@pytest.mark.parametrize("text", INEXACT)
def test_about_stands_before_every_length_that_is_not_exact(text: str) -> None:
    for size in INEXACT[text]:
        printed = [
            (line[: found.start()], line)
            for line in print_all(text)
            if "strip" not in line
            for found in re.finditer(rf"(?<![\d/.]){size}(?![\d/])", line)
            if not re.search(r"\d $", line[: found.start()])
        ]
        assert printed, size
        assert [line for before, line in printed if not before.endswith("about ")] == [], size


def test_what_is_exact_is_not_about() -> None:
    text = SEVENTHS.replace("size: 12", "size: 14")
    assert [line for line in print_all(text) if "about" in line and "2 1/2" in line.split("about ")[1][:6]] == []
    words = " ".join(print_all(text.replace("navy / shell", "navy")))
    assert re.findall(r"about [\d/ ]+", words.replace("about 2.5 mm", "")) == []
