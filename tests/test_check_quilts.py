"""The checkers judge quilts: blocks joined into one top, straight or on point, beside loose blocks."""

from __future__ import annotations

from copy import deepcopy
from itertools import pairwise
from typing import Any

import pytest
from planned import why_wrong
from plans import FOUR_PATCH, FRAMED_ON_POINT, JOINED, ON_POINT, PINWHEEL, write

from planner.checks.check_batches import why_not_grouped
from planner.checks.check_cut_list import why_not_cut
from planner.checks.check_joins import count_clashes, why_joins_wrong
from planner.checks.check_order import why_not_sewable
from planner.checks.plan_file import Plan


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


def find(plan: Any, part: str, name: str) -> Any:
    (entry,) = [entry for entry in plan[part] if entry["id"] == name]
    return entry


@pytest.mark.parametrize("plan", [JOINED, ON_POINT, FRAMED_ON_POINT], ids=["straight", "on point", "framed"])
def test_quilts_written_by_hand_are_right(plan: Plan) -> None:
    assert why_wrong(plan) == ()


@pytest.mark.parametrize("by", ["9", "7/2"])
def test_a_quilt_may_lie_anywhere_in_its_frame(by: str) -> None:
    for plan in (broken(JOINED), broken(ON_POINT)):
        joined = {block["id"] for block in plan["blocks"] if not block["loose"]} | {None}
        points = [corner for patch in plan["patches"] if patch["block"] in joined for corner in patch["corners"]]
        points += [seam[end] for seam in plan["seams"] if seam["block"] in joined for end in ("from", "to")]
        points += [join["at"] for join in plan["joins"]]
        for point in points:
            point[0] = f"{int(point[0]) + int(by)}" if by == "9" else f"{2 * int(point[0]) + 7}/2"
        assert why_wrong(plan) == ()


@pytest.mark.parametrize(
    ("plan", "patch", "corners", "complaints"),
    [
        (JOINED, "p7", "6,0 7,0 7,6 6,6", "the quilt: its patches leave a gap near 7, 0"),
        (JOINED, "p9", "6,6 15,6 15,8 6,8", "the quilt: its patches leave a gap near 14, 0"),
        (JOINED, "p7", "5,0 8,0 8,6 5,6", "the quilt: its patches overlap near 5, 0"),
        (JOINED, "p6", "8,3 14,3 14,7 8,7", "patch p6: it reaches out of block b3"),
        (JOINED, "p6", "8,3 14,3 14,5 8,5", "block b3: its patches leave a gap near 8, 5"),
        (JOINED, "p1", "1,0 3,0 3,6 1,6", "block b1: its patches leave a gap near 0, 0"),
        (ON_POINT, "p10", "12,4 14,2 18,2 20,4", "the quilt: its patches leave a gap near 14, 2"),
        (ON_POINT, "p12", "33,16 28,12 28,20", "the quilt: its patches leave a gap near 16, 0"),
        (ON_POINT, "p3", "13,12 20,12 20,20 13,20", "block b3: its patches leave a gap near"),
    ],
)
def test_a_quilt_that_is_not_filled_once_is_told(plan: Plan, patch: str, corners: str, complaints: str) -> None:
    bad = broken(plan)
    find(bad, "patches", patch)["corners"] = [corner.split(",") for corner in corners.split()]
    assert any(complaint.startswith(complaints) for complaint in why_not_sewable(bad)), why_not_sewable(bad)


def test_a_corner_that_is_hardly_out_of_place_is_told() -> None:
    for place in range(len(FRAMED_ON_POINT["patches"])):
        for corner in range(3):
            plan = broken(FRAMED_ON_POINT)
            point = plan["patches"][place]["corners"][corner]
            plain, _, root = point[0].rpartition(" + ") if "sqrt" in point[0] else (point[0], "", "")
            point[0] = " + ".join(word for word in (f"{int(plain or 0) * 10**9 + 1}/{10**9}", root) if word)
            assert any("its patches" in complaint for complaint in why_not_sewable(plan))


