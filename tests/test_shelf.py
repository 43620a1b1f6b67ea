"""The shelf: every block on it is read, planned, audited and drawn, and is what its name says; and who may take one."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest
from planned import print_out, read_text, why_wrong
from points import find_area, read_exact, read_outline

from planner.blocks import Point, lay_out_blocks, tidy_outline
from planner.count_shelf import count_seams, plan_alone
from planner.pictures.draw_cloth import Cloth
from planner.pictures.draw_svg import draw_block as draw_svg
from planner.plan import Plan, plan_project
from planner.print_shelf import write_snippet
from planner.project import Handling
from planner.reading.file_keys import BLOCK
from planner.reading.read_project import read_project
from planner.reading.read_shelf_block import read_shelf_block
from planner.reading.shelf_block import EMPTY_SHELF, ShelfBlock
from planner.reading.shelf_keys import ROLE, SHELF_FILE
from planner.shelf import SHELF, PackagedShelf, name_file
from tui.draw_block import draw_block
from tui.fabric_colours import colour_fabrics

TOP = Path(__file__).parent.parent
FOLDER = TOP / "projects" / "blocks"
BLOCKS = {block.name: block for block in SHELF.list_blocks()}
FABRICS = {"navy": "dark", "shell": "light", "coral": "medium", "reed": "4", "slate": "8", "sand": "3"}

# How each block looks: whether turns and reflections carry it onto itself. A draft in which one triangle lies wrong
# looks otherwise.
TURNED_AND_MIRRORED = (
    "bear's paw", "churn dash", "double irish chain", "double nine patch", "economy", "greek cross", "kaleidoscope",
    "king's crown", "nine patch", "ohio star", "puss in the corner", "rising star", "sawtooth star", "shoo fly",
    "sister's choice", "snowball", "square in a square", "trip around the world",
)  # fmt: skip
TURNED = (
    "basket weave", "double pinwheel", "dutchman's puzzle", "eight-pointed star", "friendship star", "pinwheel",
    "rail fence", "yankee puzzle",
)  # fmt: skip
HALF_TURNED_AND_MIRRORED = (
    "bow tie", "broken dishes", "courthouse steps", "double four patch", "four patch", "grandmother's flower garden",
    "hourglass", "jacob's ladder", "sixteen patch", "spool", "triple four patch",
)  # fmt: skip
HALF_TURNED = ("bright hopes", "double hourglass", "snail's trail")
MIRRORED = (
    "birds in the air", "cake stand", "chinese coins", "flock of geese", "flying geese", "lady of the lake",
    "maple leaf", "roman stripe", "six-pointed star", "storm at sea",
)  # fmt: skip
ONE_WAY_ONLY = ("attic windows", "log cabin", "london stairs", "quarter log cabin", "schoolhouse", "tumbling blocks")
LOOKS = {
    **dict.fromkeys(TURNED_AND_MIRRORED, (1, 4)),
    **dict.fromkeys(TURNED, (1, 0)),
    **dict.fromkeys(HALF_TURNED_AND_MIRRORED, (2, 2)),
    **dict.fromkeys(HALF_TURNED, (2, 0)),
    **dict.fromkeys(MIRRORED, (4, 1)),
    **dict.fromkeys(ONE_WAY_ONLY, (4, 0)),
}

# Blocks that are not sewn with straight seams alone: seams sewn in part, seams set in
OTHER_SEAMS = {
    "attic windows": (0, 1),
    "bright hopes": (1, 0),
    "eight-pointed star": (0, 7),
    "grandmother's flower garden": (0, 8),
    "six-pointed star": (0, 5),
    "tumbling blocks": (0, 5),
}
HARD_TO_PROVE = ("six-pointed star", "tumbling blocks")

of_every_block = pytest.mark.parametrize("name", BLOCKS)


@cache
def plan_of(name: str) -> Plan:
    return plan_alone(BLOCKS[name])


def write_project(block: ShelfBlock, entry: str = "", head: str = "") -> str:
    """A project that makes two of a block in fabrics of its own; `entry` is more of the block's keys."""
    fabrics = dict(zip(block.role_names, FABRICS, strict=False))
    cloth = ", ".join(f"{name}: {{value: {value}}}" for name, value in FABRICS.items())
    roles = ", ".join(f"{role}: {fabric}" for role, fabric in fabrics.items())
    return (
        f"project: Tidewater\n{head}fabrics: {{{cloth}}}\nblocks:\n"
        f"  mine: {{block: {block.name}, fabrics: {{{roles}}}{entry}}}\nmake:\n  - {{block: mine, count: 2}}\n"
    )


