"""Pictures of what joins the quilt: piece by piece where patches cannot be told, and true wherever edges meet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest
from planned import SAMPLES, plan_sample, plan_text
from quilts import QUILTS

from planner.blocks import Outline
from planner.name_piles import Chain, Outcome
from planner.say_step import Speaker
from planner.sheet import SewWork, UnitWork, assign_letters, write_sheet
from planner.surd import Grid
from tui.box_layout import find_joint, find_ring, show_pieces
from tui.canvas import Canvas, Easel
from tui.draw import draw_outcome, draw_pair, draw_pile
from tui.paint_scene import MARKS
from tui.place_quilt import find_pieces

SIZES = [(56, 7), (76, 9), (74, 19)]  # of pictures of sewing steps on terminals of 60x20, 80x24, 120x40
WAYS = ("up", "up and to the right", "to the right", "down and to the right", "down", "down and to the left",
        "to the left", "up and to the left")  # fmt: skip
LEFT_AND_RIGHT = re.compile(r"Left \S+?(?: \(mark ([^)]+)\))?, right \S+?(?: \(mark ([^)]+)\))?: turn ")
MITRED = """
project: Tidewater frame
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  four patch: {size: 6, rows: [[navy, shell], [shell, navy]]}
quilt:
  rows: [[four patch, four patch], [four patch, four patch]]
  border: {width: 2, fabric: coral, corners: mitred}
