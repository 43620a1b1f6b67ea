"""Cut list and choices of methods -> what is cut for each entry of it in place of its patches."""

from __future__ import annotations

from typing import NamedTuple

from planner.cloth.choose_methods import Choice, choose_methods, find_pieces
from planner.cloth.rectangles import Rectangle
from planner.cut_list import CutEntry
from planner.plan import Plan
from planner.project import Method, Methods


class Whole(NamedTuple):
    """Squares or strips that go to the machine whole: for which method, and the batch (its place) that they go to."""

    rectangle: Rectangle
    method: Method
    batch: int


class Instead(NamedTuple):
    """What is cut for one entry: `singly` patches by themselves, the rest as `wholes`.

    `per` patches come out of each of the wholes where all of them can be counted so; else 0, and it is counted as if
    every patch was cut by itself.
    """

    singly: int
    wholes: tuple[Whole, ...]
    per: int


def choose_where_asked(plan: Plan) -> tuple[Choice, ...]:
    """The choices that change anything; none where the maker says nothing of methods."""
    if plan.project.methods == Methods():
        return ()
    return tuple(choice for choice in choose_methods(plan) if choice.is_quick)


def cut_by_method(plan: Plan, choices: tuple[Choice, ...]) -> dict[int, Instead]:
    """For each entry of the cut list (its place) that is not all cut patch by patch what is cut instead."""
    found = {}
    for place, entry in enumerate(plan.cut if choices else ()):
        singly, wholes = entry.count, []
        for choice in choices:
            times = sum(leaf in entry.units for leaf in choice.unit.leaves)
            if times:
                singly -= times * choice.needed
                assert choice.chosen is not None
                pieces = find_pieces(plan, choice, entry)
                wholes += [Whole(one, choice.chosen.method, choice.unit.batch) for one in pieces]
        if wholes:
            found[place] = Instead(singly, tuple(wholes), _find_per(entry, singly, wholes))
    return found


def _find_per(entry: CutEntry, singly: int, wholes: list[Whole]) -> int:
    per = max(whole.rectangle.makes for whole in wholes)
    many = sum(whole.rectangle.count for whole in wholes)
    return per if not singly and -(-entry.count // per) == many else 0
