"""A block of the shelf -> a plan of one copy of it, and what there is to sew: worked out, never kept with the draft."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from planner.plan import Plan, plan_project
from planner.project import Block, Handling, Make, Project
from planner.reading.shelf_block import ShelfBlock

_SEAM = Fraction(1, 4)
_FEW_STEPS = 3_000  # of the solver: as many as find the least, though not always prove it, so that a list takes no time


class Counts(NamedTuple):
    """What one copy takes. Of its seams `partial` are sewn in part at first, `set_in` turn in a corner; the rest is
    straight."""

    patches: int
    seams: int
    partial: int
    set_in: int
    kinds: int
    passes: int

    @property
    def straight(self) -> int:
        return self.seams - self.partial - self.set_in


def plan_alone(block: ShelfBlock) -> Plan:
    """The plan of one copy in its usual size, its fabrics called by their roles. ValueError where it can't be sewn."""
    drawn = Block(block.name, *block.size, block.draft, 1)
    fabrics = tuple(role.fabric for role in block.roles)
    make = (Make(block.name, 1, (), 1),)
    project = Project(block.name, "in", _SEAM, None, fabrics, (drawn,), make, handling=Handling(steps=_FEW_STEPS))
    plan, faults = plan_project(project)
    if plan is None:
        raise ValueError(f"{block.name} can't be sewn: {'; '.join(fault.words for fault in faults)}")
    return plan


def count_seams(plan: Plan) -> Counts:
    """What the plan of one copy says. A seam that is finished later is counted once."""
    units = [plan.units.units[seam.unit] for seam in plan.units.seams[0]]
    partial = sum(unit.closes is not None for unit in units)
    set_in = sum(bool(unit.legs) for unit in units)
    handled = plan.handled
    patches = len(plan.blocks.drafted[0].patches)
    return Counts(patches, len(units) - partial, partial, set_in, handled.kinds, handled.passes)
