"""Which units of a plan are of one kind: the same patches in the same places, sewn by the same seams."""

from __future__ import annotations

from typing import NamedTuple

from planner.checks.read_plan import Outline, Point, Work, find_firsts, is_beyond
from planner.checks.rooted import Number

_Box = tuple[Number, Number, Number, Number]
_QUARTERS = (0, 1, 2, 3)


class Kind(NamedTuple):
    """What a seam's result is, however it lies."""

    form: int  # equal for units of one kind
    looks_turned_the_same: bool  # a half turn carries it onto itself, seams too
    pressed_to: object  # the side pressed to, told as if all units of the kind lay alike; None: open


def tell_kinds(work: Work) -> tuple[Kind, ...]:
    """One kind for each seam, in their order.

    Two units have one content where they hold the same patches and the same seam lines, in whatever order those were
    sewn; seams are of one kind where both their sides have one content and lie alike. Every content and every kind is
    numbered in each of the four quarter turns; the least of its four numbers stands for all of them.
    """
    contents = _Contents(work)
    firsts = find_firsts(work)
    numbers: dict[object, int] = {}
    kinds = []
    for seam in work.seams:
        box = _join_boxes(contents.boxes[seam.a], contents.boxes[seam.b])
        sides = {
            side: [_place_side(box, contents.boxes[side], contents.of(side), quarters) for quarters in _QUARTERS]
            for side in (seam.a, seam.b)
        }
        turns = [tuple(sorted((sides[seam.a][quarters], sides[seam.b][quarters]))) for quarters in _QUARTERS]
        form = tuple(numbers.setdefault(turn, len(numbers)) for turn in turns)
        contents.add(seam.a, seam.b, form)
        pressed_to: object = None
        if seam.spin is not None and seam.pressed is not None:
            pressed_to = is_beyond(seam.start, seam.end, firsts[seam.pressed])  # which way round it is spun
        elif seam.pressed is not None:
            pressed_to = sides[seam.pressed][form.index(min(form))]
        kinds.append(Kind(min(form), form[0] == form[2], pressed_to))
    return tuple(kinds)


class _Contents:
    """What patches and results hold, each told by its place: patches first, then the seams in their order."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._numbers: dict[object, int] = {}
        self._known: dict[tuple[int, ...], tuple[int, ...]] = {}  # results sewn alike hold the same
        self._sides: list[tuple[int, ...]] = []
        self._forms: list[tuple[int, ...]] = []
        self.boxes: list[_Box] = [_find_box(patch.outline) for patch in work.patches]
        for patch in work.patches:
            laid = [(patch.cloth, _lay(patch.outline, quarters)) for quarters in _QUARTERS]
            self._sides.append(())
            self._forms.append(tuple(self._number(lies) for lies in laid))

    def _number(self, content: object) -> int:
        return self._numbers.setdefault(content, len(self._numbers))

    def add(self, a: int, b: int, form: tuple[int, ...]) -> None:
        """The result of the next seam, sewn as `form` says."""
        self.boxes.append(_join_boxes(self.boxes[a], self.boxes[b]))
        self._sides.append((a, b))
        # A result is told by how it is sewn, with the results inside it, until its content is asked for
        self._forms.append(form)

    def of(self, side: int) -> tuple[int, ...]:
        """The number of a side's content in each of the four turns."""
        if not self._sides[side]:
            return self._forms[side]
        if self._forms[side] not in self._known:
            self._known[self._forms[side]] = tuple(self._collect(side, quarters) for quarters in _QUARTERS)
        return self._known[self._forms[side]]

    def _collect(self, side: int, quarters: int) -> int:
        left, top = _turn_box(self.boxes[side], quarters)
        patches, lines = [], []
        waiting = [side]
        while waiting:
            here = waiting.pop()
            if not self._sides[here]:
                x, y = _turn_box(self.boxes[here], quarters)
                patches.append((x - left, y - top, self._forms[here][quarters]))
                continue
            waiting += self._sides[here]
            seam = self._work.seams[here - len(self._work.patches)]
            way = [_turn(point, quarters) for point in (seam.start, *(last for _, last in seam.legs[:-1]), seam.end)]
            lines.append(tuple((x - left, y - top) for x, y in min(way, way[::-1])))
        return self._number((tuple(sorted(patches)), tuple(sorted(lines))))


def _place_side(box: _Box, side: _Box, content: tuple[int, ...], quarters: int) -> tuple[Point, int]:
    left, top = _turn_box(box, quarters)
    side_left, side_top = _turn_box(side, quarters)
    return (side_left - left, side_top - top), content[quarters]


def _turn(point: Point, quarters: int) -> Point:
    x, y = point
    return ((x, y), (-y, x), (-x, -y), (y, -x))[quarters]


def _turn_box(box: _Box, quarters: int) -> Point:
    """The upper left corner of a box after so many quarter turns about 0,0."""
    left, top, right, bottom = box
    return _turn(((left, top), (left, bottom), (right, bottom), (right, top))[quarters], quarters)


def _lay(outline: Outline, quarters: int) -> Outline:
    """The outline turned, its box moved to 0,0, told from its first corner."""
    left, top = _turn_box(_find_box(outline), quarters)
    turned = [_turn(corner, quarters) for corner in outline]
    first = turned.index(min(turned))
    return tuple((x - left, y - top) for x, y in (*turned[first:], *turned[:first]))


def _find_box(outline: Outline) -> _Box:
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _join_boxes(first: _Box, second: _Box) -> _Box:
    return (
        min(first[0], second[0]),
        min(first[1], second[1]),
        max(first[2], second[2]),
        max(first[3], second[3]),
    )
