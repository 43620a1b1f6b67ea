"""Polygons against shapely, and patches that fill a box, or don't, against plain unions."""

from __future__ import annotations

import random
import re
import time
from fractions import Fraction
from math import atan2

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box, unary_union

from planner.reading.check_filling import Effort, find_flaws, why_no_outline
from planner.reading.polygon import (
    box_round,
    drop_straight_corners,
    find_overlap,
    find_touch,
    is_convex,
    is_simple,
    run_clockwise,
    triangulate,
    twice_area,
    where_in,
)

SQUARE = ((0, 0), (4, 0), (4, 4), (0, 4))
ARROW = ((0, 0), (4, 0), (1, 1), (0, 4))  # turns in at 1,1
points = st.tuples(st.integers(0, 8), st.integers(0, 8))
outlines = st.lists(points, min_size=3, max_size=8)


def exact(corners):
    return tuple((Fraction(x), Fraction(y)) for x, y in corners)


@st.composite
def simple_polygons(draw):
    """Small polygons, convex or not: corners in the order in which they are seen from the middle, in either sense."""
    corners = draw(st.lists(points, min_size=3, max_size=8, unique=True))
    middle = [sum(values) / len(corners) + 0.01 for values in zip(*corners, strict=True)]
    corners.sort(key=lambda corner: atan2(corner[1] - middle[1], corner[0] - middle[0]), reverse=draw(st.booleans()))
    polygon = drop_straight_corners(corners)
    assume(is_simple(polygon))
    return polygon


def test_area_is_positive_where_the_corners_run_clockwise_as_they_are_seen():
    assert twice_area(SQUARE) == 32
    assert twice_area(SQUARE[::-1]) == -32
    assert twice_area(exact(SQUARE)) == Fraction(32)


@given(outlines)
def test_simple_outlines_are_those_that_shapely_calls_valid(corners):
    kept = drop_straight_corners(corners)
    # shapely takes a ring that touches itself in a point as valid only where the touch is no vertex pair or spike
    if is_simple(kept):
        assert Polygon(kept).is_valid
        assert Polygon(kept).exterior.is_simple
    elif len(kept) >= 3:
        assert not Polygon(kept).is_valid or not Polygon(kept).exterior.is_simple


@given(simple_polygons())
def test_areas_are_those_of_shapely_and_of_the_triangles(corners):
    assert abs(twice_area(corners)) == round(2 * Polygon(corners).area)
    triangles = triangulate(corners)
    assert sum(twice_area(triangle) for triangle in triangles) == abs(twice_area(corners))
    assert all(twice_area(triangle) > 0 for triangle in triangles)
    shape = Polygon(corners)
    assert all(shape.buffer(1e-9).contains(Polygon(triangle)) for triangle in triangles)


@given(simple_polygons(), points)
def test_a_point_lies_where_shapely_sees_it(corners, point):
    shape = Polygon(corners)
    expected = 0 if shape.exterior.distance(Point(point)) == 0 else 1 if shape.contains(Point(point)) else -1
    assert where_in(corners, point) == expected


@given(simple_polygons(), simple_polygons())
@settings(max_examples=200)
def test_overlaps_are_those_of_shapely_and_their_place_lies_inside_both(first, second):
    place = find_overlap(first, second)
    assert (place is None) == (Polygon(first).intersection(Polygon(second)).area < 1e-9)
    if place is not None:
        assert place.over > 0
        x, y = Fraction(place.x, place.over), Fraction(place.y, place.over)
        assert where_in(exact(first), (x, y)) == 1
        assert where_in(exact(second), (x, y)) == 1


def test_neighbours_do_not_overlap():
    assert find_overlap(SQUARE, ((4, 0), (8, 0), (8, 4), (4, 4))) is None
    assert find_overlap(ARROW, ((4, 0), (4, 4), (0, 4), (1, 1))) is None
    assert find_overlap(ARROW, SQUARE) is not None


@given(simple_polygons())
def test_a_polygon_that_turns_one_way_is_its_own_hull(corners):
    shape = Polygon(corners)
    assert is_convex(corners) == (shape.convex_hull.area - shape.area < 1e-9)


