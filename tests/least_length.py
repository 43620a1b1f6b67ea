"""The shortest layout in strips by a way of its own: an integer program over all strips, each a pattern."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from math import lcm

from milp import Program

from planner.cloth.rectangles import Rectangle

Size = tuple[Fraction, Fraction, bool]  # wide, high, may turn
MOST_PATTERNS = 20_000


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
