"""The draft of a block, a part or a cell -> its record: a grid, patch by patch, or logs."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from planner.project import MOST_PATCHES, Cell, Cut, Draft, DraftHere, FabricHere, PartHere, Rows
from planner.reading.file_keys import DRAFT, DRAFT_KINDS, DraftKind, Keys
from planner.reading.names import Names, tidy_name
from planner.reading.read_cells import names_in_cell, read_cell
from planner.reading.read_keys import Entry, Found, Reading, at, has_grid, read_keys, read_list, read_measured
from planner.reading.read_logs import read_logs
from planner.reading.read_patches import read_patches
from planner.reading.read_yaml import Keyed, Listed, Node, Text, Unread

_ROW = "a row of cells in [ ]: [navy, shell]"
_NUMBERS = "numbers in [ ]: [1, 2, 1]"


class ReadDraft(NamedTuple):
    """A draft and the number of patches in it. Without a draft its faults are told, or those of a part in it."""

    draft: Draft | None
    patches: int


class _SizedCell(NamedTuple):
    cell: Cell | None
    patches: int
    wrong: tuple[str, ...]


class DraftReader:
    """Reads the drafts of one place of the file, where the same names are known."""

    def __init__(self, reading: Reading, names: Names, sizes: dict[int, int]) -> None:
        """`sizes` has the number of patches of each part that was read, by the part's id."""
        self._reading = reading
        self._names = names
        self._sizes = sizes
        self._cells: dict[str, _SizedCell] = {}  # by their texts

    def read(self, found: Found, keys: Keys, where: str) -> ReadDraft:
        """The one draft among the keys of a block, a part or a cell."""
        kinds = [kind for kind in DRAFT_KINDS if kind in found.entries]
        kinds.sort(key=lambda kind: list(found.entries).index(kind))
        self._check_kinds(found, keys, kinds, where)
        read = [self._read_kind(kind, found, keys, where) for kind in kinds]
        return read[0] if len(kinds) == 1 else ReadDraft(None, 0)

    def _check_kinds(self, found: Found, keys: Keys, kinds: list[DraftKind], where: str) -> None:
        if not kinds:
            if found.is_whole:
                self._reading.add(found.line, where, "a draft is missing: rows, patches or logs")
            return
        for kind in kinds[1:]:
            line = found.entries[kind].line
            self._reading.add(line, where, f"{kinds[0]} and {kind} are two drafts; keep one, or make the other a part")
        for key in keys.keys:
            if key.draft is not None and key.draft not in kinds and key.name in found.entries:
                words = f"{key.name} belongs to {key.draft}, not to {kinds[0]}; take it out"
                self._reading.add(found.entries[key.name].line, where, words)

    def _read_kind(self, kind: DraftKind, found: Found, keys: Keys, where: str) -> ReadDraft:
        if kind == "rows":
            return self._read_rows(found, where)
        if kind == "patches":
            patches = read_patches(self._reading, self._names, found, keys, where)
            return ReadDraft(patches, len(patches.patches) if patches is not None else 0)
        logs = read_logs(self._reading, self._names, found.entries["logs"], where)
        return ReadDraft(logs, 1 + len(logs.around) if logs is not None else 0)

    def _read_rows(self, found: Found, where: str) -> ReadDraft:
        entry = found.entries["rows"]
        nodes = read_list(self._reading, entry.node, at(where, "rows"), entry.line, f"a list of rows, each {_ROW}")
        rows: list[tuple[Cell | None, ...]] = []
        patches = 0
        for number, node in enumerate(nodes or (), 1):
            row_at = at(where, f"row {number}")
            cells = read_list(self._reading, node, row_at, node.line, _ROW)
            read = [self._read_cell(cell, f"{row_at}, cell {at_x}") for at_x, cell in enumerate(cells or (), 1)]
            rows.append(tuple(cell for cell, _ in read))
            patches += sum(count for _, count in read)
        columns = self._check_lengths(nodes or [], rows, where)
        widths = self._read_proportions(found.get("widths"), columns, "column", at(where, "widths"))
        heights = self._read_proportions(found.get("heights"), len(rows), "row", at(where, "heights"))
        if widths is None or heights is None or not rows:
            return ReadDraft(None, 0)
        whole = tuple(tuple(cell for cell in row if cell is not None) for row in rows)
        if any(len(row) != columns for row in whole) or not has_grid(self._reading, (*widths, *heights), entry, where):
            return ReadDraft(None, 0)
        return ReadDraft(Rows(whole, widths, heights), patches)

    def _check_lengths(self, nodes: list[Node], rows: list[tuple[Cell | None, ...]], where: str) -> int:
        """The number of columns: that of the first row."""
        columns = len(rows[0]) if rows else 0
        for number, (node, row) in enumerate(zip(nodes, rows, strict=True), 1):
            if row and columns and len(row) != columns:
                words = f"this row has {_count(len(row), 'cell')}, the first {columns}; all rows are equally long"
                self._reading.add(node.line, at(where, f"row {number}"), words)
        return columns

    def _read_cell(self, node: Node, where: str) -> tuple[Cell | None, int]:
        if isinstance(node, Text):
            read = self._cells.get(node.value)
            if read is None:
                cell, wrong = read_cell(node.value, self._names)
                read = _SizedCell(cell, _count_patches(cell, self._sizes) if cell is not None else 0, wrong)
                self._cells[node.value] = read
            for words in read.wrong:
                self._reading.add(node.line, where, words)
            return read.cell, read.patches
        if isinstance(node, Keyed):
            found = read_keys(self._reading, node, DRAFT, where, node.line)
            draft, patches = self.read(found, DRAFT, where) if found is not None else (None, 0)
            return (DraftHere(draft) if draft is not None else None), patches
        if isinstance(node, Listed):
            self._reading.add(node.line, where, "a cell is a text, or a draft in { }; no list")
        return None, 0

    def _read_proportions(self, entry: Entry | None, count: int, kind: str, where: str) -> tuple[Fraction, ...] | None:
        if entry is None:
            return (Fraction(1),) * count
        nodes = read_list(self._reading, entry.node, where, entry.line, _NUMBERS)
        if nodes is None:
            return None
        values = [read_measured(self._reading, node, where, "a number", self._reading.read_number) for node in nodes]
        if len(nodes) != count and count:
            words = f"{_count(len(nodes), 'number')} for {_count(count, kind)}; write one for each"
            self._reading.add(entry.node.line, where, words)
            return None
        kept = tuple(value for value in values if value is not None)
        return kept if len(kept) == len(nodes) else None


