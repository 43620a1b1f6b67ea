"""Who has the project: an operating-system lock on an empty file.

The system lets go of it when the process ends, however it ends. The file is never removed: between one bench removing
it and the next one making it anew, two benches could each hold a lock, on two files of the same name.
"""

from __future__ import annotations

import errno
import os
import sys

_FORBIDDEN = (errno.EACCES, errno.EPERM, errno.EROFS)


class HeldElsewhere(Exception):
    """Another bench holds the lock."""


class BenchLock:
    """A lock that is held until `release` or the end of the process.

    Not `is_firm` where the file system knows no locks, so that nobody can be kept out.
    """

    def __init__(self, path: str, handle: int, is_firm: bool) -> None:
        self._path = path
        self._handle = handle
        self.is_firm = is_firm

    def keeps_out(self) -> bool:
        """Whether no other bench can have the project: the lock is firm, and its file is where others look for it."""
        try:
            return self.is_firm and os.path.samestat(os.stat(self._path), os.fstat(self._handle))
        except OSError:
            return False

    def release(self) -> None:
        if self._handle < 0:
            return
        _unlock(self._handle)
        os.close(self._handle)
        self._handle = -1


def take_lock(path: str) -> BenchLock:
    """Lock the file, making it where it is missing; never wait.

    HeldElsewhere if another bench has it, OSError if the file can be neither opened nor made.
    """
    handle = _open(path)
    try:
        return BenchLock(path, handle, _lock(handle))
    except BaseException:
        os.close(handle)
        raise


def _open(path: str) -> int:
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
    except OSError as error:
        if error.errno not in _FORBIDDEN:
            raise
        try:  # a lock that is only read still keeps two benches of one folder apart
            return os.open(path, os.O_RDONLY)
        except FileNotFoundError:
            raise error from None


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            if error.errno in (errno.EACCES, errno.EDEADLK):
                raise HeldElsewhere from error
            return False
        return True

    def _unlock(handle: int) -> None:
        """Closing the file is enough."""

else:
    import contextlib
    import fcntl

    def _lock(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError as error:
            raise HeldElsewhere from error
        except OSError:
            return False
        return True

    def _unlock(handle: int) -> None:
        with contextlib.suppress(OSError):  # a lock that never was firm
            fcntl.flock(handle, fcntl.LOCK_UN)
