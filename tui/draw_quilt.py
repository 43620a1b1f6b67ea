"""The picture of the whole quilt: patch by patch where every patch gets its letter, else block by block.

A quilt on point is drawn as one looks at it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from functools import lru_cache
from math import floor, gcd
from typing import NamedTuple

from planner.blocks import DraftedBlock, Outline, Piece, Top
from planner.plan import Plan
from tui.canvas import Canvas, Easel, Place, Spot
from tui.draw_boxes import FADED, draw_boxes
from tui.paint_scene import even_rows
from tui.place_quilt import Box, box_of, find_pieces, lay_axes, mark_of, turn_of
from tui.scene import nearly

_HAIR = 1e-3  # of a column, so that no middle of a cell lies on a slanting seam
_SCALES = (4, 3, 2, 1)  # rows for the smallest step of a block, the best first
_MOST_STEPS = 60  # of one block, across or down: with more it is not drawn patch by patch


class Sight(NamedTuple):
    """A picture of the quilt. `is_whole`: every patch is on it; else each block is told by its number."""

    canvas: Canvas
    is_whole: bool


def draw_quilt(plan: Plan, width: int, height: int, marked_seam: int | None = None) -> Sight:
    """The quilt in at most so many columns and rows. Blocks that lie turned have a mark that points at the edge that
    is their upper one as drawn. `marked_seam` is a place in the seams of the quilt: the unit that it completes is
    strong, the rest faint. ValueError where there is no quilt."""
    top = plan.blocks.top
    if top is None:
        raise ValueError("this project has no quilt")
    strong = None if marked_seam is None else find_pieces(plan, marked_seam)
    canvas = _draw_patches(plan, top, width, height, strong)
    if canvas is not None:
        return Sight(canvas, is_whole=True)
    return Sight(draw_boxes(plan, width, height, strong), is_whole=False)


def _step(values: Iterator[object]) -> int:
    return gcd(*(value for value in values if isinstance(value, int)))


@lru_cache(maxsize=64)
def _steps(block: DraftedBlock) -> tuple[int, int]:
    """The greatest lengths in which all corners of a block are counted across and down."""
    return (
        _step(x for patch in block.patches for x, _ in patch.outline),
        _step(y for patch in block.patches for _, y in patch.outline),
    )


def _draw_patches(plan: Plan, top: Top, width: int, height: int, strong: Collection[int] | None) -> Canvas | None:
    """The quilt patch by patch; None where there is no room for all letters."""
    kinds = [plan.blocks.drafted[number] for number in plan.blocks.in_quilt]
    steps = [side for block in kinds for side in _steps(block)]
    least = min(steps)
    if any(max(block.width, block.height) > _MOST_STEPS * least for block in kinds):
        return None
    for columns in (2, 1):
        for scale in _SCALES:
            ground = _lay_ground(plan, top, scale / least, columns)
            if ground.width > width or ground.height > height:
                continue
            easel = _paint(plan, top, ground)
            if len(easel.letters_of) == len(plan.blocks.drafted[-1].patches):
                return _finish(plan, top, ground, easel, strong)
            break  # what is smaller shows no more
    return None


class _Ground(NamedTuple):
    """Where the quilt lies on an easel. `within` takes a point of a block's box, which keeps off the block's border,
    `over` one of a strip's, which reaches under the borders beside it. `on_line` takes one of a border."""

    width: int
    height: int
    within: Callable[[Box, float, float], Spot]
    over: Callable[[Box, float, float], Spot]
    on_line: Callable[[float, float], Spot]


def _lay_ground(plan: Plan, top: Top, rows: float, columns: int) -> _Ground:
    """`rows` of the picture for a grid unit, and so many times as many columns."""
    if top.on_point:
        return _lay_on_point(plan, 0.5 * rows, columns)
    across, down = lay_axes(
        plan, top, lambda wide: max(1, round(columns * rows * wide)), lambda high: max(1, round(rows * high))
    )

    def within(box: Box, x: float, y: float) -> Spot:
        return across.within(box.left, box.right, x) + _HAIR, down.within(box.top, box.bottom, y)

    def over(box: Box, x: float, y: float) -> Spot:
        return across.over(box.left, box.right, x), down.over(box.top, box.bottom, y)

    return _Ground(across.cells, down.cells, within, over, lambda x, y: (across.on_line(x), down.on_line(y)))


