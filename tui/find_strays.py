"""Progress whose project is gone: most likely it has another name now."""

from __future__ import annotations

import os

from tui.progress_place import find_places
from tui.spell_path import spell_path

_ENDING = ".progress"


def hint_at_strays(project: str) -> tuple[str, ...]:
    """A line that names what lies beside a project and belongs to no project of that folder; nothing where none does.

    For a project without progress of its own.
    """
    folder, own = os.path.split(find_places(project)[0].path)
    try:
        names = {entry.name for entry in os.scandir(folder) if entry.is_file()}
    except OSError:
        return ()
    strays = sorted(
        name for name in names if name.endswith(_ENDING) and name != own and name.removesuffix(_ENDING) not in names
    )
    if not strays:
        return ()
    called = ", ".join(map(spell_path, strays[:3])) + (f" and {len(strays) - 3} more" if len(strays) > 3 else "")
    be, it = ("is", "it") if len(strays) == 1 else ("are", "that one")
    own_name = spell_path(own)
    return (f"{called} {be} here without a project. Was this one renamed? Then leave, and rename {it} to {own_name}",)
