"""Turning blocks of a quilt: nothing that can be tried by turning and pressing is better than what is found."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache
from itertools import product
from typing import NamedTuple

import pytest
from brute_force import Pressing, judge_pressing
from planned import plan_text, print_out, why_wrong
from pressed import (
    MOST_SEAMS,
    corner_of,
    find_least,
    find_steps,
    find_turns,
    pair_alike,
    read_all,
    read_top,
    turn_leaves,
)

from planner.plan import Plan

CELLS = {
    "four": "size: 4, rows: [[navy, shell], [shell, navy]]",
    "same": "size: 4, rows: [[navy, navy], [navy, navy]]",
    "rail": "size: 4, rows: [[navy, shell, navy]]",
    "pair": "size: 4, rows: [[navy, shell]]",
    "twin": "size: 4, rows: [[navy, navy]]",
    "half": "size: 4, rows: [[navy / shell]]",
    "dish": "size: 4, rows: [[(navy / shell) \\ (shell / navy)]]",
    "tilt": 'size: 4, box: 4 x 4, patches: [{fabric: navy, corners: "2,0 4,2 2,4 0,2"}, '
    '{fabric: shell, corners: "0,0 2,0 0,2"}, {fabric: shell, corners: "4,0 4,2 2,0"}, '
    '{fabric: shell, corners: "4,4 2,4 4,2"}, {fabric: shell, corners: "0,4 0,2 2,4"}]',
    "plain": "size: 4, rows: [[shell]]",
}
SEEDS = range(66)
# Blocks that are to be turned by a quarter
QUARTERS = (
    ("pair turn 180, tilt", "pair turn 270, tilt turn 180"),
    ("four turn 180, tilt", "half turn 90, four turn 90"),
    ("pair turn 90, tilt turn 270", "tilt turn 90, pair"),
)


def write_tiny(chance: random.Random) -> str:
    """A quilt of at most four blocks."""
    across, down = chance.choice(((2, 1), (3, 1), (2, 2), (2, 2), (4, 1), (1, 3)))
    few = chance.sample(sorted(CELLS), chance.choice((1, 1, 2)))
    rows = [
        ", ".join(f"{chance.choice(few)}{chance.choice(('', '', '', ' turn 90', ' turn 180'))}" for _ in range(across))
        for _ in range(down)
    ]
    more = [line for line in ("sashing: {width: 1, fabric: navy}", "joining: rows") if chance.random() < 0.3]
    return write_rows(rows, more)


def write_rows(rows: Sequence[str], more: Sequence[str] = ()) -> str:
    lines = ["project: Tiny", "fabrics: {navy: {value: dark}, shell: {value: light}}", "blocks:"]
    named = sorted({place.split()[0] for row in rows for place in row.split(", ")})
    lines += [f"  {name}: {{{CELLS[name]}}}" for name in named]
    lines += ["quilt:", "  rows:", *(f"    - [{row}]" for row in rows), *(f"  {line}" for line in more)]
    return "\n".join((*lines, ""))


@cache
def draw_tiny() -> tuple[tuple[str, Plan], ...]:
    """Plans small enough to try everything, each with what it was drawn from."""
    texts = [(f"seed {seed}", write_tiny(random.Random(seed))) for seed in SEEDS]
    texts += [("; ".join(rows), write_rows(rows)) for rows in QUARTERS]
    plans = [(name, plan_text(text)) for name, text in texts]
    return tuple((name, plan) for name, plan in plans if len(plan.units.seams[-1]) <= MOST_SEAMS)


class Best(NamedTuple):
    """The best of all ways to turn. `is_alike`: equal blocks are pressed alike in it, nothing clashes, and no kind is
    pressed two ways."""

    pressing: Pressing
    turned: int
    is_alike: bool


def find_best(plan: Plan) -> Best:
    """The least by turning and pressing, then the fewest blocks turned. What looks the same after a half turn may also
    be pressed the other way in some blocks, and lies turned then as well: so where all can be as it should be with
    equal blocks pressed alike, only such ways count."""
    printed = print_out(plan)
    draft, tree, blocks = read_top(printed)
    ways = []
    for block in blocks.values():
        turns = find_turns(draft, tree, block)
        x, y = (value * plan.blocks.scale / find_steps(printed) for value in corner_of(draft, block))
        # What the planner turned lies turned already: by how much it was turned is what is counted
        already = plan.turning.turned.get((int(x), int(y)), 0)
        assert -already % 4 in turns, "turned, and it does not look the same"
        ways.append([(bool((turn + already) % 4), goes) for turn, goes in turns.items()])
    of_draft: dict[str, list[tuple[int, ...]]] = {}
    for name, block in blocks.items():
        of_draft.setdefault(next(one["draft"] for one in printed["blocks"] if one["id"] == name), []).append(block)
    alike = [pair for equal in of_draft.values() for pair in pair_alike(draft, tree, equal)]
    free, perfect = [], []
    for chosen in product(*ways):
        goes = {place: to for _, one in chosen for place, to in one.items()}
        turned = ((draft, turn_leaves(tree, goes)),)
        count = sum(is_turned for is_turned, _ in chosen)
        free.append(Best(find_least(turned), count, False))
        if not any(free[-1].pressing) and not any(find_least(turned, alike)):
            perfect.append(Best(free[-1].pressing, count, True))
    return min(perfect or free)


@pytest.mark.parametrize("place", range(3))
def test_no_way_to_turn_and_press_is_better_than_what_is_found(place: int) -> None:
    tried = draw_tiny()[place::3]
    assert len(tried) > 15
    for name, plan in tried:
        printed = print_out(plan)
        told = Pressing(plan.pressing.clashes, plan.pressing.two_ways, plan.pressing.second)
        bits = tuple(int(seam["press"] == "b") for seam in printed["seams"])
        assert why_wrong(printed) == (), name
        assert judge_pressing(read_all(printed), bits) == told, name
        best = find_best(plan)
        assert told == best.pressing, name
        assert len(plan.turning.turned) == best.turned, name
        assert plan.turning.is_perfect == best.is_alike, name


def test_the_quilts_tried_have_what_turning_is_about() -> None:
    plans = [plan for _, plan in draw_tiny()]
    assert sum(bool(plan.turning.turned) for plan in plans) >= 8
    assert {turn for plan in plans for turn in plan.turning.turned.values()} >= {1, 2}
    assert any(plan.pressing.clashes for plan in plans)
    assert any(plan.pressing.two_ways for plan in plans)


def test_what_is_called_perfect_nests_everywhere_with_every_kind_pressed_one_way() -> None:
    perfect = [plan for _, plan in draw_tiny() if plan.turning.is_perfect]
    assert perfect
    assert {(plan.pressing.clashes, plan.pressing.two_ways) for plan in perfect} == {(0, 0)}
