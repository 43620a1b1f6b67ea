"""Sizes to cut and to measure: never short, hardly ever more than needed, and sizes that a ruler shows."""

from __future__ import annotations

import random
from decimal import Decimal, localcontext
from fractions import Fraction
from math import ceil, isqrt
from time import perf_counter

import pytest
from drafts import cut_box
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import plan_text, read_text
from points import find_area, turn

from planner.blocks import lay_out_blocks
from planner.cut_sizes import Corner, Piece, move_sides_out, size_piece, size_unit
from planner.fit_ruler import OffRuler, find_off_ruler
from planner.measure import Root, Ruler
from planner.summarise import tell_off_ruler

Outline = tuple[Corner, ...]
GRID, SIXTEENTH = Fraction(1, 64), Fraction(1, 16)
FINE = Fraction(1, 10**40)  # how far off an edge may be that is reckoned with fifty digits

allowances = st.sampled_from([Fraction(1, 8), Fraction(3, 16), Fraction(1, 4), Fraction(3, 8), Fraction(75, 254)])
lengths = st.builds(Fraction, st.integers(1, 200), st.integers(1, 16))


def outlines() -> st.SearchStrategy[Outline]:
    """Convex pieces of a box cut at random, clockwise as it is seen, no corner on a straight side, none very narrow."""
    sides = st.builds(Fraction, st.integers(8, 80), st.integers(4, 8))
    return st.builds(_draw_piece, st.randoms(use_true_random=False), sides, sides).filter(has_no_narrow_corner)


def _draw_piece(chance: random.Random, wide: Fraction, high: Fraction) -> Outline:
    return tidy(chance.choice(cut_box(chance, wide, high, chance.randint(1, 7))))


def has_no_narrow_corner(outline: Outline) -> bool:
    """Whether every corner has a sine of 1/10 or more."""
    for at, (x, y) in enumerate(outline):
        (ax, ay), (bx, by) = outline[at - 1], outline[(at + 1) % len(outline)]
        square = ((x - ax) ** 2 + (y - ay) ** 2) * ((bx - x) ** 2 + (by - y) ** 2)
        if 100 * turn(outline[at - 1], (x, y), (bx, by)) ** 2 < square:
            return False
    return True


def tidy(points: list[Corner]) -> Outline:
    if sum(points[at - 1][0] * y - points[at - 1][1] * x for at, (x, y) in enumerate(points)) < 0:
        points = points[::-1]
    return tuple(
        point for at, point in enumerate(points) if turn(points[at - 1], point, points[(at + 1) % len(points)]) != 0
    )


def root_of(square: Fraction) -> Fraction:
    """A square root to fifty digits."""
    with localcontext(prec=60):
        return Fraction((Decimal(square.numerator) / Decimal(square.denominator)).sqrt())


def widen(outline: Outline, by: Fraction) -> list[Corner]:
    """The corners of the outline with every side moved outward, to fifty digits."""
    lines = []
    for at, (x, y) in enumerate(outline):
        before_x, before_y = outline[at - 1]
        a, b = y - before_y, before_x - x
        lines.append((a, b, a * x + b * y + by * root_of(a * a + b * b)))
    corners = []
    for at, (a, b, c) in enumerate(lines):
        d, e, f = lines[(at + 1) % len(lines)]
        corners.append(((c * e - f * b) / (a * e - d * b), (a * f - d * c) / (a * e - d * b)))
    return corners


def is_exact(outline: Outline) -> bool:
    """Whether every side has a length without a root."""
    squares = [(x - outline[at - 1][0]) ** 2 + (y - outline[at - 1][1]) ** 2 for at, (x, y) in enumerate(outline)]
    return all(isqrt(part) ** 2 == part for square in squares for part in square.as_integer_ratio())


def holds(outer: Outline, corners: list[Corner]) -> bool:
    """Whether a convex outline, clockwise as it is seen, holds all these points."""
    return all(turn(outer[at - 1], end, point) >= -FINE for at, end in enumerate(outer) for point in corners)


def box_of(corners: list[Corner] | Outline) -> tuple[Fraction, Fraction]:
    wide, high = (max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1))
    return min(wide, high), max(wide, high)


def above(value: Fraction | Root) -> Fraction:
    return value.plain + value.times * root_of(Fraction(value.of)) if isinstance(value, Root) else value


