"""What makers commonly do, against what the program says: CP-1 to CP-23, all of them common practice, no source."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import cast

import pytest
from planned import SAMPLES, draw_project, plan_it, plan_sample, plan_text, print_out, read_sample, read_text
from points import find_area, find_side, list_patches, read_outline, read_point, read_stretch, turn
from quilts import QUILTS

from planner.checks import plan_file
from planner.measure import read_number
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.project import Methods, Project
from planner.say_step import Speaker, StepWords
from planner.sheet import (
    BlockWork,
    CutWork,
    MachineWork,
    SewWork,
    Stage,
    StripWork,
    assign_letters,
    feed_of,
    write_sheet,
)
from planner.surd import Exact, size_of

# No statement that the program makes: a word that the sheet would use, and why it says nothing of it
NOT_SAID = {
    "CP-10, blocks of 12 for a quilt": ("twin", "how many blocks there are is the maker's own, in the project file"),
    "CP-11, pillows": ("pillow", "how many blocks there are is the maker's own, in the project file"),
    "CP-13, 5/8 for dressmaking": ("dressmaking", "only patchwork is sewn; its 1/4 is checked below"),
    "CP-14, pressing by thumb in between": ("thumb", "between two seams nothing is pressed: a pass ends at the iron"),
}
CHECKED = {
    *(f"CP-{number}" for number in (*range(1, 10), *range(12, 24))),
}


def say_all(plan: Plan, stage: Stage) -> list[StepWords]:
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    return [speaker.say(step) for step in sheet.steps if step.stage == stage]


@cache
def plan_one(block: str) -> Plan:
    """One of the sampler's blocks, once; all of them are 12 in finished."""
    project = read_sample("tidewater-sampler")
    return plan_it(replace(project, make=tuple(make for make in project.make if make.block == block)))


def read_steps(plan: Plan) -> list[int]:
    """How many seams each pass has."""
    batches = print_out(plan)["batches"]
    return [
        sum(len(batch["seams"]) for batch in batches if batch["pass"] == number)
        for number in range(1, plan.batches.passes + 1)
    ]


def read_cuts(plan: Plan) -> set[tuple[int, str, str, tuple[str, ...]]]:
    return {(entry["count"], entry["fabric"], entry["shape"], tuple(entry["cut"])) for entry in print_out(plan)["cut"]}


def test_what_the_sheet_does_not_say_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    listed = {row.partition(",")[0] for row in NOT_SAID}
    assert {f"CP-{number}" for number in range(1, 24)} == CHECKED | listed
    sheets = [print_sheet(write_sheet(plan_sample(name))) for name in SAMPLES]
    for row, (word, why) in NOT_SAID.items():
        assert not any(word in sheet.lower() for sheet in sheets), f"the sheet says it: check {row}"
        with capsys.disabled():
            print(f"\nnot checked: {row}: {why}")


def test_a_block_of_twelve_measures_twelve_and_a_half() -> None:
    """CP-1: a 6 patch is cut 6 1/2, a 3 patch 3 1/2."""
    for block in ("four patch", "double four patch", "pinwheel", "rail fence"):
        plan = plan_one(block)
        assert print_out(plan)["batches"][-1]["unfinished"] == ["12 1/2", "12 1/2"]
        assert [words.what for words in say_all(plan, "square up")] == [f"{block} to 12 1/2 x 12 1/2"]
    assert {cut for *_, cut in read_cuts(plan_one("double four patch"))} == {("6 1/2", "6 1/2"), ("3 1/2", "3 1/2")}


def test_a_four_patch_is_four_squares_and_three_seams() -> None:
    """CP-2."""
    plan = plan_one("four patch")
    assert read_cuts(plan) == {(2, "navy", "square", ("6 1/2",) * 2), (2, "shell", "square", ("6 1/2",) * 2)}
    assert sum(read_steps(plan)) == 3


