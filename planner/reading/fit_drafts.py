"""Drafts that are not stretched in what they are put into: where the proportions of the two are not the same."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from planner.project import Block, Cell, Cut, Draft, DraftHere, PartHere, Patches, Rows
from planner.surd import Exact, ExactPoint, divide


class Misfit(NamedTuple):
    """A draft that would have to be stretched, and how wide and high the place is that it is put into, as the draft
    lies in it, in inches. `cell` says where in the block: `row 1, cell 2`; nothing for the block as a whole."""

    draft: Patches
    place: ExactPoint
    cell: str


def find_misfits(block: Block) -> list[Misfit]:
    """The misfits of a block, each draft in each size of place once."""
    found: dict[tuple[int, Exact, Exact], Misfit] = {}
    for misfit in _walk(block.draft, block.width, block.height, "", {}):
        found.setdefault((id(misfit.draft), *misfit.place), misfit)
    return list(found.values())


def _walk(draft: Draft, wide: Exact, high: Exact, cell: str, known: dict[int, bool]) -> Iterator[Misfit]:
    if isinstance(draft, Patches):
        if draft.keeps_shape and draft.box[0] * high != draft.box[1] * wide:
            yield Misfit(draft, (wide, high), cell)
    elif isinstance(draft, Rows) and _has_any(draft, known):
        all_wide, all_high = sum(draft.widths[1:], draft.widths[0]), sum(draft.heights[1:], draft.heights[0])
        for row, (cells, height) in enumerate(zip(draft.rows, draft.heights, strict=True), 1):
            for column, (inside, width) in enumerate(zip(cells, draft.widths, strict=True), 1):
                place = f"{cell}, row {row}, cell {column}" if cell else f"row {row}, cell {column}"
                across, down = wide * divide(width, all_wide), high * divide(height, all_high)
                yield from _walk_cell(inside, across, down, place, known)


def _walk_cell(cell: Cell, wide: Exact, high: Exact, place: str, known: dict[int, bool]) -> Iterator[Misfit]:
    if isinstance(cell, Cut):
        # only the stroke down the middle leaves halves that a part fits into
        if cell.stroke == "|":
            for half in (cell.left, cell.right):
                yield from _walk_cell(half, divide(wide, 2), high, place, known)
    elif isinstance(cell, DraftHere):
        yield from _walk(cell.draft, wide, high, place, known)
    elif isinstance(cell, PartHere):
        if any(change in ("turn 90", "turn 270") for change in cell.changes):
            wide, high = high, wide
        yield from _walk(cell.part.draft, wide, high, place, known)


def _has_any(draft: Draft, known: dict[int, bool]) -> bool:
    """Whether there is any draft inside that is not stretched; asked of each draft once."""
    if id(draft) not in known:
        known[id(draft)] = (
            draft.keeps_shape
            if isinstance(draft, Patches)
            else isinstance(draft, Rows) and any(_has_any_in(cell, known) for row in draft.rows for cell in row)
        )
    return known[id(draft)]


def _has_any_in(cell: Cell, known: dict[int, bool]) -> bool:
    if isinstance(cell, Cut):
        return _has_any_in(cell.left, known) or _has_any_in(cell.right, known)
    if isinstance(cell, DraftHere):
        return _has_any(cell.draft, known)
    return isinstance(cell, PartHere) and _has_any(cell.part.draft, known)
