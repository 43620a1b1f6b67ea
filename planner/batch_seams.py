"""Units -> batches: the identical seams of all blocks, in passes, smallest units first.

A pass is what can be done without going to the iron; a batch's pass is one more than the later of its sides' passes.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from itertools import groupby

from planner.build_units import Units
from planner.surd import Grid


@dataclass(frozen=True, slots=True)
class Batch:
    """All seams of one kind. `units` are the units sewn so: nearly always one, more where sides were pieced unlike."""

    kind: int
    pass_number: int  # from 1
    units: tuple[int, ...]
    count: int  # pairs, over all copies of all blocks


@dataclass(frozen=True, slots=True)
class Batches:
    """`batches` in the order of sewing. `count_of` says of each unit (patches too) how many the project needs."""

    batches: tuple[Batch, ...]
    count_of: tuple[int, ...]

    @property
    def passes(self) -> int:
        return max((batch.pass_number for batch in self.batches), default=0)


def batch_seams(units: Units) -> Batches:
    """The batches of a project, in the order in which they are sewn."""
    count_of = _count_units(units)
    by_kind: dict[int, list[int]] = {}
    for number, unit in enumerate(units.units):
        if unit.kind >= 0 and count_of[number]:
            by_kind.setdefault(unit.kind, []).append(number)
    pass_of = [0] * len(units.units)
    batches = []
    # Units of one kind are equally large, so by the time a kind comes up the passes of all its sides are known.
    for kind, members in sorted(by_kind.items(), key=lambda item: len(units.units[item[1][0]].patches)):
        later = 1 + max(pass_of[side] for number in members for side in _sides(units, number))
        for number in members:
            pass_of[number] = later
        batches.append(Batch(kind, later, tuple(members), sum(count_of[number] for number in members)))
    return Batches(_order(units, batches), count_of)


def _count_units(units: Units) -> tuple[int, ...]:
    count_of = [0] * len(units.units)
    for block, root, seams in zip(units.cuts.blocks.drafted, units.roots, units.seams, strict=True):
        count_of[root.unit] += block.copies
        for seam in seams:
            for side in _sides(units, seam.unit):
                count_of[side] += block.copies
    return tuple(count_of)


def _sides(units: Units, number: int) -> tuple[int, ...]:
    return tuple(side.unit for side in units.units[number].sides)


def _order(units: Units, batches: list[Batch]) -> tuple[Batch, ...]:
    """By pass, then by the size of the unit; among equals one that shares a pile with the one before comes next."""

    def size(batch: Batch) -> tuple[int, Grid, int]:
        unit = units.units[batch.units[0]]
        return batch.pass_number, area[batch.units[0]], len(unit.patches)

    def content(batch: Batch) -> tuple[object, ...]:
        unit = units.units[batch.units[0]]
        return unit.patches, unit.seam, unit.seams

    area: list[Grid] = []  # of each unit, doubled
    for number, unit in enumerate(units.units):
        sides = _sides(units, number)
        area.append(sum(area[side] for side in sides) if sides else units.cuts.shapes[unit.shape].twice_area)
    ordered: list[Batch] = []
    for _, group in groupby(sorted(batches, key=lambda batch: (size(batch), content(batch))), key=size):
        ordered += _keep_together(units, list(group), ordered[-1] if ordered else None)
    return tuple(ordered)


def _keep_together(units: Units, waiting: list[Batch], before: Batch | None) -> list[Batch]:
    """The same batches: after each the first that shares a pile with it, else the first of all."""
    piles = [[side for number in batch.units for side in _sides(units, number)] for batch in waiting]
    sharing: dict[int, deque[int]] = {}
    for place, sides in enumerate(piles):
        for side in dict.fromkeys(sides):
            sharing.setdefault(side, deque()).append(place)
    every = deque(range(len(waiting)))
    is_done = [False] * len(waiting)

    def find_first(places: deque[int]) -> int:
        while places and is_done[places[0]]:
            places.popleft()
        return places[0] if places else len(waiting)

    ordered: list[Batch] = []
    last = [side for number in before.units for side in _sides(units, number)] if before else []
    while len(ordered) < len(waiting):
        place = min((find_first(sharing[side]) for side in last if side in sharing), default=len(waiting))
        if place == len(waiting):
            place = find_first(every)
        is_done[place] = True
        ordered.append(waiting[place])
        last = piles[place]
    return ordered
