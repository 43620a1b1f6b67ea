"""A choice of cuts -> the units that are sewn, and the seams of each block.

A unit is what one seam joins (or a single patch), told by its patches and the seams inside it; it is worked out once
and only placed in the blocks. Names and borders of parts play no role in it any more.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from planner.bend_cuts import lies_beside
from planner.blocks import Piece, Point
from planner.choose_cuts import Choice
from planner.find_cuts import (
    CutOption,
    Cuts,
    Placed,
    Region,
    Seat,
    list_slants,
    seat_within,
    spread_patches,
    turn_patches,
    turn_placed,
    turn_point,
)
from planner.surd import Grid
from planner.turn_prints import NO_WAY
from planner.turns import Spread, Turn, plain_turn, rotate, spread_box

Segment = tuple[Point, Point]  # the lower point in reading order (x, then y) first


class Side(NamedTuple):
    """A unit where it lies in a larger one: turned clockwise by `turn` quarters, its box's upper left at x, y."""

    unit: int
    turn: Turn
    x: Grid
    y: Grid


class Closes(NamedTuple):
    """A seam that is finished: the way to it inside (False into side a, True into side b), and where it stopped."""

    way: tuple[bool, ...]
    stop: Point


@dataclass(frozen=True, slots=True)
class Unit:
    """`seam` is the last one, between side a and side b; `seams` are all inside it, that one included, sorted. One that
    was sewn in part and then finished is one line among them. `sewings` counts how often it was sewn, `line` is what of
    `seams` the last sewing made.

    `period`: 1 if every quarter turn carries the unit onto itself, its seams too; 2 if a half turn does; 4 if none.
    Side a is the one whose patches come first in reading order (rows of the frame from the top, each from the left).
    A seam that finishes one that was sewn in part has no side b.
    """

    patches: tuple[Placed, ...]
    width: Grid
    height: Grid
    period: Turn
    a: Side | None
    b: Side | None
    seam: Segment
    seams: tuple[Segment, ...]
    kind: int  # which kind of seam it is sewn by; -1 for a patch
    shape: int  # of a patch; -1 for what is sewn
    legs: tuple[Point, ...] = ()  # of a seam that is set in, its whole way; `seam` is then one stretch of it
    a_on_normal: bool = False  # side a lies where the normal (-dy, dx) of the seam points: left of it as drawn here
    is_bent: bool = False  # the seam is set in, or the unit is not convex, or it has slits
    slits: tuple[Segment, ...] = ()  # what of the seams inside it, and of the last, is not sewn yet
    closes: Closes | None = None  # the seam sewn in part that this one finishes
    sewings: int = 0
    finished: Segment | None = None  # of a seam that finishes another the line that both make

    @property
    def line(self) -> Segment:
        """The last seam as it stands in `seams`."""
        return self.finished or self.seam

    @property
    def sides(self) -> tuple[Side, ...]:
        """What is sewn together: two sides, one of a seam that finishes another, none of a patch."""
        return tuple(side for side in (self.a, self.b) if side is not None)

    @property
    def open_rest(self) -> Segment | None:
        """Of a last seam that is sewn in part: the stretch that is left open; None of any other."""
        for slit in self.slits if self.closes is None else ():
            if any(end in slit and _are_in_line(*slit, end, before) for end, before in list_ends(self)):
                return slit
        return None

    @property
    def begins_outside(self) -> bool:
        """Whether a seam that turns is known by a stretch at one of its ends: there it is begun."""
        return bool(self.legs) and bool({self.legs[0], self.legs[-1]} & {*self.seam})

    @property
    def stops_at(self) -> Point | None:
        """Where a last seam that is sewn in part stops."""
        rest = self.open_rest or ()
        return next((end for end, _ in list_ends(self) if end in rest), None)


def list_ends(unit: Unit) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The two ends of a unit's last seam, each with the point that its last stretch there comes from."""
    way = unit.legs or unit.seam
    return (way[0], way[1]), (way[-1], way[-2])


def _are_in_line(p: Point, q: Point, *points: Point) -> bool:
    return all((x - p[0]) * (q[1] - p[1]) == (y - p[1]) * (q[0] - p[0]) for x, y in points)


class Seam(NamedTuple):
    """One seam of a block: its unit and how that lies; a and b are earlier seams, or patches as ~index (b is None of
    one that finishes another)."""

    unit: int
    turn: Turn
    x: Grid
    y: Grid
    a: int
    b: int | None

    @property
    def sides(self) -> tuple[int, ...]:
        """Side a, and side b where there is one."""
        return (self.a,) if self.b is None else (self.a, self.b)


