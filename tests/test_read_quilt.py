"""Quilts: what fits is read as it is written, what does not fit is told where it stands, and patches are counted."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from planner.fault import Fault
from planner.lay_out_top import lay_out_top
from planner.measure import spell_number
from planner.project import MOST_PATCHES, Project
from planner.reading.count_quilt import count_quilt_patches
from planner.reading.file_schema import build_schema
from planner.reading.known import Known
from planner.reading.lengths import Lengths
from planner.reading.names import Names
from planner.reading.nearest_name import NearestName
from planner.reading.read_blocks import ReadBlock, ReadBlocks
from planner.reading.read_project import read_project

HEAD = """\
project: Tidewater quilt
fabrics:
  navy: {value: dark}
  shell: {value: light, width: 20}
blocks:
"""
SIDES = tuple(map(Fraction, ("4", "6", "9/2", "25/4")))
CHECK = Draft202012Validator(build_schema())
chances = st.randoms(use_true_random=False)


def name_of(width: Fraction, height: Fraction) -> str:
    return f"b {SIDES.index(width)}-{SIDES.index(height)}"


def write_blocks() -> str:
    return "".join(
        f"  {name_of(width, height)}: {{size: {spell_number(width)} x {spell_number(height)}, rows: [[navy, shell]]}}\n"
        for width in SIDES
        for height in SIDES
    )


def write_place(chance: random.Random, width: Fraction, height: Fraction) -> tuple[str, tuple[str, int]]:
    """A block that fits, as text, and (block, turn) as it is read."""
    turn = chance.randrange(4)
    block = name_of(width, height) if turn % 2 == 0 else name_of(height, width)
    if turn == 0:
        return chance.choice((block, f"{{block: {block}}}")), (block, 0)
    return chance.choice((f"{block} turn {90 * turn}", f"{{block: {block}, turn: {90 * turn}}}")), (block, turn)


def write_frames(chance: random.Random, is_straight: bool, many: bool) -> str:
    text = ""
    if is_straight and many and chance.random() < 0.6:
        posts = chance.choice(("", ", posts: shell"))
        text += f"  sashing: {{width: {chance.choice(('1', '1 1/4', '3 cm', '19'))}, fabric: navy{posts}}}\n"
    if is_straight and chance.random() < 0.6:
        corners = [chance.choice(("", ", corners: shell")) for _ in range(chance.randint(1, 3))]
        borders = [f"{{width: {chance.choice(('1/2', '5', '21'))}, fabric: shell{corner}}}" for corner in corners]
        text += f"  border: [{', '.join(borders)}]\n" if len(borders) > 1 else f"  border: {borders[0]}\n"
    return text


def write_quilt(chance: random.Random) -> tuple[str, list[list[tuple[str, int]]]]:
    """A project with a quilt that fits, and its rows as they are read; each row in a line of its own."""
    is_straight = chance.random() < 0.6
    if is_straight:
        widths = [chance.choice(SIDES) for _ in range(chance.randint(1, 5))]
        grid = [[(width, height) for width in widths] for height in chance.choices(SIDES, k=chance.randint(1, 5))]
    else:
        side, long, pairs = chance.choice(SIDES), chance.randint(2, 5), chance.randint(0, 3)
        grid = [[(side, side)] * (long - number % 2) for number in range(2 * pairs + 1)]
    places = [[write_place(chance, *size) for size in row] for row in grid]
    rows = "".join(f"    - [{', '.join(text for text, _ in row)}]\n" for row in places)
    text = f"{HEAD}{write_blocks()}quilt:\n  rows:\n{rows}"
    if not is_straight:
        text += "  layout: on point\n  setting: navy\n"
    return text + write_frames(chance, is_straight, sum(map(len, grid)) > 1), [
        [read for _, read in row] for row in places
    ]


def read_good(text: str) -> Project:
    project, faults = read_project(text)
    assert faults == (), text
    assert project is not None
    return project


@given(chances)
@settings(max_examples=20, deadline=None)
def test_what_fits_passes_the_schema_too(chance: random.Random) -> None:
    text, _ = write_quilt(chance)
    assert CHECK.is_valid(yaml.safe_load(text)), text


def only_fault(text: str) -> Fault:
    project, faults = read_project(text)
    assert project is None
    (fault,) = faults
    return fault


@given(chances)
@settings(max_examples=60, deadline=None)
def test_what_fits_is_read_as_it_is_written(chance: random.Random) -> None:
    text, rows = write_quilt(chance)
    quilt = read_good(text).quilt
    assert quilt is not None
    assert [[(here.block, here.turn) for here in row] for row in quilt.rows] == rows
    first = text.splitlines().index("  rows:") + 2
    assert [{here.line for here in row} for row in quilt.rows] == [{first + number} for number in range(len(rows))]


@given(chances, st.integers(3, 5), st.integers(3, 5), st.booleans())
@settings(max_examples=40, deadline=None)
def test_one_block_that_does_not_fit_is_told_alone(
    chance: random.Random, wide: int, high: int, is_straight: bool
) -> None:
    """As many others say how high and how wide it should be, the odd one is told wherever it stands."""
    high += not is_straight and high % 2 == 0
    small, large = SIDES[:2]
    rows = [[name_of(small, small)] * (wide - (not is_straight and row % 2)) for row in range(high)]
    row = chance.randrange(high)
    column = chance.randrange(len(rows[row]))
    rows[row][column] = name_of(large, large)
    layout = "" if is_straight else "  layout: on point\n  setting: navy\n"
    text = f"{HEAD}{write_blocks()}quilt:\n{layout}  rows:\n" + "".join(f"    - [{', '.join(row)}]\n" for row in rows)
    project, faults = read_project(text)
    assert project is None
    line = text.splitlines().index("  rows:") + 2 + row
    assert {(fault.line, fault.where) for fault in faults} == {(line, f"quilt, row {row + 1}, block {column + 1}")}
    assert len(faults) == (2 if is_straight else 1)
    assert all("6 in" in fault.words and "4 in" in fault.words for fault in faults)


@pytest.mark.parametrize("is_straight", [True, False])
def test_a_wrong_size_is_told_once_however_often_the_block_stands_in_the_quilt(is_straight: bool) -> None:
    """As many blocks are wrong as right here, in each row and in all: the right ones come first."""
    small, large = SIDES[:2]
    names = name_of(large, large), name_of(small, small)
    long = [6 - (not is_straight and row % 2) for row in range(6 + (not is_straight))]
    rows = [[names[(row * is_straight + column) % 2] for column in range(many)] for row, many in enumerate(long)]
    layout = "" if is_straight else "  layout: on point\n  setting: navy\n"
    text = f"{HEAD}{write_blocks()}quilt:\n{layout}  rows:\n" + "".join(f"    - [{', '.join(row)}]\n" for row in rows)
    project, faults = read_project(text)
    assert project is None
    many = sum(row.count(names[1]) for row in rows) - 1
    assert len(faults) == (2 if is_straight else 1)
    for fault in faults:
        assert fault.where == "quilt, row 1, block 2"
        assert fault.words.startswith(f"{names[1]} is 4 in")
        assert f"{names[0]} " in fault.words
        assert fault.words.endswith(f"(and in {many} more places)")


def test_two_wrong_sizes_are_told_both() -> None:
    good, wide, high = name_of(SIDES[1], SIDES[1]), name_of(SIDES[2], SIDES[1]), name_of(SIDES[1], SIDES[2])
    rows = [[good, good, good], [good, wide, good], [good, high, good], [wide, good, good]]
    text = f"{HEAD}{write_blocks()}quilt:\n  rows:\n" + "".join(f"    - [{', '.join(row)}]\n" for row in rows)
    _, faults = read_project(text)
    assert [(fault.where, fault.words.partition(" is ")[0]) for fault in faults] == [
        ("quilt, row 2, block 2", wide),
        ("quilt, row 3, block 2", high),
    ]
    assert [fault.words.endswith("(and in 1 more place)") for fault in faults] == [True, False]


def test_one_row_that_lacks_a_block_is_told_alone() -> None:
    narrow, wide = name_of(SIDES[0], SIDES[1]), name_of(SIDES[1], SIDES[1])
    for odd in range(4):
        rows = [[narrow, wide, narrow] for _ in range(4)]
        del rows[odd][0]
        text = f"{HEAD}{write_blocks()}quilt:\n  rows:\n" + "".join(f"    - [{', '.join(row)}]\n" for row in rows)
        fault = only_fault(text)
        assert fault.where == f"quilt, row {odd + 1}"
        assert fault.words.startswith(f"this row has 2 blocks, {'most have' if odd == 0 else 'the first'} 3")


@given(st.integers(2, 6), st.integers(1, 9), st.integers(-2, 2), st.data())
@settings(max_examples=60, deadline=None)
def test_on_point_rows_lie_between_one_another_or_are_told(
    long: int, high: int, more: int, data: st.DataObject
) -> None:
    lengths = [long - row % 2 for row in range(high)]
    odd = data.draw(st.integers(0, high - 1))
    lengths[odd] = max(1, lengths[odd] + more)
    rows = "".join(f"    - [{', '.join(['b 0-0'] * length)}]\n" for length in lengths)
    text = f"{HEAD}{write_blocks()}quilt:\n  layout: on point\n  setting: navy\n  rows:\n{rows}"
    first = lengths[0]
    fits = high == 1 or (
        high % 2 == 1 and first > 1 and lengths == [first if row % 2 == 0 else first - 1 for row in range(high)]
    )
    assert (read_project(text)[0] is not None) == fits


@given(chances)
@settings(max_examples=60, deadline=None)
def test_patches_are_counted_as_they_are_laid_out(chance: random.Random) -> None:
    text, _ = write_quilt(chance)
    project = read_good(text)
    sizes = {block.name: (block.width, block.height) for block in project.blocks}
    layout = lay_out_top(project, sizes)
    assert count_patches(project) == 2 * len(layout.blocks) + len(layout.strips)


def count_patches(project: Project) -> int:
    """What the bound is compared with; each block has two patches."""
    assert project.quilt is not None
    blocks = ReadBlocks({block.name: ReadBlock(block, 2) for block in project.blocks}, {}, (), True)
    names = Names((), {}, {}, {}, NearestName())
    known = Known(
        blocks,
        names,
        Lengths(project.measure, project.seam),
        {fabric.name: fabric.usable for fabric in project.fabrics},
    )
    return count_quilt_patches(project.quilt, known)


def test_a_mitred_border_is_four_strips_as_long_as_its_outer_edges() -> None:
    text = f"{HEAD}{write_blocks()}quilt: {{rows: [[b 0-0]], border: {{width: 8, fabric: shell}}}}\n"
    straight = read_good(text)
    mitred = read_good(text.replace("fabric: shell}", "fabric: shell, corners: mitred}"))
    # 18 in of cloth, 17 1/2 in of a strip, 16 3/4 in of one with points: of 4 and 20 in, and of 20 and 20 in
    assert count_patches(straight) == 2 + 2 * (1 + 2)
    assert count_patches(mitred) == 2 + 4 * 2


def test_a_mitred_border_is_so_narrow_that_no_joint_of_a_strip_falls_into_its_slanting_end() -> None:
    text = (
        f"{HEAD}{write_blocks()}quilt: {{rows: [[b 0-0]], border: {{width: 8 3/8, fabric: shell, corners: mitred}}}}\n"
    )
    read_good(text)
    fault = only_fault(text.replace("8 3/8", "8 1/2"))
    assert (fault.line, fault.where) == (len(text.splitlines()), "quilt, border")
    assert "too wide for pieces of its fabric" in fault.words
    read_good(text.replace("8 3/8", "9").replace("fabric: shell, corners: mitred", "fabric: navy, corners: mitred"))


@pytest.mark.parametrize("loose", [0, 250])
def test_patches_are_counted_over_loose_blocks_and_the_quilt(loose: int) -> None:
    cells = ", ".join(["navy"] * 100)
    blocks = f"  wave: {{size: 50, rows: [{', '.join([f'[{cells}]'] * 10)}]}}\n"
    make = f"make: [{{block: wave, count: {loose}}}]\n" if loose else ""
    row = f"[{', '.join(['wave'] * (250 - loose))}]"
    if loose:
        row = "[wave]"
    head = f"{HEAD}{blocks}{make}quilt:\n  rows: [{row}]\n"
    if not loose:
        read_good(head)
        head += "  border: {width: 9, fabric: navy}\n"
    fault = only_fault(head)
    assert (fault.line, fault.where) == (head.splitlines().index("quilt:") + 1, "quilt")
    # 250 blocks of 50 in: beside them two pieces each, above and below 12,518 in by 39 1/2 in
    more = MOST_PATCHES + (1_000 if loose else 4 + 2 * 317)
    assert fault.words == f"with the quilt there are {more:,} patches; a project has at most 250,000"


def test_a_fabric_that_only_a_swap_in_the_quilt_brings_in_is_used() -> None:
    text = f"""{HEAD}  wave: {{size: 6, rows: [[navy, navy]]}}
