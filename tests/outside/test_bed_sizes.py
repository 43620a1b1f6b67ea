"""Beds, the quilts for them and the sizes of layouts against printed tables: BED-1 to BED-6, LAY-1 to LAY-5, DIS-11 to
DIS-13 and NEG-13 of the check values; and CP-10 and CP-11, common practice, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest
from planned import plan_text

from planner.cloth.bed_sizes import BEDS, cover_mattress, fill_quilt, fill_top, find_bed, find_drop, lay_blocks
from planner.cloth.finish_quilt import finish_quilt
from planner.cloth.pillow import find_pillow
from planner.finish import choose_drop
from planner.measure import read_number

MATTRESSES = "J. Wickell, quilting.about.com and thesprucecrafts.com, mattress sizes; sizes.com, cribs and mattresses"
CRIB_RULE = "16 CFR 1508.3(a), reprint (part since replaced by 16 CFR 1219); 16 CFR 1220.1(c)"
DROPS = "secondary question pages: perkyhobby.com, teacherscollegesj.org, blogazonzon.com"
QUEEN = "Backing for a queen quilt, ourpastimes.com"
NEWSPAPERS = "Hackensack N.J., May 1934, quoted by chestercriswellquilt.blogspot.com"
COTTAGE = "Honeymoon Cottage, 101patchworkpatterns.com"
YARDAGE = "Mathing the Yardage II, sherriquiltsalot.com, 15 April 2020"
OTHERS = "bettersleep.org, mattress sizes; liquisearch.com (37.5); shopbedding.com"


@pytest.mark.parametrize(
    ("name", "wide", "long"),
    [
        ("twin", 39, 75),
        ("long twin", 39, 80),
        ("double", 54, 75),
        ("queen", 60, 80),
        ("king", 76, 80),
        ("california king", 72, 84),
    ],
)
def test_mattresses_are_as_printed(name: str, wide: int, long: int) -> None:
    """BED-4, published; a double is printed as full. The king has 38 for each of two."""
    bed = find_bed(name)
    assert (bed.wide, bed.long) == (wide, long), MATTRESSES
    assert find_bed("king").wide / 2 == 38


def test_the_crib_lies_within_what_is_prescribed() -> None:
    """BED-1 to BED-3, published: a full-size crib is 28 x 52 3/8 inside, give or take 5/8 and 2 more; the mattress at
    least 27 1/4 x 51 1/4. DIS-12: mattresses of 27 x 52 and 28 x 52 are sold, which is not the crib's inside."""
    crib = find_bed("crib")
    assert read_number("25 3/8") <= crib.wide <= read_number("30 5/8"), CRIB_RULE
    assert read_number("49 3/4") <= crib.long <= 55
    assert crib.wide >= read_number("27 1/4")
    assert read_number("51 1/4") <= crib.long <= read_number("52 3/8")
    assert (crib.wide, crib.long) == (28, 52), MATTRESSES
    assert "27 x 52" in crib.others
    assert "52 3/8" in crib.others


def test_sizes_that_sources_differ_in_are_told_with_a_source() -> None:
    """DIS-11: twin 37.5, 38 and 39; king 76, 78 and 79; long twin 36 and 39."""
    told = {bed.name: bed.others for bed in BEDS}
    assert "37 1/2" in told["twin"], OTHERS
    assert "38" in told["twin"]
    assert "78 or 79" in told["king"]
    assert "36" in told["long twin"]
    assert all(bed.source for bed in BEDS)


@pytest.mark.parametrize(
    ("mattress", "drop", "tuck", "quilt", "source"),
    [
        ((39, 75), 12, 0, (63, 87), DROPS),
        ((39, 80), 12, 0, (63, 92), DROPS),
        ((54, 75), 12, 0, (78, 87), DROPS),
        ((60, 80), 12, 0, (84, 92), DROPS),
        ((78, 80), 12, 0, (102, 92), DROPS),
        ((72, 84), 12, 0, (96, 96), DROPS),
        ((60, 80), 12, 2, (84, 94), QUEEN),
        ((60, 80), 14, 2, (88, 96), DROPS),
    ],
)
def test_a_quilt_that_hangs_down_is_as_large_as_printed(
    mattress: tuple[int, int], drop: int, tuck: int, quilt: tuple[int, int], source: str
) -> None:
    """BED-5 and BED-6, published; DIS-13: queen quilts of 84 x 92, 84 x 94 and 88 x 96 are drops of 12 and 14, and 2
    in for the pillows: both can be set."""
    wide, long = map(Fraction, mattress)
    size = cover_mattress((wide, long), Fraction(drop), Fraction(tuck))
    assert size == quilt, source
    assert find_drop((wide, long), size, Fraction(tuck)) == (drop, drop)
    assert choose_drop("in") == 12


def test_a_bedspread_hangs_down_twice_as_far() -> None:
    """BED-6, published: 108 wide on a queen mattress is a drop of 24."""
    assert cover_mattress((Fraction(60), Fraction(80)), Fraction(24))[0] == 108, QUEEN


