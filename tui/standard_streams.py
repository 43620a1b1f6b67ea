"""Standard input, output and error as the program needs them, whatever the shell has made of them."""

from __future__ import annotations

import contextlib
import os
import sys
from typing import Any, TextIO, cast

_NUMBERS = {"stdin": 0, "stdout": 1, "stderr": 2}


class _Heedless:
    """An error stream that is written to as well as it goes: what cannot be told changes no status."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def __getattr__(self, name: str) -> Any:
        return getattr(self._stream, name)

    def write(self, text: str) -> int:
        try:
            return self._stream.write(text)
        except OSError:
            send_nowhere(self._stream)
            return len(text)

    def flush(self) -> None:
        try:
            self._stream.flush()
        except OSError:
            send_nowhere(self._stream)


def prepare_streams() -> None:
    """The same bytes wherever they go: UTF-8 and plain line breaks, whatever the locale says.

    A stream that the shell has closed leads nowhere. Else `print` would take the output for a missing error stream,
    and the next file that is opened would get its number.
    """
    for name, number in _NUMBERS.items():
        if getattr(sys, name) is None:
            _lead_nowhere(number)
            setattr(sys, name, os.fdopen(number, "w" if number else "r", encoding="utf-8", closefd=False))
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="backslashreplace", newline="\n")
    sys.stderr = cast(TextIO, _Heedless(sys.stderr))


def send_nowhere(*streams: TextIO) -> None:
    """What is still buffered must not complain at exit."""
    for stream in streams:
        _lead_nowhere(stream.fileno())
        with contextlib.suppress(OSError):
            stream.flush()


def _lead_nowhere(number: int) -> None:
    nowhere = os.open(os.devnull, os.O_RDWR)
    if nowhere != number:
        os.dup2(nowhere, number)
        os.close(nowhere)
