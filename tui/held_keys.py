"""A key that is held down must not count ten pairs."""

from __future__ import annotations

from collections.abc import Callable


class HeldKeys:
    """Tells a key that is held, or bounces, from one that is pressed again. `clock` gives seconds, from any start."""

    def __init__(self, clock: Callable[[], float], milliseconds: int = 150) -> None:
        self._clock = clock
        self._pause = milliseconds / 1000
        self._last_key = ""
        self._last_at = 0.0

    def is_held(self, key: str) -> bool:
        """Whether this key follows itself faster than hands sew. A held key stays held until there is a pause."""
        at = self._clock()
        held = key == self._last_key and at - self._last_at < self._pause
        self._last_key, self._last_at = key, at
        return held
