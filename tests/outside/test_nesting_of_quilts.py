"""Blocks set side by side: NEST-2 to NEST-6 of the check values, each under its own conditions, and the ways to press a
set that the planner finds by itself.

NEST-2 to NEST-5 are geometry: common practice, no source (NEST-5 for n = 3 also S47). Conditions of all five: blocks
are n x n checkerboards sewn row by row; the short seams inside a row fall to the dark. What else holds stands with each
test. Seams that join the blocks have no say: only joins between the seams of two blocks are counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product
from typing import NamedTuple

import pytest
from planned import plan_text, print_out, why_wrong
from points import Point, find_side, read_outline, read_point

from planner.checks import plan_file
from planner.checks.check_joins import Versions, count_clashes, count_versions

S47 = "alefthandedquilter.blogspot.com, January 2022 (middles in and out, quarter turn)"
LEFT, RIGHT, UP, DOWN = (-1, 0), (1, 0), (0, -1), (0, 1)
WORDS = {LEFT: "left", RIGHT: "right", UP: "up", DOWN: "down"}
Way = tuple[int, int]
Ways = dict[Point, Way]  # of a block, by the middle of each seam that is told: where its allowances fall
CELL = 2


def press_to_the_dark(side: int, is_mirrored: bool = False) -> Ways:
    """The short seams of a checkerboard that begins with a dark square; mirrored: all to the light."""
    ways: Ways = {}
    for row, seam in product(range(side), range(side - 1)):
        is_dark_left = (row + seam) % 2 == 0
        at = read_point((f"{CELL * (seam + 1)}", f"{CELL * row + 1}"))
        ways[at] = LEFT if is_dark_left != is_mirrored else RIGHT
    return ways


def press_rows(side: int, ways: Sequence[Way]) -> Ways:
    """The seams between rows, from the upper one down."""
    return {read_point((f"{CELL * side / 2:g}", f"{CELL * (row + 1)}")): way for row, way in enumerate(ways)}


def write_boards(side: int, rows: Sequence[str], keep: dict[str, Ways] | None = None, prefer: str = "[]") -> str:
    """A quilt of checkerboards; the blocks of each name are kept at what is told of them."""
    cells = [
        f"[{{rows: [[{', '.join('navy' if (x + y) % 2 == 0 else 'shell' for x in range(side))}]]}}]"
        for y in range(side)
    ]
    lines = ["project: Boards", "fabrics: {navy: {value: dark}, shell: {value: light}}", "blocks:"]
    for name in sorted({place.split()[0] for row in rows for place in row.split(", ")}):
        lines.append(f"  {name}: {{size: {CELL * side}, rows: [{', '.join(cells)}]}}")
    lines += ["quilt:", "  rows:", *(f"    - [{row}]" for row in rows), "press:", f"  prefer: {prefer}"]
    if keep:
        lines.append("  keep:")
    for name, ways in (keep or {}).items():
        for (x, y), way in ways.items():
            # beside the middle of a row seam, where a short one may end
            lines.append(f'    - {{block: {name}, at: "{x + (way[0] == 0) / 2:g}, {y}", toward: {WORDS[way]}}}')
    return "\n".join((*lines, ""))


class Told(NamedTuple):
    """A seam of a block: the block's name, how it is turned, and the middle of the seam as the block is drawn."""

    block: str
    turn: int
    middle: Point

    def falls(self, ways: dict[str, Ways]) -> Way:
        """Where its allowances fall in the quilt."""
        dx, dy = ways[self.block][self.middle]
        for _ in range(self.turn):
            dx, dy = -dy, dx
        return dx, dy


