"""A project file from the disk: read, checked, planned."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable

from planner.fault import Fault, spell_fault
from planner.find_cuts import always
from planner.plan import Plan, plan_project
from planner.project import Project
from planner.reading.read_project import read_project_file
from planner.tally import NOTHING_MADE, Made


def load_project(file: str) -> Project | None:
    """The project of a file; None after its faults have been told on the error stream."""
    project, faults = read_project_file(file)
    tell_faults(file, faults)
    return project


def load_plan(
    file: str,
    made: Made = NOTHING_MADE,
    keep_going: Callable[[], bool] = always,
) -> Plan | None:
    """The plan of a file; None after its faults have been told on the error stream."""
    project = load_project(file)
    if project is None:
        return None
    plan, faults = plan_project(project, made, keep_going)
    tell_faults(file, faults)
    return plan


def tell_faults(file: str, faults: Iterable[Fault]) -> None:
    """One line for each fault on the error stream, the file as it was typed."""
    for fault in faults:
        print(spell_fault(file, fault), file=sys.stderr)
