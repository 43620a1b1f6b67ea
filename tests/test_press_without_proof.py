"""Pressing that no solver proves: what is said of it is so, and what is said to be the least that is possible is."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import pytest
from brute_force import Pressing, judge_pressing, read_sewn
from planned import plan_text, print_out, why_wrong
from test_large_drafts import write_grid
from test_press_optimum import draw_set, read_bits

from planner import plan as planning
from planner.name_piles import name_piles
from planner.plan import Plan
from planner.press_seams import Sewn, press_seams


def press_again(plan: Plan, conflicts: int, sewn: tuple[Sewn, ...] = ()) -> Plan:
    """The plan as it is pressed with so many conflicts."""
    project = plan.project
    pressing = press_seams(
        plan.units, plan.batches, plan.joins, plan.feeds, project.fabrics, project.prefer, sewn, conflicts=conflicts
    )
    return replace(plan, pressing=pressing)


@pytest.mark.parametrize("name", ["drafts", "grids", "rings"])
def test_without_a_proof_the_pressing_is_what_it_says_and_its_bounds_are_true(name: str) -> None:
    unproven = 0
    for draft, best in draw_set(name):
        plan = press_again(best, conflicts=0)
        printed, pressing = print_out(plan), plan.pressing
        assert why_wrong(printed) == (), draft
        told = Pressing(pressing.clashes, pressing.two_ways, pressing.second)
        assert judge_pressing(read_sewn(printed), read_bits(printed)) == told, draft
        assert told >= (best.pressing.clashes, best.pressing.two_ways, best.pressing.second), draft
        assert pressing.clashes_at_least <= best.pressing.clashes, draft
        if pressing.clashes == best.pressing.clashes:
            assert pressing.two_ways_at_least <= best.pressing.two_ways, draft
        unproven += (pressing.clashes, pressing.two_ways) != (pressing.clashes_at_least, pressing.two_ways_at_least)
    assert unproven or name == "drafts"


def test_what_is_sewn_already_keeps_its_direction_without_a_proof_too() -> None:
    found = 0
    for seed in range(12):
        best = plan_text(write_grid(seed, 4, count=2))
        for pile in best.piles.piles.values():
            if len(pile.marks) != 1 or best.units.units[pile.unit].period != 4:
                continue
            other = "-" if pile.marks == "+" else "+"
            plan = press_again(best, 0, (Sewn(pile.unit, other, 1),))
            printed = print_out(plan)
            assert why_wrong(printed) == ()
            again = name_piles(plan.units, plan.joins, plan.pressing, plan.piles.unit_names)
            marks = {one.marks for one in again.piles.values() if one.unit == pile.unit}
            assert other in marks, (seed, pile)
            found += 1
    assert found > 10


def test_a_large_grid_pressed_without_a_proof_is_sewable(monkeypatch: pytest.MonkeyPatch) -> None:
    proven = plan_text(write_grid(7, 16))
    monkeypatch.setattr(planning, "press_seams", partial(press_seams, conflicts=0))
    plan = plan_text(write_grid(7, 16))
    assert why_wrong(print_out(plan)) == ()
    assert plan.pressing.clashes == proven.pressing.clashes == 0
    assert plan.least_versions <= proven.pressing.two_ways <= plan.pressing.two_ways
