"""Loading many modules at one go, as fast as it goes."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def loading() -> Iterator[None]:
    """For imports: what they bring stays to the end, so that looking for what could be thrown away is time lost."""
    gc.disable()
    try:
        yield
    finally:
        gc.freeze()
        gc.enable()
