"""Names of what joins the quilt: no two kinds have one, and each says where in the quilt such a unit is."""

from __future__ import annotations

import random
import re
from functools import cache

import pytest
from drawn_quilts import draw_quilt
from planned import SAMPLES, plan_sample, plan_text
from quilts import QUILTS

from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import LayOutWork, SewWork, assign_letters, write_sheet
from tui.place_quilt import box_of, find_pieces

SEEDS = range(12)
ROWS = re.compile(r"rows? (\d+)(?: to (\d+))?")
COLUMNS = re.compile(r"columns? (\d+)(?: to (\d+))?")


@cache
def plan_of(name: str | int) -> Plan:
    if isinstance(name, int):
        return plan_text(draw_quilt(random.Random(name), 4, 4).text)
    return plan_text(QUILTS[name]) if name in QUILTS else plan_sample(name)


def quilts() -> list[str | int]:
    named = [name for name in (*SAMPLES, *QUILTS) if plan_of(name).blocks.top is not None]
    return [*named, *SEEDS]


def occurrences(plan: Plan) -> dict[int, list[frozenset[int]]]:
    """For each kind of seam that joins the quilt the pieces of the top that each of its units holds."""
    found: dict[int, list[frozenset[int]]] = {}
    for number, seam in enumerate(plan.units.seams[-1]):
        if plan.units.piece_of[1][number] < 0:
            found.setdefault(plan.units.units[seam.unit].kind, []).append(find_pieces(plan, number))
    return found


def name_kinds(plan: Plan) -> dict[int, str]:
    return {plan.units.units[number].kind: name.words for number, name in plan.words.layouts.items()}


@pytest.mark.parametrize("name", quilts())
def test_no_two_kinds_that_join_the_quilt_have_one_name(name: str | int) -> None:
    plan = plan_of(name)
    top = plan.blocks.top
    assert top is not None
    with_blocks = {
        kind for kind, units in occurrences(plan).items() if any(top.pieces[number].block >= 0 for number in units[0])
    }
    names = name_kinds(plan)
    assert with_blocks <= set(names)
    told = [names[kind] for kind in with_blocks]
    assert len(set(told)) == len(told), sorted(told)
    for number, one in plan.words.layouts.items():
        assert one.alike == len(occurrences(plan)[plan.units.units[number].kind])
        assert plan.words.name(number) == one.words + (f", one of {one.alike} alike" if one.alike > 1 else "")


def read_span(found: re.Match[str] | None, last: int) -> set[int]:
    if found is None:
        return set(range(1, last + 1))
    return set(range(int(found[1]), int(found[2] or found[1]) + 1))


@pytest.mark.parametrize("name", quilts())
def test_a_name_says_which_rows_and_columns_and_on_which_sides_sashes_are(name: str | int) -> None:
    plan = plan_of(name)
    top = plan.blocks.top
    assert top is not None
    if top.on_point:
        return
    boxes = {number: box_of(plan, piece) for number, piece in enumerate(top.pieces)}
    blocks = {number for number, piece in enumerate(top.pieces) if piece.block >= 0}
    tops, lefts = (sorted({boxes[number][axis] for number in blocks}) for axis in (1, 0))
    for kind, words in name_kinds(plan).items():
        places = [
            {(tops.index(boxes[number].top) + 1, lefts.index(boxes[number].left) + 1) for number in units & blocks}
            for units in occurrences(plan)[kind]
        ]
        if not places[0]:
            continue
        where = words.partition(" with ")[0]
        rows, columns = read_span(ROWS.search(where), len(tops)), read_span(COLUMNS.search(where), len(lefts))
        told = {(row, column) for row in rows for column in columns}
        assert told in places, words
        if where.startswith("the quilt"):
            assert len(told) == len(blocks)
            continue
        # Whatever lies beyond its blocks is told by its side
        (held,) = {units for units, place in zip(occurrences(plan)[kind], places, strict=True) if place == told}
        inside = [boxes[number] for number in held & blocks]
        beyond = {
            "left": any(boxes[number].left < min(box.left for box in inside) for number in held),
            "right": any(boxes[number].right > max(box.right for box in inside) for number in held),
            "above": any(boxes[number].top < min(box.top for box in inside) for number in held),
            "below": any(boxes[number].bottom > max(box.bottom for box in inside) for number in held),
        }
        around = words.partition(" with ")[2]
        if "border" not in around:
            assert {side for side, is_there in beyond.items() if is_there} == {
                side for side in beyond if re.search(rf"\b{side}\b", around)
            }, words


def test_borders_are_told_by_their_sides_and_whole_ones_by_their_number() -> None:
    plan = plan_of("moorings-lap")
    names = [name.words for name in plan.words.layouts.values() if name.words.startswith("the quilt")]
    sides = r"(left|right|upper|lower)(, (left|right|upper|lower))*( and (left|right|upper|lower))?"
    assert names[0] == "the quilt without borders"
    assert names[-1] == "the quilt"
    first, second = names[1:4], names[5:8]
    assert names[4] == "the quilt with border 1"
    assert all(re.fullmatch(rf"the quilt with {sides} strips? of border 1", name) for name in first), first
    assert all(re.fullmatch(rf"the quilt with border 1 and {sides} strips? of border 2", name) for name in second)
    assert [len(re.findall("left|right|upper|lower", name)) for name in (*first, *second)] == [1, 2, 3] * 2


def test_one_border_has_no_number_on_point_too() -> None:
    names = [name.words for name in plan_of("slipway-on-point").words.layouts.values()]
    whole = [name for name in names if name.startswith("the quilt")]
    assert whole[0] == "the quilt without its border"
    assert re.fullmatch("the quilt with (left|right|upper|lower) border", whole[1])
    assert any(re.fullmatch(r"diagonal rows 1 to 3 from upper right with 7 triangles", name) for name in names), names


def test_a_step_says_the_name_once_and_of_one_unit_no_count() -> None:
    sheet = write_sheet(plan_of("moorings-lap"))
    speaker = Speaker(sheet, assign_letters(sheet))
    told = [speaker.say(step) for step in sheet.steps if isinstance(step.work, SewWork)]
    becomes = [words.why[0] for words in told if ", the quilt with" in words.why[0]]  # with, without
    assert len(becomes) == 8
    assert not any("; for the quilt" in words for words in becomes)
    piles = [
        line
        for step in sheet.steps
        if isinstance(step.work, LayOutWork)
        for line in speaker.say(step).does
        if "the quilt with" in line or "columns" in line
    ]
    assert len(piles) > 10
    assert all(re.match(r"[A-Z]+'*: (\d+ like (nine patch|buoy|row)|the quilt|rows? )", line) for line in piles), piles


def test_the_step_that_first_makes_another_version_says_what_its_mark_means() -> None:
    for name in ("moorings-lap", "two ways"):
        sheet = write_sheet(plan_of(name))
        letters = assign_letters(sheet)
        speaker = Speaker(sheet, letters)
        versions = {pile: letter for pile, letter in letters.items() if "'" in letter}
        assert versions
        told = []
        for step in sheet.steps:
            if isinstance(step.work, SewWork):
                made = [letters[outcome.pile] for outcome in step.work.chain.outcomes.values()]
                for line in speaker.say(step).does:
                    letter, _, meaning = line.partition(" is ")
                    if meaning.startswith(f"{letter.rstrip(chr(39))} pressed another way"):
                        assert letter in made
                        told.append(letter)
        assert sorted(told) == sorted(versions.values())
