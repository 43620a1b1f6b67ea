"""The step at hand as rows of words: what must be read first stands first, and pictures give way to words.

Pure: widths and heights in, rows of spans out. Colours come later, by the role of a span.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Literal, NamedTuple

from rich.cells import cell_len, chop_cells

from tui.canvas import Canvas, Cell

Role = Literal["plain", "title", "strong", "bar", "rest", "why", "banner", "trouble", "quiet"]
LEAST_PICTURE, MOST_PICTURE = 5, 19


class Span(NamedTuple):
    text: str
    role: Role = "plain"


Row = tuple[Span | Cell, ...]


class CardView(NamedTuple):
    """All that the card shows. `left` is what is left of the step, of the pass and in all, in words."""

    project: str
    place: str
    banner: str
    verb: str
    what: str
    done: int
    total: int
    left: tuple[str, ...]
    does: tuple[str, ...]
    why: tuple[str, ...]
    then: str
    notice: str
    is_trouble: bool
    picture: object = None  # what the picture is of: equal where it need not be drawn again
    keeps_why: bool = False  # its `why` stays, in the place of the project's name if need be: it says what is made
    rest: str = ""  # where all of it stands, for a screen that has no room


def lay_out_card(
    view: CardView, width: int, height: int, picture: Callable[[int, int], Canvas | None]
) -> tuple[Row, ...]:
    """Exactly `height` rows. `picture` draws what fits into the width and height it is given, or nothing."""
    head = _head(view, width)
    does = [row for line in view.does for row in _wrap(line, width, "plain", indent=2)]
    why = [row for line in view.why for row in _wrap(line, width, "why", indent=2)]
    then = list(_wrap(view.then, width, "quiet", indent=5)) if view.then else []
    notice = list(_wrap(view.notice, width, "trouble" if view.is_trouble else "strong")) if view.notice else []
    width = max(width, 1)
    # What is needed least goes first, until the rest fits
    for spare in (then, why) if view.keeps_why else (why, then):
        if len(head) + len(does) + len(why) + len(then) + len(notice) > height:
            if spare is why and view.keeps_why:  # the project's name gives way to it
                head[0] = _between(Span(" ".join(view.why), "why"), Span(view.place, "quiet"), width)
            spare.clear()
    room = height - len(head) - len(does) - len(why) - len(then) - len(notice)
    if room < 0:
        shown = max(1, len(does) + room - 1)
        more = f"and so on: {len(does) - shown} more lines{f', {view.rest}' if view.rest else ''}"
        does = [*does[:shown], (Span(shorten(more, width), "quiet"),)]
        room = 0
    drawn = _draw(picture, width, min(room - 2, MOST_PICTURE))
    room -= len(drawn)
    blank: Row = ()
    rows: list[Row] = [*head]
    for block in (drawn, does, why, then):
        if block:
            if room > 0:
                rows.append(blank)
                room -= 1
            rows += block
    notice = notice[:height]
    rows = rows[: height - len(notice)]
    rows += [blank] * (height - len(notice) - len(rows))
    return (*rows, *notice)


def _draw(picture: Callable[[int, int], Canvas | None], width: int, height: int) -> list[Row]:
    if height < LEAST_PICTURE:
        return []
    canvas = picture(width - 2, height)
    return [] if canvas is None else [(Span("  "), *row) for row in canvas]


def _head(view: CardView, width: int) -> list[Row]:
    """Project and place; verb, what and tally; the bar of the tally."""
    rows: list[Row] = [_between(Span(view.project, "quiet"), Span(view.place, "quiet"), width)]
    if view.banner:
        rows += _wrap(view.banner, width, "banner")
    tally = f"{view.done} of {view.total}" if view.total > 1 else ("done" if view.done else "")
    title = f"{view.verb}  {view.what}"
    beside = width - cell_len(tally) - 2 if tally else width
    if beside < cell_len(view.verb):  # too narrow for both: the tally goes below
        rows += [(Span(line, "title"),) for line in (*wrap_words(title, width), *wrap_words(tally, width))]
    else:
        first, *more = wrap_words(title, beside)
        gap = " " * max(0, width - cell_len(first) - cell_len(tally))
        rows.append((Span(first, "title"), Span(gap), Span(tally, "title")))
        rows += [(Span(line, "title"),) for line in more]
    if view.total > 1:
        rows += _bar(view, width)
    elif view.left:
        rows += _wrap(" · ".join(view.left), width, "quiet")
    return rows


def _bar(view: CardView, width: int) -> Iterable[Row]:
    words = " · ".join(view.left)
    long = min(max(8, min(40, width - len(words) - 3)), width)
    full = view.done * long // view.total
    bar = (Span("█" * full, "bar"), Span("░" * (long - full), "rest"))
    if long + 2 + len(words) <= width:
        return [(*bar, Span("  "), Span(words, "strong"))]
    return [bar, *_wrap(words, width, "strong")]


def _between(left: Span, right: Span, width: int) -> Row:
    """One row, the left text shortened if both do not fit, and the right one if it does not fit alone."""
    right = right._replace(text=shorten(right.text, width))
    text = shorten(left.text, width - cell_len(right.text) - 2)
    gap = " " * max(0, width - cell_len(text) - cell_len(right.text))
    return (Span(text, left.role), Span(gap), right)


def shorten(text: str, width: int) -> str:
    """As much of a text as fits into so many columns, with a sign where something is left out."""
    if cell_len(text) <= width:
        return text
    if width < 2:
        return "…"[: max(0, width)]
    return f"{chop_cells(text, width - 1)[0]}…"


def _wrap(text: str, width: int, role: Role, indent: int = 0) -> list[Row]:
    lines = wrap_words(text, width, indent)
    return [(Span(line, role),) for line in lines]


def wrap_words(text: str, width: int, indent: int = 0) -> list[str]:
    """Lines of at most `width` columns; those after the first begin with `indent` blanks. Long words are broken."""
    width = max(width, 1)
    indent = min(indent, width - 1)
    lines: list[str] = []
    body = text.lstrip(" ")
    line = text[: len(text) - len(body)][: max(0, width - 2)]  # a letter that is two columns wide has room
    is_empty = True  # nothing but blanks stands on the line so far
    for word in body.split(" "):
        start = line if is_empty else " " * indent
        candidate = f"{line}{word}" if is_empty else f"{line} {word}"
        if cell_len(candidate) <= width:
            line, is_empty = candidate, False
            continue
        if not is_empty:
            lines.append(line)
            start = " " * indent
        while cell_len(start + word) > width:
            piece = chop_cells(word, max(1, width - cell_len(start)))[0]
            lines.append(start + piece)
            word = word[len(piece) :]
            start = " " * indent
        line, is_empty = start + word, False
    lines.append(line)
    return lines
