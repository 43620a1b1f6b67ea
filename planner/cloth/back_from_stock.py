"""A backing of a size and cloth that is there already -> whether it comes out of that, and of which pieces."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.backing import RUNS
from planner.finish import Run


class StockBacking(NamedTuple):
    """A backing out of cloth that is there, in inches: so many lengths of each piece (its place among the fabric's
    stock, from 0, how wide they are), each `panel` long, side by side as `run` says. `wide` and `high` are what is
    pieced, before it is trimmed."""

    run: Run
    taken: tuple[tuple[int, int, Fraction], ...]
    panel: Fraction
    wide: Fraction
    high: Fraction

    @property
    def lengths(self) -> int:
        return sum(many for _, many, _ in self.taken)

    @property
    def places(self) -> tuple[int, ...]:
        return tuple(sorted(place for place, _, _ in self.taken))


class _Offer(NamedTuple):
    """What a piece can give: `many` lengths so `wide`, on an `area` in all."""

    wide: Fraction
    many: int
    area: Fraction
    place: int


def back_from_stock(
    need: tuple[Fraction, Fraction],
    stock: Sequence[tuple[Fraction, Fraction]],
    seam: Fraction,
    run: Run | None,
    is_directional: bool,
) -> StockBacking | None:
    """The way with the fewest lengths, then with the least cloth; None where there is too little. `stock` is wide and
    high, `run` how the maker wants the seams to lie; a print that `is_directional` stands upright on the back."""
    ways = []
    for way in RUNS:
        side, panel = need if way == "along" else need[::-1]
        offers = []
        for place, (wide, high) in enumerate(stock):
            lying = [(wide, high)] if way == "along" else [(high, wide)]
            if not is_directional:
                lying.append(lying[0][::-1])
            across, many = max(
                (across, int(along // panel)) if along >= panel else (Fraction(0), 0) for across, along in lying
            )
            if many and across > 2 * seam:
                offers.append(_Offer(across, many, wide * high, place))
        found = _choose(offers, side, seam)
        if found is not None and (len(found) == 1 or run in (None, way)):
            ways.append(_join(way, found, panel, seam))
    areas = [wide * high for wide, high in stock]
    return min(
        ways,
        key=lambda one: (one.lengths, sum(areas[place] for place in one.places), one.run == "across"),
        default=None,
    )


def _choose(offers: Sequence[_Offer], side: Fraction, seam: Fraction) -> list[_Offer] | None:
    """Lengths that reach across a side, the widest first, the last as small as will do; one offer for each length."""
    left = [
        offer for offer in sorted(offers, key=lambda one: (-one.wide, one.area, one.place)) for _ in range(offer.many)
    ]
    found: list[_Offer] = []
    missing = side
    while left:
        enough = [offer for offer in left if offer.wide >= missing]
        if enough:
            return [*found, min(enough, key=lambda one: (one not in found, one.area, one.place))]
        found.append(left.pop(0))
        missing -= found[-1].wide - 2 * seam
    return None


def _join(run: Run, found: Sequence[_Offer], panel: Fraction, seam: Fraction) -> StockBacking:
    reach = sum((offer.wide for offer in found), Fraction(0)) - (len(found) - 1) * 2 * seam
    taken = tuple(
        (offer.place, found.count(offer), offer.wide) for offer in sorted(set(found), key=lambda one: one.place)
    )
    wide, high = (reach, panel) if run == "along" else (panel, reach)
    return StockBacking(run, taken, panel, wide, high)
