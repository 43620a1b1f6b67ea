"""The outlines of all units of a plan, seam by seam, and the seams whose sides can't be sewn by one straight line."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from planner.checks.read_plan import Outline, Point, Work, cross, trim_outline
from planner.checks.rooted import Number

Stretch = tuple[Point, Point]


class Sewn(NamedTuple):
    """Outlines of patches and results, by the places of `Work`; None where a complaint tells that it is not known."""

    outlines: tuple[Outline | None, ...]
    complaints: tuple[str, ...]


def sew_outlines(work: Work) -> Sewn:
    """Follow all seams. What can't be sewn as it is told has no outline, nor has what it is sewn into.

    Complaints tell of a side that is not convex where the seam is not set in, of sides without a common border, and of
    a seam that is not the whole of that border.
    """
    outlines: list[Outline | None] = [patch.outline for patch in work.patches]
    complaints: list[str] = []
    for seam in work.seams:
        outlines.append(None)
        a, b = outlines[seam.a], outlines[seam.b]
        if not a or not b:
            continue
        if seam.legs:
            outlines[-1] = merge_outlines(a, b, seam.legs)
            if outlines[-1] is None:
                complaints.append(f"seam {seam.id}: its legs are not the whole border of its sides")
            continue
        bent = [(side, place) for side, place in (("a", seam.a), ("b", seam.b)) if not is_convex(outlines[place] or ())]
        border = None if bent else _find_border(a, b)
        if border is not None and {seam.start, seam.end} != set(border.stretch):
            complaints.append(f"seam {seam.id}: {_spell_border(work, border.stretch)}")
        stretch = border.stretch if border else (seam.start, seam.end)
        if border is not None and border.is_whole:
            outlines[-1] = _sew(a, b, border)
        if outlines[-1] is None:
            outlines[-1] = merge_outlines(a, b, [stretch])
        # A strip round the top may be sewn straight to what has inner corners elsewhere, once others are sewn to it
        if bent and not (seam.block is None and outlines[-1]):
            complaints += [f"seam {seam.id}: side {side}, {work.name(place)}, is not convex" for side, place in bent]
            outlines[-1] = None
        elif border is None and not bent:
            complaints.append(f"seam {seam.id}: its sides have no border in common")
            outlines[-1] = None
    return Sewn(tuple(outlines), tuple(complaints))


def merge_outlines(a: Outline, b: Outline, legs: Sequence[Stretch]) -> Outline | None:
    """The outline round both, which may have inner corners; None where these legs are not all that they share."""
    ways = [_split(outline, {*a, *b, *(point for leg in legs for point in leg)}) for outline in (a, b)]
    shared = {(start, end) for start, end in ways[0] if (end, start) in ways[1]}
    points = {point for way in shared for point in way}
    parts = {part for first, last in legs for part in _split_stretch(first, last, points)}
    if {frozenset(part) for part in parts} != {frozenset(way) for way in shared}:
        return None
    after = {start: end for start, end in ways[0] if (start, end) not in shared}
    for start, end in ways[1]:
        if (end, start) in shared:
            continue
        if start in after:
            return None
        after[start] = end
    corner = next(iter(after))
    whole = [corner]
    while after.get(whole[-1], corner) != corner:
        whole.append(after[whole[-1]])
        if len(whole) > len(after):
            return None
    return trim_outline(whole) if len(whole) == len(after) else None


def _split(outline: Outline, points: Iterable[Point]) -> set[Stretch]:
    """Its sides, in their sense of rotation, parted where one of the points lies on them."""
    found = list(points)
    return {part for place, end in enumerate(outline) for part in _split_stretch(outline[place - 1], end, found)}


def _split_stretch(start: Point, end: Point, points: Iterable[Point]) -> list[Stretch]:
    along = (end[0] - start[0], end[1] - start[1])
    low, high = _reach(start, along), _reach(end, along)
    inside = [
        (_reach(point, along), point)
        for point in points
        if low < _reach(point, along) < high and not cross(start, end, point)
    ]
    way = [start, *(point for _, point in sorted(inside)), end]
    return list(pairwise(way))


def is_convex(outline: Outline) -> bool:
    """Whether all corners turn the same way; the outline does not cross itself."""
    return all(
        cross(outline[place - 1], corner, outline[(place + 1) % len(outline)]) > 0
        for place, corner in enumerate(outline)
    )


class _Border(NamedTuple):
    """The side of `a` that ends in corner `of_a` lies along the side of `b` that ends in corner `of_b`."""

    stretch: Stretch
    of_a: int
    of_b: int
    is_whole: bool  # both sides are the stretch and no more


def _find_border(a: Outline, b: Outline) -> _Border | None:
    for of_a, end in enumerate(a):
        start = a[of_a - 1]
        for of_b, other_end in enumerate(b):
            other_start = b[of_b - 1]
            if cross(start, end, other_start) or cross(start, end, other_end):
                continue
            # on one line; both outlines turn the same way, so they lie on different sides of it if these run against
            along = (end[0] - start[0], end[1] - start[1])
            low, high = (_reach(point, along) for point in (start, end))
            other_low, other_high = (_reach(point, along) for point in (other_end, other_start))
            if other_low >= other_high or max(low, other_low) >= min(high, other_high):
                continue
            first = start if low >= other_low else other_end
            last = end if high <= other_high else other_start
            return _Border((first, last), of_a, of_b, (low, high) == (other_low, other_high))
    return None


def _reach(point: Point, along: Point) -> Number:
    return point[0] * along[0] + point[1] * along[1]


def _sew(a: Outline, b: Outline, border: _Border) -> Outline | None:
    """Both sides as one outline; None where it is not convex."""
    # a from the end of its side round to the start of it, then what b adds in between
    corners = [*a[border.of_a :], *a[: border.of_a]]
    added = [*b[border.of_b :], *b[: border.of_b]][1:-1]
    whole = [*corners, *added]
    straight = []
    for seam_end in (0, len(corners) - 1):
        turn = cross(whole[seam_end - 1], whole[seam_end], whole[(seam_end + 1) % len(whole)])
        if turn < 0:
            return None
        if turn == 0:
            straight.append(seam_end)
    return tuple(corner for place, corner in enumerate(whole) if place not in straight)


def _spell_border(work: Work, stretch: Stretch) -> str:
    first, last = sorted(stretch)
    return f"the whole border of its sides runs from {work.spell(first)} to {work.spell(last)}"
