"""A point in a block -> why no seam can be named by it, told by the sides of its patches alone: whatever the order of
sewing, seams run along all of them that do not lie on the border of the block."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.draw_drafts import Drawing, draw_block
from planner.measure import Measure
from planner.name_nearby import name_nearby
from planner.project import Block, Toward
from planner.surd import Exact, ExactPoint, Surd, divide

MOST_ASKED = 20_000  # patches: in a larger block it is found out with its seams
_MOST_NEAR = 12  # sides that are looked at for points that would be right
_Numbers = tuple[int, int]
_Side = tuple[_Numbers, _Numbers]
_WAYS = {"left": (1, 0), "right": (1, 0), "up": (0, 1), "down": (0, 1)}


class BlockSides:
    """The sides of a block's patches, each once. Corners are numbers of its coordinates."""

    def __init__(self, block: Block) -> None:
        drawing: Drawing = draw_block(block)
        self._values = list(drawing.values)
        self._right, self._bottom = drawing.number(drawing.width), drawing.number(drawing.height)
        self._zero = [number for number, value in enumerate(self._values) if not value]
        sides = {
            (min(one, other), max(one, other))
            for _, corners in drawing.patches
            for one, other in zip(corners, (*corners[1:], corners[0]), strict=True)
        }
        self._sides = [side for side in sorted(sides) if not self._is_on_border(side)]
        self.roots = {value.of for value in self._values if isinstance(value, Surd)}

    def _is_on_border(self, side: _Side) -> bool:
        (ax, ay), (bx, by) = side
        return (ax == bx and ax in (*self._zero, self._right)) or (ay == by and ay in (*self._zero, self._bottom))

    def why_no_seam(self, at: ExactPoint, toward: Toward | None, measure: Measure) -> str | None:
        """Words for what is wrong with a point inside of the block (inches), and with the way to press there; None
        where a seam may run through it. Nothing is said where numbers with two different roots would meet."""
        if len(self.roots | {place.of for place in at if isinstance(place, Surd)}) > 1:
            return None
        if not self._sides:
            return "this block has no seam"
        rays: list[ExactPoint] = []  # from the point along sides, one each way
        for side in self._pass(at):
            for end in self._place(side):
                ray = end[0] - at[0], end[1] - at[1]
                if any(ray) and not any(_is_one_way(ray, other) for other in rays):
                    rays.append(ray)
        (x, y) = rays[0] if rays else at
        if any(x * dy != y * dx for dx, dy in rays) or not rays:
            what = "seams meet at this point" if len(rays) > 2 else "a seam turns at this point"
            if not rays:
                what = "no seam runs through this point"
            return f"{what}; seams nearby have their middles at {name_nearby(self._find_middles(at), at, measure)}"
        if toward is None or toward == "open":
            return None
        across, down = _WAYS[toward]
        if across * y == down * x:
            may = "left or right" if not x else "up or down"
            return f"this seam can't be pressed {toward}; write {may}, or open"
        return None

    def _place(self, side: _Side) -> tuple[ExactPoint, ExactPoint]:
        (ax, ay), (bx, by) = side
        values = self._values
        return (values[ax], values[ay]), (values[bx], values[by])

    def _pass(self, at: ExactPoint) -> Iterator[_Side]:
        """The sides that a point lies on, its ends too."""
        # Each coordinate is compared once: 1 where it is beyond the point, -1 before it
        beside = [[(value > place) - (value < place) for value in self._values] for place in at]
        for side in self._sides:
            (ax, ay), (bx, by) = side
            if beside[0][ax] * beside[0][bx] > 0 or beside[1][ay] * beside[1][by] > 0:
                continue
            if _is_in_line(*self._place(side), at):
                yield side

    def _find_middles(self, at: ExactPoint) -> list[ExactPoint]:
        """The middles of the nearest stretches on which no other seam ends."""

        def far(side: _Side) -> Exact:
            (ax, ay), (bx, by) = self._place(side)
            return (ax + bx - 2 * at[0]) ** 2 + (ay + by - 2 * at[1]) ** 2

        corners = sorted({corner for side in self._sides for corner in side})
        found = []
        for side in sorted(self._sides, key=far)[:_MOST_NEAR]:
            start, end = self._place(side)
            points = [(self._values[x], self._values[y]) for x, y in corners]
            on = sorted(point for point in points if _is_between(start, end, point))
            found += [_halve(on, number) for number in range(len(on) - 1)]
        return found


def _is_one_way(one: ExactPoint, other: ExactPoint) -> bool:
    return one[0] * other[1] == one[1] * other[0] and one[0] * other[0] + one[1] * other[1] > 0


def _is_in_line(start: ExactPoint, end: ExactPoint, point: ExactPoint) -> bool:
    (ax, ay), (bx, by), (x, y) = start, end, point
    return (bx - ax) * (y - ay) == (by - ay) * (x - ax)


def _is_between(start: ExactPoint, end: ExactPoint, point: ExactPoint) -> bool:
    (ax, ay), (bx, by), (x, y) = start, end, point
    in_box = min(ax, bx) <= x <= max(ax, bx) and min(ay, by) <= y <= max(ay, by)
    return in_box and _is_in_line(start, end, point)


def _halve(points: Sequence[ExactPoint], number: int) -> ExactPoint:
    (ax, ay), (bx, by) = points[number : number + 2]
    return divide(ax + bx, 2), divide(ay + by, 2)
