"""The commands that answer and end: sheet, check and so on. Answers go to stdout, faults and trouble to stderr."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable

from planner.plan_json import write_plan
from planner.print_sheet import print_as_sewn, print_sheet
from planner.say_now import say_now
from planner.say_step import Speaker
from planner.session import Session
from planner.sheet import assign_letters, write_sheet
from planner.summarise import summarise
from planner.tally import count_up, find_made
from tui.find_strays import hint_at_strays
from tui.load import load_plan
from tui.spell_path import spell_path

FAULT, COULD_NOT = 2, 1


def answer_sheet(file: str, as_json: bool, as_sewn: bool) -> int:
    """Print the run sheet, or the plan as JSON, or the sheet as the bench has it."""
    if as_sewn:
        session = _load_session(file)
        if isinstance(session, int):
            return session
        sys.stdout.write(print_as_sewn(session))
        return 0
    plan = load_plan(file)
    if plan is None:
        return FAULT
    sys.stdout.write(write_plan(plan) if as_json else print_sheet(write_sheet(plan)))
    return 0


def answer_check(files: list[str]) -> int:
    """Print faults, or a summary of each file; the worst status of all."""
    status = 0
    for number, file in enumerate(files):
        plan = load_plan(file)
        if plan is None:
            status = FAULT
            continue
        if len(files) > 1:
            print(("\n" if number else "") + spell_path(file))
        for line in summarise(plan):
            print(line)
    return status


def answer_where(file: str, as_json: bool) -> int:
    """Print how far the work is."""
    session = _load_session(file)
    if isinstance(session, int):
        return session
    done, total = session.totals
    step = session.step
    words = None
    if step is not None:
        speaker = _speak(session)
        said = say_now(session, speaker, step)
        words = f"{said.verb.capitalize()} {said.what}"
    if as_json:
        print(json.dumps({"done": done, "total": total, "next": words}, ensure_ascii=False))
    elif step is None:
        print(f"{done} of {total}. All is done.")
    else:
        at = f"{session.done_of(step)} of {session.total_of(step)}"
        in_pass = f" in pass {step.pass_number} of {session.sheet.passes}" if step.pass_number else ""
        print(f"{done} of {total}. Next{in_pass}: {words} ({at}).")
    return 0


def answer_order(file: str, as_json: bool) -> int:
    """Print what other orders of sewing would take."""
    from planner.compare_orders import compare_orders
    from planner.print_orders import describe_orders, print_orders

    plan = load_plan(file)
    if plan is None:
        return FAULT
    orders = compare_orders(plan)
    _print(describe_orders(orders) if as_json else print_orders(plan, orders))
    return 0


def answer_press(file: str, as_json: bool) -> int:
    """Print what there is to say of the pressing."""
    from planner.explain_pressing import explain_pressing
    from planner.print_pressing import describe_pressing, print_pressing

    plan = load_plan(file)
    if plan is None:
        return FAULT
    told = explain_pressing(plan)
    _print(describe_pressing(plan, told) if as_json else print_pressing(plan, told))
    return 0


def answer_beds(file: str, as_json: bool) -> int:
    """Print how many blocks of this project a bed of each size takes."""
    from planner.cloth.print_finish import describe_beds, print_beds

    plan = load_plan(file)
    if plan is None:
        return FAULT
    _print(describe_beds(plan) if as_json else print_beds(plan))
    return 0


def _print(answer: dict[str, object] | Iterable[str]) -> None:
    """An object in one line, or lines."""
    if isinstance(answer, dict):
        print(json.dumps(answer, ensure_ascii=False))
        return
    for line in answer:
        print(line)


def _load_session(file: str) -> Session | int:
    """The session of a project as the log has it, or the exit status after trouble has been told."""
    from tui.progress import ProgressTrouble, read_events

    try:
        events, said = read_events(file)
    except ProgressTrouble as trouble:
        if load_plan(file) is None:  # a fault of the project comes first
            return FAULT
        print(f"seamrun: {trouble.words}", file=sys.stderr)
        return COULD_NOT
    tally = count_up(events)
    plan = load_plan(file, find_made(tally))
    if plan is None:
        return FAULT
    for words in said if tally.last_at else (*said, *hint_at_strays(file)):
        print(f"seamrun: {words}", file=sys.stderr)
    return Session(write_sheet(plan), tally)


def _speak(session: Session) -> Speaker:
    return Speaker(session.sheet, assign_letters(session.sheet, session.tally.letters))