@settings(max_examples=60, deadline=None)
@given(outlines(), allowances)
def test_an_outline_with_its_sides_moved_out_holds_the_exact_one_and_hardly_more(
    outline: Outline, by: Fraction
) -> None:
    moved, exact = move_sides_out(outline, by), widen(outline, by)
    assert len(moved) == len(outline)
    assert holds(moved, exact)
    # a corner may be rounded along both of its sides, and farther where they meet at a narrow angle
    perimeter = sum(abs(x - exact[at - 1][0]) + abs(y - exact[at - 1][1]) for at, (x, y) in enumerate(exact))
    assert find_area(moved) <= find_area(exact) + 2 * GRID * perimeter
    if is_exact(outline):
        assert all(abs(x - px) < FINE and abs(y - py) < FINE for (x, y), (px, py) in zip(moved, exact, strict=True))


@settings(max_examples=60, deadline=None)
@given(outlines(), allowances)
def test_a_piece_is_never_cut_short(outline: Outline, seam: Fraction) -> None:
    piece = size_piece(outline, seam)
    exact = widen(outline, seam)
    assert piece.cut[0] <= piece.cut[1]
    assert box_of(piece.corners) == piece.cut or piece.shape == "half-square triangle"
    if piece.shape == "other":
        left, top = min(x for x, _ in move_sides_out(outline, seam)), min(y for _, y in move_sides_out(outline, seam))
        assert holds(piece.corners, [(x - left, y - top) for x, y in exact])
        assert piece.finished == box_of(outline)
        assert all(cut >= side - FINE for cut, side in zip(piece.cut, box_of(exact), strict=True))
        return
    assert all(cut >= above(side) for cut, side in zip(piece.cut, piece.finished, strict=True))
    # Triangles and rectangles lie as they are cut, perhaps turned: so areas and the two lengths tell
    assert find_area(piece.corners) >= find_area(tuple(exact)) - FINE


@pytest.mark.parametrize(
    ("corners", "shape"),
    [
        ("0,0 3,0 3,3 0,3", "square"),
        ("0,0 3,0 3,2 0,2", "rectangle"),
        ("1,0 2,1 1,2 0,1", "square"),
        ("1,0 3,2 2,3 0,1", "rectangle"),
        ("0,0 3,0 0,3", "half-square triangle"),
        ("0,0 2,0 1,1", "quarter-square triangle"),
        ("0,0 3,0 0,2", "other"),
        ("0,0 2,0 2,1 1,1", "other"),
        ("3,0 4,4 0,3", "other"),  # as legs alike, but at no right angle
        ("0,0 2,1 1,3", "half-square triangle"),  # at any angle, on its own grain
    ],
)
def test_a_shape_is_told_by_its_sides_and_its_grain(corners: str, shape: str) -> None:
    outline = tidy([(Fraction(x), Fraction(y)) for x, y in (corner.split(",") for corner in corners.split())])
    for _ in range(4):
        outline = tidy([(-y, x) for x, y in outline])
        assert size_piece(outline, Fraction(1, 4)).shape == shape


@settings(max_examples=60, deadline=None)
@given(lengths, lengths, allowances)
def test_rectangles_are_cut_an_allowance_larger_on_every_side(wide: Fraction, high: Fraction, seam: Fraction) -> None:
    piece = size_piece(((Fraction(0),) * 2, (wide, Fraction(0)), (wide, high), (Fraction(0), high)), seam)
    assert piece.finished == (min(wide, high), max(wide, high))
    assert piece.cut == (min(wide, high) + 2 * seam, max(wide, high) + 2 * seam)


@settings(max_examples=60, deadline=None)
@given(lengths, allowances)
def test_a_square_on_its_corner_is_cut_up_to_the_next_sixteenth(half: Fraction, seam: Fraction) -> None:
    nothing = Fraction(0)
    piece = size_piece(((half, nothing), (2 * half, half), (half, 2 * half), (nothing, half)), seam)
    exact = root_of(2 * half * half) + 2 * seam
    assert piece.shape == "square"
    assert piece.cut[0] == piece.cut[1]
    assert exact <= piece.cut[0] < exact + SIXTEENTH
    assert (piece.cut[0] / SIXTEENTH).denominator == 1


@settings(max_examples=60, deadline=None)
@given(lengths, allowances)
def test_triangles_are_cut_from_squares_that_are_never_short(finished: Fraction, seam: Fraction) -> None:
    nothing = Fraction(0)
    half = size_piece(((nothing, nothing), (finished, nothing), (nothing, finished)), seam)
    quarter = size_piece(((nothing, nothing), (2 * finished, nothing), (finished, finished)), seam)
    assert half.cut == (finished + 7 * seam / 2,) * 2
    assert quarter.cut == (finished + 5 * seam / 2, 2 * finished + 5 * seam)
    # Exactly 2 + sqrt(2) and 2 + 2 sqrt(2) allowances
    root = root_of(Fraction(2))
    assert 0 < half.cut[0] - (finished + (2 + root) * seam) < seam / 2
    assert 0 < quarter.cut[1] - (2 * finished + (2 + 2 * root) * seam) < seam / 2


