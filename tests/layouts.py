"""Cloth for tests to look at."""

from __future__ import annotations

import random
from fractions import Fraction
from functools import cache

from planned import plan_sample

from planner.cloth.cloth import Cloth, work_out_cloth
from planner.cloth.rectangles import Rectangle
from planner.plan import Plan
from planner.project import Fabric


def lay(plan: Plan) -> Cloth:
    cloth, faults = work_out_cloth(plan)
    assert cloth is not None, faults
    return cloth


@cache
def lay_sample(name: str) -> Cloth:
    return lay(plan_sample(name))


def draw_rectangles(seed: int) -> list[Rectangle]:
    """Pieces at random, in eighths of an inch."""
    chance = random.Random(seed)
    found = []
    for number in range(chance.randint(1, 5)):
        wide, high = (Fraction(chance.randint(8, 90), 8) for _ in range(2))
        what = f"rectangle {number}"
        found.append(Rectangle("navy", wide, high, chance.random() < 0.7, chance.randint(1, 40), 1, what))
    return found


def make_fabric(usable: int = 40, stock: tuple[tuple[Fraction, Fraction], ...] = ()) -> Fabric:
    return Fabric("navy", 9, "dark", "medium", None, "na", 1, Fraction(usable), stock=stock)
