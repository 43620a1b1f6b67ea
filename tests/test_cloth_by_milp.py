"""Layouts against the proven least of an integer program, whose strips are patterns of pieces."""

from __future__ import annotations

from fractions import Fraction

import pytest
from layouts import draw_rectangles, lay_sample, make_fabric
from least_length import measure_least
from planned import SAMPLES

from planner.cloth.cloth import lay_out_fabric


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_within_three_per_cent_of_the_proven_least_and_never_below(name: str) -> None:
    for one in lay_sample(name).fabrics:
        least = measure_least(one.rectangles, one.fabric.usable)
        assert one.at_least <= least <= one.length <= least * Fraction(103, 100)


@pytest.mark.parametrize("seed", range(12))
def test_pieces_at_random_are_near_the_proven_least_and_never_below(seed: int) -> None:
    rectangles = draw_rectangles(seed)[:3]
    one = lay_out_fabric(make_fabric(20), rectangles)
    least = measure_least(rectangles, Fraction(20))
    assert one.at_least <= least <= one.length <= least * Fraction(103, 100)
