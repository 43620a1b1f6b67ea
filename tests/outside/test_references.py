"""Plans against general libraries: areas and borders by shapely, the order of sewing by networkx."""

from __future__ import annotations

from collections import Counter, defaultdict
from functools import cache
from itertools import groupby

import networkx as nx  # type: ignore[import-untyped]
import pytest
from planned import SAMPLES, draw_project, plan_it, print_out, read_sample
from points import read_outline, read_point
from shapely import LineString, Polygon, STRtree, unary_union  # type: ignore[import-untyped]

from planner.checks import plan_file
from planner.plan import Plan
from planner.sheet import SewWork, write_sheet

NAMES = [*SAMPLES, *(f"seed {seed}" for seed in range(60))]
TINY = 1e-6  # square inches, or inches: what floats may be off


@cache
def plan_named(name: str) -> Plan:
    if name in SAMPLES:
        return plan_it(read_sample(name))
    return plan_it(draw_project(int(name.removeprefix("seed ")), 40, 2, 2))


@cache
def print_named(name: str) -> plan_file.Plan:
    return print_out(plan_named(name))


def draw(printed: plan_file.Plan) -> dict[str, Polygon]:
    return {
        patch["id"]: Polygon([tuple(map(float, corner)) for corner in read_outline(patch)])
        for patch in printed["patches"]
    }


@pytest.mark.parametrize("name", NAMES)
def test_patches_fill_each_block_without_overlap(name: str) -> None:
    printed = print_named(name)
    polygons = draw(printed)
    of_block = defaultdict(list)
    for patch in printed["patches"]:
        of_block[patch["block"]].append(polygons[patch["id"]])
    for block in printed["blocks"]:
        inside = of_block[block["id"]]
        width, height = map(float, read_point(block["size"]))
        assert all(polygon.is_valid and polygon.area > 0 for polygon in inside)
        assert sum(polygon.area for polygon in inside) == pytest.approx(width * height, abs=TINY)
        whole = unary_union(inside)
        assert whole.area == pytest.approx(width * height, abs=TINY)
        assert whole.bounds == pytest.approx((0, 0, width, height), abs=TINY)
        tree = STRtree(inside)
        for one, other in zip(*tree.query(inside, predicate="intersects"), strict=True):
            assert one == other or inside[one].intersection(inside[other]).area < TINY


@pytest.mark.parametrize("name", NAMES)
def test_every_seam_joins_two_convex_units_along_their_whole_border(name: str) -> None:
    printed = print_named(name)
    units = draw(printed)
    for seam in printed["seams"]:
        a, b = units[seam["a"]], units[seam["b"] or ""]
        told = LineString([tuple(map(float, read_point(end))) for end in (seam["from"], seam["to"])])
        unit = unary_union([a, b]).convex_hull
        # Both sides fill a convex unit, and the seam runs along both of them, from border to border of the unit
        assert unit.area == pytest.approx(a.area + b.area, abs=TINY)
        for side in (a, b):
            assert side.boundary.intersection(told.buffer(TINY)).length == pytest.approx(told.length, abs=100 * TINY)
        assert all(unit.boundary.distance(end) < TINY for end in told.boundary.geoms)
        units[seam["id"]] = unit


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
    printed = print_named(name)
    graph = draw_sewing(printed)
    assert nx.is_directed_acyclic_graph(graph)
    assert all(graph.out_degree(node) <= 1 for node in graph)
    patches = Counter(patch["block"] for patch in printed["patches"])
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
