"""Numbers with one root: every sum, product and order is what fifty digits say, and what has no root is plain."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.measure import Root
from planner.surd import (
    DIAGONAL,
    Exact,
    Grid,
    Number,
    Surd,
    approach,
    denominator_of,
    divide,
    from_length,
    make,
    root_of,
    sign_of,
    size_of,
    to_grid,
    to_least,
    to_length,
)

whole = st.integers(-1_000, 1_000)
parts = st.builds(Fraction, whole, st.integers(1, 24))
numbers = st.one_of(
    whole,
    parts,
    st.builds(make, whole, whole, st.just(2)),
    st.builds(make, parts, parts, st.just(2)),
)
rooted = st.builds(Surd, whole, whole.filter(bool), st.sampled_from([2, 3]))
on_grid = st.one_of(st.integers(-9, 9), st.builds(make, st.integers(-9, 9), st.integers(-9, 9), st.just(3)))
exact = st.builds(make, parts, parts, st.just(2))
FINE = Decimal(10) ** -40


def evaluate(value: Number) -> Decimal:
    """To fifty digits."""
    with localcontext(prec=60):
        if not isinstance(value, Surd):
            value = Fraction(value)
            return Decimal(value.numerator) / Decimal(value.denominator)
        return evaluate(value.plain) + evaluate(value.times) * Decimal(value.of).sqrt()


@settings(max_examples=150, deadline=None)
@given(numbers, numbers)
def test_sums_products_and_order_are_those_of_the_numbers(first: Number, second: Number) -> None:
    a, b = evaluate(first), evaluate(second)
    with localcontext(prec=60):
        assert abs(evaluate(first + second) - (a + b)) < FINE
        assert abs(evaluate(first - second) - (a - b)) < FINE
        assert abs(evaluate(first * second) - a * b) < FINE
        if second:
            assert abs(evaluate(divide(first, second)) - a / b) < FINE * 10**6
        assert abs(evaluate(first**2) - a * a) < FINE
    assert (first < second, first <= second) == (a < b, a <= b)
    assert (first > second, first >= second) == (a > b, a >= b)
    assert (first == second) == (abs(a - b) < FINE)
    if first == second:
        assert hash(first) == hash(second)
    assert sign_of(first) == (a > 0) - (a < 0)
    assert size_of(first) == (first if a >= 0 else -first)
    assert (floor(first), ceil(first)) == (floor(a), ceil(a))


@given(numbers, numbers)
def test_what_has_no_root_is_a_plain_number_again(first: Number, second: Number) -> None:
    assert not isinstance((first + second) - second, Surd) or isinstance(first, Surd)
    assert (first + second) - second == first
    for value in (first + second, first - second, first * second):
        assert not isinstance(value, Surd) or value.times


@given(rooted)
def test_whole_parts_stay_whole(value: Surd[int]) -> None:
    for result in (value + 1, 1 - value, value * value, -value, 3 * value):
        found = (result.plain, result.times) if isinstance(result, Surd) else (result,)
        assert all(isinstance(part, int) for part in found)


def test_different_roots_do_not_go_together() -> None:
    two, three = Surd(1, 1, 2), Surd(1, 1, 3)
    with pytest.raises(ValueError, match="do not go together"):
        two + three
    with pytest.raises(ValueError, match="do not go together"):
        two * three
    with pytest.raises(ValueError, match="do not go together"):
        sorted([two, three])
    assert two != three


@given(rooted)
def test_a_number_nearby_is_below_and_very_near(value: Surd[int]) -> None:
    with localcontext(prec=60):
        assert 0 < evaluate(value) - evaluate(approach(value)) < Decimal(2) ** -40


@given(rooted)
def test_a_root_along_the_frame_or_a_diagonal_has_a_whole_step(value: Surd[int]) -> None:
    sign = sign_of(value)
    assert to_least(value, value) == (sign, sign)
    assert to_least(value, -value) == (sign, -sign)
    assert to_least(0, value) == (0, sign)
    assert to_least(value, 0) == (sign, 0)
    assert to_least(-6, 4) == (-3, 2)


@settings(max_examples=200, deadline=None)
@given(on_grid, on_grid, on_grid.filter(bool))
def test_ways_of_one_direction_have_one_step_and_others_another(x: Grid, y: Grid, stretch: Grid) -> None:
    assume(x or y)
    stretch = size_of(stretch)
    step = to_least(x, y)
    assert to_least(x * stretch, y * stretch) == step
    assert hash(to_least(x * stretch, y * stretch)) == hash(step)
    assert to_least(-x, -y) == (-step[0], -step[1])
    assert x * step[1] == y * step[0]  # it points along
    assert sign_of(step[0]) == sign_of(x)
    assert sign_of(step[1]) == sign_of(y)
    assert to_least(*step) == step
    assert not x or to_least(x * stretch, y * stretch + 1) != step


def test_steps_at_22_1_2_and_at_60_degrees_are_the_least_in_which_x_has_no_root() -> None:
    assert to_least(6, Surd(-6, 6, 2)) == (1, Surd(-1, 1, 2))
    assert to_least(Surd(0, 2, 3), 6) == (1, Surd(0, 1, 3))
    assert to_least(Surd(0, -2, 3), 2) == (-3, Surd(0, 1, 3))


def test_a_length_is_handed_over_with_its_root() -> None:
    half = Fraction(1, 2)
    for value, length in ((half, half), (Surd(half, Fraction(-3), 2), Root(half, Fraction(-3), 2))):
        assert to_length(value) == length
        assert from_length(length) == value
    with pytest.raises(ValueError, match="root of a root"):
        from_length(Root(half, half, Root(half, half, 2)))


@settings(max_examples=150, deadline=None)
@given(st.one_of(parts, exact))
def test_the_root_of_a_square_is_the_number_itself(value: Exact) -> None:
    assert root_of(value * value) == to_length(size_of(value)) or not value


@settings(max_examples=100, deadline=None)
@given(exact.filter(lambda value: value > 0))
def test_the_root_of_a_number_is_as_long_as_its_square_says(square: Exact) -> None:
    with localcontext(prec=60):
        long = evaluate_length(root_of(square))
        assert abs(long * long - evaluate(square)) < FINE * 10**6


def evaluate_length(root: Fraction | Root | int) -> Decimal:
    if not isinstance(root, Root):
        return evaluate(root)
    return evaluate(root.plain) + evaluate(root.times) * evaluate_length(root.of).sqrt()


def test_roots_of_numbers_with_a_root_stay_exact() -> None:
    assert root_of(Surd(Fraction(6), Fraction(4), 2)) == Root(Fraction(2), Fraction(1), 2)
    assert root_of(Surd(Fraction(6), Fraction(-4), 2)) == Root(Fraction(2), Fraction(-1), 2)
    assert root_of(Surd(Fraction(4), Fraction(2), 2)) == Root(
        Fraction(0), Fraction(1), Root(Fraction(4), Fraction(2), 2)
    )
    assert root_of(Fraction(8)) == Root(Fraction(0), Fraction(2), 2)
    assert DIAGONAL * DIAGONAL == 2


@given(exact, st.integers(1, 9))
def test_a_number_on_the_grid_is_whole_and_counts_its_steps(value: Exact, finer: int) -> None:
    scale = finer * denominator_of(value)
    steps = to_grid(value, scale)
    assert divide(steps, scale) == value
    assert all(isinstance(part, int) for part in ((steps.plain, steps.times) if isinstance(steps, Surd) else (steps,)))
