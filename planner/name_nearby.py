"""The points that are nearest to one, as a maker writes them behind `at`."""

from __future__ import annotations

from collections.abc import Iterable

from planner.measure import Measure, Ruler
from planner.surd import Exact, ExactPoint, to_length

_NEARBY = 3  # points that a fault names


def name_nearby(points: Iterable[ExactPoint], at: ExactPoint, measure: Measure) -> str:
    """`"3, 1 1/2" and "4, 2"`: inches in, the maker's measure out."""

    def far(point: ExactPoint) -> Exact:
        return (point[0] - at[0]) ** 2 + (point[1] - at[1]) ** 2

    nearest = sorted(sorted(set(points)), key=far)[:_NEARBY]
    ruler = Ruler(measure)
    return " and ".join(f'"{", ".join(ruler.as_written(to_length(place)) for place in spot)}"' for spot in nearest)
