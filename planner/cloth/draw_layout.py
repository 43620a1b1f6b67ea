"""The layout of each fabric as a picture of letters: strips from the squared end down, as wide as the page."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.place_pieces import Strip
from planner.measure import Ruler

COLUMNS = 58
_MOST_ROWS = 10  # of one strip


def draw_layout(cloth: Cloth) -> Iterator[str]:
    """Lines: each strip once, with what lies in it; a frame holds all pieces of one size side by side."""
    for number, one in enumerate(cloth.fabrics):
        if number:
            yield ""
        ruler = cloth.plan.ruler
        if not one.strips:
            yield f"{one.fabric.name}: no cloth to cut for the patches"
            continue
        long = _size(ruler, one.length)
        yield f"{one.fabric.name}: {_size(ruler, one.fabric.usable)} wide, {long} long"
        for strip in one.strips:
            yield from _draw_strip(one, strip, ruler)


def _size(ruler: Ruler, length: Fraction) -> str:
    return f"{ruler.to_cut(length).words}{ruler.ending or ' in'}"


def _draw_strip(one: FabricCloth, strip: Strip, ruler: Ruler) -> Iterator[str]:
    times = f", {strip.times} times" if strip.times > 1 else ""
    yield f"strip {_size(ruler, strip.high)}{times}"
    scale = COLUMNS / one.fabric.usable
    rows = min(_MOST_ROWS, max(2, ceil(strip.high * scale / 2)))
    page = [[" "] * (COLUMNS + 1) for _ in range(rows + 1)]

    def frame(left: int, top: int, right: int, bottom: int) -> None:
        for x in range(left, right + 1):
            for y in (top, bottom):
                page[y][x] = "+" if x in (left, right) or page[y][x] in "|+" else "-"
        for y in range(top + 1, bottom):
            for x in (left, right):
                page[y][x] = "+" if page[y][x] in "-+" else "|"

    frame(0, 0, COLUMNS, rows)
    for run in strip.runs:
        left, right = floor(run.x * scale), floor((run.x + run.across * run.wide) * scale)
        top, bottom = floor(run.y * rows / strip.high), floor((run.y + run.deep * run.high) * rows / strip.high)
        right, bottom = max(right, left + 1), max(bottom, top + 1)
        frame(left, top, min(right, COLUMNS), min(bottom, rows))
        wide, high = (ruler.to_cut(side).words.removeprefix("about ") for side in (run.wide, run.high))
        size = wide if wide == high else f"{wide} x {high}"
        words = next((text for text in (f"{run.pieces} of {size}", str(run.pieces)) if len(text) < right - left), "")
        middle = (top + bottom) // 2
        if words and top < middle < bottom:
            start = left + 1 + (right - left - 1 - len(words)) // 2
            page[middle][start : start + len(words)] = words
    yield from ("".join(row).rstrip() for row in page)
