"""Random blocks with a root in their corners: planned like those without one, and right by every checker."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from drafts import cut_box
from planned import plan_text, print_out, why_wrong
from points import to_float

from planner.measure import read_number, spell_rooted
from planner.plan_json import write_plan
from planner.reading.read_project import read_project
from planner.surd import Exact, ExactPoint, Surd, to_length

FABRICS = ("navy", "shell", "coral")
SHARES: dict[int, list[Exact]] = {
    2: [Fraction(0), Fraction(1, 2), Surd(Fraction(-1), Fraction(1), 2), Surd(Fraction(0), Fraction(1, 2), 2)],
    3: [Fraction(0), Fraction(1, 2), Surd(Fraction(-1), Fraction(1), 3), Surd(Fraction(0), Fraction(1, 3), 3)],
}


def cut_rooted(chance: random.Random, of: int, many: int) -> list[list[ExactPoint]]:
    """Convex pieces of a box 4 x 3, made by straight cuts whose ends divide sides in shares with a root."""
    pieces: list[list[ExactPoint]] = [
        [(Fraction(x), Fraction(y)) for x, y in ((0, 0), (4, 0), (4, 3), (0, 3))],
    ]
    for _ in range(6 * many):
        if len(pieces) == many:
            break
        piece = max(pieces, key=find_area)
        first, second = sorted(chance.sample(range(len(piece)), 2))
        start, end = (divide_side(chance, of, piece, side) for side in (first, second))
        halves = [
            [start, *piece[first + 1 : second + 1], end],
            [end, *piece[second + 1 :], *piece[: first + 1], start],
        ]
        tidied = [[point for at, point in enumerate(half) if point != half[at - 1]] for half in halves]
        if all(find_area(half) > 1.5 / many for half in tidied):
            pieces.remove(piece)
            pieces += tidied
    return pieces


def divide_side(chance: random.Random, of: int, piece: list[ExactPoint], side: int) -> ExactPoint:
    (ax, ay), (bx, by) = piece[side], piece[(side + 1) % len(piece)]
    share = chance.choice(SHARES[of])
    return ax + share * (bx - ax), ay + share * (by - ay)


def find_area(piece: list[ExactPoint]) -> float:
    spots = [(to_float(x), to_float(y)) for x, y in piece]
    return sum(spots[at - 1][0] * y - spots[at - 1][1] * x for at, (x, y) in enumerate(spots)) / 2


def write(pieces: list[list[ExactPoint]], chance: random.Random, size: str, box: str) -> str:
    patches = []
    for piece in pieces:
        corners = " ".join(f"{spell(x)},{spell(y)}" for x, y in piece)
        patches.append(f'      - {{fabric: {chance.choice(FABRICS)}, corners: "{corners}"}}')
    fabrics = ", ".join(f"{fabric}: {{value: {3 * at + 2}}}" for at, fabric in enumerate(FABRICS))
    lines = "\n".join(patches)
    return (
        f"project: At random\nfabrics: {{{fabrics}}}\nblocks:\n  block:\n    size: {size}\n    box: {box}\n"
        f"    patches:\n{lines}\nmake: [{{block: block, count: 2}}]\n"
    )


def spell(value: Exact) -> str:
    return spell_rooted(to_length(value))


@pytest.mark.parametrize("of", [2, 3])
@pytest.mark.parametrize("seed", range(12))
def test_any_block_that_is_cut_straight_is_planned_right(seed: int, of: int) -> None:
    chance = random.Random(seed)
    printed = print_out(plan_text(write(cut_rooted(chance, of, 7), chance, "12 x 9", "4 x 3")))
    assert why_wrong(printed) == ()
    assert not any(seam.get("partial") or seam.get("set_in") for seam in printed["seams"])


@pytest.mark.parametrize("seed", range(12))
def test_a_patch_left_out_or_doubled_is_told_with_its_place(seed: int) -> None:
    chance = random.Random(seed)
    pieces = cut_rooted(chance, 2 + seed % 2, 6)
    _, faults = read_project(write(pieces[1:], chance, "12 x 9", "4 x 3"))
    (gap,) = faults
    assert "the patches leave a gap" in gap.words
    told = gap.words.partition('corners: "')[2].removesuffix('"')
    left = [(x, y) for x, y in pieces[0]]
    assert {f"{spell(x)},{spell(y)}" for x, y in left} >= set(told.split())
    # What is told to be missing is what was left out
    again = write(pieces[1:], chance, "12 x 9", "4 x 3")
    filled = again.replace("make:", f'      - {{fabric: navy, corners: "{told}"}}\nmake:')
    assert read_project(filled)[1] == ()
    doubled = again.replace("make:", f'      - {{fabric: navy, corners: "{told}"}}\n' * 2 + "make:")
    assert any("overlaps patch" in fault.words for fault in read_project(doubled)[1])


@pytest.mark.parametrize("seed", range(10))
def test_a_box_in_other_units_draws_the_same(seed: int) -> None:
    chance = random.Random(seed)
    pieces = [[(x, y) for x, y in piece] for piece in cut_box(chance, Fraction(4), Fraction(3), 8)]
    unit = Surd(Fraction(chance.randint(1, 5)), Fraction(chance.choice((1, 3)), 2), 2 + seed % 2)
    plain = write(pieces, random.Random(seed), "12 x 9", "4 x 3")
    stretched = [[(x * unit, y * unit) for x, y in piece] for piece in pieces]
    rooted = write(stretched, random.Random(seed), "12 x 9", f"{spell(4 * unit)} x {spell(3 * unit)}")
    assert write_plan(plan_text(plain)) == write_plan(plan_text(rooted))


@pytest.mark.parametrize("seed", range(10))
def test_a_block_that_is_larger_by_a_root_takes_no_more_handling(seed: int) -> None:
    """It is the same block; with a root more turns may carry one unit onto another, and none fewer."""
    chance = random.Random(seed)
    pieces = [[(x, y) for x, y in piece] for piece in cut_box(chance, Fraction(4), Fraction(3), 8)]
    root = f"r{2 + seed % 2}"
    plain, rooted = (
        print_out(plan_text(write(pieces, random.Random(seed), size, "4 x 3")))
        for size in ("12 x 9", f"12{root} x 9{root}")
    )
    assert why_wrong(rooted) == ()
    assert [patch["fabric"] for patch in plain["patches"]] == [patch["fabric"] for patch in rooted["patches"]]
    assert len(plain["seams"]) == len(rooted["seams"])
    least, found = (printed["proof"]["handling"] for printed in (plain, rooted))
    assert read_number(found["minutes"]) <= read_number(least["minutes"])
