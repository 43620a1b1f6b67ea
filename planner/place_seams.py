"""Where a seam is, as a maker would look for it: in which block, and a point of it that a project file can name."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from planner.find_joins import Join
from planner.find_kept import Lying, lie_in_block
from planner.measure import Measure, Ruler
from planner.plan import Plan
from planner.surd import Exact, ExactPoint, divide, to_length

Spot = ExactPoint  # inches, x right, y down


class SeamPlace(NamedTuple):
    """A seam of a block: `at` is a point that lies on no other seam of it, in the block as it is drawn. Or one that
    joins the quilt: then `block` is "", and `makes` says what it joins. `row` and `column` are those of the block in
    the quilt, from 1; 0 of a loose block."""

    block: str
    number: int  # of the block's own seams
    at: Spot | None
    row: int
    column: int
    way: str  # upright, level, slanting
    makes: str

    def say(self, measure: Measure) -> str:
        """`the upright seam through 4, 2`"""
        if self.at is None:
            return f"the seam that makes {self.makes}"
        return f"the {self.way} seam through {say_spot(self.at, measure)}"


class SeamPlaces:
    """The places of all seams of a plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self._lying: dict[int, list[Lying]] = {}  # of each drafted block
        rows = enumerate(plan.project.quilt.rows if plan.project.quilt else (), 1)
        self.corners = [(row, column) for row, blocks in rows for column in range(1, len(blocks) + 1)]

    def find(self, block: int, number: int) -> SeamPlace:
        """A seam of a drafted block; of the quilt too."""
        drafted, own, piece = self._find_own(block, number)
        if own < 0:
            unit = self.plan.units.seams[block][number].unit
            return SeamPlace("", number, None, 0, 0, "", self.plan.words.name(unit))
        lying = self.lie(drafted)
        (px, py), (qx, qy), _ = lying[own]
        way = "upright" if px == qx else "level" if py == qy else "slanting"
        x, y = _find_free_point(lying, own, self.plan.blocks.scale)
        name = self.plan.blocks.drafted[drafted].name
        row, column = self.corners[piece] if piece >= 0 else (0, 0)
        return SeamPlace(name, own, (x, y), row, column, way, "")

    def find_name(self, block: int, number: int) -> str:
        """The block that a seam is in; "" where it joins the quilt."""
        drafted, own, _ = self._find_own(block, number)
        return self.plan.blocks.drafted[drafted].name if own >= 0 else ""

    def find_join(self, block: int, number: int, join: Join) -> Spot | None:
        """Where a join lies on a seam: in the block as it is drawn, or in the quilt; None in one on point."""
        drafted, own, _ = self._find_own(block, number)
        units, blocks = self.plan.units, self.plan.blocks
        if own < 0:
            if blocks.top is not None and blocks.top.on_point:
                return None
            drafted, own = block, number
        x, y = (blocks.inches(value) for value in units.place_point(join.at, units.seams[drafted][own]))
        return x, y

    def is_at(self, seam: SeamPlace, block: str, at: Spot) -> bool:
        """Whether a point of a block lies on this seam."""
        if seam.block != block:
            return False
        drafted = next(n for n, one in enumerate(self.plan.blocks.drafted) if one.name == block and not one.is_top)
        p, q = self.plan.blocks.outline_inches(self.lie(drafted)[seam.number][:2])
        x, y = at
        is_in_line = (q[0] - p[0]) * (y - p[1]) == (q[1] - p[1]) * (x - p[0])
        return is_in_line and min(p[0], q[0]) <= x <= max(p[0], q[0]) and min(p[1], q[1]) <= y <= max(p[1], q[1])

    def lie(self, drafted: int) -> list[Lying]:
        """The seams of a drafted block as it is drawn."""
        if drafted not in self._lying:
            self._lying[drafted] = lie_in_block(self.plan.units, self.plan.units.roots[drafted])
        return self._lying[drafted]

    def _find_own(self, block: int, number: int) -> tuple[int, int, int]:
        """The drafted block that a seam belongs to, its number there (-1: it joins the quilt), and which piece of the
        quilt that block is (-1: a loose one)."""
        if not self.plan.blocks.drafted[block].is_top:
            return block, number, -1
        assert self.plan.blocks.top is not None
        piece = self.plan.units.piece_of[1][number]
        if piece < 0:
            return block, -1, -1
        drafted = self.plan.blocks.top.pieces[piece].block
        first = self.plan.units.joined[piece] - len(self.plan.units.seams[drafted]) + 1
        return drafted, number - first, piece


def say_spot(spot: Spot, measure: Measure) -> str:
    """A point as a project file names it: `4, 2 1/2`."""
    return ", ".join(Ruler(measure).as_written(to_length(place)) for place in spot)


def _find_free_point(lying: list[Lying], number: int, scale: int) -> Spot:
    """The middle of a seam, or where others meet it there the middle of its longest free stretch. Seams lie in grid
    units, `scale` to an inch."""
    p, q, _ = lying[number]
    axis = 0 if q[0] != p[0] else 1
    touched: set[Exact] = {Fraction(0), Fraction(1)}
    for other, ends in enumerate(lying):
        for x, y in ends[:2] if other != number else ():
            if (q[0] - p[0]) * (y - p[1]) == (q[1] - p[1]) * (x - p[0]):
                touched.add(divide((x, y)[axis] - p[axis], q[axis] - p[axis]))
    stops = sorted(share for share in touched if 0 <= share <= 1)
    half = Fraction(1, 2)
    stretches = list(pairwise(stops))
    longest = max(stretches, key=lambda stretch: stretch[1] - stretch[0])
    start, end = next((stretch for stretch in stretches if stretch[0] < half < stretch[1]), longest)
    share = half if start < half < end else (start + end) / 2
    return (
        divide(p[0], scale) + share * divide(q[0] - p[0], scale),
        divide(p[1], scale) + share * divide(q[1] - p[1], scale),
    )
