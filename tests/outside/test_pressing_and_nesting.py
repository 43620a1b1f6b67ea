"""Pressing and nesting against printed rules and enumerated facts: NEST-1, 7 and 8, and PRS of the check values."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from planned import SAMPLES, draw_project, plan_it, plan_sample, plan_text, print_out
from points import find_side, read_outline, read_point, read_stretch, turn

from planner.checks import plan_file
from planner.measure import INCHES_PER_CM, read_length
from planner.print_sheet import print_sheet
from planner.say_step import Speaker
from planner.sheet import UnitWork, assign_letters, write_sheet

# What these rows say besides: a word of it that the sheet would use, and why it says nothing of it
NOT_SAID = {
    "PRS-2, 3 running stitches and 1 back stitch": ("running stitch", "sewn by hand; this is for the machine"),
}


def test_what_the_sheet_does_not_say_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    sheets = [print_sheet(write_sheet(plan_sample(name))) for name in SAMPLES]
    for row, (word, why) in NOT_SAID.items():
        assert not any(word in sheet.lower() for sheet in sheets), f"the sheet says it: check {row}"
        with capsys.disabled():
            print(f"\nnot checked: {row}: {why}")


def plan_checkerboard(side: int, prefer: str = "dark") -> plan_file.Plan:
    rows = "\n".join(
        f"      - [{', '.join('navy' if (x + y) % 2 == 0 else 'shell' for x in range(side))}]" for y in range(side)
    )
    text = f"""
project: Checkerboard
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  board:
    size: {2 * side}
    rows:
{rows}
make: [{{block: board, count: 1}}]
press: {{prefer: [{prefer}]}}
"""
    return print_out(plan_text(text))


@pytest.mark.parametrize("side", [2, 3, 4, 5])
def test_a_checkerboard_pressed_to_the_dark_nests_at_every_join(side: int) -> None:
    """NEST-1: (n - 1) squared joins, 4 of 4 for n = 3. allpeoplequilt.com block pages 2013-2019 and how-to page on
    pressing; Nine Patch Perfected, tourmalinethymequilts.com; quiltingcanuck.blogspot.com, July 2009 (formula).
    """
    board = plan_checkerboard(side)
    assert len(board["joins"]) == (side - 1) ** 2
    assert all(join["nests"] for join in board["joins"])
    dark = {patch["id"] for patch in board["patches"] if patch["fabric"] == "navy"}
    pairs = [seam for seam in board["seams"] if {seam["a"], seam["b"]} <= {patch["id"] for patch in board["patches"]}]
    assert pairs
    assert all((seam["a"] if seam["press"] == "a" else seam["b"]) in dark for seam in pairs)


def count_layers(board: plan_file.Plan) -> Counter[tuple[bool, bool]]:
    """How many layers lie in each quarter round the middle of a four patch: (right half?, lower half?) -> layers.

    Each patch brings four quarter squares to the middle: its face, the allowance at either seam, and where both
    allowances cross. At a seam, the allowances of both sides come to lie on the side that they are pressed to.
    """
    middle = read_point(board["blocks"][0]["size"])[0] / 2
    centres = {}
    for patch in board["patches"]:
        corners = read_outline(patch)
        x, y = (sum((corner[axis] for corner in corners), start=Fraction(0)) / len(corners) for axis in (0, 1))
        centres[patch["id"]] = (x, y)
    short = {frozenset((seam["a"], seam["b"])): seam for seam in board["seams"] if seam["a"] in centres}
    (last,) = [seam for seam in board["seams"] if seam["a"] not in centres]
    first_of = {seam["id"]: seam["a"] for seam in board["seams"]}
    is_level = last["from"][1] == last["to"][1]
    axis = 0 if is_level else 1
    from_lower = read_point(last["from"])[axis] < read_point(last["to"])[axis]
    layers: Counter[tuple[bool, bool]] = Counter()
    for name, (x, y) in centres.items():
        (seam,) = [seam for pair, seam in short.items() if name in pair]
        to = centres[seam["a"] if seam["press"] == "a" else seam["b"] or ""]
        # Where the last seam is spun its second half falls to the other side
        is_turned = "spin" in last and ((x, y)[axis] < middle) != from_lower
        last_to = last["a"] if (last["press"] == "a") != is_turned else last["b"]
        pressed_last = centres[first_of[last_to or ""]]
        # Across the short seams the halves are left and right if the last seam is level, else upper and lower
        right = [x > middle, to[0] > middle if is_level else pressed_last[0] > middle]
        lower = [y > middle, pressed_last[1] > middle if is_level else to[1] > middle]
        layers.update((across, down) for across in right for down in lower)
    return layers


def test_the_middle_of_a_four_patch_that_nests_has_seven_layers_at_most() -> None:
    """NEST-7: 16 quarter squares in all, one way 7 at most; even spread would be 4. Geometry, common practice, no
    source. NEST-8, four patches meet there: tqanews.blogspot.com, 14 June 2012; instructables.com, Maze quilt step 6.
    """
    board = plan_checkerboard(2)
    layers = count_layers(board)
    assert layers.total() == 16
    assert max(layers.values()) == 7
    assert layers.total() / 4 == 4
    (join,) = board["joins"]
    assert sum(join["at"] in patch["corners"] for patch in board["patches"]) == 4


def test_the_middle_of_a_four_patch_that_is_spun_is_even() -> None:
    """NEST-7: spun 5 at most, even spread 4. Geometry, common practice, no source."""
    board = plan_checkerboard(2, "spin, dark")
    assert sum("spin" in seam for seam in board["seams"]) == 1
    layers = count_layers(board)
    assert layers.total() == 16
    assert set(layers.values()) == {4}


def test_without_nesting_nine_layers_would_lie_in_one_quarter() -> None:
    """Beside NEST-7: the count tells a bad pressing from a good one."""
    board = plan_checkerboard(2)
    pairs = [seam for seam in board["seams"] if seam["a"].startswith("p")]
    corner = {patch["id"]: sum(read_point(patch["corners"][0])) for patch in board["patches"]}
    for seam in pairs:  # both toward the left, or both up
        other = seam["b"] or ""
        seam["press"] = "a" if corner[seam["a"]] < corner[other] else "b"
    assert max(count_layers(board).values()) == 9


@pytest.mark.parametrize(("width", "millimetres"), [("1/4", "6.35"), ("3/16", "4.7625"), ("1/8", "3.175")])
def test_the_seam_widths_named_for_pieced_work_can_be_sewn(width: str, millimetres: str) -> None:
    """PRS-1: R. S. McKim, One Hundred and One Patchwork Patterns, 1931, chapter III (online copies
    101patchworkpatterns.com and easyquilting.info; page not verified). To one side, not open.
    """
    assert read_length(f"{millimetres} mm", "in") == Fraction(width) == read_length(width, "in")
    assert Fraction(width) / INCHES_PER_CM * 10 == Fraction(millimetres)
    plans = [
        print_out(
            plan_text(
                f"""
