"""A project that changes while its strips are cut: what is cut up is no strip any more, and what is left serves."""

from __future__ import annotations

import json
from fractions import Fraction

from planned import plan_text

from planner.cloth.used_strips import read_spelled
from planner.event import Event
from planner.session import Session, count_one, finish_step, fold, spoil, take_back
from planner.sheet import CutWork, Sheet, StripWork, write_sheet

FEW, MANY = 6, 10
SQUARES = """
project: Tidewater squares
fabrics: {{shell: {{value: light, width: 44}}, slate: {{value: dark, width: 44}}}}
blocks: {{pair: {{size: 10 x 5, rows: [[shell, slate]]}}}}
make: [{{block: pair, count: {0}}}]
"""
BARS = """
project: Tidewater bars
fabrics: {{slate: {{value: dark, width: 44}}}}
blocks: {{bar: {{size: {0} x 4, rows: [[slate]]}}}}
make: [{{block: bar, count: 4}}]
"""


def sheet_with(text: str, *values: object) -> Sheet:
    return write_sheet(plan_text(text.format(*values)))


def cut(sheet: Sheet, squares: int) -> list[Event]:
    """The log of a bench at which all strips of the first fabric are cut, and so many pieces across them."""
    session, log = fold((), sheet), []
    while session.step is not None and not isinstance(session.step.work, CutWork):
        event = finish_step(session, 1)
        assert event is not None
        log.append(event)
        session = session.after(event)
    for _ in range(squares):
        event = count_one(session, 1)
        assert event is not None
        log.append(event)
        session = session.after(event)
    return log


def count_strips(session: Session) -> dict[tuple[str, Fraction], tuple[int, int]]:
    """How many are done and how many there are, by fabric and width."""
    return {
        (step.work.cut.fabric, step.work.cut.wide): (session.done_of(step), session.total_of(step))
        for step in session.sheet.steps
        if isinstance(step.work, StripWork)
    }


def forget_layout(log: list[Event]) -> list[Event]:
    """The same log from a program that did not note how the strips lay."""
    return [event._replace(body="") if '"laid"' in event.body else event for event in log]


SHELL = ("shell", Fraction(11, 2))


def test_a_strip_that_was_never_cut_is_asked_for_though_its_pile_is_begun() -> None:
    log = cut(sheet_with(SQUARES, FEW), 3)
    for events in (log, forget_layout(log)):
        session = fold(events, sheet_with(SQUARES, MANY))
        assert count_strips(session)[SHELL] == (1, 2)
        assert session.step is not None
        assert session.step.name == "strip 11/2 shell", "before more of its pile is cut"
        session = fold(events, sheet_with(SQUARES, FEW))
        assert count_strips(session)[SHELL] == (1, 1), "nothing has changed"


def test_strips_that_are_cut_up_are_no_strips_any_more() -> None:
    log = cut(sheet_with(BARS, 36), 4)
    for events in (log, forget_layout(log)):
        session = fold(events, sheet_with(BARS, 36))
        assert set(count_strips(session).values()) == {(4, 4)}
        assert session.lying_strips == []
    session = fold(log, sheet_with(BARS, 23))  # another pile: the old one is known to the log alone
    assert set(count_strips(session).values()) == {(0, 4)}
    assert session.lying_strips == []
    assert session.spare_strips == {}


def test_what_is_left_of_a_strip_serves_where_it_is_long_enough() -> None:
    text = BARS.replace("4}}]", "4}}, {{block: cut, count: 4}}]").replace(
        "}}\nmake", ", cut: {{size: 4 x 4, rows: [[slate]]}}}}\nmake"
    )
    log = cut(sheet_with(BARS, 36), 4)
    session = fold(log, sheet_with(text, 36))
    # 42 in less 36 1/2: each rest gives a square of 4 1/2
    assert set(count_strips(session).values()) == {(4, 4)}
    assert [many for _, many in session.lying_strips] == [4]


def test_the_first_cut_after_a_change_notes_it_and_the_strips_are_counted_on_from_there() -> None:
    sheet = sheet_with(BARS, 23)
    session = fold(cut(sheet_with(BARS, 36), 4), sheet)
    first = session
    for number in range(1, 5):
        event = count_one(session, 2)
        assert event is not None
        assert ('"laid"' in event.body) == (number == 1)
        session = session.after(event)
        assert set(count_strips(session).values()) == {(number, 4)}
    for _ in range(4):
        back = take_back(session, 3)
        assert back is not None
        session = session.after(back)
    assert count_strips(session) == count_strips(first)


def test_a_changed_project_comes_to_its_end_and_asks_for_no_strip_while_pieces_are_cut() -> None:
    for text, few, many in ((SQUARES, FEW, MANY), (SQUARES, MANY, FEW), (BARS, 36, 23), (BARS, 23, 36)):
        for squares in (0, 1, 3):
            session = fold(cut(sheet_with(text, few), squares), sheet_with(text, many))
            strips_left = [0]
            while (event := finish_step(session, 4)) is not None:
                session = session.after(event)
                work = None if session.step is None else session.step.work
                fabrics = [work.entry.fabric] if isinstance(work, CutWork) else []
                strips_left = [
                    total - done for (name, _), (done, total) in count_strips(session).items() if name in fabrics
                ]
                assert not any(strips_left)
            assert session.totals[0] == session.totals[1]


def test_a_ruined_strip_is_one_more_also_after_a_change() -> None:
    session = fold(cut(sheet_with(BARS, 36), 4), sheet_with(BARS, 23))
    event = spoil(session, 2, counted=False)
    assert event is not None
    session = session.after(event)
    assert set(count_strips(session).values()) == {(1, 5)}


def test_a_note_that_cannot_be_read_is_as_none() -> None:
    log = cut(sheet_with(SQUARES, FEW), 3)
    odd: tuple[dict[str, object], ...] = (
        {},
        {"layout": 3},
        {"layout": {"strips": [[1]]}, "free": {}, "spare": {}},
        {"free": [], "spare": None},
    )
    for laid in odd:
        body = json.dumps({"laid": {"shell": laid}})
        events = [event._replace(body=body) if '"laid"' in event.body else event for event in log]
        assert count_strips(fold(events, sheet_with(SQUARES, MANY)))[SHELL] == (1, 2)


def test_the_layout_in_the_log_is_read_as_it_was_written() -> None:
    for layout, spelled in sheet_with(SQUARES, MANY).strip_layouts.values():
        assert read_spelled(json.loads(json.dumps(spelled))) == layout
