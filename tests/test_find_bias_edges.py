"""Edges that are on the bias on the outside of a block or of the quilt are told, all of them and no others."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, hypot, pi, sin
from typing import Any

import pytest
from drafts import write_project
from drawn_quilts import draw_quilt, write_quilt
from planned import SAMPLES, plan_sample, plan_text, print_out
from points import read_exact, read_outline, to_float
from test_prints import HEAD, ON_POINT, without
from test_rooted_at_random import cut_rooted, write
from test_shelf import BLOCKS, plan_of

from planner.cloth.cloth import work_out_cloth
from planner.cloth.print_cloth import print_cloth
from planner.find_bias_edges import find_bias_edges, find_bias_units
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.say_bias import BiasWords
from planner.say_step import Speaker
from planner.sheet import CutWork, assign_letters, write_sheet
from planner.summarise import summarise

PINWHEEL = """\
project: Tidewater pinwheels
fabrics:
  navy: {value: dark}
  shell: {value: light}
blocks:
  pinwheel: {size: 12, rows: [[navy \\ shell, navy / shell], [shell / navy, shell \\ navy]]}
make: [{block: pinwheel, count: 2}]
"""
# Two equal halves of a hexagon: the one has its long side on the border, the other, turned by 60 degrees, a short one
HALVES = """\
project: Tidewater halves
fabrics:
  navy: {value: dark}
  shell: {value: light}
blocks:
  halves:
    size: 6r3 x 12
    box: 2r3 x 4
    patches:
      - {fabric: navy, corners: "0,1 1/2r3,3/2 1/2r3,5/2 0,3"}
      - {fabric: navy, corners: "2r3,1 2r3,2 3/2r3,5/2 r3,2"}
      - {fabric: shell, corners: "0,0 2r3,0 2r3,1 r3,2 0,1"}
      - {fabric: shell, corners: "1/2r3,3/2 3/2r3,5/2 2r3,2 2r3,4 0,4 0,3 1/2r3,5/2"}
