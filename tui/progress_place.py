"""Where the progress of a project lies, what it is called on screen, and how a file of it is set aside."""

from __future__ import annotations

import os
from hashlib import sha256
from itertools import count
from typing import NamedTuple

from tui.spell_path import spell_path

_TAILS = ("-journal", "-wal", "-shm")  # what SQLite keeps beside a file


class Place(NamedTuple):
    path: str
    called: str  # in words for the maker


def find_places(project: str | os.PathLike[str]) -> tuple[Place, Place]:
    """Beside the project, and in the user's state folder for a project whose folder can't be written.

    Links are followed, so that all names of one project share one progress. Nothing is made.
    """
    real = os.path.realpath(project)
    beside = f"{real}.progress"
    digest = sha256(os.fsencode(os.path.normcase(real))).hexdigest()[:16]
    away = os.path.join(_find_state_folder(), f"{os.path.basename(real)[:40]}-{digest}.progress")
    return Place(beside, spell_path(os.path.basename(beside))), Place(away, spell_path(away))


def _find_state_folder() -> str:
    chosen = os.environ.get("SEAMRUN_STATE")
    if chosen:
        return os.path.abspath(chosen)
    import platformdirs

    return platformdirs.user_state_dir("seamrun", appauthor=False)


def is_write_forbidden(path: str) -> bool:
    """Whether the system would refuse to write this file or to make others beside it."""
    if not os.access(os.path.dirname(path), os.W_OK | os.X_OK):
        return True
    return os.path.exists(path) and not os.access(path, os.W_OK)


def set_aside(place: Place) -> Place:
    """Give the file, which nobody may have open, the first free name `NAME.set-aside-1`, `-2` ...

    What SQLite kept beside it goes along, so that nothing is lost and nothing is taken for part of the next file.
    OSError where the folder can't be written.
    """
    aside = _claim_name(place)
    try:
        for tail in _TAILS:
            if os.path.lexists(place.path + tail):
                os.rename(place.path + tail, aside.path + tail)
        os.replace(place.path, aside.path)
    except OSError:
        os.unlink(aside.path)
        raise
    return aside


def _claim_name(place: Place) -> Place:
    """Make an empty file under the free name: from then on nobody else takes it for free."""
    for number in count(1):
        aside = Place(f"{place.path}.set-aside-{number}", f"{place.called}.set-aside-{number}")
        if any(os.path.lexists(aside.path + tail) for tail in _TAILS):
            continue
        try:
            os.close(os.open(aside.path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o666))
        except FileExistsError:
            continue
        return aside
    raise AssertionError("count has no end")
