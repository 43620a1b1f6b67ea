"""Blocks -> the regions that straight cuts can reach, and the cuts of each: an and-or graph.

A region is a convex stretch of a block that can be one unit. Regions are kept in canonical form (four quarter turns,
moved to the origin, never mirrored), so that what is equal anywhere in the project is one region with one set of
cuts. A straight cut runs along the sides of patches from border to border and through no part that is not yet sewn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise
from math import floor
from types import MappingProxyType
from typing import NamedTuple, TypeVar

from planner.blocks import Blocks, DraftedBlock, Outline, Part, Patch, Point, Top, tidy_outline
from planner.project import Joining
from planner.set_in_borders import find_mitre
from planner.surd import Grid, Surd, to_least
from planner.tie_quilt import list_stretches
from planner.turn_prints import NO_WAY, turn_to_upright, turn_up
from planner.turns import BETWEEN, Spread, Turn, plain_turn, rotate, spread_box

Placed = tuple[Grid, Grid, int]  # y, x, shape: the upper left corner of the box round a patch, and its shape's number
Rectangle = tuple[Grid, Grid, Grid, Grid]  # left, top, right, bottom

# A search that explores every region of a very large plain grid would never end. What is told by this budget (patches
# looked at while cutting, so that every machine stops at the same place) is how much is explored freely; past it each
# further region keeps only the one cut that halves it best.
FREE_LOOKS = 400_000

NEVER: Mapping[Turn, tuple[int, Grid, Grid]] = MappingProxyType({})
FEW_LINES = 4  # to look for a half turn that carries them onto each other would cost as much as it saves


class Shape(NamedTuple):
    """An outline at the origin in one fabric, and what it looks like after a quarter turn clockwise.

    In a layout a whole block is one shape too: `region` is the block's, lying turned by `turn` quarters.
    """

    fabric: str
    outline: Outline
    width: Grid
    height: Grid
    twice_area: Grid
    turned: int
    period: Turn  # 1: any quarter turn carries it onto itself; 2: a half turn does; 4: none
    askew: bool = False  # cut with its grain half a right angle from the frame
    region: int = -1
    turn: int = 0
    many: int = 1  # patches in it
    up: int = NO_WAY  # where the top of its print points (see `turn_prints`)
    # What it looks like after turns between whole quarters, and how far right and down the box round it is then
    between: Mapping[Turn, tuple[int, Grid, Grid]] = NEVER


class Seat(NamedTuple):
    """A region where it lies: turned clockwise by `turn` quarters, then its box put with the upper left at x, y."""

    region: int
    turn: Turn
    x: Grid
    y: Grid


class CutOption(NamedTuple):
    """One straight cut of a region. `left` lies on the lower side of the line's normal (see `Normal`)."""

    ends: tuple[Point, Point]
    left: Seat
    right: Seat
    joins: int  # points where seams of both sides will meet
    square: int  # the squared length, in grid units, rounded down
    legs: tuple[Point, ...] = ()  # of a seam that is set in, its way from end to end; `ends` is one stretch of it
    closes: bool = False  # finishes a seam that was sewn in part: both sides are the one unit that it is in


@dataclass(slots=True)
class Region:
    patches: tuple[Placed, ...]
    parts: tuple[Part, ...]
    width: Grid
    height: Grid
    cuts: tuple[CutOption, ...] = ()
    size: int = 1  # how many patches there are in it; in a layout more than `patches`, where blocks stand for theirs
    is_layout: bool = False  # blocks and strips that are joined
    slits: tuple[tuple[Point, Point], ...] = ()  # what of its seams is not sewn yet
    is_bent: bool = False  # it is not convex, or has slits: no line that cuts no patch need be a seam

    @property
    def rank(self) -> tuple[int, int]:
        """The sides of a cut come before what is cut: the smaller, and of the equally large what is slit more."""
        return self.size, -len(self.slits)


Normal = Point  # one for all lines of a direction (see `to_least`), pointing right, or straight down
Line = tuple[Normal, Grid, int]  # across what, how far out, and how many patches lie on the lower side


@dataclass(frozen=True, slots=True)
class Stuck:
    """A block that no straight order sews: the region that nothing cuts, in block coordinates."""

    block: DraftedBlock
    box: Rectangle
    patches: tuple[Patch, ...]
    for_parts: bool  # a straight cut would be there if the borders of parts did not forbid it


