"""What a maker is told while cutting: rows in wide strips, what is ruined and whether the cloth does, the fabric at
hand."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from benches import bench_on, done_until, sheet_of
from planned import plan_sample, plan_text

from planner.cloth.spare_cloth import find_spare
from planner.say_step import Speaker
from planner.sheet import CutWork, Sheet, StripWork, assign_letters, write_sheet
from tui.bench import Bench
from tui.draw_cut import draw_strips
from tui.screens.cloth import ClothScreen, tell_fabric
from tui.screens.pages import cuts_page
from tui.view_step import KEYS

STARS = """
project: Inlet stars
fabrics:
  slate: {value: dark}
  shell: {value: light}
  coral: {value: medium, stock: [18 x 21, 18 x 21, 9 x 14]}
blocks:
  saw star: {block: sawtooth star, size: 8, fabrics: {dark: coral, light: shell, centre: slate}}
  compass star: {block: eight-pointed star, size: 8, fabrics: {dark: slate, medium: coral, light: shell}}
make: [{block: saw star, count: 8}, {block: compass star, count: 8}]
"""


@contextmanager
def bench_at(name: str, number: int, done: int = 0) -> Iterator[Bench]:
    with TemporaryDirectory() as folder:
        file = Path(folder) / f"{name}.yaml"
        with bench_on(file, plan_sample(name), *done_until(sheet_of(name), number, done)) as bench:
            yield bench


def find_cut(sheet: Sheet, fabric: str, is_strip: bool) -> int:
    """The number of the first step at which a fabric is cut."""
    for number, step in enumerate(sheet.steps):
        work = step.work
        if isinstance(work, StripWork if is_strip else CutWork):
            here = work.cut.fabric if isinstance(work, StripWork) else work.entry.fabric
            if here == fabric:
                return number
    raise AssertionError(fabric)


def test_rows_that_lie_in_a_wide_strip_are_cut_off_first_and_laid_before_the_maker() -> None:
    sheet = write_sheet(plan_text(STARS))
    speaker = Speaker(sheet, assign_letters(sheet))
    rows = [
        step.work
        for step in sheet.steps
        if isinstance(step.work, CutWork)
        and any(source.row and source.high != source.row.high for source in step.work.sources)
    ]
    assert rows, "diamonds across a fat quarter's strip"
    for step in sheet.steps:
        if step.work not in rows:
            continue
        does = speaker.say(step).does
        (first,) = [place for place, line in enumerate(does) if line.startswith("First cut off 5 rows 2 3/16 wide, ")]
        assert "across the strip 17 11/16 wide of piece 1" in does[first]
        assert does[first + 1] == "Lay each row before you, its length from left to right"
        assert does[first + 2].startswith("Cut the left end at 45 degrees")


def test_the_picture_of_a_piece_of_the_stock_shows_squares_without_slanting_cuts() -> None:
    sheet = write_sheet(plan_text(STARS))
    speaker = Speaker(sheet, assign_letters(sheet))
    stock = [step.work.cut for step in sheet.steps if isinstance(step.work, StripWork) and step.work.cut.piece == 1]
    canvas = draw_strips(speaker, stock[0], 77, 9)
    assert canvas is not None
    rows = ["".join(cell.text for cell in row) for row in canvas]
    assert any("18 of 2 7/8" in row for row in rows)
    assert not any(sign in row for row in rows for sign in "╱╲")


@pytest.mark.parametrize("height", [4, 7, 8, 10])
def test_a_picture_that_leaves_sorts_of_strips_out_says_how_many(height: int) -> None:
    sheet = sheet_of("lantern-logs")
    speaker = Speaker(sheet, assign_letters(sheet))
    cuts = [step.work.cut for step in sheet.steps if isinstance(step.work, StripWork)]
    cut = max(cuts, key=lambda one: len(one.strips))
    assert len(cut.strips) == 3
    canvas = draw_strips(speaker, cut, 77, height)
    assert canvas is not None
    assert len(canvas) <= height
    rows = ["".join(cell.text for cell in row).rstrip() for row in canvas]
    shown = sum(" x " in row for row in rows)
    more = {0: "", 1: "; and 1 more sort of strip", 2: "; and 2 more sorts of strip"}[3 - shown]
    assert rows[0] == f"↕ grain{more}"


def test_a_ruined_strip_tells_how_much_of_the_spare_cloth_it_takes_until_that_is_not_enough() -> None:
    sheet = sheet_of("harbour-stars")
    number = find_cut(sheet, "slate", is_strip=True)
    with bench_at("harbour-stars", number) as bench:
        assert bench.sheet.cloth is not None
        one = next(one for one in bench.sheet.cloth.fabrics if one.fabric.name == "slate")
        spare = find_spare(one)
        assert spare >= one.bought.margin >= Fraction(13, 2)
        told = bench.spoil(counted=False).words
        assert told.startswith("One spoiled: one more is to cut. 1 strip of 6 1/2 in more: 6 1/2 in of the spare ")
        assert told.endswith("; still enough")
        ruined = Fraction(13, 2)
        while ruined <= spare:
            told = bench.spoil(counted=False).words
            ruined += Fraction(13, 2)
        assert told.endswith(" beyond what was to be bought")
        bought = next(tell_fabric(one, bench.speaker.ruler, ruined)).text
        assert bought.startswith("Buy ")
        assert bought.endswith("in beyond what was to be bought")
        assert "ruined" not in next(tell_fabric(one, bench.speaker.ruler)).text


def test_at_a_ruined_cut_nothing_is_said_of_sewing() -> None:
    number = find_cut(sheet_of("harbour-stars"), "slate", is_strip=False)
    with bench_at("harbour-stars", number) as bench:
        told = bench.spoil(counted=False).words
        assert told.startswith("One spoiled: one more is cut in its place, out of ")
        assert "strip more" in told
        assert "sew" not in told


def test_the_pages_of_cloth_and_cuts_open_at_the_fabric_at_hand() -> None:
    sheet = sheet_of("harbour-stars")
    last = next(one for one in reversed(sheet.steps) if isinstance(one.work, CutWork))
    assert isinstance(last.work, CutWork)
    with bench_at("harbour-stars", sheet.steps.index(last)) as bench:
        page = cuts_page(bench, KEYS)
        assert page.lines._lines[page.lines._start].text == last.work.entry.fabric  # type: ignore[union-attr]
        cloth = ClothScreen(bench, KEYS)
        assert sheet.cloth is not None
        assert sheet.cloth.fabrics[cloth._fabric].fabric.name == last.work.entry.fabric != "slate"


def test_pieces_that_are_needed_no_more_name_the_pile_they_can_be_cut_down_for() -> None:
    text = """
project: Inlet bars
fabrics: {slate: {value: dark}, shell: {value: light}}
blocks: {long: {size: 40 x 4, rows: [[slate, shell]]}, short: {size: 24 x 4, rows: [[slate, shell]]}}
make: [{block: long, count: %s}, {block: short, count: %s}]
"""
    before = write_sheet(plan_text(text % (4, 1)))
    number = next(number for number, step in enumerate(before.steps) if isinstance(step.work, CutWork)) + 1
    with TemporaryDirectory() as folder:
        file = Path(folder) / "bars.yaml"
        with bench_on(file, plan_text(text % (4, 1)), *done_until(before, number)):
            pass
        with bench_on(file, plan_text(text % (2, 4))) as bench:
            (told,) = [line for line in bench.name_surplus() if " cut (" in line]
            assert told == "2 of A cut (slate 4 1/2 x 20 1/2; to cut down for B)"
