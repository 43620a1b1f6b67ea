"""What a unit is, told by geometry alone: its patches, its seams, and which way the allowances of each fall.

Coordinates are whole grid units, `plan.blocks.scale` to an inch; x right, y down. Turns are quarters, clockwise.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import gcd
from typing import NamedTuple

from points import find_side, read_outline, read_point

from planner.checks import plan_file
from planner.name_piles import Chain, Lying, Outcome
from planner.plan import Plan

Point = tuple[int, int]
Segment = tuple[Point, Point]
NOWHERE: Point = (0, 0)


class Drawn(NamedTuple):
    """A patch where it lies; its corners sorted, which tells a convex outline."""

    fabric: str
    corners: tuple[Point, ...]


class Fold(NamedTuple):
    """A seam where it lies, its ends sorted, and the direction its allowances fall: `NOWHERE` before pressing."""

    ends: Segment
    falls: Point


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
            (Drawn(patch.fabric, tuple(map(move, patch.corners))) for patch in self.patches),
            (Fold((move(fold.ends[0]), move(fold.ends[1])), turn(fold.falls)) for fold in self.folds),
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
    drawn = sorted(Drawn(patch.fabric, tuple(sorted(patch.corners))) for patch in patches)
    folded = sorted(Fold(_sort(fold.ends), fold.falls) for fold in folds)
    met = sorted(Meeting(one.at, tuple(sorted(one.falls))) for one in meetings)
    return Form(tuple(drawn), tuple(folded), None if last is None else _sort(last), tuple(met))


def _sort(ends: Segment) -> Segment:
    return min(ends), max(ends)


def square_to(ends: Segment, side: int) -> Point:
    """The direction square to a seam on the side to which turning from x to y leads (1) or not (-1)."""
    (px, py), (qx, qy) = ends
    both = gcd(qx - px, qy - py)
    return side * -(qy - py) // both, side * (qx - px) // both


def along(ends: Segment, is_ahead: bool) -> Point:
    """The direction of a seam, ahead or back."""
    (px, py), (qx, qy) = ends if is_ahead else ends[::-1]
    both = gcd(qx - px, qy - py)
    return (qx - px) // both, (qy - py) // both


# --- as the JSON tells it


class Read(NamedTuple):
    """A seam of the JSON: its result pressed, and the moment it is sewn."""

    name: str
    pressed: Form
    sewn: Form


def read_seams(plan: Plan, printed: plan_file.Plan) -> Iterator[Read]:
    """Each seam of the JSON, from outlines, ends and press sides alone; where it lies in its block."""
    scale = plan.blocks.scale

    def to_grid(point: tuple[object, object]) -> Point:
        x, y = (number * scale for number in point)  # type: ignore[operator]
        assert x.denominator == y.denominator == 1
        return int(x), int(y)

    outlines = {}
    forms: dict[str, Form] = {}
    for patch in printed["patches"]:
        outline = read_outline(patch)
        outlines[patch["id"]] = outline
        forms[patch["id"]] = make_form([Drawn(patch["fabric"], tuple(map(to_grid, outline)))], ())
    joins: dict[str, list[plan_file.PlanJoin]] = {}
    for join in printed["joins"]:
        joins.setdefault(join["seam"], []).append(join)
    fall_of: dict[str, Point] = {}
    for seam in printed["seams"]:
        assert seam["b"] is not None
        start, end = read_point(seam["from"]), read_point(seam["to"])
        ends = to_grid(start), to_grid(end)
        named = {"a": seam["a"], "b": seam["b"]}
        sides = {letter: square_to(ends, find_side(start, end, outlines[name])) for letter, name in named.items()}
        outlines[seam["id"]] = (*outlines[seam["a"]], *outlines[seam["b"]])
        fall_of[seam["id"]] = sides[seam["press"]]
        before = forms[seam["a"]].add(forms[seam["b"]])
        forms[seam["id"]] = before.sew(Fold(ends, sides[seam["press"]]))
        meetings = []
        for join in joins.get(seam["id"], []):
            falls = []
            for letter in ("a", "b"):
                x, y = fall_of[join[letter]]
                way = along(ends, True)
                assert x * way[0] + y * way[1] != 0
                falls.append((sides[letter], along(ends, x * way[0] + y * way[1] > 0)))
            meetings.append(Meeting(to_grid(read_point(join["at"])), tuple(falls)))
        yield Read(seam["id"], forms[seam["id"]], make_form(before.patches, before.folds, ends, meetings))


# --- as piles and chains tell it


def draw_pile(plan: Plan, name: str) -> Form:
    """What lies in a pile, in the pile's frame."""
    pile = plan.piles.piles[name]
    unit = plan.units.units[pile.unit]
    patches = [
        Drawn(plan.units.cuts.shapes[placed[2]].fabric, plan.units.cuts.outline(placed)) for placed in unit.patches
    ]
    folds = [
        Fold(ends, square_to(ends, {"+": 1, "-": -1}[mark])) for ends, mark in zip(unit.seams, pile.marks, strict=True)
    ]
    return make_form(patches, folds)


def draw_patch(plan: Plan, number: int) -> Form:
    """A unit that is a patch, in its own frame."""
    (placed,) = plan.units.units[number].patches
    return make_form([Drawn(plan.units.cuts.shapes[placed[2]].fabric, plan.units.cuts.outline(placed))], ())


def draw_side(plan: Plan, chain: Chain, letter: str) -> Form:
    """What is laid on one side of a chain's seam, in the frame of the chain's unit."""
    lying: Lying = chain.a if letter == "a" else chain.b
    unit = plan.units.units[chain.unit]
    side = unit.a if letter == "a" else unit.b
    assert side is not None
    if plan.units.units[plan.piles.piles[lying.pile].unit].shape >= 0:
        # A patch: the pile may be named after one of another turn, so the place itself tells how it lies
        patches = plan.units.place_patches(side)
        shapes = plan.units.cuts.shapes
        return make_form((Drawn(shapes[placed[2]].fabric, plan.units.cuts.outline(placed)) for placed in patches), ())
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
    falls = square_to(ends, lie_of(plan, chain, "a" if outcome.to_a else "b"))
    return draw_side(plan, chain, "a").add(draw_side(plan, chain, "b")).sew(Fold(ends, falls))


def lie_of(plan: Plan, chain: Chain, letter: str) -> int:
    """On which side of its seam a side of a chain lies: 1 where turning from x to y leads."""
    (px, py), (qx, qy) = plan.units.units[chain.unit].seam
    corners = [corner for patch in draw_side(plan, chain, letter).patches for corner in patch.corners]
    return 1 if max(((qx - px) * (y - py) - (qy - py) * (x - px) for x, y in corners), key=abs) > 0 else -1
