"""The cloth on a screen of the workspace: each fabric's strips to the screen's width, what to buy, what is wrong."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from benches import done_until, number_of, sheet_of
from hypothesis import given
from hypothesis import strategies as st
from planned import SAMPLES, plan_sample, plan_text
from test_walk import SIZES, Maker, lines_of, sit_down

from planner.cloth.cloth import FabricCloth, work_out_cloth
from planner.cloth.place_pieces import Run, Strip
from planner.cloth.rectangles import Rectangle
from planner.measure import Ruler
from planner.plan import Plan
from tui.canvas import Canvas
from tui.draw_strip import draw_strip
from tui.screens.cloth import ClothScreen, name_file
from tui.settings import Settings

LAP = "moorings-lap"
INCHES = Ruler("in")
at_every_size = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")

WIDE = """\
project: Tidewater wide
fabrics:
  navy: {value: dark, width: 20}
  shell: {value: light, width: 20}
blocks: {wave: {size: 60, rows: [[navy, shell]]}}
make: [{block: wave, count: 1}]
"""
FROM_SCRAPS = """\
project: Tidewater scraps
fabrics:
  navy: {value: dark, stock: [18 x 21]}
  shell: {value: light, stock: [2 x 2]}
blocks: {wave: {size: 6, rows: [[navy, shell]]}}
make: [{block: wave, count: 2}]
"""

DIAMONDS = """\
project: Tidewater star
fabrics: {navy: {value: dark}, coral: {value: medium}, shell: {value: light}}
blocks:
  star: {size: 6+3r2, ring: {of: 8, diamonds: [navy, coral], fill: shell}}
