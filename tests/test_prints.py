"""Prints with a direction: upright in every block and in the quilt, so that what lies otherwise is another unit."""

from __future__ import annotations

import json
import random
import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from typing import Any

import pytest
from drafts import write_project
from drawn_quilts import draw_quilt, write_quilt
from planned import plan_text, print_out, read_text, why_wrong
from points import read_point

from planner.checks import plan_file
from planner.checks.check_batches import why_not_grouped
from planner.checks.check_cut_list import why_not_cut
from planner.event import Event
from planner.pictures.draw_cloth import Cloth
from planner.pictures.draw_svg import draw_block
from planner.plan import Plan, plan_project
from planner.print_sheet import print_sheet
from planner.say_now import say_now
from planner.say_step import Speaker
from planner.session import finish_step, fold, spoil
from planner.sheet import CutWork, assign_letters, write_sheet
from planner.summarise import summarise
from tui.fabric_colours import colour_fabrics

HEAD = """\
project: Tidewater prints
fabrics:
  navy: {value: dark}
  gulls: {value: light, directional: true}
  coral: {value: medium}
blocks:
"""
PINWHEEL = f"""{HEAD}\
  pinwheel: {{size: 12, rows: [[navy \\ gulls, navy / gulls], [gulls / navy, gulls \\ navy]]}}
make: [{{block: pinwheel, count: 2}}]
"""
NINE = "  nine patch: {size: 6, rows: [[gulls, navy, gulls], [navy, coral, navy], [gulls, navy, gulls]]}\n"
FLAG = "  flag: {size: 6, rows: [[navy], [gulls], [coral]]}\n"
SET = f"""{HEAD}{NINE}\
quilt:
  rows:
    - [nine patch, nine patch, nine patch, nine patch]
    - [nine patch, nine patch, nine patch, nine patch]
    - [nine patch, nine patch, nine patch, nine patch]
  joining: rows
"""
ON_POINT = f"""{HEAD}{NINE}{FLAG}\
make: [{{block: flag, count: 1}}]
quilt:
  layout: on point
  setting: gulls
  rows: [[flag, nine patch turn 90], [flag turn 270], [nine patch, flag]]
  border: {{width: 2, fabric: gulls, corners: navy}}
"""

ROUND = f"""{HEAD}\
  round:
    size: 9
    box: 3
    patches:
      - {{fabric: gulls, corners: "0,0 2,0 2,1 0,1"}}
      - {{fabric: coral, corners: "2,0 3,0 3,2 2,2"}}
      - {{fabric: gulls, corners: "1,2 3,2 3,3 1,3"}}
      - {{fabric: navy, corners: "0,1 1,1 1,3 0,3"}}
      - {{fabric: gulls, corners: "1,1 2,1 2,2 1,2"}}
quilt: {{rows: [[round, round turn 90], [round turn 180, round turn 270]]}}
"""
STAR = f"""{HEAD}\
  star: {{size: 6+3r2, ring: {{of: 8, diamonds: [gulls, coral], fill: [navy, gulls]}}}}
make: [{{block: star, count: 1}}]
quilt: {{layout: on point, setting: gulls, rows: [[star, star turn 90]]}}
"""


def without(text: str) -> str:
    return text.replace(", directional: true", "")


@cache
def plan_of(text: str) -> Plan:
    return plan_text(text)


def find(plan: Any, part: str, **wanted: str) -> Any:
    (entry,) = [one for one in plan[part] if all(one[key] == value for key, value in wanted.items())]
    return entry


# --- kinds, told here by turning nothing that holds a print with a direction


def tell_forms(printed: plan_file.Plan) -> dict[str, object]:
    """For each seam what it is: equal where two seams are the same work. Of a quilt on point nothing else is the same
    as what holds prints in it."""
    prints = {fabric["id"] for fabric in printed["fabrics"] if fabric.get("directional")}
    of_block = {block["id"]: block["loose"] for block in printed["blocks"]}
    held: dict[str, tuple[frozenset[Any], frozenset[Any]]] = {}
    for patch in printed["patches"]:
        on_point = printed["project"]["on_point"] and not (patch["block"] and of_block[patch["block"]])
        way = (patch["fabric"] in prints, on_point and (patch["block"] is None or patch["fabric"] in prints))
        corners = frozenset(map(read_point, patch["corners"]))
        held[patch["id"]] = frozenset({(patch["fabric"], way, corners)}), frozenset()
    forms = {}
    for seam in printed["seams"]:
        a, b = held[seam["a"]], held[seam["b"] or ""]
        line = frozenset({read_point(seam["from"]), read_point(seam["to"])})
        held[seam["id"]] = a[0] | b[0], a[1] | b[1] | {line}
        turns = 1 if any(way[0] for _, way, _ in held[seam["id"]][0]) else 4
        forms[seam["id"]] = min((spell_form((a, b), quarters) for quarters in range(turns)), key=repr)
    return forms


