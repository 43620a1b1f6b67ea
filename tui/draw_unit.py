"""The picture of one unit or patch as it lies in its pile, right side up."""

from __future__ import annotations

from math import floor, hypot
from typing import NamedTuple

from planner.blocks import Point
from planner.name_piles import Chain, Outcome
from planner.say_step import Speaker
from tui.canvas import Canvas, Easel, Spot
from tui.fit_picture import Detail, View, measure_scenes, offer_fits
from tui.paint_scene import (
    ARROWS,
    even_rows,
    letters_of,
    middle_of_side,
    paint_scene,
    put_mark,
    spell_label,
)
from tui.scene import Scene, lay_as_pile, show_unit

_ARROW_EVERY = 5.0  # rows, or twice as many columns, of the seam
_MOST_HIDDEN = 0.25  # of the patches may be too small to show their letter


class _Pressed(NamedTuple):
    """The seam just pressed: its ends, and arrows for the way its allowances fall on its first and its last half."""

    start: Point
    end: Point
    first_half: str
    last_half: str


def draw_outcome(speaker: Speaker, chain: Chain, outcome: Outcome, width: int, height: int) -> Canvas | None:
    """A unit as it comes from the iron and lies in its pile: the seam just pressed is strong, and arrows on it say
    which way its allowances fall. None where it would be too small."""
    plan = speaker.plan
    unit = plan.units.units[chain.unit]
    turn = lay_as_pile(plan, chain.unit, outcome.turn)
    scene = show_unit(plan, chain.unit).turned(turn)
    eighths, _ = speaker.arrow(chain, outcome)
    back = (eighths + 4) % 8
    halves = (eighths, back) if outcome.is_spun or outcome.is_open else (eighths, eighths)
    pressed = _Pressed(turn(unit.seam[0]), turn(unit.seam[1]), ARROWS[halves[0]], ARROWS[halves[1]])
    return _draw(speaker, outcome.pile, scene, width, height, pressed)


def draw_pile(speaker: Speaker, pile: str, width: int, height: int) -> Canvas | None:
    """One unit or patch of a pile, the slip's mark at its top. None where it would be too small."""
    plan = speaker.plan
    return _draw(speaker, pile, show_unit(plan, plan.piles.piles[pile].unit), width, height, None)


def _draw(
    speaker: Speaker, pile: str, scene: Scene, width: int, height: int, pressed: _Pressed | None
) -> Canvas | None:
    extent = measure_scenes(scene)
    rows = height - 1
    best, least = None, len(scene.patches)
    if rows < 2 or width < 4:
        return None
    most: dict[Detail, float] = {"outlined": width - 1, "ruled": width + 1, "plain": width}
    # One row less may put the strong seam where it hides no patch
    for fit in (*offer_fits(extent, most, rows), *offer_fits(extent, most, rows - 1)):
        left, top, _, _ = scene.box
        view = View(left, top, fit.start, fit.start, fit.across, fit.down)
        easel = Easel(fit.columns(extent.wide), fit.rows(extent.high))
        strong_seam = None
        if pressed is not None:
            ends = {pressed.start, pressed.end}
            strong_seam = next(number for number, seam in enumerate(scene.seams) if set(seam) == ends)
        paint_scene(easel, scene, view, fit.detail, strong_seam)
        if pressed is not None:
            _put_arrows(easel, view.spot(*pressed.start), view.spot(*pressed.end), pressed)
        easel.write_letters(letters_of(speaker.plan, scene))
        if speaker.has_mark(pile):
            put_mark(easel, view.spot(*middle_of_side(scene, 0)), 0)
        missing = len(scene.patches) - len(easel.letters_of)
        if missing < least:
            best, least = easel, missing
        if not missing:
            break
    if best is None or least > _MOST_HIDDEN * len(scene.patches):
        return None
    letter = speaker.letter(pile) if pile in speaker.letters else ""
    words = f"{letter}  right side up".strip()
    if len(words) > width:
        words = letter
    label = spell_label(words, range(len(letter)), min(width, max(best.width, len(words))))
    return even_rows([label, *best.rows(scene.fabrics)])


def _put_arrows(easel: Easel, start: Spot, end: Spot, pressed: _Pressed) -> None:
    """Arrows on a seam, evenly spaced; none on its ends. Of one whose halves fall two ways at least one on each."""
    length = hypot((end[0] - start[0]) / 2, end[1] - start[1])
    is_divided = pressed.first_half != pressed.last_half
    many = max(1 + is_divided, floor(length / _ARROW_EVERY))
    for place in range(many):
        share = (2 * place + 1) / (2 * many)
        row = floor(start[1] + share * (end[1] - start[1]))
        column = floor(start[0] + share * (end[0] - start[0]))
        if 0 <= row < easel.height and 0 <= column < easel.width:
            easel.put((row, column), pressed.first_half if 2 * share < 1 else pressed.last_half, "ridge", True)
