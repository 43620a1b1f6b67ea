"""Partial and set-in seams, written by hand: good plans pass, and each that is broken in one way is told so once."""

from __future__ import annotations

from copy import deepcopy
from itertools import pairwise
from typing import Any

import pytest
from bent_plans import BENT, HEXAGON, IN_A_LARGER_BLOCK, ROUND_A_SQUARE, STAR_CORNER
from match_points import find_match_points
from plans import FOUR_PATCH, write

from planner.checks.check_batches import why_not_grouped
from planner.checks.check_joins import Versions, count_clashes, count_versions, why_joins_wrong
from planner.checks.check_order import why_not_sewable
from planner.checks.plan_file import Plan
from planner.checks.read_plan import read_work
from planner.checks.tell_kinds import tell_kinds


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


def find(plan: Any, part: str, name: str) -> Any:
    (entry,) = [entry for entry in plan[part] if entry["id"] == name]
    return entry


def lead(seam: Any, way: str) -> None:
    """Have a seam lead along a way: `4,2 - 3,2`."""
    points = [point.split(",") for point in way.split(" - ")]
    seam.update({"from": points[0], "to": points[-1]})
    if len(points) > 2:
        seam.update({"set_in": True, "legs": list(map(list, pairwise(points)))})


@pytest.mark.parametrize("plan", BENT.values(), ids=BENT)
def test_a_good_plan_with_seams_that_are_not_straight_passes(plan: Plan) -> None:
    assert why_not_sewable(plan) == ()
    assert why_joins_wrong(plan) == ()
    assert why_not_grouped(plan) == ()
    assert count_clashes(plan) == 0
    assert count_versions(plan) == Versions(0, 0)


@pytest.mark.parametrize("plan", BENT.values(), ids=BENT)
def test_every_seam_may_be_told_from_its_other_end(plan: Plan) -> None:
    turned = broken(plan)
    for seam in turned["seams"]:
        seam["from"], seam["to"] = seam["to"], seam["from"]
        if "legs" in seam:
            seam["legs"] = [leg[::-1] for leg in seam["legs"][::-1]]
    assert why_not_sewable(turned) == ()
    assert why_joins_wrong(turned) == ()


@pytest.mark.parametrize("plan", BENT.values(), ids=BENT)
def test_every_seam_may_have_its_sides_the_other_way_round(plan: Plan) -> None:
    turned = broken(plan)
    for seam in turned["seams"]:
        seam["press"] = {"a": "b", "b": "a"}[seam["press"]]
        if seam["b"]:
            seam["a"], seam["b"] = seam["b"], seam["a"]
    for join in turned["joins"]:
        join["a"], join["b"] = join["b"], join["a"]
    assert why_not_sewable(turned) == ()
    assert why_joins_wrong(turned) == ()
    assert why_not_grouped(turned) == ()


# --- the order


@pytest.mark.parametrize(
    ("seam", "change", "complaint"),
    [
        ("s5", {"closes": None}, "seam s5: it has no side b, and closes no seam"),
        ("s5", {"closes": "s2"}, "seam s5: it closes s2, which is not partial"),
        ("s5", {"closes": "s9"}, "seam s5: it closes s9, which is no earlier seam"),
        ("s5", {"closes": "p1"}, "seam s5: it closes p1, which is no earlier seam"),
        ("s5", {"press": "b"}, "seam s5: it is pressed to 'b', and s1, which it closes, to 'a'"),
        ("s5", {"partial": True}, "seam s5: it closes s1, so it is not partial, set in or spun"),
        (
            "s5",
            {"set_in": True, "legs": [[["3", "2"], ["2", "2"]], [["2", "2"], ["0", "2"]]]},
            "seam s5: it closes s1, so it is not partial, set in or spun",
        ),
        ("s5", {"spin": ["2", "2"]}, "seam s5: it closes s1, so it is not partial, set in or spun"),
        ("s1", {"spin": ["4", "2"]}, "seam s1: it is partial, and spun"),
        ("s1", {"partial": False}, "seam s5: it closes s1, which is not partial"),
        ("s2", {"partial": True}, "seam s2: it is partial, and never closed"),
    ],
)
def test_a_seam_that_closes_none_that_it_can_close_is_told(
    seam: str, change: dict[str, object], complaint: str
) -> None:
    plan = broken(ROUND_A_SQUARE)
    find(plan, "seams", seam).update(change)
    for check in (why_not_sewable, why_joins_wrong, why_not_grouped):
        assert check(plan) == (complaint,)


