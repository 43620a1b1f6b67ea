"""Kinds of seam in random drafts with turns and slits: judged by laying units on each other, and turned as a whole."""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import cache
from typing import Any

import pytest
from fewest_seams import Point, draw_order
from merged_faces import draw_draft
from write_order import write_steps

from planner.checks.plan_file import Plan
from planner.checks.read_plan import read_work
from planner.checks.rooted import Number, Rooted, divide
from planner.checks.surd import read_rooted
from planner.checks.tell_kinds import tell_kinds

SEEDS = range(60)


@cache
def draw(seed: int) -> Plan:
    chance = random.Random(seed)
    order = None
    while order is None:
        patches = draw_draft(chance, most_patches=9)
        order = draw_order(patches, chance)
    return write_steps(patches, order.steps)


def tell_forms(plan: Plan) -> list[int]:
    work, complaints = read_work(plan)
    assert work is not None, complaints
    return [kind.form for kind in tell_kinds(work)]


def move_points(plan: Plan, move: Callable[[Point], Point]) -> Any:
    """The same with every point elsewhere; what is not read for kinds stays."""

    def put(texts: Any) -> list[str]:
        x, y = map(read_rooted, texts)
        return [str(number) for number in move((x, y))]

    patches = [{**patch, "corners": list(map(put, patch["corners"]))} for patch in plan["patches"]]
    seams = []
    for seam in plan["seams"]:
        legs = {"legs": [list(map(put, leg)) for leg in seam["legs"]]} if "legs" in seam else {}
        seams.append({**seam, "from": put(seam["from"]), "to": put(seam["to"]), **legs})
    return {**plan, "patches": patches, "seams": seams}


def put_together(one: Plan, other: Plan) -> Any:
    """Both in one plan, the names of the other with an x after them."""
    added: dict[str, list[Any]] = {"patches": list(other["patches"]), "seams": list(other["seams"])}
    for entries in added.values():
        for place, entry in enumerate(entries):
            names = {key: f"{entry[key]}x" for key in ("id", "block", "a", "b", "closes") if entry.get(key)}
            entries[place] = entry | names
    return {
        **one,
        "blocks": [*one["blocks"], {**other["blocks"][0], "id": "b1x"}],
        "patches": [*one["patches"], *added["patches"]],
        "seams": [*one["seams"], *added["seams"]],
    }


def turn_by(cosine: Number, sine: Number) -> Callable[[Point], Point]:
    return lambda point: (
        divide(point[0] * cosine - point[1] * sine, 2),
        divide(point[0] * sine + point[1] * cosine, 2),
    )


ROOT_2, ROOT_3 = Rooted(0, 1, 2), Rooted(0, 1, 3)
TURNS: dict[str, tuple[Number, Number]] = {  # cosine and sine, twice
    "90": (0, 2),
    "180": (-2, 0),
    "45": (ROOT_2, ROOT_2),
    "315": (ROOT_2, -ROOT_2),
    "30": (ROOT_3, 1),
    "60": (1, ROOT_3),
}


@pytest.mark.parametrize("turn", TURNS)
def test_what_is_turned_as_a_whole_is_sewn_in_the_same_batches(turn: str) -> None:
    for seed in SEEDS:
        plan = draw(seed)
        # between whole quarters the halves of squares are other patches
        if turn not in ("90", "180") and any(len(patch["corners"]) == 3 for patch in plan["patches"]):
            continue
        forms = tell_forms(put_together(plan, move_points(plan, turn_by(*TURNS[turn]))))
        assert forms[: len(forms) // 2] == forms[len(forms) // 2 :]


def test_what_is_mirrored_is_the_same_only_where_it_looks_so() -> None:
    """Judged by laying units on each other; most that are mirrored are others."""
    differ = 0
    for seed in SEEDS:
        plan = draw(seed)
        mirrored = put_together(plan, move_points(plan, lambda point: (-point[0], point[1])))
        forms = tell_forms(mirrored)
        differ += sum(one != other for one, other in zip(forms, forms[len(forms) // 2 :], strict=False))
    assert differ > 100


@pytest.mark.parametrize("seed", SEEDS)
def test_two_seams_are_of_one_kind_just_where_their_sides_can_be_laid_on_each_other(seed: int) -> None:
    plan = put_together(draw(seed), move_points(draw(seed), lambda point: (-point[0], point[1])))
    forms = tell_forms(plan)
    looks = [look_at(plan, place) for place in range(len(plan["seams"]))]
    for one in range(len(forms)):
        for other in range(one):
            is_same = any(turned == looks[other][0] for turned in looks[one])
            assert (forms[one] == forms[other]) == is_same, (plan["seams"][one]["id"], plan["seams"][other]["id"])


def look_at(plan: Plan, place: int) -> list[object]:
    """What is sewn by a seam, as it looks after none, one, two and three quarter turns: its sides, each with its
    patches and the lines sewn in it, and how far it is sewn itself where that is not all of the border."""
    outlines = {patch["id"]: [read_point(point) for point in patch["corners"]] for patch in plan["patches"]}
    seams = {seam["id"]: seam for seam in plan["seams"]}
    seam = plan["seams"][place]
    sides = [list_inside(name, seams) for name in (seam["a"], seam["b"]) if name]
    corners = [point for side in sides for name in side if name in outlines for point in outlines[name]]
    looks: list[object] = []
    for _ in range(4):
        low = min(x for x, _ in corners), min(y for _, y in corners)
        held = []
        for side in sides:
            closed = [seams[name]["closes"] for name in side if name in seams and "closes" in seams[name]]
            patches = frozenset(move(outlines[name], low) for name in side if name in outlines)
            ways = [way_of(seams[name], seams) for name in side if name in seams and name not in closed]
            held.append((patches, frozenset(move([turn(point, len(looks)) for point in way], low) for way in ways)))
        own = [turn(point, len(looks)) for point in way_of(seam, {})]
        is_told = seam.get("partial") or "closes" in seam
        looks.append((frozenset(held), len(held), move(own, low) if is_told else None))
        corners = [turn(point, 1) for point in corners]
        outlines = {name: [turn(point, 1) for point in outline] for name, outline in outlines.items()}
    return looks


def list_inside(name: str, seams: dict[str, Any]) -> list[str]:
    if name not in seams:
        return [name]
    return [
        name,
        *(inner for side in (seams[name]["a"], seams[name]["b"]) if side for inner in list_inside(side, seams)),
    ]


def way_of(seam: Any, seams: dict[str, Any]) -> list[Point]:
    """The corners of a seam from end to end; of one that closes another of both, if that can be looked up."""
    ends = [seam["from"], *(leg[1] for leg in seam.get("legs", [])[:-1]), seam["to"]]
    if seam.get("closes") in seams:
        part = way_of(seams[seam["closes"]], {})
        stop, end = map(read_point, ends)
        assert stop == part[-1]
        return [*part[:-1], end]
    return [read_point(point) for point in ends]


def read_point(texts: Any) -> Point:
    x, y = map(read_rooted, texts)
    return x, y


def turn(point: Point, quarters: int) -> Point:
    for _ in range(quarters):
        point = -point[1], point[0]
    return point


def move(points: list[Point], low: Point) -> frozenset[Point]:
    """Points as seen from a corner. No two patches have the same corners, nor two ways."""
    return frozenset((x - low[0], y - low[1]) for x, y in points)
