"""Events of the log -> what has been counted so far, without a sheet: names and numbers alone.

Pure: the same events always give the same tally. What a sheet makes of it is `planner.session`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from planner.event import Event

KEYED = ("done", "spoiled", "wrong")  # what a key did, and `take_back` undoes
Counts = Mapping[str, int]


class Change(NamedTuple):
    """What a keyed event changes, by step name.

    `done`: counted. `more`: needed beyond the plan (pieces for a cut, else units). `lost`: counted there, but gone
    before the next stage. `returned`: pairs unpicked, whose two sides are on their piles again.
    """

    done: Counts
    more: Counts
    lost: Counts
    returned: Counts


_NOTHING: Counts = {}
_History = tuple[Event, "_History"] | None


@dataclass(frozen=True)
class Tally:
    """What is counted. `cursor` names the step of the last key, `last_at` its time in ms since 1970 (0: never)."""

    done: Counts = field(default_factory=dict)
    more: Counts = field(default_factory=dict)
    lost: Counts = field(default_factory=dict)
    returned: Counts = field(default_factory=dict)
    sides: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # by sewing step: the piles it takes from
    cursor: str = ""
    letters: Mapping[str, str] = field(default_factory=dict)  # by pile, as they were given
    words: Mapping[str, str] = field(default_factory=dict)  # what those piles are, in the words of that day
    told: frozenset[str] = frozenset()  # what the maker has been told once
    last_at: int = 0
    _history: _History = None

    def after(self, event: Event) -> Tally:
        """The tally after one more event. Unknown kinds change nothing."""
        if event.kind in KEYED:
            changed = self._apply(read_change(event), 1)
            if event.body and event.step not in self.sides:
                sides = _read_sides(event)
                if sides:
                    changed = replace(changed, sides={**self.sides, event.step: sides})
            return replace(changed, cursor=event.step, last_at=event.at, _history=(event, self._history))
        if event.kind == "back" and self._history is not None:
            last, before = self._history
            changed = self._apply(read_change(last), -1)
            return replace(changed, cursor=last.step, last_at=event.at, _history=before)
        if event.kind == "letters":
            given = _read_letters(event)
            letters = {pile: letter for pile, (letter, _) in given.items()}
            words = {pile: said for pile, (_, said) in given.items()}
            return replace(self, letters={**self.letters, **letters}, words={**self.words, **words})
        if event.kind == "told":
            return replace(self, told=self.told | {event.body})
        return self

    def _apply(self, change: Change, sign: int) -> Tally:
        def add(counts: Counts, more: Counts) -> Counts:
            if not more:
                return counts
            changed = dict(counts)
            for name, many in more.items():
                changed[name] = changed.get(name, 0) + sign * many
            return changed

        return replace(
            self,
            done=add(self.done, change.done),
            more=add(self.more, change.more),
            lost=add(self.lost, change.lost),
            returned=add(self.returned, change.returned),
        )

    @property
    def last_key(self) -> Event | None:
        """What taking back would undo."""
        return self._history[0] if self._history else None


def count_up(events: Iterable[Event]) -> Tally:
    """The tally of a whole log."""
    tally = Tally()
    for event in events:
        tally = tally.after(event)
    return tally


def read_change(event: Event) -> Change:
    """What a keyed event changes. A body that cannot be read counts for nothing but the count itself."""
    if event.kind == "done":
        return Change({event.step: event.count}, _NOTHING, _NOTHING, _NOTHING)
    try:
        body = json.loads(event.body)
        parts = [
            {str(name): int(many) for name, many in body.get(part, {}).items()}
            for part in ("done", "more", "lost", "returned")
        ]
    except (ValueError, AttributeError, TypeError, OverflowError, RecursionError):
        parts = [{}, {}, {}, {}]
    return Change(*parts)


def _read_sides(event: Event) -> tuple[str, ...]:
    """The piles that a sewing step takes from, where the event says so."""
    try:
        return tuple(str(pile) for pile in json.loads(event.body).get("from", ()))
    except (ValueError, AttributeError, TypeError):
        return ()


def _read_letters(event: Event) -> dict[str, tuple[str, str]]:
    try:
        body = json.loads(event.body)
        return {str(pile): (str(letter), str(words)) for pile, (letter, words) in body.items()}
    except (ValueError, AttributeError, TypeError, OverflowError, RecursionError):
        return {}


def find_made(tally: Tally) -> dict[tuple[str, str], int]:
    """What the log says is sewn and pressed and still there: (unit name, press marks) -> how many.

    Read off the names of the steps alone, so that it holds for a log of an earlier state of the project.
    """
    made: dict[tuple[str, str], int] = {}
    ruined: dict[str, int] = {}  # by chain, at any later stage
    for name, many in tally.lost.items():
        stage, _, rest = name.partition(" ")
        if stage in ("press", "trim", "measure"):
            chain, _, pile = rest.partition(" ")
            ruined[chain] = ruined.get(chain, 0) + many
            ruined[f"{chain} {pile}"] = ruined.get(f"{chain} {pile}", 0) + many
        elif stage == "sew":
            ruined[rest] = ruined.get(rest, 0) + many
    for name, many in tally.done.items():
        stage, _, rest = name.partition(" ")
        if stage == "sew":
            unit, _, marks = rest.partition(":")
            many -= ruined.get(rest, 0)
        elif stage == "press":
            unit, _, marks = rest.partition(" ")[2].partition(":")
            many -= ruined.get(rest, 0)
        else:
            continue
        if many > 0:
            made[(unit, marks)] = made.get((unit, marks), 0) + many
    return made
