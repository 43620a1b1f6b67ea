"""Parts in an order in which each comes after those it holds, and the rings where there is none."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

MOST_RINGS = 20  # told of one set of parts


class Use(NamedTuple):
    """A part named in a cell, and the line of the cell."""

    name: str
    line: int


class Ring(NamedTuple):
    """Parts that hold one another: the first holds the second, the last holds the first, in a cell of this line."""

    names: tuple[str, ...]
    line: int


class PartOrder(NamedTuple):
    """Parts, inner ones first; `depths` counts the levels: 1 for a part without parts."""

    order: tuple[str, ...]
    rings: tuple[Ring, ...]
    depths: Mapping[str, int]


def order_parts(uses: Mapping[str, Sequence[Use]]) -> PartOrder:
    """What each part holds -> an order; every part is in it, those of rings too. Names that are no key are ignored."""
    order: list[str] = []
    rings: list[Ring] = []
    depths: dict[str, int] = {}
    for first in uses:
        if first in depths:
            continue
        # the way down, each with what it holds still to be looked at; as deep as the file likes, so no recursion
        way: dict[str, Iterator[Use]] = {first: iter(uses[first])}
        while way:
            name = next(reversed(way))
            use = next(way[name], None)
            if use is None:
                del way[name]
                order.append(name)
                depths[name] = 1 + max((depths.get(held.name, 0) for held in uses[name]), default=0)
            elif use.name in way:
                if len(rings) == MOST_RINGS:
                    continue
                names = list(way)
                rings.append(Ring(tuple(names[names.index(use.name) :]), use.line))
            elif use.name in uses and use.name not in depths:
                way[use.name] = iter(uses[use.name])
    return PartOrder(tuple(order), tuple(rings), depths)