def test_sides_of_layouts_are_as_printed() -> None:
    """LAY-1 to LAY-4, published; NEG-13: four blocks of 9 and five strips of 3 5/8 are 54 1/8, not 55 3/8."""
    strip, nothing = read_number("3 5/8"), Fraction(0)
    framed = [lay_blocks(count, Fraction(12), Fraction(4), True, nothing) for count in (4, 5)]
    assert framed == [68, 84], NEWSPAPERS
    assert [lay_blocks(count, Fraction(12), Fraction(4), True, Fraction(6)) for count in (4, 5)] == [80, 96]
    cottage = lay_blocks(4, Fraction(15), Fraction(4), False, Fraction(6))
    assert (cottage, lay_blocks(5, Fraction(12), Fraction(4), False, Fraction(6))) == (84, 88), COTTAGE
    assert [lay_blocks(count, Fraction(9), nothing, False, nothing) for count in (4, 5)] == [36, 45], YARDAGE
    assert lay_blocks(5, Fraction(9), strip, True, nothing) == read_number("66 3/4")
    assert lay_blocks(4, Fraction(9), strip, True, nothing) == read_number("54 1/8")


@pytest.mark.parametrize(("count", "across", "size"), [(4, 4, "15 x 12"), (3, 2, "9")])
def test_the_quilt_of_a_plan_is_as_large_as_its_layout(count: int, across: int, size: str) -> None:
    """LAY-2 by a project: 4 x 5 blocks of 15 x 12, strips of 4 between them, a border of 6: 84 x 88; one of 2 x 3."""
    row = "[" + ", ".join(["plain"] * across) + "]"
    rows = ", ".join([row] * (5 if count == 4 else count))
    plan = plan_text(f"""
project: Layout
fabrics: {{navy: {{value: dark, width: 108}}, shell: {{value: light, width: 108}}}}
blocks: {{plain: {{size: {size}, rows: [[navy]]}}}}
quilt:
  rows: [{rows}]
  sashing: {{width: 4, fabric: shell}}
  border: {{width: 6, fabric: shell}}
""")
    expected = (84, 88) if count == 4 else (2 * 9 + 4 + 12, 3 * 9 + 2 * 4 + 12)
    assert plan.quilt_size == expected, COTTAGE
    top = finish_quilt(plan).top
    assert top == tuple(side + Fraction(1, 2) for side in expected)


def test_the_widest_sash_is_what_one_page_takes_from_the_block() -> None:
    """LAY-5, published: 9 x 1.618 / 4 is 3 5/8, to the nearest 1/8; a project with it lays out as LAY-4 says."""
    eighths = round(Fraction(9) * Fraction(1618, 1000) / 4 * 8)
    assert Fraction(eighths, 8) == read_number("3 5/8"), YARDAGE
    filled = fill_quilt((read_number("59 1/2"), Fraction(60)), (Fraction(9), Fraction(9)), Fraction(eighths, 8))
    assert (filled.across, filled.size[0]) == (5, 5 * 9 + 4 * read_number("3 5/8"))


@pytest.mark.parametrize(("name", "blocks"), [("crib", 6), ("lap", 9), ("twin", 15), ("double", 20)])
def test_a_mattress_takes_as_many_blocks_of_12_as_is_common(name: str, blocks: int) -> None:
    """CP-10, common practice, no source: baby 6, lap 9, twin 15, double 20; a border covers the box spring. That the
    pillows take 15 in of the length is fitted here."""
    assert fill_top(find_bed(name), (Fraction(12), Fraction(12))).blocks == blocks


def test_pillows_of_the_usual_sizes_take_blocks_and_a_border() -> None:
    """CP-11, common practice, no source: a floor pillow is 20, a small one 9."""
    block = Fraction(12), Fraction(12)
    floor = find_pillow(Fraction(20), block, Fraction(4), Fraction(1, 4))
    assert floor is not None
    assert (floor.blocks, floor.sides, floor.ends) == (1, 4, 4)
    # Two halves of a back that is cut 20 1/2, which lie over each other
    assert floor.back[0] == read_number("20 1/2")
    assert 2 * floor.back[1] == 20 + Fraction(1, 2) + 4 + 2 * 1
    assert find_pillow(Fraction(9), block, Fraction(4), Fraction(1, 4)) is None
    small = find_pillow(Fraction(9), (Fraction(3), Fraction(9, 2)), Fraction(4), Fraction(1, 4))
    assert small is not None
    assert (small.across, small.down, small.sides, small.ends) == (3, 2, 0, 0)


def test_blocks_and_borders_make_up_a_printed_quilt() -> None:
    """BED-5 and LAY-3: 84 x 92 holds 7 x 7 blocks of 12 and borders of 4 above and below; 36 x 45 is 4 x 5 of 9."""
    queen = fill_quilt((Fraction(84), Fraction(92)), (Fraction(12), Fraction(12)))
    assert (queen.across, queen.down, queen.borders) == (7, 7, (0, 4))
    assert fill_quilt((Fraction(36), Fraction(45)), (Fraction(9), Fraction(9))).blocks == 20
