"""Lengths with one root, for the checkers: read from a plan's text and compared exactly.

A `Surd` is a length, with any root; `rooted` has coordinates, which are reckoned with and have a root of 2 or 3.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import ceil, isqrt
from typing import NamedTuple

from planner.checks.rooted import Number, Rooted, approach_number, build, divide

_PLAIN = r"-?(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
_LENGTH = re.compile(
    rf"(?P<plain>{_PLAIN})"
    rf"|(?:(?P<before>{_PLAIN}) (?P<sign>[+-]) |(?P<minus>-))?(?:(?P<times>{_PLAIN})\*)?sqrt\((?P<of>.+)\)"
)
_WHOLE = re.compile(r"\d+")


class Surd(NamedTuple):
    """plain + sqrt(square), in inches, or plain - sqrt(square) where `is_less`; `square` is 0 where there is no root,
    and never the square of a number with the same root."""

    plain: Fraction
    square: Fraction | Rooted = Fraction(0)
    is_less: bool = False

    def __str__(self) -> str:
        if not self.square:
            return str(self.plain)
        if not self.plain:
            return f"{'-' if self.is_less else ''}sqrt({self.square})"
        return f"{self.plain} {'-' if self.is_less else '+'} sqrt({self.square})"

    def plus(self, more: Fraction) -> Surd:
        return self._replace(plain=self.plain + more)

    def halve(self) -> Surd:
        square = divide(self.square, 4)
        return Surd(self.plain / 2, square if isinstance(square, Rooted) else Fraction(square), self.is_less)


def to_surd(length: Number) -> Surd:
    """A length as a surd."""
    if not isinstance(length, Rooted):
        return Surd(Fraction(length))
    return Surd(Fraction(length.plain), Fraction(length.times * length.times * length.of), length.times < 0)


def root_of(square: Number) -> Surd:
    """The length whose square (not negative) is given."""
    if isinstance(square, Rooted):
        return _root_of_rooted(square)
    root = _plain_root(Fraction(square))
    return Surd(Fraction(0), Fraction(square)) if root is None else Surd(root)


def _plain_root(square: Fraction) -> Fraction | None:
    above, below = isqrt(square.numerator), isqrt(square.denominator)
    is_square = above * above == square.numerator and below * below == square.denominator
    return Fraction(above, below) if is_square else None


def _root_of_rooted(square: Rooted) -> Surd:
    """As a number with the same root, where it is one: the product of square and its other value is then a square."""
    whole = Surd(Fraction(0), square)
    product = Fraction(square.plain) ** 2 - Fraction(square.times) ** 2 * square.of
    rest = _plain_root(product) if product >= 0 else None
    if rest is None:
        return whole
    for plain_square in ((square.plain + rest) / 2, (square.plain - rest) / 2):
        plain = _plain_root(plain_square) if plain_square > 0 else None
        if plain is not None:
            found = Rooted(plain, Fraction(square.times) / (2 * plain), square.of)
            return to_surd(found if found > 0 else -found)
    return whole


def read_surd(text: str) -> Surd:
    """A length of a plan file: `6 1/2`, `13/2 + 3/4*sqrt(2)`, `4 - sqrt(2)`, `sqrt(4 + 2*sqrt(2))`. ValueError for what
    is none."""
    plain, times, of = _read_parts(text)
    root = root_of(times * times * of)
    if times < 0:
        return Surd(plain - root.plain, root.square, bool(root.square) and not root.is_less)
    return root.plus(plain)


def read_rooted(text: str) -> Number:
    """A coordinate of a plan file. ValueError for what is none, and for another root than those of 2 and 3."""
    plain, times, of = _read_parts(text)
    if times and of not in (2, 3):
        raise ValueError(f"'{text}' has another root than those of 2 and 3")
    return build(plain, times, of) if isinstance(of, int) else plain


def _read_parts(text: str) -> tuple[Fraction, Fraction, int | Rooted]:
    """plain, times and of: plain + times * sqrt(of)."""
    found = _LENGTH.fullmatch(text)
    if found is None:
        raise ValueError(f"'{text}' is no length of a plan file")
    if found["plain"]:
        return _read_plain(found["plain"]), Fraction(0), 1
    before = _read_plain(found["before"]) if found["before"] else Fraction(0)
    times = _read_plain(found["times"]) if found["times"] else Fraction(1)
    if found["sign"] == "-" or found["minus"]:
        times = -times
    if _WHOLE.fullmatch(found["of"]):
        return before, times, int(found["of"])
    inner = read_rooted(found["of"])
    if not isinstance(inner, Rooted) or inner < 0:
        raise ValueError(f"'{text}' is no length of a plan file")
    return before, times, inner


def _read_plain(text: str) -> Fraction:
    whole, blank, part = text.removeprefix("-").partition(" ")
    try:
        value = int(whole) + Fraction(part) if blank else Fraction(whole)
    except ZeroDivisionError:
        raise ValueError(f"'{text}' divides by zero") from None
    return -value if text.startswith("-") else value


def next_above(value: Surd, step: Fraction) -> Fraction:
    """The least multiple of `step` that is not below the value."""
    # both parts in steps: hardly off the answer
    root = isqrt(ceil(approach_number(divide(value.square, step * step), 1)))
    steps = ceil(value.plain / step) + (-root if value.is_less else root)
    while is_at_most(value, (steps - 1) * step):
        steps -= 1
    while not is_at_most(value, steps * step):
        steps += 1
    return steps * step


def is_at_most(value: Surd, bound: Fraction) -> bool:
    """Whether the value is the bound or less."""
    rest = bound - value.plain
    if value.is_less:
        return rest >= 0 or value.square >= rest * rest
    return rest >= 0 and value.square <= rest * rest


def approach(value: Surd, fine: int) -> Fraction:
    """A fraction that lies at most 1/`fine` below the value, and never above it."""
    if not value.square:
        return value.plain
    return next_above(value, Fraction(1, fine)) - Fraction(1, fine)