@cache
def list_joins(side: int, rows: tuple[str, ...]) -> tuple[tuple[Told, Told], ...]:
    """The joins between seams of two blocks, of those that the planner lists. Its choice of pressing and turning has no
    part in it."""
    printed = print_out(plan_text(write_boards(side, rows)))
    places = [place.split() for row in rows for place in row.split(", ")]
    told: dict[str, tuple[str, Told]] = {}
    for block, place in zip(printed["blocks"], places, strict=True):
        turn = int(place[2]) // 90 if len(place) > 1 else 0
        corners = [c for patch in printed["patches"] if patch["block"] == block["id"] for c in read_outline(patch)]
        left, top = min(x for x, _ in corners), min(y for _, y in corners)
        for seam in printed["seams"]:
            if seam["block"] == block["id"]:
                (px, py), (qx, qy) = read_point(seam["from"]), read_point(seam["to"])
                x, y = (px + qx) / 2 - left, (py + qy) / 2 - top
                for _ in range(turn):  # back to how the block is drawn
                    x, y = y, CELL * side - x
                told[seam["id"]] = block["id"], Told(place[0], turn, (x, y))
    pairs = [(told[join["a"]], told[join["b"]]) for join in printed["joins"] if {join["a"], join["b"]} <= told.keys()]
    between = tuple((one, other) for (block, one), (next_block, other) in pairs if block != next_block)
    across, down = len(rows[0].split(", ")), len(rows)
    assert len(between) == (side - 1) * (across * (down - 1) + down * (across - 1)), "a join is missing"
    return between


def count_unmatched(side: int, rows: tuple[str, ...], ways: dict[str, Ways]) -> int:
    """How many joins between two blocks do not nest, where every block is pressed as told in its own direction."""
    falls = ((one.falls(ways), other.falls(ways)) for one, other in list_joins(side, rows))
    return sum(one != (-other[0], -other[1]) for one, other in falls)


def choose_rows(side: int) -> Iterator[tuple[Way, ...]]:
    yield from product((UP, DOWN), repeat=side - 1)


def alternate(first: str, second: str, across: int = 2, down: int = 2) -> tuple[str, ...]:
    return tuple(", ".join((first, second)[(x + y) % 2] for x in range(across)) for y in range(down))


@pytest.mark.parametrize("side", range(2, 7))
def test_stacked_unturned_and_pressed_to_the_dark_even_ones_nest_and_odd_ones_do_not(side: int) -> None:
    """NEST-2: even 2, 4, 6 nest; odd 3, 5 do not. Geometry: common practice, no source. Conditions: the same block
    stacked one on another, none turned."""
    dark = press_to_the_dark(side) | press_rows(side, [DOWN] * (side - 1))
    assert count_unmatched(side, ("board", "board"), {"board": dark}) == (0 if side % 2 == 0 else side - 1)
    # Whichever way the row seams fall, and whichever block is turned half round, it stays so
    plan = plan_text(write_boards(side, ("board", "board"), {"board": press_to_the_dark(side)}))
    assert plan.pressing.clashes == (0 if side % 2 == 0 else side - 1)


@pytest.mark.parametrize("side", range(2, 7))
def test_with_every_other_block_half_turned_even_ones_work_with_one_version_and_odd_ones_do_not(side: int) -> None:
    """NEST-3: even 2, 4, 6 work; odd 3, 5 do not. Geometry: common practice, no source. Conditions: one version, row
    seams all one way (for odd ones any way), all four edges."""
    rows = alternate("board", "board turn 180")
    for ways in [[DOWN] * (side - 1)] if side % 2 == 0 else choose_rows(side):
        unmatched = count_unmatched(side, rows, {"board": press_to_the_dark(side) | press_rows(side, ways)})
        assert (unmatched == 0) == (side % 2 == 0), ways


@pytest.mark.parametrize("side", [2, 3, 4])
def test_that_every_other_block_is_to_be_half_turned_is_found(side: int) -> None:
    """NEST-3 as above; here the layout says nothing of turning. An odd board leaves its upright joins unmatched."""
    kept = press_to_the_dark(side) | press_rows(side, [DOWN] * (side - 1))
    plan = plan_text(write_boards(side, ("board, board", "board, board"), {"board": kept}))
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    assert plan.pressing.clashes == (0 if side % 2 == 0 else 2 * (side - 1))
    if side % 2 == 0:
        # Even ones nest above each other (NEST-2), so that columns may be turned as well
        assert find_turned(printed, side, across=2) in ([".x", "x."], [".x", ".x"])
    assert plan.pressing.two_ways == 0


