"""The quilt block by block: each block a box with its number, where there is no room for its patches."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import lru_cache
from math import floor

from planner.blocks import DraftedBlock, Top
from planner.plan import Plan
from tui.canvas import BLANK, Canvas, Cell, Easel
from tui.lay_axis import Axis
from tui.paint_scene import even_rows
from tui.place_quilt import Box, box_of, lay_axes, mark_of, number_blocks
from tui.scene import nearly

FADED = "·"
_BOXES = ((3, 6, True), (1, 4, True), (1, 3, False))  # rows and columns of a block, lines round it


def draw_boxes(plan: Plan, width: int, height: int, strong: Collection[int] | None = None) -> Canvas:
    """The quilt block by block: each one is its number, with its mark where it lies turned. What does not fit is left
    out at the right and below; of a quilt that is higher the rows that hold something strong are shown."""
    top = plan.blocks.top
    assert top is not None
    words = label_blocks(plan, top)
    if top.on_point:
        rows = _draw_bricks(plan, top, words, strong)
    else:
        axes, words = _fit_boxes(plan, top, words, width, height)
        rows = paint_boxes(plan, top, axes, words, strong)
    if len(rows) > height:
        marked = [row for row, cells in enumerate(rows) if any(cell.strong for cell in cells)] or [0]
        first = max(0, min(marked[0], len(rows) - height))
        rows = rows[first : first + height]
    return even_rows([row[:width] for row in rows])


def label_blocks(plan: Plan, top: Top) -> dict[int, str]:
    """For each piece of the top that is a block its number, and its mark where it lies turned."""
    labels = number_blocks(plan)
    return {
        number: f"{labels[piece.block]}{mark_of(plan, piece)}"
        for number, piece in enumerate(top.pieces)
        if piece.block >= 0
    }


def _draw_bricks(plan: Plan, top: Top, words: dict[int, str], strong: Collection[int] | None) -> list[list[Cell]]:
    """On point: a row of text for each row of blocks, each block in its place between those above and below it."""
    half = (max(map(len, words.values())) + 2) // 2
    boxes = {number: box_of(plan, top.pieces[number]) for number in words}
    side = min(box.right - box.left for box in boxes.values())
    middles = {number: (box.middle[0] - box.middle[1], box.middle[0] + box.middle[1]) for number, box in boxes.items()}
    left, upper = min(x for x, _ in middles.values()), min(y for _, y in middles.values())
    rows: list[list[Cell]] = []
    for number, (x, y) in middles.items():
        row, column = round((y - upper) / side), half * round((x - left) / side)
        while len(rows) <= row:
            rows.append([])
        rows[row] += [BLANK] * (column - len(rows[row]))
        fabric = main_fabric(plan.blocks.drafted[top.pieces[number].block])
        is_strong = strong is not None and number in strong
        label = words[number] if strong is None or is_strong else FADED * len(words[number])
        rows[row] += [Cell(sign, fabric, "cloth", is_strong) for sign in label]
    return rows


def _fit_boxes(
    plan: Plan, top: Top, words: dict[int, str], width: int, height: int
) -> tuple[tuple[Axis, Axis], dict[int, str]]:
    """The axes of a quilt drawn block by block, as large as there is room for it, and its words, shortened where there
    is none."""
    wide = max(map(len, words.values()))
    for rows, columns, is_ruled in _BOXES:
        across, down = lay_boxes(plan, top, max(columns, wide + (2 if is_ruled else 1)), rows, is_ruled)
        if across.cells <= width and down.cells <= height:
            return (across, down), words
    # No room for both: the mark alone where there is one
    return lay_boxes(plan, top, 2, 1, is_ruled=False), {number: label[-1] for number, label in words.items()}


def lay_boxes(plan: Plan, top: Top, columns: int, rows: int, is_ruled: bool = True) -> tuple[Axis, Axis]:
    """Axes on which every block has at least so many columns and rows, and a strip as few as show its letter."""
    boxes = [box_of(plan, piece) for piece in top.pieces if piece.block >= 0]
    least = min(min(box.right - box.left, box.bottom - box.top) for box in boxes)
    letters = {fabric.name: len(fabric.letter) for fabric in plan.project.fabrics}
    patches = plan.blocks.drafted[-1].patches
    strip = max((letters[patches[piece.first].fabric] for piece in top.pieces if piece.block < 0), default=1)
    return lay_axes(
        plan,
        top,
        lambda length: columns if length >= least else strip,
        lambda length: rows if length >= least else 1,
        is_ruled,
    )


def paint_boxes(
    plan: Plan,
    top: Top,
    axes: tuple[Axis, Axis],
    words: dict[int, str],
    strong: Collection[int] | None = None,
    has_letters: bool = True,
) -> list[list[Cell]]:
    """Every piece of the quilt as a box: a block with its label in its main fabric, a strip with its own letter where
    it `has_letters`."""
    across, down = axes
    easel = Easel(across.cells, down.cells)
    is_ruled = any(stop.is_ruled for stop in across.stops)
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    fabrics = []
    for number, piece in enumerate(top.pieces):
        box = box_of(plan, piece)
        is_meant = strong is None or number in strong
        if piece.block >= 0:
            _paint_block(easel, number, box, axes, words[number] if is_meant else FADED * len(words[number]), is_ruled)
            fabrics.append(main_fabric(plan.blocks.drafted[piece.block]))
            continue
        patch = plan.blocks.drafted[-1].patches[piece.first]
        fabrics.append(patch.fabric)
        corners = [(nearly(x), nearly(y)) for x, y in patch.outline]
        easel.fill(
            number, [(across.over(box.left, box.right, x), down.over(box.top, box.bottom, y)) for x, y in corners]
        )
        if has_letters:
            _write_strip(easel, number, box, axes, letters[patch.fabric] if is_meant else FADED)
    is_strong = None if strong is None else [number in strong for number in range(len(top.pieces))]
    return easel.rows(fabrics, is_strong)


def _paint_block(easel: Easel, number: int, box: Box, axes: tuple[Axis, Axis], label: str, is_ruled: bool) -> None:
    across, down = axes
    corners = ((box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom))
    spots = [(across.within(box.left, box.right, x), down.within(box.top, box.bottom, y)) for x, y in corners]
    easel.fill(number, spots)
    if is_ruled:
        lines = [(across.on_line(x), down.on_line(y)) for x, y in corners]
        for start, end in zip(lines, (*lines[1:], lines[0]), strict=True):
            easel.rule(start, end, "seam")
    row = floor((spots[0][1] + spots[2][1]) / 2)
    column = floor((spots[0][0] + spots[2][0] - len(label)) / 2 + 0.5)
    for at, sign in enumerate(label, column):
        easel.written[(row, at)] = sign


def _write_strip(easel: Easel, number: int, box: Box, axes: tuple[Axis, Axis], letter: str) -> None:
    """The letter of a strip all over it, with gaps."""
    across, down = axes
    left, right = (across.within(box.left, box.right, x) for x in (box.left, box.right))
    upper, lower = (down.within(box.top, box.bottom, y) for y in (box.top, box.bottom))
    for row in range(floor(upper), max(floor(upper) + 1, round(lower))):
        for column in range(floor(left), max(floor(left) + 1, round(right)), len(letter) + 1):
            places = [(row, at) for at in range(column, column + len(letter))]
            if all(easel.is_cloth(place) and easel.owner[place[0]][place[1]] == number for place in places):
                easel.written |= dict(zip(places, letter, strict=True))


@lru_cache(maxsize=256)
def main_fabric(block: DraftedBlock) -> str:
    """The fabric that most of a block is made of."""
    areas: dict[str, float] = {}
    for patch in block.patches:
        pairs: Sequence[tuple[tuple[float, float], tuple[float, float]]] = [
            ((nearly(a[0]), nearly(a[1])), (nearly(b[0]), nearly(b[1])))
            for a, b in zip(patch.outline, patch.outline[1:] + patch.outline[:1], strict=True)
        ]
        area = abs(sum(ax * by - ay * bx for (ax, ay), (bx, by) in pairs))
        areas[patch.fabric] = areas.get(patch.fabric, 0) + area
    return max(areas, key=lambda fabric: areas[fabric])
