"""Plan -> by which method each of its units is cut and sewn, which would be the quickest, and why.

What the maker fixed in the project file holds where it can be done; all else is sewn one by one. Of rows that are parts
of rows the longer ones are looked at first: what a strip set gives as a whole is not sewn any more inside of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from planner.cloth.find_fixed import Fixed
from planner.cloth.method_units import Family, MethodUnit, find_method_units
from planner.cloth.methods import Terms, Way, list_ways, why_not_quick
from planner.cloth.rectangles import Rectangle, find_rectangles
from planner.cut_list import CutEntry
from planner.measure import spell_number
from planner.plan import Plan
from planner.project import GOOSE_METHODS, HOURGLASS_METHODS, ROW_METHODS, TRIANGLE_METHODS, Asked, Methods
from planner.reading.read_keys import spell_choices


@dataclass(frozen=True, slots=True)
class Choice:
    """What there is to choose for one unit.

    `needed` are those that no strip set gives already; `ways` has all methods for them, none where that is none.
    `best` is the quickest where all else is sewn the quickest way too (None: it then comes out of a longer strip set),
    `why` says why. `why_not` says why what the maker asked for is not done.
    """

    unit: MethodUnit
    needed: int
    ways: tuple[Way, ...]
    chosen: Way | None
    best: Way | None
    why: str
    why_not: str = ""

    @property
    def is_quick(self) -> bool:
        """Whether it is sewn by another method than patch by patch."""
        return self.chosen is not None and self.chosen.method != "one by one"


class _Left:
    """How many of each batch no strip set has given yet."""

    def __init__(self, plan: Plan, units: tuple[MethodUnit, ...]) -> None:
        self.of_batch = {unit.batch: unit.needed for unit in units}
        self._batch_of = {one: unit.batch for unit in units for one in plan.batches.batches[unit.batch].units}

    def take_inside(self, unit: MethodUnit, many: int) -> None:
        """What is sewn inside so many of a unit is done with it."""
        for number in unit.inside:
            if number in self._batch_of:
                self.of_batch[self._batch_of[number]] -= many


def choose_methods(plan: Plan) -> tuple[Choice, ...]:
    """A choice for each unit that can be sewn in more ways than one, in the order of sewing."""
    units = find_method_units(plan)
    terms = find_terms(plan)
    fixed = Fixed(plan).of_batch if plan.project.methods.units else {}
    left, left_at_best = _Left(plan, units), _Left(plan, units)
    found: dict[int, Choice] = {}
    # What holds others comes before them
    for unit in sorted(units, key=lambda one: (-len(one.leaves), one.batch)):
        at_best = left_at_best.of_batch[unit.batch]
        best, why = _find_best(unit, at_best, terms)
        if best is not None and at_best < unit.needed:
            why += f" (of the {at_best} that no longer strip set gives)"
        if best is not None and best.method != "one by one":
            left_at_best.take_inside(unit, at_best)
        asked = fixed[unit.batch].method if unit.batch in fixed else _asked(plan.project.methods, unit.family)
        needed = left.of_batch[unit.batch]
        ways = list_ways(unit, needed, terms) if needed > 0 else ()
        chosen, why_not = _find_asked(unit, ways, asked, terms)
        found[unit.batch] = choice = Choice(unit, needed, ways, chosen, best, why, why_not)
        if choice.is_quick:
            left.take_inside(unit, needed)
    return tuple(found[unit.batch] for unit in units)


def find_terms(plan: Plan) -> Terms:
    """What the methods of a project go by."""
    project = plan.project
    usable = {fabric.name: fabric.usable for fabric in project.fabrics}
    return Terms(project.seam, project.methods.oversize, usable, project.handling.pile, plan.ruler.mark)


METHODS_OF: Mapping[Family, tuple[Asked, ...]] = {
    "triangle square": TRIANGLE_METHODS,
    "hourglass": HOURGLASS_METHODS,
    "flying goose": GOOSE_METHODS,
    "row": ROW_METHODS,
}


def _asked(methods: Methods, family: Family) -> Asked:
    asked: Mapping[Family, Asked] = {
        "triangle square": methods.triangles,
        "hourglass": methods.hourglasses,
        "flying goose": methods.geese,
        "row": methods.rows,
    }
    return asked[family]


def _find_best(unit: MethodUnit, needed: int, terms: Terms) -> tuple[Way | None, str]:
    """The quickest way that speaks for itself, and why."""
    if needed <= 0:
        return None, "comes out of a longer strip set"
    ways = list_ways(unit, needed, terms)
    best = _quickest(ways)
    return best, _say_why(best, ways[0])


def _quickest(ways: tuple[Way, ...]) -> Way:
    return min((way for way in ways if not way.beware), key=lambda way: (way.minutes, way.pieces, way.cloth))


def _find_asked(unit: MethodUnit, ways: tuple[Way, ...], asked: Asked, terms: Terms) -> tuple[Way | None, str]:
    """The way that the maker asked for, or else patch by patch, and why it is that."""
    if not ways:
        return None, ""
    if asked == "quickest":
        return _quickest(ways), ""
    chosen = next((way for way in ways if way.method == asked), None)
    if chosen is not None:
        return chosen, ""
    return ways[0], f"not {asked}: {_why_not_asked(unit, asked, terms)}"


def _why_not_asked(unit: MethodUnit, asked: Asked, terms: Terms) -> str:
    if asked not in METHODS_OF[unit.family]:
        return f"it is a {unit.family}, which is sewn {spell_choices(METHODS_OF[unit.family])}"
    why = why_not_quick(unit, terms)
    if why:
        return why
    if unit.family == "flying goose" and asked == "four at a time":
        return "its two skies are different fabrics"
    return "the cloth is too narrow for its squares or strips"


def _say_why(best: Way, singly: Way) -> str:
    if best.method == singly.method:
        return "nothing else takes less time"
    saved = singly.minutes - best.minutes
    if not saved:
        return "as long as one by one, with fewer pieces"
    pieces = f"{best.pieces} pieces in place of {singly.pieces}"
    return f"{spell_minutes(saved)} min less than one by one: {pieces}"


def spell_minutes(minutes: Fraction) -> str:
    """To the nearest half minute: they are an estimate."""
    halves = (2 * minutes + Fraction(1, 2)) // 1
    return spell_number(Fraction(max(1, halves), 2))


def leave_cut(plan: Plan, choices: tuple[Choice, ...]) -> tuple[CutEntry, ...]:
    """The cut list without the patches of units that are sewn by another method than patch by patch."""
    gone: dict[int, int] = {}
    for choice in choices:
        if choice.is_quick:
            for leaf in choice.unit.leaves:
                gone[leaf] = gone.get(leaf, 0) + choice.needed
    left = (replace(entry, count=entry.count - sum(gone.get(one, 0) for one in entry.units)) for entry in plan.cut)
    return tuple(entry for entry in left if entry.count > 0)


def change_rectangles(plan: Plan, choices: tuple[Choice, ...]) -> tuple[Rectangle, ...]:
    """What is cut from the cloth when each unit is sewn as chosen: the pieces that are left of the cut list, then the
    squares and strips of the methods, equal ones of several units in one entry."""
    if not any(choice.is_quick for choice in choices):
        return find_rectangles(plan)
    rest = find_rectangles(replace(plan, cut=leave_cut(plan, choices)))
    together: dict[Rectangle, tuple[int, tuple[str, ...]]] = {}
    for choice in choices:
        if choice.is_quick and choice.chosen is not None:
            piles = _find_piles(plan, choice)
            for one in choice.chosen.rectangles:
                named = one._replace(count=0)
                count, names = together.get(named, (0, ()))
                together[named] = count + one.count, tuple(dict.fromkeys((*names, *piles.get(one, ()))))
    return (*rest, *(one._replace(count=count, piles=piles) for one, (count, piles) in together.items()))


def _find_piles(plan: Plan, choice: Choice) -> dict[Rectangle, tuple[str, ...]]:
    """For each of the squares and strips of a method the piles of the patches that they stand for."""
    found: dict[Rectangle, tuple[str, ...]] = {}
    for entry in plan.cut:
        if any(leaf in entry.units for leaf in choice.unit.leaves):
            for one in find_pieces(plan, choice, entry):
                found[one] = (*found.get(one, ()), plan.piles.unit_names[entry.units[0]])
    return found


def find_pieces(plan: Plan, choice: Choice, entry: CutEntry) -> tuple[Rectangle, ...]:
    """Of what is cut for a unit that which stands for the patches of one entry of the cut list."""
    assert choice.chosen is not None
    unit, cut = choice.unit, choice.chosen.rectangles
    if unit.family == "flying goose":
        cut = cut[:1] if entry.piece.shape == "quarter-square triangle" else cut[1:]
    elif unit.family == "row":
        segment = unit.size[0] + 2 * plan.project.seam
        cut = tuple(one for one in cut if sorted((one.high, segment)) == sorted(entry.piece.cut))
    return tuple(one for one in cut if one.fabric == entry.fabric)
