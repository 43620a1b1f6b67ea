"""Orders of sewing -> plain text that fits 60 columns, or one object for other programs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import floor
from textwrap import wrap

from planner.compare_orders import JOINED, InPasses, Joined, Orders
from planner.measure import INCHES_PER_CM, Measure, spell_exact, spell_number
from planner.plan import Plan
from planner.surd import Exact, to_length

WIDTH = 60
SQUARE_METRES = (12 / (100 * INCHES_PER_CM)) ** 2  # in a square foot


def print_orders(plan: Plan, orders: Orders) -> Iterator[str]:
    """Lines: the table of passes, then that of the ways to join the quilt."""
    yield plan.project.name
    yield ""
    rows: list[tuple[str, ...]] = [("passes", "kinds", "minutes", "")]
    rows += [(str(one.passes), str(one.kinds), spell_number(one.minutes), _say_proof(one)) for one in orders.front]
    yield from _align(rows, [one.is_taken for one in orders.front])
    yield from _fold(f"The plan's: {orders.why}.")
    yield from _fold("To choose: handling: {passes: N} takes the fewest kinds in at most N passes.")
    if not orders.ways:
        return
    yield ""
    rows = [("joined", "passes", "kinds", "minutes", "square")]
    rows += [(JOINED[way.joining], *_spell_way(way, plan.project.measure)) for way in orders.ways]
    yield from _align(rows, [way.is_taken for way in orders.ways])
    for way in orders.ways:
        if way.why_not:
            yield from _fold(f"{JOINED[way.joining]}: {way.why_not}.")
    if any(not way.is_proven for way in orders.ways if not way.why_not):
        yield from _fold("* The best found, not proven the least.")
    unit = "square feet" if plan.project.measure == "in" else "square metres"
    yield from _fold(f"Square: the squared lengths of all seams that join the quilt, summed, in {unit}.")
    yield from _fold(f"The plan's: {orders.why_joined}.")
    yield from _fold("To choose, in quilt: joining: rows (or quarters, or webbed).")


def describe_orders(orders: Orders) -> dict[str, object]:
    """The same as one object."""
    return {
        "passes": [
            {
                "passes": one.passes,
                "kinds": one.kinds,
                "at_least": one.at_least,
                "minutes": spell_number(one.minutes),
                "taken": one.is_taken,
            }
            for one in orders.front
        ],
        "why": orders.why,
        "joining": [_describe_way(way) for way in orders.ways],
        "why_joined": orders.why_joined or None,
    }


def _describe_way(way: Joined) -> dict[str, object]:
    found: dict[str, object] = {"joining": way.joining, "taken": way.is_taken}
    if way.why_not:
        return {**found, "why_not": way.why_not}
    return {
        **found,
        "passes": way.passes,
        "kinds": way.kinds,
        "minutes": spell_number(way.minutes),
        "at_least": spell_number(way.at_least),
        "square_feet": spell_exact(to_length(way.square)),
    }


def _say_proof(one: InPasses) -> str:
    return "proven" if one.is_proven else f"best found, at least {one.at_least}"


def _spell_way(way: Joined, measure: Measure) -> tuple[str, str, str, str]:
    if way.why_not:
        return "-", "-", "-", "-"
    about = "" if way.is_proven else "*"
    square = _spell_rounded(way.square, 1) if measure == "in" else _spell_rounded(way.square * SQUARE_METRES, 2)
    return str(way.passes), str(way.kinds), f"{spell_number(way.minutes)}{about}", square


def _spell_rounded(value: Exact, digits: int) -> str:
    whole, rest = divmod(floor(value * 10**digits + Fraction(1, 2)), 10**digits)
    return f"{whole}.{rest:0{digits}}"


def _align(rows: Sequence[Sequence[str]], taken: Sequence[bool]) -> Iterator[str]:
    """A table, the first row its heading: numbers to the right, words to the left; the plan's row is marked."""
    if len(rows) == 1:
        return
    columns = list(zip(*rows, strict=True))
    wide = [max(map(len, column)) for column in columns]
    is_number = [column[1][:1].isdigit() or column[1] == "-" for column in columns]
    for row, is_taken in zip(rows, (False, *taken), strict=True):
        cells = zip(row, wide, is_number, strict=True)
        line = "  ".join(text.rjust(size) if number else text.ljust(size) for text, size, number in cells)
        yield f"{'> ' if is_taken else '  '}{line}".rstrip()


def _fold(text: str) -> list[str]:
    return wrap(text, WIDTH, break_long_words=False, break_on_hyphens=False)
