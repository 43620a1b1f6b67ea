"""Drafts in a box, in every place of a block that they are put into; and those that are not stretched, where the
proportions of the two are not the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import NamedTuple

from planner.project import Block, Cell, Cut, Draft, DraftHere, PartHere, Patches, Rows
from planner.surd import Exact, ExactPoint, divide


class PlacedDraft(NamedTuple):
    """A draft in a box, and how wide and high the place is that it is put into, as the draft lies in it, in inches.
    `cell` says where in the block: `row 1, cell 2`; nothing for the block as a whole."""

    draft: Patches
    place: ExactPoint
    cell: str


def find_misfits(block: Block) -> list[PlacedDraft]:
    """The drafts of a block that would have to be stretched, each in each size of place once."""
    return [
        placed
        for placed in walk_drafts(block, lambda draft: draft.keeps_shape)
        if placed.draft.box[0] * placed.place[1] != placed.draft.box[1] * placed.place[0]
    ]


def walk_drafts(block: Block, is_wanted: Callable[[Patches], bool]) -> Iterator[PlacedDraft]:
    """The drafts of a block that are wanted, each in each size of place once, in reading order."""
    yield from _Walk(is_wanted).walk(block.draft, block.width, block.height, "")


class _Walk:
    """Goes through the drafts of one block; what is in it is asked of each draft once, and looked at in each size."""

    def __init__(self, is_wanted: Callable[[Patches], bool]) -> None:
        self._is_wanted = is_wanted
        self._known: dict[int, bool] = {}
        self._passed: set[tuple[int, Exact, Exact]] = set()

    def walk(self, draft: Draft, wide: Exact, high: Exact, cell: str) -> Iterator[PlacedDraft]:
        if not self._has_any(draft) or (id(draft), wide, high) in self._passed:
            return
        self._passed.add((id(draft), wide, high))
        if isinstance(draft, Patches):
            yield PlacedDraft(draft, (wide, high), cell)
        elif isinstance(draft, Rows):
            all_wide, all_high = sum(draft.widths[1:], draft.widths[0]), sum(draft.heights[1:], draft.heights[0])
            for row, (cells, height) in enumerate(zip(draft.rows, draft.heights, strict=True), 1):
                for column, (inside, width) in enumerate(zip(cells, draft.widths, strict=True), 1):
                    place = f"{cell}, row {row}, cell {column}" if cell else f"row {row}, cell {column}"
                    across, down = wide * divide(width, all_wide), high * divide(height, all_high)
                    yield from self._walk_cell(inside, across, down, place)

    def _walk_cell(self, cell: Cell, wide: Exact, high: Exact, place: str) -> Iterator[PlacedDraft]:
        if isinstance(cell, Cut):
            # only the stroke down the middle leaves halves that a part fits into
            if cell.stroke == "|":
                for half in (cell.left, cell.right):
                    yield from self._walk_cell(half, divide(wide, 2), high, place)
        elif isinstance(cell, DraftHere):
            yield from self.walk(cell.draft, wide, high, place)
        elif isinstance(cell, PartHere):
            if any(change in ("turn 90", "turn 270") for change in cell.changes):
                wide, high = high, wide
            yield from self.walk(cell.part.draft, wide, high, place)

    def _has_any(self, draft: Draft) -> bool:
        """Whether there is any draft inside that is wanted."""
        if id(draft) not in self._known:
            self._known[id(draft)] = (
                self._is_wanted(draft)
                if isinstance(draft, Patches)
                else isinstance(draft, Rows) and any(self._has_any_in(cell) for row in draft.rows for cell in row)
            )
        return self._known[id(draft)]

    def _has_any_in(self, cell: Cell) -> bool:
        if isinstance(cell, Cut):
            return self._has_any_in(cell.left) or self._has_any_in(cell.right)
        if isinstance(cell, DraftHere):
            return self._has_any(cell.draft)
        return isinstance(cell, PartHere) and self._has_any(cell.part.draft)
