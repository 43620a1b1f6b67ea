"""The turns by which units of a plan may lie otherwise and be the same: by quarters, by eighths or by twelfths."""

from __future__ import annotations

from typing import NamedTuple

from planner.checks.read_plan import Outline, Point, Work
from planner.checks.rooted import Number, Rooted, divide

_ROOT_2, _ROOT_3 = Rooted(0, 1, 2), Rooted(0, 1, 3)


class Turn(NamedTuple):
    """Cosine and sine, both `times` as much, so that whole steps stay whole."""

    cosine: Number
    sine: Number
    times: int


_FIRST_QUARTER: dict[int, tuple[Turn, ...]] = {
    4: (Turn(1, 0, 1),),
    8: (Turn(2, 0, 2), Turn(_ROOT_2, _ROOT_2, 2)),
    12: (Turn(2, 0, 2), Turn(_ROOT_3, 1, 2), Turn(1, _ROOT_3, 2)),
}
_MANY_WITH = {None: 4, 2: 8, 3: 12}


def list_turns(work: Work, many: int | None = None) -> tuple[Turn, ...]:
    """The turns that carry a unit round, the first of them none at all: 4, 8 (where no root of 3 is) or 12 (where no
    root of 2 is). If it is not said how many, those that leave the numbers of the plan as they are; where prints have a
    direction only quarters."""
    has_way = any(patch.has_way for patch in work.patches)
    wanted = many if many is not None else 4 if has_way else _MANY_WITH[work.root]
    turns = list(_FIRST_QUARTER[wanted])
    while len(turns) < wanted:
        cosine, sine, times = turns[-wanted // 4]
        turns.append(Turn(-sine, cosine, times))
    return tuple(turns)


def turn_point(point: Point, turn: Turn) -> Point:
    """Where a point comes to lie, so many times as far from 0, 0 as the turn says."""
    x, y = point
    return x * turn.cosine - y * turn.sine, x * turn.sine + y * turn.cosine


def turn_outline(outline: Outline, turn: Turn) -> Outline:
    """An outline of the same size, turned."""
    turned = (turn_point(corner, turn) for corner in outline)
    return tuple((divide(x, turn.times), divide(y, turn.times)) for x, y in turned)
