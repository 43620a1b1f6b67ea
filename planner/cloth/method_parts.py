"""Choices of methods -> which of a unit's last seams they sew, and so what comes after its pressing: trimming to a
size, dog ears, measuring, or nothing yet."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from planner.cloth.choose_methods import Choice
from planner.cloth.methods import Way
from planner.plan import Plan


class Part(NamedTuple):
    """A unit that a method sews: so many of it, as its last seam or on the way there."""

    choice: Choice
    many: int
    is_last: bool

    @property
    def way(self) -> Way:
        assert self.choice.chosen is not None
        return self.choice.chosen

    @property
    def more(self) -> int:
        """How many come out beyond the needed ones."""
        return (self.way.made - self.choice.needed) * (self.many // self.choice.needed)

    @property
    def trim_to(self) -> Fraction | None:
        """What this seam's units are trimmed to once pressed (the shorter side); None where only points stick out."""
        if self.is_last:
            return self.way.trim_to[-1] if self.way.trim_to else None
        return self.way.trim_to[0] if len(self.way.trim_to) > 1 else None

    @property
    def has_no_points(self) -> bool:
        """Whether nothing sticks out that could be cut off yet: corners flipped out, and half-made geese."""
        return self.way.method == "stitch and flip" or (not self.is_last and self.choice.unit.family == "flying goose")


class MethodParts:
    """For each unit whose last seam is sewn by a method how."""

    def __init__(self, plan: Plan, choices: tuple[Choice, ...]) -> None:
        self.plan = plan
        self._parts: dict[int, list[Part]] = {}
        for choice in choices:
            for number in plan.batches.batches[choice.unit.batch].units:
                self._parts.setdefault(number, []).append(Part(choice, choice.needed, True))
            for number in dict.fromkeys(choice.unit.inside):
                many = choice.needed * choice.unit.inside.count(number)
                self._parts.setdefault(number, []).append(Part(choice, many, False))

    def of(self, number: int) -> tuple[Part, ...]:
        return tuple(self._parts.get(number, ()))

    def count_singly(self, number: int) -> int:
        """How many of a unit are sewn pair by pair."""
        kind = self.plan.units.units[number].kind
        pairs = sum(chain.pairs for chain in self.plan.piles.chains[kind])
        return max(0, pairs - sum(part.many for part in self.of(number)))

    def is_trimmed(self, number: int, has_ears: bool) -> bool:
        """Whether a unit is trimmed after pressing, to a size or, where it `has_ears`, of its points."""
        parts = self.of(number)
        if any(part.trim_to is not None for part in parts):
            return True
        return has_ears and (self.count_singly(number) > 0 or not all(part.has_no_points for part in parts))

    def is_measured(self, number: int) -> bool:
        """Whether a unit has a size to measure once it is pressed: not where all of it is half made."""
        return self.count_singly(number) > 0 or not self.of(number) or any(part.is_last for part in self.of(number))