def test_there_are_enough_and_nearly_all_are_sewn_with_straight_seams() -> None:
    straight = [name for name in BLOCKS if name not in OTHER_SEAMS]
    assert len(straight) >= 45
    assert sorted(LOOKS) == sorted(BLOCKS)


def test_no_two_blocks_have_a_name_in_common() -> None:
    names = [name for block in BLOCKS.values() for name in (block.name, *block.also_called)]
    assert len(names) > len(BLOCKS) + 10
    assert len(set(names)) == len(names)
    assert all(name == name.casefold() for name in names)
    assert sorted(SHELF.list_names()) == sorted(names)


@of_every_block
def test_a_block_is_in_the_file_of_its_name_and_says_what_its_fabrics_are_for(name: str) -> None:
    text = (FOLDER / name_file(name)).read_text(encoding="utf-8")
    block, faults = read_shelf_block(text)
    assert (block, faults) == (BLOCKS[name], ())
    assert {patch.fabric for patch in plan_of(name).blocks.drafted[0].patches} == set(BLOCKS[name].role_names)
    assert all(len(role.what) >= 7 for role in BLOCKS[name].roles)


@of_every_block
def test_a_block_is_planned_and_no_checker_complains(name: str) -> None:
    block, plan = BLOCKS[name], plan_of(name)
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    wide, high = map(read_exact, printed["blocks"][0]["size"])
    assert (wide, high) == block.size
    assert sum(find_area(read_outline(patch)) for patch in printed["patches"]) == wide * high
    counts = count_seams(plan)
    assert (counts.patches, counts.seams) == (block.patches, block.patches - 1)
    assert (counts.partial, counts.set_in) == OTHER_SEAMS.get(name, (0, 0))
    assert counts.straight == counts.seams - counts.partial - counts.set_in
    closing = sum("closes" in seam for seam in printed["seams"])
    assert (len(printed["seams"]) - closing, closing) == (counts.seams, counts.partial)
    assert sum("set_in" in seam for seam in printed["seams"]) == counts.set_in
    assert (counts.kinds, counts.passes) == (len(printed["batches"]), max(one["pass"] for one in printed["batches"]))
    assert plan.pressing.clashes == 0


@of_every_block
def test_the_few_steps_of_a_list_find_what_all_steps_find(name: str) -> None:
    plan = plan_of(name)
    if plan.handled.is_proven:
        return
    assert name in HARD_TO_PROVE
    full, _ = plan_project(replace(plan.project, handling=Handling()))
    assert full is not None
    assert full.handled[:2] == plan.handled[:2]


@of_every_block
def test_what_a_block_is_cut_from_is_on_the_ruler_in_its_usual_size_but_for_roots(name: str) -> None:
    assert [off.cut for off in plan_of(name).off_ruler if off.cut] == []


@of_every_block
def test_a_block_is_drawn_in_text_and_as_svg(name: str) -> None:
    plan = plan_of(name)
    rows = ["".join(cell.text for cell in row) for row in draw_block(plan, 0, 60, 25, False, None)]
    assert len(rows) <= 25
    assert all(len(row) <= 60 for row in rows)
    for role in BLOCKS[name].roles:
        assert any(role.fabric.letter in row for row in rows), role.name
    cloth = {name: Cloth(*colour) for name, colour in colour_fabrics(plan.project.fabrics).items()}
    root = ElementTree.fromstring(draw_svg(plan, 0, cloth))
    patches = [one for one in root.iter() if re.fullmatch(r"p\d+", one.attrib.get("id", ""))]
    assert len(patches) == BLOCKS[name].patches


