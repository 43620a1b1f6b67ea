"""A picture in cells -> lines of a terminal: in the colours of the fabrics where it has them all, else plain."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping
from itertools import groupby

from tui.canvas import Canvas, Cell
from tui.fabric_colours import FabricColour


def print_canvas(canvas: Canvas, colours: Mapping[str, FabricColour]) -> Iterator[str]:
    """The lines of a picture for standard output as it is now."""
    has_colour = _has_colour()
    for row in canvas:
        yield _colour_row(row, colours) if has_colour else _plain(row)


def _plain(row: tuple[Cell, ...]) -> str:
    return "".join(cell.text for cell in row).rstrip()


def _has_colour() -> bool:
    """Whether the terminal says that it has all colours, and nobody says that none are wanted."""
    wide = os.environ.get("COLORTERM", "") in ("truecolor", "24bit")
    return wide and sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _colour_row(row: tuple[Cell, ...], colours: Mapping[str, FabricColour]) -> str:
    words = []
    for fabric, cells in groupby(row, key=lambda cell: cell.fabric):
        text = "".join(cell.text for cell in cells)
        colour = colours.get(fabric) if fabric is not None else None
        if colour is not None:
            text = f"\x1b[38;2;{_spell(colour.text)};48;2;{_spell(colour.cloth)}m{text}\x1b[0m"
        words.append(text)
    return "".join(words)


def _spell(colour: str) -> str:
    return ";".join(str(int(colour[at : at + 2], 16)) for at in (1, 3, 5))
