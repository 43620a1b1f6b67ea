"""Pieces of cloth that are there already, fat quarters and scraps -> what can be cut from them.

The smallest piece is used up first. Each is cut like cloth: strips across one of its sides, then these into pieces.
Of many ways to choose the strips as many as a counted budget allows are tried, so more might fit than is found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from planner.cloth.count_steps import Steps
from planner.cloth.fill_strip import Lying, Pattern, fill_strip
from planner.cloth.list_strips import list_sums
from planner.cloth.place_pieces import Kinds, Strip

MOST_WAYS = 60  # to choose the strips of one piece
MOST_STEPS = 200_000  # for all of the stock


class StockPiece(NamedTuple):
    """A piece as it is written (`wide` across, `high` along the grain), and the strips that are cut from it: across its
    width, or, where it `is_turned`, along the grain: then x runs along it. None where it is `kept_for` something, or
    not `is_needed`: all was cut before its turn came."""

    wide: Fraction
    high: Fraction
    is_turned: bool
    strips: tuple[Strip, ...]
    kept_for: str = ""
    is_needed: bool = True

    @property
    def room(self) -> Fraction:
        """How long its strips can be."""
        return self.high if self.is_turned else self.wide

    @property
    def why_empty(self) -> str:
        if self.kept_for:
            return f"kept for the {self.kept_for}"
        return "nothing fits on it" if self.is_needed else "not needed"


def use_stock(
    kinds: Kinds, stock: Sequence[tuple[Fraction, Fraction]], kept: Mapping[int, str] = MappingProxyType({})
) -> tuple[StockPiece, ...]:
    """Cut what can be cut from each piece, and take it from what `kinds` has left; in the order they are written.
    Nothing is cut from pieces that are `kept` for something (place -> what for)."""
    found: dict[int, StockPiece] = {}
    steps = Steps(MOST_STEPS)
    for place in sorted(range(len(stock)), key=lambda one: (stock[one][0] * stock[one][1], one)):
        wide, high = stock[place]
        if place in kept:
            found[place] = StockPiece(wide, high, False, (), kept[place])
            continue
        across, along = kinds.on_grid(wide), kinds.on_grid(high)
        best: tuple[int, int, bool, list[Pattern], list[Lying]] | None = None
        for is_turned in (False, True):
            room, length = (along, across) if is_turned else (across, along)
            lying = kinds.list_ways(room, is_turned)
            area, strips = _fill(lying, kinds, room, length, steps)
            if strips and (best is None or (area, -len(strips)) > best[:2]):
                best = area, -len(strips), is_turned, strips, lying
        if best is None:
            found[place] = StockPiece(wide, high, False, (), is_needed=any(kinds.left))
            continue
        _, _, is_turned, strips, lying = best
        found[place] = StockPiece(wide, high, is_turned, kinds.place([(one, 1) for one in strips], lying))
    return tuple(found[place] for place in range(len(stock)))


def _fill(lying: Sequence[Lying], kinds: Kinds, room: int, length: int, steps: Steps) -> tuple[int, list[Pattern]]:
    """The strips that hold most: their area, and they."""
    wanted = kinds.left
    areas = [wide * high for wide, high, _ in kinds.sizes]
    heights = sorted({way.high for way in lying if wanted[way.kind] and way.high <= length}, reverse=True)
    if not heights:
        return 0, []
    low = length - heights[-1] + 1  # else one more strip would fit
    sums = list_sums(heights, max(1, low), length + 1) or [(heights[0],)]
    sums.sort(key=lambda one: (-sum(one), len(one), one))
    best: tuple[int, int, list[Pattern]] = (0, 0, [])
    for chosen in sums[:MOST_WAYS]:
        if steps.are_over and best[2]:
            break
        left, strips, area = list(wanted), [], 0
        for high in chosen:
            filled = fill_strip(lying, high, room, areas, left, steps)
            if filled.pattern.columns:
                strips.append(filled.pattern)
                area += filled.worth
                left = [many - each for many, each in zip(left, filled.pattern.gives, strict=True)]
        best = max(best, (area, -len(strips), strips), key=lambda one: one[:2])
    return best[0], best[2]
