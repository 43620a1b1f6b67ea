"""Drafts of single units -> their records: flying geese, a square in a square, corners cut off; all drawn in a box."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from planner.draw_units import Drawn, draw_geese, draw_snowball, draw_square
from planner.project import MOST_COPIES, DrawnPatch, Patches
from planner.reading.file_keys import GEESE, HEADINGS, SNOWBALL, SNOWBALL_CORNERS, SQUARE
from planner.reading.lengths import spell_proportion
from planner.reading.names import Names
from planner.reading.read_fabric_list import read_fabrics_in_turn
from planner.reading.read_keys import (
    Entry,
    Reading,
    at,
    has_grid,
    read_choice,
    read_fabric,
    read_keys,
    read_measured,
    read_two,
    read_whole,
)
from planner.reading.read_yaml import Keyed
from planner.surd import Exact, ExactPoint, divide

MOST_ROUNDS = 12
_CORNERS = ("top left", "top right", "bottom right", "bottom left")
_FourCorners = tuple[str | None, str | None, str | None, str | None]


def read_geese(reading: Reading, names: Names, entry: Entry, where: str) -> Patches | None:
    """The draft behind the key `geese`, or None and its faults."""
    where = at(where, "geese")
    found = read_keys(reading, entry.node, GEESE, where, entry.line)
    if found is None:
        return None
    goose = read_fabrics_in_turn(reading, names, found.get("goose"), at(where, "goose"), "goose")
    sky = read_fabrics_in_turn(reading, names, found.get("sky"), at(where, "sky"), "sky")
    point_entry, count_entry = found.get("point"), found.get("count")
    point = "up" if point_entry is None else read_choice(reading, point_entry.node, at(where, "point"), HEADINGS)
    count: int | None = max(len(goose), len(sky))
    if count_entry is not None:
        count = read_whole(reading, count_entry.node, at(where, "count"), 1, MOST_COPIES)
    if not goose or not sky or point is None or count is None:
        return None
    box, drawn = draw_geese(goose, sky, point, count)
    return to_patches(box, drawn, entry.line)


def read_square(reading: Reading, names: Names, entry: Entry, where: str) -> Patches | None:
    """The draft behind the key `square`, or None and its faults."""
    where = at(where, "square")
    found = read_keys(reading, entry.node, SQUARE, where, entry.line)
    if found is None:
        return None
    centre = _read_one(reading, names, found.get("centre"), at(where, "centre"))
    around_entry = found.get("around")
    around = read_fabrics_in_turn(reading, names, around_entry, at(where, "around"), "round")
    if around_entry is not None and len(around) > MOST_ROUNDS:
        words = f"{len(around)} rounds are too many; at most {MOST_ROUNDS}"
        reading.add(around_entry.node.line, at(where, "around"), words)
        return None
    if centre is None or not around:
        return None
    return to_patches((Fraction(1), Fraction(1)), draw_square(centre, around), entry.line)


def read_snowball(reading: Reading, names: Names, entry: Entry, where: str) -> Patches | None:
    """The draft behind the key `snowball`, or None and its faults."""
    where = at(where, "snowball")
    found = read_keys(reading, entry.node, SNOWBALL, where, entry.line)
    if found is None:
        return None
    centre = _read_one(reading, names, found.get("centre"), at(where, "centre"))
    corners = _read_corners(reading, names, found.get("corners"), at(where, "corners"))
    box: tuple[Exact, Exact] | None = (Fraction(3), Fraction(3))
    size: Exact | None = Fraction(1)
    box_entry, size_entry = found.get("box"), found.get("size")
    if box_entry is not None:
        box = read_two(reading, box_entry.node, at(where, "box"), "wide x high, like 4 x 3", reading.read_number)
    if size_entry is not None:
        size = read_measured(reading, size_entry.node, at(where, "size"), "a number", reading.read_number)
    if centre is None or corners is None or box is None or size is None:
        return None
    wrong = _why_no_room(corners, box, size)
    if wrong is not None:
        reading.add(entry.line if size_entry is None else size_entry.node.line, at(where, "size"), wrong)
        return None
    if not has_grid(reading, (*box, size), entry, where):
        return None
    return to_patches(box, draw_snowball(centre, corners, box, size), entry.line)


def to_patches(box: ExactPoint, drawn: Iterable[Drawn], line: int) -> Patches:
    """The record of a unit that is drawn from the words of one key, in that key's line."""
    return Patches(box, tuple(DrawnPatch(fabric, corners, line) for fabric, corners in drawn), line)


def _read_one(reading: Reading, names: Names, entry: Entry | None, where: str) -> str | None:
    return None if entry is None else read_fabric(reading, names, entry.node, where)


def _read_corners(reading: Reading, names: Names, entry: Entry | None, where: str) -> _FourCorners | None:
    """The fabrics of the corners, clockwise from the upper left one; None where a corner is not cut off."""
    if entry is None:
        return None
    if not isinstance(entry.node, Keyed):
        name = read_fabric(reading, names, entry.node, where)
        return None if name is None else (name, name, name, name)
    found = read_keys(reading, entry.node, SNOWBALL_CORNERS, where, entry.line)
    if found is None:
        return None
    if not found.entries:
        if found.is_whole:
            reading.add(entry.node.line, where, f"no corner is named; write {' or '.join(_CORNERS)}")
        return None
    read = {corner: _read_one(reading, names, found.get(corner), at(where, corner)) for corner in _CORNERS}
    if any(read[corner] is None for corner in found.entries):
        return None
    return read["top left"], read["top right"], read["bottom right"], read["bottom left"]


def _why_no_room(corners: _FourCorners, box: ExactPoint, size: Exact) -> str | None:
    """Why corners of a size do not fit into a box."""
    spell, (wide, high) = spell_proportion, box
    for number, side in enumerate((wide, high, wide, high)):
        many = (corners[number] is not None) + (corners[(number + 1) % 4] is not None)
        if size * many > side:
            longest = spell_proportion(divide(side, many))
            no_room = f"two corners of {spell(size)} do not" if many == 2 else f"a corner of {spell(size)} does not"
            return f"{no_room} fit on a side of {spell(side)}; at most {longest}"
    cut_off = size * size * sum(corner is not None for corner in corners)
    if cut_off >= 2 * wide * high:
        return f"corners of {spell(size)} leave nothing of the box {spell(wide)} x {spell(high)} between them"
    return None
