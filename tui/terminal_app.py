"""What every screenful of this program does with its terminal: colours only where they are wanted, and a tidy end."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
from collections.abc import Sequence
from functools import partial
from typing import Any, Generic, TypeVar

from rich.console import RenderableType
from textual.app import App
from textual.filter import LineFilter, NoColor

from tui.end_by_signal import status_of
from tui.terminal_driver import TerminalDriver

Result = TypeVar("Result")

# Textual takes NO_COLOR out of the environment when the first app begins; the second one must know it too
NO_COLOR = bool(os.environ.get("NO_COLOR"))


_ENDS = [getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT", "SIGQUIT") if hasattr(signal, name)]


class TerminalApp(App[Result], Generic[Result], inherit_bindings=False):
    """An app whose keys are all its own."""

    def __init__(self) -> None:
        if NO_COLOR:
            os.environ["NO_COLOR"] = "1"
        super().__init__(driver_class=TerminalDriver)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Without colour there are no greys either: weight, slant and letters carry all."""
        return [NoColor()] if self.no_color else super().get_line_filters()

    async def run_async(self, **how: Any) -> Result | None:
        """Run with the terminal left as it was, whatever ends the app: a closed window, a dropped line, a shell.

        Progress is saved already. The signals are heard before the terminal is changed.
        """
        loop = asyncio.get_running_loop()
        before = signal.getsignal(signal.SIGINT)
        for number in _ENDS:
            with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                loop.add_signal_handler(number, partial(self.exit, return_code=status_of(number)))
        try:
            return await super().run_async(**how)
        finally:
            with contextlib.suppress(NotImplementedError, ValueError):
                loop.remove_signal_handler(signal.SIGINT)  # which leaves an exception to be raised
                signal.signal(signal.SIGINT, before)

    def panic(self, *renderables: RenderableType) -> None:
        """What ends the app here is a bug: the status says so."""
        super().panic(*renderables)
        self._return_code = 1
