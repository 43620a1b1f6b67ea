"""Which patches can be cut with their allowances: against shapely's outlines of mitred corners."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
from bent_drafts import draw_patches
from planned import plan_text
from shapely.geometry import Polygon

from planner.cut_sizes import widen_outline
from planner.reading.fit_allowances import why_not_cut
from planner.reading.polygon import drop_straight_corners, is_simple, run_clockwise
from planner.surd import ExactOutline

SEAM = Fraction(1, 4)


def outline_of(text: str, unit: str = "1") -> ExactOutline:
    corners = (tuple(Fraction(number) * Fraction(unit) for number in corner.split(",")) for corner in text.split())
    return run_clockwise(drop_straight_corners([(x, y) for x, y in corners]))


def can_be_cut(outline: ExactOutline) -> bool:
    """Whether the sides, moved out one by one, are the border of all that lies within an allowance of the patch."""
    cut = Polygon([(float(x), float(y)) for x, y in widen_outline(outline, SEAM)])
    if not cut.is_valid:
        return False
    around = Polygon([(float(x), float(y)) for x, y in outline]).buffer(
        float(SEAM), join_style="mitre", mitre_limit=1e6
    )
    return bool(cut.symmetric_difference(around).area < 1e-9)


@pytest.mark.parametrize("unit", ["1/4", "3/8", "1/2", "9/16", "1"])
def test_patches_of_cells_are_cut_where_no_slot_is_as_narrow_as_two_allowances(unit: str) -> None:
    chance = random.Random(7)
    judged = set()
    for _ in range(40):
        for cells in draw_patches(chance, 4, 4, 5):
            outline = outline_of(" ".join(f"{x},{y}" for x, y in cells), unit)
            gap = why_not_cut(outline, SEAM)
            assert (gap is None) == can_be_cut(outline), outline
            judged.add(gap is None)
            if gap is not None:
                assert gap.slot == Fraction(unit) <= 2 * SEAM
    assert judged == ({True, False} if Fraction(unit) <= 2 * SEAM else {True})


# A slot, a slot below a wide mouth, a dart, a flat dart, a step shorter than the allowances take from it, and a tooth
# between two notches
DRAWN = (
    "0,0 8,0 8,8 5,8 5,4 3,4 3,8 0,8",
    "0,0 8,0 8,8 6,6 5,3 3,3 2,6 0,8",
    "0,0 9,0 9,9 5,9 4,1 3,9 0,9",
    "0,0 9,0 9,9 5,8 0,9",
    "0,0 9,0 9,4 5,4 4,5 4,9 0,9",
    "0,0 9,0 9,9 7,9 5,3 4,8 3,3 2,9 0,9",
)


@pytest.mark.parametrize("text", DRAWN)
@pytest.mark.parametrize("unit", ["1/16", "1/8", "1/5", "1/4", "1/3", "1/2", "1", "2"])
def test_slanted_patches_are_cut_where_all_within_an_allowance_has_as_many_corners(text: str, unit: str) -> None:
    outline = outline_of(text, unit)
    assert (why_not_cut(outline, SEAM) is None) == can_be_cut(outline)


def test_a_side_that_would_run_the_other_way_leaves_too_little() -> None:
    """The step is so short that the edge beside it would lie nearer to the seam than an allowance."""
    outline = outline_of("0,0 30,0 30,20 20,20 19,21 20,30 0,30", "1/16")
    assert why_not_cut(outline, SEAM) is not None
    assert why_not_cut(outline, SEAM / 16) is None


def test_the_narrowest_slot_is_told() -> None:
    outline = outline_of("0,0 20,0 20,9 14,9 14,5 13,5 13,9 10,9 10,5 8,5 8,9 0,9", "1/4")
    gap = why_not_cut(outline, SEAM)
    assert gap is not None
    assert gap.slot == Fraction(1, 4)
    assert [outline[side] for side in gap.sides] == [
        (Fraction(14, 4), Fraction(9, 4)),
        (Fraction(13, 4), Fraction(5, 4)),
    ]


def test_a_patch_that_can_be_cut_is_planned() -> None:
    plan = plan_text("""
project: Tidewater slip
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  slip:
    size: 8
    box: 16
    patches:
      - {fabric: navy, corners: "0,0 16,0 16,16 10,16 10,8 6,8 6,16 0,16"}
      - {fabric: shell, corners: "6,8 10,8 10,16 6,16"}
make: [{block: slip, count: 1}]
""")
    pieces = [entry.piece for entry in plan.cut]
    assert len(pieces) == 2
    assert all(is_simple(piece.corners) for piece in pieces)