def fall_of(printed: plan_file.Plan, seam: plan_file.PlanSeam) -> Way:
    """Where the allowances of an upright or level seam fall."""
    seams = {one["id"]: one for one in printed["seams"]}
    outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
    side = seam["a"] if seam["press"] == "a" else seam["b"] or ""
    while side not in outlines:
        side = seams[side]["a"]
    (px, py), (qx, qy) = start, end = read_point(seam["from"]), read_point(seam["to"])
    toward = find_side(start, end, outlines[side])
    dx, dy = -(qy - py) * toward, (qx - px) * toward
    return (dx > 0) - (dx < 0), (dy > 0) - (dy < 0)


def find_turned(printed: plan_file.Plan, side: int, across: int) -> list[str]:
    """The boards of a quilt from above: `.` for each that is pressed as the first one is, `x` for each that would be
    after a half turn, `?` for any other."""
    marks = []
    first: Ways = {}
    for block in printed["blocks"]:
        corners = [c for patch in printed["patches"] if patch["block"] == block["id"] for c in read_outline(patch)]
        left, top = min(x for x, _ in corners), min(y for _, y in corners)
        ways: Ways = {}
        for seam in printed["seams"]:
            if seam["block"] == block["id"]:
                (px, py), (qx, qy) = read_point(seam["from"]), read_point(seam["to"])
                ways[(px + qx) / 2 - left, (py + qy) / 2 - top] = fall_of(printed, seam)
        first = first or ways
        turned = {(CELL * side - x, CELL * side - y): (-dx, -dy) for (x, y), (dx, dy) in ways.items()}
        marks.append("." if ways == first else "x" if turned == first else "?")
    return ["".join(marks[start : start + across]) for start in range(0, len(marks), across)]


@pytest.mark.parametrize("side", [3, 5])
def test_two_mirrored_versions_that_alternate_work_for_odd_ones(side: int) -> None:
    """NEST-4: odd 3, 5 work. Geometry: common practice, no source. Conditions: two versions, every seam of the one
    pressed the other way in the other; all row-seam choices; no block turned."""
    for ways in choose_rows(side):
        both = {
            "out": press_to_the_dark(side) | press_rows(side, ways),
            "turned": press_to_the_dark(side, is_mirrored=True) | press_rows(side, [(x, -y) for x, y in ways]),
        }
        assert count_unmatched(side, alternate("out", "turned"), both) == 0, ways


@pytest.mark.parametrize("ways", list(product((UP, DOWN), repeat=2)), ids=lambda ways: " ".join(WORDS[w] for w in ways))
def test_two_versions_that_the_maker_keeps_nest(ways: tuple[Way, ...]) -> None:
    """NEST-4 for n = 3, as above, with the planner's own count."""
    both = {
        "out": press_to_the_dark(3) | press_rows(3, ways),
        "turned": press_to_the_dark(3, is_mirrored=True) | press_rows(3, [(x, -y) for x, y in ways]),
    }
    plan = plan_text(write_boards(3, alternate("out", "turned"), both))
    assert plan.pressing.clashes == 0
    assert plan.pressing.two_ways > 0


@pytest.mark.parametrize("side", range(2, 7))
def test_with_every_other_block_quarter_turned_odd_ones_can_nest_and_even_ones_can_not(side: int) -> None:
    """NEST-5: odd 3, 5 possible; even 2, 4, 6 not. Geometry; S47 for n = 3: common practice, no source. Conditions: one
    version, all row-seam choices, each neighbour to every side a quarter turned clockwise. DIS-17: so one version is
    enough for odd ones."""
    rows = alternate("board", "board turn 90")
    nesting = [
        ways
        for ways in choose_rows(side)
        if count_unmatched(side, rows, {"board": press_to_the_dark(side) | press_rows(side, ways)}) == 0
    ]
    assert len(nesting) == side % 2


