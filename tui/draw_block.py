"""The picture of a finished block: its seams numbered as they are sewn, or one of its units shown strong."""

from __future__ import annotations

from collections.abc import Iterator

from planner.plan import Plan
from tui.canvas import HEAVY, Canvas, Easel
from tui.fit_picture import Extent, Fit, View, measure_scenes, offer_fits
from tui.number_seams import Tag, place_tags, tag_seams
from tui.paint_scene import even_rows, letters_of, paint_scene
from tui.scene import Scene, show_block, show_side

_MOST_COLUMNS, _MOST_ROWS = 360, 160
_LEAST_ROWS = 6
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
    extent = measure_scenes(scene)
    tags = tag_seams(plan, block, scene.seams) if numbered else ()
    letters = letters_of(plan, scene)
    best: tuple[Easel, View, Fit] | None = None
    least = len(scene.patches) + 1
    for fit in _offer(extent, width, height, numbered):
        view = _view(scene, fit)
        easel = Easel(fit.columns(extent.wide), fit.rows(extent.high))
        paint_scene(easel, scene, view, fit.detail)
        _put_tags(easel, scene, view, tags)
        easel.write_letters(letters)
        missing = len(scene.patches) - len(easel.letters_of)
        if missing < least:
            best, least = (easel, view, fit), missing
        if not missing:
            break
    assert best is not None, "a plain fit is always offered"
    easel, view, fit = best
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


def block_room(plan: Plan, block: int) -> tuple[int, int]:
    """Columns and rows in which every seam of a block can carry its number without touching another."""
    scene = show_block(plan, block)
    extent = measure_scenes(scene)
    tags = tag_seams(plan, block, scene.seams)
    room = (1, 1)
    rows = _LEAST_ROWS
    while rows <= _MOST_ROWS:
        for fit in _offer(extent, _MOST_COLUMNS, rows, numbered=True):
            if fit.detail != "outlined":
                continue
            before, room = room, (fit.columns(extent.wide), fit.rows(extent.high))
            if room == before:
                continue
            placed = place_tags(tags, scene.border, _view(scene, fit).spot, *room)
            if len(placed) == len(tags) and all(tag.is_clear for tag in placed.values()):
                return room
        rows += max(1, rows // 8)
    return room


def _offer(extent: Extent, width: int, height: int, numbered: bool) -> Iterator[Fit]:
    largest = {"largest": _LARGEST_TAGGED} if numbered else {}
    return offer_fits(extent, {"outlined": width - 1, "ruled": width + 1, "plain": width}, height, **largest)


def _view(scene: Scene, fit: Fit) -> View:
    left, top, _, _ = scene.box
    return View(left, top, fit.start, fit.start, fit.across, fit.down)


def _put_tags(easel: Easel, scene: Scene, view: View, tags: tuple[Tag, ...]) -> None:
    placed = place_tags(tags, scene.border, view.spot, easel.width, easel.height)
    for number, ((row, column), _) in placed.items():
        for at, sign in enumerate(tags[number].text, column):
            easel.put((row, at), sign, "label")
