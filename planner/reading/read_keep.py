"""Pressing directions that the maker fixed -> their records. Whether two of them name one seam is found out later."""

from __future__ import annotations

from planner.project import Block, Keep, Toward
from planner.reading.collect_faults import quote
from planner.reading.file_keys import KEEP, TOWARDS
from planner.reading.known import Known
from planner.reading.name_block import read_block_name
from planner.reading.read_keys import LONGEST_NUMBERS, Entry, Reading, at, read_choice, read_keys, read_list, read_text
from planner.reading.read_yaml import Node
from planner.reading.why_no_seam import MOST_ASKED, BlockSides
from planner.surd import Exact

_ENTRIES = 'entries like - {block: pinwheel, at: "6, 3", toward: left}'
_POINT = 'two lengths in quotes, x right, y down: "6 1/2, 3"'

Point = tuple[Exact, Exact]


def read_keep(
    reading: Reading, entry: Entry | None, known: Known, made: frozenset[str] | None, drafts_are_whole: bool
) -> tuple[Keep, ...]:
    """The entries behind the key `keep` of press. `made` are the blocks that are made, None where that is not known;
    only where the drafts are whole is it known where seams run."""
    nodes = [] if entry is None else read_list(reading, entry.node, "press, keep", entry.line, _ENTRIES) or []
    reader = _KeepReader(reading, known, made, drafts_are_whole)
    read = [reader.read(node, number) for number, node in enumerate(nodes, 1)]
    return tuple(keep for keep in read if keep is not None)


class _KeepReader:
    def __init__(self, reading: Reading, known: Known, made: frozenset[str] | None, drafts_are_whole: bool) -> None:
        self._drafts_are_whole = drafts_are_whole
        self._reading = reading
        self._known = known
        self._made = made
        self._lines: dict[tuple[str, Point], int] = {}  # where each point was named first
        self._sides: dict[str, BlockSides] = {}

    def read(self, node: Node, number: int) -> Keep | None:
        reading, where = self._reading, f"press, keep, entry {number}"
        found = read_keys(reading, node, KEEP, where, node.line)
        if found is None:
            return None
        block = read_block_name(reading, found.get("block"), self._known, at(where, "block"))
        if block is not None and self._made is not None and block not in self._made:
            words = f"{quote(block)} is not made, so none of its seams is pressed; make it, or take this out"
            reading.add(found.entries["block"].node.line, at(where, "block"), words)
        point_entry, toward_entry = found.get("at"), found.get("toward")
        point = None if point_entry is None else self._read_point(point_entry, at(where, "at"))
        toward = None
        if toward_entry is not None:
            toward = read_choice(reading, toward_entry.node, at(where, "toward"), TOWARDS)
        if block is None or point is None or point_entry is None:
            return None
        if self._check_point(block, point, point_entry, at(where, "at")) and self._drafts_are_whole:
            self._check_seam(block, point, toward, node.line, where)
        return Keep(block, point, toward, node.line, number) if toward is not None else None

    def _read_point(self, entry: Entry, where: str) -> Point | None:
        text = read_text(self._reading, entry.node, where, _POINT)
        if text is None:
            return None
        texts = text.split(",") if len(text) <= LONGEST_NUMBERS else []
        if len(texts) != 2 or not all(part.strip() for part in texts):
            self._reading.add(entry.node.line, where, f"{quote(text)} is no point; write {_POINT}")
            return None
        try:
            x, y = (self._known.lengths.read_rooted(part.strip()) for part in texts)
        except ValueError as wrong:
            self._reading.add(entry.node.line, where, str(wrong))
            return None
        has_room = [self._reading.has_room_for(place, entry.node.line, where, text) for place in (x, y)]
        return (x, y) if all(has_room) else None

    def _check_point(self, name: str, point: Point, entry: Entry, where: str) -> bool:
        """Whether a point lies inside of its block, and was not named before."""
        block = self._known.find_block(name)
        wrong = None
        if block is not None and self._known.lengths.measure is not None:
            wrong = self._why_not_inside(block, point)
            if wrong is not None:
                self._reading.add(entry.node.line, where, wrong)
        first = self._lines.get((name, point))
        if first is not None:
            words = f"the direction at this point of {name} is fixed already (line {first}); keep one"
            self._reading.add(entry.node.line, where, words)
        else:
            self._lines[name, point] = entry.node.line
        return wrong is None and first is None

    def _check_seam(self, name: str, point: Point, toward: Toward | None, line: int, where: str) -> None:
        """A fault where no order of sewing has one seam at the point that can be pressed so."""
        block, measure = self._known.find_block(name), self._known.lengths.measure
        if block is None or measure is None or self._known.count_patches(name) > MOST_ASKED:
            return
        if name not in self._sides:
            self._sides[name] = BlockSides(block)
        wrong = self._sides[name].why_no_seam(point, toward, measure)
        if wrong is not None:
            self._reading.add(line, where, wrong)

    def _why_not_inside(self, block: Block, point: Point) -> str | None:
        sides = block.width, block.height
        size = self._known.lengths.spell(*sides)
        if any(place > side for place, side in zip(point, sides, strict=True)):
            return f"this point lies outside the block, which is {size}; name a point on a seam"
        if any(place in (0, side) for place, side in zip(point, sides, strict=True)):
            return f"this point lies on the edge of the block, which is {size}; name a point on a seam inside it"
        return None
