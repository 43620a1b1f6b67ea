"""Other fabrics for a batch of blocks, or for one block of the quilt."""

from __future__ import annotations

from planner.reading.collect_faults import quote
from planner.reading.names import Names, tidy_name
from planner.reading.read_keys import Entry, Reading, read_fabric
from planner.reading.read_yaml import Keyed, Node, Text, Unread

_SWAP = "fabrics by fabrics in { }: {navy: coral}"


def read_swap(reading: Reading, entry: Entry | None, names: Names, where: str) -> tuple[tuple[str, str], ...]:
    """(fabric of the draft, fabric it is made in), sorted; what is swapped for itself is left out."""
    if entry is None:
        return ()
    node = entry.node
    if not isinstance(node, Keyed):
        if isinstance(node, Text) and not node.value:
            reading.add(entry.line, where, f"there is no value; write {_SWAP}")
        elif not isinstance(node, Unread):
            reading.add(node.line, where, f"write {_SWAP}")
        return ()
    if not node.pairs and node.is_whole:
        reading.add(node.line, where, f"nothing is swapped; write {_SWAP}")
    swap: dict[str, str | None] = {}
    lines: dict[str, int] = {}
    for written, value in node.pairs:
        fabric = read_fabric(reading, names, written, where)
        other = read_fabric(reading, names, _with_line(value, written.line), where)
        name = tidy_name(written.value)
        if name in swap:
            reading.add(written.line, where, f"the key {quote(name)} is written twice (first in line {lines[name]})")
        else:
            swap[name] = other if fabric is not None else None
            lines[name] = written.line
    return tuple(sorted((one, other) for one, other in swap.items() if other is not None and other != one))


def _with_line(node: Node, line: int) -> Node:
    return Text("", line) if isinstance(node, Text) and not node.value else node
