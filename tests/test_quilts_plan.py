"""Plans of quilts: every block where it is written, nothing missing, sewn as one tree, and right by all checkers."""

from __future__ import annotations

import json
import random
from collections import Counter
from fractions import Fraction
from functools import cache

import networkx as nx  # type: ignore[import-untyped]
import pytest
from drawn_quilts import (
    CLOTH,
    MITRED,
    SEAM,
    Drawn,
    Here,
    Quilt,
    draw_quilt,
    expect_blocks,
    expect_size,
    expect_strips,
    frame_of,
    measure,
    quilts,
    read_rooted,
    write_quilt,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import plan_text, print_out, read_text, why_wrong
from points import find_area, read_outline, read_point
from shapely import Polygon, affinity, unary_union  # type: ignore[import-untyped]

from planner import find_cuts
from planner.blocks import lay_out_blocks
from planner.checks import plan_file
from planner.plan import plan_project
from planner.plan_json import write_plan

EXAMPLES = 25


@cache
def plan_quilt(text: str) -> plan_file.Plan:
    return print_out(plan_text(text))


def joined_patches(printed: plan_file.Plan) -> list[plan_file.PlanPatch]:
    joined = {block["id"] for block in printed["blocks"] if not block["loose"]}
    return [patch for patch in printed["patches"] if patch["block"] is None or patch["block"] in joined]


def draw_patch(patch: plan_file.PlanPatch) -> Drawn:
    return Drawn(patch["fabric"], tuple(sorted((read_rooted(x), read_rooted(y)) for x, y in patch["corners"])))


def draw_polygon(patch: plan_file.PlanPatch) -> Polygon:
    return Polygon([(measure(read_rooted(x)), measure(read_rooted(y))) for x, y in patch["corners"]])


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_the_checkers_find_nothing_wrong(quilt: Quilt) -> None:
    assert why_wrong(plan_quilt(quilt.text)) == ()


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_every_block_lies_where_it_is_written_and_turned_as_it_is_written(quilt: Quilt) -> None:
    printed = plan_quilt(quilt.text)
    blocks = [block for block in printed["blocks"] if not block["loose"]]
    expected = expect_blocks(quilt)
    assert [block["draft"] for block in blocks] == [place.draft for place in expected]
    for block, place in zip(blocks, expected, strict=True):
        assert read_point(block["size"]) == (place.width, place.height)
        drawn = [draw_patch(patch) for patch in printed["patches"] if patch["block"] == block["id"]]
        assert tuple(sorted(drawn)) == place.patches, block
    loose = Counter(block["draft"] for block in printed["blocks"] if block["loose"])
    assert loose == Counter(dict(quilt.loose))


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_the_patches_fill_the_quilt_once_and_it_is_as_large_as_it_must_be(quilt: Quilt) -> None:
    polygons = [draw_polygon(patch) for patch in joined_patches(plan_quilt(quilt.text))]
    whole = unary_union(polygons)
    assert whole.area == pytest.approx(sum(polygon.area for polygon in polygons)), "they overlap"
    if quilt.is_on_point:
        whole = affinity.rotate(whole, 45, origin=(0, 0))
    left, top, right, bottom = whole.bounds
    diagonal = 2**0.5 if quilt.is_on_point else 1
    sides = [float(side) * diagonal + 2 * float(frame_of(quilt)) for side in expect_size(quilt)]
    assert [right - left, bottom - top] == pytest.approx(sides)
    assert whole.area == pytest.approx((right - left) * (bottom - top)), "it is no rectangle"
    if not quilt.is_on_point:
        assert (left, top) == (0, 0)


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_what_is_in_no_block_is_the_strips_that_are_written_pieced_where_the_cloth_is_too_narrow(quilt: Quilt) -> None:
    loose = [patch for patch in plan_quilt(quilt.text)["patches"] if patch["block"] is None]
    for patch in loose:
        # the box round it as it is cut
        polygon = affinity.rotate(draw_polygon(patch), 45) if quilt.is_on_point else draw_polygon(patch)
        left, top, right, bottom = polygon.bounds
        longest = CLOTH[patch["fabric"]] - 2 - 2 * SEAM
        assert max(right - left, bottom - top) < longest + Fraction(1, 1000)
    if quilt.is_on_point:
        across, down = len(quilt.rows[0]), (len(quilt.rows) + 1) // 2
        areas = Counter(round(draw_polygon(patch).area, 6) for patch in loose if len(patch["corners"]) == 3)
        assert areas == +Counter({18: 2 * (across - 1) + 2 * (down - 1), 9: 4})
        assert {patch["fabric"] for patch in loose if len(patch["corners"]) == 3} == {"sand"}
    elif not any(posts == MITRED for _, _, posts in quilt.borders):
        found = []
        for patch in loose:
            xs, ys = zip(*read_outline(patch), strict=True)
            short, long = sorted((max(xs) - min(xs), max(ys) - min(ys)))
            assert find_area(read_outline(patch)) == short * long
            found.append((patch["fabric"], short, long))
        assert sorted(found) == expect_strips(quilt)


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_a_border_is_of_its_fabric_and_of_its_width(quilt: Quilt) -> None:
    """Of each border the area, from the inside out; on point and mitred ones too."""
    wide, high = (float(side) * (2**0.5 if quilt.is_on_point else 1) for side in expect_size(quilt))
    expected: Counter[str] = Counter()
    for width, fabric, posts in quilt.borders:
        broad = float(width)
        corners = 4 * broad * broad if posts not in (None, MITRED) else 0
        expected[fabric] += 2 * broad * (wide + high + 2 * broad) - corners  # type: ignore[assignment]
        if corners and posts:
            expected[posts] += corners  # type: ignore[assignment]
        wide, high = wide + 2 * broad, high + 2 * broad
    if quilt.sashing:
        return  # its strips may be of the same fabrics
    found: Counter[str] = Counter()
    for patch in plan_quilt(quilt.text)["patches"]:
        if patch["block"] is None and len(patch["corners"]) != 3:
            found[patch["fabric"]] += draw_polygon(patch).area  # type: ignore[assignment]
    assert found.keys() == expected.keys()
    assert all(found[fabric] == pytest.approx(area) for fabric, area in expected.items())


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_the_seams_are_one_tree_for_each_loose_block_and_one_for_the_quilt(quilt: Quilt) -> None:
    printed = plan_quilt(quilt.text)
    graph = nx.DiGraph()
    graph.add_nodes_from(patch["id"] for patch in printed["patches"])
    for seam in printed["seams"]:
        graph.add_edges_from([(seam["a"], seam["id"]), (seam["b"], seam["id"])])
    assert all(count == 2 for _, count in graph.in_degree(seam["id"] for seam in printed["seams"]))
    trees = list(nx.weakly_connected_components(graph))
    assert all(nx.is_arborescence(graph.subgraph(tree).reverse()) for tree in trees)
    assert len(trees) == 1 + sum(count for _, count in quilt.loose)
    in_quilt = {patch["id"] for patch in joined_patches(printed)}
    assert in_quilt in [tree & {patch["id"] for patch in printed["patches"]} for tree in trees]


@settings(max_examples=EXAMPLES, deadline=None)
@given(quilts())
def test_the_cut_list_adds_up(quilt: Quilt) -> None:
    printed = plan_quilt(quilt.text)
    cut: Counter[str] = Counter()
    for entry in printed["cut"]:
        cut[entry["fabric"]] += entry["count"]
    assert cut == Counter(patch["fabric"] for patch in printed["patches"])


@settings(max_examples=10, deadline=None)
@given(quilts())
def test_the_same_quilt_gives_the_same_bytes(quilt: Quilt) -> None:
    texts = []
    for _ in range(2):
        plan, faults = plan_project(read_text(quilt.text))
        assert plan is not None, faults
        texts.append(write_plan(plan))
    assert texts[0] == texts[1]
    assert json.loads(texts[0]) == plan_quilt(quilt.text)


@settings(max_examples=10, deadline=None)
@given(quilts(), st.sampled_from(("rows", "webbed", "quarters")))
def test_however_it_is_joined_the_same_patches_are_cut(quilt: Quilt, joining: str) -> None:
    printed = plan_quilt(write_quilt(quilt, quilt.loose, joining))
    assert why_wrong(printed) == ()
    assert printed["patches"] == plan_quilt(quilt.text)["patches"]
    assert printed["cut"] == plan_quilt(quilt.text)["cut"]


def sides_by_row(printed: plan_file.Plan) -> dict[str, set[Fraction]]:
    """For each side of a seam that is in no block: the upper edges of the blocks in it."""
    tops = {}
    for block in printed["blocks"]:
        ys = [y for patch in printed["patches"] if patch["block"] == block["id"] for _, y in read_outline(patch)]
        tops[block["id"]] = min(ys)
    held = {patch["id"]: {tops[patch["block"]]} if patch["block"] in tops else set() for patch in printed["patches"]}
    for seam in printed["seams"]:
        held[seam["id"]] = held[seam["a"]] | held[seam["b"] or ""]
    return held


@pytest.mark.parametrize("joining", ["rows", "webbed"])
def test_rows_are_whole_before_they_are_joined(joining: str) -> None:
    tried = 0
    for seed in range(60):
        quilt = draw_quilt(random.Random(seed))
        if quilt.is_on_point or quilt.loose or len(quilt.rows) < 2 or len(quilt.rows[0]) < 2:
            continue
        printed = plan_quilt(write_quilt(quilt, (), joining))
        held = sides_by_row(printed)
        level = {seam["id"] for seam in printed["seams"] if seam["from"][1] == seam["to"][1] and seam["block"] is None}
        for seam in printed["seams"]:
            if seam["block"] is None and seam["id"] not in level and len(held[seam["id"]]) > 1:
                # an upright seam across rows: only a border is sewn so
                assert not held[seam["a"]] or not held[seam["b"] or ""], (seed, seam)
        tried += 1
    assert tried > 10


def test_quarters_take_as_few_passes_as_halving_does() -> None:
    for across, down, passes in ((2, 2, 2), (4, 4, 4), (3, 4, 4), (5, 2, 4), (8, 8, 6)):
        rows = tuple((Here("plain", 0),) * across for _ in range(down))
        printed = plan_quilt(write_quilt(Quilt("", rows), (), "quarters"))
        assert max(batch["pass"] for batch in printed["batches"]) == passes, (across, down)


def test_the_drawn_quilts_have_all_that_a_quilt_can_have() -> None:
    drawn = [draw_quilt(random.Random(seed)) for seed in range(80)]
    assert sum(quilt.is_on_point for quilt in drawn) > 8
    assert sum(quilt.is_on_point and len(quilt.rows) > 1 for quilt in drawn) > 2
    assert {bool(quilt.sashing and quilt.sashing[2]) for quilt in drawn if quilt.sashing} == {True, False}
    assert {posts for quilt in drawn for _, _, posts in quilt.borders} == {None, "navy", MITRED}
    assert {bool(quilt.borders) for quilt in drawn if quilt.is_on_point} == {True, False}
    assert {here.turn for quilt in drawn for row in quilt.rows for here in row} == {0, 1, 2, 3}
    assert any(here.swap for quilt in drawn for row in quilt.rows for here in row)
    assert any("webbed" in quilt.text for quilt in drawn)
    straight = [quilt for quilt in drawn if not quilt.is_on_point and MITRED not in quilt.text]
    wide = dict.fromkeys(CLOTH, 1000)
    assert sum(len(expect_strips(quilt)) > len(expect_strips(quilt, wide)) for quilt in straight) > 8


FRAMED = """
project: Framed
fabrics: {navy: {value: dark}, shell: {value: light, width: WIDTH}}
blocks: {square: {size: 8, rows: [[navy]]}}
quilt:
  rows: [[square]]
  border: [{width: 2, fabric: shell, corners: CORNERS}]
  joining: JOINING
"""


def frame(width: str, corners: str, joining: str) -> plan_file.Plan:
    text = FRAMED.replace("WIDTH", width).replace("CORNERS", corners).replace("JOINING", joining)
    return plan_quilt(text)


@pytest.mark.parametrize("joining", ["rows", "webbed", "quarters"])
def test_no_more_is_said_to_be_needed_than_there_is(joining: str) -> None:
    """All four strips are pieced from the same two patches: one kind."""
    assert why_wrong(frame("8", "navy", joining)) == ()


def test_units_with_mitred_strips_measure_what_the_strips_do() -> None:
    assert why_wrong(frame("42", "mitred", "rows")) == ()


def test_mitred_strips_are_set_in_between_two_others() -> None:
    printed = frame("42", "mitred", "rows")
    assert why_wrong(printed) == ()
    legs = [len(seam.get("legs", ())) for seam in printed["seams"]]
    assert legs == [0, 0, 3, 3]


@pytest.mark.parametrize("seed", range(8))
def test_no_way_of_joining_takes_less_than_is_said_to_be_the_least(seed: int) -> None:
    """Where the maker leaves the joining open the bound holds for all ways, and the best of them is taken."""
    quilt = draw_quilt(random.Random(seed))
    minutes = {}
    for joining in ("rows", "quarters", "webbed", None):
        proof = plan_quilt(write_quilt(quilt, quilt.loose, joining)).get("proof", {})
        minutes[joining] = Fraction(proof["handling"]["minutes"])
    at_least = Fraction(plan_quilt(write_quilt(quilt, quilt.loose)).get("proof", {})["handling"]["at_least"])
    assert at_least <= minutes[None] <= min(minutes.values())


@given(quilts())
@settings(max_examples=EXAMPLES)
def test_cuts_that_a_half_turn_carries_onto_each_other_are_found_as_if_one_by_one(quilt):
    blocks = lay_out_blocks(read_text(write_quilt(quilt)))
    one_by_one = pytest.MonkeyPatch()
    one_by_one.setattr(find_cuts, "FEW_LINES", 10_000)
    try:
        expected = find_cuts.find_cuts(blocks)
    finally:
        one_by_one.undo()
    with pytest.MonkeyPatch.context() as always_turned:
        always_turned.setattr(find_cuts, "FEW_LINES", 0)
        found = find_cuts.find_cuts(blocks)
    assert found.regions == expected.regions
    assert found.roots == expected.roots
