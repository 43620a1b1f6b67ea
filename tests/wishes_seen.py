"""What each wish for pressing says of each seam, seen from outside: from the plan's JSON and the wording of the project
file alone. Only which unit lies on top under the needle, which the JSON does not tell, is asked of the plan."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Literal, NamedTuple

from points import Point, find_side, read_outline, read_point, turn

from planner.checks import plan_file
from planner.plan import Plan

Letter = Literal["a", "b"]
Asked = tuple[tuple[str, Letter], ...]  # granted where each of these seams is pressed to the side beside it

VALUES = {"light": 2, "medium": 5, "dark": 9}
WEIGHTS = {"light": 0, "medium": 1, "heavy": 2}


class Seen(NamedTuple):
    """A seam: the patches of its two sides, and its ends."""

    block: str
    sides: Mapping[Letter, frozenset[str]]
    start: Point
    end: Point


class Wishing:
    """The seams of a plan, and what each wish asks of them."""

    def __init__(self, plan: Plan, printed: plan_file.Plan) -> None:
        self.printed = printed
        self.outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
        self.fabrics = {fabric["id"]: fabric for fabric in printed["fabrics"]}
        self.fabric_of = {patch["id"]: patch["fabric"] for patch in printed["patches"]}
        self.middles = {block["id"]: self._middle(block) for block in printed["blocks"]}
        self.seams: dict[str, Seen] = {}
        holds = {patch: frozenset([patch]) for patch in self.outlines}
        for seam in printed["seams"]:
            assert seam["b"] is not None
            a, b = holds[seam["a"]], holds[seam["b"]]
            holds[seam["id"]] = a | b
            ends = read_point(seam["from"]), read_point(seam["to"])
            self.seams[seam["id"]] = Seen(seam["block"] or "", {"a": a, "b": b}, *ends)
        self.on_top = dict(zip(self.seams, _list_tops(plan), strict=True))

    @staticmethod
    def _middle(block: plan_file.PlanBlock) -> Point:
        width, height = read_point(block["size"])
        return width / 2, height / 2

    def ask(self, wish: str) -> tuple[Asked, ...]:
        """What a wish asks for, once for each seam that it has a say in."""
        if wish == "needle":
            asked = [self._ask_needle(name) for name in self.seams]
            return tuple(one for one in asked if one)
        leans = [(name, self._lean(wish, name)) for name in self.seams]
        return tuple(((name, lean),) for name, lean in leans if lean is not None)

    def _lean(self, wish: str, name: str) -> Letter | None:
        """The side that one of the first four wishes asks for; None where both sides are equal in it."""
        seam = self.seams[name]
        if wish == "light-weight":  # away from the heavier cloth
            return _less(self._along(seam, "a", "weight"), self._along(seam, "b", "weight"))
        if wish == "plain":  # toward the side with fewer seams at this seam
            return _less(self._count_ends(seam, "a"), self._count_ends(seam, "b"))
        if wish == "dark":  # toward the darker of the fabrics that lie along the seam, by length
            return _less(-self._along(seam, "a", "value"), -self._along(seam, "b", "value"))
        assert wish == "outward"  # away from the block's middle
        middle = turn(seam.start, seam.end, self.middles[seam.block])
        if middle == 0:
            return None
        return "b" if self._lies(seam, "a") * middle > 0 else "a"

    def _ask_needle(self, name: str) -> Asked:
        """At every join of a seam: that the allowance of the unit on top points toward the needle, which is where the
        end lies that goes in first."""
        seam, top = self.seams[name], self.on_top[name]
        # Seam upright, the unit on top to the right as it is laid out: then the upper end goes in first. So, seen from
        # the first end to the last, the unit on top lies where turning from x to y does not lead.
        first, last = (seam.start, seam.end) if self._lies(seam, top) < 0 else (seam.end, seam.start)
        met = [join["a" if top == "a" else "b"] for join in self.printed["joins"] if join["seam"] == name]
        return tuple((inner, self._find_side(inner, last, first)) for inner in met)

    def _find_side(self, name: str, start: Point, end: Point) -> Letter:
        """The side to press a seam to, so that its allowances fall along the way from one point to the other."""
        seam = self.seams[name]
        along = turn((Fraction(0), Fraction(0)), _minus(seam.end, seam.start), _minus(end, start))
        assert along != 0, "a seam along the seam it meets"
        return "a" if self._lies(seam, "a") * along > 0 else "b"

    def _lies(self, seam: Seen, side: Letter) -> int:
        """1 where a side lies where turning from x to y leads, seen along the seam; else -1."""
        return find_side(
            seam.start, seam.end, [corner for patch in seam.sides[side] for corner in self.outlines[patch]]
        )

    def _along(self, seam: Seen, side: Letter, what: Literal["weight", "value"]) -> Fraction:
        """Weight or value of the fabrics along the seam, each times the length it takes there."""
        total = Fraction(0)
        for patch in seam.sides[side]:
            on_seam = [corner for corner in self.outlines[patch] if turn(seam.start, seam.end, corner) == 0]
            if len(on_seam) > 1:
                whole = _minus(seam.end, seam.start)
                axis = 0 if whole[0] else 1
                places = [corner[axis] for corner in on_seam]
                fabric = self.fabrics[self.fabric_of[patch]]
                rank = WEIGHTS[fabric["weight"]] if what == "weight" else _read_value(fabric["value"])
                total += (max(places) - min(places)) / abs(whole[axis]) * rank
        return total

    def _count_ends(self, seam: Seen, side: Letter) -> int:
        """At how many places of the seam, its ends included, seams of a side end."""
        inner = [
            other
            for other in self.seams.values()
            if other.block == seam.block and other.sides["a"] | other.sides["b"] <= seam.sides[side]
        ]
        points = {end for other in inner for end in (other.start, other.end)}
        return sum(turn(seam.start, seam.end, point) == 0 for point in points)


def _minus(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1]


def _less(a: Fraction | int, b: Fraction | int) -> Letter | None:
    return None if a == b else "a" if a < b else "b"


def _read_value(written: str) -> int:
    return VALUES[written] if written in VALUES else int(written)


def _list_tops(plan: Plan) -> list[Letter]:
    """For each seam of the JSON, in its order, the side that lies on top."""
    tops: list[Letter] = []
    for drafted, count in plan.blocks.made:
        for seam in plan.units.seams[drafted] * count:
            feed = plan.feeds[seam.unit]
            assert feed is not None
            tops.append("a" if feed.a_on_top else "b")
    return tops