def spell_form(sides: tuple[Any, Any], quarters: int) -> object:
    def turn(point: Any) -> Any:
        x, y = point
        for _ in range(quarters):
            x, y = -y, x
        return x, y

    turned = [
        (
            [(fabric, way, [*map(turn, corners)]) for fabric, way, corners in patches],
            [[*map(turn, line)] for line in lines],
        )
        for patches, lines in sides
    ]
    points = [point for patches, _ in turned for _, _, corners in patches for point in corners]
    left, top = min(x for x, _ in points), min(y for _, y in points)

    def lay(corners: Any) -> Any:
        return tuple(sorted((x - left, y - top) for x, y in corners))

    return tuple(
        sorted(
            (
                tuple(sorted((fabric, way, lay(corners)) for fabric, way, corners in patches)),
                tuple(sorted(map(lay, lines))),
            )
            for patches, lines in turned
        )
    )


def assert_grouped(printed: plan_file.Plan) -> None:
    """That the batches hold together what is the same work, and nothing else."""
    forms = tell_forms(printed)
    groups: dict[object, set[str]] = defaultdict(set)
    for seam, form in forms.items():
        groups[form].add(seam)
    assert sorted(sorted(group) for group in groups.values()) == sorted(
        sorted(batch["seams"]) for batch in printed["batches"]
    )


def count_pieces(printed: plan_file.Plan) -> Counter[tuple[str, object]]:
    """The patches of prints with a direction by how they lie, where nothing is on point."""
    prints = {fabric["id"] for fabric in printed["fabrics"] if fabric.get("directional")}
    found: Counter[tuple[str, object]] = Counter()
    for patch in printed["patches"]:
        if patch["fabric"] in prints:
            corners = [read_point(corner) for corner in patch["corners"]]
            left, top = min(x for x, _ in corners), min(y for _, y in corners)
            found[patch["fabric"], tuple(sorted((x - left, y - top) for x, y in corners))] += 1
    return found


def list_entries(printed: plan_file.Plan) -> Iterator[plan_file.PlanCut]:
    prints = {fabric["id"] for fabric in printed["fabrics"] if fabric.get("directional")}
    return (entry for entry in printed["cut"] if entry["fabric"] in prints)


SEEDS = 24


@pytest.mark.parametrize("seed", range(SEEDS))
def test_random_drafts_are_sorted_as_by_turning_nothing_that_is_printed(seed: int) -> None:
    text = write_project(random.Random(seed), most_patches=14, most_blocks=2, most_copies=2, prints=50)
    printed = print_out(plan_text(text))
    assert why_wrong(printed) == ()
    assert_grouped(printed)
    assert sorted(count_pieces(printed).values()) == sorted(entry["count"] for entry in list_entries(printed))


@pytest.mark.parametrize("seed", range(SEEDS))
def test_random_quilts_are_sorted_as_by_turning_nothing_that_is_printed(seed: int) -> None:
    quilt = draw_quilt(random.Random(seed), 3, 2)
    text = write_quilt(quilt, [(quilt.rows[0][0].draft, 1)]).replace("value: light", "value: light, directional: true")
    printed = print_out(plan_text(text))
    assert why_wrong(printed) == ()
    assert_grouped(printed)
    if not quilt.is_on_point:
        assert sorted(count_pieces(printed).values()) == sorted(entry["count"] for entry in list_entries(printed))


def test_some_random_projects_have_prints_and_some_have_none() -> None:
    has_prints = {
        "directional: true" in write_project(random.Random(seed), most_patches=14, prints=50) for seed in range(SEEDS)
    }
    assert has_prints == {True, False}
    assert not any("directional" in write_project(random.Random(seed)) for seed in range(SEEDS))


# --- blocks


def test_the_half_squares_of_a_pinwheel_are_four_kinds() -> None:
    printed, plain = print_out(plan_of(PINWHEEL)), print_out(plan_of(without(PINWHEEL)))
    assert [sum(batch["pass"] == 1 for batch in plan["batches"]) for plan in (printed, plain)] == [4, 1]
    assert why_wrong(printed) == why_wrong(plain) == ()


