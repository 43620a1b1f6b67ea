"""What is cut -> where the seam runs in it: the finished outline, inside the outline to cut.

Inches. Where a size to cut is rounded up for the ruler, what is more than the allowance lies where the trade's rule has
it: of triangles along the slanting sides, of squares and rectangles alike on opposite sides.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.blocks import Outline
from planner.build_units import Units
from planner.cut_list import CutEntry
from planner.cut_prints import lay_upright
from planner.cut_sizes import Corner, Piece, move_sides_out
from planner.find_cuts import Shape
from planner.measure import Root
from planner.surd import ExactOutline, to_length
from planner.turn_prints import NO_WAY

HALF = Fraction(1, 2)


def fit_seam_line(units: Units, entry: CutEntry, seam: Fraction) -> tuple[Corner, ...]:
    """The finished outline of a piece in the frame of its corners to cut, corner for corner; what has a root, to far
    less than can be drawn. `seam` is the allowance."""
    piece = entry.piece
    wide, high = (max(corner[axis] for corner in piece.corners) for axis in (0, 1))
    if piece.shape == "half-square triangle":
        return _shrink_half_square(piece, seam)
    if piece.shape == "quarter-square triangle":
        return _shrink_quarter_square(piece, seam)
    if piece.shape != "other" and (Fraction(0), Fraction(0)) in piece.corners and len(set(piece.corners)) == 4:
        corners = {(x, y) for x in (Fraction(0), wide) for y in (Fraction(0), high)}
        if set(piece.corners) == corners:
            return _shrink_rectangle(piece, wide, high)
    return _find_outline(units, entry, seam)


def _shrink_rectangle(piece: Piece, wide: Fraction, high: Fraction) -> tuple[Corner, ...]:
    short, long = map(_approach, piece.finished)
    inner_wide, inner_high = (long, short) if wide >= high else (short, long)
    left, top = (wide - inner_wide) / 2, (high - inner_high) / 2
    return tuple((left if x == 0 else wide - left, top if y == 0 else high - top) for x, y in piece.corners)


def _shrink_half_square(piece: Piece, seam: Fraction) -> tuple[Corner, ...]:
    by = _approach(piece.finished[0]) / piece.cut[0]
    corners = piece.corners
    square = next(
        number
        for number, (x, y) in enumerate(corners)
        if sum(x == ox for ox, _ in corners) == sum(y == oy for _, oy in corners) == 2
    )
    from_x, from_y = corners[square]
    in_x, in_y = (seam if value == 0 else -seam for value in corners[square])
    return tuple((from_x + in_x + by * (x - from_x), from_y + in_y + by * (y - from_y)) for x, y in corners)


def _shrink_quarter_square(piece: Piece, seam: Fraction) -> tuple[Corner, ...]:
    by = _approach(piece.finished[1]) / piece.cut[1]
    corners = piece.corners
    apex = next(
        number
        for number in range(3)
        if 0 in (corners[number - 2][0] - corners[number - 1][0], corners[number - 2][1] - corners[number - 1][1])
    )
    (ax, ay), (bx, by_), (cx, cy) = corners[apex], corners[apex - 1], corners[apex - 2]
    mx, my = (bx + cx) * HALF, (by_ + cy) * HALF
    height = abs(ax - mx) + abs(ay - my)  # one of the two is 0
    from_x, from_y = mx + (ax - mx) / height * seam, my + (ay - my) / height * seam
    return tuple((from_x + by * (x - mx), from_y + by * (y - my)) for x, y in corners)


def _find_outline(units: Units, entry: CutEntry, seam: Fraction) -> tuple[Corner, ...]:
    """Of all ways that the patch can lie the one that is cut so."""
    for outline in _list_ways(units, entry):
        corners = move_sides_out(outline, seam)
        left, top = min(x for x, _ in corners), min(y for _, y in corners)
        if tuple((x - left, y - top) for x, y in corners) == entry.piece.corners:
            return tuple((_approach(to_length(x)) - left, _approach(to_length(y)) - top) for x, y in outline)
    raise ValueError(f"no patch of {entry.fabric} is cut like this")  # a bug: every entry is of a patch


def _list_ways(units: Units, entry: CutEntry) -> Iterator[ExactOutline]:
    shapes: tuple[Shape, ...] = tuple(units.cuts.shapes)
    seen: set[int] = set()
    left = [units.units[entry.units[0]].shape]
    while left:
        number = left.pop(0)
        if number in seen:
            continue
        seen.add(number)
        shape = shapes[number]
        outline: Outline = shape.outline
        exact = units.cuts.blocks.outline_inches(outline)
        yield exact if shape.up == NO_WAY else lay_upright(exact, shape.up)
        left += [shape.turned, *(turned for turned, _, _ in shape.between.values())]


def _approach(value: Fraction | Root) -> Fraction:
    return value.approach() if isinstance(value, Root) else value
