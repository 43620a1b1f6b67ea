"""Which units of a plan are of one kind: the same patches in the same places, sewn by the same seams."""

from __future__ import annotations

from typing import NamedTuple

from planner.checks.list_turns import Turn, list_turns, turn_point
from planner.checks.read_plan import Outline, PatchRead, Point, SeamRead, Work
from planner.checks.sew_outlines import sew_outlines
from planner.checks.size_pieces import lay_on_grain, size_piece


class Kind(NamedTuple):
    """What a seam's result is, however it lies."""

    form: int  # equal for units of one kind
    looks_turned_the_same: bool  # a half turn carries it onto itself, seams too
    pressed_to: object  # the side pressed to, told as if all units of the kind lay alike; None: open


def tell_kinds(work: Work, turns: int | None = None) -> tuple[Kind, ...]:
    """One kind for each seam, in their order.

    Two units have one content where they hold the same patches and the same seam lines, in whatever order those were
    sewn; seams are of one kind where both their sides have one content and lie alike. A partial seam is told by its
    stretch as well, until it is closed. Every content and every kind is numbered in each of the turns; the least of its
    numbers stands for all of them.

    `turns` is how many there are, as for `list_turns`.
    """
    laying = list_turns(work, turns)
    contents = _Contents(work, laying)
    needs_faces = any(seam.spin is not None or seam.closes is not None for seam in work.seams)
    faces = sew_outlines(work).faces if needs_faces else ()
    numbers: dict[object, int] = {}
    kinds = []
    for place, seam in enumerate(work.seams):
        corners = contents.join_corners(seam)
        sides = {
            side: [
                (_move(there, corner), number)
                for corner, there, number in zip(corners, contents.corners[side], contents.of(side), strict=True)
            ]
            for side in seam.sides
        }
        forms = []
        for turn, corner in enumerate(corners):
            form: tuple[object, ...] = tuple(sorted(sides[side][turn] for side in seam.sides))
            if seam.is_partial or seam.closes is not None:
                form = (*form, _place_way(seam.way, laying[turn], corner))
            forms.append(numbers.setdefault(form, len(numbers)))
        contents.add(seam, corners, tuple(forms))
        pressed = work.find_pressed(seam)
        pressed_to: object = None
        if pressed is not None and pressed in sides and seam.spin is None:
            pressed_to = sides[pressed][forms.index(min(forms))]
        elif pressed is not None:  # which way round it is spun, or to which side of the way out of the slit it falls
            pressed_to = (faces[place] == (seam.press == "a")) == _leads_out(seam, work)
        kinds.append(Kind(min(forms), forms[0] == forms[len(forms) // 2], pressed_to))
    return tuple(kinds)


def _leads_out(seam: SeamRead, work: Work) -> bool:
    """Whether a seam begins where the one stops that it closes; true of all that close none."""
    return seam.closes is None or seam.start in (work.seams[seam.closes].start, work.seams[seam.closes].end)


class _Contents:
    """What patches and results hold, each told by its place: patches first, then the seams in their order."""

    def __init__(self, work: Work, turns: tuple[Turn, ...]) -> None:
        self._work = work
        self._turns = turns
        self._numbers: dict[object, int] = {}
        self._known: dict[tuple[int, ...], tuple[int, ...]] = {}  # results sewn alike hold the same
        self._sides: list[tuple[int, ...]] = []
        self._forms: list[tuple[int, ...]] = []
        self.corners: list[tuple[Point, ...]] = []  # of each the upper left one of the box round it, in each turn
        looks: dict[object, tuple[tuple[int, ...], tuple[Point, ...]]] = {}
        for patch in work.patches:
            shape = tuple(_move(corner, patch.outline[0]) for corner in patch.outline)
            look = (patch.fabric, patch.is_askew, shape)
            if look not in looks:
                looks[look] = self._lay(patch, shape)
            forms, corners = looks[look]
            first = (turn_point(patch.outline[0], turn) for turn in turns)
            self._sides.append(())
            self._forms.append(forms)
            self.corners.append(tuple((x + left, y + top) for (x, y), (left, top) in zip(first, corners, strict=True)))

    def _lay(self, patch: PatchRead, shape: Outline) -> tuple[tuple[int, ...], tuple[Point, ...]]:
        """In each turn the number of a patch of this shape, and where the corner of the box round it lies."""
        cloth = _tell_cloth(patch, self._work, len(self._turns))
        forms, corners = [], []
        for place, turn in enumerate(self._turns):
            outline = [turn_point(point, turn) for point in shape]
            first = outline.index(min(outline))
            corner = min(x for x, _ in outline), min(y for _, y in outline)
            laid = tuple(_move(point, corner) for point in (*outline[first:], *outline[:first]))
            # A print that has a top points another way after each turn
            forms.append(self._number((cloth, place if patch.has_way else None, laid)))
            corners.append(corner)
        return tuple(forms), tuple(corners)

    def _number(self, content: object) -> int:
        return self._numbers.setdefault(content, len(self._numbers))

    def join_corners(self, seam: SeamRead) -> tuple[Point, ...]:
        """The corner of the box round a seam's result, in each turn."""
        of_sides = zip(*(self.corners[side] for side in seam.sides), strict=True)
        return tuple((min(x for x, _ in there), min(y for _, y in there)) for there in of_sides)

    def add(self, seam: SeamRead, corners: tuple[Point, ...], form: tuple[int, ...]) -> None:
        """The result of the next seam, sewn as `form` says."""
        self.corners.append(corners)
        self._sides.append(seam.sides)
        # A result is told by how it is sewn, with the results inside it, until its content is asked for
        self._forms.append(form)

    def of(self, side: int) -> tuple[int, ...]:
        """The number of a side's content in each of the turns."""
        if not self._sides[side]:
            return self._forms[side]
        if self._forms[side] not in self._known:
            self._known[self._forms[side]] = tuple(self._collect(side, turn) for turn in range(len(self._turns)))
        return self._known[self._forms[side]]

    def _collect(self, side: int, turn: int) -> int:
        corner = self.corners[side][turn]
        patches, lines = [], []
        closed: set[int] = set()
        waiting = [side]
        while waiting:
            here = waiting.pop()
            if not self._sides[here]:
                patches.append((*_move(self.corners[here][turn], corner), self._forms[here][turn]))
                continue
            waiting += self._sides[here]
            place = here - len(self._work.patches)
            seam = self._work.seams[place]
            if seam.closes is not None:
                closed.add(seam.closes)
            if place not in closed:
                lines.append(_place_way(self._find_whole(seam), self._turns[turn], corner))
        return self._number((tuple(sorted(patches)), tuple(sorted(lines))))

    def _find_whole(self, seam: SeamRead) -> tuple[Point, ...]:
        """The way of a seam; of one that closes another the whole that both make."""
        if seam.closes is None:
            return seam.way
        way = self._work.seams[seam.closes].way
        out = seam.way if seam.start in way else seam.way[::-1]
        return (*way[:-1], out[1]) if way[-1] == out[0] else (out[1], *way[1:])


def _tell_cloth(patch: PatchRead, work: Work, many_turns: int) -> object:
    """What tells a patch from others of its outline: the fabric, and how that lies where it makes a difference."""
    if many_turns == 4 or patch.has_way or (patch.is_askew and work.root == 3):
        return patch.cloth
    # Between whole quarters a half square comes to lie like a quarter square, which is cut another way
    shape = size_piece(lay_on_grain(patch), work).shape
    return (*patch.cloth, shape if "triangle" in shape else None)


def _move(point: Point, corner: Point) -> Point:
    """Where a point lies from a corner."""
    return point[0] - corner[0], point[1] - corner[1]


def _place_way(way: tuple[Point, ...], turn: Turn, corner: Point) -> tuple[Point, ...]:
    """A way as it lies after a turn, seen from a corner; the same whichever end it is told from."""
    placed = tuple(_move(turn_point(point, turn), corner) for point in way)
    return min(placed, placed[::-1])
