"""A second way to the least handling, from the drafts alone: an integer program over all straight cuts, by scipy.

It shares no code with the planner: regions are sets of patches, told apart by brute force's own forms. What it counts
as kinds are the places of cuts (which patches, split where); a tree of so many kinds exists where every region is cut
one way, so nothing can be less, and where the planner reaches it both are right.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

import pytest
from brute_force import Draft, Point, _is_inside, _rotate, _sides, _strip, _turn
from milp import Program
from planned import SAMPLES, draw_project, plan_it, plan_sample
from test_choose_cuts import read_draft

from planner.plan import Plan

Region = frozenset[int]
MOST_REGIONS = 500
MOST_PASSES = 40


class Cuts(NamedTuple):
    """All regions of a draft that straight cuts reach, each with its halves; patches alone are none."""

    halves: dict[Region, tuple[tuple[Region, Region], ...]]
    whole: Region


def find_regions(draft: Draft) -> Cuts:
    polygons = [patch.corners for patch in draft.patches]
    parts = {
        frozenset(place for place, polygon in enumerate(polygons) if all(_is_inside(point, part) for point in polygon))
        for part in draft.parts
    }
    lines = {side for polygon in polygons for side in _sides(polygon)}
    sides_of = {line: [_lie(line, polygon) for polygon in polygons] for line in lines}
    whole = frozenset(range(len(polygons)))
    halves: dict[Region, tuple[tuple[Region, Region], ...]] = {}
    waiting = [whole]
    while waiting:
        region = waiting.pop()
        if len(region) == 1 or region in halves:
            continue
        closed = [part for part in parts if part < region]
        found = set()
        for place in region:
            for line in _sides(polygons[place]):
                lies = sides_of[line]
                left = frozenset(other for other in region if lies[other] < 0)
                if left and left < region and all(lies[other] for other in region):
                    found.add(frozenset((left, region - left)))
        splits = [tuple(sorted(both, key=min)) for both in found]
        halves[region] = tuple(
            (one, other) for one, other in splits if all(part <= one or not part & one for part in closed)
        )
        waiting += [half for both in halves[region] for half in both]
    return Cuts(halves, whole)


def _lie(line: tuple[Point, Point], polygon: Iterable[Point]) -> int:
    """-1 or 1 where a polygon lies on one side of a line; 0 where the line cuts it."""
    turns = [_turn(*line, point) for point in polygon]
    return -1 if max(turns) <= 0 else 1 if min(turns) >= 0 else 0


def tell_kind(draft: Draft, halves: tuple[Region, Region]) -> object:
    """The same for regions that hold equal patches and are split at the same place, whichever way they lie."""
    forms = []
    for turns in range(4):
        turned = [
            [[_rotate(point, turns) for point in draft.patches[place].corners] for place in half] for half in halves
        ]
        points = [point for half in turned for polygon in half for point in polygon]
        left, top = min(x for x, _ in points), min(y for _, y in points)
        told = []
        for half, polygons in zip(halves, turned, strict=True):
            outlines = [tuple(sorted((x - left, y - top) for x, y in _strip(polygon))) for polygon in polygons]
            told.append(tuple(sorted(zip((draft.patches[place].fabric for place in half), outlines, strict=True))))
        forms.append(tuple(sorted(told)))
    return min(forms)


def least_minutes(drafts: Iterable[Draft], trip: Fraction, pile: Fraction) -> Fraction | None:
    """The least that trips and piles can come to; None where there are too many regions to try."""
    program = Program()
    kinds: dict[object, int] = {}
    passes = program.variable(MOST_PASSES)
    for draft in drafts:
        cuts = find_regions(draft)
        if len(cuts.halves) > MOST_REGIONS:
            return None
        used = {region: program.variable() for region in cuts.halves}
        level = {region: program.variable(MOST_PASSES) for region in cuts.halves}
        for region, options in cuts.halves.items():
            chosen = []
            for halves in options:
                takes = program.variable()
                chosen.append(takes)
                kind = kinds.setdefault(tell_kind(draft, halves), -1)
                if kind < 0:
                    kind = kinds[tell_kind(draft, halves)] = program.variable()
                program.need({kind: 1, takes: -1}, least=0)
                for half in halves:
                    if len(half) > 1:
                        program.need({used[half]: 1, takes: -1}, least=0)
                        program.need({level[region]: 1, level[half]: -1, takes: -MOST_PASSES}, least=1 - MOST_PASSES)
            # one of its cuts where it is used at all
            program.need({**dict.fromkeys(chosen, 1.0), used[region]: -1}, least=0)
            program.need({level[region]: 1, used[region]: -1}, least=0)
        if len(cuts.whole) > 1:
            program.need({used[cuts.whole]: 1}, least=1)
            program.need({passes: 1, level[cuts.whole]: -1}, least=0)
    whole = trip.denominator * pile.denominator
    goal = {passes: float(trip * whole), **{kind: float(pile * whole) for kind in kinds.values()}}
    return Fraction(program.solve_least(goal), whole)


def find_least(plan: Plan) -> Fraction | None:
    handling = plan.project.handling
    drafts = [read_draft(block) for block in plan.blocks.drafted]
    return least_minutes(drafts, Fraction(handling.trip), Fraction(handling.pile))


# A layout of blocks is no draft
DRAFTS = [name for name, path in SAMPLES.items() if "\nquilt:" not in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("name", DRAFTS)
def test_the_samples_take_no_longer_than_a_second_solver_finds(name: str) -> None:
    plan = plan_sample(name)
    least = find_least(plan)
    assert least is not None
    assert plan.handled.minutes == least == plan.handled.at_least


def test_random_drafts_take_no_longer_than_a_second_solver_finds() -> None:
    for seed in range(20):
        plan = plan_it(draw_project(seed, 9, 2, 1))
        assert plan.handled.minutes == find_least(plan), seed
