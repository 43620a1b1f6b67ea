"""How a picture's cells look on the screen: the fabrics in their colours, lines and words in the theme's."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from rich.color import Color
from rich.style import Style

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
        style = page.quiet if cell.role in ("pin", "name") and not cell.strong else page.words
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
