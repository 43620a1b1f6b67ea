"""The card of the step at hand: shows the view it is given."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip

from tui.draw import Canvas
from tui.fabric_colours import FabricColour
from tui.lay_out_card import CardView, Row, lay_out_card
from tui.lay_out_large import lay_out_large
from tui.widgets.rows import RowsWidget

Draw = Callable[[int, int], Canvas | None]


class Card(RowsWidget):
    """`view` says what to show; its picture is drawn once for a size."""

    view: reactive[CardView | None] = reactive(None)
    large: reactive[bool] = reactive(False)

    def __init__(self, draw: Draw, colours: Mapping[str, FabricColour]) -> None:
        super().__init__()
        self.colours = colours
        self._draw = draw
        self._rows: tuple[Row, ...] = ()
        self._laid_out: tuple[CardView | None, Size, bool] | None = None
        self._drawn_of: object = None
        self._drawn: dict[tuple[int, int], Canvas | None] = {}  # by the room for it

    def render_line(self, y: int) -> Strip:
        rows = self._lay_out()
        return self.strip_of(rows[y] if y < len(rows) else (), self.size.width)

    def _lay_out(self) -> tuple[Row, ...]:
        state = (self.view, self.size, self.large)
        if state != self._laid_out:
            self._laid_out = state
            if self.view is None:
                self._rows = ()
            elif self.large:
                self._rows = lay_out_large(self.view, self.size.width, self.size.height)
            else:
                self._rows = lay_out_card(self.view, self.size.width, self.size.height, self._draw_once)
        return self._rows

    def _draw_once(self, width: int, height: int) -> Canvas | None:
        """The picture, drawn anew only where it is of something else, or of another size."""
        assert self.view is not None
        if self._drawn_of != self.view.picture:
            self._drawn_of, self._drawn = self.view.picture, {}
        if (width, height) not in self._drawn:
            self._drawn[(width, height)] = self._draw(width, height)
        return self._drawn[(width, height)]
