"""Shapes at 45 and at 60 degrees from the file to the sheet: planned, audited, cut to size and drawn."""

from __future__ import annotations

import re
from collections import defaultdict
from fractions import Fraction
from functools import cache
from math import sqrt
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import plan_text, print_out, read_text, why_wrong
from points import find_area, read_exact, read_outline, to_float, turn
from shapely import Polygon, STRtree, unary_union  # type: ignore[import-untyped]
from test_pictures import Picture, colours_of

from planner.compare_orders import compare_orders
from planner.cut_sizes import move_sides_out, size_around, size_piece, size_unit
from planner.explain_pressing import explain_pressing
from planner.measure import Root, read_number
from planner.pictures.draw_svg import draw_block as draw_block_svg
from planner.pictures.draw_svg import find_names
from planner.plan import Plan, plan_project
from planner.print_orders import print_orders
from planner.print_pressing import print_pressing
from planner.print_sheet import print_sheet
from planner.reading.read_project import read_project
from planner.say_step import Speaker
from planner.sheet import SewWork, UnitWork, assign_letters, write_sheet
from planner.summarise import summarise
from planner.surd import Exact, ExactOutline, Surd, make
from tui.draw import draw_block, draw_outcome, draw_pair, draw_pile

TEXTS = {path.stem: path.read_text("utf-8") for path in sorted((Path(__file__).parent / "rooted").glob("*.yaml"))}
TINY = 1e-6
ROOT_3 = Surd(Fraction(0), Fraction(1), 3)
ROOT_2 = Surd(Fraction(0), Fraction(1), 2)
of_every_draft = pytest.mark.parametrize("name", TEXTS)


@cache
def plan_of(name: str) -> Plan:
    return plan_text(TEXTS[name])


def lay(outline: ExactOutline) -> Polygon:
    return Polygon([(to_float(x), to_float(y)) for x, y in outline])


def test_there_are_drafts_with_either_root() -> None:
    assert len(TEXTS) > 6
    assert {"r2" in text for text in TEXTS.values()} == {"r3" in text for text in TEXTS.values()} == {True, False}


@of_every_draft
def test_no_checker_complains(name: str) -> None:
    assert why_wrong(print_out(plan_of(name))) == ()


@of_every_draft
def test_patches_fill_their_blocks_without_overlap(name: str) -> None:
    printed = print_out(plan_of(name))
    of_block = defaultdict(list)
    for patch in printed["patches"]:
        of_block[patch["block"]].append(read_outline(patch))
    for block in printed["blocks"]:
        outlines = of_block[block["id"]]
        width, height = map(read_exact, block["size"])
        assert sum(map(find_area, outlines)) == width * height  # exact
        polygons = list(map(lay, outlines))
        assert all(polygon.is_valid for polygon in polygons)
        assert unary_union(polygons).area == pytest.approx(to_float(width) * to_float(height), abs=TINY)
        tree = STRtree(polygons)
        for one, other in zip(*tree.query(polygons, predicate="intersects"), strict=True):
            assert one == other or polygons[one].intersection(polygons[other]).area < TINY


@of_every_draft
def test_what_is_cut_by_outline_holds_the_patch_and_its_allowance_and_hardly_more(name: str) -> None:
    plan = plan_of(name)
    seam = plan.project.seam
    for block in plan.blocks.drafted:
        for patch in block.patches:
            outline = plan.blocks.outline_inches(patch.outline)
            assert_holds(move_sides_out(outline, seam), outline, seam)


def assert_holds(moved: tuple[tuple[Fraction, Fraction], ...], outline: ExactOutline, seam: Fraction) -> None:
    cut = lay(moved)
    least = lay(outline).buffer(float(seam), join_style="mitre", mitre_limit=1_000)
    assert least.difference(cut.buffer(TINY)).area < TINY
    assert cut.difference(least.buffer(1 / 32 + TINY, join_style="mitre", mitre_limit=1_000)).area < TINY


