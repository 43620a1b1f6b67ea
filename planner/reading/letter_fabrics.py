"""A letter for each fabric, told apart where colour does not show."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from itertools import product
from string import ascii_lowercase, digits

MOST_FABRICS = 1_000  # there are 1,332 different letters of one or two signs
_LETTER = re.compile(r"[a-z0-9]{1,2}")


def is_letter(text: str) -> bool:
    """Whether a maker may give this to a fabric: one or two small letters or digits."""
    return _LETTER.fullmatch(text) is not None


def letter_fabrics(names: Sequence[str], given: Sequence[str | None]) -> tuple[str, ...]:
    """A letter for each name, no two the same: the given ones, else made from the names, the first choosing first.

    At most `MOST_FABRICS` names.
    """
    taken = {letter for letter in given if letter is not None}
    letters = []
    for name, letter in zip(names, given, strict=True):
        if letter is None:
            letter = next(choice for choice in _choices(name) if choice not in taken)
            taken.add(letter)
        letters.append(letter)
    return tuple(letters)


def _choices(name: str) -> Iterator[str]:
    """First letter, then two letters of the name, then a letter and a digit, then anything."""
    # accents come off; of other scripts nothing is left
    plain = unicodedata.normalize("NFKD", name.lower())
    signs = [sign for sign in plain if sign in ascii_lowercase or sign in digits]
    yield from signs[:1]
    for at, first in enumerate(signs):
        yield from (first + second for second in signs[at + 1 :])
    yield from (sign + digit for sign, digit in product(signs, digits[1:]))
    yield from ascii_lowercase
    yield from (first + second for first, second in product(ascii_lowercase, ascii_lowercase + digits))
    yield from (first + second for first, second in product(digits, ascii_lowercase + digits))
    yield from digits
