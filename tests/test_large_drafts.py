"""What a draft gets that is too large for proofs: it is sewable, and nothing is said to be proven that is not."""

from __future__ import annotations

import random

import pytest
from planned import draw_project, plan_it, plan_text, print_out, why_wrong
from test_choose_cuts import draw_tried, least_handling, read_drafts

from planner import choose_cuts as choosing
from planner.batch_seams import Batch, batch_seams
from planner.blocks import lay_out_blocks
from planner.build_units import Units, build_units
from planner.choose_cuts import choose_cuts
from planner.find_cuts import find_cuts
from planner.look_along import SeamSides, find_step

FABRICS = ("navy", "shell", "coral", "sand")


def write_grid(seed: int, across: int, count: int = 1) -> str:
    """A project of one square grid of four fabrics at random."""
    chance = random.Random(seed)
    rows = ", ".join(f"[{', '.join(chance.choice(FABRICS) for _ in range(across))}]" for _ in range(across))
    fabrics = ", ".join(f"{fabric}: {{value: {value}}}" for fabric, value in zip(FABRICS, (9, 2, 5, 3), strict=True))
    return (
        f"project: Tidewater squares\nfabrics: {{{fabrics}}}\n"
        f"blocks: {{squares: {{size: {2 * across}, rows: [{rows}]}}}}\nmake: [{{block: squares, count: {count}}}]\n"
    )


@pytest.mark.parametrize("free_looks", [0, 60])
def test_where_not_every_cut_was_looked_at_the_bound_holds_for_those_too(free_looks: int) -> None:
    left_out = 0
    for seed, plan, _, _ in draw_tried()[:60]:
        cuts = find_cuts(lay_out_blocks(plan.project), free_looks=free_looks)
        handling = plan.project.handling
        least = least_handling(read_drafts(plan), handling.trip, handling.pile).minutes
        choice = choose_cuts(cuts, handling)
        batches = batch_seams(build_units(cuts, choice))
        assert choice.at_least <= least <= handling.trip * batches.passes + handling.pile * len(batches.batches), seed
        if cuts.searched_all:
            assert choice.at_least == least, seed
        left_out += not cuts.searched_all
    assert left_out > 20


def test_a_draft_with_one_way_only_is_searched_all_through_however_large_it_is() -> None:
    plan = plan_text(write_grid(1, 6))
    assert not find_cuts(plan.blocks, free_looks=0).searched_all
    strips = plan_text(
        "project: Tidewater logs\nfabrics: {navy: {value: dark}, shell: {value: light}}\n"
        "blocks: {logs: {size: 20, logs: {centre: navy, around: [shell, navy, navy, shell, navy]}}}\n"
        "make: [{block: logs, count: 1}]\n"
    )
    assert find_cuts(strips.blocks, free_looks=0).searched_all


def test_a_graph_too_large_to_share_kinds_still_gets_trees_in_the_fewest_passes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    project = draw_project(3, 24, 3, 2)
    cuts = find_cuts(lay_out_blocks(project))
    monkeypatch.setattr(choosing, "MOST_SHARED", 0)
    monkeypatch.setattr(choosing, "MOST_OPTIONS", 0)
    choice = choose_cuts(cuts, project.handling)
    assert batch_seams(build_units(cuts, choice)).passes == choice.fewest_passes
    plan = plan_it(project)
    assert not plan.handled.is_proven
    assert why_wrong(print_out(plan)) == ()


def order_simply(units: Units, batches: tuple[Batch, ...]) -> list[Batch]:
    """The order of batches by its definition: of equal size first what shares a pile with the one before."""

    def size(batch: Batch) -> tuple[object, ...]:
        patches = units.units[batch.units[0]].patches
        return batch.pass_number, sum(units.cuts.shapes[shape].twice_area for *_, shape in patches), len(patches)

    def piles(batch: Batch) -> set[int]:
        sides = [side for number in batch.units for side in (units.units[number].a, units.units[number].b)]
        return {side.unit for side in sides if side is not None}

    def content(batch: Batch) -> tuple[object, ...]:
        unit = units.units[batch.units[0]]
        return size(batch), unit.patches, unit.seam, unit.seams

    waiting, ordered = sorted(batches, key=content), list[Batch]()
    while waiting:
        equal = [batch for batch in waiting if size(batch) == size(waiting[0])]
        sharing = [batch for batch in equal if ordered and piles(batch) & piles(ordered[-1])]
        ordered.append((sharing or equal)[0])
        waiting.remove(ordered[-1])
    return ordered


@pytest.mark.parametrize("seed", range(6))
def test_batches_that_share_a_pile_follow_each_other(seed: int) -> None:
    plan = plan_text(write_grid(seed, 7))
    assert list(plan.batches.batches) == order_simply(plan.units, plan.batches.batches)


@pytest.mark.parametrize("seed", range(20))
def test_what_lies_along_a_seam_is_what_its_sides_have_there(seed: int) -> None:
    plan = plan_it(draw_project(seed, 24, 2, 1))
    units, sides = plan.units, SeamSides(plan.units)
    for unit in units.units:
        if unit.a is None or unit.b is None:
            continue
        (px, py), (dx, dy) = unit.seam[0], find_step(unit.seam)
        for along, side in zip(sides.look(unit), (unit.a, unit.b), strict=True):
            lengths: dict[str, object] = {}
            for placed in units.place_patches(side):
                ends = [x * dx + y * dy for x, y in units.cuts.outline(placed) if (x - px) * dy == (y - py) * dx]
                if len(ends) == 2:
                    fabric = units.cuts.shapes[placed[2]].fabric
                    lengths[fabric] = lengths.get(fabric, 0) + max(ends) - min(ends)  # type: ignore[operator]
            assert along.lengths == lengths


def test_a_grid_at_random_of_a_thousand_patches_is_sewable_and_the_same_twice() -> None:
    plan = plan_text(write_grid(7, 32))
    assert len(plan.blocks.drafted[0].patches) == 1024
    assert why_wrong(print_out(plan)) == ()
    assert print_out(plan) == print_out(plan_text(write_grid(7, 32)))
    assert not plan.handled.is_proven