@of_every_draft
def test_units_are_told_as_large_as_shapely_says(name: str) -> None:
    plan = plan_of(name)
    seam = plan.project.seam
    for batch in plan.batches.batches:
        for number in batch.units:
            outline = plan.blocks.outline_inches(plan.words.outline(number))
            piece = size_piece(outline, seam)
            if piece.shape != "other" or plan.words.has_inner_corner(number):
                continue
            left, top, right, bottom = lay(outline).buffer(float(seam), join_style="mitre", mitre_limit=1_000).bounds
            told = sorted(map(evaluate, size_unit(outline, seam)))
            for size, least in zip(told, sorted((right - left, bottom - top)), strict=True):
                assert -TINY < size - least < 1 / 16 + TINY


def evaluate(length: Fraction | Root | int) -> float:
    if isinstance(length, Root):
        return evaluate(length.plain) + evaluate(length.times) * sqrt(evaluate(length.of))
    return float(length)


@st.composite
def convex_outlines(draw: st.DrawFn) -> ExactOutline:
    """Triangles and parallelograms with a root in their corners, clockwise as they are seen, none a needle."""
    of = draw(st.sampled_from([2, 3]))
    parts = st.builds(Fraction, st.integers(-24, 24), st.sampled_from([1, 2, 4, 7]))
    a, b, c, d = (make(draw(parts), draw(parts), of) for _ in range(4))
    corners: list[tuple[Exact, Exact]] = [(Fraction(0), Fraction(0)), (a, b), (a + c, b + d), (c, d)]
    if draw(st.booleans()):
        corners = corners[:3]
    around = turn(corners[0], corners[1], corners[2])
    if around < 0:
        corners.reverse()
    return tuple(corners)


@settings(max_examples=60, deadline=None)
@given(
    convex_outlines().filter(lambda outline: has_no_needle(lay(outline))),
    st.sampled_from([Fraction(1, 4), Fraction(3, 8)]),
)
def test_any_outline_with_roots_is_never_cut_short(outline: ExactOutline, seam: Fraction) -> None:
    assert_holds(move_sides_out(outline, seam), outline, seam)
    piece = size_piece(outline, seam)
    left, top, right, bottom = lay(outline).buffer(float(seam), join_style="mitre", mitre_limit=1_000).bounds
    if piece.shape == "other":
        least = sorted((right - left, bottom - top))
        assert all(cut >= size - TINY for cut, size in zip(piece.cut, least, strict=True))
        # a corner may be rounded along both of its sides, and farther where they meet at a narrow angle
        assert all(cut <= size + 1 / 4 for cut, size in zip(piece.cut, least, strict=True))
        around = size_around(outline, seam)
        assert all(-TINY < told - size <= 1 / 16 + TINY for told, size in zip(around, least, strict=True))
        for told, cut in zip(piece.finished, piece.cut, strict=True):
            assert not isinstance(told, Root) or (cut * 16).denominator == 1


def has_no_needle(polygon: Polygon) -> bool:
    corners = list(polygon.exterior.coords)[:-1]
    for at, (x, y) in enumerate(corners):
        (ax, ay), (bx, by) = corners[at - 1], corners[(at + 1) % len(corners)]
        long = ((x - ax) ** 2 + (y - ay) ** 2) * ((bx - x) ** 2 + (by - y) ** 2)
        if long < 1e-3 or ((x - ax) * (by - y) - (y - ay) * (bx - x)) ** 2 < 0.05 * long:
            return False
    return True


def turn_outline(outline: ExactOutline, cos: Exact, sin: Exact) -> ExactOutline:
    return tuple((cos * x - sin * y, sin * x + cos * y) for x, y in outline)


HALF = Fraction(1, 2)
ANGLES = {
    "30 degrees": (ROOT_3 * HALF, HALF),
    "45 degrees": (ROOT_2 * HALF, ROOT_2 * HALF),
    "60 degrees": (HALF, ROOT_3 * HALF),
    "22 1/2 degrees, and longer": (1 + ROOT_2, Fraction(1)),
}


