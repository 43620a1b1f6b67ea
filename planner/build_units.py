"""A choice of cuts -> the units that are sewn, and the seams of each block.

A unit is what one seam joins (or a single patch), told by its patches and the seams inside it; it is worked out once
and only placed in the blocks. Names and borders of parts play no role in it any more.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

from planner.blocks import Point
from planner.choose_cuts import Choice
from planner.find_cuts import Cuts, Placed, Seat, turn_placed, turn_point

Segment = tuple[Point, Point]  # the lower point in reading order (x, then y) first


class Side(NamedTuple):
    """A unit where it lies in a larger one: turned clockwise by `turn` quarters, its box's upper left at x, y."""

    unit: int
    turn: int
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Unit:
    """`seam` is the last one, between side a and side b; `seams` are all inside it, that one included, sorted.

    `period`: 1 if every quarter turn carries the unit onto itself, its seams too; 2 if a half turn does; 4 if none.
    Side a is the one whose patches come first in reading order (rows of the frame from the top, each from the left).
    """

    patches: tuple[Placed, ...]
    width: int
    height: int
    period: int
    a: Side | None
    b: Side | None
    seam: Segment
    seams: tuple[Segment, ...]
    kind: int  # which kind of seam it is sewn by; -1 for a patch
    shape: int  # of a patch; -1 for what is sewn


class Seam(NamedTuple):
    """One seam of a block: its unit and how that lies; a and b are earlier seams, or patches as ~index."""

    unit: int
    turn: int
    x: int
    y: int
    a: int
    b: int


@dataclass(frozen=True, slots=True)
class Units:
    """`units` come smallest first, so that sides stand before what is made of them.

    `seams` has one tuple for each drafted block, sides before what is made of them, the block itself last.
    """

    cuts: Cuts
    units: tuple[Unit, ...]
    kinds: int
    roots: tuple[Side, ...]  # the whole blocks, as they lie
    seams: tuple[tuple[Seam, ...], ...]

    def place_point(self, point: Point, side: Side | Seam) -> Point:
        """A point of a unit's own frame, where the unit lies."""
        unit = self.units[side.unit]
        x, y = turn_point(point, unit.width, unit.height, side.turn)
        return x + side.x, y + side.y

    def place_patches(self, side: Side | Seam) -> list[Placed]:
        """The patches of a unit, where it lies."""
        unit = self.units[side.unit]
        turned = turn_placed(self.cuts.shapes, unit.patches, unit.width, unit.height, side.turn)
        return [(y + side.y, x + side.x, shape) for y, x, shape in turned]

    def seat_side(self, inner: Side, outer: Side | Seam) -> Side:
        """A side of a unit, where that unit lies. The turn is kept even where the side looks the same after it: which
        way a press direction points depends on it."""
        within, around = self.units[inner.unit], self.units[outer.unit]
        turn = (inner.turn + outer.turn) % 4
        x, y = _turn_box(within, inner, around.width, around.height, outer.turn)
        return Side(inner.unit, turn, x + outer.x, y + outer.y)


def build_units(cuts: Cuts, choice: Choice) -> Units:
    """Every unit of the chosen trees, once, and the seams of each drafted block."""
    builder = _Builder(cuts)
    leaves = sorted(_leaves(cuts, choice))
    for number in leaves:
        builder.add_patch(number)
    by_size = sorted(choice.cut, key=lambda number: (len(cuts.regions[number].patches), number))
    for number in by_size:
        builder.add_seam(number, choice.cut[number])
    roots = tuple(builder.seat(root) for root in cuts.roots)
    units = Units(cuts, tuple(builder.units), len(builder.kinds), roots, ())
    return replace(units, seams=tuple(_sew_block(units, number) for number in range(len(roots))))


def _leaves(cuts: Cuts, choice: Choice) -> set[int]:
    used = {root.region for root in cuts.roots}
    for number, place in choice.cut.items():
        cut = cuts.regions[number].cuts[place]
        used |= {cut.left.region, cut.right.region}
    return {number for number in used if len(cuts.regions[number].patches) == 1}


def _turn_box(within: Unit, seat: Side, width: int, height: int, turn: int) -> Point:
    """The upper left corner of a seated unit's box after `turn` quarter turns of the frame width x height."""
    wide, high = (within.width, within.height) if seat.turn % 2 == 0 else (within.height, within.width)
    left, top = turn_point((seat.x, seat.y), width, height, turn)
    right, bottom = turn_point((seat.x + wide, seat.y + high), width, height, turn)
    return min(left, right), min(top, bottom)


def _segment(p: Point, q: Point) -> Segment:
    return (p, q) if p <= q else (q, p)


