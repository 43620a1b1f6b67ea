"""The picture of laying out the quilt: which pile goes where, and which way the mark of its slip points."""

from __future__ import annotations

from rich.cells import cell_len

from planner.name_piles import Lying
from planner.say_step import Speaker
from planner.sheet import ArrangeWork
from planner.turns import to_eighths
from tui.canvas import BLANK, Canvas, Cell
from tui.lay_out_card import shorten
from tui.paint_scene import MARKS, even_rows

_GAPS = (3, 2, 1)  # columns between blocks, the best first
_LEAST_NAME = 6  # columns of the name of a block that is cut short


def draw_layout(speaker: Speaker, work: ArrangeWork, row: int, width: int, height: int) -> Canvas | None:
    """The rows of the quilt from the top, the one at hand strong; of more than `height` those round it. On point each
    row stands between those above and below it. Beside the letters stand the names of the blocks, where all of them
    have room. None where not even one row has room."""
    top = speaker.plan.blocks.top
    askew = top is not None and top.on_point
    words = [[_label(speaker, lying, askew) for lying in line] for line in work.rows]
    wide = max(len(word) for line in words for word in line)
    many = max(map(len, words))
    names = [f"  row {number}" for number in range(1, len(words) + 1)]
    beside = max(map(len, names)) + 2
    if height < 1:
        return None
    blocks = _shorten_names(speaker, work, (width + _GAPS[1] - beside) // many - wide - 1 - _GAPS[1] - askew)
    if blocks:
        wide += 1 + max(map(len, blocks.values()))
    for gap in _GAPS:
        step = wide + gap + ((wide + gap) % 2 if askew else 0)  # half of it must be whole on point
        if beside + step * many <= width + gap:
            break
    else:
        return None
    first = max(0, min(row - height // 2, len(words) - height))
    rows = []
    for number in range(first, min(len(words), first + height)):
        is_strong = number == row
        name = f"▶{names[number][1:]}" if is_strong else names[number]
        cells = _write(name.ljust(beside), is_strong)
        cells += [BLANK] * (step // 2 if askew and number % 2 else 0)
        for word, lying in zip(words[number], work.rows[number], strict=True):
            here = _write(word, is_strong)
            if blocks:
                here += [BLANK, *(Cell(sign, None, "name") for sign in blocks[lying.pile])]
            cells += [*here, *[BLANK] * (step - len(here))]
        rows.append(cells)
    return tuple(row[:width] for row in even_rows(rows))


def _shorten_names(speaker: Speaker, work: ArrangeWork, room: int) -> dict[str, str]:
    """By pile the name of its block in so many columns; none where two would look alike, or too little is left."""
    full = {lying.pile: speaker.name_block(lying.pile) for row in work.rows for lying in row}
    short = {pile: shorten(name, room) for pile, name in full.items()}
    is_told = all(name == full[pile] or len(name) >= _LEAST_NAME for pile, name in short.items())
    is_alike = len(set(short.values())) < len(set(full.values()))
    is_plain = all(cell_len(name) == len(name) for name in short.values())
    return short if room > 0 and is_told and is_plain and not is_alike else {}


def _label(speaker: Speaker, lying: Lying, askew: bool) -> str:
    mark = MARKS[(to_eighths(lying.turn) + askew) % 8] if speaker.has_mark(lying.pile) else ""
    return f"{speaker.letter(lying.pile)}{mark}"


def _write(words: str, is_strong: bool) -> list[Cell]:
    return [Cell(sign, None, "label", is_strong) for sign in words]
