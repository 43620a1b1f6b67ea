"""How short a layout of strips can be: a proven bound, and the strips that come near it.

The least length when every strip may be cut in any fraction (a linear program over all strips, their number far too
large to list: strips are made when they pay). Exact fractions, so that the bound holds. What a strip is worth at the
end proves the bound also where the search stops early: no strip is worth more than a known share of its height.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor, gcd
from typing import NamedTuple

from planner.cloth.count_steps import Steps
from planner.cloth.fill_strip import Lying, Pattern, fill_strip, make_pattern

MOST_SUMS = 200_000  # steps that are tried for a sum of strips
_FINE = 1 << 40  # parts that worths are rounded to
_PER_STEP = 20  # numbers of the linear program that count as one step

ZERO = Fraction(0)


class Relaxed(NamedTuple):
    """`at_least`: no layout is shorter. `amounts`: how much of each strip, not whole, is cut then. `worths`: of a piece
    of each kind, in 2 ** 40 parts of a step of length. `seen`: all strips that paid at one time."""

    at_least: int
    amounts: tuple[tuple[Pattern, Fraction], ...]
    worths: tuple[int, ...]
    seen: tuple[Pattern, ...]


def relax(lying: Sequence[Lying], wanted: Sequence[int], room: int, steps: Steps) -> Relaxed:
    """The least length in fractions of strips, as far as the steps go. Each kind that is wanted fits in some way."""
    kinds = [kind for kind, many in enumerate(wanted) if many]
    heights = sorted({way.high for way in lying if wanted[way.kind]})
    basis = [_stand_alone(lying, kind, wanted, room) for kind in kinds]
    seen = dict.fromkeys(basis)
    rows = len(kinds)
    inverse = [[ZERO] * rows for _ in kinds]
    for row, (kind, pattern) in enumerate(zip(kinds, basis, strict=True)):
        inverse[row][row] = Fraction(1, pattern.gives[kind])
    slack: list[Pattern | None] = list(basis)  # None: pieces of a kind beyond what is wanted
    costs = [pattern.high for pattern in basis]
    amounts = [wanted[kind] * inverse[row][row] for row, kind in enumerate(kinds)]
    # At the least there is cloth under every piece
    areas = {way.kind: way.wide * way.high for way in lying}
    at_least = Fraction(sum(wanted[kind] * areas[kind] for kind in kinds), room)
    worths = [areas.get(kind, 0) * _FINE // room for kind in range(len(wanted))]
    while True:
        duals = [sum((costs[row] * inverse[row][at] for row in range(rows) if costs[row]), ZERO) for at in range(rows)]
        steps.take(1 + rows * rows // _PER_STEP)
        column, entering, cost = None, None, 0
        negative = next((at for at, dual in enumerate(duals) if dual < 0), None)
        if negative is not None:
            column = [Fraction(-1) if at == negative else ZERO for at in range(rows)]
        else:
            now = [0] * len(wanted)
            for kind, dual in zip(kinds, duals, strict=True):
                now[kind] = floor(dual * _FINE)
            entering, reach = _find_best(lying, heights, room, now, wanted, steps)
            bound = sum(worth * many for worth, many in zip(now, wanted, strict=True)) / (reach * _FINE)
            if bound > at_least:
                at_least, worths = bound, [floor(worth / reach) for worth in now]
            if entering is None or steps.are_over:
                break
            seen[entering] = None
            column, cost = [Fraction(entering.gives[kind]) for kind in kinds], entering.high
        turned = [sum((inverse[row][at] * column[at] for at in range(rows) if column[at]), ZERO) for row in range(rows)]
        ratios = [(amounts[row] / turned[row], row) for row in range(rows) if turned[row] > 0]
        if not ratios:
            break
        step, leaves = min(ratios)
        for row in range(rows):
            if row != leaves:
                amounts[row] -= step * turned[row]
        amounts[leaves] = step
        pivot = [value / turned[leaves] for value in inverse[leaves]]
        for row in range(rows):
            if row != leaves and turned[row]:
                factor = turned[row]
                inverse[row] = [mine - factor * other for mine, other in zip(inverse[row], pivot, strict=True)]
        inverse[leaves] = pivot
        slack[leaves], costs[leaves] = entering, cost
        steps.take(rows * rows // _PER_STEP)
    found = tuple(
        (pattern, amount) for pattern, amount in zip(slack, amounts, strict=True) if pattern is not None and amount
    )
    return Relaxed(round_to_sum(at_least, heights), found, tuple(worths), tuple(seen))


def _stand_alone(lying: Sequence[Lying], kind: int, wanted: Sequence[int], room: int) -> Pattern:
    """The strip of one kind alone that takes least length for a piece."""
    found = []
    for place, way in enumerate(lying):
        if way.kind == kind:
            pattern = make_pattern(lying, way.high, ((place, room // way.wide),), wanted)
            found.append((Fraction(way.high, pattern.gives[kind]), place, pattern))
    return min(found)[2]


def _find_best(
    lying: Sequence[Lying],
    heights: Sequence[int],
    room: int,
    worths: Sequence[int],
    wanted: Sequence[int],
    steps: Steps,
) -> tuple[Pattern | None, Fraction]:
    """The strip worth most for its height, if that is more than it costs; how much the worth of any strip is at most,
    for its height."""
    best, reach, found = Fraction(1), Fraction(1), None
    for high in heights:
        filled = fill_strip(lying, high, room, worths, wanted, steps)
        share = Fraction(filled.worth, high * _FINE)
        if share > best:
            best, found = share, filled.pattern
        reach = max(reach, Fraction(filled.at_most, high * _FINE))
    return found, reach


def round_to_sum(least: Fraction, heights: Sequence[int]) -> int:
    """The least length, not below the given one, that strips of these heights can come to."""
    if not heights:
        return 0
    step = gcd(*heights)
    low, tall = ceil(least / step), [high // step for high in heights]
    # From here on every multiple of the step is a sum
    if low >= tall[0] * tall[-1] or low * len(tall) > MOST_SUMS:
        return low * step
    is_sum = 1  # a bit for each length
    top = low + tall[0]
    for high in tall:
        reach = high
        while reach <= top:
            is_sum |= is_sum << reach
            reach *= 2
        is_sum &= (1 << (top + 1)) - 1
    while not is_sum >> low & 1:
        low += 1
    return low * step
