"""A rectangle that is cut from the cloth in words, in the maker's measure."""

from __future__ import annotations

import re
from fractions import Fraction

from planner.cloth.rectangles import Rectangle
from planner.measure import Ruler

_SIZED = re.compile(r"(square|rectangle|box) [0-9 /x]+(,.*)?")
_PARTED = {", halved": ", cut corner to corner", ", quartered": ", cut corner to corner both ways"}


def name_rectangle(rectangle: Rectangle, ruler: Ruler, count: int = 2, has_parts: bool = True) -> str:
    """`squares 3 7/8, cut corner to corner`; where it `has_parts`, how it is cut up is said too."""
    found = _SIZED.fullmatch(rectangle.what)
    wide, high = (spell_size(ruler, side) for side in (rectangle.wide, rectangle.high))
    sizes = dict.fromkeys((high, wide) if rectangle.high < rectangle.wide else (wide, high))
    if rectangle.is_row and rectangle.slants is not None:
        what = f"{rectangle.makes} {rectangle.slants.noun}s"
        return f"{'strip' if count == 1 else 'strips'} of {what}, {high}{ruler.ending} wide, {wide}{ruler.ending} long"
    if found is None:  # a strip, named by its method
        return f"{rectangle.what}, {wide}{ruler.ending} long"
    plural = "" if count == 1 else "es" if found[1] == "box" else "s"
    outlines = ", for its outline" if count == 1 else ", for their outlines"
    told = outlines if found[1] == "box" else _PARTED.get(found[2] or "", found[2] or "")
    told = told if has_parts else ""
    return f"{found[1]}{plural} {' x '.join(sizes)}{ruler.ending}{told}"


def spell_size(ruler: Ruler, length: Fraction, is_down: bool = False) -> str:
    """A length without its unit: up to a line of the ruler, or, of cloth that is there, to the nearest."""
    return (ruler.to_measure(length) if is_down else ruler.to_cut(length)).words
