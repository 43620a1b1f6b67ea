"""Whole steps and fractions, or such numbers with one root in them, for the checkers: compared exactly.

Shapes at 45 and at 60 degrees need them, and so do the corners of a quilt on point: lengths of its borders are plain
along its edges, and its blocks' are not.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import isqrt

Plain = int | Fraction


class Rooted:
    """plain + times * sqrt(of), `times` never 0 and `of` 2 or 3; ValueError where both roots meet."""

    __slots__ = ("of", "plain", "times")

    def __init__(self, plain: Plain, times: Plain, of: int) -> None:
        self.plain = plain
        self.times = times
        self.of = of

    def __repr__(self) -> str:
        return f"Rooted({self.plain}, {self.times}, {self.of})"

    def __str__(self) -> str:
        root = f"{abs(self.times)}*sqrt({self.of})"
        if not self.plain:
            return root if self.times > 0 else f"-{root}"
        return f"{self.plain} {'+' if self.times > 0 else '-'} {root}"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rooted) and self._parts() == other._parts()

    def __hash__(self) -> int:
        return hash(self._parts())

    def _parts(self) -> tuple[Plain, Plain, int]:
        return self.plain, self.times, self.of

    def __neg__(self) -> Rooted:
        return Rooted(-self.plain, -self.times, self.of)

    def __abs__(self) -> Rooted:
        return -self if self < 0 else self

    def __add__(self, other: Number) -> Number:
        plain, times = self._part(other)
        return build(self.plain + plain, self.times + times, self.of)

    __radd__ = __add__

    def __sub__(self, other: Number) -> Number:
        return self + -other

    def __rsub__(self, other: Number) -> Number:
        return -self + other

    def __mul__(self, other: Number) -> Number:
        plain, times = self._part(other)
        return build(
            self.plain * plain + self.times * times * self.of, self.plain * times + self.times * plain, self.of
        )

    __rmul__ = __mul__

    def __lt__(self, other: Number) -> bool:
        """Whether rest = other - self is above 0: where its two parts have two signs, their squares decide."""
        plain, times = self._part(other)
        plain, times = plain - self.plain, times - self.times
        if plain >= 0 and times >= 0:
            return plain > 0 or times > 0
        if plain <= 0 and times <= 0:
            return False
        return (plain * plain > times * times * self.of) == (plain > 0)

    def __gt__(self, other: Number) -> bool:
        return -self < -other

    def __le__(self, other: Number) -> bool:
        return not self > other

    def __ge__(self, other: Number) -> bool:
        return not self < other

    def _part(self, other: Number) -> tuple[Plain, Plain]:
        if not isinstance(other, Rooted):
            return other, 0
        if other.of != self.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return other.plain, other.times


Number = int | Fraction | Rooted


def build(plain: Plain, times: Plain, of: int) -> Number:
    return Rooted(plain, times, of) if times else plain


def divide(value: Number, by: Number) -> Number:
    """The exact quotient."""
    if isinstance(by, Rooted):
        # both times the other root of the divisor, which leaves a plain one
        value = value * Rooted(by.plain, -by.times, by.of)
        by = by.plain * by.plain - by.times * by.times * by.of
    if isinstance(value, Rooted):
        return Rooted(Fraction(value.plain) / by, Fraction(value.times) / by, value.of)
    return Fraction(value) / by


def approach_number(value: Number, fine: int) -> Fraction:
    """A fraction at most 1/`fine` from the value."""
    if not isinstance(value, Rooted):
        return Fraction(value)
    square = Fraction(value.times * value.times * value.of * fine * fine)
    root = Fraction(isqrt(square.numerator // square.denominator), fine)
    return value.plain + (root if value.times > 0 else -root)


def sum_up(values: Iterable[Number]) -> Number:
    total: Number = 0
    for value in values:
        total += value
    return total