@dataclass(frozen=True)
class Units:
    """`units` come smallest first, so that sides stand before what is made of them.

    `seams` has one tuple for each drafted block, sides before what is made of them, the block itself last.
    """

    cuts: Cuts
    units: tuple[Unit, ...]
    kinds: int
    roots: tuple[Side, ...]  # the whole blocks, as they lie
    seams: tuple[tuple[Seam, ...], ...]
    joined: tuple[int, ...] = ()  # for each piece of the top the seam (of those of the top) that ends it; -1: a patch
    made_of: Mapping[int, list[tuple[int, bool]]] = field(default_factory=dict)  # regions; is side a the left one?
    _spreads: dict[tuple[int, Turn], Spread] = field(default_factory=dict)

    def turn_of_piece(self, piece: Piece, last: int) -> int:
        """By how many quarters a block of the top lies turned from how the maker drew it there; `last` is the seam of
        the top that ends it."""
        if piece.block < 0 or last < 0:
            return 0
        return int(self.seams[-1][last].turn - self.roots[piece.block].turn - piece.turn) % 4

    def find_sides(self, number: int, which: int) -> list[tuple[int, int]]:
        """The sides of cuts that are side a (0) or side b (1) of a unit: a region, and 0 for its left, 1 its right."""
        return [(region, which if is_left else 1 - which) for region, is_left in self.made_of[number]]

    def place_point(self, point: Point, side: Side | Seam) -> Point:
        """A point of a unit's own frame, where the unit lies."""
        unit = self.units[side.unit]
        if isinstance(side.turn, int):
            x, y = turn_point(point, unit.width, unit.height, side.turn)
        else:
            x, y = self.spread(side.unit, side.turn).put(point, side.turn)
        return x + side.x, y + side.y

    def spread(self, number: int, turn: Turn) -> Spread:
        """The box round a unit that is turned about the upper left corner of its frame."""
        return _spread_unit(self.cuts, self.units, self._spreads, number, turn)

    def place_points(self, points: Iterable[Point], side: Side | Seam) -> list[Point]:
        """Points of a unit's own frame, where the unit lies."""
        unit = self.units[side.unit]
        dx, dy = side.x, side.y
        if not isinstance(side.turn, int):
            return [self.place_point(point, side) for point in points]
        if side.turn == 1:
            dx += unit.height
            return [(dx - y, x + dy) for x, y in points]
        if side.turn == 2:
            dx, dy = dx + unit.width, dy + unit.height
            return [(dx - x, dy - y) for x, y in points]
        if side.turn == 3:
            dy += unit.width
            return [(y + dx, dy - x) for x, y in points]
        return [(x + dx, y + dy) for x, y in points]

    @cached_property
    def piece_of(self) -> tuple[list[int], list[int]]:
        """Of the top: in which of its pieces each patch lies, and each seam; -1 for what is in no block."""
        top = self.cuts.blocks.top
        assert top is not None
        patches = [-1] * len(self.cuts.blocks.drafted[-1].patches)
        seams = [-1] * len(self.seams[-1])
        for number, (piece, last) in enumerate(zip(top.pieces, self.joined, strict=True)):
            if piece.block >= 0:
                many = len(self.cuts.blocks.drafted[piece.block].patches)
                patches[piece.first : piece.first + many] = [number] * many
                if last >= 0:
                    inside = self.units[self.seams[-1][last].unit].sewings
                    seams[last - inside + 1 : last + 1] = [number] * inside
        return patches, seams

    def find_point(self, point: Point, side: Side | Seam) -> Point:
        """The point of a unit's own frame that lies at `point`: `place_point` back."""
        spread = self.spread(side.unit, side.turn)
        return rotate((point[0] - side.x + spread.left, point[1] - side.y + spread.top), plain_turn(-side.turn))

    def place_patches(self, side: Side | Seam) -> list[Placed]:
        """The patches of a unit, where it lies."""
        patches, spread = self.units[side.unit].patches, self.spread(side.unit, side.turn)
        turned = turn_patches(self.cuts.shapes, patches, spread, side.turn)
        return [(y + side.y, x + side.x, shape) for y, x, shape in turned]

    def place_near(self, side: Side | Seam, seam: Segment) -> Iterator[Placed]:
        """Those patches of a unit, where it lies, of which the box touches the box round a stretch."""
        shapes = self.cuts.shapes
        (ax, ay), (bx, by) = seam
        left, right, top, bottom = min(ax, bx), max(ax, bx), min(ay, by), max(ay, by)
        for placed in self.place_patches(side):
            y, x, shape = placed
            if x <= right and y <= bottom and x + shapes[shape].width >= left and y + shapes[shape].height >= top:
                yield placed

    def place_first(self, side: Side | Seam) -> Placed:
        """The first patch of a unit, where the unit lies."""
        patches, spread = self.units[side.unit].patches[:1], self.spread(side.unit, side.turn)
        ((y, x, shape),) = turn_patches(self.cuts.shapes, patches, spread, side.turn)
        return y + side.y, x + side.x, shape

    def seat_side(self, inner: Side, outer: Side | Seam) -> Side:
        """A side of a unit, where that unit lies. The turn is kept even where the side looks the same after it: which
        way a press direction points depends on it."""
        if isinstance(inner.turn, int) and isinstance(outer.turn, int):
            within, around = self.units[inner.unit], self.units[outer.unit]
            turn = (inner.turn + outer.turn) % 4
            x, y = _turn_box(within, inner, around.width, around.height, outer.turn)
            return Side(inner.unit, turn, x + outer.x, y + outer.y)
        return seat_between(self.spread, inner, outer, self.spread(outer.unit, outer.turn))


