"""The step at hand in large print: the verb, the letters and the tally, nothing else."""

from __future__ import annotations

import re

from tui.large_print import spell_large
from tui.lay_out_card import CardView, Role, Row, Span, wrap_words

_LETTERS = re.compile(r"^(two [A-Z]+'*|[A-Z]+'*(?: on [A-Z]+'*)?)(?=$|[ :])")


def lay_out_large(view: CardView, width: int, height: int) -> tuple[Row, ...]:
    """Exactly `height` rows; what has no large form that fits is said in plain words."""
    letters = _LETTERS.match(view.what)
    words = [(view.verb, view.verb), (letters[1] if letters else "", view.what)]
    if view.total > 1:
        words.append((f"{view.done}/{view.total}", f"{view.done} of {view.total}"))
    banner = [(Span(line, "banner"),) for line in wrap_words(view.banner, width) if line]
    role: Role = "trouble" if view.is_trouble else "strong"
    notice = [(Span(line, role),) for line in wrap_words(view.notice, width) if line]
    # The verb shrinks first, the letters last
    for large in ((0, 1, 2), (1, 2), (1,), ()):
        rows: list[Row] = [*banner]
        for place, (text, plain) in enumerate(words):
            rows += _large(text if place in large else "", plain, width)
        if len(rows) + len(notice) <= height or not large:
            break
    rows = rows[: max(0, height - len(notice))]
    return (*rows, *((),) * (height - len(rows) - len(notice)), *notice)


def _large(text: str, plain: str, width: int) -> list[Row]:
    lines = spell_large(text, width) if text else None
    if lines is None:
        return [*((Span(line, "title"),) for line in wrap_words(plain, width)), ()]
    return [*((Span(line, "title"),) for line in lines), ()]
