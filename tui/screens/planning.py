"""Says that a large project is being planned, and lets the maker stop it."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Static

from tui.plan_slowly import Planning
from tui.terminal_app import TerminalApp


class PlanningApp(TerminalApp[None]):
    """Ends when the planning does, or when the maker has had enough of it."""

    BINDINGS = [Binding("escape,q,ctrl+q,ctrl+c", "stop", "stop", id="planning.stop")]
    ENABLE_COMMAND_PALETTE = False
    CSS = "Static { padding: 1 2; }"

    def __init__(self, planning: Planning, clock: Callable[[], float]) -> None:
        super().__init__()
        self._planning = planning
        self._clock = clock
        self._began = clock()
        self.words = Static("", markup=False)

    def compose(self) -> ComposeResult:
        yield self.words

    def on_mount(self) -> None:
        self._look()
        self.set_interval(0.1, self._look)

    def _look(self) -> None:
        if self._planning.is_done:
            self.exit()
            return
        self.words.update(
            f"{self._planning.project.name}\n\n"
            f"Planning: {self._planning.looks:,} looks in {self._clock() - self._began:.0f} s\n\n"
            "esc  stop. Nothing is lost: what is sewn stays saved."
        )

    def action_stop(self) -> None:
        self._planning.stop()
        self.exit()
