"""The rows of a quilt -> the blocks in their places."""

from __future__ import annotations

from typing import NamedTuple

from planner.project import BlockHere
from planner.reading.collect_faults import quote
from planner.reading.file_keys import QUILT_BLOCK, TURNS
from planner.reading.known import Known
from planner.reading.name_block import why_no_block
from planner.reading.read_cells import split_changes
from planner.reading.read_keys import Entry, Reading, at, read_choice, read_keys, read_list, read_text
from planner.reading.read_swap import read_swap
from planner.reading.read_yaml import Keyed, Listed, Node

_ROW = "a row of blocks in [ ]: [pinwheel, pinwheel turn 90]"
_ROWS = f"a list of rows, each {_ROW}"
_TURN = "turn 90, turn 180 or turn 270, clockwise"
_MIRRORED = next(key.why_not for key in QUILT_BLOCK.keys if key.name == "mirrored")


class QuiltRow(NamedTuple):
    """One row, from left to right; None stands for a block that could not be read."""

    line: int
    blocks: tuple[BlockHere | None, ...]


class _Place(NamedTuple):
    """What the text of a place says, and what is wrong with it."""

    block: str | None
    turn: int
    wrong: str | None


def read_quilt_rows(reading: Reading, entry: Entry | None, known: Known) -> tuple[QuiltRow, ...]:
    """The rows behind the key `rows` of a quilt."""
    if entry is None:
        return ()
    reader = _PlaceReader(reading, known)
    rows = []
    for number, node in enumerate(read_list(reading, entry.node, "quilt, rows", entry.line, _ROWS) or (), 1):
        where = f"quilt, row {number}"
        places = read_list(reading, node, where, node.line, _ROW) or ()
        read = tuple(reader.read(place, f"{where}, block {at_x}") for at_x, place in enumerate(places, 1))
        rows.append(QuiltRow(node.line, read))
    return tuple(rows)


class _PlaceReader:
    def __init__(self, reading: Reading, known: Known) -> None:
        self._reading = reading
        self._known = known
        self._places: dict[str, _Place] = {}  # by their texts

    def read(self, node: Node, where: str) -> BlockHere | None:
        """One place: `pinwheel`, `pinwheel turn 90`, `{block: pinwheel, turn: 90, swap: {navy: coral}}`."""
        if isinstance(node, Keyed):
            return self._read_keys(node, where)
        if isinstance(node, Listed):
            words = "a place of the quilt holds one block, no list: its name, or { } with block, turn and swap"
            self._reading.add(node.line, where, words)
            return None
        text = read_text(self._reading, node, where, "the name of a block")
        if text is None:
            return None
        block, turn = self._read_place(text, node.line, where)
        return BlockHere(block, turn, (), node.line) if block is not None else None

    def _read_keys(self, node: Keyed, where: str) -> BlockHere | None:
        found = read_keys(self._reading, node, QUILT_BLOCK, where, node.line)
        if found is None:
            return None
        block, turn = None, 0
        entry = found.get("block")
        text = (
            None
            if entry is None
            else read_text(self._reading, entry.node, at(where, "block"), "its name, like pinwheel")
        )
        if entry is not None and text is not None:
            block, turn = self._read_place(text, entry.node.line, at(where, "block"))
        turned = found.get("turn")
        if turned is not None:
            by = read_choice(self._reading, turned.node, at(where, "turn"), TURNS)
            if turn:
                words = f"the block is turned twice, here and behind its name ({90 * turn}); keep one"
                self._reading.add(turned.line, at(where, "turn"), words)
            if by is None:
                block = None
            else:
                turn = TURNS.index(by) + 1
        swap = read_swap(self._reading, found.get("swap"), self._known.names, at(where, "swap"))
        return BlockHere(block, turn, swap, node.line) if block is not None else None

    def _read_place(self, text: str, line: int, where: str) -> tuple[str | None, int]:
        place = self._places.get(text)
        if place is None:
            place = self._places[text] = self._split(text)
        if place.wrong is not None:
            self._reading.add(line, where, place.wrong)
        return place.block, place.turn

    def _split(self, text: str) -> _Place:
        name, changes = split_changes(text)
        turn, wrong = _read_turn(changes)
        if not name:
            return _Place(None, 0, f"'{changes[0]}' needs the name of a block before it")
        if self._known.has_block(name):
            return _Place(name if wrong is None else None, turn, wrong)
        if "," in name:
            words = f"{quote(name)} is one place; put the blocks of a row in [ ], with commas between them"
            return _Place(None, 0, words)
        return _Place(None, 0, why_no_block(self._reading, name, self._known))


def _read_turn(words: tuple[str, ...]) -> tuple[int, str | None]:
    """Quarters, clockwise, out of the words behind a block's name, and what is wrong with them."""
    if not words:
        return 0, None
    if "mirrored" in words:
        return 0, _MIRRORED
    by = words[1] if len(words) > 1 else ""
    if by not in TURNS:
        return 0, f"behind a block comes {_TURN}; not {quote(' '.join(words))}"
    if len(words) > 2:
        return 0, f"{quote(' '.join(words[2:]))} can't stand here; behind a block comes {_TURN}, once"
    return TURNS.index(by) + 1, None