def test_a_double_four_patch_is_sewn_in_steps_of_four_two_two_and_one() -> None:
    """CP-3: ten pieces, nine seams."""
    plan = plan_one("double four patch")
    assert read_cuts(plan) == {
        (4, "navy", "square", ("3 1/2",) * 2),
        (4, "shell", "square", ("3 1/2",) * 2),
        (2, "coral", "square", ("6 1/2",) * 2),
    }
    assert read_steps(plan) == [4, 2, 2, 1]


def test_a_double_four_patch_is_sewn_smallest_sections_first() -> None:
    """CP-4: until they measure 6 1/2 like the plain squares, then each to a plain square, then the halves."""
    batches = print_out(plan_one("double four patch"))["batches"]
    sizes = [tuple(map(read_number, batch["unfinished"])) for batch in batches]
    half = Fraction(1, 2)
    assert sizes == [(3 + half, 6 + half), (6 + half, 6 + half), (6 + half, 12 + half), (12 + half, 12 + half)]
    for name in SAMPLES:
        for pass_number, areas in _areas_by_pass(print_out(plan_sample(name))).items():
            assert areas == sorted(areas), (name, pass_number)


def _areas_by_pass(printed: plan_file.Plan) -> dict[int, list[Exact]]:
    """The finished area of each batch's unit, in the order of sewing."""
    areas = {patch["id"]: find_area(read_outline(patch)) for patch in printed["patches"]}
    for seam in printed["seams"]:
        areas[seam["id"]] = areas[seam["a"]] + areas[seam["b"] or ""]
    by_pass: dict[int, list[Exact]] = {}
    for batch in printed["batches"]:
        by_pass.setdefault(batch["pass"], []).append(areas[batch["seams"][0]])
    return by_pass


@pytest.mark.parametrize("block", ["pinwheel", "broken dishes"])
def test_eight_equal_triangles_are_sewn_along_their_diagonals_first_as_one_chain(block: str) -> None:
    """CP-5, and CP-6: the same eight triangles, the quarters turned."""
    plan = plan_one(block)
    assert read_cuts(plan) == {(4, fabric, "half-square triangle", ("6 7/8",) * 2) for fabric in ("navy", "shell")}
    sewing = [step for step in write_sheet(plan).steps if isinstance(step.work, SewWork)]
    assert [step.count for step in sewing if step.pass_number == 1] == [4]
    seams = {seam["id"]: seam for seam in print_out(plan)["seams"]}
    for name in print_out(plan)["batches"][0]["seams"]:
        (px, py), (qx, qy) = read_point(seams[name]["from"]), read_point(seams[name]["to"])
        assert abs(px - qx) == abs(py - qy) == 6


def test_a_rail_fence_is_sewn_in_pairs_quarters_and_halves() -> None:
    """CP-7: sixteen pieces 2 x 6 1/2, first step eight pairs."""
    plan = plan_one("rail fence")
    assert {cut for *_, cut in read_cuts(plan)} == {("2", "6 1/2")}
    assert len(print_out(plan)["patches"]) == 16
    assert read_steps(plan) == [8, 4, 2, 1]


RAILS = """
project: Rails all round
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}, reed: {value: 4}}
parts:
  rails: {rows: [[navy, reed, coral, shell]]}
blocks:
  rail fence:
    size: 12
    rows:
      - [rails, rails turn 90]
      - [rails turn 270, rails turn 180]
make: [{block: rail fence, count: 1}]
press: {prefer: [outward]}
"""


def test_rails_are_pressed_outward() -> None:
    """CP-8: all outward, so that the inside stays flat for quilting. Where the quarters are turned, so that equal ones
    lie alike, nothing stands against it."""
    printed = print_out(plan_text(RAILS))
    outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
    inside = {seam["id"]: seam for seam in printed["seams"]}
    middle = (Fraction(6), Fraction(6))
    outward = 0
    for seam in printed["seams"]:
        start, end = read_point(seam["from"]), read_point(seam["to"])
        if turn(start, end, middle) == 0:
            continue
        side = seam["a"] if seam["press"] == "a" else seam["b"] or ""
        while side not in outlines:
            side = inside[side]["a"]
        assert find_side(start, end, outlines[side]) * turn(start, end, middle) < 0, seam
        outward += 1
    assert outward == 12