def test_the_checker_wants_them_apart_only_where_their_print_has_a_direction() -> None:
    plan: Any = deepcopy(print_out(plan_of(PINWHEEL)))
    del find(plan, "fabrics", id="gulls")["directional"]
    assert why_not_grouped(plan)
    plain: Any = deepcopy(print_out(plan_of(without(PINWHEEL))))
    find(plain, "fabrics", id="gulls")["directional"] = True
    assert why_not_grouped(plain)
    assert why_not_cut(plain)


def test_a_part_that_is_turned_keeps_its_prints_upright() -> None:
    text = f"""{HEAD}\
  flags:
    size: 12
    parts: {{flag: {{rows: [[gulls], [navy]]}}}}
    rows: [[flag, flag turn 90], [flag turn 180, flag turn 270]]
make: [{{block: flags, count: 1}}]
"""
    printed = print_out(plan_of(text))
    assert [(entry["count"], entry["corners"][1]) for entry in list_entries(printed)] == [
        (2, ["3 1/2", "0"]),
        (2, ["6 1/2", "0"]),
    ]
    assert sum(batch["pass"] == 1 for batch in printed["batches"]) == 4
    assert why_wrong(printed) == ()


# --- quilts


def test_a_block_that_looks_the_same_all_round_is_turned_only_without_a_direction() -> None:
    assert plan_of(without(SET)).turned
    plan = plan_of(SET)
    assert plan.turned == {}
    assert why_wrong(print_out(plan)) == ()


def test_prints_stand_upright_in_the_quilt_however_its_blocks_lie() -> None:
    rows = "[[flag, flag turn 90, nine patch], [flag turn 180, flag, nine patch turn 90]]"
    text = f"{HEAD}{FLAG}{NINE}quilt: {{rows: {rows}}}\n"
    plan = plan_of(text)
    quilt = plan.blocks.drafted[-1]
    assert {patch.up for patch in quilt.patches if patch.fabric == "gulls"} == {0}
    assert {patch.up for patch in quilt.patches if patch.fabric != "gulls"} == {-1}
    titles = [block.title for block in plan.blocks.drafted]
    assert titles == ["flag", "flag turn 90", "nine patch", "flag turn 180", "nine patch turn 90", "the quilt"]
    kinds = {block.title: root.unit for block, root in zip(plan.blocks.drafted, plan.units.roots, strict=True)}
    # What looks the same whichever way it lies is the same block again, its prints upright
    assert kinds["nine patch"] == kinds["nine patch turn 90"]
    assert len({kinds["flag"], kinds["flag turn 90"], kinds["flag turn 180"]}) == 3
    assert why_wrong(print_out(plan)) == ()


def test_a_block_without_prints_is_drafted_once_however_it_lies() -> None:
    here = "block: flag, swap: {gulls: coral}"
    text = f"{HEAD}{FLAG}quilt: {{rows: [[{{{here}}}, {{{here}, turn: 90}}]]}}\n"
    plan = plan_of(text)
    assert [block.title for block in plan.blocks.drafted] == ["flag (coral for gulls)", "the quilt"]
    assert "directional" not in json.dumps(print_out(plan))


def test_a_swap_brings_a_print_in() -> None:
    text = f"{HEAD}{FLAG}quilt: {{rows: [[flag, {{block: flag, turn: 180, swap: {{navy: gulls, gulls: coral}}}}]]}}\n"
    plan = plan_of(text)
    assert [block.title for block in plan.blocks.drafted][1] == "flag turn 180 (coral for gulls, gulls for navy)"
    assert why_wrong(print_out(plan)) == ()


def test_a_turned_block_keeps_what_the_maker_keeps() -> None:
    keep = 'press: {keep: [{block: flag, at: "3, 2", toward: down}]}\n'
    plan = plan_of(f"{HEAD}{FLAG}quilt: {{rows: [[flag, flag turn 90]]}}\n{keep}")
    printed = print_out(plan)
    assert sum(seam["why"] == "as you keep it" for seam in printed["seams"]) == 2
    assert why_wrong(printed) == ()


def test_on_point_prints_run_from_corner_to_corner_of_the_blocks() -> None:
    plan = plan_of(ON_POINT)
    quilt = plan.blocks.drafted[-1]
    assert {(patch.up, patch.askew) for patch in quilt.patches if patch.fabric == "gulls"} == {(315, True)}
    assert [block.title for block in plan.blocks.drafted] == [
        "flag",
        "flag on point",
        "nine patch turn 90",
        "flag on point turn 270",
        "nine patch",
        "the quilt",
    ]
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    shapes = Counter((entry["shape"], tuple(entry["cut"])) for entry in list_entries(printed))
    # All four ways of the triangles along the edges and of those in the corners; level and upright border strips; the
    # flag's stripe as it lies loose, and aslant two ways
    assert shapes["quarter-square triangle", ("4 7/8", "9 3/4")] == 4
    assert shapes["half-square triangle", ("5 1/8", "5 1/8")] == 4
    assert shapes["rectangle", ("2 1/2", "6 1/2")] == 3
    assert shapes["square", ("2 1/2", "2 1/2")] == 1


