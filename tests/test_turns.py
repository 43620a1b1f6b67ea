"""Turns by parts of a quarter: exact, and back again; what is equal after one is one kind and one line to cut."""

from __future__ import annotations

from fractions import Fraction
from math import cos, pi, sin, sqrt

import pytest
from bent_drafts import FABRICS
from hypothesis import given
from hypothesis import strategies as st
from planned import plan_text, print_out, why_wrong

from planner.surd import Surd
from planner.turns import BETWEEN, STEP, Turn, plain_turn, rotate, spread_box, to_eighths

# Four times a whole number: what is turned twice by parts of a quarter is still on the grid
WHOLE = st.integers(-400, 400).map(lambda number: 4 * number)


@st.composite
def points(draw: st.DrawFn, of: int) -> tuple[object, object]:
    values = []
    for _ in range(2):
        plain, times = draw(WHOLE), draw(WHOLE)
        values.append(Surd(plain, times, of) if times else plain)
    return values[0], values[1]


def nearly(value: object) -> float:
    return value.plain + value.times * sqrt(value.of) if isinstance(value, Surd) else float(value)  # type: ignore[arg-type]


@pytest.mark.parametrize("of", STEP)
@given(data=st.data())
def test_a_turn_is_what_sine_and_cosine_say_and_another_brings_it_back(of: int, data: st.DataObject) -> None:
    point = data.draw(points(of))
    turn = data.draw(st.sampled_from([0, 1, 2, 3, *BETWEEN[of]]))
    turned = rotate(point, turn)  # type: ignore[arg-type]
    x, y = map(nearly, point)
    angle = float(turn) * pi / 2
    expected = x * cos(angle) - y * sin(angle), x * sin(angle) + y * cos(angle)
    assert tuple(map(nearly, turned)) == pytest.approx(expected, abs=1e-6)
    assert rotate(turned, plain_turn(-turn)) == point


@given(st.integers(1, 50), st.integers(1, 50), st.integers(0, 3), st.integers(0, 50), st.integers(0, 50))
def test_a_turned_box_begins_at_its_upper_left_corner_again(
    wide: int, high: int, turn: int, across: int, down: int
) -> None:
    spread = spread_box(wide, high, turn)
    corners = [spread.put(point, turn) for point in ((0, 0), (wide, 0), (0, high), (wide, high))]
    assert (min(corners), max(corners)) == ((0, 0), (spread.wide, spread.high))
    inside = spread.put((min(across, wide), min(down, high)), turn)
    assert (0, 0) <= inside <= (spread.wide, spread.high)


@pytest.mark.parametrize(
    ("turn", "eighths"),
    [(0, 0), (1, 2), (Fraction(1, 2), 1), (Fraction(7, 2), 7), (Fraction(1, 3), 1), (Fraction(2, 3), 1), (3, 6)],
)
def test_a_mark_points_to_the_nearest_eighth(turn: Turn, eighths: int) -> None:
    assert to_eighths(turn) == eighths


# Two pairs of patches: the same pair, once as it stands and once turned by 45 degrees, in squares that hold them
PAIRS = f"""
project: Tidewater pairs
{FABRICS}
blocks:
  star: {{size: 12, ring: {{of: 8, diamonds: [navy], fill: shell}}}}
  stripes: {{size: 6, rows: [[navy, shell, coral]]}}
make: [{{block: star, count: 2}}, {{block: stripes, count: 1}}]
"""

HEXAGONS = f"""
project: Tidewater hexagons
{FABRICS}
blocks:
  six: {{size: 6 x 4r3, ring: {{of: 6, diamonds: [navy], fill: shell}}}}
make: [{{block: six, count: 3}}]
"""


def test_all_diamonds_of_a_star_are_cut_alike_and_its_eighths_are_few_kinds() -> None:
    plan = plan_text(PAIRS)
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    diamonds = [entry for entry in printed["cut"] if entry["fabric"] == "navy" and entry["shape"] == "other"]
    assert [entry["count"] for entry in diamonds] == [16]
    # Pairs of a diamond with what fills the edge, pairs with what fills the corner, and three more to put them together
    star = [batch for batch in printed["batches"] if any(seam in batch["seams"] for seam in seams_of(printed, "b1"))]
    assert len(star) == 5


def seams_of(printed: object, block: str) -> list[str]:
    return [seam["id"] for seam in printed["seams"] if seam["block"] == block]  # type: ignore[index]


def test_sixty_degree_diamonds_are_one_line_of_the_cut_list() -> None:
    printed = print_out(plan_text(HEXAGONS))
    assert why_wrong(printed) == ()
    diamonds = [entry for entry in printed["cut"] if entry["fabric"] == "navy"]
    assert [entry["count"] for entry in diamonds] == [18]


def test_half_squares_among_shapes_with_a_root_of_three_are_planned_too() -> None:
    rooted = f"""
project: Tidewater halves
{FABRICS}
blocks:
  six: {{size: 6 x 4r3, ring: {{of: 6, diamonds: [navy], fill: shell}}}}
  halves: {{size: 6, rows: [[navy / shell, coral], [coral, shell \\ navy]]}}
make: [{{block: six, count: 1}}, {{block: halves, count: 2}}]
"""
    assert why_wrong(print_out(plan_text(rooted))) == ()