def test_the_crossed_pinwheel_has_a_small_triangle_and_a_strip_of_each_of_its_triangles() -> None:
    """CP-9: each of the pinwheel's triangles cut again along the line that joins the midpoints of two sides."""
    plan = plan_one("crossed pinwheel")
    printed = print_out(plan)
    areas = sorted(find_area(read_outline(patch)) for patch in printed["patches"])
    triangle = Fraction(6 * 6, 2)
    assert areas == [triangle / 4] * 8 + [triangle * 3 / 4] * 8
    assert {tuple(batch["unfinished"]) for batch in printed["batches"] if batch["pass"] == 1} == {("6 7/8", "6 7/8")}


def test_a_quarter_of_an_inch_is_the_allowance() -> None:
    """CP-13."""
    assert read_text(RAILS).seam == Fraction(1, 4)


def press_pair(fabrics: str, prefer: str = "") -> plan_file.PlanSeam:
    """How the seam of one navy and one shell patch is pressed."""
    text = f"""
project: Pair
fabrics: {fabrics}
blocks: {{pair: {{size: 6 x 3, rows: [[navy, shell]]}}}}
make: [{{block: pair, count: 1}}]
{prefer}
"""
    (seam,) = print_out(plan_text(text))["seams"]
    return seam


def test_a_seam_is_pressed_away_from_the_heavier_cloth_then_toward_the_darker() -> None:
    """CP-14: to one side, never open."""
    dark = press_pair("{navy: {value: dark}, shell: {value: light}}")
    assert (dark["press"], dark["why"]) == ("a", "toward the darker fabric")
    heavy = press_pair("{navy: {value: dark, weight: heavy}, shell: {value: light}}")
    assert (heavy["press"], heavy["why"]) == ("b", "away from the heavier cloth")
    light = press_pair("{navy: {value: light}, shell: {value: dark}}")
    assert light["press"] == "b"


def test_a_seam_is_pressed_into_the_plain_patch_where_one_is() -> None:
    """CP-14."""
    printed = print_out(plan_one("double four patch"))
    plain = {patch["id"] for patch in printed["patches"] if patch["fabric"] == "coral"}
    into = [seam for seam in printed["seams"] if plain & {seam["a"], seam["b"]}]
    assert len(into) == 2
    for seam in into:
        assert (seam["a"] if seam["press"] == "a" else seam["b"]) in plain
        assert seam["why"].startswith("toward the side with fewer seams")


@pytest.mark.parametrize("name", SAMPLES)
def test_pressing_is_done_from_the_back_then_from_the_front(name: str) -> None:
    """CP-14."""
    words = say_all(plan_sample(name), "press")
    assert words
    assert all("From the back, then from the front; lift the iron, do not slide it" in one.does for one in words)


@pytest.mark.parametrize("name", SAMPLES)
def test_two_seams_that_meet_lock_and_the_sheet_says_how(name: str) -> None:
    """CP-15: opposite ways, so that they lock."""
    plan = plan_sample(name)
    assert all(join["nests"] for join in print_out(plan)["joins"])
    sewing = [step.work.chain for step in write_sheet(plan).steps if isinstance(step.work, SewWork)]
    for chain, words in zip(sewing, say_all(plan, "sew"), strict=True):
        assert any("until they lock" in line or "until it locks" in line for line in words.does) == bool(chain.matches)


def test_a_seam_with_one_join_has_three_pins() -> None:
    """CP-16: the join and both ends; taken out before the needle."""
    (words,) = [words for words in say_all(plan_one("double four patch"), "sew") if "6 1/2 edge" in words.does[1]][:1]
    assert "Pins: 3, both ends and the join; out before the needle" in words.does
    assert print_sheet(write_sheet(plan_one("four patch"))).count("Pins: 3, both ends and the join; out") == 1


