"""Rings of diamonds and fields of hexagons: equal sides, right angles, and the box filled once; never stretched."""

from __future__ import annotations

from collections import Counter
from math import atan2, degrees, hypot, pi, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon  # type: ignore[import-untyped]
from shapes import Shapes, draw_one, fill_once, tell_faults, write_block

from planner.reading.read_project import read_project

R2, R3 = sqrt(2), sqrt(3)
FABRICS = st.sampled_from(["navy", "shell", "coral", "reed"])


def corners_of(polygon: Polygon) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in polygon.exterior.coords[:-1]]


def sides_of(polygon: Polygon) -> list[float]:
    corners = corners_of(polygon)
    return [hypot(bx - ax, by - ay) for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True)]


def angles_of(polygon: Polygon) -> list[int]:
    """The inner angles in degrees; they are whole numbers in all of these drafts."""
    corners = corners_of(polygon)
    found = []
    for at, (x, y) in enumerate(corners):
        (ax, ay), (bx, by) = corners[at - 1], corners[(at + 1) % len(corners)]
        angle = degrees(atan2(ay - y, ax - x) - atan2(by - y, bx - x)) % 360
        assert angle == pytest.approx(round(angle), abs=1e-6)
        found.append(round(angle))
    return sorted(found)


def draw_star(of: int, diamonds: str = "navy", fill: str = "shell") -> Shapes:
    size = {8: "6+3r2", 6: "9 x 6r3"}[of]
    return draw_one(size, f"ring: {{of: {of}, diamonds: {diamonds}, fill: {fill}}}")


# --- eight


def test_eight_diamonds_of_45_degrees_make_a_star_with_four_squares_and_four_triangles() -> None:
    shapes = draw_star(8)
    assert fill_once(shapes, 6 + 3 * R2, 6 + 3 * R2)
    diamonds, fillers = [p for _, p in shapes[:8]], [p for _, p in shapes[8:]]
    for diamond in diamonds:
        assert sides_of(diamond) == pytest.approx([3] * 4)
        assert angles_of(diamond) == [45, 45, 135, 135]
    assert Counter(tuple(angles_of(filler)) for filler in fillers) == {(90,) * 4: 4, (45, 45, 90): 4}
    assert {round(max(sides_of(p)), 9) for p in fillers} == {3, round(3 * R2, 9)}


def test_a_block_is_as_often_as_long_as_a_diamond_as_the_published_number_says() -> None:
    # check-values.md, DIAG-3: block / diamond side, published 3.41
    side = min(sides_of(draw_one("12", "ring: {of: 8, diamonds: navy, fill: shell}")[0][1]))
    assert 12 / side == pytest.approx(3.414214, abs=1e-6)


def test_the_diamonds_of_a_star_meet_in_the_middle_and_point_to_the_border() -> None:
    side = 6 + 3 * R2
    for _, diamond in draw_star(8)[:8]:
        assert diamond.distance(Point(side / 2, side / 2)) == pytest.approx(0)
        assert diamond.distance(Polygon([(0, 0), (side, 0), (side, side), (0, side)]).exterior) == pytest.approx(0)


# --- six


def test_six_diamonds_of_60_degrees_make_a_star_in_a_rectangle() -> None:
    shapes = draw_star(6)
    assert fill_once(shapes, 9, 6 * R3)
    for _, diamond in shapes[:6]:
        assert sides_of(diamond) == pytest.approx([3] * 4)
        assert angles_of(diamond) == [60, 60, 120, 120]
    fillers = Counter(tuple(angles_of(filler)) for _, filler in shapes[6:])
    assert fillers == {(30, 30, 120): 2, (60, 90, 90, 120): 4}


# --- fabrics


@given(
    of=st.sampled_from([6, 8]), diamonds=st.lists(FABRICS, min_size=1, max_size=9), fill=st.lists(FABRICS, min_size=1)
)
@settings(max_examples=30, deadline=None)
def test_fabrics_go_round_clockwise_from_the_top(of: int, diamonds: list[str], fill: list[str]) -> None:
    shapes = draw_star(of, f"[{', '.join(diamonds)}]", f"[{', '.join(fill)}]")
    middle = (3 + 1.5 * R2, 3 + 1.5 * R2) if of == 8 else (4.5, 3 * R3)

    def clockwise(shape: Polygon) -> float:
        x, y = shape.centroid.coords[0]
        return (atan2(x - middle[0], middle[1] - y) + 1e-9) % (2 * pi)

    for part, listed in ((shapes[:of], diamonds), (shapes[of:], fill)):
        ways = [clockwise(polygon) for _, polygon in part]
        assert ways == sorted(ways)
        assert [fabric for fabric, _ in part] == [listed[at % len(listed)] for at in range(of)]


# --- hexagons


def write_rows(rows: list[list[str]]) -> str:
    return f"hexagons: {{rows: [{', '.join('[' + ', '.join(row) + ']' for row in rows)}], edge: reed}}"


