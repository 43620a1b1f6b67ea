"""Cloth -> comma-separated values: first a line for each fabric to buy, then one for each size in each strip."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from io import StringIO

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.cloth_json import spell_metres
from planner.cloth.place_pieces import Strip
from planner.measure import spell_number

HEADINGS = (
    "line",
    "fabric",
    "from",
    "yards",
    "metres",
    "strip_in",
    "strips",
    "across_in",
    "along_in",
    "pieces",
    "makes",
    "for",
)


def write_csv(cloth: Cloth) -> str:
    """Text with a heading, ending in a line break; lengths are exact inches. `pieces` and `strips` are totals."""
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(HEADINGS)
    for one in cloth.fabrics:
        buy = one.bought.buy
        empty = [""] * 7
        writer.writerow(["buy", one.fabric.name, "cloth", spell_number(buy.yards), spell_metres(buy.metres), *empty])
    for one in cloth.fabrics:
        for piece in one.stock:
            source = f"stock {spell_number(piece.wide)} x {spell_number(piece.high)}"
            writer.writerows(_list_rows(one, source, piece.strips))
        writer.writerows(_list_rows(one, "cloth", one.strips))
    return text.getvalue()


def _list_rows(one: FabricCloth, source: str, strips: Sequence[Strip]) -> Iterator[list[str]]:
    for strip in strips:
        for run in strip.runs:
            rectangle = one.rectangles[run.rectangle]
            yield [
                "cut",
                one.fabric.name,
                source,
                "",
                "",
                spell_number(strip.high),
                str(strip.times),
                spell_number(run.wide),
                spell_number(run.high),
                str(strip.times * run.pieces),
                str(rectangle.makes),
                rectangle.what,
            ]
