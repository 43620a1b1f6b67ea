"""The loose blocks that are made -> their batches."""

from __future__ import annotations

from typing import NamedTuple

from planner.project import MOST_COPIES, MOST_PATCHES, Make
from planner.reading.file_keys import MAKE
from planner.reading.known import Known
from planner.reading.name_block import read_block_name
from planner.reading.read_keys import Entry, Reading, at, read_keys, read_list, read_whole
from planner.reading.read_swap import read_swap

_ENTRIES = "entries like - {block: pinwheel, count: 4}"


class ReadMake(NamedTuple):
    """The batches, how many patches they have, and the blocks they name; not whole where one could not be read."""

    make: tuple[Make, ...]
    patches: int
    named: frozenset[str]
    is_whole: bool


def read_make(reading: Reading, entry: Entry | None, known: Known) -> ReadMake:
    """The entries behind the key `make`; all of them together have no more patches than a project may."""
    nodes = [] if entry is None else read_list(reading, entry.node, "make", entry.line, _ENTRIES)
    made = []
    named = []
    patches = 0
    for number, node in enumerate(nodes or (), 1):
        where = f"make, entry {number}"
        found = read_keys(reading, node, MAKE, where, node.line)
        if found is None:
            continue
        block = read_block_name(reading, found.get("block"), known, at(where, "block"))
        count_entry = found.get("count")
        count = None
        if count_entry is not None:
            count = read_whole(reading, count_entry.node, at(where, "count"), 1, MOST_COPIES)
        swap = read_swap(reading, found.get("swap"), known.names, at(where, "swap"))
        if block is None:
            continue
        named.append(block)
        if count is None:
            continue
        before = patches
        patches += count * known.count_patches(block)
        if before <= MOST_PATCHES < patches and count_entry is not None:
            words = f"with these there are {patches:,} patches; a project has at most {MOST_PATCHES:,}"
            reading.add(count_entry.node.line, at(where, "count"), words)
        made.append(Make(block, count, swap, node.line))
    return ReadMake(tuple(made), patches, frozenset(named), nodes is not None and len(named) == len(nodes))
