"""A block -> what its maker lays a ruler on to square it up: its middle, or, where nothing shows that, seams along its
edges and points that lie on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

from planner.blocks import DraftedBlock, Outline
from planner.surd import Exact, Grid

Edge = Literal["left", "right", "upper", "lower"]
EDGES: tuple[Edge, ...] = ("left", "right", "upper", "lower")

_Point = tuple[Grid, Grid]
_Side = tuple[_Point, _Point]


class SeamAlong(NamedTuple):
    """A seam that runs along an edge, so far from it, in grid units."""

    edge: Edge
    away: Grid


class Alignment(NamedTuple):
    """Where the block is not `is_centred`: for level and for upright edges a seam each, where there is any as long as
    half of the edge; and the edges on which seams end in a point."""

    is_centred: bool
    seams: tuple[SeamAlong, ...] = ()
    points: tuple[Edge, ...] = ()


def align_ruler(block: DraftedBlock) -> Alignment:
    """What to align in a block with straight edges."""
    size = block.width, block.height
    outlines = [patch.outline for patch in block.patches]
    if _shows_middle(outlines, size):
        return Alignment(is_centred=True)
    sides = set(_list_sides(outlines, size))
    found = (_find_seam(sides, axis, size) for axis in (0, 1))
    seams = tuple(seam for seam in found if seam is not None)
    return Alignment(False, seams, tuple(_find_points(sides, size)))


def _shows_middle(outlines: Sequence[Outline], size: _Point) -> bool:
    """Whether there is a corner of patches in the middle, or a patch round it that a half turn leaves as it is; or
    whether a half turn leaves the whole drawing as it is."""
    wide, high = size
    if any((2 * x, 2 * y) == size for outline in outlines for x, y in outline):
        return True
    shapes = {frozenset(outline) for outline in outlines}
    turned = {frozenset((wide - x, high - y) for x, y in outline) for outline in outlines}
    return shapes == turned or any(
        frozenset((wide - x, high - y) for x, y in outline) == frozenset(outline) for outline in outlines
    )


def _list_sides(outlines: Sequence[Outline], size: _Point) -> Iterator[_Side]:
    """The sides of patches inside the block, each with its upper, or its left end first."""
    for outline in outlines:
        for number, end in enumerate(outline):
            start = outline[number - 1]
            if not any(start[axis] == end[axis] and start[axis] in (0, size[axis]) for axis in (0, 1)):
                yield (start, end) if start < end else (end, start)


def _find_seam(sides: set[_Side], axis: int, size: _Point) -> SeamAlong | None:
    """The longest seam along an upright (axis 0) or level edge, then the one next to its edge."""
    stretches: dict[Grid, list[tuple[Grid, Grid]]] = {}
    for start, end in sides:
        if start[axis] == end[axis]:
            stretches.setdefault(start[axis], []).append((start[1 - axis], end[1 - axis]))
    best: tuple[Exact | Grid, Grid, int] | None = None
    for at, found in stretches.items():
        longest = max(_join(found))
        if 2 * longest >= size[1 - axis]:
            away, far = min((at, 0), (size[axis] - at, 1))
            best = min(best or (-longest, away, far), (-longest, away, far))
    return None if best is None else SeamAlong(EDGES[2 * axis + best[2]], best[1])


def _join(stretches: list[tuple[Grid, Grid]]) -> Iterator[Grid]:
    """How long stretches on a line are where those that touch are one."""
    begin, reach = min(stretches)
    for start, end in sorted(stretches):
        if start > reach:
            yield reach - begin
            begin = start
        reach = max(reach, end)
    yield reach - begin


def _find_points(sides: set[_Side], size: _Point) -> Iterator[Edge]:
    """Edges on which at least two seams meet, or at whose corner one ends."""
    for number, edge in enumerate(EDGES):
        axis, place = number // 2, size[number // 2] if number % 2 else 0
        ends: dict[_Point, set[_Point]] = {}
        for start, end in sides:
            for one, other in ((start, end), (end, start)):
                if one[axis] == place:
                    ends.setdefault(one, set()).add(other)
        if any(len(others) > 1 or one[1 - axis] in (0, size[1 - axis]) for one, others in ends.items()):
            yield edge
