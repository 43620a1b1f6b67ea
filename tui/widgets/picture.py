"""A picture of cloth on the screen: the fabrics in their colours, lines and words in the theme's."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import ClassVar, NamedTuple

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from tui.canvas import Canvas, Cell
from tui.fabric_colours import FabricColour, write_on

_BOLD = Style(bold=True)
_FADING = 0.6  # how far cloth that is not meant goes toward the colour of the page


class Page(NamedTuple):
    """How the theme writes: `words` for labels and lines beside the cloth, `quiet` for what only guides the eye."""

    words: Style
    quiet: Style


def has_strong_cloth(canvas: Canvas) -> bool:
    """Whether one part of the cloth is meant, so that the rest is to be faint."""
    return any(cell.strong and cell.role == "cloth" for row in canvas for cell in row)


def style_of(cell: Cell, colours: Mapping[str, FabricColour], page: Page, is_faint: bool = False) -> Style:
    """The style of one cell. `is_faint` says that of this picture only the strong cloth is meant."""
    colour = colours.get(cell.fabric) if cell.fabric is not None else None
    if colour is None:
        style = page.quiet if cell.role == "pin" and not cell.strong else page.words
    elif is_faint and not cell.strong:
        cloth = _fade(colour.cloth, page.words.bgcolor)
        style = page.words + Style(color=write_on(cloth), bgcolor=cloth)
    else:
        style = page.words + Style(color=colour.text, bgcolor=colour.cloth)
    return style + _BOLD if cell.strong else style


def _fade(cloth: str, page: Color | None) -> str:
    if page is None or page.triplet is None:  # a terminal's own colours, which are not known
        return cloth
    parts = zip((int(cloth[at : at + 2], 16) for at in (1, 3, 5)), page.triplet, strict=True)
    return "#" + "".join(f"{round(part + _FADING * (toward - part)):02x}" for part, toward in parts)


def strip_of(
    row: Sequence[Cell], colours: Mapping[str, FabricColour], page: Page, is_faint: bool = False
) -> Strip:
    """One row of a canvas; cells of one style in a row are one segment."""
    segments = []
    for style, cells in groupby(row, key=lambda cell: style_of(cell, colours, page, is_faint)):
        segments.append(Segment("".join(cell.text for cell in cells), style))
    return Strip(segments, len(row))


class Picture(Widget):
    """As large as the canvas it is given; nothing where there is none."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {"picture--words", "picture--quiet"}
    DEFAULT_CSS = """
    Picture { width: auto; height: auto; }
    Picture > .picture--words { color: $foreground; }
    Picture > .picture--quiet { color: $text-muted; }
    """

    canvas: reactive[Canvas | None] = reactive(None, layout=True)

    def __init__(self, colours: Mapping[str, FabricColour]) -> None:
        super().__init__()
        self.colours = colours
        self._is_faint = False

    def watch_canvas(self, canvas: Canvas | None) -> None:
        self._is_faint = canvas is not None and has_strong_cloth(canvas)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        return len(self.canvas[0]) if self.canvas else 0

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self.canvas) if self.canvas else 0

    def render_line(self, y: int) -> Strip:
        if self.canvas is None or y >= len(self.canvas):
            return Strip.blank(self.size.width, self.rich_style)
        page = Page(self.get_component_rich_style("picture--words"), self.get_component_rich_style("picture--quiet"))
        strip = strip_of(self.canvas[y], self.colours, page, self._is_faint)
        return strip.adjust_cell_length(self.size.width, self.rich_style)
