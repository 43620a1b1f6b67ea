"""What is laid out before a pass, as it lies there: patches and units, or the squares and strips of a method; how many
of it the pass takes, and how many lie there where that is more."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from planner.cloth.choose_methods import find_pieces
from planner.cloth.rectangles import Rectangle
from planner.cloth.say_methods import MethodWords, is_in_strips
from planner.name_piles import Chain
from planner.project import Method
from planner.sheet import ArrangeWork, LayOutWork, Sheet


class _Kind(NamedTuple):
    """Squares or strips that lie in one heap."""

    method: Method
    rectangle: Rectangle


class _Taken(NamedTuple):
    """What one pass takes of a pile whole, and for how many patches that stands."""

    wholes: dict[_Kind, int]
    patches: int


class LaidWords:
    """`name_pile` says what one piece of a pile is: `navy square 3 1/2`."""

    def __init__(self, sheet: Sheet, methods: MethodWords, name_pile: Callable[[str], str]) -> None:
        self.sheet = sheet
        self.methods = methods
        self._name_pile = name_pile

    def say(self, pile: str, many: int, pass_number: int) -> str:
        """What a pass takes of a pile when `many` of it are still to sew: `6 of your 12 squares 2 7/8, coral`; `16 of
        your 32, navy square 3 1/2`; where all is taken `16 of navy square 3 1/2`."""
        planned = self._planned[pass_number].get(pile, 0)
        taken = self._take(pile, pass_number)
        parts = []
        if taken.wholes:
            parts.append(f"{self._say_wholes(pile, pass_number, taken)}, {self._fabric_of[pile]}")
            if many != planned:  # how many whole ones are left follows from no number of pairs
                return f"{parts[0]}; {many} of {planned} pieces out of them still to sew"
        single = many - taken.patches
        if single > 0:
            there = self.count_single(pile, pass_number)
            if many != planned or there <= single:
                parts.append(f"{single} of {self._name_pile(pile)}")
            else:
                parts.append(f"{single} of your {there}, {self._name_pile(pile)}")
        return "; ".join(parts) or f"{many} of {self._name_pile(pile)}"

    def _say_wholes(self, pile: str, pass_number: int, taken: _Taken) -> str:
        """Alike ones together, whatever they are sewn to."""
        there: dict[_Kind, int] = {}
        for part in self.methods.instead[self._place_of[pile]]:
            for whole in part.wholes:
                kind = _name_kind(whole.method, whole.rectangle)
                there[kind] = there.get(kind, 0) + whole.rectangle.count
        for earlier in range(1, pass_number):
            for kind, count in self._take(pile, earlier).wholes.items():
                there[kind] -= count
        words = []
        strips: dict[Fraction, list[str]] = {}
        for kind, count in taken.wholes.items():
            if is_in_strips(kind.method):
                many = f" ({count})" if count > 1 else ""
                many = f" ({count} of your {there[kind]})" if there[kind] > count else many
                long = self.methods.ruler.to_cut(kind.rectangle.wide).words
                strips.setdefault(kind.rectangle.high, []).append(f"{long}{many}")
                continue
            one = self.methods.count(kind.method, kind.rectangle._replace(count=max(count, there[kind])))
            _, _, noun = one.partition(" ")
            words.append(f"{count} of your {one}" if there[kind] > count else f"{count} {noun}")
        for high, lengths in strips.items():
            wide = f"{self.methods.ruler.to_cut(high).words}{self.methods.ruler.ending} wide"
            noun = "strip" if len(lengths) == 1 and "(" not in lengths[0] else "strips"
            words.append(f"{noun} {wide}, {_list_words(lengths)} long")
        return _list_words(words)

    def _take(self, pile: str, pass_number: int) -> _Taken:
        """What a pass takes whole, of all chains of a kind together."""
        found = _Taken({}, 0)
        if self._place_of.get(pile) not in self.methods.instead:
            return found
        seen = set()
        for chain in self._chains.get(pass_number, ()):
            kind = self.sheet.plan.units.units[chain.unit].kind
            if kind not in seen and self.methods.parts.of(chain.unit):
                seen.add(kind)
                found = self._add_chain(found, chain, pile)
        return found

    def _add_chain(self, found: _Taken, chain: Chain, pile: str) -> _Taken:
        plan = self.sheet.plan
        entry = plan.cut[self._place_of[pile]]
        here = sum(side.unit in entry.units for side in plan.units.units[chain.unit].sides)
        wholes, patches = dict(found.wholes), found.patches
        for part in self.methods.parts.of(chain.unit) if here else ():
            unit = part.choice.unit
            in_all = sum(leaf in entry.units for leaf in unit.leaves)
            times = 1 if part.is_last else unit.inside.count(chain.unit)
            for one in find_pieces(plan, part.choice, entry):
                kind = _name_kind(part.way.method, one)
                wholes[kind] = wholes.get(kind, 0) + one.count * here * times // in_all
            patches += part.many * here
        return _Taken(wholes, patches)

    def count_single(self, pile: str, pass_number: int) -> int:
        """How many patches by themselves, or units, lie in a pile before a pass; 0 where that is not known."""
        if any(0 < place <= pass_number for place in self._arranged):
            return 0  # what lies in the quilt lies in no pile
        there = self._made_before(pile, pass_number)
        for earlier in range(1, pass_number):
            there -= self._used[earlier].get(pile, 0) - self._take(pile, earlier).patches
        return there - (self._used[pass_number].get(pile, 0) - self._planned[pass_number].get(pile, 0))

    def _made_before(self, pile: str, pass_number: int) -> int:
        place = self._place_of.get(pile)
        if place is not None:
            if place in self.methods.instead:
                return sum(part.singly for part in self.methods.instead[place])
            return self.sheet.plan.cut[place].count
        chains = (chain for number in range(1, pass_number) for chain in self._chains.get(number, ()))
        return sum(outcome.pairs for chain in chains for outcome in chain.outcomes.values() if outcome.pile == pile)

    @cached_property
    def _chains(self) -> dict[int, tuple[Chain, ...]]:
        return {number: tuple(self.sheet.chains_of_pass(number)) for number in range(1, self.sheet.passes + 1)}

    @cached_property
    def _planned(self) -> dict[int, dict[str, int]]:
        """What the pass of each number takes from its piles."""
        found: dict[int, dict[str, int]] = {number: {} for number in range(1, self.sheet.passes + 1)}
        for step in self.sheet.steps:
            if isinstance(step.work, LayOutWork):
                found[step.pass_number] = dict(step.work.piles)
        return found

    @cached_property
    def _used(self) -> dict[int, dict[str, int]]:
        """The same with what is not taken from its pile, since it hangs in a web."""
        found: dict[int, dict[str, int]] = {number: {} for number in range(1, self.sheet.passes + 1)}
        for number, chains in self._chains.items():
            for chain in chains:
                for side in chain.sides:
                    found[number][side.pile] = found[number].get(side.pile, 0) + chain.pairs
        return found

    @cached_property
    def _arranged(self) -> tuple[int, ...]:
        return tuple(step.pass_number for step in self.sheet.steps if isinstance(step.work, ArrangeWork))

    @cached_property
    def _place_of(self) -> dict[str, int]:
        """For each pile of patches its place in the cut list."""
        plan = self.sheet.plan
        return {plan.piles.unit_names[entry.units[0]]: place for place, entry in enumerate(plan.cut)}

    @cached_property
    def _fabric_of(self) -> dict[str, str]:
        return {pile: self.sheet.plan.cut[place].fabric for pile, place in self._place_of.items()}


def _name_kind(method: Method, one: Rectangle) -> _Kind:
    return _Kind(method, one._replace(count=0, makes=0, what="", piles=()))


def _list_words(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
