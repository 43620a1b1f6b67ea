"""What is made -> the batches of loose blocks."""

from __future__ import annotations

from planner.project import MOST_COPIES, MOST_PATCHES, Make
from planner.reading.collect_faults import quote
from planner.reading.file_keys import MAKE
from planner.reading.names import Names, tidy_name
from planner.reading.read_blocks import ReadBlocks
from planner.reading.read_keys import Entry, Reading, at, read_fabric, read_keys, read_list, read_text, read_whole
from planner.reading.read_yaml import Keyed, Node, Text, Unread

_ENTRIES = "entries like - {block: pinwheel, count: 4}"
_SWAP = "fabrics by fabrics in { }: {navy: coral}"


def read_make(reading: Reading, entry: Entry | None, blocks: ReadBlocks, names: Names) -> tuple[Make, ...]:
    """The entries behind the key `make`; all of them together have no more patches than a project may."""
    nodes = [] if entry is None else read_list(reading, entry.node, "make", entry.line, _ENTRIES) or []
    made = []
    patches = 0
    for number, node in enumerate(nodes, 1):
        where = f"make, entry {number}"
        found = read_keys(reading, node, MAKE, where, node.line)
        if found is None:
            continue
        block = _read_block(reading, found.get("block"), blocks, at(where, "block"))
        count_entry = found.get("count")
        count = None
        if count_entry is not None:
            count = read_whole(reading, count_entry.node, at(where, "count"), 1, MOST_COPIES)
        swap = _read_swap(reading, found.get("swap"), names, at(where, "swap"))
        if block is None or count is None:
            continue
        before = patches
        patches += count * blocks.blocks[block].patches
        if before <= MOST_PATCHES < patches and count_entry is not None:
            words = f"with these there are {patches:,} patches; a project has at most {MOST_PATCHES:,}"
            reading.add(count_entry.node.line, at(where, "count"), words)
        made.append(Make(block, count, swap, node.line))
    return tuple(made)


def _read_block(reading: Reading, entry: Entry | None, blocks: ReadBlocks, where: str) -> str | None:
    text = None if entry is None else read_text(reading, entry.node, where, "the name of a block")
    if entry is None or text is None:
        return None
    name = tidy_name(text)
    if name in blocks.blocks:
        return name
    if blocks.is_whole:
        near = reading.nearest.suggest(name, blocks.blocks)
        reading.add(entry.node.line, where, f"no block is named {quote(name)}{near}")
    return None


def _read_swap(reading: Reading, entry: Entry | None, names: Names, where: str) -> tuple[tuple[str, str], ...]:
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
