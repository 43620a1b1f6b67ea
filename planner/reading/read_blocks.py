"""The parts and blocks of a project file -> their records."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import NamedTuple

from planner.measure import INCHES_PER_CM, Ruler
from planner.project import Block, Draft, Part, Rows
from planner.reading.check_filling import MOST_FLAWS, spell_corners
from planner.reading.collect_faults import quote
from planner.reading.file_keys import BLOCK, DRAFT_KINDS, FROM_SHELF, PART, WEBBED
from planner.reading.fit_allowances import find_uncut
from planner.reading.fit_drafts import find_misfits
from planner.reading.lengths import LONGEST_SIDE, Lengths, spell_proportion
from planner.reading.list_unused import WrittenPart
from planner.reading.names import Names, tidy_name
from planner.reading.order_parts import Use, order_parts
from planner.reading.read_draft import DraftReader, names_in_draft, why_too_many
from planner.reading.read_fabrics import ReadFabrics
from planner.reading.read_keys import Entry, Named, Reading, at, read_keys, read_named, read_text, read_two
from planner.reading.read_yaml import Keyed
from planner.reading.shelf_block import Shelf, ShelfBlock
from planner.reading.take_from_shelf import is_from_shelf, take_from_shelf
from planner.surd import Exact, Surd, divide

MOST_LEVELS = 30  # of parts in one another
_HOW_JOINED = f"{WEBBED}, or take it out for the order with the least handling"
MOST_SHOWN = 8  # parts of a ring


class ReadBlock(NamedTuple):
    """A block that is written, and the number of patches in it; None where it could not be read."""

    block: Block | None
    patches: int


class ReadBlocks(NamedTuple):
    """Every block and every part of the file that is written, by name, and all parts that could be read."""

    blocks: Mapping[str, ReadBlock]
    file_parts: Mapping[str, Part | None]
    parts: tuple[WrittenPart, ...]
    is_whole: bool


def read_blocks(
    reading: Reading,
    parts: Entry | None,
    blocks: Entry | None,
    fabrics: ReadFabrics,
    lengths: Lengths,
    shelf: Shelf,
) -> ReadBlocks:
    """The blocks behind the key `blocks`, with the parts of the file and their own, and those from the shelf."""
    named_parts, has_all_parts = read_named(reading, parts, "parts", "part")
    named_blocks, has_all_blocks = read_named(reading, blocks, "blocks", "block")
    own = {block.name: _read_own_names(reading, block) for block in named_blocks}
    reader = _BlocksReader(reading, fabrics, lengths, shelf)
    reader.name_others(named_blocks, own)
    drafts = reader.read_parts(named_parts, None, has_all_parts)
    read = {}
    for block in named_blocks:
        own_parts, has_all_own = own[block.name]
        own_drafts = drafts
        if own_parts or not has_all_own:
            own_drafts = reader.read_parts(own_parts, block.name, has_all_parts and has_all_own)
        read[block.name] = reader.read_block(block, own_drafts)
    return ReadBlocks(read, reader.file_parts, tuple(reader.written), has_all_blocks and blocks is not None)


def _read_own_names(reading: Reading, block: Named) -> tuple[list[Named], bool]:
    """The parts of a block by name, before their drafts are read."""
    if isinstance(block.node, Keyed):
        for key, node in block.node.pairs:
            if tidy_name(key.value) == "parts":
                return read_named(reading, Entry(key.line, node), f"block {block.name}, parts", "part")
    return [], True


class _BlocksReader:
    """Reads drafts, inner parts first; what is written is known by name from the beginning, readable or not."""

    def __init__(self, reading: Reading, fabrics: ReadFabrics, lengths: Lengths, shelf: Shelf) -> None:
        self._reading = reading
        self._fabrics = fabrics
        self._lengths = lengths
        self._shelf = shelf
        self.file_parts: dict[str, Part | None] = {}  # of the file
        self._lines: dict[str, int] = {}  # of these
        self._others: dict[str, str] = {}  # what else has a name, and why it can't be in a cell
        self._sizes: dict[int, int] = {}  # patches of each part that was read, by its id
        self.written: list[WrittenPart] = []  # these parts; while they are here, their ids stay theirs

    def name_others(self, blocks: list[Named], own: Mapping[str, tuple[list[Named], bool]]) -> None:
        """Note what no cell may name."""
        for block in blocks:
            for part in own[block.name][0]:
                self._others[part.name] = f"is a part of block {block.name} alone; write it in the parts of the file"
        for block in blocks:
            self._others[block.name] = "is a block, and a cell holds fabrics and parts; make it a part"

    def read_parts(self, named: list[Named], block: str | None, is_whole: bool) -> DraftReader:
        """Read the parts of the file (then `block` is None) or of a block. Returned is what reads drafts with them."""
        own: dict[str, Part | None] = {part.name: None for part in named}
        if block is None:
            self.file_parts, own_parts = own, {}
            self._lines = {part.name: part.line for part in named}
        else:
            own_parts = own
        is_whole = is_whole and self._fabrics.is_whole
        names = Names(
            self._fabrics.lines,
            self.file_parts,
            own_parts,
            self._others,
            self._reading.nearest,
            is_whole,
            self._shelf,
        )
        reader = DraftReader(self._reading, names, self._sizes)
        prefix = f"block {block}, " if block is not None else ""
        for part in named:
            self._check_name(part, block, f"{prefix}part {part.name}")
        uses = {part.name: [Use(*use) for use in names_in_draft(part.node) if use[0] in own] for part in named}
        order = order_parts(uses)
        for ring in order.rings:
            words = f"{quote(ring.names[0])} holds itself: {_spell_ring(ring.names)}; a part can't be in itself"
            self._reading.add(ring.line, f"{prefix}part {ring.names[-1]}", words)
        by_name = {part.name: part for part in named}
        for name in order.order:
            own[name] = self._read_part(by_name[name], reader, block, f"{prefix}part {name}", order.depths[name])
        return reader

    def _check_name(self, part: Named, block: str | None, where: str) -> None:
        fabric = self._fabrics.lines.get(part.name)
        if fabric is not None:
            words = f"a fabric (line {min(fabric, part.line)}) has this name too; take another"
            if fabric > part.line:
                words = f"a part (line {part.line}) has the name of a fabric; take another"
            self._reading.add(max(fabric, part.line), where, words)
        if block is not None and part.name in self._lines:
            words = f"a part of the file (line {self._lines[part.name]}) has this name too; take another"
            self._reading.add(part.line, where, words)

    def _read_part(self, part: Named, reader: DraftReader, block: str | None, where: str, level: int) -> Part | None:
        found = read_keys(self._reading, part.node, PART, where, part.line)
        if found is None:
            return None
        draft, patches = reader.read(found, PART, where)
        if level > MOST_LEVELS:
            if level == MOST_LEVELS + 1:
                words = f"more than {MOST_LEVELS} parts lie in one another here; draw some of them as one"
                self._reading.add(part.line, where, words)
            return None
        if draft is None or self._is_too_large(patches, part.line, where):
            return None
        read = Part(part.name, draft, part.line)
        self._sizes[id(read)] = patches
        self.written.append(WrittenPart(read, block))
        return read

    def read_block(self, block: Named, reader: DraftReader) -> ReadBlock:
        """One block, with what reads its drafts."""
        where = f"block {block.name}"
        if is_from_shelf(block.node):
            return self._read_from_shelf(block, where)
        found = read_keys(self._reading, block.node, BLOCK, where, block.line)
        if found is None:
            return ReadBlock(None, 0)
        size = self._read_size(found.get("size"), at(where, "size"))
        draft, patches = reader.read(found, BLOCK, where)
        # With another draft it does not belong there at all, and that is told already
        belongs = "rows" in found.entries or not any(kind in found.entries for kind in DRAFT_KINDS)
        is_webbed = belongs and self._read_joining(found.get("joining"), draft, at(where, "joining"))
        if draft is None or size is None or self._is_too_large(patches, block.line, where):
            return ReadBlock(None, 0)
        read = Block(block.name, *size, draft, block.line, is_webbed)
        size_entry = found.get("size")
        if self._reading.keeps_shape and size_entry is not None:
            self._tell_misfits(read, size_entry.node.line)
        self._tell_uncut(read, block.line)
        return ReadBlock(read, patches)

    def _read_from_shelf(self, block: Named, where: str) -> ReadBlock:
        """One block that is taken from the shelf, in the fabrics of this file."""
        found = read_keys(self._reading, block.node, FROM_SHELF, where, block.line, told_later=("fabrics",))
        if found is None:
            return ReadBlock(None, 0)
        fabrics = self._fabrics
        names = Names(fabrics.lines, self.file_parts, {}, self._others, self._reading.nearest, fabrics.is_whole)
        size_entry = found.get("size")
        size = self._read_size(size_entry, at(where, "size"))
        taken = take_from_shelf(self._reading, found, self._shelf, names, where)
        joining = found.get("joining")
        draft = taken.block.draft if taken is not None else None
        is_webbed = self._read_joining(joining, draft, at(where, "joining"))
        if is_webbed and joining is not None and taken is not None and not isinstance(draft, Rows):
            words = f"only what is drawn as rows can be webbed, and {taken.block.name} is not; take it out"
            self._reading.add(joining.line, at(where, "joining"), words)
        if taken is not None and size_entry is None:
            size = self._take_usual_size(taken.block, found.line, where)
        if taken is None or taken.roles is None or size is None:
            return ReadBlock(None, taken.block.patches if taken is not None else 0)
        read = Block(block.name, *size, taken.block.draft, block.line, is_webbed, taken.roles)
        if taken.block.keeps_shape and size_entry is not None:
            self._tell_misfits(read, size_entry.node.line)
        self._tell_uncut(read, size_entry.node.line if size_entry is not None else block.line)
        return ReadBlock(read, taken.block.patches)

    def _tell_misfits(self, block: Block, size_line: int) -> None:
        """Faults for what would have to be stretched in a block."""
        per_unit = INCHES_PER_CM if self._lengths.measure == "cm" else Fraction(1)
        for draft, (wide, high), cell in find_misfits(block):
            box_wide, box_high = draft.box
            shape = f"{spell_proportion(box_wide)} wide to {spell_proportion(box_high)} high"
            words = f"this draft is {shape}, and it is not stretched"
            if cell:
                fits_turned = box_wide * wide == box_high * high
                how = "make it a part and turn it by 90" if fits_turned else "change widths, heights or the size"
                words = f"{words}; here it is put into {self._lengths.spell(wide, high)}: {how}"
                line = size_line if block.roles else draft.line  # a draft of the shelf has no line in this file
                self._reading.add(line, f"block {block.name}, {cell}", words)
            else:
                right = divide(wide, per_unit), divide(wide * box_high, box_wide * per_unit)
                words = f"{words}; write {' x '.join(map(spell_proportion, right))}"
                if any(isinstance(side, Surd) for side in right):
                    words = f"{words} ({self._lengths.spell(*(side * per_unit for side in right))})"
                words = f"{words}, or another size like that"
                self._reading.add(size_line, f"block {block.name}, size", words)

    def _tell_uncut(self, block: Block, size_line: int) -> None:
        """Faults for patches whose allowances run into each other."""
        lengths = self._lengths
        if lengths.seam is None or len(self._reading.roots) > 1:
            return
        two = lengths.spell(2 * lengths.seam)
        found = find_uncut(block, lengths.seam)
        for patch, cell, sides, slot in found[:MOST_FLAWS]:
            at_sides = " and ".join(spell_corners(side) for side in sides)
            if slot is not None:
                wide = Ruler(lengths.measure or "in").exact(slot).removesuffix(" cm")
                what = f"its slot, between the sides {at_sides}, is {wide} {lengths.measure} wide"
            elif len(sides) == 1:
                what = f"its notch at the side {at_sides} is too narrow"
            else:
                what = f"its sides {at_sides} are too near to each other"
            words = f"the {patch.fabric} patch can't be cut: {what}, and two allowances take {two}"
            where = f"block {block.name}, {cell}" if cell else f"block {block.name}"
            # A draft of the shelf has no line in this file
            line = size_line if block.roles else patch.line
            self._reading.add(line, where, f"{words}; make it wider, or divide the patch there by a seam")
        if len(found) > MOST_FLAWS:
            words = f"and {len(found) - MOST_FLAWS} more patches that can't be cut with their allowances"
            self._reading.add(size_line, f"block {block.name}", words)

    def _read_joining(self, entry: Entry | None, draft: Draft | None, where: str) -> bool:
        """Whether the cells of a block are webbed."""
        text = None if entry is None else read_text(self._reading, entry.node, where, _HOW_JOINED)
        if entry is None or text is None:
            return False
        if text != WEBBED:
            self._reading.add(entry.node.line, where, f"{quote(text)} is not right here; write {_HOW_JOINED}")
        elif isinstance(draft, Rows) and min(len(draft.rows), len(draft.widths)) == 1:
            words = "a web holds rows together across columns, and this block has only one row or column; take it out"
            self._reading.add(entry.line, where, words)
        return text == WEBBED

    def _is_too_large(self, patches: int, line: int, where: str) -> bool:
        wrong = why_too_many(patches)
        if wrong is not None:
            self._reading.add(line, where, wrong)
        return wrong is not None

    def _take_usual_size(self, block: ShelfBlock, line: int, where: str) -> tuple[Exact, Exact] | None:
        """In a file in centimetres with 2 1/2 cm for an inch, so that cut sizes are on the ruler there too."""
        per_inch = INCHES_PER_CM * Fraction(5, 2) if self._lengths.measure == "cm" else Fraction(1)
        wide, high = block.size[0] * per_inch, block.size[1] * per_inch
        if self._lengths.seam is not None and min(wide, high) < 2 * self._lengths.seam:
            words = f"its usual size, {self._lengths.spell(wide, high)}, is smaller than two seam allowances"
            self._reading.add(line, where, f"{words}; write size:")
            return None
        return wide, high

    def _read_size(self, entry: Entry | None, where: str) -> tuple[Exact, Exact] | None:
        if entry is None:
            return None
        lengths = self._lengths
        size = read_two(self._reading, entry.node, where, "the finished size: 12, or 12 x 9", lengths.read_rooted)
        if size is None or lengths.measure is None:
            return size
        if max(size) > LONGEST_SIDE:
            words = f"a side of {lengths.spell(max(size))} is too long; at most {lengths.spell(LONGEST_SIDE)}"
            self._reading.add(entry.node.line, where, words)
        elif lengths.seam is not None and min(size) < 2 * lengths.seam:
            words = f"a side of {lengths.spell(min(size))} is smaller than two seam allowances"
            self._reading.add(entry.node.line, where, f"{words}; at least {lengths.spell(2 * lengths.seam)}")
        return size


def _spell_ring(names: tuple[str, ...]) -> str:
    shown = names if len(names) <= MOST_SHOWN else (*names[: MOST_SHOWN - 1], "...")
    return " > ".join((*shown, names[0]))
