"""Events of the log -> what has been counted so far, without a sheet: names and numbers alone.

Pure: the same events always give the same tally. What a sheet makes of it is `planner.session`.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

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
    laid: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)  # by fabric how its strips lay at the last cut
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
            if '"laid"' in event.body:
                changed = replace(changed, laid={**self.laid, **_read_laid(event)})
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


class Made(NamedTuple):
    """What is sewn and pressed, by (unit name, press marks): `begun` all that ever was, `there` how many still are."""

    begun: frozenset[tuple[str, str]]
    there: Mapping[tuple[str, str], int]


NOTHING_MADE = Made(frozenset(), {})


def count_up(events: Iterable[Event]) -> Tally:
    """The tally of a whole log."""
    tally = Tally()
    for event in events:
        tally = tally.after(event)
    return tally


def read_change(event: Event) -> Change:
    """What a keyed event changes. A body that cannot be read counts for nothing but the count itself."""
    if event.kind == "done":
        more = _read_parts(event)[1] if '"more"' in event.body else _NOTHING
        return Change({event.step: event.count}, more, _NOTHING, _NOTHING)
    return Change(*_read_parts(event))


def _read_parts(event: Event) -> list[Counts]:
    """Done, more, lost and returned as the body has them."""
    try:
        body = json.loads(event.body)
        return [
            {str(name): int(many) for name, many in body.get(part, {}).items()}
            for part in ("done", "more", "lost", "returned")
        ]
    except (ValueError, AttributeError, TypeError, OverflowError, RecursionError):
        return [{}, {}, {}, {}]


def _read_sides(event: Event) -> tuple[str, ...]:
    """The piles that a sewing step takes from, where the event says so."""
    try:
        return tuple(str(pile) for pile in json.loads(event.body).get("from", ()))
    except (ValueError, AttributeError, TypeError, RecursionError):
        return ()


def _read_laid(event: Event) -> dict[str, Mapping[str, Any]]:
    """How the strips of a fabric lay when something was cut of it."""
    try:
        body = json.loads(event.body)["laid"]
        return {str(fabric): dict(laid) for fabric, laid in body.items()}
    except (ValueError, AttributeError, TypeError, KeyError, RecursionError):
        return {}


def _read_letters(event: Event) -> dict[str, tuple[str, str]]:
    try:
        body = json.loads(event.body)
        return {str(pile): (str(letter), str(words)) for pile, (letter, words) in body.items()}
    except (ValueError, AttributeError, TypeError, OverflowError, RecursionError):
        return {}


def find_made(tally: Tally) -> Made:
    """What the log says is sewn and pressed, on its own or inside something larger.

    Read off the names of the steps alone, so that it holds for a log of an earlier state of the project.
    """
    gone = _Gone(tally)
    begun = set()
    there: dict[tuple[str, str], int] = {}
    for name, many in tally.done.items():
        stage, _, rest = name.partition(" ")
        chain, _, pile = rest.partition(" ")
        if many <= 0 or stage not in ("sew", "press"):
            continue
        unit, _, marks = chain.partition("/")[0].partition(":")
        if stage == "sew":
            left = many - gone.of_chain(chain)
        else:
            # The pile's marks say which way each seam is pressed, in the order of the unit's seams
            marks = pile.partition(":")[2]
            left = many - gone.of_outcome(chain, pile)
        begun.add((unit, marks))
        there[(unit, marks)] = there.get((unit, marks), 0) + max(0, left)
    return Made(frozenset(begun), there)


class _Gone:
    """Units that are no more: ruined or unpicked by themselves, or ruined inside something larger."""

    def __init__(self, tally: Tally) -> None:
        self._lost: dict[str, dict[str, int]] = {}  # by chain, then by pile ("" before it was pressed)
        self._squared: dict[str, int] = {}
        self._outcomes: dict[str, list[str]] = {}
        self._users: dict[str, list[str]] = {}
        self._inside: dict[str, int] = {}
        self._returned = tally.returned
        for name, many in tally.lost.items():
            stage, _, rest = name.partition(" ")
            chain, _, pile = rest.partition(" ")
            if stage in ("sew", "press", "trim", "measure"):
                of_chain = self._lost.setdefault(chain, {})
                of_chain[pile] = of_chain.get(pile, 0) + many
            elif stage == "square":
                squared = rest.split(" ")[1]
                self._squared[squared] = self._squared.get(squared, 0) + many
        for name in tally.done:
            if name.startswith("press "):
                _, chain, pile = name.split(" ")
                self._outcomes.setdefault(chain, []).append(pile)
        for name, sides in tally.sides.items():
            for pile in sides:
                self._users.setdefault(pile, []).append(name.partition(" ")[2])

    def of_chain(self, chain: str) -> int:
        """How many pairs of a chain are no more."""
        inside = sum(self._inside_of(pile) for pile in self._outcomes.get(chain, ()))
        return sum(self._lost.get(chain, {}).values()) + inside

    def of_outcome(self, chain: str, pile: str) -> int:
        """How many pressed units of a chain are no more."""
        return self._lost.get(chain, {}).get(pile, 0) + self._inside_of(pile)

    def _inside_of(self, pile: str) -> int:
        """How many of a pile were ruined inside something larger. What was unpicked gave its two sides back."""
        if pile not in self._inside:
            self._inside[pile] = self._squared.get(pile, 0) + sum(
                self.of_chain(chain) - self._returned.get(f"sew {chain}", 0) for chain in self._users.get(pile, ())
            )
        return self._inside[pile]
