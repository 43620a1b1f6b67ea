"""A second solver, told nothing but what stands in a plan's JSON, finds the same least clashes, kinds and piles."""

from __future__ import annotations

import random
from collections import defaultdict

import pytest
from brute_force import Pressing, _weigh_bits
from drawn_quilts import draw_quilt
from milp import Program, count
from planned import SAMPLES, draw_project, plan_it, plan_sample, plan_text, print_out
from press_drafts import write_grids, write_ring
from pressed import read_all
from test_press_optimum import RINGS

from planner.plan import Plan

MOST_SEAMS = 400  # of what is asked of the second solver


def solve_pressing(plan: Plan) -> Pressing:
    """The least of joins that clash, then of kinds pressed two ways, then of units in second piles.

    A seam is 1 where it falls to its side a. Of a join, one seam falls ahead along the seam being sewn and the other
    back; of a kind, each unit lies in the first pile or in the second.
    """
    weighed = _weigh_bits(read_all(print_out(plan)))
    program = Program()
    to_b = [program.variable() for _ in weighed.seams]
    clashes = []
    for a, ways_a, b, ways_b in weighed.joins:
        clashes.append(program.variable())
        # where both bits mean the same way, equal ones clash; else unequal ones
        if ways_a == ways_b:
            program.need({clashes[-1]: 1, to_b[a]: 1, to_b[b]: 1}, least=1)
            program.need({clashes[-1]: 1, to_b[a]: -1, to_b[b]: -1}, least=-1)
        else:
            program.need({clashes[-1]: 1, to_b[a]: 1, to_b[b]: -1}, least=0)
            program.need({clashes[-1]: 1, to_b[a]: -1, to_b[b]: 1}, least=0)
    piles: dict[object, list[tuple[int, bool]]] = defaultdict(list)
    for bit, (form, versions) in zip(to_b, weighed.seams, strict=True):
        if form is not None:
            piles[form].append((bit, bool(versions[0])))
    two_ways, second = [], []
    for members in piles.values():
        if len(members) == 1:
            continue
        first_pile = program.variable()
        two_ways.append(program.variable())
        for bit, is_first in members:
            # is_first: the unit lies in the first version where the bit is 0
            second.append(program.variable())
            factor, fixed = (-1, 1) if is_first else (1, 0)
            for sign in (1, -1):
                program.need({second[-1]: 1, bit: sign * factor, first_pile: -sign}, least=-sign * fixed)
            program.need({two_ways[-1]: 1, second[-1]: -1}, least=0)
    return Pressing(*(program.grant(count(level)) for level in (clashes, two_ways, second)))


def why_not_same(plan: Plan) -> str | None:
    told = Pressing(plan.pressing.clashes, plan.pressing.two_ways, plan.pressing.second)
    proof = print_out(plan).get("proof", {})
    assert proof["clashes"]["count"] == told.clashes
    assert proof["versions"]["count"] == told.kinds_two_ways
    found = solve_pressing(plan)
    return None if found == told else f"told {told}, found {found}"


# Seams that are set in or spun are not read here
STRAIGHT = [name for name, path in SAMPLES.items() if not {"mitred}", "spin]"} & set(path.read_text("utf-8").split())]


@pytest.mark.parametrize("name", STRAIGHT)
def test_the_samples_are_pressed_as_well_as_a_second_solver_can(name: str) -> None:
    plan = plan_sample(name)
    assert len(print_out(plan)["seams"]) <= MOST_SEAMS
    assert why_not_same(plan) is None


@pytest.mark.parametrize("first", range(0, 50, 10))
def test_random_drafts_are_pressed_as_well_as_a_second_solver_can(first: int) -> None:
    for seed in range(first, first + 10):
        assert why_not_same(plan_it(draw_project(seed, 14, 2, 2))) is None, seed


def test_drafts_that_are_hard_to_press_are_pressed_as_well_as_a_second_solver_can() -> None:
    plans = [plan_text(write_grids(random.Random(seed), 24)) for seed in range(100, 120)]
    plans += [plan_text(write_ring(random.Random(seed), *sizes)) for seed, sizes in enumerate((*RINGS, (3, 3), (2, 4)))]
    assert [why_not_same(plan) for plan in plans] == [None] * len(plans)
    assert any(plan.pressing.clashes for plan in plans)
    assert any(plan.pressing.second > plan.pressing.two_ways for plan in plans)


@pytest.mark.parametrize("place", range(3))
def test_quilts_are_pressed_as_well_as_a_second_solver_can(place: int) -> None:
    drawn = [draw_quilt(random.Random(seed)) for seed in range(place, 60, 3)]
    plans = [
        plan_text(quilt.text)
        for quilt in drawn
        if "mitred" not in quilt.text and not (quilt.is_on_point and quilt.borders)
    ]
    assert len(plans) >= 8
    assert [why_not_same(plan) for plan in plans] == [None] * len(plans)
    assert any(plan.pressing.two_ways for plan in plans)