@pytest.mark.parametrize("name", SAMPLES)
def test_a_chain_has_a_few_stitches_between_two_pairs_and_is_clipped_at_the_end(name: str) -> None:
    """CP-17: a few stitches of air, not cut; all clipped apart at the end. A strip of a mitred border is set in by
    itself, and so is sewn what it goes round: a seam that begins and stops inside is no chain."""
    plan = plan_sample(name)
    set_in = {batch for batch, seams in list_batches(print_out(plan)).items() if any("legs" in seam for seam in seams)}
    steps = [step for step in write_sheet(plan).steps if isinstance(step.work, SewWork)]
    sewing = [step.work.chain for step in steps if isinstance(step.work, SewWork)]
    batch_of = {batch.kind: f"B{number}" for number, batch in enumerate(plan.batches.batches, 1)}
    with_chains = set()
    for step, chain, words in zip(steps, sewing, say_all(plan, "sew"), strict=True):
        is_single = any(word.startswith("Begin and stop ") for word in words.does)
        is_set_in = batch_of[plan.units.units[chain.unit].kind] in set_in
        is_chain = not is_set_in and not is_single
        between = "; a few stitches between pairs" if chain.pairs > 1 else ""
        assert (f"A scrap first and last{between}" in words.does) == is_chain
        assert any(line.startswith("Then each corner") for line in words.does) == is_set_in
        assert is_chain or chain.pairs == 1
        if is_chain:
            with_chains.add(step.pass_number)
    assert len(set_in) == (2 if name == "moorings-lap" else 0)
    stages = [(step.pass_number, step.stage) for step in write_sheet(plan).steps]
    for number in range(1, plan.batches.passes + 1):
        in_pass = [stage for pass_number, stage in stages if pass_number == number]
        assert in_pass.count("clip") == (number in with_chains)
        if number in with_chains:
            assert "sew" not in in_pass[in_pass.index("clip") :]
            assert "press" not in in_pass[: in_pass.index("clip")]


def list_batches(printed: plan_file.Plan) -> dict[str, list[plan_file.PlanSeam]]:
    seams = {seam["id"]: seam for seam in printed["seams"]}
    return {batch["id"]: [seams[name] for name in batch["seams"]] for batch in printed["batches"]}


def has_bias(printed: plan_file.Plan, side: str, seam: plan_file.PlanSeam) -> bool:
    """Whether a side has an edge along a seam that runs askew to the grain of its patch: to the block's edges, or to
    the sides of a square or rectangle; of what is no part of a block to the edges of the quilt. A seam that is set in
    has several stretches."""
    if "legs" in seam:
        bare = {name: value for name, value in seam.items() if name != "legs"}
        stretches = [{**bare, "from": start, "to": end} for start, end in seam["legs"]]
        return any(has_bias(printed, side, cast(plan_file.PlanSeam, stretch)) for stretch in stretches)
    start, end = read_stretch(seam)
    patches = set(list_patches(side, {other["id"]: other for other in printed["seams"]}))
    for patch in printed["patches"]:
        if patch["id"] not in patches:
            continue
        corners = read_outline(patch)
        if sum(turn(start, end, corner) == 0 for corner in corners) < 2:
            continue
        sides = [(x - corners[at - 1][0], y - corners[at - 1][1]) for at, (x, y) in enumerate(corners)]
        squares = [sides[at][0] * sides[at - 1][0] + sides[at][1] * sides[at - 1][1] for at in range(len(sides))]
        grain = (Fraction(1), Fraction(1 if is_askew(printed, patch) else 0))
        if len(corners) == 4 and not any(squares):
            grain = sides[0]
        along = (end[0] - start[0], end[1] - start[1])
        if along[0] * grain[1] != along[1] * grain[0] and along[0] * grain[0] + along[1] * grain[1] != 0:
            return True
    return False


def is_askew(printed: plan_file.Plan, patch: plan_file.PlanPatch) -> bool:
    """Whether a patch is cut along the edges of a quilt whose blocks stand on their corners, at half a right angle to
    theirs: the frame is that of the blocks."""
    return printed["project"]["on_point"] and patch["block"] is None


