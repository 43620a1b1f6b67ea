"""Random projects are what they promise: valid, the same again, of every sort there is."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
import yaml
from brute_force import Draft, Patch, enumerate_trees
from drafts import cut_box, projects, write_project
from hypothesis import given, settings
from shapely import Polygon, unary_union  # type: ignore[import-untyped]

from planner.reading.read_project import read_project

SEEDS = range(150)


def load(text: str) -> dict[str, object]:
    loaded = yaml.load(text, Loader=yaml.BaseLoader)
    assert isinstance(loaded, dict)
    return loaded


def test_a_seed_gives_the_same_project_again() -> None:
    texts = [write_project(random.Random(seed)) for seed in SEEDS]
    assert texts == [write_project(random.Random(seed)) for seed in SEEDS]
    assert len(set(texts)) == len(texts)


@settings(max_examples=50, deadline=None)
@given(projects())
def test_every_project_is_read_without_a_fault(text: str) -> None:
    assert {"project", "fabrics", "blocks", "make"} <= load(text).keys()
    assert read_project(text)[1] == ()


@pytest.mark.parametrize(
    "word",
    [
        *(" / ", " \\ ", "|", "(", " turn 90", " turn 180", " turn 270", " mirrored", "mirrored turn", "parts:"),
        *(
            "{rows: ",
            "widths",
            "heights",
            "patches",
            "logs",
            "centre size",
            "width: [",
            "sides: [left, right, top, bottom]",
        ),
        *(
            "swap",
            "weight: heavy",
            "value: dark",
            "value: 10",
            "colour",
            "letter",
            "prefer",
            "handling",
            "thread",
            "seam",
        ),
        *(
            "measure: cm",
            "mm",
            "cm x",
            "1/2",
            " 1 1/2",
            "-1/2",
            ".5",
            "size: 12\n",
            "#",
            "lantern's red",
            "sjögrön",
            "2024",
        ),
    ],
)
def test_what_a_project_file_may_hold_comes_up(word: str) -> None:
    assert any(word in write_project(random.Random(seed)) for seed in SEEDS)


@pytest.mark.parametrize("seed", range(20))
def test_a_box_cut_at_random_is_filled_and_has_a_straight_tree(seed: int) -> None:
    chance = random.Random(seed)
    pieces = cut_box(chance, Fraction(12), Fraction(9), 7)
    polygons = [Polygon(piece) for piece in pieces]
    assert sum(polygon.area for polygon in polygons) == pytest.approx(108)
    assert unary_union(polygons).area == pytest.approx(108)
    draft = Draft(tuple(Patch("navy", tuple(piece)) for piece in pieces))
    assert len(pieces) > 3
    assert enumerate_trees(draft)