def _spread_unit(
    cuts: Cuts, units: Sequence[Unit], known: dict[tuple[int, Turn], Spread], number: int, turn: Turn
) -> Spread:
    unit = units[number]
    if isinstance(turn, int):
        return spread_box(unit.width, unit.height, turn)
    found = known.get((number, turn))
    if found is None:
        found = known[number, turn] = spread_patches(cuts.shapes, unit.patches, turn)
    return found


def seat_between(spread: Callable[[int, Turn], Spread], inner: Side, outer: Side | Seam, around: Spread) -> Side:
    """A side where what it is in lies, by any turns; `around` is the box round the outer one as it is turned."""
    turn = plain_turn(inner.turn + outer.turn)
    before, after = spread(inner.unit, inner.turn), spread(inner.unit, turn)
    x, y = rotate((inner.x - before.left, inner.y - before.top), outer.turn)
    return Side(inner.unit, turn, x + after.left - around.left + outer.x, y + after.top - around.top + outer.y)


def place_segments(segments: Iterable[Segment], spread: Spread, side: Side) -> list[Segment]:
    """Segments of a frame, where `side` puts it; `spread` is the box round it as it is turned. Each keeps its
    direction."""
    dx, dy = side.x, side.y
    if not isinstance(side.turn, int):
        dx, dy = dx - spread.left, dy - spread.top
        ends = [(rotate(p, side.turn), rotate(q, side.turn)) for p, q in segments]
        return [((px + dx, py + dy), (qx + dx, qy + dy)) for (px, py), (qx, qy) in ends]
    width, height = (spread.wide, spread.high) if side.turn % 2 == 0 else (spread.high, spread.wide)
    if side.turn == 1:
        return [((height - py + dx, px + dy), (height - qy + dx, qx + dy)) for (px, py), (qx, qy) in segments]
    if side.turn == 2:
        dx, dy = dx + width, dy + height
        return [((dx - px, dy - py), (dx - qx, dy - qy)) for (px, py), (qx, qy) in segments]
    if side.turn == 3:
        return [((py + dx, width - px + dy), (qy + dx, width - qx + dy)) for (px, py), (qx, qy) in segments]
    return [((px + dx, py + dy), (qx + dx, qy + dy)) for (px, py), (qx, qy) in segments]


def lessen(turn: Turn, period: Turn) -> Turn:
    """The least turn after which something looks the same, as it is carried onto itself by each period."""
    turn %= period
    return int(turn) if turn.denominator == 1 else turn


Turned = Mapping[Point, int]  # blocks of the top by the upper left corner of their place: quarter turns
Flipped = frozenset[tuple[int, int]]  # sides of cuts that lie turned by half: a region, and 0 for its left, 1 its right


def build_units(
    cuts: Cuts, choice: Choice, turned: Turned = MappingProxyType({}), flipped: Flipped = frozenset()
) -> Units:
    """Every unit of the chosen trees, once, and the seams of each drafted block.

    `turned` blocks of the top lie turned by so many quarters more than they are drawn, `flipped` sides inside blocks by
    half; they look the same so. A block whose seams do not look the same may lie turned by its cuts alone.
    """
    builder = _Builder(cuts, choice, flipped)
    leaves = sorted(_leaves(cuts, choice))
    for number in leaves:
        builder.add_patch(number)
    by_size = sorted(choice.cut, key=lambda number: (cuts.regions[number].rank, number))
    for number in by_size:
        if not cuts.regions[number].is_layout:
            builder.add_seam(number)
    if cuts.blocks.top:
        # How a block lies in the quilt is told against how it lies by itself
        lying = builder.find_lying(cuts.roots[-1])
        roots = [
            builder.seat(root._replace(turn=(root.turn + lying.usual.get(block, 0)) % 4), in_layout=True)
            for block, root in enumerate(cuts.roots[:-1])
        ]
        roots.append(builder.join_top(cuts.roots[-1], lying, turned))
    else:
        roots = [builder.seat(root) for root in cuts.roots]
    units = Units(cuts, tuple(builder.units), len(builder.kinds), tuple(roots), (), made_of=builder.made_of)
    units = replace(units, seams=tuple(_sew_block(units, number) for number in range(len(roots))))
    return replace(units, joined=_find_joined(units)) if cuts.blocks.top else units