@of_every_block
def test_a_block_looks_as_its_name_says(name: str) -> None:
    drafted = plan_of(name).blocks.drafted[0]
    wide, high = drafted.width, drafted.height

    def is_same(move: Callable[[Point], Point]) -> bool:
        return {(p.fabric, tidy_outline(map(move, p.outline))) for p in drafted.patches} == {
            (p.fabric, p.outline) for p in drafted.patches
        }

    turns: dict[int, Callable[[Point], Point]] = {
        1: lambda at: (high - at[1], at[0]),
        2: lambda at: (wide - at[0], high - at[1]),
    }
    period = next((period for period, turn in turns.items() if is_same(turn)), 4)
    mirrors: list[Callable[[Point], Point]] = [
        lambda at: (wide - at[0], at[1]),
        lambda at: (at[0], high - at[1]),
        lambda at: (at[1], at[0]),
        lambda at: (high - at[1], wide - at[0]),
    ]
    assert (period, sum(map(is_same, mirrors))) == LOOKS[name]


@of_every_block
def test_a_project_takes_a_block_in_its_own_fabrics_and_size(name: str) -> None:
    block = BLOCKS[name]
    wide, high = plan_of(name).block_size(0)
    size = "" if block.keeps_shape else ", size: 8 x 12"
    project = read_text(write_project(block, size))
    (drafted,) = lay_out_blocks(project).drafted
    assert drafted.name == "mine"
    assert drafted.copies == 2
    fabrics = dict(zip(block.role_names, FABRICS, strict=False))
    drawn = plan_of(name).blocks.drafted[0]
    assert [patch.fabric for patch in drafted.patches] == [fabrics[patch.fabric] for patch in drawn.patches]
    (made,) = project.blocks
    assert (made.width, made.height) == (block.size if block.keeps_shape else (8, 12))
    assert all(f"fabric {fabric}" in project.unused for fabric in FABRICS if fabric not in fabrics.values())
    assert len(project.unused) == len(FABRICS) - len(fabrics)
    assert (wide, high) == plan_of(name).block_size(0)


@of_every_block
def test_what_is_shown_to_be_put_into_a_project_is_right(name: str) -> None:
    snippet = list(write_snippet(BLOCKS[name]))
    assert all(len(line) <= 60 for line in snippet)
    named = re.search(r"fabrics:( \{.*\}|(\n {6}.*)+)", "\n".join(snippet))
    assert named is not None
    fabrics = re.findall(r": ([a-z]+)", named[1])
    assert len(fabrics) == len(set(fabrics)) == len(BLOCKS[name].roles)
    cloth = ", ".join(f"{fabric}: {{value: 5}}" for fabric in fabrics)
    project, faults = read_project("\n".join([f"project: Tidewater\nfabrics: {{{cloth}}}", *snippet, ""]))
    assert faults == ()
    assert project is not None
    assert project.unused == ()
    assert (project.blocks[0].width, project.blocks[0].height) == BLOCKS[name].size


def test_in_centimetres_the_usual_size_has_two_and_a_half_for_an_inch() -> None:
    project = read_text(write_project(BLOCKS["ohio star"], head="measure: cm\n"))
    assert project.blocks[0].width == Fraction(12) * Fraction(5, 2) * Fraction(50, 127)


def test_a_usual_size_below_two_seam_allowances_is_told() -> None:
    project, faults = read_project(write_project(BLOCKS["four patch"], head="seam: 3 1/2\n"))
    assert project is None
    assert [(fault.line, fault.where) for fault in faults] == [(5, "block mine")]
    assert "its usual size, 6 x 6 in, is smaller than two seam allowances; write size:" in faults[0].words


def test_a_block_of_the_project_goes_before_that_of_the_shelf() -> None:
    text = (
        "project: Tidewater\nfabrics: {navy: {value: dark}}\nblocks: {churn dash: {size: 3, rows: [[navy]]}}\n"
        "make: [{block: churn dash, count: 1}]\n"
    )
    assert read_text(text).blocks[0].width == 3


