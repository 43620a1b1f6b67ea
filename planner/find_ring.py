"""Why choices contradict each other: a short ring of links that cannot all hold.

Every link says of two points that they are equal, or opposite. Links contradict each other just where some ring of
them has an odd number of opposites; leave one out of such a ring, and the rest can hold.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Sequence
from typing import NamedTuple


class Link(NamedTuple):
    """Two points that are opposite, or (`is_opposite` false) equal; and whether they are so as things stand."""

    first: Hashable
    second: Hashable
    is_opposite: bool
    holds: bool


def find_ring(links: Sequence[Link], through: int) -> tuple[int, ...]:
    """A short ring of links that cannot all hold and that one of them (which does not hold) is part of: places in
    `links`, that one first, then on from its second point. Empty where there is none.

    The shortest there is, unless a way through it comes by one point twice: then the shortest in which all others hold.
    """
    start = links[through]
    if start.first == start.second:
        return (through,) if start.is_opposite else ()
    for only_holding in (False, True):
        usable = [place for place, link in enumerate(links) if place != through and (link.holds or not only_holding)]
        way = _find_way(links, usable, start)
        # A way that comes through one point twice holds a shorter ring, but not one with this link in it
        if way and _is_simple(links, start, way):
            return (through, *way)
    return ()


def _find_way(links: Sequence[Link], usable: Sequence[int], start: Link) -> tuple[int, ...]:
    """The shortest way from the second point of a link to its first that says the contrary of it."""
    at: dict[Hashable, list[tuple[int, Hashable]]] = {}
    for place in usable:
        link = links[place]
        at.setdefault(link.first, []).append((place, link.second))
        at.setdefault(link.second, []).append((place, link.first))
    begin, end = (start.second, False), (start.first, not start.is_opposite)
    came_by: dict[tuple[Hashable, bool], tuple[int, tuple[Hashable, bool]] | None] = {begin: None}
    waiting = deque([begin])
    while waiting and end not in came_by:
        here = waiting.popleft()
        for place, other in at.get(here[0], ()):
            there = (other, here[1] != links[place].is_opposite)
            if there not in came_by:
                came_by[there] = (place, here)
                waiting.append(there)
    way: list[int] = []
    back = came_by.get(end)
    while back is not None:
        way.append(back[0])
        back = came_by[back[1]]
    return tuple(reversed(way))


def _is_simple(links: Sequence[Link], start: Link, way: Sequence[int]) -> bool:
    here, seen = start.second, {start.second}
    for place in way:
        link = links[place]
        here = link.second if link.first == here else link.first
        if here in seen:
            return False
        seen.add(here)
    return here == start.first
