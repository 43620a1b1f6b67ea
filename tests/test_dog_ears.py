"""Where a step trims dog ears, reckoned apart: raw outlines round each end of a seam, in floating numbers."""

from __future__ import annotations

from collections.abc import Iterator
from math import dist

import pytest
from planned import plan_text
from shapely import LineString, Point, Polygon, affinity, union_all  # type: ignore[import-untyped]
from test_say_bends import DRAWN, SEEDS, as_floats, from_shelf, plan_at_random, plan_drawn

from planner.build_units import Side, Unit
from planner.plan import Plan
from planner.sheet import SewWork, has_dog_ears, write_sheet

Spot = tuple[float, float]
ALLOWANCE = 0.25
NEAR = 0.01  # inches: closer to a corner than anything else is
FAR = 200.0  # how much larger what is near is drawn, so that its raw edges can be


def patches_of(plan: Plan, number: int, side: Side | None) -> list[Polygon]:
    placed = plan.units.place_patches(side or Side(number, 0, 0, 0))
    return [Polygon(as_floats(plan, plan.units.cuts.outline(one))) for one in placed]


def slits_of(plan: Plan, unit: Unit) -> list[LineString]:
    return [LineString(as_floats(plan, slit)) for slit in (*unit.slits, *filter(None, (unit.open_rest,)))]


def cut_round(cloth: list[Polygon], slits: list[LineString], at: Spot, along: Spot) -> Polygon:
    """What hangs together round an end, within a small circle, at the seam that leaves it toward a point."""
    whole = union_all([patch.buffer(1e-9) for patch in cloth], grid_size=1e-8)
    here = whole.intersection(Point(at).buffer(NEAR))
    for slit in slits:
        here = here.difference(slit.buffer(1e-6, cap_style="flat"))
    long = dist(at, along)
    near = Point(*(a + (b - a) / long * NEAR / 2 for a, b in zip(at, along, strict=True)))
    return min(getattr(here, "geoms", [here]), key=lambda bit: bit.distance(near))


def sticks_out(at: Spot, along: Spot, halves: list[Polygon], whole: Polygon) -> bool:
    """Whether allowance of the seam lies past the raw edge of the unit at its end."""
    share = whole.area / (3.14159 * NEAR * NEAR)
    if share > 0.51:  # the seam ends in the cloth, or in an inner corner
        return False

    # As large as if the two were seen whole, up to where nothing else matters
    def enlarge(bit: Polygon) -> Polygon:
        return affinity.scale(bit, FAR / NEAR, FAR / NEAR, origin=at).simplify(0.01)

    raw = enlarge(whole).buffer(ALLOWANCE, join_style="mitre", mitre_limit=100)
    long = dist(at, along)
    ahead = ((along[0] - at[0]) / long, (along[1] - at[1]) / long)
    seam = LineString([(at[0] + ahead[0] * far, at[1] + ahead[1] * far) for far in (-FAR, FAR)])
    strip = seam.buffer(ALLOWANCE, cap_style="flat")
    for half in halves:
        own = enlarge(half).buffer(ALLOWANCE, join_style="mitre", mitre_limit=100)
        middle = enlarge(half).representative_point()
        cross = ahead[0] * (middle.y - at[1]) - ahead[1] * (middle.x - at[0])
        beyond = seam.buffer(ALLOWANCE if cross < 0 else -ALLOWANCE, single_sided=True)
        allowance = own.intersection(beyond)  # it lies there, or folded back

        folded = reflect(allowance, at, ahead)
        for lying in (allowance, folded):
            if lying.intersection(Point(at).buffer(20)).intersection(strip).difference(raw).area > 1e-3:
                return True
    return False


def reflect(shape: Polygon, at: Spot, ahead: Spot) -> Polygon:
    """A shape folded over the line through a point."""
    (ux, uy), (px, py) = ahead, at
    a, b = ux * ux - uy * uy, 2 * ux * uy
    return affinity.affine_transform(shape, [a, b, b, -a, px - a * px - b * py, py - b * px + a * py])


def ends_of(plan: Plan, unit: Unit) -> Iterator[tuple[Spot, Spot]]:
    way = as_floats(plan, unit.legs or unit.seam)
    yield way[0], way[1]
    yield way[-1], way[-2]


def must_be_trimmed(plan: Plan, number: int) -> bool:
    unit = plan.units.units[number]
    slits = slits_of(plan, unit)
    for at, along in ends_of(plan, unit):
        cloth = patches_of(plan, number, None)
        whole = cut_round(cloth, slits, at, along)
        seam = LineString([at, along]).buffer(1e-6, cap_style="square")
        halves = [bit for bit in getattr(whole.difference(seam), "geoms", []) if bit.area > 1e-9]
        if sticks_out(at, along, halves, whole):
            return True
    return False


def check(plan: Plan) -> int:
    seen = 0
    for number in {step.work.chain.unit for step in write_sheet(plan).steps if isinstance(step.work, SewWork)}:
        expected = must_be_trimmed(plan, number)
        assert has_dog_ears(plan, number) == expected, (number, plan.units.units[number])
        seen += expected
    return seen


@pytest.mark.parametrize("name", DRAWN)
def test_dog_ears_are_trimmed_where_raw_outlines_show_some(name: str) -> None:
    assert bool(check(plan_drawn(name))) == (name not in ("windmill", "nested", "bright hopes"))


@pytest.mark.parametrize("seed", SEEDS)
def test_nothing_is_trimmed_where_all_edges_meet_square(seed: int) -> None:
    assert check(plan_at_random(seed)) == 0


@pytest.mark.parametrize("name", ["sawtooth star", "kaleidoscope", "pinwheel", "ohio star"])
def test_dog_ears_of_triangles_are_found_apart(name: str) -> None:
    assert check(plan_text(from_shelf(name)))
