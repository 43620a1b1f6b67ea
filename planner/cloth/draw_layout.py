"""The layout of each fabric as a picture of letters: strips from the squared end down, as wide as the page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import ceil, floor
from types import MappingProxyType

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.place_pieces import Strip
from planner.cloth.use_stock import StockPiece
from planner.measure import Ruler

COLUMNS = 58
_MOST_ROWS = 10  # of one strip


def draw_layout(cloth: Cloth, letters: Mapping[str, str] = MappingProxyType({})) -> Iterator[str]:
    """Lines: each strip once, with what lies in it, first on what is there; a frame holds all pieces of one size side
    by side, and tells the letters of their piles."""
    for number, one in enumerate(cloth.fabrics):
        if number:
            yield ""
        ruler = cloth.plan.ruler
        scale = COLUMNS / max(one.fabric.usable, *(piece.room for piece in one.stock), Fraction(0))
        for which, piece in enumerate(one.stock, 1):
            yield from _draw_piece(one, piece, which, scale, ruler, letters)
        if one.strips:
            long = _size(ruler, one.length)
            yield f"{one.fabric.name}: {_size(ruler, one.fabric.usable)} wide, {long} long"
            for strip in one.strips:
                yield from _draw_strip(one, strip, one.fabric.usable, scale, ruler, letters)
        elif not any(piece.strips for piece in one.stock):
            yield f"{one.fabric.name}: no cloth to cut for the patches"


def _draw_piece(
    one: FabricCloth, piece: StockPiece, which: int, scale: Fraction, ruler: Ruler, letters: Mapping[str, str]
) -> Iterator[str]:
    size = ruler.sides(ruler.to_measure(piece.wide), ruler.to_measure(piece.high)) + ("" if ruler.ending else " in")
    title = f"{one.fabric.name}, piece {which} that is there, {size}:"
    way = "strips along the grain" if piece.is_turned else "strips across"
    told = way if piece.strips else piece.why_empty
    yield from [f"{title} {told}"] if len(title) + len(told) < COLUMNS else [title, f"  {told}"]
    for strip in piece.strips:
        yield from _draw_strip(one, strip, piece.room, scale, ruler, letters)


def _size(ruler: Ruler, length: Fraction) -> str:
    return f"{ruler.to_cut(length).words}{ruler.ending or ' in'}"


def _draw_strip(
    one: FabricCloth, strip: Strip, room: Fraction, scale: Fraction, ruler: Ruler, letters: Mapping[str, str]
) -> Iterator[str]:
    """A strip that is `room` inches long, `scale` columns to the inch."""
    times = f", {strip.times} times" if strip.times > 1 else ""
    yield f"strip {_size(ruler, strip.high)}{times}"
    columns = max(2, floor(room * scale))
    rows = min(_MOST_ROWS, max(2, ceil(strip.high * scale / 2)))
    page = [[" "] * (columns + 1) for _ in range(rows + 1)]

    def frame(left: int, top: int, right: int, bottom: int) -> None:
        for x in range(left, right + 1):
            for y in (top, bottom):
                page[y][x] = "+" if x in (left, right) or page[y][x] in "|+" else "-"
        for y in range(top + 1, bottom):
            for x in (left, right):
                page[y][x] = "+" if page[y][x] in "-+" else "|"

    frame(0, 0, columns, rows)
    for run in strip.runs:
        left, right = floor(run.x * scale), floor((run.x + run.across * run.wide) * scale)
        top, bottom = floor(run.y * rows / strip.high), floor((run.y + run.deep * run.high) * rows / strip.high)
        right, bottom = max(right, left + 1), max(bottom, top + 1)
        frame(left, top, min(right, columns), min(bottom, rows))
        wide, high = (ruler.to_cut(side).words.removeprefix("about ") for side in (run.wide, run.high))
        size = wide if wide == high else f"{wide} x {high}"
        piles = " ".join(letters[pile] for pile in one.rectangles[run.rectangle].piles if pile in letters)
        several = f"{run.pieces} of {size}"
        tries = [*([f"{several} [{piles}]", f"{run.pieces} [{piles}]"] if piles else []), several, str(run.pieces)]
        words = next((text for text in tries if len(text) < right - left), "")
        middle = (top + bottom) // 2
        if words and top < middle < bottom:
            start = left + 1 + (right - left - 1 - len(words)) // 2
            page[middle][start : start + len(words)] = words
    yield from ("".join(row).rstrip() for row in page)
