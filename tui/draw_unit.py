"""The picture of one unit or patch as it lies in its pile, right side up."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import floor, hypot
from typing import NamedTuple

from planner.blocks import Outline, Point
from planner.name_piles import Chain, Outcome
from planner.plan import Plan
from planner.say_step import Speaker
from tui.box_layout import (
    Group,
    Labelled,
    Place,
    Somewhere,
    add_legend,
    find_joint,
    find_ring,
    offer_boxes,
    show_pieces,
    tell_blocks,
)
from tui.canvas import HEAVY, Canvas, Easel
from tui.fit_picture import ALL_DETAILS, Detail, Fit, View, measure_scenes, offer_fits
from tui.paint_scene import (
    ARROWS,
    even_rows,
    letters_of,
    middle_of_side,
    paint_scene,
    put_mark,
    spell_label,
)
from tui.scene import Scene, Turn, find_marked, lay_as_pile, show_unit

_ARROW_EVERY = 5.0  # rows, or twice as many columns, of the seam
_MOST_HIDDEN = 0.25  # of the patches may be too small to show their letter


class _Strong(NamedTuple):
    """A seam that is drawn strong: its stretches; that on which arrows say which way its allowances fall, and which way
    they do on its first and its last half ("" where none are shown)."""

    stretches: tuple[tuple[Somewhere, Somewhere], ...]
    arrows_on: tuple[Somewhere, Somewhere]
    first_half: str = ""
    last_half: str = ""

    def placed(self, place: Place) -> _Strong:
        """The same where its points come to lie elsewhere."""
        moved = [(place(start), place(end)) for start, end in (*self.stretches, self.arrows_on)]
        return self._replace(stretches=tuple(moved[:-1]), arrows_on=moved[-1])


def draw_outcome(speaker: Speaker, chain: Chain, outcome: Outcome, width: int, height: int) -> Canvas | None:
    """A unit as it comes from the iron and lies in its pile: the seam just pressed is strong, and arrows on it say
    which way its allowances fall; what hangs in the web of a block lies as the block does. None where it would be too
    small."""
    hanging = speaker.webs.lie(chain, outcome)
    outcome = hanging or outcome
    turn = lay_as_pile(speaker.plan, chain.unit, outcome.turn)
    eighths, _ = speaker.arrow(chain, outcome)
    back = (eighths + 4) % 8
    halves = (eighths, back) if outcome.is_spun or outcome.is_open else (eighths, eighths)
    pressed = _find_strong(speaker.plan, chain.unit)._replace(first_half=ARROWS[halves[0]], last_half=ARROWS[halves[1]])
    picture = _Picture(speaker, outcome.pile, chain.unit, turn, pressed.placed(turn))
    if hanging is not None:
        picture.has_mark, picture.words = False, "as the block lies"
    return picture.draw(width, height)


def draw_rest(speaker: Speaker, chain: Chain, width: int, height: int) -> Canvas | None:
    """A unit in which a seam was sewn in part, right side up: what is sewn now to finish it is strong. None where it
    would be too small."""
    strong = _find_strong(speaker.plan, chain.unit)
    words = "sew the heavy line"
    return _Picture(speaker, chain.sides[0].pile, chain.unit, _stay, strong, words).draw(width, height)


def draw_joined(speaker: Speaker, chain: Chain, width: int, height: int) -> Canvas | None:
    """What a seam that turns makes of its two sides, all its stretches strong: smaller than both sides beside one
    another. None where it would be too small."""
    pile = next(iter(chain.outcomes))
    strong = _find_strong(speaker.plan, chain.unit)
    words = "when it is sewn: the heavy line"
    return _Picture(speaker, pile, chain.unit, _stay, strong, words).draw(width, height)


def draw_pile(speaker: Speaker, pile: str, width: int, height: int) -> Canvas | None:
    """One unit or patch of a pile, the slip's mark at its top. None where it would be too small."""
    return _Picture(speaker, pile, speaker.plan.piles.piles[pile].unit, _stay, None).draw(width, height)


def _find_strong(plan: Plan, number: int) -> _Strong:
    """The last seam of a unit; of one that is set in all its stretches."""
    unit = plan.units.units[number]
    return _Strong(tuple(pairwise(unit.legs)) or (unit.seam,), unit.seam)


def _stay(point: Point) -> Point:
    return point


