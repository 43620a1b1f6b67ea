"""Slanted pieces side by side in strips: every piece whole, none over another, and less cloth than boxes take."""

from __future__ import annotations

import json
import random
from copy import deepcopy
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import sqrt
from pathlib import Path
from typing import Any

import pytest
from layouts import lay
from planned import plan_text, print_out
from shapely import Polygon, affinity  # type: ignore[import-untyped]

from planner.checks.check_cloth import why_not_laid
from planner.checks.check_rows import why_not_in_row
from planner.cloth.choose_methods import change_rectangles
from planner.cloth.cloth import lay_out_fabric
from planner.cloth.cloth_json import write_cloth
from planner.cloth.draw_layout_svg import draw_layout_svg
from planner.cloth.lay_in_rows import lay_in_rows
from planner.cloth.nest_rows import Slants, fill_row, find_angle, find_slants, list_cuts, measure_row
from planner.cloth.rectangles import Rectangle
from planner.cut_sizes import size_other
from planner.measure import Ruler, read_rooted
from planner.pictures import draw_cloth
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.sheet import write_sheet
from planner.surd import ExactOutline, from_length

ROOTED = Path(__file__).parent / "rooted"
SEAM, STEP = Fraction(1, 4), Fraction(1, 16)
DIAMOND_45 = "0,0 3,0 3+3/2r2,3/2r2 3/2r2,3/2r2"
DIAMOND_60 = "1,0 3,0 2,r3 0,r3"
TRIANGLE_60 = "2,0 4,2r3 0,2r3"
HALF_HEXAGON = "1,0 3,0 4,r3 0,r3"
RIGHT_TRIANGLE = "0,0 3,0 0,5"
CORNERED = "0,0 4,0 2,3 0,3"  # one of its sides is upright
STEEP = "0,0 4,0 5,3 2,3"
LEANING = "0,0 7,2 7,5 0,3"  # two upright sides
SHAPES = (DIAMOND_45, DIAMOND_60, TRIANGLE_60, HALF_HEXAGON, RIGHT_TRIANGLE, CORNERED, STEEP, LEANING)
HEXAGON = "1,0 3,0 4,r3 3,2r3 1,2r3 0,r3"
KITE = "2,0 4,2 2,5 0,2"


def read(corners: str) -> ExactOutline:
    points = (point.split(",") for point in corners.split(" "))
    return tuple((from_length(read_rooted(x)), from_length(read_rooted(y))) for x, y in points)


def slants_of(corners: str, may_turn: bool = True) -> Slants:
    slants = find_slants(read(corners), SEAM, STEP, may_turn)
    assert slants is not None
    return slants


def near(number: Any) -> float:
    return (
        float(number) if not hasattr(number, "times") else float(number.plain) + float(number.times) * sqrt(number.of)
    )


def draw_piece(corners: str) -> Polygon:
    """The piece to cut, as exact as floats are."""
    finished = Polygon([(near(x), near(y)) for x, y in read(corners)])
    return finished.buffer(float(SEAM), join_style="mitre", mitre_limit=100)


def draw_regions(slants: Slants, many: int) -> list[Polygon]:
    """What the cuts of a row leave."""
    cuts = [(near(upper), near(lower)) for upper, lower in list_cuts(slants, many)]
    high = float(slants.high)
    return [Polygon([(left[0], 0), (right[0], 0), (right[1], high), (left[1], high)]) for left, right in pairwise(cuts)]


def does_hold(region: Polygon, piece: Polygon) -> bool:
    """Whether a piece lies whole in a region, corner on corner, turned by quarters or half round but never over."""
    room = region.buffer(1e-6, join_style="mitre")
    for degrees in (0, 180, 90, 270):
        turned = affinity.rotate(piece, degrees, origin=(0, 0))
        for x, y in turned.exterior.coords[:-1]:
            for to_x, to_y in region.exterior.coords[:-1]:
                if room.contains(affinity.translate(turned, to_x - x, to_y - y)):
                    return True
    return False


def _random_trapezoid(seed: int) -> str:
    chance = random.Random(seed)
    deep, wide = chance.randint(2, 6), chance.randint(3, 7)
    left, right = chance.randint(0, 4), chance.randint(0, 4)
    top = [(left, 0), (left + chance.randint(0, wide), 0)]
    corners = [top[0], *(top[1:] if top[1] != top[0] else []), (max(left, right) + wide, deep), (right, deep)]
    return " ".join(f"{x},{y}" for x, y in corners)


TRAPEZOIDS = [text for text in map(_random_trapezoid, range(14)) if find_slants(read(text), SEAM, STEP, True)]


