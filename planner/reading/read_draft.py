"""The draft of a block, a part or a cell -> its record: a grid, logs, or patches in a box, however they are told."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from planner.project import MOST_PATCHES, Cell, Cut, Draft, DraftHere, FabricHere, Logs, PartHere, Patches, Rows
from planner.reading.collect_faults import spell_count
from planner.reading.file_keys import DRAFT, DRAFT_KINDS, DraftKind, Keys
from planner.reading.names import Names, tidy_name
from planner.reading.read_cells import names_in_cell, read_cell
from planner.reading.read_keys import Entry, Found, Reading, at, has_grid, read_keys, read_list, spell_choices
from planner.reading.read_lines import read_lines
from planner.reading.read_logs import read_logs
from planner.reading.read_patches import read_patches
from planner.reading.read_proportions import read_proportions
from planner.reading.read_rooted import read_hexagons, read_ring
from planner.reading.read_strips import read_strips
from planner.reading.read_units import read_geese, read_snowball, read_square
from planner.reading.read_yaml import Keyed, Listed, Node, Text, Unread

_ROW = "a row of cells in [ ]: [navy, shell]"

# what reads a draft that stands behind one key
_READERS: dict[DraftKind, Callable[[Reading, Names, Entry, str], Rows | Patches | Logs | None]] = {
    "strips": read_strips,
    "logs": read_logs,
    "geese": read_geese,
    "square": read_square,
    "snowball": read_snowball,
    "ring": read_ring,
    "hexagons": read_hexagons,
}


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
                self._reading.add(found.line, where, f"a draft is missing: {spell_choices(DRAFT_KINDS)}")
            return
        for kind in kinds[1:]:
            line = found.entries[kind].line
            self._reading.add(line, where, f"{kinds[0]} and {kind} are two drafts; keep one, or make the other a part")
        for key in keys.keys:
            if key.drafts and key.name in found.entries and not any(kind in kinds for kind in key.drafts):
                words = f"{key.name} belongs to {' and '.join(key.drafts)}, not to {kinds[0]}; take it out"
                self._reading.add(found.entries[key.name].line, where, words)

    def _read_kind(self, kind: DraftKind, found: Found, keys: Keys, where: str) -> ReadDraft:
        if kind == "rows":
            return self._read_rows(found, where)
        if kind == "patches":
            draft: Rows | Patches | Logs | None = read_patches(self._reading, self._names, found, keys, where)
        elif kind == "lines":
            draft = read_lines(self._reading, self._names, found, keys, where)
        else:
            draft = _READERS[kind](self._reading, self._names, found.entries[kind], where)
        return ReadDraft(draft, _count_drawn(draft) if draft is not None else 0)

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
        widths = read_proportions(self._reading, found.get("widths"), columns, "column", at(where, "widths"))
        heights = read_proportions(self._reading, found.get("heights"), len(rows), "row", at(where, "heights"))
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
                words = f"this row has {spell_count(len(row), 'cell')}, the first {columns}; all rows are equally long"
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


def _count_drawn(draft: Rows | Patches | Logs) -> int:
    """The patches of a draft without parts."""
    if isinstance(draft, Patches):
        return len(draft.patches)
    return 1 + len(draft.around) if isinstance(draft, Logs) else len(draft.rows) * len(draft.widths)


def _count_patches(cell: Cell, sizes: dict[int, int]) -> int:
    """The patches in the cell of a text."""
    if isinstance(cell, FabricHere):
        return 1
    if isinstance(cell, PartHere):
        return sizes[id(cell.part)]
    if isinstance(cell, Cut):
        return _count_patches(cell.left, sizes) + _count_patches(cell.right, sizes)
    raise AssertionError("the cell of a text holds no draft")
