"""Cloth for tests to look at; and the shortest layout in strips by a way of its own: an integer program over all
strips, each a pattern."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from math import lcm

from milp import Program
from planned import plan_sample

from planner.cloth.cloth import Cloth, work_out_cloth
from planner.cloth.rectangles import Rectangle
from planner.plan import Plan
from planner.project import Fabric

Size = tuple[Fraction, Fraction, bool]  # wide, high, may turn
MOST_PATTERNS = 20_000


def lay(plan: Plan) -> Cloth:
    cloth, faults = work_out_cloth(plan)
    assert cloth is not None, faults
    return cloth


@cache
def lay_sample(name: str) -> Cloth:
    return lay(plan_sample(name))


def draw_rectangles(seed: int) -> list[Rectangle]:
    """Pieces at random, in eighths of an inch."""
    chance = random.Random(seed)
    found = []
    for number in range(chance.randint(1, 5)):
        wide, high = (Fraction(chance.randint(8, 90), 8) for _ in range(2))
        what = f"rectangle {number}"
        found.append(Rectangle("navy", wide, high, chance.random() < 0.7, chance.randint(1, 40), 1, what))
    return found


def make_fabric(usable: int = 40, stock: tuple[tuple[Fraction, Fraction], ...] = ()) -> Fabric:
    return Fabric("navy", 9, "dark", "medium", None, "na", 1, Fraction(usable), stock=stock)


def measure_least(rectangles: Sequence[Rectangle], usable: Fraction) -> Fraction:
    """The proven least length of strips that hold all of it, one above the other in columns of equal pieces."""
    wanted: Counter[Size] = Counter()
    for one in rectangles:
        sides = sorted((one.wide, one.high)) if one.may_turn else (one.wide, one.high)
        wanted[sides[0], sides[1], one.may_turn] += one.count
    return _measure_sizes(tuple(wanted.items()), usable)


@cache
def _measure_sizes(wanted: tuple[tuple[Size, int], ...], usable: Fraction) -> Fraction:
    grid = lcm(usable.denominator, *(side.denominator for size, _ in wanted for side in size[:2]))
    lying = [
        (kind, int(across * grid), int(along * grid))
        for kind, ((wide, high, may_turn), _) in enumerate(wanted)
        for across, along in sorted({(wide, high), (high, wide)} if may_turn else {(wide, high)})
        if across <= usable
    ]
    program = Program()
    goal: dict[int, float] = {}
    holds: dict[int, tuple[int, ...]] = {}
    for tall in sorted({along for _, _, along in lying}):
        ways = [(kind, across, tall // along) for kind, across, along in lying if along <= tall]
        for pattern in sorted(set(_list_full(ways, int(usable * grid), len(wanted)))):
            variable = program.variable(sum(count for _, count in wanted))
            goal[variable] = tall
            holds[variable] = pattern
            assert len(holds) < MOST_PATTERNS, "too many strips to list"
    for kind, (_, count) in enumerate(wanted):
        terms = {variable: pattern[kind] for variable, pattern in holds.items() if pattern[kind]}
        program.need(terms, least=count)
    return Fraction(program.solve_least(goal), grid)


def _list_full(ways: Sequence[tuple[int, int, int]], room: int, kinds: int) -> Iterator[tuple[int, ...]]:
    """How many of each kind lie in a strip to which the last way to lie adds nothing more."""
    (kind, across, deep), rest = ways[0], ways[1:]
    most = room // across
    if not rest:
        yield tuple(most * deep if one == kind else 0 for one in range(kinds))
        return
    for many in range(most + 1):
        for after in _list_full(rest, room - many * across, kinds):
            yield (*after[:kind], after[kind] + many * deep, *after[kind + 1 :])
