"""Clauses and wishes -> the assignment that costs least, level by level: weighted MaxSAT in a strict order.

The solver is Glucose 4.1 as carried by python-sat. Each level's optimum is found from below: the solver is asked to
grant every wish, and each set of wishes that cannot all be granted is weakened by its smallest weight to "all but
one" (the OLL scheme: A. Morgado, C. Dodaro, J. Marques-Silva, "Core-Guided MaxSAT with Soft Cardinality Constraints",
2014). When all that is left can be granted, the level is proven, and what was granted becomes a need: so the next
level chooses among the optima of this one, no more and no fewer.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from pysat.card import ITotalizer
from pysat.solvers import Solver

SOLVER = "glucose4"
Literal = int


class _Spent(Exception):
    pass


class OutOfBudget(Exception):
    """The conflicts that a problem may cost are used up. `at_least` is proven of the level that was being granted."""

    def __init__(self, at_least: int) -> None:
        super().__init__(at_least)
        self.at_least = at_least


class LeastCost:
    """An incremental problem. Literals are whole numbers, a minus sign says "not"; variables come from `variable`.

    `conflicts` is how many conflicts the solver may meet in all (None: no bound): a count of steps, never of seconds,
    so that every machine stops at the same place.
    """

    def __init__(self, keep_going: Callable[[], bool] = lambda: True, conflicts: int | None = None) -> None:
        self._conflicts = conflicts
        self._solver = Solver(name=SOLVER)
        self._top = 0
        self._keep_going = keep_going
        self._model: list[int] = []
        self._totals: list[ITotalizer] = []
        self._proven = 0

    def close(self) -> None:
        self._solver.delete()
        for total in self._totals:
            total.delete()

    def allow(self, conflicts: int | None) -> None:
        """Let the solver meet so many conflicts from here on (None: no bound)."""
        self._conflicts = None if conflicts is None else self._solver.accum_stats()["conflicts"] + conflicts

    def variable(self) -> Literal:
        self._top += 1
        return self._top

    def need(self, *clause: Literal) -> None:
        """One of these must hold."""
        self._solver.add_clause(list(clause))

    def need_at_most(self, literals: Iterable[Literal], most: int) -> None:
        """No more than so many of these may hold."""
        counted = list(literals)
        if len(counted) <= most:
            return
        total = ITotalizer(counted, ubound=most, top_id=self._top)
        self._totals.append(total)
        self._top = max(self._top, total.top_id)
        for clause in total.cnf.clauses:
            self._solver.add_clause(clause)
        self._solver.add_clause([-total.rhs[most]])

    def grant(self, wishes: Iterable[tuple[Literal, int]]) -> int:
        """Grant the wishes (literal, weight above 0) at least cost; the sum of the weights not granted, proven least.

        From here on every assignment is one of those that reach it. ValueError where the needs contradict each other;
        OutOfBudget with what is proven so far.
        """
        try:
            return self._grant(wishes)
        except _Spent:
            raise OutOfBudget(self._proven) from None

    def _grant(self, wishes: Iterable[tuple[Literal, int]]) -> int:
        self._proven = 0
        weight_of: dict[Literal, int] = {}
        cost = 0
        for literal, weight in wishes:
            # A wish for x and one for not x: the smaller of the two is lost whatever happens
            against = min(weight_of.get(-literal, 0), weight)
            if against:
                cost += against
                self._proven = cost
                weight_of[-literal] -= against
            if weight > against:
                weight_of[literal] = weight_of.get(literal, 0) + weight - against
        weight_of = {literal: weight for literal, weight in weight_of.items() if weight}
        outputs: dict[Literal, tuple[ITotalizer, int]] = {}  # "not that many": its total, and how many
        for bar in self._strata(weight_of):
            while True:
                if not self._keep_going():
                    raise InterruptedError
                asked = [literal for literal, weight in weight_of.items() if weight >= bar]
                if self._solve(asked):
                    break
                core = self._solver.get_core()
                if not core:
                    raise ValueError("the needs contradict each other")
                core = self._shrink(core)
                least = min(weight_of[literal] for literal in core)
                cost += least
                self._proven = cost
                for literal in core:
                    weight_of[literal] -= least
                    if not weight_of[literal]:
                        del weight_of[literal]
                    if literal in outputs:
                        total, many = outputs[literal]
                        self._ask_for(total, many + 1, least, weight_of, outputs)
                if len(core) == 1:
                    self._solver.add_clause([-core[0]])
                else:
                    total = ITotalizer([-literal for literal in core], ubound=1, top_id=self._top)
                    self._totals.append(total)
                    self._top = max(self._top, total.top_id)
                    for clause in total.cnf.clauses:
                        self._solver.add_clause(clause)
                    self._ask_for(total, 2, least, weight_of, outputs)
        for literal in weight_of:
            self._solver.add_clause([literal])  # the assignment found last has it so
        return cost

    def settle(self, literals: Iterable[Literal]) -> None:
        """Decide one literal after the other, each true if it can be: a tie-break that no solver's habits change.

        Where the budget is used up the rest stays as it was found last.
        """
        if not self._model:
            self._conflicts = None  # something must be found
        if not self._try([]) and not self._model:
            raise ValueError("the needs contradict each other")
        for literal in literals:
            can_be = self.is_true(literal) or self._try([literal])
            self._solver.add_clause([literal if can_be else -literal])  # the assignment found last has it so

    def _try(self, assumed: list[Literal]) -> bool:
        """Whether these can hold, as far as the budget tells."""
        try:
            return self._solve(assumed)
        except _Spent:
            return False

    def is_true(self, literal: Literal) -> bool:
        """In the assignment found last: after `grant` and `settle` one that meets all needs, also where a later
        `grant` ran out of budget. Variables that came after it are false."""
        if abs(literal) > len(self._model):
            return literal < 0
        return (self._model[abs(literal) - 1] > 0) == (literal > 0)

    def _solve(self, assumed: list[Literal]) -> bool:
        if not self._ask_solver(assumed):
            return False
        model = self._solver.get_model()
        # The solver may leave out variables that no clause holds: those are false
        self._model = model + [-number for number in range(len(model) + 1, self._top + 1)]
        return True

    def _ask_solver(self, assumed: list[Literal]) -> bool:
        if self._conflicts is None:
            return bool(self._solver.solve(assumptions=assumed))
        before = self._solver.accum_stats()["conflicts"]
        left = self._conflicts - before
        if left <= 0:
            raise _Spent
        self._solver.conf_budget(left)
        answer = self._solver.solve_limited(assumptions=assumed)
        if answer is None:
            raise _Spent
        return bool(answer)

    def _shrink(self, core: list[Literal]) -> list[Literal]:
        """The core again and again under itself alone, until it stays: shorter cores make tighter bounds."""
        while len(core) > 1:
            self._ask_solver(core)
            smaller = self._solver.get_core()
            if smaller is None or len(smaller) >= len(core):
                break
            core = smaller
        return sorted(core, key=abs)

    def _ask_for(
        self,
        total: ITotalizer,
        many: int,
        weight: int,
        weight_of: dict[Literal, int],
        outputs: dict[Literal, tuple[ITotalizer, int]],
    ) -> None:
        """Wish that fewer than `many` of a core's wishes are lost."""
        if many > len(total.lits):
            return
        if many > len(total.rhs):
            known = len(total.cnf.clauses)
            total.increase(ubound=many - 1, top_id=self._top)
            self._top = max(self._top, total.top_id)
            for clause in total.cnf.clauses[known:]:
                self._solver.add_clause(clause)
        literal = -total.rhs[many - 1]
        outputs[literal] = (total, many)
        weight_of[literal] = weight_of.get(literal, 0) + weight

    @staticmethod
    def _strata(weight_of: dict[Literal, int]) -> Iterator[int]:
        """Heavy wishes first, so that cores among them come before cores that light ones would blur."""
        bar = max(weight_of.values(), default=0)
        while bar > 1:
            yield bar
            bar = max((weight for weight in weight_of.values() if weight < bar), default=1)
        yield 1
