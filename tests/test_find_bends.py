"""Set-in and partial seams: as few as there can be, in an order that can be sewn, with nothing lost on the way."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from bent_drafts import BENT, CORNERS, FABRICS, NESTED, STAR, WINDMILL, draw_patches, write_patches, write_quilt
from fewest_seams import find_fewest
from planned import plan_text, print_out, read_text, why_wrong

from planner.checks import plan_file
from planner.checks.check_batches import why_not_grouped
from planner.checks.check_cut_list import why_not_cut
from planner.checks.check_order import why_not_sewable
from planner.plan import plan_project
from planner.say_step import Speaker
from planner.sheet import SewWork, assign_letters, write_sheet

ROUNDS = 60


def count_bends(printed: plan_file.Plan, block: str) -> tuple[int, int]:
    """Corners that seams of a block turn, and seams sewn in part."""
    seams = [seam for seam in printed["seams"] if seam["block"] == block]
    turns = sum(len(seam["legs"]) - 1 for seam in seams if "legs" in seam)
    return turns, sum("partial" in seam for seam in seams)


@pytest.mark.parametrize("name", BENT)
def test_what_no_straight_seams_sew_is_sewn_and_the_checkers_are_content(name: str) -> None:
    assert why_wrong(print_out(plan_text(BENT[name]))) == ()


def test_four_rectangles_round_a_square_take_one_seam_sewn_in_part() -> None:
    printed = print_out(plan_text(WINDMILL))
    assert count_bends(printed, "b1") == (0, 1)
    (part,) = [seam for seam in printed["seams"] if seam["block"] == "b1" and "partial" in seam]
    (closing,) = [seam for seam in printed["seams"] if seam["block"] == "b1" and seam["b"] is None]
    assert closing["closes"] == part["id"]
    assert closing["press"] == part["press"]
    # Half of the square's side first; then the rest of it and the end of a rectangle
    assert sorted((part["from"], part["to"])) == [["6", "4 1/2"], ["6", "6"]]
    assert sorted((closing["from"], closing["to"])) == [["6", "0"], ["6", "4 1/2"]]


def test_a_windmill_inside_a_windmill_is_whole_before_what_lies_round_it() -> None:
    printed = print_out(plan_text(NESTED))
    assert count_bends(printed, "b1") == (0, 2)
    assert count_bends(printed, "b5") == (0, 2)


def test_patches_that_meet_in_a_corner_take_one_turn_each() -> None:
    printed = print_out(plan_text(CORNERS))
    assert {count_bends(printed, f"b{number}") for number in range(1, 7)} == {(1, 0)}


def test_an_eight_pointed_star_turns_eight_corners_and_all_its_joins_nest() -> None:
    plan = plan_text(STAR)
    assert count_bends(print_out(plan), "b1") == (8, 0)
    assert plan.pressing.clashes == 0
    assert plan.handled.is_proven


# Patches that reach round others: seams leave lines that run on, since that costs less than what is finished later
CLASPED = {
    "clasp": ("0,0 4,0 4,2 3,2 3,1 1,1 1,2 0,2", "1,1 3,1 3,3 1,3", "0,2 1,2 1,3 3,3 3,2 4,2 4,4 0,4"),
    "frame": (
        *("0,0 2,0 2,1 1,1 1,2 0,2", "2,0 4,0 4,2 3,2 3,1 2,1", "1,1 3,1 3,3 1,3"),
        *("0,2 1,2 1,3 2,3 2,4 0,4", "2,3 3,3 3,2 4,2 4,4 2,4"),
    ),
    "steps": (
        *("0,0 2,0 2,2 0,2", "2,0 3,0 3,1 2,1", "2,1 3,1 3,0 5,0 5,4 3,4 3,3 4,3 4,2 2,2"),
        *("0,2 3,2 3,4 4,4 4,5 0,5", "3,2 4,2 4,3 3,3", "4,4 5,4 5,5 4,5"),
    ),
}


@pytest.mark.parametrize(("name", "turns"), [("clasp", 6), ("frame", 6), ("steps", 5)])
def test_a_seam_leaves_its_line_where_that_saves_one_sewn_in_part(name: str, turns: int) -> None:
    outlines = [[(int(x), int(y)) for x, y in (one.split(",") for one in patch.split())] for patch in CLASPED[name]]
    wide, high = (max(corner[axis] for outline in outlines for corner in outline) for axis in (0, 1))
    printed = print_out(plan_text(write_patches(outlines, random.Random(0), wide, high)))
    assert count_bends(printed, "b1") == (turns, 0)
    assert why_wrong(printed) == ()
    best = find_fewest([tuple((Fraction(x), Fraction(y)) for x, y in outline) for outline in outlines])
    assert best is not None
    assert tuple(best.cost) == (turns, 0)


@pytest.mark.parametrize("seed", range(ROUNDS))
def test_as_few_corners_are_turned_and_seams_sewn_in_part_as_trying_everything_finds(seed: int) -> None:
    chance = random.Random(seed)
    # Large patches reach round others
    wide, high = chance.choice([(3, 3), (3, 4), (4, 4)] if seed % 2 else [(4, 4), (5, 4), (5, 5)])
    outlines = draw_patches(chance, wide, high, chance.choice([4, 5, 6, 7]))
    project = read_text(write_patches(outlines, chance, wide, high))
    plan, faults = plan_project(project)
    assert plan is not None, faults
    corners = [tuple((Fraction(x), Fraction(y)) for x, y in patch.outline) for patch in plan.blocks.drafted[0].patches]
    best = find_fewest(corners)
    assert best is not None
    assert count_bends(print_out(plan), "b1") == tuple(best.cost)


# The last nine: parts of parts, seams that turn and stop half way, slits that open into others, a seam that would stop
# at both ends, a border that would be left open though no seam on it was begun, many ways of which few lead anywhere
@pytest.mark.parametrize("seed", [*range(30), 182, 212, 306, 331, 507, 1069, 20183, 20744, 31136])
def test_larger_drafts_are_sewn_and_the_checkers_are_content(seed: int) -> None:
    chance = random.Random(seed)
    wide, high = chance.choice([(4, 4), (4, 5), (5, 5), (6, 6)])
    outlines = draw_patches(chance, wide, high, chance.choice([8, 10, 12, 14]))
    assert why_wrong(print_out(plan_text(write_patches(outlines, chance, wide, high)))) == ()


@pytest.mark.parametrize("name", BENT)
def test_every_such_seam_is_told_in_the_sheet_and_sewn_by_itself(name: str) -> None:
    plan = plan_text(BENT[name])
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    told = 0
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        unit = plan.units.units[step.work.chain.unit]
        words = ". ".join(speaker.say(step).does)
        assert ("three stitches back from where it stopped" in words) == bool(unit.closes)
        assert ("sew only" in words) == bool(unit.open_rest)
        assert ("Needle down" in words) == (len(unit.legs) == 3)
        assert ("At each corner needle down" in words) == (len(unit.legs) > 3)
        if unit.closes or unit.open_rest or unit.legs:
            assert "Not in a chain: cut the threads after each seam" in words
            told += 1
    assert told


QUARTERS = f"""
project: Tidewater windmills
{FABRICS}
blocks:
  windmill: {{block: bright hopes, size: 9, fabrics: {{dark: navy, medium: shell, centre: coral}}}}
