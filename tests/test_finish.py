"""What comes after the top: what is pieced covers what is needed, nothing is short, and each choice is taken."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import pairwise, product
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from planned import plan_sample, plan_text, print_out, read_text

from planner.checks.check_cloth import why_not_laid
from planner.cloth.back_from_stock import StockBacking, back_from_stock
from planner.cloth.backing import RUNS, find_backings, find_thrifty, take_least
from planner.cloth.batting import find_batting
from planner.cloth.bed_sizes import BEDS, fill_quilt
from planner.cloth.binding import JOIN_SEAM, BiasBinding, find_bias_binding, find_binding
from planner.cloth.cloth import work_out_cloth
from planner.cloth.cloth_json import write_cloth
from planner.cloth.finish_quilt import Backed, Finished, finish_quilt, lay_pairs, list_kept, list_lengths, measure_top
from planner.cloth.print_cloth import print_cloth
from planner.cloth.print_finish import describe_beds, describe_finish, print_beds, write_finish
from planner.finish import Finish
from planner.plan import Plan

SMALL = """
project: Tidewater lap
fabrics: {navy: {value: dark}, shell: {value: light, shrinkage: 0}, slate: {value: 6, width: 44}}
blocks: {wave: {size: 12, rows: [[navy / shell]]}}
make: [{block: wave, count: 5}]
quilt: {rows: [[wave, wave, wave, wave], [wave, wave, wave, wave], [wave, wave, wave, wave]]}
"""
LOOSE = SMALL[: SMALL.index("quilt:")]
ROOT = Path(__file__).parent.parent


@cache
def plan_small() -> Plan:
    return plan_text(SMALL)


def plan_finish(wanted: str) -> Plan:
    """The small quilt with what is wanted after its top, which has no say in how that is sewn."""
    return replace(plan_small(), project=read_text(f"{SMALL}finish: {wanted}\n"))


sizes = st.integers(8 * 4, 8 * 130).map(lambda eighths: Fraction(eighths, 8))
widths = st.integers(8 * 8, 8 * 110).map(lambda eighths: Fraction(eighths, 8))
seams = st.sampled_from([Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(1)])


@given(sizes, sizes, widths, seams)
def test_every_way_to_piece_a_backing_covers_it_with_the_cloth_it_says(
    wide: Fraction, high: Fraction, usable: Fraction, seam: Fraction
) -> None:
    """Laid out by hand: whole widths, halves and pieces, each seam taking its two allowances."""
    for way in find_backings((wide, high), usable, seam):
        side, along = (wide, high) if way.run == "along" else (high, wide)
        panels = [usable] * way.lengths
        if way.is_split:
            panels = [usable / 2, *panels[1:], usable / 2]
        if way.pieces:
            panels.append(way.strip)
            assert way.pieces * usable - (way.pieces - 1) * 2 * seam >= way.panel, "the strip reaches from end to end"
            assert way.strip <= usable
        assert len(panels) == way.seams + 1
        reach = sum(panels) - way.seams * 2 * seam
        assert reach >= side
        assert (way.wide, way.high) == ((reach, along) if way.run == "along" else (along, reach))
        assert way.cloth == way.lengths * along + way.pieces * way.strip


@given(sizes, sizes, widths, seams)
def test_no_backing_of_whole_lengths_takes_less_cloth_than_the_one_taken(
    wide: Fraction, high: Fraction, usable: Fraction, seam: Fraction
) -> None:
    """Against all numbers of lengths up to 40, both ways."""
    taken = take_least(find_backings((wide, high), usable, seam), None)
    least = min(
        count * panel
        for (side, panel), count in product(((wide, high), (high, wide)), range(1, 41))
        if count * usable - (count - 1) * 2 * seam >= side
    )
    assert taken.cloth == least


@given(sizes, sizes, widths, seams)
def test_less_overhang_is_offered_only_where_it_saves_cloth_and_still_does(
    wide: Fraction, high: Fraction, usable: Fraction, seam: Fraction
) -> None:
    taken = take_least(find_backings((wide + 8, high + 8), usable, seam), None)
    for way, overhang in find_thrifty((wide, high), Fraction(4), usable, seam):
        assert way.cloth < taken.cloth
        assert overhang >= 2
        sides = (way.wide - wide, way.high - high)
        assert sorted(sides) == sorted((2 * overhang, Fraction(8)))


@given(
    sizes, sizes, st.sampled_from([Fraction(9, 4), Fraction(5, 2), Fraction(3)]), st.sampled_from(["slanted", "square"])
)
def test_a_binding_is_as_long_as_needed_and_a_strip_less_would_be_short(
    wide: Fraction, high: Fraction, width: Fraction, join: str
) -> None:
    found = find_binding(
        2 * (wide + high), Fraction(10), width, Fraction(40), "square" if join == "square" else "slanted"
    )
    lost = width if join == "slanted" else 2 * JOIN_SEAM
    assert found.made == found.strips * 40 - found.joins * lost >= 2 * (wide + high) + 10
    assert found.made - 40 + lost < found.length
    assert found.cloth == found.strips * width


@given(sizes, sizes, st.sampled_from([Fraction(2), Fraction(5, 2)]))
def test_a_binding_on_the_bias_is_never_short(wide: Fraction, high: Fraction, width: Fraction) -> None:
    usable = Fraction(40)
    found = find_bias_binding(2 * (wide + high), Fraction(10), width, usable)
    for one, other in ((found.cloth, usable), *(((found.square, found.square),) if found.square else ())):
        # Both seams of the tube take their allowances off the area
        assert one * other - 2 * JOIN_SEAM * (one + other) >= found.length * width


@given(sizes, sizes, st.integers(20, 130))
def test_batting_off_a_roll_covers_what_is_needed_in_the_shorter_way(wide: Fraction, high: Fraction, roll: int) -> None:
    found = find_batting((wide, high), Fraction(4), Fraction(roll))
    assert (found.wide, found.high) == (wide + 8, high + 8)
    side, along = (found.wide, found.high) if found.run == "along" else (found.high, found.wide)
    assert found.lengths * roll >= side > (found.lengths - 1) * roll
    assert found.length == found.lengths * along
    assert found.length <= -(-found.wide // roll) * found.high
    assert found.length <= -(-found.high // roll) * found.wide


@given(sizes, sizes, st.integers(3, 20), st.integers(0, 3))
def test_as_many_blocks_as_fit_and_borders_fill_a_quilt(wide: Fraction, high: Fraction, block: int, strip: int) -> None:
    found = fill_quilt((wide, high), (Fraction(block), Fraction(block)), Fraction(strip))
    for count, size, border, side in zip(
        (found.across, found.down), found.size, found.borders, (wide, high), strict=True
    ):
        assert size == count * block + (count - 1) * strip
        assert size + strip + block > side
        assert size + 2 * border == max(side, size)


def test_pieces_in_pairs_take_the_shorter_of_both_ways() -> None:
    assert lay_pairs((Fraction(16), Fraction(11)), 3, Fraction(40)) == 32  # 3 to a row of 16 high, or 2 of 11: 33
    assert lay_pairs((Fraction(41), Fraction(5)), 1, Fraction(40)) == 41


def test_a_quilt_is_finished_without_a_word_in_the_file() -> None:
    plan = plan_small()
    finished = finish_quilt(plan)
    assert plan.project.finish is None
    assert finished.finish == Finish()
    assert finished.top == (48 + Fraction(1, 2), 36 + Fraction(1, 2))
    assert finished.backing is not None
    # 56 1/2 x 44 1/2 of 40: along two lengths of 44 1/2
    assert (finished.backing.taken.run, finished.backing.taken.cloth) == ("along", 89)
    assert finished.batting is not None
    assert finished.binding is not None
    assert (finished.sleeve, finished.pillows, finished.bed) == (None, (), None)
    assert list_lengths(finished) == ()


def test_loose_blocks_have_thread_and_nothing_else() -> None:
    finished = finish_quilt(plan_text(LOOSE))
    assert (finished.top, finished.backing, finished.batting, finished.binding) == (None, None, None, None)
    assert finished.thread.seams > 0
    assert len([line for line in describe_finish(plan_text(LOOSE)) if not line.startswith(" ")]) == 1


def test_what_is_left_out_is_told_nowhere() -> None:
    plan = plan_finish("{backing: none, batting: none, binding: none}")
    words = "\n".join(describe_finish(plan))
    assert not any(word in words for word in ("Backing", "Batting", "Binding", "To buy"))
    assert write_finish(plan)["backing"] is None


def test_a_named_fabric_is_bought_with_what_its_patches_take() -> None:
    plan = plan_finish("{backing: {fabric: slate}, binding: {fabric: navy}, sleeve: {fabric: shell, depth: 4}}")
    finished = finish_quilt(plan)
    # Slate 42 usable: 2 lengths of 44 1/2; 180 in round are 5 strips; the sleeve is two strips of 9
    assert list_lengths(finished) == (
        ("slate", "backing", 89),
        ("navy", "binding", Fraction(25, 2)),
        ("shell", "hanging sleeve", 18),
    )
    assert plan.project.unused == ()
    assert "buy" not in "\n".join(describe_finish(plan)).replace("To buy", "")


def test_cloth_of_a_width_of_its_own_is_bought_by_itself() -> None:
    plan = plan_finish("{backing: {fabric: shell, width: 108}}")
    finished = finish_quilt(plan)
    assert finished.backing is not None
    assert finished.backing.taken.seams == 0
    # 44 1/2 and 1 in for the end, and shell does not shrink: 45 1/2 in
    assert list_lengths(finished) == ()
    words = " ".join(" ".join(describe_finish(plan)).split())
    assert "44 1/2 of cloth: buy 1 3/8 yd (1.2 m)" in words


def test_a_backing_comes_out_of_what_is_there_where_that_does() -> None:
    """The top is 48 1/2 x 36 1/2, the backing 56 1/2 x 44 1/2."""

    def back(stock: str, more: str = "", fabric: str = "slate") -> tuple[Finished, Backed]:
        text = SMALL.replace("value: 6", f"value: 6, stock: [{stock}]{more}").replace("navy / shell", "navy / slate")
        finished = finish_quilt(plan_text(f"{text}finish: {{backing: {{fabric: {fabric}}}}}\n"))
        assert finished.backing is not None
        return finished, finished.backing

    finished, whole = back("60 x 10, 70 x 60, 57 x 45, 44 x 56")
    assert whole.from_stock is not None
    assert whole.from_stock.taken == ((2, 1, 57),)
    assert (list_lengths(finished), list_kept(finished)) == ((), {"slate": {2: "backing"}})
    # The print stands upright, and the piece is a hair too narrow: two lengths of 44 1/2 out of its 90
    assert back("57 x 44, 56 x 90", ", directional: true")[1].from_stock == StockBacking(
        "along", ((1, 2, Fraction(56)),), Fraction(89, 2), Fraction(111), Fraction(89, 2)
    )
    joined = back("20 x 45, 30 x 46, 27 1/2 x 44 1/2")[1].from_stock
    assert joined is not None
    assert joined.taken == ((1, 1, 30), (2, 1, Fraction(55, 2)))
    assert (joined.wide, joined.high) == (Fraction(113, 2), Fraction(89, 2))
    # A quarter less, and no piece is left over: it is bought
    finished, short = back("30 x 46, 27 1/4 x 44 1/2")
    assert short.from_stock is None
    assert [what for _, what, _ in list_lengths(finished)] == ["backing"]
    # The print stands upright: no piece is turned
    assert back("45 x 57")[1].from_stock is not None
    assert back("45 x 57", ", directional: true")[1].from_stock is None
    assert back("57 x 45", ", directional: true")[1].from_stock is not None
    # Of another fabric, or of cloth of a width of its own, it is bought
    assert back("70 x 70", fabric="navy")[1].from_stock is None
    assert back("70 x 70", fabric="slate, width: 108")[1].from_stock is None


def test_seams_of_a_backing_out_of_what_is_there_lie_as_the_maker_says() -> None:
    need, stock, half = (Fraction(50), Fraction(40)), [(Fraction(30), Fraction(50))] * 2, Fraction(1, 2)
    found = {run: back_from_stock(need, stock, half, run, False) for run in (*RUNS, None)}
    assert found["along"] is not None
    assert found["across"] is not None
    assert (found["along"].wide, found["along"].high) == (59, 40)
    assert (found["across"].wide, found["across"].high) == (50, 59)


@given(sizes, sizes, st.lists(st.tuples(sizes, sizes), max_size=5), seams)
def test_a_backing_out_of_what_is_there_covers_what_is_needed(
    wide: Fraction, high: Fraction, stock: list[tuple[Fraction, Fraction]], seam: Fraction
) -> None:
    found = back_from_stock((wide, high), stock, seam, None, False)
    one_does = any(min(one) >= min(wide, high) and max(one) >= max(wide, high) for one in stock)
    assert not one_does or (found is not None and found.lengths == 1)
    if found is None:
        return
    assert found.wide >= wide
    assert found.high >= high
    reach, panel = (found.wide, found.high) if found.run == "along" else (found.high, found.wide)
    assert reach == sum(many * each for _, many, each in found.taken) - (found.lengths - 1) * 2 * seam
    assert panel == found.panel
    for place, many, each in found.taken:
        assert any(each == across and many * panel <= along for across, along in (stock[place], stock[place][::-1]))


def test_no_patch_is_cut_from_a_piece_that_is_kept_for_the_backing() -> None:
    text = SMALL.replace("value: 6", "value: 6, stock: [60 x 60, 20 x 20]").replace("navy / shell", "navy / slate")
    plan = plan_text(f"{text}finish: {{backing: {{fabric: slate}}}}\n")
    cloth, faults = work_out_cloth(plan)
    assert cloth is not None, faults
    slate = cloth.fabrics[-1]
    assert [(piece.kept_for, bool(piece.strips)) for piece in slate.stock] == [("backing", False), ("", True)]
    told = json.loads(write_cloth(cloth))
    assert why_not_laid(told, print_out(plan)) == ()
    assert told["fabrics"][-1]["stock"][0] == {"size": ["60", "60"], "kept_for": "backing", "placed": []}
    backing = told["finish"]["backing"]
    assert (backing["length"], backing["buy"]) == ("0", None)
    assert backing["from_stock"]["pieces"] == [{"piece": 1, "lengths": 1, "wide": "60"}]
    words = " ".join(" ".join(print_cloth(cloth)).split())
    assert "piece 1 that is there, 60 x 60 in: kept for the backing" in words
    assert "out of the slate that is there, piece 1: 1 length of 44 1/2, no seam" in words
    assert "Or of cloth to buy: 2 lengths of 44 1/2" in words
    assert all(len(line) <= 60 for line in print_cloth(cloth))


def test_wide_cloth_for_the_back_is_as_narrow_as_its_fabric_becomes() -> None:
    text = SMALL.replace("shrinkage: 0}", "shrinkage: 0, narrows: 10 %}")
    backing = finish_quilt(plan_text(f"{text}finish: {{backing: {{fabric: shell, width: 60}}}}\n")).backing
    assert backing is not None
    assert (backing.cloth.sold, backing.cloth.usable) == (60, 52)
    plain = finish_quilt(plan_text(f"{text}finish: {{backing: {{fabric: shell}}}}\n")).backing
    assert plain is not None
    assert (plain.cloth.sold, plain.cloth.usable) == (42, Fraction(179, 5))


def test_pillows_are_made_of_the_loose_blocks_that_there_are() -> None:
    plan = plan_finish("{pillow: {size: 24, fabric: shell}}")
    (cushion,) = finish_quilt(plan).pillows
    assert cushion.top is not None
    assert (cushion.top.blocks, cushion.blocks, cushion.made) == (4, 5, 1)
    assert cushion.top.strips == ()
    # Two halves 24 1/2 x 15 1/4: one above the other, or upright side by side
    assert cushion.length == Fraction(49, 2)
    small = plan_finish("{pillow: {size: 9}}")
    assert finish_quilt(small).pillows[0].top is None
    assert any("larger than that" in line for line in describe_finish(small))


def test_a_bias_binding_is_asked_for() -> None:
    bound = finish_quilt(plan_finish("{binding: {cut: bias}}")).binding
    assert bound is not None
    assert isinstance(bound.strip, BiasBinding)


def test_the_seams_of_a_backing_lie_as_the_maker_says() -> None:
    for run, cloth in (("along", 89), ("across", 113)):
        backed = finish_quilt(plan_finish(f"{{backing: {{run: {run}}}}}")).backing
        assert backed is not None
        assert (backed.taken.run, backed.taken.cloth) == (run, cloth)


def test_a_quilt_that_is_too_small_for_its_bed_is_told_by_how_much() -> None:
    plan = plan_finish("{bed: {mattress: twin}}")
    words = " ".join(" ".join(describe_finish(plan)).split())
    assert "a quilt is 63 x 87" in words
    assert "This quilt: 4 1/2 down at each side, 39 short of the edge at the foot." in words
    assert "5 x 7 = 35; left for borders 1 1/2 at each side, 1 1/2 above and below" in words


def test_a_top_with_a_root_is_rounded_up_to_a_line_of_the_ruler() -> None:
    top = measure_top(plan_sample("slipway-on-point"))
    assert top is not None
    assert all((16 * side).denominator == 1 for side in top)
    # 3 and 4 blocks of 6 on their corners, 2 in of border on every side, allowances
    for side, blocks in zip(sorted(top), (3, 4), strict=True):
        diagonal = side - Fraction(9, 2)
        assert diagonal * diagonal >= 72 * blocks * blocks > (diagonal - Fraction(1, 16)) ** 2


def test_every_line_fits_sixty_columns() -> None:
    plan = plan_sample("slipway-on-point")
    lines = (*describe_finish(plan), *print_beds(plan))
    assert lines
    assert [line for line in lines if len(line) > 60] == []


def test_no_number_is_parted_from_its_fraction() -> None:
    for side in range(40, 60):
        text = SMALL.replace("size: 12", f"size: {side} 3/8 x {side} 5/8")
        lines = describe_finish(plan_text(f"{text}finish: {{bed: {{mattress: twin}}}}\n"))
        broken = [line for line, below in pairwise(lines) if line[-1].isdigit() and re.match(r" *\d+/\d", below)]
        assert broken == []
        assert all(len(line) <= 60 for line in lines)


def test_every_part_fits_sixty_columns_in_centimetres() -> None:
    text = SMALL.replace("project:", "measure: cm\nproject:").replace("size: 12", "size: 30.5")
    plan = plan_text(
        f"{text}finish: {{backing: {{fabric: slate}}, binding: {{cut: bias}}, sleeve: {{depth: 10}}, "
        "pillow: {size: 45}, bed: {mattress: california king, tuck: 5}, batting: {width: 220}}\n"
    )
    lines = (*describe_finish(plan), *print_beds(plan))
    assert [line for line in lines if len(line) > 60] == []
    assert any("m (" in line for line in lines)


def test_the_json_has_what_the_lines_say() -> None:
    plan = plan_finish("{bed: {mattress: queen}, sleeve: {depth: 4}, pillow: {size: 24}}")
    told = json.loads(json.dumps(write_finish(plan)))
    assert told["top"] == ["48 1/2", "36 1/2"]
    assert told["backing"]["length"] == "89"
    assert told["backing"]["buy"] == {"yards": "2 5/8", "metres": "2.4"}  # 90 in, before they shrink by 3 %
    assert told["binding"]["strips"] == 5
    assert told["sleeve"]["cut"] == ["48 1/2", "9"]
    assert told["bed"]["wanted"] == ["84", "92"]
    assert told["thread"]["stitches"] > 0
    beds = describe_beds(plan)["beds"]
    assert isinstance(beds, list)
    assert [bed["bed"] for bed in beds] == [bed.name for bed in BEDS]


@settings(max_examples=20)
@given(sizes)
def test_a_longer_top_never_takes_less_binding(side: Fraction) -> None:
    shorter, longer = (
        find_binding(4 * one, Fraction(10), Fraction(5, 2), Fraction(40), "slanted").cloth for one in (side, side + 1)
    )
    assert shorter <= longer


def test_the_command_lists_beds_as_text_and_as_json(tmp_path: Path) -> None:
    file = tmp_path / "lap.yaml"
    file.write_text(SMALL, encoding="utf-8")
    run = [sys.executable, "-m", "tui", "cloth", str(file), "--beds"]
    ran = subprocess.run(run, capture_output=True, text=True, cwd=ROOT, check=True)
    assert "queen            84 x 92" in ran.stdout
    ran = subprocess.run([*run, "--json"], capture_output=True, text=True, cwd=ROOT, check=True)
    assert json.loads(ran.stdout)["drop"] == "12"
