"""Traditional blocks against what has been printed of them: BLK, LOG and KX of the check values, each with its source.

Most drafts are those of the shelf; the ones in `blocks/` are not on it, and each block in them is named after its row.
All are our own, made so that patches and seams are those of the traditional block. KX-1 is drawn to its exact size in
`test_angles`.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from planned import plan_it, print_out, read_text, why_wrong
from points import find_area, read_outline

from planner.checks import plan_file
from planner.fit_ruler import find_off_ruler
from planner.measure import Ruler, read_number, spell_number
from planner.plan import Plan
from planner.project import Project
from planner.shelf import SHELF

DRAFTS = {
    path.stem: read_text(path.read_text(encoding="utf-8")) for path in Path(__file__).parent.glob("blocks/*.yaml")
}
# The rows that the shelf has, by its blocks
ON_SHELF = {
    "nine patch": ("BLK-1",),
    "four patch": ("BLK-2",),
    "double four patch": ("BLK-3", "BLK-4"),
    "triple four patch": ("BLK-5",),
    "double nine patch": ("BLK-6", "BLK-7"),
    "churn dash": ("BLK-8", "BLK-9", "BLK-10", "BLK-11"),
    "ohio star": ("BLK-12", "BLK-13", "BLK-14"),
    "sawtooth star": ("BLK-15", "BLK-16", "BLK-17", "BLK-18"),
    "friendship star": ("BLK-19", "BLK-20"),
    "bear's paw": ("BLK-21",),
    "pinwheel": ("BLK-24",),
    "broken dishes": ("BLK-25",),
    "double hourglass": ("BLK-27",),
    "rail fence": ("BLK-28",),
    "log cabin": ("LOG-1",),
}

MAGAZINE = (
    "allpeoplequilt.com block pages 2013-2019 (nine-patch, double and triple four-patch, double nine-patch, churn "
    "dash, Ohio, sawtooth and friendship star, bear's paw, broken dishes, pinwheel star, rail fence)"
)
CHURN_DASH = "Churn dash: bethstrand.wordpress.com, 11 Feb 2011; 12 in with squares 5: vacauthority.com"
MATH_CHARTS = "M. Hohn, Math charts, 17 June 2002; Ohio Star, 1999; Henry of the West, 2004, quilterscache.com"
SAWTOOTH = "Sawtooth star 6: pumpkinpatchquilter.com, 2 March 2009; 8: katiemaequilts.com, 6 March 2018"
MINI_MADNESS = "June Mini Madness blocks 9 and 20, pamelaquilts.com, 2020"
LOG_CABINS = "Log cabins: brunswickquilters.com; juliekquilts.blogspot.com, Oct 2016; cena.ladefoged.org"

# row: size, pieces and cuts as printed, source and mark. hst and qst give the square they are cut from.
BLOCKS = {
    "BLK-1": ("6", "9 pieces, 8 seams: 9 sq 2 1/2", MAGAZINE),
    "BLK-2": (
        "6",
        "4 pieces, 3 seams: 4 sq 3 1/2",
        "How to spin seams, kairleoaks.com, 13 Sept 2017; butterflythreadsquilting.com, 12 June 2013",
    ),
    "BLK-3": ("8", "10 pieces, 9 seams: 8 sq 2 1/2, 2 sq 4 1/2", MAGAZINE),
    "BLK-4": ("12", "10 pieces, 9 seams: 8 sq 3 1/2, 2 sq 6 1/2", f"{MAGAZINE}, scaled (formula)"),
    "BLK-5": ("6", "22 pieces, 21 seams: 16 sq 1 1/4, 4 sq 2, 2 sq 3 1/2", MAGAZINE),
    "BLK-6": ("9", "49 pieces, 48 seams: 45 sq 1 1/2, 4 sq 3 1/2", MAGAZINE),
    "BLK-7": (
        "13 1/2",
        "49 pieces, 48 seams: 45 sq 2, 4 sq 5",
        "J. Wickell, quilting.about.com and thesprucecrafts.com: double nine-patch",
    ),
    "BLK-8": ("6", "17 pieces, 16 seams: 8 hst 2 7/8, 8 rect 1 1/2 x 2 1/2, 1 sq 2 1/2", MAGAZINE),
    "BLK-9": (
        "7 1/2",
        "17 pieces, 16 seams: 8 hst 3 3/8, 8 rect 1 3/4 x 3, 1 sq 3",
        "Lessons 6 and 12 (rail fence, churn dash), allthingsfrugal.com, undated",
    ),
    "BLK-10": ("9", "17 pieces, 16 seams: 8 hst 3 7/8, 8 rect 2 x 3 1/2, 1 sq 3 1/2", f"{CHURN_DASH} (formula)"),
    # Half squares printed 5, then trimmed
    "BLK-11": ("12", "17 pieces, 16 seams: 8 hst 4 7/8, 8 rect 2 1/2 x 4 1/2, 1 sq 4 1/2", CHURN_DASH),
    "BLK-12": (
        "12",
        "21 pieces, 20 seams: 16 qst 5 1/4, 5 sq 4 1/2",
        f"Ohio Star, quiltcg.com, 3 April 2015; {MATH_CHARTS}",
    ),
    "BLK-13": ("10 1/2", "21 pieces, 20 seams: 16 qst 4 3/4, 5 sq 4", MAGAZINE),
    "BLK-14": ("9", "21 pieces, 20 seams: 16 qst 4 1/4, 5 sq 3 1/2", MATH_CHARTS),
    "BLK-15": (
        "8",
        "17 pieces, 16 seams: 4 qst 5 1/4, 8 hst 2 7/8, 1 sq 4 1/2, 4 sq 2 1/2",
        f"{MAGAZINE}; {SAWTOOTH}",
    ),
    # Printed with flipped corners 2, strips 2 x 3 1/2
    "BLK-16": ("6", "17 pieces, 16 seams: 4 qst 4 1/4, 8 hst 2 3/8, 1 sq 3 1/2, 4 sq 2", f"{SAWTOOTH} (formula)"),
    "BLK-17": (
        "3",
        "17 pieces, 16 seams: 4 qst 2 3/4, 8 hst 1 5/8, 1 sq 2, 4 sq 1 1/4",
        "allpeoplequilt.com quilts: Sew Easy Sampler, Patriotic Sparkler, Twinkle Twinkle, Table Manners, Blowin' "
        "Wind, Butter Churn, Thousand Pyramids",
    ),
    "BLK-18": (
        "12",
        "17 pieces, 16 seams: 4 qst 7 1/4, 8 hst 3 7/8, 1 sq 6 1/2, 4 sq 3 1/2",
        f"{MAGAZINE}, scaled (formula)",
    ),
    "BLK-19": ("6", "13 pieces, 12 seams: 8 hst 2 7/8, 5 sq 2 1/2", MAGAZINE),
    "BLK-20": (
        "12",
        "13 pieces, 12 seams: 8 hst 4 7/8, 5 sq 4 1/2",
        "delawarequilts.com, block pages Friendship Star and Ohio Star Variation; angelthings.com, April 2001 block",
    ),
    "BLK-21": ("14", "45 pieces, 44 seams: 32 hst 2 7/8, 4 sq 4 1/2, 5 sq 2 1/2, 4 rect 2 1/2 x 6 1/2", MAGAZINE),
    # Centre strip 1 1/2
    "BLK-22": (
        "12",
        "45 pieces, 44 seams: 32 hst 2 5/8, 4 sq 4, 4 sq 2 1/4, 1 sq 2, 4 rect 2 x 5 3/4",
        "Block 6, sistersandquilters.blogspot.com, 22 May 2013; lisasquiltingpassion.blog, 28 March 2020 (after R. S. "
        "McKim, One Hundred and One Patchwork Patterns, 1931)",
    ),
    # Centre strip 2 1/4; the half squares' squares printed 3, then trimmed
    "BLK-23": (
        "12",
        "45 pieces, 44 seams: 32 hst 2 1/2, 4 sq 3 3/4, 4 sq 2 1/8, 1 sq 2 3/4, 4 rect 2 3/4 x 5 3/8",
        "Fraser Valley Quilters' Guild, November 2000 block, fvqg.org",
    ),
    "BLK-24": (
        "6",
        "8 pieces, 7 seams: 8 hst 3 7/8",
        f"{MINI_MADNESS}; How to measure and cut triangles, grannymaudsgirl.wordpress.com, 11 June 2018",
    ),
    # Printed as squares 3, units 2 5/8, block 4 3/4
    "BLK-25": ("4 1/4", "8 pieces, 7 seams: 8 hst 3", MAGAZINE),
    "BLK-26": ("12", "28 pieces, 27 seams: 4 qst 7 1/4, 8 qst 4 1/4, 12 hst 3 7/8, 4 sq 3 1/2", MAGAZINE),
    "BLK-27": ("6", "10 pieces, 9 seams: 8 qst 4 1/4, 2 sq 3 1/2", MINI_MADNESS),
    "BLK-28": ("12", "12 pieces, 11 seams: 12 rect 2 1/2 x 6 1/2", MAGAZINE),
    "BLK-29": ("12", "16 pieces, 15 seams: 16 rect 2 x 6 1/2", "seen earlier, not re-read; from memory"),
    "BLK-30": (
        "12",
        "25 pieces, 24 seams: 8 hst 4 7/8, 16 sq 2 1/2, 1 sq 4 1/2",
        "structure: chestercriswellquilt.blogspot.com, quoting Kansas City Star 19 Sept 1928, Fort Worth "
        "Star-Telegram 11 May 1934, and county home demonstration agents, Hackensack N.J., March 1934 (formula)",
    ),
    "BLK-31": (
        "12",
        "48 pieces, 47 seams: 16 hst 3 7/8, 32 sq 2",
        "What size do I cut, ukqu.co.uk",
    ),
}

# row: cut width of the logs (in turn), cut lengths in the order of sewing, unfinished block, source
LOGS = {
    "LOG-1": (
        ("1 3/4",),
        "3, 4 1/4, 4 1/4, 5 1/2, 5 1/2, 6 3/4, 6 3/4, 8, 8, 9 1/4, 9 1/4, 10 1/2",
        "10 1/2",
        LOG_CABINS,
    ),
    "LOG-2": (
        ("1 1/4", "1 1/4", "2", "2"),
        "2, 2 3/4, 2 3/4, 4 1/4, 4 1/4, 5, 5, 6 1/2, 6 1/2, 7 1/4, 7 1/4, 8 3/4",
        "8 3/4",
        LOG_CABINS,
    ),
    "LOG-3": (("3",), "5, 7, 7, 9, 9, 11, 11, 13", "13", LOG_CABINS),
    "LOG-4": (
        ("1 1/2",),
        "1 1/2, 2 1/2, 2 1/2, 3 1/2, 3 1/2, 4 1/2, 4 1/2, 5 1/2, 5 1/2, 6 1/2, 6 1/2, 7 1/2",  # lengths not printed
        "7 1/2",
        "quiltingboard.com threads: log cabin t200383",
    ),
}


def take_from_shelf(name: str, row: str) -> Project:
    """A project of one block of the shelf, named after its row, in the size that is printed."""
    block = SHELF.find(name)
    assert block is not None
    size = BLOCKS[row][0] if row in BLOCKS else spell_number(read_number(LOGS[row][2]) - Fraction(1, 2))
    fabrics = ", ".join(f"{role.name}: {{value: {role.fabric.written}}}" for role in block.roles)
    roles = ", ".join(f"{role}: {role}" for role in block.role_names)
    return read_text(
        f"project: {row}\nfabrics: {{{fabrics}}}\n"
        f"blocks: {{{row}: {{block: {name}, size: {size}, fabrics: {{{roles}}}}}}}\n"
        f"make: [{{block: {row}, count: 1}}]\n"
    )


HOME = {
    **{block.name: project for project in DRAFTS.values() for block in project.blocks},
    **{row: take_from_shelf(name, row) for name, rows in ON_SHELF.items() for row in rows},
}


def plan_block(name: str) -> Plan:
    """One copy of a drafted block."""
    project: Project = HOME[name]
    make = tuple(make for make in project.make if make.block == name)
    return plan_it(replace(project, make=make))


def name_cut(entry: plan_file.PlanCut) -> str:
    short, long = entry["cut"]
    return {
        "square": f"sq {short}",
        "rectangle": f"rect {short} x {long}",
        "half-square triangle": f"hst {long}",
        "quarter-square triangle": f"qst {long}",
        "other": f"other {short} x {long}",
    }[entry["shape"]]


def count_cuts(printed: plan_file.Plan) -> Counter[str]:
    counts: Counter[str] = Counter()
    for entry in printed["cut"]:
        counts[name_cut(entry)] += entry["count"]
    return counts


def count_printed(cuts: str) -> Counter[str]:
    """`8 hst 2 7/8, 1 sq 2 1/2` by what is cut."""
    counts: Counter[str] = Counter()
    for cut in cuts.split(", "):
        count, _, what = cut.partition(" ")
        counts[what] = int(count)
    return counts


def test_every_printed_block_is_drafted() -> None:
    rows = [*(f"BLK-{number}" for number in range(1, 32)), *(f"LOG-{number}" for number in range(1, 5)), "KX-1", "KX-2"]
    assert list(HOME.keys() - {"equal fifths"} - set(rows)) == []
    assert [row for row in rows if row not in HOME] == []
    assert list(BLOCKS) == rows[:31]
    assert list(LOGS) == rows[31:35]


@pytest.mark.parametrize("row", BLOCKS)
def test_pieces_seams_and_cuts_are_those_printed(row: str) -> None:
    size, told, source = BLOCKS[row]
    printed = print_out(plan_block(row))
    pieces_and_seams, _, cuts = told.partition(": ")
    assert f"{len(printed['patches'])} pieces, {len(printed['seams'])} seams" == pieces_and_seams, source
    assert count_cuts(printed) == count_printed(cuts), source
    assert [block["size"] for block in printed["blocks"]] == [[size, size]], source


@pytest.mark.parametrize("row", HOME)
def test_a_drafted_block_is_filled_and_no_checker_complains(row: str) -> None:
    printed = print_out(plan_block(row))
    (block,) = printed["blocks"]
    width, height = map(read_number, block["size"])
    assert sum(find_area(read_outline(patch)) for patch in printed["patches"]) == width * height
    assert len(printed["seams"]) == len(printed["patches"]) - 1
    unfinished = [
        spell_number(read_number(side) + 2 * read_number(printed["project"]["seam"])) for side in block["size"]
    ]
    assert printed["batches"][-1]["unfinished"] == unfinished
    assert why_wrong(printed) == ()


def test_all_drafts_of_a_file_together_are_sewn_as_well() -> None:
    for project in DRAFTS.values():
        assert why_wrong(print_out(plan_it(project))) == ()


def test_broken_dishes_measure_what_is_printed_on_the_way() -> None:
    """BLK-25, source as above: squares 3, units 2 5/8, block 4 3/4."""
    batches = print_out(plan_block("BLK-25"))["batches"]
    assert [batch["unfinished"] for batch in batches if batch["pass"] == 1] == [["2 5/8", "2 5/8"]]
    assert batches[-1]["unfinished"] == ["4 3/4", "4 3/4"]


@pytest.mark.parametrize("row", LOGS)
def test_logs_are_cut_and_sewn_as_printed(row: str) -> None:
    widths, lengths, unfinished, source = LOGS[row]
    plan = plan_block(row)
    printed = print_out(plan)
    allowance = plan.project.seam
    # Logs in the order of sewing: each seam's side that is a patch, but for the centre
    outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
    sewn = [
        next(side for side in (seam["b"], seam["a"]) if side in outlines and side != "p1") for seam in printed["seams"]
    ]
    cut = []
    for patch in sewn:
        xs, ys = zip(*outlines[patch], strict=True)
        cut.append(tuple(sorted(max(side) - min(side) + 2 * allowance for side in (xs, ys))))
    told = [read_number(length) for length in lengths.split(", ")]
    wide = [read_number(widths[place % len(widths)]) for place in range(len(told))]
    assert cut == [tuple(sorted(pair)) for pair in zip(wide, told, strict=True)], source
    assert printed["batches"][-1]["unfinished"] == [unfinished, unfinished], source
    assert len(printed["patches"]) == len(told) + 1
    assert {tuple(entry["cut"]) for entry in printed["cut"]} >= {tuple(map(spell_number, pair)) for pair in cut}


def test_kings_x_comes_out_as_printed_to_the_eighth() -> None:
    """KX-1: Hidden Spools (King's X), quiltville.blogspot.com, June 2005: four squares of two pieced triangles of
    height 3, sewn from two strips cut 2; block 8 1/2."""
    plan = plan_block("KX-1")
    printed = print_out(plan)
    assert (len(printed["patches"]), len(printed["seams"])) == (16, 15)
    assert printed["blocks"][0]["size"] == ["8 1/2", "8 1/2"]
    # A square's diagonal is twice the triangles' height, which two strips share: in squares, since it is a root
    quarter = read_number("8 1/2") / 2
    diagonal_squared = 2 * quarter * quarter
    for height, shares in (("3", 2), ("1 1/2", 4)):
        for off, is_below in ((-Fraction(1, 16), True), (Fraction(1, 16), False)):
            line = shares * (read_number(height) + off)
            assert (line * line < diagonal_squared) == is_below
    strips = [batch for batch in printed["batches"] if batch["pass"] == 1]
    assert [batch["unfinished"] for batch in strips] == [["5 1/8", "5 1/8"]] * 2  # 4 1/4 and 7/8: pieced triangles


def test_a_five_grid_drawn_to_twelve_is_on_the_ruler_in_unequal_fifths() -> None:
    """KX-2: Jack in the Box blog-hop page, donnalynnthomasquilter.com: four units 2 1/2 and one 2, else 2.4 each."""
    ruler = Ruler("in")
    uneven, even = plan_block("KX-2"), plan_block("equal fifths")
    assert 4 * read_number("2 1/2") + 2 == 12
    assert {cut for cut in count_cuts(print_out(uneven)) if cut.startswith("sq")} == {"sq 3", "sq 2 1/2"}
    assert find_off_ruler(uneven.blocks, uneven.project.seam, ruler) == ()
    (off,) = find_off_ruler(even.blocks, even.project.seam, ruler)
    assert Fraction(12, 5) + Fraction(1, 2) in off.cut