class _Picture:
    """One unit of a pile. `turn` leads from its own frame to that of the picture, in which `strong` is."""

    def __init__(
        self, speaker: Speaker, pile: str, number: int, turn: Turn, strong: _Strong | None, words: str = "right side up"
    ) -> None:
        self.speaker = speaker
        self.plan = speaker.plan
        self.pile = pile
        self.number = number
        self.turn = turn
        self.strong = strong
        self.words = words
        self.has_mark = speaker.has_mark(pile)

    def draw(self, width: int, height: int) -> Canvas | None:
        """Patch by patch; of what joins the quilt, where not every patch can be told, piece by piece, else its outline
        alone."""
        if height < 3 or width < 4:
            return None
        scene = show_unit(self.plan, self.number).turned(self.turn)
        patches = Labelled(scene, tuple(letters_of(self.plan, scene)))
        joint = find_joint(self.plan, self.number)
        if joint is None:
            return self._fit(patches, width, height, _MOST_HIDDEN, ALL_DETAILS)
        border = tuple(map(self.turn, self.plan.words.outline(self.number)))
        outline = Labelled(Scene((border,), ("",), (), border), ("",), frozenset((0,)))
        return (
            self._fit(patches, width, height, 0, ("outlined", "ruled"))
            or self._draw_pieces(joint, border, width, height)
            or self._fit(outline, width, height, 0, ("outlined",))
        )

    def _fit(
        self, shown: Labelled, width: int, height: int, most_hidden: float, details: Sequence[Detail]
    ) -> Canvas | None:
        """As large as there is room for it; None where more of the patches show no letter than may."""
        extent = measure_scenes(shown.scene)
        most: dict[Detail, float] = {"outlined": width - 1, "ruled": width + 1, "plain": width}
        many = len(shown.scene.patches)
        best, least = None, many
        # One row less may put the strong seam where it hides no patch
        for fit in (*offer_fits(extent, most, height - 1), *offer_fits(extent, most, height - 2)):
            if fit.detail not in details:
                continue
            easel = self._paint(shown, self.strong, fit)
            missing = many - len(easel.letters_of)
            if missing < least:
                best, least = easel, missing
            if not missing:
                break
        return None if best is None or least > most_hidden * many else self._head(best, shown.scene, width)

    def _draw_pieces(self, joint: int, border: Outline, width: int, height: int) -> Canvas | None:
        top = self.plan.blocks.top
        assert top is not None
        if top.on_point and find_ring(self.plan, joint) is not None:
            return None  # its borders lie aslant here
        pieces = show_pieces(self.plan, joint, joint, self.turn)
        named = tell_blocks(self.plan, pieces)
        for boxes in offer_boxes([Group(pieces, border)]):
            shown = boxes.groups[0]
            easel = self._paint(shown, self.strong and self.strong.placed(boxes.place), Fit(1, 1, boxes.detail))
            if easel.width <= width and easel.height < height and len(easel.letters_of) == len(pieces):
                canvas = add_legend(self._head(easel, shown.scene, width), named, width, height)
                if canvas is not None:
                    return canvas
        return None

    def _paint(self, shown: Labelled, strong: _Strong | None, fit: Fit) -> Easel:
        scene = shown.scene
        extent = measure_scenes(scene)
        left, top, _, _ = scene.box
        view = View(left, top, fit.start, fit.start, fit.across, fit.down)
        easel = Easel(fit.columns(extent.wide), fit.rows(extent.high))
        paint_scene(easel, scene, view, fit.detail)
        if strong is not None:
            for start, end in strong.stretches:
                easel.rule(view.spot(*start), view.spot(*end), "seam", HEAVY)
            if strong.first_half:
                _put_arrows(easel, view, strong)
        easel.write_letters(shown.letters, shown.once)
        if self.has_mark:
            target = middle_of_side(scene, 0)
            put_mark(easel, view.spot(*target), 0, find_marked(scene, target, 0))
        return easel

    def _head(self, easel: Easel, scene: Scene, width: int) -> Canvas:
        """The pile's letter and what is to be seen over the picture."""
        letter = self.speaker.letter(self.pile) if self.pile in self.speaker.letters else ""
        words = f"{letter}  {self.words}".strip()
        if len(words) > width:
            words = letter
        label = spell_label(words, range(len(letter)), min(width, max(easel.width, len(words))))
        return even_rows([label, *easel.rows(scene.fabrics)])


def _put_arrows(easel: Easel, view: View, strong: _Strong) -> None:
    """Arrows on a seam, evenly spaced; none on its ends. Of one whose halves fall two ways at least one on each."""
    start, end = (view.spot(*point) for point in strong.arrows_on)
    length = hypot((end[0] - start[0]) / 2, end[1] - start[1])
    is_divided = strong.first_half != strong.last_half
    many = max(1 + is_divided, floor(length / _ARROW_EVERY))
    for place in range(many):
        share = (2 * place + 1) / (2 * many)
        row = floor(start[1] + share * (end[1] - start[1]))
        column = floor(start[0] + share * (end[0] - start[0]))
        if 0 <= row < easel.height and 0 <= column < easel.width:
            easel.put((row, column), strong.first_half if 2 * share < 1 else strong.last_half, "ridge", True)
