"""Units -> the points to match: where seams of both sides end at one point of the seam that is sewn."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from planner.bend_cuts import lies_on
from planner.blocks import Point
from planner.build_units import Seam, Side, Unit, Units
from planner.turns import turn_direction

Path = tuple[bool, ...]  # down from a unit to a seam inside it: False into side a, True into side b


class End(NamedTuple):
    """A seam that ends on the border of a unit: the way to it, the direction of its side a (any length), and whether it
    is the second of its ends that lies there (in the frame of the unit that it makes)."""

    path: Path
    toward_a: Point
    is_last: bool = False


class Join(NamedTuple):
    """A join on a unit's last seam, in the unit's frame.

    `a` and `b` lead to the two seams, each the last sewn of its side there. `a_ahead` says whether side a of the
    first lies ahead along the seam (from its first end to its second), `b_ahead` the same of side a of the second;
    `a_last` and `b_last` whether it is the second end of that seam that is met here.
    """

    at: Point
    a: Path
    b: Path
    a_ahead: bool
    b_ahead: bool
    a_last: bool = False
    b_last: bool = False


class Joins(NamedTuple):
    """For each unit its joins in order along the seam, and the seams of either side that end at its last seam."""

    joins: tuple[tuple[Join, ...], ...]
    meeting: tuple[tuple[int, int], ...]  # how many points of seam a has, and of seam b
    ends: tuple[dict[Point, End], ...]  # of each unit where seams end on its border; none where there is no quilt


def find_joins(units: Units) -> Joins:
    """The joins of every unit. Where several seams of one side end at a point the last sewn counts: it is outermost."""
    # Of a quilt all ends are kept, for turning its blocks
    kept = set() if units.cuts.blocks.top is None else set(range(len(units.units)))
    uses = Counter(side.unit for unit in units.units for side in (unit.a, unit.b) if side is not None)
    ends_of: list[dict[Point, End]] = []
    joins: list[tuple[Join, ...]] = []
    meeting: list[tuple[int, int]] = []
    for unit in units.units:
        if unit.a is None:
            ends_of.append({})
            joins.append(())
            meeting.append((0, 0))
            continue
        (px, py), (qx, qy) = unit.seam
        dx, dy = qx - px, qy - py
        legs = tuple(pairwise(unit.legs)) if unit.legs else (unit.seam,)
        sides = []
        ends: dict[Point, End] = {}
        for into_b, side in zip((False, True), unit.sides, strict=False):
            on_seam: dict[Point, End] = {}
            found = ends_of[side.unit]
            for placed, end in zip(units.place_points(found, side), found.values(), strict=True):
                toward_a = turn_direction(end.toward_a, side.turn) if side.turn else end.toward_a
                seen = End((into_b, *end.path), toward_a, end.is_last)
                if len(legs) == 1 and (placed[0] - px) * dy != (placed[1] - py) * dx:
                    ends[placed] = seen
                elif any(lies_on(placed, *leg) for leg in legs):
                    on_seam[placed] = seen
                else:
                    ends[placed] = seen
            sides.append(on_seam)
            uses[side.unit] -= 1
            if not uses[side.unit] and side.unit not in kept:
                ends_of[side.unit] = {}  # nobody asks any more; of a large draft all ends would need much room
        side_a, side_b = _find_closed_ends(units, unit) if unit.closes else sides
        joins.append(
            tuple(
                _join(point, side_a[point], side_b[point], _along(legs, point))
                for point in sorted(side_a.keys() & side_b.keys())
            )
        )
        meeting.append((len(side_a), len(side_b)))
        ends.update(_find_own_ends(unit))
        ends_of.append(ends)
    for number in range(len(ends_of)):
        if number not in kept:
            ends_of[number] = {}
    return Joins(tuple(joins), tuple(meeting), tuple(ends_of))


def _along(legs: tuple[tuple[Point, Point], ...], at: Point) -> Point:
    """The direction of a seam at a point of it; where it turns there that of what comes before."""
    (px, py), (qx, qy) = next(leg for leg in legs if lies_on(at, *leg))
    return qx - px, qy - py


def _find_own_ends(unit: Unit) -> Iterator[tuple[Point, End]]:
    """The ends of a unit's last seam that lie on its border."""
    stops = {*(unit.open_rest or ()), *((unit.closes.stop,) if unit.closes else ())}
    way = unit.legs or unit.seam  # one that turns ends across its first and its last stretch
    for is_last, (start, stop), at in ((False, way[:2], way[0]), (True, way[-2:], way[-1])):
        across = (start[1] - stop[1], stop[0] - start[0])
        if at not in stops:
            yield at, End((), across if unit.a_on_normal else (-across[0], -across[1]), is_last)


def _find_closed_ends(units: Units, unit: Unit) -> tuple[dict[Point, End], dict[Point, End]]:
    """Where seams end at the stretch that a last seam finishes: those of either face of it, as if these were its sides.
    The last sewn comes first on the way in."""
    assert unit.a is not None
    assert unit.closes
    (px, py), (qx, qy) = unit.seam
    found: dict[bool, dict[Point, End]] = {True: {}, False: {}}
    waiting: deque[tuple[Path, Side]] = deque([((False,), unit.a)])
    while waiting:
        way, side = waiting.popleft()
        inner = units.units[side.unit]
        if inner.a is None:
            continue
        corners = units.place_points(inner.legs or inner.seam, side)
        for is_last, at, before in ((False, corners[0], corners[1]), (True, corners[-1], corners[-2])):
            turn = (qx - px) * (before[1] - py) - (qy - py) * (before[0] - px)
            if not turn or at == unit.closes.stop or not lies_on(at, *unit.seam):
                continue
            across = (at[1] - before[1], before[0] - at[0]) if is_last else (before[1] - at[1], at[0] - before[0])
            across = (-across[0], -across[1])
            toward_a = across if inner.a_on_normal else (-across[0], -across[1])
            is_on_a = (turn > 0) == unit.a_on_normal
            found[is_on_a].setdefault(at, End(way, toward_a, is_last))
        for into_b, deeper in zip((False, True), inner.sides, strict=False):
            waiting.append(((*way, into_b), units.seat_side(deeper, side)))
    return found[True], found[False]


def follow(seams: tuple[Seam, ...], number: int, path: Path) -> int:
    """The seam of a block at the end of a way that begins at seam `number`."""
    for into_b in path:
        side = seams[number].b if into_b else seams[number].a
        assert side is not None
        number = side
    return number


def joins_of_block(units: Units, found: Joins, block: int) -> Iterator[tuple[int, Join, int, int]]:
    """All joins of a drafted block: the seam being sewn, the join, and the two seams that meet there."""
    return joins_of_seams(units.seams[block], found)


def joins_of_seams(seams: tuple[Seam, ...], found: Joins) -> Iterator[tuple[int, Join, int, int]]:
    """All joins of seams that are listed like those of a block: the seam being sewn, the join, the two that meet."""
    for number, seam in enumerate(seams):
        for join in found.joins[seam.unit]:
            yield number, join, follow(seams, number, join.a), follow(seams, number, join.b)


def _join(at: Point, first: End, second: End, along: Point) -> Join:
    a_ahead, b_ahead = (end.toward_a[0] * along[0] + end.toward_a[1] * along[1] > 0 for end in (first, second))
    return Join(at, first.path, second.path, a_ahead, b_ahead, first.is_last, second.is_last)
