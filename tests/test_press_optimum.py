"""Pressing is the optimum that it claims to be: on small drafts nothing that can be tried is better."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import product
from typing import Any, cast

import pytest
from brute_force import (
    Draft,
    Pressing,
    Tree,
    _judge,
    _weigh_bits,
    find_seams,
    judge_pressing,
    least_pressing,
    read_sewn,
)
from planned import draw_project, plan_it, plan_text, print_out
from press_drafts import write_grids, write_ring
from wishes_seen import Asked, Wishing

from planner.checks import plan_file
from planner.plan import Plan
from planner.project import WISHES, Project, Wish

RINGS = ((1, 1), (1, 2), (2, 1), (1, 2), (2, 1))


@cache
def draw_set(name: str) -> tuple[tuple[str, Plan], ...]:
    """Plans, each with the name of its draft: of random drafts small enough to try everything (the first seeds that
    are), of those with single copies and wishes to weigh, of grids of two fabrics, or of rings of seams."""
    if name == "drafts":
        return (*_draw_drafts(90, 1, 8, 3), *_draw_drafts(6, 9, 12, 3))
    if name == "single copies":
        return _draw_drafts(32, 4, 8, 1)
    if name == "grids":
        texts = [write_grids(random.Random(seed), 12 if seed < 10 else 9) for seed in range(60)]
    else:
        texts = [write_ring(random.Random(seed), *sizes) for seed, sizes in enumerate(RINGS)]
    return tuple((f"{name} {seed}", plan_text(text)) for seed, text in enumerate(texts))


def _draw_drafts(many: int, least: int, most: int, copies: int) -> tuple[tuple[str, Plan], ...]:
    """Plans of the first seeds with `least` to `most` seams in all copies together, each in at most so many copies."""
    found: list[tuple[str, Plan]] = []
    seed = 0
    while len(found) < many:
        plan = plan_it(draw_project(seed, 7, 2, copies))
        if least <= sum(count * len(plan.units.seams[drafted]) for drafted, count in plan.blocks.made) <= most:
            found.append((f"seed {seed}", plan))
        seed += 1
    return tuple(found)


def read_bits(printed: plan_file.Plan) -> tuple[int, ...]:
    """0 for each seam pressed to its side a, 1 for b."""
    return tuple(int(seam["press"] == "b") for seam in printed["seams"])


def weigh(sewn: tuple[tuple[Draft, Tree], ...]) -> Any:
    """As brute force weighs pressing, but with a number for each form: telling numbers apart takes no time."""
    weighed = _weigh_bits(sewn)
    numbers: dict[object, int] = {}
    seams = [
        (None if form is None else numbers.setdefault(form, len(numbers)), versions) for form, versions in weighed.seams
    ]
    return weighed._replace(seams=tuple(seams))


def find_least(sewn: tuple[tuple[Draft, Tree], ...]) -> Pressing:
    weighed = weigh(sewn)
    return min(_judge(weighed, bits) for bits in product((0, 1), repeat=len(weighed.seams)))


@pytest.mark.parametrize("name", ["drafts", "grids", "rings"])
def test_clashes_and_versions_are_as_few_as_can_be(name: str) -> None:
    for draft, plan in draw_set(name):
        printed = print_out(plan)
        sewn = read_sewn(printed)
        told = Pressing(plan.pressing.clashes, plan.pressing.two_ways, plan.pressing.second)
        assert judge_pressing(sewn, read_bits(printed)) == told, draft
        assert told == find_least(sewn), draft


def test_trying_everything_faster_finds_the_same() -> None:
    for _, plan in draw_set("grids")[10:20]:
        sewn = read_sewn(print_out(plan))
        assert find_least(sewn) == least_pressing(sewn)


def test_the_drafts_tried_have_what_the_levels_are_about() -> None:
    plans = [plan for name in ("drafts", "grids", "rings") for _, plan in draw_set(name)]
    assert len(plans) > 150
    assert sum(any(plan.joins.joins) for plan in plans) > 35
    assert sum(plan.pressing.clashes > 0 for plan in plans) == 4
    assert sum(plan.pressing.two_ways > 0 for plan in plans) > 10
    assert sum(plan.pressing.second > plan.pressing.two_ways for plan in plans) > 2


def draw_wished() -> Iterator[tuple[str, Project]]:
    """Projects whose wishes come in every order and number."""
    for place, (draft, plan) in enumerate((*draw_set("single copies"), *draw_set("grids")[10:40], *draw_set("rings"))):
        chance = random.Random(place)
        wishes = chance.sample(WISHES, chance.choice((1, 2, 3, 4, 5, 5, 5)))
        yield draft, replace(plan.project, prefer=cast(tuple[Wish, ...], tuple(wishes)))


def count_denied(printed: plan_file.Plan, asked: list[tuple[Asked, ...]], bits: tuple[int, ...]) -> tuple[int, ...]:
    """For each wish how many seams are not pressed as it says."""
    ways = {seam["id"]: "b" if bit else "a" for seam, bit in zip(printed["seams"], bits, strict=True)}
    return tuple(sum(any(ways[name] != side for name, side in one) for one in wish) for wish in asked)


def find_best(printed: plan_file.Plan, asked: list[tuple[Asked, ...]]) -> tuple[Pressing, tuple[int, ...]]:
    """The first in order of all that can be tried: clashes, versions, then what is denied of each wish."""
    weighed = weigh(read_sewn(printed))
    best: tuple[Pressing, tuple[int, ...]] | None = None
    for bits in product((0, 1), repeat=len(printed["seams"])):
        judged = _judge(weighed, bits)
        if best is None or judged <= best[0]:
            found = judged, count_denied(printed, asked, bits)
            best = found if best is None else min(best, found)
    assert best is not None
    return best


def ask_all(plan: Plan, printed: plan_file.Plan) -> list[tuple[Asked, ...]]:
    wishing = Wishing(plan, printed)
    return [wishing.ask(wish) for wish in plan.project.prefer]


def test_wishes_are_granted_in_their_order_as_far_as_they_can_be() -> None:
    denied = set()
    for draft, project in draw_wished():
        plan = plan_it(project)
        printed = print_out(plan)
        bits, asked = read_bits(printed), ask_all(plan, printed)
        found = judge_pressing(read_sewn(printed), bits), count_denied(printed, asked, bits)
        assert found == find_best(printed, asked), (draft, project.prefer)
        denied |= {wish for wish, cost in zip(project.prefer, found[1], strict=True) if cost}
    assert denied == set(WISHES), "each wish must give way somewhere, or its place in the order is not tried"


def test_the_order_of_the_wishes_decides_which_of_them_gives_way() -> None:
    decided = 0
    for _, drawn in draw_set("single copies"):
        costs = {}
        for prefer in (("dark", "plain"), ("plain", "dark")):
            plan = plan_it(replace(drawn.project, prefer=cast(tuple[Wish, ...], prefer)))
            printed = print_out(plan)
            denied = count_denied(printed, ask_all(plan, printed), read_bits(printed))
            costs[prefer] = dict(zip(prefer, denied, strict=True))
        dark_first, plain_first = costs["dark", "plain"], costs["plain", "dark"]
        assert dark_first["dark"] <= plain_first["dark"]
        assert plain_first["plain"] <= dark_first["plain"]
        decided += dark_first != plain_first
    assert decided > 3


def test_a_wish_comes_after_every_join_and_every_version() -> None:
    for _, plan in draw_set("single copies")[:20]:
        pressings = [plan_it(replace(plan.project, prefer=wishes)).pressing for wishes in ((), WISHES, WISHES[::-1])]
        assert len({(pressing.clashes, pressing.two_ways, pressing.second) for pressing in pressings}) == 1


@pytest.mark.parametrize(("left", "right", "toward"), [(1, 3, "shell"), (3, 1, "navy")])
def test_a_wish_is_counted_in_every_copy_of_a_block(left: int, right: int, toward: str) -> None:
    """One kind of pair that lies left of the middle in one block and right of it in the other: outward is toward the
    navy in the one, toward the shell in the other, and two versions are worse than either."""
    plan = plan_text(
        f"""
