"""Many lines of words to scroll through; only those on screen are ever styled."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import ClassVar

from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tui.fabric_colours import FabricColour
from tui.lay_out_card import Row, Span, wrap_words
from tui.widgets.rows import ROW_CLASSES, ShowsRows, row_css


class Lines(ScrollView, ShowsRows, can_focus=True, inherit_bindings=False):
    """Shows lines, wrapped to its width, or rows as they are. Line `start` is scrolled into view at first."""

    COMPONENT_CLASSES: ClassVar[set[str]] = ROW_CLASSES
    DEFAULT_CSS = f"""
    Lines {{ height: 1fr; scrollbar-size-vertical: 1; scrollbar-gutter: stable; overflow-x: auto; }}
    {row_css("Lines")}
    """

    def __init__(
        self,
        lines: Sequence[Span | Row],
        colours: Mapping[str, FabricColour] | None = None,
        start: int = 0,
        indent: int = 2,
    ) -> None:
        super().__init__()
        self._lines = lines
        self._start = start
        self._indent = indent
        self._rows: list[Row] = []
        self.colours = colours or {}

    def show(self, lines: Sequence[Span | Row]) -> None:
        """Other lines in place of these."""
        self._lines = lines
        self._start = 0
        self._wrap()
        self.scroll_to(0, 0, animate=False)
        self.refresh()

    def on_resize(self) -> None:
        self._wrap()

    def _wrap(self) -> None:
        width = self.scrollable_content_region.width
        rows: list[Row] = []
        start_row = 0
        for number, line in enumerate(self._lines):
            if number == self._start:
                start_row = len(rows)
            if isinstance(line, Span):
                rows += [(Span(text, line.role),) for text in wrap_words(line.text, max(10, width), self._indent)]
            else:
                rows.append(line)
        self._rows = rows
        # Words are wrapped; only pictures may be wider than the screen
        widest = max((sum(len(part.text) for part in row) for row in rows), default=0)
        self.virtual_size = Size(max(widest, width), len(rows))
        if start_row:
            self.call_after_refresh(self.scroll_to, 0, max(0, start_row - 3), animate=False)

    def render_line(self, y: int) -> Strip:
        left, top = self.scroll_offset
        place = y + top
        row = self._rows[place] if place < len(self._rows) else ()
        width = self.scrollable_content_region.width
        whole = self.strip_of(row, max(self.virtual_size.width, width))
        return whole.crop(left, left + width)
