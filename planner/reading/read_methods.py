"""The key `methods` -> by which methods units are cut and sewn."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.project import (
    ANY_METHOD,
    GOOSE_METHODS,
    HOURGLASS_METHODS,
    ROW_METHODS,
    TRIANGLE_METHODS,
    Asked,
    Methods,
    UnitMethod,
)
from planner.reading.collect_faults import quote
from planner.reading.file_keys import METHODS, UNIT_METHOD
from planner.reading.known import Known
from planner.reading.lengths import Lengths
from planner.reading.name_block import read_block_name
from planner.reading.names import tidy_name
from planner.reading.read_keys import (
    Entry,
    Found,
    Reading,
    at,
    read_choice,
    read_keys,
    read_list,
    read_measured,
    read_text,
    read_two,
)
from planner.reading.read_yaml import Node

MOST_OVERSIZE = Fraction(1)  # inches


_ENTRIES = "entries like - {unit: navy-shell triangle square, method: two at a time}"


def read_methods(reading: Reading, entry: Entry | None, known: Known, made: frozenset[str] | None) -> Methods:
    """The methods that the maker fixed; all else is sewn one by one. `made` are the blocks that are made, None where
    that is not known."""
    usual = Methods()
    found = None if entry is None else read_keys(reading, entry.node, METHODS, "methods", entry.line)
    if found is None:
        return usual
    return Methods(
        _read_method(reading, found, "triangles", TRIANGLE_METHODS) or usual.triangles,
        _read_method(reading, found, "hourglasses", HOURGLASS_METHODS) or usual.hourglasses,
        _read_method(reading, found, "geese", GOOSE_METHODS) or usual.geese,
        _read_method(reading, found, "rows", ROW_METHODS) or usual.rows,
        _read_oversize(reading, found, known.lengths) or usual.oversize,
        _read_units(reading, found, known, made),
    )


def _read_units(reading: Reading, found: Found, known: Known, made: frozenset[str] | None) -> tuple[UnitMethod, ...]:
    entry, where = found.get("units"), at("methods", "units")
    nodes = [] if entry is None else read_list(reading, entry.node, where, entry.line, _ENTRIES) or []
    read = [_read_unit(reading, node, at(where, f"entry {place}"), known, made) for place, node in enumerate(nodes, 1)]
    return tuple(one for one in read if one is not None)


def _read_unit(
    reading: Reading, node: Node, where: str, known: Known, made: frozenset[str] | None
) -> UnitMethod | None:
    """Whether there is such a unit is found out later, when it is known what is sewn."""
    found = read_keys(reading, node, UNIT_METHOD, where, node.line)
    if found is None:
        return None
    block = read_block_name(reading, found.get("block"), known, at(where, "block"))
    if block is not None and made is not None and block not in made:
        words = f"{quote(block)} is not made, so none of its units is sewn; make it, or take this out"
        reading.add(found.entries["block"].node.line, at(where, "block"), words)
    entry, unit, size = found.get("unit"), None, None
    if entry is not None:
        unit = read_text(reading, entry.node, at(where, "unit"), "what the sheet calls the unit")
    entry = found.get("size")
    if entry is not None:
        wanted = "the finished size of the unit: 3, or 6 x 3"
        size = read_two(reading, entry.node, at(where, "size"), wanted, known.lengths.read_rooted)
    entry = found.get("method")
    method = None if entry is None else read_choice(reading, entry.node, at(where, "method"), ANY_METHOD)
    if method is None or (unit is None and block is None):
        return None
    short, long = sorted(size) if size is not None else (None, None)
    sides = None if short is None or long is None else (short, long)
    return UnitMethod(tidy_name(unit) if unit is not None else None, block, sides, method, node.line)


def _read_method(reading: Reading, found: Found, key: str, choices: Sequence[Asked]) -> Asked | None:
    entry = found.get(key)
    return None if entry is None else read_choice(reading, entry.node, at("methods", key), choices)


def _read_oversize(reading: Reading, found: Found, lengths: Lengths) -> Fraction | None:
    entry = found.get("oversize")
    if entry is None:
        return None
    where = at("methods", "oversize")
    wanted = "what is added to a square, like 1/8 in or 3 mm"
    size = read_measured(reading, entry.node, where, wanted, lengths.read)
    if size is not None and lengths.measure is not None and size > MOST_OVERSIZE:
        words = f"{lengths.spell(size)} more is too much to trim; at most {lengths.spell(MOST_OVERSIZE)}"
        reading.add(entry.node.line, where, words)
    return size
