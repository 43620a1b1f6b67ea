"""How many seams are pressed as each of the maker's wishes says, of how many that it has a say in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from planner.find_joins import joins_of_block
from planner.plan import Plan
from planner.press_seams import Pressing, lean_outward, points_to_needle
from planner.project import Wish
from planner.spin_seams import find_centres


class Granted(NamedTuple):
    """`granted` seams of `of`, in all copies of all blocks."""

    wish: Wish
    granted: int
    of: int


def count_wishes(plan: Plan, pressing: Pressing) -> tuple[Granted, ...]:
    """Each wish in its order. A seam that is pressed open has no say in any; one that is spun falls only half as
    wished, and that is not granted."""
    found = []
    for wish in plan.project.prefer:
        said = list(_list_needle(plan, pressing) if wish == "needle" else _list_seams(plan, pressing, wish))
        granted, of = (sum(copies for is_so, copies in said if is_so or every) for every in (False, True))
        found.append(Granted(wish, granted, of))
    return tuple(found)


def _list_seams(plan: Plan, pressing: Pressing, wish: Wish) -> Iterator[tuple[bool, int]]:
    """For each seam that a wish has a say in: whether it is granted, and in how many copies."""
    units = plan.units
    centres = find_centres(units, plan.joins) if wish == "spin" else {}
    for block, drafted in enumerate(plan.blocks.drafted):
        for number, seam in enumerate(units.seams[block] if drafted.copies else ()):
            if number in pressing.is_open[block]:
                continue
            is_spun = number in pressing.is_spun[block]
            leaning = pressing.leanings[seam.unit]
            if wish == "spin":
                if seam.unit in centres and (block, number) not in plan.kept:
                    yield is_spun, drafted.copies
                continue
            lean = {"light-weight": leaning.light_weight, "plain": leaning.plain, "dark": leaning.dark}.get(wish)
            if wish == "outward":
                lean = lean_outward(units, block, number)
            if lean is not None:
                yield pressing.to_a[block][number] == lean and not is_spun, drafted.copies


def _list_needle(plan: Plan, pressing: Pressing) -> Iterator[tuple[bool, int]]:
    for block, drafted in enumerate(plan.blocks.drafted):
        granted: dict[int, bool] = {}
        for number, join, first, second in joins_of_block(plan.units, plan.joins, block) if drafted.copies else ():
            if pressing.is_open[block] & {first, second}:
                continue
            unit = plan.units.seams[block][number].unit
            feed = plan.feeds[unit]
            assert feed is not None, "a patch has no seam"
            a = first, join.a_ahead, join.a_last
            b = second, join.b_ahead, join.b_last
            on_top, is_ahead, is_last = a if feed.a_on_top else b
            wanted = points_to_needle(is_ahead, feed, plan.units.units[unit].seam)
            is_so = pressing.falls_to_a(block, on_top, is_last) == wanted
            granted[number] = granted.get(number, True) and is_so
        for is_so in granted.values():
            yield is_so, drafted.copies
