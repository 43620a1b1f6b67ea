"""Many lines of words to scroll through; only those on screen are ever styled."""

from __future__ import annotations

from bisect import bisect_right
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
        self._firsts: list[int] = []  # of each line, its first row
        self._on_its_way: int | None = None  # the row to stand at the top after the next layout
        self.colours = colours or {}

    def show(self, lines: Sequence[Span | Row]) -> None:
        """Other lines in place of these."""
        self._lines = lines
        self._wrap()
        self._on_its_way = None
        self.scroll_to(0, 0, animate=False)
        self.refresh()

    def on_resize(self) -> None:
        """Wrap anew, and stay at the line that stood at the top."""
        if not self._firsts:
            self._wrap()
            self._scroll_to_row(self._first_of(self._start) - 3)
            return
        top = self.scroll_offset.y if self._on_its_way is None else self._on_its_way
        line = bisect_right(self._firsts, top) - 1
        rows_into = top - self._firsts[line]
        self._wrap()
        self._scroll_to_row(min(self._firsts[line] + rows_into, self._first_of(line + 1) - 1))

    def _first_of(self, line: int) -> int:
        return self._firsts[line] if line < len(self._firsts) else len(self._rows)

    def _scroll_to_row(self, row: int) -> None:
        self._on_its_way = max(0, row)
        self.call_after_refresh(self._arrive)

    def _arrive(self) -> None:
        """Once the new size is known, there is room to scroll."""
        if self._on_its_way is not None:
            self.scroll_to(None, self._on_its_way, animate=False)
            self._on_its_way = None

    def _wrap(self) -> None:
        width = self.scrollable_content_region.width
        rows: list[Row] = []
        self._firsts = []
        for line in self._lines:
            self._firsts.append(len(rows))
            if isinstance(line, Span):
                rows += [(Span(text, line.role),) for text in wrap_words(line.text, max(10, width), self._indent)]
            else:
                rows.append(line)
        self._rows = rows
        # Words are wrapped; only pictures may be wider than the screen
        widest = max((sum(len(part.text) for part in row) for row in rows), default=0)
        self.virtual_size = Size(max(widest, width), len(rows))

    def render_line(self, y: int) -> Strip:
        left, top = self.scroll_offset
        place = y + top
        row = self._rows[place] if place < len(self._rows) else ()
        width = self.scrollable_content_region.width
        whole = self.strip_of(row, max(self.virtual_size.width, width))
        return whole.crop(left, left + width)
