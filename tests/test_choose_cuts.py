"""The trees that are chosen: as good as the best there is, proven so, and never worse than they were."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import islice
from math import prod
from typing import NamedTuple, cast

import pytest
from brute_force import Draft, Handling, Patch, Point, least_handling
from framed_drafts import write_framed
from planned import SAMPLES, draw_project, plan_it, plan_sample, print_out, read_text

from planner.blocks import DraftedBlock, lay_out_blocks
from planner.find_cuts import Cuts, find_cuts
from planner.measure import read_number
from planner.plan import Plan
from planner.prove_cuts import Graph

DRAFTS = 120
MOST_TREES = 150  # of all blocks of a project: more would take long to try
FRAMED = range(100)
# Framed drafts whose choice is not proven, since the bound counts places of cuts and not which way round a side lies
# that looks the same when turned: seed -> minutes found, the least, and the bound
MISSED = {46: ("19", "17", "17"), 55: ("19", "19", "17"), 66: ("25", "23", "23"), 97: ("23", "21", "21")}
# Passes, kinds, minutes of each sample, all of them proven. What is found may only get better: then write the better
# numbers here.
HANDLING = {
    "harbour-stars": (6, 16, "50"),
    "lantern-logs": (12, 12, "60"),
    "moorings-lap": (19, 40, "137"),
    "slipway-on-point": (12, 21, "78"),
    "tidewater-sampler": (4, 22, "56"),
}


def read_draft(block: DraftedBlock) -> Draft:
    """A block as brute force takes it, in grid units: whole numbers, which are tried much faster than fractions."""
    outlines = [cast(tuple[Point, ...], patch.outline) for patch in block.patches]
    patches = tuple(Patch(patch.fabric, outline) for patch, outline in zip(block.patches, outlines, strict=True))
    parts = []
    for first, last in block.parts:
        xs, ys = zip(*(corner for outline in outlines[first:last] for corner in outline), strict=True)
        parts.append((min(xs), min(ys), max(xs), max(ys)))
    return Draft(patches, tuple(parts))


def read_drafts(plan: Plan) -> tuple[Draft, ...]:
    return tuple(map(read_draft, plan.blocks.drafted))


def handle(plan: Plan) -> Handling:
    """The handling of the batches that come out in the end."""
    passes, kinds = plan.batches.passes, len(plan.batches.batches)
    minutes = plan.project.handling.trip * passes + plan.project.handling.pile * kinds
    return Handling(minutes, passes, kinds)


def count_trees(cuts: Cuts) -> list[int]:
    """How many ways there are to sew each block."""

    @cache
    def count(number: int) -> int:
        region = cuts.regions[number]
        if len(region.patches) == 1:
            return 1
        return sum(prod(count(seat.region) for seat in (cut.left, cut.right)) for cut in region.cuts)

    return [count(root.region) for root in cuts.roots]


class Tried(NamedTuple):
    seed: int
    plan: Plan
    cuts: Cuts
    trees: int


@cache
def draw_tried() -> tuple[Tried, ...]:
    """Plans of the first seeds whose drafts, of at most 10 patches each, leave a choice that can be tried."""
    return tuple(islice(_draw_tried(), DRAFTS))


def _draw_tried() -> Iterator[Tried]:
    for seed in range(10 * DRAFTS):
        project = draw_project(seed, 10, 2, 1)
        cuts = find_cuts(lay_out_blocks(project))
        trees = count_trees(cuts)
        if max(trees) > 1 and sum(trees) <= MOST_TREES:
            yield Tried(seed, plan_it(project), cuts, sum(trees))


@pytest.mark.parametrize("first", range(0, DRAFTS, 40))
def test_the_choice_is_the_least_handling_of_all_that_can_be_tried_and_is_proven_so(first: int) -> None:
    for seed, plan, _, _ in draw_tried()[first : first + 40]:
        handling = plan.project.handling
        least = least_handling(read_drafts(plan), handling.trip, handling.pile)
        assert handle(plan) == least, seed
        assert plan.choice.at_least == least.minutes, seed


def test_the_drafts_tried_have_what_makes_it_hard() -> None:
    drawn = draw_tried()
    assert len(drawn) == DRAFTS
    assert sum(len(plan.blocks.drafted) > 1 for _, plan, _, _ in drawn) > 30
    has_parts = [any(block.parts for block in plan.blocks.drafted) for _, plan, _, _ in drawn]
    assert 30 < sum(has_parts) < 90
    assert sum(trees > 30 for *_, trees in drawn) > 30
    assert all(has_one_frame(cuts) for _, _, cuts, _ in drawn)


def has_one_frame(cuts: Cuts) -> bool:
    """Whether no set of patches is met in several frames of parts: then kinds are counted exactly as they come out."""
    graph = Graph(cuts)
    return len(graph.is_alone) == len(graph.order)


def test_where_equal_patches_lie_in_several_frames_no_bound_is_too_high_and_most_choices_are_the_least() -> None:
    tried = proven = 0
    missed = {}
    for seed in FRAMED:
        project = read_text(write_framed(random.Random(seed)))
        cuts = find_cuts(lay_out_blocks(project))
        if has_one_frame(cuts) or sum(count_trees(cuts)) > MOST_TREES:
            continue
        tried += 1
        plan = plan_it(project)
        found, least = handle(plan), least_handling(read_drafts(plan), project.handling.trip, project.handling.pile)
        assert plan.choice.at_least <= least.minutes <= found.minutes, seed
        if plan.handled.is_proven:
            assert found == least, seed
            proven += 1
        if (found.minutes, plan.choice.at_least) != (least.minutes, least.minutes):
            missed[seed] = (str(found.minutes), str(least.minutes), str(plan.choice.at_least))
    assert tried > 60
    assert proven >= tried - len(MISSED), "the rest is as little as can be, and said to be so"
    assert missed.items() <= MISSED.items(), "the least handling is missed, or unproven, where it was found before"


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_takes_the_handling_that_it_took_before_and_no_less_is_possible(name: str) -> None:
    plan = plan_sample(name)
    assert name in HANDLING, f"say beside this test what {name} takes: {handle(plan)}"
    passes, kinds, minutes = HANDLING[name]
    assert handle(plan) == Handling(Fraction(minutes), passes, kinds)
    assert plan.handled.is_proven


@pytest.mark.parametrize("name", [*SAMPLES, *(f"seed {seed}" for seed in range(8))])
def test_what_is_said_of_the_handling_is_what_comes_out(name: str) -> None:
    plan = plan_sample(name) if name in SAMPLES else plan_it(draw_project(int(name.removeprefix("seed ")), 24, 2, 2))
    printed = print_out(plan)
    passes, kinds = max(batch["pass"] for batch in printed["batches"]), len(printed["batches"])
    minutes = plan.project.handling.trip * passes + plan.project.handling.pile * kinds
    told = printed["proof"]["handling"]
    assert (told["passes"], told["kinds"], read_number(told["minutes"])) == (passes, kinds, minutes)
    assert plan.handled == (passes, kinds, minutes, read_number(told["at_least"]))
    assert read_number(told["at_least"]) <= minutes
    assert plan.handled.is_proven == (told["minutes"] == told["at_least"])