@dataclass(slots=True)
class Cuts:
    """The and-or graph of a project. `roots` belong to `blocks.drafted`, one each.

    `shapes` are patches, in an order that their content alone decides; then what stands for whole blocks in a layout.
    """

    blocks: Blocks
    shapes: tuple[Shape, ...]
    regions: list[Region]
    roots: tuple[Seat, ...]
    stuck: tuple[Stuck, ...] = ()
    searched_all: bool = True  # False: the budget ended the free search
    _spreads: dict[tuple[int, Turn], Spread] = field(default_factory=dict)

    def place(self, seat: Seat) -> list[Placed]:
        """The patches of a seated region, where they lie."""
        region = self.regions[seat.region]
        patches = turn_patches(self.shapes, region.patches, self.spread(seat.region, seat.turn), seat.turn)
        return [(y + seat.y, x + seat.x, shape) for y, x, shape in patches]

    def spread(self, region: int, turn: Turn) -> Spread:
        """The box round a region that is turned about its upper left corner."""
        here = self.regions[region]
        if isinstance(turn, int):
            return spread_box(here.width, here.height, turn)
        known = self._spreads.get((region, turn))
        if known is None:
            known = self._spreads[region, turn] = spread_patches(self.shapes, here.patches, turn)
        return known

    def outline(self, placed: Placed) -> Outline:
        y, x, shape = placed
        return tuple((a + x, b + y) for a, b in self.shapes[shape].outline)


def always() -> bool:
    return True


def find_cuts(blocks: Blocks, keep_going: Callable[[], bool] = always, free_looks: int = FREE_LOOKS) -> Cuts:
    """All regions that straight cuts can reach from the blocks, each with all its cuts.

    `keep_going` is asked now and then; once it says False the search stops with `InterruptedError`.
    """
    return search_cuts(blocks, keep_going, free_looks)[1]


def search_cuts(blocks: Blocks, keep_going: Callable[[], bool], free_looks: int = FREE_LOOKS) -> tuple[Search, Cuts]:
    """The same, and the search, which can go on from there."""
    shapes, number = _number_shapes(blocks)
    top = blocks.top
    search = Search(shapes, keep_going, free_looks, top.joining if top else None)
    loose = [block for block in blocks.drafted if not block.is_top]
    if search.between:
        search.drawn = _find_drawn(loose, shapes, number)
    roots = [_seat_block(search, block, number) for block in loose]
    if top:
        roots.append(_seat_top(search, blocks.drafted, top, roots, number))
    search.explore(root.region for root in roots)
    cuts = Cuts(blocks, tuple(search.shapes), search.regions, tuple(roots))
    cuts.searched_all = search.left_out == 0
    cuts.stuck = find_stuck(search, cuts)
    if not cuts.stuck:
        search.keep_fewest_passes()
    return search, cuts


def find_stuck(search: Search, cuts: Cuts) -> tuple[Stuck, ...]:
    """The blocks that no order of cuts takes apart."""
    both = zip(cuts.blocks.drafted, cuts.roots, strict=True)
    return tuple(found for block, root in both if (found := _find_stuck(search, cuts, block, root)))


_Look = tuple[str, Outline, bool, int]  # fabric, outline at the origin, askew, where its print points
Numbers = dict[_Look, int]  # -> shape


def _find_drawn(blocks: Iterable[DraftedBlock], shapes: Sequence[Shape], number: Numbers) -> set[int]:
    """The shapes of patches as they lie in blocks, and what they look like turned by quarters."""
    found = set()
    for patch in (patch for block in blocks for patch in block.patches):
        shape = number[patch.fabric, _to_origin(patch.outline)[0], patch.askew, patch.up]
        while shape not in found:
            found.add(shape)
            shape = shapes[shape].turned
    return found


def _seat_block(search: Search, block: DraftedBlock, number: Numbers) -> Seat:
    patches = []
    for patch in block.patches:
        at_origin, x, y = _to_origin(patch.outline)
        patches.append((y, x, number[(patch.fabric, at_origin, patch.askew, patch.up)]))
    parts = _box_parts(patches, block.parts, search.shapes)
    whole = (0, 0, block.width, block.height)
    parts.discard(whole)
    return search.seat(sorted(patches), parts, whole, may_slant=False)


def _box_parts(patches: list[Placed], parts: tuple[tuple[int, int], ...], shapes: Sequence[Shape]) -> set[Rectangle]:
    """The boxes round all parts. Inner parts come before outer ones, so that each is looked at once."""
    boxes = [(x, y, x + shapes[shape].width, y + shapes[shape].height) for y, x, shape in patches]
    found: set[Rectangle] = set()
    inside: list[tuple[int, int, Rectangle]] = []  # what is boxed and in no larger part yet
    for first, last in parts:
        here = []
        at = last
        while inside and inside[-1][0] >= first:
            inner_first, inner_last, box = inside.pop()
            here += [box, *boxes[inner_last:at]]
            at = inner_first
        box = _join_boxes([*here, *boxes[first:at]])
        inside.append((first, last, box))
        found.add(box)
    return found


def _join_boxes(boxes: list[Rectangle]) -> Rectangle:
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _seat_top(search: Search, drafted: Sequence[DraftedBlock], top: Top, seats: list[Seat], number: Numbers) -> Seat:
    """The region of the whole layout, in which every block of more than one patch is one shape."""
    placed: list[Placed] = []
    quilt = drafted[-1]
    for piece in top.pieces:
        seat = seats[piece.block] if piece.block >= 0 else None
        if seat is None or search.regions[seat.region].size == 1:
            patch = quilt.patches[piece.first]
            at_origin, x, y = _to_origin(patch.outline)
            placed.append((y, x, number[(patch.fabric, at_origin, patch.askew, patch.up)]))
        else:
            placed.append((piece.y, piece.x, search.stand_for(seat.region, int(seat.turn) + piece.turn)))
    whole = (0, 0, quilt.width, quilt.height)
    inner = [*top.inner]
    if top.joining == "webbed" and not top.on_point:
        inner += list_stretches(top.pieces, drafted)
    return search.seat(sorted(placed), [box for box in inner if box != whole], whole, is_layout=True)


