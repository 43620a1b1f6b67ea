"""Are a plan's joins right, and why not: where seams of both sides meet, and whether their allowances nest."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from planner.checks.find_meetings import Joins, falls_ahead, find_meetings
from planner.checks.plan_file import Plan, PlanCount, PlanJoin
from planner.checks.read_plan import Point, Work, read_work
from planner.checks.sew_outlines import Sewn, sew_outlines
from planner.checks.surd import read_rooted
from planner.checks.tell_kinds import tell_kinds


class Versions(NamedTuple):
    """How many kinds of unit are pressed two ways, and how many units lie in their second (smaller) piles."""

    kinds: int
    in_second_piles: int


def why_joins_wrong(plan: Plan) -> tuple[str, ...]:
    """What is wrong with the joins of a sewable plan: missing, not there, of other seams, or nesting wrongly told."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    sewn = sew_outlines(work)
    joins = find_meetings(work, sewn)
    return (*_compare(plan, work, joins), *_check_spins(work, sewn, joins), *_check_proof(plan))


def count_clashes(plan: Plan) -> int:
    """Joins whose allowances fall the same way, open ones aside; recomputed from seams and their pressing.

    ValueError where the plan can't be followed.
    """
    work, complaints = read_work(plan)
    if work is None:
        raise ValueError(complaints[0])
    return sum(not met.nests and not met.is_open for met in find_meetings(work, sew_outlines(work)).values())


def count_versions(plan: Plan) -> Versions:
    """Kinds whose own last seam is pressed to one side in some units and to the other in the rest.

    A unit that a half turn carries onto itself is turned, and has one version. ValueError as `count_clashes`.
    """
    work, complaints = read_work(plan)
    if work is None:
        raise ValueError(complaints[0])
    piles: dict[int, Counter[object]] = defaultdict(Counter)
    for kind in tell_kinds(work):
        if kind.pressed_to is not None and not kind.looks_turned_the_same:
            piles[kind.form][kind.pressed_to] += 1
    second = [pile.total() - max(pile.values()) for pile in piles.values() if len(pile) > 1]
    return Versions(len(second), sum(second))


def _check_spins(work: Work, sewn: Sewn, joins: Joins) -> Iterator[str]:
    """Complaints of spun seams: at their only join all four allowances run round the point."""
    for place, seam in enumerate(work.seams):
        if seam.spin is None:
            continue
        met = [(point, one) for (other, point), one in joins.items() if other == place]
        if [point for point, _ in met] != [seam.spin]:
            yield f"seam {seam.id}: it is spun at {work.spell(seam.spin)}, which is not its only join"
        elif not met[0][1].nests or seam.press == "open":
            yield f"seam {seam.id}: it is spun at {work.spell(seam.spin)}, where the seams do not nest"
        else:
            # what crosses on side a falls along the half that falls on from a to b, and so round
            does_a_fall_on = falls_ahead(work, sewn, met[0][1].a, place, seam.spin, "a")
            if (seam.press == "a") != does_a_fall_on:
                yield f"seam {seam.id}: the allowances do not run round {work.spell(seam.spin)}"


def _compare(plan: Plan, work: Work, joins: Joins) -> Iterator[str]:
    places = {seam.id: place for place, seam in enumerate(work.seams)}
    told: set[tuple[int, Point]] = set()
    for join in plan["joins"]:
        where = f"join of {join['seam']} at {', '.join(join['at'])}"
        point = _read_point(work, join)
        key = None if point is None or join["seam"] not in places else (places[join["seam"]], point)
        met = None if key is None else joins.get(key)
        if key is None or met is None:
            yield f"{where}: no seams of both sides end there"
            continue
        if key in told:
            yield f"{where}: it is told twice"
        told.add(key)
        a, b = work.seams[met.a].id, work.seams[met.b].id
        if (join["a"], join["b"]) != (a, b):
            yield f"{where}: a and b are {join['a']} and {join['b']}, and should be {a} and {b}"
        if join["nests"] != met.nests:
            yield f"{where}: it {'nests' if met.nests else 'does not nest'}"
        if (join["why"] == "open") != met.is_open:
            yield f"{where}: why is '{join['why']}', and a seam is {'' if met.is_open else 'not '}open"
    for (seam, point), met in joins.items():
        if (seam, point) not in told:
            pair = f"{work.seams[met.a].id} and {work.seams[met.b].id}"
            yield f"join of {work.seams[seam].id} at {work.spell(point)}: it is missing, of {pair}"


def _read_point(work: Work, join: PlanJoin) -> Point | None:
    """The point in steps; None where it is none."""
    try:
        x, y = (read_rooted(text) * work.scale for text in join["at"])
    except ValueError:
        return None
    return x, y


def _check_proof(plan: Plan) -> Iterator[str]:
    proof = plan.get("proof", {})
    if "clashes" in proof:
        yield from _check_count("clashes", proof["clashes"], count_clashes(plan))
    if "versions" in proof:
        yield from _check_count("versions", proof["versions"], count_versions(plan).kinds)


def _check_count(name: str, told: PlanCount, count: int) -> Iterator[str]:
    if told["count"] != count:
        yield f"proof: {name} are {told['count']}, and should be {count}"
    if told["at_least"] > told["count"]:
        yield f"proof: {name} can't be fewer than they must be"
