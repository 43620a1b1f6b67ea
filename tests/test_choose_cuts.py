"""The trees that are chosen: never better than the best there is, mostly as good, and never worse than they were."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import islice

import pytest
from brute_force import Draft, Handling, Patch, least_handling
from planned import SAMPLES, draw_project, plan_it, read_sample

from planner.blocks import DraftedBlock
from planner.plan import Plan

DRAFTS = 100
# Random drafts of at most 6 patches a block that trying everything takes longer for than they are worth
SLOW = {30, 37, 54, 57, 60, 61, 68, 78, 86, 96, 102, 104, 111, 116}
# Those for which the search misses the least handling: seed -> minutes found, and the least. To be empty once the
# optimum is proven.
MISSED = {18: ("14", "12"), 24: ("29", "27"), 35: ("83/2", "75/2")}
# Passes, kinds, minutes of each sample. What is found may only get better: then write the better numbers here.
HANDLING = {
    "harbour-stars": (6, 16, "50"),
    "lantern-logs": (12, 12, "60"),
    "tidewater-sampler": (4, 22, "56"),
}


def read_draft(plan: Plan, block: DraftedBlock) -> Draft:
    """A block as brute force takes it."""
    scale = plan.blocks.scale
    outlines = [tuple((Fraction(x, scale), Fraction(y, scale)) for x, y in patch.outline) for patch in block.patches]
    patches = tuple(Patch(patch.fabric, outline) for patch, outline in zip(block.patches, outlines, strict=True))
    parts = []
    for first, last in block.parts:
        xs, ys = zip(*(corner for outline in outlines[first:last] for corner in outline), strict=True)
        parts.append((min(xs), min(ys), max(xs), max(ys)))
    return Draft(patches, tuple(parts))


def handle(plan: Plan) -> Handling:
    """The handling of the batches that come out in the end."""
    passes, kinds = plan.batches.passes, len(plan.batches.batches)
    minutes = plan.project.handling.trip * passes + plan.project.handling.pile * kinds
    return Handling(minutes, passes, kinds)


def draw_plans() -> Iterator[tuple[int, Plan]]:
    """Plans of the first seeds whose drafts leave a choice: more than two seams."""
    plans = ((seed, plan_it(draw_project(seed, 6, 2, 1))) for seed in range(10 * DRAFTS) if seed not in SLOW)
    return islice(((seed, plan) for seed, plan in plans if sum(map(len, plan.units.seams)) > 2), DRAFTS)


def test_no_choice_is_better_than_the_best_and_most_are_as_good() -> None:
    missed = {}
    tried = 0
    for seed, plan in draw_plans():
        tried += 1
        handling = plan.project.handling
        found = handle(plan).minutes
        drafts = tuple(read_draft(plan, block) for block in plan.blocks.drafted)
        least = least_handling(drafts, handling.trip, handling.pile).minutes
        assert found >= least, seed
        if found != least:
            missed[seed] = (str(found), str(least))
    assert tried == DRAFTS
    assert len(missed) <= DRAFTS * 4 // 100
    assert missed.items() <= MISSED.items(), "the least handling is missed where it was found before"


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_takes_the_handling_that_it_took_before(name: str) -> None:
    assert name in HANDLING, f"say beside this test what {name} takes: {handle(plan_it(read_sample(name)))}"
    found = handle(plan_it(read_sample(name)))
    passes, kinds, minutes = HANDLING[name]
    assert found == Handling(Fraction(minutes), passes, kinds)


@pytest.mark.parametrize("name", SAMPLES)
def test_what_the_search_says_of_its_choice_is_what_comes_out(name: str) -> None:
    plan = plan_it(read_sample(name))
    # A kind may be counted twice by the search: equal units that borders of parts made it cut unlike
    assert handle(plan).minutes <= plan.choice.minutes
    assert handle(plan).passes == plan.choice.passes