@pytest.mark.parametrize("corners", [*SHAPES, *TRAPEZOIDS])
def test_every_piece_of_a_row_is_whole_and_none_lies_over_another(corners: str) -> None:
    slants, piece = slants_of(corners), draw_piece(corners)
    for many in (2, 5):
        regions = draw_regions(slants, many)
        assert all(does_hold(region, piece) for region in regions)
        for number, one in enumerate(regions):
            assert all(one.intersection(other).area < 1e-9 for other in regions[number + 1 :])
        reach = max(region.bounds[2] for region in regions) - min(region.bounds[0] for region in regions)
        assert 0 <= float(measure_row(slants, many)) - reach < float(STEP) + 1e-9
        assert many * piece.area <= float(measure_row(slants, many) * slants.high)


@pytest.mark.parametrize("corners", [*SHAPES, *TRAPEZOIDS])
def test_no_row_is_longer_than_pieces_that_are_pushed_together(corners: str) -> None:
    """As the checker lays them, which knows nothing of cuts; what a ruler's lines round up is all that is more."""
    slants = slants_of(corners)
    entry = {"corners": [[str(x), str(y)] for x, y in size_other(read(corners), SEAM).corners]}
    for many in (2, 3, 7):
        length = measure_row(slants, many)
        assert why_not_in_row(entry, length, slants.high, many, False) == ""
        steep = 1 + max(map(near, (slants.upper, slants.lower))) / float(slants.high)
        much_less = length - many * STEP * Fraction(4 * steep).limit_denominator(8) - 2 * STEP
        if much_less > 0:
            assert why_not_in_row(entry, much_less - slants.measured / 2, slants.high, many, False) != ""


def test_the_pitch_is_the_middle_line() -> None:
    for corners in SHAPES:
        slants = slants_of(corners)
        middle = slants.pair / 2
        for many in (4, 5, 6):
            more = near(measure_row(slants, many + 2)) - near(measure_row(slants, many))
            assert abs(more - 2 * near(middle)) <= float(STEP)


def test_diamonds_are_cut_as_makers_cut_them() -> None:
    """A strip as wide as the diamond, and the same again from cut to cut: the ruler's 45 degree line."""
    slants = slants_of(DIAMOND_45)
    # Finished 3 along its sides: 3 / sqrt(2) and two allowances are 2.621
    assert (slants.noun, slants.high, slants.measured) == ("diamond", Fraction(21, 8), Fraction(21, 8))
    assert find_angle(slants) == (45, 45)
    assert fill_row(slants, Fraction(40)) == 10
    # In boxes 6 3/8 wide six of them
    assert measure_row(slants, 10) <= 40 < measure_row(slants, 11)


def test_triangles_of_60_degrees_take_three_allowances_of_height() -> None:
    """Finished 4 along its sides: 2 sqrt(3) and 3/4, and of the strip 4 7/8 for two of them."""
    slants = slants_of(TRIANGLE_60)
    assert (slants.noun, slants.high) == ("triangle", Fraction(17, 4))
    assert find_angle(slants) == (60, 60)
    assert fill_row(slants, Fraction(40)) == 15


def test_right_triangles_lie_in_pairs_that_end_straight() -> None:
    slants = slants_of(RIGHT_TRIANGLE)
    cuts = list_cuts(slants, 4)
    assert set(cuts[0]) == {0}
    assert set(cuts[-1]) == {2 * slants.pair}


@pytest.mark.parametrize("corners", [HEXAGON, KITE, "0,0 3,0 3,2 0,2", "0,0 4,1 5,5 1,4"])
def test_what_no_straight_cut_parts_stays_in_boxes(corners: str) -> None:
    assert find_slants(read(corners), SEAM, STEP, True) is None


def test_a_print_is_never_turned() -> None:
    assert find_slants(read(TRIANGLE_60), SEAM, STEP, False) is None
    assert find_slants(read(LEANING), SEAM, STEP, False) is None
    diamond = slants_of(DIAMOND_60, may_turn=False)
    assert not diamond.alternates
    assert not diamond.is_turned


@cache
def plan_rooted(name: str, change: tuple[str, str] = ("", "")) -> Plan:
    return plan_text((ROOTED / f"{name}.yaml").read_text("utf-8").replace(*change))


