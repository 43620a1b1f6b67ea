"""The cut list is worked out again from the patches: shapes, sizes never short, counts, outlines."""

from __future__ import annotations

from copy import deepcopy
from fractions import Fraction
from typing import Any

import pytest
from plans import FOUR_PATCH, GOOD, HOURGLASS, PINWHEEL, SLANTED, SQUARE_IN_SQUARE, THREE_STRIPS, write

from planner.checks.check_cut_list import why_not_cut
from planner.checks.plan_file import Plan
from planner.checks.rooted import Rooted
from planner.checks.surd import Surd, next_above, read_surd


@pytest.mark.parametrize("plan", GOOD.values(), ids=GOOD)
def test_a_good_cut_list_is_right(plan: Plan) -> None:
    assert why_not_cut(plan) == ()


def broken(plan: Plan) -> Any:
    return deepcopy(plan)


@pytest.mark.parametrize(
    ("plan", "entry", "key", "value", "complaint"),
    [
        (FOUR_PATCH, 0, "count", 3, "cut navy square 6 x 6: 3 are told, and 2 needed"),
        (FOUR_PATCH, 0, "cut", ["6", "6"], "cut navy square 6 x 6: cut 6 x 6, and should be 13/2 x 13/2"),
        (FOUR_PATCH, 0, "cut", ["6", "x"], "cut navy square 6 x 6: cut 'x' is no length of a plan file"),
        # half a seam allowance short: cut as if the corner did not overhang
        (
            PINWHEEL,
            0,
            "cut",
            ["6 3/4", "6 3/4"],
            "cut navy half-square triangle 6 x 6: cut 27/4 x 27/4, and should be 55/8 x 55/8",
        ),
        (
            HOURGLASS,
            0,
            "cut",
            ["29/8", "7"],
            "cut navy quarter-square triangle 3 x 6: cut 29/8 x 7, and should be 29/8 x 29/4",
        ),
        # nearest, not up: short
        (
            SQUARE_IN_SQUARE,
            0,
            "cut",
            ["6 1/8", "6 1/8"],
            "cut shell square sqrt(32) x sqrt(32): cut 49/8 x 49/8, and should be 99/16 x 99/16",
        ),
        (
            THREE_STRIPS,
            0,
            "corners",
            [["0", "0"], ["5/2", "0"], ["5/2", "6"], ["0", "6"]],
            "cut navy rectangle 2 x 6: its corners are not those of the cut size",
        ),
        (
            PINWHEEL,
            0,
            "corners",
            [["0", "0"], ["55/8", "0"], ["55/16", "55/16"]],
            "cut navy half-square triangle 6 x 6: its corners are not those of the cut size",
        ),
        (
            HOURGLASS,
            0,
            "corners",
            [["0", "0"], ["29/8", "0"], ["0", "29/8"]],
            "cut navy quarter-square triangle 3 x 6: its corners are not those of the cut size",
        ),
        (SLANTED, 0, "count", 1, "cut navy other 4 x 4: 1 are told, and 2 needed"),
        (
            SLANTED,
            0,
            "cut",
            ["4 1/4", "4 3/4"],
            "cut navy other 4 x 4: cut 4 1/4 x 4 3/4, and the box round its corners is 9/2 x 19/4",
        ),
        (SLANTED, 0, "cut", ["4 3/4", "4 1/2"], "cut navy other 4 x 4: cut 19/4 x 9/2: the longer comes first"),
    ],
)
def test_one_wrong_entry_is_told_once(plan: Plan, entry: int, key: str, value: object, complaint: str) -> None:
    other = broken(plan)
    other["cut"][entry][key] = value
    assert why_not_cut(other) == (complaint,)


def test_a_missing_entry_is_told() -> None:
    plan = broken(PINWHEEL)
    del plan["cut"][1]
    assert why_not_cut(plan) == ("cut shell half-square triangle 6 x 6: 4 are missing",)
    plan = broken(SLANTED)
    del plan["cut"][1]
    assert why_not_cut(plan) == ("cut shell other 4 x 7: 1 are missing",)


def test_a_second_entry_for_the_same_pieces_is_told() -> None:
    plan = broken(PINWHEEL)
    plan["cut"][0]["count"] = 2
    plan["cut"].append(deepcopy(plan["cut"][0]))
    assert why_not_cut(plan) == (
        "cut navy half-square triangle 6 x 6: 2 are told, and 4 needed",
        "cut navy half-square triangle 6 x 6: 2 too many",
    )


def test_a_wrong_shape_is_told_by_what_is_missing_and_what_is_too_many() -> None:
    plan = broken(HOURGLASS)
    plan["cut"][0]["shape"] = "half-square triangle"
    assert why_not_cut(plan) == (
        "cut navy half-square triangle 3 x 6: 2 too many",
        "cut navy quarter-square triangle 3 x 6: 2 are missing",
    )


