"""One progress file: a table of events in SQLite that only grows.

A transaction for each append, kept by a rollback journal and on the disk before the append returns. The text of an
event is stored as UTF-8 in which a lone surrogate is allowed, so that any text comes back as it was.
"""

from __future__ import annotations

import contextlib
import os
import sqlite3
import stat
import time
from collections.abc import Iterator, Sequence
from typing import NoReturn
from urllib.parse import quote_from_bytes

from planner.event import Event
from tui.progress_place import Place, is_write_forbidden

APPLICATION = 0x5345_414D
VERSION = 1
PATIENCE = 1.0  # seconds to wait, when a file is opened, for whoever reads or writes at this moment
KEY_PATIENCE = 0.05  # seconds to wait when a key is to be kept: the maker looks at the screen
PAUSE = 0.5  # seconds without another try after that: keys that queue must not wait one after the other
_LEAST, _MOST = -(2**63), 2**63 - 1  # what SQLite holds as a whole number

_TABLE = """
CREATE TABLE events (
    number INTEGER PRIMARY KEY,
    kind TEXT NOT NULL,
    step TEXT NOT NULL,
    count INTEGER NOT NULL,
    body TEXT NOT NULL,
    at INTEGER NOT NULL
)
"""
_INSERT = "INSERT INTO events VALUES (?, CAST(? AS TEXT), CAST(? AS TEXT), ?, CAST(? AS TEXT), ?)"
_SELECT = "SELECT number, kind, step, count, body, at FROM events WHERE number >= ? ORDER BY number"


class ProgressTrouble(Exception):
    """Progress can't be read or kept now; `words` tell the maker why. No file was changed or renamed."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self.words = words


class WriteForbidden(ProgressTrouble):
    """The file or its folder can't be written."""


class Busy(ProgressTrouble):
    """Another program holds the file at this moment."""


class Lost(ProgressTrouble):
    """The file is no longer what this bench has read and written: gone, replaced, damaged or changed."""


class Damaged(Exception):
    """What lies there is no sound progress file."""


