"""Rows of spans and picture cells -> strips on the screen, in the theme's colours and the fabrics' own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar, get_args

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tui.canvas import Cell
from tui.fabric_colours import FabricColour
from tui.lay_out_card import Role, Row, Span
from tui.widgets.cell_style import Page, style_of

ROW_CLASSES = {f"rows--{role}" for role in get_args(Role)}
_STYLES = {"title": "bold", "strong": "bold", "why": "italic", "banner": "bold reverse", "trouble": "bold reverse"}


def row_css(widget: str) -> str:
    """The styles of rows in a widget: by weight and slant, so that they hold without colour too."""
    return "".join(f"{widget} > .rows--{role} {{ text-style: {style}; }}\n" for role, style in _STYLES.items())


class ShowsRows(Widget):
    """What widgets share that show rows: words never go through markup. Each lists `ROW_CLASSES` for itself."""

    colours: Mapping[str, FabricColour] = {}
    _styled_for: Page | None = None
    _styles: dict[tuple[str | None, str, bool, bool], Style]  # of cells, for one theme

    def strip_of(self, row: Row, width: int, is_faint: bool = False) -> Strip:
        """One row, exactly `width` columns wide. `is_faint`: of its picture only the strong cloth is meant."""
        segments = []
        for part in row:
            if isinstance(part, Span):
                segments.append(Segment(part.text, self.get_component_rich_style(f"rows--{part.role}")))
            else:
                segments.append(Segment(part.text, self._style_cell(part, is_faint)))
        return Strip(segments).simplify().adjust_cell_length(width, self.rich_style)

    def _style_cell(self, cell: Cell, is_faint: bool) -> Style:
        page = Page(self.get_component_rich_style("rows--plain"), self.get_component_rich_style("rows--rest"))
        if page != self._styled_for:  # another theme
            self._styled_for, self._styles = page, {}
        key = (cell.fabric, cell.role, cell.strong, is_faint)
        if key not in self._styles:
            self._styles[key] = style_of(cell, self.colours, page, is_faint)
        return self._styles[key]


class RowsWidget(ShowsRows):
    """A widget of rows that does not scroll."""

    COMPONENT_CLASSES: ClassVar[set[str]] = ROW_CLASSES
    DEFAULT_CSS = row_css("RowsWidget")
