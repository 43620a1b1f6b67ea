"""The maker's progress on disk: every event since the first stitch, kept beside the project.

The progress of `lap.yaml` is `lap.yaml.progress`; an empty `lap.yaml.progress.lock` tells a second bench that the
project is taken. Where the project's folder can't be written, progress is kept in the user's state folder (or the one
that SEAMRUN_STATE names), and begins there with what lies beside the project. When the folder can be written again,
what was added goes back beside it. Of two files of which one continues the other, the longer counts. Where both went
on by themselves, the one beside the project counts, and the other is set aside under a told name.
"""

from __future__ import annotations

import contextlib
import errno
import os
from types import TracebackType
from typing import NamedTuple

from planner.event import Event
from tui.bench_lock import BenchLock, HeldElsewhere, take_lock
from tui.keep_anew import keep_anew
from tui.progress_file import Damaged, Lost, ProgressFile, ProgressTrouble, WriteForbidden
from tui.progress_place import Place, find_places, set_aside
from tui.spell_path import spell_path

__all__ = ["Lost", "Progress", "ProgressTrouble", "open_progress", "read_events"]

_FORBIDDEN = (errno.EACCES, errno.EPERM, errno.EROFS)
_LOOK_ON = "Another bench has this project open. This one looks on and saves nothing."
_NO_LOCKS = "No lock can be held in this folder. Open the project at one bench only."


class Progress:
    """The progress of one project, open at this bench.

    `said` are words for the maker about how it was found. Without `can_write` another bench has the project, and
    this one looks on. To be used from the thread that opened it.
    """

    def __init__(
        self,
        places: tuple[Place, Place],
        file: ProgressFile | None,
        lock: BenchLock | None,
        said: tuple[str, ...],
        held: contextlib.ExitStack,
    ) -> None:
        """For `open_progress` only. `held` is closed at the end; without a file, there is none to look at yet, and
        without a lock it is only looked at."""
        self.said = said
        self._places = places
        self._file = file
        self._lock = lock
        self._held = held

    @property
    def can_write(self) -> bool:
        return self._lock is not None

    @property
    def events(self) -> tuple[Event, ...]:
        """All events so far, oldest first."""
        return tuple(self._file.events) if self._file else ()

    @property
    def path(self) -> str:
        """The file that counts."""
        return self._file.place.path if self._file else self._places[0].path

    def append(self, *events: Event) -> tuple[str, ...]:
        """Keep all of these events or none. When this returns, they outlast a crash and a power cut.

        Where the file was lost meanwhile, all events are kept anew: what is returned are words for the maker about
        that. ProgressTrouble if they can't be kept; then none is there, and the next append may go well. ValueError
        for what is no event.
        """
        if self._lock is None or self._file is None:
            raise ProgressTrouble("Not saved. Another bench has this project open, this one looks on.")
        try:
            self._file.append(events)
        except Lost:
            said = self._keep_anew(self._file, self._lock)
            self._file.append(events)
            return said
        return ()

    def make_sure(self) -> tuple[str, ...]:
        """Look whether all events are in the file, and keep them anew where they are not: words for the maker about
        that. ProgressTrouble if they can't be kept."""
        if self._lock is None or self._file is None or self._file.is_whole():
            return ()
        return self._keep_anew(self._file, self._lock)

    def _keep_anew(self, lost: ProgressFile, lock: BenchLock) -> tuple[str, ...]:
        try:
            self._file, words = keep_anew(lost, lock.keeps_out())
        except ProgressTrouble as trouble:
            raise ProgressTrouble(f"Not saved. {trouble.words.removeprefix('Not saved. ')}") from trouble
        lost.close()
        self._held.callback(self._file.close)
        return (words,) if words else ()

    def reread(self) -> tuple[Event, ...]:
        """The events that the other bench has added since the last look; none where this bench writes itself.

        Lost if what was there before is no longer the same, else ProgressTrouble if it can't be read now.
        """
        if self.can_write:
            return ()
        if self._file is not None:
            return self._file.reread()
        self.look_anew()
        return self.events

    def look_anew(self) -> None:
        """Look at what counts now, from its first event, while another bench has the project."""
        seen = _look(self._places)
        if self._file is not None:
            self._file.close()
        self._file = seen.file
        if seen.file is not None:
            self._held.callback(seen.file.close)

    def take_over(self) -> tuple[str, ...] | None:
        """Take the project where the other bench has left it: words for the maker about how it was found.

        None where the other bench still has it. ProgressTrouble where progress can't be kept.
        """
        with contextlib.ExitStack() as held:
            try:
                file, lock, said = _open(self._places, held)
            except HeldElsewhere:
                return None
            self._held.close()
            self._file, self._lock, self._held = file, lock, held.pop_all()
            return said

    def close(self) -> None:
        """Let go of the files and the lock; everything is saved already."""
        self._held.close()

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def open_progress(project: str | os.PathLike[str]) -> Progress:
    """Open the progress of a project at this bench, and begin it where there is none.

    A damaged file is set aside under a told name, and a new one begun. ProgressTrouble, with nothing renamed, where
    progress can be neither read nor kept.
    """
    places = find_places(project)
    with contextlib.ExitStack() as held:
        try:
            file, lock, said = _open(places, held)
        except HeldElsewhere:
            held.close()
            seen = _look(places)
            if seen.file is not None:
                held.callback(seen.file.close)
            return Progress(places, seen.file, None, (*seen.said, _LOOK_ON), held.pop_all())
        return Progress(places, file, lock, said, held.pop_all())