@pytest.mark.parametrize("text", [ROUND, STAR], ids=["round", "star"])
def test_prints_stay_upright_in_what_no_straight_seams_sew(text: str) -> None:
    plan = plan_of(text)
    printed = print_out(plan)
    assert any(seam.get("partial") or seam.get("set_in") for seam in printed["seams"])
    assert why_wrong(printed) == ()
    # A unit lies so that its prints are upright, on point as they are in the quilt
    ups = {plan.units.cuts.shapes[shape].up for unit in plan.units.units for _, _, shape in unit.patches}
    assert ups == ({-1, 0} if text == ROUND else {-1, 0, 315})


# --- the cut list


def test_the_cut_list_has_an_entry_for_each_way_a_piece_lies() -> None:
    corners = [entry["corners"] for entry in list_entries(print_out(plan_of(PINWHEEL)))]
    long = "6 7/8"
    assert corners == [
        [["0", "0"], [long, "0"], ["0", long]],
        [["0", "0"], [long, "0"], [long, long]],
        [["0", "0"], [long, long], ["0", long]],
        [[long, "0"], [long, long], ["0", long]],
    ]


def test_the_checker_tells_pieces_that_lie_otherwise() -> None:
    good = print_out(plan_of(PINWHEEL))
    assert why_not_cut(good) == ()
    turned: Any = deepcopy(good)
    first, second = list(list_entries(turned))[:2]
    first["corners"] = second["corners"]
    assert any("missing" in words for words in why_not_cut(turned))
    fewer: Any = deepcopy(good)
    one, other = list(list_entries(fewer))[:2]
    one["count"], other["count"] = one["count"] + 1, other["count"] - 1
    assert len(why_not_cut(fewer)) == 2
    together: Any = deepcopy(good)
    entries = list(list_entries(together))
    entries[0]["count"] = sum(entry["count"] for entry in entries)
    together["cut"] = [entry for entry in together["cut"] if entry not in entries[1:]]
    assert why_not_cut(together)


def test_a_piece_aslant_of_its_print_is_cut_by_its_outline() -> None:
    text = f"""{HEAD}\
  kite:
    size: 6
    box: 6
    patches:
      - {{fabric: navy, corners: "0,0 3,0 0,3"}}
      - {{fabric: navy, corners: "3,0 6,0 6,3"}}
      - {{fabric: navy, corners: "6,3 6,6 3,6"}}
      - {{fabric: navy, corners: "3,6 0,6 0,3"}}
      - {{fabric: gulls, corners: "3,0 6,3 3,6 0,3"}}
make: [{{block: kite, count: 1}}]
"""
    printed = print_out(plan_of(text))
    (entry,) = list_entries(printed)
    assert (entry["shape"], entry["finished"], entry["cut"]) == ("square", ["3*sqrt(2)"] * 2, ["4 3/4"] * 2)
    # 3 + 1/4 sqrt(2) from the middle to each corner, up to the next 1/64
    assert entry["corners"] == [["3 23/64", "0"], ["6 23/32", "3 23/64"], ["3 23/64", "6 23/32"], ["0", "3 23/64"]]
    assert why_wrong(printed) == ()
    assert "1 square 4 3/4, print from corner to corner" in print_sheet(write_sheet(plan_of(text)))
    loose: Any = deepcopy(printed)
    find(loose, "cut", fabric="gulls")["corners"] = [["0", "0"], ["4 3/4", "0"], ["4 3/4", "4 3/4"], ["0", "4 3/4"]]
    assert why_not_cut(loose)


def cut_words(text: str) -> list[str]:
    sheet = write_sheet(plan_of(text))
    speaker = Speaker(sheet, assign_letters(sheet))
    works = [step.work for step in sheet.steps if isinstance(step.work, CutWork)]
    return [speaker.mat_words(work) for work in works if work.entry.fabric == "gulls"]


def test_triangles_of_one_square_are_cut_together() -> None:
    text = f"""{HEAD}\
  saw:
    size: 9
    rows: [[gulls \\ navy, navy, gulls / navy], [gulls \\ navy, navy \\ gulls, navy], [gulls \\ navy, navy, navy]]
make: [{{block: saw, count: 2}}]
"""
    assert cut_words(text) == [
        "6 squares 3 7/8, print upright, each cut from the upper left to the lower right corner: 6 triangles, "
        "square corner at the lower left",
        "2 squares 3 7/8, print upright, each cut from the lower left to the upper right corner: 2 triangles, "
        "square corner at the upper left",
        "2 triangles, square corner at the upper right: out of the squares for pile C",
    ]
    said = print_sheet(write_sheet(plan_of(text)))
    assert "What else comes out of them: 2 for pile E (square corner at the upper right), 4 left over" in said
    assert "What else comes out of them: 2 left over" in said


