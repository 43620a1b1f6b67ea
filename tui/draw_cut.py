"""Pictures of cutting: a strip with its cross cuts, and a piece as it lies on the cloth with the cuts across it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from planner.cloth.cut_strips import StripCut
from planner.cut_prints import runs_down
from planner.measure import Root
from planner.say_step import Speaker
from planner.sheet import CutWork
from planner.turn_prints import NO_WAY
from tui.canvas import BLANK, Canvas, Cell, Easel, Role, Spot
from tui.draw_strip import draw_strip
from tui.draw_unit import draw_pile
from tui.paint_scene import even_rows, spell_label

ALONG, ACROSS = "↕", "↔"  # the grain, where it runs up and down in the picture, and where from left to right
_LOWEST = 3  # rows of a strip
_MOST_HIGH = 8
_NARROWEST = 12  # columns
_TALLEST = 7  # rows of a piece
_GAP = 4  # columns between two pictures

_Spotting = Callable[[Fraction, Fraction], Spot]
_Lines = Sequence[tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]]


def draw_strips(speaker: Speaker, cut: StripCut, width: int, height: int) -> Canvas | None:
    """As many of the unlike strips as there is room for, each once, and how many more there are; letters say for which
    pile a piece is."""
    grain = ACROSS if cut.stock is not None and cut.stock.is_turned else ALONG
    if width < _NARROWEST or height < 1 + _LOWEST:
        return None
    strips = cut.strips[: (height - 1) // _LOWEST]
    hidden = len(cut.strips) - len(strips)
    more = f"; and {hidden} more {'sort' if hidden == 1 else 'sorts'} of strip" if hidden else ""
    highest = min(_MOST_HIGH, (height - 1) // len(strips))
    rows = [_label(f"{grain} grain{more}", width)]
    names = [f" x {strip.times}" if len(cut.strips) > 1 else "" for strip in strips]
    room = width - max(map(len, names), default=0)
    for strip, name in zip(strips, names, strict=True):
        picture = draw_strip(cut.cloth, strip, cut.room, speaker.ruler, speaker.letters, room, highest)
        middle = len(picture) // 2
        rows += [[*row, *_label(name if at == middle else "", len(name))] for at, row in enumerate(picture)]
    return even_rows(rows)


def _label(words: str, width: int) -> list[Cell]:
    return spell_label(words, range(0), min(width, len(words)))


def _corners(spot: _Spotting, x: Fraction, y: Fraction, wide: Fraction, high: Fraction) -> list[Spot]:
    return [spot(x, y), spot(x + wide, y), spot(x + wide, y + high), spot(x, y + high)]


def _rule_box(
    easel: Easel, spot: _Spotting, x: Fraction, y: Fraction, wide: Fraction, high: Fraction, role: Role
) -> None:
    corners = _corners(spot, x, y, wide, high)
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        easel.rule(start, end, role)


def draw_cut(speaker: Speaker, work: CutWork, width: int, height: int) -> Canvas | None:
    """A piece as it lies on the cloth, with the cuts across it; beside it, where it is no plain square or rectangle,
    what lies in the pile then."""
    cut = _draw_piece(speaker, work, width, height)
    if cut is None or (work.per == 1 and work.entry.piece.shape in ("square", "rectangle") and work.entry.up == NO_WAY):
        return cut
    pile = draw_pile(speaker, work.pile, width - len(cut[0]) - _GAP, height)
    if pile is None:
        pile = draw_pile(speaker, work.pile, width, height) if speaker.has_mark(work.pile) else None
        return pile or cut
    more = max(len(cut), len(pile))
    left, right = (even_rows([*one, *[[BLANK] * len(one[0])] * (more - len(one))]) for one in (cut, pile))
    return even_rows([[*one, *[BLANK] * _GAP, *other] for one, other in zip(left, right, strict=True)])


def _draw_piece(speaker: Speaker, work: CutWork, width: int, height: int) -> Canvas | None:
    wide, high, lines = _find_piece(speaker, work)
    label = next((words for words in (f"on the cloth, {ALONG} grain", f"{ALONG} grain") if len(words) <= width), "")
    inside = min(_TALLEST, height - 2)
    if inside < 2 or width < 6:
        return None
    down = min(inside / high, (width - 1) / (2 * wide))
    rows, columns = max(2, round(high * down)), min(width - 1, max(4, round(2 * wide * down)))
    easel = Easel(columns + 1, rows + 1)

    def spot(x: Fraction, y: Fraction) -> Spot:
        return float(0.5 + x * columns / wide), float(0.5 + y * rows / high)

    easel.fill(0, _corners(spot, Fraction(0), Fraction(0), wide, high))
    _rule_box(easel, spot, Fraction(0), Fraction(0), wide, high, "edge")
    for start, end in lines:
        easel.rule(spot(*start), spot(*end), "seam")
    letters = {fabric.name: fabric.letter for fabric in speaker.plan.project.fabrics}
    easel.write_letters([letters[work.entry.fabric]])
    return even_rows([_label(label, width), *easel.rows([work.entry.fabric])])


def _find_piece(speaker: Speaker, work: CutWork) -> tuple[Fraction, Fraction, _Lines]:
    """What is cut of the strips: its sides across the cloth and along it, and the cuts across it."""
    piece = work.entry.piece
    if work.instead is not None and work.sources:
        return work.sources[0].wide, work.sources[0].high, ()
    zero, is_plain = Fraction(0), piece.shape in ("square", "rectangle")
    if piece.shape == "other" or (is_plain and work.entry.up != NO_WAY):
        wide, high = (max(corner[axis] for corner in piece.corners) for axis in (0, 1))
        return wide, high, tuple(zip(piece.corners, (*piece.corners[1:], piece.corners[0]), strict=True))
    step = speaker.ruler.step
    short, long = (side.up_to(step) if isinstance(side, Root) else side for side in piece.cut)
    if is_plain:
        if work.sources:
            return work.sources[0].wide, work.sources[0].high, ()
        return long, short, ()
    side = long if piece.shape == "quarter-square triangle" else short
    falls, rises = ((zero, zero), (side, side)), ((zero, side), (side, zero))
    if piece.shape == "quarter-square triangle":
        return side, side, (falls, rises)
    is_down = work.entry.up != NO_WAY and runs_down(piece)
    return side, side, (falls if is_down else rises,)
