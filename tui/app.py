"""The workspace: settings, themes, the first screen, exit codes. What a screen does is the screen's."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial

from textual.app import SystemCommand
from textual.screen import Screen

from tui.bench import Bench
from tui.bindings import bindings_at
from tui.commands import COMMANDS
from tui.held_keys import HeldKeys
from tui.keymap import keys_of
from tui.settings import Settings
from tui.terminal_app import TerminalApp

THEMES = {"dark": "textual-dark", "light": "textual-light"}


class SeamrunApp(TerminalApp[None]):
    """One bench on a terminal. `clock` gives seconds for telling held keys."""

    TITLE = "seamrun"
    BINDINGS = bindings_at("app")
    CSS_PATH = "app.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (80, "-normal"), (120, "-wide")]
    ENABLE_COMMAND_PALETTE = True

    def __init__(self, bench: Bench, settings: Settings, clock: Callable[[], float]) -> None:
        super().__init__()
        self.bench = bench
        self.settings = settings
        self.keys = keys_of(settings.keymap)
        self.held_keys = HeldKeys(clock, settings.held_key)
        self.theme = THEMES[settings.theme]

    def on_mount(self) -> None:
        from tui.screens.bench import BenchScreen

        self.set_keymap({name: keys for name, keys in self.keys.items() if name in self.settings.keymap})
        self.push_screen(BenchScreen(self.bench, self.keys))
        if self.bench.has_come_back:
            from tui.screens.come_back import ComeBackScreen

            self.push_screen(ComeBackScreen(self.bench, self.keys))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """The palette: every command that the screen at hand knows."""
        homes = {"app", *getattr(screen, "HOMES", ())}
        for command in COMMANDS:
            if command.home in homes and command.id != "app.palette":
                runner = self.run_action if command.home == "app" else screen.run_action
                yield SystemCommand(command.label.capitalize(), command.help, partial(runner, command.action))

    def action_command_palette(self) -> None:
        from tui.screens.palette import Palette

        if not isinstance(self.screen, Palette):
            self.push_screen(Palette())

    def action_toggle_theme(self) -> None:
        self.theme = THEMES["light" if self.theme == THEMES["dark"] else "dark"]

    def action_leave(self) -> None:
        from tui.screens.leave import LeaveScreen

        if isinstance(self.screen, LeaveScreen):
            self.exit()
        else:
            self.push_screen(LeaveScreen(self.bench, self.keys))

    def _show(self, page: Screen[None]) -> None:
        """One page at a time over the bench: the one that is open gives way."""
        if getattr(self.screen, "IS_PAGE", False):
            self.switch_screen(page)
        else:
            self.push_screen(page)

    def action_show_sheet(self) -> None:
        from tui.screens.pages import sheet_page

        self._show(sheet_page(self.bench, self.keys))

    def action_show_cuts(self) -> None:
        from tui.screens.pages import cuts_page

        self._show(cuts_page(self.bench, self.keys))

    def action_show_cloth(self) -> None:
        from tui.screens.cloth import ClothScreen

        self._show(ClothScreen(self.bench, self.keys))

    def action_show_piles(self) -> None:
        from tui.screens.pages import piles_page

        self._show(piles_page(self.bench, self.keys))

    def action_show_keys(self) -> None:
        from tui.screens.pages import keys_page

        self._show(keys_page(self.bench, self.keys))

    def action_show_blocks(self) -> None:
        from tui.screens.blocks import BlocksScreen

        self._show(BlocksScreen(self.bench, self.keys))