def turn_point(point: Point, width: Grid, height: Grid, turn: int) -> Point:
    """A point of a box width x height at the origin, after `turn` quarter turns clockwise of the whole box."""
    x, y = point
    for _ in range(turn % 4):
        x, y = height - y, x
        width, height = height, width
    return x, y


_Vector = TypeVar("_Vector", tuple[int, int], Point)


def turn_vector(vector: _Vector, turn: int) -> _Vector:
    """A direction after `turn` quarter turns clockwise."""
    x, y = vector
    for _ in range(turn % 4):
        x, y = -y, x
    return x, y


def _to_origin(outline: Outline) -> tuple[Outline, Grid, Grid]:
    left, top = min(x for x, _ in outline), min(y for _, y in outline)
    return tuple((x - left, y - top) for x, y in outline), left, top


def _turn_outline(outline: Outline) -> Outline:
    height = max(y for _, y in outline)
    return tidy_outline((height - y, x) for x, y in outline)


def _number_shapes(blocks: Blocks) -> tuple[list[Shape], Numbers]:
    """Every shape of the project and its turns, numbered in an order that their content alone decides."""
    seen: set[_Look] = set()
    between = _find_between(blocks)
    for patches in _patches_of(blocks):
        raw = {(patch.fabric, _to_origin(patch.outline)[0], patch.askew, patch.up) for patch in patches}
        for look in raw:
            for start in (look, *(_look_between(look, turn) for turn in between if turn < 1)):
                here = start
                while here not in seen:
                    seen.add(here)
                    here = _turn_look(here)
    order = sorted(seen)
    number = {key: place for place, key in enumerate(order)}
    shapes = []
    for place, (fabric, outline, askew, up) in enumerate(order):
        turned = number[_turn_look(order[place])]
        half = number[_turn_look(order[turned])]
        period = 1 if turned == place else 2 if half == place else 4
        width, height = max(x for x, _ in outline), max(y for _, y in outline)
        pairs = zip(outline, outline[1:] + outline[:1], strict=True)
        twice_area = sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs)
        spun = {turn: (number[_look_between(order[place], turn)], *_turned_corner(outline, turn)) for turn in between}
        every = [turn for turn, (other, _, _) in spun.items() if other == place]
        least = min([*every, period])
        shapes.append(
            Shape(fabric, outline, width, height, twice_area, turned, least, askew, up=up, between=spun or NEVER)
        )
    return shapes, number


def _look_between(look: _Look, turn: Turn) -> _Look:
    """What a shape looks like after a turn between whole quarters. Half of a square keeps the grain that it has in its
    block, so that edges on the outside stay on grain; of other shapes all that are equal are cut alike."""
    fabric, outline, askew, up = look
    turned = _to_origin(tidy_outline(rotate(point, turn) for point in outline))[0]
    return fabric, turned, askew != (turn.denominator == 2 and _is_half_square(outline)), up


def _turned_corner(outline: Outline, turn: Turn) -> Point:
    """The upper left corner of the box round an outline that is turned about 0, 0."""
    corners = [rotate(point, turn) for point in outline]
    return min(x for x, _ in corners), min(y for _, y in corners)


def _is_half_square(outline: Outline) -> bool:
    """Whether it is a right-angled triangle with equal legs."""
    if len(outline) != 3:
        return False
    a, b, c = outline
    for p, q, r in ((a, b, c), (b, c, a), (c, a, b)):
        one, other = (q[0] - p[0], q[1] - p[1]), (r[0] - p[0], r[1] - p[1])
        if one in ((-other[1], other[0]), (other[1], -other[0])):
            return True
    return False


def _find_between(blocks: Blocks) -> tuple[Turn, ...]:
    """The turns between whole quarters by which shapes of the blocks are looked at: none where no corner has a root,
    nor where prints have to stay upright."""
    patches = [patch for block in blocks.drafted if not block.is_top for patch in block.patches]
    roots = {value.of for patch in patches for point in patch.outline for value in point if isinstance(value, Surd)}
    has_ways = any(patch.up != NO_WAY for block in blocks.drafted for patch in block.patches)
    return BETWEEN[roots.pop()] if roots and not has_ways else ()


def _turn_look(look: _Look) -> _Look:
    fabric, outline, askew, up = look
    return fabric, _turn_outline(outline), askew, turn_up(up, 1)


