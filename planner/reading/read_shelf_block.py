"""The text of a file of the shelf -> its block, or all that is wrong with the file."""

from __future__ import annotations

from fractions import Fraction

from planner.fault import Fault
from planner.reading.collect_faults import FaultList
from planner.reading.file_keys import BLOCK
from planner.reading.lengths import Lengths
from planner.reading.names import tidy_name, why_no_name
from planner.reading.read_blocks import read_blocks
from planner.reading.read_fabrics import read_fabrics
from planner.reading.read_keys import (
    Entry,
    Found,
    Named,
    Reading,
    at,
    read_keys,
    read_line,
    read_list,
    read_named,
    read_text,
)
from planner.reading.read_yaml import Keyed, Text, read_nodes
from planner.reading.shelf_block import EMPTY_SHELF, Role, ShelfBlock
from planner.reading.shelf_keys import ROLE, SHELF_FILE

_LENGTHS = Lengths("in", Fraction(1, 4))


def read_shelf_block(text: str) -> tuple[ShelfBlock | None, tuple[Fault, ...]]:
    """The block in a text, or None and all faults, by line. Its sizes are in inches."""
    faults = FaultList()
    root = read_nodes(text, faults)
    block = _read_root(Reading(faults), root) if root is not None else None
    return (None, faults.tell()) if faults else (block, ())


def _read_root(reading: Reading, root: Keyed) -> ShelfBlock | None:
    found = read_keys(reading, root, SHELF_FILE, "", 1)
    if found is None:
        return None
    name = _read_name(reading, found.get("block"))
    also_called = _read_also_called(reading, found.get("also called"))
    named, _ = read_named(reading, found.get("roles"), "roles", "role")
    written = [_read_role(reading, role) for role in named]
    # For its draft the roles are fabrics: what else a fabric of a project has, they have by default
    fabrics = read_fabrics(reading, _name_fabrics(found, written), _LENGTHS)
    own = [(key, node) for key, node in root.pairs if BLOCK.find(tidy_name(key.value)) is not None]
    drawn = Keyed(root.line, root.start, [(Text(name or "block", 1), Keyed(root.line, root.start, own))])
    blocks = read_blocks(reading, None, Entry(1, drawn), fabrics, _LENGTHS, EMPTY_SHELF)
    reading.tell_roots()
    block, patches = next(iter(blocks.blocks.values()))
    if reading.faults or block is None or name is None:
        return None
    what_for = {role.name: what for role, what, _ in written if what is not None}
    roles = tuple(Role(fabric, what_for[fabric.name]) for fabric in fabrics.fabrics)
    size = block.width, block.height
    return ShelfBlock(name, also_called, roles, size, block.draft, patches, tuple(reading.roots), reading.keeps_shape)


def _read_name(reading: Reading, entry: Entry | None) -> str | None:
    text = None if entry is None else read_text(reading, entry.node, "block", "the name of the block")
    if entry is None or text is None:
        return None
    name = tidy_name(text)
    wrong = why_no_name(name)
    if wrong is not None:
        reading.add(entry.node.line, "block", wrong)
    return name if wrong is None else None


def _read_also_called(reading: Reading, entry: Entry | None) -> tuple[str, ...]:
    where = "also called"
    nodes = [] if entry is None else read_list(reading, entry.node, where, entry.line, "names in [ ]") or []
    names = [read_text(reading, node, where, "a name") for node in nodes]
    return tuple(tidy_name(name) for name in names if name is not None)


_Written = tuple[Named, str | None, Entry | None]  # a role, what it is for, and its value


def _read_role(reading: Reading, role: Named) -> _Written:
    where = f"role {role.name}"
    found = read_keys(reading, role.node, ROLE, where, role.line)
    entry = None if found is None else found.get("for")
    what = None if entry is None else read_line(reading, entry.node, at(where, "for"), "which patches it is for")
    return role, what, None if found is None else found.get("value")


def _name_fabrics(found: Found, written: list[_Written]) -> Entry | None:
    """The roles as the fabrics of a project are written, with values alone."""
    entry = found.get("roles")
    if entry is None:
        return None
    fabrics = Keyed(entry.line, 0)
    for role, _, value in written:
        of_role = [(Text("value", value.line), value.node)] if value is not None else []
        fabrics.pairs.append((Text(role.name, role.line), Keyed(role.line, 0, of_role, is_whole=bool(of_role))))
    return Entry(entry.line, fabrics)
