"""The name of a block, wherever one is named: known, or with the nearest that is."""

from __future__ import annotations

from planner.reading.collect_faults import quote
from planner.reading.known import Known
from planner.reading.names import tidy_name, why_no_name
from planner.reading.read_keys import Entry, Reading, read_text
from planner.reading.take_from_shelf import spell_roles


def read_block_name(reading: Reading, entry: Entry | None, known: Known, where: str) -> str | None:
    """The name of a block that is written in the file."""
    text = None if entry is None else read_text(reading, entry.node, where, "the name of a block")
    if entry is None or text is None:
        return None
    name = tidy_name(text)
    if known.has_block(name):
        return name
    wrong = why_no_block(reading, name, known)
    if wrong is not None:
        reading.add(entry.node.line, where, wrong)
    return None


def why_no_block(reading: Reading, name: str, known: Known) -> str | None:
    """Words for a name that no block has; None where not all blocks could be read, so that it may be one of them."""
    if name in known.names.fabrics or known.names.has_part(name):
        kind = "fabric" if name in known.names.fabrics else "part"
        return f"no block is named {quote(name)}, it is a {kind}; name a block that holds it"
    if not known.blocks.is_whole:
        return None
    on_shelf = known.shelf.find(name)
    if on_shelf is not None:
        how = f"{name}: {{block: {on_shelf.name}, fabrics: {spell_roles(on_shelf)}}}"
        return f"no block is named {quote(name)} here, but the shelf has one; write in blocks: {how}"
    near = reading.nearest.suggest(name, known.blocks.blocks)
    return why_no_name(name) or f"no block is named {quote(name)}{near}"