def _patches_of(blocks: Blocks) -> Iterator[Iterable[Patch]]:
    """All patches that differ in more than their place: those of each block, and those of the top that are in none."""
    for block in blocks.drafted:
        if not block.is_top:
            yield block.patches
    if blocks.top:
        quilt = blocks.drafted[-1]
        yield [quilt.patches[piece.first] for piece in blocks.top.pieces if piece.block < 0]


def _box(patches: list[Placed], shapes: Sequence[Shape]) -> Rectangle:
    return (
        min([x for _, x, _ in patches]),
        min([y for y, _, _ in patches]),
        max([x + shapes[shape].width for _, x, shape in patches]),
        max([y + shapes[shape].height for y, _, shape in patches]),
    )


def turn_placed(
    shapes: Sequence[Shape], patches: Iterable[Placed], width: Grid, height: Grid, turn: int
) -> list[Placed]:
    """Patches of a box width x height at the origin, after `turn` quarter turns clockwise of the whole box."""
    patches = list(patches)
    for _ in range(turn % 4):
        patches = [(x, height - y - shapes[shape].height, shapes[shape].turned) for y, x, shape in patches]
        width, height = height, width
    return patches


def spread_patches(shapes: Sequence[Shape], patches: Iterable[Placed], turn: Turn) -> Spread:
    """The box round patches that are turned about 0, 0 by no whole quarters."""
    left, top, right, bottom = _box(_lay_between(shapes, patches, turn), shapes)
    return Spread(left, top, right - left, bottom - top)


def _lay_between(shapes: Sequence[Shape], patches: Iterable[Placed], turn: Turn) -> list[Placed]:
    """Patches that are turned about 0, 0 by no whole quarters."""
    found = []
    for y, x, shape in patches:
        left, top = rotate((x, y), turn)
        turned, across, down = shapes[shape].between[turn]
        found.append((top + down, left + across, turned))
    return found


def turn_patches(shapes: Sequence[Shape], patches: Iterable[Placed], spread: Spread, turn: Turn) -> list[Placed]:
    """Patches of something after a turn of it all; `spread` is the box round it then."""
    if isinstance(turn, int):
        wide, high = (spread.wide, spread.high) if turn % 2 == 0 else (spread.high, spread.wide)
        return turn_placed(shapes, patches, wide, high, turn)
    laid = _lay_between(shapes, patches, turn)
    return [(top - spread.top, left - spread.left, shape) for top, left, shape in laid]


def list_slants(shapes: Iterable[Shape]) -> list[int]:
    """How many sides of each shape are neither upright nor level."""
    sides = (zip(shape.outline, shape.outline[1:] + shape.outline[:1], strict=True) for shape in shapes)
    return [sum(ax != bx and ay != by for (ax, ay), (bx, by) in outline) for outline in sides]


