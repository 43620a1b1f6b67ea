"""Cloth -> the strips in the order in which they are cut, and from which of them the patches of each pile come.

What is there already is cut first, then the cloth that is bought; each from its widest strips to its narrowest.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.lay_lengthwise import LONG
from planner.cloth.place_pieces import Run, Strip
from planner.cloth.rectangles import Rectangle
from planner.cloth.use_stock import StockPiece


@dataclass(frozen=True, slots=True)
class StripCut:
    """All strips of one width of one fabric: of cloth that is bought, or (`piece` from 1) of one piece of its stock.

    `strips` are those that hold the same together, as in the layout. `is_first` and `is_last` of their cloth or piece.
    """

    cloth: FabricCloth
    piece: int
    wide: Fraction
    strips: tuple[Strip, ...]
    is_first: bool
    is_last: bool

    @property
    def fabric(self) -> str:
        return self.cloth.fabric.name

    @property
    def count(self) -> int:
        return sum(strip.times for strip in self.strips)

    @property
    def stock(self) -> StockPiece | None:
        """The piece that they are cut from; None where it is cloth that is bought."""
        return self.cloth.stock[self.piece - 1] if self.piece else None

    @property
    def room(self) -> Fraction:
        """How long each strip is."""
        stock = self.stock
        if stock is None:
            return self.cloth.fabric.usable
        return stock.high if stock.is_turned else stock.wide

    @property
    def is_long(self) -> bool:
        """Whether it is rather a length of the cloth, whose pieces are cut along the selvage."""
        return self.wide > LONG

    @property
    def name(self) -> str:
        """By what is cut, never by its place in the layout."""
        stock = self.stock
        if stock is None:
            return f"{self.wide} {self.fabric}"
        size = stock.wide, stock.high
        alike = sum((one.wide, one.high) == size for one in self.cloth.stock[: self.piece])
        return f"{self.wide} {self.fabric}@{stock.wide}x{stock.high} {alike}"


class Source(NamedTuple):
    """Where rectangles for a pile lie: in some of the strips of one width, so many of them, `wide` along the strip,
    `high` across it, at most `deep` on top of one another. `is_shared` where some are for other piles too; `row`
    where slanted pieces come out of each, side by side: then `count` is of these."""

    cut: StripCut
    count: int  # type: ignore[assignment]  # not how often a value is in a tuple
    wide: Fraction
    high: Fraction
    deep: int
    is_shared: bool
    row: Rectangle | None = None


def list_strip_cuts(cloth: Cloth) -> tuple[StripCut, ...]:
    """Fabric by fabric."""
    return tuple(cut for one in cloth.fabrics for cut in list_cuts_of(one))


def list_cuts_of(one: FabricCloth) -> Iterator[StripCut]:
    """Of one fabric: what is there already first, each from the widest strips to the narrowest."""
    for piece, strips in enumerate((*(piece.strips for piece in one.stock), one.strips), 1):
        number = piece if piece <= len(one.stock) else 0
        widths: dict[Fraction, dict[tuple[Run, ...], Strip]] = {}
        for strip in strips:
            alike = widths.setdefault(strip.high, {})
            known = alike.get(strip.runs, strip._replace(times=0))
            alike[strip.runs] = known._replace(times=known.times + strip.times)
        order = sorted(widths, reverse=True)
        for wide in order:
            yield StripCut(one, number, wide, tuple(widths[wide].values()), wide == order[0], wide == order[-1])


def find_sources(cuts: tuple[StripCut, ...]) -> Mapping[str, tuple[Source, ...]]:
    """For each pile where its rectangles lie, in the order of cutting."""
    found: dict[str, dict[tuple[int, Fraction, Fraction], Source]] = {}
    for place, cut in enumerate(cuts):
        for strip in cut.strips:
            for run in strip.runs:
                rectangle = cut.cloth.rectangles[run.rectangle]
                piles = rectangle.piles
                for pile in piles:
                    sources, key = found.setdefault(pile, {}), (place, run.wide, run.high)
                    row = rectangle if rectangle.is_row else None
                    known = sources.get(key, Source(cut, 0, run.wide, run.high, 0, False, row))
                    pieces = strip.times * run.pieces * (rectangle.makes if row else 1)
                    deep, shared = max(known.deep, run.deep), known.is_shared or len(piles) > 1
                    sources[key] = known._replace(count=known.count + pieces, deep=deep, is_shared=shared)
    return {pile: tuple(sources.values()) for pile, sources in found.items()}


class CutAcross:
    """How far strips are cut across, where `share_of` each pile is cut: its pieces came out of the first strips that
    hold any, as these are asked for one after the other."""

    def __init__(self, share_of: Mapping[str, Fraction]) -> None:
        self.share_of = share_of
        self._begun: dict[tuple[str, int], int] = {}  # pieces that were in strips before, by fabric and rectangle
        self._done: dict[tuple[str, int], int] = {}

    def count_begun(self, cut: StripCut) -> int:
        """From how many something is cut of what they are as wide as."""
        return sum(self._count(cut, strip, self._begun, False) for strip in cut.strips)

    def count_done(self, cut: StripCut) -> int:
        """From how many all is cut."""
        return sum(self._count(cut, strip, self._done, True) for strip in cut.strips)

    def _count(self, cut: StripCut, strip: Strip, used: dict[tuple[str, int], int], is_all: bool) -> int:
        held: dict[int, int] = {}
        for run in strip.runs:
            if is_all or run.high * run.deep == strip.high:
                held[run.rectangle] = held.get(run.rectangle, 0) + run.pieces
        ready = {number: self._count_ready(cut, number) - used.get((cut.fabric, number), 0) for number in held}
        if is_all:
            many = min(strip.times, *(ready[number] // each for number, each in held.items()))
        else:
            many = min(strip.times, max(-(-ready[number] // each) for number, each in held.items()))
        for number, each in held.items():
            used[cut.fabric, number] = used.get((cut.fabric, number), 0) + min(ready[number], many * each)
        return many

    def _count_ready(self, cut: StripCut, number: int) -> int:
        one = cut.cloth.rectangles[number]
        share = min((self.share_of.get(pile, Fraction(0)) for pile in one.piles), default=Fraction(0))
        return int(one.count * share // 1)
