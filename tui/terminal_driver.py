"""How the terminal is read: as Textual does it, but a byte that is no character is nothing, and no reason to end."""

from __future__ import annotations

import sys
from functools import partial

from textual.driver import Driver

TerminalDriver: type[Driver] | None = None  # Textual's own

if sys.platform != "win32":
    from codecs import getincrementaldecoder

    from textual.drivers import linux_driver

    class LenientDriver(linux_driver.LinuxDriver):
        """A stray byte comes from a torn paste, a line that drops, a terminal that is not set to UTF-8."""

        def run_input_thread(self) -> None:
            # The driver makes its decoder by this name, strict, inside its loop
            linux_driver.getincrementaldecoder = _decode_what_can_be  # type: ignore[attr-defined]
            super().run_input_thread()

    def _decode_what_can_be(encoding: str):  # type: ignore[no-untyped-def]
        return partial(getincrementaldecoder(encoding), "ignore")

    TerminalDriver = LenientDriver