project: Outward
fabrics: {{navy: {{value: 5}}, shell: {{value: 5}}, coral: {{value: 5}}}}
blocks:
  ebb: {{size: 8 x 2, rows: [[pair, coral]]}}
  flow: {{size: 8 x 2, rows: [[coral, pair]]}}
parts:
  pair: {{rows: [[navy, shell]]}}
make: [{{block: ebb, count: {left}}}, {{block: flow, count: {right}}}]
press: {{prefer: [outward]}}
"""
    )
    printed = print_out(plan)
    fabric_of = {patch["id"]: patch["fabric"] for patch in printed["patches"]}
    pairs = [seam for seam in printed["seams"] if {seam["a"], seam["b"] or ""} <= fabric_of.keys()]
    assert {fabric_of[(seam["a"] if seam["press"] == "a" else seam["b"]) or ""] for seam in pairs} == {toward}
    assert len(pairs) == 4


def test_the_seams_of_the_json_come_in_the_order_of_brute_force() -> None:
    for _, plan in draw_set("single copies"):
        printed = print_out(plan)
        seams = [seam for draft, tree in read_sewn(printed) for seam in find_seams(draft, tree)]
        ends = [{seen.start, seen.end} for seen in Wishing(plan, printed).seams.values()]
        assert [set(seam.ends) for seam in seams] == ends
        assert all(isinstance(number, Fraction) for seam in ends for point in seam for number in point)