class _Builder:
    def __init__(self, cuts: Cuts) -> None:
        self.cuts = cuts
        self.units: list[Unit] = []
        self.kinds: dict[object, int] = {}
        self._known: dict[object, int] = {}
        self._unit_of: dict[int, tuple[int, int]] = {}  # region -> its unit, and the region's turn against it

    def seat(self, seat: Seat) -> Side:
        """The unit of a seated region, as it lies."""
        unit, turn = self._unit_of[seat.region]
        return Side(unit, (seat.turn + turn) % self.units[unit].period, seat.x, seat.y)

    def add_patch(self, number: int) -> None:
        region = self.cuts.regions[number]
        shape = region.patches[0][2]
        nowhere = ((0, 0), (0, 0))
        period = self.cuts.shapes[shape].period
        unit = Unit(region.patches, region.width, region.height, period, None, None, nowhere, (), -1, shape)
        self._unit_of[number] = (len(self.units), 0)
        self.units.append(unit)

    def add_seam(self, number: int, place: int) -> None:
        region = self.cuts.regions[number]
        cut = region.cuts[place]
        sides = [self.seat(cut.left), self.seat(cut.right)]
        seam = _segment(*cut.ends)
        seams = sorted([seam, *(self._place(segment, side) for side in sides for segment in self._inner(side))])
        # The frame is the turn that looks first in order: by patches (the region's own frame is such), then seams.
        views = []
        for turn in range(4):
            width, height = (region.width, region.height) if turn % 2 == 0 else (region.height, region.width)
            patches = sorted(turn_placed(self.cuts.shapes, region.patches, region.width, region.height, turn))
            if tuple(patches) == region.patches:
                last = self._turn_segment(seam, region.width, region.height, turn)
                turned = sorted(self._turn_segment(one, region.width, region.height, turn) for one in seams)
                views.append((last, tuple(turned), turn, width, height))
        last, all_seams, turn, width, height = min(views)
        same = [view for view in views if view[:2] == (last, all_seams)]
        period = 4 // len(same)
        placed = []
        for side in sides:
            unit = self.units[side.unit]
            x, y = _turn_box(unit, side, region.width, region.height, turn)
            placed.append(Side(side.unit, (side.turn + turn) % unit.period, x, y))
        a, b = sorted(placed, key=self._patches)
        form = (region.patches, last, all_seams)
        kind = self.kinds.setdefault(form, len(self.kinds))
        known = self._known.get((form, a, b))
        if known is None:
            known = self._known[(form, a, b)] = len(self.units)
            self.units.append(Unit(region.patches, width, height, period, a, b, last, all_seams, kind, -1))
        self._unit_of[number] = (known, -turn % 4)

    def _inner(self, side: Side) -> tuple[Segment, ...]:
        return self.units[side.unit].seams

    def _place(self, segment: Segment, side: Side) -> Segment:
        unit = self.units[side.unit]
        p, q = (turn_point(point, unit.width, unit.height, side.turn) for point in segment)
        return _segment((p[0] + side.x, p[1] + side.y), (q[0] + side.x, q[1] + side.y))

    @staticmethod
    def _turn_segment(segment: Segment, width: int, height: int, turn: int) -> Segment:
        return _segment(turn_point(segment[0], width, height, turn), turn_point(segment[1], width, height, turn))

    def _patches(self, side: Side) -> list[Placed]:
        unit = self.units[side.unit]
        turned = turn_placed(self.cuts.shapes, unit.patches, unit.width, unit.height, side.turn)
        return sorted((y + side.y, x + side.x, shape) for y, x, shape in turned)


def _sew_block(units: Units, block_number: int) -> tuple[Seam, ...]:
    cuts = units.cuts
    number_of = {patch.outline: number for number, patch in enumerate(cuts.blocks.drafted[block_number].patches)}
    seams: list[Seam] = []
    # Post-order without recursion: a part of parts can be nested deep, and a row of logs is as deep as it is long.
    waiting: list[tuple[Side, bool]] = [(units.roots[block_number], False)]
    ready: list[int] = []
    while waiting:
        side, sides_done = waiting.pop()
        unit = units.units[side.unit]
        if unit.a is None or unit.b is None:
            (placed,) = units.place_patches(side)
            ready.append(~number_of[cuts.outline(placed)])
        elif sides_done:
            b, a = ready.pop(), ready.pop()
            ready.append(len(seams))
            seams.append(Seam(side.unit, side.turn, side.x, side.y, a, b))
        else:
            waiting.append((side, True))
            waiting.append((units.seat_side(unit.b, side), False))
            waiting.append((units.seat_side(unit.a, side), False))
    return tuple(seams)
