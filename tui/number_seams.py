"""The seams of a block in the order in which they are sewn, and where their numbers stand in a picture."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise
from math import floor
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Segment
from planner.feed_units import count_eighths
from planner.pictures.trace_seams import number_seams
from planner.plan import Plan
from planner.surd import Grid, to_least
from planner.turns import turn_direction
from tui.canvas import Place, Spot, walk_line
from tui.paint_scene import ARROWS

ToSpot = Callable[[Grid, Grid], Spot]  # where a point lies in a picture
_BORDER, _CROSSING = -1, -2


_OPEN, _SPUN = "=", "@"


def press_arrow(plan: Plan, block: int, number: int) -> str:
    """The way the allowances of a seam fall, as the block lies; slanting ways to the nearest eighth of a turn. `=`
    where they are pressed apart, `@` where they are spun round a point."""
    units = plan.units
    if plan.press_words.is_open(block, number):
        return _OPEN
    if number in plan.pressing.is_spun[block]:
        return _SPUN
    seam = units.seams[block][number]
    unit = units.units[seam.unit]
    assert unit.a is not None
    (px, py), (qx, qy) = unit.seam
    on_normal = unit.a_on_normal == plan.pressing.to_a[block][number]
    way = (py - qy, qx - px) if on_normal else (qy - py, px - qx)
    return ARROWS[(4 - count_eighths(turn_direction(way, seam.turn))) % 8]


class Tag(NamedTuple):
    """What stands on a seam, and the points that divide it: its ends, and where other seams end on it."""

    text: str
    stops: tuple[Point, ...]


def tag_seams(plan: Plan, block: int, seams: Sequence[Segment]) -> tuple[Tag, ...]:
    """The number and the arrow of each seam of a block; `seams` are where they lie."""
    numbers = number_seams(plan, block)
    return tuple(
        Tag(f"{numbers[number]}{press_arrow(plan, block, number)}", stops)
        for number, stops in enumerate(_find_stops(seams))
    )


def _find_stops(seams: Sequence[Segment]) -> Iterator[tuple[Point, ...]]:
    ends = sorted({point for seam in seams for point in seam})
    on_lines: dict[Point, dict[Grid, list[Point]]] = {}
    for start, end in seams:
        along = _primitive(start, end)
        if along not in on_lines:
            lines = on_lines[along] = {}
            for x, y in ends:
                lines.setdefault(along[0] * y - along[1] * x, []).append((x, y))
        line = on_lines[along][along[0] * start[1] - along[1] * start[0]]
        low, high = min(start, end), max(start, end)
        yield tuple(line[bisect_left(line, low) : bisect_right(line, high)])


def _primitive(start: Point, end: Point) -> Point:
    dx, dy = to_least(end[0] - start[0], end[1] - start[1])
    return (-dx, -dy) if (dx, dy) < (0, 0) else (dx, dy)


class Placed(NamedTuple):
    """Where a tag begins. `is_clear`: it touches no other tag, and no line but that of its own seam."""

    place: Place
    is_clear: bool


def place_tags(
    tags: Sequence[Tag], border: Sequence[Point], spot: ToSpot, width: int, height: int
) -> dict[int, Placed]:
    """Places for tags in so many columns and rows, by the number of the tag; those without room are left out.

    Short seams choose first: they have the fewest places.
    """
    lines = _find_lines(tags, border, spot)
    taken: set[Place] = set()
    placed: dict[int, Placed] = {}

    def length(number: int) -> float:
        (ax, ay), (bx, by) = (spot(*point) for point in (tags[number].stops[0], tags[number].stops[-1]))
        return abs(bx - ax) / 2 + abs(by - ay)

    for number in sorted(range(len(tags)), key=lambda number: (length(number), number)):
        size = len(tags[number].text)
        second: Place | None = None
        for x, y in _offer_spots(tags[number], spot):
            row, column = floor(y), floor(x - (size - 1) / 2 + 1e-6)
            if not (0 <= row < height and 0 <= column <= width - size):
                continue
            cells = [(row, at) for at in range(column, column + size)]
            if not taken.isdisjoint(cells):
                continue
            around = ((row, column - 1), (row, column + size))
            if taken.isdisjoint(around) and all(lines.get(cell, number) == number for cell in cells):
                placed[number] = Placed((row, column), is_clear=True)
                break
            second = second or (row, column)
        else:
            if second is None:
                continue
            placed[number] = Placed(second, is_clear=False)
        (row, column), _ = placed[number]
        taken.update((row, at) for at in range(column, column + size))
    return placed


def _find_lines(tags: Sequence[Tag], border: Sequence[Point], spot: ToSpot) -> dict[Place, int]:
    """Which seam runs through a cell."""
    lines: dict[Place, int] = {}
    for number, tag in enumerate(tags):
        for stroke in walk_line(spot(*tag.stops[0]), spot(*tag.stops[-1])):
            lines[stroke.place] = number if lines.get(stroke.place, number) == number else _CROSSING
    for start, end in zip(border, (*border[1:], border[0]), strict=True):
        for stroke in walk_line(spot(*start), spot(*end)):
            lines[stroke.place] = _BORDER
    return lines


def _offer_spots(tag: Tag, spot: ToSpot) -> Iterable[Spot]:
    """Spots on a seam where its tag may stand, the best first: in the middle of a long stretch, near its own middle."""
    stops = [spot(*point) for point in tag.stops]
    middle = ((stops[0][0] + stops[-1][0]) / 2, (stops[0][1] + stops[-1][1]) / 2)
    found = []
    for (ax, ay), (bx, by) in pairwise(stops):
        room = abs(bx - ax) / 2 + abs(by - ay)
        for turn, share in enumerate((0.5, 0.3, 0.7)):
            at = (ax + share * (bx - ax), ay + share * (by - ay))
            away = abs(at[0] - middle[0]) / 2 + abs(at[1] - middle[1])
            found.append((turn > 0, -round(room), away, at))
    return [at for _, _, _, at in sorted(found)]
