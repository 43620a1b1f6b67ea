"""Plans of texts, samples and random drafts, for tests to look at; and all that the checkers have to say of one."""

from __future__ import annotations

import json
import random
from functools import cache
from pathlib import Path
from typing import cast

from drafts import write_project

from planner.checks import plan_file
from planner.checks.check_batches import why_not_grouped
from planner.checks.check_cut_list import why_not_cut
from planner.checks.check_joins import why_joins_wrong
from planner.checks.check_order import why_not_sewable
from planner.plan import Plan, plan_project
from planner.plan_json import write_plan
from planner.project import Project
from planner.reading.read_project import read_project
from planner.tally import NOTHING_MADE, Made

SAMPLES = {path.stem: path for path in sorted((Path(__file__).parent.parent / "projects").glob("*.yaml"))}


def read_text(text: str) -> Project:
    """A project that has no fault."""
    project, faults = read_project(text)
    assert project is not None, faults
    return project


def read_sample(name: str) -> Project:
    return read_text(SAMPLES[name].read_text(encoding="utf-8"))


@cache
def plan_sample(name: str) -> Plan:
    """The plan of a sample, worked out once for all tests that look at it."""
    return plan_it(read_sample(name))


@cache
def draw_project(seed: int, most_patches: int = 40, most_blocks: int = 3, most_copies: int = 4) -> Project:
    """The random project of a seed; the other arguments are those of `drafts.write_project`."""
    return read_text(write_project(random.Random(seed), most_patches, most_blocks, most_copies))


def plan_it(project: Project, made: Made = NOTHING_MADE) -> Plan:
    """The plan of a project that can be sewn."""
    plan, faults = plan_project(project, made)
    assert plan is not None, faults
    return plan


def plan_text(text: str) -> Plan:
    return plan_it(read_text(text))


def print_out(plan: Plan) -> plan_file.Plan:
    """The plan as other programs read it: its JSON."""
    return cast(plan_file.Plan, json.loads(write_plan(plan)))


def why_wrong(printed: plan_file.Plan) -> tuple[str, ...]:
    """What the four checkers find wrong."""
    checks = (why_not_sewable, why_not_grouped, why_joins_wrong, why_not_cut)
    return tuple(complaint for check in checks for complaint in check(printed))
