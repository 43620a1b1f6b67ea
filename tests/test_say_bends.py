"""The words of seams beside inner corners: where they begin and stop, which edges are even, told and reckoned apart."""

from __future__ import annotations

import random
import re
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import atan2, degrees, dist, sqrt
from pathlib import Path

import pytest
import yaml
from benches import Clock, bench_on
from bent_drafts import BENT, FABRICS, draw_patches, write_patches, write_quilt
from planned import plan_text, read_text
from shapely import LineString, Point, Polygon, union_all  # type: ignore[import-untyped]

from planner.blocks import Point as Corner
from planner.blocks import tidy_outline
from planner.build_units import Seam, Side, Unit
from planner.measure import spell_number
from planner.merge_outlines import merge_outlines
from planner.plan import Plan, plan_project
from planner.print_sheet import print_as_sewn, print_sheet
from planner.say_step import Speaker
from planner.session import fold
from planner.sheet import SewWork, Sheet, assign_letters, feed_of, write_sheet
from planner.surd import Exact, Surd, approach
from tui.app import SeamrunApp
from tui.draw_step import draw_step
from tui.lay_out_card import lay_out_card
from tui.settings import Settings
from tui.view_step import view_step

Spot = tuple[float, float]
Cell = tuple[int, int]
# The last three: an edge that goes on to an inner corner, twice, and two seams open at a time
SEEDS = (*range(40), 462, 753, 2989)
SHELVES = Path(__file__).parent.parent / "projects" / "blocks"


def from_shelf(name: str) -> str:
    """A project with a block of the shelf."""
    file = SHELVES / f"{name.replace(' ', '-').replace(chr(39), '')}.yaml"
    roles = yaml.load(file.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["roles"]
    worn = ", ".join(f"{role}: {('navy', 'shell', 'coral')[place % 3]}" for place, role in enumerate(roles))
    block = f'  it: {{block: "{name}", fabrics: {{{worn}}}}}'
    return f"project: Tidewater\n{FABRICS}\nblocks:\n{block}\nmake: [{{block: it, count: 2}}]\n"


HEXAGONS = f"""
project: Tidewater field
{FABRICS}
blocks:
  field: {{size: 6r3 x 10, hexagons: {{rows: [[navy, shell], [shell, coral, navy], [navy, shell]], edge: coral}}}}
make: [{{block: field, count: 1}}]
"""
SHELF = ("attic windows", "grandmother's flower garden", "eight-pointed star", "six-pointed star", "bright hopes",
         "tumbling blocks")  # fmt: skip
DRAWN = {**BENT, "hexagons": HEXAGONS, **{name: from_shelf(name) for name in SHELF}}


def draw_text(seed: int) -> str:
    """A block on a grid by chance."""
    chance = random.Random(seed)
    wide, high = chance.choice([(3, 3), (3, 4), (4, 4), (4, 5), (5, 5), (6, 6)])
    outlines = draw_patches(chance, wide, high, chance.choice([4, 5, 6, 7, 8, 10]))
    return write_patches(outlines, chance, wide, high)


@cache
def plan_at_random(seed: int) -> Plan:
    plan, faults = plan_project(read_text(draw_text(seed)))
    assert plan is not None, faults
    return plan


@cache
def plan_drawn(name: str) -> Plan:
    return plan_text(DRAWN[name])


def speak(plan: Plan) -> tuple[Sheet, Speaker]:
    sheet = write_sheet(plan)
    return sheet, Speaker(sheet, assign_letters(sheet))


def words_of_units(plan: Plan) -> dict[int, str]:
    """What is said of each unit's last seam."""
    sheet, speaker = speak(plan)
    return {
        step.work.chain.unit: ". ".join(speaker.say(step).does)
        for step in sheet.steps
        if isinstance(step.work, SewWork)
    }


# -- all of it is said


@pytest.mark.parametrize("seed", SEEDS)
def test_a_sheet_of_blocks_with_inner_corners_is_written_whole(seed: int) -> None:
    plan = plan_at_random(seed)
    sheet, speaker = speak(plan)
    for step in sheet.steps:
        words = speaker.say(step).in_one_line
        assert " -" not in words
    assert print_sheet(sheet).count("\n") > len(sheet.steps)
    assert print_as_sewn(fold((), sheet)).startswith("Tidewater cells\n")


@pytest.mark.parametrize("seed", range(4))
def test_a_sheet_of_quilts_with_inner_corners_is_written_whole(seed: int) -> None:
    sheet = write_sheet(plan_text(write_quilt(random.Random(seed))))
    assert print_sheet(sheet).count("\n") > len(sheet.steps)


# -- outlines


def as_floats(plan: Plan, outline: Iterable[Corner]) -> list[Spot]:
    inches = plan.blocks.inches
    return [(to_float(inches(x)), to_float(inches(y))) for x, y in outline]


def to_float(number: Exact) -> float:
    if isinstance(number, Surd):
        return float(number.plain) + float(number.times) * sqrt(number.of)
    return float(number)


def shape_of(plan: Plan, side: Side) -> Polygon:
    outlines = (plan.units.cuts.outline(placed) for placed in plan.units.place_patches(side))
    whole = union_all([Polygon(as_floats(plan, outline)) for outline in outlines], grid_size=1e-7)
    return whole.simplify(1e-6)


@pytest.mark.parametrize("plan", [*map(plan_at_random, range(12)), *map(plan_drawn, DRAWN)])
def test_the_outline_of_a_unit_is_that_of_its_patches_together(plan: Plan) -> None:
    for number, unit in enumerate(plan.units.units):
        told = Polygon(as_floats(plan, plan.words.outline(number)))
        whole = shape_of(plan, Side(number, 0, 0, 0))
        assert isinstance(whole, Polygon)
        assert told.buffer(0).symmetric_difference(whole).area < 1e-6
        area = sum(plan.units.cuts.shapes[shape].twice_area for _, _, shape in unit.patches)
        corners = plan.words.outline(number)
        pairs = zip(corners, corners[1:] + corners[:1], strict=True)
        assert sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs) == area