def test_a_slit_that_is_never_closed_is_told() -> None:
    plan = broken(ROUND_A_SQUARE)
    plan["seams"].pop()
    assert why_not_sewable(plan) == ("seam s1: it is partial, and never closed",)


def test_a_slit_that_is_closed_twice_is_told() -> None:
    plan = broken(ROUND_A_SQUARE)
    plan["seams"].append({**plan["seams"][-1], "id": "s6", "a": "s5"})
    assert why_not_sewable(plan) == ("seam s6: s1 is already closed by s5",)


def test_a_seam_that_closes_another_and_has_two_sides_is_told() -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    find(plan, "seams", "s11").update({"closes": "s5"})
    plan["seams"] = [seam for seam in plan["seams"] if seam["id"] != "s9"]
    find(plan, "seams", "s11")["a"] = "s8"
    assert why_not_sewable(plan) == ("seam s11: it closes s5, and has a side b",)


def test_a_slit_that_does_not_lie_in_the_side_is_told() -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    plan["seams"][8:10] = plan["seams"][9:7:-1]
    find(plan, "seams", "s9")["a"] = "s10"
    find(plan, "seams", "s11").update({"a": "s8", "b": "s9"})
    assert why_not_sewable(plan) == ("seam s9: s5 does not lie in its side a, s10",)


BORDER = "seam s1: the whole border of its sides runs from 2, 2 to 4, 2"


@pytest.mark.parametrize(
    ("way", "complaint"),
    [
        ("4,2 - 2,2", f"{BORDER}, so it is not partial"),
        ("7/2,2 - 3,2", f"{BORDER}, and it does not begin at an end of that and stop on its last stretch"),
        ("4,2 - 1,2", f"{BORDER}, and it does not begin at an end of that and stop on its last stretch"),
        ("4,2 - 4,3", f"{BORDER}, and it does not begin at an end of that and stop on its last stretch"),
        ("4,2 - 3,2 - 3,3", f"{BORDER}, and it does not begin at an end of that and stop on its last stretch"),
    ],
)
def test_a_partial_seam_that_is_not_one_end_of_the_border_is_told(way: str, complaint: str) -> None:
    plan = broken(ROUND_A_SQUARE)
    lead(find(plan, "seams", "s1"), way)
    assert why_not_sewable(plan) == (complaint,)


def test_a_seam_across_the_mouth_of_a_slit_is_told() -> None:
    plan = broken(ROUND_A_SQUARE)
    lead(find(plan, "seams", "s1"), "2,2 - 3,2")
    complaints = why_not_sewable(plan)
    assert complaints == ("seam s2: its sides have more than one border: from 4, 0 to 4, 2, and from 4, 2 to 4, 4",)
    plan = broken(IN_A_LARGER_BLOCK)
    plan["seams"].append(plan["seams"].pop(8))
    find(plan, "seams", "s11")["a"] = "s8"
    find(plan, "seams", "s9")["a"] = "s11"
    assert why_not_sewable(plan) == (
        "seam s11: its sides have more than one border: from 2, 0 to 2, 2, and from 2, 2 to 2, 6",
    )