@pytest.mark.parametrize("is_mirrored", [False, True])
def test_a_nine_patch_for_quarter_turns_has_its_top_row_in_and_its_row_seams_out_or_the_mirror(
    is_mirrored: bool,
) -> None:
    """NEST-6: top row in, row seams out, or the mirror: 1 solution of 4, the only choice. Source S47, published
    (formula). This board begins with a dark square, so that to the dark its top row falls out; the mirror: in."""
    rows = alternate("board", "board turn 90")
    ways = {
        choice: count_unmatched(3, rows, {"board": press_to_the_dark(3, is_mirrored) | press_rows(3, choice)})
        for choice in choose_rows(3)
    }
    (only,) = [choice for choice, unmatched in ways.items() if unmatched == 0]
    is_top_row_in = press_to_the_dark(3, is_mirrored)[read_point(("2", "1"))] == RIGHT
    assert is_top_row_in == is_mirrored
    assert only == ((UP, DOWN) if is_top_row_in else (DOWN, UP)), S47
    # The planner agrees with what the maker keeps, and needs one version of every unit
    for choice, unmatched in ways.items():
        kept = press_to_the_dark(3, is_mirrored) | press_rows(3, choice)
        plan = plan_text(write_boards(3, rows, {"board": kept}))
        assert (plan.pressing.clashes == 0) == (unmatched == 0), choice
        if unmatched == 0:
            assert count_versions(print_out(plan)) == Versions(0, 0)


@pytest.mark.parametrize("prefer", ["[]", "[light-weight, plain, dark, outward, needle]"])
def test_a_set_of_4_x_3_nine_patches_nests_at_every_join_with_one_version(prefer: str) -> None:
    """Found by the planner itself: every other block turned half round, joins between blocks of a row pressed opposite
    to those of the next row. By hand and enumeration: common practice, no source."""
    plan = plan_text(write_boards(3, ("board, board, board, board",) * 3, prefer=prefer))
    printed = print_out(plan)
    assert why_wrong(printed) == ()
    assert all(join["nests"] for join in printed["joins"])
    # inside blocks 4 each; on the seams between blocks of a row 2 each; between rows 2 a block and 1 a crossing
    assert len(printed["joins"]) == 12 * 4 + 9 * 2 + 2 * (4 * 2 + 3)
    assert count_clashes(printed) == 0
    assert count_versions(printed) == Versions(0, 0)
    assert find_turned(printed, 3, across=4) == [".x.x", "x.x.", ".x.x"]
    assert printed.get("proof", {})["versions"] == {"count": 0, "at_least": 0}
    joints = [seam for seam in printed["seams"] if seam["block"] is None and seam["from"][0] == seam["to"][0]]
    assert len(joints) == 9
    falls = {
        (read_point(seam["from"])[0], min(read_point(seam[end])[1] for end in ("from", "to"))): seam for seam in joints
    }
    ways = {at: fall_of(printed, seam) for at, seam in falls.items()}
    for (x, y), way in ways.items():
        below = ways.get((x, y + 6))
        assert below in (None, (-way[0], 0)), "joins of a row fall opposite to those of the next"
    if prefer == "[]":
        for y in (0, 6, 12):
            assert len({way for (_, top), way in ways.items() if top == y}) == 1, "a row falls all left or all right"


@pytest.mark.parametrize("across", [1, 3])
@pytest.mark.parametrize(
    ("name", "rows"),
    [
        ("pinwheel", "[navy \\ shell, navy / shell], [shell / navy, shell \\ navy]"),
        ("broken dishes", "[navy / shell, navy \\ shell], [shell \\ navy, shell / navy]"),
    ],
)
def test_pinwheels_and_broken_dishes_nest_with_one_version_alone_and_in_a_set(
    name: str, rows: str, across: int
) -> None:
    """Four equal triangle squares each, sewn from one pile. Common practice, no source."""
    layout = (
        "make: [{block: block, count: 1}]"
        if across == 1
        else "quilt: {rows: [[block, block, block], [block, block, block]]}"
    )
    printed = print_out(
        plan_text(
            f"""
project: {name}
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}
blocks: {{block: {{size: 12, rows: [{rows}]}}}}
{layout}
"""
        )
    )
    assert why_wrong(printed) == ()
    assert len(printed["joins"]) >= 3
    assert all(join["nests"] for join in printed["joins"])
    assert count_versions(printed) == Versions(0, 0)
    blocks = 1 if across == 1 else 6
    squares = printed["batches"][0]
    assert (squares["pass"], len(squares["seams"])) == (1, 4 * blocks)
