"""One strip across the cloth: what fills it best, when every piece has a worth.

Numbers are whole: lengths in steps of a grid, worths in steps of any size. In a strip pieces of one size stand side by
side in columns, in each as many on top of one another as the strip is high.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.cloth.count_steps import Steps

MOST_LOOKS = 3_000  # at ways to fill one strip, counted, never timed


class Lying(NamedTuple):
    """A way for pieces of a kind to lie: `wide` across the cloth, `high` along it."""

    kind: int
    wide: int
    high: int


class Pattern(NamedTuple):
    """A strip: how high, how many columns of which way to lie (places in a list of such), and how many pieces of each
    kind come out of it where no more are needed than are wanted."""

    high: int
    columns: tuple[tuple[int, int], ...]
    gives: tuple[int, ...]


class Filled(NamedTuple):
    """The best pattern found; no strip of this height is worth more than `at_most`."""

    pattern: Pattern
    worth: int
    at_most: int


def fill_strip(
    lying: Sequence[Lying], high: int, room: int, worths: Sequence[int], wanted: Sequence[int], steps: Steps
) -> Filled:
    """The pieces of most worth in a strip so high and `room` wide; pieces that are not wanted are worth nothing."""
    choices = [
        (worths[way.kind] * (high // way.high), way.wide, high // way.high, place)
        for place, way in enumerate(lying)
        if way.high <= high and way.wide <= room and worths[way.kind] > 0 and wanted[way.kind] > 0
    ]
    # The densest first: worth by width; then the tallest, so that less is cut
    choices.sort(key=lambda one: (-_share(one[0], one[1]), one[2], one[3]))
    best, looks = 0, 0
    left = list(wanted)
    taken: list[tuple[int, int]] = []
    best_columns: tuple[tuple[int, int], ...] = ()

    def reach(place: int, room: int) -> int:
        """No more than this can be gained from here on: columns of the densest first, the last one in part."""
        gain = 0
        for dense, wide, deep, which in choices[place:]:
            wished = -(-left[lying[which].kind] // deep)
            if wished * wide >= room:
                return gain + room * dense // wide
            gain += wished * dense
            room -= wished * wide
        return gain

    def look(place: int, room: int, worth: int) -> None:
        nonlocal best, best_columns, looks
        looks += 1
        if worth > best:
            best, best_columns = worth, tuple(taken)
        if place == len(choices) or looks > MOST_LOOKS:
            return
        dense, wide, deep, which = choices[place]
        if (worth - best) * wide + room * dense <= 0 or worth + reach(place, room) <= best:
            return
        kind = lying[which].kind
        had = left[kind]
        for many in range(min(room // wide, -(-had // deep)), 0, -1):
            gained = min(many * deep, had)
            left[kind] = had - gained
            taken.append((which, many))
            look(place + 1, room - many * wide, worth + gained * worths[kind])
            taken.pop()
        left[kind] = had
        look(place + 1, room, worth)

    look(0, room, 0)
    steps.take(looks)
    at_most = best
    if looks > MOST_LOOKS:
        at_most = max(best, -(-room * choices[0][0] // choices[0][1]))
    return Filled(make_pattern(lying, high, best_columns, wanted), best, at_most)


def _share(worth: int, wide: int) -> int:
    return (worth << 64) // wide


def make_pattern(
    lying: Sequence[Lying], high: int, columns: Sequence[tuple[int, int]], wanted: Sequence[int]
) -> Pattern:
    """A strip of these columns, of which no more pieces count than are wanted."""
    gives = [0] * len(wanted)
    for which, many in columns:
        gives[lying[which].kind] += many * (high // lying[which].high)
    return Pattern(high, tuple(sorted(columns)), tuple(map(min, gives, wanted)))
