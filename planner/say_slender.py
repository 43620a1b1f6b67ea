"""Plan -> notices of slender points: a piece that is cut far longer than it is finished, since its allowances meet far
beyond a sharp point. No fault: with the point cut off it can be sewn, and its cloth is as long as it must be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction

from planner.cut_prints import size_patch
from planner.cut_sizes import Piece
from planner.measure import Root
from planner.name_piece import show_cut
from planner.plan import Plan

# Allowances: two are what every piece is cut longer by, and the points of a star with twelve take less than eight
MOST_LONGER = 8


def tell_slender(plan: Plan) -> Iterator[str]:
    """A line for each block and each size of such pieces in it; blocks in other fabrics are no other blocks."""
    blocks = {block.name: block for block in plan.blocks.drafted if not block.is_top}
    for name, block in blocks.items():
        found: Counter[Piece] = Counter()
        sized: dict[object, Piece | None] = {}  # each shape is sized once
        for patch in block.patches:
            left, top = patch.outline[0]
            moved = tuple((x - left, y - top) for x, y in patch.outline)
            key = moved, patch.askew, patch.up
            if key not in sized:
                outline = plan.blocks.outline_inches(moved)
                piece = size_patch(outline, plan.project.seam, patch.askew, patch.up)
                is_slender = _is_slender(piece, plan.project.seam)
                # Pieces of one size are told together
                sized[key] = piece._replace(corners=()) if is_slender else None
            told = sized[key]
            if told is not None:
                found[told] += 1
        for piece, many in found.items():
            yield _say(plan, name, piece, many)


def _is_slender(piece: Piece, seam: Fraction) -> bool:
    if piece.shape != "other":
        return False
    both = zip(piece.cut, piece.finished, strict=True)
    return any(cut - (size.approach() if isinstance(size, Root) else size) > MOST_LONGER * seam for cut, size in both)


def _say(plan: Plan, block: str, piece: Piece, many: int) -> str:
    ruler = plan.ruler
    unit = " in" if ruler.measure == "in" else ""
    cut = ruler.sides(*show_cut(piece, ruler))
    finished = ruler.sides(*(ruler.to_cut(size) for size in piece.finished))
    patches = f"1 patch of {block} is" if many == 1 else f"{many} patches of {block} are"
    return (
        f"Slender: {patches} cut {cut}{unit} over all, and {finished} finished: cut the points off one allowance past "
        "the seams, as the templates have them, or draw them blunter"
    )
