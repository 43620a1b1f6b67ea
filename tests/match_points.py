"""The points to match on every seam of a plan, found by walking from patch to patch round each point.

Shares no code with the checkers, and works by other means: nothing is measured but which edges lie on which lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from fewest_seams import Point, is_ahead, is_on, reach, turn

from planner.checks.plan_file import Plan, PlanPoint, PlanSeam
from planner.checks.surd import read_rooted


class MatchPoint(NamedTuple):
    a: str
    b: str
    nests: bool


class _Crossed(NamedTuple):
    """A seam that is crossed on the way round a point, from what lies ahead of the seam being sewn to what lies behind:
    whether its allowances fall ahead."""

    place: int
    falls_ahead: bool


def find_match_points(plan: Plan) -> dict[tuple[str, Point], MatchPoint]:
    """By the name of the seam being sewn and the point. No seam is pressed open or spun."""
    return dict(_Walk(plan).find())


class _Walk:
    def __init__(self, plan: Plan) -> None:
        self.seams = plan["seams"]
        self.places = {seam["id"]: place for place, seam in enumerate(self.seams)}
        self.outlines = {patch["id"]: tuple(map(_read_point, patch["corners"])) for patch in plan["patches"]}
        self.ways = [_read_way(seam) for seam in self.seams]
        self.inside: dict[str, frozenset[str]] = {name: frozenset((name,)) for name in self.outlines}
        for seam in self.seams:
            b = self.inside[seam["b"]] if seam["b"] else frozenset()
            self.inside[seam["id"]] = self.inside[seam["a"]] | b
        self.senses = [self._find_sense(seam) for seam in self.seams]

    def _find_sense(self, seam: PlanSeam) -> bool:
        """Whether the edges of side a run along a seam from its start to its end."""
        start, end = self.ways[self.places[seam["id"]]][:2]
        if "closes" not in seam:
            edges = (edge for name in self.inside[seam["a"]] for edge in self._list_edges(name))
            on_leg = next(edge for edge in edges if _do_overlap(edge, (start, end)))
            return bool(reach(start, end, on_leg[0]) < reach(start, end, on_leg[1]))
        part = self.places[seam["closes"]]
        legs = pairwise(self.ways[part])
        first, last = next(leg for leg in legs if not turn(*leg, start) and not turn(*leg, end))
        is_same_way = reach(start, end, first) < reach(start, end, last)
        return self._find_sense(self.seams[part]) == is_same_way

    def find(self) -> Iterator[tuple[tuple[str, Point], MatchPoint]]:
        for place, seam in enumerate(self.seams):
            corners = {point for name in self.inside[seam["id"]] for point in self.outlines[name]}
            for point in corners:
                if not any(is_on(point, *leg) for leg in pairwise(self.ways[place])):
                    continue
                if "closes" in seam and point in self.ways[self.places[seam["closes"]]]:
                    continue
                lasts = [
                    max(self._cross(place, point, is_a), default=None, key=lambda crossed: crossed.place)
                    for is_a in (True, False)
                ]
                a, b = lasts
                if a is not None and b is not None:
                    names = self.seams[a.place]["id"], self.seams[b.place]["id"]
                    yield (seam["id"], point), MatchPoint(*names, a.falls_ahead != b.falls_ahead)

    def _cross(self, place: int, point: Point, is_a: bool) -> list[_Crossed]:
        """The seams that end at a point of the seam being sewn, on one side of that."""
        seam, way = self.seams[place], self.ways[place]
        side = self.inside[seam["a"]] if is_a or seam["b"] is None else self.inside[seam["b"]]
        legs = [leg for leg in pairwise(way) if is_on(point, *leg)]
        ahead = [last for _, last in legs if last != point]
        behind = [first for first, _ in legs if first != point]
        comes_from_ahead = bool(ahead)
        ray = (ahead or behind)[0]
        runs_away = (self.senses[place] == is_a) == comes_from_ahead
        crossed = []
        here = self._find_patch(side, point, ray, runs_away)
        while here is not None:
            ray = self._find_other_ray(here, point, runs_away)
            found = self._find_seam(place, point, ray)
            there = self._find_patch(side, point, ray, runs_away)
            if found is None or there is None:
                break
            if point in (self.ways[found][0], self.ways[found][-1]):
                falls_on = self._is_on_a(found, point, runs_away) == (self.seams[found]["press"] == "a")
                crossed.append(_Crossed(found, falls_on != comes_from_ahead))
            here = there
        return crossed

    def _list_edges(self, name: str) -> list[tuple[Point, Point]]:
        outline = self.outlines[name]
        return [(outline[place - 1], corner) for place, corner in enumerate(outline)]

    def _find_patch(self, side: frozenset[str], point: Point, ray: Point, runs_away: bool) -> str | None:
        """The patch with an edge that leaves a point along a ray, or comes to it so."""
        for name in sorted(side):
            for start, end in self._list_edges(name):
                there = end if runs_away else start
                if is_on(point, start, end) and there != point and is_ahead(there, point, ray):
                    return name
        return None

    def _find_other_ray(self, name: str, point: Point, runs_away: bool) -> Point:
        """The other way along the edge of a patch from a point: where its edge comes from, or where it leads."""
        ends = [(start, end) for start, end in self._list_edges(name) if is_on(point, start, end)]
        return next(start if runs_away else end for start, end in ends if (start if runs_away else end) != point)

    def _find_seam(self, place: int, point: Point, ray: Point) -> int | None:
        """The seam that is sewn already along a ray next to a point."""
        for other, way in enumerate(self.ways[:place]):
            for start, end in pairwise(way):
                if is_on(point, start, end) and any(q != point and is_ahead(q, point, ray) for q in (start, end)):
                    return other
        return None

    def _is_on_a(self, place: int, point: Point, runs_away: bool) -> bool:
        """Whether a patch whose edge runs away from a point along a seam that ends there (or comes back along it) is of
        its side a."""
        return self.senses[place] == ((point == self.ways[place][0]) == runs_away)


def _read_way(seam: PlanSeam) -> tuple[Point, ...]:
    legs = seam.get("legs") or [(seam["from"], seam["to"])]
    return (*(_read_point(start) for start, _ in legs), _read_point(seam["to"]))


def _read_point(texts: PlanPoint) -> Point:
    x, y = map(read_rooted, texts)
    return x, y


def _do_overlap(edge: tuple[Point, Point], leg: tuple[Point, Point]) -> bool:
    start, end = leg
    if turn(start, end, edge[0]) or turn(start, end, edge[1]):
        return False
    low, high = sorted(reach(start, end, point) for point in edge)
    return bool(low < reach(start, end, end) and high > 0)