def test_straight_corners_are_dropped_and_those_that_run_back_are_kept():
    assert drop_straight_corners(((0, 0), (1, 0), (2, 0), (2, 2), (2, 2), (0, 2), (0, 1), (0, 0))) == (
        (0, 0),
        (2, 0),
        (2, 2),
        (0, 2),
    )
    spike = ((0, 0), (4, 0), (4, 2), (6, 2), (4, 2), (4, 4), (0, 4))
    assert (6, 2) in drop_straight_corners(spike)
    assert find_touch(drop_straight_corners(spike)) is not None


def test_the_box_round_takes_in_every_corner():
    assert box_round(ARROW) == (0, 0, 4, 4)
    assert run_clockwise(ARROW[::-1]) == run_clockwise(ARROW) == ARROW


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        (((0, 0), (2, 0)), "no area"),
        (((0, 0), (2, 2), (2, 0), (0, 2)), "crosses or touches itself"),
        (((0, 0), (4, 0), (4, 4), (2, 0), (0, 4)), "crosses or touches itself"),
    ],
)
def test_outlines_that_are_none_are_told(corners, words):
    assert words in why_no_outline(exact(corners))


def cut_randomly(chance: random.Random, width: int, height: int, count: int):
    """A box cut by random straight lines into polygons."""
    whole = ((0, 0), (width, 0), (width, height), (0, height))
    pieces = [exact(whole)]
    while len(pieces) < count:
        piece = pieces.pop(chance.randrange(len(pieces)))
        one, two = sorted(chance.sample(range(len(piece)), 2))
        on = []
        for at in (one, two):
            (ax, ay), (bx, by) = piece[at], piece[(at + 1) % len(piece)]
            part = Fraction(chance.randrange(0, 4), 4)
            on.append((ax + (bx - ax) * part, ay + (by - ay) * part))
        left = drop_straight_corners((*piece[: one + 1], on[0], on[1], *piece[two + 1 :]))
        right = drop_straight_corners((on[0], *piece[one + 1 : two + 1], on[1]))
        if is_simple(left) and is_simple(right):
            pieces += [left, right]
        else:
            pieces.append(piece)
    chance.shuffle(pieces)
    return pieces


def gaps_in(flaws):
    found = []
    for flaw in flaws:
        said = re.search(r'corners: "(.*)"', flaw.words)
        if said:
            corners = [corner.split(",") for corner in said[1].split()]
            found.append(Polygon([(read(x), read(y)) for x, y in corners]))
    return found


def read(text):
    return float(sum(Fraction(part) for part in text.split("-")))


@given(st.integers(0, 10**6), st.integers(1, 14))
@settings(max_examples=60)
def test_cut_boxes_are_filled_in_any_order_and_sense(seed, count):
    chance = random.Random(seed)
    pieces = [piece if chance.random() < 0.5 else piece[::-1] for piece in cut_randomly(chance, 6, 4, count)]
    assert find_flaws((Fraction(6), Fraction(4)), pieces, range(len(pieces))) == []


@given(st.integers(0, 10**6), st.integers(2, 14), st.integers(1, 3))
@settings(max_examples=60)
def test_what_is_taken_out_is_the_gap_that_is_told(seed, count, taken):
    chance = random.Random(seed)
    pieces = cut_randomly(chance, 6, 4, count)
    pieces, out = pieces[taken:], pieces[:taken]
    gaps = gaps_in(find_flaws((Fraction(6), Fraction(4)), pieces, range(len(pieces))))
    told, missing = unary_union(gaps), unary_union([Polygon(piece) for piece in out])
    if taken == 1:
        assert len(gaps) == 1
    # a gap with patches standing free in it is told by its outer border
    assert missing.difference(told).area < 1e-9
    standing = unary_union([Polygon(piece) for piece in pieces]) if pieces else Polygon()
    assert told.difference(missing).difference(standing).area < 1e-9


