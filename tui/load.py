"""A project file from the disk: read, checked, planned."""

from __future__ import annotations

import contextlib
import os
import stat
import sys
from collections.abc import Callable, Iterable

from planner.cloth.why_not_fixed import why_not_fixed
from planner.fault import Fault, spell_fault
from planner.find_cuts import always
from planner.plan import Plan, plan_project
from planner.project import Project
from planner.reading.read_project import read_project_file
from planner.tally import NOTHING_MADE, Made
from tui.spell_path import spell_path


def load_project(file: str) -> Project | None:
    """The project of a file; None after its faults have been told on the error stream."""
    if _would_wait(file):
        tell_faults(file, [Fault(1, "", "this is no regular file; name the project file")])
        return None
    project, faults = read_project_file(file)
    tell_faults(file, faults)
    return project


def _would_wait(file: str) -> bool:
    """Whether this is a pipe or a device: opening one can wait for ever."""
    with contextlib.suppress(OSError, ValueError):  # what is no file, reading tells
        mode = os.stat(file).st_mode
        return not stat.S_ISREG(mode) and not stat.S_ISDIR(mode)
    return False


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
    if plan is not None:
        faults = why_not_fixed(plan)
    tell_faults(file, faults)
    return None if faults else plan


def tell_faults(file: str, faults: Iterable[Fault]) -> None:
    """One line for each fault on the error stream, the file as it was typed, as far as it can be shown."""
    for fault in faults:
        print(spell_fault(spell_path(file), fault), file=sys.stderr)
