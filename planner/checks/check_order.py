"""Is a plan sewable, and why not: its patches fill the blocks, and its seams join them all in the order told."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from planner.checks.plan_file import Plan
from planner.checks.read_plan import THE_QUILT, BlockRead, Outline, PatchRead, Point, Work, read_work, twice_area
from planner.checks.rooted import Number, divide, sum_up
from planner.checks.sew_outlines import sew_outlines

_Line = tuple[Number | None, Number]  # how steep it is, and where it meets x = 0; None: upright, and where y = 0
_Changes = dict[_Line, dict[Point, int]]  # how many stretches begin at a point less how many end there


def why_not_sewable(plan: Plan) -> tuple[str, ...]:
    """What is wrong with patches and seams; empty when they can be sewn as they are listed."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    filled = (*_why_not_filled(work), *_why_not_a_quilt(work))
    sewn = (*filled, *sew_outlines(work).complaints, *_why_not_finished(work), *_why_not_whole(work))
    return sewn or tuple(why_not_covered(work))


def why_not_covered(work: Work) -> Iterator[str]:
    """Complaints of borders between patches that no seam goes along, or more than one."""
    for place, block in enumerate(work.blocks):
        if block.is_loose:
            frame = _frame_block((0, 0), block)
            yield from _compare_borders(f"block {block.id}", frame, place, work)
    corners = [corner for patch in work.patches if patch.frame == THE_QUILT for corner in patch.outline]
    if corners:
        yield from _compare_borders("the quilt", _find_rectangle(corners, work.is_on_point), THE_QUILT, work)


def _compare_borders(where: str, rectangle: Outline, frame: int, work: Work) -> Iterator[str]:
    """Along every line: each seam has an edge of a patch on both its sides, and all other edges lie on the frame."""
    edges = [edge for patch in work.patches if patch.frame == frame for edge in _pair_corners(patch.outline)]
    sewn = [leg for seam in work.seams if seam.frame == frame for leg in pairwise(seam.way)]
    weighed = [*((1, edge) for edge in edges), *((-1, edge) for edge in _pair_corners(rectangle))]
    changes: _Changes = defaultdict(lambda: defaultdict(int))
    for weight, stretch in (*weighed, *((-2, leg) for leg in sewn)):
        start, end = sorted(stretch)
        points = changes[_find_line(start, end)]
        points[start] += weight
        points[end] -= weight
    place = _find_changed(changes)
    if place is not None:
        yield f"{where}: a border near {work.spell(place)} is not sewn once"


def _why_not_filled(work: Work) -> Iterator[str]:
    """Complaints of blocks that their patches do not fill exactly once: those of the quilt wherever they lie."""
    of_block: list[list[PatchRead]] = [[] for _ in work.blocks]
    for patch in work.patches:
        if patch.block is not None:
            of_block[patch.block].append(patch)
    for block, inside in zip(work.blocks, of_block, strict=True):
        left, top = (0, 0) if block.is_loose else _find_upper_left([patch.outline for patch in inside])
        frame = _frame_block((left, top), block)
        right, bottom = frame[2]
        for patch in inside:
            if any(not (left <= x <= right and top <= y <= bottom) for x, y in patch.outline):
                yield f"patch {patch.id}: it reaches out of block {block.id}"
        yield from _compare_areas(f"block {block.id}", frame, [patch.outline for patch in inside], work)


def _why_not_a_quilt(work: Work) -> Iterator[str]:
    """Complaints of a quilt that is no rectangle, or not filled exactly once."""
    inside = [patch.outline for patch in work.patches if patch.frame == THE_QUILT]
    if inside:
        corners = [corner for outline in inside for corner in outline]
        yield from _compare_areas("the quilt", _find_rectangle(corners, work.is_on_point), inside, work)


def _frame_block(upper_left: Point, block: BlockRead) -> Outline:
    left, top = upper_left
    right, bottom = left + block.width, top + block.height
    return (left, top), (right, top), (right, bottom), (left, bottom)


