"""Piles and chains against the plan's JSON: what lies together is equal in every respect, and every count comes out."""

from __future__ import annotations

import random
import re
from collections import Counter
from functools import cache
from math import atan2, pi

import pytest
from drafts import write_project
from planned import SAMPLES, draw_project, plan_it, plan_sample, plan_text, print_out
from points import to_float
from press_drafts import write_grids, write_ring
from quilts import QUILTS
from shapely import MultiPoint, unary_union
from unit_forms import (
    Form,
    along,
    draw_patch,
    draw_pile,
    draw_pressed,
    draw_sewn,
    draw_side,
    lie_of,
    read_seams,
    square_to,
)

from planner.cut_prints import size_patch
from planner.name_piles import Chain
from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import BlockWork, CutWork, LayOutWork, SewWork, Sheet, UnitWork, assign_letters, feed_of, write_sheet
from planner.tally import Made

SEEDS = range(16)
NAMES = [
    *SAMPLES,
    *QUILTS,
    *(f"prints {layout}" for layout in ("lap", "on point", "two ways")),
    "bars",
    *(f"seed {seed}" for seed in SEEDS),
    *(f"grids {seed}" for seed in range(12)),
    *(f"ring {seed}" for seed in range(4)),
    *(f"sewn {seed}" for seed in range(14)),
    *(f"halves {seed}" for seed in range(8)),
    *(f"prints {seed}" for seed in range(6)),
]
HALVES_OF = {(0, -1): "upper", (0, 1): "lower", (-1, 0): "left", (1, 0): "right"}
WAYS = ("up", "up and to the right", "to the right", "down and to the right", "down", "down and to the left",
        "to the left", "up and to the left")  # fmt: skip
LEFT_AND_RIGHT = re.compile(
    r"Left (?P<left>\S+?)( \(mark (?P<left_mark>[^)]+)\))?, "
    r"right (?P<right>\S+?)( \(mark (?P<right_mark>[^)]+)\))?: (?P<page>.*), like a page"
)


# Two equal halves, one of them half turned, whose seams meet at three joins
HALVES = """
project: Halves
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
parts:
  half: {rows: [[navy, shell, coral, shell]]}
blocks:
  wave: {size: 12 x 6, rows: [[half], [half turn 180]]}
  waves: {size: 12, rows: [[half], [half turn 180], [half], [half turn 180]]}
  slack: {size: 12 x 6, rows: [[half turn 180], [half]]}
make: [{block: wave, count: 3}, {block: waves, count: 2}, {block: slack, count: 1}]
"""


# A bar looks the same after a half turn, but its last seam lies at one end: once pressed, that can't be seen
BARS = """
project: Bars
fabrics: {navy: {value: dark}, shell: {value: light}}
parts:
  pair: {rows: [[shell, shell]]}
  bar: {rows: [[navy, pair, navy]]}
blocks:
  bars: {size: 6 x 4, rows: [[bar], [bar]]}
make: [{block: bars, count: 1}]
"""


PRINTS = {
    f"prints {layout}": text.replace("value: light", "value: light, directional: true")
    for layout, text in QUILTS.items()
    if layout in ("lap", "on point", "two ways")
}
TEXTS = {**QUILTS, **PRINTS, "bars": BARS}


@cache
def plan_named(name: str) -> Plan:
    if name in SAMPLES:
        return plan_sample(name)
    if name in TEXTS:
        return plan_text(TEXTS[name])
    sort, _, seed = name.partition(" ")
    if sort == "prints":
        return plan_text(write_project(random.Random(int(seed)), 30, 2, 3, prints=50))
    if sort == "seed":
        return plan_it(draw_project(int(seed), 30, 2, 3))
    chance = random.Random(int(seed))
    if sort in ("sewn", "halves"):
        plan = plan_text(write_grids(chance, 60) if sort == "sewn" else HALVES)
        return plan_it(plan.project, sew_anyhow(chance, plan))
    return plan_text(write_grids(chance, 40) if sort == "grids" else write_ring(chance, 1 + int(seed) % 2, 2, 3))


def sew_anyhow(chance: random.Random, plan: Plan) -> Made:
    """Some units of each pile sewn already, their seams pressed any way: so the rest must make do with it."""
    there = {}
    for pile in plan.piles.piles.values():
        if pile.marks:
            marks = "".join(chance.choice("+-") for _ in pile.marks)
            there[plan.piles.unit_names[pile.unit], marks] = chance.randint(1, 3)
    return Made(frozenset(there), there)


@cache
def sheet_named(name: str) -> Sheet:
    return write_sheet(plan_named(name))


def chains_of(sheet: Sheet) -> list[Chain]:
    return [step.work.chain for step in sheet.steps if isinstance(step.work, SewWork)]


