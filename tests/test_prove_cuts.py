"""The proof of the least handling: what it says of each number of passes, when it must give up, and a large block."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from brute_force import least_handling
from planned import draw_project, plan_it, plan_text, print_out, why_wrong
from test_choose_cuts import draw_tried, handle, read_drafts

from planner.batch_seams import batch_seams
from planner.blocks import lay_out_blocks
from planner.build_units import build_units
from planner.choose_cuts import Choice
from planner.find_cuts import Cuts, find_cuts
from planner.prove_cuts import Front, Graph, fewest_kinds

FEW_TREES = 40


def count_handled(cuts: Cuts, front: Front) -> tuple[int, int]:
    """The passes and kinds that come out of what was solved."""
    assert front.cut is not None
    batches = batch_seams(build_units(cuts, Choice(front.cut, Fraction(0))))
    return batches.passes, len(batches.batches)


def test_each_number_of_passes_has_the_fewest_kinds_of_all_that_can_be_tried() -> None:
    tried = [one for one in draw_tried() if one.trees <= FEW_TREES][:50]
    assert len(tried) == 50
    more_passes = 0
    for seed, plan, cuts, _ in tried:
        graph, drafts = Graph(cuts), read_drafts(plan)
        least_passes = least_handling(drafts, trip=1000, pile=1)
        assert graph.fewest_passes == least_passes.passes, seed
        front = fewest_kinds(graph, least_passes.passes)
        assert (front.kinds, front.at_least) == (least_passes.kinds, least_passes.kinds), seed
        assert count_handled(cuts, front) == (least_passes.passes, least_passes.kinds), seed
        least_kinds = least_handling(drafts, trip=0, pile=1).kinds
        assert fewest_kinds(graph, None) == Front(None, least_kinds, least_kinds, None), seed
        more_passes += least_kinds < least_passes.kinds
    assert more_passes > 0, "one more pass must be worth something somewhere"


@pytest.mark.parametrize("seed", range(8))
def test_another_pass_never_takes_more_kinds_nor_passes_than_it_may(seed: int) -> None:
    cuts = find_cuts(lay_out_blocks(draw_project(seed, 14, 2, 1)))
    graph = Graph(cuts)
    kinds = []
    for passes in range(graph.fewest_passes, graph.fewest_passes + 3):
        front = fewest_kinds(graph, passes)
        in_passes, of_kinds = count_handled(cuts, front)
        assert in_passes <= passes
        assert of_kinds == front.kinds == front.at_least
        kinds.append(of_kinds)
    assert kinds == sorted(kinds, reverse=True)
    anyhow = fewest_kinds(graph, None)
    assert anyhow.at_least <= kinds[-1]


@pytest.mark.parametrize("steps", [0, 1, 5, 60])
def test_a_tiny_budget_still_gives_a_valid_plan_and_a_true_bound(steps: int) -> None:
    unproven = 0
    for seed in (0, 1, 2, 3, 7, 8, 11, 13):
        project = draw_project(seed, 16, 2, 2)
        best = plan_it(project).handled
        assert best.is_proven, seed
        hasty = replace(project, handling=replace(project.handling, steps=steps))
        plan = plan_it(hasty)
        assert print_out(plan) == print_out(plan_it(hasty)), "the same bytes however little is proven"
        assert plan.handled.at_least <= best.minutes <= plan.handled.minutes, seed
        assert handle(plan).minutes == plan.handled.minutes
        assert why_wrong(print_out(plan)) == (), seed
        unproven += not plan.handled.is_proven
    assert unproven or steps > 5, "the budget must run out somewhere"


def test_the_bound_of_any_budget_is_no_more_than_what_is_proven() -> None:
    for seed in (3, 7, 8, 11):
        graph = Graph(find_cuts(lay_out_blocks(draw_project(seed, 16, 2, 2))))
        proven = fewest_kinds(graph, graph.fewest_passes)
        assert proven.is_solved
        bounds = [fewest_kinds(graph, graph.fewest_passes, conflicts) for conflicts in (0, 1, 2, 4, 8, 16, 32, 64)]
        assert [front.at_least for front in bounds] == sorted(front.at_least for front in bounds)
        for front in bounds:
            assert front.at_least <= proven.at_least
            assert (front.cut is None) == (front.kinds is None)
            assert front.kinds in (None, proven.kinds)


def test_planning_that_is_called_off_ends_at_once() -> None:
    cuts = find_cuts(lay_out_blocks(draw_project(1, 10, 2, 1)))
    for passes in (None, 20):
        with pytest.raises(InterruptedError):
            fewest_kinds(Graph(cuts), passes, keep_going=lambda: False)


def turn_paw(paw: list[list[str]]) -> list[list[str]]:
    """A grid of cells turned clockwise by a quarter."""

    def turn(cell: str) -> str:
        lower_left, stroke, other = cell.partition(" \\ ")
        if stroke:
            return f"{lower_left} / {other}"
        upper_left, stroke, other = cell.partition(" / ")
        return f"{other} \\ {upper_left}" if stroke else cell

    return [[turn(row[across]) for row in reversed(paw)] for across in range(len(paw))]


def test_a_bears_paw_drawn_as_a_grid_of_seven_is_sewn_in_eight_passes_and_proven() -> None:
    """65 patches: with the bare minimum of passes it takes five kinds more, and a ninth pass saves none."""
    paw = [["shell", *["shell \\ navy"] * 2], *[["shell \\ navy", "navy", "navy"]] * 2]
    paws = [paw]
    for _ in range(3):
        paws.append(turn_paw(paws[-1]))
    upper = [[*left, "shell", *right] for left, right in zip(paws[0], paws[1], strict=True)]
    lower = [[*left, "shell", *right] for left, right in zip(paws[3], paws[2], strict=True)]
    rows = [*upper, ["shell"] * 3 + ["navy"] + ["shell"] * 3, *lower]
    plan = plan_text(
        f"""
project: Seven by seven
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  paw: {{size: 14, rows: [{", ".join(f"[{', '.join(row)}]" for row in rows)}]}}
make: [{{block: paw, count: 1}}]
"""
    )
    assert len(plan.blocks.drafted[0].patches) == 65
    solved = [(front.passes, front.kinds) for front in plan.choice.front if front.is_solved and front.passes]
    assert solved == [(7, 20), (8, 15)]
    assert plan.handled == (8, 15, 54, 54)
    assert why_wrong(print_out(plan)) == ()