@settings(max_examples=60, deadline=None)
@given(outlines(), allowances)
def test_a_unit_measures_what_it_would_be_cut_or_the_box_round_it(outline: Outline, seam: Fraction) -> None:
    piece, measured = size_piece(outline, seam), size_unit(outline, seam)
    if piece.shape != "other":
        assert measured == piece.cut
        return
    for side, exact in zip(measured, box_of(widen(outline, seam)), strict=True):
        assert exact - FINE <= side < exact + SIXTEENTH
    if is_exact(outline):
        assert measured == piece.cut


@settings(max_examples=60, deadline=None)
@given(outlines(), allowances)
def test_a_size_does_not_depend_on_where_and_how_the_piece_lies(outline: Outline, seam: Fraction) -> None:
    piece, measured = size_piece(outline, seam), size_unit(outline, seam)
    moved = tuple((x + Fraction(17, 3), y - 5) for x, y in outline)
    turned = tidy([(-y, x) for x, y in outline])
    assert _sizes(size_piece(moved, seam)) == _sizes(piece)
    assert size_unit(moved, seam) == measured
    assert size_unit(turned, seam) == measured
    assert size_piece(turned, seam).finished == piece.finished
    if piece.shape != "other":  # of others each corner is rounded as it lies
        assert _sizes(size_piece(turned, seam)) == _sizes(piece)


def _sizes(piece: Piece) -> object:
    return (piece.shape, piece.finished) if piece.shape == "other" else (piece.shape, piece.finished, piece.cut)


@pytest.mark.parametrize("slope", [Fraction(1, part) for part in (6, 13, 24, 50, 96, 256, 1000)])
def test_a_needle_is_never_short_and_its_sides_are_hardly_farther_out_than_they_must_be(slope: Fraction) -> None:
    seam = Fraction(1, 4)
    for sides in (draw_needle(slope), draw_needle(slope, Fraction(0)), draw_needle(slope, Fraction(1, 3))):
        outline = sides
        for _ in range(4):
            outline = tidy([(-y, x) for x, y in outline])
            moved = move_sides_out(outline, seam)
            assert holds(moved, widen(outline, seam))
            assert holds(tuple(widen(outline, seam + 6 * GRID)), list(moved))
            piece = size_piece(outline, seam)
            assert box_of(piece.corners) == piece.cut


def test_a_needle_ten_times_as_narrow_takes_hardly_longer() -> None:
    """12 x 3/64 against 12 x 1/2."""
    assert time_needle(Fraction(1, 256)) < 8 * time_needle(Fraction(1, 24))


def draw_needle(slope: Fraction, below: Fraction | None = None) -> Outline:
    """A triangle 12 in long and as high as the slope says, its lower side level (0) or askew to the grain."""
    nothing, side = Fraction(0), Fraction(12)
    low = side * slope / 2 if below is None else side * below
    return tidy([(nothing, nothing), (side, low), (side, low + side * slope)])


def time_needle(slope: Fraction) -> float:
    """Seconds to size a needle 12 in long, askew to the grain: the best of some tries."""
    outline = draw_needle(slope)
    tries = []
    for _ in range(5):
        begun = perf_counter()
        size_piece(outline, Fraction(1, 4))
        tries.append(perf_counter() - begun)
    return min(tries)


# --- off the ruler

# Cells, and how many allowances are added to what is cut of them
CELLS = {
    "navy": Fraction(2),
    "navy / shell": Fraction(7, 2),
    "(navy \\ shell) / (shell \\ navy)": Fraction(5),
}


def find_off(size: str, columns: int, measure: str = "in", cell: str = "navy") -> tuple[OffRuler, ...]:
    row = ", ".join([cell] * columns)
    rows = "\n".join(f"      - [{row}]" for _ in range(columns))
    seam = "1/4" if measure == "in" else "0.75"
    project = read_text(
        f"""
project: Off the ruler
measure: {measure}
seam: {seam}
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  jetty:
    size: {size}
    rows:
{rows}
make: [{{block: jetty, count: 1}}]
"""
    )
    return find_off_ruler(lay_out_blocks(project), project.seam, Ruler(project.measure))


def test_twelve_inches_on_a_grid_of_seven_are_off_the_ruler_and_two_sizes_near_are_not() -> None:
    (off,) = find_off("12", 7)
    assert off.cut == (Fraction(12, 7) + Fraction(1, 2),)
    assert off.smaller == (Fraction("11.375"),) * 2
    assert off.larger == (Fraction("12.25"),) * 2


