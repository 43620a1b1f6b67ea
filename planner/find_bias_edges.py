"""Patches -> which of their sides lie on the outside of a block and are on the bias as they are cut: such an edge
stretches until something is sewn to it.

Blocks fill a rectangle, so whatever is cut along the edges of its block has none, and what joins the quilt is cut along
the edges of that. Pieces of a print that stays upright in a quilt on point have some, pieces that are cut alike for
places that lie turned by 60 degrees, and units that are cut out of sewn squares or strips aslant.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.blocks import DraftedBlock, Point
from planner.build_units import Side, Units
from planner.cloth.choose_methods import Choice
from planner.cloth.cut_by_method import choose_where_asked
from planner.look_along import find_grain, is_bias
from planner.plan import Plan
from planner.surd import Grid

Ends = tuple[Point, Point]
_Line = tuple[int, Grid]  # 0: all points with this x, 1: with this y


@dataclass(frozen=True, slots=True)
class BiasEdge:
    """Sides of one entry of the cut list (its place there) that are on the bias outside, in `blocks` (indices into the
    drafted ones). `sides` are told by a patch (its unit) and where its outline has them as it lies in its pile; one
    patch has `most` of them at once. `places` says how many patches have any."""

    entry: int
    sides: tuple[tuple[int, int], ...]
    most: int
    blocks: tuple[int, ...]
    places: int


def find_bias_edges(plan: Plan) -> tuple[BiasEdge, ...]:
    """Each entry of the cut list with such a side, in the order of that list. Each block as drafted is looked at once,
    however many there are of it."""
    units = plan.units
    entry_of = {unit: place for place, entry in enumerate(plan.cut) for unit in entry.units}
    biased = {unit: _find_biased(units, unit) for unit in entry_of}
    found: dict[int, BiasEdge] = {}
    for block, drafted in enumerate(plan.blocks.drafted):
        if drafted.is_top:
            continue
        border = _find_border(drafted)
        for side in _list_patches(units, block):
            here = []
            for number, ends in biased[side.unit]:
                placed = units.place_points(ends, side)
                if any(_lies_on(placed, line) for line in border):
                    here.append((side.unit, number))
            if here:
                place = entry_of[side.unit]
                known = found.get(place, BiasEdge(place, (), 0, (), 0))
                found[place] = BiasEdge(
                    place,
                    tuple(sorted({*known.sides, *here})),
                    max(known.most, len(here)),
                    known.blocks if block in known.blocks else (*known.blocks, block),
                    known.places + plan.blocks.count(block),
                )
    return tuple(found[place] for place in sorted(found))


@dataclass(frozen=True, slots=True)
class BiasUnit:
    """Units that are sewn by a method which leaves all their edges on the bias, some of them outside in `blocks`."""

    choice: Choice
    blocks: tuple[int, ...]

    @property
    def method(self) -> str:
        assert self.choice.chosen is not None
        return self.choice.chosen.method


def find_bias_units(plan: Plan) -> tuple[BiasUnit, ...]:
    """What the maker asked to be sewn by such a method, in the order of sewing."""
    choices = [one for one in choose_where_asked(plan) if one.chosen is not None and one.chosen.beware]
    batch_of = {unit: one for one in choices for unit in plan.batches.batches[one.unit.batch].units}
    found: dict[int, list[int]] = {}
    for block, drafted in enumerate(plan.blocks.drafted):
        if not batch_of or drafted.is_top:
            continue
        border = _find_border(drafted)
        for seam in plan.units.seams[block]:
            if seam.unit not in batch_of:
                continue
            corners = plan.units.place_points(plan.words.outline(seam.unit), seam)
            ends = zip(corners, corners[1:] + corners[:1], strict=True)
            if any(_lies_on(pair, line) for pair in ends for line in border):
                blocks = found.setdefault(batch_of[seam.unit].unit.batch, [])
                blocks += [block] if block not in blocks else []
    return tuple(BiasUnit(one, tuple(found[one.unit.batch])) for one in choices if one.unit.batch in found)


def _find_biased(units: Units, number: int) -> tuple[tuple[int, Ends], ...]:
    """The sides of a patch that are on the bias, as it lies in its pile: there its grain is that of its block."""
    shape = units.cuts.shapes[units.units[number].shape]
    grain = find_grain(shape.outline, shape.askew, shape.up)
    sides = zip(shape.outline, shape.outline[1:] + shape.outline[:1], strict=True)
    return tuple(
        (place, (start, end))
        for place, (start, end) in enumerate(sides)
        if is_bias((end[0] - start[0], end[1] - start[1]), grain)
    )


def _list_patches(units: Units, block: int) -> Iterator[Side]:
    """The patches of a block where they lie, each as the unit that it is."""
    if not units.seams[block]:
        yield units.roots[block]
    for seam in units.seams[block]:
        for side, inner in zip(seam.sides, units.units[seam.unit].sides, strict=True):
            if side < 0:
                yield units.seat_side(inner, seam)


def _find_border(drafted: DraftedBlock) -> tuple[_Line, ...]:
    """The four lines that a block lies between."""
    return (0, 0), (0, drafted.width), (1, 0), (1, drafted.height)


def _lies_on(ends: Iterable[Point], line: _Line) -> bool:
    axis, level = line
    return all(end[axis] == level for end in ends)
