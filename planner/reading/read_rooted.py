"""Drafts with a root in them -> their records: a ring of diamonds, hexagons in rows. They are not stretched."""

from __future__ import annotations

from fractions import Fraction

from planner.draw_hexagons import box_of_hexagons, draw_hexagons
from planner.draw_ring import ROOT_IN, Many, box_of_ring, draw_ring
from planner.draw_units import Drawn
from planner.project import DrawnPatch, Patches
from planner.reading.collect_faults import spell_count
from planner.reading.file_keys import DIAMONDS, HEXAGONS, RING
from planner.reading.names import Names
from planner.reading.read_fabric_list import read_fabric_list, read_fabrics_in_turn
from planner.reading.read_keys import Entry, Reading, at, read_choice, read_fabric, read_keys, read_list
from planner.surd import ExactPoint, Surd

_ROWS = "a list of rows, each fabrics in [ ]: [navy, shell]"


def read_ring(reading: Reading, names: Names, entry: Entry, where: str) -> Patches | None:
    """The draft behind the key `ring`, or None and its faults."""
    where = at(where, "ring")
    found = read_keys(reading, entry.node, RING, where, entry.line)
    if found is None:
        return None
    of = found.get("of")
    many: Many | None = None
    if of is not None:
        choice = read_choice(reading, of.node, at(where, "of"), DIAMONDS)
        many = None if choice is None else 8 if choice == "8" else 6
    diamonds = read_fabrics_in_turn(reading, names, found.get("diamonds"), at(where, "diamonds"), "diamond")
    fill = read_fabrics_in_turn(reading, names, found.get("fill"), at(where, "fill"), "piece")
    if many is None or not _has_room(reading, ROOT_IN[many], entry, where, f"ring of {many}"):
        return None
    if not diamonds or not fill:
        return None
    return _keep_shape(reading, box_of_ring(many), draw_ring(many, diamonds, fill), entry.line)


def read_hexagons(reading: Reading, names: Names, entry: Entry, where: str) -> Patches | None:
    """The draft behind the key `hexagons`, or None and its faults."""
    where = at(where, "hexagons")
    found = read_keys(reading, entry.node, HEXAGONS, where, entry.line)
    if found is None:
        return None
    rows_entry, edge_entry = found.get("rows"), found.get("edge")
    rows = None if rows_entry is None else _read_rows(reading, names, rows_entry, where)
    edge = None if edge_entry is None else read_fabric(reading, names, edge_entry.node, at(where, "edge"))
    if not _has_room(reading, 3, entry, where, "hexagons") or rows is None or edge is None:
        return None
    return _keep_shape(reading, box_of_hexagons(rows), draw_hexagons(rows, edge), entry.line)


def _read_rows(reading: Reading, names: Names, entry: Entry, where: str) -> list[tuple[str, ...]] | None:
    """The fabrics row by row; None where there is a fault."""
    nodes = read_list(reading, entry.node, at(where, "rows"), entry.line, _ROWS) or []
    rows = []
    for number, node in enumerate(nodes, 1):
        rows.append(read_fabric_list(reading, names, Entry(node.line, node), at(where, f"row {number}"), "hexagon"))
    if not rows or not all(rows):
        return None
    is_whole = True
    lengths = {len(rows[0]), len(rows[1])} if len(rows) > 1 else set()
    if lengths and max(lengths) - min(lengths) != 1:
        words = f"this row has {spell_count(len(rows[1]), 'hexagon')}, the first {len(rows[0])}"
        reading.add(nodes[1].line, at(where, "row 2"), f"{words}; long rows and such with one less lie in turn")
        return None
    for number in range(2, len(rows)):
        here, wanted = len(rows[number]), len(rows[number % 2])
        if here != wanted:
            is_whole = False
            words = f"this row has {spell_count(here, 'hexagon')}, and here it is {wanted}"
            line = nodes[number].line
            reading.add(line, at(where, f"row {number + 1}"), f"{words}; long rows and such with one less lie in turn")
    return rows if is_whole else None


def _has_room(reading: Reading, of: int, entry: Entry, where: str, words: str) -> bool:
    """Whether a draft with this root goes together with the other roots of the file."""
    return reading.has_room_for(Surd(Fraction(0), Fraction(1), of), entry.line, where, words)


def _keep_shape(reading: Reading, box: ExactPoint, drawn: list[Drawn], line: int) -> Patches:
    reading.keeps_shape = True
    return Patches(box, tuple(DrawnPatch(fabric, corners, line) for fabric, corners in drawn), line, True)
