"""What comes out of a fat quarter that is there already, against a chart: SQ-5 of the project's check values."""

from __future__ import annotations

from fractions import Fraction

import pytest

from planner.cloth.cloth import lay_out_fabric
from planner.cloth.rectangles import Rectangle
from planner.measure import read_number
from planner.project import Fabric

# Squares from 18 x 22: M. Hohn, Math charts, 17 June 2002, and docsbay.net, number of squares from a fat quarter
CHART = (
    "2: 99, 2 1/2: 56, 2 7/8: 42, 3: 42, 3 1/2: 30, 3 7/8: 20, 4: 20, 4 1/2: 16, 4 7/8: 12, 5: 12, 5 1/2: 12, "
    "5 7/8: 9, 6: 9, 6 1/2: 6, 6 7/8: 6"
)


@pytest.mark.parametrize(("side", "count"), [pair.split(": ") for pair in CHART.split(", ")])
def test_a_fat_quarter_gives_the_squares_of_the_chart_and_no_more(side: str, count: str) -> None:
    wide = read_number(side)
    pieces = [Rectangle("navy", wide, wide, True, int(count) + 1, 1, "square")]
    stock = ((Fraction(18), Fraction(22)),)
    one = lay_out_fabric(Fabric("navy", 9, "dark", "medium", None, "na", 1, stock=stock), pieces)
    assert one.missing == (1,)
