"""The bottom line: the keys that are needed most here."""

from __future__ import annotations

from collections.abc import Mapping

from textual.strip import Strip

from tui.bindings import fit_words, footer_words
from tui.lay_out_card import Span
from tui.widgets.rows import RowsWidget


class KeyLine(RowsWidget):
    """One row. `homes` are those of the commands to show, `keys` the maker's keys by command id."""

    DEFAULT_CSS = """
    KeyLine { height: 1; dock: bottom; background: $panel; color: $text; }
    """

    def __init__(self, homes: tuple[str, ...], keys: Mapping[str, str]) -> None:
        super().__init__()
        self._homes = homes
        self._keys = keys
        self._parts: tuple[str, ...] = ()

    def say(self, *parts: str) -> None:
        """Other words in place of the keys, as many as fit; none: the keys again."""
        if parts != self._parts:
            self._parts = parts
            self.refresh()

    def render_line(self, y: int) -> Strip:
        room = self.size.width - 2
        words = fit_words(self._parts, room) if self._parts else footer_words(self._homes, self._keys, room)
        return self.strip_of((Span(f" {words}"),), self.size.width)