def test_the_sheet_says_how_prints_lie() -> None:
    text = f"{HEAD}{FLAG}{NINE}quilt: {{rows: [[flag, flag turn 90], [nine patch, nine patch]]}}\n"
    assert cut_words(text) == [
        "1 rectangle 2 1/2 x 6 1/2, print along the 6 1/2 sides",
        "1 rectangle 2 1/2 x 6 1/2, print along the 2 1/2 sides",
        "8 squares 2 1/2, print upright",
    ]
    said = print_sheet(write_sheet(plan_of(text)))
    assert "Right sides up, prints upright. Sewn units lie all alike" in said
    assert "pin it on, mark at the top of the print" in said
    assert re.search(r"Left \w+ \(mark [a-z ]+\), right \w+: turn", said)
    assert "so the joins nest, and prints stand upright" in said
    assert "1 fabric with a direction, upright in every block: gulls" in summarise(plan_of(text))
    plain = print_sheet(write_sheet(plan_of(without(text))))
    assert "print upright" not in plain
    assert not any("direction" in line for line in summarise(plan_of(without(text))))


def test_the_picture_of_a_turned_block_shows_where_its_prints_point() -> None:
    plan = plan_of(f"{HEAD}{FLAG}quilt: {{rows: [[flag, flag turn 90]]}}\n")
    colours = {name: Cloth(*colour) for name, colour in colour_fabrics(plan.project.fabrics).items()}
    pictures = [draw_block(plan, number, colours) for number in (0, 1)]
    assert ["g↑" in pictures[0], "g←" in pictures[1]] == [True, True]


def test_a_direction_is_in_the_plan_only_where_there_is_one() -> None:
    printed = print_out(plan_of(PINWHEEL))
    assert [fabric.get("directional") for fabric in printed["fabrics"]] == [None, True]
    false = PINWHEEL.replace("directional: true", "directional: false")
    assert print_out(plan_of(false)) == print_out(plan_of(without(PINWHEEL)))


def test_a_step_is_another_once_the_print_has_a_direction() -> None:
    names = [{step.name for step in write_sheet(plan_of(text)).steps} for text in (PINWHEEL, without(PINWHEEL))]
    kept = {name for name in names[0] & names[1] if name.startswith(("cut", "sew"))}
    # Only the navy triangles are what they were
    assert len(kept) == 1


def test_the_same_print_makes_the_same_plan_again() -> None:
    plans = [plan_project(read_text(ON_POINT))[0] for _ in range(2)]
    assert plans[0] is not None
    assert plans[1] is not None
    assert print_out(plans[0]) == print_out(plans[1])


def test_a_triangle_that_is_ruined_takes_one_more_square() -> None:
    sheet = write_sheet(plan_of(PINWHEEL))
    number, step = next(
        (place, one) for place, one in enumerate(sheet.steps) if isinstance(one.work, CutWork) and one.work.lead
    )
    assert isinstance(step.work, CutWork)
    assert (step.count, step.work.per) == (2, 1)
    done = tuple(Event("done", one.name, one.count, "", place) for place, one in enumerate(sheet.steps[:number]))
    session = fold((*done, Event("done", step.name, 1, "", 99)), sheet)
    ruined = spoil(session, 100, counted=True)
    assert ruined is not None
    again = fold((*done, Event("done", step.name, 1, "", 99), ruined), sheet)
    assert again.total_of(step) == 3
    words = say_now(again, Speaker(sheet, assign_letters(sheet)), step)
    assert words.does[0].startswith("2 squares 6 7/8, print upright, each cut from the lower left")


@pytest.mark.parametrize("text", [PINWHEEL, SET, ON_POINT], ids=["pinwheel", "set", "on point"])
def test_every_step_can_be_said_and_done(text: str) -> None:
    sheet = write_sheet(plan_of(text))
    speaker = Speaker(sheet, assign_letters(sheet))
    events: list[Event] = []
    for at in range(len(sheet.steps)):
        session = fold(events, sheet)
        assert session.step is not None
        assert say_now(session, speaker, session.step).does
        event = finish_step(session, at)
        assert event is not None
        events.append(event)
    assert fold(events, sheet).step is None
