"""Plan -> the units that can be sewn by more than one method: triangle squares, hourglasses, flying geese, rows."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Literal, NamedTuple

from planner.batch_seams import Batch
from planner.blocks import Outline
from planner.build_units import Unit
from planner.cut_list import CutEntry
from planner.cut_sizes import HALF_SQUARE, QUARTER_SQUARE
from planner.plan import Plan
from planner.turn_prints import NO_WAY

Family = Literal["triangle square", "hourglass", "flying goose", "row"]


class MethodUnit(NamedTuple):
    """All units of one batch. Inches, finished.

    `cloths` are its fabrics: of a triangle square both; of an hourglass those of its first pair, then of its second; of
    a goose the goose, then the sky to its left and to its right; of a row from the left. `size` is how wide and how
    high it is (a row: its height twice), `widths` those of a row's patches. `leaves` are the patches of one unit and
    `inside` the seams that one takes but for its last, both as numbers of units, each as often as it is in it.
    `ways_pressed` says how many are `needed` of each version. `is_mirrored`: a pair of squares gives half of them
    mirrored.
    """

    family: Family
    batch: int  # its place in the order of sewing
    unit: int
    name: str
    needed: int
    cloths: tuple[str, ...]
    size: tuple[Fraction, Fraction]
    widths: tuple[Fraction, ...]
    leaves: tuple[int, ...]
    inside: tuple[int, ...]
    ways_pressed: tuple[int, ...]
    is_mirrored: bool = False

    @property
    def kinds(self) -> int:
        """Kinds of seam that one unit takes."""
        return 1 + len(set(self.inside))


def find_method_units(plan: Plan) -> tuple[MethodUnit, ...]:
    """What can be sewn in more ways than one, in the order of sewing. Left out is what has a print with a direction,
    what hangs in a web, and what is no whole patch of a known shape."""
    finder = _Finder(plan)
    found = (finder.find(place, batch) for place, batch in enumerate(plan.batches.batches))
    return tuple(unit for unit in found if unit is not None)


def why_no_methods(plan: Plan, place: int) -> str:
    """Why the units of a batch (its place in the order of sewing) can be sewn in one way only."""
    return _Finder(plan).why_left_out(plan.batches.batches[place]) or "it is no square of triangles, goose or row"


class _Finder:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.units = plan.units.units
        self.entry_of: dict[int, CutEntry] = {number: entry for entry in plan.cut for number in entry.units}

    def find(self, place: int, batch: Batch) -> MethodUnit | None:
        if self.why_left_out(batch):
            return None
        number = batch.units[0]
        chains = self.plan.piles.chains[batch.kind]
        leaves = tuple(self._list_leaves(number))
        told = self._tell_family(self.units[number], [self.entry_of[leaf] for leaf in leaves])
        if told is None:
            return None
        pressed: dict[str, int] = {}
        for chain in chains:
            for outcome in chain.outcomes.values():
                pressed[outcome.pile] = pressed.get(outcome.pile, 0) + outcome.pairs
        return told._replace(
            batch=place,
            unit=number,
            name=self.plan.words.name(number),
            needed=batch.count,
            leaves=leaves,
            inside=tuple(self._list_inside(number)),
            ways_pressed=tuple(sorted(pressed.values(), reverse=True)),
        )

    def why_left_out(self, batch: Batch) -> str:
        """Why a batch is not looked at, whatever its shapes; nothing where it is."""
        number = batch.units[0]
        if len(self.units[number].patches) > MOST_IN_ROW:
            return f"it has more than {MOST_IN_ROW} patches"
        if any(self._is_odd(member) for member in batch.units):
            return "its seam turns, or is sewn in two parts"
        if number in self.plan.words.layouts:  # strips that frame the quilt are cut at their length
            return "it joins the quilt"
        if any(chain.web for chain in self.plan.piles.chains[batch.kind]):
            return "it is sewn in a web"
        if not self.plan.words.is_rectangle(number):
            return "it is no rectangle"
        if any(self.entry_of[leaf].up != NO_WAY for leaf in self._list_leaves(number)):
            return "it has a print with a direction"
        return ""

    def _is_odd(self, number: int) -> bool:
        unit = self.units[number]
        return unit.is_bent or bool(unit.legs or unit.slits) or unit.closes is not None

    def _list_leaves(self, number: int) -> Iterator[int]:
        unit = self.units[number]
        if unit.shape >= 0:
            yield number
        for side in unit.sides:
            yield from self._list_leaves(side.unit)

    def _list_inside(self, number: int) -> Iterator[int]:
        for side in self.units[number].sides:
            if self.units[side.unit].shape < 0:
                yield side.unit
                yield from self._list_inside(side.unit)

    def _tell_family(self, unit: Unit, entries: list[CutEntry]) -> MethodUnit | None:
        shapes = sorted(entry.piece.shape for entry in entries)
        if set(shapes) <= {"rectangle", "square"}:
            return self._tell_row(unit)
        if unit.width == unit.height and shapes == ["half-square triangle"] * 2:
            leg = entries[0].piece.cut[0] - HALF_SQUARE * self.plan.project.seam
            return _named("triangle square", tuple(entry.fabric for entry in entries), (leg, leg))
        if unit.width == unit.height and shapes == ["quarter-square triangle"] * 4:
            return self._tell_hourglass(unit, entries)
        if shapes == ["half-square triangle"] * 2 + ["quarter-square triangle"]:
            return self._tell_goose(unit, entries)
        return None

    def _tell_row(self, unit: Unit) -> MethodUnit | None:
        shapes = self.plan.units.cuts.shapes
        placed = [(y, x, shapes[number]) for y, x, number in unit.patches]
        if any(shape.askew or shape.twice_area != 2 * shape.width * shape.height for _, _, shape in placed):
            return None  # what lies slanting in its frame is left as it is
        if len({(y, shape.height) for y, _, shape in placed}) == 1:
            along = sorted(((x, shape.width, shape.fabric) for _, x, shape in placed), key=lambda one: one[0])
            high = unit.height
        elif len({(x, shape.width) for _, x, shape in placed}) == 1:
            along = sorted(((y, shape.height, shape.fabric) for y, _, shape in placed), key=lambda one: one[0])
            high = unit.width
        else:
            return None
        widths = tuple(self.plan.blocks.inches(width) for _, width, _ in along)
        height = self.plan.blocks.inches(high)
        whole = tuple(width for width in widths if isinstance(width, Fraction))
        if not isinstance(height, Fraction) or len(whole) != len(widths):
            return None
        return _named("row", tuple(fabric for _, _, fabric in along), (height, height), whole)

    def _tell_hourglass(self, unit: Unit, entries: list[CutEntry]) -> MethodUnit | None:
        if any(len(self.units[side.unit].patches) != 2 for side in unit.sides):
            return None
        long = entries[0].piece.cut[1] - QUARTER_SQUARE * self.plan.project.seam
        on_side: dict[str, str] = {}
        for outline, fabric in self._outlines(unit):
            on_side[_side_of(outline, unit)] = fabric
        if len(on_side) != 4:
            return None
        is_mirrored = on_side["top"] != on_side["bottom"] and on_side["left"] != on_side["right"]
        found = _named("hourglass", tuple(entry.fabric for entry in entries), (long, long))
        return found._replace(is_mirrored=is_mirrored)

    def _tell_goose(self, unit: Unit, entries: list[CutEntry]) -> MethodUnit | None:
        if 2 * min(unit.width, unit.height) != max(unit.width, unit.height):
            return None
        # The goose's long side is a long side of the box; a sky fills a short one
        of_goose = ("top", "bottom") if unit.width > unit.height else ("left", "right")
        geese: list[tuple[Outline, str, str]] = []
        skies: list[tuple[Outline, str, str]] = []
        for outline, fabric in self._outlines(unit):
            side = _side_of(outline, unit)
            (geese if side in of_goose else skies).append((outline, side, fabric))
        if len(geese) != 1:
            return None
        ((_, side, goose),) = geese
        axis = 0 if side in ("top", "bottom") else 1
        # It flies away from its long side, and left is as it flies
        is_back = side in ("top", "right")
        left, right = sorted(skies, key=lambda one: sum(point[axis] for point in one[0]), reverse=is_back)
        piece = next(entry.piece for entry in entries if entry.piece.shape == "quarter-square triangle")
        long = piece.cut[1] - QUARTER_SQUARE * self.plan.project.seam
        return _named("flying goose", (goose, left[2], right[2]), (long, long / 2))

    def _outlines(self, unit: Unit) -> Iterator[tuple[Outline, str]]:
        cuts = self.plan.units.cuts
        for placed in unit.patches:
            yield cuts.outline(placed), cuts.shapes[placed[2]].fabric


MOST_IN_ROW = 40  # patches; longer rows are sewn in stretches


def _named(
    family: Family, cloths: tuple[str, ...], size: tuple[Fraction, Fraction], widths: tuple[Fraction, ...] = ()
) -> MethodUnit:
    return MethodUnit(family, 0, 0, "", 0, cloths, size, widths, (), (), ())


def _side_of(outline: Outline, unit: Unit) -> str:
    """The side of a unit's box that a triangle's side fills; none where it fills no whole one."""
    for name, axis, value, length in (
        ("top", 1, 0, unit.width),
        ("bottom", 1, unit.height, unit.width),
        ("left", 0, 0, unit.height),
        ("right", 0, unit.width, unit.height),
    ):
        ends = [corner[1 - axis] for corner in outline if corner[axis] == value]
        if len(ends) == 2 and max(ends) - min(ends) == length:
            return name
    return ""
