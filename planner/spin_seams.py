"""Which seams can be spun: at a point where four seams meet, all four allowances run round it.

The last seam has one join there, and no other: on the one side of it the allowances fall to side a, on the other to
side b, and the two seams that it crosses fall opposite ways (common practice, no source). The centre then lies flat,
with no more than the layers of one seam everywhere.
"""

from __future__ import annotations

from planner.build_units import Units
from planner.find_joins import Join, Joins


def find_centres(units: Units, joins: Joins) -> dict[int, Join]:
    """The units whose last seam can be spun, and the join it is spun at."""
    found = {}
    for number, unit in enumerate(units.units):
        is_in_parts = unit.closes is not None or unit.open_rest is not None  # both parts are pressed one way
        if len(joins.joins[number]) == 1 and joins.meeting[number] == (1, 1) and not is_in_parts:
            (join,) = joins.joins[number]
            if join.at not in unit.seam:
                found[number] = join
    return found
