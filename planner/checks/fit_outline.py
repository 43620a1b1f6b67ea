"""Does an outline to cut hold a widened patch, however it was moved, and hardly more."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, isqrt, lcm
from typing import NamedTuple, cast

from planner.checks.read_plan import trim_outline
from planner.checks.sew_outlines import is_convex
from planner.checks.size_pieces import Corner, Widened

_MOST_EXCESS = Fraction(1, 32)  # inch, square to each side
_FINE = 1 << 40
_SLACK = 16  # steps of 1/_FINE: what rounding to these steps may do

_Outline = tuple[tuple[int, int], ...]


class _Bound(NamedTuple):
    """x * move x + y * move y <= most"""

    x: int
    y: int
    most: int


def does_fit(corners: Sequence[Corner], widened: Widened, may_turn: bool = True) -> bool:
    """Whether the outline (inches) is that of the widened piece, moved and turned by quarters, never mirrored.

    Where the widened piece is exact, it is exactly that. Else it holds it, and reaches out by less than 1/32 inch.
    """
    steps = lcm(*(number.denominator for corner in corners for number in corner))
    if widened.is_exact:
        steps = lcm(steps, *(number.denominator for corner in widened.corners for number in corner))
    else:
        steps *= _FINE
    outer = _to_steps(corners, steps)
    inner = _to_steps(widened.corners, steps)
    if not outer:
        return False
    can_hold = _can_hold if is_convex(outer) and is_convex(inner) else _can_hold_bent
    for _ in range(4 if may_turn else 1):
        if _is_same(outer, inner) if widened.is_exact else can_hold(outer, inner, steps):
            return True
        inner = _trim([(-y, x) for x, y in inner])
    return False


def _to_steps(corners: Sequence[Corner], steps: int) -> _Outline:
    return _trim([(round(x * steps), round(y * steps)) for x, y in corners])


def _trim(corners: Sequence[tuple[int, int]]) -> _Outline:
    return cast(_Outline, trim_outline(corners))


def _is_same(outer: _Outline, inner: _Outline) -> bool:
    return len(outer) == len(inner) and _lay(outer) == _lay(inner)


def _lay(outline: _Outline) -> _Outline:
    first = outline.index(min(outline))
    (x, y), way = outline[first], (*outline[first:], *outline[:first])
    return tuple((corner[0] - x, corner[1] - y) for corner in way)


def _can_hold(outer: _Outline, inner: _Outline, steps: int) -> bool:
    """Whether some move brings the inner into the outer without the outer reaching out too far.

    Each side of the outer bounds the move from one side, each side of the inner from the other. If any move will do,
    one will do where two bounds are met: the moves that do are a bounded convex region.
    """
    slack = _SLACK * (steps // _FINE)
    bounds = []
    for x, y in _find_normals(outer):
        bounds.append(_Bound(x, y, _reach(outer, x, y) - _reach(inner, x, y) + slack * (abs(x) + abs(y))))
    for x, y in _find_normals(inner):
        excess = int(isqrt(x * x + y * y) * steps * _MOST_EXCESS)
        bounds.append(_Bound(-x, -y, _reach(inner, x, y) - _reach(outer, x, y) + excess))
    return any(_do_meet(first, second, bounds) for place, first in enumerate(bounds) for second in bounds[place + 1 :])


def _can_hold_bent(outer: _Outline, inner: _Outline, steps: int) -> bool:
    """The same of outlines with inner corners: each side of the outer lies outside of that side of the inner which it
    stands for, and not too far."""
    if len(outer) != len(inner):
        return False
    slack = _SLACK * (steps // _FINE)
    normals = _find_normals(inner)
    for first in range(len(inner)):
        bounds = []
        for at, (x, y) in enumerate(normals):
            ends = [x * corner[0] + y * corner[1] for corner in (outer[at - first - 1], outer[at - first])]
            here = x * inner[at][0] + y * inner[at][1]
            bounds.append(_Bound(-x, -y, min(ends) - here + slack * (abs(x) + abs(y))))
            bounds.append(_Bound(x, y, here - max(ends) + int(isqrt(x * x + y * y) * steps * _MOST_EXCESS)))
        if any(_do_meet(one, other, bounds) for place, one in enumerate(bounds) for other in bounds[place + 1 :]):
            return True
    return False


def _do_meet(first: _Bound, second: _Bound, bounds: list[_Bound]) -> bool:
    turn = first.x * second.y - first.y * second.x
    if turn == 0:
        return False
    if turn < 0:
        first, second, turn = second, first, -turn
    move_x = first.most * second.y - second.most * first.y
    move_y = first.x * second.most - second.x * first.most
    return all(bound.x * move_x + bound.y * move_y <= bound.most * turn for bound in bounds)


def _find_normals(outline: _Outline) -> list[tuple[int, int]]:
    normals = []
    for at, (x, y) in enumerate(outline):
        along_x, along_y = x - outline[at - 1][0], y - outline[at - 1][1]
        common = gcd(along_x, along_y)
        normals.append((along_y // common, -along_x // common))
    return normals


def _reach(outline: _Outline, x: int, y: int) -> int:
    return max(x * corner[0] + y * corner[1] for corner in outline)
