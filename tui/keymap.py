"""Keys of the maker's own: checked before anything starts, so that no command is left without a key."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from planner.reading.nearest_name import NearestName
from tui.commands import COMMANDS

_NEVER_ARRIVE = {
    "ctrl+i": "tab",
    "ctrl+m": "enter",
    "ctrl+h": "backspace",
    "alt+enter": "enter",
    "ctrl+space": "ctrl+@",
    "ctrl+enter": "enter",
    "shift+enter": "enter",
}
_NAMED = {
    "space", "enter", "tab", "escape", "backspace", "delete", "insert", "home", "end", "pageup", "pagedown", "up",
    "down", "left", "right", "question_mark", "slash", "full_stop", "comma", "minus", "plus", "equals_sign",
    "semicolon", "colon", "exclamation_mark", "at", "number_sign", "asterisk", "underscore", "less_than_sign",
    "greater_than_sign", "left_square_bracket", "right_square_bracket", "circumflex_accent", "grave_accent", "tilde",
    "shift+tab", "ctrl+@",
}  # fmt: skip
# Which screens hear a key of each home
_HEARD_AT = {
    "app": ("bench", "page", "block", "cloth", "return"),
    "page": ("page", "block", "cloth", "return", "leave"),
    "ask": ("spoiled", "wrong"),
}
_KEY = re.compile(r"[a-z0-9A-Z]|f([1-9]|1[0-9]|2[0-4])|ctrl\+[a-z]")


def check_keymap(keymap: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """What is wrong with a keymap (command id -> keys with commas between): (command id, words), all at once."""
    known = {command.id: command for command in COMMANDS}
    names = NearestName()
    faults: list[tuple[str, str]] = []
    for name, keys in keymap.items():
        if name not in known:
            faults.append((name, f"there is no command {name}{names.suggest(name, tuple(known))}"))
            continue
        faults += [(name, words) for words in _check_keys(keys)]
    return (*faults, *_find_clashes(keymap, known))


def _check_keys(keys: str) -> Iterable[str]:
    if not keys.strip():
        yield "no key is given; write one like f5, or several with commas"
        return
    for key in keys.split(","):
        key = key.strip()
        if key in _NEVER_ARRIVE:
            yield f"a terminal sends {_NEVER_ARRIVE[key]} for {key}; take another key"
        elif not _KEY.fullmatch(key) and key not in _NAMED:
            yield f"'{key}' is no key; write a letter, space, enter, left, f5, ctrl+k, question_mark or the like"


def _find_clashes(keymap: Mapping[str, str], known: Mapping[str, object]) -> Iterable[tuple[str, str]]:
    """Two commands that would hear the same key where both can be pressed: names both."""
    users: dict[tuple[str, str], str] = {}
    for command in COMMANDS:
        homes = _HEARD_AT.get(command.home, (command.home,))
        for key in (keymap.get(command.id) or command.keys).split(","):
            for home in homes:
                other = users.setdefault((home, key.strip()), command.id)
                if other != command.id and (command.id in keymap or other in keymap):
                    mine = command.id if command.id in keymap else other
                    yield mine, f"{key.strip()} is the key of both {other} and {command.id}; give one of them another"
                    break


def keys_of(keymap: Mapping[str, str]) -> dict[str, str]:
    """The keys of every command, as the maker has them."""
    return {
        command.id: ",".join(key.strip() for key in keymap.get(command.id, command.keys).split(","))
        for command in COMMANDS
    }
