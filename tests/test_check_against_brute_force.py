"""Checkers and brute force share no code: on random plans both say the same, and a broken plan is found out."""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import deepcopy
from fractions import Fraction
from typing import Any

import pytest
from brute_force import Draft, Patch, Tree, enumerate_trees, judge_pressing, read_sewn
from drafts import cut_box
from write_plan import write_plan

from planner.checks.check_batches import why_not_grouped
from planner.checks.check_cut_list import why_not_cut
from planner.checks.check_joins import count_clashes, count_versions, why_joins_wrong
from planner.checks.check_order import why_not_sewable
from planner.checks.plan_file import Plan

FABRICS = ("navy", "shell")
SEEDS = range(25)
CHECKS = (why_not_sewable, why_not_grouped, why_joins_wrong, why_not_cut)


def draw_grid(chance: random.Random) -> Draft:
    """Squares of 3, some of them cut once across their corners."""
    patches = []
    wide, high = chance.randint(1, 3), chance.randint(1, 3)
    for x in range(wide):
        for y in range(high):
            square = [(Fraction(3 * (x + i)), Fraction(3 * (y + j))) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))]
            first = chance.choice((0, 1))  # the corner the cut begins at
            square = square[first:] + square[:first]
            halves = chance.choice(([square], [square[:3], [*square[2:], square[0]]]))
            patches += [Patch(chance.choice(FABRICS), tuple(half)) for half in halves]
    return Draft(tuple(patches))


def draw_sewn(chance: random.Random) -> list[tuple[Draft, Tree]]:
    """One or two blocks, each once or in two trees."""
    sewn: list[tuple[Draft, Tree]] = []
    while not sewn or chance.random() < 0.4:
        pieces = cut_box(chance, Fraction(12), Fraction(chance.choice(("9", "13/2", "12"))), chance.randint(1, 7))
        cut = Draft(tuple(Patch(chance.choice(FABRICS), tuple(piece)) for piece in pieces))
        draft = chance.choice((cut, draw_grid(chance)))
        if len(draft.patches) <= 8:
            trees = enumerate_trees(draft)
            sewn += [(draft, chance.choice(trees)) for _ in range(chance.randint(1, 2))]
    return sewn


def draw_plan(seed: int) -> tuple[Plan, list[tuple[Draft, Tree]], tuple[int, ...]]:
    chance = random.Random(seed)
    sewn = draw_sewn(chance)
    bits = tuple(chance.randint(0, 1) for draft, _ in sewn for _ in draft.patches[1:])
    return write_plan(sewn, bits, Fraction(chance.choice(("1/4", "3/8")))), sewn, bits


@pytest.mark.parametrize("seed", SEEDS)
def test_a_plan_made_by_brute_force_is_right(seed: int) -> None:
    plan, sewn, bits = draw_plan(seed)
    assert [check(plan) for check in CHECKS] == [(), (), (), ()]
    judged = judge_pressing(tuple(sewn), bits)
    assert (count_clashes(plan), *count_versions(plan)) == judged
    assert read_sewn(plan) == tuple((Draft(draft.patches), tree) for draft, tree in sewn)


def test_random_plans_show_what_they_are_to_show() -> None:
    plans = [draw_plan(seed)[0] for seed in SEEDS]
    assert {entry["shape"] for plan in plans for entry in plan["cut"]} >= {
        "square",
        "rectangle",
        "half-square triangle",
        "other",
    }
    assert any(len(batch["seams"]) > 2 for plan in plans for batch in plan["batches"])
    assert {join["nests"] for plan in plans for join in plan["joins"]} == {True, False}
    assert any(count_versions(plan).kinds for plan in plans)


@pytest.mark.parametrize("seed", SEEDS)
def test_one_seam_pressed_the_other_way_changes_what_brute_force_says_it_changes(seed: int) -> None:
    plan, sewn, bits = draw_plan(seed)
    for place, seam in enumerate(plan["seams"]):
        other: Any = deepcopy(plan)
        other["seams"][place]["press"] = "a" if seam["press"] == "b" else "b"
        flipped = (*bits[:place], 1 - bits[place], *bits[place + 1 :])
        assert (count_clashes(other), *count_versions(other)) == judge_pressing(tuple(sewn), flipped)
        touched = [join for join in plan["joins"] if seam["id"] in (join["a"], join["b"])]
        assert len(why_joins_wrong(other)) == len(touched)


@pytest.mark.parametrize("seed", SEEDS)
def test_any_one_thing_broken_is_found_out(seed: int) -> None:
    plan, _, _ = draw_plan(seed)
    chance = random.Random(seed)
    if not plan["seams"]:
        return
    ways: list[tuple[Callable[[Plan], tuple[str, ...]], str, Callable[[Any], object]]] = [
        (why_not_sewable, "patches", lambda patch: patch["corners"][0].__setitem__(0, "1/17")),
        (why_not_sewable, "seams", lambda seam: seam.update(to=["1/17", seam["to"][1]])),
        (why_not_grouped, "batches", lambda batch: batch["seams"].pop()),
        (why_not_grouped, "batches", lambda batch: batch.update({"pass": batch["pass"] + 1})),
        (why_not_grouped, "batches", lambda batch: batch.update(unfinished=["3", "97"])),
        (why_joins_wrong, "joins", lambda join: join.update(nests=not join["nests"])),
        (why_joins_wrong, "joins", lambda join: join.update(a=join["b"])),
        (why_joins_wrong, "joins", lambda join: join["at"].__setitem__(1, "1/17")),
        (why_not_cut, "cut", lambda entry: entry.update(count=entry["count"] + 1)),
        (why_not_cut, "cut", lambda entry: entry.update(cut=["3", "97"])),
        (why_not_cut, "cut", lambda entry: entry["corners"][0].__setitem__(0, "97")),
        (why_not_cut, "patches", lambda patch: patch.update(fabric="shell" if patch["fabric"] == "navy" else "navy")),
    ]
    for check, part, break_one in ways:
        other: Any = deepcopy(plan)
        other["fabrics"] = [{"id": fabric, "value": "dark", "weight": "light"} for fabric in FABRICS]
        if not other[part]:
            continue
        before = check(other)
        break_one(chance.choice(other[part]))
        assert len(check(other)) > len(before), (check, part)


def test_a_batch_taken_apart_or_two_put_together_are_found_out() -> None:
    for seed in SEEDS:
        plan, _, _ = draw_plan(seed)
        for place, batch in enumerate(plan["batches"]):
            other: Any = deepcopy(plan)
            if len(batch["seams"]) > 1:
                moved = other["batches"][place]["seams"].pop()
                other["batches"].append(other["batches"][place] | {"id": "new", "seams": [moved]})
                assert "is identical to" in why_not_grouped(other)[0]
            elif place:
                other["batches"][0]["seams"] += other["batches"].pop(place)["seams"]
                assert len(why_not_grouped(other)) == 1
