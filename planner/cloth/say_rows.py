"""Rows of slanted pieces in the maker's words: how a strip is parted into them, by the ruler's slanting lines."""

from __future__ import annotations

from collections.abc import Iterator

from planner.cloth.nest_rows import find_angle, list_cuts
from planner.cloth.rectangles import Rectangle
from planner.measure import Ruler
from planner.surd import Exact


def say_row(row: Rectangle, ruler: Ruler, is_mirrored: bool) -> Iterator[str]:
    """What the hands do, line by line; the strip lies before them from left to right. `is_mirrored`: a piece that is
    turned over is the same."""
    slants = row.slants
    assert slants is not None, "a row has slants"
    cuts = list_cuts(slants, 2)
    (upper, lower), (next_upper, next_lower) = cuts[:2]
    angles = find_angle(slants)
    begins_turned = slants.alternates and next_upper - upper != slants.upper
    first, second = angles[::-1] if begins_turned else angles
    begin = f"Cut the left end {_say_cut(first, lower - upper)}"
    size = f"{ruler.to_cut(slants.measured).words}{ruler.ending}"
    if not slants.alternates:
        yield f"{begin}; then every {size}, measured square to that cut"
    else:
        is_lower = next_lower - lower > next_upper - upper
        edges = ("lower", "upper") if is_lower else ("upper", "lower")
        after = _say_cut(second, next_lower - next_upper)
        yield f"{begin}; from there {size} along the {edges[0]} edge, and cut {after}"
        yield f"Then {size} along the {edges[1]} edge, and cut as at first; so on, every other one turned half round"
    if not is_mirrored:
        yield "Right side up, one layer at a time: of two layers that face each other half come out mirrored"


def has_ruled_cuts(row: Rectangle) -> bool:
    """Whether a ruler has lines for its cuts."""
    return row.slants is not None and all(find_angle(row.slants))


def _say_cut(angle: int, lean: Exact) -> str:
    if angle == 90:
        return "straight across"
    way = f"its lower end to the {'right' if lean > 0 else 'left'}"
    return f"at {angle} degrees, {way}" if angle else f"aslant as its outline is, {way}"
