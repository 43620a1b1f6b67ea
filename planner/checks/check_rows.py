"""Is a strip as long as it must be for the slanted pieces that are said to come out of it.

The pieces are laid side by side anew, every other one turned half round where that takes less: each as close to the one
before it as their outlines let it. It shares no code with what laid the rows.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any, NamedTuple

Json = Mapping[str, Any]
Outline = tuple[tuple[Fraction, Fraction], ...]

_ROUNDED = Fraction(1, 32)  # inches: two corners that meet may both be rounded outward to 1/64


class _Lying(NamedTuple):
    """A piece in the strip: its outline, and how far it reaches from where it is laid."""

    outline: Outline

    @property
    def left(self) -> Fraction:
        return min(x for x, _ in self.outline)

    @property
    def right(self) -> Fraction:
        return max(x for x, _ in self.outline)

    def span(self, y: Fraction) -> tuple[Fraction, Fraction] | None:
        """From where to where it reaches at a height; the outline is convex."""
        found = []
        for (ax, ay), (bx, by) in pairwise((*self.outline, self.outline[0])):
            if ay == by == y:
                found += [ax, bx]
            elif min(ay, by) <= y <= max(ay, by) and ay != by:
                found.append(ax + (bx - ax) * (y - ay) / (by - ay))
        return (min(found), max(found)) if found else None


def why_not_in_row(entry: Json, wide: Fraction, high: Fraction, many: int, has_way: bool) -> str:
    """Why so many pieces of an entry of the cut list do not come out of a strip `wide` along it and `high` across;
    nothing where they do. A print that `has_way` is never turned."""
    outline = tuple((_read(x), _read(y)) for x, y in entry["corners"])
    lengths = []
    for way in [outline] if has_way else [outline, tuple((-y, x) for x, y in outline)]:
        across, along = _reach(way, 1), _reach(way, 0)
        rounded = _ROUNDED * (1 + along / across)
        if across <= high + _ROUNDED:
            lengths.append((_measure(way, max(high, across), many, not has_way) - rounded * many, way))
    if not lengths:
        return f"a piece is higher than {high}"
    least = min(length for length, _ in lengths)
    if least > wide:
        return f"{many} pieces take {least} at least, and it is {wide} long"
    return ""


def _measure(outline: Outline, high: Fraction, many: int, may_turn: bool) -> Fraction:
    """The least length of a row."""
    top, bottom = min(y for _, y in outline), max(y for _, y in outline)
    found = []
    for down in {-top, high - bottom}:  # along the one edge of the strip or the other
        plain = _Lying(tuple((x, y + down) for x, y in outline))
        turned = _Lying(tuple((-x, high - y) for x, y in plain.outline))
        for order in ([plain], [plain, turned], [turned, plain]) if may_turn else ([plain],):
            found.append(_lay([order[place % len(order)] for place in range(many)]))
    return min(found)


def _lay(row: Sequence[_Lying]) -> Fraction:
    """How long pieces in this order are when each lies as near to those before it as can be."""
    places: list[Fraction] = []
    apart: dict[tuple[Outline, Outline], Fraction] = {}
    for number, piece in enumerate(row):
        place = -piece.left
        for back in (1, 2):
            if number >= back:
                before = row[number - back]
                key = before.outline, piece.outline
                if key not in apart:
                    apart[key] = _keep_apart(before, piece)
                near = places[number - back] + apart[key]
                place = near if back == 1 else max(place, near)
        places.append(place)
    return max(x + one.right for x, one in zip(places, row, strict=True)) - min(
        x + one.left for x, one in zip(places, row, strict=True)
    )


def _keep_apart(first: _Lying, second: _Lying) -> Fraction:
    """How far to the right of the first the second is laid at least."""
    found = []
    for y in {y for _, y in (*first.outline, *second.outline)}:
        one, other = first.span(y), second.span(y)
        if one is not None and other is not None:
            found.append(one[1] - other[0])
    return max(found, default=first.right - second.left)


def _read(text: str) -> Fraction:
    sign, text = (-1, text[1:]) if text.startswith("-") else (1, text)
    return sign * sum((Fraction(part) for part in text.split(" ")), Fraction(0))


def _reach(outline: Outline, axis: int) -> Fraction:
    return max(corner[axis] for corner in outline) - min(corner[axis] for corner in outline)
