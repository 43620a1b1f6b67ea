"""The checkers against an exhaustive search: random drafts of any patches, sewn in random orders with turns and slits.

What the search allows the checkers accept; what it does not allow they complain of; and they match the same points.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import cache

import pytest
from fewest_seams import Draft, Order, Point, State, Step, draw_order
from match_points import MatchPoint, find_match_points
from merged_faces import Polygon, draw_draft
from write_order import write_steps

from planner.checks.check_joins import why_joins_wrong
from planner.checks.check_order import why_not_covered, why_not_sewable
from planner.checks.plan_file import Plan, PlanJoin
from planner.checks.read_plan import read_work

SEEDS = range(120)


@cache
def draw(seed: int) -> tuple[tuple[Polygon, ...], Order, Plan]:
    """A draft that can be sewn, an order of it, and that as a plan, pressed by chance."""
    chance = random.Random(seed)
    order = None
    while order is None:
        patches = draw_draft(chance, most_patches=8)
        order = draw_order(patches, chance)
    plan = write_steps(patches, order.steps, "".join(chance.choice("ab") for _ in order.steps))
    return patches, order, plan


@pytest.mark.parametrize("seed", SEEDS)
def test_whatever_order_the_search_allows_is_sewable(seed: int) -> None:
    assert why_not_sewable(draw(seed)[2]) == ()


def follow(patches: tuple[Polygon, ...], steps: list[Step]) -> tuple[list[Step], bool] | None:
    """The same seams, whether or not they can be sewn so, and whether all can; None where a side is not there. A step
    without a way closes a slit as far as it is open then."""
    draft = Draft(patches)
    state: State = draft.begin()
    followed, is_allowed = [], True
    for step in steps:
        slits = [slit for slit in state.slits if step.slit and slit.line[:2] == step.slit.line[:2]]
        if not ({step.a, step.b} <= state.units if step.b else slits):
            return None
        if not step.b:
            way = step.way or (slits[0].line[0], slits[0].mouth)
            step = step._replace(a=state.find_unit(slits[0]), way=way)
        able = [one for one in draft.list_steps(state) if is_same(one, step)]
        is_allowed = is_allowed and bool(able)
        if able:
            state = state.take(able[0])
        elif step.b:
            state = state.take(step)
        else:
            state = state._replace(slits=state.slits - {slits[0]})
        followed.append(step)
    return followed, is_allowed and state.is_finished


def is_same(one: Step, other: Step) -> bool:
    lines = [step.slit.line[:2] if step.slit else None for step in (one, other)]
    ways = (other.way, other.way[::-1])
    return (one.a, one.b) == (other.a, other.b) and one.way in ways and lines[0] == lines[1]


def swap_two(patches: tuple[Polygon, ...], order: Order, chance: random.Random) -> list[Step]:
    steps = list(order.steps)
    place = chance.randrange(len(steps) - 1)
    steps[place], steps[place + 1] = steps[place + 1], steps[place]
    return steps


def sew_otherwise(patches: tuple[Polygon, ...], order: Order, chance: random.Random) -> list[Step]:
    """One seam in part instead of whole, whole instead of in part, or in part from its other end; then on as before."""
    draft, steps = Draft(patches), list(order.steps)
    place = chance.choice([place for place, step in enumerate(steps) if step.b])
    state = draft.begin()
    for step in steps[:place]:
        state = state.take(step)
    told = steps[place]
    others = [one for one in draft.list_steps(state) if (one.a, one.b) == (told.a, told.b) and not is_same(one, told)]
    if not others:
        return steps
    other = chance.choice(others)
    rest = [step for step in steps[place + 1 :] if not closes(step, told)]
    if other.slit:
        rest.insert(chance.randint(0, len(rest)), Step(other.a | other.b, frozenset(), (), other.slit))
    return [*steps[:place], other, *rest]


def closes(step: Step, begun: Step) -> bool:
    return not step.b and step.slit is not None and begun.slit is not None and step.slit.line[:2] == begun.slit.line[:2]


def close_at_another_time(patches: tuple[Polygon, ...], order: Order, chance: random.Random) -> list[Step]:
    steps = list(order.steps)
    closing = [place for place, step in enumerate(steps) if not step.b]
    if closing:
        step = steps.pop(chance.choice(closing))
        (begun,) = [place for place, other in enumerate(steps) if closes(step, other)]
        steps.insert(chance.randint(begun + 1, len(steps)), step)
    return steps


def tell_another_way(patches: tuple[Polygon, ...], order: Order, chance: random.Random) -> list[Step]:
    """One seam, or the rest of one, that ends elsewhere; of one sewn in part the whole is not told."""
    steps = list(order.steps)
    place = chance.choice([place for place, step in enumerate(steps) if not (step.b and step.slit)])
    way = steps[place].way
    corners = [corner for outline in patches for corner in outline if corner not in way]
    steps[place] = steps[place]._replace(way=way[:-1] if len(way) > 2 else (way[0], chance.choice(corners)))
    return steps


def test_seams_in_another_order_are_judged_as_the_search_judges_them() -> None:
    judged: Counter[bool] = Counter()
    for seed in SEEDS:
        patches, order, _ = draw(seed)
        chance = random.Random(seed)
        for change in (swap_two, close_at_another_time, sew_otherwise, sew_otherwise, tell_another_way):
            followed = follow(patches, change(patches, order, chance)) if len(order.steps) > 1 else None
            if followed is not None:
                steps, is_allowed = followed
                complaints = why_not_sewable(write_steps(patches, steps))
                assert (complaints == ()) == is_allowed, (seed, change)
                judged[is_allowed] += 1
    assert min(judged[True], judged[False]) > 20


@pytest.mark.parametrize("seed", SEEDS)
def test_the_points_to_match_are_those_that_a_walk_round_them_finds(seed: int) -> None:
    plan = draw(seed)[2]
    joins = [write_join(seam, at, met) for (seam, at), met in find_match_points(plan).items()]
    assert why_joins_wrong({**plan, "joins": joins}) == ()
    for place in range(len(joins)):
        assert len(why_joins_wrong({**plan, "joins": [*joins[:place], *joins[place + 1 :]]})) == 1


def write_join(seam: str, at: Point, met: MatchPoint) -> PlanJoin:
    why = "" if met.nests else "both fall one way"
    return {"seam": seam, "at": [*map(str, at)], "a": met.a, "b": met.b, "nests": met.nests, "why": why}


def test_random_plans_show_what_they_are_to_show() -> None:
    seen: Counter[str] = Counter()
    for seed in SEEDS:
        _, order, plan = draw(seed)
        seams = {seam["id"]: seam for seam in plan["seams"]}
        seen["turns"] += order.cost.turns
        seen["partial seams"] += order.cost.partials
        for (name, _), met in find_match_points(plan).items():
            seen["matched where one is closed"] += "closes" in seams[name]
            seen["matched where one is set in"] += "legs" in seams[name]
            seen["nesting" if met.nests else "clashing"] += 1
    assert all(seen[what] > 10 for what in seen)
    assert len(seen) == 6


def test_a_border_that_no_seam_goes_along_is_told_whatever_else_was_found() -> None:
    for seed in SEEDS:
        work, _ = read_work(draw(seed)[2])
        assert work is not None
        assert list(why_not_covered(work)) == []
        for place in range(len(work.seams)):
            left_out = work._replace(seams=(*work.seams[:place], *work.seams[place + 1 :]))
            assert len(list(why_not_covered(left_out))) == 1
            twice = work._replace(seams=(*work.seams, work.seams[place]))
            assert len(list(why_not_covered(twice))) == 1
