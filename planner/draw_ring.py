"""A ring of diamonds round a point, and what fills the box round it, patch by patch.

Eight diamonds of 45 degrees make an eight-pointed star in a square, six of 60 degrees a six-pointed one in a rectangle.
The side of a diamond is 1. x runs right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Literal

from planner.draw_units import Drawn
from planner.surd import Exact, ExactOutline, ExactPoint, Surd

Many = Literal[6, 8]

ZERO, HALF, ONE = Fraction(0), Fraction(1, 2), Fraction(1)
ROOT_IN: dict[Many, int] = {6: 3, 8: 2}


def box_of_ring(many: Many) -> ExactPoint:
    """How wide and how high a ring is."""
    if many == 8:
        side = Surd(Fraction(2), ONE, 2)
        return side, side
    return Fraction(3), Surd(ZERO, Fraction(2), 3)


def draw_ring(many: Many, diamonds: Sequence[str], fill: Sequence[str]) -> list[Drawn]:
    """The diamonds clockwise from the top (of six the first points up, of eight right of upright), then what fills
    the box, clockwise from the first behind that. Fabrics are gone through over and over."""
    box = box_of_ring(many)
    middle = box[0] * HALF, box[1] * HALF
    ways = _ways(many)
    hubs = [_add(middle, way) for way in ways]  # where two diamonds meet, off the middle
    tips = [_add(hub, ways[(at + 1) % many]) for at, hub in enumerate(hubs)]
    drawn: list[Drawn] = [
        (diamonds[at % len(diamonds)], (middle, hubs[at], tips[at], hubs[(at + 1) % many])) for at in range(many)
    ]
    for at in range(many):
        # of eight the first one lies above the first diamond's left side, of six behind its right side
        here = at if many == 8 else (at + 1) % many
        drawn.append((fill[at % len(fill)], _fill_between(tips[here - 1], hubs[here], tips[here], box)))
    return drawn


def _ways(many: Many) -> list[ExactPoint]:
    """The sides of diamonds that lead out of the middle, clockwise; the first diamond lies between the first two."""
    if many == 8:
        short = Surd(ZERO, HALF, 2)
        ways: list[ExactPoint] = [(ZERO, -ONE), (short, -short)]
        while len(ways) < many:
            x, y = ways[-2]
            ways.append((-y, x))
        return ways
    high = Surd(ZERO, HALF, 3)
    ways = [(-HALF, -high), (HALF, -high), (ONE, ZERO)]
    return [*ways, *((-x, -y) for x, y in ways)]


def _fill_between(tip: ExactPoint, hub: ExactPoint, following: ExactPoint, box: ExactPoint) -> ExactOutline:
    """What lies between two tips and the border: a triangle, or up to a corner of the box a piece with four sides."""
    if tip[0] == following[0] or tip[1] == following[1]:
        return tip, following, hub
    for corner in ((tip[0], following[1]), (following[0], tip[1])):
        if all(value in (ZERO, side) for value, side in zip(corner, box, strict=True)):
            return tip, corner, following, hub
    raise ValueError("tips that reach no side of the box")


def _add(one: ExactPoint, other: ExactPoint) -> ExactPoint:
    x: Exact = one[0] + other[0]
    y: Exact = one[1] + other[1]
    return x, y
