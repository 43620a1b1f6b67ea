"""The picture of one step on a page of its own, as large as it needs, and the words of the step below it."""

from __future__ import annotations

from collections.abc import Mapping

from tui.bench import Bench
from tui.draw import Canvas
from tui.draw_step import draw_step
from tui.fabric_colours import colour_fabrics
from tui.lay_out_card import LARGE, Row, Span
from tui.screens.page import PageScreen
from tui.view_step import view_step

_BESIDE = 3  # columns of a page that are not the picture's: scroll bar, blanks


def picture_page(bench: Bench, look: int | None, keys: Mapping[str, str], width: int) -> PageScreen:
    """The step at hand, or step `look`, for a screen `width` columns wide."""
    view = view_step(bench, look, keys=keys)
    canvas = _draw_large(bench, look, width - _BESIDE)
    rows: list[Span | Row] = [Span("This step has no picture")] if canvas is None else [*canvas]
    words = [Span(line) for line in view.does]
    told = [Span(line, "why") for line in view.why]
    title = f"{view.verb}  {view.what}"
    return PageScreen(title, [*rows, Span(""), *words, *told], keys, colour_fabrics(bench.sheet.plan.project.fabrics))


def _draw_large(bench: Bench, look: int | None, width: int) -> Canvas | None:
    """In the width of the screen where it can be understood there, else wider: the page goes to the right."""
    for wide in sorted({min(width, LARGE[0]), LARGE[0]}):
        canvas = draw_step(bench, look, wide, LARGE[1])
        if canvas is not None:
            return canvas
    return None