@pytest.mark.parametrize("way", ["3,2 - 2,2", "7/2,2 - 0,2", "3,2 - 0,3", "4,2 - 0,2", "2,2 - 0,2", "3,2 - 4,2"])
def test_a_seam_that_is_not_all_of_the_rest_is_told(way: str) -> None:
    plan = broken(ROUND_A_SQUARE)
    lead(find(plan, "seams", "s5"), way)
    assert why_not_sewable(plan) == ("seam s5: what s1 leaves open between two faces runs from 3, 2 to 0, 2",)


def close_early(plan: Plan, way: str) -> Any:
    """The first rectangle sewn on wholly before the last is there."""
    early = broken(plan)
    closing = early["seams"].pop()
    early["seams"].insert(3, closing)
    closing["a"] = "s3"
    find(early, "seams", "s4")["a"] = "s5"
    lead(closing, way)
    return early


def test_a_slit_that_is_closed_before_all_is_there_is_told() -> None:
    plan = close_early(ROUND_A_SQUARE, "3,2 - 0,2")
    lead(find(plan, "seams", "s4"), "0,2 - 2,2 - 2,6")
    assert why_not_sewable(plan) == ("seam s5: what s1 leaves open between two faces runs from 3, 2 to 2, 2",)


def test_a_slit_may_be_closed_as_far_as_both_faces_reach_and_the_rest_set_in() -> None:
    plan = close_early(ROUND_A_SQUARE, "3,2 - 2,2")
    border = "seam s4: the whole border of its sides runs from 0, 2 by 2, 2 to 2, 6"
    assert why_not_sewable(plan) == (f"{border}, and it is not set in",)
    lead(find(plan, "seams", "s4"), "0,2 - 2,2 - 2,6")
    assert why_not_sewable(plan) == ()


def test_what_lies_on_the_line_of_a_slit_is_left_open_with_it() -> None:
    plan = broken(ROUND_A_SQUARE)
    lead(find(plan, "seams", "s4"), "0,2 - 2,2 - 2,6")
    assert why_not_sewable(plan) == ("seam s4: the whole border of its sides runs from 2, 2 to 2, 6",)
    whole = broken(ROUND_A_SQUARE)
    whole["seams"].pop()
    del find(whole, "seams", "s1")["partial"]
    lead(find(whole, "seams", "s1"), "4,2 - 2,2")
    border = "seam s4: the whole border of its sides runs from 0, 2 by 2, 2 to 2, 6"
    assert why_not_sewable(whole) == (f"{border}, and it is not set in",)


def test_a_seam_that_turns_may_stop_on_its_last_stretch() -> None:
    """A square in the corner of two strips; it is sewn to the one, and to the other half way."""
    plan = write(
        "b1 4 x 4",
        """
        p1 b1 navy 0,0 4,0 4,2 0,2
        p2 b1 navy 0,2 2,2 2,4 0,4
        p3 b1 shell 2,2 4,2 4,4 2,4
        """,
        """
        s1 b1 = p1 + p2, 0,2 - 2,2, a
        s2 b1 = s1 + p3 in part, 4,2 - 2,2 - 2,3, b
        s3 b1 = s2 closes s2, 2,3 - 2,4, b
        """,
        "",
        "",
        "",
    )
    assert why_not_sewable(plan) == ()
    assert why_joins_wrong(plan) == ()
    for way in ("4,2 - 2,2 - 2,5", "3,2 - 2,2 - 2,3", "2,4 - 2,2 - 2,3", "2,2 - 2,3"):
        wrong = broken(plan)
        lead(find(wrong, "seams", "s2"), way)
        (complaint,) = why_not_sewable(wrong)
        assert complaint.startswith("seam s2: ")


