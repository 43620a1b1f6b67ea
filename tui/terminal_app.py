"""What every screenful of this program does with its terminal: colours only where they are wanted, and a tidy end."""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
from collections.abc import Sequence
from functools import partial
from typing import Generic, TypeVar

from textual.app import App
from textual.filter import LineFilter, NoColor

Result = TypeVar("Result")

# Textual takes NO_COLOR out of the environment when the first app begins; the second one must know it too
NO_COLOR = bool(os.environ.get("NO_COLOR"))


class TerminalApp(App[Result], Generic[Result], inherit_bindings=False):
    """An app whose keys are all its own."""

    def __init__(self) -> None:
        if NO_COLOR:
            os.environ["NO_COLOR"] = "1"
        super().__init__()

    def get_line_filters(self) -> Sequence[LineFilter]:
        """Without colour there are no greys either: weight, slant and letters carry all."""
        return [NoColor()] if self.no_color else super().get_line_filters()

    def on_mount(self) -> None:
        for number in (signal.SIGTERM, signal.SIGHUP, signal.SIGINT):
            # A closed window or a dropped line must leave the terminal as it was; progress is saved already
            with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                asyncio.get_running_loop().add_signal_handler(number, partial(self.exit, return_code=128 + number))
