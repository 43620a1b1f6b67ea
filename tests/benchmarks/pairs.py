"""Two things measured in turn, so that whatever else the machine does falls on both alike."""

from __future__ import annotations

from collections.abc import Callable
from statistics import median
from typing import NamedTuple

Measure = Callable[[], float]  # one run, in seconds


class Figure(NamedTuple):
    """Medians in seconds, their ratio, and the most it may be."""

    what: str
    baseline: str
    ours: float
    theirs: float
    least: float  # of the ratios of single pairs
    most: float
    limit: float

    @property
    def ratio(self) -> float:
        return self.ours / self.theirs

    @property
    def is_within(self) -> bool:
        return self.ratio <= self.limit

    @property
    def in_one_line(self) -> str:
        verdict = "within" if self.is_within else "over"
        return (
            f"{self.what}: {_spell(self.ours)} against {_spell(self.theirs)} of {self.baseline}: "
            f"{self.ratio:.2f} (single pairs {self.least:.2f} to {self.most:.2f}), limit {self.limit:g}: {verdict}"
        )


def compare(what: str, ours: Measure, baseline: str, theirs: Measure, limit: float, rounds: int) -> Figure:
    """Run both in turn, once to warm up and then so many rounds."""
    ours(), theirs()
    pairs = [(ours(), theirs()) for _ in range(rounds)]
    ratios = sorted(mine / other for mine, other in pairs)
    return Figure(
        what,
        baseline,
        median(mine for mine, _ in pairs),
        median(other for _, other in pairs),
        ratios[0],
        ratios[-1],
        limit,
    )


def _spell(seconds: float) -> str:
    return f"{seconds * 1000:.1f} ms" if seconds < 0.1 else f"{seconds:.3f} s"
