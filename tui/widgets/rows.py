"""Rows of spans and picture cells -> strips on the screen, in the theme's colours and the fabrics' own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.strip import Strip
from textual.widget import Widget

from tui.draw import Cell
from tui.fabric_colours import FabricColour
from tui.lay_out_card import Row, Span


class RowsWidget(Widget):
    """A widget that shows rows. Subclasses say which; words never go through markup."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "rows--plain",
        "rows--title",
        "rows--strong",
        "rows--bar",
        "rows--rest",
        "rows--why",
        "rows--banner",
        "rows--trouble",
        "rows--quiet",
    }
    DEFAULT_CSS = """
    RowsWidget {
        & > .rows--title { text-style: bold; }
        & > .rows--strong { text-style: bold; }
        & > .rows--bar { color: $text; }
        & > .rows--rest { color: $text; }
        & > .rows--why { text-style: italic; }
        & > .rows--banner { text-style: bold reverse; }
        & > .rows--trouble { text-style: bold reverse; }
    }
    """

    colours: Mapping[str, FabricColour] = {}

    def strip_of(self, row: Row, width: int) -> Strip:
        """One row, exactly `width` columns wide."""
        segments = []
        for part in row:
            if isinstance(part, Span):
                segments.append(Segment(part.text, self.get_component_rich_style(f"rows--{part.role}")))
            else:
                segments.append(Segment(part.text, self._cell_style(part)))
        return Strip(segments).simplify().adjust_cell_length(width, self.rich_style)

    def _cell_style(self, cell: Cell) -> Style:
        base = self.get_component_rich_style("rows--plain")
        colour = self.colours.get(cell.fabric) if cell.fabric is not None else None
        bold = cell.strong or cell.role in ("sew", "ridge", "pin", "mark", "label")
        if colour is None:
            return base + Style(bold=bold)
        return base + Style(color=colour.text, bgcolor=colour.cloth, bold=bold)