SQUARE_IN_A_SQUARE = """
project: Square in a square
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  square in a square:
    size: 8
    box: 2 x 2
    patches:
      - {fabric: navy, corners: "1,0 2,1 1,2 0,1"}
      - {fabric: shell, corners: "0,0 1,0 0,1"}
      - {fabric: shell, corners: "1,0 2,0 2,1"}
      - {fabric: shell, corners: "2,1 2,2 1,2"}
      - {fabric: shell, corners: "1,2 0,2 0,1"}
make: [{block: square in a square, count: 1}]
"""


BIASED = [read_text(SQUARE_IN_A_SQUARE), *(draw_project(seed, 20) for seed in range(15))]
BIASED_QUILTS = [read_sample("moorings-lap"), read_sample("slipway-on-point"), read_text(QUILTS["on point"])]


@pytest.mark.parametrize("project", [*BIASED, *BIASED_QUILTS], ids=lambda project: project.name)
def test_a_bias_edge_lies_underneath_and_is_not_pulled(project: Project) -> None:
    """CP-18."""
    plan = plan_it(replace(project, make=tuple(replace(make, count=1) for make in project.make)))
    printed = print_out(plan)
    units = [seam.unit for drafted, _ in plan.blocks.made for seam in plan.units.seams[drafted]]
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    words = {step.work.chain.unit: speaker.say(step) for step in sheet.steps if isinstance(step.work, SewWork)}
    only_one = 0
    for unit, seam in zip(units, printed["seams"], strict=True):
        bias = [has_bias(printed, side or "", seam) for side in (seam["a"], seam["b"])]
        feed = feed_of(plan, unit)
        assert [feed.bias_a, feed.bias_b] == bias, seam
        if bias[0] != bias[1] and "legs" not in seam:
            assert feed.a_on_top == bias[1], seam
            only_one += 1
        if unit in words:
            told = [line for line in words[unit].does if "on the bias" in line or "pull" in line]
            is_set_in = "legs" in seam
            which = {
                2: ["Both edges are on the bias: do not pull"],
                1: ["The edge underneath is on the bias: do not pull"],
            }
            of_some = ["Where an edge is on the bias, do not pull"] if any(bias) else []
            assert told == (of_some if is_set_in else which.get(sum(bias), []))
    assert only_one == 4 or project.name != "Square in a square"
    assert only_one or project.name != "Slipway crib quilt"


@pytest.mark.parametrize("name", SAMPLES)
def test_no_bias_edge_lies_on_the_outside_of_a_block(name: str) -> None:
    """CP-18. A right-angled triangle with legs alike has its grain along the long side where that lies along an edge of
    the block, as it does on the outside, and else along the legs: so it must be cut as the one or as the other. The
    same holds for the triangles that fill the edges of a quilt on point, and the edges of that quilt."""
    plan = plan_sample(name)
    printed = print_out(plan)
    needed: Counter[tuple[str, str]] = Counter()
    for patch in printed["patches"]:
        corners = read_outline(patch)
        sides = [(x - corners[at - 1][0], y - corners[at - 1][1]) for at, (x, y) in enumerate(corners)]
        squares = sorted(((x * x + y * y, x, y) for x, y in sides), key=lambda square: square[0])
        if len(corners) == 3 and squares[0][0] == squares[1][0] == squares[2][0] / 2:
            long, x, y = squares[2]
            along_edge = size_of(x) == size_of(y) if is_askew(printed, patch) else 0 in (x, y)
            needed[patch["fabric"], "quarter-square triangle" if along_edge else "half-square triangle"] += 1
    told: Counter[tuple[str, str]] = Counter()
    for entry in printed["cut"]:
        if entry["shape"].endswith("square triangle"):
            told[entry["fabric"], entry["shape"]] += entry["count"]
    assert told == needed
    # At the edges of slipway: between 3 blocks 2 above and 2 below, between 4 rows 3 on either side; and its 4 corners
    mist = {shape: needed["mist", shape] for shape in ("quarter-square triangle", "half-square triangle")}
    assert list(mist.values()) == ([10, 24 + 4] if name == "slipway-on-point" else [0, 0])
    words = {
        "half-square triangle": "Grain along the two short sides; the long side is on the bias",
        "quarter-square triangle": "Grain along the long side; the two short sides are on the bias",
    }
    cutting = [step.work for step in write_sheet(plan).steps if step.stage == "cut"]
    for work, said in zip(cutting, say_all(plan, "cut"), strict=True):
        if isinstance(work, CutWork) and work.entry.piece.shape in words:
            assert words[work.entry.piece.shape] in said.why


