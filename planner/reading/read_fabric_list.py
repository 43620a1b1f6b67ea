"""A list of fabrics, and one fabric or a list that is gone through over and over -> their names."""

from __future__ import annotations

from planner.reading.names import Names
from planner.reading.read_keys import Entry, Reading, read_fabric, read_list
from planner.reading.read_yaml import Listed

_FABRICS = "fabrics in [ ]: [navy, shell]"


def read_fabric_list(reading: Reading, names: Names, entry: Entry, where: str, kind: str) -> tuple[str, ...]:
    """The fabrics in a list, at least one; none where there is a fault. `kind` is what has the fabric: `log`."""
    nodes = read_list(reading, entry.node, where, entry.line, _FABRICS) or []
    fabrics = [read_fabric(reading, names, node, f"{where}, {kind} {number}") for number, node in enumerate(nodes, 1)]
    return tuple(name for name in fabrics if name is not None) if None not in fabrics else ()


def read_fabrics_in_turn(reading: Reading, names: Names, entry: Entry | None, where: str, kind: str) -> tuple[str, ...]:
    """One fabric or those of a list; none where there is a fault, or nothing is written."""
    if entry is None:
        return ()
    if isinstance(entry.node, Listed):
        return read_fabric_list(reading, names, entry, where, kind)
    name = read_fabric(reading, names, entry.node, where)
    return () if name is None else (name,)
