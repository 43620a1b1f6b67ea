"""Which seams the maker's fixed pressing directions name, and which way their allowances fall there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from planner.blocks import Point
from planner.build_units import Seam, Side, Units
from planner.fault import Fault
from planner.find_joins import follow
from planner.name_nearby import name_nearby
from planner.project import Keep, Project
from planner.surd import ExactPoint, divide

Kept = Mapping[tuple[int, int], bool | None]  # (drafted block, seam): whether toward its side a; None: pressed open
Lying = tuple[Point, Point, bool]
_WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}


def find_kept(project: Project, units: Units) -> tuple[Kept, tuple[Fault, ...]]:
    """What every seam of the project is kept at, in all copies of its block; or what is wrong with the wishes.

    Directions are those of the finished block as it is drawn, whichever way it lies in the quilt.
    """
    kept: dict[tuple[int, int], bool | None] = {}
    faults: list[Fault] = []
    for keep in project.keep:
        for block, first, root, seams in _copies(units, keep.block):
            parts = _tie_parts(units, block, first, len(seams))
            found = _find_seam(project, units, keep, root, parts)
            if isinstance(found, Fault):
                if found not in faults:
                    faults.append(found)
                continue
            number, to_a = found
            if any(kept.setdefault((block, first + part), to_a) != to_a for part in parts.get(number, (number,))):
                words = "this seam is kept at another direction already; keep one of the two"
                faults.append(Fault(keep.line, _name(keep), words))
                break
    return kept, tuple(dict.fromkeys(faults))


def _name(keep: Keep) -> str:
    return f"press, keep, entry {keep.entry}"


def _tie_parts(units: Units, block: int, first: int, many: int) -> dict[int, tuple[int, ...]]:
    """Of each seam that is sewn in part, and of what finishes it, both, numbered as `many` seams from `first` on."""
    found: dict[int, tuple[int, ...]] = {}
    for rest in range(many):
        closes = units.units[units.seams[block][first + rest].unit].closes
        if closes:
            begun = follow(units.seams[block], first + rest, closes.way) - first
            found[begun] = found[rest] = begun, rest
    return found


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
    project: Project, units: Units, keep: Keep, root: Side, parts: Mapping[int, tuple[int, ...]]
) -> tuple[int, bool | None] | Fault:
    """The seam through the point, numbered within the block, and whether its allowances fall to its side a. `parts` are
    the seams that are one, sewn in parts."""
    lying = _lie_along(units, root)
    x, y = keep.at
    on: dict[int, Lying] = {}
    for number, stretches in enumerate(lying):
        for start, end, a_on_normal in stretches:
            (ax, ay), (bx, by) = units.cuts.blocks.outline_inches((start, end))
            is_in_line = (bx - ax) * (y - ay) == (by - ay) * (x - ax)
            if is_in_line and min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by):
                on[number] = start, end, a_on_normal
    where = _name(keep)
    number = min(on, default=-1)
    # Where one is finished that was sewn in part it is the same
    if not on or not on.keys() <= {number, *parts.get(number, ())}:
        if not lying:
            return Fault(keep.line, where, "this block has no seam")
        every = [stretch for stretches in lying for stretch in stretches]
        near = name_nearby(_middles(units, every), keep.at, project.measure)
        what = "two seams meet at this point" if on else "no seam runs through this point"
        return Fault(keep.line, where, f"{what}; seams nearby have their middles at {near}")
    (p, q, a_on_normal) = on[number]
    if keep.toward == "open":
        return number, None
    dx, dy = q[0] - p[0], q[1] - p[1]
    wx, wy = _WAYS[keep.toward]
    toward_normal = wx * -dy + wy * dx  # the normal of p to q is (-dy, dx)
    if toward_normal == 0:
        may = "left or right" if dx == 0 else "up or down"
        return Fault(keep.line, where, f"this seam can't be pressed {keep.toward}; write {may}, or open")
    return number, (toward_normal > 0) == a_on_normal


def lie_in_block(units: Units, root: Side) -> list[Lying]:
    """The seams of a block in their order: ends in the block's frame, and whether side a is on the normal's side."""
    found: list[Lying] = []
    for side in _pass_seams(units, root):
        unit = units.units[side.unit]
        p, q = (units.place_point(point, side) for point in unit.seam)
        found.append((p, q, unit.a_on_normal))
    return found


def _pass_seams(units: Units, root: Side) -> Iterator[Side]:
    """The units of a block that are sewn, in the order of their seams, as they lie in the block."""
    waiting: list[tuple[Side, bool]] = [(root, False)]
    while waiting:
        side, is_done = waiting.pop()
        unit = units.units[side.unit]
        if unit.a is None:
            continue
        if is_done:
            yield side
        else:
            waiting.append((side, True))
            waiting += [(units.seat_side(inner, side), False) for inner in reversed(unit.sides)]


def _lie_along(units: Units, root: Side) -> list[list[Lying]]:
    """Of each seam of a block all its stretches: of one that turns more than one."""
    found = []
    for side, (p, q, a_on_normal) in zip(_pass_seams(units, root), lie_in_block(units, root), strict=True):
        legs = units.units[side.unit].legs
        way = [units.place_point(point, side) for point in legs]
        # Side a is on the same hand all the way along
        found.append([(one, other, a_on_normal) for one, other in pairwise(way)] if legs else [(p, q, a_on_normal)])
    return found


def _middles(units: Units, lying: list[Lying]) -> list[ExactPoint]:
    scale = 2 * units.cuts.blocks.scale
    return [(divide(p[0] + q[0], scale), divide(p[1] + q[1], scale)) for p, q, _ in lying]
