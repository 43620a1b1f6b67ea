"""A template larger than a page -> its parts, with marks where they meet.

Billionths of an inch, x right, y down.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.cloth.inside import crop
from planner.cloth.label_template import Label, label_template
from planner.cloth.pdf_text import wrap_words
from planner.cloth.template_page import HEAD, LEADING, MARGIN, TYPE, Mark, Paper, Placed, Window, write_caption
from planner.cloth.templates import Template
from planner.cloth.turn_template import QUARTERS, Turned, list_slants, move, turn_template
from planner.pictures.svg_elements import ONE, Spot, share

MOST_PARTS = 40  # pages that one template may take
_LAP = ONE // 2  # by which two parts lie over each other
_EDGE = share(ONE, 5)  # beyond an outline, for its line
_LINES = 2  # of the caption above a part, but for what to do with it
_HEAD = (_LINES + 1) * LEADING + share(ONE, 5)


class _Cell(NamedTuple):
    """A part's place in the grid of a template's parts, and its bounds there."""

    column: int
    row: int
    bounds: Window


def split_template(template: Template, paper: Paper) -> list[Placed]:
    """The parts of a template larger than a page, fewest in number; none where they would be too many."""
    best: tuple[tuple[int, bool, int], Turned, list[_Cell]] | None = None
    for number, turn in enumerate((*QUARTERS, *list_slants())):
        turned = turn_template(template, turn)
        cells = _cut_up(turned, paper)
        rank = (len(cells), number >= len(QUARTERS), number)
        if cells and (best is None or rank < best[0]):
            best = rank, turned, cells
    if best is None:
        return []
    _, turned, cells = best
    marks = list(_mark_joints(turned, cells))
    return [_put_part(turned, cells, marks, number, paper) for number in range(len(cells))]


def _cut_up(turned: Turned, paper: Paper) -> list[_Cell]:
    """The cells of the grid in which the template has a part; none where that is more than `MOST_PARTS`."""
    wide, high = paper.body
    columns, rows = _count(turned.width, wide), _count(turned.height, high - _HEAD)
    if columns * rows > 4 * MOST_PARTS:
        return []
    cells = []
    for row in range(rows):
        for column in range(columns):
            bounds = Window(
                turned.width * column // columns,
                turned.height * row // rows,
                turned.width * (column + 1) // columns,
                turned.height * (row + 1) // rows,
            )
            if crop(turned.cut, *bounds):
                cells.append(_Cell(column, row, bounds))
    return cells if len(cells) <= MOST_PARTS else []


def _count(size: int, room: int) -> int:
    """Into how many equal parts a length is split so that each fits, with what it laps over."""
    beyond = (2 * _EDGE, _LAP // 2 + _EDGE)  # of one part, and of one of two
    few = next((parts for parts, more in enumerate(beyond, 1) if -(-size // parts) + more <= room), None)
    return few or -(-size // (room - _LAP))


def _mark_joints(turned: Turned, cells: Sequence[_Cell]) -> Iterator[tuple[int, int, Mark]]:
    """For each two parts that meet the mark in the middle of what they share."""
    numbers = {(cell.column, cell.row): number for number, cell in enumerate(cells)}
    marked = 0
    for number, cell in enumerate(cells):
        for axis, place in ((0, (cell.column + 1, cell.row)), (1, (cell.column, cell.row + 1))):
            other = numbers.get(place)
            if other is None:
                continue
            line = cell.bounds.right if axis == 0 else cell.bounds.bottom
            ends = (cell.bounds.top, cell.bounds.bottom) if axis == 0 else (cell.bounds.left, cell.bounds.right)
            stretch = _find_stretch(turned.cut, axis, line, ends)
            if stretch is None:
                continue
            middle = sum(stretch) // 2
            yield number, other, Mark(_spell_letter(marked), (line, middle) if axis == 0 else (middle, line))
            marked += 1


def _find_stretch(outline: Sequence[Spot], axis: int, line: int, ends: tuple[int, int]) -> tuple[int, int] | None:
    """The longest stretch of an upright (axis 0) or level line between its ends that lies in an outline."""
    crossings = []
    for number, end in enumerate(outline):
        start = outline[number - 1]
        if (start[axis] <= line) != (end[axis] <= line):
            over, under = line - start[axis], end[axis] - start[axis]
            crossings.append(start[1 - axis] + (end[1 - axis] - start[1 - axis]) * over // under)
    crossings.sort()
    inside = zip(crossings[::2], crossings[1::2], strict=True)
    cropped = [(max(low, ends[0]), min(high, ends[1])) for low, high in inside]
    longest = max(cropped, key=lambda stretch: stretch[1] - stretch[0], default=(0, 0))
    return longest if longest[1] > longest[0] else None


def _put_part(
    turned: Turned, cells: Sequence[_Cell], marks: Sequence[tuple[int, int, Mark]], number: int, paper: Paper
) -> Placed:
    cell, template = cells[number], turned.template
    taken = {(other.column, other.row) for other in cells}
    columns, rows = max(other.column for other in cells), max(other.row for other in cells)
    left, top, right, bottom = cell.bounds
    before_x, before_y = (_LAP // 2 if at else _EDGE for at in (cell.column, cell.row))
    after_x, after_y = (_LAP // 2 if at < last else _EDGE for at, last in ((cell.column, columns), (cell.row, rows)))
    # The window's upper left corner goes to that of the body, below the words
    to_x, to_y = MARGIN + before_x - left, MARGIN + HEAD + _HEAD + before_y - top
    window = Window(to_x + left - before_x, to_y + top - before_y, to_x + right + after_x, to_y + bottom + after_y)
    joints = []
    if (cell.column - 1, cell.row) in taken:
        joints.append(((to_x + left, window.top), (to_x + left, window.bottom)))
    if (cell.column + 1, cell.row) in taken:
        joints.append(((to_x + right, window.top), (to_x + right, window.bottom)))
    if (cell.column, cell.row - 1) in taken:
        joints.append(((window.left, to_y + top), (window.right, to_y + top)))
    if (cell.column, cell.row + 1) in taken:
        joints.append(((window.left, to_y + bottom), (window.right, to_y + bottom)))
    cut, seam = move(turned.cut, to_x, to_y), move(turned.seam, to_x, to_y)
    room = crop(seam, to_x + left, to_y + top, to_x + right, to_y + bottom)
    part = f"part {number + 1} of {len(cells)}"
    label = label_template(template, room, turned.ways, part) if room else Label((), 0, None)
    shown = tuple(
        mark._replace(spot=(mark.spot[0] + to_x, mark.spot[1] + to_y)) for *both, mark in marks if number in both
    )
    how = f"{part}: cut it off along the dotted lines, lay it onto the next so that the marks meet, tape"
    wide = paper.body[0]
    caption = (*write_caption(template, wide, _LINES), *wrap_words(how, TYPE, wide))
    at = (MARGIN, MARGIN + HEAD + LEADING)
    return Placed(template, cut, seam, label, caption, at, window, tuple(joints), shown)


def _spell_letter(number: int) -> str:
    """A to Z, then AA, AB."""
    return ("" if number < 26 else _spell_letter(number // 26 - 1)) + chr(ord("A") + number % 26)
