"""A region that no straight seam divides -> the ways to sew it all the same: set-in seams and partial seams.

The sides of its patches are a map of ways. A seam is a way from border to border: it goes straight on where it can, and
turns where no line runs straight through a point (three patches that meet in their corners): there one of the seams
has to bend, whatever the order, and each such point is turned at once only. Where no such way is there, lines run
round and end at one another; then one of them is sewn in part and finished last: what is not sewn yet is a slit,
and its edges count as border.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import islice, pairwise
from typing import NamedTuple

from planner.blocks import Outline, Point
from planner.surd import Grid, halve, sign_of

Stretch = tuple[Point, Point]  # the lower point in reading order (x, then y) first

FEW_PATCHES = 16  # of so many or fewer every way through is looked at
MOST_WAYS = 1_000  # that are looked at of a small region
FEW_WAYS = (
    24  # that are kept of a region, the best halving; of a large one of the shortest between points of the border
)


class Bend(NamedTuple):
    """A seam that divides a region: `first` are the patches on the side to which the normal (-dy, dx) of its way
    points. `legs` are its corners from end to end, two of a straight one."""

    first: frozenset[int]
    legs: tuple[Point, ...]
    joins: int  # points where seams of both sides meet


class Slit(NamedTuple):
    """What of a line is left open at first: from where the sewing stops to the border."""

    stop: Point
    end: Point


class Ways:
    """The map of one region: its patches by their outlines, what is slit in it, and what must stay together (parts)."""

    def __init__(
        self, outlines: Sequence[Outline], slits: Iterable[Stretch] = (), together: Sequence[frozenset[int]] = ()
    ) -> None:
        self.outlines = outlines
        self.slits = tuple(slits)
        self.together = together
        self.faces: dict[Stretch, list[int]] = {}
        for number, outline in enumerate(outlines):
            for stretch in self._split_sides(outline):
                self.faces.setdefault(stretch, []).append(number)
        self.inner: dict[Point, list[Point]] = {}
        self.border: set[Point] = set()
        for (p, q), faces in self.faces.items():
            if len(faces) == 1 or self._is_slit(p, q):
                self.border |= {p, q}
            else:
                self.inner.setdefault(p, []).append(q)
                self.inner.setdefault(q, []).append(p)
        for points in self.inner.values():
            points.sort()
        self._ahead: dict[Stretch, Point | None] = {}

    def _split_sides(self, outline: Outline) -> Iterator[Stretch]:
        """The sides of a patch, divided where corners of others, and ends of slits, lie on them."""
        for start, end in zip(outline, outline[1:] + outline[:1], strict=True):
            yield from pairwise(self._stops_on(min(start, end), max(start, end)))

    def _stops_on(self, start: Point, end: Point) -> list[Point]:
        """The corners on a stretch in order, its ends included."""
        corners = self._corners
        near = corners[bisect_left(corners, (start[0],)) : bisect_right(corners, end)]
        return [start, *(point for point in near if point not in (start, end) and lies_on(point, start, end)), end]

    @cached_property
    def _corners(self) -> list[Point]:
        """All corners, and ends of slits, in reading order."""
        corners = dict.fromkeys(point for outline in self.outlines for point in outline)
        corners.update(dict.fromkeys(point for slit in self.slits for point in slit))
        return sorted(corners)

    def _is_slit(self, p: Point, q: Point) -> bool:
        return any(lies_on(p, *slit) and lies_on(q, *slit) for slit in self.slits)

    # -- ways through

    def find_bends(self) -> list[Bend]:
        """The seams that divide this region, each a way that turns only where it must."""
        find = self._walk_all if len(self.outlines) <= FEW_PATCHES else self._walk_shortest
        bends = [bend for way in find() if (bend := self.divide(way)) is not None]
        return self._keep_best(bends)

    def find_all(self, extra: int | None) -> tuple[list[Bend], bool]:
        """The seams that divide this region, also those that leave a line that runs on, but at most so often; and
        whether these are all."""
        ways = list(islice(self._walk_off_lines(extra), MOST_WAYS + 1))
        bends = [bend for way in ways[:MOST_WAYS] if (bend := self.divide(way)) is not None]
        return bends, len(ways) <= MOST_WAYS

    def count_turns(self) -> int:
        """The points inside through which no line runs: at each of them some seam has to turn."""
        return sum(point not in self.border and not self._runs_through(point) for point in self.inner)

    def find_single(self) -> list[Bend]:
        """The patches that can be sewn on last, each along one way, whatever it turns."""
        found = []
        for number in range(len(self.outlines)):
            way = self._way_round(number)
            bend = self.divide(way) if way else None
            if bend is not None:
                found.append(bend)
        return found

    def find_slits(self) -> list[Slit]:
        """Lines that begin at the border and end inside at another line: each may be sewn in part, from its inner end
        to the middle of the first stretch there, and finished from there to the border."""
        found = []
        for start in sorted(self._outside):
            for there in self.inner.get(start, ()):
                way = [start, there]
                while way[-1] not in self.border and (ahead := self._go_on(way[-2], way[-1])) is not None:
                    way.append(ahead)
                if way[-1] in self.border or not self._runs_through(way[-1]):
                    continue
                (px, py), (qx, qy) = way[-2:]
                found.append(Slit((halve(px + qx), halve(py + qy)), start))
        return found

    @cached_property
    def _outside(self) -> set[Point]:
        """The points of the border that are on no slit alone: no slit opens into another."""
        return {point for stretch, faces in self.faces.items() if len(faces) == 1 for point in stretch}

    def _keep_best(self, bends: list[Bend]) -> list[Bend]:
        half = len(self.outlines)
        return sorted(bends, key=lambda bend: (abs(2 * len(bend.first) - half), len(bend.legs), bend.legs))[:FEW_WAYS]

    def _go_on(self, here: Point, there: Point) -> Point | None:
        """The next point straight ahead of a stretch that is walked; None where nothing runs on."""
        if (here, there) not in self._ahead:
            others = self.inner.get(there, ())
            found = (point for point in others if point != here and is_straight(here, there, point))
            self._ahead[here, there] = next(found, None)
        return self._ahead[here, there]

    def _runs_through(self, point: Point) -> bool:
        """Whether a line runs straight through a point."""
        return any(self._go_on(there, point) is not None for there in self.inner[point])

    def _next(self, here: Point, there: Point) -> Sequence[Point]:
        """Where a way may go on: straight ahead; else, where no line runs through, round any corner."""
        ahead = self._go_on(here, there)
        if ahead is not None:
            return (ahead,)
        return () if self._runs_through(there) else [point for point in self.inner[there] if point != here]

    def _walk_all(self) -> Iterator[list[Point]]:
        return islice(self._walk_off_lines(0), MOST_WAYS)

    def _walk_off_lines(self, extra: int | None) -> Iterator[list[Point]]:
        """All ways from border to border that turn at most so often where a line runs through."""
        for start in sorted(self.border):
            waiting = [([start, there], 0) for there in reversed(self.inner.get(start, ()))]
            while waiting:
                way, off = waiting.pop()
                if way[-1] in self.border:
                    if way[0] < way[-1]:
                        yield way
                    continue
                here = way[-1]
                ahead = self._go_on(way[-2], here)
                is_line = self._runs_through(here)
                for there in reversed(self.inner[here]):
                    more = off + (is_line and there != ahead)
                    if there not in way and (extra is None or more <= extra):
                        waiting.append(([*way, there], more))

    def _walk_shortest(self) -> Iterator[list[Point]]:
        """The shortest way between each two points of the border, for each first step."""
        for start in sorted(self.border):
            for first in self.inner.get(start, ()):
                came: dict[Stretch, Stretch | None] = {(start, first): None}
                waiting = deque(came)
                ends: set[Point] = set()
                while waiting:
                    step = waiting.popleft()
                    if step[1] in self.border:
                        if start < step[1] and step[1] not in ends:
                            ends.add(step[1])
                            yield _trace(came, step)
                        continue
                    for there in self._next(*step):
                        if (step[1], there) not in came:
                            came[step[1], there] = step
                            waiting.append((step[1], there))

    def _way_round(self, number: int) -> list[Point] | None:
        """The stretches at which a patch meets the others, as one way; None where they are none, or several."""
        steps: dict[Point, Point] = {}
        outline = self.outlines[number]
        for start, end in zip(outline, outline[1:] + outline[:1], strict=True):
            stops = self._stops_on(min(start, end), max(start, end))
            for p, q in pairwise(stops if start < end else stops[::-1]):
                stretch = (p, q) if p < q else (q, p)
                if len(self.faces[stretch]) == 2 and not self._is_slit(p, q):
                    steps[p] = q
        starts = [point for point in steps if point not in steps.values()]
        if len(starts) != 1:
            return None
        way = starts
        while way[-1] in steps:
            way.append(steps[way[-1]])
        return way if len(way) == len(steps) + 1 else None

    # -- what a way divides

    def divide(self, way: Sequence[Point]) -> Bend | None:
        """The seam along a way; None where it does not divide the region in two, or parts what belongs together."""
        on_way = {(p, q) if p < q else (q, p) for p, q in pairwise(way)}
        p, q = way[0], way[1]
        # Sets of patches are the bits of a number
        beside = list(self._beside)
        for stretch in on_way:
            one, other = self.faces[stretch]
            if not self._meet_elsewhere(one, other, on_way):
                beside[one] &= ~(1 << other)
                beside[other] &= ~(1 << one)
        first = _flood(self._face_beside(p, q), beside)
        rest = _flood(self._face_beside(q, p), beside)
        if first & rest or first | rest != (1 << len(self.outlines)) - 1:
            return None
        if any(group & first and group & rest for group in self._together):
            return None
        patches = frozenset(number for number in range(len(self.outlines)) if first >> number & 1)
        if self.slits:
            if self._stops(way[1], way[0]) and self._stops(way[-2], way[-1]):
                return None  # what is finished later is finished at one end
            sides = (patches, frozenset(range(len(self.outlines))) - patches)
            if not all(self._is_begun(slit, side) for side in sides for slit in self.keep_slits(side)):
                return None
        return Bend(patches, bare_corners(way), self._count_joins(way, patches))

    def _meet_elsewhere(self, one: int, other: int, on_way: set[Stretch]) -> bool:
        """Whether two patches are joined along more than what of it lies on a way."""
        meeting = self._meetings[min(one, other), max(one, other)]
        return len(meeting) > 1 and not on_way.issuperset(meeting)

    def _face_beside(self, p: Point, q: Point) -> int:
        """The patch at a stretch on the side to which the normal (-dy, dx) points."""
        one, other = self.faces[(p, q) if p < q else (q, p)]
        return one if lies_beside(self.outlines[one], p, q) else other

    @cached_property
    def _meetings(self) -> dict[tuple[int, int], list[Stretch]]:
        """For each two patches that are joined along which stretches."""
        found: dict[tuple[int, int], list[Stretch]] = {}
        for stretch, faces in self.faces.items():
            if len(faces) == 2 and not self._is_slit(*stretch):
                found.setdefault((min(faces), max(faces)), []).append(stretch)
        return found

    @cached_property
    def _beside(self) -> list[int]:
        """For each patch those that it is joined to, as bits."""
        beside = [0] * len(self.outlines)
        for one, other in self._meetings:
            beside[one] |= 1 << other
            beside[other] |= 1 << one
        return beside

    @cached_property
    def _together(self) -> list[int]:
        return [sum(1 << number for number in group) for group in self.together]

    def keep_slits(self, patches: frozenset[int]) -> tuple[Stretch, ...]:
        """What of the slits lies between these patches only."""
        open_stretches = sorted(
            stretch
            for stretch, faces in self.faces.items()
            if len(faces) == 2 and patches.issuperset(faces) and self._is_slit(*stretch)
        )
        found: list[Stretch] = []
        for p, q in open_stretches:
            before = next((one for one in found if one[1] == p and is_straight(*one, q)), None)
            if before is not None:
                found.remove(before)
            found.append((before[0] if before else p, q))
        return tuple(found)

    def _stops(self, before: Point, end: Point) -> bool:
        """Whether a way stops at its end half way: a slit goes on from there."""
        return any(
            end == stop and is_straight(before, stop, other)
            for slit in self.slits
            for stop, other in (slit, slit[::-1])
        )

    def _is_begun(self, slit: Stretch, patches: frozenset[int]) -> bool:
        """Whether the seam that is finished along a slit between these patches is sewn in part between them: what has
        never been begun is no slit, but a border that was left out."""
        for stop, end in (slit, slit[::-1]):
            ahead = self._go_on(end, stop)
            if ahead is not None and patches.issuperset(self.faces[min(stop, ahead), max(stop, ahead)]):
                return True
        return False

    def count_closed(self, slit: Slit) -> int:
        """Points of what is finished last where a seam of either side of it ends."""
        many = 0
        for point, others in self.inner.items():
            if point == slit.stop or not lies_on(point, slit.stop, slit.end):
                continue
            turns = {sign_of(_cross(slit.stop, slit.end, other)) for other in others}
            many += {-1, 1} <= turns
        return many

    def _count_joins(self, way: Sequence[Point], first: frozenset[int]) -> int:
        """Points of a way where a seam of either side ends."""
        on_way = {(p, q) if p < q else (q, p) for p, q in pairwise(way)}
        many = 0
        for point in way:
            sides = set()
            for other in self.inner.get(point, ()):
                stretch = (point, other) if point < other else (other, point)
                if stretch not in on_way:
                    sides.add(self.faces[stretch][0] in first)
            many += len(sides) == 2
        return many


def _flood(face: int, beside: Sequence[int]) -> int:
    """All patches that hang together with one, as bits."""
    found = new = 1 << face
    while new:
        low = new & -new
        new ^= low
        more = beside[low.bit_length() - 1] & ~found
        found |= more
        new |= more
    return found


def lies_on(point: Point, start: Point, end: Point) -> bool:
    """Whether a point lies on a stretch, its ends included."""
    (x, y), (ax, ay), (bx, by) = point, start, end
    if not (min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by)):
        return False
    return (x - ax) * (by - ay) == (y - ay) * (bx - ax)


def _cross(a: Point, b: Point, c: Point) -> Grid:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def is_straight(here: Point, there: Point, beyond: Point) -> bool:
    """Whether three points follow one another on a line."""
    (ax, ay), (bx, by), (cx, cy) = here, there, beyond
    ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
    return ux * vy == uy * vx and sign_of(ux * vx + uy * vy) > 0


def lies_beside(outline: Outline, p: Point, q: Point) -> bool | None:
    """Whether a patch with a side along the stretch from p to q, or along some of it, lies where the normal (-dy, dx)
    of that points; None where it has no such side."""
    along = (q[0] - p[0], q[1] - p[1])
    # Outlines go clockwise as one looks at them: what is walked along so lies where that normal points
    for start, end in zip(outline, outline[1:] + outline[:1], strict=True):
        if sign_of(_cross(p, q, start)) or sign_of(_cross(p, q, end)):
            continue
        ends = sorted(along[0] * (x - p[0]) + along[1] * (y - p[1]) for x, y in (start, end))
        if sign_of(ends[1]) > 0 and sign_of(along[0] ** 2 + along[1] ** 2 - ends[0]) > 0:
            return sign_of(along[0] * (end[0] - start[0]) + along[1] * (end[1] - start[1])) > 0
    return None


def bare_corners(way: Sequence[Point]) -> tuple[Point, ...]:
    """A way without the points that lie in line with those before and after."""
    kept = [way[0]]
    for here, beyond in pairwise(way[1:]):
        if not is_straight(kept[-1], here, beyond):
            kept.append(here)
    return (*kept, way[-1])


def _trace(came: dict[Stretch, Stretch | None], step: Stretch) -> list[Point]:
    way = [step[1]]
    here: Stretch | None = step
    while here is not None:
        way.append(here[0])
        here = came[here]
    return way[::-1]


def is_inner_corner(outlines: Sequence[Outline], point: Point) -> bool:
    """Whether patches that are sewn together leave an inner corner at a point of their border."""
    steps: list[tuple[Point, Point]] = []  # the sides that come to the point, and those that leave it
    for outline in outlines:
        for place, corner in enumerate(outline):
            if corner == point:
                steps.append((outline[place - 1], outline[(place + 1) % len(outline)]))
        if any(point not in side and lies_on(point, *side) for side in _sides(outline)):
            return any(point in other for other in outlines if other is not outline)
    befores = [before for before, after in steps if not any(_is_along(point, before, other) for _, other in steps)]
    afters = [after for before, after in steps if not any(_is_along(point, after, other) for other, _ in steps)]
    if len(befores) != 1 or len(afters) != 1:
        return False  # all round, or more than one gap
    (ax, ay), (px, py), (bx, by) = befores[0], point, afters[0]
    return sign_of((px - ax) * (by - py) - (py - ay) * (bx - px)) < 0


def has_inner_corner_at(outline: Outline, point: Point) -> bool:
    """Whether a patch itself has an inner corner at a point."""
    if point not in outline:
        return False
    place = outline.index(point)
    return sign_of(_cross(outline[place - 1], point, outline[(place + 1) % len(outline)])) < 0


def _sides(outline: Outline) -> Iterator[Stretch]:
    return zip(outline, outline[1:] + outline[:1], strict=True)


def _is_along(point: Point, one: Point, other: Point) -> bool:
    """Whether two points lie the same way from a point."""
    return one == other or is_straight(point, one, other) or is_straight(point, other, one)
