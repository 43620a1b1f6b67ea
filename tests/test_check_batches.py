"""Batches hold the identical seams of all blocks, no more and no less."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest
from plans import FOUR_PATCH, GOOD, HOURGLASS, PINWHEEL, SLANTED, SQUARE_IN_SQUARE, THREE_STRIPS, write

from planner.checks.check_batches import why_not_grouped
from planner.checks.plan_file import Plan


@pytest.mark.parametrize("plan", GOOD.values(), ids=GOOD)
def test_a_good_plan_is_grouped(plan: Plan) -> None:
    assert why_not_grouped(plan) == ()


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


def test_a_batch_split_in_two_is_told() -> None:
    plan = broken(PINWHEEL)
    plan["batches"][0]["seams"].remove("s3")
    plan["batches"].append({"id": "B9", "pass": 1, "seams": ["s3"], "unit": "", "unfinished": ["6.5", "6.5"]})
    assert why_not_grouped(plan) == ("batch B9: s3 is identical to s1 of B1",)


def test_two_kinds_in_one_batch_are_told() -> None:
    plan = broken(THREE_STRIPS)
    plan["batches"][0]["seams"].append("s2")
    del plan["batches"][1]
    assert why_not_grouped(plan) == ("batch B1: s1 and s2 are not identical",)


def test_the_same_strips_sewn_in_another_order_are_another_kind() -> None:
    plan = broken(THREE_STRIPS)
    plan["batches"][2]["seams"].append("s4")
    del plan["batches"][3]
    assert why_not_grouped(plan) == ("batch B3: s3 and s4 are not identical",)


def test_the_order_of_inner_seams_does_not_tell_kinds_apart_where_all_lines_are_the_same() -> None:
    patches = "\n".join(
        f"p{place}{block} {block} navy {place},0 {place + 1},0 {place + 1},4 {place},4"
        for block in ("b1", "b2")
        for place in range(4)
    )
    seams = """
        s1 b1 = p0b1 + p1b1, 1,0 - 1,4, a
        s2 b2 = p1b2 + p2b2, 2,0 - 2,4, a
        s3 b1 = s1 + p2b1, 2,0 - 2,4, a
        s4 b2 = p0b2 + s2, 1,0 - 1,4, b
        s5 b1 = s3 + p3b1, 3,0 - 3,4, a
        s6 b2 = s4 + p3b2, 3,0 - 3,4, a
    """
    batches = """
        B1 pass 1: s1 s2, 5/2 x 9/2
        B2 pass 2: s3 s4, 7/2 x 9/2
        B3 pass 3: s5 s6, 9/2 x 9/2
    """
    plan: Any = write("b1 4 x 4\nb2 4 x 4", patches, seams, "", batches, "")
    assert why_not_grouped(plan) == ()
    plan["batches"][2]["seams"].remove("s6")
    plan["batches"].append({**plan["batches"][2], "id": "B4", "seams": ["s6"]})
    assert len(why_not_grouped(plan)) == 1
    assert "s5" in why_not_grouped(plan)[0]


def test_either_side_may_be_a() -> None:
    plan = broken(PINWHEEL)
    plan["seams"][1]["a"], plan["seams"][1]["b"] = "p4", "p3"
    assert why_not_grouped(plan) == ()


def test_a_mirrored_unit_is_another_kind() -> None:
    strips = """
        p1 b1 navy 0,0 2,0 2,6 0,6
        p2 b1 shell 2,0 6,0 6,6 2,6
        p3 b2 navy 0,0 6,0 6,2 0,2
        p4 b2 shell 0,2 6,2 6,6 0,6
    """
    seams = "s1 b1 = p1 + p2, 2,0 - 2,6, a\ns2 b2 = p3 + p4, 0,2 - 6,2, a"
    turned = write("b1 6 x 6\nb2 6 x 6", strips, seams, "", "B1 pass 1: s1 s2, 6.5 x 6.5", "")
    assert why_not_grouped(turned) == ()
    triangles = """
        p1 b1 navy 0,0 4,0 0,6
        p2 b1 shell 4,0 4,6 0,6
        p3 b2 navy 0,0 4,0 4,6
        p4 b2 shell 0,0 0,6 4,6
    """
    seams = "s1 b1 = p1 + p2, 4,0 - 0,6, a\ns2 b2 = p3 + p4, 0,0 - 4,6, a"
    mirrored = write("b1 4 x 6\nb2 4 x 6", triangles, seams, "", "B1 pass 1: s1 s2, 4.5 x 6.5", "")
    assert why_not_grouped(mirrored) == ("batch B1: s1 and s2 are not identical",)


def test_another_fabric_is_another_kind() -> None:
    plan = broken(FOUR_PATCH)
    plan["patches"][3]["fabric"] = "shell"
    assert why_not_grouped(plan) == ("batch B1: s1 and s2 are not identical",)


def test_pressing_does_not_tell_kinds_apart() -> None:
    plan = broken(PINWHEEL)
    plan["seams"][0]["press"] = "b"
    assert why_not_grouped(plan) == ()


@pytest.mark.parametrize(
    ("batch", "key", "value", "complaint"),
    [
        (1, "pass", 1, "batch B2: it is in pass 1, and belongs in pass 2"),
        (0, "seams", ["s1", "s2", "s3"], "seam s4: it is in no batch"),
        (0, "seams", ["s1", "s2", "s3", "s4", "s4"], "seam s4: it is in B1 and in B1"),
        (0, "seams", ["s1", "s2", "s3", "s4", "s9"], "batch B1: there is no seam s9"),
        (1, "id", "B1", "batch B1: the name is used twice"),
        (1, "unfinished", ["12 1/2", "6 1/2"], "batch B2: unfinished 25/2 x 13/2: the longer comes first"),
        (1, "unfinished", ["6", "12"], "batch B2: unfinished 6 x 12, and should be 13/2 x 25/2"),
        (1, "unfinished", ["six", "12"], "batch B2: unfinished 'six' is no length of a plan file"),
    ],
)
def test_one_wrong_entry_is_told_once(batch: int, key: str, value: object, complaint: str) -> None:
    plan = broken(PINWHEEL)
    plan["batches"][batch][key] = value
    assert why_not_grouped(plan) == (complaint,)


def test_a_batch_without_seams_is_told() -> None:
    plan = broken(PINWHEEL)
    plan["batches"].append({"id": "B9", "pass": 1, "seams": [], "unit": "", "unfinished": ["6.5", "6.5"]})
    assert why_not_grouped(plan) == ("batch B9: it has no seam",)


@pytest.mark.parametrize(
    ("plan", "batch", "wrong"),
    [
        (HOURGLASS, 0, ["6 1/2", "6 1/2"]),  # a triangle is as its cut
        (SQUARE_IN_SQUARE, 0, ["8 1/2", "8 1/2"]),  # its points are short
        (SQUARE_IN_SQUARE, 0, ["8 3/4", "8 3/4"]),  # more than 1/16 too much
        (SLANTED, 0, ["4 1/2", "8 51/64"]),  # exact where it can be
    ],
)
def test_a_wrong_size_of_a_unit_that_is_no_rectangle_is_told(plan: Plan, batch: int, wrong: list[str]) -> None:
    plan = broken(plan)
    plan["batches"][batch]["unfinished"] = wrong
    assert len(why_not_grouped(plan)) == 1
    assert why_not_grouped(plan)[0].startswith("batch B1: unfinished")


def test_a_size_with_a_root_may_be_rounded_up_to_the_next_sixteenth() -> None:
    plan = broken(SQUARE_IN_SQUARE)
    plan["batches"][0]["unfinished"] = ["8 5/8", "8 5/8"]
    assert why_not_grouped(plan) == ()


def test_a_proof_of_other_numbers_is_told() -> None:
    plan = broken(PINWHEEL)
    plan["proof"] = {"handling": {"passes": 3, "kinds": 3, "minutes": "15", "at_least": "15"}}
    assert why_not_grouped(plan) == ()
    plan["proof"]["handling"]["at_least"] = "15 1/2"
    assert why_not_grouped(plan) == ("proof: 15 minutes can't be fewer than 15 1/2",)
    plan["proof"]["handling"].update(kinds=2, at_least="15")
    assert why_not_grouped(plan) == ("proof: 2 kinds in 3 passes, and should be 3 in 3",)


def test_a_plan_that_can_not_be_followed_is_not_waved_through() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][2]["a"] = "s9"
    assert why_not_grouped(plan) == ("seam s3: side a, s9, is no patch and no earlier seam",)