"""
PLANS = {**QUILTS, "mitred": MITRED}


@cache
def speaker_of(name: str) -> Speaker:
    sheet = write_sheet(plan_text(PLANS[name]) if name in PLANS else plan_sample(name))
    return Speaker(sheet, assign_letters(sheet))


def quilts() -> list[str]:
    return [name for name in (*PLANS, *SAMPLES) if speaker_of(name).plan.blocks.top is not None]


def joining_chains(speaker: Speaker) -> Iterator[Chain]:
    for step in speaker.sheet.steps:
        if isinstance(step.work, SewWork) and find_joint(speaker.plan, step.work.chain.unit) is not None:
            yield step.work.chain


def joining_outcomes(speaker: Speaker) -> Iterator[tuple[Chain, Outcome]]:
    chains = {chain.name for chain in joining_chains(speaker)}
    for step in speaker.sheet.steps:
        if isinstance(step.work, UnitWork) and step.stage == "press" and step.work.chain.name in chains:
            yield step.work.chain, step.work.outcome


def words_of(speaker: Speaker, chain: Chain) -> str:
    """What the hands do first at a seam."""
    step = next(
        step for step in speaker.sheet.steps if isinstance(step.work, SewWork) and step.work.chain.name == chain.name
    )
    return speaker.say(step).does[0]


def text_of(canvas: Canvas | None) -> list[str]:
    return ["".join(cell.text for cell in row).rstrip() for row in canvas or ()]


def picture(text: str) -> list[str]:
    """A picture drawn in a test, its left border cut off."""
    return [line.split("|", 1)[1].rstrip() for line in text.strip().split("\n")]


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
@pytest.mark.parametrize("name", quilts())
def test_pictures_of_joined_units_fit_and_their_marks_point_as_told(name: str, size: tuple[int, int]) -> None:
    speaker = speaker_of(name)
    seen = 0
    for chain in joining_chains(speaker):
        canvas = draw_pair(speaker, chain, *size)
        if canvas is None:
            continue
        seen += 1
        assert len(canvas) <= size[1]
        assert {len(row) for row in canvas} == {len(canvas[0])}
        assert len(canvas[0]) <= size[0]
        edges = [[column for column, cell in enumerate(row) if cell.text in "║╫"] for row in canvas]
        assert {len(columns) for columns in edges} <= {0, 2}
        left, right = next(columns for columns in edges if columns)
        told = LEFT_AND_RIGHT.match(words_of(speaker, chain))
        if told is None:
            continue  # it hangs on a web
        for way, columns in zip(told.groups(), (range(left), range(right, len(canvas[0]))), strict=True):
            marks = [row[column].text for row in canvas for column in columns if row[column].role == "mark"]
            assert marks == ([MARKS[WAYS.index(way)]] if way else [])
    assert seen


@pytest.mark.parametrize("name", quilts())
def test_at_80_columns_every_seam_that_joins_a_small_quilt_has_a_picture(name: str) -> None:
    speaker = speaker_of(name)
    assert [chain.name for chain in joining_chains(speaker) if draw_pair(speaker, chain, 76, 9) is None] == []
    for chain, outcome in joining_outcomes(speaker):
        assert draw_outcome(speaker, chain, outcome, 76, 12) is not None
        assert draw_pile(speaker, outcome.pile, 76, 12) is not None


def picture_of(name: str, unit: str, width: int, height: int) -> list[str]:
    """The picture of the seam that makes a unit of this name, below its heading."""
    speaker = speaker_of(name)
    (chain,) = (one for one in joining_chains(speaker) if speaker.plan.words.name(one.unit) == unit)
    return text_of(draw_pair(speaker, chain, width, height))[1:]


def test_every_block_is_a_box_with_its_number_and_every_strip_has_its_letter() -> None:
    assert picture_of("lap", "the quilt without its border", 76, 9) == picture(
        """
        |     ┌────┬──╫ in first ╫────┬──┬────┐    1 nine patch
        |     │  1 │c ║          ║  2 │c │  3 │    2 pinwheel
        |     ├────┼─↑╫╌╌╌╌╌╌╌╌╌╌╫↓───┼──┼────┤    3 flag
        |     │ c c│n ║          ║◀c c│n │ c c│
        |     ├────┼─↓╫╌╌╌╌╌╌╌╌╌╌╫↑───┼──┼────┤
        |     │  2 │c ║          ║  1 │c │  2 │
        |     └───▼┴──╫╌╌╌╌╌╌╌╌╌╌╫────┴──┴────┘
        """
    )


def test_what_a_border_is_sewn_to_is_one_piece() -> None:
    assert picture_of("lap", "the quilt", 56, 10) == picture(
        """
        |         ┌──╫ in first ╫───────────┬──┐
        |         │n ║          ║ s s s s s │n │
        |         ├─↓╫╌╌╌╌╌╌╌╌╌╌╫↑──────────┼──┤
        |         │s ╫╌╌╌╌╌╌╌╌╌╌╫           │s │
        |         ◀s ╫╌╌╌╌╌╌╌╌╌╌╫ the quilt │s ▶
        |         │s ╫╌╌╌╌╌╌╌╌╌╌╫           │s │
        |         ├─↑╫╌╌╌╌╌╌╌╌╌╌╫↓──────────┼──┤
        |         │n ║          ║ s s s s s │n │
        |         └──╫╌╌╌╌╌╌╌╌╌╌╫───────────┴──┘
        """
    )


def test_what_is_set_in_reaches_beyond_the_edge_where_the_other_slants_away() -> None:
    assert picture_of("mitred", "the quilt", 76, 9) == picture(
        """
        |         ╷          ╶─────────────────┐    ╷─────────────────┐
        |         ▲c╲          ╲ c c c c c c c╱│    │c╲ c c c c c c c╱│
        |         │c ╫ in first ╫───────────┐c │    │c ┎───────────┐c │
        |         │c ╫╌╌╌╌╌╌╌╌╌╌╫ the quilt │c ▶    │c ┃ the quilt │c │
        |         │c ╫╌╌╌╌╌╌╌╌╌╌╫           │c │    │c ┃           │c │
        |         │c ╫╌╌╌╌╌╌╌╌╌╌╫───────────┘c │    │c ┖───────────┘c │
        |         │c╱          ╱ c c c c c c c╲│    │c╱ c c c c c c c╲│
        |         ╵          ╶─────────────────┘    ╵─────────────────┘
        """
    )


def test_the_pieces_of_a_picture_fill_what_they_are_pieces_of() -> None:
    for name in quilts():
        plan = speaker_of(name).plan
        top = plan.blocks.top
        assert top is not None
        for chain in joining_chains(speaker_of(name)):
            joint = find_joint(plan, chain.unit)
            assert joint is not None
            pieces = show_pieces(plan, joint, joint, lambda point: point)
            held = find_pieces(plan, joint)
            if find_ring(plan, joint) is None:
                assert len(pieces) == len(held)
                assert sum(not piece.is_strip for piece in pieces) == sum(top.pieces[one].block >= 0 for one in held)
            elif not top.on_point:
                assert [piece.label for piece in pieces if not piece.is_strip] == ["the quilt"]
                unit = plan.units.units[chain.unit]
                area = sum(plan.units.cuts.shapes[shape].twice_area for _, _, shape in unit.patches)
                assert sum(twice_area(piece.outline) for piece in pieces) == area


def twice_area(outline: Outline) -> Grid:
    return sum(ax * by - ay * bx for (ax, ay), (bx, by) in zip(outline, outline[1:] + outline[:1], strict=True))


def test_words_stand_once_in_the_middle_and_lack_only_where_there_is_no_room() -> None:
    easel = Easel(9, 3)
    easel.fill(0, ((0, 0), (5, 0), (5, 3), (0, 3)))
    easel.fill(1, ((5, 0), (9, 0), (9, 3), (5, 3)))
    easel.write_letters(("12", "s"), once=(0,))
    assert ["".join(cell.text for cell in row) for row in easel.rows(("navy", "shell"))] == [
        "      s s",
        "  12  s s",
        "      s s",
    ]
    assert easel.letters_of == {0: 1, 1: 6}
    narrow = Easel(2, 2)
    narrow.fill(0, ((0, 0), (2, 0), (2, 2), (0, 2)))
    narrow.write_letters(("the quilt",), once=(0,))
    assert narrow.letters_of == {}
    narrow.write_letters(("",), once=(0,))
    assert narrow.letters_of == {0: 1}  # nothing to write: nothing lacks