def test_an_outline_that_touches_itself_passes_there_twice() -> None:
    """Seven cells of a ring of eight: the two beside the missing one touch in a point, and all meet round a hole."""
    below = ((0, 0), (1, 0), (1, 1), (0, 1), (0, 3), (-1, 3), (-1, 0))
    above = ((0, 2), (1, 2), (1, 1), (2, 1), (2, 3), (0, 3))
    merged = merge_outlines(tidy_outline(below), tidy_outline(above))
    assert merged == tidy_outline(merged)
    assert merged.count((1, 1)) == 2
    assert Polygon(merged).buffer(0).area == 4 + 3
    twice = sum(ax * by - ay * bx for (ax, ay), (bx, by) in zip(merged, merged[1:] + merged[:1], strict=True))
    assert twice == 2 * (4 + 3)


# -- edges: on a grid, by the four cells round an end


class Lines:
    """The words of one end of a straight seam, from the cells that both sides fill. Coordinates in inches: a cell is a
    square of an inch."""

    def __init__(self, plan: Plan, unit: Unit, side: Side) -> None:
        self.cells: set[Cell] = set()
        scale = plan.blocks.scale
        for placed in plan.units.place_patches(side):
            patch = Polygon(as_floats(plan, plan.units.cuts.outline(placed)))
            left, top, right, bottom = map(round, patch.bounds)
            self.cells |= {
                (x, y)
                for x in range(left, right)
                for y in range(top, bottom)
                if patch.buffer(-0.1).covers(Polygon([(x + a, y + b) for a, b in ((0.4, 0.4), (0.6, 0.4), (0.5, 0.6))]))
            }
        slits = plan.units.units[side.unit].slits
        self.slits = [
            tuple(
                (Fraction(approach(x)) / scale, Fraction(approach(y)) / scale)
                for x, y in plan.units.place_points(slit, side)
            )
            for slit in slits
        ]

    def find_end(self, end: Cell, ahead: Cell, inside: Cell) -> tuple[int, bool]:
        """How far the edge goes on beyond an end, and whether it ends at an inner corner. `ahead` is the way on,
        `inside` the way to the side's own cloth."""
        (x, y), (dx, dy), (ix, iy) = end, ahead, inside
        for far in range(100):
            px, py = x + far * dx, y + far * dy
            beyond = self.has(px, py, dx + ix, dy + iy) and not self._is_slit(px, py, ix, iy)
            if not beyond:
                return far, False
            if self.has(px, py, dx - ix, dy - iy) and not self._is_slit(px, py, dx, dy):
                return far, True
        raise AssertionError("an edge without an end")

    def has(self, x: int, y: int, dx: int, dy: int) -> bool:
        """Whether the cell that lies diagonally of a point is cloth of the side."""
        return (x + min(dx, 0), y + min(dy, 0)) in self.cells

    def _is_slit(self, x: int, y: int, dx: int, dy: int) -> bool:
        """Whether a slit leaves a point in a direction."""
        near = (x + dx * Fraction(1, 8), y + dy * Fraction(1, 8))
        return any(
            min(p[0], q[0]) <= near[0] <= max(p[0], q[0]) and min(p[1], q[1]) <= near[1] <= max(p[1], q[1])
            for p, q in self.slits
        )


