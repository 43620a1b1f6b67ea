"""Cutting as a maker works: fabric by fabric the strips, the widest first, then what is cut across them."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from benches import bench_on, done_until, number_of, sheet_of
from planned import SAMPLES, plan_sample, plan_text

from planner.cloth.cloth import work_out_cloth
from planner.cloth.cloth_json import write_cloth
from planner.event import Event
from planner.measure import read_number
from planner.print_sheet import print_as_sewn, print_sheet
from planner.project import Methods
from planner.say_now import say_now
from planner.say_step import Speaker, StepWords, counted
from planner.session import Session, count_one, finish_step, fold, spoil, take_back
from planner.sheet import CutWork, Sheet, Step, StripWork, assign_letters, write_sheet
from planner.summarise import summarise
from tui.bench import Bench
from tui.draw_step import draw_step
from tui.screens.pages import cuts_page, sheet_page
from tui.view_step import KEYS, name_lying

WAVE = """
project: Tidewater waves
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks: {wave: {size: 12 x 6, rows: [[navy, shell]]}}
make: [{block: wave, count: 9}]
"""
SIZES = ((60, 20), (80, 24), (120, 40))


@contextmanager
def bench_at(name: str, number: int, *events: Event) -> Iterator[Bench]:
    """A bench on a sample at a step, with these events besides."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}.yaml"
        with bench_on(file, plan_sample(name), *done_until(sheet_of(name), number), *events) as bench:
            yield bench


def list_cutting(sheet: Sheet) -> list[Step]:
    return [step for step in sheet.steps if step.stage == "cut"]


def list_strips(sheet: Sheet) -> list[tuple[Step, StripWork]]:
    return [(step, step.work) for step in sheet.steps if isinstance(step.work, StripWork)]


def list_piles(sheet: Sheet) -> list[tuple[Step, CutWork]]:
    return [(step, step.work) for step in sheet.steps if isinstance(step.work, CutWork)]


def say_all(sheet: Sheet) -> list[StepWords]:
    speaker = Speaker(sheet, assign_letters(sheet))
    return [speaker.say(step) for step in list_cutting(sheet)]


def go_on(session: Session) -> Session:
    event = finish_step(session, 0)
    assert event is not None
    return session.after(event)


def go_to_cutting(sheet: Sheet) -> Session:
    session = fold((), sheet)
    while session.step is not None and session.step.stage != "cut":
        session = go_on(session)
    return session


def cut_without_strips(sheet: Sheet, share: Fraction = Fraction(1)) -> Session:
    """As a log has it that knows of no strips: that share of every pile is cut, and nothing else is counted but what
    comes before the cutting."""
    piles = [(step, int(step.count * share)) for step, _ in list_piles(sheet)]
    first = [(step, step.count) for step in sheet.steps if step.stage == "machine"]
    return fold([Event("done", step.name, many, "", 1) for step, many in (*first, *piles) if many], sheet)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_strips_of_the_sheet_are_those_of_the_cloth(name: str) -> None:
    cloth, _ = work_out_cloth(plan_sample(name))
    assert cloth is not None
    told = {
        (fabric["id"], read_number(strip["cut"])): strip["count"]
        for fabric in json.loads(write_cloth(cloth))["fabrics"]
        for strip in fabric["strips"]
    }
    assert told
    assert told == {(work.cut.fabric, work.cut.wide): step.count for step, work in list_strips(sheet_of(name))}


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("methods", [Methods(), Methods("two at a time", "two at a time", "four at a time")])
def test_all_pieces_of_the_cross_cuts_come_out_of_the_strips(name: str, methods: Methods) -> None:
    plan = plan_sample(name)
    sheet = write_sheet(replace(plan, project=replace(plan.project, methods=methods)))
    held: Counter[str] = Counter()
    for _, work in list_strips(sheet):
        for strip in work.cut.strips:
            for run in strip.runs:
                for pile in work.cut.cloth.rectangles[run.rectangle].piles:
                    held[pile] += strip.times * run.pieces
    for step, work in list_piles(sheet):
        assert work.sources
        if work.instead is None:
            assert held[work.pile] == step.count == sum(source.count for source in work.sources)
        else:
            assert held[work.pile] >= sum(whole.rectangle.count for whole in work.instead.wholes)