@pytest.mark.parametrize("angle", ANGLES)
@pytest.mark.parametrize(
    ("corners", "shape"),
    [
        ("0,0 3,0 3,3 0,3", "square"),
        ("0,0 3,0 3,2 0,2", "rectangle"),
        ("0,0 3,0 0,3", "half-square triangle"),
        ("0,0 3,0 0,2", "other"),
    ],
)
def test_squares_rectangles_and_halves_are_told_as_such_at_any_angle(angle: str, corners: str, shape: str) -> None:
    outline = tuple((Fraction(x), Fraction(y)) for x, y in (corner.split(",") for corner in corners.split()))
    cos, sin = ANGLES[angle]
    seam = Fraction(1, 4)
    straight, turned = size_piece(outline, seam), size_piece(turn_outline(outline, cos, sin), seam)
    if (angle, shape) == ("45 degrees", "half-square triangle"):
        shape = "quarter-square triangle"  # its long side is upright
    assert turned.shape == shape
    if shape not in ("other", "quarter-square triangle") and "longer" not in angle:
        assert (turned.finished, turned.cut) == (straight.finished, straight.cut)
    if (angle, shape) == ("22 1/2 degrees, and longer", "square"):
        (side, _) = turned.finished
        assert side == Root(Fraction(0), Fraction(1), Root(Fraction(36), Fraction(18), 2))
        assert turned.cut[0] == Root(HALF, Fraction(1), Root(Fraction(36), Fraction(18), 2)).up_to(Fraction(1, 16))


def test_a_side_without_a_root_is_cut_exactly_and_one_with_a_root_up_to_the_next_sixteenth() -> None:
    """An octagon of side 3 r2, and an equilateral triangle of side 4."""
    low, high = Fraction(3), 3 + 3 * ROOT_2
    top, end = Fraction(0), 6 + 3 * ROOT_2
    octagon = (
        (low, top), (high, top), (end, low), (end, high), (high, end), (low, end), (top, high), (top, low),
    )  # fmt: skip
    piece = size_piece(octagon, Fraction(1, 4))
    assert piece.finished == (Root(Fraction(6), Fraction(3), 2),) * 2
    assert piece.cut == (Fraction(43, 4), Fraction(43, 4))  # 10.7426 and no root left over
    triangle = ((Fraction(2), Fraction(0)), (Fraction(4), 2 * ROOT_3), (Fraction(0), 2 * ROOT_3))
    piece = size_piece(triangle, Fraction(1, 4))
    assert piece.finished == (Root(Fraction(0), Fraction(2), 3), Fraction(4))
    assert piece.cut == (Fraction(17, 4), Fraction(39, 8))  # 3.4641 + 3/4, and 4 + 6 * 0.1443
    assert piece.corners[0][0] * 2 == piece.corners[1][0]  # as even as it is drawn


def test_the_plan_tells_lengths_exactly_with_their_roots() -> None:
    printed = print_out(plan_of("on_point"))
    texts = {text for patch in printed["patches"] for corner in patch["corners"] for text in corner}
    assert any(re.fullmatch(r"[^ ]+ \+ [^ ]*sqrt\(2\)", text) for text in texts)
    wedges = print_out(plan_text(TEXTS["drafts"]))
    told = {text for entry in wedges["cut"] for text in entry["finished"]}
    assert any(" - " in text for text in told)
    spun = {
        tuple(entry["finished"]) for entry in print_out(plan_of("spun_square"))["cut"] if entry["shape"] == "square"
    }
    assert spun == {("sqrt(64 + 32*sqrt(2))", "sqrt(64 + 32*sqrt(2))")}


@of_every_draft
def test_sizes_with_a_root_are_shown_rounded_and_marked(name: str) -> None:
    plan = plan_of(name)
    text = print_sheet(write_sheet(plan)) + "\n".join(summarise(plan))
    assert "sqrt" not in text
    assert "Surd" not in text
    assert "about" in text


@of_every_draft
def test_orders_and_pressing_are_explained(name: str) -> None:
    plan = plan_of(name)
    assert "\n".join(print_orders(plan, compare_orders(plan)))
    assert "sqrt" not in "\n".join(print_pressing(plan, explain_pressing(plan)))


