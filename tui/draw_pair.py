"""The picture of two units beside the machine, and of what becomes of them.

Patch by patch; of what joins the quilt, where not every patch can be told, piece by piece, else only the outlines.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, floor
from typing import NamedTuple

from planner.bend_cuts import lies_on
from planner.blocks import Outline, Point
from planner.name_piles import Chain
from planner.say_step import Speaker
from planner.sheet import feed_chain, feed_turn, pins_of, stretches_of
from planner.turns import to_eighths
from tui.box_layout import (
    Boxes,
    BoxPiece,
    Group,
    Labelled,
    Place,
    add_legend,
    find_joint,
    legend_width,
    offer_boxes,
    show_pieces,
    tell_blocks,
)
from tui.canvas import BLANK, HEAVY, Canvas, Cell, Easel, Spot, arms_glyph
from tui.draw_unit import draw_joined
from tui.fit_picture import ALL_DETAILS, Detail, Extent, Fit, View, measure_scenes, offer_fits
from tui.paint_scene import even_rows, letters_of, paint_scene, put_mark, spell_label
from tui.scene import Box, Scene, find_marked, nearly, show_side, stand_up

_BEFORE_RESULT = 4  # columns between the pair and what it becomes
_ENTRIES = (" in first ", " first ", "")  # words between the upper ends of the edges
# The words over the units, shorter and shorter; which one lies underneath matters more than what becomes of them
_ROLES = (("underneath, right side up", "on top, turned over"), ("underneath", "on top"), ("", "on top"))
_WORTH_A_RESULT = 0.6  # how small the pair may get so that there is room for what it becomes
_LEAST_GAP = 4  # columns between the edges
_LEAST_SLANTING, _LEAST_OUTLINED = 9, 5  # rows of a picture with slanting edges that no line bounds, or that one does
_HAIR = 1e-4


class _Pin(NamedTuple):
    """A pin so far down the seam; at a join also whether the ridges underneath and on top run up."""

    down: float
    under_up: bool | None = None
    top_up: bool | None = None


class _Lying(NamedTuple):
    """A unit as it lies at the machine: its letter, and where the slip's mark is (point, eighths of a turn, on which
    patch), if any."""

    letter: str
    shown: Labelled
    mark: tuple[Spot, int, int] | None

    @property
    def scene(self) -> Scene:
        return self.shown.scene


class _Cloth(NamedTuple):
    """A unit that is painted up to its edge to sew, `columns` wide. What of it goes on beyond that line, at the side of
    the edge, has `beyond` columns more, and one for the line itself where that has a cell of its own."""

    easel: Easel
    is_under: bool
    columns: int
    beyond: int

    def split(self, scene: Scene) -> Iterator[tuple[list[Cell], list[Cell]]]:
        """Row by row the cells up to the line, and those on it and beyond it."""
        for row in self.easel.rows(scene.fabrics):
            if self.is_under:
                yield row[: self.columns], row[self.columns :]
            else:
                yield row[len(row) - self.columns :], row[: len(row) - self.columns]

    def lay_beyond(self, row: list[Cell], line: int, cells: Sequence[Cell]) -> None:
        """Put what is beyond the line, which is a cell of a row, where nothing else is."""
        has_line = len(cells) > self.beyond
        start = line + (not has_line) if self.is_under else line + has_line - len(cells)
        for at, cell in enumerate(cells, start):
            if 0 <= at < len(row) and row[at].role == "blank":
                row[at] = cell

    def arm_at_edge(self, row: int) -> int:
        """The weight of a line that meets the edge there."""
        column = self.columns - 1 if self.is_under else self.easel.width - self.columns
        return self.easel.arm((row, column), 1 if self.is_under else 3)


class _Painted(NamedTuple):
    fit: Fit
    pins: dict[int, _Pin]  # by row
    under: _Cloth
    top: _Cloth

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
    pair = _Pair(speaker, chain)
    joint = find_joint(speaker.plan, chain.unit)
    if joint is None:
        canvas = _PairPicture(pair, pair.show_patches()).draw(width, height)
        if canvas is None and (pair.is_bent or not speaker.ridges(chain)):  # an outline shows no ridges
            canvas = _draw_outlines(pair, width, height)
        turns = bool(speaker.plan.units.units[chain.unit].legs)
        return canvas or (draw_joined(speaker, chain, width, height) if turns and height > _LEAST_SLANTING else None)
    canvas = _PairPicture(pair, pair.show_patches()).draw(width, height, ("outlined", "ruled"))
    return canvas or _draw_joint(pair, joint, width, height)


def _draw_joint(pair: _Pair, joint: int, width: int, height: int) -> Canvas | None:
    """Piece by piece, without pins where these have no room; else what has room of the outlines."""
    seam = pair.plan.units.seams[-1][joint]
    sides = [show_pieces(pair.plan, joint, side, pair.turn) for side in seam.sides]
    if pair.is_turned:
        sides.reverse()
    groups = [Group(side, outline) for side, outline in zip(sides, pair.outlines, strict=True)]
    named = tell_blocks(pair.plan, [piece for side in sides for piece in side])
    for has_pins in (True, False):
        for boxes in offer_boxes(groups):
            canvas = _with_legend(_PairPicture(pair, boxes.groups, boxes, has_pins), named, width, height)
            if canvas is not None:
                return canvas
    outlines = [Group([BoxPiece(outline, "", "", is_strip=True)], outline) for outline in pair.outlines]
    for has_pins in (True, False):
        for boxes in offer_boxes(outlines):
            canvas = _PairPicture(pair, boxes.groups, boxes, has_pins).draw(width, height)
            if canvas is not None:
                return canvas
    return _draw_outlines(pair, width, height)


def _draw_outlines(pair: _Pair, width: int, height: int) -> Canvas | None:
    """The true outlines, with neither patches nor pins, which take less room than those."""
    shown = tuple(Labelled(Scene((one,), ("",), (), one), ("",), frozenset((0,))) for one in pair.outlines)
    picture = _PairPicture(pair, shown, None, has_pins=False)
    if not picture.extent.is_upright and height < _LEAST_SLANTING - 1:
        return None  # rubble: not even a few cells of each side
    return picture.draw(width, height, ("outlined",))


def _with_legend(picture: _PairPicture, named: list[str], width: int, height: int) -> Canvas | None:
    """A picture with what the numbers of its blocks stand for: what becomes of the pair gives way to that."""
    for room in (width - legend_width(named), width):
        canvas = picture.draw(room, height)
        canvas = canvas and add_legend(canvas, named, width, height)
        if canvas is not None:
            return canvas
    return None


class _Pair:
    """What a picture of a chain shows, however it is drawn.

    `turn` leads from the frame of the chain's unit to that of the pair beside the machine: the seam's first end at
    0, 0, its last end below. `is_turned`: side b lies underneath.
    """

    def __init__(self, speaker: Speaker, chain: Chain) -> None:
        plan = speaker.plan
        feed = feed_chain(plan, chain)
        unit = plan.units.units[chain.unit]
        assert unit.a is not None
        assert unit.b is not None
        self.plan = plan
        self.turn = stand_up(plan, chain)
        self.eighths = feed_turn(plan, chain)
        self.is_turned = feed.a_on_top
        self.lying = speaker.order_of(chain)
        self.sides = (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b)
        self.letters = [speaker.letter(lying.pile) for lying in self.lying]
        self.has_mark = [
            speaker.has_mark(lying.pile) and not speaker.webs.is_hanging(chain, lying) for lying in self.lying
        ]
        self.end = self.turn(feed.last)
        ridges = {at: (under_up, top_up) for at, top_up, under_up in speaker.ridges(chain)}
        # Of a seam that turns only what is drawn upright: its first stretch
        pins = [at for at in pins_of(plan, chain.unit) if lies_on(at, feed.first, feed.last)]
        self.pins = [(self.turn(at), *ridges.get(at, (None, None))) for at in pins]
        stretches = stretches_of(plan, chain.unit)
        self.further = [(self.turn(start), self.turn(end)) for start, end in stretches[1:]]
        self.is_bent = unit.is_bent
        # Words tell several corners by their numbers
        self.corners = [self.turn(start) for start, _ in stretches[1:]] if len(stretches) > 2 else []
        self.result = " or ".join(speaker.letter(outcome.pile) for outcome in chain.outcomes.values())

    def show_patches(self) -> tuple[Labelled, ...]:
        scenes = (show_side(self.plan, side).turned(self.turn) for side in self.sides)
        return tuple(Labelled(scene, tuple(letters_of(self.plan, scene))) for scene in scenes)

    @property
    def outlines(self) -> list[Outline]:
        """Where each of the two begins and ends."""
        return [
            tuple(self.turn(self.plan.units.place_point(corner, side)) for corner in self.plan.words.outline(side.unit))
            for side in self.sides
        ]


class _PairPicture:
    """One way to draw a pair: patch by patch, piece by piece (`boxes`), or its outlines."""

    def __init__(
        self, pair: _Pair, shown: tuple[Labelled, ...], boxes: Boxes | None = None, has_pins: bool = True
    ) -> None:
        under, top = shown
        place: Place = boxes.place if boxes else lambda point: point
        self.boxes = boxes
        self.under, self.top = (
            _Lying(letter, one, _mark(pair, number, one.scene, place))
            for number, (letter, one) in enumerate(zip(pair.letters, shown, strict=True))
        )
        self.extent: Extent = measure_scenes(under.scene, top.scene)
        self.start = nearly(min(under.scene.box[1], top.scene.box[1]))
        self.length = nearly(place(pair.end)[1])
        pins = [_Pin(nearly(place(at)[1]), under_up, top_up) for at, under_up, top_up in pair.pins if has_pins]
        self.pins = sorted(pins, key=lambda pin: pin.down)
        self.is_bent = pair.is_bent and not boxes
        self.further = () if boxes else tuple(pair.further)
        self.corners = () if boxes else tuple(pair.corners)
        self.result = pair.result

    def draw(self, width: int, height: int, details: Sequence[Detail] = ALL_DETAILS) -> Canvas | None:
        """As large as there is room for it; None where it is too small. Where it must have certain `details` also where
        a patch shows no letter."""
        for entry in _ENTRIES:
            gap = max(_LEAST_GAP, len(entry))
            alone = self.paint(width - gap - 2, height - 1, details)
            if alone is None:
                continue
            both = self.paint((width - gap - 3 - _BEFORE_RESULT) / 2, height - 1, details)
            canvas = None
            if both is not None and both.is_as_good_as(alone):
                canvas = self.compose(both, entry, gap, width, with_result=True)
            canvas = canvas or self.compose(alone, entry, gap, width, with_result=False)
            if canvas is not None:
                return canvas
        return None

    def paint(self, columns: float, rows: int, details: Sequence[Detail]) -> _Painted | None:
        """The best fit whose cloth takes at most so many columns and rows; None where no picture can be understood."""
        if rows < 3 or columns < 4:
            return None
        most: dict[Detail, float] = {"outlined": columns - 1, "ruled": columns + 1, "plain": columns - 1}
        patches = len(self.under.scene.patches) + len(self.top.scene.patches)
        best, least = None, patches
        for fit in self._offer_fits(most, rows):
            if fit.detail not in details or self._is_rubble(fit):
                continue
            pins = self._place_pins(fit)
            if pins is None:
                continue
            painted = _Painted(fit, pins, self._paint(self.under, fit, pins), self._paint(self.top, fit, pins))
            missing = patches - len(painted.under.easel.letters_of) - len(painted.top.easel.letters_of)
            if not missing:
                return painted
            if missing < least:
                best, least = painted, missing
        return best if 2 * least <= patches and details == ALL_DETAILS and not self.boxes else None

    def _is_rubble(self, fit: Fit) -> bool:
        """Whether, at an inner corner, edges are not told from what is beside them: they have no lines, or few rows."""
        if not self.is_bent:
            return False
        if not self.extent.is_upright:
            return fit.rows(self.extent.high) < (_LEAST_OUTLINED if fit.detail == "outlined" else _LEAST_SLANTING)
        return fit.detail == "plain"

    def _offer_fits(self, most: Mapping[Detail, float], rows: int) -> Iterator[Fit]:
        if self.boxes is None:
            yield from offer_fits(self.extent, most, rows)
            return
        fit = Fit(1, 1, self.boxes.detail)  # it is in cells already
        if fit.rows(self.extent.high) <= rows and self.extent.wide <= most[fit.detail]:
            yield fit

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
        if not self.pins:
            return {}
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

    def _paint(self, lying: _Lying, fit: Fit, pins: dict[int, _Pin] | None) -> _Cloth:
        """One unit; without pins only its cloth and seams, as it is shown in what becomes of it."""
        scene = lying.scene
        is_under = lying is self.under
        left, _, right, _ = map(nearly, scene.box)
        wide, beyond = (-left, max(0.0, right)) if is_under else (right, max(0.0, -left))
        columns = max(1, floor(wide * fit.across + 0.5) - (fit.detail == "ruled"))
        # The seam runs through the middle of a column of its own, the next one, where lines have cells of their own
        from_seam = 0.0 if fit.detail == "plain" else 0.5
        more = floor(beyond * fit.across + 0.5)
        over = more + (fit.detail != "plain") if more else 0
        x = columns + from_seam if is_under else over - from_seam
        view = View(0, self.start, x, fit.start, fit.across, fit.down)
        easel = Easel(columns + over, fit.rows(self.extent.high))
        paint_scene(easel, scene, view, fit.detail)
        for start, end in self.further:
            easel.rule(view.spot(*start), view.spot(*end), "seam" if pins is None else "sew", HEAVY)
        for number, corner in enumerate(self.corners if pins is not None else (), 1):
            column, row = map(floor, view.spot(*corner))
            if column == (columns if is_under else over - 1):  # at the edge itself, which has a cell of its own
                column += -1 if is_under else 1
            place = (min(max(row, 0), easel.height - 1), min(max(column, 0), easel.width - 1))
            easel.put(place, str(number), "label", True)
        for row, pin in (pins or {}).items():
            up = pin.under_up if is_under else pin.top_up
            if up is not None:
                easel.put((row, columns - 1 if is_under else over), "↑" if up else "↓", "ridge", True)
        easel.write_letters(lying.shown.letters, lying.shown.once)
        if lying.mark is not None and pins is not None:
            columns_of_unit = range(columns) if is_under else range(over, over + columns)
            target, eighths, patch = lying.mark
            put_mark(easel, view.spot(*target), eighths, patch, columns_of_unit)
        return _Cloth(easel, is_under, columns, more)

    def compose(self, painted: _Painted, entry: str, gap: int, width: int, with_result: bool) -> Canvas | None:
        """The whole picture; None where it is too wide even with the shortest words."""
        fit, pins, under, top = painted
        whole = under.columns + 1 + top.columns
        becomes = f"becomes {self.result}"
        beside = max(whole, len(becomes)) if with_result else 0
        for roles in _ROLES[: 2 if with_result else 3]:
            both = zip((self.under, self.top), roles, strict=True)
            labels = [f"{lying.letter}  {role}".rstrip() for lying, role in both]
            before, after = max(under.columns + 1, len(labels[0])), max(top.columns + 1, len(labels[1]))
            if before + gap + after + (_BEFORE_RESULT + beside if with_result else 0) <= width:
                break
        else:
            return None
        rows = [
            spell_label(labels[0], range(len(self.under.letter)), before, to_right=len(labels[0]) > under.columns)
            + [BLANK] * gap
            + spell_label(labels[1], range(len(self.top.letter)), after)
        ]
        first, last = self._edge_rows(fit)
        cloth = zip(under.split(self.under.scene), top.split(self.top.scene), strict=True)
        for row, ((left, left_beyond), (right, right_beyond)) in enumerate(cloth):
            edge = between = BLANK
            if first <= row <= last:
                edge = Cell("╫", None, "pin", True) if row in pins else Cell("║", None, "sew", True)
                between = Cell("╌", None, "pin") if row in pins else BLANK
            line = [edge, edge]
            if edge is BLANK:  # what goes on above or below the seam has an edge of its own there
                has_edge = (left[-1].fabric and not under.beyond, right[0].fabric and not top.beyond)
                line = [Cell("│", None, "edge") if has else BLANK for has in has_edge]
            cells = [*left, line[0], *[between] * gap, line[1], *right]
            if edge is BLANK:
                under.lay_beyond(cells, len(left), left_beyond)
                top.lay_beyond(cells, len(left) + 1 + gap, right_beyond)
            rows.append([BLANK] * (before - len(left) - 1) + cells + [BLANK] * (after - len(right) - 1))
        rows[first + 1][before : before + len(entry)] = spell_label(entry, range(0), len(entry))
        if with_result:
            self._add_result(rows, fit, becomes, beside)
        return even_rows(rows)

    def _add_result(self, rows: list[list[Cell]], fit: Fit, becomes: str, width: int) -> None:
        under, top = (self._paint(lying, fit, None) for lying in (self.under, self.top))
        cloth = zip(under.split(self.under.scene), top.split(self.top.scene), strict=True)
        first, last = self._edge_rows(fit)
        space = [BLANK] * _BEFORE_RESULT
        rows[0] += space + spell_label(becomes, range(len("becomes "), len(becomes)), width)
        for row, ((left, left_beyond), (right, right_beyond)) in enumerate(cloth):
            seam = BLANK
            if first <= row <= last:
                up, down = (HEAVY if is_inside else 0 for is_inside in (row > first, row < last))
                arms = up, top.arm_at_edge(row), down, under.arm_at_edge(row)
                seam = Cell(arms_glyph(*arms), None, "seam", True)
            cells = [*left, seam, *right]
            under.lay_beyond(cells, len(left), left_beyond)
            top.lay_beyond(cells, len(left), right_beyond)
            rows[row + 1] += [*space, *cells]


def _mark(pair: _Pair, number: int, scene: Scene, place: Place) -> tuple[Spot, int, int] | None:
    """Where the slip's mark of the pile underneath (0), or on top (1), is."""
    if not pair.has_mark[number]:
        return None
    eighths = to_eighths(pair.lying[number].turn)  # between two sides the mark is at the later one
    box = show_side(pair.plan, pair.sides[number]).box
    ends = [place(pair.turn(corner)) for corner in _ends_of_side(box, (eighths + 1) // 2)]
    across, down = ((nearly(ends[0][axis]) + nearly(ends[1][axis])) / 2 for axis in (0, 1))
    pointing = eighths + pair.eighths
    return (across, down), pointing, find_marked(scene, (across, down), pointing)


def _ends_of_side(box: Box, turn: int) -> tuple[Point, Point]:
    """The ends of one side of a box: 0 the upper, 1 the right, 2 the lower, 3 the left one."""
    left, top, right, bottom = box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return corners[turn % 4], corners[(turn + 1) % 4]
