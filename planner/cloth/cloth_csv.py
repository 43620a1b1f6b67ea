"""Cloth -> comma-separated values: first a line for each fabric to buy, then one for each size in each strip,
then one for each part of what comes after the top."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from fractions import Fraction
from io import StringIO

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.cloth_json import spell_metres
from planner.cloth.finish_parts import list_parts
from planner.cloth.finish_quilt import finish_quilt
from planner.cloth.name_rectangle import name_rectangle, spell_size
from planner.cloth.place_pieces import Strip
from planner.measure import Ruler, spell_number
from planner.plan import Plan


def write_csv(cloth: Cloth) -> str:
    """Text with a heading, ending in a line break; lengths are exact inches, or centimetres up to the next tenth, as
    the headings say. `pieces` and `strips` are totals."""
    plan, ruler = cloth.plan, cloth.plan.ruler
    text = StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(_list_headings(ruler.measure))
    for one in cloth.fabrics:
        buy = one.bought.buy
        empty = [""] * 7
        writer.writerow(["buy", one.fabric.name, "cloth", spell_number(buy.yards), spell_metres(buy.metres), *empty])
    for one in cloth.fabrics:
        for piece in one.stock:
            writer.writerows(_list_rows(one, _name_stock((piece.wide, piece.high), ruler), piece.strips, ruler))
        writer.writerows(_list_rows(one, "cloth", one.strips, ruler))
    writer.writerows(_list_finish(plan))
    return text.getvalue()


def _list_headings(unit: str) -> list[str]:
    sides = f"strip_{unit}", "strips", f"across_{unit}", f"along_{unit}"
    return ["line", "fabric", "from", "yards", "metres", *sides, "pieces", "makes", "for"]


def _spell(length: Fraction, ruler: Ruler) -> str:
    """As it is cut: to the last digit in inches, in centimetres as a decimal."""
    return spell_number(length) if ruler.measure == "in" else ruler.to_cut(length).words.removeprefix("about ")


def _name_stock(size: tuple[Fraction, Fraction], ruler: Ruler) -> str:
    if ruler.measure == "in":
        return f"stock {spell_number(size[0])} x {spell_number(size[1])}"
    wide, high = (spell_size(ruler, side, is_down=True).removeprefix("about ") for side in size)
    return f"stock {wide} x {high}"


def _list_finish(plan: Plan) -> Iterator[list[str]]:
    """Yards and metres only where something is bought by itself, and not together with the fabric's patches."""
    ruler = plan.ruler
    for part in list_parts(finish_quilt(plan)):
        cloth = part.cloth
        fabric = "" if cloth is None or cloth.fabric is None else cloth.fabric
        source = "cloth" if part.stock is None else f"stock piece {part.stock}"
        bought = ["", ""]
        if cloth is not None and not cloth.is_listed:
            buy = cloth.buy(part.along * part.pieces)
            bought = [spell_number(buy.yards), spell_metres(buy.metres)]
        along, across, pieces = _spell(part.along, ruler), _spell(part.across, ruler), str(part.pieces)
        yield ["finish", fabric, source, *bought, along, pieces, across, along, pieces, "1", part.what]


def _list_rows(one: FabricCloth, source: str, strips: Sequence[Strip], ruler: Ruler) -> Iterator[list[str]]:
    for strip in strips:
        for run in strip.runs:
            rectangle = one.rectangles[run.rectangle]
            yield [
                "cut",
                one.fabric.name,
                source,
                "",
                "",
                _spell(strip.high, ruler),
                str(strip.times),
                _spell(run.wide, ruler),
                _spell(run.high, ruler),
                str(strip.times * run.pieces),
                str(rectangle.makes),
                rectangle.what if ruler.measure == "in" else name_rectangle(rectangle, ruler, 1).replace("about ", ""),
            ]
