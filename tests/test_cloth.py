"""The layout of the cloth: all pieces there, cut from edge to edge, as short as can be; what is bought."""

from __future__ import annotations

import csv
import json
import random
import xml.etree.ElementTree as ET
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from layouts import draw_rectangles, lay, lay_sample, make_fabric
from planned import SAMPLES, plan_sample, plan_text, print_out

from planner.checks.check_cloth import why_not_laid
from planner.cloth.buy import buy_length
from planner.cloth.cloth import Cloth, lay_out_fabric, work_out_cloth
from planner.cloth.cloth_csv import write_csv
from planner.cloth.cloth_json import write_cloth
from planner.cloth.draw_layout import draw_layout
from planner.cloth.draw_layout_svg import draw_layout_svg
from planner.cloth.print_cloth import print_cloth
from planner.cloth.rectangles import Rectangle
from planner.pictures import draw_cloth
from planner.plan import Plan

WAVE = """
project: Tidewater waves
fabrics: {{navy: {{value: dark{navy}}}, shell: {{value: light{shell}}}}}
blocks: {{wave: {{size: {size}, rows: [[navy, shell]]}}}}
make: [{{block: wave, count: {count}}}]
"""


@cache
def plan_wave() -> Plan:
    """A plan to be printed with cloth that is laid out apart from it."""
    return plan_text(write_wave())


def write_wave(navy: str = "", shell: str = "", size: str = "12", count: int = 4) -> str:
    return WAVE.format(navy=f", {navy}" if navy else "", shell=f", {shell}" if shell else "", size=size, count=count)


def read_back(cloth: Cloth) -> Any:
    return json.loads(write_cloth(cloth))


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_laid_out_without_fault(name: str) -> None:
    assert why_not_laid(read_back(lay_sample(name)), print_out(plan_sample(name))) == ()


@pytest.mark.parametrize("seed", range(18))
def test_pieces_at_random_are_laid_out_without_fault(seed: int) -> None:
    rectangles = draw_rectangles(seed)
    one = lay_out_fabric(make_fabric(), rectangles)
    assert why_not_laid(read_back(Cloth(plan_wave(), (one,)))) == ()
    assert one.missing == tuple(each.count for each in rectangles)
    assert one.area <= one.length * 40


def test_a_hundred_times_the_pieces_are_no_more_kinds_of_strip() -> None:
    few, many = (lay(plan_text(write_wave(count=count))).fabrics[0] for count in (10, 1000))
    assert len(many.strips) <= len(few.strips) + 1
    assert many.length <= many.at_least * Fraction(101, 100)


def test_what_is_bought_has_the_end_the_margin_and_the_shrinkage_in_it() -> None:
    bought = buy_length(Fraction(72), Fraction(3), Fraction(5, 100))
    assert (bought.end, bought.margin, bought.raw) == (1, 3, 80)
    assert (bought.buy.yards, bought.buy.metres) == (Fraction(9, 4), Fraction(21, 10))


def test_cloth_that_is_washed_is_bought_as_long_as_it_is_used() -> None:
    one = lay(plan_text(write_wave(navy="shrinkage: 0"))).fabrics[0]
    assert one.bought.raw == one.length + 1 + Fraction(25, 2)  # the widest strip again


def test_cloth_that_shrinks_across_is_used_as_narrow_as_it_becomes() -> None:
    """Seven pieces of 6 1/2 need 45 1/2: of 50 in, 2 of them selvages, they lie in a row, unless 6 % are lost."""
    text = write_wave(navy="width: 50", count=7, size="12 x 6")
    loses = text.replace("width: 50", "width: 50, narrows: 6 %")
    plain, narrow = (read_back(lay(plan_text(one)))["fabrics"][0] for one in (text, loses))
    assert (plain["usable"], narrow["usable"]) == ("48", "45")
    assert (plain["length"], narrow["length"]) == ("6 1/2", "13")
    assert (narrow["width"], narrow["narrows"]) == ("50", "3/50")
    assert "narrows" not in plain
    assert why_not_laid({"fabrics": [narrow], "methods": []}) == ()
    words = " ".join(print_cloth(lay(plan_text(loses))))
    assert "it loses 3 % of its length and 6 % of its width (narrows) in the wash" in words
    assert "narrows" not in " ".join(print_cloth(lay(plan_text(text))))


def test_a_width_that_would_do_is_told_before_it_shrinks() -> None:
    text = write_wave(navy="width: 20, narrows: 20 %", size="60 x 40")
    (fault,) = work_out_cloth(plan_text(text))[1]
    assert "only 14 in" in fault.words
    assert "at least 40 5/8 in" in fault.words  # 30 1/2 and the selvages: 32 1/2 are 80 % of it


def test_a_piece_wider_than_the_cloth_is_a_fault_that_says_what_would_do() -> None:
    plan = plan_text(write_wave(navy="width: 20", size="60 x 40"))
    cloth, faults = work_out_cloth(plan)
    assert cloth is None
    (fault,) = faults
    assert (fault.line, fault.where) == (3, "fabric navy")
    assert "30 1/2 x 40 1/2 in, and only 18 in" in fault.words or "40 1/2 x 30 1/2 in, and only 18 in" in fault.words
    assert "at least 32 1/2 in" in fault.words


def test_a_print_is_not_turned_to_fit() -> None:
    turned = write_wave(navy="width: 20", size="50 x 12")
    assert work_out_cloth(plan_text(turned))[1] == ()
    (fault,) = work_out_cloth(plan_text(turned.replace("width: 20", "width: 20, directional: true")))[1]
    assert "print upright" in fault.words


