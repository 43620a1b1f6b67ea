"""A backing of a size -> all ways to piece it from cloth of a width, and which takes least."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.finish import Run

RUNS: tuple[Run, ...] = ("along", "across")
LEAST_OVERHANG = Fraction(2)  # inches a side that still do (see tests/outside/test_backing.py)


class Backing(NamedTuple):
    """One way to piece a backing, in inches: `lengths` pieces that are `panel` long and the whole usable width wide,
    side by side.

    `run` says how they and the seams between them lie: along the sides of the quilt, or across it. Where it `is_split`
    one length is cut in two along the middle, and a half of it goes to each side of the others. With a `strip` (how
    wide it is cut) the last length is none: it is joined end to end from `pieces` cut across the cloth. `wide` and
    `high` are what is pieced, before it is trimmed; `cloth` is the length of cloth that it takes.
    """

    run: Run
    lengths: int
    panel: Fraction
    is_split: bool
    strip: Fraction
    pieces: int
    wide: Fraction
    high: Fraction
    cloth: Fraction

    @property
    def seams(self) -> int:
        """The long seams."""
        return self.lengths - 1 + (1 if self.is_split else 0) + (1 if self.pieces else 0)


def find_backings(need: tuple[Fraction, Fraction], usable: Fraction, seam: Fraction) -> tuple[Backing, ...]:
    """All ways without a needless seam to a backing at least as wide and as high as `need`; the least cloth first, then
    the fewest seams. `usable` is the width of the cloth that can be used, more than two `seam` allowances."""
    ways = []
    for run in RUNS:
        side, panel = need if run == "along" else need[::-1]
        lengths = count_lengths(side, usable, seam)
        ways.append(_piece(run, lengths, panel, usable, seam))
        if lengths == 2 and 2 * usable - 4 * seam >= side:  # the seam more takes its allowances
            ways.append(_piece(run, lengths, panel, usable, seam, is_split=True))
        strip = side - join_widths(lengths - 1, usable, seam) + 2 * seam
        pieces = max(1, ceil((panel - 2 * seam) / (usable - 2 * seam)))
        if lengths > 1 and pieces * strip < panel:
            ways.append(_piece(run, lengths - 1, panel, usable, seam, strip=strip, pieces=pieces))
    return tuple(sorted(ways, key=lambda way: (way.cloth, way.seams + way.pieces, way.run == "across")))


def take_least(ways: tuple[Backing, ...], run: Run | None) -> Backing:
    """The way with the least cloth among those of whole lengths, then with the fewest seams: a strip joined from pieces
    takes less, but is for the maker to choose. `run` where the maker says how the seams lie."""
    whole = [way for way in ways if not way.pieces and (run is None or way.run == run)]
    return min(whole, key=lambda way: (way.cloth, way.seams))


def find_thrifty(
    top: tuple[Fraction, Fraction], overhang: Fraction, usable: Fraction, seam: Fraction
) -> tuple[tuple[Backing, Fraction], ...]:
    """Ways that save cloth where the overhang at two sides may be less than wanted, but not below `LEAST_OVERHANG`;
    each with that overhang, the least cloth first."""
    if overhang <= LEAST_OVERHANG:
        return ()
    need = top[0] + 2 * overhang, top[1] + 2 * overhang
    best = take_least(find_backings(need, usable, seam), None)
    found = []
    for run in RUNS:
        side, panel = (top[0], need[1]) if run == "along" else (top[1], need[0])
        way = _piece(run, count_lengths(side + 2 * LEAST_OVERHANG, usable, seam), panel, usable, seam)
        if way.cloth < best.cloth:
            reach = way.wide if run == "along" else way.high
            found.append((way, (reach - side) / 2))
    return tuple(sorted(found, key=lambda one: one[0].cloth))


def count_lengths(side: Fraction, usable: Fraction, seam: Fraction) -> int:
    """How many widths of cloth, sewn side by side, reach across a side; both in inches."""
    return max(1, ceil((side - 2 * seam) / (usable - 2 * seam)))


def join_widths(lengths: int, usable: Fraction, seam: Fraction) -> Fraction:
    """How wide so many widths of cloth are when they are sewn side by side."""
    return lengths * usable - (lengths - 1) * 2 * seam


def _piece(
    run: Run,
    lengths: int,
    panel: Fraction,
    usable: Fraction,
    seam: Fraction,
    is_split: bool = False,
    strip: Fraction = Fraction(0),
    pieces: int = 0,
) -> Backing:
    reach = join_widths(lengths, usable, seam)
    if is_split:
        reach -= 2 * seam
    if pieces:
        reach += strip - 2 * seam
    wide, high = (reach, panel) if run == "along" else (panel, reach)
    return Backing(run, lengths, panel, is_split, strip, pieces, wide, high, lengths * panel + pieces * strip)
