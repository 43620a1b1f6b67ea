"""The bench without a screen: what a key does to the session, saved before it shows.

No textual here, so that it can be tried without a terminal. Clocks are passed in.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.name_rectangle import spell_size
from planner.cloth.spare_cloth import say_ruined
from planner.event import Event
from planner.plan import Plan
from planner.say_step import Speaker
from planner.session import (
    Remedy,
    Session,
    can_spoil,
    count_one,
    finish_step,
    fold,
    give_letters,
    measure_wrong,
    spoil,
    take_back,
)
from planner.sheet import CutWork, Sheet, StripWork, assign_letters, write_sheet
from planner.turn_prints import NO_WAY
from tui.progress import Lost, Progress, ProgressTrouble

LOOK_ON = "Another bench has this project: this one only looks on"
TAKEN_OVER = "The other bench has left: this one counts from here on."
OTHER_SHEET = "The other bench has another sheet than this one: when it has left, leave and open the project again"


class Told(NamedTuple):
    """What a key did, in words for the maker; `is_trouble` where it did nothing."""

    words: str
    is_trouble: bool = False


class Bench:
    """One project at the machine: its sheet, its session, and the file that keeps it.

    `now` gives the time in milliseconds since 1970. `notices` are told once, when the bench opens.
    """

    def __init__(self, plan: Plan, progress: Progress, now: Callable[[], int]) -> None:
        self.progress = progress
        self.now = now
        self.sheet: Sheet = write_sheet(plan)
        self.session: Session = fold(progress.events, self.sheet)
        self._give_letters_of_log()
        self.notices: tuple[str, ...] = (*progress.said, *self._tell_changes())
        self.has_come_back = self.session.tally.last_at > 0
        self._found = len(progress.events)

    @property
    def can_write(self) -> bool:
        return self.progress.can_write

    def _tell_changes(self) -> list[str]:
        """Give letters to new piles, and say once what is cut or sewn and needed no more."""
        tally = self.session.tally
        new = {
            pile: (letter, self.speaker.name_pile(pile))
            for pile, letter in self.speaker.letters.items()
            if pile not in tally.letters
        }
        events = [give_letters(new, self.now())] if new else []
        said = []
        for name, many in (*self.session.stock.surplus.items(), *self.session.spare_strips.items()):
            key = f"{name} {many}"
            if key not in tally.told:
                events.append(Event("told", "", many, key, self.now()))
                said.append(f"The project has changed: {self._name_surplus(name, many)}, more than it needs now")
        if events and self.can_write:
            self._save(events)
        return said

    def name_surplus(self) -> list[str]:
        """What lies there and is needed no more, a line each."""
        found = (*self.session.stock.surplus.items(), *self.session.spare_strips.items())
        return [self._name_surplus(name, many) for name, many in found]

    def _name_surplus(self, name: str, many: int) -> str:
        """What a step of an earlier sheet made, by the letters and words given then."""
        tally = self.session.tally
        stage, _, rest = name.partition(" ")
        if stage == "strip":
            wide, fabric = rest.partition("@")[0].split(" ", 1)
            size = f"{spell_size(self.sheet.plan.ruler, Fraction(wide))}{self.sheet.plan.ruler.ending}"
            return f"{many} {'strip' if many == 1 else 'strips'} of {fabric} {size} wide cut"
        if stage == "square":
            unit, done = rest.split(" ")[1].partition(":")[0], "squared up"
        else:
            unit, done = rest.partition(":" if stage == "sew" else " ")[0], "cut" if stage == "cut" else "sewn"
        for pile, letter in tally.letters.items():
            if pile.partition(":")[0] == unit:
                use = self._name_smaller(name)
                return f"{many} of {letter} {done} ({tally.words.get(pile, 'no longer in it')}{use})"
        return f"{many} {done} that are no longer in it"

    def _name_smaller(self, name: str) -> str:
        """For which piles squares or rectangles that are needed no more can be cut down; nothing for others."""
        number = self.sheet.number_of.get(name)
        work = None if number is None else self.sheet.steps[number].work
        if not isinstance(work, CutWork) or not _is_plain(work):
            return ""
        sides = work.entry.piece.cut
        letters = [
            self.speaker.letter(step.work.pile)
            for step in self.sheet.steps
            if isinstance(step.work, CutWork)
            and step.work.pile != work.pile
            and self.session.left_of(step)
            and step.work.entry.fabric == work.entry.fabric
            and _is_plain(step.work)
            and all(small <= large for small, large in zip(step.work.entry.piece.cut, sides, strict=True))
        ]
        return f"; to cut down for {', '.join(letters)}" if letters else ""

    def _save(self, events: list[Event]) -> tuple[str, ...]:
        said = self.progress.append(*events)
        for event in events:
            self.session = self.session.after(event)
        return said

    def _do(self, event: Event | None, words: str, nothing: str) -> Told:
        if not self.can_write:
            return self._take_over()
        if event is None:
            return Told(nothing, is_trouble=True)
        try:
            said = self._save([event])
        except ProgressTrouble as trouble:
            return Told(trouble.words, is_trouble=True)
        return Told(" ".join(filter(None, (*said, words))))

    def _take_over(self) -> Told:
        """Go on where another bench has left; the key itself does not count, for the place may be another one now."""
        try:
            self.look_again()
            if self._is_of_another_sheet():
                return Told(OTHER_SHEET, is_trouble=True)
            said = self.progress.take_over()
            if said is None:
                return Told(LOOK_ON, is_trouble=True)
            self._start_over()
            return Told(" ".join((TAKEN_OVER, *said, *self._tell_changes())))
        except ProgressTrouble as trouble:
            return Told(trouble.words, is_trouble=True)

    def _is_of_another_sheet(self) -> bool:
        """Whether the other bench counted steps that are not in this sheet: it was opened on another plan."""
        added = self.progress.events[self._found :]
        return any(event.step and event.step not in self.sheet.number_of for event in added)

    def make_sure(self) -> Told:
        """Look whether all that is counted is saved, and save it where it is not; trouble where it can't be."""
        try:
            return Told(" ".join(self.progress.make_sure()))
        except ProgressTrouble as trouble:
            return Told(trouble.words, is_trouble=True)

    def count_one(self) -> Told:
        return self._do(count_one(self.session, self.now()), "", "All is done")

    def finish_step(self) -> Told:
        return self._do(finish_step(self.session, self.now()), "", "All is done")

    def take_back(self) -> Told:
        last = self.session.tally.last_key
        event = take_back(self.session, self.now())
        words = "" if last is None else f"Taken back: {_name_key(last)}"
        return self._do(event, words, "Nothing to take back")

    def spoil(self, counted: bool) -> Told:
        event = spoil(self.session, self.now(), counted)
        step = self.session.step
        words = "its patches are to cut again, then it is sewn again"
        if step is not None and isinstance(step.work, StripWork):
            cut = step.work.cut
            ruined = self.session.ruined_of(cut) + cut.wide
            words = f"one more is to cut. {say_ruined(cut, ruined, self.speaker.ruler)}"
        elif step is not None and isinstance(step.work, CutWork):
            words = self.speaker.say_spoiled_cut(step.work)
        return self._do(event, f"One spoiled: {words}", self.why_not_spoil)

    def measure_wrong(self, many: int, size: str, remedy: Remedy) -> Told:
        event = measure_wrong(self.session, self.now(), many, size, remedy)
        again = (
            "unpick them; their two sides are on their piles again" if remedy == "sew again" else "cut and sew again"
        )
        return self._do(event, f"{many} {size}: {again}", self.why_not_measure_wrong)

    @property
    def why_not_spoil(self) -> str:
        """Empty where something can be spoiled at the step at hand."""
        step = self.session.step
        return "" if step is not None and can_spoil(step) else "Nothing can be spoiled at this step"

    @property
    def why_not_measure_wrong(self) -> str:
        """Empty where the step at hand is one that measures."""
        step = self.session.step
        if step is not None and step.stage == "machine":
            return "Is the test seam wrong? Move the guide and sew it again; count it when it measures right"
        if step is None or step.stage not in ("measure", "square up"):
            return "This key is for a step that measures units"
        return ""

    def look_again(self) -> bool:
        """Read what another bench has added; True where there was something."""
        try:
            added = self.progress.reread()
        except Lost:
            self.progress.look_anew()
            self._start_over()
            return True
        for event in added:
            self.session = self.session.after(event)
        if any(event.kind == "letters" for event in added):
            self._give_letters_of_log()
        return bool(added)

    def _start_over(self) -> None:
        """The session of the log as it is now."""
        self.session = fold(self.progress.events, self.sheet)
        self._give_letters_of_log()

    def _give_letters_of_log(self) -> None:
        self.speaker = Speaker(self.sheet, assign_letters(self.sheet, self.session.tally.letters))


def _name_key(event: Event) -> str:
    stage = event.step.partition(" ")[0] if not event.step.startswith(("lay out", "square up")) else event.step[:8]
    stage = "cut" if stage == "strip" else stage
    if event.kind == "done":
        return f"{event.count} counted at {stage.strip()}"
    return f"{event.count} {'spoiled' if event.kind == 'spoiled' else 'measured wrong'}"


def _is_plain(work: CutWork) -> bool:
    """Whether squares or rectangles are cut that may lie as they like."""
    return work.instead is None and work.entry.piece.shape in ("square", "rectangle") and work.entry.up == NO_WAY


def fabric_at_hand(bench: Bench) -> str:
    """The fabric that is cut at the step at hand; nothing where nothing is cut."""
    step = bench.session.step
    if step is not None and isinstance(step.work, StripWork):
        return step.work.cut.fabric
    return step.work.entry.fabric if step is not None and isinstance(step.work, CutWork) else ""
