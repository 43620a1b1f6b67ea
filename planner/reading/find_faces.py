"""Straight lines across a box -> the faces between them, exactly.

A face is its outline: clockwise as it is seen, from its uppermost, then leftmost corner, with no corner on a straight
side. x runs right, y down.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cmp_to_key
from itertools import pairwise
from math import floor
from typing import Literal, NamedTuple

from planner.reading.polygon import drop_straight_corners, triangulate, turn_at, twice_area, where_in
from planner.surd import Exact, ExactOutline, ExactPoint, divide, sign_of

Line = tuple[ExactPoint, ExactPoint]
_HALF = Fraction(1, 2)
_MOST_HALVINGS = 20  # of 1: what is narrower than that has no point that is short to write
_Way = tuple[ExactPoint, ExactPoint]  # a stretch between two meeting points, gone along from the first to the second


class WrongLine(NamedTuple):
    """A line, from 0, that is wrong: its `end` meets nothing; it runs `along` another line (`other`; the border where
    None); it is `loose`: nothing joins it to the border; or it has the `same` face on both sides. `places` has the end,
    or both ends of the stretch."""

    line: int
    kind: Literal["end", "along", "loose", "same"]
    places: tuple[ExactPoint, ...] = ()
    other: int | None = None


class Pinched(NamedTuple):
    """A face that touches itself in a point."""

    begins: ExactPoint
    at: ExactPoint


class Faces(NamedTuple):
    """The faces in reading order (as their first corners lie; from one corner clockwise), or all that is wrong."""

    outlines: tuple[ExactOutline, ...] = ()
    wrong: tuple[WrongLine, ...] = ()
    pinched: tuple[Pinched, ...] = ()


def find_faces(box: ExactPoint, lines: Sequence[Line]) -> Faces:
    """What the lines cut a box into. Every line lies within the box and has a length."""
    net = _tie_net([*lines, *_sides_of(box)], len(lines))
    wrong = [*net.doubled, *_find_free(net, len(lines))]
    if wrong:
        return Faces((), tuple(sorted(wrong, key=lambda one: one.line)))
    owners: dict[_Way, int] = {}
    for number, points in enumerate(net.along):
        for one, other in pairwise(points):
            owners[one, other] = owners[other, one] = number
    rounds = [_begin_above(one) for one in _go_round(owners)]
    same = _find_same(rounds, owners)
    if same:
        return Faces((), tuple(same))
    faces = [one for one in rounds if turn_at(one[-1], one[0], one[1]) > 0]  # all but the way round the outside
    pinched = [Pinched(one[0], at) for one in faces for at in _find_twice(one)]
    if pinched:
        return Faces((), (), tuple(pinched))
    return Faces(tuple(sorted(map(drop_straight_corners, faces), key=cmp_to_key(_compare))))


def find_wrong(box: ExactPoint, lines: Sequence[Line | None], others: Sequence[Line] | None) -> tuple[WrongLine, ...]:
    """What is wrong with the lines that can be drawn, where some can't (None) and no face is known. `others` is where
    these would run; None where that is not known either: then a line is not said to end where nothing is."""
    numbers = [number for number, line in enumerate(lines) if line is not None]
    drawn = [line for line in lines if line is not None]
    net = _tie_net([*drawn, *_sides_of(box)], len(drawn))
    wrong = list(net.doubled)
    if others is not None:
        wrong += _find_free(net, len(drawn), [number for number, line in enumerate(drawn) if _meets_any(line, others)])
        met = [one for one in wrong if one.kind != "end" or not _meets_any((one.places[0],) * 2, others)]
        wrong = met
    again = [
        one._replace(line=numbers[one.line], other=None if one.other is None else numbers[one.other]) for one in wrong
    ]
    return tuple(sorted(again, key=lambda one: one.line))


def _sides_of(box: ExactPoint) -> list[Line]:
    wide, high = box
    none = wide - wide
    frame: list[ExactPoint] = [(none, none), (wide, none), (wide, high), (none, high)]
    return list(zip(frame, frame[1:] + frame[:1], strict=True))


def _meets_any(line: Line, others: Sequence[Line]) -> bool:
    return any(_meet(other, line) for other in others)


def find_point_in(outline: ExactOutline) -> ExactPoint:
    """A point inside of a face: of those near the middle of its largest triangle one that is short to write."""
    a, b, c = max(triangulate(outline), key=twice_area)
    middle = divide(a[0] + b[0] + c[0], 3), divide(a[1] + b[1] + c[1], 3)
    for halvings in range(_MOST_HALVINGS):
        step = Fraction(1, 1 << halvings)
        near = floor(middle[0] / step + _HALF) * step, floor(middle[1] / step + _HALF) * step
        if where_in(outline, near) > 0:
            return near
    return middle


class _Net(NamedTuple):
    """Lines and the sides of the box tied where they meet."""

    along: list[list[ExactPoint]]  # of each line its ends and where it meets others, in their order
    lines_at: Mapping[ExactPoint, set[int]]
    doubled: list[WrongLine]


def _tie_net(drawn: Sequence[Line], count: int) -> _Net:
    """The net of the first `count` lines, and of the sides of the box behind them."""
    points: list[set[ExactPoint]] = [set(line) for line in drawn]
    doubled: list[WrongLine] = []
    for second, other in enumerate(drawn):
        for first in range(min(second, count)):
            met = _meet(drawn[first], other)
            points[first].update(met)
            points[second].update(met)
            if len(met) == 2:
                later, earlier = (second, first) if second < count else (first, None)
                doubled.append(WrongLine(later, "along", met, earlier))
    lines_at: defaultdict[ExactPoint, set[int]] = defaultdict(set)
    for number, met_points in enumerate(points):
        for point in met_points:
            lines_at[point].add(number)
    for side in range(count, len(drawn)):  # where two sides of the box meet
        for end in drawn[side]:
            lines_at[end].update((side, count + (side - count + (1 if end == drawn[side][1] else -1)) % 4))
    return _Net([sorted(met) for met in points], lines_at, doubled)


def _meet(one: Line, other: Line) -> tuple[ExactPoint, ...]:
    """Where two lines meet: nowhere, in a point, or along the stretch between two."""
    (a, b), (c, d) = one, other
    from_c, from_d = turn_at(a, b, c), turn_at(a, b, d)
    if not from_c and not from_d:
        (a, b), (c, d) = sorted(one), sorted(other)
        start, end = max(a, c), min(b, d)
        return (start, end) if start < end else (start,) if start == end else ()
    if sign_of(from_c) * sign_of(from_d) > 0 or sign_of(turn_at(c, d, a)) * sign_of(turn_at(c, d, b)) > 0:
        return ()
    share = divide(from_c, from_c - from_d)
    return ((c[0] + (d[0] - c[0]) * share, c[1] + (d[1] - c[1]) * share),)


def _find_free(net: _Net, count: int, held_elsewhere: Iterable[int] = ()) -> Iterator[WrongLine]:
    """The lines that end where nothing is, and those that do not hang together with the border, or with these."""
    held = {*range(count, len(net.along)), *held_elsewhere}
    waiting = list(held)
    while waiting:
        for point in net.along[waiting.pop()]:
            for number in net.lines_at[point] - held:
                held.add(number)
                waiting.append(number)
    for number, points in enumerate(net.along[:count]):
        ends = [WrongLine(number, "end", (end,)) for end in (points[0], points[-1]) if len(net.lines_at[end]) == 1]
        yield from ends
        if number not in held and not ends:
            yield WrongLine(number, "loose")


def _go_round(ways: Mapping[_Way, int]) -> Iterator[list[ExactPoint]]:
    """The way round each face, clockwise as it is seen, and the one round the outside, the other way round."""
    out_of: defaultdict[ExactPoint, list[ExactPoint]] = defaultdict(list)
    for one, other in ways:
        out_of[one].append(other)
    # The face lies on the right hand: from a point the way on is the one next to the way back, counterclockwise
    onward: dict[_Way, ExactPoint] = {}
    for point, others in out_of.items():
        others.sort(key=cmp_to_key(_clockwise_round(point)))
        for at, other in enumerate(others):
            onward[other, point] = others[at - 1]
    gone: set[_Way] = set()
    for way in ways:
        passed = []
        one, other = way
        while (one, other) not in gone:
            gone.add((one, other))
            passed.append(one)
            one, other = other, onward[one, other]
        if passed:
            yield passed


def _clockwise_round(middle: ExactPoint) -> Callable[[ExactPoint, ExactPoint], int]:
    def half(point: ExactPoint) -> int:  # 0: to the right, or below
        is_below = point[1] > middle[1] or (point[1] == middle[1] and point[0] > middle[0])
        return 0 if is_below else 1

    def compare(one: ExactPoint, other: ExactPoint) -> int:
        return half(one) - half(other) or sign_of(turn_at(middle, other, one))

    return compare


def _find_same(rounds: Sequence[Sequence[ExactPoint]], owners: Mapping[_Way, int]) -> list[WrongLine]:
    """The lines, each once, that have one face on both sides."""
    found: dict[int, WrongLine] = {}
    for one in rounds:
        ways = set(zip(one, (*one[1:], one[0]), strict=True))
        for start, end in sorted(ways):
            if (end, start) in ways:
                found.setdefault(owners[start, end], WrongLine(owners[start, end], "same", (start, end)))
    return sorted(found.values(), key=lambda wrong: wrong.line)


def _find_twice(one: Sequence[ExactPoint]) -> list[ExactPoint]:
    passed: set[ExactPoint] = set()
    twice: dict[ExactPoint, None] = {}
    for point in one:
        if point in passed:
            twice[point] = None
        passed.add(point)
    return list(twice)


def _begin_above(one: list[ExactPoint]) -> list[ExactPoint]:
    first = min(range(len(one)), key=lambda at: (one[at][1], one[at][0]))
    return one[first:] + one[:first]


def _compare(one: ExactOutline, other: ExactOutline) -> int:
    """-1 where one face comes before the other, else 1."""
    for at in (1, 0):
        apart: Exact = one[0][at] - other[0][at]
        if apart:
            return sign_of(apart)
    return sign_of(turn_at(one[0], other[1], one[1]))
