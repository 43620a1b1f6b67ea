"""Pieces with two parallel sides -> rows of them, side by side in a strip, parted by slanting cuts from edge to edge.

A diamond is followed by another, a triangle or a trapezoid by one that is turned half round: so each cut ends one piece
and begins the next, and all that is lost is one slanted end. Inches, x along the strip, y across it; numbers are exact,
up to the next line of a ruler where a maker measures.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor
from typing import NamedTuple

from planner.measure import Root
from planner.surd import Exact, ExactOutline, Surd, divide, root_of, size_of

_FINE = Fraction(1, 1 << 40)  # roots that do not go with those of the outline are taken a little large

Cut = tuple[Exact, Exact]  # where it leaves the upper edge of the strip, and where the lower one


class Slants(NamedTuple):
    """How a piece lies in its strip, which is `high`: how wide it is along the `upper` and the `lower` edge, and how
    far its left and its right cut (`left`, `right`) go to the right on their way down.

    Where it `alternates`, every other piece is turned half round. `measured` is what the ruler shows: of a diamond from
    cut to cut, square to them; else the longer of the two widths, along the strip's edge. `step` is the finest line of
    the ruler. `is_turned`: the strip runs along what is upright in the piece's corners.
    """

    noun: str
    high: Fraction
    upper: Exact
    lower: Exact
    left: Exact
    right: Exact
    alternates: bool
    measured: Fraction
    step: Fraction
    is_turned: bool = False

    @property
    def pair(self) -> Exact:
        """How much of the strip two pieces take."""
        return self.upper + self.lower


def find_slants(outline: ExactOutline, seam: Fraction, step: Fraction, may_turn: bool) -> Slants | None:
    """How pieces of a finished outline lie in a row; None where they do not. The outline lies as on the cloth, and only
    so unless it `may_turn`."""
    found = [_find_level(outline, seam, step, may_turn)]
    if may_turn:
        upright = _find_level(tuple((-y, x) for x, y in outline), seam, step, may_turn)
        found.append(None if upright is None else upright._replace(is_turned=True))
    rows = [one for one in found if one is not None]
    return min(rows, key=lambda one: one.pair * one.high) if rows else None


def _find_level(outline: ExactOutline, seam: Fraction, step: Fraction, may_turn: bool) -> Slants | None:
    """The same for a strip that runs along x."""
    top, bottom = min(y for _, y in outline), max(y for _, y in outline)
    upper, lower = (sorted({x for x, y in outline if y == edge}) for edge in (top, bottom))
    if len(outline) not in (3, 4) or len(upper) + len(lower) != len(outline):
        return None
    deep = bottom - top
    left, right = (divide(lower[end] - upper[end], deep) for end in (0, -1))
    if left == right and not left:
        return None  # a rectangle
    leans = _Leans(outline)
    reach = seam * leans.measure(left) + seam * leans.measure(right)
    wider = right - left

    def width(y: Exact) -> Exact:
        return upper[-1] - upper[0] + wider * y + reach

    # An edge lies one allowance out, or where both cuts meet in a point
    above = -seam if len(upper) == 2 else divide(-reach, wider)
    below = deep + seam if len(lower) == 2 else divide(-(upper[-1] - upper[0]) - reach, wider)
    high = ceil((below - above) / step) * step
    more = (high - (below - above)) * size_of(wider)  # what the strip is too high by makes one of its edges longer
    first, second = width(above), width(below)
    if not wider:
        lean = leans.measure(left)
        across = divide(first, lean)
        measured = ceil(across / step) * step
        wide = first if measured == across else measured * lean
        is_diamond = _is_diamond(outline)
        noun = "diamond" if is_diamond else "parallelogram"
        return Slants(noun, high, wide, wide, high * left, high * left, False, measured, step)
    if not may_turn:
        return None
    narrow, wide = sorted((first, second))
    if narrow >= more:
        narrow -= more
    else:
        wide += more
    measured = ceil(wide / step) * step
    narrow += measured - wide
    widths = (narrow, Fraction(measured)) if first < second else (Fraction(measured), narrow)
    noun = "triangle" if len(outline) == 3 else "trapezoid"
    return Slants(
        noun, high, widths[0], widths[1], high * left, high * left + widths[1] - widths[0], True, measured, step
    )


class _Leans:
    """How long a slanting cut is for each inch of the strip's height: exact where that goes with the outline's root."""

    def __init__(self, outline: ExactOutline) -> None:
        self._of = next((number.of for corner in outline for number in corner if isinstance(number, Surd)), 0)

    def measure(self, lean: Exact) -> Exact:
        length = root_of(1 + lean * lean)
        if not isinstance(length, Root):
            return length
        if not isinstance(length.of, Root) and self._of in (0, length.of):
            self._of = length.of
            return Surd(length.plain, length.times, length.of)
        return length.up_to(_FINE)


def _is_diamond(outline: ExactOutline) -> bool:
    """Whether all sides are equally long."""
    sides = [(x - outline[at - 1][0]) ** 2 + (y - outline[at - 1][1]) ** 2 for at, (x, y) in enumerate(outline)]
    return all(side == sides[0] for side in sides)


def list_cuts(slants: Slants, many: int) -> list[Cut]:
    """Where the cuts of a row lie, from its left end: one more than there are pieces. The row begins with the piece as
    it lies or half turned, as is shorter."""
    ways = [list(_follow(slants, many, is_half)) for is_half in ((False, True) if slants.alternates else (False,))]
    best = min(ways, key=_spread)
    start = min(best[0])
    return [(upper - start, lower - start) for upper, lower in best]


def _follow(slants: Slants, many: int, is_half: bool) -> Iterator[Cut]:
    upper: Exact = Fraction(0)
    lower = slants.right if is_half else slants.left
    yield upper, lower
    for _ in range(many):
        more = (slants.lower, slants.upper) if is_half else (slants.upper, slants.lower)
        upper, lower = upper + more[0], lower + more[1]
        yield upper, lower
        is_half ^= slants.alternates


def _spread(cuts: list[Cut]) -> Exact:
    return max(cuts[-1]) - min(cuts[0])


def measure_row(slants: Slants, many: int) -> Fraction:
    """How long a row of so many is, from end to end, up to a line of the ruler."""
    odd = many % 2
    length = _spread(list_cuts(slants, 2 + odd)) + ((many - odd) // 2 - 1) * slants.pair
    if many < 2:
        length = _spread(list_cuts(slants, many))
    return ceil(length / slants.step) * slants.step


def fill_row(slants: Slants, room: Fraction) -> int:
    """How many lie in a row of this length."""
    many = floor(2 * divide(room, slants.pair)) + 1
    while many and measure_row(slants, many) > room:
        many -= 1
    return many


def find_angle(slants: Slants) -> tuple[int, int]:
    """How steep the left and the right cut are against the strip's edge, in degrees, where a ruler has a line for it:
    30, 45, 60 or 90; else 0."""
    return _tell_angle(slants.left, slants.high), _tell_angle(slants.right, slants.high)


def _tell_angle(lean: Exact, high: Fraction) -> int:
    square = divide(lean * lean, high * high)
    return {Fraction(0): 90, Fraction(1, 3): 60, Fraction(1): 45, Fraction(3): 30}.get(
        square if isinstance(square, Fraction) else Fraction(-1), 0
    )