class ProgressFile:
    """An open progress file and the events read from it, oldest first."""

    def __init__(self, place: Place, to_write: bool) -> None:
        """Open and check the file; where `to_write`, make it if it is missing or empty.

        FileNotFoundError if it is missing and only to be read, Damaged, WriteForbidden, ProgressTrouble.
        """
        self.place = place
        self.is_to_write = to_write
        self.events: list[Event] = []
        self._failed: tuple[Event, ...] = ()  # of an append that ended in trouble
        self._rests_until = 0.0  # after it was busy
        with _telling(place):
            _refuse_odd_file(place, to_write)
            self._connection = _connect(place.path, to_write)
            try:
                self.events = self._read_whole()
                if to_write:
                    self._make_ready()
                self._connection.execute(f"PRAGMA busy_timeout = {KEY_PATIENCE * 1000:.0f}")
                self._known = _identify(place.path)
                self._change = self._ask("data_version")
            except BaseException:
                self._connection.close()
                raise

    def close(self) -> None:
        self._connection.close()

    def append(self, events: Sequence[Event]) -> None:
        """Add all of them or none; when this returns they are on the disk.

        ValueError for what is no event; ProgressTrouble, and none of them is there. After that the next append may
        go well.
        """
        for event in events:
            if not is_event(event):
                raise ValueError(f"{event!r} is no event")
        if not events:
            return
        try:
            with self._trying_seldom(), _telling(self.place), self._transaction("IMMEDIATE"):
                self._refuse_moved()
                self._refuse_changed()
                self._take_back_failed()
                self._failed = tuple(events)
                first = len(self.events) + 1
                self._connection.executemany(_INSERT, [_row(n, event) for n, event in enumerate(events, first)])
        except Damaged as error:
            raise Lost(f"Not saved. {self.place.called} is damaged. Leave, and open the project again.") from error
        except ProgressTrouble as error:
            raise type(error)(f"Not saved. {error.words}") from error
        self._failed = ()
        self.events.extend(events)

    @contextlib.contextmanager
    def _trying_seldom(self) -> Iterator[None]:
        """Busy at once for a while after it was busy."""
        if time.monotonic() < self._rests_until:
            raise _word_busy(self.place)
        try:
            yield
        except Busy:
            self._rests_until = time.monotonic() + PAUSE
            raise

    def is_whole(self) -> bool:
        """Whether the file, looked at afresh, holds what this bench has read and written. ProgressTrouble if it can't
        be looked at."""
        try:
            with _telling(self.place):
                self._refuse_moved()
            there = ProgressFile(self.place, to_write=False)
        except (Lost, Damaged, FileNotFoundError):
            return False
        except Busy:
            return True  # what is committed stays
        there.close()
        return there.events in (self.events, [*self.events, *self._failed])

    def reread(self) -> tuple[Event, ...]:
        """The events that another bench has added since. ProgressTrouble if those before them have changed."""
        try:
            with self._trying_seldom(), _telling(self.place):
                self._refuse_moved()
                known = self.events[-1:]
                with self._transaction("DEFERRED"):
                    is_empty = self._ask("page_count") == 0
                    rows = [] if is_empty else self._read_from(len(self.events) + 1 - len(known))
        except Damaged as error:
            raise Lost(f"{self.place.called} is damaged. Leave, and open the project again.") from error
        if rows[: len(known)] != known:
            self._tell_changed()
        new = rows[len(known) :]
        self.events.extend(new)
        return tuple(new)

    @contextlib.contextmanager
    def _transaction(self, mode: str) -> Iterator[None]:
        self._connection.execute(f"BEGIN {mode}")
        try:
            yield
            self._connection.execute("COMMIT")
        except BaseException:
            if self._connection.in_transaction:
                with contextlib.suppress(sqlite3.Error):  # then the journal is left, and played back by the next one
                    self._connection.execute("ROLLBACK")
            raise

    def _ask(self, pragma: str) -> object:
        return self._connection.execute(f"PRAGMA {pragma}").fetchall()[0][0]

    def _read_whole(self) -> list[Event]:
        with self._transaction("DEFERRED"):
            if self._ask("page_count") == 0:
                return []
            self._refuse_foreign()
            if self._ask("quick_check(1)") != "ok":
                raise Damaged
            return self._read_from(1)

    def _refuse_foreign(self) -> None:
        if self._ask("application_id") != APPLICATION:
            raise ProgressTrouble(
                f"{self.place.called} belongs to another program. Give it another name, then open the project again."
            )
        version = self._ask("user_version")
        if not isinstance(version, int) or version < 1:
            raise Damaged
        if version > VERSION:
            raise ProgressTrouble(f"{self.place.called} was written by a later release of this program. Use that one.")

    def _read_from(self, first: int) -> list[Event]:
        """All events from this number on. Damaged if a row is none, or a number is missing."""
        try:
            rows = self._connection.execute(_SELECT, (first,)).fetchall()
        except UnicodeDecodeError as error:
            raise Damaged from error
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode == sqlite3.SQLITE_ERROR:  # no such table, no such column
                raise Damaged from error
            raise
        events = [Event._make(row[1:]) for row in rows]
        if not all(map(is_event, events)) or [row[0] for row in rows] != list(range(first, first + len(rows))):
            raise Damaged
        return events

    def _make_ready(self) -> None:
        """Set how it is written, make the table where the file is new, and prove that writing is allowed."""
        self._connection.execute("PRAGMA journal_mode = DELETE").fetchall()
        self._connection.execute("PRAGMA synchronous = EXTRA")
        self._connection.execute("PRAGMA fullfsync = ON")  # where a plain fsync ends in the drive's own memory
        if self._ask("page_count") == 0:
            with self._transaction("IMMEDIATE"):
                self._connection.execute(f"PRAGMA application_id = {APPLICATION}")
                self._connection.execute(f"PRAGMA user_version = {VERSION}")
                self._connection.execute(_TABLE)
            return
        self._connection.execute("BEGIN IMMEDIATE")
        try:
            self._connection.execute(f"PRAGMA user_version = {VERSION}")  # needs the journal, changes nothing
        finally:
            if self._connection.in_transaction:
                self._connection.execute("ROLLBACK")

    def _refuse_moved(self) -> None:
        """SQLite would write into a removed file without a word."""
        if _identify(self.place.path) != self._known:
            raise Lost(
                f"{self.place.called} was removed or replaced while the bench had it open. "
                "Put it back, or leave and open the project again."
            )

    def _refuse_changed(self) -> None:
        """Where another program has written since, every event that was there must be there still."""
        change = self._ask("data_version")
        if change != self._change:
            if self._read_from(1)[: len(self.events)] != self.events:
                self._tell_changed()
            self._change = change

    def _take_back_failed(self) -> None:
        """Make sure that the file ends where this bench believes.

        A disk can fail after the commit has reached it and before it says so. The maker was told "not saved", so
        what came through all the same goes.
        """
        here = len(self.events)
        (last,) = self._connection.execute("SELECT coalesce(max(number), 0) FROM events").fetchall()[0]
        if last == here:
            return
        if last != here + len(self._failed) or tuple(self._read_from(here + 1)) != self._failed:
            self._tell_changed()
        self._connection.execute("DELETE FROM events WHERE number > ?", (here,))

    def _tell_changed(self) -> NoReturn:
        raise Lost(f"{self.place.called} was changed by another program. Leave, and open the project again.")