def test_without_a_shelf_there_is_no_block_to_take() -> None:
    project, faults = read_project(write_project(BLOCKS["four patch"]), EMPTY_SHELF)
    assert project is None
    assert "there is no block 'four patch' on the shelf; seamrun blocks lists what is there" in faults[0].words


def test_a_project_that_takes_nothing_reads_no_file_of_the_shelf() -> None:
    code = (
        "from planner.reading.read_project import read_project\n"
        "from planner import shelf\n"
        "text = 'project: a\\nfabrics: {navy: {value: 1}}\\nblocks: {wave: {size: 3, rows: [[navy]]}}\\nmake: '\n"
        "assert read_project(text + '[{block: wave, count: 1}]')[0] is not None\n"
        "assert 'folder' not in vars(shelf.SHELF) and not shelf._read.cache_info().misses\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stderr) == (0, "")


def test_a_wheel_has_the_shelf_where_it_is_looked_for() -> None:
    built = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["hatch"]["build"]["targets"]
    assert built["wheel"]["force-include"]["projects/blocks"] == "planner/shelf_blocks"
    assert "/projects" in built["sdist"]["include"]
    assert PackagedShelf().folder in (FOLDER, TOP / "planner" / "shelf_blocks")


SMALL = """\
block: tide line
size: 6
roles:
  dark: {value: dark, for: the water}
  light: {value: light, for: the sand}
rows: [[dark, light]]
"""

WRONG = {
    "an unknown key": ("size: 6", "sizes: 6\nsize: 6", (2, "there is no key 'sizes' in a block of the shelf")),
    "no name": ("block: tide line\n", "", (1, "block is missing")),
    "no roles": (SMALL[SMALL.index("roles") : SMALL.index("rows")], "", (1, "roles is missing")),
    "a role without a value": ("{value: dark, for", "{for", (4, "role dark: value is missing")),
    "a role without words": (", for: the sand", "", (5, "role light: for is missing")),
    "a value that is none": ("value: light", "value: lite", (5, "'lite' is no value")),
    "a name that is none": ("tide line", "tide (line)", (1, "'(' can't be in a name")),
    "a fabric that is no role": ("[dark, light]", "[dark, lihgt]", (6, "no fabric or part is named 'lihgt'")),
    "no draft": ("rows: [[dark, light]]", "parts: {}", (1, "a draft is missing")),
    "no size": ("size: 6\n", "", (1, "size is missing")),
}


def test_the_file_that_is_spoilt_below_is_good() -> None:
    block, faults = read_shelf_block(SMALL)
    assert faults == ()
    assert block is not None
    assert (block.name, block.role_names, block.size, block.patches) == ("tide line", ("dark", "light"), (6, 6), 2)


@pytest.mark.parametrize("name", WRONG)
def test_a_file_of_the_shelf_at_fault_is_told(name: str) -> None:
    old, new, (line, words) = WRONG[name]
    assert SMALL.count(old) == 1
    block, faults = read_shelf_block(SMALL.replace(old, new))
    assert block is None
    assert any(fault.line == line and words in f"{fault.where}: {fault.words}" for fault in faults), faults


def test_a_folder_with_a_file_at_fault_names_the_file_and_the_line(tmp_path: Path) -> None:
    (tmp_path / "tide-line.yaml").write_text(SMALL.replace("[dark, light]", "[dark, lihgt]"), encoding="utf-8")
    with pytest.raises(ValueError, match=r"tide-line\.yaml:6: block tide line, row 1, cell 2: no fabric or part"):
        PackagedShelf(tmp_path).find("tide line")


def test_every_key_of_a_file_of_the_shelf_is_told() -> None:
    told = (TOP / "projects" / "PROJECT-FILE.md").read_text(encoding="utf-8")
    told = told[told.index("## The shelf") :]
    own = [name for table in (SHELF_FILE, ROLE) for name in table.names if BLOCK.find(name) is None]
    assert len(own) == 5
    assert [name for name in own if f"`{name}`" not in told] == []
