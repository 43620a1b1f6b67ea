"""Faces between lines: the same that shapely finds, whatever the lines, with roots and without."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, polygonize, unary_union  # type: ignore[import-untyped]
from shapes import to_float

from planner.reading.find_faces import Faces, Line, find_faces
from planner.reading.polygon import twice_area
from planner.surd import Exact, ExactPoint, Surd, divide

BOX = (Fraction(4), Fraction(3))
FRAME = Polygon([(0, 0), (4, 0), (4, 3), (0, 3)]).exterior
SHARES = [Fraction(number, 6) for number in range(7)]


def number(text: str) -> Exact:
    plain, _, times = text.partition("r")
    return Surd(Fraction(plain), Fraction(times), 2) if times else Fraction(plain)


def line(text: str) -> Line:
    one, other = (tuple(number(value) for value in point.split(",")) for point in text.split())
    return (one[0], one[1]), (other[0], other[1])


def faces_of(*texts: str) -> Faces:
    return find_faces(BOX, [line(text) for text in texts])


def shares() -> st.SearchStrategy[Exact]:
    """Parts of a side, plain or with a root in them: sqrt(2) - 1 and so on lie between 0 and 1."""
    roots: list[Exact] = [Surd(Fraction(-1), Fraction(1), 2), Surd(Fraction(2), Fraction(-1), 2)]
    return st.sampled_from([*SHARES, *roots])


def runs_along(one: Line, others: list[Line]) -> bool:
    """Whether a line has more than a point in common with another or with the border."""
    net = unary_union([FRAME, *(LineString(to_points(other)) for other in others)])
    return bool(LineString(to_points(one)).intersection(net.buffer(1e-6)).length > 1e-3)


@st.composite
def lines_across(draw: st.DrawFn, most: int = 7) -> list[Line]:
    """Lines from border to border, or from the border or an earlier line to an earlier line; none along another."""
    wide, high = BOX
    lines: list[Line] = []
    for _ in range(draw(st.integers(1, most))):
        ends: list[ExactPoint] = []
        for _ in range(2):
            share = draw(shares())
            kind = draw(st.integers(0, 3 + min(len(lines), 2)))
            if kind > 3:
                (ax, ay), (bx, by) = lines[draw(st.integers(0, len(lines) - 1))]
                ends.append((ax + (bx - ax) * share, ay + (by - ay) * share))
            else:
                zero = Fraction(0)
                x, y = wide * share, high * share
                ends.append([(x, zero), (wide, y), (x, high), (zero, y)][kind])
        if ends[0] != ends[1] and not runs_along((ends[0], ends[1]), lines):
            lines.append((ends[0], ends[1]))
    return lines


def to_points(points: tuple[ExactPoint, ...]) -> list[tuple[float, float]]:
    return [(to_float(x), to_float(y)) for x, y in points]


def reach_over(one: Line) -> LineString:
    """A line in floating numbers, longer by a trifle, so that it meets what it ends on."""
    (ax, ay), (bx, by) = to_points(one)
    dx, dy = (bx - ax) * 1e-9, (by - ay) * 1e-9
    return LineString([(ax - dx, ay - dy), (bx + dx, by + dy)])


@settings(max_examples=150, deadline=None)
@given(lines_across())
def test_the_faces_are_those_that_shapely_finds(lines: list[Line]) -> None:
    found = find_faces(BOX, lines)
    net = unary_union([FRAME, *(reach_over(one) for one in lines)])
    expected = [face for face in polygonize([net]).geoms if face.area > 1e-9]
    assert (found.wrong, found.pinched) == ((), ())
    polygons = [Polygon(to_points(outline)) for outline in found.outlines]
    assert len(polygons) == len(expected)
    for polygon in polygons:
        assert polygon.is_valid
        assert min(polygon.symmetric_difference(face).area for face in expected) < 1e-9


@settings(max_examples=80, deadline=None)
@given(lines_across())
def test_faces_are_clockwise_fill_the_box_and_come_as_they_are_read(lines: list[Line]) -> None:
    outlines = find_faces(BOX, lines).outlines
    areas = [twice_area(outline) for outline in outlines]
    assert all(area > 0 for area in areas)
    if outlines:
        assert sum(areas[1:], areas[0]) == 24
    for outline in outlines:
        assert outline[0] == min(outline, key=lambda point: (point[1], point[0]))
    begins = [(outline[0][1], outline[0][0]) for outline in outlines]
    assert begins == sorted(begins)


@settings(max_examples=80, deadline=None)
@given(lines_across(), st.randoms(use_true_random=False))
def test_the_order_in_which_lines_are_drawn_and_their_sense_change_nothing(lines: list[Line], chance: object) -> None:
    other = [(b, a) if chance.random() < 0.5 else (a, b) for a, b in lines]  # type: ignore[attr-defined]
    chance.shuffle(other)  # type: ignore[attr-defined]
    assert find_faces(BOX, other).outlines == find_faces(BOX, lines).outlines


def test_faces_that_begin_in_one_corner_come_clockwise() -> None:
    found = faces_of("0,0 4,1", "0,0 4,3", "0,0 1,3")
    rises = [divide(outline[1][1], outline[1][0]) if outline[1][0] else None for outline in found.outlines]
    assert rises == [0, Fraction(1, 4), Fraction(3, 4), 3]


def test_a_line_may_end_on_a_later_one_so_that_a_windmill_can_be_drawn() -> None:
    found = faces_of("1,0 1,2", "0,2 2,2", "2,3 2,1", "4,1 1,1")
    assert len(found.outlines) == 5
    assert sorted(twice_area(outline) for outline in found.outlines) == [2, 4, 4, 6, 8]


def test_no_face_has_a_corner_on_a_straight_side() -> None:
    for outline in faces_of("2,0 2,3", "0,1 2,1", "2,2 4,2").outlines:
        for (ax, ay), (bx, by), (cx, cy) in zip(
            outline, (*outline[1:], outline[0]), (*outline[2:], *outline[:2]), strict=True
        ):
            assert (bx - ax) * (cy - by) != (by - ay) * (cx - bx)


@pytest.mark.parametrize(
    ("texts", "wrong"),
    [
        (["0,0 2,1"], [(0, "end", None)]),
        (["1,1 2,2"], [(0, "end", None), (0, "end", None)]),
        (["2,0 2,3", "2,1 2,3"], [(1, "along", 0)]),
        (["2,0 2,2", "2,1 2,3"], [(1, "along", 0)]),
        (["1,0 3,0"], [(0, "along", None)]),
        (["1,1 2,1", "2,1 2,2", "2,2 1,1"], [(0, "loose", None), (1, "loose", None), (2, "loose", None)]),
        (["1,1 2,1", "2,1 2,2", "2,2 1,1", "0,1 1,1"], [(3, "same", None)]),
        (["1,1 2,1", "2,1 2,2", "2,2 1,1", "0,3 3/2,3/2"], [(3, "same", None)]),
        (["0,0 4,3", "1,1 2,1"], [(1, "end", None), (1, "end", None)]),
        (["0,0 4,3", "1,1 4,1"], [(1, "end", None)]),
    ],
)
def test_what_is_wrong_with_a_line_is_told_of_that_line(
    texts: list[str], wrong: list[tuple[int, str, int | None]]
) -> None:
    found = faces_of(*texts)
    assert found.outlines == ()
    assert [(one.line, one.kind, one.other) for one in found.wrong] == wrong


def test_a_face_that_touches_itself_is_told() -> None:
    found = faces_of("2,0 3,1", "3,1 2,2", "2,2 1,1", "1,1 2,0")
    assert found.outlines == ()
    ((begins, at),) = found.pinched
    assert (begins, at) == ((Fraction(0), Fraction(0)), (Fraction(2), Fraction(0)))


def test_lines_that_only_touch_end_to_end_are_one_bent_line() -> None:
    (above, below) = faces_of("0,1 2,2", "2,2 4,1").outlines
    assert len(above) == len(below) == 5
    assert {point for one in pairwise(above) for point in one} >= {(Fraction(2), Fraction(2))}


def test_with_a_root_the_octagon_of_a_square_is_exact() -> None:
    near: Exact = number("0r1")
    box = number("2r2"), number("2r2")
    far, zero = box[0] - near, Fraction(0)
    lines = [
        ((zero, near), (near, zero)),
        ((far, zero), (box[0], near)),
        ((box[0], far), (far, box[1])),
        ((near, box[1]), (zero, far)),
    ]
    found = find_faces(box, lines)
    assert [len(outline) for outline in found.outlines] == [3, 8, 3, 3, 3]
    octagon = found.outlines[1]
    squares = {
        (b[0] - a[0]) * (b[0] - a[0]) + (b[1] - a[1]) * (b[1] - a[1])
        for a, b in zip(octagon, (*octagon[1:], octagon[0]), strict=True)
    }
    assert squares == {4}
