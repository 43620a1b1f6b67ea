"""What a picture shows: patches, seams and the border of a unit or a block, exact, in one frame.

The frame may be turned, and stretched by any factor, the same across and down. What only says how large a picture
becomes is told nearly, where there are roots.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import cos, dist, gcd, pi, sin, sqrt

from planner.blocks import Outline, Point
from planner.build_units import Seam, Segment, Side
from planner.find_cuts import turn_point
from planner.name_piles import Chain
from planner.plan import Plan
from planner.sheet import feed_chain
from planner.surd import Grid, Surd

Turn = Callable[[Point], Point]
Box = tuple[Grid, Grid, Grid, Grid]  # left, top, right, bottom
Spot = tuple[float, float]
_HAIR = 1e-6  # of the size of a scene


@dataclass(frozen=True)
class Scene:
    """`fabrics` has one name for each outline of `patches`; `bends` are the further stretches of seams that turn."""

    patches: tuple[Outline, ...]
    fabrics: tuple[str, ...]
    seams: tuple[Segment, ...]
    border: Outline
    bends: tuple[Segment, ...] = ()

    @cached_property
    def box(self) -> tuple[Grid, Grid, Grid, Grid]:
        """Left, top, right, bottom."""
        xs, ys = [x for x, _ in self.border], [y for _, y in self.border]
        return min(xs), min(ys), max(xs), max(ys)

    @cached_property
    def sides_of_patches(self) -> tuple[tuple[float, float], ...]:
        """Width and height of the box round each patch."""
        found = []
        for outline in self.patches:
            xs, ys = [x for x, _ in outline], [y for _, y in outline]
            found.append((nearly(max(xs) - min(xs)), nearly(max(ys) - min(ys))))
        return tuple(found)

    @cached_property
    def typical_side(self) -> float:
        """The side of a square as large as a patch of the middle size."""
        areas = sorted(abs(nearly(_twice_area(outline))) / 2 for outline in self.patches)
        return float(areas[len(areas) // 2] ** 0.5)

    @cached_property
    def step_down(self) -> int:
        """The greatest length in which all corners can be counted downward from the top; 0 where there is none."""
        _, top, _, _ = self.box
        steps = [y - top for outline in (*self.patches, self.border) for _, y in outline]
        whole = [step for step in steps if isinstance(step, int)]
        return gcd(*whole) if len(whole) == len(steps) else 0

    @cached_property
    def is_upright(self) -> bool:
        """Whether every side of every patch is upright or level."""
        return all(
            ax == bx or ay == by
            for outline in self.patches
            for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True)
        )

    def turned(self, turn: Turn) -> Scene:
        """The same, every point of it turned."""
        return Scene(
            tuple(tuple(map(turn, outline)) for outline in self.patches),
            self.fabrics,
            tuple((turn(start), turn(end)) for start, end in self.seams),
            tuple(map(turn, self.border)),
            tuple((turn(start), turn(end)) for start, end in self.bends),
        )


def nearly(value: float | Grid) -> float:
    """A coordinate for a picture: itself, or nearly so where it has a root."""
    return value.plain + value.times * sqrt(value.of) if isinstance(value, Surd) else value


def find_marked(scene: Scene, target: Spot, eighths: int) -> int:
    """The patch that a mark is put on that belongs near a target: the nearest one; of those as near the one furthest
    left, as seen along a mark that points so many eighths of a turn from up. So a mark stays on one patch, however
    large it is drawn."""
    left = (-cos(eighths * pi / 4), -sin(eighths * pi / 4))
    away, aside = [], []
    for outline in scene.patches:
        corners = [(nearly(x), nearly(y)) for x, y in outline]
        sides = zip(corners, corners[1:] + corners[:1], strict=True)
        away.append(min(dist(_come_near(p, q, target), target) for p, q in sides))
        aside.append(sum(x * left[0] + y * left[1] for x, y in corners) / len(corners))
    hair = _HAIR * max(nearly(scene.box[2] - scene.box[0]), nearly(scene.box[3] - scene.box[1]))
    least = min(away)
    return max((number for number, far in enumerate(away) if far <= least + hair), key=lambda number: aside[number])


def _come_near(p: Spot, q: Spot, target: Spot) -> Spot:
    """The point of the stretch from p to q that is nearest to a target."""
    (px, py), (x, y) = p, target
    dx, dy = q[0] - px, q[1] - py
    share = min(1.0, max(0.0, ((x - px) * dx + (y - py) * dy) / (dx * dx + dy * dy)))
    return px + share * dx, py + share * dy


def _twice_area(outline: Outline) -> Grid:
    return sum(ax * by - ay * bx for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True))


def show_unit(plan: Plan, number: int) -> Scene:
    """A unit or a patch in its own frame."""
    return show_side(plan, Side(number, 0, 0, 0))


def show_side(plan: Plan, side: Side | Seam) -> Scene:
    """A unit as it lies in a larger one."""
    units = plan.units
    unit = units.units[side.unit]
    placed = units.place_patches(side)
    return Scene(
        tuple(units.cuts.outline(patch) for patch in placed),
        tuple(units.cuts.shapes[shape].fabric for _, _, shape in placed),
        tuple((units.place_point(start, side), units.place_point(end, side)) for start, end in unit.seams),
        tuple(units.place_point(corner, side) for corner in plan.words.outline(side.unit)),
        tuple(_list_bends(plan, side)),
    )


def _list_bends(plan: Plan, side: Side | Seam) -> Iterator[Segment]:
    """The stretches of seams inside a unit that turn, but for the one by which each is known."""
    units = plan.units
    waiting: list[Side | Seam] = [side] if plan.has_bends else []
    while waiting:
        here = waiting.pop()
        unit = units.units[here.unit]
        for stretch in pairwise(unit.legs):
            if stretch != unit.seam:
                yield units.place_point(stretch[0], here), units.place_point(stretch[1], here)
        waiting += [units.seat_side(inner, here) for inner in unit.sides]


def show_block(plan: Plan, block: int) -> Scene:
    """A whole block in its own frame; its seams in their order in `plan.units.seams`."""
    drafted = plan.blocks.drafted[block]
    units = plan.units
    seams = []
    for seam in units.seams[block]:
        start, end = (units.place_point(point, seam) for point in units.units[seam.unit].seam)
        seams.append((start, end))
    root = units.roots[block]
    return Scene(
        tuple(patch.outline for patch in drafted.patches),
        tuple(patch.fabric for patch in drafted.patches),
        tuple(seams),
        tuple(units.place_point(corner, root) for corner in plan.words.outline(root.unit)),
        tuple(_list_bends(plan, root)),
    )


def stand_up(plan: Plan, chain: Chain) -> Turn:
    """The turn from the frame of a chain's unit to how its sides lie at the machine: the seam upright,
    its first end up, at 0, 0.

    The unit underneath comes to lie where x is below 0, the one on top where x is above. Lengths grow by the length
    of the seam, so that points stay whole whatever the angle.
    """
    feed = feed_chain(plan, chain)
    (fx, fy), (lx, ly) = feed.first, feed.last
    dx, dy = lx - fx, ly - fy

    def turn(point: Point) -> Point:
        x, y = point[0] - fx, point[1] - fy
        return dy * x - dx * y, dx * x + dy * y

    return turn


def lay_as_pile(plan: Plan, number: int, turn: int) -> Turn:
    """The turn from a unit's frame to that of a pile whose frame lies turned by so many quarters in it."""
    unit = plan.units.units[number]
    return lambda point: turn_point(point, unit.width, unit.height, -turn % 4)
