"""The order is judged by patches and seams alone: a good plan passes, and each fault is told once."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest
from plans import FOUR_PATCH, GOOD, HOURGLASS, PINWHEEL, write
from shapely import Polygon, unary_union  # type: ignore[import-untyped]

from planner.checks.check_order import why_not_sewable
from planner.checks.plan_file import Plan


@pytest.mark.parametrize("plan", GOOD.values(), ids=GOOD)
def test_a_good_plan_is_sewable(plan: Plan) -> None:
    assert why_not_sewable(plan) == ()


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


def test_a_block_of_one_patch_needs_no_seam() -> None:
    plan = write("b1 6 x 6", "p1 b1 navy 0,0 6,0 6,6 0,6", "", "", "", "")
    assert why_not_sewable(plan) == ()


def test_corners_on_a_straight_line_change_nothing() -> None:
    plan = broken(FOUR_PATCH)
    plan["patches"][0]["corners"].insert(1, ["3", "0"])
    assert why_not_sewable(plan) == ()


def test_a_gap_is_told_with_its_place() -> None:
    plan = broken(HOURGLASS)
    plan["patches"][0]["corners"][2] = ["3", "2"]
    assert why_not_sewable(plan)[0] == "block b1: its patches leave a gap near 0, 0"


def test_an_overlap_is_told() -> None:
    plan = broken(HOURGLASS)
    plan["patches"][0]["corners"][2] = ["3", "4"]
    assert why_not_sewable(plan)[0] == "block b1: its patches overlap near 0, 0"


def test_a_patch_twice_in_one_place_and_none_in_the_other_is_told_though_the_area_is_right() -> None:
    plan = broken(FOUR_PATCH)
    plan["patches"][3]["corners"] = plan["patches"][2]["corners"]
    assert "block b1: its patches overlap and leave a gap near 0, 6" in why_not_sewable(plan)


def test_a_patch_out_of_the_block_is_told() -> None:
    plan = broken(FOUR_PATCH)
    for corner in plan["patches"][0]["corners"]:
        corner[0] = f"-{corner[0]}"
    assert "patch p1: it reaches out of block b1" in why_not_sewable(plan)


def test_a_block_of_another_size_is_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["blocks"][0]["size"] = ["12", "25/2"]
    assert why_not_sewable(plan) == ("block b1: its patches leave a gap near 0, 12",)


def test_a_side_that_comes_later_is_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"].insert(0, plan["seams"].pop())
    assert why_not_sewable(plan) == (
        "seam s3: side a, s1, is no patch and no earlier seam",
        "seam s3: side b, s2, is no patch and no earlier seam",
    )


def test_a_side_used_twice_is_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][1]["a"] = "p2"
    assert why_not_sewable(plan) == ("seam s2: side a, p2, is already used by s1",)


def test_a_result_that_is_never_used_is_told() -> None:
    plan = broken(FOUR_PATCH)
    del plan["seams"][2]
    assert why_not_sewable(plan) == ("seam s1: it is never sewn on",)


def test_a_patch_that_is_never_used_is_told() -> None:
    plan = broken(PINWHEEL)
    del plan["seams"][0]
    plan["seams"][3]["a"] = "p1"
    assert "patch p2: it is never sewn on" in why_not_sewable(plan)


def test_a_seam_between_two_blocks_is_told() -> None:
    two = """
        p1 b1 navy 0,0 3,0 3,6 0,6
        p2 b1 navy 3,0 6,0 6,6 3,6
        p3 b2 navy 0,0 3,0 3,6 0,6
        p4 b2 navy 3,0 6,0 6,6 3,6
    """
    blocks = "b1 6 x 6\nb2 6 x 6"
    good = write(blocks, two, "s1 b1 = p1 + p2, 3,0 - 3,6, a\ns2 b2 = p3 + p4, 3,0 - 3,6, a", "", "", "")
    assert why_not_sewable(good) == ()
    bad = write(blocks, two, "s1 b1 = p1 + p4, 3,0 - 3,6, a\ns2 b2 = p3 + p2, 3,0 - 3,6, a", "", "", "")
    assert why_not_sewable(bad) == (
        "seam s1: side b, p4, lies in another block",
        "seam s2: side b, p2, lies in another block",
    )


@pytest.mark.parametrize("end", [["6", "5"], ["6", "7"], ["5", "6"]])
def test_a_seam_that_is_not_the_whole_border_is_told(end: list[str]) -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][0]["to"] = end
    assert why_not_sewable(plan) == ("seam s1: the whole border of its sides runs from 6, 0 to 6, 6",)


def test_what_is_sewn_into_an_inner_corner_must_be_set_in() -> None:
    plan = write(
        "b1 12 x 12",
        """
        p1 b1 navy 0,0 6,0 6,6 0,6
        p2 b1 shell 6,0 12,0 12,12 6,12
        p3 b1 shell 0,6 6,6 6,12 0,12
        """,
        """
        s1 b1 = p1 + p2, 6,0 - 6,6, a
        s2 b1 = s1 + p3, 0,6 - 6,6, a
        """,
        "",
        "",
        "",
    )
    border = "seam s2: the whole border of its sides runs from 0, 6 by 6, 6 to 6, 12"
    assert why_not_sewable(plan) == (f"{border}, and it is not set in",)
    bent = broken(plan)
    way = [["0", "6"], ["6", "6"], ["6", "12"]]
    bent["seams"][1].update({"set_in": True, "legs": [way[:2], way[1:]], "to": ["6", "12"]})
    assert why_not_sewable(bent) == ()
    bent["seams"][1].update({"legs": [way[:2], [["6", "6"], ["6", "11"]]], "to": ["6", "11"]})
    assert why_not_sewable(bent) == (border,)


def test_a_unit_with_an_inner_corner_is_sewn_straight_where_it_is_straight() -> None:
    plan = write(
        "b1 12 x 12",
        """
        p1 b1 navy 0,0 6,0 6,6 0,6
        p2 b1 shell 6,0 12,0 12,12 6,12
        p3 b1 shell 0,6 3,6 3,12 0,12
        p4 b1 shell 3,6 6,6 6,12 3,12
        """,
        """
        s1 b1 = p1 + p3, 0,6 - 3,6, a
        s2 b1 = s1 + p4, 3,12 - 3,6 - 6,6, a
        s3 b1 = s2 + p2, 6,0 - 6,12, a
        """,
        "",
        "",
        "",
    )
    assert why_not_sewable(plan) == ()


def test_sides_that_do_not_touch_are_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][0]["b"], plan["seams"][1]["b"] = "p4", "p2"
    assert why_not_sewable(plan) == (
        "seam s1: its sides have no border in common",
        "seam s2: its sides have no border in common",
    )


@pytest.mark.parametrize(
    "change",
    [
        {"set_in": True},
        {"legs": [[["0", "6"], ["12", "6"]]]},
        {"set_in": True, "legs": [[["0", "6"], ["6", "6"]], [["8", "6"], ["12", "6"]]]},
        {"set_in": True, "legs": [[["12", "6"], ["0", "6"]]]},
    ],
)
def test_legs_that_do_not_lead_from_end_to_end_are_told(change: dict[str, object]) -> None:
    plan = broken(FOUR_PATCH)
    plan["seams"][2].update(change)
    (complaint,) = why_not_sewable(plan)
    assert complaint.startswith("seam s3: it")


@pytest.mark.parametrize(
    ("part", "key", "value", "complaint"),
    [
        ("patches", "id", "p2", "patch p2: the name is used twice"),
        ("patches", "fabric", "sand", "patch p1: there is no fabric sand"),
        ("patches", "block", "b7", "patch p1: there is no block b7"),
        ("patches", "corners", [["0", "0"], ["6", "0"], ["3", "0"]], "patch p1: its corners are no outline"),
        (
            "patches",
            "corners",
            [["0", "0"], ["6", "0"], ["1", "5"], ["5", "5"]],
            "patch p1: its corners are no outline",
        ),
        ("patches", "corners", [["0", "0"], ["6", "0"], ["6", "x"]], "patch p1: 'x' is no length of a plan file"),
        ("seams", "press", "c", "seam s1: it is pressed to 'c', which is no side"),
        ("seams", "from", ["1/0", "0"], "seam s1: '1/0' divides by zero"),
        ("blocks", "size", ["0", "12"], "block b1: its size is nothing"),
        ("blocks", "size", ["8*sqrt(5)", "12"], "block b1: '8*sqrt(5)' has another root than those of 2 and 3"),
        ("blocks", "size", ["8*sqrt(2)", "12"], "block b1: its patches overlap near 8*sqrt(2), 0"),
    ],
)
def test_what_can_not_be_followed_is_told(part: str, key: str, value: object, complaint: str) -> None:
    plan = broken(FOUR_PATCH)
    plan[part][0][key] = value
    assert complaint in why_not_sewable(plan)


def test_filling_agrees_with_shapely_wherever_one_corner_is_moved() -> None:
    for patch in range(8):
        for corner in range(3):
            for x, y in ((0, 0), (6, 6), (12, 0), (6, 12), (9, 3), (3, 8)):
                plan = broken(PINWHEEL)
                plan["patches"][patch]["corners"][corner] = [str(x), str(y)]
                polygons = [Polygon([(int(x), int(y)) for x, y in patch["corners"]]) for patch in plan["patches"]]
                area = sum(polygon.area for polygon in polygons)
                complaints = why_not_sewable(plan)
                if all(polygon.area for polygon in polygons):
                    fills = area == 144 and unary_union(polygons).area == pytest.approx(144)
                    assert any("its patches" in complaint for complaint in complaints) != fills
                else:
                    assert any("no outline" in complaint for complaint in complaints)
