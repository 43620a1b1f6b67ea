"""The text of one cell -> what it draws: `navy`, `navy / shell`, `(navy \\ shell) / coral`, `little four turn 90`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple, cast

from planner.project import Cell, Change, Cut, FabricHere, PartHere, Stroke
from planner.reading.collect_faults import quote
from planner.reading.file_keys import TURNS
from planner.reading.names import CHANGE_WORDS, Names, tidy_name
from planner.reading.polygon import box_round, drop_straight_corners

STROKES: tuple[Stroke, ...] = ("/", "\\", "|")
MOST_BRACKETS = 30

_MARKS = re.compile(r"([/\\|()])")
_ACROSS = re.compile(r"\s[-_]\s")  # what looks like a line across, between blanks

Outline = tuple[tuple[int, int], ...]
CELL: Outline = ((0, 0), (2, 0), (2, 2), (0, 2))  # twice as large as the cell, so that its middle is whole
_LINES = {"/": ((0, 2), (2, 0)), "\\": ((0, 0), (2, 2)), "|": ((1, 2), (1, 0))}


class ReadCell(NamedTuple):
    """What a cell draws, and what is wrong with it. Without a cell and without words, its fault is told elsewhere."""

    cell: Cell | None
    wrong: tuple[str, ...]


def read_cell(text: str, names: Names) -> ReadCell:
    """A cell out of its text; all that is wrong with its names and strokes, or the one thing wrong with its form."""
    try:
        halves = _Reader(text).read()
    except _NoCell as trouble:
        return ReadCell(None, (str(trouble),))
    wrong: list[str] = []
    cell = _place(halves, CELL, (), names, wrong)
    return ReadCell(cell if not wrong else None, tuple(dict.fromkeys(wrong)))


def names_in_cell(text: str) -> Iterator[str]:
    """The names in a cell, without looking at its form."""
    for index, run in enumerate(_MARKS.split(text)):
        if index % 2 == 0 and run and not run.isspace():
            yield split_changes(run)[0]


class _NoCell(ValueError):
    """The text does not have the form of a cell."""


@dataclass(frozen=True, slots=True)
class _Word:
    name: str
    changes: tuple[str, ...]  # the words behind the name


@dataclass(frozen=True, slots=True)
class _Halves:
    stroke: Stroke
    left: _Word | _Halves
    right: _Word | _Halves


class _Reader:
    """Reads strokes and brackets: `cell = half [stroke half]`, `half = "(" cell ")" | word`."""

    def __init__(self, text: str) -> None:
        self._left = [mark for mark in _MARKS.split(text) if mark and not mark.isspace()]
        self._left.reverse()
        self._depth = 0

    def read(self) -> _Word | _Halves:
        if not self._left:
            raise _NoCell("this cell is empty; name a fabric or a part")
        cell = self._read_cell()
        if self._left:
            raise _NoCell("there is a ) without its (")
        return cell

    def _read_cell(self) -> _Word | _Halves:
        left = self._read_half(None)
        if not self._left or self._left[-1] not in STROKES:
            return left
        stroke = cast(Stroke, self._left.pop())
        right = self._read_half(stroke)
        if self._left and self._left[-1] in STROKES:
            raise _NoCell("two strokes need brackets, like (navy \\ shell) / coral")
        return _Halves(stroke, left, right)

    def _read_half(self, stroke: Stroke | None) -> _Word | _Halves:
        mark = self._left[-1] if self._left else ""
        if mark == "" or mark == ")" or mark in STROKES:
            if stroke is not None:
                raise _NoCell(f"nothing stands right of the {stroke}; name a fabric there")
            raise _NoCell(f"nothing stands left of the {mark}; name a fabric there" if mark in STROKES else _EMPTY)
        self._left.pop()
        if mark != "(":
            half: _Word | _Halves = _Word(*split_changes(mark))
            if self._left and self._left[-1] == "(":
                raise _NoCell(f"a stroke is missing between {quote(mark.strip())} and the (")
            return half
        self._depth += 1
        if self._depth > MOST_BRACKETS:
            raise _NoCell(f"more than {MOST_BRACKETS} brackets in one another")
        half = self._read_cell()
        if not self._left:
            raise _NoCell("there is a ( without its )")
        self._left.pop()
        self._depth -= 1
        self._check_behind_bracket()
        return half

    def _check_behind_bracket(self) -> None:
        mark = self._left[-1] if self._left else ")"
        if mark == "(":
            raise _NoCell("a stroke is missing between ) and (")
        if mark != ")" and mark not in STROKES:
            word = mark.split()[0]
            if word in CHANGE_WORDS:
                raise _NoCell(f"'{word}' can't follow a bracket: only a part turns; make what is in brackets a part")
            raise _NoCell(f"a stroke is missing between the ) and {quote(mark.strip())}")


_EMPTY = "there is nothing between the brackets; name a fabric there"


def split_changes(run: str) -> tuple[str, tuple[str, ...]]:
    """The name in a text, and the words behind it, from the first that changes what is named: `turn`, `90`."""
    words = run.split()
    at = next((at for at, word in enumerate(words) if word in CHANGE_WORDS), len(words))
    return tidy_name(" ".join(words[:at])), tuple(words[at:])


def _place(
    half: _Word | _Halves, region: Outline, along: tuple[Stroke, ...], names: Names, wrong: list[str]
) -> Cell | None:
    """The cell of a half that fills a region, cut off along the strokes so far."""
    if isinstance(half, _Word):
        return _place_word(half, region, names, wrong)
    if half.stroke in along:
        wrong.append(f"a second {half.stroke} along the first; a stroke is a line of the whole cell")
        return None
    left, right = _cut(region, half.stroke)
    if not left or not right:
        wrong.append(f"this {half.stroke} does not cut its half, it only touches it; a stroke goes through the middle")
        return None
    inner = (*along, half.stroke)
    left_cell = _place(half.left, left, inner, names, wrong)
    right_cell = _place(half.right, right, inner, names, wrong)
    if left_cell is None or right_cell is None:
        return None
    return Cut(half.stroke, left_cell, right_cell)


def _place_word(word: _Word, region: Outline, names: Names, wrong: list[str]) -> Cell | None:
    name = word.name
    if not name:
        wrong.append(f"'{word.changes[0]}' needs the name of a part before it")
        return None
    if name in names.fabrics:
        if word.changes:
            wrong.append(f"{quote(name)} is a fabric, and only a part turns; take out {quote(' '.join(word.changes))}")
            return None
        return FabricHere(name)
    if names.has_part(name):
        changes = _read_changes(word.changes, wrong)
        if not _is_rectangle(region):
            wrong.append(f"the part {quote(name)} stands in a half that is no rectangle; only a fabric fits there")
            return None
        part = names.find_part(name)
        return PartHere(part, changes) if part is not None and changes is not None else None
    if names.is_whole:
        wrong.append(_why_unknown(name, names))
    return None


def _why_unknown(name: str, names: Names) -> str:
    for across in _ACROSS.finditer(name):
        sides = tidy_name(name[: across.start()]), tidy_name(name[across.end() :])
        if all(side in names.fabrics or names.has_part(side) for side in sides):
            return f"there is no stroke across; write {{rows: [[{sides[0]}], [{sides[1]}]]}}"
    if "," in name:
        return f"{quote(name)} is one cell; put the cells of a row in [ ], with commas between them"
    return names.why_unknown(name)


def _read_changes(words: tuple[str, ...], wrong: list[str]) -> tuple[Change, ...] | None:
    """The changes in their order; None where something is wrong with them."""
    changes: list[Change] = []
    left = list(reversed(words))
    while left:
        word = left.pop()
        if word == "turn":
            by = left.pop() if left else ""
            if by not in TURNS:
                wrong.append(f"turn takes 90, 180 or 270, clockwise; not {quote(by)}" if by else _NO_TURN)
                return None
            word = f"turn {by}"
        elif word != "mirrored":
            wrong.append(f"{quote(word)} can't stand here; behind a part come turn 90, 180 or 270, and mirrored")
            return None
        if any(word.split()[0] == change.split()[0] for change in changes):
            wrong.append(f"'{word.split()[0]}' is here twice; each change is made once at most")
            return None
        changes.append(cast(Change, word))
    return tuple(changes)


_NO_TURN = "turn takes 90, 180 or 270, clockwise; nothing follows it"


def _cut(region: Outline, stroke: Stroke) -> tuple[Outline, Outline]:
    """A convex region left and right of a stroke; empty where it has no area there."""
    (ax, ay), (bx, by) = _LINES[stroke]
    halves: tuple[list[tuple[int, int]], list[tuple[int, int]]] = [], []
    # above 0 where a corner lies left of the line, seen going up the page (or down along \)
    heights = [(bx - ax) * (ay - y) - (by - ay) * (ax - x) for x, y in region]
    if stroke == "\\":
        heights = [-height for height in heights]
    for at, ((x, y), height) in enumerate(zip(region, heights, strict=True)):
        (last_x, last_y), last = region[at - 1], heights[at - 1]
        if height * last < 0:
            # strokes and borders of a cell meet in its corners, in the middle and above and below it: always whole
            meeting = (last_x + (x - last_x) * last // (last - height), last_y + (y - last_y) * last // (last - height))
            halves[0].append(meeting)
            halves[1].append(meeting)
        if height >= 0:
            halves[0].append((x, y))
        if height <= 0:
            halves[1].append((x, y))
    left, right = (drop_straight_corners(half) if len(half) > 2 else () for half in halves)
    return (left if len(left) > 2 else ()), (right if len(right) > 2 else ())


def _is_rectangle(region: Outline) -> bool:
    west, north, east, south = box_round(region)
    return set(region) == {(west, north), (east, north), (east, south), (west, south)}
