"""Units -> the points to match: where seams of both sides end at one point of the seam that is sewn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Seam, Side, Units
from planner.find_cuts import turn_vector

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
        if unit.a is None or unit.b is None:
            ends_of.append({})
            joins.append(())
            meeting.append((0, 0))
            continue
        (px, py), (qx, qy) = unit.seam
        dx, dy = qx - px, qy - py
        sides = []
        ends: dict[Point, End] = {}
        for into_b, side in ((False, unit.a), (True, unit.b)):
            on_seam: dict[Point, End] = {}
            found = ends_of[side.unit]
            for placed, end in zip(units.place_points(found, side), found.values(), strict=True):
                toward_a = turn_vector(end.toward_a, side.turn) if side.turn else end.toward_a
                seen = End((into_b, *end.path), toward_a, end.is_last)
                if (placed[0] - px) * dy == (placed[1] - py) * dx:
                    on_seam[placed] = seen
                else:
                    ends[placed] = seen
            sides.append(on_seam)
            uses[side.unit] -= 1
            if not uses[side.unit] and side.unit not in kept:
                ends_of[side.unit] = {}  # nobody asks any more; of a large draft all ends would need much room
        side_a, side_b = sides
        joins.append(
            tuple(
                _join(point, side_a[point], side_b[point], (dx, dy)) for point in sorted(side_a.keys() & side_b.keys())
            )
        )
        meeting.append((len(side_a), len(side_b)))
        toward_a = (-dy, dx) if is_on_normal_side(units, unit.a, unit.seam) else (dy, -dx)
        if unit.legs:  # it ends at the outer corners, across its first and its last stretch
            is_left = is_on_normal_side(units, unit.a, unit.seam)
            for place, (start, stop) in enumerate((unit.legs[:2], unit.legs[-2:])):
                across = (start[1] - stop[1], stop[0] - start[0])
                toward = across if is_left else (-across[0], -across[1])
                ends[unit.legs[-place]] = End((), toward, place == 1)
        else:
            for place, point in enumerate(unit.seam):
                ends[point] = End((), toward_a, place == 1)
        ends_of.append(ends)
    for number in range(len(ends_of)):
        if number not in kept:
            ends_of[number] = {}
    return Joins(tuple(joins), tuple(meeting), tuple(ends_of))


def is_on_normal_side(units: Units, side: Side, seam: tuple[Point, Point]) -> bool:
    """Whether a side lies where the normal (-dy, dx) of its seam points: left of the way as numbers are drawn here."""
    (px, py), (qx, qy) = seam
    dx, dy = qx - px, qy - py
    patch = units.place_first(side)
    return any((y - py) * dx - (x - px) * dy > 0 for x, y in units.cuts.outline(patch))


def follow(seams: tuple[Seam, ...], number: int, path: Path) -> int:
    """The seam of a block at the end of a way that begins at seam `number`."""
    for into_b in path:
        number = seams[number].b if into_b else seams[number].a
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
