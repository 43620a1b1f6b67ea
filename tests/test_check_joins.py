"""Joins are found again from the seams alone, and so is whether they nest."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest
from plans import FOUR_PATCH, GOOD, HOURGLASS, PINWHEEL, THREE_STRIPS, write

from planner.checks.check_joins import Versions, count_clashes, count_versions, why_joins_wrong
from planner.checks.plan_file import Plan


@pytest.mark.parametrize("plan", GOOD.values(), ids=GOOD)
def test_the_joins_of_a_good_plan_are_right(plan: Plan) -> None:
    assert why_joins_wrong(plan) == ()
    assert count_clashes(plan) == 0
    assert count_versions(plan) == Versions(0, 0)


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


def test_a_missing_join_is_told() -> None:
    plan = broken(PINWHEEL)
    del plan["joins"][1]
    assert why_joins_wrong(plan) == ("join of s6 at 6, 6: it is missing, of s3 and s4",)


@pytest.mark.parametrize(
    ("seam", "at"), [("s7", ["0", "6"]), ("s7", ["6", "13/2"]), ("s7", ["six", "6"]), ("s9", ["6", "6"])]
)
def test_a_join_where_nothing_meets_is_told(seam: str, at: list[str]) -> None:
    plan = broken(PINWHEEL)
    plan["joins"].append({"seam": seam, "at": at, "a": "s5", "b": "s6", "nests": True, "why": ""})
    assert why_joins_wrong(plan) == (f"join of {seam} at {', '.join(at)}: no seams of both sides end there",)


def test_a_join_told_twice_is_told() -> None:
    plan = broken(PINWHEEL)
    plan["joins"].append(plan["joins"][2])
    assert why_joins_wrong(plan) == ("join of s7 at 6, 6: it is told twice",)


def test_sides_the_wrong_way_round_are_told() -> None:
    plan = broken(PINWHEEL)
    plan["joins"][2]["a"], plan["joins"][2]["b"] = "s6", "s5"
    assert why_joins_wrong(plan) == ("join of s7 at 6, 6: a and b are s6 and s5, and should be s5 and s6",)


def test_of_seams_that_end_in_one_point_the_last_sewn_counts() -> None:
    plan = broken(PINWHEEL)
    plan["joins"][2]["a"] = "s2"
    assert why_joins_wrong(plan) == ("join of s7 at 6, 6: a and b are s2 and s6, and should be s5 and s6",)


def test_a_join_at_the_end_of_a_seam_counts() -> None:
    # two squares of two triangles, whose long sides meet where the seam between the squares ends
    plan = write(
        "b1 12 x 6",
        """
        p1 b1 navy 0,0 6,6 0,6
        p2 b1 shell 0,0 6,0 6,6
        p3 b1 navy 12,0 12,6 6,6
        p4 b1 shell 12,0 6,6 6,0
        """,
        """
        s1 b1 = p1 + p2, 0,0 - 6,6, a
        s2 b1 = p3 + p4, 12,0 - 6,6, b
        s3 b1 = s1 + s2, 6,0 - 6,6, a
        """,
        "s3 at 6,6 of s1 s2 nests",
        "",
        "",
    )
    assert why_joins_wrong(plan) == ()
    both_down = broken(plan)
    both_down["seams"][1]["press"] = "a"
    assert why_joins_wrong(both_down) == ("join of s3 at 6, 6: it does not nest",)


@pytest.mark.parametrize("seam", [0, 1])
def test_a_seam_pressed_the_other_way_clashes(seam: int) -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][seam]["press"] = "b" if plan["seams"][seam]["press"] == "a" else "a"
    assert why_joins_wrong(plan) == ("join of s3 at 6, 6: it does not nest",)
    assert count_clashes(plan) == 1
    plan["joins"][0].update(nests=False, why="both fall to the left")
    assert why_joins_wrong(plan) == ()


def test_a_join_that_nests_and_is_told_to_clash_is_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["joins"][0]["nests"] = False
    assert why_joins_wrong(plan) == ("join of s3 at 6, 6: it nests",)


def test_turning_the_names_of_the_sides_changes_nothing_where_the_pressing_is_turned_too() -> None:
    plan = broken(FOUR_PATCH)
    first = plan["seams"][0]
    first.update(a="p2", b="p1", press="b", to=first["from"])
    first["from"] = ["6", "6"]
    assert why_joins_wrong(plan) == ()


def test_an_open_seam_neither_nests_nor_clashes() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][0]["press"] = "open"
    plan["joins"][0].update(nests=False, why="open")
    assert why_joins_wrong(plan) == ()
    assert count_clashes(plan) == 0
    plan["joins"][0]["why"] = ""
    assert why_joins_wrong(plan) == ("join of s3 at 6, 6: why is '', and a seam is open",)
    plan["joins"][0].update(nests=True, why="open")
    assert why_joins_wrong(plan) == ("join of s3 at 6, 6: it does not nest",)


def test_open_is_no_reason_where_nothing_is_open() -> None:
    plan = broken(FOUR_PATCH)
    plan["joins"][0]["why"] = "open"
    assert why_joins_wrong(plan) == ("join of s3 at 6, 6: why is 'open', and a seam is not open",)


def test_a_kind_pressed_both_ways_has_two_versions() -> None:
    plan = broken(PINWHEEL)
    plan["seams"][3]["press"] = "a"
    assert count_versions(plan) == Versions(1, 1)
    plan["seams"][2]["press"] = "a"
    assert count_versions(plan) == Versions(1, 2)
    plan["seams"][1]["press"] = "b"
    assert count_versions(plan) == Versions(1, 1)  # three of the other: the fewer are the second pile
    plan["seams"][5]["press"] = "a"
    assert count_versions(plan) == Versions(2, 2)


def test_a_unit_that_a_half_turn_carries_onto_itself_has_one_version() -> None:
    plan = broken(FOUR_PATCH)
    plan["blocks"].append({"id": "b2", "draft": "tidewater", "size": ["12", "12"], "loose": True})
    for part in ("patches", "seams"):
        for entry in deepcopy(plan[part]):
            names = {key: f"{entry[key]}x" for key in ("id", "a", "b") if key in entry}
            plan[part].append(entry | names | {"block": "b2"})
    plan["seams"][-1]["press"] = "b"
    assert count_versions(plan) == Versions(0, 0)
    plan["patches"][-1]["fabric"] = plan["patches"][3]["fabric"] = "shell"  # now no half turn does
    assert count_versions(plan) == Versions(1, 1)


def test_a_unit_that_holds_a_kind_with_two_versions_is_not_counted_again() -> None:
    plan = broken(PINWHEEL)
    plan["seams"][0]["press"] = "b"
    assert count_versions(plan) == Versions(1, 1)


def test_kinds_told_apart_by_their_seams_are_not_two_versions_of_one() -> None:
    plan = broken(THREE_STRIPS)
    plan["seams"][3]["press"] = "b"
    assert count_versions(plan) == Versions(0, 0)


def test_a_proof_of_other_numbers_is_told() -> None:
    plan = broken(HOURGLASS)
    plan["proof"] = {"clashes": {"count": 0, "at_least": 0}, "versions": {"count": 0, "at_least": 0}}
    assert why_joins_wrong(plan) == ()
    plan["proof"]["versions"]["count"] = 1
    assert why_joins_wrong(plan) == ("proof: versions are 1, and should be 0",)
    plan["proof"]["versions"] = {"count": 0, "at_least": 1}
    assert why_joins_wrong(plan) == ("proof: versions can't be fewer than they must be",)


def test_a_plan_that_can_not_be_followed_is_not_waved_through() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][2]["a"] = "s9"
    words = "seam s3: side a, s9, is no patch and no earlier seam"
    assert why_joins_wrong(plan) == (words,)
    for count in (count_clashes, count_versions):
        with pytest.raises(ValueError, match="side a, s9"):
            count(plan)
