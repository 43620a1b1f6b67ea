"""The program in a terminal of our own: a pseudo-terminal on one side, a screen to read on the other.

Waiting is always for something to stand on the screen, never for time to pass.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import re
import select
import signal
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from types import TracebackType

import pyte

TOP = Path(__file__).parent.parent
PATIENCE = 20.0  # seconds; only a test that fails waits so long
SIZES = ((60, 20), (80, 24), (120, 40))  # columns, rows
BENCH = (sys.executable, "-m", "tui")

# The child takes the terminal as its own, so that resizing and hanging up reach it as they do in a window
_TAKE_TERMINAL = """
import fcntl, os, sys, termios
fcntl.ioctl(0, termios.TIOCSCTTY, 0)
os.execv(sys.argv[1], sys.argv[1:])
"""
# Root may write where nobody may; without this one of its powers (CAP_DAC_OVERRIDE) it is like everybody else
_GIVE_UP_POWER = """
import ctypes
ctypes.CDLL(None).prctl(24, 1, 0, 0, 0)
"""
_KEYS = {
    "space": b" ", "enter": b"\r", "escape": b"\x1b", "tab": b"\t", "backspace": b"\x7f",
    "up": b"\x1b[A", "down": b"\x1b[B", "right": b"\x1b[C", "left": b"\x1b[D",
    "pageup": b"\x1b[5~", "pagedown": b"\x1b[6~", "f5": b"\x1b[15~",
    "ctrl+c": b"\x03", "ctrl+p": b"\x10", "ctrl+q": b"\x11",
}  # fmt: skip
_QUERY = re.compile(rb"\x1b\[\?(\d+)\$p")
# Sequences that terminals know and pyte does not: it would print their last letter
_UNKNOWN_TO_PYTE = re.compile(rb"\x1b\[[<>=][0-9;]*[a-zA-Z]|\x1b\[\?[0-9]+\$p")
_BEGUN = re.compile(rb"\x1b(\[[0-9;?<>=]*\$?)?\Z")
_LEAVE = b"\x1b[?1049l"
_ALTERNATE, _FRAME, _PASTE = 1049, 2026, 2004
_MOUSE = (1000, 1002, 1003, 1006, 1015, 1016)


class Terminal:
    """One command on a screen of its own; ends with it, however the test ends.

    `size` is columns, rows. `environment` is added to a clean one whose settings and state lie in `folder`.
    `is_powerless` holds root to the modes of files and folders, as everybody else is.
    """

    def __init__(
        self,
        folder: Path,
        *arguments: str,
        size: tuple[int, int] = (80, 24),
        command: Sequence[str] = BENCH,
        environment: Mapping[str, str] | None = None,
        is_powerless: bool = False,
    ) -> None:
        self.output = b""
        self._screen = pyte.Screen(*size)
        self._stream = pyte.ByteStream(self._screen)
        self._rest = b""  # of the output, where a sequence is not whole yet
        self._shown_at = 0.0
        self._handle, end = os.openpty()
        self.resize(*size, tell=False)
        self._manners = termios.tcgetattr(self._handle)
        start = (_GIVE_UP_POWER if is_powerless and os.geteuid() == 0 else "") + _TAKE_TERMINAL
        self.process = subprocess.Popen(
            [sys.executable, "-I", "-S", "-c", start, *command, *arguments],
            stdin=end,
            stdout=end,
            stderr=end,
            cwd=folder,
            env=_clean_environment(folder, environment or {}),
            start_new_session=True,
        )
        os.close(end)

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.kill()
        if self._handle >= 0:
            os.close(self._handle)

    # What stands there

    @property
    def lines(self) -> list[str]:
        """The screen, a text for each row."""
        return [line.rstrip() for line in self._screen.display]

    def text(self) -> str:
        """The screen as it stands."""
        return "\n".join(self.lines)

    def words(self) -> str:
        """The screen with every stretch of blanks and line ends as one blank: for words that may wrap."""
        return " ".join(self.text().split())

    def cell(self, column: int, row: int) -> pyte.screens.Char:
        """One cell, with its colours."""
        return self._screen.buffer[row][column]

    @property
    def is_as_before(self) -> bool:
        """Whether the terminal is as the program found it: what it switched on is off, and keys echo again."""
        modes = self._screen.mode
        on = [mode for mode in (_ALTERNATE, _FRAME, _PASTE, *_MOUSE) if mode << 5 in modes]
        keys_kept = self.output.count(b"\x1b[>") == self.output.count(b"\x1b[<u")
        same = termios.tcgetattr(self._handle) == self._manners
        return not on and not self._screen.cursor.hidden and keys_kept and same

    @property
    def is_in_alternate_screen(self) -> bool:
        return _ALTERNATE << 5 in self._screen.mode

    # Waiting

    def wait_until(self, is_so: Callable[[], bool], what: str, seconds: float = PATIENCE) -> None:
        """Read until something is so, looking only at whole frames; AssertionError with the screen if it never is."""
        end = time.monotonic() + seconds
        while True:
            is_whole = _FRAME << 5 not in self._screen.mode
            if is_whole and is_so():
                return
            left = end - time.monotonic()
            if left <= 0 or not self._read(left):
                if is_whole and is_so():
                    return
                raise AssertionError(f"{what} is not on the screen, which shows:\n{self.text()}\n")

    def wait_for(self, *texts: str, seconds: float = PATIENCE) -> None:
        """Read until all these words stand on the screen at once."""
        self.wait_until(lambda: all(text in self.words() for text in texts), repr(texts), seconds)

    def wait_gone(self, text: str, seconds: float = PATIENCE) -> None:
        """Read until these words stand there no more."""
        self.wait_until(lambda: text not in self.words(), f"a screen without {text!r}", seconds)

    def wait_end(self, seconds: float = PATIENCE) -> int:
        """Read until the program has ended; its exit status, negative for the signal that killed it."""
        end = time.monotonic() + seconds
        while self._handle >= 0 and time.monotonic() < end and self._read(end - time.monotonic()):
            pass
        return self.process.wait(max(0.1, end - time.monotonic()))

    def _read(self, seconds: float) -> bool:
        """Take in what has been written, waiting for it so long; False where nothing more will come in that time."""
        try:
            ready, _, _ = select.select([self._handle], [], [], max(0.0, seconds))
            chunk = os.read(self._handle, 65_536) if ready else b""
        except OSError:  # the other end is closed
            chunk = b""
        if not chunk:
            return False
        self.output += chunk
        self._shown_at = time.monotonic()
        self._feed(self._rest + chunk)
        return True

    def _feed(self, chunk: bytes) -> None:
        begun = _BEGUN.search(chunk)
        self._rest = begun[0] if begun else b""
        whole = chunk[: len(chunk) - len(self._rest)]
        for mode in _QUERY.findall(whole):
            # Whole frames are told apart; resizing is told by the system alone
            state = b"2" if mode == b"%d" % _FRAME else b"0"
            os.write(self._handle, b"\x1b[?%s;%s$y" % (mode, state))
        # pyte has no second screen to come back to: leaving the alternate one leaves an empty one
        self._stream.feed(_UNKNOWN_TO_PYTE.sub(b"", whole).replace(_LEAVE, _LEAVE + b"\x1b[2J\x1b[H"))

    # Doing

    def press(self, *keys: str) -> None:
        """Press keys, one after the other, at once."""
        for key in keys:
            os.write(self._handle, _KEYS.get(key) or key.encode())

    def send_bytes(self, some: bytes) -> None:
        """What no key sends, in one piece."""
        os.write(self._handle, some)

    def press_again(self, key: str, pause: float = 0.15) -> None:
        """Press a key that was pressed before, after the pause that tells it from a held one.

        The pause begins with what the program last showed: it tells keys apart by when it gets to them.
        """
        time.sleep(max(0.0, self._shown_at + pause + 0.02 - time.monotonic()))
        self.press(key)

    def resize(self, columns: int, rows: int, tell: bool = True) -> None:
        """Give the window another size; the system tells the program. What stood there counts no more."""
        if tell:
            self._screen.resize(rows, columns)
            self._screen.erase_in_display(2)
        fcntl.ioctl(self._handle, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))

    def send(self, number: signal.Signals) -> None:
        self.process.send_signal(number)

    def close_window(self) -> None:
        """The terminal is gone, as when its window is closed or the line drops."""
        os.close(self._handle)
        self._handle = -1

    def kill(self) -> None:
        """Kill -9, and wait until it is dead."""
        with contextlib.suppress(ProcessLookupError):
            self.process.kill()
        self.process.wait()


def _clean_environment(folder: Path, more: Mapping[str, str]) -> dict[str, str]:
    home = folder.parent / f"{folder.name} home"
    kept = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT", "TMPDIR") if name in os.environ}
    own = {
        "HOME": str(home),
        "SEAMRUN_STATE": str(home / "state"),
        "SEAMRUN_SETTINGS": str(home / "settings.yaml"),
        "PYTHONPATH": str(TOP),
        "TERM": "xterm-256color",
        "LC_ALL": "C.UTF-8",
    }
    return {**kept, **own, **more}