@pytest.mark.parametrize(
    ("plan", "border"),
    [
        (STAR_CORNER, "2, 2 + 2*sqrt(2) by 2, 2 to 2 + 2*sqrt(2), 2"),
        (HEXAGON, "0, 2*sqrt(3) by 4, 2*sqrt(3) to 6, 0"),
    ],
    ids=["star corner", "hexagon"],
)
def test_a_seam_that_is_set_in_along_another_way_is_told(plan: Plan, border: str) -> None:
    words = f"seam s2: the whole border of its sides runs from {border}"
    legs = plan["seams"][1].get("legs", [])
    straight = broken(plan)
    seam = find(straight, "seams", "s2")
    del seam["legs"], seam["set_in"]
    assert why_not_sewable(straight) == (f"{words}, and it is not set in",)
    short = broken(plan)
    find(short, "seams", "s2").update({"legs": [*legs[:-1], [legs[-1][0], ["3", "3"]]], "to": ["3", "3"]})
    assert why_not_sewable(short) == (words,)
    astray = broken(plan)
    (start, _), (_, end) = legs
    find(astray, "seams", "s2").update({"legs": [[start, ["3", "3"]], [["3", "3"], end]]})
    assert why_not_sewable(astray) == (words,)


def test_a_corner_where_a_seam_goes_straight_on_is_told() -> None:
    plan = broken(FOUR_PATCH)
    lead(find(plan, "seams", "s3"), "0,6 - 6,6 - 12,6")
    assert why_not_sewable(plan) == ("seam s3: the whole border of its sides runs from 0, 6 to 12, 6",)


def test_a_patch_with_another_all_round_it_is_told() -> None:
    # the two that lie round it meet above its right side, and in a point at its lower left corner
    plan = write(
        "b1 6 x 6",
        """
        p1 b1 navy 0,0 6,0 6,2 2,2 2,4 0,4
        p2 b1 shell 4,2 6,2 6,6 0,6 2,4 4,4
        p3 b1 coral 2,2 4,2 4,4 2,4
        p4 b1 coral 0,4 2,4 0,6
        """,
        """
        s1 b1 = p1 + p2, 4,2 - 6,2, a
        s2 b1 = s1 + p3, 2,4 - 2,2 - 4,2 - 4,4 - 2,4, a
        s3 b1 = s2 + p4, 0,4 - 2,4 - 0,6, a
        """,
        "",
        "",
        "",
        fabrics="navy shell coral",
    )
    assert why_not_sewable(plan) == ("seam s2: one of its sides lies all round the other",)


# --- match points


def test_the_points_written_by_hand_are_those_that_a_walk_round_them_finds() -> None:
    plan = IN_A_LARGER_BLOCK
    told = {(join["seam"], *join["at"]): (join["a"], join["b"], join["nests"]) for join in plan["joins"]}
    found = {(seam, *map(str, at)): tuple(met) for (seam, at), met in find_match_points(plan).items()}
    assert told == found


@pytest.mark.parametrize(
    ("change", "complaints"),
    [
        ({"a": "s8", "b": "s1"}, ["a and b are s8 and s1, and should be s1 and s8"]),
        ({"b": "s4"}, ["a and b are s1 and s4, and should be s1 and s8"]),
        ({"nests": False}, ["it nests"]),
        ({"why": "open"}, ["why is 'open', and a seam is not open"]),
    ],
)
def test_a_match_point_of_a_seam_that_closes_another_is_checked(
    change: dict[str, object], complaints: list[str]
) -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    plan["joins"][3].update(change)
    assert why_joins_wrong(plan) == tuple(f"join of s9 at 4, 2: {complaint}" for complaint in complaints)


def test_a_match_point_where_a_seam_is_closed_is_not_left_out() -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    del plan["joins"][3]
    assert why_joins_wrong(plan) == ("join of s9 at 4, 2: it is missing, of s1 and s8",)


@pytest.mark.parametrize(("seam", "at"), [("s9", "5,2"), ("s9", "2,2"), ("s8", "4,2"), ("s5", "6,2")])
def test_nothing_is_matched_where_the_first_part_ends_or_across_a_slit(seam: str, at: str) -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    plan["joins"].append({"seam": seam, "at": at.split(","), "a": "s1", "b": "s4", "nests": True, "why": ""})
    complaint = f"join of {seam} at {at.replace(',', ', ')}: no seams of both sides end there"
    assert why_joins_wrong(plan) == (complaint,)