@pytest.mark.parametrize("name", SAMPLES)
def test_each_fabric_is_cut_by_itself_from_the_widest_strip_to_the_narrowest(name: str) -> None:
    sheet = sheet_of(name)
    order = [fabric.name for fabric in sheet.plan.project.fabrics]
    seen: list[tuple[int, bool, Fraction]] = []
    for step in list_cutting(sheet):
        work = step.work
        if isinstance(work, StripWork):
            seen.append((order.index(work.cut.fabric), False, -work.cut.wide))
        elif isinstance(work, CutWork):
            widest = max(source.cut.wide for source in work.sources)
            seen.append((order.index(work.entry.fabric), True, -widest))
    assert seen == sorted(seen)
    assert len({fabric for fabric, is_cut, _ in seen if not is_cut}) == len({fabric for fabric, _, _ in seen})


def test_the_names_and_letters_of_the_piles_are_as_they_were_without_strips() -> None:
    for name in SAMPLES:
        sheet, bare = sheet_of(name), write_sheet(plan_sample(name), (None, ()))
        assert not list_strips(bare)
        assert {step.name for step, _ in list_piles(sheet)} == {step.name for step, _ in list_piles(bare)}
        assert assign_letters(sheet) == assign_letters(bare)


def test_a_strip_says_how_it_is_cut_and_what_it_gives() -> None:
    first, second, *_ = say_all(sheet_of("harbour-stars"))
    assert (first.verb, first.what) == ("CUT", "1 strip of slate 6 1/2 wide")
    assert second.what == "3 strips of slate 3 7/8 wide"
    assert "Wash and press slate, fold it selvage to selvage, two layers at most, and square one end" in first.does
    assert "It gives 4 squares 6 1/2 for A and 3 squares 3 7/8 for B" in first.does
    assert second.does[1:] == ("One gives 9 squares 3 7/8 for B", "Two give each 10 squares 3 7/8 for B")
    assert all("Cut away from yourself, close the blade after every cut" in words.why for words in (first, second))


def test_a_pile_says_from_which_strips_it_is_cut() -> None:
    sheet = sheet_of("harbour-stars")
    does = {words.what: words.does[1] for words in say_all(sheet) if "pile" in words.what}
    assert does["slate for pile A"] == "Out of the strip 6 1/2 wide"
    assert does["slate for pile B"] == (
        "3 out of the strip 6 1/2 wide, cut down to 3 7/8; 29 out of the strips 3 7/8 wide"
    )


def test_a_strip_that_is_one_piece_needs_no_cross_cut() -> None:
    long = "project: T\nfabrics: {navy: {value: dark}}\nblocks: {bar: {size: 30 x 2, rows: [[navy]]}}\n"
    sheet = write_sheet(plan_text(f"{long}make: [{{block: bar, count: 3}}]\n"))
    words = say_all(sheet)
    assert words[0].what == "3 strips of navy 2 1/2 wide"
    assert "Each gives 1 rectangle 2 1/2 x 30 1/2: no cross cut but to its length" in words[0].does
    whole = write_sheet(plan_text(f"{long.replace('30 x 2', '39-1/2 x 2')}make: [{{block: bar, count: 3}}]\n"))
    assert any(line.endswith("it stays whole, no cross cut") for line in say_all(whole)[0].does)


def test_cloth_that_is_for_the_binding_is_left_whole() -> None:
    text = SAMPLES["moorings-lap"].read_text(encoding="utf-8")
    sheet = write_sheet(plan_text(f"{text}\nfinish: {{binding: {{fabric: slate}}}}\n"))
    last = [work.cut for _, work in list_strips(sheet) if work.cut.fabric == "slate"][-1]
    ((what, _),) = last.cloth.more
    assert what == "binding"
    said = [line for words in say_all(sheet) for line in words.does if "binding" in line]
    assert said == [line for line in said if line.startswith("Leave the rest whole: ")]
    assert len(said) == 1