@given(st.integers(0, 10**6), st.integers(2, 10), st.tuples(st.integers(-1, 7), st.integers(-1, 5)))
@settings(max_examples=100)
@example(seed=0, count=2, moved=(7, 5))
def test_a_corner_out_of_place_is_told_as_overlap_gap_or_outside(seed, count, moved):
    chance = random.Random(seed)
    pieces = cut_randomly(chance, 6, 4, count)
    spoilt = drop_straight_corners((*pieces[-1][1:], exact([moved])[0]))
    assume(is_simple(spoilt))
    pieces[-1] = spoilt
    frame = box(0, 0, 6, 4)
    shapes = [Polygon(piece) for piece in pieces]
    flaws = find_flaws((Fraction(6), Fraction(4)), pieces, [10 + at for at in range(len(pieces))])
    missing = frame.difference(unary_union(shapes))
    gaps = gaps_in(flaws)
    assert missing.difference(unary_union(gaps)).area < 1e-9
    assert abs(sum(gap.area for gap in gaps) - missing.area) < 1e-9 or any("stand free" in f.words for f in flaws)
    outside = {flaw.patch for flaw in flaws if "outside" in flaw.words}
    assert outside == {at for at, shape in enumerate(shapes) if shape.difference(frame).area > 1e-9}
    met = [at for at, shape in enumerate(shapes[:-1]) if shape.intersection(shapes[-1]).area > 1e-9]
    told = [flaw for flaw in flaws if flaw.words.startswith("overlaps")]
    assert bool(met) == bool(told)
    if told:
        (flaw,) = told
        assert flaw.patch == len(pieces) - 1
        assert f"patch {met[0] + 1} (line {10 + met[0]})" in flaw.words or len(met) > 3


def test_the_same_patch_twice_overlaps_at_the_later():
    flaws = find_flaws((Fraction(4), Fraction(4)), [exact(SQUARE), exact(SQUARE)], [7, 9])
    assert [flaw.patch for flaw in flaws] == [1]
    assert flaws[0].words.startswith("overlaps patch 1 (line 7) at ")


def test_nothing_is_said_about_gaps_where_an_outline_is_unread():
    assert find_flaws((Fraction(4), Fraction(4)), [exact(((0, 0), (4, 0), (0, 4))), None], [1, 2]) == []


def test_a_patch_that_stands_free_in_a_gap_is_named():
    flaws = find_flaws((Fraction(4), Fraction(4)), [exact(((1, 1), (2, 1), (1, 2)))], [1])
    (flaw,) = flaws
    assert "stand free" in flaw.words
    assert '"0,0 4,0 4,4 0,4"' in flaw.words


def strips(count):
    """Slanting strips that together fill a box; the boxes round them overlap by the thousand."""
    return [exact(((at, 0), (at + 1, 0), (at + 1 + count, count), (at + count, count))) for at in range(count)]


def test_many_patches_are_checked_fast_whether_they_fill_the_box_or_not():
    side = 100
    grid = [exact(((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1))) for x in range(side) for y in range(side)]
    before = time.process_time()
    assert find_flaws((Fraction(side), Fraction(side)), grid, range(len(grid))) == []
    flaws = find_flaws((Fraction(side), Fraction(side)), grid[1:], range(len(grid)))
    assert [flaw.words for flaw in flaws] == [
        'the patches leave a gap; what is missing there: corners: "0,0 1,0 1,1 0,1"'
    ]
    for hostile in (strips(5_000), [grid[0]] * 10_000):
        assert find_flaws((Fraction(side), Fraction(side)), hostile, range(len(hostile))) != []
    assert time.process_time() - before < 8


def test_without_effort_left_it_is_still_told_that_the_box_is_not_filled():
    halves = [exact(SQUARE), exact(ARROW)]
    flaws = find_flaws((Fraction(4), Fraction(4)), halves, [1, 2], Effort(0))
    assert [flaw.words for flaw in flaws] == ["the patches do not fill the box 4 x 4 exactly once"]


def test_flaws_beyond_20_of_a_kind_are_counted():
    squares = [exact(((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1))) for x in range(0, 46, 2) for y in (0, 0)]
    words = [flaw.words for flaw in find_flaws((Fraction(45), Fraction(1)), squares, range(46))]
    assert words.count("and 3 more overlaps") == 1
    assert words.count("and 2 more gaps") == 1
    assert len(words) == 42
