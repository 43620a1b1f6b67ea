"""Drafts of all kinds are planned, and the checkers find nothing wrong with the plan; cut as published charts say."""

from __future__ import annotations

from collections import Counter

import pytest
from planned import plan_text, print_out, why_wrong
from shapes import write_block

from planner.checks import plan_file

DRAFTS = {
    "strips": ("6", "strips: {across: [navy, shell, coral], widths: [1, 2, 1]}"),
    "geese": ("4 x 6", "geese: {goose: [navy, coral], sky: shell, count: 3}"),
    "square": ("8", "square: {centre: coral, around: [shell, navy]}"),
    "snowball": ("6", "snowball: {centre: shell, corners: {top left: navy, bottom right: coral}}"),
    "kites": ("6", 'box: 4, lines: ["0,0 4,2", "0,0 2,4", "2,4 4,2"], faces: [shell, navy, shell, navy]'),
    "a windmill": (
        "6",
        'box: 3, lines: ["1,0 1,2", "3,1 1,1", "2,3 2,1", "0,2 2,2"], faces: [navy, coral, reed, coral, navy]',
    ),
    "a star of eight": ("6+3r2", "ring: {of: 8, diamonds: [navy, coral], fill: shell}"),
    "a star of six": ("9 x 6r3", "ring: {of: 6, diamonds: [navy, coral], fill: shell}"),
    "hexagons": ("4r3 x 7", "hexagons: {rows: [[navy, coral], [coral]], edge: shell}"),
}


def print_block(size: str, draft: str, parts: str = "") -> plan_file.Plan:
    return print_out(plan_text(write_block(size, draft, parts)))


def cuts_of(printed: plan_file.Plan) -> Counter[tuple[str, tuple[str, ...]]]:
    found: Counter[tuple[str, tuple[str, ...]]] = Counter()
    for entry in printed["cut"]:
        found[entry["shape"], tuple(entry["cut"])] += entry["count"]
    return found


@pytest.mark.parametrize("name", DRAFTS)
def test_nothing_is_wrong_with_its_plan(name: str) -> None:
    assert why_wrong(print_block(*DRAFTS[name])) == ()


def test_a_sawtooth_star_of_geese_is_cut_as_published() -> None:
    # check-values.md, BLK-15: 8 finished, 17 pieces; 4 quarter-square triangles out of 5 1/4, 8 half-square triangles
    # out of 2 7/8, a square of 4 1/2 and 4 of 2 1/2
    geese = ", ".join(f"{way}: {{geese: {{goose: shell, sky: navy, point: {way}}}}}" for way in ("up", "right"))
    rows = "[[shell, up, shell], [right turn 180, navy, right], [shell, up turn 180, shell]]"
    printed = print_block("8", f"rows: {rows}, widths: [1, 2, 1], heights: [1, 2, 1]", geese)
    assert len(printed["seams"]) == 16
    assert cuts_of(printed) == {
        ("quarter-square triangle", ("2 5/8", "5 1/4")): 4,
        ("half-square triangle", ("2 7/8", "2 7/8")): 8,
        ("square", ("4 1/2", "4 1/2")): 1,
        ("square", ("2 1/2", "2 1/2")): 4,
    }


@pytest.mark.parametrize(
    ("size", "corner", "centre"),
    [
        # check-values.md, SIS-1 to SIS-4: by the finished centre, 4, 6, 12 and 3 1/2, out of which squares the corners
        # are cut; SIS-5: how large the centre of a block of 12 is cut
        ("4r2", "3 3/4", "4 1/2"),
        ("6r2", "5 1/8", "6 1/2"),
        ("12r2", "9 3/8", "12 1/2"),
        ("7/2r2", "3 3/8", "4"),
        ("12", "6 7/8", "9"),
    ],
)
def test_a_square_in_a_square_is_cut_as_published(size: str, corner: str, centre: str) -> None:
    printed = print_block(size, "square: {centre: navy, around: shell}")
    assert len(printed["seams"]) == 4
    assert cuts_of(printed) == {
        ("half-square triangle", (corner, corner)): 4,
        ("square", (centre, centre)): 1,
    }
