"""Words for seams that are not sewn from end to end in one straight line: set in, sewn in part, finished later."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from planner.bend_cuts import has_inner_corner_at, is_inner_corner, lies_on
from planner.blocks import Outline, Point
from planner.build_units import Segment, Unit
from planner.feed_units import Feed
from planner.measure import Root
from planner.plan import Plan
from planner.surd import root_of, sign_of


class BendWords:
    """How such seams are sewn. `exact` lengths are told to the last digit, others to the nearest line of the ruler."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.ruler = plan.ruler
        self.seam = self.ruler.exact(plan.project.seam)

    def set_in(self, unit: Unit, feed: Feed, low: str, high: str) -> list[str]:
        """A seam that turns: stretch by stretch from the first end, with what lies in the corner at each turn."""
        way = unit.legs if feed.first == unit.seam[0] else unit.legs[::-1]
        stretches = [self._long(leg) for leg in pairwise(way)]
        inner = [self._fits_in(unit, feed, turn, low, high) for turn in zip(way, way[1:], way[2:], strict=False)]
        corners = dict.fromkeys(inner)
        which = f"{' and '.join(corners)} lies in the inner corner" if len(corners) == 1 else "corner into inner corner"
        told = [
            f"Right sides together, {which}; on each mark the corner point, {self.seam} from both edges",
            *self._say_snip(unit, way[1:-1]),
            f"Sew the first stretch, {stretches[0]} finished, upper end first, to the mark",
        ]
        for number, (long, corner) in enumerate(zip(stretches[1:], inner, strict=True), 1):
            last = " and stop, a backstitch" if unit.open_rest else " to the edge"
            until = last if number == len(inner) else " to the next mark"
            told.append(
                f"Needle down{_place(number, len(inner))}, foot up: turn {corner} till the next edges meet; foot down, "
                f"sew {long} finished{until}"
            )
        if unit.open_rest:
            told.append(self._left_open(unit.open_rest))
        told.append("Catch no allowance in the corner")
        return told

    def _say_snip(self, unit: Unit, turns: Sequence[Point]) -> list[str]:
        """What is cut with an inner corner is snipped there; where seams stopped short the corner is open already."""
        bent = [
            point for point in turns if any(has_inner_corner_at(outline, point) for outline in self._outlines(unit))
        ]
        return ["Snip the patch with the inner corner there, a thread short of the mark"] if bent else []

    def part(self, unit: Unit, feed: Feed) -> list[str]:
        """A seam that is sewn in part."""
        rest = unit.open_rest
        assert rest is not None
        long = self._distance(feed.first, feed.last)
        from_edge = self.ruler.to_measure(_add(long, self.plan.project.seam)).words
        return [
            f"Right sides together; sew only {from_edge}{self.ruler.ending} from the raw edge at the upper end, then a "
            "backstitch",
            self._left_open(rest),
        ]

    def _left_open(self, rest: Segment) -> str:
        return f"The other {self._long(rest)} (finished) stay open: they are sewn last, when the rest is round it"

    def finish(self, unit: Unit, low: str) -> list[str]:
        """What finishes a seam that was sewn in part."""
        return [
            f"Fold {low}, right sides together, so that the edges of the open seam meet",
            "Begin three stitches back from where it stopped; sew the "
            f"{self._long(unit.seam)} (finished) that are open, out to the raw edge",
        ]

    def ends(self, unit: Unit, feed: Feed) -> str:
        """Where a straight seam stops short of the edge, since something is set into that corner later; else ""."""
        outlines = self._outlines(unit)
        # At an open seam it goes on to the raw edge: what is sewn there later crosses it
        begin, stop = (
            is_inner_corner(outlines, point) and not any(lies_on(point, *slit) for slit in unit.slits)
            for point in (feed.first, feed.last)
        )
        what = "something is set into that corner later"
        if begin and stop:
            return f"Begin and stop {self.seam} from the ends, a backstitch at each: something is set in there later"
        if begin:
            return f"Begin {self.seam} from the upper end, with a backstitch: {what}"
        return f"Stop {self.seam} from the lower end, a backstitch there: {what}" if stop else ""

    def loose_end(self, unit: Unit) -> list[str]:
        """What hangs loose inside, of a seam that is sewn in part only, while something else is sewn."""
        is_loose = bool(unit.slits) and not unit.open_rest and not unit.closes
        return (
            ["Fold the loose end of the seam sewn in part back and pin it away: sew over none of it"]
            if is_loose
            else []
        )

    def is_mitre(self, number: int) -> bool:
        """Whether a unit's seam is that of a border's strip with slanting ends."""
        regions, made_of = self.plan.units.cuts.regions, self.plan.units.made_of.get(number, ())
        return bool(self.plan.units.units[number].legs) and any(regions[region].is_layout for region, _ in made_of)

    def _outlines(self, unit: Unit) -> list[Outline]:
        return [self.plan.units.cuts.outline(placed) for placed in unit.patches]

    def _fits_in(self, unit: Unit, feed: Feed, turn: tuple[Point, Point, Point], low: str, high: str) -> str:
        """Which of the two has the outer corner at a turn of the way."""
        (ax, ay), (bx, by), (cx, cy) = turn
        turns_to_normal = sign_of((bx - ax) * (cy - by) - (by - ay) * (cx - bx)) > 0
        # Walked from the other end the normal points to the other side
        a_on_normal = unit.a_on_normal == (feed.first == unit.seam[0])
        is_a = turns_to_normal == a_on_normal
        if low == high:
            return f"the {low} {'on top' if is_a == feed.a_on_top else 'underneath'}"
        return high if is_a == feed.a_on_top else low

    def _long(self, stretch: Segment | Sequence[Point]) -> str:
        return f"{self.ruler.to_measure(self._distance(*stretch)).words}{self.ruler.ending}"

    def _distance(self, p: Point, q: Point) -> Fraction | Root:
        inches = self.plan.blocks.inches
        across, down = inches(q[0] - p[0]), inches(q[1] - p[1])
        return root_of(across * across + down * down)


def _place(number: int, many: int) -> str:
    return f" at corner {number}" if many > 1 else ""


def _add(long: Fraction | Root, more: Fraction) -> Fraction | Root:
    return long._replace(plain=long.plain + more) if isinstance(long, Root) else long + more
