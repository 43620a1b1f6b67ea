"""A draft of strips round a centre -> its record, widths and sides written out for each log."""

from __future__ import annotations

from fractions import Fraction

from planner.project import SIDES, Logs, Side
from planner.reading.file_keys import LOGS
from planner.reading.names import Names
from planner.reading.read_keys import (
    Entry,
    Reading,
    at,
    has_grid,
    read_choice,
    read_fabric,
    read_keys,
    read_list,
    read_measured,
    read_two,
)
from planner.reading.read_yaml import Listed
from planner.surd import Exact

_NUMBERS = "numbers in [ ]: [1, 2, 1]"


def read_logs(reading: Reading, names: Names, entry: Entry, where: str) -> Logs | None:
    """The draft behind the key `logs`, or None and its faults."""
    where = at(where, "logs")
    found = read_keys(reading, entry.node, LOGS, where, entry.line)
    if found is None:
        return None
    centre = found.get("centre")
    centre_name = None if centre is None else read_fabric(reading, names, centre.node, at(where, "centre"))
    size = _read_centre_size(reading, found.get("centre size"), where)
    around = _read_around(reading, names, found.get("around"), where)
    widths = _read_log_widths(reading, found.get("width"), where)
    sides = _read_sides(reading, found.get("sides"), where)
    if centre_name is None or size is None or not around or widths is None or sides is None:
        return None
    if not has_grid(reading, (*size, *widths), entry, where):
        return None
    count = len(around)
    each_width = tuple(widths[log % len(widths)] for log in range(count))
    each_side = tuple(sides[log % len(sides)] for log in range(count))
    return Logs(centre_name, size, around, each_width, each_side)


def _read_centre_size(reading: Reading, entry: Entry | None, where: str) -> tuple[Exact, Exact] | None:
    if entry is None:
        return Fraction(1), Fraction(1)
    where = at(where, "centre size")
    return read_two(reading, entry.node, where, "one number, or wide x high, like 2 x 3", reading.read_number)


def _read_around(reading: Reading, names: Names, entry: Entry | None, where: str) -> tuple[str, ...]:
    if entry is None:
        return ()
    where = at(where, "around")
    nodes = read_list(reading, entry.node, where, entry.line, "fabrics in [ ]: [navy, shell]") or []
    fabrics = [read_fabric(reading, names, node, f"{where}, log {number}") for number, node in enumerate(nodes, 1)]
    return tuple(name for name in fabrics if name is not None) if None not in fabrics else ()


def _read_log_widths(reading: Reading, entry: Entry | None, where: str) -> tuple[Exact, ...] | None:
    if entry is None:
        return (Fraction(1),)
    where = at(where, "width")
    nodes = [entry.node]
    if isinstance(entry.node, Listed):
        nodes = read_list(reading, entry.node, where, entry.line, _NUMBERS) or []
    wanted = f"one number, or {_NUMBERS}"
    values = [read_measured(reading, node, where, wanted, reading.read_number) for node in nodes]
    kept = tuple(value for value in values if value is not None)
    return kept if kept and len(kept) == len(nodes) else None


def _read_sides(reading: Reading, entry: Entry | None, where: str) -> tuple[Side, ...] | None:
    if entry is None:
        return SIDES
    where = at(where, "sides")
    nodes = read_list(reading, entry.node, where, entry.line, f"sides in [ ]: [{', '.join(SIDES)}]")
    values = [read_choice(reading, node, where, SIDES) for node in nodes or ()]
    kept = tuple(value for value in values if value is not None)
    return kept if kept and len(kept) == len(values) else None
