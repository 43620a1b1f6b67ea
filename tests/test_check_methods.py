"""The checker counts what methods give and cut; one count or size that is falsified is found."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from layouts import lay
from planned import SAMPLES, plan_sample, plan_text, print_out
from test_methods import METHODS

from planner.checks.check_cloth import why_not_laid
from planner.cloth.cloth_json import write_cloth
from planner.plan import Plan

ALL_FAMILIES = """
project: Evening at the inlet
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  sail: {size: 3, rows: [[navy / shell]]}
  dial: {size: 6, rows: [[(navy / shell) \\ (shell / coral)]]}
  gull: {size: 6 x 3, geese: {goose: coral, sky: navy}}
  nine:
    size: 6
    rows: [[{rows: [[navy, shell, navy]]}], [{rows: [[shell, navy, shell]]}], [{rows: [[navy, shell, navy]]}]]
make: [{block: sail, count: 21}, {block: dial, count: 5}, {block: gull, count: 7}, {block: nine, count: 6}]
methods: {triangles: %s, hourglasses: two at a time, geese: %s, rows: strip sets%s}
"""


def plan_all(triangles: str, geese: str, more: str = "") -> Plan:
    return plan_text(ALL_FAMILIES % (triangles, geese, more))


@cache
def tell(triangles: str, geese: str, more: str = "") -> tuple[Any, Any]:
    """The cloth's JSON, and the plan's."""
    plan = plan_all(triangles, geese, more)
    return json.loads(write_cloth(lay(plan))), print_out(plan)


@pytest.mark.parametrize("more", ["", ", oversize: 1/8"])
@pytest.mark.parametrize("geese", ["one by one", "stitch and flip", "four at a time"])
@pytest.mark.parametrize(
    "triangles", ["one by one", "two at a time", "four at a time", "eight at a time", "from strips"]
)
def test_every_method_is_counted_right(triangles: str, geese: str, more: str) -> None:
    cloth, plan = tell(triangles, geese, more)
    assert why_not_laid(cloth, plan) == ()
    assert sum(one["method"] != "one by one" for one in cloth["methods"]) >= 2


@pytest.mark.parametrize("methods", METHODS[::2])
@pytest.mark.parametrize("name", SAMPLES)
def test_samples_are_counted_right(name: str, methods: Any) -> None:
    plan = plan_sample(name)
    plan = replace(plan, project=replace(plan.project, methods=methods))
    assert why_not_laid(json.loads(write_cloth(lay(plan))), print_out(plan)) == ()


def _find(cloth: Any, words: str) -> tuple[list[Any], int]:
    """A list of what is placed, and where in it stands the last rectangle for this."""
    for fabric in cloth["fabrics"]:
        places = [at for at, one in enumerate(fabric["placed"]) if words in one["for"]]
        if places:
            return fabric["placed"], places[-1]
    raise AssertionError(words)


def _leave_out(words: str) -> Callable[[Any], None]:
    def change(cloth: Any) -> None:
        placed, at = _find(cloth, words)
        placed.pop(at)

    return change


def _tell_makes(words: str, makes: int) -> Callable[[Any], None]:
    def change(cloth: Any) -> None:
        placed, at = _find(cloth, words)
        placed[at]["makes"] = makes

    return change


def _method(cloth: Any, name: str) -> Any:
    return next(one for one in cloth["methods"] if one["method"] == name and not one.get("inside"))


def _tell_units(cloth: Any) -> None:
    _method(cloth, "two at a time")["units"] += 1


def _tell_other_method(cloth: Any) -> None:
    _method(cloth, "eight at a time")["method"] = "two at a time"


def _cut_fewer(cloth: Any) -> None:
    """One pair of squares less, in the method and on the cloth."""
    one = _method(cloth, "eight at a time")
    way = next(way for way in one["ways"] if way["method"] == "eight at a time")
    for cut in way["cut"]:
        cut["count"] -= 1
    for fabric in cloth["fabrics"]:
        at = [at for at, placed in enumerate(fabric["placed"]) if "eight at a time" in placed["for"]]
        if at:
            fabric["placed"].pop(at[-1])


def _cut_smaller(cloth: Any) -> None:
    way = next(way for way in _method(cloth, "eight at a time")["ways"] if way["method"] == "eight at a time")
    way["cut"][0].update(w="7 5/8", h="7 5/8")


def _cut_short(cloth: Any) -> None:
    """A strip set that gives a segment less."""
    one = _method(cloth, "strip sets")
    way = next(way for way in one["ways"] if way["method"] == "strip sets")
    for cut in way["cut"]:
        cut["makes"] -= 1


def _leave_a_strip(cloth: Any) -> None:
    way = next(way for way in _method(cloth, "strip sets")["ways"] if way["method"] == "strip sets")
    way["cut"][0]["count"] -= 1


def _hide_inside(cloth: Any) -> None:
    one = _method(cloth, "strip sets")
    one["inside"] = True


@pytest.mark.parametrize(
    ("break_it", "words"),
    [
        (_leave_out("eight at a time"), "are needed, and"),
        (_leave_out("two at a time, twice"), "are needed, and"),
        (_leave_out("four geese"), "are needed, and"),
        (_leave_out("strip set"), "are needed, and"),
        (_tell_makes("eight at a time", 6), "are needed, and"),
        (_tell_makes("strip set", 3), "are needed, and"),
        (_tell_units, "units are told, and there are"),
        (_tell_other_method, "and in the plan eight at a time"),
        (_cut_fewer, "should be 3 navy 31/4 x 31/4, 3 shell 31/4 x 31/4"),
        (_cut_smaller, "should be 3 navy"),
        (_cut_short, "long"),
        (_leave_a_strip, "are not those of whole sets"),
        (_hide_inside, "come out of no longer strip set"),
    ],
)
def test_what_is_falsified_is_found(break_it: Callable[[Any], None], words: str) -> None:
    cloth, plan = deepcopy(tell("eight at a time", "four at a time"))
    break_it(cloth)
    found = why_not_laid(cloth, plan)
    assert any(words in one for one in found), found


def test_geese_that_are_flipped_are_counted_piece_by_piece() -> None:
    cloth, plan = deepcopy(tell("two at a time", "stitch and flip"))
    _leave_out("its corners flipped")(cloth)
    assert any("are needed, and" in one for one in why_not_laid(cloth, plan))
