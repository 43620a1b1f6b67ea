"""One axis of a picture in cells: lines at some places, and whole numbers of cells between them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import NamedTuple


class Stop(NamedTuple):
    """A place on an axis. One that is ruled has a cell of its own, before `start`, the first cell behind it."""

    value: float
    start: int
    is_ruled: bool

    @property
    def middle(self) -> float:
        """Where a line there runs."""
        return self.start - (0.5 if self.is_ruled else 0.0)


class Axis(NamedTuple):
    stops: tuple[Stop, ...]

    @property
    def cells(self) -> int:
        """How many cells there are in all."""
        return self.stops[-1].start

    def on_line(self, value: float) -> float:
        """Where a place lies; what is ruled lies in the middle of its cell."""
        number = min(self._find(value), len(self.stops) - 2)
        low, high = self.stops[number], self.stops[number + 1]
        return low.middle + (value - low.value) / (high.value - low.value) * (high.middle - low.middle)

    def within(self, low: float, high: float, value: float) -> float:
        """Where a place of a box from `low` to `high` lies: the box keeps off the lines that it begins and ends at."""
        first, last = self._stop(low), self._stop(high)
        start = first.start if first else self.on_line(low)
        end = last.start - last.is_ruled if last else self.on_line(high)
        return start + (value - low) / (high - low) * (end - start)

    def over(self, low: float, high: float, value: float) -> float:
        """The same of a box that reaches over these lines."""
        first, last = self._stop(low), self._stop(high)
        start = first.start - first.is_ruled if first else self.on_line(low)
        end = last.start if last else self.on_line(high)
        return start + (value - low) / (high - low) * (end - start)

    def _find(self, value: float) -> int:
        return bisect_right(self.stops, value, key=lambda stop: stop.value) - 1

    def _stop(self, value: float) -> Stop | None:
        stop = self.stops[self._find(value)]
        return stop if stop.value == value else None


def lay_axis(places: Sequence[tuple[float, bool]], cells: Callable[[float], int]) -> Axis:
    """An axis of these places in their order, with whether each is ruled; `cells` says how many cells a length between
    two of them takes."""
    stops: list[Stop] = []
    for value, is_ruled in places:
        start = stops[-1].start + cells(value - stops[-1].value) if stops else 0
        stops.append(Stop(value, start + is_ruled, is_ruled))
    return Axis(tuple(stops))
