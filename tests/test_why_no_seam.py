"""What is told of a point from the sides of the patches alone agrees with the seams that are sewn."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

import pytest
from bent_drafts import draw_patches, write_patches
from planned import plan_text, read_text

from planner.find_kept import find_kept
from planner.plan import plan_project
from planner.project import Keep
from planner.reading.read_project import read_project
from planner.reading.why_no_seam import BlockSides


@pytest.mark.parametrize("seed", range(12))
def test_a_point_is_right_just_where_one_seam_runs_through_it(seed: int) -> None:
    chance = random.Random(seed)
    text = write_patches(draw_patches(chance, 4, 3, 7), chance, 4, 3)
    plan = plan_text(text)
    project = read_text(text)
    sides = BlockSides(project.blocks[0])
    told = set()
    for x in range(1, 16):
        for y in range(1, 12):
            at = Fraction(x, 4), Fraction(y, 4)
            for toward in ("left", "down", "open"):
                one = Keep("cells", at, toward, 9, 1)
                _, faults = find_kept(replace(project, keep=(one,)), plan.units)
                why = sides.why_no_seam(at, toward, "in")
                told.add((why or "").partition(";")[0])
                if why is None or not why.startswith("a seam turns"):  # a turning seam alone can be kept open there
                    assert bool(faults) == (why is not None), (at, toward, why, faults)
    assert "no seam runs through this point" in told


HOPES = """
project: Tidewater hopes
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  hopes: {block: bright hopes, size: 6, fabrics: {dark: navy, medium: coral, centre: shell}}
  window: {block: attic windows, size: 6, fabrics: {pane: navy, dark: coral, light: shell}}
make: [{block: hopes, count: 1}, {block: window, count: 1}]
press:
  keep:
    - {block: BLOCK, at: "AT", toward: left}
"""


@pytest.mark.parametrize("block", ["hopes", "window"])
@pytest.mark.parametrize("at", ["1/2, 1/2", "3, 3", "5, 3 1/2", "1 1/2, 1 1/2", "2, 5 3/4"])
def test_every_point_that_is_named_instead_is_right(block: str, at: str) -> None:
    text = HOPES.replace("BLOCK", block).replace("left", "open")
    _, faults = read_project(text.replace("AT", at))
    (words,) = [fault.words for fault in faults]
    points = words.split('"')[1::2]
    assert len(points) == 3
    for point in points:
        plan, _ = plan_project(read_text(text.replace("AT", point)))
        assert plan is not None
        assert sum(map(len, plan.pressing.is_open)) in (1, 2)


def test_the_faults_of_all_entries_are_told_together() -> None:
    more = '    - {block: hopes, at: "9, 1", toward: left}\n    - {block: hopes, at: "1, 1 1/2", toward: left}\n'
    _, faults = read_project(HOPES.replace("BLOCK", "hopes").replace("AT", "3, 3") + more)
    assert [fault.where for fault in faults] == [
        "press, keep, entry 1", "press, keep, entry 2, at", "press, keep, entry 3"
    ]  # fmt: skip
