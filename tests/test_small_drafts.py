"""Strips, geese, a square in a square, corners cut off: what is drawn fills its place once, in the right fabrics."""

from __future__ import annotations

from collections import Counter
from itertools import cycle, islice, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon  # type: ignore[import-untyped]
from shapes import Shapes, draw_one, fill_once, tell_faults

FABRICS = ("navy", "shell", "coral", "reed")
names = st.sampled_from(FABRICS)
turns = st.lists(names, min_size=1, max_size=5)


def fabric_at(shapes: Shapes, x: float, y: float) -> str:
    (fabric,) = [fabric for fabric, polygon in shapes if polygon.contains(Point(x, y))]
    return fabric


def spell(listed: list[str]) -> str:
    return f"[{', '.join(listed)}]"


def turns_to(word: str) -> tuple[int, int]:
    return {"up": (0, -1), "right": (1, 0), "down": (0, 1), "left": (-1, 0)}[word]


# --- strips


@given(turns, st.data())
@settings(max_examples=30, deadline=None)
def test_strips_lie_in_their_order_and_are_as_wide_as_told(listed: list[str], data: st.DataObject) -> None:
    widths = data.draw(st.lists(st.integers(1, 4), min_size=len(listed), max_size=len(listed)))
    for way, size in (("across", f"5 x {sum(widths)}"), ("down", f"{sum(widths)} x 5")):
        shapes = draw_one(size, f"strips: {{{way}: {spell(listed)}, widths: {widths}}}")
        assert [fabric for fabric, _ in shapes] == listed
        assert [polygon.area for _, polygon in shapes] == [5 * width for width in widths]
        at = sum(widths[:-1]) + 0.5
        assert fabric_at(shapes, *((2, at) if way == "across" else (at, 2))) == listed[-1]


def test_strips_are_equally_wide_where_nothing_is_said() -> None:
    assert [p.area for _, p in draw_one("6", "strips: {down: [navy, shell, coral]}")] == [12, 12, 12]


# --- geese


@given(turns, turns, st.sampled_from(["up", "right", "down", "left"]), st.none() | st.integers(1, 6))
@settings(max_examples=40, deadline=None)
def test_geese_fly_where_they_point_one_behind_another(
    goose: list[str], sky: list[str], point: str, count: int | None
) -> None:
    many = count or max(len(goose), len(sky))
    size = f"4 x {2 * many}" if point in ("up", "down") else f"{2 * many} x 4"
    told = "" if count is None else f", count: {count}"
    shapes = draw_one(size, f"geese: {{goose: {spell(goose)}, sky: {spell(sky)}, point: {point}{told}}}")
    assert len(shapes) == 3 * many
    assert Counter(polygon.area for _, polygon in shapes) == {4: many, 2: 2 * many}
    dx, dy = turns_to(point)
    for at, (large, small) in enumerate(islice(zip(cycle(goose), cycle(sky), strict=False), many)):
        x, y = (2, 2 * at + 1) if dy else (2 * at + 1, 2)
        # near the base all across there is goose, near the tip only in the middle
        assert fabric_at(shapes, x, y) == large
        assert fabric_at(shapes, x - 0.9 * dx + 1.7 * dy, y - 0.9 * dy + 1.7 * dx) == large
        assert fabric_at(shapes, x + 0.9 * dx + 1.7 * dy, y + 0.9 * dy + 1.7 * dx) == small
        assert fabric_at(shapes, x + 0.9 * dx - 1.7 * dy, y + 0.9 * dy - 1.7 * dx) == small


def test_a_goose_alone_points_up() -> None:
    assert draw_one("4 x 2", "geese: {goose: navy, sky: shell}") == draw_one(
        "4 x 2", "geese: {goose: [navy], sky: [shell], point: up, count: 1}"
    )


# --- a square in a square


@given(turns, names)
@settings(max_examples=20, deadline=None)
def test_each_round_of_a_square_in_a_square_is_half_of_what_it_fills(around: list[str], centre: str) -> None:
    shapes = draw_one("8", f"square: {{centre: {centre}, around: {spell(around)}}}")
    assert fill_once(shapes, 8, 8)
    assert len(shapes) == 1 + 4 * len(around)
    assert shapes[0][0] == centre
    assert shapes[0][1].area == pytest.approx(64 / 2 ** len(around))
    for number, fabric in enumerate(reversed(around)):
        first = len(shapes) - 4 * (number + 1)
        assert {name for name, _ in shapes[first : first + 4]} == {fabric}
        assert sum(p.area for _, p in shapes[first : first + 4]) == pytest.approx(32 / 2**number)


