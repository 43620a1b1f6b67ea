"""Lengths with one root, for the checkers: read from a plan's text and compared exactly.

A `Surd` is a length, with any root; `rooted` has coordinates, which are reckoned with and have a root of 2 or 3.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, isqrt
from typing import NamedTuple

from planner.checks.rooted import Number, Rooted, build

_PLAIN = r"-?(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
_LENGTH = re.compile(rf"(?P<plain>{_PLAIN})|(?:(?P<before>{_PLAIN}) \+ )?(?:(?P<times>{_PLAIN})\*)?sqrt\((?P<of>\d+)\)")


class Surd(NamedTuple):
    """plain + sqrt(square), in inches; `square` is 0 where there is no root and never the square of a fraction."""

    plain: Fraction
    square: Fraction = Fraction(0)

    def __str__(self) -> str:
        if not self.square:
            return str(self.plain)
        return f"{self.plain} + sqrt({self.square})" if self.plain else f"sqrt({self.square})"

    def plus(self, more: Fraction) -> Surd:
        return Surd(self.plain + more, self.square)


def to_surd(length: Number) -> Surd:
    """A length as a surd. ValueError where a root is taken away from it."""
    if not isinstance(length, Rooted):
        return Surd(Fraction(length))
    if length.times < 0:
        raise ValueError(f"'{length}' takes a root away")
    return root_of(Fraction(length.times * length.times * length.of)).plus(Fraction(length.plain))


def root_of(square: Fraction) -> Surd:
    """The length whose square (not negative) is given."""
    above, below = isqrt(square.numerator), isqrt(square.denominator)
    if above * above == square.numerator and below * below == square.denominator:
        return Surd(Fraction(above, below))
    return Surd(Fraction(0), square)


def read_surd(text: str) -> Surd:
    """A length of a plan file. ValueError for what is none, and for a root that is taken away."""
    plain, times, of = _read_parts(text)
    if times < 0:
        raise ValueError(f"'{text}' takes a root away")
    return root_of(times * times * of).plus(plain)


def read_rooted(text: str) -> Number:
    """A coordinate of a plan file. ValueError for what is none, and for another root than those of 2 and 3."""
    plain, times, of = _read_parts(text)
    if times and of not in (2, 3):
        raise ValueError(f"'{text}' has another root than those of 2 and 3")
    return build(plain, times, of)


def _read_parts(text: str) -> tuple[Fraction, Fraction, int]:
    """plain, times and of: plain + times * sqrt(of)."""
    found = _LENGTH.fullmatch(text)
    if found is None:
        raise ValueError(f"'{text}' is no length of a plan file")
    if found["plain"]:
        return _read_plain(found["plain"]), Fraction(0), 1
    before = _read_plain(found["before"]) if found["before"] else Fraction(0)
    times = _read_plain(found["times"]) if found["times"] else Fraction(1)
    return before, times, int(found["of"])


def _read_plain(text: str) -> Fraction:
    whole, blank, part = text.removeprefix("-").partition(" ")
    try:
        value = int(whole) + Fraction(part) if blank else Fraction(whole)
    except ZeroDivisionError:
        raise ValueError(f"'{text}' divides by zero") from None
    return -value if text.startswith("-") else value


def next_above(value: Surd, step: Fraction) -> Fraction:
    """The least multiple of `step` that is not below the value."""
    # both parts in steps: at most two off the answer
    steps = ceil(value.plain / step) + isqrt(ceil(value.square / (step * step)))
    while is_at_most(value, (steps - 1) * step):
        steps -= 1
    while not is_at_most(value, steps * step):
        steps += 1
    return steps * step


def is_at_most(value: Surd, bound: Fraction) -> bool:
    """Whether the value is the bound or less."""
    rest = bound - value.plain
    return rest >= 0 and value.square <= rest * rest


def approach(value: Surd, fine: int) -> Fraction:
    """A fraction that lies at most 1/`fine` below the value, and never above it."""
    square = value.square * fine * fine
    return value.plain + Fraction(isqrt(square.numerator // square.denominator), fine)
