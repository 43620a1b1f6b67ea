"""The maker's settings: typed, checked when the workspace opens, faults told with their lines."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any, Literal

from planner.fault import Fault
from planner.reading.collect_faults import FaultList
from planner.reading.nearest_name import NearestName
from planner.reading.read_yaml import Keyed, Node, Text, read_nodes
from tui.keymap import check_keymap


@dataclass(frozen=True)
class Settings:
    # No pydantic: loading it took a sixth of the time until the first screen, for four values
    theme: Literal["dark", "light"] = "dark"
    """The colours to begin with: dark or light."""

    large_print: bool = False
    """Begin in large print: the verb, the letters and the tally."""

    held_key: int = 150
    """The same key again within so many milliseconds is a held key and is not counted: 50 to 2000."""

    keymap: Mapping[str, str] = field(default_factory=dict)
    """Keys of your own, by command: {bench.one: f5}. The keys page lists the commands."""


_NAMES = tuple(one.name for one in fields(Settings))
_SHOULD_BE = {
    "theme": "write dark or light",
    "large_print": "write true or false",
    "held_key": "write a whole number of milliseconds from 50 to 2000",
    "keymap": "write commands with their keys, like {bench.one: f5}",
}
_YES_OR_NO = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


def _read_theme(text: str) -> str | None:
    return text if text in ("dark", "light") else None


def _read_yes_or_no(text: str) -> bool | None:
    return _YES_OR_NO.get(text.lower())


def _read_milliseconds(text: str) -> int | None:
    return int(text) if re.fullmatch("[0-9]{2,4}", text) and 50 <= int(text) <= 2000 else None


_READERS: dict[str, Callable[[str], object]] = {
    "theme": _read_theme,
    "large_print": _read_yes_or_no,
    "held_key": _read_milliseconds,
}


def settings_file() -> Path:
    """Where the settings lie: the file that SEAMRUN_SETTINGS names, else in the user's configuration folder."""
    named = os.environ.get("SEAMRUN_SETTINGS")
    if named:
        return Path(named)
    from platformdirs import user_config_path

    return user_config_path("seamrun") / "settings.yaml"


def read_settings(text: str) -> tuple[Settings | None, tuple[Fault, ...]]:
    """The settings of a file's text, or all its faults."""
    faults = FaultList()
    root = read_nodes(text, faults) if text.strip() else Keyed(1, 0)
    if root is None:
        return None, faults.tell()
    values: dict[str, Any] = {}
    names = NearestName()
    for key, node in root.pairs:
        if key.value in values:
            faults.add(key.line, "settings", f"{key.value} is written twice; keep one")
        elif key.value not in _NAMES:
            words = f"there is no setting {key.value}{names.suggest(key.value, _NAMES)}"
            faults.add(key.line, "settings", words)
        else:
            values[key.value] = _read_value(key.value, node, faults)
            if values[key.value] is None:
                faults.add(node.line, "settings", f"{key.value}: {_SHOULD_BE[key.value]}")
    found = faults.tell()
    return (None if found else Settings(**values)), found


def _read_value(name: str, node: Node, faults: FaultList) -> object:
    """The value of one setting; None where it is none."""
    if name == "keymap":
        return _read_keymap(node, faults) if isinstance(node, Keyed) else None
    return _READERS[name](node.value) if isinstance(node, Text) else None


def _read_keymap(node: Keyed, faults: FaultList) -> dict[str, str]:
    keymap: dict[str, str] = {}
    lines: dict[str, int] = {}
    for name, value in node.pairs:
        if name.value in keymap:
            faults.add(name.line, "keymap", f"{name.value} is written twice; keep one")
        elif isinstance(value, Text):
            keymap[name.value] = value.value
            lines[name.value] = name.line
        else:
            faults.add(name.line, "keymap", f"{name.value} takes keys, like f5 or {name.value}: f5,x")
    for command, words in check_keymap(keymap):
        faults.add(lines[command], "keymap", words)
    return keymap


def load_settings() -> tuple[Settings | None, str, tuple[Fault, ...]]:
    """The settings of this user, the file they were looked for in, and its faults. No file: all as it comes."""
    file = settings_file()
    try:
        text = file.read_bytes().decode("utf-8")
    except FileNotFoundError:
        return Settings(), str(file), ()
    except OSError as trouble:
        return None, str(file), (Fault(1, "settings", f"cannot be read: {trouble.strerror}"),)
    except UnicodeDecodeError:
        return None, str(file), (Fault(1, "settings", "is no UTF-8 text; save it as UTF-8"),)
    settings, faults = read_settings(text)
    return settings, str(file), faults
