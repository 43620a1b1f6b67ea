"""Which seams belong to a kind that is pressed two ways, and to which of its two piles they go."""

from __future__ import annotations

from typing import NamedTuple

from planner.plan import Plan


class TwoWays(NamedTuple):
    """A kind of unit pressed two ways. `first_on_normal`: whether the allowances of its larger pile fall to the side
    of the unit's normal; `first` and `second` count the units of either pile."""

    kind: int
    unit: int
    first_on_normal: bool
    first: int
    second: int


class Versions:
    """All kinds of a plan that are pressed two ways, in the order of the batches."""

    def __init__(self, plan: Plan) -> None:
        units = plan.units
        self._plan = plan
        self._on_normal = [unit.a_on_normal for unit in units.units]
        counts: dict[int, dict[bool, int]] = {}
        unit_of: dict[int, int] = {}
        for block, seams in enumerate(units.seams):
            copies = plan.blocks.drafted[block].copies
            if not copies:
                continue
            for number, seam in enumerate(seams):
                unit = units.units[seam.unit]
                if unit.period == 4 and number not in plan.pressing.is_open[block]:
                    falls = self._falls_on_normal(block, number)
                    both = counts.setdefault(unit.kind, {})
                    both[falls] = both.get(falls, 0) + copies
                    unit_of.setdefault(unit.kind, seam.unit)
        self.kinds: dict[int, TwoWays] = {}
        for batch in plan.batches.batches:
            both = counts.get(batch.kind, {})
            if len(both) == 2:
                # The larger pile is the first; of equal ones that of the first unit
                first = max(both, key=lambda falls: both[falls])
                unit_number = unit_of[batch.kind]
                self.kinds[batch.kind] = TwoWays(batch.kind, unit_number, first, both[first], both[not first])

    def version_of(self, block: int, number: int) -> int:
        """1 or 2: the pile that the unit of this seam goes to; 0 where its kind is pressed one way, or it is open."""
        unit = self._plan.units.units[self._plan.units.seams[block][number].unit]
        kind = self.kinds.get(unit.kind)
        if kind is None or number in self._plan.pressing.is_open[block]:
            return 0
        return 1 if self._falls_on_normal(block, number) == kind.first_on_normal else 2

    def _falls_on_normal(self, block: int, number: int) -> bool:
        unit = self._plan.units.seams[block][number].unit
        return self._plan.pressing.to_a[block][number] == self._on_normal[unit]
