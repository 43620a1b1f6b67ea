"""Benches to sit at in tests: on samples and texts, at any step, with a clock that never waits."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path

from planned import plan_sample

from planner.event import Event
from planner.plan import Plan
from planner.sheet import SewWork, Sheet, Stage, Step, write_sheet
from tui.bench import Bench
from tui.progress import open_progress

EVENING = 1_700_000_000_000  # ms since 1970


class Clock:
    """Every look at it is a second later than the one before, so that no key is ever held; `stand` stops it."""

    def __init__(self) -> None:
        self.seconds = 1_700_000_000.0
        self.is_standing = False

    def __call__(self) -> float:
        self.seconds += 0.0 if self.is_standing else 1.0
        return self.seconds

    def now(self) -> int:
        """The same clock in milliseconds."""
        return int(self() * 1000)


@cache
def sheet_of(name: str) -> Sheet:
    return write_sheet(plan_sample(name))


def number_of(sheet: Sheet, stage: Stage, least: int = 1) -> int:
    """The first step of a stage with at least so many to count."""
    return next(n for n, step in enumerate(sheet.steps) if step.stage == stage and step.count >= least)


def done_until(sheet: Sheet, number: int, done: int = 0) -> tuple[Event, ...]:
    """All steps before one are done, and so many of that one."""
    steps = [(step, step.count) for step in sheet.steps[:number]]
    if done:
        steps.append((sheet.steps[number], done))
    return tuple(
        Event("done", step.name, many, spell_sides(step), EVENING + place) for place, (step, many) in enumerate(steps)
    )


def spell_sides(step: Step) -> str:
    """What the log keeps of a sewing step beside its count: the two piles that it takes from."""
    if not isinstance(step.work, SewWork):
        return ""
    return json.dumps({"from": [side.pile for side in step.work.chain.sides]})


@contextmanager
def bench_on(file: Path, plan: Plan, *events: Event, clock: Clock | None = None) -> Iterator[Bench]:
    """A bench on a project file whose progress holds these events besides what it holds already."""
    with open_progress(file) as progress:
        if events:
            progress.append(*events)
        yield Bench(plan, progress, (clock or Clock()).now)