def is_event(event: Event) -> bool:
    """Whether each field holds what it should, and a progress file can give it back unchanged."""
    kind, step, count, body, at = event
    return (
        type(kind) is type(step) is type(body) is str
        and type(count) is type(at) is int
        and _LEAST <= count <= _MOST
        and _LEAST <= at <= _MOST
    )


def _row(number: int, event: Event) -> tuple[int, bytes, bytes, int, bytes, int]:
    return number, _encode(event.kind), _encode(event.step), event.count, _encode(event.body), event.at


def _encode(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def _decode(text: bytes) -> str:
    return text.decode("utf-8", "surrogatepass")


def _identify(path: str) -> tuple[int, int] | None:
    """Which file has this name now; None where there is none."""
    try:
        found = os.stat(path)
    except (FileNotFoundError, NotADirectoryError):
        return None
    return found.st_dev, found.st_ino


def _refuse_odd_file(place: Place, to_write: bool) -> None:
    try:
        mode = os.stat(place.path).st_mode
    except (FileNotFoundError, NotADirectoryError):
        if to_write:
            return  # to be made, or told by SQLite
        raise FileNotFoundError(place.path) from None
    if not stat.S_ISREG(mode):
        raise ProgressTrouble(f"{place.called} is no plain file. Give it another name, then open the project again.")


def _connect(path: str, to_write: bool) -> sqlite3.Connection:
    quoted = quote_from_bytes(os.fsencode(path.replace(os.sep, "/")))
    address = f"file://{'' if quoted.startswith('/') else '/'}{quoted}?mode={'rwc' if to_write else 'rw'}"
    connection = sqlite3.connect(address, uri=True, timeout=PATIENCE, isolation_level=None)
    connection.text_factory = _decode
    return connection


@contextlib.contextmanager
def _telling(place: Place) -> Iterator[None]:
    """Turn what SQLite and the system raise into words; a missing file stays FileNotFoundError."""
    try:
        yield
    except (sqlite3.ProgrammingError, FileNotFoundError):
        raise
    except sqlite3.Error as error:
        if _primary(error) in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
            raise Damaged from error
        raise _word_trouble(place, error) from error
    except OSError as error:
        raise ProgressTrouble(f"{place.called} can't be used: {error.strerror}.") from error


def _primary(error: sqlite3.Error) -> int:
    return getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF


def _word_trouble(place: Place, error: sqlite3.Error) -> ProgressTrouble:
    code = _primary(error)
    if code == sqlite3.SQLITE_READONLY or (
        code in (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_IOERR) and is_write_forbidden(place.path)
    ):
        return WriteForbidden(f"{place.called} can't be written.")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return _word_busy(place)
    if code == sqlite3.SQLITE_FULL:
        return ProgressTrouble("The disk is full. Make room, then try again.")
    if code == sqlite3.SQLITE_IOERR:
        return ProgressTrouble(f"The disk could not read or write {place.called}. Check the disk, then try again.")
    if code == sqlite3.SQLITE_CANTOPEN:
        return ProgressTrouble(f"{place.called} can't be opened. The disk may be full.")
    return ProgressTrouble(f"{place.called} can't be used: {error}.")


def _word_busy(place: Place) -> Busy:
    return Busy(f"{place.called} is busy, another program holds it. Wait a moment, then try again.")