@pytest.mark.parametrize("name", NAMES)
def test_one_pile_holds_all_that_is_equal_in_every_press_direction_and_nothing_else(name: str) -> None:
    plan = plan_named(name)
    seen = Counter(seam.pressed.lay() for seam in read_seams(plan, print_out(plan)))
    told: Counter[Form] = Counter()
    pile_of: dict[Form, str] = {}
    for step in sheet_named(name).steps:
        if isinstance(step.work, UnitWork) and step.stage == "press":
            pile = step.work.outcome.pile
            form = draw_pile(plan, pile).lay()
            assert pile_of.setdefault(form, pile) == pile, "equal units in two piles"
            told[form] += step.count
    assert len(set(pile_of.values())) == len(pile_of), "unlike units in one pile"
    assert told == seen


@pytest.mark.parametrize("name", NAMES)
def test_a_chain_joins_what_lies_in_its_two_piles_and_fills_the_piles_it_says(name: str) -> None:
    plan = plan_named(name)
    for chain in chains_of(sheet_named(name)):
        assert chain.pairs == sum(outcome.pairs for outcome in chain.outcomes.values())
        for outcome in chain.outcomes.values():
            assert draw_pressed(plan, chain, outcome) == draw_pile(plan, outcome.pile).place(outcome.turn, (0, 0))


@pytest.mark.parametrize("name", NAMES)
def test_pairs_of_one_chain_are_equal_down_to_where_the_ridges_run(name: str) -> None:
    plan = plan_named(name)
    seen = Counter(seam.sewn.lay() for seam in read_seams(plan, print_out(plan)))
    told = {draw_sewn(plan, chain).lay(): chain.pairs for chain in chains_of(sheet_named(name))}
    assert len(told) == len(chains_of(sheet_named(name)))
    assert told == dict(seen)


@pytest.mark.parametrize("name", NAMES)
def test_every_pile_is_filled_with_just_what_is_taken_from_it(name: str) -> None:
    sheet = sheet_named(name)
    stock: Counter[str] = Counter()
    for step in sheet.steps:
        work = step.work
        if isinstance(work, CutWork):
            stock[work.pile] += work.entry.count
            assert (step.count - 1) * work.per < work.entry.count <= step.count * work.per
        elif isinstance(work, LayOutWork):
            assert len(dict(work.piles)) == len(work.piles) == step.count
            assert all(stock[pile] >= many for pile, many in work.piles)
        elif isinstance(work, SewWork):
            stock[work.chain.a.pile] -= step.count
            stock[work.chain.b.pile] -= step.count
        elif isinstance(work, UnitWork) and step.stage == "press":
            stock[work.outcome.pile] += step.count
        elif isinstance(work, BlockWork):
            stock[work.pile] -= step.count
        assert min(stock.values(), default=0) >= 0, step.name
    assert not any(stock.values())


@pytest.mark.parametrize("name", NAMES)
def test_what_is_laid_out_is_what_the_chains_of_the_pass_take(name: str) -> None:
    sheet = sheet_named(name)
    for step in sheet.steps:
        if isinstance(step.work, LayOutWork):
            taken: Counter[str] = Counter()
            for sewing in sheet.steps:
                if isinstance(sewing.work, SewWork) and sewing.pass_number == step.pass_number:
                    taken.update({sewing.work.chain.a.pile: sewing.count})
                    taken.update({sewing.work.chain.b.pile: sewing.count})
            assert dict(step.work.piles) == taken


@pytest.mark.parametrize("name", NAMES)
def test_every_block_comes_off_its_own_pile(name: str) -> None:
    """So does the quilt; its blocks are joined, not squared up."""
    plan = plan_named(name)
    printed = print_out(plan)
    last = {}
    loose = {block["id"] for block in printed["blocks"] if block["loose"]}
    block_of = {seam["id"]: seam["block"] for seam in printed["seams"]}
    for seam in read_seams(plan, printed):
        block = block_of[seam.name]
        last[block if block in loose else "the quilt"] = seam.pressed
    piles = [step.work.pile for step in sheet_named(name).steps if isinstance(step.work, BlockWork)]
    sewn = [pile for pile in piles if plan.units.units[plan.piles.piles[pile].unit].shape < 0]
    assert {draw_pile(plan, pile).lay() for pile in sewn} == {form.lay() for form in last.values()}


# --- what the words say