def test_seams_that_end_across_the_mouth_of_a_slit_are_matched_when_it_is_closed() -> None:
    """The fourth rectangle ends with two triangles, whose seam meets that of the first rectangle over the slit."""
    plan = broken(IN_A_LARGER_BLOCK)
    find(plan, "patches", "p8")["corners"] = [["2", "2"], ["4", "2"], ["2", "4"]]
    plan["patches"].append({**find(plan, "patches", "p8"), "id": "p12"})
    plan["patches"][-1]["corners"] = [["4", "2"], ["4", "4"], ["2", "4"]]
    first = {"id": "s0", "block": "b1", "a": "p8", "b": "p12", "from": ["2", "4"], "to": ["4", "2"], "press": "b"}
    plan["seams"].insert(0, {**first, "why": ""})
    find(plan, "seams", "s4")["b"] = "s0"
    assert why_not_sewable(plan) == ()
    # s0 ends at 4, 2 as well, and is folded into s8 there; s8 has nothing to match at that point
    assert why_joins_wrong(plan) == ()


def test_a_slit_pressed_to_its_other_side_clashes_where_it_meets_others() -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    for name in ("s5", "s9"):
        find(plan, "seams", name)["press"] = "b"
    assert why_joins_wrong(plan) == (
        "join of s6 at 6, 2: it does not nest",
        "join of s11 at 2, 2: it does not nest",
    )
    assert count_clashes(plan) == 2


def test_an_open_seam_at_a_slit_neither_nests_nor_clashes() -> None:
    plan = broken(IN_A_LARGER_BLOCK)
    find(plan, "seams", "s8")["press"] = "open"
    plan["joins"][3].update(nests=False, why="open")
    assert why_joins_wrong(plan) == ()
    assert count_clashes(plan) == 0


@pytest.mark.parametrize(("of_a", "of_b", "nests"), [("a", "a", False), ("a", "b", True), ("b", "a", True)])
def test_at_the_corner_of_a_seam_that_is_set_in_two_seams_nest_along_its_way(of_a: str, of_b: str, nests: bool) -> None:
    """Two squares side by side; below the left one a square is set in, of two triangles that point at the corner."""
    plan = write(
        "b1 8 x 8",
        """
        p1 b1 navy 0,0 4,0 4,4 0,4
        p2 b1 shell 4,0 8,0 8,8 4,8
        p3 b1 navy 0,4 4,4 0,8
        p4 b1 shell 4,4 4,8 0,8
        """,
        f"""
        s1 b1 = p1 + p2, 4,0 - 4,4, {of_a}
        s2 b1 = p3 + p4, 4,4 - 0,8, {of_b}
        s3 b1 = s1 + s2, 0,4 - 4,4 - 4,8, a
        """,
        f"s3 at 4,4 of s1 s2 {'nests' if nests else 'clashes'}",
        "",
        "",
    )
    # p1 and p3 lie at the first stretch of the way, p2 and p4 at the second
    assert why_not_sewable(plan) == ()
    assert why_joins_wrong(plan) == ()


# --- kinds and passes


@pytest.mark.parametrize("number", [0, 1, 3, 7])
def test_the_pass_of_a_seam_that_closes_another_is_one_more_than_that_of_its_side(number: int) -> None:
    plan = broken(ROUND_A_SQUARE)
    find(plan, "batches", "B5")["pass"] = number
    assert why_not_grouped(plan) == (f"batch B5: it is in pass {number}, and belongs in pass 5",)


