"""Pressing directions that the maker fixed -> their records. Whether a seam runs there is found out later."""

from __future__ import annotations

from planner.project import Block, Keep
from planner.reading.collect_faults import quote
from planner.reading.file_keys import KEEP, TOWARDS
from planner.reading.known import Known
from planner.reading.name_block import read_block_name
from planner.reading.read_keys import LONGEST_NUMBERS, Entry, Reading, at, read_choice, read_keys, read_list, read_text
from planner.reading.read_yaml import Node
from planner.surd import Exact

_ENTRIES = 'entries like - {block: pinwheel, at: "6, 3", toward: left}'
_POINT = 'two lengths in quotes, x right, y down: "6 1/2, 3"'

Point = tuple[Exact, Exact]


def read_keep(reading: Reading, entry: Entry | None, known: Known, made: frozenset[str] | None) -> tuple[Keep, ...]:
    """The entries behind the key `keep` of press. `made` are the blocks that are made, None where that is not known."""
    nodes = [] if entry is None else read_list(reading, entry.node, "press, keep", entry.line, _ENTRIES) or []
    reader = _KeepReader(reading, known, made)
    read = [reader.read(node, f"press, keep, entry {number}") for number, node in enumerate(nodes, 1)]
    return tuple(keep for keep in read if keep is not None)


class _KeepReader:
    def __init__(self, reading: Reading, known: Known, made: frozenset[str] | None) -> None:
        self._reading = reading
        self._known = known
        self._made = made
        self._lines: dict[tuple[str, Point], int] = {}  # where each point was named first

    def read(self, node: Node, where: str) -> Keep | None:
        reading = self._reading
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
        self._check_point(block, point, point_entry, at(where, "at"))
        return Keep(block, point, toward, node.line) if toward is not None else None

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

    def _check_point(self, name: str, point: Point, entry: Entry, where: str) -> None:
        block = self._known.find_block(name)
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

    def _why_not_inside(self, block: Block, point: Point) -> str | None:
        sides = block.width, block.height
        size = self._known.lengths.spell(*sides)
        if any(place > side for place, side in zip(point, sides, strict=True)):
            return f"this point lies outside the block, which is {size}; name a point on a seam"
        if any(place in (0, side) for place, side in zip(point, sides, strict=True)):
            return f"this point lies on the edge of the block, which is {size}; name a point on a seam inside it"
        return None
