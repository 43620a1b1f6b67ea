"""Sizes that no ruler shows: which cut sizes of a block fall between the lines, and the nearest block sizes whose
cut sizes do not."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, gcd, lcm
from typing import NamedTuple

from planner.blocks import Blocks, DraftedBlock
from planner.cut_prints import size_patch
from planner.cut_sizes import Length, Piece
from planner.measure import Root, Ruler
from planner.surd import ExactOutline, Surd, to_length

Size = tuple[Fraction, Fraction]


class OffRuler(NamedTuple):
    """A block, the cut sizes of it that lie between the lines, and the next smaller and larger size of the block at
    which none of these does (None where there is none from half to double the size, for a quilt, and for a size with a
    root). Apart from them those with a root, which lie between the lines at any such size: as they are cut, rounded."""

    block: str
    size: tuple[Fraction | Root, Fraction | Root]
    cut: tuple[Fraction, ...]
    smaller: Size | None
    larger: Size | None
    rooted: tuple[Fraction, ...] = ()


def find_off_ruler(blocks: Blocks, seam: Fraction, ruler: Ruler) -> tuple[OffRuler, ...]:
    """One entry for each block (by name) that has such sizes, in order. `seam` is the allowance in inches."""
    found: dict[str, OffRuler] = {}
    for block in blocks.drafted:
        if block.name not in found:
            off = _check_block(blocks, block, seam, ruler)
            if off is not None:
                found[block.name] = off
    return tuple(found.values())


def _check_block(blocks: Blocks, block: DraftedBlock, seam: Fraction, ruler: Ruler) -> OffRuler | None:
    ruled: set[tuple[Fraction, Fraction]] = set()
    with_root: set[Fraction] = set()
    for outline, is_askew, up in _outlines(blocks, block):
        for finished, cut in _ruled_sizes(size_patch(outline, seam, is_askew, up)):
            if isinstance(finished, Root):
                with_root.add(cut)
            else:
                ruled.add((finished, cut))
    off = tuple(sorted({cut for _, cut in ruled if not ruler.is_on(cut)}))
    rooted = tuple(sorted(with_root))
    if not off and not rooted:
        return None
    if block.is_top:  # strips are as wide as they are, however large the rest
        wide, high = blocks.quilt_size
        return OffRuler(block.name, (to_length(wide), to_length(high)), off, None, None, rooted)
    width, height = blocks.inches(block.width), blocks.inches(block.height)
    if not off or isinstance(width, Surd) or isinstance(height, Surd):
        return OffRuler(block.name, (to_length(width), to_length(height)), off, None, None, rooted)
    # Each size is a share of the block's width and something fixed: share * width + fixed
    terms = {(finished / width, cut - finished) for finished, cut in ruled}
    smaller, larger = (
        None if wide is None else (wide, wide * height / width) for wide in _nearest_widths(terms, width, ruler.mark)
    )
    return OffRuler(block.name, (width, height), off, smaller, larger, rooted)


def _outlines(blocks: Blocks, block: DraftedBlock) -> set[tuple[ExactOutline, bool, int]]:
    """The outlines of a block's patches, in inches, whether they are askew, and where their prints point; of a quilt
    those of no block."""
    shapes = set()
    patches = block.patches
    if block.is_top and blocks.top is not None:
        patches = tuple(patches[piece.first] for piece in blocks.top.pieces if piece.block < 0)
    for patch in patches:
        left, top = patch.outline[0]
        shapes.add((tuple((x - left, y - top) for x, y in patch.outline), patch.askew, patch.up))
    return {(blocks.outline_inches(shape), is_askew, up) for shape, is_askew, up in shapes}


def _ruled_sizes(piece: Piece) -> Iterator[tuple[Length, Fraction]]:
    """What the ruler must show, finished and cut: of a quarter-square triangle the square it comes from. Outlines
    that are cut by a template have no such size."""
    if piece.shape != "other":
        yield from list(zip(piece.finished, piece.cut, strict=True))[piece.shape == "quarter-square triangle" :]


def _nearest_widths(
    terms: set[tuple[Fraction, Fraction]], width: Fraction, mark: Fraction
) -> tuple[Fraction | None, Fraction | None]:
    """The widths next below and above `width` at which share * width + fixed is a multiple of `mark` for every term."""
    # width = (k * mark - fixed) / share: a congruence for each term, made whole by a common denominator
    steps = [(mark / share, -fixed / share) for share, fixed in terms]
    whole = lcm(*(value.denominator for step in steps for value in step))
    start, period = 0, 1
    for step, offset in sorted(steps):
        combined = _combine(start, period, int(offset * whole), int(step * whole))
        if combined is None:
            return None, None
        start, period = combined
    place = (width * whole - start) / period
    small = Fraction(start + (ceil(place) - 1) * period, whole)
    large = Fraction(start + (place // 1 + 1) * period, whole)
    return (small if 2 * small >= width else None), (large if large <= 2 * width else None)


def _combine(first: int, first_period: int, second: int, second_period: int) -> tuple[int, int] | None:
    """All numbers that are `first` modulo its period and `second` modulo its own, as one such pair."""
    both = gcd(first_period, second_period)
    if (second - first) % both:
        return None
    period = first_period // both * second_period
    steps = (second - first) // both * pow(first_period // both, -1, second_period // both)
    return (first + steps * first_period) % period, period
