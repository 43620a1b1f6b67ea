"""One strip of cloth as a picture: across from selvage to selvage, each piece where it is cut."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil, floor

from planner.cloth.cloth import FabricCloth
from planner.cloth.nest_rows import list_cuts
from planner.cloth.place_pieces import Run, Strip
from planner.cloth.rectangles import Rectangle
from planner.measure import Ruler
from planner.surd import approach
from tui.canvas import Canvas, Easel
from tui.paint_scene import even_rows

LEAST_ROWS = 2  # from the upper line to the lower one
_LEAST_APART = 3  # columns between the lines of pieces side by side; closer ones are drawn as one
_REST = "·"  # what is left over


def draw_strip(
    one: FabricCloth,
    strip: Strip,
    room: Fraction,
    ruler: Ruler,
    letters: Mapping[str, str],
    width: int,
    height: int,
    widest: Fraction | None = None,
) -> Canvas:
    """A strip that is `room` inches wide, in at most so many columns and rows; `widest` inches fill the columns.

    What is left over is dotted. Where there is room a frame says how many it holds, their size, and their pile.
    """
    scale = Fraction(max(1, width - 1)) / max(widest or room, room)
    columns = max(2, floor(room * scale))
    rows = max(LEAST_ROWS, min(height - 1, ceil(strip.high * scale / 2)))
    easel = Easel(columns + 1, rows + 1)
    frames = [_Frame(run, scale, rows / strip.high, columns, rows) for run in strip.runs]
    easel.fill(1, [(0, 0), (columns, 0), (columns, rows), (0, rows)])
    for frame in frames:
        easel.fill(0, [(frame.left, frame.top), (frame.right, frame.top), (frame.right, frame.bottom),
                       (frame.left, frame.bottom)])  # fmt: skip
    for start, end in (
        ((0, 0), (columns, 0)), ((0, rows), (columns, rows)), ((0, 0), (0, rows)), ((columns, 0), (columns, rows))
    ):  # fmt: skip
        easel.rule(_middle(*start), _middle(*end), "edge")
    for frame in frames:
        for x in frame.uprights:
            easel.rule(_middle(x, frame.top), _middle(x, frame.bottom), "seam")
        for y in frame.levels:
            easel.rule(_middle(frame.left, y), _middle(frame.right, y), "seam")
        for upper, lower in _list_slants(one.rectangles[frame.run.rectangle], frame, scale):
            easel.rule((upper, frame.top + 0.5), (lower, frame.bottom + 0.5), "seam")
    for frame in frames:
        _write_label(easel, frame, _spell_labels(one, frame.run, ruler, letters))
    for row in range(1, rows):
        for column in range(2, columns, 2):
            if easel.owner[row][column] == 1 and easel.is_free((row, column)):
                easel.written[(row, column)] = _REST
    cells = easel.rows([one.fabric.name, ""])
    return even_rows([[cell._replace(fabric=cell.fabric or None) for cell in row] for row in cells])


class _Frame:
    """The pieces of one kind side by side, in columns and rows of the picture."""

    def __init__(self, run: Run, across: Fraction, down: Fraction, columns: int, rows: int) -> None:
        self.run = run
        xs = [floor((run.x + place * run.wide) * across) for place in range(run.across + 1)]
        ys = [floor((run.y + place * run.high) * down) for place in range(run.deep + 1)]
        self.left, self.top = min(xs[0], columns - 1), min(ys[0], rows - 1)
        self.right = min(max(xs[-1], self.left + 1), columns)
        self.bottom = min(max(ys[-1], self.top + 1), rows)
        self.uprights = _draw_apart(xs, self.left, self.right, _LEAST_APART)
        self.levels = _draw_apart(ys, self.top, self.bottom, 2)


def _draw_apart(places: list[int], first: int, last: int, least: int) -> list[int]:
    """Where lines are drawn: all of them, or the outer ones alone where some would be too close."""
    if (last - first) // max(1, len(places) - 1) < least:
        return [first, last]
    return [first, *places[1:-1], last]


def _list_slants(row: Rectangle, frame: _Frame, across: Fraction) -> list[tuple[float, float]]:
    """The cuts aslant of a row of pieces, as columns at its upper and its lower edge; none where they are too close."""
    if not row.is_row or row.slants is None or frame.run.pieces > 1:
        return []
    if frame.right - frame.left < _LEAST_APART * row.makes:
        return []
    left = frame.left + 0.5
    return [
        (left + float(Fraction(approach(upper)) * across), left + float(Fraction(approach(lower)) * across))
        for upper, lower in list_cuts(row.slants, row.makes)
    ]


def _middle(column: int, row: int) -> tuple[float, float]:
    return column + 0.5, row + 0.5


def _spell_labels(one: FabricCloth, run: Run, ruler: Ruler, letters: Mapping[str, str]) -> list[str]:
    """What a frame may say, the fullest first."""
    rectangle = one.rectangles[run.rectangle]
    sides = [ruler.to_cut(side).words.removeprefix("about ") for side in (run.wide, run.high)]
    size = " x ".join(dict.fromkeys(sides))
    pile = " ".join(letters[pile] for pile in rectangle.piles if pile in letters)
    many = run.pieces * rectangle.makes if rectangle.is_row else run.pieces
    several = f"{run.pieces} of {size}" if run.pieces > 1 else size
    if rectangle.is_row and rectangle.slants is not None:
        several = f"{many} {rectangle.slants.noun}s"
    return [*([f"{several} {pile}", f"{many} {pile}", pile] if pile else []), several, str(many)]


def _write_label(easel: Easel, frame: _Frame, labels: list[str]) -> None:
    """In the middle, over the lines between pieces; nothing where there is no room."""
    room = frame.right - frame.left - 1
    row = (frame.top + frame.bottom) // 2
    words = next((f" {text} " if len(text) + 2 <= room else text for text in labels if len(text) <= room), "")
    if not frame.top < row < frame.bottom:
        return
    start = frame.left + 1 + (room - len(words)) // 2
    for column, sign in enumerate(words, start):
        easel.put((row, column), sign, "cloth")
