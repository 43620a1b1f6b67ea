"""Boxes round slanted pieces -> strips from which these are cut side by side, as many as a length of cloth holds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from planner.cloth.nest_rows import fill_row, measure_row
from planner.cloth.rectangles import Rectangle
from planner.measure import spell_number


def lay_in_rows(rectangles: Sequence[Rectangle], room: Fraction) -> tuple[Rectangle, ...]:
    """The same with rows at most so long in place of boxes, where they take less cloth: full ones, then one with the
    rest."""
    return tuple(row for one in rectangles for row in _lay_one(one, room))


def _lay_one(box: Rectangle, room: Fraction) -> Iterator[Rectangle]:
    slants = box.slants
    most = min(box.count, fill_row(slants, room)) if slants is not None and not box.is_row else 0
    if slants is None or most < 2 or measure_row(slants, most) * slants.high >= most * box.wide * box.high:
        yield box
        return
    full, rest = divmod(box.count, most)
    for count, many in ((full, most), (min(rest, 1), rest)):
        if not count:
            continue
        if many < 2:
            yield box._replace(count=count)
            continue
        what = f"strip of {many} {slants.noun}s {spell_number(slants.high)}"
        length = measure_row(slants, many)
        yield box._replace(wide=length, high=slants.high, may_turn=False, count=count, makes=many, what=what)
