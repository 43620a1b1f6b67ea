"""Asks about units that measure wrong: how many, too small or too large, and what becomes of them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from planner.session import Remedy
from tui.bench import Bench
from tui.bindings import bindings_at
from tui.screens.ask import AskScreen


class Wrong(NamedTuple):
    many: int
    size: str
    remedy: Remedy


class MeasuredWrongScreen(AskScreen[Wrong]):
    """First how many and which way, then what to do with them."""

    BINDINGS = [*bindings_at("wrong"), *bindings_at("ask")]
    HOMES = ("wrong", "ask")

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        super().__init__(keys)
        self._bench = bench
        session = bench.session
        self._most = session.can_do(session.place) if session.place is not None else 0
        self._many = 1
        self._way = ""

    def on_mount(self) -> None:
        self._ask_size()

    def _ask_size(self) -> None:
        step = self._bench.session.step
        assert step is not None
        what = self._bench.speaker.say(step).what
        self.ask(
            (f"{what}", f"Wrong: {self._many} of the {self._most} that are not counted yet"),
            (
                ("wrong.more", "one more"),
                ("wrong.fewer", "one fewer"),
                ("wrong.small", "they are too small"),
                ("wrong.large", "they are too large"),
                ("ask.never_mind", "go back"),
            ),
        )

    def _ask_remedy(self) -> None:
        says = (
            "Too small: the allowance was too deep. Move the guide toward the needle, or the needle to the right."
            if self._way == "too small"
            else "Too large: the allowance was too narrow. Move the guide away from the needle."
        )
        self.ask(
            (
                f"{self._many} {self._way}.",
                says,
                "Pressed flat, and nothing folded into the seam? Then sew the test seam before you go on.",
            ),
            (
                ("wrong.again", "back to the machine: unpick and sew again"),
                ("wrong.spoiled", "spoiled: cut and sew anew"),
                ("ask.never_mind", "go back, nothing is changed"),
            ),
        )

    def action_more(self) -> None:
        if not self._way:
            self._many = min(self._many + 1, max(1, self._most))
            self._ask_size()

    def action_fewer(self) -> None:
        if not self._way:
            self._many = max(1, self._many - 1)
            self._ask_size()

    def _choose(self, size: str) -> None:
        if not self._way:
            self._way = size
            self._ask_remedy()

    def action_small(self) -> None:
        self._choose("too small")

    def action_large(self) -> None:
        self._choose("too large")

    def _finish(self, remedy: Remedy) -> None:
        if self._way:
            self.dismiss(Wrong(self._many, self._way, remedy))

    def action_again(self) -> None:
        self._finish("sew again")

    def action_spoiled(self) -> None:
        self._finish("spoiled")
