"""The answers by trying everything are those found by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from brute_force import (
    Draft,
    Handling,
    Join,
    Patch,
    Pressing,
    Tree,
    enumerate_trees,
    find_joins,
    find_seams,
    judge_pressing,
    least_handling,
    least_pressing,
    read_sewn,
)
from plans import FOUR_PATCH, PINWHEEL


def box(fabric: str, left: int, top: int, right: int, bottom: int) -> Patch:
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Patch(fabric, tuple((Fraction(x), Fraction(y)) for x, y in corners))


def part(left: int, top: int, right: int, bottom: int) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return Fraction(left), Fraction(top), Fraction(right), Fraction(bottom)


def grid(*rows: str) -> Draft:
    """Squares of 1, a letter for each fabric."""
    return Draft(tuple(box(name, x, y, x + 1, y + 1) for y, row in enumerate(rows) for x, name in enumerate(row)))


@pytest.mark.parametrize(
    ("draft", "count"),
    [
        (grid("a"), 1),
        (grid("ab"), 1),
        (grid("abc"), 2),
        (grid("abcd"), 5),  # as many as ways to bracket four words
        (grid("ab", "cd"), 2),
        (grid("abc", "def"), 8),
        (grid("abc", "def", "ghi"), 64),
    ],
)
def test_every_tree_is_found_once(draft: Draft, count: int) -> None:
    trees = enumerate_trees(draft)
    assert len(trees) == len(set(trees)) == count


def test_four_rectangles_round_a_square_have_no_straight_tree() -> None:
    around = (box("a", 0, 0, 2, 1), box("a", 2, 0, 3, 2), box("a", 1, 2, 3, 3), box("a", 0, 1, 1, 3))
    assert enumerate_trees(Draft((*around, box("b", 1, 1, 2, 2)))) == ()


def test_no_cut_goes_through_a_part_before_it_is_all_that_is_left() -> None:
    strips = grid("abcd").patches
    assert enumerate_trees(Draft(strips, (part(1, 0, 3, 1),))) == ((0, ((1, 2), 3)), ((0, (1, 2)), 3))
    assert enumerate_trees(Draft(strips, (part(0, 0, 3, 1), part(0, 0, 2, 1)))) == ((((0, 1), 2), 3),)
    assert len(enumerate_trees(Draft(strips, (part(0, 0, 4, 1),)))) == 5  # the whole block restricts nothing


@pytest.mark.parametrize(
    ("drafts", "passes", "kinds"),
    [
        ((grid("a"),), 0, 0),
        ((grid("ab", "ba"),), 2, 2),
        ((grid("ab", "cd"),), 2, 3),
        ((grid("aaaa"),), 2, 2),
        ((grid("aaa"),), 2, 2),
        ((grid("ab"), grid("abc")), 2, 2),  # the second begins with the first
        ((grid("ab"), grid("cab")), 2, 2),
        ((grid("ab"), grid("ba")), 1, 1),  # turned half round
        ((grid("ab"), grid("a", "b")), 1, 1),
        ((grid("ab", "cb"), grid("ba", "bc")), 2, 4),  # mirrored: only the rows are the same, turned
    ],
)
def test_the_least_handling_is_that_found_by_hand(drafts: tuple[Draft, ...], passes: int, kinds: int) -> None:
    assert least_handling(drafts) == Handling(Fraction(3 * passes + 2 * kinds), passes, kinds)


def test_a_part_can_cost_a_kind() -> None:
    free, bound = grid("abc"), Draft(grid("abc").patches, (part(1, 0, 3, 1),))
    assert least_handling((grid("ab"), free)).kinds == 2
    assert least_handling((grid("ab"), bound)).kinds == 3


def test_trips_and_piles_are_weighed() -> None:
    assert least_handling((grid("aaaaaa"),)) == Handling(Fraction(15), 3, 3)
    # one by one the first three strips are shared; two by two saves a trip
    strips = (grid("abc"), grid("abcd"))
    assert least_handling(strips, trip=1, pile=5) == Handling(Fraction(18), 3, 3)
    assert least_handling(strips, trip=9, pile=1) == Handling(Fraction(22), 2, 4)


def test_seams_that_look_the_same_after_turning_are_one_kind_and_mirrored_ones_are_not() -> None:
    def triangles(*corners: str) -> Draft:
        read = [
            tuple((Fraction(x), Fraction(y)) for x, y in (point.split(",") for point in text.split()))
            for text in corners
        ]
        return Draft(tuple(Patch(fabric, outline) for fabric, outline in zip("ab", read, strict=True)))

    first = triangles("0,0 2,0 0,3", "2,0 2,3 0,3")
    turned = triangles("0,0 3,0 3,2", "0,0 3,2 0,2")
    mirrored = triangles("0,0 2,0 2,3", "0,0 2,3 0,3")
    forms = [find_seams(draft, (0, 1))[0].form for draft in (first, turned, mirrored)]
    assert forms[0] == forms[1] != forms[2]


def sew(*rows: str) -> tuple[Draft, Tree]:
    """Two rows of two, rows first."""
    return grid(*rows), ((0, 1), (2, 3))


def test_joins_are_where_seams_of_both_sides_end() -> None:
    seams = find_seams(*sew("ab", "ba"))
    assert find_joins(seams) == (Join((Fraction(1), Fraction(1)), 2, 0, 1),)


@pytest.mark.parametrize(
    ("sewn", "least"),
    [
        ((sew("ab", "ba"),), Pressing(0, 0, 0)),
        ((sew("ab", "ab"),), Pressing(0, 1, 1)),  # equal rows, not turned: to nest, one is pressed the other way
        ((sew("ab", "ab"), sew("ab", "ab")), Pressing(0, 1, 2)),
        ((sew("ab", "ab"), sew("ab", "ba")), Pressing(0, 1, 1)),
        ((sew("aa", "aa"),), Pressing(0, 0, 0)),  # two of one fabric look the same turned
    ],
)
def test_the_least_pressing_is_that_found_by_hand(sewn: tuple[tuple[Draft, Tree], ...], least: Pressing) -> None:
    assert least_pressing(sewn) == least


def test_the_plans_written_by_hand_are_judged_as_they_say() -> None:
    assert judge_pressing(read_sewn(FOUR_PATCH), (0, 1, 0)) == Pressing(0, 0, 0)
    assert judge_pressing(read_sewn(FOUR_PATCH), (1, 1, 0)) == Pressing(1, 1, 1)
    ((pinwheel, tree),) = read_sewn(PINWHEEL)
    assert tree == (((0, 1), (2, 3)), ((4, 5), (6, 7)))
    assert len(find_joins(find_seams(pinwheel, tree))) == 3
    assert tree in enumerate_trees(pinwheel)
    assert least_pressing(((pinwheel, tree),)) == Pressing(0, 0, 0)
