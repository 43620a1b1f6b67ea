"""Choices of methods -> a table of at most 60 columns for each unit, or objects for other programs."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from textwrap import wrap

from planner.cloth.choose_methods import Choice, choose_methods, spell_minutes
from planner.cloth.fold_lines import WIDTH
from planner.cloth.methods import Way
from planner.measure import INCHES_PER_CM, Measure, spell_exact, spell_number
from planner.plan import Plan

_ASSUMED = (
    "Minutes are an estimate: a line drawn 5 seconds, two pieces laid together 7 1/2, a stroke of the blade 5, a press "
    "6, a unit trimmed 15, and 50 in of seam a minute. Pieces and cloth are exact, without the scraps beside them."
)


def print_methods(plan: Plan) -> Iterator[str]:
    """Lines: for each unit all its methods, `>` before the one that is taken, `*` behind the quickest."""
    choices = choose_methods(plan)
    if not choices:
        return
    yield "Methods"
    area = "sq in" if plan.project.measure == "in" else "sq cm"
    for choice in choices:
        yield ""
        name = choice.unit.name
        family = "" if choice.unit.family in name or choice.unit.family == "row" else f" ({choice.unit.family})"
        yield from wrap(f"{choice.unit.needed} x {name}{family}", WIDTH)
        if not choice.ways:
            yield f"  {choice.why}"
            continue
        yield f"  {'method':<17}pieces  cuts  seams  minutes  {area:>6}"
        for way in choice.ways:
            yield _line(way, choice, plan.project.measure)
        yield from _notes(choice)
    yield ""
    yield "> taken, * the quickest"
    yield from wrap(_ASSUMED, WIDTH)


def _line(way: Way, choice: Choice, measure: Measure) -> str:
    mark = ">" if choice.chosen is not None and way.method == choice.chosen.method else " "
    star = "*" if choice.best is not None and way.method == choice.best.method else ""
    minutes = f"{spell_minutes(way.minutes):>9}"
    return (
        f"{mark} {way.method + star:<17}{way.pieces:>6}{way.work.cuts:>6}{way.work.seams:>7}{minutes}"
        f"{_round(_area(way, measure)):>8}"
    )


def _area(way: Way, measure: Measure) -> Fraction:
    return way.cloth if measure == "in" else way.cloth / INCHES_PER_CM**2


def _round(value: Fraction) -> int:
    return int((value + Fraction(1, 2)) // 1)


def _notes(choice: Choice) -> Iterator[str]:
    best = choice.best
    notes = [choice.why if best is None else f"{best.method}: {choice.why}"]
    if choice.why_not:
        notes.append(choice.why_not)
    bias = [way.method for way in choice.ways if way.beware]
    if bias:
        beware = next(way.beware for way in choice.ways if way.beware)
        notes.append(f"{' and '.join(bias)}: {beware}; only where you ask for it")
    chosen = choice.chosen
    if chosen is not None and chosen.made > choice.needed:
        over = chosen.made - choice.needed
        notes.append(f"{over} more than needed")
    for note in notes:
        yield from (f"  {line}" for line in wrap(note, WIDTH - 2))


def describe_methods(plan: Plan) -> list[dict[str, object]]:
    """The same for other programs: lengths and minutes as exact text, areas in square inches."""
    found = []
    for choice in choose_methods(plan):
        chosen = choice.chosen
        one: dict[str, object] = {"unit": choice.unit.name, "batch": f"B{choice.unit.batch + 1}"}
        one["method"] = chosen.method if chosen is not None else "strip sets"
        one["units"] = choice.unit.needed
        if chosen is not None:
            # Of each fabric where all begin with squares of one size
            sizes = {(piece.wide, piece.high) for piece in chosen.rectangles}
            if len(sizes) == 1 and len({piece.count for piece in chosen.rectangles}) == 1:
                ((wide, high),) = sizes
                if wide == high:
                    one["squares"] = chosen.rectangles[0].count
                    one["cut"] = spell_number(wide)
            one["trim"] = [spell_number(size) for size in chosen.trim_to]
            if plan.project.methods.oversize:
                one["oversize"] = spell_number(plan.project.methods.oversize)
        else:
            one["inside"] = True
        one["best"] = choice.best.method if choice.best is not None else None
        one["why"] = choice.why
        one["why_not"] = choice.why_not or None
        one["ways"] = [_describe(way) for way in choice.ways]
        found.append(one)
    return found


def _describe(way: Way) -> dict[str, object]:
    return {
        "method": way.method,
        "made": way.made,
        "pieces": way.pieces,
        "cuts": way.work.cuts,
        "seams": way.work.seams,
        "minutes": spell_exact(way.minutes),
        "square_inches": spell_exact(way.cloth),
        "cut": [
            {
                "fabric": one.fabric,
                "w": spell_number(one.wide),
                "h": spell_number(one.high),
                "count": one.count,
                "makes": one.makes,
            }
            for one in way.rectangles
        ],
        "beware": way.beware or None,
    }
