"""A draft of strips side by side -> its record: a grid of one column, or of one row."""

from __future__ import annotations

from fractions import Fraction

from planner.project import FabricHere, Rows
from planner.reading.file_keys import STRIPS
from planner.reading.names import Names
from planner.reading.read_fabric_list import read_fabric_list
from planner.reading.read_keys import Entry, Reading, at, has_grid, read_keys
from planner.reading.read_proportions import read_proportions

_ONE = (Fraction(1),)


def read_strips(reading: Reading, names: Names, entry: Entry, where: str) -> Rows | None:
    """The draft behind the key `strips`, or None and its faults."""
    where = at(where, "strips")
    found = read_keys(reading, entry.node, STRIPS, where, entry.line)
    if found is None:
        return None
    across, down = found.get("across"), found.get("down")
    strips: tuple[str, ...] = ()
    for way, written in (("across", across), ("down", down)):
        if written is not None:
            strips = read_fabric_list(reading, names, written, at(where, way), "strip")
    if (across is None) == (down is None):
        return None
    widths = read_proportions(reading, found.get("widths"), len(strips), "strip", at(where, "widths"))
    if not strips or widths is None or not has_grid(reading, widths, entry, where):
        return None
    cells = tuple(FabricHere(name) for name in strips)
    return Rows(tuple((cell,) for cell in cells), _ONE, widths) if down is None else Rows((cells,), widths, _ONE)
