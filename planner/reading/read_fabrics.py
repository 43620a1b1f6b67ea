"""The fabrics of a project file -> their records."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.measure import spell_number
from planner.project import SELVAGES, VALUE_WORDS, WEIGHTS, WIDEST_CLOTH, Fabric, Weight, find_usable
from planner.reading.collect_faults import quote
from planner.reading.file_keys import FABRIC, TRUTHS
from planner.reading.lengths import Lengths
from planner.reading.letter_fabrics import MOST_FABRICS, is_letter, letter_fabrics
from planner.reading.read_keys import (
    Entry,
    Named,
    Reading,
    at,
    read_choice,
    read_keys,
    read_measured,
    read_named,
    read_text,
)
from planner.reading.read_stock import read_shrinkage, read_stock

NARROWEST, WIDEST = Fraction(6), Fraction(130)  # inches, as sold

_VALUE = re.compile(r"[1-9]|10")
_COLOUR = re.compile(r"#?([0-9a-fA-F]{3}|[0-9a-fA-F]{6})")
_VALUE_WORDS = "light, medium, dark, or 1, the lightest, to 10"
_LETTER_WORDS = "one or two small letters or digits"
_COLOUR_WORDS = 'a colour in quotes: "#e8735a"'


class ReadFabrics(NamedTuple):
    """The fabrics that could be read, and the line of every name that is written.

    Where they are not whole, a name that is not among them may be one all the same.
    """

    fabrics: tuple[Fabric, ...]
    lines: Mapping[str, int]
    is_whole: bool


class _Written(NamedTuple):
    """A fabric before its letter is chosen."""

    name: str
    line: int
    value: str | None
    weight: Weight | None
    colour: str | None
    usable: Fraction
    directional: bool
    shrinkage: Fraction
    stock: tuple[tuple[Fraction, Fraction], ...]
    lengthwise: bool
    narrows: Fraction


def read_fabrics(reading: Reading, entry: Entry | None, lengths: Lengths) -> ReadFabrics:
    """The fabrics behind the key `fabrics`."""
    named, is_whole = read_named(reading, entry, "fabrics", "fabric")
    if len(named) > MOST_FABRICS:
        line = named[MOST_FABRICS].line
        reading.add(line, "fabrics", f"there are {len(named):,} fabrics; a project has at most {MOST_FABRICS:,}")
    letters: list[str | None] = []
    taken: dict[str, str] = {}
    written = [_read_fabric(reading, fabric, lengths, letters, taken) for fabric in named]
    lines = {fabric.name: fabric.line for fabric in named}
    if len(named) > MOST_FABRICS:
        return ReadFabrics((), lines, is_whole)
    made = letter_fabrics([fabric.name for fabric in written], letters)
    fabrics = [
        Fabric(
            one.name,
            VALUE_WORDS.get(one.value) or int(one.value),
            one.value,
            one.weight,
            one.colour,
            letter,
            one.line,
            one.usable,
            one.directional,
            one.shrinkage,
            one.stock,
            one.lengthwise,
            one.narrows,
        )
        for one, letter in zip(written, made, strict=True)
        if one.value is not None and one.weight is not None
    ]
    return ReadFabrics(tuple(fabrics), lines, is_whole and entry is not None)


def _read_fabric(
    reading: Reading, named: Named, lengths: Lengths, letters: list[str | None], taken: dict[str, str]
) -> _Written:
    """One fabric; its given letter goes to `letters`, and to `taken` with the fabric's name."""
    where = f"fabric {named.name}"
    found = read_keys(reading, named.node, FABRIC, where, named.line)
    entries = found.entries if found is not None else {}
    value = _read_value(reading, entries.get("value"), at(where, "value"))
    weight: Weight | None = "medium"
    if "weight" in entries:
        weight = read_choice(reading, entries["weight"].node, at(where, "weight"), WEIGHTS)
    colour = _read_colour(reading, entries.get("colour"), at(where, "colour"))
    letter = _read_letter(reading, entries.get("letter"), at(where, "letter"), taken)
    if letter is not None:
        taken[letter] = named.name
    letters.append(letter)
    narrows = read_shrinkage(reading, entries.get("narrows"), at(where, "narrows"), "width", Fraction(0))
    usable = _read_usable(reading, entries, where, lengths, narrows)
    directional, lengthwise = (
        key in entries and read_choice(reading, entries[key].node, at(where, key), TRUTHS) == "true"
        for key in ("directional", "lengthwise")
    )
    shrinkage = read_shrinkage(reading, entries.get("shrinkage"), at(where, "shrinkage"))
    stock = read_stock(reading, entries.get("stock"), at(where, "stock"), lengths)
    return _Written(
        named.name,
        named.line,
        value,
        weight,
        colour,
        usable,
        directional,
        shrinkage,
        stock,
        lengthwise,
        narrows,
    )


