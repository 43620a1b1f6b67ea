"""Random blocks that are hard to press: grids of two fabrics, whose equal units want to be pressed two ways, and
blocks in which a ring of seams runs from join to join, so that an odd number of them cannot all nest."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import pairwise

FABRICS = ("navy", "shell", "coral")
SIDE, MIDDLE = 12, 6  # of the drafting box, and where its level seam lies
START, END = 2, 10  # where the ring crosses that seam

Point = tuple[int, int]


def write_grids(chance: random.Random, most_seams: int) -> str:
    """A project of one to three small grids, with so many seams at most in all copies of all blocks."""
    names = ["jetty", "buoy", "mooring"]
    blocks: list[str] = []
    make: list[str] = []
    left = most_seams
    while names and left > 0 and (not blocks or chance.random() < 0.5):
        wide, high = chance.choice(((2, 2), (2, 2), (1, 2), (1, 3), (3, 2)))
        rows = [[_draw_cell(chance) for _ in range(wide)] for _ in range(high)]
        seams = sum(1 + (len(cell) > 1) for row in rows for cell in row) - 1
        if seams > left:
            continue
        copies = chance.choice([number for number in (1, 1, 2, 3) if number * seams <= left])
        left -= copies * seams
        name = names.pop()
        blocks += [f"  {name}:", f"    size: {3 * wide} x {3 * high}", "    rows:"]
        blocks += [f"      - [{', '.join(' '.join(cell) for cell in row)}]" for row in rows]
        make.append(f"  - {{block: {name}, count: {copies}}}")
    return _spell_project("Two fabrics", [*blocks, "make:", *make])


def _draw_cell(chance: random.Random) -> tuple[str, ...]:
    first, second = chance.sample(FABRICS[:2], 2)
    return chance.choice(((first,), (first, "/", second), (first, "\\", second), (first, "\\", second)))


def write_ring(chance: random.Random, above: int, below: int, copies: int = 1) -> str:
    """A project of one block: a level seam across its middle, upright seams above and below it, and in each field
    between these one seam of the ring.

    The ring crosses `above` and `below` upright seams (at least one each), and the level one twice: each time at a
    join, so that it has above + below + 2 joins and as many seams.
    """
    patches = list(_draw_half(chance, above))
    patches += ([(x, SIDE - y) for x, y in patch] for patch in _draw_half(chance, below))
    lines = [f'      - {{fabric: {chance.choice(FABRICS)}, corners: "{_spell(patch)}"}}' for patch in patches]
    block = ["  ring:", "    size: 12", f"    box: {SIDE} x {SIDE}", "    patches:", *lines]
    return _spell_project("Ring of seams", [*block, f"make: [{{block: ring, count: {copies}}}]"])


def _spell_project(name: str, blocks_and_make: list[str]) -> str:
    fabrics = "fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium, weight: heavy}}"
    return "\n".join((f"project: {name}", fabrics, "blocks:", *blocks_and_make, ""))


def _draw_half(chance: random.Random, crossings: int) -> Iterator[list[Point]]:
    """The patches above the middle: of each field what lies within the ring, and what lies outside."""
    xs = sorted(chance.sample(range(START + 1, END), crossings))
    ring = [(START, MIDDLE), *((x, chance.randint(1, MIDDLE - 1)) for x in xs), (END, MIDDLE)]
    for left, right in pairwise(ring):
        west = [(0, 0), (0, MIDDLE)] if left[0] == START else [(left[0], 0)]
        east = [(SIDE, MIDDLE), (SIDE, 0)] if right[0] == END else [(right[0], 0)]
        below = [(x, MIDDLE) for x in (right[0], left[0]) if START < x < END]
        yield [left, right, *below]
        yield [left, right, *east, *west]


def _spell(corners: Sequence[Point]) -> str:
    return " ".join(f"{x},{y}" for x, y in corners)