def test_what_is_on_the_ruler_is_not_told_of() -> None:
    assert find_off("12", 4) == ()
    assert find_off("12", 4, cell="navy / shell") == ()
    assert find_off("30", 4, "cm") == ()


@pytest.mark.parametrize("measure", ["in", "cm"])
@pytest.mark.parametrize(
    ("size", "columns", "cell"),
    [
        *((size, 7, cell) for size in ("12", "9 1/2") for cell in CELLS),
        *((size, 3, cell) for size in ("10", "6 1/3") for cell in CELLS),
        *((size, 7, "navy") for size in ("8 x 6", "12 x 9 1/2", "6 x 4.1")),
    ],
)
def test_the_sizes_proposed_are_the_nearest_that_the_ruler_shows(
    measure: str, size: str, columns: int, cell: str
) -> None:
    (off,) = find_off(size, columns, measure, cell)
    ruler = Ruler("in" if measure == "in" else "cm")
    wide, high = off.size
    # Any block width at which all is on the ruler is one at which the first size is: so many marks, no more to try
    seam = Fraction(1, 4) if measure == "in" else Fraction("0.75") * Fraction(50, 127)
    marks = range(ceil(2 * (2 * wide / columns + 5 * seam) / ruler.mark))
    more = CELLS[cell] * seam
    widths = sorted((mark * ruler.mark - more) * columns for mark in marks)
    good = [width for width in widths if width > 0 and is_all_on(width, width * high / wide, columns, more, ruler)]
    below = [width for width in good if wide / 2 <= width < wide]
    beyond = [width for width in good if wide < width <= 2 * wide]
    assert (off.smaller and off.smaller[0]) == (below[-1] if below else None)
    assert (off.larger and off.larger[0]) == (beyond[0] if beyond else None)


def is_all_on(width: Fraction, height: Fraction, columns: int, more: Fraction, ruler: Ruler) -> bool:
    return all(ruler.is_on(side / columns + more) for side in (width, height))


def write_star(measure: str) -> str:
    return f"""
project: Off the ruler
measure: {measure}
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks:
  star: {{block: eight-pointed star, fabrics: {{dark: navy, medium: navy, light: shell}}}}
make: [{{block: star, count: 1}}]
"""


def test_what_is_cut_with_a_root_is_told_as_the_sheet_rounds_it() -> None:
    # Of a star 12 wide the squares have sides of 12 / (2+r2) = 3.515, cut 4.015; the triangles a long side of
    # 12 r2 / (2+r2) = 4.971, and the square they are quarters of is cut 6.221: both up to the next 1/16
    project = read_text(write_star("in"))
    (off,) = find_off_ruler(lay_out_blocks(project), project.seam, Ruler("in"))
    assert (off.cut, off.rooted) == ((), (Fraction("4.0625"), Fraction("6.25")))
    assert (off.smaller, off.larger) == (None, None)
    told = list(tell_off_ruler(plan_text(write_star("in"))))
    assert told == ["Off the ruler: star at 12 x 12 is cut about 4 1/16, about 6 1/4 in"]
    # 30 / (2+r2) = 8.787 cm and 1.5 more; 12.426 cm and 3.75 more
    told = list(tell_off_ruler(plan_text(write_star("cm"))))
    assert told == ["Off the ruler: star at 30 x 30 cm is cut about 10.4, about 16.2 cm"]


def test_beside_a_root_the_sizes_near_are_for_the_others() -> None:
    cells = "\n".join(["      - [navy, navy, {square: {centre: navy, around: shell}}]"] * 3)
    head = write_star("in").split("  star:")[0]
    block = f"  jetty:\n    size: 10\n    rows:\n{cells}\nmake: [{{block: jetty, count: 1}}]\n"
    (told,) = tell_off_ruler(plan_text(head + block))
    # A square in a square of 10/3: sides of 10/3 / r2 = 2.357, cut 2.857
    cut = "Off the ruler: jetty at 10 x 10 is cut 2 13/24, 3 5/6, about 2 7/8 in"
    assert told.startswith(f"{cut}; but for what is about, no such size at ")


@pytest.mark.parametrize("seed", range(30))
def test_only_sizes_that_are_off_are_called_so(seed: int) -> None:
    chance = random.Random(seed)
    size, columns = Fraction(chance.randint(30, 120), chance.choice((2, 4, 8))), chance.randint(1, 7)
    found = find_off(str(size), columns)
    cut = size / columns + Fraction(1, 2)
    assert [off.cut for off in found] == ([] if (8 * cut).denominator == 1 else [(cut,)])
