"""The picture of two units beside the machine, and of what becomes of them."""

from __future__ import annotations

from math import ceil, floor
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Side
from planner.name_piles import Chain
from planner.say_step import Speaker
from planner.sheet import feed_chain, feed_turn, pins_of
from tui.canvas import BLANK, HEAVY, Canvas, Cell, Easel, Spot, arms_glyph
from tui.fit_picture import Detail, Fit, View, measure_scenes, offer_fits
from tui.paint_scene import even_rows, letters_of, paint_scene, put_mark, spell_label
from tui.scene import Scene, nearly, show_side, stand_up

_BEFORE_RESULT = 4  # columns between the pair and what it becomes
_ENTRIES = (" in first ", " first ", "")  # words between the upper ends of the edges
# The words over the units, shorter and shorter; which one lies underneath matters more than what becomes of them
_ROLES = (("underneath, right side up", "on top, turned over"), ("underneath", "on top"), ("", "on top"))
_WORTH_A_RESULT = 0.6  # how small the pair may get so that there is room for what it becomes
_LEAST_GAP = 4  # columns between the edges
_HAIR = 1e-4


class _Pin(NamedTuple):
    """A pin so far down the seam; at a join also whether the ridges underneath and on top run up."""

    down: float
    under_up: bool | None = None
    top_up: bool | None = None


class _Lying(NamedTuple):
    """A unit as it lies at the machine: its letter, and where the slip's mark is (point, eighths of a turn), if any."""

    letter: str
    scene: Scene
    mark: tuple[Spot, int] | None


class _Painted(NamedTuple):
    fit: Fit
    pins: dict[int, _Pin]  # by row
    under: Easel
    top: Easel

    def is_as_good_as(self, larger: _Painted) -> bool:
        """Whether it shows as much as a larger picture, and is not much smaller."""
        order: tuple[Detail, ...] = ("outlined", "ruled", "plain")
        has_detail = order.index(self.fit.detail) <= order.index(larger.fit.detail)
        return has_detail and self.fit.down >= _WORTH_A_RESULT * larger.fit.down


def draw_pair(speaker: Speaker, chain: Chain, width: int, height: int) -> Canvas | None:
    """The two units of a chain beside the machine, the seam upright, its first end up, the unit underneath on the left.

    The edges to sew are double and pinned; at joins arrows say which way the ridges run. At the right what becomes of
    them, where there is room. None where there is no room for the pair.
    """
    picture = _PairPicture(speaker, chain)
    for entry in _ENTRIES:
        gap = max(_LEAST_GAP, len(entry))
        alone = picture.paint(width - gap - 2, height - 1)
        if alone is None:
            continue
        both = picture.paint((width - gap - 3 - _BEFORE_RESULT) / 2, height - 1)
        canvas = None
        if both is not None and both.is_as_good_as(alone):
            canvas = picture.compose(both, entry, gap, width, with_result=True)
        canvas = canvas or picture.compose(alone, entry, gap, width, with_result=False)
        if canvas is not None:
            return canvas
    return None