def _find_joined(units: Units) -> tuple[int, ...]:
    """Where in the seams of the top each of its pieces is whole."""
    assert units.cuts.blocks.top is not None
    blocks = {root.unit for root in units.roots[:-1]}
    whole = {(one.unit, one.x, one.y): number for number, one in enumerate(units.seams[-1]) if one.unit in blocks}
    return tuple(
        -1 if piece.block < 0 else whole.get((units.roots[piece.block].unit, piece.x, piece.y), -1)
        for piece in units.cuts.blocks.top.pieces
    )


def _leaves(cuts: Cuts, choice: Choice) -> set[int]:
    used = {seat.region for seat in cuts.roots}
    for number, place in choice.cut.items():
        cut = cuts.regions[number].cuts[place]
        used |= {cut.left.region, cut.right.region}
    return {number for number in used if len(cuts.regions[number].patches) == 1}


def _turn_box(within: Unit, seat: Side, width: Grid, height: Grid, turn: int) -> Point:
    """The upper left corner of a seated unit's box after `turn` quarter turns of the frame width x height."""
    wide, high = (within.width, within.height) if seat.turn % 2 == 0 else (within.height, within.width)
    left, top = turn_point((seat.x, seat.y), width, height, turn)
    right, bottom = turn_point((seat.x + wide, seat.y + high), width, height, turn)
    return min(left, right), min(top, bottom)


def _segment(p: Point, q: Point) -> Segment:
    return (p, q) if p <= q else (q, p)


def turn_segments(segments: Iterable[Segment], spread: Spread, turn: Turn) -> list[Segment]:
    """Stretches in a frame after a turn of it, each in reading order; `spread` is the box round it then."""
    turned = place_segments(segments, spread, Side(-1, plain_turn(turn), 0, 0))
    return [segment if segment[0] <= segment[1] else segment[::-1] for segment in turned]


def find_ways(cuts: Cuts, unit: Unit) -> tuple[int, ...]:
    """The quarter turns after which a unit looks the same on both sides: its patches and its seams."""
    ways = [0]
    for turn in (1, 2, 3):
        if turn % 2 and unit.width != unit.height:
            continue
        if looks_alike(cuts, unit, turn):
            ways.append(turn)
    return tuple(ways)


def looks_alike(cuts: Cuts, unit: Unit, turn: int) -> bool:
    """Whether so many quarter turns carry a unit onto itself, its patches and its seams, whichever was sewn last: once
    that is pressed it can't be seen any more."""
    if turn % unit.period == 0:
        return True
    if unit.slits:  # what is open is seen
        return False
    # Most units are told by their last seam alone: where the turn carries it there is no seam
    spread = spread_box(unit.width, unit.height, turn)
    (last,) = turn_segments([unit.line], spread, turn)
    place = bisect_left(unit.seams, last)
    if unit.seams[place : place + 1] != (last,):
        return False
    seams = turn_segments(unit.seams, spread, turn)
    patches = turn_placed(cuts.shapes, unit.patches, unit.width, unit.height, turn)
    return tuple(sorted(seams)) == unit.seams and tuple(sorted(patches)) == unit.patches


_Found = tuple[int, Turn]  # a region's unit, and the region's turn against it


class Lying(NamedTuple):
    """How the blocks of the top lie in it, against how they are drawn there: by the corner of their place the block and
    its quarter turns; and for each block how it usually lies, which is then taken for how it is drawn."""

    turns: dict[Point, tuple[int, int]]
    usual: dict[int, int]


