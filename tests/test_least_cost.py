"""Least cost, level by level: equal to trying everything, and to another solver of the same library."""

from __future__ import annotations

import random
from itertools import product

import pytest
from pysat.examples.rc2 import RC2
from pysat.formula import WCNF

from planner.least_cost import LeastCost, OutOfBudget

Wishes = list[tuple[int, int]]


def draw_wishes(chance: random.Random, variables: int, most: int) -> Wishes:
    return [(draw_literal(chance, variables), chance.choice((1, 1, 2, 3, 7))) for _ in range(chance.randint(1, most))]


def draw_literal(chance: random.Random, variables: int) -> int:
    return chance.choice((-1, 1)) * chance.randint(1, variables)


def draw_needs(chance: random.Random, variables: int, most: int) -> list[list[int]]:
    return [
        [draw_literal(chance, variables) for _ in range(chance.randint(2, 3))] for _ in range(chance.randint(0, most))
    ]


def solve(variables: int, needs: list[list[int]], levels: list[Wishes]) -> tuple[tuple[int, ...], list[bool]] | None:
    """What each level costs, and the assignment; None where the needs contradict each other."""
    cost = LeastCost()
    try:
        literals = [cost.variable() for _ in range(variables)]
        for clause in needs:
            cost.need(*clause)
        costs = tuple(cost.grant(level) for level in levels)
        cost.settle(literals)
        return costs, [cost.is_true(literal) for literal in literals]
    except ValueError:
        return None
    finally:
        cost.close()


def enumerate_all(
    variables: int, needs: list[list[int]], levels: list[Wishes]
) -> tuple[tuple[int, ...], list[bool]] | None:
    """The same by trying everything; of equals the one that has the first variables true."""
    best = None
    for values in product((True, False), repeat=variables):
        held = {number * (1 if value else -1) for number, value in enumerate(values, 1)}
        if all(held.intersection(clause) for clause in needs):
            costs = tuple(sum(weight for literal, weight in level if literal not in held) for level in levels)
            if best is None or costs < best[0]:
                best = costs, list(values)
    return best


@pytest.mark.parametrize("first", range(0, 300, 50))
def test_each_level_and_the_tie_break_are_those_of_trying_everything(first: int) -> None:
    for seed in range(first, first + 50):
        chance = random.Random(seed)
        variables = chance.randint(3, 8)
        needs = draw_needs(chance, variables, 12)
        levels = [draw_wishes(chance, variables, 10) for _ in range(chance.randint(1, 4))]
        assert solve(variables, needs, levels) == enumerate_all(variables, needs, levels), seed


@pytest.mark.parametrize("seed", range(40))
def test_many_variables_cost_what_another_solver_finds(seed: int) -> None:
    chance = random.Random(seed)
    variables = chance.randint(15, 40)
    needs = draw_needs(chance, variables, 80)
    levels = [draw_wishes(chance, variables, 60) for _ in range(chance.randint(1, 3))]
    solved = solve(variables, needs, levels)
    # One sum stands for strict levels: a wish weighs more than all that come after its level together
    factors = [1]
    for level in reversed(levels[1:]):
        factors.insert(0, factors[0] * (1 + sum(weight for _, weight in level)))
    formula = WCNF()
    for clause in needs:
        formula.append(clause)
    for factor, level in zip(factors, levels, strict=True):
        for literal, weight in level:
            formula.append([literal], weight=factor * weight)
    with RC2(formula) as solver:
        found = solver.compute()
        assert (found is None) == (solved is None)
        if solved is not None:
            assert sum(factor * cost for factor, cost in zip(factors, solved[0], strict=True)) == solver.cost


def test_needs_that_contradict_each_other_are_told() -> None:
    assert solve(1, [[1], [-1]], [[(1, 1)]]) is None


def test_a_level_is_never_worsened_for_a_later_one() -> None:
    costs, values = solve(2, [[-1, -2]], [[(1, 1)], [(2, 1_000_000)]]) or ((), [])
    assert costs == (0, 1_000_000)
    assert values == [True, False]