def copy_block(plan: Plan, change: dict[str, str]) -> Any:
    """The block and another like it, with some points elsewhere."""
    two = broken(plan)
    two["blocks"].append({**two["blocks"][0], "id": "b2"})
    for part in ("patches", "seams"):
        for entry in deepcopy(two[part]):
            names = {key: f"{entry[key]}x" for key in ("id", "a", "b", "closes") if entry.get(key)}
            ends = {key: ",".join(entry[key]) for key in ("from", "to") if key in entry}
            points = {key: change.get(end, end).split(",") for key, end in ends.items()}
            two[part].append(entry | names | points | {"block": "b2"})
    return two


def tell_forms(plan: Plan, turns: int | None = None) -> dict[str, int]:
    work, complaints = read_work(plan)
    assert work is not None, complaints
    kinds = tell_kinds(work, turns)
    return {seam.id: kind.form for seam, kind in zip(work.seams, kinds, strict=True)}


def test_a_block_like_another_is_sewn_in_the_same_batches() -> None:
    plan = copy_block(IN_A_LARGER_BLOCK, {})
    forms = tell_forms(plan)
    assert all(forms[name] == forms[f"{name}x"] for name in forms if not name.endswith("x"))


def test_kinds_are_told_by_how_far_a_partial_seam_is_sewn_until_it_is_closed() -> None:
    plan = copy_block(IN_A_LARGER_BLOCK, {"5,2": "11/2,2"})
    assert why_not_sewable(plan) == ()
    forms = tell_forms(plan)
    others = [name for name in forms if not name.endswith("x") and forms[name] != forms[f"{name}x"]]
    assert others == ["s5", "s6", "s7", "s8", "s9"]


def test_a_partial_seam_is_of_another_kind_than_a_whole_one_and_than_the_one_that_closes_it() -> None:
    plan = copy_block(ROUND_A_SQUARE, {"3,2": "2,2"})
    del find(plan, "seams", "s1x")["partial"]
    plan["seams"].pop()
    lead(find(plan, "seams", "s4x"), "0,2 - 2,2 - 2,6")
    assert why_not_sewable(plan) == ()
    forms = tell_forms(plan)
    assert forms["s1"] != forms["s1x"]
    assert len({forms[name] for name in ("s1", "s2", "s3", "s4", "s5")}) == 5


def test_two_kinds_of_seam_in_one_batch_are_told() -> None:
    plan = broken(ROUND_A_SQUARE)
    find(plan, "batches", "B4")["seams"].append("s5")
    plan["batches"].pop()
    assert why_not_grouped(plan) == ("batch B4: s4 and s5 are not identical",)


def test_a_slit_pressed_two_ways_in_two_blocks_has_two_versions() -> None:
    plan = copy_block(ROUND_A_SQUARE, {})
    assert count_versions(plan) == Versions(0, 0)
    for name in ("s1x", "s5x"):
        find(plan, "seams", name)["press"] = "b"
    # the seam itself, and the one that closes it
    assert count_versions(plan) == Versions(2, 2)
    part, closing = find(plan, "seams", "s1x"), find(plan, "seams", "s5x")
    part.update({"a": "p5x", "b": "p1x", "press": "a"})
    closing["press"] = "a"
    assert count_versions(plan) == Versions(2, 2)
    part["press"] = closing["press"] = "b"
    assert count_versions(plan) == Versions(0, 0)
    closing["from"], closing["to"] = closing["to"], closing["from"]
    assert count_versions(plan) == Versions(0, 0)


# --- turns


STAR = write(
    fabrics="navy shell",
    blocks="b1 2 + 2*sqrt(2) x 2 + 2*sqrt(2)\nb2 9 x 9\nb3 9 x 9",
    patches="""
        p1 b1 navy 0,0 2*r,0 2+2*r,2 2,2
        p2 b1 shell 0,0 2,2 2,2+2*r 0,2*r
        p3 b2 navy 4,0 6,2 6,2+2*r 4,2*r
        p4 b2 shell 4,0 4,2*r 2,2+2*r 2,2
        p5 b3 shell 0,0 2*r,0 2+2*r,2 2,2
        p6 b3 navy 0,0 2,2 2,2+2*r 0,2*r
    """,
    seams="""
        s1 b1 = p1 + p2, 0,0 - 2,2, a
        s2 b2 = p3 + p4, 4,0 - 4,2*r, a
        s3 b3 = p5 + p6, 0,0 - 2,2, a
    """,
    joins="",
    batches="",
    cut="",
)


