"""Cloth -> JSON, for other programs and for checks: the same bytes for the same project on every machine."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cache

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.place_pieces import Placed, Strip, list_placed
from planner.cloth.print_finish import write_finish
from planner.cloth.print_methods import describe_methods
from planner.cloth.rectangles import Rectangle
from planner.cloth.use_stock import StockPiece
from planner.measure import spell_number
from planner.project import YARD_STEP

_spell = cache(spell_number)  # the same few lengths over and over


def write_cloth(cloth: Cloth) -> str:
    """All of it as JSON text, one rectangle a line, ending in a line break."""
    entries = {cloth.plan.piles.unit_names[entry.units[0]]: place for place, entry in enumerate(cloth.plan.cut)}
    fabrics = ",\n".join("".join(_write_fabric(one, entries)) for one in cloth.fabrics)
    methods = ",\n".join(f"    {_dump(one)}" for one in describe_methods(cloth.plan))
    return (
        f'{{\n  "cloth": 1,\n  "fabrics": [\n{fabrics}\n  ],\n'
        f'  "methods": [{methods and f"{chr(10)}{methods}{chr(10)}  "}],\n'
        f'  "finish": {_dump(write_finish(cloth.plan))}\n}}\n'
    )


def _dump(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def spell_metres(metres: Fraction) -> str:
    """Tenths of a metre: `0.8`, `12.0`."""
    tenths = metres * 10
    return f"{tenths // 10}.{tenths % 10}"


def _write_fabric(one: FabricCloth, entries: Mapping[str, int]) -> Iterator[str]:
    """`entries` says for each pile of patches where it stands in the cut list."""
    bought = one.bought
    ends = [_write_end(rectangle, entries) for rectangle in one.rectangles]
    head: dict[str, object] = {
        "id": one.fabric.name,
        "width": _spell(one.width),
        "usable": _spell(one.fabric.usable),
        "shrinkage": str(one.fabric.shrinkage),
        **({"narrows": str(one.fabric.narrows)} if one.fabric.narrows else {}),
        "length": _spell(one.length),
        "at_least": _spell(one.at_least),
        "more": [{"for": what, "length": _spell(length)} for what, length in one.more],
        "end": _spell(bought.end),
        "margin": _spell(bought.margin),
        "buy": {"yards": _spell(bought.buy.yards), "metres": spell_metres(bought.buy.metres), **_tell_step(one.step)},
        "strips": list(_describe_strips(one.strips)),
    }
    if one.stock:
        head["missing"] = [
            {"for": rectangle.what, "count": many}
            for rectangle, many in zip(one.rectangles, one.missing, strict=True)
            if many
        ]
    yield "    {\n"
    for key, value in head.items():
        yield f"      {_dump(key)}: {_dump(value)},\n"
    if one.stock:
        pieces = ",\n".join("".join(_write_stock(piece, ends)) for piece in one.stock)
        yield f'      "stock": [\n{pieces}\n      ],\n'
    yield f'      "placed": {_write_placed(list_placed(one.strips), ends, 6)}\n    }}'


def _tell_step(step: Fraction) -> dict[str, str]:
    """What yards are rounded up to, where it is not what is usual."""
    return {} if step == YARD_STEP else {"step": _spell(step)}


def _describe_strips(strips: Sequence[Strip]) -> Iterator[dict[str, object]]:
    counts: dict[Fraction, int] = {}
    for strip in strips:
        counts[strip.high] = counts.get(strip.high, 0) + strip.times
    yield from ({"cut": _spell(high), "count": many} for high, many in counts.items())


def _write_stock(piece: StockPiece, ends: Sequence[str]) -> Iterator[str]:
    kept = f'"kept_for": {_dump(piece.kept_for)}, ' if piece.kept_for else ""
    yield f'        {{"size": {_dump([_spell(piece.wide), _spell(piece.high)])}, {kept}"placed": '
    yield f"{_write_placed(list_in_stock(piece), ends, 8)}}}"


def list_in_stock(piece: StockPiece) -> Iterator[Placed]:
    """The rectangles of a piece, x along its width whichever way its strips are cut."""
    for placed in list_placed(piece.strips):
        if piece.is_turned:
            yield Placed(placed.y, placed.x, placed.high, placed.wide, placed.rectangle)
        else:
            yield placed


def _write_end(one: Rectangle, entries: Mapping[str, int]) -> str:
    """What is told of a rectangle wherever it lies; of a row of slanted pieces also which entry it is for."""
    entry = f', "entry": {entries[one.piles[0]]}' if one.is_row else ""
    return f'"for": {_dump(one.what)}, "makes": {one.makes}{entry}}}'


def _write_placed(placed: Iterable[Placed], ends: Sequence[str], indent: int) -> str:
    margin = " " * indent
    lines = [
        f'{margin}  {{"x": "{_spell(one.x)}", "y": "{_spell(one.y)}", "w": "{_spell(one.wide)}", '
        f'"h": "{_spell(one.high)}", {ends[one.rectangle]}'
        for one in placed
    ]
    return f"[\n{f',{chr(10)}'.join(lines)}\n{margin}]" if lines else "[]"
