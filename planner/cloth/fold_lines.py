"""Sentences -> lines of the printed cloth, as wide as a narrow terminal; no number is parted from its fraction."""

from __future__ import annotations

import re
from textwrap import wrap

WIDTH = 60
_FRACTION = re.compile(r"(?<=\d) (?=\d+/\d)")


def fold_lines(text: str, first: str = "", rest: str = "", together: re.Pattern[str] = _FRACTION) -> list[str]:
    """The lines, the first and the others after their indents. A space that `together` matches is not broken at."""
    whole = together.sub("\u00a0", text)
    lines = wrap(whole, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return [line.replace("\u00a0", " ") for line in lines]
