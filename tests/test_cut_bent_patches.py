"""The cut list is checked for patches with inner corners too, and for pieces that lie otherwise by 45 or 60 degrees."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest
from plans import write

from planner.checks.check_cut_list import why_not_cut
from planner.checks.plan_file import Plan


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


CORNER = write(
    "b1 8 x 8",
    "p1 b1 navy 0,0 8,0 8,4 4,4 4,8 0,8\np2 b1 shell 4,4 8,4 8,8 4,8",
    "",
    "",
    "",
    """
    1 navy other, 8 x 8, 8 1/2 x 8 1/2, 0,0 17/2,0 17/2,9/2 9/2,9/2 9/2,17/2 0,17/2
    1 shell square, 4 x 4, 4 1/2 x 4 1/2, 0,0 9/2,0 9/2,9/2 0,9/2
    """,
)


def test_a_patch_with_an_inner_corner_may_be_cut_as_it_lies_or_turned_by_a_quarter() -> None:
    assert why_not_cut(CORNER) == ()
    plan = broken(CORNER)
    plan["cut"][0]["corners"] = [[f"-{y}" if y != "0" else y, x] for x, y in plan["cut"][0]["corners"]]
    assert why_not_cut(plan) == ()


@pytest.mark.parametrize("corner", [["9/2", "17/4"], ["4", "4"], ["9/2", "5"]])
def test_an_inner_corner_in_another_place_is_told(corner: list[str]) -> None:
    plan = broken(CORNER)
    plan["cut"][0]["corners"][3] = corner
    missing, left = why_not_cut(plan)
    assert missing == "cut navy other 8 x 8: 1 are missing"
    assert left.startswith("cut navy other 8 x 8: 1 too many of 0,0")


def cut_corner(at: str) -> tuple[str, ...]:
    """What is said of a patch whose inner corner is 2 * sqrt(2) from two sides, 3.0784 with its allowance."""
    plan = write(
        "b1 8 x 8",
        "p1 b1 navy 0,0 8,0 8,2*r 2*r,2*r 2*r,8 0,8",
        "",
        "",
        "",
        f"1 navy other, 8 x 8, 8 1/2 x 8 1/2, -1/4,-1/4 33/4,-1/4 33/4,{at} {at},{at} {at},33/4 -1/4,33/4",
        fabrics="navy",
    )
    return why_not_cut(plan)


def test_an_inner_corner_with_a_root_may_be_rounded_out_and_is_never_short() -> None:
    assert cut_corner("198/64") == ()
    assert cut_corner("197/64") != ()
    assert cut_corner("200/64") != ()


DIAMONDS = write(
    "b1 2 + 2*sqrt(2) x 2\nb2 2 x 2 + 2*sqrt(2)",
    """
    p1 b1 navy 0,0 2*r,0 2+2*r,2 2,2
    p2 b2 navy 0,0 2,2 2,2+2*r 0,2*r
    """,
    "",
    "",
    "",
    "2 navy other, 2 x 2 + 2*sqrt(2), 2 1/2 x 6 1/16, -39/64,-1/4 47/16,-1/4 87/16,9/4 121/64,9/4",
    fabrics="navy",
)


def test_diamonds_that_lie_otherwise_are_one_entry_and_cut_as_one_of_them_lies() -> None:
    assert why_not_cut(DIAMONDS) == ()
    other = broken(DIAMONDS)
    other["cut"][0]["corners"] = [[x, y] for y, x in other["cut"][0]["corners"]]
    assert why_not_cut(other) == ()
    two = broken(DIAMONDS)
    two["cut"] = [{**entry, "count": 1} for entry in (DIAMONDS["cut"][0], other["cut"][0])]
    complaints = why_not_cut(two)
    assert len(complaints) == 2
    assert "1 are told, and 2 needed" in complaints[0]
    assert "1 too many" in complaints[1]


def test_a_diamond_is_not_cut_as_none_of_them_lies() -> None:
    alone = broken(DIAMONDS)
    alone["patches"].pop()
    alone["cut"][0]["count"] = 1
    assert why_not_cut(alone) == ()
    alone["cut"][0]["corners"] = [[x, y] for y, x in alone["cut"][0]["corners"]]
    assert len(why_not_cut(alone)) == 2


def test_mirrored_pieces_are_two_entries() -> None:
    trapezoids = write(
        "b1 4 + 2*sqrt(2) x 2\nb2 2 + 2*sqrt(2) x 2",
        "p1 b1 navy 0,0 4,0 2+2*r,2 2,2\np2 b2 navy 0,0 0,4 2,2+2*r 2,2",
        "",
        "",
        "",
        "",
        fabrics="navy",
    )
    complaints = why_not_cut(trapezoids)
    assert len(complaints) == 2
    assert all(complaint.endswith("1 are missing") for complaint in complaints)
