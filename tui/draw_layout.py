"""The picture of laying out the quilt: which pile goes where, and which way the mark of its slip points."""

from __future__ import annotations

from planner.name_piles import Lying
from planner.say_step import Speaker
from planner.sheet import ArrangeWork
from planner.turns import to_eighths
from tui.canvas import BLANK, Canvas, Cell
from tui.paint_scene import MARKS, even_rows

_GAPS = (3, 2, 1)  # columns between blocks, the best first


def draw_layout(speaker: Speaker, work: ArrangeWork, row: int, width: int, height: int) -> Canvas | None:
    """The rows of the quilt from the top, the one at hand strong; of more than `height` those round it. On point each
    row stands between those above and below it. None where not even one row has room."""
    top = speaker.plan.blocks.top
    askew = top is not None and top.on_point
    words = [[_label(speaker, lying, askew) for lying in line] for line in work.rows]
    wide = max(len(word) for line in words for word in line)
    names = [f"  row {number}" for number in range(1, len(words) + 1)]
    beside = max(map(len, names)) + 2
    if height < 1:
        return None
    for gap in _GAPS:
        step = wide + gap + ((wide + gap) % 2 if askew else 0)  # half of it must be whole on point
        if beside + step * max(map(len, words)) <= width + gap:
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
        for word in words[number]:
            cells += _write(word.ljust(step), is_strong)
        rows.append(cells)
    return tuple(row[:width] for row in even_rows(rows))


def _label(speaker: Speaker, lying: Lying, askew: bool) -> str:
    mark = MARKS[(to_eighths(lying.turn) + askew) % 8] if speaker.has_mark(lying.pile) else ""
    return f"{speaker.letter(lying.pile)}{mark}"


def _write(words: str, is_strong: bool) -> list[Cell]:
    return [Cell(sign, None, "label", is_strong) for sign in words]