def names_in_draft(node: Node) -> Iterator[tuple[str, int]]:
    """The names in the cells of a draft, of drafts in its cells too, each with its line; whatever they name."""
    pairs = node.pairs if isinstance(node, Keyed) else []
    for key, rows in pairs:
        if tidy_name(key.value) != "rows" or not isinstance(rows, Listed):
            continue
        for row in rows.nodes:
            for cell in row.nodes if isinstance(row, Listed) else ():
                if isinstance(cell, Text):
                    for name in names_in_cell(cell.value):
                        yield name, cell.line
                elif not isinstance(cell, Unread):
                    yield from names_in_draft(cell)


def why_too_many(patches: int) -> str | None:
    """Why a draft can never be made, where it has more patches than a project may."""
    if patches <= MOST_PATCHES:
        return None
    return f"this has {patches:,} patches; a project has at most {MOST_PATCHES:,}"


def _count_patches(cell: Cell, sizes: dict[int, int]) -> int:
    """The patches in the cell of a text."""
    if isinstance(cell, FabricHere):
        return 1
    if isinstance(cell, PartHere):
        return sizes[id(cell.part)]
    if isinstance(cell, Cut):
        return _count_patches(cell.left, sizes) + _count_patches(cell.right, sizes)
    raise AssertionError("the cell of a text holds no draft")


def _count(number: int, kind: str) -> str:
    return f"{number} {kind}" if number == 1 else f"{number} {kind}s"
