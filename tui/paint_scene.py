"""A scene -> an easel: cloth, lines, the mark of the slip; and rows of words beside it."""

from __future__ import annotations

from collections.abc import Sequence

from planner.plan import Plan
from tui.canvas import BLANK, HEAVY, LIGHT, Canvas, Cell, Easel, Place, Spot
from tui.fit_picture import Detail, View
from tui.scene import Scene, nearly

ARROWS = "↑↗→↘↓↙←↖"  # by eighths of a turn from up
MARKS = "▲◥▶◢▼◣◀◤"  # of a slip, where it points
TURNED = "△◹▷◿▽◺◁◸"  # of a block of the quilt, where the edge is that is its upper one as drawn


def paint_scene(easel: Easel, scene: Scene, view: View, detail: Detail, strong_seam: int | None = None) -> None:
    """Cloth and lines, without letters: what else is put on the cloth must be there before them."""
    for number, outline in enumerate(scene.patches):
        easel.fill(number, [view.spot(x, y) for x, y in outline])
    if detail == "outlined":
        for start, end in zip(scene.border, scene.border[1:] + scene.border[:1], strict=True):
            easel.rule(view.spot(*start), view.spot(*end), "edge")
    for start, end in scene.bends if detail != "plain" else ():
        easel.rule(view.spot(*start), view.spot(*end), "seam", LIGHT)
    for number, (start, end) in enumerate(scene.seams):
        weight = HEAVY if number == strong_seam else LIGHT
        if detail != "plain" or weight == HEAVY:
            easel.rule(view.spot(*start), view.spot(*end), "seam", weight)


def letters_of(plan: Plan, scene: Scene) -> list[str]:
    """The letter of each patch's fabric."""
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    return [letters[fabric] for fabric in scene.fabrics]


def put_mark(easel: Easel, target: Spot, eighths: int, patch: int, columns: range | None = None) -> None:
    """The slip's mark, pointing so many eighths of a turn from up, as near to the target as nothing is hidden by it, in
    any of the `columns`; on one patch or at its border, where there is room on it."""
    best: tuple[bool, int, float, Place] | None = None
    for row, owners in enumerate(easel.owner):
        for column in columns or range(easel.width):
            number, place = owners[column], (row, column)
            if easel.is_plain_line(place):
                hides = 0
            elif number < 0 or not easel.is_free(place):
                continue
            elif place not in easel.written:
                hides = 0
            elif easel.letters_of[number] > 1:
                hides = 1
            else:
                continue
            # A row is as high as two columns are wide
            away = ((column + 0.5 - target[0]) / 2) ** 2 + (row + 0.5 - target[1]) ** 2
            is_beside = not easel.touches(place, patch)
            if best is None or (is_beside, hides, away) < best[:3]:
                best = (is_beside, hides, away, place)
    if best is not None:
        easel.put(best[3], MARKS[eighths % 8], "mark", True)


def middle_of_side(scene: Scene, turn: int) -> tuple[float, float]:
    """The middle of one side of the box round a scene: 0 the upper, 1 the right, 2 the lower, 3 the left one."""
    left, top, right, bottom = map(nearly, scene.box)
    across, down = (left + right) / 2, (top + bottom) / 2
    return ((across, top), (right, down), (across, bottom), (left, down))[turn % 4]


def spell_label(text: str, strong: range, width: int, to_right: bool = False) -> list[Cell]:
    """Words beside a picture, cut or filled to a width; those signs whose place is in `strong` stand out."""
    cells = [Cell(sign, None, "label", place in strong) for place, sign in enumerate(text[:width])]
    spare = [BLANK] * (width - len(cells))
    return spare + cells if to_right else cells + spare


def even_rows(rows: Sequence[Sequence[Cell]]) -> Canvas:
    """Rows filled up to the longest."""
    width = max(map(len, rows), default=0)
    return tuple((*row, *[BLANK] * (width - len(row))) for row in rows)
