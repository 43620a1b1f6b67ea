"""Do the blocks of a quilt fit side by side, and if not, which does not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from planner.project import BlockHere
from planner.reading.known import Known
from planner.reading.read_keys import Reading
from planner.reading.read_quilt_rows import QuiltRow
from planner.surd import Exact


class _Sized(NamedTuple):
    """A block in its place, as it lies there; `row` and `column` from 1."""

    row: int
    column: int
    words: str  # as it is written: `wave turn 90`
    width: Exact
    height: Exact
    line: int

    @property
    def where(self) -> str:
        return f"quilt, row {self.row}, block {self.column}"


class _Misfit(NamedTuple):
    """A block in its place that is as wide or as high as it should not be, and one near it that is as it should be."""

    block: _Sized
    usual: _Sized


def fit_straight(reading: Reading, rows: Sequence[QuiltRow], known: Known) -> None:
    """Tell rows of unequal length, blocks that are not as high as their row, and not as wide as their column.

    A block that does not fit is told once, however often it stands in the quilt.
    """
    long = _tell_lengths(reading, rows)
    lengths = known.lengths
    if lengths.measure is None:
        return
    sized = _size_rows(rows, known)
    every = [block for places in sized for block in places if block is not None]
    high: list[_Misfit] = []
    wide: list[_Misfit] = []
    columns: list[list[_Sized]] = [[] for _ in range(long)]
    for places in sized:
        here = [block for block in places if block is not None]
        high += _find_odd(here, _height, every)
        if len(places) == long:  # in a row that lacks a block the next ones stand in the wrong column
            for column, place in zip(columns, places, strict=True):
                column += [place] if place is not None else []
    for column in columns:
        wide += _find_odd(column, _width, every)
    for (block, usual), more in _gather(high, _height):
        words = f"{block.words} is {lengths.spell(block.height)} high, {usual.words} in this row"
        words = f"{words} {lengths.spell(usual.height)}; the blocks of a row are equally high"
        reading.add(block.line, block.where, f"{words}{_also(more)}")
    for (block, usual), more in _gather(wide, _width):
        words = f"{block.words} is {lengths.spell(block.width)} wide, {usual.words} in this column"
        words = f"{words} {lengths.spell(usual.width)}; the blocks of a column are equally wide"
        reading.add(block.line, block.where, f"{words}{_also(more)}")


def _tell_lengths(reading: Reading, rows: Sequence[QuiltRow]) -> int:
    """Tell the rows that are not as long as most, or as the first where as many are as long. Says how long that is."""
    counts = Counter(len(row.blocks) for row in rows if row.blocks)
    if not counts:
        return 0
    long, most = counts.most_common(1)[0]
    first = len(rows[0].blocks)
    is_first = not first or most == counts[first]
    long = first if first and is_first else long
    for number, row in enumerate(rows, 1):
        if row.blocks and len(row.blocks) != long:
            words = f"this row has {_count(len(row.blocks))}, {'the first' if is_first else 'most have'} {long}"
            reading.add(row.line, f"quilt, row {number}", f"{words}; all rows are equally long")
    return long


def fit_on_point(reading: Reading, rows: Sequence[QuiltRow], known: Known) -> None:
    """Tell rows that do not interlock, and blocks that are not square or not of one size."""
    _check_interlocking(reading, rows)
    lengths = known.lengths
    if lengths.measure is None:
        return
    here = [block for row in _size_rows(rows, known) for block in row if block is not None]
    odd = [_Misfit(block, block) for block in here if block.width != block.height]
    for (block, _), more in _gather(odd, lambda block: (block.width, block.height)):
        words = f"{block.words} is {lengths.spell(block.width, block.height)}; on point all blocks are square"
        reading.add(block.line, block.where, f"{words}{_also(more)}")
    square = [block for block in here if block.width == block.height]
    for (block, usual), more in _gather(_find_odd(square, _width, square), _width):
        words = f"{block.words} is {lengths.spell(block.width)}, {usual.words} {lengths.spell(usual.width)}"
        reading.add(block.line, block.where, f"{words}; on point all blocks are of one size{_also(more)}")


def _check_interlocking(reading: Reading, rows: Sequence[QuiltRow]) -> None:
    if len(rows) < 2 or not all(row.blocks for row in rows):
        return
    long = len(rows[0].blocks)
    if long == 1:
        words = "on point long rows and rows with one block less lie in turn, and below one block there is none"
        reading.add(rows[1].line, "quilt, row 2", f"{words}; write one row, or a longer first one")
        return
    for number, row in enumerate(rows, 1):
        wanted = long - 1 if number % 2 == 0 else long
        if len(row.blocks) != wanted:
            words = f"this row has {_count(len(row.blocks))} and must have {wanted}; on point the rows have"
            words = f"{words} {long} and {long - 1} in turn, the first and the last the longer"
            reading.add(row.line, f"quilt, row {number}", words)
    if len(rows) % 2 == 0:
        words = f"on point the last row is a long one, so the rows are {len(rows) - 1} or {len(rows) + 1}"
        reading.add(rows[-1].line, f"quilt, row {len(rows)}", f"{words}, not {len(rows)}")


def _size_rows(rows: Sequence[QuiltRow], known: Known) -> list[list[_Sized | None]]:
    sized = []
    for number, row in enumerate(rows, 1):
        sized.append([_size(here, known, number, at_x) for at_x, here in enumerate(row.blocks, 1)])
    return sized


def _size(here: BlockHere | None, known: Known, row: int, column: int) -> _Sized | None:
    block = known.find_block(here.block) if here is not None else None
    if here is None or block is None:
        return None
    words = f"{here.block} turn {90 * here.turn}" if here.turn else here.block
    width, height = (block.height, block.width) if here.turn % 2 else (block.width, block.height)
    return _Sized(row, column, words, width, height, here.line)


def _width(block: _Sized) -> Exact:
    return block.width


def _height(block: _Sized) -> Exact:
    return block.height


def _find_odd(blocks: Sequence[_Sized], size: Callable[[_Sized], Exact], every: Sequence[_Sized]) -> Iterator[_Misfit]:
    """The blocks that have not the size of most, each with one that has.

    Where as many have another, it is the size that more of `every` block have, then the one that is met first there:
    so that it is the same in all rows.
    """
    if not blocks:
        return
    here = Counter(map(size, blocks))
    if len(here) == 1:
        return
    quilt = Counter(map(size, every))  # as they are met: the first of equals is the first there
    most = max(here.values())
    usual_size = max((one for one in quilt if here[one] == most), key=lambda one: quilt[one])
    usual = next(block for block in blocks if size(block) == usual_size)
    for block in blocks:
        if size(block) != usual_size:
            yield _Misfit(block, usual)


def _gather(misfits: Iterable[_Misfit], size: Callable[[_Sized], object]) -> Iterator[tuple[_Misfit, int]]:
    """The first of those that are one mistake, in the order of their places, and how many more there are."""
    found: dict[object, list[_Misfit]] = {}
    for misfit in sorted(misfits, key=lambda one: (one.block.row, one.block.column)):
        key = (misfit.block.words, size(misfit.block), size(misfit.usual))
        found.setdefault(key, []).append(misfit)
    for alike in found.values():
        yield alike[0], len(alike) - 1


def _also(more: int) -> str:
    return "" if not more else f" (and in {more} more place{'' if more == 1 else 's'})"


def _count(blocks: int) -> str:
    return f"{blocks} block" if blocks == 1 else f"{blocks} blocks"
