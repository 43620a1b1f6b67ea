"""The key `methods` -> by which methods units are cut and sewn."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.project import GOOSE_METHODS, HOURGLASS_METHODS, ROW_METHODS, TRIANGLE_METHODS, Asked, Methods
from planner.reading.file_keys import METHODS
from planner.reading.lengths import Lengths
from planner.reading.read_keys import Entry, Found, Reading, at, read_choice, read_keys, read_measured

MOST_OVERSIZE = Fraction(1)  # inches


def read_methods(reading: Reading, entry: Entry | None, lengths: Lengths) -> Methods:
    """The methods that the maker fixed; all else is sewn one by one."""
    usual = Methods()
    found = None if entry is None else read_keys(reading, entry.node, METHODS, "methods", entry.line)
    if found is None:
        return usual
    return Methods(
        _read_method(reading, found, "triangles", TRIANGLE_METHODS) or usual.triangles,
        _read_method(reading, found, "hourglasses", HOURGLASS_METHODS) or usual.hourglasses,
        _read_method(reading, found, "geese", GOOSE_METHODS) or usual.geese,
        _read_method(reading, found, "rows", ROW_METHODS) or usual.rows,
        _read_oversize(reading, found, lengths) or usual.oversize,
    )


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
