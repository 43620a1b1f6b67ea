"""Numbers with one square root in them: plain + times * sqrt(of), exact.

A quilt on point has lengths of both kinds, whole inches (a border's width) and diagonals of its blocks. Where the root
falls away the answer is a plain number again, so what has no root in it never meets this class.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, gcd, isqrt
from typing import Generic, TypeVar

from planner.measure import Root

P = TypeVar("P", int, Fraction)


class Surd(Generic[P]):
    """plain + times * sqrt(of), `times` not 0 and `of` without a square in it (2 or 3). Whole parts stay whole.

    ValueError where two different roots meet.
    """

    __slots__ = ("of", "plain", "times")

    def __init__(self, plain: P, times: P, of: int) -> None:
        self.plain: P = plain
        self.times: P = times
        self.of = of

    def __repr__(self) -> str:
        return f"Surd({self.plain!r}, {self.times!r}, {self.of})"

    def __str__(self) -> str:
        root = f"{self.times}*sqrt({self.of})"
        return f"{self.plain} + {root}" if self.plain else root

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Surd):
            return self.plain == other.plain and self.times == other.times and self.of == other.of
        return False

    def __hash__(self) -> int:
        return hash((self.plain, self.times, self.of))

    def __add__(self, other: int | P | Surd[P]) -> P | Surd[P]:
        if not isinstance(other, Surd):
            return Surd(self.plain + other, self.times, self.of)
        times = self.times + other.times
        if self.of != other.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return Surd(self.plain + other.plain, times, self.of) if times else self.plain + other.plain

    def __radd__(self, other: int | P) -> P | Surd[P]:
        return self + other

    def __neg__(self) -> Surd[P]:
        return Surd(-self.plain, -self.times, self.of)

    def __sub__(self, other: int | P | Surd[P]) -> P | Surd[P]:
        if not isinstance(other, Surd):
            return Surd(self.plain - other, self.times, self.of)
        times = self.times - other.times
        if self.of != other.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return Surd(self.plain - other.plain, times, self.of) if times else self.plain - other.plain

    def __rsub__(self, other: int | P) -> P | Surd[P]:
        return Surd(other - self.plain, -self.times, self.of)

    def __mul__(self, other: int | P | Surd[P]) -> P | Surd[P]:
        if isinstance(other, Surd):
            plain = self.plain * other.plain + self.times * other.times * self._root_with(other)
            return make(plain, self.plain * other.times + self.times * other.plain, self.of)
        return make(self.plain * other, self.times * other, self.of)

    def __rmul__(self, other: int | P) -> P | Surd[P]:
        return self * other

    def __truediv__(self, other: int | Fraction) -> Surd[Fraction]:
        return Surd(Fraction(self.plain) / other, Fraction(self.times) / other, self.of)

    def __lt__(self, other: Number) -> bool:
        return _compare(self, other) < 0

    def __le__(self, other: Number) -> bool:
        return _compare(self, other) <= 0

    def __gt__(self, other: Number) -> bool:
        return _compare(self, other) > 0

    def __ge__(self, other: Number) -> bool:
        return _compare(self, other) >= 0

    def __pow__(self, power: int) -> P | Surd[P]:
        """Squares only."""
        if power != 2:
            raise ValueError(f"a number with a root is only squared, not taken to {power}")
        return self * self

    def __floor__(self) -> int:
        scale = Fraction(self.plain).denominator * Fraction(self.times).denominator
        plain, times = int(self.plain * scale), int(self.times * scale)
        root = isqrt(times * times * self.of)
        return (plain + (root if times > 0 else -root - 1)) // scale

    def __ceil__(self) -> int:
        return self.__floor__() + 1  # it is never whole

    def _root_with(self, other: Surd[P]) -> int:
        if other.of != self.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return self.of


Plain = int | Fraction
Number = Plain | Surd[int] | Surd[Fraction]
Grid = int | Surd[int]  # a coordinate in grid units
Exact = Fraction | Surd[Fraction]  # a length in inches
ExactPoint = tuple[Exact, Exact]
ExactOutline = tuple[ExactPoint, ...]


def make(plain: P, times: P, of: int) -> P | Surd[P]:
    """plain + times * sqrt(of), as a plain number where `times` is 0."""
    return Surd(plain, times, of) if times else plain


def size_of(value: P | Surd[P]) -> P | Surd[P]:
    """The value without its sign."""
    return -value if value < 0 else value


def to_least(x: Grid, y: Grid) -> tuple[int, int]:
    """The least whole numbers of the same direction. ValueError where there are none: what has a root lies upright,
    level or along a diagonal."""
    if isinstance(x, Surd) or isinstance(y, Surd):
        if x and y and size_of(x) != size_of(y):
            raise ValueError("a side with a root that lies neither upright, level nor along a diagonal")
        return sign_of(x), sign_of(y)
    both = gcd(x, y)
    return x // both, y // both


def approach(value: Grid) -> int | Fraction:
    """A plain number at most 2**-40 below the value."""
    return Fraction(floor(value * (1 << 40)), 1 << 40) if isinstance(value, Surd) else value


def to_length(value: Exact) -> Fraction | Root:
    """A length as the plan spells it. ValueError where a root is taken away."""
    if not isinstance(value, Surd):
        return value
    if value.times < 0:
        raise ValueError(f"{value} takes a root away")
    return Root(value.plain, value.times, value.of)


def sign_of(value: Number) -> int:
    """-1, 0 or 1."""
    if not isinstance(value, Surd):
        return (value > 0) - (value < 0)
    return _sign(value.plain, value.times, value.of)


def _compare(first: Surd[int] | Surd[Fraction], second: Number) -> int:
    """-1, 0 or 1, as the first is the less. Asked for every pair that is sorted, so no number is made for it."""
    if not isinstance(second, Surd):
        return _sign(first.plain - second, first.times, first.of)
    if first.of != second.of:
        raise ValueError(f"sqrt({first.of}) and sqrt({second.of}) do not go together")
    return _sign(first.plain - second.plain, first.times - second.times, first.of)


def _sign(plain: Plain, times: Plain, of: int) -> int:
    if times == 0:
        return (plain > 0) - (plain < 0)
    if plain == 0 or (plain > 0) == (times > 0):
        return 1 if times > 0 else -1
    # Of different signs: the larger one in size decides; they are never equal, the root being no fraction
    return 1 if (plain * plain > times * times * of) == (plain > 0) else -1
