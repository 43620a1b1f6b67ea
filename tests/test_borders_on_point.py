"""Borders round quilts on point: their strips lie along the diagonals of the blocks, and every length stays exact."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

import pytest
from planned import plan_text, print_out, why_wrong
from shapely import Polygon, union_all

from planner.blocks import Outline
from planner.checks import plan_file
from planner.cut_sizes import size_piece
from planner.find_cuts import turn_part
from planner.look_along import find_grain, is_bias
from planner.measure import Root, spell_exact
from planner.plan import Plan
from planner.plan_json import write_plan
from planner.reading.read_project import read_project
from planner.say_step import Speaker
from planner.sheet import assign_letters, pins_of, write_sheet
from planner.summarise import summarise
from planner.surd import Exact, Grid, Surd, size_of
from tui.draw import draw_block, draw_outcome, draw_pair
from tui.scene import nearly

POSTS = "{width: 2, fabric: shell, corners: navy}"
WIDE = "{width: 3, fabric: shell}"
BOTH = f"[{WIDE}, {{width: 1 1/2, fabric: sand, corners: navy}}, {{width: 2/3, fabric: navy}}]"
ROOT = Surd(Fraction(0), Fraction(1), 2)


def write_text(border: str, across: int, down: int, joining: str = "", size: str = "6") -> str:
    rows = [f"    - [{', '.join(['nine'] * (across - number % 2))}]" for number in range(down)]
    lines = "\n".join(rows)
    return f"""
project: Tidewater on point
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}, sand: {{value: 4}}}}
blocks:
  nine: {{size: {size}, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]}}
