"""How many patches a quilt has, before it is laid out: its blocks, and what lies between and round them."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from planner.project import WIDEST_CLOTH, BlockHere, Quilt
from planner.reading.known import Known
from planner.surd import DIAGONAL, Exact, Surd

_Size = tuple[Exact, Exact]


def count_quilt_patches(quilt: Quilt, known: Known) -> int:
    """All patches; a strip that is longer than its fabric is wide is pieced, and counted so."""
    count = sum(known.count_patches(here.block) for row in quilt.rows for here in row)
    widths = [_size(here, known)[0] for here in quilt.rows[0]]
    heights = [_size(row[0], known)[1] for row in quilt.rows]
    width: Exact = sum(widths, Fraction(0))
    height: Exact = sum(heights, Fraction(0))
    if quilt.layout == "on point":
        count += 2 * (len(widths) - 1) + 2 * (len(heights) // 2) + 4  # above and below, at the sides, in the corners
        if not isinstance(widths[0], Surd) or widths[0].of == DIAGONAL.of:
            # as many diagonals of a block across, and half as many down as there are rows and one more
            width = len(widths) * widths[0] * DIAGONAL
            height = (len(heights) + 1) * widths[0] * DIAGONAL / 2
    if quilt.sashing is not None:
        sash = quilt.sashing.width
        width, height = width + sash * (len(widths) - 1), height + sash * (len(heights) - 1)
        count += _count_sashing(quilt, widths, heights, width, known)
    for border in quilt.borders:
        beyond = width if border.posts is not None else width + 2 * border.width
        lengths = (height if not border.mitred else height + 2 * border.width, beyond)
        # The points of slanting ends reach out farther than straight ends do
        beyond_ends = 5 if border.mitred else 2
        count += 2 * sum(_count_pieces(one, border.width, border.fabric, known, beyond_ends) for one in lengths)
        if border.posts is not None:
            count += 4 * _count_pieces(border.width, border.width, border.posts, known)
        width, height = width + 2 * border.width, height + 2 * border.width
    return count


def _count_sashing(quilt: Quilt, widths: list[Exact], heights: list[Exact], width: Exact, known: Known) -> int:
    sashing = quilt.sashing
    if sashing is None:
        return 0
    upright = sum(_count_pieces(height, sashing.width, sashing.fabric, known) for height in heights)
    if sashing.posts is None:
        level = _count_pieces(width, sashing.width, sashing.fabric, known)
    else:
        level = sum(_count_pieces(side, sashing.width, sashing.fabric, known) for side in widths)
        level += (len(widths) - 1) * _count_pieces(sashing.width, sashing.width, sashing.posts, known)
    return upright * (len(widths) - 1) + level * (len(heights) - 1)


def _count_pieces(length: Exact, width: Fraction, fabric: str, known: Known, allowances: int = 2) -> int:
    """From how many pieces a strip is sewn: along its longer side none is longer, with so many allowances, than the
    fabric is wide."""
    longest = known.usable.get(fabric, WIDEST_CLOTH) - allowances * (known.lengths.seam or 0)
    return ceil(max(length, width) / longest) if longest > 0 else 1


def _size(here: BlockHere, known: Known) -> _Size:
    """The finished size of a block as it lies; none where it could not be read."""
    block = known.find_block(here.block)
    if block is None:
        return Fraction(0), Fraction(0)
    return (block.height, block.width) if here.turn % 2 else (block.width, block.height)
