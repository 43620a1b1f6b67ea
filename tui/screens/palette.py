"""The palette: search every command. What is typed faster than it is drawn does no harm."""

from __future__ import annotations

from textual import on
from textual.await_complete import AwaitComplete
from textual.command import CommandList, CommandPalette
from textual.widgets import Input, OptionList


class Palette(CommandPalette):
    """Chosen from once: keys that come while it goes away are swallowed."""

    _has_ended = False

    @on(Input.Submitted)
    @on(OptionList.OptionSelected)
    def _swallow_second(self, event: Input.Submitted | OptionList.OptionSelected) -> None:
        if self._has_ended:
            event.stop()
            event.prevent_default()

    def dismiss(self, result: None = None) -> AwaitComplete:
        if self._has_ended:
            return AwaitComplete()
        self._has_ended = True
        return super().dismiss(result)

    def _action_command_list(self, action: str) -> None:
        if self.query_one(CommandList).scrollable_content_region:  # not before its rows are laid out, if there is room
            super()._action_command_list(action)
