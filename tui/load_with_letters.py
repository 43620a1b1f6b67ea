"""A project file -> its plan and the letters that its bench has given to piles; the progress is only read."""

from __future__ import annotations

import sys
from collections.abc import Mapping

from planner.plan import Plan
from planner.tally import count_up, find_made
from tui.load import load_plan
from tui.progress import ProgressTrouble, read_events


def load_with_letters(file: str) -> tuple[Plan | None, Mapping[str, str]]:
    """The plan as the bench has it, and the letters by pile, none where nothing is begun. No plan after its faults have
    been told. Progress that can't be read is told, and then there are no letters."""
    try:
        events, said = read_events(file)
    except ProgressTrouble as trouble:
        events, said = (), (trouble.words,)
    tally = count_up(events)
    plan = load_plan(file, find_made(tally))
    for words in said if plan is not None else ():
        print(f"seamrun: {words}", file=sys.stderr)
    return plan, tally.letters