def test_what_is_there_already_is_cut_first_and_told_piece_by_piece() -> None:
    stock = WAVE.replace("navy: {value: dark}", "navy: {value: dark, stock: [14 x 7, 14 x 7, 18 x 21]}")
    sheet = write_sheet(plan_text(stock))
    navy = [(step, work.cut) for step, work in list_strips(sheet) if work.cut.fabric == "navy"]
    assert [cut.piece for _, cut in navy] == [1, 2, 3]
    assert len({step.name for step, _ in navy}) == 3
    assert sum(step.count for step, _ in navy) == 4, "one of each small piece, two along the fat quarter"
    words = say_all(sheet)
    assert words[0].does[0].startswith("From piece 1 that is there, 14 x 7: press it, square an end, cut ")
    pile = next(one for one in words if one.what.startswith("navy for pile"))
    assert "of piece 1" in pile.does[1]
    assert "of piece 3" in pile.does[1]


def test_cloth_that_is_too_narrow_leaves_the_sheet_without_strips_and_says_why() -> None:
    narrow = WAVE.replace("{value: dark}", "{value: dark, width: 10}").replace("12 x 6", "40 x 20")
    sheet = write_sheet(plan_text(narrow))
    assert sheet.cloth is None
    assert not list_strips(sheet)
    told = [line for words in say_all(sheet) for line in words.does if line.startswith("No strips are worked out")]
    (line,) = told
    assert "only 8 in of the cloth's width can be used" in line
    assert [line for line in summarise(sheet.plan) if line.startswith("Too wide to cut, line 3: fabric navy: a piece ")]
    session = fold((), sheet)
    while (event := finish_step(session, 0)) is not None:
        session = session.after(event)
    assert session.step is None


@pytest.mark.parametrize("name", SAMPLES)
def test_a_log_in_which_all_piles_are_cut_asks_for_no_strips(name: str) -> None:
    session = cut_without_strips(sheet_of(name))
    assert session.step is not None
    assert session.step.stage == "lay out"
    assert all(session.left_of(step) == 0 for step, _ in list_strips(sheet_of(name)))


def test_a_log_in_which_one_fabric_is_cut_asks_only_for_strips_of_the_others() -> None:
    sheet = sheet_of("harbour-stars")
    done = [step for step, work in list_piles(sheet) if work.entry.fabric == "slate"]
    session = fold([Event("done", step.name, step.count, "", 1) for step in done], sheet)
    left = {work.cut.fabric: session.left_of(step) for step, work in list_strips(sheet)}
    assert left["slate"] == 0
    assert left["foam"]
    assert left["amber"]