def test_a_wrong_finished_size_is_told() -> None:
    plan = broken(SQUARE_IN_SQUARE)
    plan["cut"][0]["finished"] = ["4*sqrt(3)", "4*sqrt(3)"]
    assert why_not_cut(plan) == (
        "cut shell square sqrt(32) x sqrt(32): 1 are missing",
        "cut shell square sqrt(48) x sqrt(48): 1 too many",
    )
    plan["cut"][0]["finished"] = ["4*sqrt(2", "6"]
    assert "cut shell square: finished '4*sqrt(2' is no length of a plan file" in why_not_cut(plan)


def test_a_fabric_that_nothing_is_cut_from_is_told() -> None:
    plan = broken(FOUR_PATCH)
    plan["fabrics"].append({"id": "reed", "value": "dark", "weight": "light"})
    assert why_not_cut(plan) == ("fabric reed: no patch is of it",)


def test_an_outline_turned_by_quarters_is_the_same_and_a_mirrored_one_is_not() -> None:
    plan = broken(SLANTED)
    shell = plan["cut"][1]
    shell["corners"] = [[f"-{y}".replace("--", ""), x] for x, y in shell["corners"]]
    assert why_not_cut(plan) == ()
    shell["corners"] = [[y, x] for x, y in SLANTED["cut"][1]["corners"]]
    assert why_not_cut(plan) == (
        "cut shell other 4 x 7: 1 are missing",
        "cut shell other 4 x 7: 1 too many of -1/4,31/8 -1/4,17/2 17/4,41/8 17/4,1/2",
    )


def test_mirrored_pieces_are_two_entries() -> None:
    slants = """
        p1 b1 navy 0,0 4,0 1,4 0,4
        p2 b1 navy 4,0 8,0 8,4 7,4
        p3 b1 navy 4,0 7,4 1,4
    """
    seams = "s1 b1 = p1 + p3, 4,0 - 1,4, a\ns2 b1 = s1 + p2, 4,0 - 7,4, a"
    left = "1 navy other, 4 x 4, 4 1/2 x 4 3/4, -1/4,-1/4 9/2,-1/4 9/8,17/4 -1/4,17/4"
    right = "1 navy other, 4 x 4, 4 1/2 x 4 3/4, 1/4,-1/4 -9/2,-1/4 -9/8,17/4 1/4,17/4"
    # 4 wide at y = 17/4, from the tip above: 4x + 3y = 59/4 and its mirror image
    middle = "1 navy other, 4 x 6, 4 2/3 x 7, 4,-5/12 1/2,17/4 15/2,17/4"
    good = write("b1 8 x 4", slants, seams, "", "", "\n".join((left, right, middle)), fabrics="navy")
    assert why_not_cut(good) == ()
    both_left = write("b1 8 x 4", slants, seams, "", "", "\n".join((left, left, middle)), fabrics="navy")
    assert len(why_not_cut(both_left)) == 2
    one = write("b1 8 x 4", slants, seams, "", "", "\n".join((left.replace("1", "2", 1), middle)), fabrics="navy")
    assert len(why_not_cut(one)) == 2


def slope(corners: str, cut: str = "8 5/8 x 8 5/8") -> Plan:
    """A pentagon with a slope of half a right angle: two of its cut corners have no exact fraction."""
    return write(
        "b1 8 x 8",
        "p1 b1 navy 0,0 8,0 8,4 4,8 0,8\np2 b1 shell 8,4 8,8 4,8",
        "s1 b1 = p1 + p2, 8,4 - 4,8, a",
        "",
        "",
        f"1 navy other, 8 x 8, {cut}, {corners}\n1 shell half-square triangle, 4 x 4, 4 7/8 x 4 7/8, 0,0 39/8,0 0,39/8",
    )


# exact: x + y = 12 + sqrt(2)/4 = 12.35355 at the slope, so 4.10355 beside 8.25; up to 1/64 is 4 7/64 = 4.109375
@pytest.mark.parametrize(
    ("beside", "is_right"),
    [("4 7/64", True), ("4 8/64", True), ("4 6/64", False), ("4 10/64", False), ("4.10355339", False)],
)
def test_an_outline_with_roots_holds_the_exact_one_and_hardly_more(beside: str, is_right: bool) -> None:
    at = read_surd(beside).plain
    plan = slope(f"-1/4,-1/4 33/4,-1/4 33/4,{at} {at},33/4 -1/4,33/4", "8 1/2 x 8 1/2")
    assert (why_not_cut(plan) == ()) == is_right