@pytest.mark.parametrize("name", NAMES)
def test_the_unit_on_top_lies_to_the_right_of_the_seam_and_the_upper_end_goes_first(name: str) -> None:
    plan = plan_named(name)
    for chain in chains_of(sheet_named(name)):
        feed = feed_of(plan, chain.unit)
        down = along((feed.first, feed.last), True)
        top = square_to(plan.units.units[chain.unit].seam, lie_of(plan, chain, "a" if feed.a_on_top else "b"))
        assert {feed.first, feed.last} == set(plan.units.units[chain.unit].seam)
        assert down[0] * top[1] - down[1] * top[0] < 0, "with the first end up, right is where x would point"


@pytest.mark.parametrize("name", NAMES)
def test_the_ridges_are_told_as_they_run_with_the_first_end_up(name: str) -> None:
    plan, sheet = plan_named(name), sheet_named(name)
    speaker = Speaker(sheet, assign_letters(sheet))
    for chain in chains_of(sheet):
        feed = feed_of(plan, chain.unit)
        up = along((feed.last, feed.first), True)
        top = square_to(plan.units.units[chain.unit].seam, lie_of(plan, chain, "a" if feed.a_on_top else "b"))
        runs = {}
        for meeting in draw_sewn(plan, chain).meetings:
            is_up = {side == top: falls == up for side, falls in meeting.falls}
            runs[meeting.at] = (is_up[True], is_up[False])
        told = speaker.ridges(chain)
        assert {at: (on_top, under) for at, on_top, under in told} == runs
        far = [(at[0] - feed.first[0]) ** 2 + (at[1] - feed.first[1]) ** 2 for at, _, _ in told]
        assert far == sorted(far)


@pytest.mark.parametrize("name", NAMES)
def test_the_marks_of_the_piles_point_where_the_words_say(name: str) -> None:
    plan, sheet = plan_named(name), sheet_named(name)
    letters = assign_letters(sheet)
    speaker = Speaker(sheet, letters)
    cut_forms = draw_outlined(plan)
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        chain = step.work.chain
        feed = feed_of(plan, chain.unit)
        sides = ("b", "a") if feed.a_on_top else ("a", "b")
        words = LEFT_AND_RIGHT.fullmatch(speaker.say(step).does[0])
        assert words is not None, speaker.say(step).does[0]
        low, high = words["left"], words["right"]
        assert words["page"] == ("turn it over onto the left one" if low == high else f"turn {high} over onto {low}")
        for side, letter, mark in zip(sides, (low, high), words.group("left_mark", "right_mark"), strict=True):
            lying = chain.a if side == "a" else chain.b
            assert letter == letters[lying.pile]
            form = cut_forms.get(lying.pile) or draw_pile(plan, lying.pile)
            looks_alike = len({form.place(quarters, (0, 0)) for quarters in range(4)})
            if mark:
                assert lying.pile in cut_forms or plan.units.units[plan.piles.piles[lying.pile].unit].shape < 0
                assert form.place(lying.turn, (0, 0)) == draw_side(plan, chain, side).place(0, (0, 0))
                down = along((feed.first, feed.last), True)
                assert_points(turn_quarters((0, -1), lying.turn), down, WAYS.index(mark))
            elif lying.pile in cut_forms or plan.units.units[plan.piles.piles[lying.pile].unit].shape < 0:
                assert looks_alike == 1, "it may lie any way round"


def draw_outlined(plan: Plan) -> dict[str, Form]:
    """By pile the patches that are cut by outline, or of a print that has a top, each with the mark of its slip up."""
    forms = {}
    for entry in plan.cut:
        if entry.piece.shape == "other" or entry.up >= 0:
            number = entry.units[0]
            (placed,) = plan.units.units[number].patches
            outline = plan.blocks.outline_inches(plan.units.cuts.outline(placed))
            shape = plan.units.cuts.shapes[placed[2]]
            assert shape.up == entry.up
            assert entry.piece == size_patch(outline, plan.project.seam, shape.askew, shape.up)
            forms[plan.piles.unit_names[number]] = draw_patch(plan, number)
    return forms


def test_pieces_that_are_cut_by_outline_have_marks_as_well() -> None:
    plans = [plan_named(name) for name in NAMES]
    assert sum(len(draw_outlined(plan)) for plan in plans) > 50


@pytest.mark.parametrize("name", NAMES)
def test_allowances_fall_in_the_pile_where_the_words_say(name: str) -> None:
    plan, sheet = plan_named(name), sheet_named(name)
    speaker = Speaker(sheet, assign_letters(sheet))
    for step in sheet.steps:
        if isinstance(step.work, UnitWork) and step.stage == "press":
            chain, outcome = step.work.chain, step.work.outcome
            ends = plan.units.units[chain.unit].seam
            falls = square_to(ends, lie_of(plan, chain, "a" if outcome.to_a else "b"))
            eighths, way = speaker.arrow(chain, outcome)
            assert way == WAYS[eighths].replace("to the ", "")
            letter = speaker.letter(outcome.pile)
            what = f"these allowances fall {way}"
            if outcome.is_spun:  # told by the half in which the first end lies: beyond the join they fall the other way
                half = HALVES_OF[turn_quarters(along(ends, False), -outcome.turn)]
                what = f"the allowances of the {half} half fall {way}"
            elif outcome.is_open:
                pile, other = (chain.a, chain.b) if outcome.to_a else (chain.b, chain.a)
                assert pile.pile != other.pile
                what = f"{speaker.letter(pile.pile)} lies {way}"
            assert f"Pin slip {letter} on, its mark up where {what}" in speaker.say(step).does
            assert_points(turn_quarters(falls, -outcome.turn), (0, 1), eighths)


