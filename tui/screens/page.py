"""A page of lines over the bench: scroll, close, go to another page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen

from tui.bindings import bindings_at
from tui.fabric_colours import FabricColour
from tui.lay_out_card import Row, Span
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines
from tui.widgets.rows import RowsWidget


class Heading(RowsWidget):
    """One row of title, docked to the top."""

    DEFAULT_CSS = """
    Heading { height: 1; dock: top; }
    """

    def __init__(self, words: str) -> None:
        super().__init__()
        self._words = words

    def say(self, words: str) -> None:
        self._words = words
        self.refresh()

    def render_line(self, y: int):  # type: ignore[no-untyped-def]
        return self.strip_of((Span(f" {self._words}", "title"),), self.size.width)


class PageScreen(Screen[None]):
    """Shows lines; keys scroll. `start` is the line to begin at."""

    HOMES: ClassVar[tuple[str, ...]] = ("page", "app")
    IS_PAGE = True
    BINDINGS: ClassVar[list[BindingType]] = bindings_at("page")
    CSS_PATH = "page.tcss"

    def __init__(
        self,
        title: str,
        lines: Sequence[Span | Row],
        keys: Mapping[str, str],
        colours: Mapping[str, FabricColour] | None = None,
        start: int = 0,
        indent: int = 2,
    ) -> None:
        super().__init__()
        self._keys = keys
        self.heading = Heading(title)
        self.lines = Lines(lines, colours, start, indent)

    def compose(self) -> ComposeResult:
        yield self.heading
        yield self.lines
        yield KeyLine(self.HOMES, self._keys)

    def on_mount(self) -> None:
        self.lines.focus()

    def action_close(self) -> None:
        self.dismiss()

    def action_scroll_up(self) -> None:
        self.lines.scroll_up(animate=False)

    def action_scroll_down(self) -> None:
        self.lines.scroll_down(animate=False)

    def action_page_up(self) -> None:
        self.lines.scroll_page_up(animate=False)

    def action_page_down(self) -> None:
        self.lines.scroll_page_down(animate=False)

    def action_go_left(self) -> None:
        self.lines.scroll_left(animate=False)

    def action_go_right(self) -> None:
        self.lines.scroll_right(animate=False)
