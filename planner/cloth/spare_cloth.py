"""Cloth of which strips are ruined -> what is to spare, and whether it is enough."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

from planner.cloth.cloth import FabricCloth
from planner.cloth.cut_strips import StripCut
from planner.cloth.name_rectangle import spell_size
from planner.cloth.place_pieces import measure_strips
from planner.cloth.round_length import YARD
from planner.measure import INCHES_PER_CM, Ruler


def find_spare(one: FabricCloth) -> Fraction:
    """Inches of washed cloth that what is bought has beyond the layout and the squared end; the shorter of the two
    lengths that it may be bought by."""
    bought = one.bought
    if not bought.layout:
        return Fraction(0)
    length = min(bought.buy.yards * YARD, bought.buy.metres * 100 * INCHES_PER_CM)
    return length * (1 - one.fabric.shrinkage) - bought.end - bought.layout


def find_spare_beside(cut: StripCut) -> Fraction:
    """The same of what strips are cut from: cloth that is bought, or a piece of the stock."""
    stock = cut.stock
    if stock is None:
        return find_spare(cut.cloth)
    return (stock.wide if stock.is_turned else stock.high) - measure_strips(stock.strips)


def say_ruined(cut: StripCut, ruined: Fraction, ruler: Ruler) -> str:
    """After a strip is ruined, with `ruined` inches of strips in all from the same cloth or piece: how much that is,
    and whether what is there is enough."""
    more = f"{'length' if cut.is_long else 'strip'} of {_size(cut.wide, ruler)}"
    if cut.stock is None:
        return f"1 {more} more: {say_share(find_spare(cut.cloth), ruined, ruler)}"
    spare = find_spare_beside(cut)
    if ruined <= spare:
        return f"1 {more} more: piece {cut.piece} has it beside its strips"
    return f"1 {more} more: piece {cut.piece} has no more for it; {_size(cut.wide, ruler)} of other cloth is needed"


def say_share(spare: Fraction, ruined: Fraction, ruler: Ruler) -> str:
    """How ruined strips and what is to spare of bought cloth go together."""
    if ruined > spare:
        beyond = ceil((ruined - max(spare, Fraction(0))) / ruler.step) * ruler.step
        return f"{_size(beyond, ruler)} beyond what was to be bought"
    return f"{_size(ruined, ruler)} of the spare {_size(floor(spare / ruler.step) * ruler.step, ruler)}; still enough"


def _size(length: Fraction, ruler: Ruler) -> str:
    return f"{spell_size(ruler, length)} {ruler.measure}"
