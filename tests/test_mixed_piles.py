"""Piles of which a part is cut by a quick method and a part patch by patch: tally, words and cloth agree."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from planned import SAMPLES, plan_sample, plan_text

from planner.cloth.choose_methods import change_rectangles, choose_methods
from planner.event import Event
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.project import Methods
from planner.session import Session, count_one, finish_step, fold, spoil
from planner.sheet import CutWork, Sheet, Step, write_sheet

SAILS = """
project: Sails of two kinds
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  sail: {size: 3, rows: [[navy / shell]]}
  flag: {size: 3, rows: [[navy / coral]]}
  rail: {size: 3, rows: [[shell], [navy], [shell]]}
  wide: {size: 3 x 2, rows: [[shell], [navy]]}
make: [{block: sail, count: 21}, {block: flag, count: 5}, {block: rail, count: 17}, {block: wide, count: 3}]
methods:
  triangles: eight at a time
  rows: %s
  units:
    - {block: flag, method: %s}
"""
MIXED = (
    Methods("eight at a time", "two at a time", "four at a time", "strip sets"),
    Methods("eight at a time", geese="stitch and flip"),
)


def plan_sails(flag: str = "one by one", rows: str = "one by one") -> Plan:
    return plan_text(SAILS % (rows, flag))


def cut_steps(sheet: Sheet) -> list[tuple[Step, CutWork]]:
    return [(step, step.work) for step in sheet.steps if isinstance(step.work, CutWork)]


def counts_of(sheet: Sheet, fabric: str) -> list[tuple[int, int]]:
    """Of each cutting step how many are counted, and the patches that come out of each."""
    return [(step.count, work.per) for step, work in cut_steps(sheet) if work.entry.fabric == fabric]


def work_through(sheet: Sheet, session: Session | None = None) -> Session:
    session = session or fold((), sheet)
    while (event := finish_step(session, 0)) is not None:
        session = session.after(event)
    return session


def test_whole_squares_and_those_that_are_halved_are_two_steps() -> None:
    sheet = write_sheet(plan_sails())
    # 21 sails out of 3 squares 7 3/4, 5 flags out of 3 squares 3 7/8; 17 rails and 3 wide ones have equal strips
    assert counts_of(sheet, "navy") == [(3, 8), (3, 2), (20, 1)]
    words = print_sheet(sheet)
    assert "Cut navy for pile A, 3 cuts. 3 squares 7 3/4, left whole (eight at a time)." in words
    assert "Cut navy for pile A, 3 cuts. 3 squares 3 7/8, each cut corner to corner: 5 triangles (one is left" in words
    assert "counted as if" not in words


def test_squares_that_give_equally_many_are_counted_together() -> None:
    plan = plan_sails("two at a time")
    sheet = write_sheet(plan)
    assert counts_of(sheet, "coral") == [(3, 2)]
    assert counts_of(sheet, "navy")[:2] == [(3, 8), (3, 2)]
    methods = replace(plan.project.methods, triangles="two at a time")
    sheet = write_sheet(replace(plan, project=replace(plan.project, methods=methods)))
    assert counts_of(sheet, "navy")[0] == (14, 2)


@pytest.mark.parametrize("flag", ["one by one", "two at a time", "four at a time", "from strips"])
@pytest.mark.parametrize("rows", ["one by one", "strip sets"])
def test_as_much_is_counted_as_is_cut_from_the_cloth(flag: str, rows: str) -> None:
    check_counts(plan_sails(flag, rows))


@pytest.mark.parametrize("methods", MIXED)
@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "lantern-logs"])
def test_so_it_is_in_the_samples(name: str, methods: Methods) -> None:
    plan = plan_sample(name)
    check_counts(replace(plan, project=replace(plan.project, methods=methods)))


def check_counts(plan: Plan) -> None:
    cut: Counter[str] = Counter()
    for one in change_rectangles(plan, choose_methods(plan)):
        if len(one.piles) == 1:
            cut[one.piles[0]] += one.count
    shared = {pile for one in change_rectangles(plan, choose_methods(plan)) if len(one.piles) > 1 for pile in one.piles}
    sheet = write_sheet(plan)
    counted: Counter[str] = Counter()
    pieces: Counter[str] = Counter()
    for step, work in cut_steps(sheet):
        counted[work.pile] += step.count
        pieces[work.pile] += work.entry.count
        assert step.count * work.per >= work.entry.count
    needed = {plan.piles.unit_names[entry.units[0]]: entry.count for entry in plan.cut}
    assert pieces == needed
    assert {pile: many for pile, many in counted.items() if pile not in shared} == {
        pile: many for pile, many in cut.items() if pile not in shared
    }
    assert len(sheet.number_of) == len(sheet.steps)
    session = work_through(sheet)
    assert session.step is None
    assert session.stock.surplus == {}


def _do(session: Session, event: Event | None) -> Session:
    assert event is not None
    return session.after(event)


def find_navy(sheet: Sheet) -> tuple[Step, Step]:
    """The steps at which navy squares are cut to stay whole, and to be halved."""
    whole, halved = (step for step, work in cut_steps(sheet) if work.entry.fabric == "navy" and work.per > 1)
    return whole, halved


def test_a_whole_square_that_is_ruined_is_cut_whole_again() -> None:
    sheet = write_sheet(plan_sails())
    whole, halved = find_navy(sheet)
    session = fold((), sheet)
    while session.step != whole:
        session = _do(session, finish_step(session, 0))
    session = _do(session, count_one(session, 0))
    session = _do(session, spoil(session, 0, counted=True))
    assert (session.total_of(whole), session.total_of(halved)) == (4, 3)
    assert work_through(sheet, session).step is None


def test_a_sail_that_is_ruined_takes_a_triangle_of_a_square_that_is_halved() -> None:
    sheet = write_sheet(plan_sails())
    _, halved = find_navy(sheet)
    session = fold((), sheet)
    while session.step is None or session.step.stage != "sew" or session.step.count != 21:
        session = _do(session, finish_step(session, 0))
    session = _do(session, count_one(session, 0))
    session = _do(session, spoil(session, 0, counted=True))
    work = next(work for step, work in cut_steps(sheet) if step is halved)
    # 5 for flags, the sixth of 3 squares for the sail
    assert (session.stock.pieces_needed(halved, work), session.total_of(halved)) == (6, 3)
    assert work_through(sheet, session).step is None


def test_what_was_cut_one_by_one_is_not_cut_again_by_a_method() -> None:
    plan = plan_sails()
    plain = replace(plan, project=replace(plan.project, methods=Methods()))
    session = fold((), write_sheet(plain))
    while session.step is None or session.step.stage in ("machine", "cut", "lay out"):
        session = _do(session, finish_step(session, 0))
    session = _do(session, finish_step(session, 0))
    moved = Session(write_sheet(plan), session.tally)
    assert work_through(moved.sheet, moved).step is None
