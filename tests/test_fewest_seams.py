"""The search for the fewest turns and partial seams finds what is known, and no order drawn by chance has fewer."""

from __future__ import annotations

import random

import pytest
from bent_plans import BENT
from fewest_seams import Cost, Polygon, draw_order, find_fewest
from merged_faces import draw_draft
from plans import FOUR_PATCH, HOURGLASS
from write_order import write_steps

from planner.checks.check_order import why_not_sewable
from planner.checks.plan_file import Plan
from planner.checks.read_plan import read_work


def read_patches(plan: Plan, names: str = "") -> list[Polygon]:
    """The patches of a plan, or those that are named."""
    work, complaints = read_work(plan)
    assert work is not None, complaints
    return [patch.outline for patch in work.patches if patch.id in names.split() or not names]


@pytest.mark.parametrize(
    ("plan", "names", "cost"),
    [
        (FOUR_PATCH, "", Cost(0, 0)),
        (HOURGLASS, "", Cost(0, 0)),
        (BENT["round a square"], "", Cost(0, 1)),
        (BENT["star corner"], "p1 p2 p3", Cost(1, 0)),
        (BENT["star corner"], "", Cost(1, 0)),
        (BENT["hexagon"], "p1 p2 p3", Cost(1, 0)),
        (BENT["hexagon"], "", Cost(1, 0)),
    ],
)
def test_the_fewest_are_those_that_are_known(plan: Plan, names: str, cost: Cost) -> None:
    order = find_fewest(read_patches(plan, names))
    assert order is not None
    assert order.cost == cost


def test_a_square_in_the_corner_of_another_patch_is_set_in() -> None:
    corner: Polygon = ((0, 0), (4, 0), (4, 2), (2, 2), (2, 4), (0, 4))
    square: Polygon = ((2, 2), (4, 2), (4, 4), (2, 4))
    order = find_fewest([corner, square])
    assert order is not None
    assert order.cost == Cost(1, 0)
    (step,) = order.steps
    assert step.way in (((4, 2), (2, 2), (2, 4)), ((2, 4), (2, 2), (4, 2)))


def test_patches_that_lie_apart_are_never_sewn() -> None:
    one: Polygon = ((0, 0), (2, 0), (2, 2), (0, 2))
    assert find_fewest([one, ((2, 2), (4, 2), (4, 4), (2, 4))]) is None


@pytest.mark.parametrize("seed", range(40))
def test_the_fewest_can_be_sewn_so_and_no_order_drawn_by_chance_has_fewer(seed: int) -> None:
    chance = random.Random(seed)
    patches = draw_draft(chance, most_patches=6)
    order = find_fewest(patches)
    assert order is not None
    plan = write_steps(patches, order.steps)
    assert why_not_sewable(plan) == ()
    turns = sum(len(seam["legs"]) - 1 for seam in plan["seams"] if "legs" in seam)
    assert order.cost == (turns, sum("partial" in seam for seam in plan["seams"]))
    for _ in range(20):
        other = draw_order(patches, chance)
        assert other is None or other.cost >= order.cost


def test_most_drafts_of_any_patches_can_not_be_sewn_straight() -> None:
    """So that the test above has something to tell."""
    orders = [find_fewest(draw_draft(random.Random(seed), most_patches=6)) for seed in range(40)]
    bent = sum(order is not None and order.cost > Cost(0, 0) for order in orders)
    assert 20 < bent < 40
