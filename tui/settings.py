"""The maker's settings: typed, checked when the workspace opens, faults told with their lines."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any, Literal

from pydantic import BaseModel, Field, ValidationError

from planner.fault import Fault
from planner.reading.collect_faults import FaultList
from planner.reading.nearest_name import NearestName
from planner.reading.read_yaml import Keyed, Text, read_nodes
from tui.keymap import check_keymap


class Settings(BaseModel, frozen=True, extra="forbid"):
    theme: Literal["dark", "light"] = "dark"
    """The colours to begin with: dark or light."""

    large_print: bool = False
    """Begin in large print: the verb, the letters and the tally."""

    held_key: int = Field(default=150, ge=50, le=2000)
    """The same key again within so many milliseconds is a held key and is not counted: 50 to 2000."""

    keymap: dict[str, str] = Field(default_factory=dict)
    """Keys of your own, by command: {bench.one: f5}. The keys page lists the commands."""


_SHOULD_BE = {
    "theme": "write dark or light",
    "large_print": "write true or false",
    "held_key": "write a whole number of milliseconds from 50 to 2000",
    "keymap": "write commands with their keys, like {bench.one: f5}",
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
    lines: dict[str, int] = {}
    names = NearestName()
    for key, node in root.pairs:
        if key.value in values:
            faults.add(key.line, "settings", f"{key.value} is written twice; keep one")
            continue
        lines[key.value] = node.line
        if key.value not in Settings.model_fields:
            faults.add(
                key.line,
                "settings",
                f"there is no setting {key.value}{names.suggest(key.value, tuple(Settings.model_fields))}",
            )
        elif isinstance(node, Text):
            values[key.value] = node.value
        elif isinstance(node, Keyed):
            values[key.value], inner = {}, node
            for name, value in inner.pairs:
                lines[f"{key.value}.{name.value}"] = name.line
                if name.value in values[key.value]:
                    faults.add(name.line, key.value, f"{name.value} is written twice; keep one")
                elif isinstance(value, Text):
                    values[key.value][name.value] = value.value
                else:
                    faults.add(name.line, key.value, f"{name.value} takes keys, like f5 or {name.value}: f5,x")
        else:
            faults.add(node.line, "settings", f"{key.value}: {_SHOULD_BE[key.value]}")
    try:
        settings = Settings.model_validate(values)
    except ValidationError as error:
        for one in error.errors():
            wrong = str(one["loc"][0])
            faults.add(lines.get(wrong, 1), "settings", f"{wrong}: {_SHOULD_BE.get(wrong, 'this cannot be read')}")
        return None, faults.tell()
    for command, words in check_keymap(settings.keymap):
        faults.add(lines.get(f"keymap.{command}", 1), "keymap", words)
    found = faults.tell()
    return (None if found else settings), found


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
