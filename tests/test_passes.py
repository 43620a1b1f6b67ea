"""`handling: {passes: N}`: the fewest kinds in at most so many passes, as few as can be tried, and proven."""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from itertools import product

import pytest
from brute_force import Draft, _collect_kinds, _depth, enumerate_trees
from framed_drafts import write_framed
from planned import draw_project, plan_it, print_out, read_text, why_wrong
from test_choose_cuts import count_trees, draw_tried, read_draft

from planner.blocks import lay_out_blocks
from planner.choose_cuts import find_front
from planner.find_cuts import find_cuts
from planner.plan import plan_project
from planner.project import Project
from planner.prove_cuts import Front
from planner.summarise import summarise

FEW_TREES = 60
STEPS = """\
project: Steps
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks: {steps: {size: 8 x 2, rows: [[navy, shell, navy, shell, navy, shell, navy, shell]]}}
make: [{block: steps, count: 2}]
"""


def try_all(drafts: tuple[Draft, ...]) -> dict[int, int]:
    """For each number of passes that some choice of trees takes, the fewest kinds."""
    choices = []
    for draft in drafts:
        known: dict[object, frozenset[object]] = {}
        choices.append({(_depth(tree), _collect_kinds(draft, tree, known)) for tree in enumerate_trees(draft)})
    fewest: dict[int, int] = {}
    for chosen in product(*choices):
        passes = max(depth for depth, _ in chosen)
        kinds = len(frozenset[object]().union(*(kinds for _, kinds in chosen)))
        fewest[passes] = min(fewest.get(passes, kinds), kinds)
    return fewest


def allow(project: Project, passes: int) -> Project:
    return replace(project, handling=replace(project.handling, passes=passes, passes_line=7))


def find_least(fewest: dict[int, int], most: int) -> tuple[int, int]:
    """The fewest kinds in at most so many passes, then the fewest passes for them."""
    return min((kinds, passes) for passes, kinds in fewest.items() if passes <= most)


def write_strips(chance: random.Random) -> str:
    """Two blocks of squares in a row: one pass more often saves a kind."""
    rows = [[chance.choice(("navy", "shell")) for _ in range(many)] for many in (6, chance.randint(3, 5))]
    blocks = [
        f"  {name}: {{size: {len(row)} x 1, rows: [[{', '.join(row)}]]}}" for name, row in zip("ab", rows, strict=True)
    ]
    head = "project: Strips\nfabrics: {navy: {value: dark}, shell: {value: light}}\nblocks:\n"
    return head + "\n".join(blocks) + "\nmake: [{block: a, count: 1}, {block: b, count: 1}]\n"


@cache
def draw_few() -> tuple[tuple[Project, dict[int, int]], ...]:
    """Projects, each with the fewest kinds for each number of passes: half of them random drafts, half strips."""
    drafts = [plan.project for _, plan, _, trees in draw_tried() if trees <= FEW_TREES][:60]
    projects = [*drafts, *(read_text(write_strips(random.Random(seed))) for seed in range(40))]
    return tuple((one, try_all(tuple(map(read_draft, lay_out_blocks(one).drafted)))) for one in projects)


def test_the_fewest_kinds_in_so_many_passes_are_the_fewest_of_all_that_can_be_tried_and_proven() -> None:
    tried = gained = 0
    for project, fewest in draw_few():
        least = min(fewest)
        for most in range(least, max(fewest) + 2):
            kinds, passes = find_least(fewest, most)
            plan = plan_it(allow(project, most))
            assert (plan.handled.kinds, plan.handled.passes) == (kinds, passes)
            assert plan.handled.is_proven
            assert plan.handled.minutes == project.handling.trip * passes + project.handling.pile * kinds
            gained += kinds < fewest[least]
            tried += 1
    assert tried > 150
    assert gained > 10, "more passes must save something somewhere"