def _find_upper_left(outlines: Sequence[Outline]) -> Point:
    corners = [corner for outline in outlines for corner in outline] or [(0, 0)]
    return min(x for x, _ in corners), min(y for _, y in corners)


def _find_rectangle(corners: Sequence[Point], is_on_point: bool) -> Outline:
    """The rectangle round all corners: upright, or turned by half a right angle."""
    if not is_on_point:
        (left, right), (top, bottom) = ((min(values), max(values)) for values in zip(*corners, strict=True))
        return (left, top), (right, top), (right, bottom), (left, bottom)
    # Lines of equal x + y run up to the right, lines of equal x - y down to the right
    low, high = min(x + y for x, y in corners), max(x + y for x, y in corners)
    least, most = min(x - y for x, y in corners), max(x - y for x, y in corners)
    meeting = ((low, most), (high, most), (high, least), (low, least))
    return tuple((divide(both + apart, 2), divide(both - apart, 2)) for both, apart in meeting)


def _compare_areas(where: str, frame: Outline, inside: Sequence[Outline], work: Work) -> Iterator[str]:
    place = _find_unmatched(frame, inside)
    if place is not None:
        missing = twice_area(frame) - sum_up(map(twice_area, inside))
        fault = "leave a gap" if missing > 0 else "overlap" if missing < 0 else "overlap and leave a gap"
        yield f"{where}: its patches {fault} near {work.spell(place)}"


def _find_unmatched(frame: Outline, outlines: Sequence[Outline]) -> Point | None:
    """Where patches do not fill a frame (in the sense of theirs) exactly once; None where they do.

    Outlines that all turn the same way cover each place as often as it lies inside one of them, and how often is
    settled by the sum of their borders. So they fill the frame once if and only if, on every line, what runs one way
    and what runs the other way cancel, the frame's own border run backward included.
    """
    changes: _Changes = defaultdict(lambda: defaultdict(int))
    for outline in (frame[::-1], *outlines):
        for start, end in _pair_corners(outline):
            points = changes[_find_line(start, end)]
            points[start] += 1
            points[end] -= 1
    return _find_changed(changes)


def _pair_corners(outline: Outline) -> Iterator[tuple[Point, Point]]:
    return ((outline[place - 1], corner) for place, corner in enumerate(outline))


def _find_changed(changes: _Changes) -> Point | None:
    """A place where what lies along a line does not cancel."""
    # where all changes along a line are 0, nothing begins there that is not cancelled, so nothing lies on it
    unmatched = [point for ends in changes.values() for point, change in ends.items() if change]
    return min(unmatched, default=None)


def _find_line(start: Point, end: Point) -> _Line:
    x, y = end[0] - start[0], end[1] - start[1]
    if not x:
        return None, start[0]
    slope = divide(y, x)
    return slope, start[1] - slope * start[0]


def _why_not_finished(work: Work) -> list[str]:
    """Complaints of what is left over: one result (or the only patch) of each frame is its last, all else is used."""
    used = {side for seam in work.seams for side in seam.sides}
    frames = [*(patch.frame for patch in work.patches), *(seam.frame for seam in work.seams)]
    last = {frame: side for side, frame in enumerate(frames)}
    return [
        f"{'patch' if side < len(work.patches) else 'seam'} {work.name(side)}: it is never sewn on"
        for side, frame in enumerate(frames)
        if side not in used and last[frame] != side
    ]


def _why_not_whole(work: Work) -> Iterator[str]:
    """Complaints of blocks of the quilt that are not sewn as one before they are joined to others."""
    # Each of a block's seams of two sides makes one of two of its parts: so what is left over are patches less those
    parts = Counter(patch.block for patch in work.patches if patch.frame == THE_QUILT)
    parts.subtract(seam.block for seam in work.seams if seam.frame == THE_QUILT and seam.b is not None)
    for place, block in enumerate(work.blocks):
        if not block.is_loose and parts[place] > 1:
            yield f"block {block.id}: it is joined to others in {parts[place]} parts, before it is whole"
