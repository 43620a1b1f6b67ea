"""Are a plan's joins right, and why not: where seams of both sides meet, and whether their allowances nest."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.checks.plan_file import Plan, PlanCount, PlanJoin
from planner.checks.read_plan import Outline, Point, SeamRead, Work, cross, find_firsts, is_beyond, read_work
from planner.checks.surd import read_rooted
from planner.checks.tell_kinds import tell_kinds


class Versions(NamedTuple):
    """How many kinds of unit are pressed two ways, and how many units lie in their second (smaller) piles."""

    kinds: int
    in_second_piles: int


class _Met(NamedTuple):
    """A join as the geometry has it: the seams of both sides, by their places among the seams."""

    a: int
    b: int
    nests: bool
    is_open: bool


_Joins = dict[tuple[int, Point], _Met]  # by the seam being sewn and the point


def why_joins_wrong(plan: Plan) -> tuple[str, ...]:
    """What is wrong with the joins of a sewable plan: missing, not there, of other seams, or nesting wrongly told."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    joins = _find_meetings(work)
    return (*_compare(plan, work, joins), *_check_spins(work, joins), *_check_proof(plan))


def count_clashes(plan: Plan) -> int:
    """Joins whose allowances fall the same way, open ones aside; recomputed from seams and their pressing.

    ValueError where the plan can't be followed.
    """
    work, complaints = read_work(plan)
    if work is None:
        raise ValueError(complaints[0])
    return sum(not met.nests and not met.is_open for met in _find_meetings(work).values())


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


def _find_meetings(work: Work) -> _Joins:
    """All joins.

    For each unit the points where its seams end, each with the seam sewn last there. A point that both sides of a
    seam have lies on the seam, since nothing else is common to them. Points inside a unit stay and do no harm: no
    later side can have them. The smaller side's points are put to the larger's, so that few are ever moved.
    """
    firsts = find_firsts(work)
    ends: list[dict[Point, int]] = [{} for _ in work.patches]
    joins: _Joins = {}
    for place, seam in enumerate(work.seams):
        a, b = ends[seam.a], ends[seam.b]
        small, large = (a, b) if len(a) < len(b) else (b, a)
        for point in small:
            if point in large:
                joins[place, point] = _meet(work, seam, point, a[point], b[point], firsts)
        large.update(small)
        large[seam.start] = large[seam.end] = place
        ends[seam.a] = ends[seam.b] = {}
        ends.append(large)
    return joins


def _meet(work: Work, seam: SeamRead, point: Point, a: int, b: int, firsts: Sequence[Outline]) -> _Met:
    ways = [_find_way(work, work.seams[of_side], seam, point, firsts) for of_side in (a, b)]
    is_open = None in ways
    return _Met(a, b, not is_open and ways[0] != ways[1], is_open)


def _find_way(work: Work, of_side: SeamRead, seam: SeamRead, point: Point, firsts: Sequence[Outline]) -> bool | None:
    """Whether the allowances of a seam fall, at a point, toward the end of the seam sewn across it; None: open."""
    if of_side.pressed is None:
        return None
    start, end = _find_leg(of_side, point)
    if of_side.legs:
        is_ahead = _lies_ahead(work, of_side.pressed, (start, end))
    else:
        is_ahead = is_beyond(start, end, firsts[of_side.pressed])
    if of_side.spin is not None and point == of_side.end:
        is_ahead = not is_ahead
    first, last = _find_leg(seam, point)
    leads = (end[0] - start[0]) * (last[1] - first[1]) - (end[1] - start[1]) * (last[0] - first[0])
    return is_ahead == (leads > 0)


def _find_leg(seam: SeamRead, point: Point) -> tuple[Point, Point]:
    """The stretch of a seam that a point lies on: of one that is set in the middle one, if need be another."""
    if not seam.legs:
        return seam.start, seam.end
    middle = len(seam.legs) // 2
    order = (seam.legs[middle], *seam.legs[:middle], *seam.legs[middle + 1 :])
    return next((leg for leg in order if _is_on(point, leg)), seam.legs[middle])


def _is_on(point: Point, leg: tuple[Point, Point]) -> bool:
    return not cross(*leg, point) and all(
        min(leg[0][axis], leg[1][axis]) <= point[axis] <= max(leg[0][axis], leg[1][axis]) for axis in (0, 1)
    )


def _lies_ahead(work: Work, side: int, leg: tuple[Point, Point]) -> bool:
    """Whether, of a side with inner corners, what borders on the leg lies where a turn from x to y leads."""
    waiting = [side]
    while waiting:
        here = waiting.pop()
        if here >= len(work.patches):
            seam = work.seams[here - len(work.patches)]
            waiting += [seam.a, seam.b]
            continue
        outline = work.patches[here].outline
        for place, end in enumerate(outline):
            if _is_on(end, leg) and _is_on(outline[place - 1], leg):
                return is_beyond(*leg, outline)
    return False


def _check_spins(work: Work, joins: _Joins) -> Iterator[str]:
    """Complaints of spun seams: at their only join all four allowances run round the point."""
    firsts = find_firsts(work)
    for place, seam in enumerate(work.seams):
        if seam.spin is None:
            continue
        met = [(point, one) for (sewn, point), one in joins.items() if sewn == place]
        if [point for point, _ in met] != [seam.spin]:
            yield f"seam {seam.id}: it is spun at {work.spell(seam.spin)}, which is not its only join"
        elif not met[0][1].nests or seam.press == "open":
            yield f"seam {seam.id}: it is spun at {work.spell(seam.spin)}, where the seams do not nest"
        else:
            # what crosses on side a falls along the half that falls on from a to b, and so round
            does_a_fall_on = _find_way(work, work.seams[met[0][1].a], seam, seam.spin, firsts)
            if (seam.press == "a") != does_a_fall_on:
                yield f"seam {seam.id}: the allowances do not run round {work.spell(seam.spin)}"


def _compare(plan: Plan, work: Work, joins: _Joins) -> Iterator[str]:
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
