"""The step at hand as rows of words: what must be read first stands first, and pictures give way to words.

Pure: widths and heights in, rows of spans out. Colours come later, by the role of a span.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Literal, NamedTuple

from rich.cells import cell_len, chop_cells

from tui.canvas import Canvas, Cell

Role = Literal["plain", "title", "strong", "bar", "rest", "why", "banner", "trouble", "quiet"]
LEAST_PICTURE, SMALL_PICTURE, MOST_PICTURE = 5, 6, 19
LARGE = 116, 40  # columns and rows: any picture has room there


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
    is_bent: bool = False  # a seam that turns or is sewn in part: words alone hardly tell it
    large: str = ""  # the key that shows its picture large


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
    drawn = _draw(picture, width, room - 2)
    if len(drawn) <= (SMALL_PICTURE if view.is_bent else 0) and room + len(then) >= LEAST_PICTURE:
        # Blanks give way to it, then what comes next
        drawn = max(drawn, _draw(picture, width, room), key=len)
        if not drawn and then:
            drawn = _draw(picture, width, room + len(then))
            if drawn:
                room += len(then)
                then.clear()
    where = [view.rest] if view.rest else []
    if not drawn and view.large and picture(*LARGE) is not None:  # it is to be seen elsewhere
        seen = f"{view.large}: the picture"
        if room < 0:
            where.append(seen)
        elif room + len(then) < 1:
            left = head[0][0]
            assert isinstance(left, Span)
            head[0] = _between(left, Span(f"{seen}   {view.place}", "quiet"), width)
        else:
            if room < 1:
                room += len(then)
                then.clear()
            drawn = [(Span(shorten(f"No room for the picture here; {view.large} shows it", width), "quiet"),)]
    if room < 0:
        shown = max(1, len(does) + room - 1)
        more = ", ".join((f"and so on: {len(does) - shown} more lines", *where))
        does = [*does[:shown], (Span(shorten(more, width), "quiet"),)]
        room = 0
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
    canvas = picture(width - 2, min(height, MOST_PICTURE))
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
