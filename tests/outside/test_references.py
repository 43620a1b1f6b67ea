"""Plans against general libraries: areas and borders by shapely, the order of sewing by networkx."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from functools import cache
from itertools import groupby, pairwise

import networkx as nx  # type: ignore[import-untyped]
import pytest
from planned import SAMPLES, draw_project, plan_it, plan_sample, print_out
from points import read_outline, read_point, read_way, to_float
from shapely import LineString, Point, Polygon, STRtree, unary_union  # type: ignore[import-untyped]

from planner.checks import plan_file
from planner.plan import Plan
from planner.sheet import SewWork, write_sheet

NAMES = [*SAMPLES, *(f"seed {seed}" for seed in range(36))]
# Finished, by hand: 4 x 5 blocks of 9, strips of 1 1/2 between them, borders of 1 1/2 and 4; and 3 and 2 in turn of 7
# rows of blocks of 6 on their corners, a border of 2
QUILT_SIDES = {
    "moorings-lap": (4 * 9 + 3 * 1.5 + 2 * 5.5, 5 * 9 + 4 * 1.5 + 2 * 5.5),
    "slipway-on-point": (3 * 6 * 2**0.5 + 2 * 2, 4 * 6 * 2**0.5 + 2 * 2),
}
TINY = 1e-6  # square inches, or inches: what floats may be off


@cache
def plan_named(name: str) -> Plan:
    if name in SAMPLES:
        return plan_sample(name)
    return plan_it(draw_project(int(name.removeprefix("seed ")), 40, 2, 2))


@cache
def print_named(name: str) -> plan_file.Plan:
    return print_out(plan_named(name))


def draw(printed: plan_file.Plan) -> dict[str, Polygon]:
    return {
        patch["id"]: Polygon([tuple(map(to_float, corner)) for corner in read_outline(patch)])
        for patch in printed["patches"]
    }


def list_quilt(printed: plan_file.Plan) -> list[str]:
    """The patches of the quilt, those of its blocks and those between and round them; none where there is no quilt."""
    loose = {block["id"] for block in printed["blocks"] if block["loose"]}
    return [patch["id"] for patch in printed["patches"] if patch["block"] not in loose]


def assert_fill(polygons: Sequence[Polygon], area: float) -> None:
    """That these fill their union without overlap, and that it has this area."""
    assert all(polygon.is_valid and polygon.area > 0 for polygon in polygons)
    assert sum(polygon.area for polygon in polygons) == pytest.approx(area, abs=TINY)
    assert unary_union(polygons).area == pytest.approx(area, abs=TINY)
    tree = STRtree(polygons)
    for one, other in zip(*tree.query(polygons, predicate="intersects"), strict=True):
        assert one == other or polygons[one].intersection(polygons[other]).area < TINY


@pytest.mark.parametrize("name", NAMES)
def test_patches_fill_each_block_without_overlap(name: str) -> None:
    """Loose ones begin at 0, 0; those of a quilt lie somewhere in it."""
    printed = print_named(name)
    polygons = draw(printed)
    of_block = defaultdict(list)
    for patch in printed["patches"]:
        of_block[patch["block"]].append(polygons[patch["id"]])
    for block in printed["blocks"]:
        inside = of_block[block["id"]]
        width, height = map(to_float, read_point(block["size"]))
        assert_fill(inside, width * height)
        left, top, right, bottom = unary_union(inside).bounds
        assert (right - left, bottom - top) == pytest.approx((width, height), abs=TINY)
        if block["loose"]:
            assert (left, top) == pytest.approx((0, 0), abs=TINY)


@pytest.mark.parametrize("name", QUILT_SIDES)
def test_patches_fill_the_quilt_without_overlap(name: str) -> None:
    printed = print_named(name)
    polygons = draw(printed)
    inside = [polygons[patch] for patch in list_quilt(printed)]
    short, long = QUILT_SIDES[name]
    assert_fill(inside, short * long)
    whole = unary_union(inside)
    box = whole.minimum_rotated_rectangle
    assert box.area == pytest.approx(whole.area, abs=TINY), "it is a rectangle"
    corners = [Point(corner) for corner in box.exterior.coords]
    sides = [one.distance(other) for one, other in pairwise(corners)]
    assert sorted(sides) == pytest.approx([short, short, long, long], abs=TINY)
    slopes = {round(abs(one.x - other.x) / one.distance(other), 6) for one, other in pairwise(corners)}
    assert slopes == ({round(0.5**0.5, 6)} if printed["project"]["on_point"] else {0, 1})
    assert whole.bounds[:2] == pytest.approx((0, 0), abs=TINY)


def test_there_is_a_quilt_where_one_is_measured_and_only_there() -> None:
    assert {name for name in NAMES if list_quilt(print_named(name))} == QUILT_SIDES.keys()


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_joins_two_convex_units_along_their_whole_border(name: str) -> None:
    """What has strips of a mitred border in it is not convex; it too is joined along all that both sides share."""
    printed = print_named(name)
    units = draw(printed)
    mitred = {
        patch["id"]
        for patch in printed["patches"]
        if patch["block"] is None and not printed["project"]["on_point"] and not is_box(units[patch["id"]])
    }
    bent, set_in = 0, 0
    for seam in printed["seams"]:
        a, b = units[seam["a"]], units[seam["b"] or ""]
        told = LineString([tuple(map(to_float, point)) for point in read_way(seam)])
        if mitred & {seam["a"], seam["b"]}:
            mitred.add(seam["id"])
            unit = unary_union([a, b])
            assert a.intersection(b).length == pytest.approx(told.length, abs=TINY)
            bent += unit.area < unit.convex_hull.area - TINY
            set_in += seam.get("set_in", False)
        else:
            unit = unary_union([a, b]).convex_hull
            assert len(told.coords) == 2
        # Both sides fill the unit, and the seam runs along both of them, from border to border of the unit
        assert unit.geom_type == "Polygon"
        assert unit.area == pytest.approx(a.area + b.area, abs=TINY)
        for side in (a, b):
            assert side.boundary.intersection(told.buffer(TINY)).length == pytest.approx(told.length, abs=100 * TINY)
        assert all(unit.boundary.distance(end) < TINY for end in told.boundary.geoms)
        units[seam["id"]] = unit
    assert (bent, set_in) == ((3, 2) if name == "moorings-lap" else (0, 0)), (
        "two strips are set in; the rest is straight"
    )


def is_box(polygon: Polygon) -> bool:
    return bool(polygon.area == polygon.envelope.area)


def draw_sewing(printed: plan_file.Plan) -> nx.DiGraph:
    """A link from each side to the seam that it is sewn on by."""
    sides = ((side or "", seam["id"]) for seam in printed["seams"] for side in (seam["a"], seam["b"]))
    return nx.DiGraph(sides)


def draw_batches(printed: plan_file.Plan) -> nx.DiGraph:
    """A link from each batch to those that need its units."""
    batch_of = {seam: batch["id"] for batch in printed["batches"] for seam in batch["seams"]}
    graph = nx.DiGraph()
    graph.add_nodes_from(batch_of.values())
    for side, seam in draw_sewing(printed).edges:
        if side in batch_of:
            graph.add_edge(batch_of[side], batch_of[seam])
    return graph


@pytest.mark.parametrize("name", NAMES)
def test_the_seams_of_each_block_are_a_tree_as_deep_as_there_are_passes(name: str) -> None:
    """One tree for each loose block, and one for all of the quilt."""
    printed = print_named(name)
    graph = draw_sewing(printed)
    assert nx.is_directed_acyclic_graph(graph)
    assert all(graph.out_degree(node) <= 1 for node in graph)
    quilt = set(list_quilt(printed))
    patches = Counter("the quilt" if patch["id"] in quilt else patch["block"] for patch in printed["patches"])
    several = [count for count in patches.values() if count > 1]
    assert sorted(map(len, nx.weakly_connected_components(graph))) == sorted(2 * count - 1 for count in several)
    assert nx.dag_longest_path_length(graph) == max((batch["pass"] for batch in printed["batches"]), default=0)


@pytest.mark.parametrize("name", NAMES)
def test_the_longest_way_to_a_batch_tells_its_pass(name: str) -> None:
    printed = print_named(name)
    graph = draw_batches(printed)
    assert nx.is_directed_acyclic_graph(graph)
    passes: dict[str, int] = {}
    for batch in nx.topological_sort(graph):
        passes[batch] = 1 + max((passes[before] for before in graph.predecessors(batch)), default=0)
    assert passes == {batch["id"]: batch["pass"] for batch in printed["batches"]}


@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_sews_in_an_order_in_which_nothing_waits(name: str) -> None:
    plan, graph = plan_named(name), draw_batches(print_named(name))
    kinds = {batch.kind: f"B{number}" for number, batch in enumerate(plan.batches.batches, 1)}
    sewing = [step.work.chain.unit for step in write_sheet(plan).steps if isinstance(step.work, SewWork)]
    sewn = [batch for batch, _ in groupby(kinds[plan.units.units[unit].kind] for unit in sewing)]
    assert sorted(sewn) == sorted(graph), "each batch is sewn once, in one go"
    place = {batch: number for number, batch in enumerate(sewn)}
    assert all(place[before] < place[after] for before, after in graph.edges)
