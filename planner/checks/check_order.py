"""Is a plan sewable, and why not: its patches fill the blocks, and straight seams join them all in the order told."""

from __future__ import annotations

from collections import defaultdict
from math import gcd

from planner.checks.plan_file import Plan
from planner.checks.read_plan import BlockRead, Outline, Point, Work, read_work, twice_area
from planner.checks.sew_outlines import sew_outlines

_Line = tuple[int, int, int]  # direction without a common factor, and how far the line lies from 0,0


def why_not_sewable(plan: Plan) -> tuple[str, ...]:
    """What is wrong with patches and seams of loose blocks; empty when they can be sewn as they are listed.

    Not judged yet, and therefore complained of: partial and set-in seams, blocks of a quilt, what lies in no block.
    """
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    return (*_why_not_filled(work), *sew_outlines(work).complaints, *_why_not_finished(work))


def _why_not_filled(work: Work) -> list[str]:
    outlines: list[list[Outline]] = [[] for _ in work.blocks]
    complaints = []
    for patch in work.patches:
        block = work.blocks[patch.block]
        if any(not (0 <= x <= block.width and 0 <= y <= block.height) for x, y in patch.outline):
            complaints.append(f"patch {patch.id}: it reaches out of block {block.id}")
        outlines[patch.block].append(patch.outline)
    for block, inside in zip(work.blocks, outlines, strict=True):
        place = _find_unmatched(block, inside)
        if place is None:
            continue
        missing = 2 * block.width * block.height - sum(twice_area(outline) for outline in inside)
        fault = "leave a gap" if missing > 0 else "overlap" if missing < 0 else "overlap and leave a gap"
        complaints.append(f"block {block.id}: its patches {fault} near {work.spell(place)}")
    return complaints


def _find_unmatched(block: BlockRead, outlines: list[Outline]) -> Point | None:
    """Where patches do not fill the block exactly once; None where they do.

    Outlines that all turn the same way cover each place as often as it lies inside one of them, and how often is
    settled by the sum of their borders. So they fill the block once if and only if, on every line, what runs one way
    and what runs the other way cancel, the block's own border run backward included.
    """
    frame = ((0, 0), (0, block.height), (block.width, block.height), (block.width, 0))
    changes: dict[_Line, dict[Point, int]] = defaultdict(lambda: defaultdict(int))
    for outline in (frame, *outlines):
        for place, end in enumerate(outline):
            start = outline[place - 1]
            points = changes[_find_line(start, end)]
            points[start] += 1
            points[end] -= 1
    # where all changes along a line are 0, nothing begins there that is not cancelled, so nothing lies on it
    unmatched = [point for ends in changes.values() for point, change in ends.items() if change]
    return min(unmatched, default=None)


def _find_line(start: Point, end: Point) -> _Line:
    x, y = end[0] - start[0], end[1] - start[1]
    common = gcd(x, y) if (x, y) > (0, 0) else -gcd(x, y)  # one direction for both ways along the line
    x, y = x // common, y // common
    return x, y, x * start[1] - y * start[0]


def _why_not_finished(work: Work) -> list[str]:
    """Complaints of what is left over: one result (or the only patch) of each block is its last, all else is used."""
    used = {side for seam in work.seams for side in (seam.a, seam.b)}
    blocks = [*(patch.block for patch in work.patches), *(seam.block for seam in work.seams)]
    last = {block: side for side, block in enumerate(blocks)}
    return [
        f"{'patch' if side < len(work.patches) else 'seam'} {work.name(side)}: it is never sewn on"
        for side, block in enumerate(blocks)
        if side not in used and last[block] != side
    ]
