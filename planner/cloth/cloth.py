"""Plan -> all the cloth of it: what is cut from which fabric, how it lies there, and what to buy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from math import ceil
from types import MappingProxyType

from planner.cloth.buy import Bought, buy_length
from planner.cloth.choose_methods import change_rectangles
from planner.cloth.cut_by_method import choose_where_asked
from planner.cloth.lay_in_rows import lay_in_rows
from planner.cloth.lay_lengthwise import turn_lengthwise
from planner.cloth.lay_strips import lay_strips
from planner.cloth.place_pieces import Kinds, Strip, measure_strips
from planner.cloth.rectangles import Rectangle
from planner.cloth.use_stock import StockPiece, use_stock
from planner.fault import Fault
from planner.measure import Ruler
from planner.plan import Plan
from planner.project import SELVAGES, YARD_STEP, Fabric
from planner.reading.read_fabrics import WIDEST

MOST_ROWS = 4  # lengths of rows that are tried


@dataclass(frozen=True)
class FabricCloth:
    """One fabric. `strips` lie on cloth that is bought, from the squared end on, the widest first; no layout in strips
    is shorter than `at_least`. `stock` is what is there already. Lengths are inches on shrunk cloth."""

    fabric: Fabric
    rectangles: tuple[Rectangle, ...]
    strips: tuple[Strip, ...]
    at_least: Fraction
    stock: tuple[StockPiece, ...] = ()
    more: tuple[tuple[str, Fraction], ...] = ()  # what else is cut across its whole width: what for, and how long
    step: Fraction = YARD_STEP  # yards that a length to buy is rounded up to

    @property
    def width(self) -> Fraction:
        """As sold."""
        return self.fabric.width

    @cached_property
    def length(self) -> Fraction:
        return measure_strips(self.strips)

    @cached_property
    def bought(self) -> Bought:
        again = max(map(self._cut_again, self.strips), default=Fraction(0))  # whichever is spoiled
        length = self.length + sum(length for _, length in self.more)
        return buy_length(length, again, self.fabric.shrinkage, self.step)

    def _cut_again(self, strip: Strip) -> Fraction:
        """How long cloth must be for what is in a strip: as high as that is, or, of long pieces, lower where these can
        lie across."""
        low = Fraction(0)
        for run in strip.runs:
            short, long = sorted((run.wide, run.high))
            if not self.rectangles[run.rectangle].may_turn or long > self.fabric.usable:
                return strip.high
            low += short * ceil(run.pieces / (self.fabric.usable // long))
        return min(low, strip.high)

    @cached_property
    def area(self) -> Fraction:
        """Of all rectangles."""
        return sum((one.count * one.wide * one.high for one in self.rectangles), Fraction(0))

    @cached_property
    def missing(self) -> tuple[int, ...]:
        """How many of each rectangle do not come out of the stock."""
        counts = [0] * len(self.rectangles)
        for strip in self.strips:
            for run in strip.runs:
                counts[run.rectangle] += strip.times * run.pieces
        return tuple(counts)


@dataclass(frozen=True)
class Cloth:
    """All fabrics from which something is cut, in the order they are written."""

    plan: Plan
    fabrics: tuple[FabricCloth, ...]


def work_out_cloth(plan: Plan) -> tuple[Cloth | None, tuple[Fault, ...]]:
    """The cloth of a plan, or why there is none: what does not fit on its fabric."""
    rectangles = change_rectangles(plan, choose_where_asked(plan))
    lengths, kept = _find_finish(plan)
    found: list[FabricCloth] = []
    faults: list[Fault] = []
    for fabric in plan.project.fabrics:
        here = _list_of_fabric(fabric, rectangles)
        more = tuple((what, length) for name, what, length in lengths if name == fabric.name)
        if not here and not more:
            continue
        wrong = why_not_laid(fabric, here, Ruler(plan.project.measure))
        faults += wrong
        if not wrong:
            laid = lay_out_best(fabric, here, kept.get(fabric.name, {}))
            found.append(replace(laid, more=more, step=plan.project.yards))
    return (None, tuple(faults)) if faults else (Cloth(plan, tuple(found)), ())


def _find_finish(plan: Plan) -> tuple[tuple[tuple[str, str, Fraction], ...], dict[str, dict[int, str]]]:
    """What is cut from named fabrics beside the patches, and pieces of the stock that are kept for it."""
    if plan.project.finish is None:
        return (), {}  # what is usual names no fabric
    from planner.cloth.finish_quilt import finish_quilt, list_kept, list_lengths  # slow, and seldom asked for

    finished = finish_quilt(plan)
    return list_lengths(finished), list_kept(finished)


def find_misfits(plan: Plan) -> tuple[Fault, ...]:
    """What does not fit on its fabric, found without laying anything out."""
    rectangles, ruler = change_rectangles(plan, choose_where_asked(plan)), Ruler(plan.project.measure)
    found = (why_not_laid(fabric, _list_of_fabric(fabric, rectangles), ruler) for fabric in plan.project.fabrics)
    return tuple(fault for faults in found for fault in faults)


def _list_of_fabric(fabric: Fabric, rectangles: Sequence[Rectangle]) -> tuple[Rectangle, ...]:
    here = tuple(one for one in rectangles if one.fabric == fabric.name)
    return turn_lengthwise(here) if fabric.lengthwise else here


def lay_out_best(
    fabric: Fabric, rectangles: Sequence[Rectangle], kept: Mapping[int, str] = MappingProxyType({})
) -> FabricCloth:
    """The shortest layout of one fabric: slanted pieces side by side in strips as long as the cloth or a piece of the
    stock is wide, or each in a box of its own. `at_least` is what none of these layouts goes below."""
    boxes = lay_out_fabric(fabric, rectangles, kept)
    lengths = dict.fromkeys((fabric.usable, *sorted({side for piece in fabric.stock for side in piece}, reverse=True)))
    ways = [lay_in_rows(rectangles, length) for length in lengths if length <= fabric.usable][:MOST_ROWS]
    rows = [lay_out_fabric(fabric, way, kept) for way in dict.fromkeys(ways) if way != boxes.rectangles]
    best = min((*rows, boxes), key=lambda one: one.length)
    return replace(best, at_least=min(one.at_least for one in (*rows, boxes)))


def lay_out_fabric(
    fabric: Fabric, rectangles: Sequence[Rectangle], kept: Mapping[int, str] = MappingProxyType({})
) -> FabricCloth:
    """The layout of one fabric, on which every rectangle fits: first on what is there, the rest on bought cloth. Pieces
    of the stock that are `kept` for something (place -> what for) are left whole."""
    kinds = Kinds(rectangles, [fabric.usable, *(side for piece in fabric.stock for side in piece)])
    stock = use_stock(kinds, fabric.stock, kept)
    lying = kinds.list_ways(kinds.on_grid(fabric.usable))
    laid = lay_strips(lying, kinds.left, kinds.on_grid(fabric.usable))
    strips = kinds.place(laid.strips, lying)
    assert not any(kinds.left)
    return FabricCloth(fabric, tuple(rectangles), strips, laid.at_least * kinds.step, stock)


def why_not_laid(fabric: Fabric, rectangles: Sequence[Rectangle], ruler: Ruler) -> tuple[Fault, ...]:
    """What is too wide for its cloth, however it lies; cloth is as long as it must be."""
    faults = []
    for one in rectangles:
        narrow = min(one.wide, one.high) if one.may_turn else one.wide
        if narrow > fabric.usable:
            size = ruler.sides(ruler.to_cut(one.wide), ruler.to_cut(one.high))
            unit = " in" if ruler.measure == "in" else ""
            needed = (narrow + SELVAGES) / (1 - fabric.narrows)
            usable, least = (ruler.to_cut(side).words for side in (fabric.usable, needed))
            what = ""
            if not one.may_turn:
                what = "print upright, " if fabric.directional else "along the selvage, "
            remedy = f"write a width of at least {least} {ruler.measure}, or divide the piece by a seam"
            if needed > WIDEST:
                remedy = "no cloth is so wide: divide the piece by seams"
            words = (
                f"a piece is cut {size}{unit}, {what}and only {usable} {ruler.measure} of the cloth's width can be "
                f"used; {remedy}"
            )
            faults.append(Fault(fabric.line, f"fabric {fabric.name}", words))
    return tuple(dict.fromkeys(faults))