def test_seams_that_are_spun_set_in_or_pressed_open_are_among_them() -> None:
    outcomes = {
        name: [outcome for chain in chains_of(sheet_named(name)) for outcome in chain.outcomes.values()]
        for name in ("slipway-on-point", "kept")
    }
    assert any(outcome.is_spun for outcome in outcomes["slipway-on-point"])
    assert any(outcome.is_open for outcome in outcomes["kept"])
    assert any(seam.get("set_in") for seam in print_out(plan_named("moorings-lap"))["seams"])


def turn_quarters(way: tuple[int, int], quarters: int) -> tuple[int, int]:
    for _ in range(quarters % 4):
        way = (-way[1], way[0])
    return way


def assert_points(way: tuple[int, int], down: tuple[int, int], eighths: int) -> None:
    """That a direction, all turned until `down` points down, points so many eighths clockwise from up; where it lies
    between them, to one of its neighbours."""
    angle = atan2(way[1], way[0]) - atan2(down[1], down[0]) + pi  # clockwise from up, with y down
    off = (angle * 4 / pi - eighths + 4) % 8 - 4
    assert abs(off) < 1e-9 or (abs(off) < 1 and eighths % 2), (way, down, eighths)


@pytest.mark.parametrize("name", [*SAMPLES, *QUILTS])
def test_what_is_no_rectangle_is_measured_over_all_or_along_a_side(name: str) -> None:
    """Also where a mitred border stands out at the corners of what is sewn so far."""
    plan, sheet = plan_named(name), sheet_named(name)
    speaker = Speaker(sheet, assign_letters(sheet))
    for step in sheet.steps:
        if step.stage == "measure" and isinstance(step.work, UnitWork):
            form = draw_pile(plan, step.work.outcome.pile)
            patches = [MultiPoint([tuple(map(to_float, corner)) for corner in patch.corners]).convex_hull
                       for patch in form.patches]  # fmt: skip
            whole = unary_union(patches)
            is_rectangle = whole.area > (1 - 1e-9) * whole.minimum_rotated_rectangle.area
            words = speaker.say(step).in_one_line
            assert (" over all" in words or " along " in words) != is_rectangle, words


# --- letters


@pytest.mark.parametrize("name", NAMES)
def test_no_two_piles_share_a_letter_and_each_pile_that_is_handled_has_one(name: str) -> None:
    sheet = sheet_named(name)
    letters = assign_letters(sheet)
    assert len(set(letters.values())) == len(letters)
    handled = {pile for step in sheet.steps if isinstance(step.work, LayOutWork) for pile, _ in step.work.piles}
    assert handled <= letters.keys()
    assert assign_letters(sheet) == letters


@pytest.mark.parametrize("name", NAMES)
def test_letters_that_were_given_stay_and_are_never_given_again(name: str) -> None:
    sheet = sheet_named(name)
    letters = assign_letters(sheet)
    # known: some of these piles under other letters, and piles that are no more
    chance = random.Random(name)
    kept = {pile: f"K{letter}" for pile, letter in letters.items() if chance.random() < 0.5}
    gone = {"gone 1": "A", "gone 2": "C", "gone 3": "AB"}
    again = assign_letters(sheet, {**gone, **kept})
    assert again.keys() == letters.keys() | gone.keys()
    assert {pile: again[pile] for pile in (*gone, *kept)} == {**gone, **kept}
    assert len(set(again.values())) == len(again)
    assert assign_letters(sheet, again) == again


def test_two_versions_of_a_unit_share_a_letter_and_a_mark_tells_them_apart() -> None:
    found = 0
    for name in NAMES:
        letters = assign_letters(sheet_named(name))
        by_unit: dict[str, list[str]] = {}
        for pile, letter in letters.items():
            by_unit.setdefault(pile.partition(":")[0], []).append(letter)
        for versions in by_unit.values():
            assert len({letter.rstrip("'") for letter in versions}) == 1
            assert sorted(letter.count("'") for letter in versions) == list(range(len(versions)))
            found += len(versions) > 1
    assert found > 5
