"""Cut list and choices of methods -> what is cut for each entry of it in place of its patches."""

from __future__ import annotations

from typing import NamedTuple

from planner.cloth.choose_methods import Choice, choose_methods, find_pieces
from planner.cloth.rectangles import PER_SQUARE, Rectangle
from planner.plan import Plan
from planner.project import Method, Methods


class Whole(NamedTuple):
    """Squares or strips that go to the machine whole: for which method, and the batch (its place) that they go to."""

    rectangle: Rectangle
    method: Method
    batch: int


class Instead(NamedTuple):
    """What is cut for one entry, or a part of that which is counted alike: `singly` patches by themselves, the others
    as `wholes`.

    `pieces` patches come out of `count` things in all, `per` of each (the last may give less).
    """

    singly: int
    wholes: tuple[Whole, ...]
    per: int
    pieces: int
    count: int  # type: ignore[assignment]  # not how often a value is in a tuple


def choose_where_asked(plan: Plan) -> tuple[Choice, ...]:
    """The choices that change anything; none where the maker says nothing of methods."""
    if plan.project.methods == Methods():
        return ()
    return tuple(choice for choice in choose_methods(plan) if choice.is_quick)


def cut_by_method(plan: Plan, choices: tuple[Choice, ...]) -> dict[int, tuple[Instead, ...]]:
    """For each entry of the cut list (its place) that is not all cut patch by patch what is cut instead: one part for
    each number of patches that come out of one thing, most first."""
    found = {}
    for place, entry in enumerate(plan.cut if choices else ()):
        singly, parts = entry.count, list[Instead]()
        for choice in choices:
            times = sum(leaf in entry.units for leaf in choice.unit.leaves)
            if times:
                singly -= times * choice.needed
                assert choice.chosen is not None
                cut = find_pieces(plan, choice, entry)
                wholes = tuple(Whole(one, choice.chosen.method, choice.unit.batch) for one in cut)
                parts.append(_count_wholes(wholes, times * choice.needed))
        if parts:
            if singly:
                per = PER_SQUARE.get(entry.piece.shape, 1)
                parts.append(Instead(singly, (), per, singly, -(-singly // per)))
            found[place] = _join_alike(parts)
    return found


def _count_wholes(wholes: tuple[Whole, ...], pieces: int) -> Instead:
    """Squares or strips for so many patches. Strips of a method may give unlike numbers: then each counts for its share
    of all."""
    many = sum(whole.rectangle.count for whole in wholes)
    per = max(whole.rectangle.makes for whole in wholes)
    return Instead(0, wholes, per if -(-pieces // per) == many else -(-pieces // many), pieces, many)


def _join_alike(parts: list[Instead]) -> tuple[Instead, ...]:
    """Parts of which equally many patches come out of each thing as one, so that all of a kind is counted together."""
    found: dict[int, Instead] = {}
    for part in parts:
        known = found.get(part.per, Instead(0, (), part.per, 0, 0))
        found[part.per] = Instead(
            known.singly + part.singly,
            known.wholes + part.wholes,
            part.per,
            known.pieces + part.pieces,
            known.count + part.count,
        )
    return tuple(found[per] for per in sorted(found, reverse=True))
