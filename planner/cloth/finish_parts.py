"""What comes after the top as pieces to cut: for the backing, batting, binding, sleeve and pillows."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.binding import Binding
from planner.cloth.finish_quilt import Backed, Bound, Cloth, Finished


class Part(NamedTuple):
    """So many pieces of one size, in inches `across` the cloth and `along` it. Batting is of no `cloth`. `stock` is the
    piece of the fabric's stock that they are cut from, from 1; None where it is cloth that is bought."""

    what: str
    cloth: Cloth | None
    across: Fraction
    along: Fraction
    pieces: int
    stock: int | None = None


def list_parts(finished: Finished) -> Iterator[Part]:
    """All of them, in the order in which they are sewn to the quilt; the cloth for pillows in one length."""
    if finished.backing is not None:
        yield from _list_backing(finished.backing)
    batting, choice = finished.batting, finished.finish.batting
    if batting is not None:
        roll = choice.width if choice is not None else None
        size = (batting.wide, batting.high) if roll is None else (roll, batting.panel)
        yield Part("batting", None, *size, batting.lengths)
    if finished.binding is not None:
        yield _bind(finished.binding)
    if finished.sleeve is not None:
        cloth, tube = finished.sleeve
        yield Part("hanging sleeve", cloth, cloth.usable, tube.deep, tube.strips)
    for one in finished.pillows:
        if one.made:
            yield Part(f"pillows of {one.block}", one.cloth, one.cloth.usable, one.length, 1)


def _list_backing(backed: Backed) -> Iterator[Part]:
    stock, way = backed.from_stock, backed.taken
    if stock is not None:
        for place, many, wide in stock.taken:
            yield Part("backing", backed.cloth, wide, stock.panel, many, place + 1)
        return
    what = "backing, one length split along the middle" if way.is_split else "backing"
    yield Part(what, backed.cloth, backed.cloth.usable, way.panel, way.lengths)


def _bind(bound: Bound) -> Part:
    strip, cloth = bound.strip, bound.cloth
    if isinstance(strip, Binding):
        return Part("binding", cloth, cloth.usable, strip.cloth / strip.strips, strip.strips)
    return Part("binding, on the bias", cloth, cloth.usable, strip.cloth, 1)
