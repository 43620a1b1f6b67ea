"""Where the pieces of a quilt lie, which way its blocks are turned, and the axes of a picture of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from planner.blocks import Piece, Top
from planner.plan import Plan
from tui.canvas import Spot
from tui.lay_axis import Axis, lay_axis
from tui.paint_scene import TURNED
from tui.scene import nearly


class Box(NamedTuple):
    """The box round a piece in the frame of the quilt."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> Spot:
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2


def box_of(plan: Plan, piece: Piece) -> Box:
    """Of a block, or of a patch of the quilt that is in none."""
    if piece.block >= 0:
        block = plan.blocks.drafted[piece.block]
        wide, high = (block.width, block.height) if piece.turn % 2 == 0 else (block.height, block.width)
        x, y = nearly(piece.x), nearly(piece.y)
        return Box(x, y, x + nearly(wide), y + nearly(high))
    outline = plan.blocks.drafted[-1].patches[piece.first].outline
    xs, ys = [nearly(x) for x, _ in outline], [nearly(y) for _, y in outline]
    return Box(min(xs), min(ys), max(xs), max(ys))


def number_blocks(plan: Plan) -> dict[int, str]:
    """A number for each block of the quilt, by its place among the drafted ones, as it stands in the picture."""
    return {block: str(number) for number, block in enumerate(plan.blocks.in_quilt, 1)}


def find_pieces(plan: Plan, seam: int) -> frozenset[int]:
    """The pieces of the quilt that the unit of one of its seams holds, wholly or in part."""
    top = plan.blocks.top
    assert top is not None
    of_patch, of_seam = plan.units.piece_of
    seams = plan.units.seams[-1]
    strips = {piece.first: number for number, piece in enumerate(top.pieces) if piece.block < 0}
    found = set()
    waiting = [seam]
    while waiting:
        here = waiting.pop()
        piece = of_patch[~here] if here < 0 else of_seam[here]
        if piece >= 0:
            found.add(piece)
        elif here < 0:
            found.add(strips[~here])
        else:
            waiting += seams[here].sides
    return frozenset(found)


def turn_of(plan: Plan, piece: Piece) -> int:
    """By how many quarters a block of the quilt lies turned in all."""
    return (piece.turn + plan.turned.get((piece.x, piece.y), 0)) % 4


def mark_of(plan: Plan, piece: Piece) -> str:
    """The sign of a block that lies turned (no mark of a slip), "" of one that does not."""
    top = plan.blocks.top
    assert top is not None
    if not (piece.turn or plan.turned.get((piece.x, piece.y), 0)):
        return ""
    return TURNED[(2 * turn_of(plan, piece) + top.on_point) % 8]


def lay_axes(
    plan: Plan, top: Top, columns: Callable[[float], int], rows: Callable[[float], int], is_ruled: bool = True
) -> tuple[Axis, Axis]:
    """The axes of a quilt in a straight layout: so many cells for each length between the edges of blocks, or of
    borders, and lines at the edges of blocks where it `is_ruled`."""
    boxes = [box_of(plan, piece) for piece in top.pieces if piece.block >= 0]
    strips = [box_of(plan, piece) for piece in top.pieces if piece.block < 0]
    axes = []
    for low, high, cells in ((0, 2, columns), (1, 3, rows)):
        first, last = min(box[low] for box in boxes), max(box[high] for box in boxes)
        places = {edge: False for box in strips for edge in (box[low], box[high]) if not first <= edge <= last}
        places |= {edge: is_ruled for box in boxes for edge in (box[low], box[high])}
        axes.append(lay_axis(sorted(places.items()), cells))
    return axes[0], axes[1]
