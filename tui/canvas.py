"""Cells that are painted one over the other, and the canvas that comes of them: no colour yet, no screen."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from math import ceil, floor
from typing import Literal, NamedTuple

Role = Literal["blank", "cloth", "edge", "sew", "pin", "ridge", "seam", "label", "name", "mark"]


class Cell(NamedTuple):
    """One column of one row. `fabric` gives the colours; without one the cell lies beside the cloth."""

    text: str  # exactly one column wide
    fabric: str | None
    role: Role
    strong: bool = False


Canvas = tuple[tuple[Cell, ...], ...]  # rows, all equally wide
Spot = tuple[float, float]  # column, row: cell (c, r) reaches from c, r to c + 1, r + 1
Place = tuple[int, int]  # row, column of a cell

BLANK = Cell(" ", None, "blank")
LIGHT, HEAVY = 1, 2
HEAVY_SLANT = "*"  # there is no heavy slanting line
# By the weights of the four arms: up * 27 + right * 9 + down * 3 + left
_ARMS = " ╴╸╷┐┑╻┒┓╶─╾┌┬┭┎┰┱╺╼━┍┮┯┏┲┳╵┘┙│┤┥╽┧┪└┴┵├┼┽┟╁╅┕┶┷┝┾┿┢╆╈╹┚┛╿┦┩┃┨┫┖┸┹┞╀╃┠╂╉┗┺┻┡╄╇┣╊╋"
# A hair to the right and below, so that a centre exactly on a border belongs to one side, always the same
_BIAS = 1e-4
# A cell is about twice as high as wide, so a line at half a right angle passes two columns a row. Up to the first of
# these it is drawn as an upright, from the second on as a level one.
_UPRIGHT, _LEVEL = 0.4, 4.0


def arms_glyph(up: int, right: int, down: int, left: int) -> str:
    """The sign whose arms have these weights: 0 none, 1 light, 2 heavy."""
    return _ARMS[up * 27 + right * 9 + down * 3 + left]


class Stroke(NamedTuple):
    """What a line leaves in one cell: arms (up, right, down, left: 0 or 1), or a slant."""

    place: Place
    arms: tuple[int, int, int, int]
    slant: str = ""


def walk_line(start: Spot, end: Spot) -> Iterator[Stroke]:
    """The cells of a straight line. Of a slanting one the ends are left out: other lines meet there."""
    (x0, y0), (x1, y1) = (start, end) if (start[1], start[0]) <= (end[1], end[0]) else (end, start)
    wide, high = abs(x1 - x0), y1 - y0
    if wide <= _UPRIGHT * high:
        first, last = floor(y0), floor(y1)
        for row in range(first, last + 1):
            at = min(max(row + 0.5, y0), y1)
            column = floor(x0 + (x1 - x0) * (at - y0) / high) if high else floor(x0)
            yield Stroke((row, column), (int(row > first), 0, int(row < last), 0))
    elif wide >= _LEVEL * high:
        yield from _walk_level(start, end)
    else:
        slant = "╲" if x1 > x0 else "╱"
        for row in range(floor(y0), floor(y1) + 1):
            if y0 + _BIAS < row + 0.5 < y1 - _BIAS:
                column = floor(x0 + (x1 - x0) * (row + 0.5 - y0) / high)
                yield Stroke((row, column), (0, 0, 0, 0), slant)


def _walk_level(start: Spot, end: Spot) -> Iterator[Stroke]:
    (x0, y0), (x1, y1) = sorted((start, end))
    first, last = floor(x0), floor(x1)
    slant = "╲" if y1 > y0 else "╱"
    rise = (y1 - y0) / (x1 - x0) if x1 > x0 else 0.0
    rows = [floor(y0 + rise * (min(max(column + 0.5, x0), x1) - x0)) for column in range(first, last + 1)]
    for column, row in enumerate(rows, first):
        if column < last and rows[column + 1 - first] != row:
            yield Stroke((row, column), (0, 0, 0, 0), slant)
        else:
            yield Stroke((row, column), (0, int(column < last), 0, int(column > first)))


class Easel:
    """Painted in this order: cloth, lines, signs, letters."""

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        self.owner = [[-1] * width for _ in range(height)]  # the number of the patch in which a cell's centre lies
        self.letters_of: dict[int, int] = {}  # how often each patch shows its letter
        self.written: dict[Place, str] = {}
        self._arms: dict[Place, list[int]] = {}
        self._slants: dict[Place, tuple[str, bool]] = {}
        self._roles: dict[Place, Role] = {}
        self._signs: dict[Place, tuple[str, Role, bool]] = {}

    def fill(self, number: int, corners: Sequence[Spot]) -> None:
        """Give a patch the cells whose centres lie in it."""
        sides = [
            (a, b) if a[1] < b[1] else (b, a)
            for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
            if a[1] != b[1]
        ]
        top, bottom = min(y for _, y in corners), max(y for _, y in corners)
        for row in range(max(0, ceil(top - 0.5 - _BIAS)), min(self.height, ceil(bottom - 0.5 - _BIAS))):
            at = row + 0.5 + _BIAS
            crossings = sorted(x0 + (x1 - x0) * (at - y0) / (y1 - y0) for (x0, y0), (x1, y1) in sides if y0 <= at < y1)
            owners = self.owner[row]
            for low, high in zip(crossings[::2], crossings[1::2], strict=False):
                first = max(0, ceil(low - 0.5 - _BIAS))
                past = min(self.width, ceil(high - 0.5 - _BIAS))
                if first < past:
                    owners[first:past] = [number] * (past - first)

    def rule(self, start: Spot, end: Spot, role: Role, weight: int = LIGHT) -> None:
        """Draw a line from spot to spot; where lines meet their arms join."""
        for (row, column), arms, slant in walk_line(start, end):
            if not (0 <= row < self.height and 0 <= column < self.width):
                continue
            place = (row, column)
            if slant:
                before = self._slants.get(place)
                text = slant if before is None or before[0] == slant else "╳"
                is_heavy = weight == HEAVY or (before is not None and before[1])
                text = HEAVY_SLANT if is_heavy else text
                self._slants[place] = (text, is_heavy)
            else:
                joined = self._arms.setdefault(place, [0, 0, 0, 0])
                for arm, is_there in enumerate(arms):
                    if is_there:
                        joined[arm] = max(joined[arm], weight)
            if weight == HEAVY or place not in self._roles:
                self._roles[place] = role

    def put(self, place: Place, text: str, role: Role, strong: bool = False) -> None:
        """Set a sign over whatever is there."""
        self._signs[place] = (text, role, strong)

    def is_cloth(self, place: Place) -> bool:
        """Whether the centre of a cell lies in a patch."""
        row, column = place
        return 0 <= row < self.height and 0 <= column < self.width and self.owner[row][column] >= 0

    def touches(self, place: Place, number: int) -> bool:
        """Whether a cell is one of a patch, or of a line or beside the cloth and next to it."""
        row, column = place
        if self.is_free(place) and self.owner[row][column] >= 0:
            return self.owner[row][column] == number
        around = ((row - 1, column), (row, column + 1), (row + 1, column), (row, column - 1))
        return any(self.is_cloth(near) and self.owner[near[0]][near[1]] == number for near in around)

    def is_free(self, place: Place) -> bool:
        """Whether neither line nor sign is there."""
        return place not in self._roles and place not in self._signs

    def is_plain_line(self, place: Place) -> bool:
        """Whether a line runs straight through here, and meets no other."""
        arms = self._arms.get(place)
        return arms is not None and place not in self._signs and arms in ([1, 0, 1, 0], [0, 1, 0, 1])

    def arm(self, place: Place, which: int) -> int:
        """The weight of one arm (0 up, 1 right, 2 down, 3 left) of what is drawn here."""
        arms = self._arms.get(place)
        return 0 if arms is None or place in self._signs else arms[which]

    def write_letters(self, letters: Sequence[str], once: Collection[int] = ()) -> None:
        """Write each patch's letter over its free cells, with gaps; once at least where there is room for it.

        The words of those in `once` stand once, in the middle; where there are none, nothing does, and nothing lacks.
        """
        runs = self._find_runs()
        for number in once:
            if not letters[number]:
                self.letters_of[number] = 1
            elif number in runs:
                self._write_in_middle(number, runs[number], letters[number])
        for number, found in runs.items():
            if number in once:
                continue
            letter = letters[number]
            every = len(letter) + 1
            _, left, past = max(found, key=lambda run: run[2] - run[1])
            base = left + 1 if past - left > every else left
            for row, first, end in found:
                for column in range(first + (base - first) % every, end - len(letter) + 1, every):
                    self._write(number, row, column, letter)
            if number not in self.letters_of and past - left >= len(letter):
                self._write(number, *max(found, key=lambda run: run[2] - run[1])[:2], letter)

    def _find_runs(self) -> dict[int, list[tuple[int, int, int]]]:
        """For each patch its free cells: row, first column, one past the last."""
        runs: dict[int, list[tuple[int, int, int]]] = {}
        for row, owners in enumerate(self.owner):
            column = 0
            while column < self.width:
                number, first = owners[column], column
                while column < self.width and owners[column] == number and (number < 0 or self.is_free((row, column))):
                    column += 1
                if column == first:  # a line or a sign
                    column += 1
                elif number >= 0:
                    runs.setdefault(number, []).append((row, first, column))
        return runs

    def _write_in_middle(self, number: int, runs: Sequence[tuple[int, int, int]], words: str) -> None:
        wide = [run for run in runs if run[2] - run[1] >= len(words)]
        if wide:
            middle = (runs[0][0] + runs[-1][0]) / 2
            row, first, past = min(wide, key=lambda run: abs(run[0] - middle))
            self._write(number, row, first + (past - first - len(words) + 1) // 2, words)

    def _write(self, number: int, row: int, column: int, letter: str) -> None:
        self.letters_of[number] = self.letters_of.get(number, 0) + 1
        for at, sign in enumerate(letter, column):
            self.written[(row, at)] = sign

    def fade_letters(self, strong: Sequence[bool], sign: str) -> None:
        """Write a faint sign in place of the letters of all patches that are not strong."""
        for row, column in self.written:
            if not strong[self.owner[row][column]]:
                self.written[(row, column)] = sign

    def rows(self, fabrics: Sequence[str], strong: Sequence[bool] | None = None) -> list[list[Cell]]:
        """The painted cells. `fabrics` and `strong` are told for each patch."""
        columns = range(self.width)
        return [[self._cell(row, column, fabrics, strong) for column in columns] for row in range(self.height)]

    def _cell(self, row: int, column: int, fabrics: Sequence[str], strong: Sequence[bool] | None) -> Cell:
        number = self.owner[row][column]
        place = (row, column)
        fabric = fabrics[number] if number >= 0 else None
        sign = self._signs.get(place)
        if sign is not None:
            text, role, is_strong = sign
            return Cell(text, None if role == "label" else fabric, role, is_strong)
        is_strong = number >= 0 and strong is not None and strong[number]
        line = self._roles.get(place)
        if line is not None:
            arms = self._arms.get(place)
            if arms is not None and any(arms):
                text, heavy = arms_glyph(*arms), HEAVY in arms
            else:
                text, heavy = self._slants.get(place, (" ", False))
            # The border lies beside the cloth: so it has the colour of words, whatever the cloth's
            return Cell(text, None if line == "edge" else fabric, line, heavy or is_strong)
        if number < 0:
            return BLANK
        return Cell(self.written.get(place, " "), fabric, "cloth", is_strong)
