"""The sheet and the bench follow a method that the maker asked for; where none is asked for nothing is changed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from planned import SAMPLES, plan_sample, plan_text, print_out, why_wrong

from planner.cloth.choose_methods import change_rectangles, choose_methods
from planner.event import Event
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.project import Methods
from planner.session import Session, finish_step, fold, spoil
from planner.sheet import CutWork, Sheet, write_sheet

QUICK = (
    Methods("two at a time", "two at a time", "four at a time", "strip sets"),
    Methods("eight at a time", "two at a time", "stitch and flip", "quickest"),
    Methods("from strips", oversize=plan_sample("moorings-lap").project.seam / 2),
)
DIALS = """
project: Dials
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  dial: {size: 6, rows: [[(navy / shell) \\ (shell / navy)]]}
  sail: {size: 3, rows: [[navy / shell]]}
make: [{block: dial, count: 5}, {block: sail, count: 24}]
"""


def ask(plan: Plan, methods: Methods) -> Plan:
    return replace(plan, project=replace(plan.project, methods=methods))


@cache
def sheet_by(name: str, number: int) -> Sheet:
    return write_sheet(ask(plan_sample(name), QUICK[number]))


def work_through(sheet: Sheet) -> Session:
    """Every step as a whole, in the order in which the bench asks for them."""
    session = fold((), sheet)
    while (event := finish_step(session, 0)) is not None:
        session = session.after(event)
    return session


@pytest.mark.parametrize("name", SAMPLES)
def test_the_steps_are_the_same_but_for_cutting_and_what_comes_after_pressing(name: str) -> None:
    plain = write_sheet(plan_sample(name))
    for number in range(len(QUICK)):
        quick = sheet_by(name, number)
        kept, others = (
            [step for step in sheet.steps if step.stage not in ("cut", "trim", "measure")] for sheet in (quick, plain)
        )
        assert kept == others
        ours, theirs = (
            {step.work.pile for step in sheet.steps if isinstance(step.work, CutWork)} for sheet in (quick, plain)
        )
        assert ours == theirs


@pytest.mark.parametrize("name", SAMPLES)
def test_a_plan_says_by_which_method_a_batch_is_sewn_and_is_else_the_same(name: str) -> None:
    plain = print_out(plan_sample(name))
    assert not any("method" in batch for batch in plain["batches"])
    for methods in QUICK:
        plan = ask(plan_sample(name), methods)
        printed = print_out(plan)
        assert name != "tidewater-sampler" or why_wrong(printed) == ()
        named = {batch["id"]: batch.pop("method") for batch in printed["batches"] if "method" in batch}
        assert printed == plain
        for choice in choose_methods(plan):
            if choice.is_quick and choice.chosen is not None:
                assert named[f"B{choice.unit.batch + 1}"] == choice.chosen.method


@pytest.mark.parametrize("name", SAMPLES)
def test_all_that_is_cut_from_the_cloth_is_cut_at_the_bench(name: str) -> None:
    for number in range(len(QUICK)):
        sheet = sheet_by(name, number)
        cloth: Counter[tuple[str, object, object]] = Counter()
        for one in change_rectangles(sheet.plan, choose_methods(sheet.plan)):
            if one.makes and any(word in one.what for word in ("time", "strip", "geese", "flipped")):
                cloth[one.fabric, one.wide, one.high] += one.count
        bench: Counter[tuple[str, object, object]] = Counter()
        for step in sheet.steps:
            if isinstance(step.work, CutWork) and step.work.instead is not None:
                for whole in step.work.instead.wholes:
                    bench[step.work.entry.fabric, whole.rectangle.wide, whole.rectangle.high] += whole.rectangle.count
        assert bench == cloth


@pytest.mark.parametrize("number", range(len(QUICK)))
@pytest.mark.parametrize("name", SAMPLES)
def test_the_whole_work_comes_to_its_end(name: str, number: int) -> None:
    session = work_through(sheet_by(name, number))
    assert session.step is None
    assert session.totals[0] == session.totals[1]
    assert session.stock.surplus == {}


def test_squares_are_counted_as_they_are_cut() -> None:
    sheet = write_sheet(ask(plan_text(DIALS), Methods("eight at a time", "two at a time")))
    counts = {step.work.entry.piece.shape: step.count for step in sheet.steps if isinstance(step.work, CutWork)}
    # 24 triangle squares from 3 squares 7 3/4 of each, 5 hourglasses from 3 squares 7 1/4 of each
    assert counts == {"half-square triangle": 3, "quarter-square triangle": 3}
    words = print_sheet(sheet)
    assert ", 3 cuts. 3 squares 7 3/4, left whole (eight at a time)." in words
    assert "3 squares 7 1/4, left whole (two at a time)" in words
    assert "3 pairs of squares 7 3/4, right sides together: draw both lines from corner to corner" in words
    assert "Pressed, each half square measures 6 7/8" in words
    assert "Cut on the line: 2 of each two half squares" in words


def test_a_method_that_changes_in_the_middle_keeps_what_is_sewn() -> None:
    plan = plan_text(DIALS)
    before, after = (write_sheet(ask(plan, Methods(method))) for method in ("two at a time", "eight at a time"))
    session = fold((), before)
    while session.step is not None and session.step.stage in ("machine", "cut", "lay out"):
        event = finish_step(session, 0)
        assert event is not None
        session = session.after(event)
    assert session.step is not None
    assert session.step.stage == "sew"
    sewn = finish_step(session, 0)
    assert sewn is not None
    moved = Session(after, session.after(sewn).tally)
    assert all(moved.done_of(step) == step.count for step in after.steps if step.name == sewn.step)
    while (event := finish_step(moved, 0)) is not None:
        moved = moved.after(event)
    assert moved.step is None


def test_a_square_that_is_spoiled_is_cut_again() -> None:
    sheet = write_sheet(ask(plan_text(DIALS), Methods("eight at a time")))
    session = fold((), sheet)
    while session.step is not None and not isinstance(session.step.work, CutWork):
        session = session.after(_done(session))
    assert session.step is not None
    number = session.place
    event = spoil(session, 0, counted=False)
    assert event is not None
    session = session.after(event)
    assert session.place == number
    step = session.step
    assert isinstance(step.work, CutWork)
    assert session.left_of(step) == step.count
    while (done := finish_step(session, 0)) is not None:
        session = session.after(done)
    assert session.step is None


def _done(session: Session) -> Event:
    event = finish_step(session, 0)
    assert event is not None
    return event


def test_strips_are_sewn_long_and_cut_across_after_pressing() -> None:
    words = print_sheet(sheet_by("moorings-lap", 0))
    assert "2 strips 3 1/2 wide, 39 long (strip sets)" in words
    assert "Sew strips along their long edges, not patches" in words
    assert "Each set measures 6 1/2 across" in words
    assert "Then square an end and cut the sets across: 20 segments 3 1/2" in words


def test_a_unit_left_large_is_trimmed() -> None:
    plan, oversize = plan_sample("moorings-lap"), QUICK[2].oversize
    words = print_sheet(write_sheet(ask(plan, Methods("two at a time", oversize=oversize))))
    assert "20 squares 4, left whole (two at a time)" in words
    assert " to 3 1/2 x 3 1/2, 40 units. Lay the diagonal of the ruler on the seam" in words
    assert "Lay the diagonal" not in print_sheet(write_sheet(ask(plan, Methods("two at a time"))))
