"""The step at hand in large print: the verb, the letters and the tally, nothing else."""

from __future__ import annotations

import re

from tui.large_print import spell_large
from tui.lay_out_card import CardView, Row, Span, wrap_words

_LETTERS = re.compile(r"^(two [A-Z]+'*|[A-Z]+'*(?: on [A-Z]+'*)?)(?=$|[ :])")


def lay_out_large(view: CardView, width: int, height: int) -> tuple[Row, ...]:
    """Exactly `height` rows; what has no large form that fits is said in plain words."""
    letters = _LETTERS.match(view.what)
    tally = f"{view.done}/{view.total}" if view.total > 1 else ""
    rows: list[Row] = [(Span(line, "banner"),) for line in wrap_words(view.banner, width) if line]
    rows += _large(view.verb, view.verb, width)
    rows += _large(letters[1] if letters else "", view.what, width)
    if tally:
        rows += _large(tally, f"{view.done} of {view.total}", width)
    if view.notice:
        rows += [(Span(line, "trouble" if view.is_trouble else "strong"),) for line in wrap_words(view.notice, width)]
    return (*rows[:height], *((),) * (height - len(rows)))


def _large(text: str, plain: str, width: int) -> list[Row]:
    lines = spell_large(text, width) if text else None
    if lines is None:
        return [*((Span(line, "title"),) for line in wrap_words(plain, width)), ()]
    return [*((Span(line, "title"),) for line in lines), ()]