def test_a_print_keeps_its_way_on_the_cloth() -> None:
    plan = plan_text(write_wave(navy="directional: true", size="12 x 4"))
    navy, _ = read_back(lay(plan))["fabrics"]
    assert {(one["w"], one["h"]) for one in navy["placed"]} == {("6 1/2", "4 1/2")}


def test_stock_is_cut_first_and_what_is_missing_is_told() -> None:
    plan = plan_text(write_wave(navy="stock: [13 x 13, 2 x 30]", size="12 x 6", count=6))
    told = read_back(lay(plan))
    navy, shell = told["fabrics"]
    assert [len(piece["placed"]) for piece in navy["stock"]] == [4, 0]
    assert navy["missing"] == [{"for": "square 6 1/2", "count": 2}]
    assert len(navy["placed"]) == 2
    assert "stock" not in shell
    assert why_not_laid(told, print_out(plan)) == ()
    assert any("nothing fits on it" in line for line in print_cloth(lay(plan)))


def test_nothing_is_bought_where_the_stock_does() -> None:
    plan = plan_text(write_wave(navy="stock: [30 x 30]", size="12 x 6"))
    told = read_back(lay(plan))
    navy, _ = told["fabrics"]
    assert (navy["length"], navy["buy"], navy["missing"]) == ("0", {"yards": "0", "metres": "0.0"}, [])
    assert why_not_laid(told, print_out(plan)) == ()
    assert any("nothing: all comes out" in line for line in print_cloth(lay(plan)))


def test_a_print_lies_upright_on_a_piece_that_is_cut_along_the_grain() -> None:
    pieces = [Rectangle("navy", Fraction(2), Fraction(9), False, 4, 1, "rectangle 2 x 9")]
    one = lay_out_fabric(make_fabric(stock=((Fraction(8), Fraction(9)), (Fraction(9), Fraction(8)))), pieces)
    told = read_back(Cloth(plan_wave(), (one,)))
    assert why_not_laid(told) == ()
    first, second = told["fabrics"][0]["stock"]
    assert [(placed["w"], placed["h"]) for placed in first["placed"]] == [("2", "9")] * 4
    assert second["placed"] == []


@pytest.mark.parametrize("seed", range(8))
def test_what_is_cut_from_stock_at_random_is_without_fault(seed: int) -> None:
    chance = random.Random(seed)
    stock = tuple((Fraction(chance.randint(8, 80), 4), Fraction(chance.randint(8, 80), 4)) for _ in range(4))
    rectangles = draw_rectangles(seed + 100)
    one = lay_out_fabric(make_fabric(stock=stock), rectangles)
    told = read_back(Cloth(plan_wave(), (one,)))
    assert why_not_laid(told) == ()
    fabric = told["fabrics"][0]
    cut = len(fabric["placed"]) + sum(len(piece["placed"]) for piece in fabric["stock"])
    assert cut == sum(each.count for each in rectangles)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_text_and_the_picture_fit_sixty_columns(name: str) -> None:
    cloth = lay_sample(name)
    for line in (*print_cloth(cloth), *draw_layout(cloth)):
        assert len(line) <= 60
        assert line.isprintable()
        assert line == line.rstrip()


def test_the_text_tells_what_it_assumes() -> None:
    text = " ".join(print_cloth(lay_sample("harbour-stars")))
    for words in ("42 in wide", "40 of it used", "loses 3 %", "cut any one strip", "square the end"):
        assert words in text


def test_strips_are_told_from_the_widest_down_with_the_letters_of_their_piles() -> None:
    lines = list(print_cloth(lay(plan_text(write_wave(size="12 x 6")))))
    start = next(number for number, line in enumerate(lines) if line.startswith("navy: "))
    assert lines[start : start + 3] == [
        "navy: 6 1/2 in long; no layout of this kind is shorter",
        "  1 strip 6 1/2 wide",
        "    4 squares 6 1/2 [A]",
    ]


def test_the_table_has_every_piece_of_the_json() -> None:
    cloth = lay_sample("moorings-lap")
    rows = list(csv.DictReader(write_csv(cloth).splitlines()))
    for fabric in read_back(cloth)["fabrics"]:
        mine = [row for row in rows if row["fabric"] == fabric["id"]]
        assert [(row["yards"], row["metres"]) for row in mine if row["line"] == "buy"] == [
            (fabric["buy"]["yards"], fabric["buy"]["metres"])
        ]
        assert sum(int(row["pieces"]) for row in mine if row["line"] == "cut") == len(fabric["placed"])


def test_the_svg_shows_each_strip_once_with_all_that_lies_in_it() -> None:
    cloth = lay_sample("moorings-lap")
    colours = {one.fabric.name: draw_cloth.Cloth("#223344", "#ffffff") for one in cloth.fabrics}
    root = ET.fromstring(draw_layout_svg(cloth, colours))
    pieces = [rect for rect in root.iter("{http://www.w3.org/2000/svg}rect") if rect.get("fill") == "#223344"]
    assert len(pieces) == sum(run.pieces for one in cloth.fabrics for strip in one.strips for run in strip.runs)


def test_long_strips_are_cut_along_the_selvage_where_the_maker_asks_for_it() -> None:
    text = write_wave(size="60 x 2", count=5)
    along = text.replace("value: dark", "value: dark, lengthwise: true")
    across, lengthwise = (read_back(lay(plan_text(one)))["fabrics"][0] for one in (text, along))
    assert {(one["w"], one["h"]) for one in across["placed"]} == {("30 1/2", "2 1/2")}
    assert {(one["w"], one["h"]) for one in lengthwise["placed"]} == {("2 1/2", "30 1/2")}
    assert (across["length"], lengthwise["length"]) == ("12 1/2", "30 1/2")
    assert any("1 length of 30 1/2, cut along" in line for line in print_cloth(lay(plan_text(along))))