def test_roots_of_two_kinds_are_told_once() -> None:
    plan = broken(FRAMED_ON_POINT)
    plan["patches"][8]["corners"][0][0] = "sqrt(3)"
    assert why_not_sewable(plan) == ("project: roots of 2 and of 3 are in one plan",)


def test_an_upright_quilt_is_not_right_where_on_point_is_said_and_the_other_way_round() -> None:
    for plan in (broken(JOINED), broken(ON_POINT)):
        plan["project"]["on_point"] = not plan["project"]["on_point"]
        assert any(complaint.startswith("the quilt: its patches") for complaint in why_not_sewable(plan))


def test_on_point_needs_a_block_that_is_joined() -> None:
    plan = broken(FOUR_PATCH)
    plan["project"]["on_point"] = True
    assert why_not_sewable(plan) == ("project: no block is in the quilt that is on point",)


def test_loose_blocks_and_the_quilt_each_have_one_end() -> None:
    plan = broken(JOINED)
    plan["seams"] = [seam for seam in plan["seams"] if seam["id"] not in ("s1", "s7")]
    assert why_not_sewable(plan) == (
        "patch p1: it is never sewn on",
        "seam s5: it is never sewn on",
    )
    alone = broken(PINWHEEL)
    alone["blocks"][0]["loose"] = False
    assert why_wrong(alone) == ()


def test_a_loose_block_that_is_sewn_into_the_quilt_is_told() -> None:
    plan = broken(JOINED)
    find(plan, "seams", "s4")["a"] = "s1"
    assert "seam s4: side a, s1, lies in another block" in why_not_sewable(plan)


def test_a_block_that_is_joined_before_it_is_whole_is_told() -> None:
    plan = broken(JOINED)
    find(plan, "seams", "s2").update({"block": None, "a": "p4", "b": "p7", "from": ["6", "0"], "to": ["6", "6"]})
    find(plan, "seams", "s4").update({"a": "p3", "b": "s2", "from": ["3", "0"], "to": ["3", "6"]})
    assert why_not_sewable(plan) == ("block b2: it is joined to others in 2 parts, before it is whole",)


def test_a_seam_that_names_the_wrong_block_is_told() -> None:
    plan = broken(JOINED)
    find(plan, "seams", "s2")["block"] = None
    assert why_not_sewable(plan) == ("seam s2: both its sides are of block b2",)
    plan = broken(JOINED)
    find(plan, "seams", "s4")["block"] = "b2"
    assert "seam s4: side b, p7, lies in another block" in why_not_sewable(plan)


def test_batches_go_over_loose_blocks_and_the_quilt() -> None:
    plan = broken(JOINED)
    first = find(plan, "batches", "B1")
    first["seams"].remove("s3")
    plan["batches"].insert(0, first | {"id": "B0", "seams": ["s3"]})
    assert why_not_grouped(plan) == ("batch B1: s1 is identical to s3 of B0",)


def test_an_open_seam_neither_nests_nor_clashes_in_a_quilt() -> None:
    plan = broken(JOINED)
    find(plan, "seams", "s6")["press"] = "open"
    assert why_joins_wrong(plan) == (
        "join of s7 at 6, 6: it does not nest",
        "join of s7 at 6, 6: why is '', and a seam is open",
    )
    plan["joins"][0].update(nests=False, why="open")
    assert why_wrong(plan) == ()
    assert count_clashes(plan) == 0
    find(plan, "seams", "s6")["press"] = "a"
    assert count_clashes(plan) == 1


# A square in a frame whose strips meet at half a right angle: three of them are set in.
MITRED = write(
    fabrics="navy coral",
    blocks="b1 4 x 4 joined",
    patches="""
        p1 b1 navy 2,2 6,2 6,6 2,6
        p2 - coral 0,0 8,0 6,2 2,2
        p3 - coral 8,0 8,8 6,6 6,2
        p4 - coral 8,8 0,8 2,6 6,6
        p5 - coral 0,8 0,0 2,2 2,6
    """,
    seams="""
        s1 - = p2 + p1, 2,2 - 6,2, a
        s2 - = p3 + s1, 8,0 - 6,6, a
        s3 - = p4 + s2, 8,8 - 2,6, a
        s4 - = p5 + s3, 0,8 - 0,0, a
    """,
    joins="",
    batches="",
    cut="",
)


