"""Numbers with one square root in them: plain + times * sqrt(of), exact.

Diamonds, octagons and what stands on point have a root of 2, hexagons and equilateral triangles one of 3. Where the
root falls away the answer is a plain number again, so what has no root in it never meets this class.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor, gcd, isqrt, lcm
from typing import Generic, TypeVar

from planner.measure import Root, square_root

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
        """Never another for the same number: units are named by it, also in what is kept of the maker's progress."""
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

    def __truediv__(self, other: Number) -> Fraction | Surd[Fraction]:
        if not isinstance(other, Surd):
            return Surd(Fraction(self.plain) / other, Fraction(self.times) / other, self.of)
        # Both by the divisor with its root taken away, which makes that plain
        norm = other.plain * other.plain - other.times * other.times * self._root_with(other)
        plain = self.plain * other.plain - self.times * other.times * self.of
        times = self.times * other.plain - self.plain * other.times
        return make(Fraction(plain) / norm, Fraction(times) / norm, self.of)

    def __rtruediv__(self, other: Plain) -> Surd[Fraction]:
        norm = Fraction(self.plain * self.plain - self.times * self.times * self.of)
        return Surd(other * self.plain / norm, -other * self.times / norm, self.of)

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

    def _root_with(self, other: Surd[int] | Surd[Fraction]) -> int:
        if other.of != self.of:
            raise ValueError(f"sqrt({self.of}) and sqrt({other.of}) do not go together")
        return self.of


DIAGONAL = Surd(Fraction(0), Fraction(1), 2)  # of a square whose side is 1

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


def divide(value: Number, by: Number) -> Exact:
    """The exact quotient."""
    if isinstance(by, Surd):
        return value / by
    return value / by if isinstance(value, Surd) else Fraction(value) / by


def denominator_of(value: Exact) -> int:
    """The least whole number by which a number becomes whole, or has whole parts."""
    if isinstance(value, Surd):
        return lcm(value.plain.denominator, value.times.denominator)
    return value.denominator


def to_grid(value: Exact, scale: int) -> Grid:
    """A number in steps of which so many are 1; `scale` is a multiple of its denominator."""
    if isinstance(value, Surd):
        return Surd(int(value.plain * scale), int(value.times * scale), value.of)
    return value.numerator * (scale // value.denominator)


def to_least(x: Grid, y: Grid) -> tuple[Grid, Grid]:
    """One step for all ways of the same direction: in the least whole numbers where there are such; else the least in
    which x (of what lies neither upright nor level) has no root."""
    if not isinstance(x, Surd) and not isinstance(y, Surd):
        both = gcd(x, y)
        return x // both, y // both
    if not x or not y:
        return sign_of(x), sign_of(y)
    rise = divide(y, x)
    sign = sign_of(x)
    if not isinstance(rise, Surd):
        return sign * rise.denominator, sign * rise.numerator
    under = lcm(rise.plain.denominator, rise.times.denominator)
    return sign * under, Surd(sign * int(rise.plain * under), sign * int(rise.times * under), rise.of)


def approach(value: Number) -> Plain:
    """A plain number at most 2**-40 below the value."""
    return Fraction(floor(value * (1 << 40)), 1 << 40) if isinstance(value, Surd) else value


def from_length(value: Fraction | Root) -> Exact:
    """A length for reckoning. ValueError where its root holds another root."""
    if not isinstance(value, Root):
        return value
    if isinstance(value.of, Root):
        raise ValueError("a root of a root is not reckoned with")
    return Surd(value.plain, value.times, value.of)


def to_length(value: Exact) -> Fraction | Root:
    """A length as the plan spells it."""
    return Root(value.plain, value.times, value.of) if isinstance(value, Surd) else value


def root_of(square: Exact) -> Fraction | Root:
    """The length whose square is given: exact, as a number with the same root where it is one, else as a root of it."""
    if not isinstance(square, Surd):
        return square_root(square)
    # (a + b sqrt(of))^2 has the plain part a^2 + b^2 of and the norm (a^2 - b^2 of)^2: so a^2 is half the plain part
    # and that root of the norm together, or one less the other
    norm = square.plain * square.plain - square.times * square.times * square.of
    rest = square_root(norm) if norm >= 0 else None
    if isinstance(rest, Fraction):
        for half in ((square.plain + rest) / 2, (square.plain - rest) / 2):
            plain = square_root(half) if half > 0 else None
            if isinstance(plain, Fraction):
                found = Surd(plain, square.times / (2 * plain), square.of)
                return to_length(found if found > 0 else -found)
    return Root(Fraction(0), Fraction(1), Root(square.plain, square.times, square.of))


class TooCoarse(Exception):
    """Half of an odd number of grid units: the grid must be finer."""


def halve(value: Grid) -> Grid:
    """Half of it. `TooCoarse` where that is not on the grid."""
    if isinstance(value, Surd):
        if value.plain % 2 or value.times % 2:
            raise TooCoarse
        return Surd(value.plain // 2, value.times // 2, value.of)
    if value % 2:
        raise TooCoarse
    return value // 2


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
