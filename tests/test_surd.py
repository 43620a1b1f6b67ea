"""Numbers with one root: every sum, product and order is what fifty digits say, and what has no root is plain."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.measure import Root
from planner.surd import Number, Surd, approach, make, sign_of, size_of, to_least, to_length

whole = st.integers(-1_000, 1_000)
parts = st.builds(Fraction, whole, st.integers(1, 24))
numbers = st.one_of(
    whole,
    parts,
    st.builds(make, whole, whole, st.just(2)),
    st.builds(make, parts, parts, st.just(2)),
)
rooted = st.builds(Surd, whole, whole.filter(bool), st.sampled_from([2, 3]))
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
        if not isinstance(second, Surd) and second:
            assert abs(evaluate(first / Fraction(second)) - a / b) < FINE
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
def test_a_root_lies_along_the_frame_or_a_diagonal(value: Surd[int]) -> None:
    sign = sign_of(value)
    assert to_least(value, value) == (sign, sign)
    assert to_least(value, -value) == (sign, -sign)
    assert to_least(0, value) == (0, sign)
    with pytest.raises(ValueError, match="neither upright, level nor along a diagonal"):
        to_least(value, 1)
    assert to_least(-6, 4) == (-3, 2)


def test_a_length_is_spelled_with_its_root_added() -> None:
    half = Fraction(1, 2)
    assert to_length(half) == half
    assert to_length(Surd(half, Fraction(3), 2)) == Root(half, Fraction(3), 2)
    with pytest.raises(ValueError, match="takes a root away"):
        to_length(Surd(Fraction(9), Fraction(-1), 2))
