"""What is written in a project file and not sewn: no fault, but the maker is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.finish import Finish
from planner.project import (
    Block,
    Cut,
    Draft,
    DraftHere,
    Fabric,
    FabricHere,
    Logs,
    Make,
    Part,
    PartHere,
    Patches,
    Quilt,
)


class WrittenPart(NamedTuple):
    """A part and the block it belongs to; None for one of the file."""

    part: Part
    block: str | None


class _Use(NamedTuple):
    """A block that is made, with its swap, and words for where."""

    block: str
    swap: tuple[tuple[str, str], ...]
    line: int
    where: str


def list_unused(
    fabrics: Sequence[Fabric],
    parts: Sequence[WrittenPart],
    blocks: Sequence[Block],
    make: Sequence[Make],
    quilt: Quilt | None = None,
    finish: Finish | None = None,
) -> tuple[str, ...]:
    """Words for each fabric, part and block that nothing of what is made needs, in the order of the file."""
    sewn = {block.name: _gather_block(block) for block in blocks}
    used_fabrics = set(_name_between(quilt)) if quilt is not None else set()
    used_fabrics.update(finish.fabrics if finish is not None else ())
    used_parts: set[int] = set()
    found: list[tuple[int, str]] = []
    made: set[str] = set()
    for use in _list_uses(make, quilt):
        in_block, parts_in_block = sewn[use.block]
        swap = dict(use.swap)
        used_fabrics.update(swap.get(fabric, fabric) for fabric in in_block)
        used_parts.update(parts_in_block)
        made.add(use.block)
        found += [(use.line, f"the swap of {fabric} in {use.where}") for fabric in swap if fabric not in in_block]
    found += [(fabric.line, f"fabric {fabric.name}") for fabric in fabrics if fabric.name not in used_fabrics]
    for part, block in parts:
        if id(part) not in used_parts:
            found.append((part.line, f"part {part.name}" + (f" of block {block}" if block is not None else "")))
    found += [(block.line, f"block {block.name}") for block in blocks if block.name not in made]
    return tuple(words for _, words in sorted(found, key=lambda one: one[0]))


def _list_uses(make: Sequence[Make], quilt: Quilt | None) -> Iterator[_Use]:
    for number, entry in enumerate(make, 1):
        yield _Use(entry.block, entry.swap, entry.line, f"entry {number} of make")
    for number, row in enumerate(quilt.rows if quilt is not None else (), 1):
        for at, here in enumerate(row, 1):
            yield _Use(here.block, here.swap, here.line, f"row {number}, block {at} of the quilt")


def _name_between(quilt: Quilt) -> Iterator[str]:
    """The fabrics of what lies between the blocks and round them."""
    named = [quilt.setting]
    if quilt.sashing is not None:
        named += [quilt.sashing.fabric, quilt.sashing.posts]
    for border in quilt.borders:
        named += [border.fabric, border.posts]
    return (fabric for fabric in named if fabric is not None)


def _gather_block(block: Block) -> tuple[set[str], set[int]]:
    """The same of a block, where its draft names roles with the fabrics for them."""
    named, parts = _gather(block.draft)
    fabric_for = dict(block.roles)
    return {fabric_for.get(name, name) for name in named}, parts


def _gather(draft: Draft) -> tuple[set[str], set[int]]:
    """The fabrics in a draft, and the ids of the parts in it, however deep; each part is looked into once."""
    fabrics: set[str] = set()
    parts: set[int] = set()
    waiting = [draft]
    while waiting:
        for found in _hold(waiting.pop()):
            if isinstance(found, str):
                fabrics.add(found)
            elif isinstance(found, Part):
                if id(found) not in parts:
                    parts.add(id(found))
                    waiting.append(found.draft)
            else:
                waiting.append(found)
    return fabrics, parts


def _hold(draft: Draft) -> Iterator[str | Part | Draft]:
    """The fabrics, parts and drafts that stand in a draft itself."""
    if isinstance(draft, Patches):
        yield from (patch.fabric for patch in draft.patches)
        return
    if isinstance(draft, Logs):
        yield draft.centre
        yield from draft.around
        return
    waiting = [cell for row in draft.rows for cell in row]
    while waiting:
        cell = waiting.pop()
        if isinstance(cell, Cut):
            waiting += [cell.left, cell.right]
        elif isinstance(cell, FabricHere):
            yield cell.fabric
        elif isinstance(cell, PartHere):
            yield cell.part
        elif isinstance(cell, DraftHere):
            yield cell.draft
