"""Squaring up: the ruler is centred where the design shows its middle, else laid on seams and points at the edges."""

from __future__ import annotations

import pytest
from planned import plan_text

from planner.align_ruler import SeamAlong, align_ruler
from planner.blocks import DraftedBlock
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.say_trim import say_trim
from planner.sheet import write_sheet

HEAD = "project: Tidewater\nfabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}\nblocks:\n"


def plan_block(draft: str, measure: str = "in") -> tuple[Plan, DraftedBlock]:
    plan = plan_text(f"measure: {measure}\n{HEAD}  one: {{{draft}}}\nmake: [{{block: one, count: 2}}]\n")
    return plan, plan.blocks.drafted[0]


@pytest.mark.parametrize(
    "draft",
    [
        "size: 6, rows: [[navy, shell], [shell, navy]]",  # its middle is a corner
        "size: 6, rows: [[navy, shell, navy, shell]]",  # the middle of a seam
        "size: 6, rows: [[navy, shell, coral], [shell, navy, navy], [navy / shell, coral, navy]]",  # a patch
        "size: 6, rows: [[navy / shell, shell], [shell, navy]], widths: [1, 1]",
        "size: 6, logs: {centre: navy, around: [shell, coral, shell, coral]}",
        "size: 6, rows: [[navy / shell]]",
    ],
)
def test_a_ruler_is_centred_where_something_shows_the_middle(draft: str) -> None:
    plan, block = plan_block(draft)
    assert align_ruler(block).is_centred
    assert list(say_trim(plan, block, "6 1/2 x 6 1/2")) == ["Centre the ruler on the design and trim to 6 1/2 x 6 1/2"]


def test_seams_along_the_edges_and_points_are_told_where_nothing_shows_it() -> None:
    """The frame is 2 wide at the left and below; the seam between its parts ends in the corner."""
    plan, block = plan_block("block: attic windows, fabrics: {pane: navy, dark: coral, light: shell}")
    found = align_ruler(block)
    scale = plan.blocks.scale
    assert found.seams == (SeamAlong("left", 2 * scale), SeamAlong("lower", 2 * scale))
    assert found.points == ("left", "lower")
    printed = print_sheet(write_sheet(plan))
    assert "Centre the ruler" not in printed
    for words in (
        "Lay the ruler's line at 2 1/4 on the seam along the left edge, and trim that edge",
        "Lay the ruler's line at 2 1/4 on the seam along the lower edge, and trim that edge",
        "Points of seams at the left and lower edges lie 1/4 inside the cut",
        "Trim the rest to 6 1/2 x 6 1/2",
        "1/4 stays outside the design on all four sides",
    ):
        assert words in printed


def test_the_seam_told_is_the_longest_and_next_to_an_edge() -> None:
    plan, block = plan_block("size: 12, rows: [[navy, shell, coral]], widths: [5, 4, 3]")
    assert align_ruler(block).seams == (SeamAlong("right", 3 * plan.blocks.scale),)
    assert align_ruler(block).points == ()
    # The lower seam is shorter than half of the edge, and in two parts that touch long enough
    plan, block = plan_block(
        "size: 12, box: 12, patches: ["
        '{fabric: navy, corners: "0,0 12,0 12,3 0,3"}, {fabric: shell, corners: "0,3 5,3 5,12 0,12"}, '
        '{fabric: coral, corners: "5,3 9,3 9,12 5,12"}, {fabric: navy, corners: "9,3 12,3 12,12 9,12"}]'
    )
    scale = plan.blocks.scale
    assert align_ruler(block).seams == (SeamAlong("right", 3 * scale), SeamAlong("upper", 3 * scale))


def test_points_alone_are_told_where_no_seam_runs_along_an_edge() -> None:
    plan, block = plan_block(
        "size: 6, box: 6, patches: "
        '[{fabric: navy, corners: "0,0 6,0 0,4"}, {fabric: shell, corners: "6,0 6,6 0,6 0,4"}]'
    )
    assert align_ruler(block).points == ("right", "upper")
    assert list(say_trim(plan, block, "6 1/2 x 6 1/2")) == [
        "Points of seams at the right and upper edges lie 1/4 inside the cut",
        "Trim the rest to 6 1/2 x 6 1/2",
    ]


def test_a_line_between_those_of_the_ruler_is_told_with_about() -> None:
    plan, block = plan_block("size: 4+2r2 x 6, rows: [[navy, shell, coral]], widths: [r2, 1, 3]")
    assert next(say_trim(plan, block, "")).startswith("Lay the ruler's line at about 2 ")
    plan, block = plan_block("size: 12, rows: [[navy, shell, coral]], widths: [5, 4, 3]", "cm")  # 3 and 0.75
    assert next(say_trim(plan, block, "")).startswith("Lay the ruler's line at about 3.8 cm on the seam")