def _lay_on_point(plan: Plan, rows: float, columns: int) -> _Ground:
    """As one looks at it: x runs down to the right, y down to the left."""
    corners = [(nearly(x - y), nearly(x + y)) for patch in plan.blocks.drafted[-1].patches for x, y in patch.outline]
    left, upper = min(x for x, _ in corners), min(y for _, y in corners)
    wide, high = max(x for x, _ in corners) - left, max(y for _, y in corners) - upper

    def spot(x: float, y: float) -> Spot:
        return (x - y - left) * columns * rows, (x + y - upper) * rows

    def piece_spot(_: Box, x: float, y: float) -> Spot:
        return spot(x, y)

    return _Ground(round(wide * columns * rows), round(high * rows), piece_spot, piece_spot, spot)


def _paint(plan: Plan, top: Top, ground: _Ground) -> Easel:
    easel = Easel(ground.width, ground.height)
    quilt = plan.blocks.drafted[-1]
    for piece in top.pieces:
        box = box_of(plan, piece)
        many = len(plan.blocks.drafted[piece.block].patches) if piece.block >= 0 else 1
        for number in range(piece.first, piece.first + many):
            outline: Outline = quilt.patches[number].outline
            place = ground.within if piece.block >= 0 else ground.over
            easel.fill(number, [place(box, nearly(x), nearly(y)) for x, y in outline])
    for piece in top.pieces:
        if piece.block >= 0:
            box = box_of(plan, piece)
            corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
            for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
                easel.rule(ground.on_line(*start), ground.on_line(*end), "seam")
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    easel.write_letters([letters[patch.fabric] for patch in quilt.patches])
    return easel


def _finish(plan: Plan, top: Top, ground: _Ground, easel: Easel, strong: Collection[int] | None) -> Canvas:
    quilt = plan.blocks.drafted[-1]
    is_strong = None
    if strong is not None:
        is_strong = [False] * len(quilt.patches)
        for number in strong:
            piece = top.pieces[number]
            many = len(plan.blocks.drafted[piece.block].patches) if piece.block >= 0 else 1
            is_strong[piece.first : piece.first + many] = [True] * many
        easel.fade_letters(is_strong, FADED)
    for piece in top.pieces:
        mark = mark_of(plan, piece) if piece.block >= 0 else ""
        if mark:
            _put_mark(easel, ground, plan, piece, mark)
    return even_rows(easel.rows([patch.fabric for patch in quilt.patches], is_strong))


def _put_mark(easel: Easel, ground: _Ground, plan: Plan, piece: Piece, mark: str) -> None:
    """In the block, as near to the edge that the mark points at as nothing is hidden by it."""
    box = box_of(plan, piece)
    up_x, up_y = ((0, -1), (1, 0), (0, 1), (-1, 0))[turn_of(plan, piece)]
    across, down = box.middle
    edge = ground.within(box, across + up_x * (box.right - box.left) / 2, down + up_y * (box.bottom - box.top) / 2)
    spots = [ground.within(box, x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    first, last = floor(min(y for _, y in spots)), floor(max(y for _, y in spots))
    many = len(plan.blocks.drafted[piece.block].patches)
    start, past = floor(min(x for x, _ in spots)), floor(max(x for x, _ in spots)) + 1
    best: tuple[int, float, Place] | None = None
    for row in range(max(0, first), min(last + 1, easel.height)):
        for column in range(max(0, start), min(easel.width, past)):
            number = easel.owner[row][column]
            if not piece.first <= number < piece.first + many or not easel.is_free((row, column)):
                continue
            hides = 0 if (row, column) not in easel.written else 1 if easel.letters_of[number] > 1 else 2
            away = ((column + 0.5 - edge[0]) / 2) ** 2 + (row + 0.5 - edge[1]) ** 2
            if best is None or (hides, away) < best[:2]:
                best = (hides, away, (row, column))
    if best is not None and best[0] < 2:
        easel.put(best[2], mark, "mark", True)
