"""Integer programs in the plain form of a sum to be made least under linear needs, solved by scipy's HiGHS."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import inf

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]
from scipy.sparse import coo_array  # type: ignore[import-untyped]

Terms = Mapping[int, float]  # variable -> factor


class Program:
    """Variables are numbered from 0; all are whole numbers."""

    def __init__(self) -> None:
        self._most: list[float] = []
        self._rows: list[tuple[Terms, float, float]] = []

    def variable(self, most: float = 1) -> int:
        """A whole number from 0 to `most`."""
        self._most.append(most)
        return len(self._most) - 1

    def need(self, terms: Terms, least: float = -inf, most: float = inf) -> None:
        self._rows.append((terms, least, most))

    def solve_least(self, goal: Terms) -> int:
        """The least that the goal can come to. AssertionError where the solver does not prove it."""
        many = len(self._most)
        if not many:
            return 0
        costs = np.zeros(many)
        for variable, factor in goal.items():
            costs[variable] += factor
        found = milp(costs, integrality=np.ones(many), bounds=Bounds(0, self._most), constraints=self._constraints())
        assert found.status == 0, found.message
        least = round(found.fun)
        assert abs(found.fun - least) < 1e-6
        return least

    def _constraints(self) -> list[LinearConstraint]:
        if not self._rows:
            return []
        places = [
            (row, variable, factor)
            for row, (terms, _, _) in enumerate(self._rows)
            for variable, factor in terms.items()
        ]
        rows, columns, factors = zip(*places, strict=True)
        matrix = coo_array((factors, (rows, columns)), shape=(len(self._rows), len(self._most)))
        return [LinearConstraint(matrix.tocsr(), [row[1] for row in self._rows], [row[2] for row in self._rows])]

    def grant(self, goal: Terms) -> int:
        """The least of a goal, which from now on it may not go beyond."""
        least = self.solve_least(goal) if goal else 0
        if goal:
            self.need(goal, most=least + 0.5)
        return least


def count(variables: Iterable[int]) -> dict[int, float]:
    """The sum of these."""
    return dict.fromkeys(variables, 1.0)