class _Builder:
    def __init__(self, cuts: Cuts, choice: Choice, flipped: Flipped) -> None:
        self.cuts = cuts
        self.choice = choice
        self.turned: Turned = {}
        self.flipped = flipped
        self.made_of: dict[int, list[tuple[int, bool]]] = {}
        self.units: list[Unit] = []
        self.kinds: dict[object, int] = {}
        self._known: dict[object, int] = {}
        self._unit_of: dict[int, _Found] = {}
        self._same: dict[Segment, Segment] = {}  # one of all that are equal, so that a large draft needs less room
        self._joined: dict[tuple[int, tuple[int, ...]], _Found] = {}  # the same of layouts with turned blocks
        self._has_ways = any(shape.up != NO_WAY for shape in cuts.shapes)
        self._between = tuple(dict.fromkeys(turn for shape in cuts.shapes for turn in shape.between))
        self._whole = {root.region for root in cuts.roots}  # blocks lie in no slanting frame
        self._slants = list_slants(cuts.shapes) if self._between else []
        self._spreads: dict[tuple[int, Turn], Spread] = {}

    def seat(self, seat: Seat, in_layout: bool = False) -> Side:
        """The unit of a seated region, as it lies."""
        return self._lay(self._unit_of[seat.region], seat, in_layout)

    def _lay(self, found: _Found, seat: Seat, in_layout: bool) -> Side:
        """In a layout the turn is kept even where the unit looks the same after it: a block in it may be turned on
        purpose."""
        unit, turn = found
        return Side(unit, lessen(seat.turn + turn, 4 if in_layout else self.units[unit].period), seat.x, seat.y)

    def spread(self, number: int, turn: Turn) -> Spread:
        """The box round a unit that is turned about the upper left corner of its frame."""
        return _spread_unit(self.cuts, self.units, self._spreads, number, turn)

    def join_top(self, root: Seat, lying: Lying, turned: Turned) -> Side:
        """The unit of the whole top. Its blocks lie as they are drawn, some of them turned from that."""
        drawn = self._lay_as_drawn(lying)
        both = {corner: (drawn.get(corner, 0) + turned.get(corner, 0)) % 4 for corner in (*drawn, *turned)}
        self.turned = {corner: turn for corner, turn in both.items() if turn}
        side, _ = self._join(root, root)
        return side

    def find_lying(self, root: Seat) -> Lying:
        """How the cuts lay the blocks of the top, which look the same so."""
        blocks = self.cuts.blocks
        assert blocks.top is not None
        pieces = {(piece.x, piece.y): piece for piece in blocks.top.pieces if piece.block >= 0}
        turns: dict[Point, tuple[int, int]] = {}
        counted: dict[int, list[int]] = {}
        waiting = [root]
        while waiting:
            seat = waiting.pop()
            region = self.cuts.regions[seat.region]
            if region.is_layout:
                cut = region.cuts[self.choice.cut[seat.region]]
                waiting += [seat_within(self.cuts, seat, side) for side in (cut.left, cut.right)]
                continue
            piece = pieces.get((seat.x, seat.y))
            if piece is not None and region.size > 1:
                turn = int(seat.turn - self.cuts.roots[piece.block].turn - piece.turn) % 4
                turns[seat.x, seat.y] = (piece.block, turn)
                counted.setdefault(piece.block, [0, 0, 0, 0])[turn] += 1
        return Lying(turns, {block: many.index(max(many)) for block, many in counted.items()})

    def _lay_as_drawn(self, lying: Lying) -> Turned:
        """How blocks that the cuts lay otherwise than usual must be turned to lie like the others, where they can."""
        ways: dict[int, tuple[int, ...]] = {}
        found: dict[Point, int] = {}
        for corner, (block, turn) in lying.turns.items():
            back = (lying.usual[block] - turn) % 4
            if back and block not in ways:
                region = self.cuts.roots[block].region
                ways[block] = find_ways(self.cuts, self.units[self._unit_of[region][0]])
            if back and back in ways[block]:
                found[corner] = back
        return found

    def _join(self, seat: Seat, lying: Seat) -> tuple[Side, bool]:
        """The unit of a region of the layout that lies in the top as `lying`, and whether a block in it is turned.
        The answer lies as `seat` says: in the region around it."""
        region = self.cuts.regions[seat.region]
        if not region.is_layout:
            extra = self.turned.get((lying.x, lying.y), 0) if region.size > 1 else 0
            side = self.seat(seat, in_layout=True)
            return side._replace(turn=(side.turn + extra) % 4), bool(extra)
        turns = tuple(self.turned.get((x, y), 0) for y, x, _ in self.cuts.place(lying))
        if not any(turns):
            if seat.region not in self._unit_of:
                self.add_layout(seat.region)
            return self.seat(seat, in_layout=True), False
        found = self._joined.get((seat.region, turns))
        if found is None:
            cut = region.cuts[self.choice.cut[seat.region]]
            sides = [self._join(side, seat_within(self.cuts, lying, side))[0] for side in (cut.left, cut.right)]
            found = self._joined[seat.region, turns] = self._sew(seat.region, cut, sides)
        return self._lay(found, seat, in_layout=True), True

    def add_layout(self, number: int) -> None:
        """The unit of a layout in which no block is turned, and those of all that it is made of."""
        cut = self.cuts.regions[number].cuts[self.choice.cut[number]]
        for seat in (cut.left, cut.right):
            if seat.region not in self._unit_of:
                self.add_layout(seat.region)
        self.add_seam(number)

    def add_patch(self, number: int) -> None:
        region = self.cuts.regions[number]
        shape = region.patches[0][2]
        nowhere = ((0, 0), (0, 0))
        period = self.cuts.shapes[shape].period
        unit = Unit(region.patches, region.width, region.height, period, None, None, nowhere, (), -1, shape)
        self._unit_of[number] = (len(self.units), 0)
        self.units.append(unit)

    def add_seam(self, number: int) -> None:
        cut = self.cuts.regions[number].cuts[self.choice.cut[number]]
        in_layout = self.cuts.regions[number].is_layout
        sides = []
        for which, seat in enumerate((cut.left,) if cut.closes else (cut.left, cut.right)):
            side = self.seat(seat, in_layout)
            sides.append(side._replace(turn=plain_turn(side.turn + 2)) if (number, which) in self.flipped else side)
        self._unit_of[number] = self._sew(number, cut, sides)

    def _sew(self, number: int, cut: CutOption, sides: list[Side]) -> _Found:
        """The unit that one cut of a region makes of these sides."""
        region = self.cuts.regions[number]
        seam = _segment(*cut.ends)
        line, part = self._find_line(seam, sides[0]) if cut.closes else (seam, None)
        seams = self._put_seams(line, sides, part)
        # The frame is the turn that looks first in order: by patches (a block's region has such a frame), then seams.
        turns, patches = self._find_frames(number, region, sides)
        spread = {turn: self.cuts.spread(number, turn) for turn in turns}
        lasts = {turn: turn_segments([seam], spread[turn], turn)[0] for turn in turns}
        last = min(lasts.values())
        turns = [turn for turn in turns if lasts[turn] == last]
        if len(turns) == 2 and turns[1] == turns[0] + 2 and self._are_half_turned(region, sides):
            inside, turn, period = self._turn_seams(seams, spread[turns[0]], turns[0]), turns[0], 2
        else:
            views = [(self._turn_seams(seams, spread[turn], turn), turn) for turn in turns]
            inside, turn = min(views)
            period = 4 // sum(view == inside for view, _ in views)  # 4, or 2: a seam is carried onto itself by no other
        _, _, width, height = around = spread[turn]
        placed = []
        for which, side in enumerate(sides):
            lying = seat_between(self.spread, side, Side(-1, turn, 0, 0), around)
            is_kept = region.is_layout or (number, which) in self.flipped  # turned on purpose, though it looks the same
            full = 4 if is_kept else self.units[side.unit].period
            placed.append(lying._replace(turn=lessen(side.turn + turn, full)))
        legs = self._orient(cut.legs, around, turn, last)
        slits = tuple(sorted(turn_segments(region.slits, around, turn)))
        closes, a, b = self._order_sides(region, placed, last, patches[0], bool(legs))
        key = (patches, last, inside, legs) if legs else (patches, last, inside)
        kind = self.kinds.setdefault(key, len(self.kinds))
        known = self._known.get((kind, a, b))
        if known is None:
            known = self._known[kind, a, b] = len(self.units)
            is_bent = bool(legs) or region.is_bent
            on_normal = self._is_on_normal(a, last, patches[0], closes, is_bent)
            unit = Unit(patches, width, height, period, a, b, last, inside, kind, -1, legs, on_normal, is_bent, slits)
            sewings = 1 + sum(self.units[side.unit].sewings for side in unit.sides)
            finished = turn_segments([line], around, turn)[0] if closes else None
            self.units.append(replace(unit, closes=closes, sewings=sewings, finished=finished))
        self.made_of.setdefault(known, []).append((number, a is placed[0]))
        return known, plain_turn(-turn)

    def _orient(self, legs: tuple[Point, ...], around: Spread, turn: Turn, last: Segment) -> tuple[Point, ...]:
        """The way of a seam that is set in, so that it goes along its stretch `last` as that does."""
        turned = tuple(around.put(point, turn) for point in legs)
        return turned if not turned or last in pairwise(turned) else turned[::-1]

    def _order_sides(
        self, region: Region, placed: list[Side], last: Segment, first: Placed, bends: bool
    ) -> tuple[Closes | None, Side, Side | None]:
        """What a seam finishes (nothing where it has two sides), and its sides a and b."""
        if len(placed) == 1:
            return self._find_part(placed[0], last), placed[0], None
        if bends or region.is_bent:  # no line tells the sides apart
            is_in_order = min(self._lie(placed[0])) < min(self._lie(placed[1]))
        else:
            is_in_order = self._is_first(placed[0], last, first)
        a, b = placed if is_in_order else placed[::-1]
        return None, a, b

    def _find_line(self, rest: Segment, side: Side) -> tuple[Segment, Segment]:
        """The line that a seam makes with the one that it finishes, and what of it stands in the side already."""
        closes = self._find_part(side, rest)
        part = next(placed for way, placed in self._walk(side, (False,)) if way == closes.way)
        unit = self.units[part.unit]
        (begun,) = self._order(place_segments([unit.seam], self.spread(part.unit, part.turn), part))
        if closes.stop not in begun:  # it turned before it stopped, and is told by another of its stretches
            return begun, begun
        return _segment(*({*begun, *rest} - {closes.stop})), begun

    def _find_part(self, side: Side, rest: Segment) -> Closes:
        """Of a unit that is closed the seam inside it that was sewn in part: in line with the rest, and stopping where
        that begins."""
        for way, placed in self._walk(side, (False,)):
            unit = self.units[placed.unit]
            ends = list_ends(unit) if unit.slits else ()
            for stretch in place_segments(ends, self.spread(placed.unit, placed.turn), placed):
                if stretch[0] in rest and _are_in_line(*rest, *stretch) and unit.open_rest:
                    return Closes(way, stretch[0])
        raise ValueError("what is finished was never begun")

    def _walk(self, side: Side, way: tuple[bool, ...]) -> Iterator[tuple[tuple[bool, ...], Side]]:
        waiting = [(way, side)]
        while waiting:
            way, side = waiting.pop()
            unit = self.units[side.unit]
            if unit.a is None:
                continue
            yield way, side
            for into_b, inner in zip((False, True), unit.sides, strict=False):
                around = self.spread(side.unit, side.turn)
                waiting.append(((*way, into_b), seat_between(self.spread, inner, side, around)))

    def _is_on_normal(self, a: Side, last: Segment, first: Placed, closes: Closes | None, is_bent: bool) -> bool:
        """Whether side a lies where the normal of a seam points; of one that finishes another the side a of that."""
        if closes:
            part = next(side for way, side in self._walk(a, (False,)) if way == closes.way)
            unit = self.units[part.unit]
            # The stretch with which it stops, along its way
            begin, end = list_ends(unit)
            stretch = begin if unit.stops_at == begin[0] else end[::-1]
            ((px, py), (qx, qy)) = place_segments([stretch], self.spread(part.unit, part.turn), part)[0]
            ahead = (qx - px) * (last[1][0] - last[0][0]) + (qy - py) * (last[1][1] - last[0][1]) > 0
            return unit.a_on_normal == ahead
        if not is_bent:  # the first patch of all lies on side a
            return self._is_ahead(first, last)
        beside = (lies_beside(self.cuts.outline(placed), *last) for placed in self._lie(a))
        return next(is_on_normal for is_on_normal in beside if is_on_normal is not None)

    def _are_half_turned(self, region: Region, sides: list[Side]) -> bool:
        """Whether a half turn of a region surely carries each side onto the other, its seams too."""
        if len(sides) == 1:
            return False
        first, second = sides
        unit = self.units[first.unit]
        if first.unit != second.unit or (second.turn - first.turn - 2) % unit.period:
            return False
        turned = seat_between(self.spread, first, Side(-1, 2, 0, 0), spread_box(region.width, region.height, 2))
        return (turned.x, turned.y) == (second.x, second.y)

    def _find_frames(self, number: int, region: Region, sides: list[Side]) -> tuple[Sequence[Turn], tuple[Placed, ...]]:
        """The turns of a region after which its patches come first in order, and the patches then."""
        if region.is_layout:
            return self._find_frames_of_layout(region, sides)
        if self._between and number not in self._whole:
            return self._find_frames_between(number, region)
        # A region lies so that its patches come first already: other turns do only where they carry it onto itself
        shapes, width, height = self.cuts.shapes, region.width, region.height
        is_there = frozenset(region.patches)
        turns = [0]
        for turn in (1, 2, 3) if width == height else (2,):
            turned = (turn_placed(shapes, (placed,), width, height, turn)[0] for placed in region.patches)
            if all(placed in is_there for placed in turned):
                turns.append(turn)
        return turns, region.patches

    def _find_frames_between(self, number: int, region: Region) -> tuple[Sequence[Turn], tuple[Placed, ...]]:
        """The same where shapes are turned by parts of a quarter too: as few sides as can be slant."""
        shapes = self.cuts.shapes
        views: dict[Turn, tuple[int, tuple[Placed, ...]]] = {}
        for turn in (0, 1, 2, 3, *self._between):
            here = turn_patches(shapes, region.patches, self.cuts.spread(number, turn), turn)
            views[turn] = sum(self._slants[shape] for _, _, shape in here), tuple(sorted(here))
        least = min(views.values())
        return [turn for turn, view in views.items() if view == least], least[1]

    def _find_frames_of_layout(self, region: Region, sides: list[Side]) -> tuple[list[int], tuple[Placed, ...]]:
        shapes, width, height = self.cuts.shapes, region.width, region.height
        patches = [placed for side in sides for placed in self._lie(side)]
        if self._has_ways and any(shapes[shape].up != NO_WAY for _, _, shape in patches):
            return [0], tuple(sorted(patches))  # a region lies so that its prints are upright already
        period = self._count_looks(region)
        turned = [patches, *(turn_placed(shapes, patches, width, height, turn) for turn in range(1, period))]
        firsts = [min(view) for view in turned]
        views = {turn: tuple(sorted(view)) for turn, view in enumerate(turned) if firsts[turn] == min(firsts)}
        least = min(views.values())
        return [turn for turn in range(4) if views.get(turn % period) == least], least

    def _count_looks(self, region: Region) -> int:
        """In how many ways a region looks at most when it is turned: 1, 2 or 4."""
        for turn in (1, 2):
            looks = turn_placed(self.cuts.shapes, region.patches, region.width, region.height, turn)
            if tuple(sorted(looks)) == region.patches:
                return turn
        return 4

    def _put_seams(self, seam: Segment, sides: list[Side], part: Segment | None) -> list[Segment]:
        """All seams of a region in order: its own, and those of its sides where they lie, but for the part of its own
        that stands there."""
        seams = [self._same.setdefault(seam, seam)]
        for side in sides:
            unit = self.units[side.unit]
            if side[1:] == (0, 0, 0):
                seams += unit.seams
                continue
            placed = place_segments(unit.seams, self.spread(side.unit, side.turn), side)
            # What is only moved stays in reading order
            seams += self._order(placed) if side.turn else map(self._same.setdefault, placed, placed)
        if part is not None:
            seams.remove(part)
        seams.sort()
        return seams

    def _order(self, segments: Iterable[Segment]) -> Iterator[Segment]:
        """The same segments, each in reading order."""
        ordered = [segment if segment[0] <= segment[1] else segment[::-1] for segment in segments]
        return map(self._same.setdefault, ordered, ordered)

    def _turn_seams(self, seams: list[Segment], around: Spread, turn: Turn) -> tuple[Segment, ...]:
        """The seams of a region after a turn of it, in order again; `around` is the box round it then."""
        if turn == 0:
            return tuple(seams)
        turned = place_segments(seams, around, Side(-1, turn, 0, 0))
        return tuple(sorted(self._order(turned)))

    def _lie(self, side: Side) -> list[Placed]:
        patches, spread = self.units[side.unit].patches, self.spread(side.unit, side.turn)
        turned = turn_patches(self.cuts.shapes, patches, spread, side.turn)
        return [(y + side.y, x + side.x, shape) for y, x, shape in turned]

    def _is_first(self, side: Side, seam: Segment, first: Placed) -> bool:
        """Whether the first patch of all lies on this side of a seam."""
        patches, spread = self.units[side.unit].patches[:1], self.spread(side.unit, side.turn)
        ((y, x, shape),) = turn_patches(self.cuts.shapes, patches, spread, side.turn)
        return self._is_ahead((y + side.y, x + side.x, shape), seam) == self._is_ahead(first, seam)

    def _is_ahead(self, placed: Placed, seam: Segment) -> bool:
        """Whether a patch lies where the normal (-dy, dx) of a seam points."""
        (px, py), (qx, qy) = seam
        return any((y - py) * (qx - px) - (x - px) * (qy - py) > 0 for x, y in self.cuts.outline(placed))


