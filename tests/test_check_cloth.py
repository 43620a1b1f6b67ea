"""The checker of layouts finds one fault that is put into a good layout, and that alone."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest
from planned import plan_sample, print_out

from planner.checks.check_cloth import why_not_laid
from planner.cloth.cloth import work_out_cloth
from planner.cloth.cloth_json import write_cloth

SAMPLE = "harbour-stars"


def good() -> Any:
    cloth, _ = work_out_cloth(plan_sample(SAMPLE))
    assert cloth is not None
    return json.loads(write_cloth(cloth))


def _lay_over(slate: Any) -> None:
    slate["placed"][1].update(x=slate["placed"][0]["x"], y=slate["placed"][0]["y"])


def _leave_cloth(slate: Any) -> None:
    slate["placed"][0]["x"] = "38"


def _tell_short(slate: Any) -> None:
    slate["length"] = "12"


def _drop(slate: Any) -> None:
    slate["placed"].pop()


def _shrink_piece(slate: Any) -> None:
    slate["placed"][-1].update(w="3 3/4", h="3 3/4")


def _buy_less(slate: Any) -> None:
    slate["buy"]["yards"] = "5/8"


def _buy_more(slate: Any) -> None:
    slate["buy"]["metres"] = "0.9"


def _boast(slate: Any) -> None:
    slate["at_least"] = "30"


def _tell_other_strips(slate: Any) -> None:
    slate["strips"][0]["count"] += 1


def _mix_strips(slate: Any) -> None:
    slate["strips"].reverse()


@pytest.mark.parametrize(
    ("break_it", "words"),
    [
        (_lay_over, "lie over each other"),
        (_leave_cloth, "leaves the cloth"),
        (_tell_short, "leaves the cloth"),
        (_drop, "are needed, and"),
        (_shrink_piece, "are needed, and"),
        (_buy_less, "up to the next 1/8 yd"),
        (_buy_more, "up to the next 10 cm"),
        (_boast, "shorter than what is said"),
        (_tell_other_strips, "its strips come to"),
        (_mix_strips, "from the widest down"),
    ],
)
def test_what_is_broken_is_found(break_it: Callable[[Any], None], words: str) -> None:
    told = good()
    plan = print_out(plan_sample(SAMPLE))
    assert why_not_laid(told, plan) == ()
    broken = deepcopy(told)
    break_it(broken["fabrics"][0])
    found = why_not_laid(broken, plan)
    assert any(words in one for one in found), found


def test_pieces_that_no_cut_from_edge_to_edge_parts_are_found() -> None:
    """Four rectangles round a square: none lies over another, and every cut goes through one."""
    sizes = ("0021", "2012", "1221", "0112", "1111")
    placed = [{"x": x, "y": y, "w": w, "h": h, "for": "rectangle", "makes": 1} for x, y, w, h in sizes]
    fabric = {
        "id": "navy", "width": "5", "usable": "3", "shrinkage": "0", "length": "3", "at_least": "3", "more": [],
        "end": "1", "margin": "1", "buy": {"yards": "1/4", "metres": "0.2"}, "strips": [{"cut": "3", "count": 1}],
        "placed": placed,
    }  # fmt: skip
    found = why_not_laid({"fabrics": [fabric], "methods": []})
    assert found == ("fabric navy: no cut from edge to edge parts its pieces",)