@pytest.mark.parametrize(
    ("name", "change", "fabric"),
    [
        ("eight_points", ("count: 4", "count: 6"), "navy"),
        ("triangles", ("count: 2", "count: 12"), "shell"),
        ("diamonds", ("diamonds, count: 4", "diamonds, count: 20"), "coral"),  # at 60 degrees
    ],
)
def test_rows_take_less_cloth_than_boxes(name: str, change: tuple[str, str], fabric: str) -> None:
    plan = plan_rooted(name, change)
    cloth = next(one for one in lay(plan).fabrics if one.fabric.name == fabric)
    boxes = lay_out_fabric(cloth.fabric, [one for one in change_rectangles(plan, ()) if one.fabric == fabric])
    assert cloth.length <= boxes.length * Fraction(4, 5)
    assert cloth.at_least <= cloth.length
    assert any(one.is_row for one in cloth.rectangles)
    # All of the pieces, and no more
    wanted = sum(entry.count for entry in plan.cut if entry.fabric == fabric and entry.piece.shape == "other")
    got = sum(one.count * one.makes for one in cloth.rectangles if one.is_row or one.what.startswith("box"))
    assert got == wanted
    area = sum(entry.count * Polygon(entry.piece.corners).area for entry in plan.cut if entry.fabric == fabric)
    assert area <= cloth.length * cloth.fabric.usable


@pytest.mark.parametrize("name", ["diamonds", "eight_points", "on_point", "spun_square", "triangles"])
def test_rows_are_right_by_the_checker(name: str) -> None:
    plan = plan_rooted(name)
    assert why_not_laid(json.loads(write_cloth(lay(plan))), print_out(plan)) == ()


def test_rows_are_as_long_as_the_stock_where_that_saves() -> None:
    plan = plan_rooted("eight_points", ("navy: {value: dark}", "navy: {value: dark, stock: [18 x 21]}"))
    navy = lay(plan).fabrics[0]
    assert navy.length < Fraction(21, 4)
    assert any(piece.strips for piece in navy.stock)


def test_the_longest_rows_that_fit_come_first_and_one_piece_stays_in_its_box() -> None:
    box = Rectangle("navy", Fraction(51, 8), Fraction(21, 8), True, 21, 1, "box", ("pile",), slants_of(DIAMOND_45))
    rows = lay_in_rows([box], Fraction(40))
    assert [(row.count, row.makes, row.may_turn) for row in rows] == [(2, 10, False), (1, 1, True)]
    assert rows[0].what == "strip of 10 diamonds 2 5/8"
    assert lay_in_rows([box._replace(slants=None)], Fraction(40)) == (box._replace(slants=None),)


def _tell_more(placed: Any) -> None:
    placed["makes"] += 1


def _cut_shorter(placed: Any) -> None:
    placed["w"] = "20"


def _cut_lower(placed: Any) -> None:
    placed["h"] = "2 1/2"


def _tell_other_entry(placed: Any) -> None:
    placed["entry"] = 1


@pytest.mark.parametrize(
    ("break_it", "words"),
    [
        (_tell_more, "11 pieces take"),
        (_tell_more, "are needed, and"),
        (_cut_shorter, "10 pieces take"),
        (_cut_lower, "a piece is higher than"),
        (_tell_other_entry, "is for no slanted piece of it"),
    ],
)
def test_a_row_that_is_falsified_is_found(break_it: Any, words: str) -> None:
    plan = plan_rooted("eight_points")
    cloth, printed = deepcopy(json.loads(write_cloth(lay(plan)))), print_out(plan)
    break_it(cloth["fabrics"][0]["placed"][0])
    found = why_not_laid(cloth, printed)
    assert any(words in one for one in found), found


def test_the_sheet_says_how_a_strip_is_parted() -> None:
    plan = plan_rooted("eight_points")
    cloth = lay(plan)
    words = print_sheet(write_sheet(plan, (cloth, ())))
    assert "Cut the left end at 45 degrees, its lower end to the right; then every 2 5/8, measured square to" in words
    assert "1 strip of 10 diamonds, 2 5/8 wide, 39 3/4 long" in words
    plan = plan_rooted("triangles")
    words = print_sheet(write_sheet(plan, (lay(plan), ())))
    assert "Cut the left end at 60 degrees, its lower end to the right; from there 4 15/16 along the upper" in words
    assert "one layer at a time: of two layers that face each other half come out mirrored" in words


def test_the_picture_shows_the_slanting_cuts() -> None:
    cloth = lay(plan_rooted("eight_points"))
    colours = {one.fabric.name: draw_cloth.Cloth("#446688", "#ffffff") for one in cloth.fabrics}
    # 10 and 6 diamonds of both fabrics
    assert draw_layout_svg(cloth, colours).count("<line") == 2 * (11 + 7)


def test_a_ruler_in_centimetres_has_its_own_lines() -> None:
    slants = find_slants(read(DIAMOND_60), Fraction(1, 4), Ruler("cm").step, True)
    assert slants is not None
    assert (slants.measured / Ruler("cm").step).denominator == 1
