"""Sheet and tally -> how many strips count as cut, also where the project has changed while they were cut.

As long as the strips lie as they did at the first cut, they are counted as they are. Where they lie otherwise, it is
worked out once which of them serve and how many more are to cut (`cloth/used_strips.py`); the next cut notes that in
the log together with how the strips lie from then on, and they are counted on from there.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property
from typing import Any, NamedTuple

from planner.cloth.cut_strips import CutAcross
from planner.cloth.used_strips import Layout, count_to_cut, guess_rests, is_of_fabric, list_rests, read_spelled
from planner.sheet import Sheet, Step, StripWork
from planner.stock import Stock
from planner.tally import Counts, Tally


class Strips(NamedTuple):
    """Of the strips of one fabric, by the name of their step: how many count as done beside those that are counted
    (fewer than none where some are cut up for what is needed no more), and how many whole ones are needed no more;
    `spare` is None where all are as they were laid out. `is_noted`: the log has it."""

    free: Counts
    spare: Counts | None
    is_noted: bool = False


class _Noted(NamedTuple):
    """What the log has of a fabric: how its strips lay, and how many count as done and as spare."""

    spelled: Mapping[str, Any]
    layout: Layout
    strips: Strips


_AS_COUNTED = Strips({}, None)


class StripCount:
    """The strips of one moment. `share_of` each pile so much is cut."""

    def __init__(self, sheet: Sheet, tally: Tally, stock: Stock, share_of: Mapping[str, Fraction]) -> None:
        self._sheet = sheet
        self._tally = tally
        self._stock = stock
        self._share_of = share_of
        self._found: dict[str, Strips] = {}

    def of(self, fabric: str) -> Strips:
        """How the strips of a fabric count."""
        if fabric not in self._found:
            self._found[fabric] = self._find(fabric) if fabric in self._sheet.strip_layouts else _AS_COUNTED
        return self._found[fabric]

    def count_unfinished(self, step: Step) -> int:
        """Of the strips of a step from how many something is still to cut."""
        return step.count - self._done_across[step.name]

    def spell(self, fabric: str) -> dict[str, object]:
        """For the log: how the strips of a fabric lie and count; nothing where it has that already."""
        strips = self.of(fabric)
        if strips.is_noted or fabric not in self._sheet.strip_layouts:
            return {}
        free = {name: many for name, many in strips.free.items() if many}
        spare = None if strips.spare is None else {name: many for name, many in strips.spare.items() if many}
        return {"laid": {fabric: {"layout": self._sheet.strip_layouts[fabric][1], "free": free, "spare": spare}}}

    def _find(self, fabric: str) -> Strips:
        layout, spelled = self._sheet.strip_layouts[fabric]
        noted = _read_noted(self._tally.laid.get(fabric))
        if noted is not None and noted.spelled == spelled:
            return noted.strips
        steps = self._steps_of(fabric)
        counted = {name: many for name, many in self._tally.done.items() if many > 0 and is_of_fabric(name, fabric)}
        if not counted:  # a log from before strips were counted: what a piece is cut from is cut
            across = CutAcross(self._share_of)
            begun = {step.name: across.count_begun(work.cut) for step, work in self._strip_steps}
            return Strips({step.name: min(begun[step.name], step.count) for step, _ in steps}, None)
        there = {name: many - self._tally.lost.get(name, 0) for name, many in counted.items()}
        if noted is None:
            if self._are_all_counted(steps, counted):
                return _AS_COUNTED
            cuts = [work.cut for _, work in steps]
            rests = guess_rests(layout, cuts, there, layout.share_done(self._piles_done))
        else:
            there = {name: many + noted.strips.free.get(name, 0) for name, many in there.items()}
            rests = list_rests(noted.layout, there, noted.layout.share_done(self._piles_done))
        found = count_to_cut(layout, rests, self._share_of)
        free = {
            step.name: self._stock.total_of(step) - found[step.name][0] - counted.get(step.name, 0) for step, _ in steps
        }
        return Strips(free, {name: spare for name, (_, spare) in found.items()})

    def _are_all_counted(self, steps: list[tuple[Step, StripWork]], counted: Counts) -> bool:
        """Whether just the strips of this sheet are counted."""
        return counted.keys() <= {step.name for step, _ in steps} and all(
            counted.get(step.name, 0) == self._stock.total_of(step) for step, _ in steps
        )

    def _steps_of(self, fabric: str) -> list[tuple[Step, StripWork]]:
        return [(step, work) for step, work in self._strip_steps if work.cut.fabric == fabric]

    @cached_property
    def _strip_steps(self) -> list[tuple[Step, StripWork]]:
        return [(step, step.work) for step in self._sheet.steps if isinstance(step.work, StripWork)]

    @cached_property
    def _done_across(self) -> dict[str, int]:
        """By step the strips of which all is cut, where pieces come out of the first strips that hold any."""
        across = CutAcross(self._share_of)
        return {step.name: across.count_done(work.cut) for step, work in self._strip_steps}

    @cached_property
    def _piles_done(self) -> dict[str, int]:
        """How many cuts are counted for each pile, also of such as are no longer in the sheet."""
        found: dict[str, int] = {}
        for name, many in self._tally.done.items():
            if name.startswith("cut "):
                pile = name.split(" ")[1]
                found[pile] = found.get(pile, 0) + many
        return found


def _read_noted(laid: Mapping[str, Any] | None) -> _Noted | None:
    """What the log has of a fabric; None where that cannot be read."""
    try:
        if laid is None:
            return None
        free, spare = (_read_counts(laid[part]) for part in ("free", "spare"))
        return _Noted(laid["layout"], read_spelled(laid["layout"]), Strips(free or {}, spare, True))
    except (KeyError, TypeError, ValueError, AttributeError, ZeroDivisionError, OverflowError):
        return None


def _read_counts(counts: Mapping[str, Any] | None) -> Counts | None:
    return None if counts is None else {str(name): int(many) for name, many in counts.items()}