def test_the_outer_round_lies_in_the_corners_and_the_next_on_the_middles_of_the_sides() -> None:
    shapes = draw_one("8", "square: {centre: navy, around: [shell, coral]}")
    for x, y in product((0.5, 7.5), repeat=2):
        assert fabric_at(shapes, x, y) == "coral"
    for x, y in ((4, 0.5), (7.5, 4), (4, 7.5), (0.5, 4)):
        assert fabric_at(shapes, x, y) == "shell"
    assert shapes[0][1].equals(Polygon([(2, 2), (6, 2), (6, 6), (2, 6)]))


# --- corners cut off


@given(st.lists(st.none() | names, min_size=4, max_size=4).filter(any), st.sampled_from(["1/2", "1", "3/2", "2"]))
@settings(max_examples=40, deadline=None)
def test_only_the_corners_that_are_named_are_cut_off(corners: list[str | None], size: str) -> None:
    words = ("top left", "top right", "bottom right", "bottom left")
    told = ", ".join(f"{word}: {fabric}" for word, fabric in zip(words, corners, strict=True) if fabric)
    draft = f"snowball: {{centre: slate, corners: {{{told}}}, box: 5 x 4, size: {size}}}".replace("slate", "reed")
    shapes = draw_one("5 x 4", draft)
    assert fill_once(shapes, 5, 4)
    cut_off = [fabric for fabric in corners if fabric]
    assert [fabric for fabric, _ in shapes] == ["reed", *cut_off]
    reach = 1.5 if size == "3/2" else 0.5 if size == "1/2" else float(size)
    assert {polygon.area for _, polygon in shapes[1:]} == {reach * reach / 2}
    for (x, y), fabric in zip(((0.1, 0.1), (4.9, 0.1), (4.9, 3.9), (0.1, 3.9)), corners, strict=True):
        assert fabric_at(shapes, x, y) == (fabric or "reed")


def test_a_snowball_is_cut_by_thirds_where_nothing_is_said() -> None:
    shapes = draw_one("6", "snowball: {centre: navy, corners: shell}")
    assert [round(polygon.area, 9) for _, polygon in shapes] == [28, 2, 2, 2, 2]
    assert len(shapes[0][1].exterior.coords) == 9


def test_corners_of_half_a_side_leave_a_square_that_stands_on_its_corner() -> None:
    snowball = draw_one("6", "snowball: {centre: navy, corners: shell, box: 2}")
    square = draw_one("6", "square: {centre: navy, around: shell}")
    assert {(f, p.normalize().wkt) for f, p in snowball} == {(f, p.normalize().wkt) for f, p in square}


def test_two_corners_of_a_rectangle_make_a_goose() -> None:
    corners = "{top left: shell, top right: shell}"
    snowball = draw_one("4 x 2", f"snowball: {{centre: navy, corners: {corners}, box: 2 x 1, size: 1}}")
    goose = draw_one("4 x 2", "geese: {goose: navy, sky: shell}")
    assert {(f, p.normalize().wkt) for f, p in snowball} == {(f, p.normalize().wkt) for f, p in goose}


@pytest.mark.parametrize(
    ("box", "size", "corners", "words"),
    [
        ("3", "2", "navy", "two corners of 2 do not fit on a side of 3; at most 1 1/2"),
        ("4 x 3", "7/2", "{top left: navy}", "a corner of 3 1/2 does not fit on a side of 3; at most 3"),
        ("2", "2", "{top left: navy, bottom right: navy}", "corners of 2 leave nothing of the box 2 x 2 between them"),
    ],
)
def test_corners_that_do_not_fit_are_told(box: str, size: str, corners: str, words: str) -> None:
    told = tell_faults("6", f"snowball: {{centre: shell, corners: {corners}, box: {box}, size: {size}}}")
    assert told == [f"block wave, snowball, size: {words}"]


# --- as cells and parts


def test_they_are_cells_and_parts_like_every_other_draft() -> None:
    parts = "goose: {geese: {goose: navy, sky: shell}}, post: {strips: {down: [navy, shell]}}"
    rows = (
        "[[goose turn 90, {square: {centre: navy, around: coral}}, post | post], "
        "[{box: 2, lines: ['0,0 2,2'], faces: [navy, reed]}, "
        "{snowball: {centre: navy, corners: reed}}, goose mirrored]]"
    )
    shapes = draw_one("9 x 6", f"rows: {rows}", parts)
    assert fill_once(shapes, 9, 6)
    assert len(shapes) == 3 + 5 + 4 + 2 + 5 + 3
    assert fabric_at(shapes, 0.2, 1.5) == "navy"  # the base of a goose that points right lies left
    assert fabric_at(shapes, 1.9, 3.5) == "navy"  # right of \ lies the face that is read first
