"""Progress that was lost under an open bench, removed, damaged or changed: all that the bench knows is kept anew."""

from __future__ import annotations

import os

from tui.progress_file import Damaged, Lost, ProgressFile, ProgressTrouble
from tui.progress_place import Place, set_aside


def keep_anew(lost: ProgressFile, is_alone: bool) -> tuple[ProgressFile, str]:
    """The file that goes on in place of a lost one, with all its events, and words for the maker.

    What lies there and is no beginning of them is set aside, but not where another bench may have written it (not
    `is_alone`), or where it went on from them: then, and where nothing can be kept, ProgressTrouble.
    """
    place, events = lost.place, lost.events
    try:
        words = _make_room(place, lost, is_alone)
        file = ProgressFile(place, to_write=True)
        try:
            file.append(events[len(file.events) :])
        except BaseException:
            file.close()
            raise
    except Damaged as error:
        raise ProgressTrouble(f"{place.called} is damaged.") from error
    except OSError as error:
        raise ProgressTrouble(f"{place.called} can't be used: {error.strerror}.") from error
    return file, words


def _make_room(place: Place, lost: ProgressFile, is_alone: bool) -> str:
    """See to it that nothing lies there but a beginning of the events; words about what lay there."""
    anew = "All that is counted is kept anew."
    if not os.path.isdir(os.path.dirname(place.path)):
        raise ProgressTrouble(
            f"The folder of {place.called} is gone. Put it back, or leave and open the project again."
        )
    try:
        there = ProgressFile(place, to_write=False)
    except FileNotFoundError:
        return f"{place.called} was removed. {anew}"
    except Damaged:
        return f"{place.called} was damaged. It is set aside as {set_aside(place).called}. {anew}"
    there.close()
    if there.events == lost.events:
        return ""
    if there.events == lost.events[: len(there.events)]:
        return f"{place.called} had lost a part. {anew}"
    if not is_alone or there.events[: len(lost.events)] == lost.events:
        raise Lost(f"{place.called} was changed by another program. Leave, and open the project again.")
    return f"{place.called} was changed by another program. It is set aside as {set_aside(place).called}. {anew}"
