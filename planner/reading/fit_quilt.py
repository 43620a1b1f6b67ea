"""Do the blocks of a quilt fit side by side, and if not, which does not."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.project import BlockHere
from planner.reading.known import Known
from planner.reading.read_keys import Reading
from planner.reading.read_quilt_rows import QuiltRow


class _Sized(NamedTuple):
    """A block in its place, as it lies there."""

    words: str  # as it is written: `wave turn 90`
    width: Fraction
    height: Fraction
    line: int
    where: str


def fit_straight(reading: Reading, rows: Sequence[QuiltRow], known: Known) -> None:
    """Tell rows of unequal length, blocks that are not as high as their row, and not as wide as their column."""
    for number, row in enumerate(rows, 1):
        if row.blocks and rows[0].blocks and len(row.blocks) != len(rows[0].blocks):
            words = f"this row has {_count(len(row.blocks))}, the first {len(rows[0].blocks)}"
            reading.add(row.line, f"quilt, row {number}", f"{words}; all rows are equally long")
    lengths = known.lengths
    if lengths.measure is None:
        return
    sized = _size_rows(rows, known)
    columns: list[list[_Sized]] = [[] for _ in range(max(map(len, sized), default=0))]
    for places in sized:
        here = [block for block in places if block is not None]
        for column, place in zip(columns, places, strict=False):
            column += [place] if place is not None else []
        for block, usual in _find_odd(here, [block.height for block in here]):
            words = f"{block.words} is {lengths.spell(block.height)} high, {usual.words} in this row"
            words = f"{words} {lengths.spell(usual.height)}; the blocks of a row are equally high"
            reading.add(block.line, block.where, words)
    for here in columns:
        for block, usual in _find_odd(here, [block.width for block in here]):
            words = f"{block.words} is {lengths.spell(block.width)} wide, {usual.words} in this column"
            words = f"{words} {lengths.spell(usual.width)}; the blocks of a column are equally wide"
            reading.add(block.line, block.where, words)


def fit_on_point(reading: Reading, rows: Sequence[QuiltRow], known: Known) -> None:
    """Tell rows that do not interlock, and blocks that are not square or not of one size."""
    _check_interlocking(reading, rows)
    lengths = known.lengths
    if lengths.measure is None:
        return
    here = [block for row in _size_rows(rows, known) for block in row if block is not None]
    for block in here:
        if block.width != block.height:
            words = f"{block.words} is {lengths.spell(block.width, block.height)}; on point all blocks are square"
            reading.add(block.line, block.where, words)
    square = [block for block in here if block.width == block.height]
    for block, usual in _find_odd(square, [block.width for block in square]):
        words = f"{block.words} is {lengths.spell(block.width)}, {usual.words} {lengths.spell(usual.width)}"
        reading.add(block.line, block.where, f"{words}; on point all blocks are of one size")


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
        places = enumerate(row.blocks, 1)
        sized.append([_size(here, known, f"quilt, row {number}, block {at_x}") for at_x, here in places])
    return sized


def _size(here: BlockHere | None, known: Known, where: str) -> _Sized | None:
    block = known.find_block(here.block) if here is not None else None
    if here is None or block is None:
        return None
    words = f"{here.block} turn {90 * here.turn}" if here.turn else here.block
    width, height = (block.height, block.width) if here.turn % 2 else (block.width, block.height)
    return _Sized(words, width, height, here.line, where)


def _find_odd(blocks: list[_Sized], sizes: list[Fraction]) -> list[tuple[_Sized, _Sized]]:
    """The blocks that have not the size of most (of the first, where as many have another), each with one that has."""
    if not sizes:
        return []
    most = Counter(sizes).most_common(1)[0][0]
    usual = blocks[sizes.index(most)]
    return [(block, usual) for block, size in zip(blocks, sizes, strict=True) if size != most]


def _count(blocks: int) -> str:
    return f"{blocks} block" if blocks == 1 else f"{blocks} blocks"
