"""Numbers with one square root in them: plain + times * sqrt(of), exact.

A quilt on point has lengths of both kinds, whole inches (a border's width) and diagonals of its blocks. Where the root
falls away the answer is a plain number again, so what has no root in it never meets this class.
"""

from __future__ import annotations

from fractions import Fraction
from functools import total_ordering
from math import isqrt, sqrt

Plain = int | Fraction


@total_ordering
class Surd:
    """plain + times * sqrt(of), `times` not 0 and `of` without a square in it (2 or 3). Whole parts stay whole.

    ValueError where two different roots meet.
    """

    __slots__ = ("of", "plain", "times")

    def __init__(self, plain: Plain, times: Plain, of: int) -> None:
        self.plain = plain
        self.times = times
        self.of = of

    def __repr__(self) -> str:
        return f"Surd({self.plain}, {self.times}, {self.of})"

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Surd):
            return (self.plain, self.times, self.of) == (other.plain, other.times, other.of)
        return False

    def __hash__(self) -> int:
        return hash((self.plain, self.times, self.of))

    def __add__(self, other: Number) -> Number:
        if isinstance(other, Surd):
            return make(self.plain + other.plain, self.times + other.times, self._root_with(other))
        return Surd(self.plain + other, self.times, self.of)

    __radd__ = __add__

    def __neg__(self) -> Surd:
        return Surd(-self.plain, -self.times, self.of)

    def __sub__(self, other: Number) -> Number:
        return self + (-other)

    def __rsub__(self, other: Number) -> Number:
        return -self + other

    def __mul__(self, other: Number) -> Number:
        if isinstance(other, Surd):
            plain = self.plain * other.plain + self.times * other.times * self._root_with(other)
            return make(plain, self.plain * other.times + self.times * other.plain, self.of)
        return make(self.plain * other, self.times * other, self.of)

    __rmul__ = __mul__

    def __truediv__(self, other: Number) -> Number:
        if isinstance(other, Surd):
            # times the other's conjugate
            norm = other.plain * other.plain - other.times * other.times * other.of
            return self * Surd(other.plain, -other.times, other.of) * (1 / Fraction(norm))
        return make(Fraction(self.plain) / other, Fraction(self.times) / other, self.of)

    def __lt__(self, other: Number) -> bool:
        return sign_of(self - other) < 0

    def __abs__(self) -> Surd:
        return self if sign_of(self) > 0 else -self

    def __float__(self) -> float:
        return float(self.plain) + float(self.times) * sqrt(self.of)

    def __floor__(self) -> int:
        scale = Fraction(self.plain).denominator * Fraction(self.times).denominator
        plain, times = int(self.plain * scale), int(self.times * scale)
        root = isqrt(times * times * self.of)
        return (plain + (root if times > 0 else -root - 1)) // scale

    def _root_with(self, other: Surd) -> int:
        if other.of != self.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return self.of


Number = int | Fraction | Surd


def make(plain: Plain, times: Plain, of: int) -> Number:
    """plain + times * sqrt(of), as a plain number where `times` is 0."""
    return Surd(plain, times, of) if times else plain


def sign_of(value: Number) -> int:
    """-1, 0 or 1."""
    if not isinstance(value, Surd):
        return (value > 0) - (value < 0)
    plain, times = value.plain, value.times
    if plain == 0 or (plain > 0) == (times > 0):
        return 1 if times > 0 else -1
    # Of different signs: the larger one in size decides; they are never equal, the root being no fraction
    return 1 if (plain * plain > times * times * value.of) == (plain > 0) else -1