@given(st.integers(1, 4), st.integers(1, 5), st.booleans())
@settings(max_examples=30, deadline=None)
def test_hexagons_are_regular_and_the_edge_fills_the_rest(longest: int, many: int, begins_short: bool) -> None:
    begins_short = begins_short and many > 1 and longest > 1
    if longest == 1:
        many = 1
    lengths = [longest - ((at + begins_short) % 2) for at in range(many)]
    rows = [["navy" if at % 2 else "coral" for at in range(length)] for length in lengths]
    wide, high = f"{2 * longest}r3", str(3 * many + 1)
    shapes = draw_one(f"{wide} x {high}", write_rows(rows))
    assert fill_once(shapes, 2 * longest * R3, 3 * many + 1)
    hexagons = [shape for shape in shapes if shape[0] != "reed"]
    assert [fabric for fabric, _ in hexagons] == [fabric for row in rows for fabric in row]
    for _, hexagon in hexagons:
        assert sides_of(hexagon) == pytest.approx([2] * 6)
        assert angles_of(hexagon) == [120] * 6
    edges = Counter(tuple(angles_of(polygon)) for fabric, polygon in shapes if fabric == "reed")
    short = sum(length < longest for length in lengths)
    assert set(edges) <= {(60, 60, 120, 120), (30, 30, 120), (30, 60, 90)}
    assert edges[60, 60, 120, 120] == 2 * short
    assert edges[30, 60, 90] == 2 * sum(length == longest for length in (lengths[0], lengths[-1]))


def test_hexagons_lie_row_by_row_from_the_top_left() -> None:
    shapes = draw_one("6r3 x 7", write_rows([["navy", "shell", "coral"], ["shell", "navy"]]))
    at = [(polygon.centroid.y, polygon.centroid.x) for fabric, polygon in shapes[:5]]
    assert at == sorted(at)
    assert [fabric for fabric, _ in shapes[:5]] == ["navy", "shell", "coral", "shell", "navy"]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([["navy"] * 3, ["navy"] * 3], "row 2: this row has 3 hexagons, the first 3; long rows and such with one less"),
        ([["navy"] * 3, ["navy"]], "row 2: this row has 1 hexagon, the first 3; long rows"),
        ([["navy"] * 2, ["navy"] * 3, ["navy"]], "row 3: this row has 1 hexagon, and here it is 2; long rows"),
    ],
)
def test_rows_that_are_not_long_and_short_in_turn_are_told(rows: list[list[str]], words: str) -> None:
    (told,) = tell_faults("6r3 x 7", write_rows(rows))
    assert told.startswith(f"block wave, hexagons, {words}")


# --- not stretched

STAR = "ring: {of: 6, diamonds: navy, fill: shell}"


@pytest.mark.parametrize(
    ("size", "draft", "right", "near"),  # 12 / 3 * 2r3 is 13.86, 6r3 is 10.39, 5r3 is 8.66, 7/2r3 is 6.06
    [
        ("12", STAR, "12 x 8r3", "12 x about 13 7/8"),
        ("6r3 x 9", STAR, "6r3 x 12", "about 10 3/8 x 12"),
        ("7 1/2 x 9", STAR, "7 1/2 x 5r3", "7 1/2 x about 8 11/16"),
        ("6 x 8", "ring: {of: 8, diamonds: navy, fill: shell}", "6 x 6", ""),
        ("6", "hexagons: {rows: [[navy, navy], [navy]], edge: shell}", "6 x 7/2r3", "6 x about 6 1/16"),
    ],
)
def test_a_size_of_other_proportions_is_told_with_the_right_one(size: str, draft: str, right: str, near: str) -> None:
    (told,) = tell_faults(size, draft)
    assert told.startswith("block wave, size: this draft is ")
    about = f" ({near} in)" if near else ""
    assert told.endswith(f" high, and it is not stretched; write {right}{about}, or another size like that")
    assert tell_faults(right, draft) == []


def test_the_right_size_is_told_in_the_measure_of_the_file() -> None:
    # 12.7 cm is 5 in: the number that is told is the one the maker wrote
    (told,) = tell_faults("12.7 cm x 5 in", STAR)
    assert "write 5 x 10/3r3 (5 x about 5 3/4 in)" in told
    project = write_block("12 x 9", STAR).replace("project: Tidewater\n", "project: Tidewater\nmeasure: cm\n")
    assert "write 12 x 8r3 (12 x about 13.9 cm)" in read_project(project)[1][0].words


def test_in_cells_it_keeps_its_proportions_and_may_be_turned() -> None:
    parts = f"star: {{{STAR}}}"
    assert fill_once(draw_one("12 x 4r3", "rows: [[star, star mirrored]]", parts), 12, 4 * R3)
    assert fill_once(draw_one("8r3 x 6", "rows: [[star turn 90, star turn 270]]", parts), 8 * R3, 6)
    assert fill_once(draw_one("12 x 4r3", "rows: [[star | star]]", parts), 12, 4 * R3)
    assert fill_once(draw_one("8 x 4r3", "rows: [[navy, star]], widths: [1, 3]", parts), 8, 4 * R3)
    told = tell_faults("12 x 4r3", "rows: [[{rows: [[navy, star]]}, star turn 90]]", parts)
    assert [one.split(": ")[0] for one in told] == [
        "block wave, row 1, cell 1, row 1, cell 2",
        "block wave, row 1, cell 2",
    ]


def test_in_a_place_that_lies_the_other_way_the_turn_is_told() -> None:
    (told,) = tell_faults("4r3 x 6", "rows: [[star]]", f"star: {{{STAR}}}")
    assert told.endswith("here it is put into about 6 15/16 x 6 in: make it a part and turn it by 90")


def test_a_star_of_eight_and_one_of_six_do_not_go_together() -> None:
    eight = "ring: {of: 8, diamonds: navy, fill: shell}"
    told = tell_faults("6 x 4r3", "rows: [[star]]", f"star: {{{STAR}}}, other: {{{eight}}}")
    first = "'ring of 6' (line 3, part star, ring) has r3"
    (one,) = told
    assert one.startswith(f"part other, ring: 'ring of 8' has r2 in it, and {first}; one project has one root: make")
