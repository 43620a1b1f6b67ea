"""A page of templates: how large it is, and what lies where on it.

Billionths of an inch from its upper left corner, x right, y down.
"""

from __future__ import annotations

from math import floor
from typing import NamedTuple

from planner.cloth.label_template import Label, say_lie
from planner.cloth.pdf_text import wrap_words
from planner.cloth.templates import Template
from planner.measure import INCHES_PER_CM
from planner.pictures.svg_elements import ONE, Spot, share

MARGIN = ONE // 2
HEAD = share(ONE, 120)  # with the squares, and the gap below them
TYPE = ONE * 8 // 72  # of captions
LEADING = share(TYPE, 125)
MOST_LINES = 4  # of a caption


class Paper(NamedTuple):
    """A size of paper, upright."""

    title: str
    width: int
    height: int

    @property
    def body(self) -> tuple[int, int]:
        """How wide and how high what is below the head of a page can be."""
        return self.width - 2 * MARGIN, self.height - 2 * MARGIN - HEAD


def _measure_mm(millimetres: int) -> int:
    return floor(millimetres * INCHES_PER_CM / 10 * ONE)


PAPERS: dict[str, Paper] = {
    "letter": Paper("Letter", 17 * ONE // 2, 11 * ONE),
    "a4": Paper("A4", _measure_mm(210), _measure_mm(297)),
}


class Window(NamedTuple):
    left: int
    top: int
    right: int
    bottom: int


class Mark(NamedTuple):
    """A mark on the line between two parts, which both of them show."""

    letter: str
    spot: Spot


class Placed(NamedTuple):
    """A template, or a part of one, on its page. Outlines are whole; where it is a part, only what lies in its `window`
    is drawn, and `joints` are the lines at which it meets other parts."""

    template: Template
    cut: tuple[Spot, ...]
    seam: tuple[Spot, ...]
    label: Label
    caption: tuple[str, ...]
    caption_at: Spot
    window: Window | None = None
    joints: tuple[tuple[Spot, Spot], ...] = ()
    marks: tuple[Mark, ...] = ()


def write_caption(template: Template, width: int, most: int = MOST_LINES) -> tuple[str, ...]:
    """What stands below a template: all that there is to say of it, but for fabrics that are too many."""
    cuts = [f"{one.count} {one.fabric} ({one.letter}){one.to_pile}" for one in template.fabrics]
    first = ", ".join([f"{template.number}. {template.name}", *say_lie(template)])
    lines = wrap_words(f"{first}: cut {', '.join(cuts)}", TYPE, width)
    if len(lines) > most:
        lines = wrap_words(f"{first}: cut {template.count} in all, of {len(cuts)} fabrics", TYPE, width)
    return tuple(lines)
