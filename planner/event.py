"""What happened at the bench, one record for each key that changed something."""

from __future__ import annotations

from typing import NamedTuple


class Event(NamedTuple):
    kind: str  # "done", "back", "spoiled", "wrong", "letter", ...
    step: str  # the step's name (content digest) or ""
    count: int  # type: ignore[assignment]  # a field, not how often a tuple holds something
    body: str  # JSON text or ""
    at: int  # milliseconds since 1970, UTC
