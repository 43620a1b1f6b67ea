"""All strips, and all sums of their heights, where there are few enough to look at each."""

from __future__ import annotations

from collections.abc import Sequence

from planner.cloth.count_steps import Steps
from planner.cloth.fill_strip import Lying, Pattern, make_pattern

MOST_LISTED = 600
MOST_LOOKS = 8_000  # at ways to go on, in making one list


def list_patterns(lying: Sequence[Lying], wanted: Sequence[int], room: int, steps: Steps) -> tuple[Pattern, ...]:
    """All strips to which no column can be added that is wanted, of those that give the same the lowest; nothing where
    there are more than can be listed."""
    found: dict[tuple[int, ...], Pattern] = {}
    looks = Steps(MOST_LOOKS)

    def add(high: int, ways: Sequence[int], room: int, left: list[int], columns: tuple[tuple[int, int], ...]) -> None:
        looks.take()
        if len(found) > MOST_LISTED or looks.are_over:
            return
        if not ways:
            if columns and not any(left[way.kind] > 0 and way.wide <= room and way.high <= high for way in lying):
                pattern = make_pattern(lying, high, columns, wanted)
                found.setdefault(pattern.gives, pattern)
            return
        way, deep = lying[ways[0]], high // lying[ways[0]].high
        for many in range(max(0, min(room // way.wide, -(-left[way.kind] // deep))), -1, -1):
            left[way.kind] -= many * deep
            more = ((ways[0], many),) if many else ()
            add(high, ways[1:], room - many * way.wide, left, columns + more)
            left[way.kind] += many * deep

    for high in sorted({way.high for way in lying if wanted[way.kind]}):
        ways = [at for at, way in enumerate(lying) if way.high <= high and way.wide <= room and wanted[way.kind]]
        add(high, ways, room, list(wanted), ())
    steps.take(MOST_LOOKS - looks.left)
    return () if len(found) > MOST_LISTED or looks.are_over else tuple(found.values())


def list_sums(heights: Sequence[int], least: int, below: int) -> list[tuple[int, ...]]:
    """Heights, from the first down and each as often as wanted, that come to less than `below` and not below `least`;
    not all, where there are very many. `heights` fall."""
    found: list[tuple[int, ...]] = []
    looks = Steps(MOST_LISTED)

    def add(place: int, total: int, chosen: tuple[int, ...]) -> None:
        looks.take()
        if least <= total < below and chosen:
            found.append(chosen)
        for at in range(place, len(heights)):
            if looks.are_over:
                return
            if total + heights[at] < below:
                add(at, total + heights[at], (*chosen, heights[at]))

    add(0, 0, ())
    return found
