"""A piece in words, without its fabric."""

from __future__ import annotations

from planner.cut_sizes import Piece
from planner.measure import Ruler, Shown


def name_piece(piece: Piece, ruler: Ruler) -> str:
    """`square 3 1/2`, `2 x 3 1/2`, `triangle, half of a 3 7/8 square`."""
    short, long = (ruler.to_cut(size) for size in piece.cut)
    if piece.shape == "square":
        return f"square {short.words}{ruler.ending}"
    if piece.shape == "rectangle":
        return ruler.sides(short, long)
    if piece.shape == "half-square triangle":
        return f"triangle, half of a {_name_square(short, ruler.ending)}"
    if piece.shape == "quarter-square triangle":
        return f"triangle, quarter of a {_name_square(long, ruler.ending)}"
    return f"piece, {ruler.sides(short, long)} over all"


def _name_square(size: Shown, ending: str) -> str:
    return f"{size.words}{ending} square" if size.exact else f"square of {size.words}{ending}"
