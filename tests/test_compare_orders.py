"""Orders to choose from: what is told of each comes out when it is chosen, and why the plan takes its own."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest
from planned import SAMPLES, draw_project, plan_it, plan_sample, plan_text, print_out
from points import read_point
from test_passes import STEPS, write_strips

from planner.compare_orders import Orders, compare_orders
from planner.measure import read_number
from planner.plan import Plan, plan_project
from planner.print_orders import WIDTH, describe_orders, print_orders
from planner.project import Joining

HEAD = """\
project: Inlet
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  four: {size: 6, rows: [[navy, shell], [shell, coral]]}
  rails: {size: 6, rows: [[navy], [shell], [coral]]}
"""
QUILTS = {
    "checkered": "[[four, rails, four], [rails, four, rails], [four, rails, four], [rails, four, rails]]",
    "one row": "[[four, rails, four, four, rails]]",
    "alike": "[[four, four, four, four], [four, four, four, four]]",
    "with strips": "[[four, rails], [rails, four]]\n  sashing: {width: 1, fabric: navy, posts: shell}",
    "on point": "[[four, four], [rails], [four, four]]\n  layout: on point\n  setting: navy",
}


def plan_quilt(name: str, more: str = "") -> Plan:
    return plan_text(f"{HEAD}quilt:\n  rows: {QUILTS[name]}\n{more}")


def choose(plan: Plan, joining: Joining | None, passes: int | None = None) -> Plan:
    """The plan where the maker chooses: how to join the quilt, and so many passes."""
    project = replace(plan.project, handling=replace(plan.project.handling, passes=passes))
    if project.quilt is not None:
        project = replace(project, quilt=replace(project.quilt, joining=joining))
    return plan_it(project)


@cache
def read_all() -> tuple[tuple[Plan, Orders], ...]:
    plans = [plan_sample(name) for name in SAMPLES]
    plans += [plan_it(draw_project(seed, 20, 2, 2)) for seed in range(6)]
    plans += [plan_text(write_strips(random.Random(seed))) for seed in range(12)]
    plans += [plan_quilt(name) for name in QUILTS]
    return tuple((plan, compare_orders(plan)) for plan in plans)


def test_each_number_of_passes_comes_out_when_it_is_chosen() -> None:
    several = 0
    for plan, orders in read_all():
        passes = [one.passes for one in orders.front]
        assert passes == list(range(passes[0], passes[-1] + 1))
        top = plan.units.cuts.blocks.top
        for one in orders.front:
            chosen = choose(plan, top.joining if top else None, one.passes)
            assert chosen.handled.kinds == one.kinds or not one.is_proven
            assert one.minutes == plan.project.handling.trip * one.passes + plan.project.handling.pile * one.kinds
        if passes[0] > 1:
            fewer = replace(plan.project, handling=replace(plan.project.handling, passes=passes[0] - 1))
            assert plan_project(fewer)[0] is None
        several += len(orders.front) > 1
    assert several > 2


def test_the_plan_s_own_is_marked_and_no_other_takes_less_time() -> None:
    for plan, orders in read_all():
        (taken,) = [one for one in orders.front if one.is_taken]
        assert (taken.passes, taken.kinds, taken.minutes) == plan.handled[:3]
        assert all(one.minutes >= taken.minutes for one in orders.front)


def test_each_way_to_join_comes_out_when_it_is_chosen() -> None:
    for name in QUILTS:
        plan = plan_quilt(name)
        orders = compare_orders(plan)
        assert [way.joining for way in orders.ways if way.joining] == ["rows", "quarters", "webbed"]
        (taken,) = [way for way in orders.ways if way.is_taken]
        for way in orders.ways:
            assert not way.why_not
            chosen = choose(plan, way.joining) if way.joining else plan
            assert (way.passes, way.kinds, way.minutes, way.at_least) == chosen.handled
            assert way.minutes >= taken.minutes
            assert way.square == sum_squares(chosen), "sums the seams that the JSON has"


def sum_squares(plan: Plan) -> Fraction:
    """Squared lengths, in square feet, of the seams that no block holds."""
    total = Fraction(0)
    for seam in print_out(plan)["seams"]:
        if seam["block"] is None:
            start, end = read_point(seam["from"]), read_point(seam["to"])
            total += (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2
    return total / 144


def test_what_the_maker_chose_is_the_plan_s_own() -> None:
    for joining in ("rows", "quarters", "webbed"):
        plan = plan_quilt("checkered", f"  joining: {joining}\n")
        orders = compare_orders(plan)
        assert [way.joining for way in orders.ways if way.is_taken] == [joining]
        assert len(orders.ways) == 3
        assert orders.why_joined.startswith("as you chose")


def test_a_way_that_takes_more_passes_than_allowed_says_so() -> None:
    ways = compare_orders(plan_quilt("one row")).ways
    least = min(way.passes for way in ways)
    plan = plan_quilt("one row", f"handling: {{passes: {least}}}\n")
    for way in compare_orders(plan).ways:
        chosen = replace(plan.project.quilt, joining=way.joining) if plan.project.quilt else None
        _, faults = plan_project(replace(plan.project, quilt=chosen))
        assert way.why_not == (faults[0].words if faults else "")


def say(text: str) -> Orders:
    return compare_orders(plan_text(text))


def test_why_so_many_passes_is_said_in_kinds_and_minutes() -> None:
    dear = STEPS + "handling: {trip: 1/2, pile: 9}\n"
    assert say(STEPS).why == "these are the fewest passes, and more of them save no kind"
    found = {
        say(write_strips(random.Random(seed)) + f"handling: {{trip: {trip}}}\n").why
        for seed in range(12)
        for trip in (1, 3)
    }
    assert "one pass more saves 1 kind: 2 minutes for 1" in found
    assert "the fewest passes take the least time; one pass more saves 1 kind: 2 minutes for 3" in found
    assert say(dear).front[0].is_taken
    assert (
        say(STEPS + "handling: {passes: 3}\n").why == "you allow 3 passes, and no fewer kinds are possible in so many"
    )
    assert say(STEPS + "handling: {passes: 9}\n").why.endswith("; in 3 already there are as few")


def test_why_it_is_joined_so_names_the_next_best() -> None:
    assert {compare_orders(plan_quilt(name)).why_joined for name in QUILTS} >= {
        "by quarters takes as long, and is as good"
    }
    less = compare_orders(plan_quilt("checkered", "  joining: webbed\n"))
    webbed, best = (way for way in less.ways if way.is_taken), min(way.minutes for way in less.ways)
    more = next(webbed).minutes - best
    assert ("minute" in less.why_joined) == (more > 0)


@pytest.mark.parametrize("name", [*QUILTS, *SAMPLES])
def test_the_words_fit_sixty_columns_and_the_object_says_the_same(name: str) -> None:
    plan = plan_quilt(name) if name in QUILTS else plan_sample(name)
    orders = compare_orders(plan)
    lines = list(print_orders(plan, orders))
    assert all(len(line) <= WIDTH and line == line.rstrip() for line in lines)
    assert sum(line.startswith("> ") for line in lines) == (2 if orders.ways else 1)
    told = json.loads(json.dumps(describe_orders(orders)))
    assert [entry["kinds"] for entry in told["passes"]] == [one.kinds for one in orders.front]
    (taken,) = [entry for entry in told["passes"] if entry["taken"]]
    assert read_number(taken["minutes"]) == plan.handled.minutes
    assert [entry["joining"] for entry in told["joining"]] == [way.joining for way in orders.ways]
    assert (told["why_joined"] is None) == (plan.blocks.top is None)


def test_areas_are_told_in_the_project_s_own_measure() -> None:
    """The same quilt, written in inches and in centimetres: 1 square foot is 0.09290304 square metres by definition."""
    text = f"{HEAD}quilt:\n  rows: {QUILTS['checkered']}\n"
    head = "project: Inlet\nmeasure: cm\nseam: 0.635"
    metric = text.replace("project: Inlet", head).replace("size: 6", "size: 15.24")
    shown = []
    for plan, unit in ((plan_text(text), "square feet"), (plan_text(metric), "square metres")):
        orders = compare_orders(plan)
        lines = list(print_orders(plan, orders))
        words = " ".join(lines)
        assert unit in words
        assert [other for other in ("feet", "metres", "inch", "cm") if other in words] == unit.split()[1:]
        rows = lines[next(n for n, line in enumerate(lines) if line.split()[:1] == ["joined"]) + 1 :]
        shown.append([Fraction(row.split()[-1]) for row in rows[: len(orders.ways)]])
    assert shown[0] != shown[1]
    for feet, metres in zip(*shown, strict=True):
        assert abs(feet * Fraction("0.09290304") - metres) < Fraction("0.01")


def test_what_is_not_proven_is_said_to_be_found() -> None:
    plan = plan_text(write_strips(random.Random(1)))
    orders = compare_orders(plan)
    unsure = orders._replace(front=tuple(one._replace(at_least=one.kinds - 1) for one in orders.front))
    lines = list(print_orders(plan, unsure))
    assert any(line.endswith(f"best found, at least {orders.front[0].kinds - 1}") for line in lines)
