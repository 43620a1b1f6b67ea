"""The last screen of an evening: what lies where, and the iron."""

from __future__ import annotations

from collections.abc import Mapping

from tui.bench import Bench
from tui.bindings import bindings_at
from tui.lay_out_card import Span
from tui.screens.page import PageScreen
from tui.screens.pages import lying_lines


class LeaveScreen(PageScreen):
    HOMES = ("leave", "page")
    IS_PAGE = False
    BINDINGS = [*bindings_at("leave"), *bindings_at("page")]

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        told = bench.make_sure()
        saved = "Not saved." if told.is_trouble else "Saved." if bench.can_write else "Looking on."
        lines = [
            *([Span(told.words, "trouble" if told.is_trouble else "strong"), Span("")] if told.words else []),
            Span("Is the iron off?", "title"),
            Span(""),
            *lying_lines(bench),
            Span("Slips pinned on every pile? Blades closed? Tomorrow this is the first page."),
        ]
        super().__init__(f"{saved} Leave?", lines, keys, indent=6)

    def action_go(self) -> None:
        self.app.exit()
