"""Lengths: the only door between text and numbers.

A length is a `Fraction` of an inch from the moment it is read until it is spelled. No float passes this door in
either direction.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, floor, gcd, isqrt
from typing import Literal, NamedTuple

Measure = Literal["in", "cm"]

INCHES_PER_CM = Fraction(50, 127)  # exact: an inch is 2.54 cm by definition
_ENDINGS = {"in": Fraction(1), '"': Fraction(1), "cm": INCHES_PER_CM, "mm": INCHES_PER_CM / 10}
_PLAIN = r"\d{1,9}(?:\.\d{1,9})?|\.\d{1,9}"
_WHOLE = r"(?P<whole>\d{1,9})(?:\s+|\s*-\s*)"
_PART = r"(?P<over>\d{1,9})\s*/\s*(?P<under>\d{1,9})"
_NUMBER = re.compile(rf"(?:{_WHOLE})?{_PART}|(?P<plain>{_PLAIN})")
_LENGTH = re.compile(r"(?P<number>.*?)\s*(?P<ending>in|\"|cm|mm)?")

HOW_TO_WRITE = "write it like 12, 6.5, 6 1/2, 6-1/2 or 1/4"


def read_number(text: str) -> Fraction:
    """A number as a maker writes it, exactly.

    ValueError, with words for the maker, for anything else: a float in disguise (`1e3`), a minus sign, `1/0`,
    more than nine digits in a row.
    """
    found = _NUMBER.fullmatch(text.strip()) if text.isascii() else None
    if found is None:
        raise ValueError(f"{_quote(text)} is no number; {HOW_TO_WRITE}")
    if found["plain"] is not None:
        return Fraction(found["plain"])
    if int(found["under"]) == 0:
        raise ValueError(f"{_quote(text)} divides by zero")
    return int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))


def read_length(text: str, measure: Measure) -> Fraction:
    """A length in inches; a bare number is in `measure`. ValueError as `read_number`."""
    found = _LENGTH.fullmatch(text.strip())
    if found is None:  # a line break inside
        raise ValueError(f"{_quote(text)} is no length; {HOW_TO_WRITE}")
    try:
        return read_number(found["number"]) * _ENDINGS[found["ending"] or measure]
    except ValueError:
        if any(letter.isalpha() for letter in found["number"]):
            how = f'{HOW_TO_WRITE}, and in, ", cm or mm after it if need be'
            raise ValueError(f"{_quote(text)} is no length; {how}") from None
        raise


def spell_number(value: Fraction | int) -> str:
    """The exact value: `6 1/2`, `-6 1/2`, `12`; any denominator."""
    whole, rest = divmod(abs(value.numerator), value.denominator)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}/{value.denominator}" if whole else f"{sign}{rest}/{value.denominator}"


class Root(NamedTuple):
    """plain + times * sqrt(of), in inches; `of` has no square in it (where it is below 1,000), `times` is above 0."""

    plain: Fraction
    times: Fraction
    of: int

    def up_to(self, step: Fraction) -> Fraction:
        """The least multiple of `step` that is not below the value."""
        # times * sqrt(of) = sqrt(times^2 * of); count steps of it by an integer root, then correct for the plain part
        square = self.times * self.times * self.of
        low = Fraction(isqrt(floor(square * _FINE * _FINE)), _FINE)  # within 1/_FINE below the root
        guess = ceil((self.plain + low) / step)
        while guess * step < self.plain or (guess * step - self.plain) ** 2 < square:
            guess += 1
        return guess * step


_FINE = 1 << 64
_SMALL_ROOTS = 1_000


def square_root(square: Fraction) -> Fraction | Root:
    """The length whose square is given: exact, as a plain fraction where it has one."""
    under = square.denominator
    rest = square.numerator * under  # sqrt(n/d) = sqrt(n*d)/d
    for of in range(1, _SMALL_ROOTS):
        times = isqrt(rest // of)
        if times * times * of == rest:
            return Fraction(times, under) if of == 1 else Root(Fraction(0), Fraction(times, under), of)
    return Root(Fraction(0), Fraction(1, under), rest)


def spell_exact(value: Fraction | Root) -> str:
    """For the plan file: `6 1/2`, or with a root `3/2*sqrt(2)` and `13/2 + 3/4*sqrt(2)`."""
    if not isinstance(value, Root):
        return spell_number(value)
    root = f"sqrt({value.of})" if value.times == 1 else f"{value.times}*sqrt({value.of})"
    return f"{value.plain} + {root}" if value.plain else root


class Shown(NamedTuple):
    """A size as a ruler shows it, and whether it is shown exactly."""

    words: str
    exact: bool


class Ruler(NamedTuple):
    """How sizes are shown: inches in sixteenths, centimetres in millimetres."""

    measure: Measure

    @property
    def step(self) -> Fraction:
        """The finest line that is shown, in inches."""
        return Fraction(1, 16) if self.measure == "in" else INCHES_PER_CM / 10

    @property
    def mark(self) -> Fraction:
        """The finest line that a maker cuts by: what is no multiple of it is off the ruler."""
        return Fraction(1, 8) if self.measure == "in" else INCHES_PER_CM / 10

    def is_on(self, size: Fraction | Root) -> bool:
        """Whether a ruler shows this size: a multiple of 1/8 in, or of 1 mm."""
        return not isinstance(size, Root) and (size / self.mark).denominator == 1

    def to_cut(self, size: Fraction | Root) -> Shown:
        """A size to cut: what lies between the lines is rounded up, so that nothing is short."""
        up = size.up_to(self.step) if isinstance(size, Root) else ceil(size / self.step) * self.step
        return self._show(up, size)

    def to_measure(self, size: Fraction | Root) -> Shown:
        """A size to measure: rounded to the nearest line."""
        if isinstance(size, Root):
            half = self.step / 2
            near = Root(size.plain - half, size.times, size.of).up_to(self.step)
        else:
            near = floor(size / self.step + Fraction(1, 2)) * self.step
        return self._show(near, size)

    def _show(self, shown: Fraction, exact: Fraction | Root) -> Shown:
        is_exact = not isinstance(exact, Root) and shown == exact
        text = spell_number(shown) if self.measure == "in" else _spell_tenths(shown / INCHES_PER_CM)
        return Shown(text if is_exact else f"about {text}", is_exact)

    def exact(self, size: Fraction) -> str:
        """A size to the last digit, with its ending: `1/4`, `0.75 cm`; as a fraction where decimals never end."""
        if self.measure == "in":
            return spell_number(size)
        value = size / INCHES_PER_CM
        digits = max(_count_factors(value.denominator, prime) for prime in (2, 5))
        if 10**digits % value.denominator:
            return f"{spell_number(value)} cm"
        whole, rest = divmod(value.numerator * 10**digits // value.denominator, 10**digits)
        return f"{whole}.{rest:0{digits}} cm" if digits else f"{whole} cm"

    def sides(self, first: Shown, second: Shown) -> str:
        """Two sides for the eye: `3 1/2 x 6 1/2`, `8.9 x 16.5 cm`."""
        return f"{first.words} x {second.words}{self.ending}"

    @property
    def ending(self) -> str:
        """What follows a size: nothing in inches (every number on the sheet is one), ` cm` in centimetres."""
        return "" if self.measure == "in" else " cm"


def _count_factors(number: int, prime: int) -> int:
    """How often a prime divides a number above 0."""
    found = 0
    while number % prime == 0:
        number //= prime
        found += 1
    return found


def common_step(values: list[Fraction]) -> Fraction:
    """The greatest length of which every given one (none 0, at least one) is a multiple."""
    over, under = 0, 1
    for value in values:
        under = under * value.denominator // gcd(under, value.denominator)
    for value in values:
        over = gcd(over, value.numerator * (under // value.denominator))
    return Fraction(over, under)


def _spell_tenths(value: Fraction) -> str:
    tenths = value * 10
    whole, rest = divmod(tenths.numerator // tenths.denominator, 10)
    return f"{whole}.{rest}" if rest else f"{whole}"


def _quote(text: str) -> str:
    shown = text if len(text) <= 40 else text[:37] + "..."
    return f"'{shown}'"