make: [{block: halves, count: 3}]
"""


def warn(plan: Plan) -> list[tuple[str, tuple[str, ...], int]]:
    """For each entry: fabric and shape, the blocks, how many of its patches."""
    return [
        (
            f"{plan.cut[edge.entry].fabric} {plan.cut[edge.entry].piece.shape}",
            tuple(plan.blocks.drafted[block].name for block in edge.blocks),
            edge.places,
        )
        for edge in find_bias_edges(plan)
    ]


# Known by hand


@pytest.mark.parametrize("name", SAMPLES)
def test_no_sample_has_a_bias_edge_outside(name: str) -> None:
    assert warn(plan_sample(name)) == []
    assert find_bias_units(plan_sample(name)) == ()


@pytest.mark.parametrize("name", sorted(BLOCKS)[::4])
def test_no_block_of_the_shelf_has_a_bias_edge_outside(name: str) -> None:
    assert warn(plan_of(name)) == []


def test_setting_triangles_and_pinwheels_are_cut_so_that_their_outside_is_on_grain() -> None:
    assert warn(plan_text(PINWHEEL)) == []
    plan = plan_text(without(ON_POINT))
    assert "quarter-square triangle" in {entry.piece.shape for entry in plan.cut}
    assert warn(plan) == []


def test_a_print_that_stays_upright_on_point_has_its_blocks_edges_on_the_bias() -> None:
    assert warn(plan_text(ON_POINT)) == [
        # Two flags and one that lies turned have a stripe of it from side to side, each nine patch four corners. The
        # loose flag, the borders and the setting triangles are on grain
        ("gulls rectangle", ("flag",), 2),
        ("gulls rectangle", ("flag",), 1),
        ("gulls square", ("nine patch", "nine patch"), 8),
    ]


@pytest.mark.parametrize("base", ["0,0 2,0 1,1", "2,0 2,2 1,1", "2,2 0,2 1,1", "0,2 0,0 1,1"])
def test_each_side_of_a_block_is_its_outside(base: str) -> None:
    others = {"0,0 2,0 1,1", "2,0 2,2 1,1", "2,2 0,2 1,1", "0,2 0,0 1,1"} - {base}
    patches = [f'{{fabric: gulls, corners: "{base}"}}', *(f'{{fabric: navy, corners: "{one}"}}' for one in others)]
    block = f"  quarters: {{size: 6, box: 2, patches: [{', '.join(patches)}]}}\n"
    quilt = "quilt: {layout: on point, setting: coral, rows: [[quarters, quarters]]}\n"
    assert warn(plan_text(HEAD + block + quilt)) == [("gulls half-square triangle", ("quarters",), 2)]


def test_pieces_that_are_cut_alike_for_two_places_are_told_with_a_way_out() -> None:
    plan = plan_text(HALVES)
    assert warn(plan) == [("navy other", ("halves",), 3)]
    (words,) = BiasWords(plan, lambda pile: "A").say_all()
    assert words == (
        "A side of A lies on the outside of halves (3 of 6) and is on the bias: it stretches. Handle it little, "
        "stay-stitch or starch it, and do not pull. By a template that is laid with that side along the grain it is "
        "not, but takes more cloth than told"
    )


@pytest.mark.parametrize(
    ("method", "is_told"), [("four at a time", True), ("from strips", True), ("two at a time", False),
                            ("eight at a time", False), ("one by one", False)],
)  # fmt: skip
def test_units_that_a_method_leaves_on_the_bias_are_told_where_they_lie_outside(method: str, is_told: bool) -> None:
    plan = plan_text(f"{PINWHEEL}methods: {{triangles: {method}}}\n")
    said = list(BiasWords(plan, {}.get).say_all())
    assert bool(said) == is_told
    if is_told:
        assert print_sheet(write_sheet(plan)).count("has its edges on the bias") == 2  # at the cut of either fabric
        assert said[0].startswith(f"Sewn {method}, each navy-shell triangle square has its edges on the bias")
        assert said[0].endswith("Sewn one by one, two at a time or eight at a time they are on grain")


def test_units_on_the_bias_that_are_wholly_inside_are_not_told() -> None:
    rows = "[[navy, navy, navy], [navy, navy / shell, navy], [navy, navy, navy]]"
    text = PINWHEEL.replace("[[navy \\ shell, navy / shell], [shell / navy, shell \\ navy]]", rows)
    assert find_bias_units(plan_text(f"{text}methods: {{triangles: four at a time}}\n")) == ()


# Where it is told


def test_the_warning_stands_at_the_cut_in_the_summary_and_in_the_cloth() -> None:
    plan = plan_text(ON_POINT)
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    warned = [
        step.work.pile
        for step in sheet.steps
        if isinstance(step.work, CutWork) and any("do not pull" in line for line in speaker.say(step).does)
    ]
    piles = [plan.piles.unit_names[plan.cut[edge.entry].units[0]] for edge in find_bias_edges(plan)]
    assert warned == piles
    (told,) = [line for line in summarise(plan) if line.startswith("On the bias")]
    assert "gulls" in told
    cloth, _ = work_out_cloth(plan)
    assert cloth is not None
    lines = list(print_cloth(cloth))
    assert "On the bias outside" in lines
    assert max(map(len, lines)) <= 60
    assert "do not pull" in print_sheet(sheet)


def test_nothing_is_said_where_nothing_is_on_the_bias() -> None:
    plan = plan_text(PINWHEEL)
    assert not any("bias" in line for line in summarise(plan))
    cloth, _ = work_out_cloth(plan)
    assert cloth is not None
    assert "On the bias outside" not in list(print_cloth(cloth))


# By brute force: every edge of every patch of the printed plan, in floats


Spots = list[tuple[float, float]]
_NEAR = 1e-6


def expect(printed: Any) -> tuple[Counter[str], Counter[str]]:
    """By fabric how many patches certainly have a bias edge outside, and how many may have: a piece that looks the same
    after a turn may have been cut either way."""
    drafts = {block["id"]: block for block in printed["blocks"]}
    on_point = printed["project"]["on_point"]
    ways = {fabric["id"]: fabric.get("directional", False) for fabric in printed["fabrics"]}
    groups: dict[object, list[tuple[Any, Spots]]] = {}
    for patch in printed["patches"]:
        outline = [(to_float(x), to_float(y)) for x, y in read_outline(patch)]
        groups.setdefault(patch["block"], []).append((patch, outline))
    quilt = [one for block, group in groups.items() if block is None or not drafts[block]["loose"] for one in group]
    certain: Counter[str] = Counter()
    possible: Counter[str] = Counter()
    for block, group in groups.items():
        is_turned = on_point and (block is None or not drafts[block]["loose"])
        border = border_round([spots for _, spots in (quilt if block is None else group)], on_point and block is None)
        for patch, spots in group:
            outer = [at for at in range(len(spots)) if lies_on(spots[at], spots[(at + 1) % len(spots)], border)]
            if not outer:
                continue
            fabric = patch["fabric"]
            if ways[fabric]:
                answers = [any(is_aslant(spots, at, pi / 4 if is_turned else 0) for at in outer)]
            else:
                answers = list(look_up(printed, fabric, spots, outer))
            certain[fabric] += all(answers)
            possible[fabric] += any(answers)
    return certain, possible


def border_round(outlines: Sequence[Spots], is_turned: bool) -> list[tuple[float, float, float]]:
    """Lines a x + b y = c."""
    corners = [spot for spots in outlines for spot in spots]
    axes = ((1, 1), (1, -1)) if is_turned else ((1, 0), (0, 1))
    return [
        (a, b, end) for a, b in axes for end in (min(a * x + b * y for x, y in corners),
                                                 max(a * x + b * y for x, y in corners))
    ]  # fmt: skip


def lies_on(start: tuple[float, float], end: tuple[float, float], border: list[tuple[float, float, float]]) -> bool:
    return any(all(abs(a * x + b * y - c) < _NEAR for x, y in (start, end)) for a, b, c in border)


def is_aslant(spots: Spots, at: int, grain: float, near: float = _NEAR) -> bool:
    """Whether a side runs neither along the grain nor across it."""
    (ax, ay), (bx, by) = spots[at], spots[(at + 1) % len(spots)]
    turned = atan2(by - ay, bx - ax) - grain
    return abs(sin(2 * turned)) > near


def look_up(printed: Any, fabric: str, spots: Spots, outer: list[int]) -> Iterator[bool]:
    """For each way in which the patch can be one of the pieces of the cut list: is an outer side on the bias there?"""
    seam = float(read_exact(printed["project"]["seam"]))
    is_rectangle = len(spots) == 4 and all(abs(turn - pi / 2) < _NEAR for turn in turns_of(spots))
    found = False
    for entry in printed["cut"]:
        piece = [(float(read_exact(x)), float(read_exact(y))) for x, y in entry["corners"]]
        if (
            entry["fabric"] != fabric
            or len(piece) != len(spots)
            or (entry["shape"] in ("square", "rectangle")) != is_rectangle
        ):
            continue
        for shift in range(len(spots)):
            turned = piece[shift:] + piece[:shift]
            if fits(spots, turned, seam):
                found = True
                yield any(is_aslant(turned, at, 0, 0.02) for at in outer)
    assert found, "no entry of the cut list fits"


def turns_of(spots: Spots) -> list[float]:
    ways = [atan2(by - ay, bx - ax) for (ax, ay), (bx, by) in pairwise([*spots, spots[0]])]
    return [(after - before) % (2 * pi) for before, after in zip([ways[-1], *ways], ways, strict=False)]


def fits(spots: Spots, piece: Spots, seam: float) -> bool:
    """Whether a piece is the patch with its allowances, corner by corner and not mirrored; sizes are rounded up."""
    if any(abs(one - other) > 0.06 for one, other in zip(turns_of(spots), turns_of(piece), strict=True)):
        return False
    turns = turns_of(spots)
    for at, turn in enumerate(turns):
        after = turns[(at + 1) % len(turns)]
        more = seam * sum(sin(one / 2) / cos(one / 2) for one in (turn, after))
        (ax, ay), (bx, by) = spots[at], spots[(at + 1) % len(spots)]
        (px, py), (qx, qy) = piece[at], piece[(at + 1) % len(piece)]
        if not -0.07 < hypot(qx - px, qy - py) - hypot(bx - ax, by - ay) - more < 0.2 + hypot(bx - ax, by - ay) / 40:
            return False
    return True


def assert_told(plan: Plan) -> Counter[str]:
    certain, possible = expect(print_out(plan))
    told: Counter[str] = Counter()
    for edge in find_bias_edges(plan):
        told[plan.cut[edge.entry].fabric] += edge.places
    for fabric in {*told, *possible}:
        assert certain[fabric] <= told[fabric] <= possible[fabric], fabric
    return told


@pytest.mark.parametrize("seed", range(10))
def test_random_blocks_tell_every_bias_edge_outside(seed: int) -> None:
    prints = 50 if seed % 2 else 0
    assert_told(plan_text(write_project(random.Random(seed), most_patches=16, most_blocks=2, prints=prints)))


@pytest.mark.parametrize("seed", range(10))
def test_random_quilts_of_prints_tell_every_bias_edge_outside(seed: int) -> None:
    quilt = draw_quilt(random.Random(seed), 3, 2)
    text = write_quilt(quilt, [(quilt.rows[0][0].draft, 1)])
    assert_told(plan_text(text))
    told = assert_told(plan_text(text.replace("value: light", "value: light, directional: true")))
    assert quilt.is_on_point or not told


@pytest.mark.parametrize("of", [2, 3])
@pytest.mark.parametrize("seed", range(6))
def test_random_blocks_with_a_root_tell_every_bias_edge_outside(seed: int, of: int) -> None:
    chance = random.Random(seed)
    assert_told(plan_text(write(cut_rooted(chance, of, 5), chance, "8 x 6", "4 x 3")))


@pytest.mark.parametrize("text", [PINWHEEL, ON_POINT, HALVES, without(ON_POINT)])
def test_known_projects_tell_every_bias_edge_outside(text: str) -> None:
    assert_told(plan_text(text))