def _open(places: tuple[Place, Place], held: contextlib.ExitStack) -> tuple[ProgressFile, BenchLock, tuple[str, ...]]:
    """The file to write, its lock, and words about how it was found. HeldElsewhere, ProgressTrouble."""
    said: list[str] = []
    try:
        file, lock = _open_beside(places, held, said) or _open_away(places, held, said)
    except OSError as error:
        called = spell_path(error.filename or places[0].path)
        raise ProgressTrouble(f"{called} can't be used: {error.strerror}.") from error
    return file, lock, tuple(dict.fromkeys(said))


def read_events(project: str | os.PathLike[str]) -> tuple[tuple[Event, ...], tuple[str, ...]]:
    """The events of a project, and words about where they lie, without taking the lock or making any file.

    ProgressTrouble where they can't be read, or what was there is damaged.
    """
    seen = _look(find_places(project))
    if seen.file is not None:
        seen.file.close()
    if seen.is_damaged and not seen.events:
        raise ProgressTrouble(f"{seen.said[0]} Open the bench: it is set aside there, and progress begins anew.")
    return seen.events, seen.said


class _Seen(NamedTuple):
    events: tuple[Event, ...]
    file: ProgressFile | None  # open; None where there is none, or it could only be read as a copy
    said: tuple[str, ...] = ()
    is_damaged: bool = False


def _look(places: tuple[Place, Place]) -> _Seen:
    """Read what counts, without a lock and without making anything."""
    beside, away = places
    theirs = _look_at(beside)
    ours = _look_at(away)
    said: tuple[str, ...] = ()
    is_longer = len(ours.events) > len(theirs.events)
    if _continues(ours.events, theirs.events) and (is_longer or ours.file is not None):
        chosen, other = ours, theirs
        said = (f"Progress is kept in {away.called}.",)
    else:
        chosen, other = theirs, ours
    if _have_parted(theirs.events, ours.events):
        said = (f"{away.called} went on by itself and does not count.",)
    if other.file is not None:
        other.file.close()
    return _Seen(chosen.events, chosen.file, (*theirs.said, *ours.said, *said), theirs.is_damaged or ours.is_damaged)


def _look_at(place: Place) -> _Seen:
    try:
        file = ProgressFile(place, to_write=False)
    except FileNotFoundError:
        return _Seen((), None)
    except Damaged:
        return _Seen((), None, (f"{place.called} is damaged and does not count.",), is_damaged=True)
    except WriteForbidden:
        return _look_at_copy(place)
    return _Seen(tuple(file.events), file)


