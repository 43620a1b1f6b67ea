"""Offers project files to open."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.choose_project import Offer
from tui.spell_path import spell_path
from tui.terminal_app import TerminalApp


class ChooseApp(TerminalApp[Offer | None]):
    """Ends with the offer that was taken, or None."""

    BINDINGS = [Binding("escape,q,ctrl+q,ctrl+c", "leave", "leave", id="choose.leave")]
    ENABLE_COMMAND_PALETTE = False
    CSS = """
    Static { padding: 0 1; }
    OptionList { height: 1fr; border: none; }
    """

    def __init__(self, offers: Sequence[Offer]) -> None:
        super().__init__()
        self._offers = list(offers)
        self.choices = OptionList(markup=False)

    def compose(self) -> ComposeResult:
        yield Static("What do you want to sew?", markup=False)
        yield self.choices
        yield Static("↑ ↓ choose · enter open · esc leave     of your own: seamrun new lap.yaml", markup=False)

    def on_mount(self) -> None:
        heading = ""
        for number, offer in enumerate(self._offers):
            title = "Samples (a copy is put into this folder)" if offer.is_sample else "In this folder"
            if title != heading:
                heading = title
                self.choices.add_option(Option(Content(title), disabled=True))
            self.choices.add_option(Option(Content(f"  {offer.words}   {spell_path(offer.file.name)}"), id=str(number)))
        self.choices.focus()
        self.choices.action_first()

    def on_option_list_option_selected(self, chosen: OptionList.OptionSelected) -> None:
        if chosen.option_id is not None:
            self.exit(self._offers[int(chosen.option_id)])

    def action_leave(self) -> None:
        self.exit(None)