class _PairPicture:
    def __init__(self, speaker: Speaker, chain: Chain) -> None:
        plan = speaker.plan
        feed = feed_chain(plan, chain)
        unit = plan.units.units[chain.unit]
        assert unit.a is not None
        assert unit.b is not None
        self.plan = plan
        self.turn = stand_up(plan, chain)
        self.eighths = feed_turn(plan, chain)
        low, high = speaker.order_of(chain)
        sides = (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b)
        self.under = self._lay(speaker, sides[0], low.pile, low.turn)
        self.top = self._lay(speaker, sides[1], high.pile, high.turn)
        self.extent = measure_scenes(self.under.scene, self.top.scene)
        self.start = nearly(min(self.under.scene.box[1], self.top.scene.box[1]))
        self.length = nearly(self.turn(feed.last)[1])
        ridges = {at: (under_up, top_up) for at, top_up, under_up in speaker.ridges(chain)}
        pins = [_Pin(nearly(self.turn(at)[1]), *ridges.get(at, (None, None))) for at in pins_of(plan, chain.unit)]
        self.pins = sorted(pins, key=lambda pin: pin.down)
        self.result = " or ".join(speaker.letter(outcome.pile) for outcome in chain.outcomes.values())

    def _lay(self, speaker: Speaker, side: Side, pile: str, turn: int) -> _Lying:
        scene = show_side(self.plan, side)
        mark = None
        if speaker.has_mark(pile):
            ends = [self.turn(corner) for corner in _ends_of_side(scene, turn)]
            middle = (nearly(ends[0][0] + ends[1][0]) / 2, nearly(ends[0][1] + ends[1][1]) / 2)
            mark = (middle, 2 * turn + self.eighths)
        return _Lying(speaker.letter(pile), scene.turned(self.turn), mark)

    def paint(self, columns: float, rows: int) -> _Painted | None:
        """The best fit whose cloth takes at most so many columns and rows; None where no picture can be understood."""
        if rows < 3 or columns < 4:
            return None
        most: dict[Detail, float] = {"outlined": columns - 1, "ruled": columns + 1, "plain": columns - 1}
        patches = len(self.under.scene.patches) + len(self.top.scene.patches)
        best, least = None, patches
        for fit in offer_fits(self.extent, most, rows):
            pins = self._place_pins(fit)
            if pins is None:
                continue
            painted = _Painted(fit, pins, self._paint(self.under, fit, pins), self._paint(self.top, fit, pins))
            missing = patches - len(painted.under.letters_of) - len(painted.top.letters_of)
            if not missing:
                return painted
            if missing < least:
                best, least = painted, missing
        return best if 2 * least <= patches else None

    def _row(self, fit: Fit, down: float) -> float:
        return fit.start + (down - self.start) * fit.down

    def _edge_rows(self, fit: Fit) -> tuple[int, int]:
        """The first and the last row of the edge to sew."""
        start, end = self._row(fit, 0), self._row(fit, self.length)
        if fit.detail == "plain":
            first, last = ceil(start - 0.5 - _HAIR), ceil(end - 0.5 - _HAIR) - 1
        else:
            first, last = floor(start + _HAIR), floor(end + _HAIR)
        rows = fit.rows(self.extent.high)
        return max(0, first), min(last, rows - 1)

    def _place_pins(self, fit: Fit) -> dict[int, _Pin] | None:
        """A row for each pin; None where the ends and the joins do not get one each."""
        first, last = self._edge_rows(fit)
        needed = [pin for pin in self.pins if pin.under_up is not None or pin.down in (0, self.length)]
        rows: list[int] = []
        for pin in needed:
            lowest = rows[-1] + 1 if rows else first
            rows.append(max(floor(self._row(fit, pin.down) + _HAIR), lowest))
        highest = last
        for place in reversed(range(len(rows))):
            rows[place] = min(rows[place], highest)
            highest = rows[place] - 1
        if rows[0] < first:
            return None
        placed = dict(zip(rows, needed, strict=True))
        for pin in self.pins:
            if pin not in needed:
                placed.setdefault(floor(self._row(fit, pin.down) + _HAIR), pin)
        return placed

    def _paint(self, lying: _Lying, fit: Fit, pins: dict[int, _Pin] | None) -> Easel:
        """One unit; without pins only its cloth and seams, as it is shown in what becomes of it."""
        scene = lying.scene
        is_under = lying is self.under
        left, _, right, _ = scene.box
        columns = max(1, floor(nearly(right - left) * fit.across + 0.5) - (fit.detail == "ruled"))
        # The seam runs through the middle of a column of its own, the next one, where lines have cells of their own
        from_seam = 0.0 if fit.detail == "plain" else 0.5
        x = columns + from_seam if is_under else -from_seam
        view = View(0, self.start, x, fit.start, fit.across, fit.down)
        easel = Easel(columns, fit.rows(self.extent.high))
        paint_scene(easel, scene, view, fit.detail)
        for row, pin in (pins or {}).items():
            up = pin.under_up if is_under else pin.top_up
            if up is not None:
                easel.put((row, columns - 1 if is_under else 0), "↑" if up else "↓", "ridge", True)
        easel.write_letters(letters_of(self.plan, scene))
        if lying.mark is not None and pins is not None:
            put_mark(easel, view.spot(*lying.mark[0]), lying.mark[1])
        return easel

    def compose(self, painted: _Painted, entry: str, gap: int, width: int, with_result: bool) -> Canvas | None:
        """The whole picture; None where it is too wide even with the shortest words."""
        fit, pins, under, top = painted
        whole = under.width + 1 + top.width
        becomes = f"becomes {self.result}"
        beside = max(whole, len(becomes)) if with_result else 0
        for roles in _ROLES[: 2 if with_result else 3]:
            both = zip((self.under, self.top), roles, strict=True)
            labels = [f"{lying.letter}  {role}".rstrip() for lying, role in both]
            before, after = max(under.width + 1, len(labels[0])), max(top.width + 1, len(labels[1]))
            if before + gap + after + (_BEFORE_RESULT + beside if with_result else 0) <= width:
                break
        else:
            return None
        rows = [
            spell_label(labels[0], range(len(self.under.letter)), before, to_right=len(labels[0]) > under.width)
            + [BLANK] * gap
            + spell_label(labels[1], range(len(self.top.letter)), after)
        ]
        first, last = self._edge_rows(fit)
        cloth = under.rows(self.under.scene.fabrics), top.rows(self.top.scene.fabrics)
        for row in range(under.height):
            edge = between = BLANK
            if first <= row <= last:
                edge = Cell("╫", None, "pin", True) if row in pins else Cell("║", None, "sew", True)
                between = Cell("╌", None, "pin") if row in pins else BLANK
            rows.append(
                [BLANK] * (before - under.width - 1)
                + [*cloth[0][row], edge, *[between] * gap, edge, *cloth[1][row]]
                + [BLANK] * (after - top.width - 1)
            )
        rows[first + 1][before : before + len(entry)] = spell_label(entry, range(0), len(entry))
        if with_result:
            self._add_result(rows, fit, becomes, beside)
        return even_rows(rows)

    def _add_result(self, rows: list[list[Cell]], fit: Fit, becomes: str, width: int) -> None:
        under, top = (self._paint(lying, fit, None) for lying in (self.under, self.top))
        cloth = under.rows(self.under.scene.fabrics), top.rows(self.top.scene.fabrics)
        first, last = self._edge_rows(fit)
        space = [BLANK] * _BEFORE_RESULT
        rows[0] += space + spell_label(becomes, range(len("becomes "), len(becomes)), width)
        for row in range(under.height):
            seam = BLANK
            if first <= row <= last:
                up, down = (HEAVY if is_inside else 0 for is_inside in (row > first, row < last))
                arms = up, top.arm((row, 0), 3), down, under.arm((row, under.width - 1), 1)
                seam = Cell(arms_glyph(*arms), None, "seam", True)
            rows[row + 1] += [*space, *cloth[0][row], seam, *cloth[1][row]]


def _ends_of_side(scene: Scene, turn: int) -> tuple[Point, Point]:
    """The ends of one side of the box round a scene: 0 the upper, 1 the right, 2 the lower, 3 the left one."""
    left, top, right, bottom = scene.box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return corners[turn % 4], corners[(turn + 1) % 4]