@pytest.mark.parametrize("moved", ["1/4", "1/3"])
def test_an_outline_lies_anywhere(moved: str) -> None:
    low, high, at = (Fraction(text) + Fraction(moved) for text in ("-1/4", "33/4", "263/64"))
    plan = slope(f"{low},{low} {high},{low} {high},{at} {at},{high} {low},{high}", "8 1/2 x 8 1/2")
    assert why_not_cut(plan) == ()


def test_a_side_that_cuts_into_the_allowance_is_told() -> None:
    plan = slope("-1/4,-1/4 33/4,-1/4 33/4,263/64 263/64,33/4 -1/8,33/4", "8 1/2 x 8 1/2")
    assert len(why_not_cut(plan)) == 2


def test_two_heaps_so_much_alike_that_either_outline_holds_one_of_them_get_one_each() -> None:
    # the first heap fits into both outlines, the second into the larger only: whatever comes first, both get theirs
    def piece(name: str, block: str, at: str) -> str:
        return f"{name} {block} navy 0,0 8,0 8,{at} {at},8 0,8\n{name}x {block} shell 8,{at} 8,8 {at},8"

    def cut(at: str) -> str:
        return f"1 navy other, 8 x 8, 8 1/2 x 8 1/2, -1/4,-1/4 33/4,-1/4 33/4,{at} {at},33/4 -1/4,33/4\n"

    rest = "2 shell half-square triangle, 4 x 4, 4 7/8 x 4 7/8, 0,0 39/8,0 0,39/8"
    cuts = [cut("263/64"), cut("264/64")]  # for 4 and for 4 1/64: exact 4.10355 and 4.11918
    for order in (cuts, cuts[::-1]):
        plan = write("b1 8 x 8\nb2 8 x 8", piece("p1", "b1", "4") + "\n" + piece("p2", "b2", "257/64"), "", "", "", "")
        plan["cut"] = write("", "", "", "", "", "".join(order) + rest)["cut"]
        complaints = why_not_cut(plan)
        assert [words for words in complaints if "navy" in words] == []


@pytest.mark.parametrize(
    ("text", "plain", "square"),
    [
        ("6 1/2", "13/2", 0),
        ("-6 1/2", "-13/2", 0),
        ("13/2", "13/2", 0),
        ("6.5", "13/2", 0),
        ("13/2 + 3/4*sqrt(2)", "13/2", "9/8"),
        ("3/2*sqrt(2)", 0, "9/2"),
        ("sqrt(3)", 0, 3),
        ("1 + sqrt(4)", 3, 0),
        ("-1/4 + 1/2*sqrt(8)", "-1/4", 2),
        ("sqrt(6 + 4*sqrt(2))", 2, 2),
    ],
)
def test_lengths_of_the_plan_file_are_read_exactly(text: str, plain: str, square: str) -> None:
    assert read_surd(text) == Surd(Fraction(plain), Fraction(square))


@pytest.mark.parametrize(
    ("text", "square"), [("4 - 3/4*sqrt(2)", "9/8"), ("4 + -3/4*sqrt(2)", "9/8"), ("4 - sqrt(2)", "2")]
)
def test_a_root_may_be_taken_away(text: str, square: str) -> None:
    assert read_surd(text) == Surd(Fraction(4), Fraction(square), is_less=True)


def test_a_root_of_a_number_with_a_root_is_read_as_its_square() -> None:
    assert read_surd("sqrt(4 + 2*sqrt(2))") == Surd(Fraction(0), Rooted(4, 2, 2))
    assert read_surd("1/2 - sqrt(4 + 2*sqrt(2))") == Surd(Fraction(1, 2), Rooted(4, 2, 2), is_less=True)


@pytest.mark.parametrize(
    "text",
    [
        *("", "6 1", "1e3", "1_0", "--1", "1/0", "½"),
        *("sqrt(2) + 1", "1 -sqrt(2)", "1 + - 1*sqrt(2)", "sqrt(sqrt(2))*2"),
        *("sqrt(1 - sqrt(2))", "sqrt(4)*sqrt(2)", "sqrt(4 + 2)"),
    ],
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"length|zero"):
        read_surd(text)


@pytest.mark.parametrize(
    ("value", "above"),
    [
        ("4*sqrt(2)", "91/16"),
        ("1/2 + 4*sqrt(2)", "99/16"),
        ("6", "6"),
        ("97/16", "97/16"),
        ("-2 + sqrt(3)", "-4/16"),
        ("4 - sqrt(2)", "42/16"),
        ("sqrt(4 + 2*sqrt(2))", "42/16"),
        ("3 - sqrt(4 + 2*sqrt(2))", "7/16"),
    ],
)
def test_the_next_sixteenth_is_never_below(value: str, above: str) -> None:
    assert next_above(read_surd(value), Fraction(1, 16)) == Fraction(above)
