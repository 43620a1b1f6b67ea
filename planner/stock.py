"""Sheet and tally -> what lies where and what more is needed: pieces and units, made, used, ruined, left over.

A project may have changed since something was sewn. What the sheet no longer needs still holds the pieces that went
into it, so those are counted as used, and are made again where the sheet needs them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cached_property

from planner.sheet import BY_METHOD, BlockWork, CutWork, SewWork, Sheet, Step, UnitWork
from planner.tally import Tally


class Stock:
    """The pieces and units of one moment."""

    def __init__(self, sheet: Sheet, tally: Tally) -> None:
        self.sheet = sheet
        self.tally = tally

    def total_of(self, step: Step) -> int:
        """How many of a step there are to count, with all that is made again."""
        more = self.tally.more.get(step.name, 0)
        work = step.work
        if isinstance(work, CutWork):
            return step.total(self.pieces_needed(step, work) - work.entry.count)
        if isinstance(work, SewWork):
            chain = work.chain
            total = step.total(more + sum(self._needed_again[1].get((chain.name, pile), 0) for pile in chain.outcomes))
            pressed = self._pressed_beyond(work, self._needed_again[1])
            # What is pressed one way beyond its need is no pair that waits to be pressed the other way
            return total + pressed if pressed > self.tally.done.get(step.name, 0) - total else total
        if isinstance(work, UnitWork):
            return step.total(more + self._needed_again[1].get((work.chain.name, work.outcome.pile), 0))
        return step.total(more)

    def _pressed_beyond(self, work: SewWork, again: Counter[tuple[str, str]]) -> int:
        """How many units of a chain are pressed a way in which fewer are needed."""
        beyond = 0
        for number in self.sheet.chain_steps[work.chain.name]["press"]:
            press = self.sheet.steps[number]
            assert isinstance(press.work, UnitWork)
            more = self.tally.more.get(press.name, 0) + again.get((work.chain.name, press.work.outcome.pile), 0)
            beyond += max(0, self.tally.done.get(press.name, 0) - press.total(more))
        return beyond

    def pieces_needed(self, step: Step, work: CutWork) -> int:
        """How many pieces of a cut there must be in all."""
        before = self._cut_before(work)
        if not self._is_refilled_by(step, work):
            # What was cut before is first taken from what is cut in the smallest parts
            others = (self.sheet.steps[number] for number in self.sheet.made_by[work.pile])
            later = [one for one in others if isinstance(one.work, CutWork) and one.work.per < work.per]
            before = max(0, before - sum(one.work.entry.count for one in later if isinstance(one.work, CutWork)))
        again = self.tally.more.get(step.name, 0) + self._again_at(step, work, self._needed_again[0])
        return work.entry.count + again - min(before, work.entry.count + again)

    def _is_refilled_by(self, step: Step, work: CutWork) -> bool:
        """Whether a step is the one at which more is cut for its pile."""
        return self.sheet.steps[self.sheet.refilled_by[work.pile]].name == step.name

    def _again_at(self, step: Step, work: CutWork, pieces: Counter[str]) -> int:
        """How many of the pieces that are needed again are cut at a step."""
        return pieces.get(work.pile, 0) if self._is_refilled_by(step, work) else 0

    def _cut_before(self, work: CutWork) -> int:
        """Pieces of this pile that were cut with another allowance, or for another method, and are sewn already: they
        need not be cut again.
        Those that are not sewn are of no use now."""
        made = sum(
            many * (int(name.partition(BY_METHOD)[2]) if BY_METHOD in name else work.per_alone)
            for name, many in self.tally.done.items()
            if name.startswith(f"cut {work.pile} ") and name not in self.sheet.number_of
        )
        return min(made, self._used.get(work.pile, 0)) if made else 0

    def sides_of(self, name: str) -> tuple[str, ...]:
        """The piles that a sewing step takes from, also of a step that is no longer in the sheet."""
        number = self.sheet.number_of.get(name)
        if number is None:
            return self.tally.sides.get(name, ())
        work = self.sheet.steps[number].work
        assert isinstance(work, SewWork)
        return tuple(side.pile for side in work.chain.sides)

    @cached_property
    def _used(self) -> Counter[str]:
        """How many of each pile went into something: sewn on, or squared up."""
        used: Counter[str] = Counter()
        for name, many in self.tally.done.items():
            if name.startswith("sew "):
                for pile in self.sides_of(name):
                    used[pile] += many - self.tally.returned.get(name, 0)
            elif name.startswith("square up "):
                used[name.split(" ")[2]] += many
        return used

    def stock_of(self, pile: str) -> int:
        """How many pieces or units lie in a pile now."""
        stock = -self._used.get(pile, 0)
        for number in self.sheet.made_by.get(pile, ()):
            step = self.sheet.steps[number]
            made = self.tally.done.get(step.name, 0)
            if isinstance(step.work, CutWork):
                made = made * step.work.per
                if self._is_refilled_by(step, step.work):
                    made += self._cut_before(step.work)
            stock += made - self.tally.lost.get(step.name, 0)
        return stock

    @cached_property
    def surplus(self) -> dict[str, int]:
        """What was cut, sewn or squared up and has no place in this sheet: by step name, how many more than needed.
        What is inside something that is surplus is not named again."""
        return self._find_surplus(*self._needed_again)

    def _find_surplus(self, pieces: Counter[str], units: Counter[tuple[str, str]]) -> dict[str, int]:
        found = {}
        for name, many in self.tally.done.items():
            stage, _, rest = name.partition(" ")
            if stage not in ("cut", "sew", "square"):
                continue
            number = self.sheet.number_of.get(name)
            if number is None:
                needed = sum(again for (chain, _), again in units.items() if stage == "sew" and chain == rest)
                if stage == "cut":
                    needed = self._cut_pieces(rest) + pieces.get(rest.split(" ")[0], 0)
            else:
                step = self.sheet.steps[number]
                work = step.work
                again = self.tally.more.get(name, 0)
                if isinstance(work, CutWork):
                    again += self._again_at(step, work, pieces)
                elif isinstance(work, SewWork):
                    again += sum(units.get((work.chain.name, pile), 0) for pile in work.chain.outcomes)
                needed = step.total(again)
                if isinstance(work, SewWork):
                    needed = min(needed, many - self._pressed_beyond(work, units))
            surplus = many - needed
            if surplus > 0:
                found[name] = surplus
        return found

    def _cut_pieces(self, rest: str) -> int:
        """Of pieces cut with another allowance: those that are sewn already."""
        return self._used.get(rest.split(" ")[0], 0)

    @cached_property
    def _needed_again(self) -> tuple[Counter[str], Counter[tuple[str, str]]]:
        """Pieces by pile, and units by (chain, pile), that surplus units hold: needed beyond what the sheet counts."""
        pieces: Counter[str] = Counter()
        units: Counter[tuple[str, str]] = Counter()
        # What is needed again is no surplus itself: so look again until nothing changes (from the outside in)
        for _ in range(len(self.sheet.steps) + len(self.tally.done) + 1):
            held: Counter[str] = Counter()
            for name, many in self._find_surplus(pieces, units).items():
                if name.startswith("sew "):
                    for pile in self.sides_of(name):
                        held[pile] += many
                elif name.startswith("square "):
                    held[name.split(" ")[2]] += many
            for (chain, _), many in units.items():  # what is held inside them in turn
                for pile in self.sides_of(f"sew {chain}"):
                    held[pile] += many
            next_pieces: Counter[str] = Counter()
            next_units: Counter[tuple[str, str]] = Counter()
            for pile, many in held.items():
                maker = self._maker_of(pile)
                if maker is None:
                    next_pieces[pile] = many
                else:
                    next_units[(maker, pile)] = many
            if (next_pieces, next_units) == (pieces, units):
                break
            pieces, units = next_pieces, next_units
        return pieces, units

    def _maker_of(self, pile: str) -> str | None:
        """The chain that makes a pile, also one that is no longer in the sheet; None for patches."""
        for number in self.sheet.made_by.get(pile, ()):
            work = self.sheet.steps[number].work
            return work.chain.name if isinstance(work, UnitWork) else None
        for done in self.tally.done:
            if done.startswith("press ") and done.endswith(f" {pile}"):
                return done.split(" ")[1]
        return None

    def finished_blocks(self) -> Iterator[tuple[str, int]]:
        """Blocks that are squared up, by title."""
        for step in self.sheet.steps:
            done = self.tally.done.get(step.name, 0) - self.tally.lost.get(step.name, 0)
            if isinstance(step.work, BlockWork) and done > 0:
                yield self.sheet.plan.blocks.drafted[step.work.block].title, done