def tell_ends(plan: Plan, number: int, names: tuple[str, str]) -> dict[str, str]:
    """What must be said of the upper and of the lower end of a straight seam on a grid."""
    unit, feed, scale = plan.units.units[number], feed_of(plan, number), plan.blocks.scale
    assert unit.a is not None
    assert unit.b is not None
    first, last = ((int(approach(x)) // scale, int(approach(y)) // scale) for x, y in (feed.first, feed.last))
    sides = (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b)
    told = {}
    for which, (ex, ey), (ox, oy) in (("upper", first, last), ("lower", last, first)):
        ahead = ((ex > ox) - (ex < ox), (ey > oy) - (ey < oy))
        beyond = []
        for side in sides:
            lines = Lines(plan, unit, side)
            inside = next(
                way
                for way in ((ahead[1], ahead[0]), (-ahead[1], -ahead[0]))
                if lines.has(ex, ey, way[0] - ahead[0], way[1] - ahead[1])
            )
            beyond.append(lines.find_end((ex, ey), ahead, inside))
        inner = [(name, far) for name, (far, is_inner) in zip(names, beyond, strict=True) if is_inner]
        if inner:
            name, far = inner[0]
            goes_on = f"{name} goes on {far} (finished) to its inner corner"
            told[which] = goes_on if far else f"the seam ends in the inner corner of {name}"
        else:
            (under, _), (top, _) = beyond
            told[which] = f"{names[under < top]} stands out {spell_number(abs(under - top))}" if under != top else ""
    return told


@pytest.mark.parametrize("seed", SEEDS)
def test_which_edges_are_even_and_what_stands_out_is_so_on_the_grid(seed: int) -> None:
    plan = plan_at_random(seed)
    sheet, speaker = speak(plan)
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        unit = plan.units.units[step.work.chain.unit]
        if unit.legs or unit.closes or unit.open_rest:
            continue
        under, top = (speaker.letter(lying.pile) for lying in speaker.order_of(step.work.chain))
        names = (under, top) if under != top else (f"the {under} underneath", f"the {top} on top")
        expected = tell_ends(plan, step.work.chain.unit, names)
        words = " ".join(speaker.say(step).does)
        lower = words.lower()
        for which, what in expected.items():
            if what and expected["upper"] == expected["lower"]:
                assert f"{what} at both ends".lower() in lower
            elif what:
                assert f"{what} at the {which} end".lower() in lower
            elif any(expected.values()):
                assert f"edges even at the {which} end" in lower
        said = lower.count("stands out") + lower.count("goes on") + lower.count("the seam ends in")
        assert said == len({what for what in expected.values() if what})


# -- edges that meet aslant: by raw outlines in floating numbers


def find_raw_ends(cloth: Polygon, first: Spot, last: Spot, allowance: float) -> tuple[float, float]:
    """How far the raw edge along a seam goes beyond its first end and its last."""
    long = dist(first, last)
    ahead = ((last[0] - first[0]) / long, (last[1] - first[1]) / long)
    out = (-ahead[1], ahead[0])
    middle = ((first[0] + last[0]) / 2, (first[1] + last[1]) / 2)
    if cloth.covers(Point(middle[0] + out[0] * 0.01, middle[1] + out[1] * 0.01)):
        out = (-out[0], -out[1])
    raw = cloth.buffer(allowance, join_style="mitre", mitre_limit=100)
    near = allowance - 1e-7  # hardly within the raw edge
    ends = [
        (middle[0] + out[0] * near + ahead[0] * far, middle[1] + out[1] * near + ahead[1] * far) for far in (-50, 50)
    ]
    cut = raw.intersection(LineString(ends))
    here = next(bit for bit in getattr(cut, "geoms", [cut]) if bit.distance(Point(middle)) < allowance)
    places = [(x - first[0]) * ahead[0] + (y - first[1]) * ahead[1] for x, y in here.coords]
    return -min(places), max(places) - long


@pytest.mark.parametrize("name", ["corners", "star", "hexagons", *SHELF])
def test_what_stands_out_where_edges_meet_aslant_is_what_the_raw_outlines_show(name: str) -> None:
    plan = plan_drawn(name)
    sheet, speaker = speak(plan)
    allowance = float(plan.project.seam)
    seen = 0
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        unit = plan.units.units[step.work.chain.unit]
        if unit.legs or unit.closes or unit.open_rest or any(plan.units.units[side.unit].slits for side in unit.sides):
            continue
        feed = feed_of(plan, step.work.chain.unit)
        first, last = as_floats(plan, (feed.first, feed.last))
        reaches = []
        assert unit.a is not None
        assert unit.b is not None
        for side in (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b):
            reaches.append(find_raw_ends(shape_of(plan, side), first, last, allowance))
        words = ". ".join(speaker.say(step).does).lower()
        for which, under, top in zip(("upper", "lower"), *reaches, strict=True):
            shown = speaker.ruler.to_measure(Fraction(abs(under - top))).words.removeprefix("about ")
            if shown == "0":
                assert not re.search(rf"stands out [^;.]* at (the {which} end|both ends)", words)
            else:
                assert re.search(rf"stands out (about )?{shown} at (the {which} end|both ends)", words), (
                    shown,
                    words,
                )
                seen += 1
    assert seen or name in ("attic windows", "bright hopes", "corners")


# -- where seams stop


def angle_at(outline: list[Spot], at: Spot) -> float:
    """How many degrees of a patch lie round a point; 0 where it does not touch it."""
    for place, corner in enumerate(outline):
        before, after = outline[place - 1], outline[(place + 1) % len(outline)]
        if dist(corner, at) < 1e-6:
            turn = atan2(before[1] - at[1], before[0] - at[0]) - atan2(after[1] - at[1], after[0] - at[0])
            return degrees(turn) % 360
        if dist(corner, at) + dist(at, after) - dist(corner, after) < 1e-9 and dist(at, after) > 1e-6:
            return 180.0
    return 0.0


def rays_of(outline: list[Spot], at: Spot) -> list[Spot]:
    """The directions in which a patch has sides from a point."""
    found = []
    for place, corner in enumerate(outline):
        after = outline[(place + 1) % len(outline)]
        long = dist(corner, after)
        if dist(corner, at) + dist(at, after) - long < 1e-9:
            for other in (corner, after):
                if dist(other, at) > 1e-6:
                    far = dist(other, at)
                    found.append(((other[0] - at[0]) / far, (other[1] - at[1]) / far))
    return found


def stretches_under(plan: Plan, block: int, number: int) -> Iterator[tuple[Spot, Spot]]:
    """All that is sewn up to a seam, itself included, in the block's frame."""
    waiting = [number]
    while waiting:
        seam = plan.units.seams[block][waiting.pop()]
        unit = plan.units.units[seam.unit]
        for p, q in pairwise(unit.legs or unit.seam):
            first, last = as_floats(plan, plan.units.place_points((p, q), seam))
            yield first, last
        waiting += [side for side in seam.sides if side >= 0]


def must_stop(plan: Plan, block: int, number: int, at: Spot, along: Spot) -> bool:
    """Whether what is sewn together round an end of a seam makes an inner corner there: the angles of the patches that
    hang together with the seam, by the stretches sewn so far."""
    seam: Seam = plan.units.seams[block][number]
    outlines = [as_floats(plan, plan.units.cuts.outline(placed)) for placed in plan.units.place_patches(seam)]
    around = [outline for outline in outlines if angle_at(outline, at) > 0]
    sewn = list(stretches_under(plan, block, number))

    def is_sewn(ray: Spot) -> bool:
        near = (at[0] + ray[0] * 0.01, at[1] + ray[1] * 0.01)
        return any(dist(p, near) + dist(near, q) - dist(p, q) < 1e-9 for p, q in sewn)

    def share(one: list[Spot], other: list[Spot]) -> bool:
        return any(dist(r, s) < 1e-6 and is_sewn(r) for r in rays_of(one, at) for s in rays_of(other, at))

    together = [outline for outline in around if any(dist(ray, along) < 1e-6 for ray in rays_of(outline, at))]
    for outline in together:  # it grows while it is walked
        together += [other for other in around if other not in together and share(outline, other)]
    return 180.001 < sum(angle_at(outline, at) for outline in together) < 359.999


def check_stops(plan: Plan) -> int:
    told = words_of_units(plan)
    seen = 0
    for block in range(len(plan.blocks.drafted)):
        for number, seam in enumerate(plan.units.seams[block]):
            unit, words = plan.units.units[seam.unit], told[seam.unit]
            if seam.unit in plan.words.layouts:
                continue
            way = unit.legs or unit.seam
            feed = feed_of(plan, seam.unit)
            if feed.first != way[0] and not (unit.legs and feed.first == way[1]):
                way = way[::-1]
            spots = as_floats(plan, plan.units.place_points(way, seam))
            begins, stops = (
                must_stop(plan, block, number, at, ((to[0] - at[0]) / dist(at, to), (to[1] - at[1]) / dist(at, to)))
                for at, to in ((spots[0], spots[1]), (spots[-1], spots[-2]))
            )
            says_begin = "begin there" in words or "begin and stop there" in words or "Begin at the first dot" in words
            says_stop = any(text in words for text in ("stop there", "to the last dot", "at its end, a backstitch"))
            if not unit.closes:
                assert says_begin == begins, words
            assert says_stop == (stops and not unit.open_rest), words
            assert ("from both edges" in words) == bool(unit.legs or says_begin or says_stop)
            seen += says_begin + says_stop
    return seen


@pytest.mark.parametrize("name", DRAWN)
def test_seams_stop_at_the_dot_where_something_is_set_in_later_and_nowhere_else(name: str) -> None:
    seen = check_stops(plan_drawn(name))
    assert seen or name in ("windmill", "nested", "bright hopes")


@pytest.mark.parametrize("seed", SEEDS)
def test_seams_stop_at_the_dot_in_random_blocks(seed: int) -> None:
    check_stops(plan_at_random(seed))


def test_seams_between_hexagons_stop_at_the_dots_not_at_the_edge() -> None:
    """Three hexagons meet in each point inside the field: the first two leave an inner corner there."""
    words = words_of_units(plan_drawn("hexagons")).values()
    assert sum("to the last dot" in text or "first dot" in text for text in words) >= 3
    assert not any("1/4 from the upper end" in text or "1/4 from the lower end" in text for text in words)


# -- several open seams


@pytest.mark.parametrize("seed", SEEDS)
def test_a_seam_that_is_finished_is_told_from_the_others_that_are_open(seed: int) -> None:
    plan = plan_at_random(seed)
    for number, words in words_of_units(plan).items():
        unit = plan.units.units[number]
        if unit.closes:
            assert ("of the open seam meet" in words) == (not unit.slits)


# -- the bench


@pytest.mark.parametrize("name", DRAWN)
def test_what_a_seam_makes_stands_on_a_small_card_and_where_the_rest_is(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "lap.yaml", plan_drawn(name)) as bench:
        for number, step in enumerate(bench.sheet.steps):
            if isinstance(step.work, SewWork):
                for height in (17, 19):
                    view = view_step(bench, number)
                    rows = lay_out_card(view, 58, height, lambda wide, high: None)
                    shown = ["".join(part.text for part in row) for row in rows]
                    assert any(row.startswith("Becomes") for row in shown)
                    words = " ".join(" ".join(shown).split())
                    assert "and so on" in words or all(line in words for line in view.does)
                    assert "and so on" not in words or "s: all of it" in words


@pytest.mark.parametrize("seed", SEEDS[::4])
def test_every_step_of_random_blocks_is_drawn(seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "cells.yaml", plan_at_random(seed)) as bench:
        for number in range(len(bench.sheet.steps)):
            for width, height in ((58, 8), (78, 12), (118, 19)):
                canvas = draw_step(bench, number, width, height)
                assert canvas is None or len(canvas) <= height


async def test_enter_walks_a_block_with_inner_corners_from_the_first_step_to_the_last(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    path = tmp_path / "cells.yaml"
    path.write_text(draw_text(7), encoding="utf-8")
    clock = Clock()
    with bench_on(path, plan_at_random(7), clock=clock) as bench:
        app = SeamrunApp(bench, Settings(), clock)
        app.animation_level = "none"
        async with app.run_test(size=(60, 20)) as pilot:
            await pilot.pause()
            for _ in bench.sheet.steps:
                await pilot.press("enter")
            await pilot.pause()
            assert bench.session.place is None