project: Widths
seam: {seam}
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks: {{board: {{size: 6, rows: [[navy, shell], [shell, navy]]}}}}
make: [{{block: board, count: 1}}]
"""
            )
        )
        for seam in (width, f"{millimetres} mm")
    ]
    assert plans[0] == plans[1]
    assert {read_point(entry["cut"])[0] for entry in plans[0]["cut"]} == {3 + 2 * Fraction(width)}
    assert all(seam["press"] in ("a", "b") for seam in plans[0]["seams"])


def test_a_quarter_of_an_inch_is_the_allowance_where_none_is_written() -> None:
    """PRS-2: chestercriswellquilt.blogspot.com, quoting home demonstration agents, Hackensack N.J., March 1934."""
    text = """
project: No allowance
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks: {pair: {size: 6, rows: [[navy, shell]]}}
make: [{block: pair, count: 1}]
"""
    assert plan_text(text).project.seam == Fraction(1, 4)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_seam_is_pressed_to_one_side_and_the_sheet_says_so(name: str) -> None:
    """PRS-3: R. S. McKim, One Hundred and One Patchwork Patterns, 1931, chapter III (online copies; page not
    verified): one side, open seams thought harder. A seam that is spun, where the maker wishes for it, falls to one
    side at its one half and to the other at its other half; open it is nowhere.
    """
    plan = plan_sample(name)
    printed = print_out(plan)
    assert {seam["press"] for seam in printed["seams"]} <= {"a", "b"}
    spun = {seam["id"] for seam in printed["seams"] if "spin" in seam}
    assert bool(spun) == ("spin" in plan.project.prefer)
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    presses = [step for step in sheet.steps if isinstance(step.work, UnitWork) and step.stage == "press"]
    assert presses
    told = 0
    for step in presses:
        words = speaker.say(step)
        toward = words.what.split(" ", 1)[1]
        assert "press open" not in words.in_one_line.lower()
        if toward == "spun":
            told += step.count
            assert any(line.startswith("From the back lay all four allowances round the point") for line in words.does)
            continue
        assert toward.startswith("toward ") or toward == "to either side, all alike", words
        assert words.does[0] == f"Set the seam flat, then fold the unit open: allowances {toward}"
    assert told == len(spun)


@pytest.mark.parametrize("name", SAMPLES)
def test_two_seams_that_will_be_joined_are_pressed_to_opposite_sides(name: str) -> None:
    """PRS-4: allpeoplequilt.com, how-to page on pressing, 2013-2019."""
    assert_joins_nest(print_out(plan_sample(name)))


@pytest.mark.parametrize("seed", range(12))
def test_seams_of_random_drafts_that_will_be_joined_are_pressed_to_opposite_sides(seed: int) -> None:
    """PRS-4, source as above. A draft can be such that not all of its joins nest; none of these is."""
    assert_joins_nest(print_out(plan_it(draw_project(seed))))


def assert_joins_nest(printed: plan_file.Plan) -> None:
    """Every join nests as told, and by where the patches lie that the two allowances fall on."""
    outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
    seams = {seam["id"]: seam for seam in printed["seams"]}

    def find_patch(side: str | None) -> str:
        while side not in outlines:
            side = seams[side or ""]["a"]
        return side

    for join in printed["joins"]:
        assert join["nests"], join
        along = seams[join["seam"]]
        way = read_stretch(along)
        falls = []
        for met in (seams[join["a"]], seams[join["b"]]):
            start, end = read_point(met["from"]), read_point(met["to"])
            outline = outlines[find_patch(met["a"] if met["press"] == "a" else met["b"])]
            beyond = (end[0] + way[1][0] - way[0][0], end[1] + way[1][1] - way[0][1])
            is_ahead = find_side(start, end, outline) * turn(start, end, beyond) > 0
            # One that is spun falls to the other side at its second end
            falls.append(is_ahead != ("spin" in met and join["at"] == met["to"]))
        assert falls[0] != falls[1], join
