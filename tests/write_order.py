"""Orders of sewing as plans: what a search found, in the words of the plan file, for the checkers to judge."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any, cast

from fewest_seams import Point, Polygon, Step, Unit

from planner.checks.plan_file import Plan
from planner.checks.rooted import Number, Rooted, divide


def write_steps(patches: Sequence[Polygon], steps: Sequence[Step], presses: str = "") -> Plan:
    """The plan of one block that is sewn in these steps; without joins, batches and cut list.

    `presses` has a letter for each step, `a` or `b`; all are `a` if it is left out. A seam that closes another is
    pressed as that.
    """
    size = [_spell(max(_above_all(corner[axis] for outline in patches for corner in outline))) for axis in (0, 1)]
    plan: dict[str, Any] = {
        "plan": 1,
        "project": {"name": "Tidewater", "seam": "1/4", "measure": "in", "on_point": False},
        "fabrics": [{"id": "navy", "value": "dark", "weight": "light"}],
        "blocks": [{"id": "b1", "draft": "tidewater", "size": size, "loose": True}],
        "patches": [
            {"id": f"p{place}", "block": "b1", "fabric": "navy", "corners": [_spell_point(point) for point in outline]}
            for place, outline in enumerate(patches)
        ],
        "seams": [],
    }
    names: dict[Unit, str] = {frozenset((place,)): f"p{place}" for place in range(len(patches))}
    begun: dict[object, dict[str, Any]] = {}
    for place, step in enumerate(steps):
        name = f"s{place}"
        way = [_spell_point(point) for point in step.way]
        press = presses[place] if presses else "a"
        seam: dict[str, Any] = {"id": name, "block": "b1", "a": names[step.a], "press": press, "why": ""}
        if step.slit and not step.b:
            part = begun[step.slit.line[0], step.slit.line[1]]
            seam |= {"b": None, "closes": part["id"], "press": part["press"], "from": part["to"], "to": way[-1]}
        else:
            seam |= {"b": names[step.b], "from": way[0], "to": way[-1]}
            seam |= {"set_in": True, "legs": [list(leg) for leg in pairwise(way)]} if len(way) > 2 else {}
        if step.b and step.slit:
            seam |= {"partial": True, "to": _spell_point(find_stop(step))}
            begun[step.slit.line[0], step.slit.line[1]] = seam
        plan["seams"].append(seam)
        names[step.a | step.b] = name
    return cast(Plan, plan | {"joins": [], "batches": [], "cut": []})


def find_stop(step: Step) -> Point:
    """Where a partial seam stops: in the middle of its first stretch between two patches."""
    assert step.slit is not None
    (ax, ay), (bx, by) = step.slit.line[:2]
    return divide(ax + bx, 2), divide(ay + by, 2)


def _above_all(values: Any) -> list[Number]:
    found = list(values)
    return [value for value in found if not any(value < other for other in found)]


def _spell_point(point: Point) -> list[str]:
    return [_spell(number) for number in point]


def _spell(number: Number) -> str:
    return str(number) if isinstance(number, Rooted) else str(Fraction(number))