quilt:
  layout: on point
  setting: sand
  rows:
{lines}
  border: {border}
{f"  joining: {joining}" if joining else ""}
"""


@cache
def plan_on_point(border: str, across: int, down: int, joining: str = "") -> Plan:
    return plan_text(write_text(border, across, down, joining))


QUILTS = [(POSTS, 4, 3), (WIDE, 4, 7), (BOTH, 2, 3), (BOTH, 1, 1)]
all_quilts = pytest.mark.parametrize(("border", "across", "down"), QUILTS)


def sum_widths(border: str) -> Fraction:
    return {POSTS: Fraction(2), WIDE: Fraction(3), BOTH: 3 + Fraction(3, 2) + Fraction(2, 3)}[border]


def twice_area(outline: Outline) -> Grid:
    total: Grid = 0
    for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True):
        total = total + ax * by - ay * bx
    return total


def find_sides(border: str, across: int, down: int) -> tuple[Exact, Exact]:
    """Width and height: diagonals of blocks of 6 in, and the borders twice."""
    wide, high = ROOT * Fraction(6 * across), ROOT * Fraction(6 * (down + 1), 2)
    more = 2 * sum_widths(border)
    return wide + more, high + more


@all_quilts
def test_the_checkers_find_nothing_wrong(border: str, across: int, down: int) -> None:
    assert why_wrong(print_out(plan_on_point(border, across, down))) == ()


@pytest.mark.parametrize("joining", ["rows", "quarters", "webbed"])
def test_the_checkers_find_nothing_wrong_however_it_is_joined(joining: str) -> None:
    assert why_wrong(print_out(plan_on_point(BOTH, 2, 3, joining))) == ()


@all_quilts
def test_the_patches_come_to_the_size_of_the_quilt_exactly(border: str, across: int, down: int) -> None:
    plan = plan_on_point(border, across, down)
    wide, high = find_sides(border, across, down)
    assert plan.blocks.quilt_size == (wide, high)
    outlines = [patch.outline for patch in plan.blocks.drafted[-1].patches]
    area = plan.blocks.inches(sum((twice_area(outline) for outline in outlines), start=0))
    assert area * Fraction(1, 2 * plan.blocks.scale) == wide * high


@all_quilts
def test_the_patches_lie_side_by_side_in_a_box_from_0_0(border: str, across: int, down: int) -> None:
    plan = plan_on_point(border, across, down)
    patches = [Polygon([(nearly(x), nearly(y)) for x, y in p.outline]) for p in plan.blocks.drafted[-1].patches]
    whole = union_all(patches, grid_size=1e-9)
    assert whole.area == pytest.approx(sum(patch.area for patch in patches))
    assert whole.bounds[:2] == pytest.approx((0, 0), abs=1e-6)
    assert whole.area == pytest.approx(whole.minimum_rotated_rectangle.area)


def read_setting(plan: Plan) -> set[tuple[str, tuple[Fraction, Fraction], int]]:
    triangles = [entry for entry in plan.cut if entry.piece.shape.endswith("triangle")]
    return {(entry.piece.shape, entry.piece.cut, entry.count) for entry in triangles}


@all_quilts
def test_a_border_changes_nothing_in_the_setting(border: str, across: int, down: int) -> None:
    setting = read_setting(plan_on_point(border, across, down))
    assert ("half-square triangle", (Fraction(41, 8), Fraction(41, 8)), 4) in setting
    assert setting == read_setting(plan_on_point("{width: 6, fabric: navy}", across, down))


def read_strips(plan: Plan, fabric: str) -> list[tuple[tuple[str, str], tuple[str, str], int]]:
    """Finished and cut sizes and counts of the rectangles of a fabric."""
    return [
        (
            (spell_exact(entry.piece.finished[0]), spell_exact(entry.piece.finished[1])),
            (spell_exact(entry.piece.cut[0]), spell_exact(entry.piece.cut[1])),
            entry.count,
        )
        for entry in plan.cut
        if entry.fabric == fabric and entry.piece.shape in ("rectangle", "square")
    ]


def test_strips_with_posts_are_as_long_as_the_top_and_cut_up_to_the_next_sixteenth() -> None:
    """24 and 12 times the root are 33.941 and 16.971."""
    plan = plan_on_point(POSTS, 4, 3)
    assert read_strips(plan, "shell")[:2] == [
        (("2", "24*sqrt(2)"), ("2 1/2", "34 1/2"), 2),
        (("2", "12*sqrt(2)"), ("2 1/2", "17 1/2"), 2),
    ]
    # Blocks are of squares 2 in, as the posts are: 11 blocks with 5 of them, and 4
    assert read_strips(plan, "navy") == [(("2", "2"), ("2 1/2", "2 1/2"), 59)]


def test_strips_longer_than_the_cloth_are_pieced_from_equal_lengths() -> None:
    """24 times the root and 6 in are 39.94, and the cloth, 40 in usable, gives strips of 39 1/2 finished."""
    plan = plan_on_point(WIDE, 4, 7)
    assert read_strips(plan, "shell")[:2] == [
        (("3", "24*sqrt(2)"), ("3 1/2", "34 1/2"), 2),
        (("3", "3 + 12*sqrt(2)"), ("3 1/2", "20 1/2"), 4),
    ]


def list_inside(printed: plan_file.Plan) -> Iterator[tuple[plan_file.PlanSeam, set[str], set[str]]]:
    """Each seam with the patches on its side a and on its side b."""
    inside: dict[str, set[str]] = {patch["id"]: {patch["id"]} for patch in printed["patches"]}
    for seam in printed["seams"]:
        assert seam["b"] is not None
        a, b = inside[seam["a"]], inside[seam["b"]]
        inside[seam["id"]] = a | b
        yield seam, a, b


@all_quilts
def test_a_border_goes_round_what_is_whole(border: str, across: int, down: int) -> None:
    """No strip is sewn to a part of the blocks and the triangles."""
    printed = print_out(plan_on_point(border, across, down))
    top = {p["id"] for p in printed["patches"] if p["block"] or len(p["corners"]) == 3}
    for _, a, b in list_inside(printed):
        for side, other in ((a, b), (b, a)):
            if side - top and other & top:
                assert top <= other


def test_a_pieced_strip_is_whole_before_it_is_sewn_on() -> None:
    printed = print_out(plan_on_point(WIDE, 4, 7))
    halves = {
        p["id"] for p in printed["patches"] if not p["block"] and len(p["corners"]) == 4 and p["fabric"] == "shell"
    }
    pairs = [a | b for _, a, b in list_inside(printed) if a | b <= halves]
    assert len(pairs) == 2
    for _, a, b in list_inside(printed):
        assert all(pair <= side or not pair & side for pair in pairs for side in (a, b) if len(side) > 1)


def test_the_whole_quilt_measures_its_diagonals_its_borders_and_the_allowances() -> None:
    plan = plan_on_point(POSTS, 4, 3)
    printed = print_out(plan)
    assert printed["batches"][-1]["unfinished"] == ["9/2 + 12*sqrt(2)", "9/2 + 24*sqrt(2)"]
    assert plan.quilt_size == (Root(Fraction(4), Fraction(24), 2), Root(Fraction(4), Fraction(12), 2))
    assert "The quilt: about 37 15/16 x about 21 finished, joined as is quickest" in summarise(plan)


def test_coordinates_with_a_root_are_spelled_with_it() -> None:
    printed = print_out(plan_on_point(POSTS, 4, 3))
    texts = {text for patch in printed["patches"] for corner in patch["corners"] for text in corner}
    assert "0" in texts
    assert "24 + 2*sqrt(2)" in texts  # a corner of the top, moved by the border
    assert "sqrt(2)" in texts
    assert not any("-" in text for text in texts)


def test_the_same_quilt_gives_the_same_bytes() -> None:
    text = write_text(BOTH, 2, 3)
    assert write_plan(plan_text(text)) == write_plan(plan_on_point(BOTH, 2, 3)) == write_plan(plan_text(text))


def test_a_mitred_border_on_point_is_refused_in_words() -> None:
    project, faults = read_project(write_text("{width: 2, fabric: shell, corners: mitred}", 2, 1))
    assert project is None
    assert [fault.words for fault in faults] == [
        "mitred corners on point are not there yet; take corners out, or name a fabric for squares there"
    ]


def test_the_sheet_tells_long_edges_by_their_length_and_the_quilt_by_its_own_sides() -> None:
    sheet = write_sheet(plan_on_point(POSTS, 4, 3))
    speaker = Speaker(sheet, assign_letters(sheet))
    said = [" ".join((words.what, *words.does)) for words in map(speaker.say, sheet.steps)]
    assert any("sew the 34 1/2 edge, upper end first" in text for text in said)
    assert any(text.startswith("the quilt to about 38 7/16 x about 21 1/2") for text in said)


def test_pins_lie_along_the_seam() -> None:
    plan = plan_on_point(POSTS, 4, 3)
    for number, unit in enumerate(plan.units.units):
        if unit.a is None or unit.b is None:
            continue
        (px, py), (qx, qy) = unit.seam
        for x, y in pins_of(plan, number):
            assert min(px, qx) <= x + 1
            assert x - 1 <= max(px, qx)
            # no farther from the line than rounding takes it: a grid unit across and down
            off = size_of((x - px) * (qy - py) - (y - py) * (qx - px))
            assert off <= size_of(qx - px) + size_of(qy - py)


@pytest.mark.parametrize("size", [(0, 0), (12, 5), (40, 9), (76, 20), (110, 40)])
def test_pictures_are_drawn_in_every_size(size: tuple[int, int]) -> None:
    plan = plan_on_point(BOTH, 2, 3)
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    wide, high = size
    for chain in (chain for chains in plan.piles.chains.values() for chain in chains):
        outcome = next(iter(chain.outcomes.values()))
        for canvas in (draw_pair(speaker, chain, *size), draw_outcome(speaker, chain, outcome, *size)):
            assert canvas is None or (len(canvas) <= high and all(len(row) <= wide for row in canvas))
    canvas = draw_block(plan, len(plan.blocks.drafted) - 1, *size, numbered=True, marked_seam=0)
    assert len(canvas) <= high
    if high >= 20:
        assert {cell.fabric for row in canvas for cell in row} >= {"navy", "shell", "sand"}


# --- what is cut askew


def test_the_grain_of_what_is_askew_lies_along_the_edges_of_the_quilt() -> None:
    nothing, leg, seam = Fraction(0), Fraction(6), Fraction(1, 4)
    along_legs = ((nothing, nothing), (leg, nothing), (nothing, leg))
    along_long = ((nothing, nothing), (2 * leg, nothing), (leg, leg))
    half, quarter = Root(nothing, Fraction(6), 2), Root(nothing, Fraction(3), 2)
    assert size_piece(along_legs, seam).shape == size_piece(along_long, seam, is_askew=True).shape
    assert size_piece(along_long, seam).shape == size_piece(along_legs, seam, is_askew=True).shape
    side = size_piece(along_legs, seam, is_askew=True)
    assert (side.finished, side.cut) == ((quarter, half), (Fraction(39, 8), Fraction(39, 4)))
    corner = size_piece(along_long, seam, is_askew=True)
    assert (corner.finished, corner.cut) == ((half, half), (Fraction(75, 8), Fraction(75, 8)))


def test_the_long_side_of_an_askew_triangle_is_on_grain_and_its_short_ones_are_on_the_bias() -> None:
    triangle = ((0, 0), (6, 0), (0, 6))
    assert [is_bias(side, find_grain(triangle, True)) for side in ((6, 0), (0, 6), (-6, 6))] == [True, True, False]
    assert [is_bias(side, find_grain(triangle)) for side in ((6, 0), (0, 6), (-6, 6))] == [False, False, True]
    slanting = ((1, 0), (4, 3), (3, 4), (0, 1))
    assert not is_bias((1, 1), find_grain(slanting, True))
    assert not is_bias((1, 1), find_grain(slanting))


def test_half_a_square_with_a_root_is_told_by_its_legs() -> None:
    nothing = Fraction(0)
    piece = size_piece(((nothing, nothing), (ROOT, nothing), (nothing, ROOT)), Fraction(1, 4))
    assert piece.shape == "half-square triangle"
    assert piece.finished == (Root(nothing, Fraction(1), 2), Root(nothing, Fraction(1), 2))
    assert piece.cut == (Fraction(37, 16), Fraction(37, 16))  # 1.4142 + 7/8 = 2.2892


def test_a_slanting_part_is_itself_again_after_four_quarter_turns() -> None:
    part = (Surd(1, 1, 2), 2, Surd(31, 1, 2), 32, 11)  # the box round it is a square
    turned = part
    for quarter in range(4):
        turned = turn_part(turned, (40, 50)[quarter % 2])
        assert (turned == part) == (quarter == 3)
