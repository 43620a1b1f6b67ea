"""SVG as text: elements, and lengths as decimals. Lengths are whole numbers of billionths of the page's unit."""

from __future__ import annotations

from collections.abc import Iterable
from math import isqrt

ONE = 10**9  # billionths
Attributes = dict[str, str | int]
Spot = tuple[int, int]  # x right, y down, in billionths of the page's unit
HALF_ROOT = isqrt(ONE * ONE // 2)  # the sine of half a right angle

_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_VALUE = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})


def spell_decimal(value: int) -> str:
    """`1500000000` as `1.5`: exact, no needless digit."""
    sign = "-" if value < 0 else ""
    whole, rest = divmod(abs(value), ONE)
    return f"{sign}{whole}.{rest:09}".rstrip("0") if rest else f"{sign}{whole}"


def spell_spot(spot: Spot) -> str:
    return f"{spell_decimal(spot[0])},{spell_decimal(spot[1])}"


def spell_points(spots: Iterable[Spot]) -> str:
    """For the `points` of a polygon."""
    return " ".join(map(spell_spot, spots))


def write_text(words: str) -> str:
    """Words as the content of an element."""
    return words.translate(_TEXT)


def write_element(name: str, attributes: Attributes, *content: str) -> str:
    """One element; a whole number among its attributes is a length."""
    told = "".join(
        f' {key}="{spell_decimal(value) if isinstance(value, int) else value.translate(_VALUE)}"'
        for key, value in attributes.items()
    )
    if not content:
        return f"<{name}{told}/>"
    return f"<{name}{told}>{''.join(content)}</{name}>"


def write_group(attributes: Attributes, lines: Iterable[str]) -> str:
    """A group, an element a line; empty text where there is nothing in it."""
    inside = "\n".join(line for line in lines if line)
    return write_element("g", attributes, f"\n{inside}\n") if inside else ""


def share(length: int, hundredths: int) -> int:
    """So many hundredths of a length."""
    return length * hundredths // 100
