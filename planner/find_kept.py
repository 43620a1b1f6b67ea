"""Which seams the maker's fixed pressing directions name, and which way their allowances fall there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.blocks import Point
from planner.build_units import Seam, Side, Units
from planner.fault import Fault
from planner.find_joins import follow
from planner.measure import Ruler
from planner.project import Keep, Project
from planner.surd import Exact, ExactPoint, divide, to_length

Kept = Mapping[tuple[int, int], bool | None]  # (drafted block, seam): whether toward its side a; None: pressed open
Lying = tuple[Point, Point, bool]
_NEARBY = 3  # seams that a fault names
_WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


def find_kept(project: Project, units: Units) -> tuple[Kept, tuple[Fault, ...]]:
    """What every seam of the project is kept at, in all copies of its block; or what is wrong with the wishes.

    Directions are those of the finished block as it is drawn, whichever way it lies in the quilt.
    """
    kept: dict[tuple[int, int], bool | None] = {}
    faults: list[Fault] = []
    for keep in project.keep:
        for block, first, root, seams in _copies(units, keep.block):
            found = _find_seam(project, units, keep, root, seams)
            if isinstance(found, Fault):
                if found not in faults:
                    faults.append(found)
                continue
            number, to_a = found
            closes = units.units[seams[number].unit].closes
            if closes:  # kept is what it finishes
                number = follow(seams, number, closes.way)
            if kept.setdefault((block, first + number), to_a) != to_a:
                where = f"press keep: block {keep.block}"
                words = "this seam is kept at another direction already; keep one of the two"
                faults.append(Fault(keep.line, where, words))
                break
    return kept, tuple(dict.fromkeys(faults))


def _copies(units: Units, name: str) -> Iterator[tuple[int, int, Side, tuple[Seam, ...]]]:
    """Every place of a block: the drafted block, its first seam there, how it lies in its own frame, its seams."""
    blocks = units.cuts.blocks
    for number, block in enumerate(blocks.drafted):
        if block.name == name and not block.is_top:
            yield number, 0, units.roots[number], units.seams[number]
    if blocks.top is None:
        return
    top = len(units.roots) - 1
    for piece, last in zip(blocks.top.pieces, units.joined, strict=True):
        if last >= 0 and blocks.drafted[piece.block].name == name:
            root = units.roots[piece.block]
            many = units.units[root.unit].sewings
            first = last - many + 1
            yield top, first, root, units.seams[top][first : last + 1]


def _find_seam(
    project: Project, units: Units, keep: Keep, root: Side, seams: tuple[Seam, ...]
) -> tuple[int, bool | None] | Fault:
    """The seam through the point, numbered within the block, and whether its allowances fall to its side a."""
    lying = lie_in_block(units, root)
    x, y = keep.at
    on = []
    for number, (start, end, _) in enumerate(lying):
        (ax, ay), (bx, by) = units.cuts.blocks.outline_inches((start, end))
        is_in_line = (bx - ax) * (y - ay) == (by - ay) * (x - ax)
        if is_in_line and min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by):
            on.append(number)
    where = f"press keep: block {keep.block}"
    if len(on) == 2 and any(units.units[seams[number].unit].closes for number in on):
        on = on[:1]  # where one is finished that was sewn in part: it is the same
    if len(on) != 1:
        near = _name_nearby(project, units, lying, keep.at)
        if not lying:
            return Fault(keep.line, where, "this block has no seam")
        what = "two seams meet at this point" if on else "no seam runs through this point"
        return Fault(keep.line, where, f"{what}; seams nearby have their middles at {near}")
    (p, q, a_on_normal) = lying[on[0]]
    if keep.toward == "open":
        return on[0], None
    dx, dy = q[0] - p[0], q[1] - p[1]
    wx, wy = _WAYS[keep.toward]
    toward_normal = wx * -dy + wy * dx  # the normal of p to q is (-dy, dx)
    if toward_normal == 0:
        may = "left or right" if dx == 0 else "up or down"
        return Fault(keep.line, where, f"this seam can't be pressed {keep.toward}; write {may}, or open")
    return on[0], (toward_normal > 0) == a_on_normal


def lie_in_block(units: Units, root: Side) -> list[Lying]:
    """The seams of a block in their order: ends in the block's frame, and whether side a is on the normal's side."""
    found: list[Lying] = []
    waiting: list[tuple[Side, bool]] = [(root, False)]
    while waiting:
        side, is_done = waiting.pop()
        unit = units.units[side.unit]
        if unit.a is None:
            continue
        if is_done:
            p, q = (units.place_point(point, side) for point in unit.seam)
            found.append((p, q, unit.a_on_normal))
        else:
            waiting.append((side, True))
            waiting += [(units.seat_side(inner, side), False) for inner in reversed(unit.sides)]
    return found


def _name_nearby(project: Project, units: Units, lying: list[Lying], at: ExactPoint) -> str:
    """The middles of the nearest seams; `at` is in inches."""
    scale = 2 * units.cuts.blocks.scale

    def far(middle: ExactPoint) -> Exact:
        return (middle[0] - at[0]) ** 2 + (middle[1] - at[1]) ** 2

    middles = sorted((divide(p[0] + q[0], scale), divide(p[1] + q[1], scale)) for p, q, _ in lying)
    nearest = sorted(middles, key=far)[:_NEARBY]
    ruler = Ruler(project.measure)
    return " and ".join(f'"{", ".join(ruler.as_written(to_length(place)) for place in spot)}"' for spot in nearest)