def set_in(plan: Plan) -> Any:
    """The same with the legs of the seams that are set in."""
    plan = broken(plan)
    for seam, way in (("s2", "8,0 6,2 6,6"), ("s3", "8,8 6,6 2,6"), ("s4", "0,8 2,6 2,2 0,0")):
        points = [point.split(",") for point in way.split()]
        find(plan, "seams", seam).update(set_in=True, legs=[list(leg) for leg in pairwise(points)])
    return plan


def test_strips_that_are_set_in_are_followed_round_their_corners() -> None:
    plan = set_in(MITRED)
    assert why_not_sewable(plan) == ()
    assert why_joins_wrong(plan) == ()
    border = "the whole border of its sides runs from 6, 6 by 6, 2 to 8, 0"
    assert f"seam s2: {border}, and it is not set in" in why_not_sewable(MITRED)


@pytest.mark.parametrize(
    ("seam", "way", "complaint"),
    [
        ("s2", "8,0 6,2", "seam s2: the whole border of its sides runs from 6, 6 by 6, 2 to 8, 0"),
        ("s4", "0,8 2,6 2,2", "seam s4: the whole border of its sides runs from 0, 0 by 2, 2 by 2, 6 to 0, 8"),
        ("s3", "8,8 6,6 2,6 0,8", "seam s3: the whole border of its sides runs from 2, 6 by 6, 6 to 8, 8"),
    ],
)
def test_legs_that_are_not_the_whole_border_are_told(seam: str, way: str, complaint: str) -> None:
    plan = set_in(MITRED)
    points = [point.split(",") for point in way.split()]
    find(plan, "seams", seam).update({"from": points[0], "to": points[-1], "legs": list(map(list, pairwise(points)))})
    assert complaint in why_not_sewable(plan)


def test_a_spun_seam_falls_to_its_other_side_beyond_the_point() -> None:
    # The upper seam falls left, the lower right: so what runs round them falls down on the left and up on the right
    plan = broken(FOUR_PATCH)
    last = find(plan, "seams", "s3")
    last.update(spin=["6", "6"], press="b")
    assert why_joins_wrong(plan) == ()
    last["press"] = "a"
    assert why_joins_wrong(plan) == ("seam s3: the allowances do not run round 6, 6",)
    last.update({"from": ["12", "6"], "to": ["0", "6"]})
    assert why_joins_wrong(plan) == ()
    last["spin"] = ["3", "6"]
    assert why_joins_wrong(plan) == ("seam s3: it is spun at 3, 6, which is not its only join",)


def test_a_join_at_the_far_end_of_a_spun_seam_meets_its_other_side() -> None:
    """Two four patches side by side: the far end of the one's last seam meets the near end of the other's."""
    corners = [(0, 0), (2, 0), (0, 2), (2, 2)]
    patches = [
        f"p{4 * block + place} b{block + 1} navy {x + 4 * block},{y} {x + 4 * block + 2},{y} "
        f"{x + 4 * block + 2},{y + 2} {x + 4 * block},{y + 2}"
        for block in (0, 1)
        for place, (x, y) in enumerate(corners)
    ]
    pair = write(
        fabrics="navy",
        blocks="b1 4 x 4 joined\nb2 4 x 4 joined",
        patches="\n".join(patches),
        seams="""
            s1 b1 = p0 + p1, 2,0 - 2,2, a
            s2 b1 = p2 + p3, 2,2 - 2,4, b
            s3 b1 = s1 + s2, 0,2 - 4,2, b
            s4 b2 = p4 + p5, 6,0 - 6,2, a
            s5 b2 = p6 + p7, 6,2 - 6,4, b
            s6 b2 = s4 + s5, 4,2 - 8,2, b
            s7 - = s3 + s6, 4,0 - 4,4, a
        """,
        joins="""
            s3 at 2,2 of s1 s2 nests
            s6 at 6,2 of s4 s5 nests
            s7 at 4,2 of s3 s6 clashes
        """,
        batches="",
        cut="",
    )
    assert why_joins_wrong(pair) == ()
    spun = broken(pair)
    for name, point in (("s3", ["2", "2"]), ("s6", ["6", "2"])):
        find(spun, "seams", name)["spin"] = point
    assert why_joins_wrong(spun) == ("join of s7 at 4, 2: it nests",)
    assert count_clashes(spun) == 0


