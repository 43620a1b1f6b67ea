"""Asks, when something is ruined, whether it is on the tally already."""

from __future__ import annotations

from collections.abc import Mapping

from planner.session import count_there
from planner.sheet import CutWork, StripWork
from tui.bench import Bench
from tui.bindings import bindings_at
from tui.screens.ask import AskScreen


class SpoiledScreen(AskScreen[bool]):
    """Answers True for one that is counted already, False for the one in hand."""

    BINDINGS = [*bindings_at("spoiled"), *bindings_at("ask")]
    HOMES = ("spoiled", "ask")

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        super().__init__(keys)
        self._bench = bench
        step = bench.session.step
        place = bench.session.place
        self._done = count_there(bench.session, place) if step is not None and place is not None else 0

    def on_mount(self) -> None:
        step = self._bench.session.step
        assert step is not None
        words = self._bench.speaker.say(step)
        answers = [("spoiled.in_hand", "the one in my hands, not counted yet")]
        if self._done:
            answers.append(("spoiled.counted", f"one of the {self._done} that are counted"))
        answers.append(("ask.never_mind", "none: go back"))
        again = "All its patches are cut again, all its seams sewn again; both are on the tally."
        if isinstance(step.work, StripWork):
            again = "One more is cut in its place; it is on the tally."
        elif isinstance(step.work, CutWork):
            said = self._bench.speaker.say_spoiled_cut(step.work)
            again = f"{said[:1].upper()}{said[1:]}; it is on the tally."
        self.ask(
            (
                f"Spoiled at {words.verb.lower()} {words.what}.",
                again,
                "What can be done now comes first. Which one is ruined?",
            ),
            answers,
        )

    def action_in_hand(self) -> None:
        self.dismiss(False)

    def action_counted(self) -> None:
        if self._done:
            self.dismiss(True)
