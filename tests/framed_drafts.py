"""Random projects in which equal sets of patches lie in several frames: drawn freely in one block, and in another with
parts whose borders say how they may be cut."""

from __future__ import annotations

import random

FABRICS = ("navy", "shell")
SIZES = ((2, 3), (2, 4), (1, 5), (1, 4), (1, 6), (3, 3), (2, 5))  # rows, columns
MOST_NESTED = 2

Grid = list[list[str]]


def write_framed(chance: random.Random) -> str:
    """A project of two or three blocks of one size. The first has no parts; the second is the same with parts; the
    third has parts too, and is the same turned half round or another."""
    high, wide = chance.choice(SIZES)
    grid = _draw_grid(chance, high, wide)
    third = [row[::-1] for row in grid[::-1]] if chance.random() < 0.5 else _draw_grid(chance, high, wide)
    grids = [grid, grid, third][: chance.choice((2, 3))]
    drafts = [_write_draft(chance, grid, MOST_NESTED if number else 0) for number, grid in enumerate(grids)]
    trip, pile = chance.choice(((3, 2), (1, 2), (5, 1)))
    lines = ["project: Frames", "fabrics: {navy: {value: dark}, shell: {value: light}}", "blocks:"]
    lines += [f"  jetty {number}: {{size: {wide} x {high}, {draft}}}" for number, draft in enumerate(drafts)]
    lines += ["make:", *(f"  - {{block: jetty {number}, count: 1}}" for number in range(len(drafts)))]
    return "\n".join((*lines, f"handling: {{trip: {trip}, pile: {pile}}}", ""))


def _draw_grid(chance: random.Random, high: int, wide: int) -> Grid:
    return [[chance.choice(FABRICS) for _ in range(wide)] for _ in range(high)]


def _write_draft(chance: random.Random, grid: Grid, nested: int) -> str:
    """A draft of these squares: drawn as they are, or as two cells with a draft of its own in each."""
    high, wide = len(grid), len(grid[0])
    if nested and high * wide > 2 and chance.random() < 0.8:
        if wide > 1 and (high == 1 or chance.random() < 0.5):
            first = chance.randint(1, wide - 1)
            halves = [row[:first] for row in grid], [row[first:] for row in grid]
            left, right = (_write_cell(chance, half, nested - 1) for half in halves)
            return f"widths: [{first}, {wide - first}], rows: [[{left}, {right}]]"
        first = chance.randint(1, high - 1)
        upper, lower = (_write_cell(chance, half, nested - 1) for half in (grid[:first], grid[first:]))
        return f"heights: [{first}, {high - first}], rows: [[{upper}], [{lower}]]"
    return f"rows: [{', '.join('[' + ', '.join(row) + ']' for row in grid)}]"


def _write_cell(chance: random.Random, grid: Grid, nested: int) -> str:
    if len(grid) == len(grid[0]) == 1:
        return grid[0][0]
    return f"{{{_write_draft(chance, grid, nested)}}}"