@of_every_draft
def test_pictures_show_every_patch_in_its_place(name: str) -> None:
    plan = plan_of(name)
    for number, block in enumerate(plan.blocks.drafted):
        if block.is_top:
            continue
        picture = Picture(draw_block_svg(plan, number, colours_of(plan)))
        drawn = {name: Polygon(spots) for name, (_, spots) in picture.patches().items()}
        first, _ = find_names(plan, number)
        assert len(drawn) == len(block.patches)
        for place, patch in enumerate(block.patches, first):
            outline = lay(plan.blocks.outline_inches(patch.outline))
            assert drawn[f"p{place}"].symmetric_difference(outline).area < TINY


@of_every_draft
def test_the_bench_draws_every_step_in_any_size(name: str) -> None:
    plan = plan_of(name)
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    for width, height in ((12, 3), (56, 6), (110, 14)):
        drawn = []
        for step in sheet.steps:
            if isinstance(step.work, SewWork):
                drawn.append(draw_pair(speaker, step.work.chain, width, height))
            elif isinstance(step.work, UnitWork) and step.stage == "press":
                drawn.append(draw_outcome(speaker, step.work.chain, step.work.outcome, width, height))
        drawn += [draw_pile(speaker, pile, width, height) for pile in plan.piles.piles]
        drawn += [draw_block(plan, block, width, height, True, None) for block in range(len(plan.units.seams))]
        canvases = [canvas for canvas in drawn if canvas is not None]
        assert any(cell.fabric for canvas in canvases for row in canvas for cell in row)
        assert all(len(row) == len(canvas[0]) for canvas in canvases for row in canvas)


def test_the_edges_of_triangles_are_told_by_their_looks() -> None:
    words = print_sheet(write_sheet(plan_of("triangles")))
    sewn = [line for line in words.splitlines() if " Sew " in line]
    assert sewn
    assert not any("square corner" in line for line in sewn)  # there is none on an equilateral triangle
    assert any("sew the edges between them" in line for line in sewn)


KEPT = """
project: Nine patch with a root
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  nine patch:
    size: 6+3r2
    widths: [1, r2, 1]
    heights: [1, r2, 1]
    rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]
make: [{block: nine patch, count: 1}]
press: {keep: [{block: nine patch, at: "AT", toward: WAY}]}
"""


@pytest.mark.parametrize(("at", "way"), [("3+3r2 in, 1/2", "left"), ("3, 3+3/2r2", "right"), ("3+3/2r2, 3", "open")])
def test_a_direction_may_be_kept_at_a_place_with_a_root(at: str, way: str) -> None:
    plan = plan_text(KEPT.replace("AT", at).replace("WAY", way))
    ((_, seam),) = plan.kept
    printed = print_out(plan)
    (start, end), press = (printed["seams"][seam][key] for key in ("from", "to")), printed["seams"][seam]["press"]
    assert (press == "open") == (way == "open")
    assert (start[0] == end[0]) == (way != "open")
    assert why_wrong(printed) == ()


def test_a_place_on_no_seam_is_told_with_places_that_can_be_written() -> None:
    text = KEPT.replace("AT", "3/2+3/2r2, 4").replace("WAY", "open")
    project, (fault,) = read_project(text)
    assert project is None
    spots = re.findall(r'"([^"]+)"', fault.words)
    assert any("r2" in spot for spot in spots)
    for spot in spots:
        assert plan_project(read_text(text.replace("3/2+3/2r2, 4", spot)))[0] is not None


def test_a_quilt_on_point_has_a_root_of_2_whatever_its_blocks_have() -> None:
    text = TEXTS["on_point"]
    assert read_project(text)[0] is not None
    _, faults = read_project(text.replace("size: 6+3r2", "size: 6+3r3").replace("box: 2+r2", "box: 2"))
    assert any(
        "'on point' has r2 in it" in fault.words or "one project has one root" in fault.words for fault in faults
    )


def test_of_a_block_with_roots_the_sizes_without_one_are_told_that_are_off_the_ruler() -> None:
    text = TEXTS["octagon"]
    assert "Off the ruler" not in "\n".join(summarise(plan_text(text)))
    off = "\n".join(summarise(plan_text(text.replace("size: 6+3r2", "size: 31/5+31/10r2"))))
    assert "Off the ruler: octagon at about 10 9/16 x about 10 9/16 is cut 3 39/40 in" in off
    assert read_number("3 39/40") == Fraction(31, 10) + Fraction(7, 8)