def _read_value(reading: Reading, entry: Entry | None, where: str) -> str | None:
    text = None if entry is None else read_text(reading, entry.node, where, _VALUE_WORDS)
    if entry is None or text is None:
        return None
    if text in VALUE_WORDS or _VALUE.fullmatch(text):
        return text
    near = reading.nearest.find(text, VALUE_WORDS)
    hint = f"; did you mean '{near}'?" if near else ""
    reading.add(entry.node.line, where, f"{quote(text)} is no value; write {_VALUE_WORDS}{hint}")
    return None


def _read_colour(reading: Reading, entry: Entry | None, where: str) -> str | None:
    text = None if entry is None else read_text(reading, entry.node, where, _COLOUR_WORDS)
    if entry is None or text is None:
        return None
    colour = _COLOUR.fullmatch(text)
    if colour is None or not text.startswith("#"):
        right = f'the colour in quotes: "#{colour[1].lower()}"' if colour else _COLOUR_WORDS
        reading.add(entry.node.line, where, f"{quote(text)} is no colour; write {right}")
        return None
    digits = colour[1].lower()
    return "#" + (digits if len(digits) == 6 else "".join(digit * 2 for digit in digits))


def _read_letter(reading: Reading, entry: Entry | None, where: str, taken: dict[str, str]) -> str | None:
    text = None if entry is None else read_text(reading, entry.node, where, _LETTER_WORDS)
    if entry is None or text is None:
        return None
    if not is_letter(text):
        reading.add(entry.node.line, where, f"{quote(text)} is not right here; write {_LETTER_WORDS}")
        return None
    if text in taken:
        reading.add(entry.node.line, where, f"{quote(text)} stands for {quote(taken[text])} already; take another")
        return None
    return text


def _read_usable(
    reading: Reading, entries: Mapping[str, Entry], where: str, lengths: Lengths, narrows: Fraction
) -> Fraction:
    """How much can be used of cloth that is sold in this width and loses a part of it in the wash."""
    entry, where = entries.get("width"), at(where, "width")
    if entry is None:
        return find_usable(WIDEST_CLOTH + SELVAGES, narrows)
    width = read_measured(reading, entry.node, where, "the width of the cloth, like 42 in or 110 cm", lengths.read)
    if width is None or lengths.measure is None:
        return WIDEST_CLOTH
    if not NARROWEST <= width <= WIDEST:
        words = f"cloth is {lengths.spell(NARROWEST)} to {lengths.spell(WIDEST)} wide, not {lengths.spell(width)}"
        reading.add(entry.node.line, where, words)
    elif lengths.seam is not None and find_usable(width, narrows) <= 2 * lengths.seam:
        words = f"of cloth {lengths.spell(width)} wide no strip remains: two selvages and two seam allowances come off"
        if narrows:
            words += f", and {spell_number(narrows * 100)} % in the wash"
        least = ceil((SELVAGES + 2 * lengths.seam) / (1 - narrows) * 16) / Fraction(16)
        reading.add(entry.node.line, where, f"{words}; at least over {lengths.spell(least)}")
    return find_usable(width, narrows)
