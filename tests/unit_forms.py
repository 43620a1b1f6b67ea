"""What a unit is, told by geometry alone: its patches, its seams, and which way the allowances of each fall.

Coordinates are whole grid units, `plan.blocks.scale` to an inch (with whole multiples of a root in quilts on point); x
right, y down. Turns are quarters, clockwise. A seam that is set in is told by the stretch in the middle of its way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import pairwise
from typing import NamedTuple

from points import find_side_at, read_outline, read_point, read_stretch, read_way

from planner.checks import plan_file
from planner.find_cuts import Placed
from planner.name_piles import Chain, Lying, Outcome
from planner.plan import Plan
from planner.surd import Exact, Grid, Surd, to_least

Point = tuple[Grid, Grid]
Segment = tuple[Point, Point]
NOWHERE: Point = (0, 0)
# By press mark, on which side of a seam its allowances lie at its first end and at its last: 0 where on both
MARKED = {"+": (1, 1), "-": (-1, -1), "=": (0, 0), ">": (1, -1), "<": (-1, 1)}


class Drawn(NamedTuple):
    """A patch where it lies; its corners sorted, which tells a convex outline. What is cut along the edges of a quilt
    on point is another fabric, as it were. `up`: where the top of its print points, in degrees clockwise; -1 where it
    has none."""

    fabric: str
    corners: tuple[Point, ...]
    up: int = -1

    def turn_up(self, quarters: int) -> int:
        return self.up if self.up < 0 else (self.up + 90 * quarters) % 360


class Fold(NamedTuple):
    """A seam where it lies, its ends sorted, and the direction its allowances fall at each of them: the same but where
    the seam is spun, and `NOWHERE` where it is pressed open."""

    ends: Segment
    falls: Segment


class Meeting(NamedTuple):
    """A join on the seam that is being sewn: for each side (told by the direction in which it lies) the direction in
    which its allowance falls."""

    at: Point
    falls: tuple[tuple[Point, Point], ...]


class Form(NamedTuple):
    """A unit, or what is about to become one, in some frame; all parts sorted."""

    patches: tuple[Drawn, ...]
    folds: tuple[Fold, ...]
    last: Segment | None = None  # the seam that is being sewn, where that is told
    meetings: tuple[Meeting, ...] = ()

    def place(self, quarters: int, corner: Point | None = None) -> Form:
        """Turned, and the box round it moved so that its upper left corner lies there; not moved where none is told."""

        def turn(point: Point) -> Point:
            x, y = point
            for _ in range(quarters % 4):
                x, y = -y, x
            return x, y

        dx = dy = 0
        if corner is not None:
            points = [turn(point) for patch in self.patches for point in patch.corners]
            dx, dy = corner[0] - min(x for x, _ in points), corner[1] - min(y for _, y in points)

        def move(point: Point) -> Point:
            x, y = turn(point)
            return x + dx, y + dy

        return make_form(
            (Drawn(patch.fabric, tuple(map(move, patch.corners)), patch.turn_up(quarters)) for patch in self.patches),
            (
                Fold((move(fold.ends[0]), move(fold.ends[1])), (turn(fold.falls[0]), turn(fold.falls[1])))
                for fold in self.folds
            ),
            None if self.last is None else (move(self.last[0]), move(self.last[1])),
            (
                Meeting(move(met.at), tuple((turn(side), turn(falls)) for side, falls in met.falls))
                for met in self.meetings
            ),
        )

    def lay(self) -> Form:
        """The least of its four turns, at 0,0: equal for whatever is equal but for turning."""
        return min((self.place(quarters, NOWHERE) for quarters in range(4)), key=repr)

    def add(self, other: Form) -> Form:
        return make_form((*self.patches, *other.patches), (*self.folds, *other.folds))

    def split(self) -> Iterator[Form]:
        """Each of its patches alone."""
        for patch in self.patches:
            yield make_form([patch], ())

    def sew(self, fold: Fold) -> Form:
        return make_form(self.patches, (*self.folds, fold))


def make_form(
    patches: Iterable[Drawn], folds: Iterable[Fold], last: Segment | None = None, meetings: Iterable[Meeting] = ()
) -> Form:
    drawn = sorted(Drawn(patch.fabric, tuple(sorted(patch.corners)), patch.up) for patch in patches)
    folded = sorted(Fold(*zip(*sorted(zip(*fold, strict=True)), strict=True)) for fold in folds)
    met = sorted(Meeting(one.at, tuple(sorted(one.falls))) for one in meetings)
    return Form(tuple(drawn), tuple(folded), None if last is None else _sort(last), tuple(met))


def _sort(ends: Segment) -> Segment:
    return min(ends), max(ends)


def square_to(ends: Segment, side: int) -> Point:
    """The direction square to a seam on the side to which turning from x to y leads (1) or not (-1)."""
    x, y = along(ends, True)
    return side * -y, side * x


def along(ends: Segment, is_ahead: bool) -> tuple[int, int]:
    """The direction of a seam, ahead or back."""
    (px, py), (qx, qy) = ends if is_ahead else ends[::-1]
    return to_least(qx - px, qy - py)


# --- as the JSON tells it


class Read(NamedTuple):
    """A seam of the JSON: its result pressed, and the moment it is sewn."""

    name: str
    pressed: Form
    sewn: Form


def read_seams(plan: Plan, printed: plan_file.Plan) -> Iterator[Read]:
    """Each seam of the JSON, from outlines, ends and press sides alone; where it lies in its block or in the quilt."""
    scale = plan.blocks.scale
    outlines = {}
    forms: dict[str, Form] = {}
    prints = {fabric["id"] for fabric in printed["fabrics"] if fabric.get("directional")}
    loose = {block["id"] for block in printed["blocks"] if block["loose"]}
    for patch in printed["patches"]:
        outline = read_outline(patch)
        outlines[patch["id"]] = (outline,)
        in_quilt = printed["project"]["on_point"] and patch["block"] not in loose
        is_askew = in_quilt and (patch["block"] is None or patch["fabric"] in prints)
        up = -1 if patch["fabric"] not in prints else 315 if in_quilt else 0
        drawn = _draw(patch["fabric"], is_askew, [to_grid(p, scale) for p in outline], up)
        forms[patch["id"]] = make_form([drawn], ())
    joins: dict[str, list[plan_file.PlanJoin]] = {}
    for join in printed["joins"]:
        joins.setdefault(join["seam"], []).append(join)
    falls_at: dict[str, dict[Point, Point]] = {}  # of each seam, the direction its allowances fall at either end
    for seam in printed["seams"]:
        assert seam["b"] is not None
        stretch = read_stretch(seam)
        ends = to_grid(stretch[0], scale), to_grid(stretch[1], scale)
        lies = {letter: find_side_at(*stretch, outlines[seam[letter]]) for letter in ("a", "b")}
        assert lies["a"] == -lies["b"]
        outlines[seam["id"]] = (*outlines[seam["a"]], *outlines[seam["b"]])
        first = lies[seam["press"]] if seam["press"] != "open" else 0
        last = -first if "spin" in seam else first
        way = [to_grid(point, scale) for point in read_way(seam)]
        legs = list(pairwise(way))
        falls_at[seam["id"]] = {way[0]: square_to(legs[0], first), way[-1]: square_to(legs[-1], last)}
        before = forms[seam["a"]].add(forms[seam["b"]])
        forms[seam["id"]] = before.sew(Fold(ends, (square_to(ends, first), square_to(ends, last))))
        meetings = []
        for join in joins.get(seam["id"], []):
            at = to_grid(read_point(join["at"]), scale)
            met = falls_at[join["a"]][at], falls_at[join["b"]][at]
            assert (NOWHERE in met) == (join["why"] == "open")
            if NOWHERE in met:
                continue  # there is no ridge to lay against another
            falls = []
            for letter, (x, y) in zip(("a", "b"), met, strict=True):
                ahead = along(ends, True)
                assert x * ahead[0] + y * ahead[1] != 0
                falls.append((square_to(ends, lies[letter]), along(ends, x * ahead[0] + y * ahead[1] > 0)))
            meetings.append(Meeting(at, tuple(falls)))
        yield Read(seam["id"], forms[seam["id"]], make_form(before.patches, before.folds, ends, meetings))


def to_grid(point: tuple[Exact, Exact], scale: int) -> Point:
    """A point in inches, as the plan counts: in whole steps."""
    x, y = (_to_steps(number, scale) for number in point)
    return x, y


def _to_steps(number: Exact, scale: int) -> Grid:
    if isinstance(number, Surd):
        return Surd(*(_to_steps(part, scale) for part in (number.plain, number.times)), number.of)
    assert (number * scale).denominator == 1
    return int(number * scale)


def _draw(fabric: str, is_askew: bool, corners: Iterable[Point], up: int) -> Drawn:
    return Drawn(f"{fabric} askew" if is_askew else fabric, tuple(corners), up)


# --- as piles and chains tell it


def draw_pile(plan: Plan, name: str) -> Form:
    """What lies in a pile, in the pile's frame."""
    pile = plan.piles.piles[name]
    unit = plan.units.units[pile.unit]
    folds = []
    for ends, mark in zip(unit.seams, pile.marks, strict=True):
        first, last = MARKED[mark]
        folds.append(Fold(ends, (square_to(ends, first), square_to(ends, last))))
    return make_form(_draw_placed(plan, unit.patches), folds)


