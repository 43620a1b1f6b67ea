"""What is known of a file once its fabrics, parts and blocks are read: what the rest of it names and measures by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from planner.project import Block
from planner.reading.lengths import Lengths
from planner.reading.names import Names
from planner.reading.read_blocks import ReadBlocks
from planner.reading.shelf_block import EMPTY_SHELF, Shelf


@dataclass(frozen=True, slots=True)
class Known:
    """`names` has the fabrics and the parts of the file; `usable` how long a strip of each fabric can be cut,
    `narrows` the part of its width that it loses in the wash."""

    blocks: ReadBlocks
    names: Names
    lengths: Lengths
    usable: Mapping[str, Fraction]
    shelf: Shelf = EMPTY_SHELF
    narrows: Mapping[str, Fraction] = field(default_factory=dict)

    def has_block(self, name: str) -> bool:
        """Whether a block of this name is written, readable or not."""
        return name in self.blocks.blocks

    def find_block(self, name: str) -> Block | None:
        """The block of this name; None where it could not be read."""
        return self.blocks.blocks[name].block

    def count_patches(self, name: str) -> int:
        """The patches of the block of this name."""
        return self.blocks.blocks[name].patches
