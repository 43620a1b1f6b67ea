"""Methods that the maker fixed for some units, and that fit none of them or cannot be: what is wrong, as faults."""

from __future__ import annotations

from planner.cloth.choose_methods import Choice, choose_methods
from planner.cloth.find_fixed import Fixed, tell_where
from planner.cloth.method_units import why_no_methods
from planner.fault import Fault
from planner.plan import Plan
from planner.project import Asked
from planner.reading.nearest_name import NearestName


def why_not_fixed(plan: Plan) -> tuple[Fault, ...]:
    """One fault for each entry of `methods, units` that cannot be followed; empty where all can.

    What is fixed by name must go for every unit of that name; what is fixed for a block for one unit of it at least.
    """
    if not plan.project.methods.units:
        return ()
    fixed, nearest = Fixed(plan), NearestName()
    choices = {choice.unit.batch: choice for choice in choose_methods(plan)}
    found = (_why_not_followed(plan, fixed, number, choices, nearest) for number in range(len(fixed.entries)))
    return tuple(fault for fault in found if fault is not None)


def _why_not_followed(
    plan: Plan, fixed: Fixed, number: int, choices: dict[int, Choice], nearest: NearestName
) -> Fault | None:
    entry = fixed.entries[number]
    if not fixed.fits[number]:
        return fixed.tell_none(number, nearest)
    rival = fixed.find_rival(number)
    if rival is not None:
        place, other = rival
        words = f"'{_name(plan, place)}' is sewn in one way wherever it is, and line {other.line} fixes it already"
        return Fault(entry.line, tell_where(number), f"{words}; keep one")
    here = [place for place in fixed.fits[number] if fixed.of_batch[place] is entry]
    whys = {place: _why_not(plan, choices.get(place), place, entry.method) for place in here}
    wrong = {place: why for place, why in whys.items() if why}
    if not wrong or (entry.unit is None and len(wrong) < len(fixed.fits[number])):
        return None
    place, why = next(iter(wrong.items()))
    if entry.unit is None and len(wrong) > 1:  # of a block the unit that comes nearest
        place, why = next(((one, words) for one, words in wrong.items() if one in choices), (place, why))
    return Fault(entry.line, tell_where(number), f"'{_name(plan, place)}' cannot be sewn {entry.method}: {why}")


def _name(plan: Plan, place: int) -> str:
    return plan.words.name(plan.batches.batches[place].units[0])


def _why_not(plan: Plan, choice: Choice | None, place: int, asked: Asked) -> str:
    """Why a batch is not sewn as is asked; nothing where it is."""
    if choice is None:
        return "" if asked == "one by one" else why_no_methods(plan, place)
    if not choice.ways:
        return "" if asked in ("strip sets", "quickest") else "it comes out of a longer strip set"
    return choice.why_not.removeprefix(f"not {asked}: ")