class Search:
    def __init__(
        self, shapes: list[Shape], keep_going: Callable[[], bool], free_looks: int, joining: Joining | None
    ) -> None:
        self.shapes = shapes
        self.joining = joining
        self.keep_going = keep_going
        self.free_looks = free_looks
        self.looks = 0
        self.left_out = 0  # lines that were found and not followed, since the budget was used up
        self.regions: list[Region] = []
        self._number: dict[tuple[tuple[Placed, ...], tuple[Part, ...]], int] = {}
        self._seen: dict[tuple[tuple[Placed, ...], tuple[Part, ...]], tuple[int, Turn]] = {}
        self._normals = [_find_normals(shape.outline) for shape in shapes]
        self._stands_for: dict[tuple[int, int], int] = {}
        self._reaches: dict[Normal, dict[int, _Reach]] = {}
        self._is_half_turned: dict[int, bool] = {}
        self._explored: set[int] = set()
        self._slit: dict[object, int] = {}  # regions with slits, by their content
        self._same: dict[Placed, Placed] = {}  # one of all that are equal, so that a large draft needs less room
        self._has_ways = any(shape.up != NO_WAY for shape in shapes)
        # Turns between whole quarters that the shapes of this project have
        self.between = tuple(dict.fromkeys(turn for shape in shapes for turn in shape.between))
        self.drawn: set[int] = set()  # shapes as they lie in blocks, and by quarters from there

    def stand_for(self, region: int, turn: int) -> int:
        """The shape that stands for a whole block in a layout, turned clockwise by `turn` quarters."""
        if (region, 0) not in self._stands_for:
            block = self.regions[region]
            period = self._period(region)
            first = len(self.shapes)
            for quarter in range(period):
                width, height = (block.width, block.height) if quarter % 2 == 0 else (block.height, block.width)
                outline = ((0, 0), (width, 0), (width, height), (0, height))
                turned = first + (quarter + 1) % period
                self.shapes.append(
                    Shape(
                        "",
                        outline,
                        width,
                        height,
                        2 * width * height,
                        turned,
                        period,
                        False,
                        region,
                        quarter,
                        block.size,
                    )
                )
                self._normals.append(_find_normals(outline))
            for quarter in range(4):
                self._stands_for[region, quarter] = first + quarter % period
        return self._stands_for[region, turn % 4]

    def _period(self, number: int) -> int:
        """1 where every quarter turn carries a region onto itself, its parts too; 2 where a half turn does; else 4."""
        region = self.regions[number]
        patches, parts = list(region.patches), list(region.parts)
        width, height = region.width, region.height
        for turn in (1, 2):
            patches, parts, width, height = self._turn(patches, parts, width, height)
            if (tuple(patches), tuple(parts)) == (region.patches, region.parts):
                return turn
        return 4

    def _turn(
        self, patches: list[Placed], parts: list[Part], width: Grid, height: Grid
    ) -> tuple[list[Placed], list[Part], Grid, Grid]:
        """All of a box width x height, a quarter turn on and in order again."""
        patches = sorted(turn_placed(self.shapes, patches, width, height, 1))
        return patches, sorted(turn_part(part, height) for part in parts), height, width

    def seat(
        self,
        patches: list[Placed],
        parts: Iterable[Part],
        box: Rectangle,
        is_layout: bool = False,
        may_slant: bool = True,
    ) -> Seat:
        """The region of these patches (in order, with the box round them), numbered, and how it lies. A whole block may
        not slant: it stays in the frame in which it is drawn, or is turned by quarters."""
        left, top, right, bottom = box
        if len(patches) == 1 and self.shapes[patches[0][2]].region >= 0:
            shape = self.shapes[patches[0][2]]
            return Seat(shape.region, shape.turn, left, top)
        if left or top:
            same = self._same
            moved = [(y - top, x - left, shape) for y, x, shape in patches]
            patches = [same.setdefault(placed, placed) for placed in moved]
        raw = tuple(patches), tuple(sorted(_move_part(part, left, top) for part in parts))
        known = self._seen.get(raw)
        if known is None:
            may_slant = may_slant and not is_layout
            known = self._seen[raw] = self._canonical(raw, right - left, bottom - top, is_layout, may_slant)
        region, turn = known
        return Seat(region, turn, left, top)

    def _canonical(
        self,
        raw: tuple[tuple[Placed, ...], tuple[Part, ...]],
        width: Grid,
        height: Grid,
        is_layout: bool,
        may_slant: bool,
    ) -> tuple[int, Turn]:
        best_turn: Turn
        best, best_turn, best_size = raw, 0, (width, height)
        upright = self._find_upright(raw[0]) if self._has_ways else None
        # Rows stay rows; but a strip of pieces is cut across whichever way it lies, and is one kind so
        is_level = is_layout and self.joining in ("rows", "webbed") and self._is_cut_two_ways(raw, width, height)
        patches: Sequence[Placed] = raw[0]
        parts = raw[1]
        for turn in (1, 2, 3):
            patches = turn_placed(self.shapes, patches, width, height, 1)
            parts = tuple(sorted(turn_part(part, height) for part in parts))
            width, height = height, width
            if upright is not None:  # what is printed lies as it is looked at
                if turn == upright:
                    best, best_turn, best_size = (tuple(sorted(patches)), parts), turn, (width, height)
                continue
            # Most turns are no candidates by their first patch already, and need not be put in order
            if (is_level and turn % 2) or min(patches) > best[0][0]:
                continue
            here = (tuple(sorted(patches)), parts)
            if here < best:
                best, best_turn, best_size = here, turn, (width, height)
        if self.between and may_slant and not best[1] and upright is None:
            best, best_turn, best_size = self._look_between(best, best_turn, best_size)
        number = self._number.get(best)
        if number is None:
            if best_turn:
                best = tuple(self._same.setdefault(placed, placed) for placed in best[0]), best[1]
            number = self._number[best] = len(self.regions)
            size = sum(self.shapes[shape].many for _, _, shape in best[0])
            is_layout = is_layout and len(best[0]) > 1
            self.regions.append(Region(best[0], best[1], *best_size, size=size, is_layout=is_layout))
        return number, plain_turn(-best_turn)

    def _look_between(
        self, best: tuple[tuple[Placed, ...], tuple[Part, ...]], best_turn: Turn, best_size: Point
    ) -> tuple[tuple[tuple[Placed, ...], tuple[Part, ...]], Turn, Point]:
        """Of all turns, those between whole quarters too, the one with the fewest slanting sides; of these the first in
        order."""
        patches, turned_by, size = best[0], best_turn, best_size
        least = (self._is_never_so(patches), self.count_slants(patches), patches)
        for turn in self.between:
            shapes = [(0, 0, self.shapes[shape].between[turn][0]) for _, _, shape in patches]
            rank = self._is_never_so(shapes), self.count_slants(shapes)
            if rank > least[:2]:
                continue
            laid = _lay_between(self.shapes, patches, turn)
            left, top, right, bottom = _box(laid, self.shapes)
            spread = Spread(left, top, right - left, bottom - top)
            here = tuple(sorted((y - top, x - left, shape) for y, x, shape in laid))
            view = (*rank, here)
            if view < least:
                least = view
                best, best_turn, best_size = (here, best[1]), plain_turn(turned_by + turn), (spread.wide, spread.high)
        return best, best_turn, best_size if best[0] is not patches else size

    def _is_never_so(self, patches: Sequence[Placed]) -> bool:
        """Whether a single patch lies so in no block, nor by quarters from it: it would be cut off the grain."""
        return len(patches) == 1 and patches[0][2] not in self.drawn

    def count_slants(self, patches: Iterable[Placed]) -> int:
        """How many sides of patches are neither upright nor level."""
        return sum(self._slants[shape] for _, _, shape in patches)

    @cached_property
    def _slants(self) -> list[int]:
        return list_slants(self.shapes)

    def _find_upright(self, patches: Iterable[Placed]) -> int | None:
        """By how many quarters patches are turned so that their prints are upright; None where no print has a
        direction. All prints of a block point the same way."""
        for _, _, shape in patches:
            region = self.shapes[shape].region
            if region >= 0:
                inside = self._find_upright(self.regions[region].patches)
                if inside is not None:
                    return (inside - self.shapes[shape].turn) % 4
            elif self.shapes[shape].up != NO_WAY:
                return turn_to_upright(self.shapes[shape].up)
        return None

    def seat_slit(
        self, patches: list[Placed], parts: Iterable[Part], slits: Iterable[tuple[Point, Point]], box: Rectangle
    ) -> Seat:
        """The same of a region in which something is slit."""
        left, top, right, bottom = box
        here = [(y - top, x - left, shape) for y, x, shape in patches]
        within = [_move_part(part, left, top) for part in parts]
        open_stretches = [((px - left, py - top), (qx - left, qy - top)) for (px, py), (qx, qy) in slits]
        width, height = right - left, bottom - top
        views = []
        for turn in range(4):
            ordered = tuple(sorted((p, q) if p < q else (q, p) for p, q in open_stretches))
            views.append(((tuple(sorted(here)), tuple(sorted(within)), ordered), turn, width, height))
            open_stretches = [(turn_point(p, width, height, 1), turn_point(q, width, height, 1)) for p, q in ordered]
            here, within, width, height = self._turn(here, within, width, height)
        upright = self._find_upright(patches) if self._has_ways else None
        content, turn, width, height = min(views, key=lambda view: view[:2]) if upright is None else views[upright]
        number = self._slit.get(content)
        if number is None:
            number = self._slit[content] = len(self.regions)
            size = sum(self.shapes[shape].many for _, _, shape in content[0])
            self.regions.append(
                Region(content[0], content[1], width, height, size=size, slits=content[2], is_bent=True)
            )
        return Seat(number, -turn % 4, left, top)

    def _is_cut_two_ways(self, raw: tuple[tuple[Placed, ...], tuple[Part, ...]], width: Grid, height: Grid) -> bool:
        return len({normal for normal, _, _ in self.find_lines(Region(*raw, width, height))}) > 1

    def explore(self, roots: Iterable[int]) -> None:
        """All cuts of all that can be reached from these regions; of a layout those that the maker's way has."""
        done = self._explored
        waiting = [root for root in dict.fromkeys(roots) if root not in done]
        done.update(waiting)
        place = 0
        while place < len(waiting):
            region = self.regions[waiting[place]]
            place += 1
            if len(region.patches) == 1 or region.is_bent:
                continue
            self.looks += len(region.patches)
            if not self.keep_going():
                raise InterruptedError
            region.cuts = self._cut(region)
            for cut in region.cuts:
                for seat in (cut.left, cut.right):
                    if seat.region not in done:
                        done.add(seat.region)
                        waiting.append(seat.region)

    def keep_fewest_passes(self) -> None:
        """Of a layout that is joined by quarters the cuts that can be sewn in the fewest passes; when all is cut."""
        if self.joining != "quarters":
            return
        levels: dict[int, int] = {}
        for number in sorted(range(len(self.regions)), key=lambda other: self.regions[other].rank):
            region = self.regions[number]
            reached = [max(levels[cut.left.region], levels[cut.right.region]) + 1 for cut in region.cuts]
            levels[number] = min(reached, default=0)
            if region.is_layout:
                both = zip(region.cuts, reached, strict=True)
                region.cuts = tuple(cut for cut, level in both if level == levels[number])

    def _cut(self, region: Region) -> tuple[CutOption, ...]:
        places = self.find_lines(region)
        if region.is_layout and self.joining in ("rows", "webbed"):
            places = _join_rows(places, len(region.patches), is_webbed=self.joining == "webbed")
        self.looks += len(region.patches) * len(places)
        if self.looks > self.free_looks and len(places) > 1:
            # The one that halves it best; a straight one and a short one before others.
            self.left_out += len(places) - 1
            half = len(region.patches)
            places = [min(places, key=lambda found: (abs(2 * found[2] - half), found[0] not in _UPRIGHT, found[:2]))]
        if region.is_layout and not places:
            return self._set_in(region)
        return tuple(self._split_all(region, places))

    def _split_all(self, region: Region, places: list[Line]) -> Iterator[CutOption]:
        """The cuts of a region along these lines. Where a half turn carries it onto itself, so are the cuts carried:
        of each two that change places one is worked out."""
        if len(places) < FEW_LINES or self.between or not self._looks_half_turned(region):
            yield from (self._split(region, normal, at) for normal, at, _ in places)
            return
        found: dict[tuple[Normal, Grid], CutOption] = {}
        for normal, at, _ in places:
            other = normal[0] * region.width + normal[1] * region.height - at
            known = found.get((normal, other))
            cut = found[normal, at] = self._turn_half(region, known) if known else self._split(region, normal, at)
            yield cut

    def _turn_half(self, region: Region, cut: CutOption) -> CutOption:
        """The same cut after a half turn of the region, which looks the same so."""
        (px, py), (qx, qy) = cut.ends
        wide, high = region.width, region.height
        ends = ((wide - qx, high - qy), (wide - px, high - py))
        left, right = (self._turn_seat_half(region, seat) for seat in (cut.right, cut.left))
        return CutOption(ends, left, right, cut.joins, cut.square)

    def _turn_seat_half(self, region: Region, seat: Seat) -> Seat:
        inner = self.regions[seat.region]
        wide, high = (inner.width, inner.height) if seat.turn % 2 == 0 else (inner.height, inner.width)
        half = self._is_half_turned.get(seat.region)
        if half is None:
            half = self._is_half_turned[seat.region] = self._looks_half_turned(inner)
        turn = seat.turn if half else (seat.turn + 2) % 4
        return Seat(seat.region, turn, region.width - seat.x - wide, region.height - seat.y - high)

    def _looks_half_turned(self, region: Region) -> bool:
        """Whether a half turn carries a region onto itself, its parts too."""
        patches, parts, width, height = list(region.patches), list(region.parts), region.width, region.height
        for _ in range(2):
            patches, parts, width, height = self._turn(patches, parts, width, height)
        return (tuple(patches), tuple(parts)) == (region.patches, region.parts)

    def _set_in(self, region: Region) -> tuple[CutOption, ...]:
        """What a mitred border needs: no straight line parts it."""
        outlines = [tuple((px + x, py + y) for px, py in self.shapes[shape].outline) for y, x, shape in region.patches]
        mitre = find_mitre(outlines, region.width, region.height)
        if mitre is None:
            return ()
        sides: tuple[list[Placed], list[Placed]] = ([], [])
        for number, placed in enumerate(region.patches):
            sides[number in mitre.strip].append(placed)
        strip_box = _box(sides[1], self.shapes)
        seats = []
        for patches in sides:
            box = _box(patches, self.shapes)
            is_strip = box == strip_box
            within = [part for part in region.parts if part != box and _holds(strip_box, part) == is_strip]
            seats.append(self.seat(patches, within, box, is_layout=True))
        square = sum((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2 for p, q in pairwise(mitre.legs))
        return (CutOption(mitre.legs[1:3], seats[0], seats[1], 0, floor(square), mitre.legs),)

    def find_lines(self, region: Region) -> list[Line]:
        """The lines that cut no patch and no part: normal, offset, how many patches on the lower side."""
        shapes_here = {shape for _, _, shape in region.patches}
        normals = sorted({normal for shape in shapes_here for normal in self._normals[shape]})
        found = []
        for normal in normals:
            a, b = normal
            reach = self._reach_along(normal, shapes_here)
            begins = [a * x + b * y + reach[shape].low for y, x, shape in region.patches]
            ends = [a * x + b * y + reach[shape].high for y, x, shape in region.patches]
            of_parts = [_span(corners_of_part(part), normal) for part in region.parts]
            begins += [low for low, _ in of_parts]
            ends += [high for _, high in of_parts]
            begins.sort()
            ends.sort()
            # Nothing reaches over a line where as many have ended as have begun
            for number, (begin, end) in enumerate(zip(begins[1:], ends, strict=False), 1):
                if begin >= end:
                    found.append((normal, end, number - sum(high <= end for _, high in of_parts)))
        return found

    def _reach_along(self, normal: Normal, shapes: Iterable[int]) -> dict[int, _Reach]:
        """How far these shapes reach along a normal."""
        reach = self._reaches.setdefault(normal, {})
        for shape in shapes:
            if shape not in reach:
                outline = self.shapes[shape].outline
                values = [normal[0] * x + normal[1] * y for x, y in outline]
                low, high = min(values), max(values)
                corners = list(zip(values, outline, strict=True))
                reach[shape] = _Reach(
                    low,
                    high,
                    tuple(corner for value, corner in corners if value == low),
                    tuple(corner for value, corner in corners if value == high),
                )
        return reach

    def _split(self, region: Region, normal: Normal, at: Grid) -> CutOption:
        a, b = normal
        reach = self._reaches[normal]
        sides: tuple[list[Placed], list[Placed]] = ([], [])
        below, above = sides
        meets: tuple[dict[Point, int], dict[Point, int]] = ({}, {})
        for placed in region.patches:
            y, x, shape = placed
            here = reach[shape]
            rest = at - a * x - b * y
            if here.low >= rest:
                above.append(placed)
                if here.low > rest:
                    continue
                corners, meet = here.at_low, meets[1]
            else:
                below.append(placed)
                if here.high < rest:
                    continue
                corners, meet = here.at_high, meets[0]
            for px, py in corners:
                point = (px + x, py + y)
                meet[point] = meet.get(point, 0) + 1
        parts: tuple[list[Part], list[Part]] = ([], [])
        for part in region.parts:
            middle = a * (part[0] + part[2]) + b * (part[1] + part[3])
            parts[middle > 2 * at].append(part)
        seats = []
        for patches, inside in zip(sides, parts, strict=True):
            box = _box(patches, self.shapes)
            within = [part for part in inside if part[:4] != box]
            seats.append(self.seat(patches, within, box, region.is_layout))
        points = sorted(meets[0].keys() | meets[1].keys())
        start, end = points[0], points[-1]
        joins = sum(meets[0].get(p, 0) > 1 and meets[1].get(p, 0) > 1 for p in points)
        square = (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2
        return CutOption((start, end), seats[0], seats[1], joins, floor(square))


def turn_part(part: Part, height: Grid) -> Part:
    """After a quarter turn clockwise of the whole box around it, which is so high."""
    left, top, right, bottom = part[:4]
    turned = (height - bottom, left, height - top, right)
    return turned if len(part) == 4 else (*turned, height - top - (part[4] - left))


def _move_part(part: Part, left: Grid, top: Grid) -> Part:
    """As it is seen from a point."""
    a, b, c, d = part[:4]
    moved = (a - left, b - top, c - left, d - top)
    return moved if len(part) == 4 else (*moved, part[4] - left)


def corners_of_part(part: Part) -> Outline:
    left, top, right, bottom = part[:4]
    if len(part) == 4:
        return (left, top), (right, top), (right, bottom), (left, bottom)
    upper = part[4]
    return (upper, top), (right, top + right - upper), (left + right - upper, bottom), (left, top + upper - left)


def _holds(outer: Rectangle, inner: Part) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and inner[2] <= outer[2] and inner[3] <= outer[3]


class _Reach(NamedTuple):
    """How far a shape at the origin reaches along a normal, and its corners at either end."""

    low: Grid
    high: Grid
    at_low: tuple[Point, ...]
    at_high: tuple[Point, ...]


_UPRIGHT = ((1, 0), (0, 1))
_LEVEL = (0, 1)


def _join_rows(places: list[Line], many: int, is_webbed: bool) -> list[Line]:
    """Of the lines through a layout (normal, offset, how many pieces before it) those between rows, as long as there
    are some: so rows are whole before they are joined. Webbed all rows are cut alike: in the middle."""
    level = [place for place in places if place[0] == _LEVEL]
    found = level or places
    return [min(found, key=lambda place: (abs(2 * place[2] - many), place))] if is_webbed and found else found


def _find_normals(outline: Outline) -> set[Normal]:
    pairs = zip(outline, outline[1:] + outline[:1], strict=True)
    return {_primitive(ay - by, bx - ax) for (ax, ay), (bx, by) in pairs}


def _primitive(a: Grid, b: Grid) -> Normal:
    a, b = to_least(a, b)
    return (-a, -b) if a < 0 or (a == 0 and b < 0) else (a, b)


def _span(outline: Iterable[Point], normal: Normal) -> tuple[Grid, Grid]:
    values = [normal[0] * x + normal[1] * y for x, y in outline]
    return min(values), max(values)


def _find_stuck(search: Search, cuts: Cuts, block: DraftedBlock, root: Seat) -> Stuck | None:
    """The first region on the way down that nothing cuts, whichever way the rest is cut."""
    # Where a straight order exists, any first cut keeps one: so following the first cut of each region is enough.
    waiting = [root]
    seen: set[int] = set()
    while waiting:
        seat = waiting.pop()
        region = cuts.regions[seat.region]
        if len(region.patches) == 1 or seat.region in seen:
            continue
        seen.add(seat.region)
        if not region.cuts:
            placed = cuts.place(seat)
            patches = tuple(Patch(cuts.shapes[shape].fabric, cuts.outline((y, x, shape))) for y, x, shape in placed)
            without_parts = Region(region.patches, (), region.width, region.height)
            return Stuck(block, _box(placed, cuts.shapes), patches, bool(search.find_lines(without_parts)))
        first = region.cuts[0]
        waiting += [seat_within(cuts, seat, first.right), seat_within(cuts, seat, first.left)]
    return None


def seat_within(cuts: Cuts, outer: Seat, inner: Seat) -> Seat:
    """The seat, in the frame of `outer`, of a region seated within the region of `outer`."""
    turn = plain_turn(inner.turn + outer.turn)
    before, after = cuts.spread(inner.region, inner.turn), cuts.spread(inner.region, turn)
    around = cuts.spread(outer.region, outer.turn)
    x, y = rotate((inner.x - before.left, inner.y - before.top), outer.turn)
    return Seat(inner.region, turn, x + after.left - around.left + outer.x, y + after.top - around.top + outer.y)
