"""The arithmetic of numbers with a root against sympy's, which shares no code with it."""

from __future__ import annotations

from fractions import Fraction

import sympy
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.checks.rooted import Number as Checked
from planner.checks.rooted import Rooted
from planner.checks.rooted import divide as divide_checked
from planner.measure import Root, spell_exact
from planner.surd import Exact, Surd, divide, root_of, sign_of, to_least

parts = st.builds(Fraction, st.integers(-60, 60), st.integers(1, 12))


def pairs_of_one_root() -> st.SearchStrategy[tuple[Exact, Exact]]:
    """Two numbers that go together; either may be plain."""
    return st.sampled_from([2, 3]).flatmap(lambda of: st.tuples(numbers(of), numbers(of)))


def numbers(of: int) -> st.SearchStrategy[Exact]:
    return st.builds(lambda plain, times: Surd(plain, times, of) if times else plain, parts, parts)


def to_sympy(value: Exact | Checked | Root) -> sympy.Expr:
    if isinstance(value, Surd | Rooted | Root):
        inner = to_sympy(value.of) if isinstance(value.of, Root) else sympy.Integer(value.of)
        return to_sympy(Fraction(value.plain)) + to_sympy(Fraction(value.times)) * sympy.sqrt(inner)
    value = Fraction(value)
    return sympy.Rational(value.numerator, value.denominator)


def is_same(ours: Exact | Checked, theirs: sympy.Expr) -> bool:
    return bool(sympy.expand(to_sympy(ours) - sympy.radsimp(theirs)) == 0)


def to_checked(value: Exact) -> Checked:
    return Rooted(value.plain, value.times, value.of) if isinstance(value, Surd) else value


@settings(max_examples=60, deadline=None)
@given(pairs_of_one_root())
def test_the_field_reckons_as_sympy_does(pair: tuple[Exact, Exact]) -> None:
    first, second = pair
    a, b = map(to_sympy, pair)
    assert is_same(first + second, a + b)
    assert is_same(first - second, a - b)
    assert is_same(first * second, a * b)
    if second:
        assert is_same(divide(first, second), a / b)
    for ours, theirs in ((first < second, a < b), (first <= second, a <= b), (first > second, a > b)):
        assert ours == bool(theirs)
    assert sign_of(first) == sympy.sign(a)


@settings(max_examples=40, deadline=None)
@given(pairs_of_one_root())
def test_the_checkers_field_reckons_as_sympy_does(pair: tuple[Exact, Exact]) -> None:
    first, second = map(to_checked, pair)
    a, b = map(to_sympy, pair)
    assert is_same(first + second, a + b)
    assert is_same(first - second, a - b)
    assert is_same(first * second, a * b)
    if second:
        assert is_same(divide_checked(first, second), a / b)
    assert (first < second, first >= second) == (bool(a < b), bool(a >= b))


@settings(max_examples=40, deadline=None)
@given(pairs_of_one_root())
def test_a_root_is_as_long_as_sympy_says_and_is_told_in_words_that_sympy_reads(pair: tuple[Exact, Exact]) -> None:
    square = pair[0] * pair[0] + pair[1] * pair[1]  # of the length of a side
    root = root_of(square)
    assert sympy.expand(to_sympy(root) ** 2 - to_sympy(square)) == 0
    assert to_sympy(root) >= 0
    if isinstance(root, Root):
        assert sympy.sympify(spell_exact(root)) == to_sympy(root)
        if isinstance(root.of, Root):  # it has no root in the field
            assert not _is_in_field(sympy.sqrtdenest(sympy.sqrt(to_sympy(root.of))), root.of.of)


def _is_in_field(value: sympy.Expr, of: int | Root) -> bool:
    return all(term.is_rational or (term / sympy.sqrt(of)).is_rational for term in sympy.Add.make_args(value))


@settings(max_examples=40, deadline=None)
@given(st.sampled_from([2, 3]), st.integers(-9, 9), st.integers(-9, 9), st.integers(-9, 9), st.integers(1, 9))
def test_a_step_points_the_way_that_sympy_says(of: int, a: int, b: int, c: int, d: int) -> None:
    x, y = Surd(a, d, of), Surd(b, c, of) if c else b
    step = to_least(x, y)
    assert sympy.expand(to_sympy(x) * to_sympy(step[1]) - to_sympy(y) * to_sympy(step[0])) == 0
    assert sympy.sign(to_sympy(x)) == sympy.sign(to_sympy(step[0]))