@pytest.mark.parametrize("name", SAMPLES)
def test_strips_are_cut_of_washed_cloth_in_two_layers_at_most_and_without_the_selvage(name: str) -> None:
    """CP-12, CP-19, CP-21; nothing is said of knits and dense sheeting, for fabrics have no such key."""
    plan = plan_sample(name)
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    cuts = [step for step in sheet.steps if isinstance(step.work, StripWork)]
    first = [" ".join(speaker.say(step).does) for step in cuts if step.work.cut.is_first]
    assert len(first) == len({entry["fabric"] for entry in print_out(plan)["cut"]})
    for words in first:
        assert words.startswith("Wash and press ")
        assert "two layers at most" in words
        assert "cut the selvages off" in words


def test_lines_are_marked_on_the_wrong_side_in_pencil_or_soap() -> None:
    """CP-20: where a piece is cut by its outline, and where a method sews along a line."""
    plan = plan_sample("tidewater-sampler")
    marked = "on the wrong side in pencil or soap, never ink"
    outlined = sum(entry["shape"] == "other" for entry in print_out(plan)["cut"])
    sheet = print_sheet(write_sheet(plan))
    assert outlined
    assert sheet.count(marked) == sheet.count("cut on the inner edge of the mark") == outlined
    methods = Methods("two at a time", "two at a time", "stitch and flip")
    for name in SAMPLES:
        quick = plan_sample(name)
        quick = replace(quick, project=replace(quick.project, methods=methods))
        said = [" ".join(words.does) for words in say_all(quick, "sew")]
        drawn = [words for words in said if "raw a line" in words or "raw both lines" in words]
        assert all(marked in words for words in drawn)
        assert drawn or name == "lantern-logs"


@pytest.mark.parametrize("name", SAMPLES)
def test_a_block_is_squared_up_last_with_the_allowance_on_all_four_sides(name: str) -> None:
    """CP-22."""
    plan = plan_sample(name)
    sheet = write_sheet(plan)
    letters = assign_letters(sheet)
    places = [place for place, step in enumerate(sheet.steps) if isinstance(step.work, BlockWork)]
    assert places == list(range(places[0], len(sheet.steps) - 1))
    for place, words in zip(places, say_all(plan, "square up"), strict=True):
        work = sheet.steps[place].work
        assert isinstance(work, BlockWork)
        size = words.what.partition(" to ")[2]
        assert words.does == (
            f"Pile {letters[work.pile]}",
            "Trim each side straight; both diagonals must be alike"
            if plan.blocks.drafted[work.block].is_top
            else f"Centre the ruler on the design and trim to {size}",
            f"{plan.ruler.exact(plan.project.seam)} stays outside the design on all four sides",
        )


@pytest.mark.parametrize("name", SAMPLES)
def test_the_thread_is_told_at_the_start(name: str) -> None:
    """CP-23: near the block's colours."""
    project = read_sample(name)
    sheet = write_sheet(plan_it(project))
    (step,) = [step for step in sheet.steps if step.work == MachineWork("needle")]
    words = Speaker(sheet, assign_letters(sheet)).say(step)
    assert words.why[0].startswith("Thread near the blocks' colours")
    assert project.thread is None or f"thread {project.thread}" in words.does[0]
