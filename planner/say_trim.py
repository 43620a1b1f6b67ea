"""How the ruler is laid on a block, or how the quilt is trimmed, to square it up."""

from __future__ import annotations

from collections.abc import Iterator

from planner.align_ruler import EDGES, align_ruler
from planner.blocks import DraftedBlock
from planner.cut_sizes import lengthen
from planner.plan import Plan
from planner.surd import to_length


def say_trim(plan: Plan, block: DraftedBlock, size: str) -> Iterator[str]:
    """What the hands do to trim it to its `size` in words, line by line."""
    if block.is_top:
        yield "Trim each side straight; both diagonals must be alike"
        return
    found = align_ruler(block)
    if found.is_centred:
        yield f"Centre the ruler on the design and trim to {size}"
        return
    seam, ruler = plan.project.seam, plan.ruler
    for edge, away in found.seams:
        line = f"{ruler.to_measure(lengthen(to_length(plan.blocks.inches(away)), seam)).words}{ruler.ending}"
        yield f"Lay the ruler's line at {line} on the seam along the {edge} edge, and trim that edge"
    if len(found.points) == len(EDGES):
        yield f"Points of seams at the edges lie {ruler.exact(seam)} inside the cut"
    elif found.points:
        *first, last = found.points
        where = f"{', '.join(first)} and {last} edges" if first else f"{last} edge"
        yield f"Points of seams at the {where} lie {ruler.exact(seam)} inside the cut"
    if not found.seams and not found.points:
        yield "Trim each side straight, as little as can be; both diagonals must be alike"
    yield f"Trim the rest to {size}"
