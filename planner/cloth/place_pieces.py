"""Strips that are chosen -> where every rectangle lies in them. Equal strips are told once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.fill_strip import Lying, Pattern
from planner.cloth.rectangles import Rectangle
from planner.measure import common_step


class Run(NamedTuple):
    """Rectangles of one kind side by side in a strip: the upper left corner of the first from that of the strip, the
    size of each as it lies, how many columns and how many in each, and which of the fabric's rectangles they are."""

    rectangle: int
    x: Fraction
    y: Fraction
    wide: Fraction
    high: Fraction
    across: int
    deep: int

    @property
    def pieces(self) -> int:
        return self.across * self.deep


class Strip(NamedTuple):
    """So many equal strips across the cloth."""

    high: Fraction
    times: int
    runs: tuple[Run, ...]


class Placed(NamedTuple):
    """One rectangle on the cloth: `x` from the cut-off selvage, `y` from the squared end, in inches."""

    x: Fraction
    y: Fraction
    wide: Fraction
    high: Fraction
    rectangle: int


def list_placed(strips: Sequence[Strip]) -> Iterator[Placed]:
    """Every rectangle of strips that lie one below the other."""
    top = Fraction(0)
    for strip in strips:
        for _ in range(strip.times):
            for run in strip.runs:
                for column in range(run.across):
                    x = run.x + column * run.wide
                    for row in range(run.deep):
                        yield Placed(x, top + run.y + row * run.high, run.wide, run.high, run.rectangle)
            top += strip.high


def measure_strips(strips: Sequence[Strip]) -> Fraction:
    """How long they are in all."""
    return sum((strip.high * strip.times for strip in strips), Fraction(0))


class Kinds:
    """The rectangles of one fabric, those of one size together, in steps of a grid on which every size is whole.

    `left` is how many of each kind are still to lay, and what is placed is taken from it. `lying` has the ways in which
    kinds can lie in a `room` across; a kind may fit in none of them.
    """

    def __init__(self, rectangles: Sequence[Rectangle], sides: Sequence[Fraction]) -> None:
        """`sides` are those of the cloth: they are whole on the grid too."""
        self.step = common_step([*sides, *(side for one in rectangles for side in (one.wide, one.high))])
        self.sizes: list[tuple[int, int, bool]] = []
        self.members: list[list[int]] = []  # rectangles of each kind
        self.left_of = [one.count for one in rectangles]
        places: dict[tuple[int, int, bool], int] = {}
        for number, one in enumerate(rectangles):
            wide, high = self.on_grid(one.wide), self.on_grid(one.high)
            if one.may_turn and wide < high:
                wide, high = high, wide
            size = wide, high, one.may_turn and wide != high
            if size not in places:
                places[size] = len(self.sizes)
                self.sizes.append(size)
                self.members.append([])
            self.members[places[size]].append(number)

    def on_grid(self, length: Fraction) -> int:
        return (length / self.step).numerator

    @property
    def left(self) -> tuple[int, ...]:
        return tuple(sum(self.left_of[one] for one in members) for members in self.members)

    def list_ways(self, room: int, is_turned: bool = False) -> list[Lying]:
        """How kinds can lie in a strip so wide. Cloth that `is_turned` carries its grain with it, so what may not turn
        lies turned on it."""
        ways = []
        for kind, (wide, high, may_turn) in enumerate(self.sizes):
            sides = (high, wide) if is_turned else (wide, high)
            for across, along in (sides, sides[::-1]) if may_turn else (sides,):
                if across <= room:
                    ways.append(Lying(kind, across, along))
        return ways

    def place(self, strips: Sequence[tuple[Pattern, int]], lying: Sequence[Lying]) -> tuple[Strip, ...]:
        """Lay the rectangles that are left into these strips, the widest strip first. What a strip has room for beyond
        that stays empty, and a strip is no wider than what lies in it."""
        found: list[Strip] = []
        for pattern, many in sorted(strips, key=lambda one: (-one[0].high, one[0].columns)):
            while many:
                runs, used = self._fill(pattern, lying)
                if not runs:
                    break
                times = min(many, *(self.left_of[one] // count for one, count in used.items()))
                for one, count in used.items():
                    self.left_of[one] -= times * count
                found.append(Strip(max(run.y + run.deep * run.high for run in runs), times, runs))
                many -= times
        return _join_equal(sorted(found, key=lambda strip: -strip.high))

    def _fill(self, pattern: Pattern, lying: Sequence[Lying]) -> tuple[tuple[Run, ...], dict[int, int]]:
        """One strip with what is left, and how many of each rectangle lie in it."""
        runs: list[Run] = []
        used: dict[int, int] = {}
        x = 0
        tallest_first = sorted(
            pattern.columns,
            key=lambda one: (-(pattern.high // lying[one[0]].high) * lying[one[0]].high, -lying[one[0]].wide, one),
        )
        for which, many in tallest_first:
            way = lying[which]
            deep = pattern.high // way.high
            at, room = 0, many * deep
            for member in self.members[way.kind]:
                count = min(room - at, self.left_of[member] - used.get(member, 0))
                if count <= 0:
                    continue
                used[member] = used.get(member, 0) + count
                runs += (
                    self._run(member, way, x + column * way.wide, row * way.high, across, rows)
                    for column, row, across, rows in _share_columns(at, count, deep)
                )
                at += count
            x += -(-at // deep) * way.wide
        return tuple(runs), used

    def _run(self, member: int, way: Lying, x: int, y: int, across: int, deep: int) -> Run:
        step = self.step
        return Run(member, x * step, y * step, way.wide * step, way.high * step, across, deep)


def _share_columns(start: int, count: int, deep: int) -> Iterator[tuple[int, int, int, int]]:
    """Pieces that fill columns one after the other, from a place on: first column and row, columns, rows in each."""
    while count:
        column, row = divmod(start, deep)
        if row or count < deep:
            rows = min(count, deep - row)
            yield column, row, 1, rows
            taken = rows
        else:
            yield column, 0, count // deep, deep
            taken = count // deep * deep
        start += taken
        count -= taken


def _join_equal(strips: Sequence[Strip]) -> tuple[Strip, ...]:
    """Strips in which the same lies as one, where the first of them is."""
    found: dict[Strip, int] = {}
    for strip in strips:
        alike = strip._replace(times=0)
        found[alike] = found.get(alike, 0) + strip.times
    return tuple(strip._replace(times=times) for strip, times in found.items())
