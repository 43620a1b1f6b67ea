"""Words for seams that are not sewn from end to end in one straight line: set in, sewn in part, finished later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from planner.bend_cuts import has_inner_corner_at, lies_beside
from planner.blocks import Outline, Point
from planner.build_units import Segment, Unit
from planner.cloth.say_strips import ON_WRONG_SIDE
from planner.feed_units import Feed
from planner.look_round import EdgeEnd, find_edge_end, find_stops
from planner.measure import Root
from planner.plan import Plan
from planner.surd import root_of, sign_of
from planner.turns import Turn, plain_turn, rotate

SET_IN_LATER = "something is set in there later"
_HARDLY = Fraction(1, 1 << 30)  # what differs by less is alike


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
        stops = find_stops(self.plan.units, unit)
        dots = ["the corner" if len(inner) == 1 else "each corner"]
        dots += [where for at, where in ((way[0], "the beginning"), (way[-1], "the end")) if at in stops]
        begin = "Begin at the first dot, a backstitch there" if way[0] in stops else ""
        if unit.open_rest:
            until = " and stop, a backstitch"
        else:
            until = f" to the last dot, a backstitch there: {SET_IN_LATER}" if way[-1] in stops else " to the edge"
        return [
            f"Right sides together, {which}; on each mark a dot at {_list_words(dots)}, {self.seam} from both edges, "
            f"{ON_WRONG_SIDE}",
            *self._say_snip(unit, way[1:-1]),
            *self._say_turns(stretches, inner, begin, until, self._name_edges(unit, feed, way, tell_apart(low, high))),
            *([self._left_open(unit.open_rest)] if unit.open_rest else []),
            *self.loose_end(unit),
        ]

    def _say_turns(
        self,
        stretches: Sequence[str],
        inner: Sequence[str],
        begin: str,
        until: str,
        edges: Mapping[str, Sequence[str]],
    ) -> list[str]:
        """From corner to corner, in few words: a small screen has no room for more. `edges`: for each of the two the
        fabric along each stretch, where that tells its edges apart."""
        first = f"{begin}; sew" if begin else "Sew"
        if len(inner) == 1:
            which, meets = "", "the next edges meet"
            if any(edges.values()):
                one, other = (f"the {told[0]} of {name}" if told else name for name, told in edges.items())
                which = f"{one} to {other}: "
                moved, still = sorted(edges, key=lambda name: name != inner[0])
                own, beyond = edges[moved], edges[still]
                meets = f"{f'its {own[1]}' if own else 'it'} meets {f'the {beyond[1]} of ' if beyond else ''}{still}"
            return [
                f"{first} {which}{stretches[0]} finished, upper end first, to the {'next ' if begin else ''}dot",
                f"Needle down, foot up: turn {inner[0]} till {meets}; foot down, catch no allowance in the "
                f"corner, sew {stretches[1]} finished{until}",
            ]
        is_even = len(set(stretches)) == 1
        long = f"{len(stretches)} stretches of {stretches[0]}" if is_even else f"stretches of {_list_words(stretches)}"
        turned: dict[str, list[str]] = {}
        for number, corner in enumerate(inner, 1):
            turned.setdefault(corner, []).append(str(number))
        which = " or ".join(
            f"{corner} (at corner {_list_words(numbers)})" if len(turned) > 1 else corner
            for corner, numbers in turned.items()
        )
        return [
            f"{first} {long} (finished), upper end first, from corner to corner,{until}",
            f"At each corner needle down, foot up, turn {which} till the next edges meet, foot down; catch no "
            "allowance",
        ]

    def _name_edges(
        self, unit: Unit, feed: Feed, way: Sequence[Point], names: tuple[str, str]
    ) -> dict[str, tuple[str, ...]]:
        """For each of the two sides, the upper one last, the fabric along each stretch of the way; nothing where those
        are alike, or one stretch has several."""
        assert unit.a is not None
        assert unit.b is not None
        told: dict[str, tuple[str, ...]] = {}
        for name, side in zip(names, (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b), strict=True):
            placed = self.plan.units.place_patches(side)
            along = [
                {
                    self.plan.units.cuts.shapes[one[2]].fabric
                    for one in placed
                    if lies_beside(self.plan.units.cuts.outline(one), *stretch) is not None
                }
                for stretch in pairwise(way)
            ]
            fabrics = tuple(fabric for found in along if len(found) == 1 for fabric in found)
            told[name] = fabrics if len(set(fabrics)) == len(along) else ()
        return told

    def _say_snip(self, unit: Unit, turns: Sequence[Point]) -> list[str]:
        """What is cut with an inner corner is snipped there; where seams stopped short the corner is open already."""
        bent = [
            point for point in turns if any(has_inner_corner_at(outline, point) for outline in self._outlines(unit))
        ]
        return ["Snip the patch with the inner corner there, a thread short of the dot"] if bent else []

    def part(self, unit: Unit, feed: Feed, edges: str, low: str, high: str) -> list[str]:
        """A seam that is sewn in part; `edges` are those that it joins."""
        rest = unit.open_rest
        assert rest is not None
        long = self._distance(feed.first, feed.last)
        if feed.first in find_stops(self.plan.units, unit):
            here = self._name_corner(unit, feed, feed.first, low, high)
            begin = [
                f"Right sides together; mark a dot at the upper end{here}, {self.seam} from both edges; begin there, a "
                f"backstitch: {SET_IN_LATER}",
                f"Of {edges} sew only {self._spell(long)} finished, from the dot on, then a backstitch",
            ]
        else:
            where, reach = self._find_raw_end(unit, feed, low, high)
            from_edge = self._spell(_add(long, reach * self.plan.project.seam))
            begin = [
                f"Right sides together; of {edges} sew only {from_edge}, from the raw edge{where} at the upper end on, "
                "then a backstitch"
            ]
        return [*begin, self._left_open(rest)]

    def _left_open(self, rest: Segment) -> str:
        return f"The other {self._long(rest)} (finished) stay open: they are sewn last, when the rest is round it"

    def _find_raw_end(self, unit: Unit, feed: Feed, low: str, high: str) -> tuple[str, Fraction]:
        """Which raw edge a seam begins at, in words where it is not both, and how far that goes beyond the seam's end,
        for an allowance of 1."""
        here = [
            (end.corner.reach, letter)
            for letter, end in zip(tell_apart(low, high), self.find_ends(unit, feed, feed.first), strict=True)
            if not end.beyond and end.corner.bend > 0
        ]
        (reach, letter), (other, _) = min(here), max(here)
        is_even = len(here) > 1 and other - reach < _HARDLY
        return "" if is_even else f" of {letter}", reach

    def go_beyond(self, at: Point, end: EdgeEnd) -> Fraction:
        """How far an edge goes beyond the end `at` of a seam, in inches: its raw edge; where it ends at an inner corner
        the finished one."""
        long = self._distance(at, end.corner.at)
        far = long.up_to(_HARDLY) if isinstance(long, Root) else long
        return far if end.corner.bend < 0 else far + end.corner.reach * self.plan.project.seam

    def find_ends(self, unit: Unit, feed: Feed, at: Point) -> tuple[EdgeEnd, EdgeEnd]:
        """Where the edges to sew end, at one end of a straight seam: of what lies underneath, and of what lies on
        top."""
        assert unit.a is not None
        assert unit.b is not None
        other = feed.last if at == feed.first else feed.first
        a, b = (find_edge_end(self.plan.units, side, at, other) for side in (unit.a, unit.b))
        return (b, a) if feed.a_on_top else (a, b)

    def finish(self, unit: Unit, feed: Feed, low: str, turn: Turn) -> list[str]:
        """What finishes a seam that was sewn in part. `turn`: how its pile lies turned in the unit."""
        until = "out to the raw edge"
        if find_stops(self.plan.units, unit):
            until = f"to the dot {self.seam} from both edges at its end, a backstitch there: {SET_IN_LATER}"
        which = self._which_open(unit, turn)
        return [
            f"Fold {low}, right sides together, so that the edges of the open seam{which} meet",
            "Begin three stitches back from where it stopped; sew the "
            f"{self._long(unit.seam)} (finished) that are open, {until}",
        ]

    def _which_open(self, unit: Unit, turn: Turn) -> str:
        """Which of several open seams: by what lies along it, by its length, else by where it lies."""
        if not unit.slits:
            return ""
        fabrics = [self._fabrics_along(unit, slit) for slit in (unit.seam, *unit.slits)]
        if fabrics[0] not in fabrics[1:]:
            return f" between {' and '.join(fabrics[0])}"
        longs = [self._long(slit) for slit in (unit.seam, *unit.slits)]
        if longs[0] not in longs[1:]:
            return f" of {longs[0]} (finished)"
        middles = [(p[axis] + q[axis] for axis in (0, 1)) for p, q in (unit.seam, *unit.slits)]
        (x, y), *others = middles
        x, y = (
            len(others) * here - sum(there, start=0)
            for here, there in zip((x, y), zip(*others, strict=True), strict=True)
        )
        x, y = rotate((x, y), plain_turn(-turn))
        high = {-1: "upper", 1: "lower"}.get(sign_of(y), "")
        wide = {-1: "left", 1: "right"}.get(sign_of(x), "")
        return f" at the {' '.join(word for word in (high, wide) if word)}, the mark up,"

    def _fabrics_along(self, unit: Unit, stretch: Segment) -> tuple[str, ...]:
        """The fabrics on both sides of a stretch, in alphabetical order."""
        found: dict[bool, set[str]] = {False: set(), True: set()}
        for placed, outline in zip(unit.patches, self._outlines(unit), strict=True):
            on_normal = lies_beside(outline, *stretch)
            if on_normal is not None:
                found[on_normal].add(self.plan.units.cuts.shapes[placed[2]].fabric)
        return tuple(sorted("-".join(sorted(fabrics)) for fabrics in found.values()))

    def ends(self, unit: Unit, feed: Feed, low: str, high: str) -> list[str]:
        """Where a straight seam stops short of the edge, since something is set into that corner later."""
        stops = find_stops(self.plan.units, unit)
        ends = [
            (f"the {which} end", self._name_corner(unit, feed, at, low, high), how)
            for at, which, how in ((feed.first, "upper", "begin"), (feed.last, "lower", "stop"))
            if at in stops
        ]
        if not ends:
            return []
        where = [f"{end}{corner}" for end, corner, _ in ends]
        how = " and ".join(how for _, _, how in ends)
        if len(ends) == 2:
            same = ends[0][1] == ends[1][1]
            where = [f"each end{ends[0][1]}"] if same else where
        return [
            f"Mark a dot at {_list_words(where)}, {self.seam} from both edges; {how} there, a backstitch"
            f"{' at each' if len(ends) == 2 else ''}: {SET_IN_LATER}"
        ]

    def _name_corner(self, unit: Unit, feed: Feed, at: Point, low: str, high: str) -> str:
        """Which of the two has its corner at an end of a straight seam, in words where it is not both."""
        here = [
            letter
            for letter, end in zip(tell_apart(low, high), self.find_ends(unit, feed, at), strict=True)
            if not end.beyond and end.corner.bend > 0
        ]
        return f" of {here[0]}" if len(here) == 1 else ""

    def loose_end(self, unit: Unit) -> list[str]:
        """What hangs loose inside, of a seam that is sewn in part only, while something else is sewn."""
        loose = [slit for slit in unit.slits if slit != unit.open_rest]
        if not loose or unit.closes:
            return []
        if len(loose) > 1:
            return ["Fold the loose ends of the seams sewn in part back and pin them away: sew over none of them"]
        return ["Fold the loose end of the seam sewn in part back and pin it away: sew over none of it"]

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
        return self._spell(self._distance(*stretch))

    def _spell(self, long: Fraction | Root) -> str:
        return f"{self.ruler.to_measure(long).words}{self.ruler.ending}"

    def _distance(self, p: Point, q: Point) -> Fraction | Root:
        inches = self.plan.blocks.inches
        across, down = inches(q[0] - p[0]), inches(q[1] - p[1])
        return root_of(across * across + down * down)


def tell_apart(low: str, high: str) -> tuple[str, str]:
    """The two by their letters, or where both are of one pile by how they lie."""
    return (low, high) if low != high else (f"the {low} underneath", f"the {high} on top")


def _list_words(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _add(long: Fraction | Root, more: Fraction) -> Fraction | Root:
    return long._replace(plain=long.plain + more) if isinstance(long, Root) else long + more