quilt:
  rows: [[wave, {{block: wave, swap: {{navy: shell}}}}]]
"""
    assert read_good(text).unused == ()
    assert read_good(text.replace("{block: wave, swap: {navy: shell}}", "wave")).unused == ("fabric shell",)


@pytest.mark.parametrize(
    "frame",
    [
        "sashing: {width: 1, fabric: shell}",
        "sashing: {width: 1, fabric: navy, posts: shell}",
        "border: {width: 1, fabric: shell}",
        "border: [{width: 1, fabric: navy}, {width: 1, fabric: navy, corners: shell}]",
        "layout: on point\n  setting: shell",
    ],
)
def test_what_lies_round_the_blocks_is_used(frame: str) -> None:
    text = f"{HEAD}  wave: {{size: 6, rows: [[navy, navy]]}}\nquilt:\n  rows: [[wave, wave]]\n"
    assert read_good(text).unused == ("fabric shell",)
    assert read_good(f"{text}  {frame}\n").unused == ()


def test_a_direction_is_kept_in_a_block_that_only_the_quilt_has() -> None:
    text = f"{HEAD}{write_blocks()}make: [{{block: b 0-0, count: 1}}]\nquilt: {{rows: [[b 1-1]]}}\n"
    keep = 'press: {keep: [{block: NAME, at: "X, 2", toward: left}]}\n'
    for name, x in (("b 0-0", 2), ("b 1-1", 3)):
        (kept,) = read_good(text + keep.replace("NAME", name).replace("X", str(x))).keep
        assert (kept.block, kept.at, kept.toward) == (name, (x, 2), "left")
    assert "is not made" in only_fault(text + keep.replace("NAME", "b 2-2").replace("X", "2 1/4")).words
    # where a name can't be read it may be the very block
    _, faults = read_project(
        text.replace("[[b 1-1]]", "[[b 1-2-1]]") + keep.replace("NAME", "b 2-2").replace("X", "2 1/4")
    )
    assert ["no block is named" in fault.words for fault in faults] == [True]


@given(st.just(Fraction(3)) | st.fractions(-1, 8, max_denominator=16), st.fractions(-1, 8, max_denominator=16))
@settings(max_examples=60, deadline=None)
def test_a_point_is_kept_just_where_it_lies_on_the_seam_inside_the_block(x: Fraction, y: Fraction) -> None:
    text = f"{HEAD}{write_blocks()}make: [{{block: b 1-0, count: 1}}]\n"
    written = f"{spell_number(x)}, {spell_number(y)} in"
    project, faults = read_project(f'{text}press: {{keep: [{{block: b 1-0, at: "{written}", toward: open}}]}}\n')
    if x == 3 and 0 < y < 4:
        assert faults == ()
        assert project is not None
        assert project.keep[0].at == (x, y)
    elif 0 < x < 6 and 0 < y < 4:
        (fault,) = faults
        assert fault.words.startswith("no seam runs through this point")
    else:
        assert {fault.where for fault in faults} == {"press, keep, entry 1, at"}


def test_a_quilt_alone_is_a_project_and_so_are_loose_blocks_alone() -> None:
    blocks = f"{HEAD}  wave: {{size: 6, rows: [[navy, shell]]}}\n"
    quilt, make = "quilt: {rows: [[wave]]}\n", "make: [{block: wave, count: 1}]\n"
    alone = read_good(blocks + quilt)
    assert alone.make == ()
    assert alone.quilt is not None
    assert read_good(blocks + make).quilt is None
    both = read_good(blocks + make + quilt)
    assert both.quilt is not None
    assert replace(both, quilt=None, make=()) == replace(alone, quilt=None)
    assert only_fault(blocks).words.startswith("make or quilt is missing; write make, a list of loose blocks")
