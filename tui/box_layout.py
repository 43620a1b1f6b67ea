"""What joins the quilt, piece by piece and not to scale: each block a box with its number, each strip with its letter.

For units of which not every patch can be told. Where the edges of pieces meet is true, how large they are is not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from textwrap import wrap
from typing import Any, NamedTuple

from planner.blocks import Outline, Piece, Point
from planner.plan import Plan
from planner.surd import Grid
from tui.canvas import BLANK, Canvas, Cell
from tui.draw_boxes import main_fabric
from tui.fit_picture import Detail
from tui.lay_axis import Axis, lay_axis
from tui.paint_scene import even_rows, spell_label
from tui.place_quilt import find_pieces, number_blocks
from tui.scene import Box, Scene, Turn, nearly

Size = tuple[int, int, bool]  # rows and columns of a block, and whether there are lines round it
BLOCKS: tuple[Size, ...] = ((3, 7, True), (3, 5, True), (2, 5, True), (2, 3, True), (1, 4, True), (1, 3, True),
                            (1, 3, False), (1, 2, False))  # fmt: skip
CORE: tuple[Size, ...] = ((9, 19, True), (7, 15, True), (5, 13, True), (4, 11, True), (3, 11, True), (2, 11, True),
                          (1, 11, True), (3, 10, False), (2, 10, False), (1, 10, False))  # fmt: skip
OUTLINES: tuple[Size, ...] = ((9, 17, True), (7, 13, True), (5, 11, True), (4, 9, True), (3, 7, True), (2, 5, True),
                              (1, 4, True))  # fmt: skip
_HAIR = 1e-9
Somewhere = tuple[float | Grid, float | Grid]  # a point, exact, or in cells
Place = Callable[[Any], Somewhere]  # where a point comes to lie
_BEFORE_LEGEND, _MOST_LEGEND = 4, 2  # columns before it where it stands beside a picture; rows below one
_LONG = 3  # among strips alone what is at least so long (a share of the longest) is drawn as large as a block


class Labelled(NamedTuple):
    """A scene of pieces. `letters` has one text for each; of those in `once` it stands once in the middle, or nowhere
    where it is empty."""

    scene: Scene
    letters: tuple[str, ...]
    once: frozenset[int] = frozenset()


class BoxPiece(NamedTuple):
    """A block, a strip, or the middle of a quilt that a border goes round. `fabric` is "" where it is of many."""

    outline: Outline
    fabric: str
    label: str
    is_strip: bool


class Group(NamedTuple):
    """Pieces of one unit, and where it ends."""

    pieces: list[BoxPiece]
    border: Outline


class Boxes(NamedTuple):
    """Groups of pieces in cells, and where a point of their frame comes to lie."""

    groups: tuple[Labelled, ...]
    place: Place
    detail: Detail


def find_joint(plan: Plan, unit: int) -> int | None:
    """A seam of the quilt that joins blocks or strips to such a unit; None where it is a part of a block."""
    if plan.blocks.top is None or plan.units.units[unit].shape >= 0:
        return None
    of_seam = plan.units.piece_of[1]
    seams = enumerate(plan.units.seams[-1])
    return next((number for number, seam in seams if seam.unit == unit and of_seam[number] < 0), None)


def find_ring(plan: Plan, joint: int) -> int | None:
    """Which border, from 0, is sewn to the rest of the quilt by a joint; None where it joins something else."""
    top = plan.blocks.top
    assert top is not None
    sides = [find_pieces(plan, side) for side in plan.units.seams[-1][joint].sides]
    has_blocks = [any(top.pieces[number].block >= 0 for number in side) for side in sides]
    borders = plan.words.borders
    for side in (side for side, has in zip(sides, has_blocks, strict=True) if not has):
        if any(has_blocks) and all(number in borders for number in side):
            return min(borders[number].ring for number in side)
    return None


def show_pieces(plan: Plan, joint: int, side: int, turn: Turn) -> list[BoxPiece]:
    """The pieces of one side of a joint (a place in the seams of the quilt, or ~ a patch), or of all that it joins.

    `turn` leads from the frame of the unit that the joint makes to that of the picture. What a border is sewn to is one
    piece, with strips of the same border that are there already.
    """
    top = plan.blocks.top
    assert top is not None
    ring = find_ring(plan, joint)
    labels = number_blocks(plan)
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    found = []
    inside: list[Point] = []  # corners of what lies inside the border
    for number in sorted(find_pieces(plan, side)):
        piece = top.pieces[number]
        border = plan.words.borders.get(number)
        if ring is not None and (border is None or border.ring < ring):
            inside += _turned(plan, _corners(plan, piece), joint, turn)
        elif piece.block >= 0:
            fabric = main_fabric(plan.blocks.drafted[piece.block])
            outline = _turned(plan, _corners(plan, piece), joint, turn)
            found.append(BoxPiece(outline, fabric, labels[piece.block], is_strip=False))
        else:
            patch = plan.blocks.drafted[-1].patches[piece.first]
            outline = _turned(plan, patch.outline, joint, turn)
            found.append(BoxPiece(outline, patch.fabric, letters[patch.fabric], is_strip=True))
    return [BoxPiece(_round(inside), "", "the quilt", is_strip=False), *found] if inside else found


def _corners(plan: Plan, piece: Piece) -> Outline:
    if piece.block < 0:
        return plan.blocks.drafted[-1].patches[piece.first].outline
    block = plan.blocks.drafted[piece.block]
    wide, high = (block.height, block.width) if piece.turn % 2 else (block.width, block.height)
    x, y = piece.x, piece.y
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _turned(plan: Plan, outline: Outline, joint: int, turn: Turn) -> Outline:
    seam = plan.units.seams[-1][joint]
    return tuple(turn(plan.units.find_point(point, seam)) for point in outline)


def offer_boxes(groups: Sequence[Group]) -> Iterator[Boxes]:
    """Pictures of groups of pieces that lie side by side, the best first. What lies at 0, 0 stays there."""
    pieces = [piece for group in groups for piece in group.pieces]
    sizes, large = _find_sizes(pieces)
    # Of a border only its corners: where a strip is pieced does not matter
    outlines = [piece.outline for piece in pieces if sizes is not CORE or not piece.is_strip]
    corners = [point for outline in (*outlines, *(group.border for group in groups)) for point in outline]
    axes = [sorted({point[axis] for point in corners}, key=nearly) for axis in (0, 1)]
    label = max((len(piece.label) for piece in pieces if not piece.is_strip), default=1)
    strip = max((len(piece.label) for piece in pieces if piece.is_strip), default=1)
    for rows, columns, is_ruled in sizes:
        wide = _Cells(large, max(columns, label + 1 + is_ruled), max(2, strip + (not is_ruled)))
        across, down = _lay(axes[0], wide, is_ruled), _lay(axes[1], _Cells(large, rows, 1), is_ruled)
        place = partial(_place, across, down)
        detail: Detail = "outlined" if is_ruled else "plain"
        yield Boxes(tuple(_label(group, place) for group in groups), place, detail)


class _Cells(NamedTuple):
    """How many cells a length takes: `many` where it is a large one."""

    large: float
    many: int
    few: int

    def of(self, length: float) -> int:
        return self.many if length > self.large else self.few


def _find_sizes(pieces: Sequence[BoxPiece]) -> tuple[tuple[Size, ...], float]:
    """How large pieces can be drawn, and how long at least what is drawn as large as a block."""
    blocks = [piece for piece in pieces if not piece.is_strip]
    if any(not piece.fabric for piece in blocks):
        return CORE, max((min(_sides(piece.outline)) for piece in pieces if piece.is_strip), default=0) * (1 + _HAIR)
    if blocks:
        return BLOCKS, min(min(_sides(piece.outline)) for piece in blocks) * (1 - _HAIR)
    return OUTLINES, max(max(_sides(piece.outline)) for piece in pieces) / _LONG


def _lay(values: Sequence[Grid], cells: _Cells, is_ruled: bool) -> Axis:
    return lay_axis([(nearly(value), is_ruled) for value in values], cells.of)


def _place(across: Axis, down: Axis, point: Point) -> Somewhere:
    x, y = (axis.on_line(nearly(value)) - axis.on_line(0) for axis, value in zip((across, down), point, strict=True))
    return x, y


def _label(group: Group, place: Place) -> Labelled:
    outlines: list[Any] = [tuple(map(place, piece.outline)) for piece in group.pieces]  # in cells, no whole numbers
    border: Any = tuple(map(place, _border_through(group)))
    lines = tuple(line for outline in outlines for line in zip(outline, (*outline[1:], outline[0]), strict=True))
    scene = Scene(tuple(outlines), tuple(piece.fabric for piece in group.pieces), lines, border)
    once = frozenset(number for number, piece in enumerate(group.pieces) if not piece.is_strip or not piece.label)
    return Labelled(scene, tuple(piece.label for piece in group.pieces), once)


def _border_through(group: Group) -> Iterator[Point]:
    """The border with every corner of a piece on it: what is straight may be bent where lengths are not true."""
    corners = {point for piece in group.pieces for point in piece.outline}
    for (ax, ay), (bx, by) in zip(group.border, group.border[1:] + group.border[:1], strict=True):
        on_side = [(x, y) for x, y in corners if (x - ax) * (by - ay) == (y - ay) * (bx - ax)]
        along = [((x - ax) * (bx - ax) + (y - ay) * (by - ay), (x, y)) for x, y in on_side]
        whole = (bx - ax) * (bx - ax) + (by - ay) * (by - ay)
        yield ax, ay
        yield from (point for far, point in sorted(along, key=_first) if 0 < far < whole)


def _first(one: tuple[Grid, Point]) -> float:
    return nearly(one[0])


def tell_blocks(plan: Plan, pieces: Sequence[BoxPiece]) -> list[str]:
    """What the numbers in boxes stand for: `1 nine patch`, `2 buoy`."""
    shown = {piece.label for piece in pieces if not piece.is_strip}
    named = [(label, plan.blocks.drafted[block].title) for block, label in number_blocks(plan).items()]
    return [f"{label} {title}" for label, title in named if label in shown]


def legend_width(named: Sequence[str]) -> int:
    """How many columns a legend takes beside a picture."""
    return max(map(len, named)) + _BEFORE_LEGEND if named else 0


def add_legend(canvas: Canvas, named: Sequence[str], width: int, height: int) -> Canvas | None:
    """A picture below its heading with what its numbers stand for, beside it where there is room, else below it. None
    where there is no room for either."""
    if len(canvas[0]) + legend_width(named) <= width and len(named) < len(canvas) <= height:
        words = [[], *([*[BLANK] * _BEFORE_LEGEND, *_spell(line)] for line in named)]
        words += [[]] * (len(canvas) - len(words))
        return even_rows([[*row, *more] for row, more in zip(canvas, words, strict=True)])
    lines = wrap(", ".join(named), max(1, width))[:_MOST_LEGEND]
    return None if len(canvas) + len(lines) > height else even_rows([*canvas, *map(_spell, lines)])


def _spell(words: str) -> list[Cell]:
    return spell_label(words, range(0), len(words))


def _sides(outline: Outline) -> tuple[float, float]:
    left, top, right, bottom = (nearly(value) for value in _box(outline))
    return right - left, bottom - top


def _box(points: Sequence[Point]) -> Box:
    xs, ys = sorted((x for x, _ in points), key=nearly), sorted((y for _, y in points), key=nearly)
    return xs[0], ys[0], xs[-1], ys[-1]


def _round(points: Sequence[Point]) -> Outline:
    """The corners of the box round points."""
    left, top, right, bottom = _box(points)
    return ((left, top), (right, top), (right, bottom), (left, bottom))
