"""The picture of a finished block: its seams numbered as they are sewn, or one of its units shown strong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from planner.plan import Plan
from tui.canvas import HEAVY, Canvas, Easel
from tui.fit_picture import Extent, Fit, View, measure_scenes, offer_fits
from tui.number_seams import Tag, place_tags, tag_seams
from tui.paint_scene import even_rows, letters_of, paint_scene
from tui.scene import Scene, show_block, show_side

_MOST_COLUMNS, _MOST_ROWS = 360, 160
_LEAST_ROWS = 4  # of the flattest patch, to begin with
_MOST_TRIED = 400  # seams: with more, the picture is as large as it may be
_LARGEST_TAGGED = 16.0  # rows of a patch: tags need more room than letters
_FAINT = "·"


def draw_block(plan: Plan, block: int, width: int, height: int, numbered: bool, marked_seam: int | None) -> Canvas:
    """A drafted block as it looks when it is finished, in at most so many columns and rows.

    With `numbered` each seam carries its number in the order of sewing and an arrow for the way its allowances fall;
    numbers for which there is no room are left out. `marked_seam` is a place in `plan.units.seams[block]`: the unit
    that this seam completes is strong, the rest faint.
    """
    if width < 1 or height < 1:
        return ()
    scene = show_block(plan, block)
    tags = tag_seams(plan, block, scene.seams) if numbered else ()
    easel, view, fit, _ = paint_tagged(scene, tags, letters_of(plan, scene), width, height)
    strong = None
    if marked_seam is not None:
        unit = show_side(plan, plan.units.seams[block][marked_seam])
        inside = set(unit.patches)
        strong = [outline in inside for outline in scene.patches]
        if fit.detail != "plain":
            for start, end in zip(unit.border, unit.border[1:] + unit.border[:1], strict=True):
                easel.rule(view.spot(*start), view.spot(*end), "seam", HEAVY)
        else:
            easel.fade_letters(strong, _FAINT)
    return even_rows(easel.rows(scene.fabrics, strong))


class Tagged(NamedTuple):
    """A block that is painted: `missing` counts the letters and tags for which there is no room, or no clear one."""

    easel: Easel
    view: View
    fit: Fit
    missing: int


def paint_tagged(scene: Scene, tags: tuple[Tag, ...], letters: Sequence[str], width: int, height: int) -> Tagged:
    """The scene with tags on its seams, at least one column wide and one row high, as well as there is room for it."""
    extent = measure_scenes(scene)
    best: Tagged | None = None
    for fit in _offer(extent, width, height, bool(tags)):
        view = _view(scene, fit)
        easel = Easel(fit.columns(extent.wide), fit.rows(extent.high))
        missing = _paint(easel, scene, view, fit, tags, letters)
        if best is None or missing < best.missing:
            best = Tagged(easel, view, fit, missing)
        if not missing:
            break
    assert best is not None, "a plain fit is always offered"
    return best


def block_room(plan: Plan, block: int) -> tuple[int, int]:
    """Columns and rows in which every seam of a block can carry its number, and every patch its letter."""
    scene = show_block(plan, block)
    extent = measure_scenes(scene)
    tags = tag_seams(plan, block, scene.seams)
    letters = letters_of(plan, scene)
    room = (1, 1)
    rows = min(_MOST_ROWS, 1 + ceil(_LEAST_ROWS * extent.high / extent.least_high))
    while True:
        for fit in _offer(extent, _MOST_COLUMNS, rows, numbered=True):
            before, room = room, (fit.columns(extent.wide), fit.rows(extent.high))
            if fit.detail != "outlined" or room == before:
                continue
            if len(tags) <= _MOST_TRIED and not _paint(Easel(*room), scene, _view(scene, fit), fit, tags, letters):
                return room
        if rows >= _MOST_ROWS or len(tags) > _MOST_TRIED:
            return room
        rows = min(_MOST_ROWS, rows + max(1, rows // 8))


def _offer(extent: Extent, width: int, height: int, numbered: bool) -> Iterator[Fit]:
    largest = {"largest": _LARGEST_TAGGED} if numbered else {}
    return offer_fits(extent, {"outlined": width - 1, "ruled": width + 1, "plain": width}, height, **largest)


def _view(scene: Scene, fit: Fit) -> View:
    left, top, _, _ = scene.box
    return View(left, top, fit.start, fit.start, fit.across, fit.down)


def _paint(easel: Easel, scene: Scene, view: View, fit: Fit, tags: tuple[Tag, ...], letters: Sequence[str]) -> int:
    """Paint the block; the answer is how many letters and numbers have no room, or no clear one."""
    paint_scene(easel, scene, view, fit.detail)
    placed = place_tags(tags, scene.border, view.spot, easel.width, easel.height)
    for number, ((row, column), _) in placed.items():
        text = tags[number].text
        for at, sign in enumerate(text, column):
            easel.put((row, at), sign, "label")
        for beside in ((row, column - 1), (row, column + len(text))):
            if easel.is_cloth(beside) and easel.is_free(beside):  # no letter may stand next to a number
                easel.put(beside, " ", "cloth")
    easel.write_letters(letters)
    clear = sum(tag.is_clear for tag in placed.values())
    return len(scene.patches) - len(easel.letters_of) + len(tags) - clear