def test_a_wish_and_its_opposite_cost_the_smaller_of_the_two() -> None:
    assert solve(1, [], [[(1, 3), (-1, 2)]]) == ((2,), [True])
    assert solve(1, [], [[(1, 2), (-1, 3)]]) == ((2,), [False])


def draw_hard(seed: int) -> tuple[int, list[list[int]], Wishes]:
    """Variables, needs that can be met (the assignment drawn first meets them), and wishes: many conflicts to solve."""
    chance = random.Random(seed)
    variables = 60
    held = [chance.choice((-1, 1)) * number for number in range(1, variables + 1)]
    needs = []
    while len(needs) < 240:
        clause = [chance.choice((-1, 1)) * number for number in chance.sample(range(1, variables + 1), 3)]
        if any(literal in held for literal in clause):
            needs.append(clause)
    return variables, needs, [(draw_literal(chance, variables), chance.choice((1, 2, 3))) for _ in range(60)]


@pytest.mark.parametrize("seed", range(6))
def test_a_budget_that_runs_out_leaves_a_true_bound_and_the_same_one_each_time(seed: int) -> None:
    variables, needs, wishes = draw_hard(seed)

    def grant(conflicts: int | None) -> tuple[int, bool]:
        """What is proven, and whether that is all."""
        cost = LeastCost(conflicts=conflicts)
        try:
            for _ in range(variables):
                cost.variable()
            for clause in needs:
                cost.need(*clause)
            return cost.grant(wishes), True
        except OutOfBudget as spent:
            return spent.at_least, False
        finally:
            cost.close()

    least, _ = grant(None)
    told = [grant(conflicts) for conflicts in (0, 3, 30, 300, 100_000)]
    assert told == [grant(conflicts) for conflicts in (0, 3, 30, 300, 100_000)]
    assert [bound for bound, _ in told] == sorted(bound for bound, _ in told)
    assert all(bound == least if is_all else bound <= least for bound, is_all in told)
    assert (told[0][1], told[-1]) == (False, (least, True))


def test_when_a_later_level_runs_out_the_assignment_meets_the_needs_and_the_level_before() -> None:
    ran_out = 0
    for seed, conflicts in product(range(6), range(20, 500, 40)):
        variables, needs, first = draw_hard(seed)
        _, _, second = draw_hard(seed + 100)
        cost = LeastCost(conflicts=conflicts)
        literals = [cost.variable() for _ in range(variables)]
        for clause in needs:
            cost.need(*clause)
        costs = []
        try:
            costs += [cost.grant(first)]
            costs += [cost.grant(second)]
        except OutOfBudget:
            pass
        if len(costs) == 1:
            held = {literal if cost.is_true(literal) else -literal for literal in literals}
            assert all(held.intersection(clause) for clause in needs)
            assert sum(weight for literal, weight in first if literal not in held) == costs[0]
            ran_out += 1
        cost.close()
    assert ran_out > 10


def test_planning_that_is_called_off_ends_at_once() -> None:
    cost = LeastCost(keep_going=lambda: False)
    literal = cost.variable()
    with pytest.raises(InterruptedError):
        cost.grant([(literal, 1)])
    cost.close()


def test_settling_without_conflicts_left_keeps_what_was_found_and_meets_all_needs() -> None:
    for seed in range(40):
        chance = random.Random(seed)
        needs, wishes = draw_needs(chance, 9, 24), draw_wishes(chance, 9, 12)
        cost = LeastCost()
        try:
            literals = [cost.variable() for _ in range(9)]
            for clause in needs:
                cost.need(*clause)
            least = cost.grant(wishes)
            cost.allow(0)
            cost.settle(literals)
            assert all(any(cost.is_true(literal) for literal in clause) for clause in needs), seed
            assert sum(weight for literal, weight in wishes if not cost.is_true(literal)) == least, seed
        except ValueError:
            assert solve(9, needs, [wishes]) is None, seed
        finally:
            cost.close()
