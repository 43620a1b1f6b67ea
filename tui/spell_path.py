"""A file's name for the eye."""

from __future__ import annotations

import os


def spell_path(path: str) -> str:
    """A path as it can be shown on any screen: what is no character there is a question mark."""
    text = os.fsencode(path).decode("utf-8", "replace")
    return "".join(sign if sign.isprintable() else "?" for sign in text)