make: [{block: star, count: 6}]
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project file to keep progress beside, in the folder where the maker is."""
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "lap.yaml"
    path.write_bytes(SAMPLES[LAP].read_bytes())
    return path


def page_of(maker: Maker) -> ClothScreen:
    assert isinstance(maker.screen, ClothScreen)
    return maker.screen


def shown(canvas: Canvas) -> list[str]:
    return ["".join(cell.text for cell in row) for row in canvas]


# A strip as a picture

SQUARES = Rectangle("navy", Fraction(10), Fraction(10), True, 3, 1, "square 10", ("a",))


def strip_of(*runs: Run, high: int = 10) -> tuple[FabricCloth, Strip]:
    fabric = replace(plan_text(FROM_SCRAPS).project.fabrics[0], usable=Fraction(40))
    strip = Strip(Fraction(high), 1, runs)
    return FabricCloth(fabric, (SQUARES,), (strip,), Fraction(high)), strip


def run_of(x: int, y: int, wide: int, high: int, across: int, deep: int) -> Run:
    return Run(0, Fraction(x), Fraction(y), Fraction(wide), Fraction(high), across, deep)


def test_a_strip_is_drawn_to_scale_with_every_piece_and_what_is_left() -> None:
    one, strip = strip_of(run_of(0, 0, 10, 10, 3, 1))
    assert shown(draw_strip(one, strip, Fraction(40), INCHES, {"a": "C"}, 41, 20)) == [
        "┌─────────┬─────────┬─────────┬─────────┐",
        "│         │         │         │ · · · · │",
        "│          3 of 10 C          │ · · · · │",
        "│         │         │         │ · · · · │",
        "│         │         │         │ · · · · │",
        "└─────────┴─────────┴─────────┴─────────┘",
    ]


def test_the_cloth_of_pieces_has_the_fabric_and_the_rest_has_none() -> None:
    one, strip = strip_of(run_of(0, 0, 10, 5, 2, 2))
    canvas = draw_strip(one, strip, Fraction(40), INCHES, {}, 41, 20)
    assert {cell.fabric for row in canvas[1:-1] for cell in row[1:20]} == {"navy"}
    assert {cell.fabric for row in canvas[1:-1] for cell in row[21:-1]} == {None}
    assert {cell.fabric for cell in (*canvas[0], *canvas[-1])} == {None}


@pytest.mark.parametrize(
    ("width", "words"), [(80, "10 of 1 x 4 C"), (30, "10 C"), (16, "C"), (8, "")], ids=lambda value: str(value)
)
def test_a_frame_says_as_much_as_it_has_room_for(width: int, words: str) -> None:
    one, strip = strip_of(run_of(0, 0, 1, 4, 10, 1), high=4)
    rows = shown(draw_strip(one, strip, Fraction(40), INCHES, {"a": "C"}, width, 20))
    found = "".join(rows).translate(str.maketrans("", "", "┌┬┐├┼┤└┴┘│─·"))
    assert " ".join(found.split()) == words


@given(st.lists(st.tuples(st.integers(1, 12), st.integers(1, 30), st.integers(1, 6), st.integers(1, 4)), min_size=1,
                max_size=5), st.integers(1, 130), st.integers(1, 40))  # fmt: skip
def test_no_strip_is_drawn_larger_than_its_room(
    sizes: list[tuple[int, int, int, int]], width: int, height: int
) -> None:
    x, runs = 0, []
    for wide, high, across, deep in sizes:
        runs.append(run_of(x, 0, wide, high, across, deep))
        x += wide * across
    one, strip = strip_of(*runs, high=max(high * deep for _, high, _, deep in sizes))
    canvas = draw_strip(one, strip, Fraction(x + 1), INCHES, {"a": "C"}, width, height)
    assert len({len(row) for row in canvas}) == 1
    assert len(canvas[0]) <= max(width, 3)
    assert len(canvas) <= max(height, 3)
    assert canvas[0][0].text == "┌"
    assert canvas[-1][-1].text == "┘"


def test_a_row_of_diamonds_shows_its_slanting_cuts() -> None:
    one = cloth_of(plan_text(DIAMONDS))
    strip = one.strips[-1]
    rows = shown(draw_strip(one, strip, one.fabric.usable, INCHES, {}, 78, 24))
    (row,) = {one.rectangles[run.rectangle] for run in strip.runs}
    assert rows[-2].count("╲") == row.makes + 1
    assert f"{row.makes} diamonds" in " ".join(rows)
    narrow = shown(draw_strip(one, strip, one.fabric.usable, INCHES, {}, 20, 24))
    assert "╲" not in "".join(narrow)


# The page


@at_every_size
async def test_one_key_shows_each_fabric_with_what_to_buy_and_every_strip(size: tuple[int, int], file: Path) -> None:
    plan = plan_sample(LAP)
    cloth, _ = work_out_cloth(plan)
    assert cloth is not None
    async with sit_down(file, size=size, plan=plan) as maker:
        await maker.press("c", "f")
        for number, one in enumerate(cloth.fabrics, 1):
            words = maker.read_through(page_of(maker).lines)
            assert f"Cloth {one.fabric.name} fabric {number} of {len(cloth.fabrics)}" in maker.read()
            assert "Buy " in words
            assert words.count("wide") >= len(one.strips) - 1
            assert page_of(maker).lines.max_scroll_x == 0
            await maker.press("n")
        assert f"fabric 1 of {len(cloth.fabrics)}" in maker.read()
        await maker.press("N")
        assert f"fabric {len(cloth.fabrics)} of {len(cloth.fabrics)}" in maker.read()
        await maker.pilot.resize_terminal(60, 20)
        await maker.pilot.pause()
        assert page_of(maker).lines.max_scroll_x == 0


@pytest.mark.parametrize("theme", ["light", "dark"])
async def test_pieces_are_coloured_as_their_fabric(theme: str, file: Path) -> None:
    settings = Settings(theme=theme)
    async with sit_down(file, plan=plan_sample(LAP), settings=settings) as maker:
        await maker.press("f")
        lines = page_of(maker).lines
        colour = lines.colours["slate"].cloth
        grounds = {
            segment.style.bgcolor.get_truecolor().hex
            for y in range(lines.size.height)
            for segment in lines.render_line(y)
            if segment.style is not None and segment.style.bgcolor is not None
        }
        assert colour in grounds


async def test_a_strip_of_which_all_is_cut_is_ticked(file: Path) -> None:
    sheet = sheet_of(LAP)
    async with sit_down(file, plan=plan_sample(LAP)) as maker:
        await maker.press("f")
        assert "✓" not in maker.read_through(page_of(maker).lines)
    async with sit_down(file, *done_until(sheet, number_of(sheet, "lay out")), plan=plan_sample(LAP)) as maker:
        await maker.press("f")
        assert maker.read_through(page_of(maker).lines).count("✓") == len(cloth_of(plan_sample(LAP)).strips)


def cloth_of(plan: Plan) -> FabricCloth:
    """Of the first fabric."""
    cloth, _ = work_out_cloth(plan)
    assert cloth is not None
    return cloth.fabrics[0]


async def test_cloth_that_is_too_narrow_is_told_in_words(file: Path) -> None:
    async with sit_down(file, plan=plan_text(WIDE)) as maker:
        await maker.press("f")
        words = maker.read_through(page_of(maker).lines)
        assert "Line 3, fabric navy: a piece is cut " in words
        assert "Line 4, fabric shell: a piece is cut " in words
        await maker.press("n", "N", "d")
        assert isinstance(maker.screen, ClothScreen)
        assert not list(Path().glob("*.svg"))


async def test_cloth_that_is_there_is_drawn_and_nothing_is_bought(file: Path) -> None:
    async with sit_down(file, plan=plan_text(FROM_SCRAPS)) as maker:
        await maker.press("f")
        words = maker.read_through(page_of(maker).lines)
        assert "Nothing to buy: all comes out of what is there" in words
        assert "Piece 1 that is there, 18 x 21 in: strips" in words
        assert "┌" in words
        await maker.press("n")
        words = maker.read_through(page_of(maker).lines)
        assert "Piece 1 that is there, 2 x 2 in: nothing fits on it" in words
        assert "From cloth that is bought" in words


async def test_the_picture_is_drawn_to_a_file_once_and_never_over_another(file: Path) -> None:
    async with sit_down(file, plan=plan_sample(LAP)) as maker:
        await maker.press("f", "d")
        drawn = Path("moorings-lap-quilt-cloth.svg")
        assert f"{drawn} is drawn" in maker.read()
        before = drawn.read_bytes()
        assert ET.fromstring(before).tag.endswith("svg")
        drawn.write_bytes(b"mine")
        await maker.press("d")
        assert f"{drawn} is there already and is left as it is" in maker.read()
        assert drawn.read_bytes() == b"mine"
        lines = lines_of(page_of(maker).lines)
        await maker.press("n")
        assert lines_of(page_of(maker).lines) != lines


@pytest.mark.parametrize(
    ("project", "name"),
    [("Tidewater lap quilt", "tidewater-lap-quilt-cloth.svg"), ("../a/b.c", "a-b-c-cloth.svg"), ("¿?", "cloth.svg"),
     ("x" * 300, "x" * 54 + "-cloth.svg")],
)  # fmt: skip
def test_the_file_is_named_after_the_project(project: str, name: str) -> None:
    assert name_file(project) == name
