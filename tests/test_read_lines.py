"""Drafts of lines: fabrics in reading order or by points, many lines, and what is too much."""

from __future__ import annotations

import random
import re

import pytest
from shapes import draw_one, fill_once, tell_faults, write_block

from planner.reading.read_project import read_project

KITES = 'box: 4, lines: ["0,0 4,2", "0,0 2,4", "2,4 4,2"]'


def write_lines(chance: random.Random, count: int) -> str:
    """Lines from the upper to the lower side of a box of 12, or from its left to its right side."""
    ends = chance.sample([(one, other) for one in range(1, 12) for other in range(1, 12)], count)
    across = [chance.random() < 0.5 for _ in ends]
    return ", ".join(
        f'"0,{one} 12,{other}"' if level else f'"{one},0 {other},12"'
        for (one, other), level in zip(ends, across, strict=True)
    )


def test_fabrics_in_reading_order_are_those_named_by_points() -> None:
    listed = draw_one("6", f"{KITES}, faces: [shell, navy, coral, reed]")
    by_points = (
        '[{fabric: reed, at: "7/2,7/2"}, {fabric: navy, at: "2,2"}, {fabric: coral, at: "1,3"}, '
        '{fabric: shell, at: "3,1"}]'
    )
    assert draw_one("6", f"{KITES}, faces: {by_points}") == listed
    assert [polygon.area for _, polygon in listed] == [9, 13.5, 9, 4.5]


def test_one_entry_may_name_several_faces_by_a_point_in_each() -> None:
    several = '[{fabric: navy, at: "2,2 7/2,7/2"}, {fabric: shell, at: "3,1 1,3"}]'
    assert draw_one("6", f"{KITES}, faces: {several}") == draw_one("6", f"{KITES}, faces: [shell, navy, shell, navy]")


HOOK = 'box: 9, lines: ["0,0 9,8", "9,8 0,1", "0,0 9,9"]'  # between two of the lines there is little room
ROOTED = 'box: 2+r2, lines: ["1,0 1,1", "1,1 0,1", "1+r2,2+r2 1+r2,1+r2", "1+r2,1+r2 2+r2,1+r2"]'


@pytest.mark.parametrize("draft", [KITES, HOOK, ROOTED])
def test_the_points_told_where_fabrics_are_too_few_name_the_faces_in_reading_order(draft: str) -> None:
    (told,) = tell_faults("6", f"{draft}, faces: [navy]")
    points = re.findall(r'"([^"]+)"', told)
    fabrics = [("navy", "shell", "coral", "reed")[number % 4] for number in range(len(points))]
    by_points = ", ".join(f'{{fabric: {one}, at: "{at}"}}' for one, at in zip(fabrics, points, strict=True))
    assert draw_one("6", f"{draft}, faces: [{by_points}]") == draw_one("6", f"{draft}, faces: [{', '.join(fabrics)}]")


@pytest.mark.parametrize("seed", range(4))
def test_a_dozen_lines_from_anywhere_to_anywhere_are_drawn(seed: int) -> None:
    lines = write_lines(random.Random(seed), 12)
    (told,) = tell_faults("12", f"box: 12, lines: [{lines}], faces: [navy]")
    many = int(told.split("for ")[1].split(" ")[0])
    shapes = draw_one("12", f"box: 12, lines: [{lines}], faces: [{', '.join(['navy'] * many)}]")
    assert len(shapes) == many > 20
    assert fill_once(shapes, 12, 12)


def test_lines_that_meet_in_points_of_too_many_fractions_are_told() -> None:
    lines = write_lines(random.Random(1), 40)
    told = tell_faults("12", f"box: 12, lines: [{lines}], faces: [navy]")
    assert told == [
        "block wave, lines: these lines cross in points with too many different fractions; "
        "let more of them meet in one point"
    ]


def test_more_than_60_lines_are_told() -> None:
    lines = ", ".join(f'"0,{at} 70,{at}"' for at in range(1, 62))
    told = tell_faults("12", f"box: 70, lines: [{lines}], faces: [navy]")
    assert told == ["block wave, lines: 61 lines are too many for one draft, at most 60; make parts of it"]


def test_sixty_lines_are_read_soon() -> None:
    lines = ", ".join([f'"0,{at} 31,{at}"' for at in range(1, 31)] + [f'"{at},0 {at},31"' for at in range(1, 31)])
    points = " ".join(f"{x}.5,{y}.5" for y in range(31) for x in range(31))
    project, faults = read_project(
        write_block("31", f'box: 31, lines: [{lines}], faces: [{{fabric: navy, at: "{points}"}}]')
    )
    assert faults == ()
    assert project is not None
    assert len(project.blocks[0].draft.patches) == 961  # type: ignore[union-attr]