def _look_at_copy(place: Place) -> _Seen:
    """After a kill, what was begun must be undone before anything can be read: where that is forbidden, in a copy."""
    import shutil
    import tempfile

    try:
        with tempfile.TemporaryDirectory(prefix="seamrun-") as folder:
            copy = Place(os.path.join(folder, "progress"), place.called)
            shutil.copyfile(place.path, copy.path)
            with contextlib.suppress(FileNotFoundError):
                shutil.copyfile(f"{place.path}-journal", f"{copy.path}-journal")
            seen = _look_at(copy)
            if seen.file is not None:
                seen.file.close()
            return seen._replace(file=None)
    except OSError as error:
        raise ProgressTrouble(f"{place.called} can't be read: {error.strerror}.") from error


def _open_beside(
    places: tuple[Place, Place], held: contextlib.ExitStack, said: list[str]
) -> tuple[ProgressFile, BenchLock] | None:
    """The file beside the project; None where it can't be written."""
    beside, away = places
    try:
        lock = _hold(beside, held, said)
        file = _open_to_write(beside, held, said)
    except WriteForbidden:
        return None
    except OSError as error:
        if error.errno in _FORBIDDEN:
            return None
        raise
    if os.path.lexists(away.path):
        _bring_back(file, away, held, said)
    return file, lock


def _bring_back(file: ProgressFile, away: Place, held: contextlib.ExitStack, said: list[str]) -> None:
    """Add what was kept away while the folder could not be written, then set that file aside."""
    _hold(away, held, said)
    seen = _look_at(away)
    if seen.file is not None:
        seen.file.close()
    here = tuple(file.events)
    has_parted = _have_parted(here, seen.events)
    if not has_parted:
        file.append(seen.events[len(here) :])
    aside = set_aside(away)
    if seen.said:
        said.append(f"{away.called} was damaged. It is set aside as {aside.called}.")
    elif has_parted:
        said.append(_word_parted(away, aside))
    elif len(seen.events) > len(here):
        said.append(f"What was kept in {away.called} is beside the project again.")


def _open_away(
    places: tuple[Place, Place], held: contextlib.ExitStack, said: list[str]
) -> tuple[ProgressFile, BenchLock]:
    """The file in the state folder, brought up to what lies beside the project."""
    beside, away = places
    os.makedirs(os.path.dirname(away.path), exist_ok=True)
    lock = _hold(away, held, said)
    seen = _look_at(beside)
    if seen.file is not None:
        seen.file.close()
    said += seen.said
    file = _open_to_write(away, held, said)
    if _have_parted(tuple(file.events), seen.events):
        file.close()
        said.append(_word_parted(away, set_aside(away)))
        file = _open_to_write(away, held, said)
    file.append(seen.events[len(file.events) :])
    if seen.events:
        said.append(f"{beside.called} can't be written. It counts, and what is sewn now is kept in {away.called}.")
    else:
        said.append(f"The project's folder can't be written. Progress is kept in {away.called}.")
    return file, lock


def _hold(place: Place, held: contextlib.ExitStack, said: list[str]) -> BenchLock:
    lock = take_lock(f"{place.path}.lock")
    held.callback(lock.release)
    if not lock.is_firm:
        said.append(_NO_LOCKS)
    return lock


def _open_to_write(place: Place, held: contextlib.ExitStack, said: list[str]) -> ProgressFile:
    try:
        file = ProgressFile(place, to_write=True)
    except Damaged:
        aside = set_aside(place)
        said.append(f"{place.called} was damaged. It is set aside as {aside.called}, and progress begins anew.")
        file = ProgressFile(place, to_write=True)
    held.callback(file.close)
    return file


def _continues(longer: tuple[Event, ...], shorter: tuple[Event, ...]) -> bool:
    return longer[: len(shorter)] == shorter


def _have_parted(these: tuple[Event, ...], those: tuple[Event, ...]) -> bool:
    return not _continues(these, those) and not _continues(those, these)


def _word_parted(place: Place, aside: Place) -> str:
    return f"{place.called} went on by itself. It does not count and is set aside as {aside.called}."