def test_a_strip_from_which_a_piece_is_cut_is_not_asked_for() -> None:
    sheet = sheet_of("harbour-stars")
    (largest,) = [step for step, work in list_piles(sheet) if work.entry.piece.shape == "quarter-square triangle"]
    session = fold([Event("done", largest.name, 3, "", 1)], sheet)
    left = {(work.cut.fabric, work.cut.wide): session.left_of(step) for step, work in list_strips(sheet)}
    assert left["foam", Fraction(29, 4)] == 1, "two of its three strips give 2 and 5 of these squares"
    assert left["foam", Fraction(7, 2)] == 3, (
        "its squares lie beside the large ones too, but those are not cut for them"
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_a_log_in_which_half_is_cut_comes_to_its_end(name: str) -> None:
    sheet = sheet_of(name)
    session = cut_without_strips(sheet, Fraction(1, 2))
    whole = sum(step.count for step, _ in list_strips(sheet))
    assert sum(session.left_of(step) for step, _ in list_strips(sheet)) < whole
    while (event := finish_step(session, 0)) is not None:
        session = session.after(event)
    assert session.totals[0] == session.totals[1]


def test_a_piece_that_is_ruined_later_is_cut_from_the_rest_and_asks_for_no_strips() -> None:
    for session in (cut_without_strips(sheet_of("harbour-stars")), go_to_cutting(sheet_of("harbour-stars"))):
        while session.step is not None and session.step.stage != "sew":
            session = go_on(session)
        event = spoil(session, 0, counted=False)
        assert event is not None
        spoiled = session.after(event)
        sheet = spoiled.sheet
        assert all(spoiled.left_of(step) == 0 for step, _ in list_strips(sheet))
        again = [step for step, _ in list_piles(sheet) if spoiled.left_of(step)]
        assert len(again) == 2
        words = say_now(spoiled, Speaker(sheet, assign_letters(sheet)), again[0])
        assert words.does[1] == "Out of one strip more, 7 1/4 wide: no strip has so much left at its end"


def test_a_strip_that_is_ruined_is_cut_once_more_and_nothing_else() -> None:
    session = go_to_cutting(sheet_of("harbour-stars"))
    session = go_on(session)
    step = session.step
    assert step is not None
    assert isinstance(step.work, StripWork)
    assert step.count == 3
    one = count_one(session, 0)
    assert one is not None
    session = session.after(one)
    before = session.totals[1]
    for counted_already in (False, True):
        event = spoil(session, 0, counted=counted_already)
        assert event is not None
        spoiled = session.after(event)
        assert (spoiled.total_of(step), spoiled.totals[1]) == (4, before + 1)
        assert spoiled.done_of(step) == (1 if counted_already else 2)
        back = take_back(spoiled, 0)
        assert back is not None
        assert spoiled.after(back).total_of(step) == 3
        while spoiled.step == step:
            spoiled = go_on(spoiled)
        assert spoiled.left_of(step) == 0


def test_strips_that_are_cut_lie_on_the_mat_until_they_are_cut_across() -> None:
    session = go_to_cutting(sheet_of("harbour-stars"))
    assert session.lying_strips == []
    one = count_one(go_on(session), 0)
    assert one is not None
    session = go_on(session).after(one)
    assert [(cut.wide, many) for cut, many in session.lying_strips] == [(Fraction(13, 2), 1), (Fraction(31, 8), 1)]
    with bench_at("harbour-stars", 5) as bench:
        assert name_lying(bench)[0][1] == ["1 strip of slate 6 1/2 wide", "3 strips of slate 3 7/8 wide"]
    while session.step is not None and session.step.stage == "cut":
        session = go_on(session)
    assert session.lying_strips == []


def test_strips_that_the_layout_has_no_more_are_told_while_their_fabric_is_still_cut() -> None:
    sheet = sheet_of("harbour-stars")
    gone = Event("done", "strip 9/2 slate", 2, "", 1)
    assert fold([gone], sheet).spare_strips == {"strip 9/2 slate": 2}
    all_cut = cut_without_strips(sheet).after(gone)
    assert all_cut.spare_strips == {}
    with bench_at("harbour-stars", 3, gone) as bench:
        assert any("2 strips of slate 4 1/2 wide cut, more than it needs now" in line for line in bench.notices)


def test_strips_are_counted_as_strips_and_printed_once() -> None:
    sheet = sheet_of("moorings-lap")
    (long, _), *others = list_strips(sheet)
    assert counted(long) == ("length", "lengths")
    assert {counted(step) for step, _ in others} == {("strip", "strips")}
    printed = print_sheet(sheet)
    assert "Cut 4 strips of slate 4 1/2 wide. Across" in printed
    session = go_on(go_to_cutting(sheet))
    assert "[done] Cut 1 length of slate, 26 5/8. " in print_as_sewn(session)


def test_a_strip_stands_on_the_sheet_page_and_in_the_cut_list() -> None:
    with bench_at("harbour-stars", 4) as bench:
        for page in (sheet_page(bench, KEYS), cuts_page(bench, KEYS)):
            assert any("3 strips of slate 3 7/8 wide" in span.text for span in page.lines._lines)


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("size", SIZES)
def test_every_cut_has_a_picture_with_its_grain_that_fits(name: str, size: tuple[int, int]) -> None:
    wide, high = size[0] - 3, size[1] // 3
    with bench_at(name, 0) as bench:
        for number, step in enumerate(bench.sheet.steps):
            if step.stage != "cut":
                continue
            canvas = draw_step(bench, number, wide, high)
            assert canvas is not None, step.name
            assert len(canvas) <= high
            assert all(len(row) <= wide for row in canvas)
            rows = ["".join(cell.text for cell in row) for row in canvas]
            if isinstance(step.work, StripWork):
                assert "grain" in rows[0]
                assert any("┬" in row for row in rows), "the cross cuts"
            elif step.work.per > 1 and "grain" in rows[0]:  # type: ignore[union-attr]
                assert any("╱" in row for row in rows), "the cut from corner to corner"


def test_the_first_cut_is_the_first_strip() -> None:
    sheet = sheet_of("harbour-stars")
    assert isinstance(sheet.steps[number_of(sheet, "cut")].work, StripWork)
