"""Which unit lies on top under the needle, and which end goes in first; the same for a whole chain.

As it is laid out beside the machine the seam stands upright: the unit underneath on the left, right side up; the unit
that comes on top on the right, turned over onto it like a page; the upper end goes in first, and the raw edges lie to
the right of the needle. So all that is to choose is which of the two lies on top (all common practice, no source): a
bias edge lies underneath, next to the feed dogs; else the unit with fewer seams lies underneath; else the way with
fewer turns at the piles.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

from planner.blocks import Point
from planner.build_units import Side, Unit, Units
from planner.look_along import SeamSides
from planner.turns import Turn

Reason = Literal["bias", "seams", "turns", "equal", "web", "part", "corner"]


class Feed(NamedTuple):
    """How a unit's last seam is fed. `first` and `last` are the seam's ends in the unit's frame.

    `bias_a` and `bias_b` say whether the side has a bias edge along the seam.
    """

    a_on_top: bool
    first: Point
    last: Point
    why: Reason
    bias_a: bool
    bias_b: bool


def feed_units(units: Units) -> tuple[Feed | None, ...]:
    """How each unit's last seam is fed; None for a patch."""
    sides = SeamSides(units)
    return tuple(
        None if unit.a is None else _feed(units, sides, unit, unit.a, unit.b or unit.a) for unit in units.units
    )


def count_eighths(direction: Point) -> int:
    """How many eighths of a turn clockwise bring a direction to point straight down; odd ones stand for in between."""
    x, y = direction
    if x == 0:
        return 0 if y > 0 else 4
    if y == 0:
        return 2 if x > 0 else 6
    return {(True, True): 1, (True, False): 3, (False, False): 5, (False, True): 7}[x > 0, y > 0]


def _feed(units: Units, sides: SeamSides, unit: Unit, a: Side, b: Side) -> Feed:
    bias_a, bias_b = (along.has_bias for along in sides.look(unit))
    seams_a, seams_b = (len(units.units[side.unit].seams) for side in (a, b))
    # First and last end where side a, or b, lies on top: with the first end up what is on top is on the right. The
    # normal (-dy, dx) of a way straight down, (0, 1), points left: so what is on top must not lie on that side.
    a_first, b_first = (unit.seam[::-1], unit.seam) if unit.a_on_normal else (unit.seam, unit.seam[::-1])
    if unit.begins_outside:
        a_on_top = a_first[0] in (unit.legs[0], unit.legs[-1])
        return Feed(a_on_top, *(a_first if a_on_top else b_first), "corner", bias_a, bias_b)
    stop = unit.closes.stop if unit.closes else None
    if stop is not None or unit.open_rest:  # it goes on from where it stopped; sewn in part it stops inside
        begin = stop or unit.seam[unit.stops_at == unit.seam[0]]
        a_on_top = a_first[0] == begin
        return Feed(a_on_top, *(a_first if a_on_top else b_first), "part", bias_a, bias_b)
    turns_a, turns_b = (_count_turns(units, (a, b), ends) for ends in (a_first, b_first))
    why: Reason
    if bias_a != bias_b:
        a_on_top, why = bias_b, "bias"
    elif seams_a != seams_b:
        a_on_top, why = seams_a > seams_b, "seams"
    elif turns_a != turns_b:
        a_on_top, why = turns_a < turns_b, "turns"
    else:
        a_on_top, why = False, "equal"
    return Feed(a_on_top, *(a_first if a_on_top else b_first), why, bias_a, bias_b)


def _count_turns(units: Units, sides: tuple[Side, Side], ends: tuple[Point, Point]) -> Turn:
    """Eighths of a turn from the piles to the machine, of both sides together, each the shorter way round."""
    (px, py), (qx, qy) = ends
    whole = count_eighths((qx - px, qy - py))
    turns: Turn = 0
    for side in sides:
        every = 2 * units.units[side.unit].period
        eighths = (2 * side.turn + whole) % every
        turns += min(eighths, every - eighths)
    return turns