def _sew_block(units: Units, block_number: int) -> tuple[Seam, ...]:
    cuts = units.cuts
    drafted = cuts.blocks.drafted[block_number]
    number_of = {patch.outline: number for number, patch in enumerate(drafted.patches)}
    top = cuts.blocks.top if drafted.is_top else None
    # A block of a quilt is worked out once for each way it lies, and then moved to its place
    pieces = {(piece.x, piece.y): piece for piece in top.pieces if piece.block >= 0} if top else {}
    known: dict[tuple[int, Turn, int, int], tuple[range, Side, int]] = {}
    seams: list[Seam] = []
    # Post-order without recursion: a part of parts can be nested deep, and a row of logs is as deep as it is long.
    waiting: list[tuple[Side, bool]] = [(units.roots[block_number], False)]
    ready: list[int] = []
    while waiting:
        side, sides_done = waiting.pop()
        unit = units.units[side.unit]
        piece = pieces.get((side.x, side.y))
        is_piece = piece is not None and side.unit == units.roots[piece.block].unit
        key = (side.unit, side.turn, piece.block, piece.turn) if piece is not None and is_piece else None
        if unit.a is None:
            (placed,) = units.place_patches(side)
            ready.append(~number_of[cuts.outline(placed)])
        elif sides_done:
            b = ready.pop() if unit.b is not None else None
            a = ready.pop()
            ready.append(len(seams))
            seams.append(Seam(side.unit, side.turn, side.x, side.y, a, b))
            if key is not None and piece is not None:
                known[key] = (range(len(seams) - unit.sewings, len(seams)), side, piece.first)
        elif key in known and piece is not None:
            there, where, first = known[key]
            by, x, y, patches = len(seams) - there.start, side.x - where.x, side.y - where.y, piece.first - first
            seams += [
                Seam(
                    one.unit,
                    one.turn,
                    one.x + x,
                    one.y + y,
                    one.a + by if one.a >= 0 else one.a - patches,
                    None if one.b is None else one.b + by if one.b >= 0 else one.b - patches,
                )
                for one in seams[there.start : there.stop]
            ]
            ready.append(len(seams) - 1)
        else:
            waiting.append((side, True))
            waiting += [(units.seat_side(inner, side), False) for inner in reversed(unit.sides)]
    return tuple(seams)
