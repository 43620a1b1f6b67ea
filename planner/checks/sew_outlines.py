"""The edges of all units of a plan, seam by seam, and the seams that can't be sewn as they are told.

An edge is the way round a unit, cloth on the side that a turn from x to y leads to. Where a seam is sewn in part, the
way goes in along the one face of the slit to where the sewing stops, and back out along the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from planner.checks.read_plan import Outline, Point, SeamRead, Work, cross, trim_outline
from planner.checks.rooted import Number

Way = tuple[Point, ...]


class Sewn(NamedTuple):
    """Edges of patches and results, by the places of `Work`; None where a complaint tells why it is not known.

    `faces` says of each seam whether its side a (of one that closes another: that one's) lies where a turn from x to y
    leads, as one goes from its start to its end.
    """

    edges: tuple[Way | None, ...]
    faces: tuple[bool | None, ...]
    complaints: tuple[str, ...]

    def find_outline(self, side: int) -> Outline | None:
        """The outline of a patch or a result, its slits closed."""
        edge = self.edges[side]
        return None if edge is None else trim_outline(edge)


class _Slit(NamedTuple):
    """What is open between two faces: from where the sewing stops to where the shorter face ends."""

    tip: Point
    end: Point


class _Touch(NamedTuple):
    """What a part of the edge of `a` and a part of that of `b` share, as `a` runs. A part is told by the corner of the
    edge that it ends in."""

    of_a: int
    of_b: int
    start: Point
    end: Point


_Border = tuple[_Touch, ...]  # one after another, along both edges
_Tips = Mapping[int, Point]  # where the sewing of a partial seam stops


def sew_outlines(work: Work) -> Sewn:
    """Follow all seams. What can't be sewn as it is told has no edge, nor has what it is sewn into.

    Complaints tell of sides without a common border, or with several, and of a seam that is not the whole of it; only
    what lies between the faces of a slit stays open, until the seam that closes it is sewn.
    """
    sewing = _Sewing(work)
    for place in range(len(work.seams)):
        sewing.sew(place)
    return Sewn(tuple(sewing.edges), tuple(sewing.faces), tuple(sewing.complaints))


class _Sewing:
    def __init__(self, work: Work) -> None:
        self.work = work
        self.edges: list[Way | None] = [patch.outline for patch in work.patches]
        self.tips: list[_Tips] = [{} for _ in work.patches]
        self.faces: list[bool | None] = []
        self.complaints: list[str] = []

    def sew(self, place: int) -> None:
        seam = self.work.seams[place]
        self.edges.append(None)
        self.tips.append({})
        self.faces.append(None)
        if seam.closes is not None:
            self._close(seam, seam.closes)
        elif seam.b is not None:
            self._join(place, seam, seam.a, seam.b)

    def _complain(self, seam: SeamRead, words: str) -> None:
        self.complaints.append(f"seam {seam.id}: {words}")

    def _join(self, place: int, seam: SeamRead, side_a: int, side_b: int) -> None:
        a, b = self.edges[side_a], self.edges[side_b]
        if a is None or b is None:
            return
        tips = {**self.tips[side_a], **self.tips[side_b]}
        borders = _find_borders(a, b)
        if not borders:
            self._complain(seam, "its sides have no border in common")
            return
        if any(way[0] == way[-1] for way in map(_find_way, borders)):
            self._complain(seam, "one of its sides lies all round the other")
            return
        whole = [border for border in borders if _are_slits(border, borders, a, b, tips)]
        if not whole:
            ways = ", and ".join(self._spell(_find_way(border)) for border in borders)
            self._complain(seam, f"its sides have more than one border: {ways}")
            return
        border = next((one for one in whole if _is_along(seam, _find_way(one))), whole[0])
        way = _find_way(border)
        self.faces[-1] = seam.start == way[0] or seam.end == way[-1]
        if not _is_along(seam, way):
            self._complain(seam, self._why_not_along(seam, way))
            if seam.is_partial:
                return
        start, end = way[0], way[-1]
        if seam.is_partial:
            tip = seam.end if seam.start in (start, end) else seam.start
            tips[place] = tip
            start, end = (start, tip) if start in (seam.start, seam.end) else (tip, end)
        self.edges[-1] = _merge(a, b, border, start, end)
        self.tips[-1] = tips

    def _why_not_along(self, seam: SeamRead, way: Way) -> str:
        words = f"the whole border of its sides runs {self._spell(way)}"
        if not seam.is_partial:
            return words if seam.legs or len(way) == 2 else f"{words}, and it is not set in"
        if _is_along(seam._replace(is_partial=False), way):
            return f"{words}, so it is not partial"
        return f"{words}, and it does not begin at an end of that and stop on its last stretch"

    def _spell(self, border: Way) -> str:
        return self.work.spell_way(min(border, border[::-1]))

    def _close(self, seam: SeamRead, closes: int) -> None:
        edge, tips = self.edges[seam.a], self.tips[seam.a]
        part, face = self.work.seams[closes], self.faces[closes]
        if edge is None or closes not in tips:
            return
        slit = _find_slit(edge, tips[closes])
        if slit is None:
            self._complain(seam, f"{part.id} has no slit left in it")
            return
        if {seam.start, seam.end} != set(slit):
            rest = self.work.spell_way(slit)
            self._complain(seam, f"what {part.id} leaves open between two faces runs {rest}")
        before, after = part.way[-2:] if part.end == slit.tip else part.way[:2]
        self.faces[-1] = face == (_leads(before, after, seam.start, seam.end) > 0)
        self.edges[-1] = _straighten([point for point in edge if point != slit.tip])
        self.tips[-1] = {other: tip for other, tip in tips.items() if other != closes}


def _is_along(seam: SeamRead, way: Way) -> bool:
    """Whether a seam is all of a border; a partial one from an end of it to a point on its last stretch."""
    both = (way, way[::-1])
    if not seam.is_partial:
        return seam.way in both
    return any(
        led[:-1] == one[:-1] and _is_within(led[-1], one[-2], one[-1])
        for one in both
        for led in (seam.way, seam.way[::-1])
    )


def _is_within(point: Point, start: Point, end: Point) -> bool:
    """Whether a point lies on a stretch, and is neither of its ends."""
    return not cross(start, end, point) and 0 < _leads(start, point, start, end) < _leads(start, end, start, end)


def _leads(start: Point, end: Point, first: Point, last: Point) -> Number:
    """Above 0 where two ways lead the same way, below 0 where they lead against each other, as far as they do."""
    return (end[0] - start[0]) * (last[0] - first[0]) + (end[1] - start[1]) * (last[1] - first[1])


def _find_borders(a: Way, b: Way) -> list[_Border]:
    """The borders of two edges: each goes on for as long as both do."""
    touches = [
        touch
        for of_a in range(len(a))
        for of_b in range(len(b))
        if (touch := _find_touch(a, of_a, b, of_b)) is not None
    ]
    if len(touches) < 2:
        return [tuple(touches)] if touches else []
    follower = {
        touch: after for touch in touches for after in touches if after != touch and _does_follow(touch, after, a, b)
    }
    followed = set(follower.values())
    borders = []
    for touch in (touch for touch in touches if touch not in followed):
        border = [touch]
        while border[-1] in follower:
            border.append(follower[border[-1]])
        borders.append(tuple(border))
    return borders


def _find_touch(a: Way, of_a: int, b: Way, of_b: int) -> _Touch | None:
    start, end = a[of_a - 1], a[of_a]
    other_start, other_end = b[of_b - 1], b[of_b]
    if cross(start, end, other_start) or cross(start, end, other_end):
        return None
    # On one line. Both edges have their cloth on the same hand, so what runs against the other lies on its other side
    along = (end[0] - start[0], end[1] - start[1])
    low, high = (_reach(point, along) for point in (start, end))
    other_low, other_high = (_reach(point, along) for point in (other_end, other_start))
    if other_low >= other_high or max(low, other_low) >= min(high, other_high):
        return None
    return _Touch(of_a, of_b, start if low >= other_low else other_end, end if high <= other_high else other_start)


def _reach(point: Point, along: Point) -> Number:
    return point[0] * along[0] + point[1] * along[1]


def _does_follow(touch: _Touch, after: _Touch, a: Way, b: Way) -> bool:
    """Whether both edges turn from the one to the other, with no slit in between."""
    return (
        touch.end == after.start == a[touch.of_a] == b[after.of_b]
        and (touch.of_a + 1) % len(a) == after.of_a
        and (after.of_b + 1) % len(b) == touch.of_b
    )


def _find_way(border: _Border) -> Way:
    """The points of a border: where it begins, where it turns, where it ends."""
    return (border[0].start, *(touch.end for touch in border))


def _are_slits(border: _Border, borders: Sequence[_Border], a: Way, b: Way, tips: _Tips) -> bool:
    """Whether, once a border is sewn, all others are part of slits. One of these may open into another: it will be
    closed before that."""
    rest = [touch for other in borders if other != border for touch in other]
    if not rest:
        return True
    edge = _merge(a, b, border, border[0].start, border[-1].end)
    slits = [_find_slit(_close_others(edge, tip, tips.values()), tip) for tip in tips.values()]
    return all(any(slit is not None and _is_in(touch, slit) for slit in slits) for touch in rest)


def _close_others(edge: Way, tip: Point, tips: Iterable[Point]) -> Way:
    """The edge with all slits closed but one: one after another, those first into which no other opens."""
    others = [other for other in tips if other != tip]
    while True:
        ready = next(
            (place for place, point in enumerate(edge) if point in others and _has_equal_faces(edge, place)), None
        )
        if ready is None:
            return edge
        edge = _straighten([*edge[:ready], *edge[ready + 1 :]])


def _has_equal_faces(edge: Way, place: int) -> bool:
    return edge[place - 1] == edge[(place + 1) % len(edge)]


def _is_in(touch: _Touch, slit: _Slit) -> bool:
    return all(point in slit or _is_within(point, *slit) for point in (touch.start, touch.end))


def _find_slit(edge: Way, tip: Point) -> _Slit | None:
    """What is open from a tip outward, as far as there is cloth on both sides."""
    if tip not in edge:
        return None
    place = edge.index(tip)
    before, after = edge[place - 1], edge[(place + 1) % len(edge)]
    along = (before[0] - tip[0], before[1] - tip[1])
    if cross(before, tip, after) or _leads(tip, before, tip, after) <= 0:
        return None
    return _Slit(tip, before if _reach(before, along) <= _reach(after, along) else after)


def _merge(a: Way, b: Way, border: _Border, start: Point, end: Point) -> Way:
    """The edge round both, sewn along a border from one point to another, as `a` runs."""
    first, last = border[0], border[-1]
    of_a, of_b = _go_round(a, last.of_a, end, first.of_a, start), _go_round(b, first.of_b, start, last.of_b, end)
    return _straighten([end, *of_a, start, *of_b])


def _go_round(edge: Way, of_first: int, first: Point, of_last: int, last: Point) -> list[Point]:
    """The corners of an edge from a point on one part of it on to a point on another."""
    many = (of_last - of_first) % len(edge)
    if not many and _leads(edge[of_first - 1], edge[of_first], first, last) < 0:
        many = len(edge)
    return [edge[(of_first + step) % len(edge)] for step in range(many)]


def _straighten(points: Sequence[Point]) -> Way:
    """An edge without the points where it goes straight on; where it turns back it keeps them."""
    kept = list(points)
    place = 0
    unmoved = 0
    while len(kept) > 2 and unmoved < len(kept):
        place %= len(kept)
        before, here, after = kept[place - 1], kept[place], kept[(place + 1) % len(kept)]
        if here == after or (not cross(before, here, after) and _leads(before, here, here, after) > 0):
            del kept[place]
            place -= 1
            unmoved = 0
        else:
            place += 1
            unmoved += 1
    return tuple(kept)


def is_convex(outline: Outline) -> bool:
    """Whether all corners turn the same way; the outline does not cross itself."""
    return all(
        cross(outline[place - 1], corner, outline[(place + 1) % len(outline)]) > 0
        for place, corner in enumerate(outline)
    )
