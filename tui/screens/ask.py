"""A question over the bench: a few lines and one key for each answer. Nothing happens without one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar, Generic, TypeVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Static

from tui.bindings import bindings_at
from tui.commands import spell_keys

Answer = TypeVar("Answer")


class AskScreen(ModalScreen[Answer | None], Generic[Answer]):
    """`question` and `answers` (command id, words) are shown; subclasses turn keys into an answer."""

    CSS_PATH = "ask.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings_at("ask")
    HOMES: ClassVar[tuple[str, ...]] = ("ask",)

    def __init__(self, keys: Mapping[str, str]) -> None:
        super().__init__()
        self._keys = keys
        self.text = Static("", markup=False)

    def compose(self) -> ComposeResult:
        with VerticalScroll():
            yield self.text

    def ask(self, question: Sequence[str], answers: Sequence[tuple[str, str]]) -> None:
        """Show a question with its answers."""
        lines = [*question, ""]
        for command, words in answers:
            lines.append(f"  {spell_keys(self._keys[command]):<12} {words}")
        self.text.update("\n".join(lines))

    def action_never_mind(self) -> None:
        self.dismiss(None)
