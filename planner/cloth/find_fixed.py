"""Plan -> for which units the methods are that the maker fixed by name or by block."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from planner.fault import Fault
from planner.measure import Ruler
from planner.plan import Plan
from planner.project import UnitMethod
from planner.reading.nearest_name import NearestName
from planner.surd import Exact, to_length

_MOST_TOLD = 4  # sizes, or blocks, that a fault names

Size = tuple[Exact, Exact]


class Fixed:
    """The entries of `methods, units`, each with the batches (their places in the order of sewing) that it fits.

    Of several entries for one unit the one that says more holds: a name in a block or of a size goes before a name, and
    that before a block alone. A batch is sewn in one way, in however many blocks it is.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.entries = plan.project.methods.units
        self.fits: tuple[tuple[int, ...], ...] = tuple(tuple(self._find(entry)) for entry in self.entries)

    @cached_property
    def of_batch(self) -> Mapping[int, UnitMethod]:
        """For each batch that is fixed the entry that holds, of equal ones the first."""
        found: dict[int, UnitMethod] = {}
        for entry, places in zip(self.entries, self.fits, strict=True):
            for place in places:
                if place not in found or _rank(entry) > _rank(found[place]):
                    found[place] = entry
        return found

    def find_rival(self, number: int) -> tuple[int, UnitMethod] | None:
        """An earlier entry that says as much as this one and another method for the same batch, and that batch."""
        entry = self.entries[number]
        for place in self.fits[number]:
            for other, places in zip(self.entries[:number], self.fits, strict=False):
                if place in places and _rank(other) == _rank(entry) and other.method != entry.method:
                    return place, other
        return None

    def tell_none(self, number: int, nearest: NearestName) -> Fault:
        """Words for an entry that fits no unit: what there is instead."""
        entry = self.entries[number]
        return Fault(entry.line, tell_where(number), self._why_none(entry, nearest))

    def _find(self, entry: UnitMethod) -> Iterator[int]:
        for place in range(len(self.plan.batches.batches)):
            if entry.unit is not None and entry.unit not in self._names[place]:
                continue
            if entry.block is not None and entry.block not in self._blocks[place]:
                continue
            if entry.size is None or entry.size == self._size(place):
                yield place

    def _why_none(self, entry: UnitMethod, nearest: NearestName) -> str:
        block = f" in block {entry.block}" if entry.block is not None else ""
        everywhere = range(len(self.plan.batches.batches))
        here = [place for place in everywhere if entry.block is None or entry.block in self._blocks[place]]
        if entry.unit is not None and not any(entry.unit in self._names[place] for place in here):
            blocks = sorted(
                {one for place in everywhere if entry.unit in self._names[place] for one in self._blocks[place]}
            )
            if blocks:
                return f"no unit{block} is called '{entry.unit}'; it is in {_list_few(blocks)}"
            names = tuple(dict.fromkeys(name for place in here for name in self._names[place]))
            return f"no unit{block} is called '{entry.unit}'{nearest.suggest(entry.unit, names)}"
        sizes = [self._size(place) for place in here if entry.unit is None or entry.unit in self._names[place]]
        if entry.size is not None and sizes:
            called = "no unit" if entry.unit is None else f"no '{entry.unit}'"
            told = _list_few([self._spell(size) for size in sorted(set(sizes))])
            return f"{called}{block} is {self._spell(entry.size)} finished; there is {told}"
        return f"nothing is sewn{block}"

    @cached_property
    def _names(self) -> list[tuple[str, ...]]:
        """What the units of each batch are called."""
        name = self.plan.words.name
        return [tuple(dict.fromkeys(name(number) for number in one.units)) for one in self.plan.batches.batches]

    @cached_property
    def _blocks(self) -> list[frozenset[str]]:
        """The blocks in which each batch is sewn."""
        units = self.plan.units
        of_kind: dict[int, set[str]] = {}
        for block, root in zip(units.cuts.blocks.drafted, units.roots, strict=True):
            waiting, met = [] if block.is_top else [root.unit], set[int]()
            while waiting:
                number = waiting.pop()
                if number not in met:
                    met.add(number)
                    of_kind.setdefault(units.units[number].kind, set()).add(block.name)
                    waiting += [side.unit for side in units.units[number].sides]
        return [frozenset(of_kind.get(one.kind, ())) for one in self.plan.batches.batches]

    def _size(self, place: int) -> Size:
        unit = self.plan.units.units[self.plan.batches.batches[place].units[0]]
        short, long = sorted(self.plan.blocks.inches(side) for side in (unit.width, unit.height))
        return short, long

    def _spell(self, size: Size) -> str:
        sides = dict.fromkeys(Ruler(self.plan.project.measure).as_written(to_length(side)) for side in size)
        return " x ".join(sides)  # of a square once


def tell_where(number: int) -> str:
    """An entry as faults name it."""
    return f"methods, units, entry {number + 1}"


def _rank(entry: UnitMethod) -> tuple[bool, int]:
    """How much an entry says."""
    return entry.unit is not None, (entry.block is not None) + (entry.size is not None)


def _list_few(names: list[str]) -> str:
    shown = [*names[:_MOST_TOLD], *(["others"] if len(names) > _MOST_TOLD else [])]
    return " and ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else shown[0]
