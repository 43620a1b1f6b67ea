"""A block of a project that is taken from the shelf: which one, and a fabric for each of its roles."""

from __future__ import annotations

from typing import NamedTuple

from planner.reading.collect_faults import quote
from planner.reading.file_keys import FROM_SHELF
from planner.reading.names import Names, tidy_name
from planner.reading.read_keys import Entry, Found, Reading, RootUsed, at, read_fabric, read_text, tell_missing
from planner.reading.read_yaml import Keyed, Node, Text, Unread
from planner.reading.shelf_block import Shelf, ShelfBlock

_ROLES = "fabrics by roles in { }: {dark: navy, light: shell}"


class Taken(NamedTuple):
    """A block of the shelf, and (role, fabric for it); None where a role has none, or none that can be read."""

    block: ShelfBlock
    roles: tuple[tuple[str, str], ...] | None


def is_from_shelf(node: Node) -> bool:
    """Whether a block is written as one that is taken from the shelf."""
    return isinstance(node, Keyed) and any(tidy_name(key.value) == "block" for key, _ in node.pairs)


def take_from_shelf(reading: Reading, found: Found, shelf: Shelf, names: Names, where: str) -> Taken | None:
    """The block and its fabrics; None where there is no such block, and its fault is told."""
    block = _read_name(reading, found.get("block"), shelf, at(where, "block"))
    entry = found.get("fabrics")
    if entry is None:
        wanted = f"a fabric for each of its roles: {spell_roles(block)}" if block is not None else ""
        tell_missing(reading, found, FROM_SHELF, "fabrics", where, wanted)
    if block is None:
        if entry is not None:  # without the block its roles are not known, but the fabrics are
            _read_roles(reading, entry, None, names, at(where, "fabrics"))
        return None
    for root in block.roots:
        line = found.entries["block"].node.line
        reading.roots.setdefault(root, RootUsed(line, at(where, "block"), block.name))
    reading.keeps_shape |= block.keeps_shape
    return Taken(block, None if entry is None else _read_roles(reading, entry, block, names, at(where, "fabrics")))


def spell_roles(block: ShelfBlock) -> str:
    """How its fabrics are written, with a gap for each: `{dark: ..., light: ...}`."""
    return "{" + ", ".join(f"{role}: ..." for role in block.role_names) + "}"


def _read_name(reading: Reading, entry: Entry | None, shelf: Shelf, where: str) -> ShelfBlock | None:
    text = None if entry is None else read_text(reading, entry.node, where, "the name of a block of the shelf")
    if entry is None or text is None:
        return None
    name = tidy_name(text)
    block = shelf.find(name)
    if block is None:
        near = reading.nearest.find(name, shelf.list_names())
        hint = f"; did you mean '{near}'?" if near else "; seamrun blocks lists what is there"
        reading.add(entry.node.line, where, f"there is no block {quote(name)} on the shelf{hint}")
    return block


def _read_roles(
    reading: Reading, entry: Entry, block: ShelfBlock | None, names: Names, where: str
) -> tuple[tuple[str, str], ...] | None:
    """A fabric for each role of the block; without a block only the fabrics are looked at."""
    node = entry.node
    if isinstance(node, Text) and not node.value:
        node = Keyed(entry.line, 0)
    if not isinstance(node, Keyed):
        if not isinstance(node, Unread):
            wanted = _ROLES if block is None else f"a fabric for each role: {spell_roles(block)}"
            reading.add(node.line, where, f"write {wanted}")
        return None
    fabrics: dict[str, str | None] = {}
    lines: dict[str, int] = {}
    is_right = node.is_whole
    for written, value in node.pairs:
        role = tidy_name(written.value)
        if block is not None and role not in block.role_names:
            near = reading.nearest.suggest(role, block.role_names)
            reading.add(written.line, where, f"{block.name} has no role {quote(role)}{near}")
            is_right = False
        if role in lines:
            words = f"the role {quote(role)} is written twice (first in line {lines[role]})"
            reading.add(written.line, where, words)
            is_right = False
            continue
        lines[role] = written.line
        here = Text("", written.line) if isinstance(value, Text) and not value.value else value
        fabrics[role] = read_fabric(reading, names, here, at(where, role))
    if block is None:
        return None
    for role_of in block.roles if node.is_whole else ():
        if role_of.name not in lines:
            words = f"no fabric for {role_of.name} ({role_of.what}); {block.name} needs {spell_roles(block)}"
            reading.add(entry.line, where, words)
    found = tuple((role, fabric) for role in block.role_names if (fabric := fabrics.get(role)) is not None)
    return found if is_right and len(found) == len(block.roles) else None