def test_pairs_of_diamonds_turned_by_half_a_right_angle_are_one_kind_and_mirrored_ones_are_not() -> None:
    forms = tell_forms(STAR)
    assert forms["s1"] == forms["s2"] != forms["s3"]
    assert len(set(tell_forms(STAR, turns=4).values())) == 3
    assert len(set(tell_forms(STAR, turns=8).values())) == 2


def test_two_ways_of_pressing_are_found_in_pairs_that_lie_otherwise() -> None:
    plan = broken(STAR)
    assert count_versions(plan) == Versions(0, 0)
    find(plan, "seams", "s2")["press"] = "b"
    assert count_versions(plan) == Versions(1, 1)


SIXTHS = write(
    fabrics="navy shell",
    blocks="b1 9 x 9\nb2 9 x 9\nb3 9 x 9",
    patches="""
        p1 b1 navy 4,2*r3 6,0 8,2*r3 6,4*r3
        p2 b1 shell 4,2*r3 6,4*r3 2,4*r3 0,2*r3
        p3 b2 navy 4,2*r3 6,4*r3 2,4*r3 0,2*r3
        p4 b2 shell 4,2*r3 0,2*r3 2,0 6,0
        p5 b3 navy 2*r3,4 2*r3,0 0,2 0,6
        p6 b3 shell 2*r3,4 0,6 2*r3,8 4*r3,6
    """,
    seams="""
        s1 b1 = p1 + p2, 4,2*r3 - 6,4*r3, a
        s2 b2 = p3 + p4, 4,2*r3 - 0,2*r3, a
        s3 b3 = p5 + p6, 2*r3,4 - 0,6, b
    """,
    joins="",
    batches="",
    cut="",
)


def test_pairs_of_diamonds_turned_by_a_third_of_a_right_angle_are_one_kind_and_mirrored_ones_are_not() -> None:
    forms = tell_forms(SIXTHS)
    assert forms["s1"] == forms["s2"] != forms["s3"]
    assert len(set(tell_forms(SIXTHS, turns=4).values())) == 3


def test_a_half_square_is_not_the_quarter_square_that_it_looks_like_when_turned() -> None:
    """They are cut otherwise, so that the grain lies otherwise in them. A square is the same square."""
    pairs = """
        p1 b1 navy 0,0 2,0 2,2 0,2
        p2 b1 navy 0,2 2,2 2,4 0,4
        p3 b2 navy 4,0 4+r,r 4,2*r 4+-1*r,r
        p4 b2 navy 4+-1*r,r 4,2*r 4+-1*r,3*r 4+-2*r,2*r
        p5 b3 shell 0,0 2,0 0,2
        p6 b3 shell 2,0 2,2 0,2
        p7 b4 shell 4,0 4+r,r 4+-1*r,r
        p8 b4 shell 4+-1*r,r 4+r,r 4,2*r
    """
    seams = """
        s1 b1 = p1 + p2, 0,2 - 2,2, a
        s2 b2 = p3 + p4, 4+-1*r,r - 4,2*r, a
        s3 b3 = p5 + p6, 2,0 - 0,2, a
        s4 b4 = p7 + p8, 4+-1*r,r - 4+r,r, a
    """
    plan = write("b1 9 x 9\nb2 9 x 9\nb3 9 x 9\nb4 9 x 9", pairs, seams, "", "", "")
    forms = tell_forms(plan)
    assert forms["s1"] == forms["s2"]
    assert forms["s3"] != forms["s4"]
