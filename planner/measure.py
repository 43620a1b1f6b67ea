"""Lengths: the only door between text and numbers.

A length is a `Fraction` of an inch from the moment it is read until it is spelled, or such with a square root in it
(`Root`; what reckons with those is `surd`). No float passes this door in either direction.
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
_MANY_DIGITS = re.compile(r"[0-9]{10}")
_HAS_ROOT = re.compile(r"r\s*\d")
_ROOTED = re.compile(r"(?:(?P<plain>[^r]*)(?P<sign>[+-]))?(?P<times>[^r+-]*)r(?P<of>\d{1,9})(?P<after>[^r]*)")
_AFTER = re.compile(r"\s*(?P<sign>[+-])\s*(?P<number>[^+-]+)")
ROOTS = {2: "1.414", 3: "1.732"}

HOW_TO_WRITE = "write it like 12, 6.5, 6 1/2, 6-1/2 or 1/4"
HOW_TO_WRITE_ROOTS = "write it like r2, 4+2r2, 2-1/2r3 or 3/2r2"


def read_number(text: str) -> Fraction:
    """A number as a maker writes it, exactly.

    ValueError, with words for the maker, for anything else: a float in disguise (`1e3`), a minus sign, `1/0`,
    more than nine digits in a row, a root.
    """
    found = _NUMBER.fullmatch(text.strip()) if text.isascii() else None
    if found is None:
        if _HAS_ROOT.search(text):
            raise ValueError(f"{_quote(text)} has a root, and here can be none; {HOW_TO_WRITE}")
        long = "; at most nine digits in a row are read" if _MANY_DIGITS.search(text) else ""
        raise ValueError(f"{_quote(text)} is no number; {HOW_TO_WRITE}{long}")
    if found["plain"] is not None:
        return Fraction(found["plain"])
    if int(found["under"]) == 0:
        raise ValueError(f"{_quote(text)} divides by zero")
    return int(found["whole"] or 0) + Fraction(int(found["over"]), int(found["under"]))


def read_rooted(text: str) -> Fraction | Root:
    """A number as a maker writes it, which may have a root in it: `r2`, `4+2r2`, `2-1/2r3`, `r3-1`; never below 0.

    A sign before the term with the root always adds it or takes it away: 2-1/2r3 is 2 less half a root of 3.
    ValueError as `read_number`; for another root than those of 2 and 3; for what is below 0.
    """
    if not _HAS_ROOT.search(text):
        return read_number(text)
    found = _ROOTED.fullmatch(text.strip()) if text.isascii() else None
    after = _AFTER.fullmatch(found["after"]) if found is not None and found["after"] else None
    if found is None or (found["after"] and (after is None or found["sign"])):
        raise ValueError(f"{_quote(text)} is no number with one root in it; {HOW_TO_WRITE_ROOTS}")
    of = int(found["of"])
    if of not in ROOTS:
        raise ValueError(f"{_quote(text)}: there is no r{of}; r2 is the root of 2, r3 that of 3")
    try:
        plain = read_number(found["plain"]) if found["sign"] else Fraction(0)
        times = read_number(found["times"]) if found["times"].strip() else Fraction(1)
        more = read_number(after["number"]) if after is not None else Fraction(0)
    except ValueError as wrong:
        if "zero" in str(wrong):
            raise
        raise ValueError(f"{_quote(text)} is no number with one root in it; {HOW_TO_WRITE_ROOTS}") from None
    plain += -more if after is not None and after["sign"] == "-" else more
    if found["sign"] == "-":
        times = -times
    if not times:
        return plain
    value = Root(plain, times, of)
    if value.is_below(Fraction(0)):
        raise ValueError(f"{_quote(text)} is below 0: r{of} is about {ROOTS[of]}")
    return value


def read_length(text: str, measure: Measure) -> Fraction:
    """A length in inches; a bare number is in `measure`. ValueError as `read_number`."""
    number, inches = _split_length(text, measure)
    try:
        return read_number(number) * inches
    except ValueError as wrong:
        raise _explain(text, number, wrong) from None


def read_rooted_length(text: str, measure: Measure) -> Fraction | Root:
    """A length in inches, which may have a root in it: `4+2r2 in`. ValueError as `read_rooted`."""
    number, inches = _split_length(text, measure)
    try:
        value = read_rooted(number)
    except ValueError as wrong:
        raise _explain(text, number, wrong) from None
    return Root(value.plain * inches, value.times * inches, value.of) if isinstance(value, Root) else value * inches


def _split_length(text: str, measure: Measure) -> tuple[str, Fraction]:
    """The number of a length, and how many inches its ending stands for."""
    found = _LENGTH.fullmatch(text.strip())
    if found is None:  # a line break inside
        raise ValueError(f"{_quote(text)} is no length; {HOW_TO_WRITE}")
    return found["number"], _ENDINGS[found["ending"] or measure]


def _explain(text: str, number: str, wrong: ValueError) -> ValueError:
    """What is wrong with a length whose number could not be read."""
    if any(letter.isalpha() for letter in number) and not _HAS_ROOT.search(number):
        how = f'{HOW_TO_WRITE}, and in, ", cm or mm after it if need be'
        return ValueError(f"{_quote(text)} is no length; {how}")
    return wrong


def spell_number(value: Fraction | int) -> str:
    """The exact value: `6 1/2`, `-6 1/2`, `12`; any denominator."""
    whole, rest = divmod(abs(value.numerator), value.denominator)
    sign = "-" if value < 0 else ""
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}/{value.denominator}" if whole else f"{sign}{rest}/{value.denominator}"


class Root(NamedTuple):
    """plain + times * sqrt(of), in inches, never a plain number: `times` is not 0, and `of` has no square in it (in a
    whole one below 1,000). The root of a number with a root has that as its `of`."""

    plain: Fraction
    times: Fraction
    of: int | Root

    def is_below(self, bound: Fraction) -> bool:
        rest = bound - self.plain
        if (rest > 0) != (self.times > 0):
            return rest > 0
        # Both of one sign: the squares tell, of what is below 0 the other way round
        square = rest * rest / (self.times * self.times)
        is_less = self.of.is_below(square) if isinstance(self.of, Root) else self.of < square
        return is_less == (rest > 0)

    def up_to(self, step: Fraction) -> Fraction:
        """The least multiple of `step` that is not below the value."""
        guess = ceil(self.approach() / step) - 1
        while not self.is_below(guess * step):
            guess += 1
        return guess * step

    def approach(self) -> Fraction:
        """A fraction very near the value."""
        inner = self.of.approach() if isinstance(self.of, Root) else Fraction(self.of)
        # `times` goes under the root, so that a large one does not make a small error large
        root = Fraction(isqrt(floor(inner * self.times * self.times * _FINE * _FINE)), _FINE)
        return self.plain + (root if self.times > 0 else -root)


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
    """For the plan file: `6 1/2`, or with a root `3/2*sqrt(2)`, `13/2 + 3/4*sqrt(2)` and `4 - sqrt(2)`; the root of a
    number with a root is `sqrt(4 + 2*sqrt(2))`."""
    if not isinstance(value, Root):
        return spell_number(value)
    of = spell_exact(value.of) if isinstance(value.of, Root) else str(value.of)
    times = abs(value.times)
    root = f"sqrt({of})" if times == 1 else f"{times}*sqrt({of})"
    if not value.plain:
        return root if value.times > 0 else f"-{root}"
    return f"{value.plain} {'+' if value.times > 0 else '-'} {root}"


def spell_rooted(value: Fraction | Root) -> str:
    """As a project file has it, without blanks: `6-1/2`, `4+2r2`, `3/2-1/2r3`, `r2-1`."""
    if not isinstance(value, Root):
        return spell_number(value).replace(" ", "-")
    times = abs(value.times)
    root = f"r{value.of}" if times == 1 else f"{times}r{value.of}"
    if value.plain <= 0 < value.times:
        return f"{root}{value.plain}" if value.plain else root
    return f"{value.plain if value.plain else ''}{'+' if value.times > 0 else '-'}{root}"


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

    def to_cut(self, size: Fraction | Root, is_rounded: bool = False) -> Shown:
        """A size to cut: what lies between the lines is rounded up, so that nothing is short. `is_rounded` where that
        was done before, so that the size lies on a line and is not exact."""
        up = size.up_to(self.step) if isinstance(size, Root) else ceil(size / self.step) * self.step
        return self._show(up, size, is_rounded)

    def to_measure(self, size: Fraction | Root, is_rounded: bool = False) -> Shown:
        """A size to measure: rounded to the nearest line. `is_rounded` as of a size to cut."""
        if isinstance(size, Root):
            near = size._replace(plain=size.plain - self.step / 2).up_to(self.step)
        else:
            near = floor(size / self.step + Fraction(1, 2)) * self.step
        return self._show(near, size, is_rounded)

    def _show(self, shown: Fraction, exact: Fraction | Root, is_rounded: bool) -> Shown:
        is_exact = not isinstance(exact, Root) and shown == exact and not is_rounded
        text = spell_number(shown) if self.measure == "in" else _spell_tenths(shown / INCHES_PER_CM)
        return Shown(text if is_exact else f"about {text}", is_exact)

    def exact(self, size: Fraction | Root) -> str:
        """A size to the last digit, with its ending: `1/4`, `0.75 cm`; as a fraction where decimals never end; with a
        root to the nearest line, marked so."""
        if isinstance(size, Root):
            return f"{self.to_measure(size).words}{self.ending}"
        if self.measure == "in":
            return spell_number(size)
        value = size / INCHES_PER_CM
        digits = max(_count_factors(value.denominator, prime) for prime in (2, 5))
        if 10**digits % value.denominator:
            return f"{spell_number(value)} cm"
        whole, rest = divmod(value.numerator * 10**digits // value.denominator, 10**digits)
        return f"{whole}.{rest:0{digits}} cm" if digits else f"{whole} cm"

    def as_written(self, size: Fraction | Root) -> str:
        """A size to the last digit as a project file has it: `6 1/2`, `3.5 cm`, `3/2+r2`, `3/2+r2 cm`."""
        if not isinstance(size, Root):
            return self.exact(size)
        unit = Fraction(1) if self.measure == "in" else INCHES_PER_CM
        return f"{spell_rooted(size._replace(plain=size.plain / unit, times=size.times / unit))}{self.ending}"

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
