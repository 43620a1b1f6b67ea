"""A template as it lies turned on paper.

Billionths of an inch, x right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import floor
from typing import NamedTuple

from planner.cloth.templates import Template
from planner.cut_sizes import Corner
from planner.pictures.svg_elements import ONE, Spot

Way = tuple[Fraction, Fraction]  # one inch in some direction

QUARTERS: tuple[Way, ...] = ((Fraction(1), Fraction(0)), (Fraction(0), Fraction(1)))
_SLANTS = 24


class Turned(NamedTuple):
    """Its outlines from 0, 0 of the box round it, which is so wide and high."""

    template: Template
    turn: Way
    cut: tuple[Spot, ...]
    seam: tuple[Spot, ...]
    width: int
    height: int

    @property
    def ways(self) -> tuple[Way, ...]:
        """In which the arrow may point, the better one first: of a print upright alone, else first along the piece."""
        c, s = self.turn
        if self.template.has_way:
            return ((s, -c),)
        wide, high = (max(corner[axis] for corner in self.template.cut) for axis in (0, 1))
        return ((c, s), (s, -c)) if wide >= high else ((s, -c), (c, s))


def list_slants() -> tuple[Way, ...]:
    """Cosine and sine of turns between the quarters, such as are plain fractions."""
    steps = [Fraction(step, _SLANTS) for step in range(1, _SLANTS)]
    return tuple(((1 - step * step) / (1 + step * step), 2 * step / (1 + step * step)) for step in steps)


def turn_template(template: Template, turn: Way) -> Turned:
    """`turn` is where x points then: cosine and sine."""
    c, s = turn

    def lay(corners: Sequence[Corner]) -> list[Corner]:
        return [(x * c - y * s, x * s + y * c) for x, y in corners]

    cut, seam = lay(template.cut), lay(template.seam)
    left, top = min(x for x, _ in cut), min(y for _, y in cut)

    def to_spots(corners: Sequence[Corner]) -> tuple[Spot, ...]:
        return tuple((_round(x - left), _round(y - top)) for x, y in corners)

    spots = to_spots(cut)
    return Turned(template, turn, spots, to_spots(seam), max(x for x, _ in spots), max(y for _, y in spots))


def _round(inches: Fraction) -> int:
    return floor(inches * ONE + Fraction(1, 2))


def move(outline: Sequence[Spot], x: int, y: int) -> tuple[Spot, ...]:
    return tuple((a + x, b + y) for a, b in outline)