def _draw_placed(plan: Plan, patches: Iterable[Placed]) -> Iterator[Drawn]:
    cuts = plan.units.cuts
    for placed in patches:
        shape = cuts.shapes[placed[2]]
        yield _draw(shape.fabric, shape.askew, cuts.outline(placed), shape.up)


def draw_patch(plan: Plan, number: int) -> Form:
    """A unit that is a patch, in its own frame."""
    (placed,) = plan.units.units[number].patches
    return make_form(_draw_placed(plan, [placed]), ())


def draw_side(plan: Plan, chain: Chain, letter: str) -> Form:
    """What is laid on one side of a chain's seam, in the frame of the chain's unit."""
    lying: Lying = chain.a if letter == "a" else chain.b
    unit = plan.units.units[chain.unit]
    side = unit.a if letter == "a" else unit.b
    assert side is not None
    shape = plan.units.units[plan.piles.piles[lying.pile].unit].shape
    if shape >= 0 and plan.units.cuts.shapes[shape].up < 0:
        # A patch: the pile may be named after one of another turn, so the place itself tells how it lies
        return make_form(_draw_placed(plan, plan.units.place_patches(side)), ())
    return draw_pile(plan, lying.pile).place(lying.turn, (side.x, side.y))


def draw_sewn(plan: Plan, chain: Chain) -> Form:
    """A pair of a chain as it comes under the needle."""
    ends = plan.units.units[chain.unit].seam
    sides = {letter: lie_of(plan, chain, letter) for letter in ("a", "b")}
    meetings = [
        Meeting(
            match.at,
            (
                (square_to(ends, sides["a"]), along(ends, match.a_falls_ahead)),
                (square_to(ends, sides["b"]), along(ends, match.b_falls_ahead)),
            ),
        )
        for match in chain.matches
    ]
    both = draw_side(plan, chain, "a").add(draw_side(plan, chain, "b"))
    return make_form(both.patches, both.folds, ends, meetings)


def draw_pressed(plan: Plan, chain: Chain, outcome: Outcome) -> Form:
    """A pair of a chain as it comes off the iron, in the frame of the chain's unit."""
    ends = plan.units.units[chain.unit].seam
    first = 0 if outcome.is_open else lie_of(plan, chain, "a" if outcome.to_a else "b")
    last = -first if outcome.is_spun else first
    falls = square_to(ends, first), square_to(ends, last)
    return draw_side(plan, chain, "a").add(draw_side(plan, chain, "b")).sew(Fold(ends, falls))


def lie_of(plan: Plan, chain: Chain, letter: str) -> int:
    """On which side of its seam a side of a chain lies: 1 where turning from x to y leads."""
    outlines = [patch.corners for patch in draw_side(plan, chain, letter).patches]
    return find_side_at(*plan.units.units[chain.unit].seam, outlines)
