"""Plan -> the rectangles that are cut from each fabric: squares, rectangles, squares to be cut from corner to corner,
and the boxes round pieces of other shapes."""

from __future__ import annotations

from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.cloth.nest_rows import Slants, find_slants
from planner.cut_list import CutEntry
from planner.cut_prints import lay_upright
from planner.measure import spell_number
from planner.plan import Plan
from planner.share_squares import find_leads
from planner.turn_prints import NO_WAY

PER_SQUARE = {"half-square triangle": 2, "quarter-square triangle": 4}
_PARTED = {"half-square triangle": "halved", "quarter-square triangle": "quartered"}


class Rectangle(NamedTuple):
    """So many rectangles of one size, in inches as they are cut; `wide` runs across the cloth, from selvage to selvage,
    `high` along it. Where they `may_turn`, either side may do so.

    `makes` is how many patches come out of each: 2 of a square that is halved. `what` says what it is, for the eye and
    for the JSON: `square 3 7/8, halved`. `piles` are the names of the piles that the patches go to. `slants` says how a
    piece of another shape lies in a row of its like, where it can; in a rectangle that makes several it lies so.
    """

    fabric: str
    wide: Fraction
    high: Fraction
    may_turn: bool
    count: int  # type: ignore[assignment]  # not how often a value is in a tuple
    makes: int
    what: str
    piles: tuple[str, ...] = ()
    slants: Slants | None = None

    @property
    def is_row(self) -> bool:
        """Whether it is a strip that slanting cuts part into its patches."""
        return self.slants is not None and self.makes > 1


def find_rectangles(plan: Plan) -> tuple[Rectangle, ...]:
    """What is cut where every patch is cut by itself, in the order of the cut list.

    Triangles of a print with a direction that come out of the same squares are one entry.
    """
    leads = find_leads(plan.cut)
    piles = [plan.piles.unit_names[entry.units[0]] for entry in plan.cut]
    found = []
    for place, entry in enumerate(plan.cut):
        if place not in leads:
            box = _find_rectangle(entry, (piles[place],), plan.ruler.step)
            found.append(box._replace(slants=_find_slants(plan, entry)) if entry.piece.shape == "other" else box)
        elif leads[place] == place:
            shared = tuple(piles[one] for one, lead in leads.items() if lead == place)
            # One such square gives one triangle of each way to lie
            found.append(_find_rectangle(entry, shared, plan.ruler.step)._replace(count=entry.count))
    return tuple(found)


def _find_slants(plan: Plan, entry: CutEntry) -> Slants | None:
    shape = plan.units.cuts.shapes[plan.units.units[entry.units[0]].shape]
    outline = plan.blocks.outline_inches(shape.outline)
    if entry.up != NO_WAY:
        outline = lay_upright(outline, entry.up)
    elif shape.askew:
        return None
    return find_slants(outline, plan.project.seam, plan.ruler.step, entry.up == NO_WAY)


def _find_rectangle(entry: CutEntry, piles: tuple[str, ...], step: Fraction) -> Rectangle:
    """`step` is the finest line of the ruler: a box round another shape may well be a little larger, so it is whole."""
    piece = entry.piece
    may_turn = entry.up == NO_WAY
    if piece.shape in PER_SQUARE:
        side, makes = piece.cut[1], PER_SQUARE[piece.shape]
        what = f"square {spell_number(side)}, {_PARTED[piece.shape]}"
        return Rectangle(entry.fabric, side, side, may_turn, -(-entry.count // makes), makes, what, piles)
    short, long = piece.cut
    wide, high = long, short
    if not may_turn or piece.shape == "other":
        wide, high = (max(corner[axis] for corner in piece.corners) for axis in (0, 1))
    # What lies aslant of its print is cut out of a box, as other shapes are
    is_boxed = piece.shape == "other" or sorted((wide, high)) != list(piece.cut)
    if is_boxed:
        wide, high = (ceil(side / step) * step for side in (wide, high))
    if may_turn and wide < high:
        wide, high = high, wide
    size = f"{spell_number(high)} x {spell_number(wide)}"
    if is_boxed:
        what = f"box {size}"
    else:
        what = f"square {spell_number(wide)}" if piece.shape == "square" else f"rectangle {size}"
    return Rectangle(entry.fabric, wide, high, may_turn, entry.count, 1, what, piles)
