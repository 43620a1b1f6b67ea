"""A piece in words, without its fabric."""

from __future__ import annotations

from planner.cut_sizes import Piece
from planner.measure import Ruler, Shown


def name_piece(piece: Piece, ruler: Ruler) -> str:
    """`square 3 1/2`, `2 x 3 1/2`, `triangle, half of a 3 7/8 square`."""
    short, long = show_cut(piece, ruler)
    if piece.shape == "square":
        return f"square {short.words}{ruler.ending}"
    if piece.shape == "rectangle":
        return ruler.sides(short, long)
    if piece.shape == "half-square triangle":
        return f"triangle, half of a {_name_square(short, ruler.ending)}"
    if piece.shape == "quarter-square triangle":
        return f"triangle, quarter of a {_name_square(long, ruler.ending)}"
    return f"piece, {ruler.sides(short, long)} over all"


def show_cut(piece: Piece, ruler: Ruler) -> tuple[Shown, Shown]:
    """Both sizes to cut, the shorter first. What was rounded up is cut as it is told; of a piece that is cut by
    its outline they say about how large that is."""
    told = piece.rounded if piece.shape == "other" else (False, False)
    short, long = (ruler.to_cut(size, is_rounded) for size, is_rounded in zip(piece.cut, told, strict=True))
    return short, long


def is_level(piece: Piece) -> bool:
    """Whether its box lies rather than stands, so that the longer of its sizes is how wide it is."""
    return max(x for x, _ in piece.corners) >= max(y for _, y in piece.corners)


def _name_square(size: Shown, ending: str) -> str:
    return f"{size.words}{ending} square" if size.exact else f"square of {size.words}{ending}"