@pytest.mark.parametrize(
    ("place", "change", "complaint"),
    [
        (
            1,
            {"cut": ["6 1/4", "12 1/2"]},
            "cut sand quarter-square triangle sqrt(32) x sqrt(128): cut 25/4 x 25/2, and should be 101/16 x 101/8",
        ),
        (
            2,
            {"cut": ["6 1/2", "6 1/2"]},
            "cut sand half-square triangle sqrt(32) x sqrt(32): cut 13/2 x 13/2, and should be 105/16 x 105/16",
        ),
        (1, {"count": 5}, "cut sand quarter-square triangle sqrt(32) x sqrt(128): 5 are told, and 4 needed"),
        (
            2,
            {"corners": [["0", "0"], ["6 9/16", "0"], ["6 9/16", "6 9/16"], ["0", "6 9/16"]]},
            "cut sand half-square triangle sqrt(32) x sqrt(32): its corners are not those of the cut size",
        ),
    ],
)
def test_a_setting_triangle_cut_wrong_is_told(place: int, change: dict[str, object], complaint: str) -> None:
    plan = broken(ON_POINT)
    plan["cut"][place].update(change)
    assert why_not_cut(plan) == (complaint,)


def test_setting_triangles_with_their_grain_along_the_blocks_are_told() -> None:
    plan = broken(ON_POINT)
    plan["cut"][1].update(shape="half-square triangle", finished=["8", "8"], cut=["8 7/8", "8 7/8"])
    plan["cut"][2].update(shape="quarter-square triangle", finished=["4", "8"], cut=["4 5/8", "9 1/4"])
    complaints = why_not_cut(plan)
    assert "cut sand quarter-square triangle sqrt(32) x sqrt(128): 4 are missing" in complaints
    assert "cut sand half-square triangle sqrt(32) x sqrt(32): 4 are missing" in complaints


def test_the_same_triangle_cut_along_the_blocks_and_askew_is_of_two_kinds() -> None:
    """The block at the top is two triangles, one of them as large as those of the setting, of their fabric."""
    plan = broken(ON_POINT)
    find(plan, "patches", "p1")["corners"] = [["12", "4"], ["20", "12"], ["12", "12"]]
    plan["patches"].append(
        {"id": "p14", "block": "b1", "fabric": "sand", "corners": [["12", "4"], ["20", "4"], ["20", "12"]]}
    )
    first = {"id": "s0", "block": "b1", "a": "p1", "b": "p14", "from": ["12", "4"], "to": ["20", "12"], "press": "a"}
    plan["seams"].insert(0, first | {"why": ""})
    find(plan, "seams", "s1")["b"] = "s0"
    plan["joins"] = []
    assert [complaint for complaint in why_not_sewable(plan) if "s0" in complaint] == []
    complaints = why_not_cut(plan)
    assert "cut sand half-square triangle 8 x 8: 1 are missing" in complaints
    assert not any("quarter-square" in complaint for complaint in complaints)


def test_the_measure_of_a_quilt_on_point_is_exact() -> None:
    plan = broken(ON_POINT)
    find(plan, "batches", "B9")["unfinished"] = ["23 1/8", "23 1/8"]
    assert why_not_grouped(plan) == (
        "batch B9: unfinished 185/8 x 185/8, and should be 1/2 + sqrt(512) x 1/2 + sqrt(512)",
    )


@pytest.mark.parametrize("plan", [JOINED, ON_POINT], ids=["straight", "on point"])
def test_any_one_seam_pressed_the_other_way_is_found_where_it_is_joined(plan: Plan) -> None:
    for place, seam in enumerate(plan["seams"]):
        other = broken(plan)
        other["seams"][place]["press"] = "b" if seam["press"] == "a" else "a"
        touched = sum(seam["id"] in (join["a"], join["b"]) for join in plan["joins"])
        assert len(why_joins_wrong(other)) == touched
        assert count_clashes(other) == touched