def test_fewer_passes_than_are_needed_are_a_fault_that_says_the_least() -> None:
    for project, fewest in draw_few()[::3]:
        least = min(fewest)
        for most in range(1, least):
            plan, faults = plan_project(allow(project, most))
            assert plan is None
            assert [(fault.line, fault.where) for fault in faults] == [(7, "handling, passes")]
            assert f"at least {least} passes are needed" in faults[0].words


def test_the_fault_has_the_line_of_passes() -> None:
    _, faults = plan_project(read_text(STEPS + "handling:\n  pile: 2\n  passes: 2\n"))
    assert [fault.line for fault in faults] == [7]


def test_where_equal_patches_lie_in_several_frames_no_more_passes_are_taken_and_the_bound_is_true() -> None:
    tried = best = 0
    for seed in range(40):
        project = read_text(write_framed(random.Random(seed)))
        cuts = find_cuts(lay_out_blocks(project))
        if sum(count_trees(cuts)) > FEW_TREES:
            continue
        fewest = try_all(tuple(map(read_draft, lay_out_blocks(project).drafted)))
        for most in range(min(fewest), min(fewest) + 2):
            kinds, passes = find_least(fewest, most)
            plan = plan_it(allow(project, most))
            assert plan.handled.passes <= most, seed
            assert plan.handled.kinds >= kinds
            assert plan.handled.at_least <= project.handling.trip * passes + project.handling.pile * kinds, seed
            tried += 1
            best += plan.handled.kinds == kinds
    assert tried > 30
    assert best > 0.9 * tried


@pytest.mark.parametrize("steps", [0, 3, 40])
def test_a_tiny_budget_keeps_to_the_passes_and_its_bound_is_true(steps: int) -> None:
    unproven = 0
    for seed in (0, 1, 2, 3, 7, 8, 11, 13):
        project = draw_project(seed, 16, 2, 2)
        least = plan_it(project).choice.fewest_passes
        for most in (least, least + 1):
            allowed = allow(project, most)
            best = plan_it(allowed).handled
            assert best.is_proven
            plan = plan_it(replace(allowed, handling=replace(allowed.handling, steps=steps)))
            assert plan.handled.passes <= most
            assert plan.handled.kinds >= best.kinds
            assert plan.handled.at_least <= best.minutes
            assert why_wrong(print_out(plan)) == ()
            unproven += not plan.handled.is_proven
    assert unproven or steps > 3, "the budget must run out somewhere"


def test_the_front_has_for_each_number_of_passes_the_fewest_kinds_and_ends_where_none_is_saved() -> None:
    longer = 0
    for project, fewest in draw_few():
        front = find_front(find_cuts(lay_out_blocks(project)))
        passes = [one.passes for one in front]
        least, most = min(fewest), find_least(fewest, max(fewest))[1]
        assert passes == list(range(least, most + 1))
        for one in front:
            assert one.passes is not None
            assert one.kinds == one.at_least == find_least(fewest, one.passes)[0]
        longer += len(front) > 1
    assert longer > 5


def test_the_front_of_a_tiny_budget_has_cuts_and_true_bounds() -> None:
    unproven = 0
    for seed in (0, 1, 2, 3, 7, 8, 11, 13):
        cuts = find_cuts(lay_out_blocks(draw_project(seed, 16, 2, 2)))
        proven = {one.passes: one for one in find_front(cuts)}
        found = find_front(cuts, conflicts=2)
        assert found
        for one in found:
            assert isinstance(one, Front)
            assert one.cut
            assert one.kinds is not None
            known = proven.get(one.passes)
            assert known is None or (known.kinds is not None and one.at_least <= known.kinds <= one.kinds)
            unproven += one.kinds != one.at_least
    assert unproven


def test_check_says_what_is_proven_where_passes_are_given() -> None:
    summary = summarise(plan_it(read_text(f"{STEPS}handling: {{passes: 4}}\n")))
    assert (
        "3 kinds of unit in 3 passes: 15 minutes of handling (proven the fewest kinds in at most 4 passes)" in summary
    )
