"""Mattresses, the quilt that covers one, and the blocks that fill it."""

from __future__ import annotations

from fractions import Fraction
from math import floor
from typing import NamedTuple

Size = tuple[Fraction, Fraction]


class Bed(NamedTuple):
    """A mattress in inches, where its size is from, and other sizes that go by the same name."""

    name: str
    wide: Fraction
    long: Fraction
    source: str
    others: str = ""
    hangs: bool = True  # whether a quilt on it hangs down at the sides
    pillows: Fraction = Fraction(15)  # inches at the head that pillows take, where blocks lie on the mattress alone


_TABLE = "mattress sizes of sizes.com and thesprucecrafts.com"
_CRIBS = "crib mattresses of sizes.com"
_OWN = "three by three blocks of 12, common practice, no source"
BEDS = (
    Bed("crib", Fraction(28), Fraction(52), _CRIBS, "27 x 52 in; the crib inside 28 x 52 3/8 in", hangs=False),
    Bed("lap", Fraction(36), Fraction(36), _OWN, hangs=False, pillows=Fraction(0)),
    Bed("twin", Fraction(39), Fraction(75), _TABLE, "37 1/2 or 38 in wide"),
    Bed("long twin", Fraction(39), Fraction(80), _TABLE, "36 in wide"),
    Bed("double", Fraction(54), Fraction(75), _TABLE),
    Bed("queen", Fraction(60), Fraction(80), _TABLE),
    Bed("king", Fraction(76), Fraction(80), _TABLE, "78 or 79 in wide"),
    Bed("california king", Fraction(72), Fraction(84), _TABLE),
)
BED_NAMES = tuple(bed.name for bed in BEDS)


class Filled(NamedTuple):
    """So many blocks across and down, what they measure with the strips between them, and how wide a border has to be
    at each side (left and right; above and below) to make up the rest. Inches."""

    across: int
    down: int
    size: Size
    borders: Size

    @property
    def blocks(self) -> int:
        return self.across * self.down


def find_bed(name: str) -> Bed:
    """The mattress of this name. KeyError for another."""
    for bed in BEDS:
        if bed.name == name:
            return bed
    raise KeyError(name)


def cover_mattress(mattress: Size, drop: Fraction, tuck: Fraction = Fraction(0)) -> Size:
    """The quilt that hangs down by `drop` at both sides and at the foot, and is longer by `tuck` at the pillows."""
    return mattress[0] + 2 * drop, mattress[1] + drop + tuck


def find_drop(mattress: Size, quilt: Size, tuck: Fraction = Fraction(0)) -> Size:
    """How far a quilt hangs down at each side and at the foot; below 0 where it does not reach the edge."""
    return (quilt[0] - mattress[0]) / 2, quilt[1] - mattress[1] - tuck


def fill_quilt(quilt: Size, block: Size, sashing: Fraction = Fraction(0)) -> Filled:
    """As many whole blocks as go into a quilt of this size, with strips between them; at least one."""
    counts = [max(1, floor((side + sashing) / (one + sashing))) for side, one in zip(quilt, block, strict=True)]
    size = tuple(lay_blocks(count, one, sashing, False, Fraction(0)) for count, one in zip(counts, block, strict=True))
    borders = tuple(max(Fraction(0), side - laid) / 2 for side, laid in zip(quilt, size, strict=True))
    return Filled(counts[0], counts[1], (size[0], size[1]), (borders[0], borders[1]))


def fill_top(bed: Bed, block: Size) -> Filled:
    """As many whole blocks as lie on the mattress itself, below the pillows. A border then makes up what hangs down;
    its widths here are what of the mattress is left."""
    return fill_quilt((bed.wide, bed.long - bed.pillows), block)


def lay_blocks(count: int, block: Fraction, sashing: Fraction, is_framed: bool, border: Fraction) -> Fraction:
    """One side of a top: blocks in a row, strips between them (where it is framed, outside too), a border all round."""
    strips = count + 1 if is_framed else count - 1
    return count * block + strips * sashing + 2 * border