quilt: {{rows: [[windmill, windmill], [windmill, windmill]], joining: quarters}}
"""
PRINTED_BORDER = """
project: Tidewater stars
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium, directional: true}}
blocks:
  star: {size: 12, ring: {of: 8, diamonds: navy, fill: shell}}
quilt: {rows: [[star, star]], border: {width: 2, fabric: coral}}
"""


def test_blocks_with_partial_seams_are_joined_by_quarters() -> None:
    printed = print_out(plan_text(QUARTERS))
    assert printed["proof"]["handling"]["passes"] == 7
    assert why_not_sewable(printed) == ()
    assert why_not_cut(printed) == ()
    assert why_not_grouped(printed) == ()


def test_a_finished_partial_seam_is_one_line_when_versions_are_counted() -> None:
    assert why_wrong(print_out(plan_text(QUARTERS))) == ()


# The last six: kinds that a half turn carries onto themselves, joins at what is finished last, slits in several blocks
@pytest.mark.parametrize("seed", [*range(8), 12, 36, 167, 274, 346, 509])
def test_quilts_of_such_blocks_are_sewn_and_the_checkers_are_content(seed: int) -> None:
    assert why_wrong(print_out(plan_text(write_quilt(random.Random(seed))))) == ()


def test_stars_have_a_border_whose_print_has_a_direction() -> None:
    assert why_wrong(print_out(plan_text(PRINTED_BORDER))) == ()
