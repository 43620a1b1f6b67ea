"""The press map in cells: every seam with an arrow for the way its allowances fall, joins that do not nest marked.

Of a quilt with too many seams for that, only those that join its blocks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import floor
from typing import NamedTuple

from planner.blocks import Point, Top
from planner.pictures.find_versions import Versions
from planner.pictures.trace_seams import Falls, Line, find_clashes, trace_seams
from planner.plan import Plan
from tui.canvas import HEAVY, Canvas, Cell, Place, Spot
from tui.draw_block import block_room, paint_tagged
from tui.draw_boxes import draw_boxes, label_blocks, lay_boxes, paint_boxes
from tui.lay_axis import Axis
from tui.number_seams import Tag
from tui.paint_scene import ARROWS, even_rows, letters_of
from tui.scene import Scene, Turn, nearly, show_block

CLASH = "⊗"
BOTH_WAYS = "↕⤢↔⤡"  # by eighths of a turn from up, of a seam that is pressed open
_MOST_SEAMS = 400
_MOST_MISSING = 0.1  # of all letters and arrows


class PressMap(NamedTuple):
    """`is_whole`: every seam is on it; else only those between the blocks of the quilt, or, of a quilt on point, none
    (`has_arrows`)."""

    canvas: Canvas
    is_whole: bool
    has_arrows: bool = True


def draw_press(plan: Plan, block: int, width: int, height: int) -> PressMap:
    """A drafted block, or the quilt, in at most so many columns and rows. Heavy seams are those of a kind pressed two
    ways that go to its smaller pile."""
    top = plan.blocks.top
    if top is None or not plan.blocks.drafted[block].is_top:
        whole = _draw_whole(plan, block, width, height, is_needed=True)
        assert whole is not None
        return PressMap(whole, is_whole=True)
    if len(plan.units.seams[block]) <= _MOST_SEAMS:
        whole = _draw_whole(plan, block, width, height, is_needed=False)
        if whole is not None:
            return PressMap(whole, is_whole=True)
    if top.on_point:
        return PressMap(draw_boxes(plan, width, height), is_whole=False, has_arrows=False)
    return PressMap(_draw_joints(plan, top, width, height), is_whole=False)


def press_room(plan: Plan, block: int, width: int, height: int) -> tuple[int, int]:
    """Columns and rows in which the whole press map is clear; of a quilt with too many seams for that, those given."""
    if plan.blocks.drafted[block].is_top and len(plan.units.seams[block]) > _MOST_SEAMS:
        return width, height
    wide, high = block_room(plan, block)
    return max(wide, width), max(high, height)


def _draw_whole(plan: Plan, block: int, width: int, height: int, is_needed: bool) -> Canvas | None:
    """Every seam; None where too much has no room, unless it `is_needed` nevertheless."""
    scene, turn = _see(plan, block)
    lines = [
        line._replace(
            legs=tuple(tuple(map(turn, leg)) for leg in line.legs),
            turns_at=None if line.turns_at is None else turn(line.turns_at),
        )
        for line in trace_seams(plan, block)
    ]
    tags = tuple(tag for line in lines for tag in _tag(line))
    easel, view, fit, missing = paint_tagged(scene, tags, letters_of(plan, scene), width, height)
    if not is_needed and (fit.detail == "plain" or missing > _MOST_MISSING * (len(tags) + len(scene.patches))):
        return None
    versions = Versions(plan)
    if fit.detail != "plain":
        for line in lines:
            if versions.version_of(block, line.number) == 2:
                for leg in line.legs:
                    easel.rule(view.spot(*leg[0]), view.spot(*leg[-1]), "seam", HEAVY)
    for point in find_clashes(plan, block):
        column, row = view.spot(*turn(point))
        easel.put((min(floor(row), easel.height - 1), min(floor(column), easel.width - 1)), CLASH, "mark", True)
    return even_rows(easel.rows(scene.fabrics))


def _see(plan: Plan, block: int) -> tuple[Scene, Turn]:
    """A block or the quilt as one looks at it, and how its points are turned for that."""
    scene = show_block(plan, block)
    top = plan.blocks.top
    if not plan.blocks.drafted[block].is_top or top is None or not top.on_point:
        return scene, lambda point: point

    def turn(point: Point) -> Point:
        return point[0] - point[1], point[0] + point[1]

    turned = scene.turned(turn)
    xs = [x for outline in turned.patches for x, _ in outline]
    ys = [y for outline in turned.patches for _, y in outline]
    left, upper, right, lower = min(xs), min(ys), max(xs), max(ys)
    return replace(turned, border=((left, upper), (right, upper), (right, lower), (left, lower))), turn


def _tag(line: Line) -> Iterator[Tag]:
    """The arrow of a seam; of one that is spun or set in one for each of its stretches."""
    for leg in line.legs:
        falls_left = line.falls_left
        if line.turns_at is None:
            yield Tag(arrow_of(leg[0], leg[-1], falls_left), leg)
            continue
        place = leg.index(line.turns_at)
        yield Tag(arrow_of(leg[0], leg[-1], falls_left), leg[: place + 1])
        yield Tag(arrow_of(leg[0], leg[-1], not falls_left), leg[place:])


def arrow_of(start: Point, end: Point, falls_left: bool | None) -> str:
    """The arrow across a seam from `start` to `end`; `falls_left` as `Line` has it."""
    dx, dy = nearly(end[0] - start[0]), nearly(end[1] - start[1])
    eighths = _count_eighths(-dy, dx)
    if falls_left is None:
        return BOTH_WAYS[eighths % 4]
    return ARROWS[eighths if falls_left else (eighths + 4) % 8]


def _count_eighths(dx: float, dy: float) -> int:
    """The way a vector points, in eighths of a turn from up; odd ones stand for all in between."""
    if not dx:
        return 4 if dy > 0 else 0
    if not dy:
        return 2 if dx > 0 else 6
    return {(True, False): 1, (True, True): 3, (False, True): 5, (False, False): 7}[dx > 0, dy > 0]


def _draw_joints(plan: Plan, top: Top, width: int, height: int) -> Canvas:
    """The quilt as boxes, with arrows on the seams that join them."""
    words = label_blocks(plan, top)
    wide = max(map(len, words.values()))
    for columns, rows in ((7, 3), (5, 3), (3, 1)):
        across, down = lay_boxes(plan, top, max(columns, wide), rows)
        if across.cells <= width and down.cells <= height:
            break
    painted = paint_boxes(plan, top, (across, down), words, has_letters=False)
    block = len(plan.blocks.drafted) - 1
    falls = Falls(plan, block)
    versions = Versions(plan)
    taken: set[Place] = set()
    for number, piece in enumerate(plan.units.piece_of[1]):
        if piece < 0:
            is_second = versions.version_of(block, number) == 2
            for start, end in pairwise(falls.way(number)):
                arrow = arrow_of(start, end, falls.falls_left(number))
                for row, column in _offer(start, end, across, down):
                    if (row, column) not in taken and row < len(painted) and column < len(painted[row]):
                        taken.add((row, column))
                        painted[row][column] = Cell(arrow, painted[row][column].fabric, "ridge", is_second)
                        break
    for point in find_clashes(plan, block):
        place = floor(down.on_line(nearly(point[1]))), floor(across.on_line(nearly(point[0])))
        if place[0] < len(painted) and place[1] < len(painted[place[0]]):
            painted[place[0]][place[1]] = Cell(CLASH, None, "mark", True)
    return even_rows([row[:width] for row in painted[:height]])


def _offer(start: Point, end: Point, across: Axis, down: Axis) -> Iterator[Place]:
    """Cells of a seam for its arrow: the middles of the stretches that it runs along, the middle ones first."""
    (ax, ay), (bx, by) = ((nearly(x), nearly(y)) for x, y in (start, end))
    spots: Sequence[Spot]
    if ax == bx:
        spots = [(ax, middle) for middle in _middles(down, min(ay, by), max(ay, by))]
    elif ay == by:
        spots = [(middle, ay) for middle in _middles(across, min(ax, bx), max(ax, bx))]
    else:
        spots = [((ax + bx) / 2, (ay + by) / 2)]
    spots = sorted(spots, key=lambda spot: abs(spot[0] - (ax + bx) / 2) + abs(spot[1] - (ay + by) / 2))
    for x, y in spots:
        yield floor(down.on_line(y)), floor(across.on_line(x))


def _middles(axis: Axis, low: float, high: float) -> list[float]:
    stops = [low, *(stop.value for stop in axis.stops if low < stop.value < high), high]
    return [(first + last) / 2 for first, last in pairwise(stops)]
