"""Which way allowances fall where seams end on the border of a unit, as literals of a formula.

One choice for each kind (its last seam is pressed one way), and one for each unit inside another that looks the same
after a half turn: whether it lies turned there. What falls where at a point of a border follows from these: a chain of
choices, each worked out once for each kind of unit and point, however many copies there are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from planner.blocks import Point
from planner.build_units import Side, Units
from planner.find_joins import Joins, Path
from planner.least_cost import LeastCost, Literal
from planner.turns import plain_turn, turn_direction

Flag = tuple[int, int]  # a unit, and which of its sides lies turned by half: 0 its side a, 1 its side b


class EndDirections:
    """The formula of the blocks of a project. `may_turn` says whether a unit may lie turned by half inside another."""

    def __init__(self, units: Units, joins: Joins, cost: LeastCost, may_turn: Callable[[int], bool]) -> None:
        self.units = units
        self.joins = joins
        self.cost = cost
        self.may_turn = may_turn
        self.flags: dict[Flag, Literal] = {}
        self._kinds: dict[int, Literal] = {}
        self._senses: dict[tuple[int, Point, Point], Literal] = {}

    def own(self, number: int) -> Literal:
        """That the allowances of a unit's last seam fall to its side a: the same choice for all units of its kind."""
        unit = self.units.units[number]
        if unit.closes:  # it falls as what it finishes
            for into_b in unit.closes.way:
                number = self.units.units[number].sides[into_b].unit
            return self.own(number)
        if unit.kind not in self._kinds:
            self._kinds[unit.kind] = self.cost.variable()
        literal = self._kinds[unit.kind]
        return literal if unit.a_on_normal else -literal

    def sense(self, number: int, at: Point, along: Point) -> Literal:
        """That the allowances of the seam that ends at a point of a unit's border fall ahead, along a direction there.
        All in the unit's frame."""
        key = (number, at, (_sign(along[0]), _sign(along[1])))
        if key not in self._senses:
            self._senses[key] = self._find_sense(number, at, along)
        return self._senses[key]

    def _find_sense(self, number: int, at: Point, along: Point) -> Literal:
        end = self.joins.ends[number][at]
        if not end.path:
            own = self.own(number)
            return own if end.toward_a[0] * along[0] + end.toward_a[1] * along[1] > 0 else -own
        return self.side_sense(number, int(end.path[0]), at, along)

    def side_sense(self, number: int, which: int, at: Point, along: Point) -> Literal:
        """The same of the seam that ends there inside side a (0) or side b (1) of a unit."""
        unit = self.units.units[number]
        side = unit.b if which else unit.a
        assert side is not None
        straight = self.placed_sense(side, at, along)
        if not self.may_turn(side.unit):
            return straight
        turned = self.placed_sense(side._replace(turn=plain_turn(side.turn + 2)), at, along)
        if turned == straight:
            return straight
        return self.choose(self.flag(number, which), turned, straight)

    def placed_sense(self, side: Side, at: Point, along: Point) -> Literal:
        """The same of a unit as it lies, all in the frame it lies in."""
        return self.sense(side.unit, self.units.find_point(at, side), turn_direction(along, plain_turn(-side.turn)))

    def flag(self, number: int, which: int) -> Literal:
        """That a side of a unit lies turned by half."""
        if (number, which) not in self.flags:
            self.flags[number, which] = self.cost.variable()
        return self.flags[number, which]

    def choose(self, condition: Literal, yes: Literal, no: Literal) -> Literal:
        """A literal that is `yes` where the condition holds, else `no`."""
        found = self.cost.variable()
        for unless, same in ((-condition, yes), (condition, no)):
            self.cost.need(unless, -found, same)
            self.cost.need(unless, found, -same)
        return found

    def joins_of(self, number: int) -> Iterator[tuple[Literal, Literal]]:
        """For each join on a unit's last seam: that the allowance of side a falls ahead there, and that of side b."""
        unit = self.units.units[number]
        (px, py), (qx, qy) = unit.seam
        along = (qx - px, qy - py)
        for join in self.joins.joins[number]:
            if unit.closes:
                ways = (join.a, join.a_ahead), (join.b, join.b_ahead)
                first, second = (self._deep_sense(number, *way, join.at, along) for way in ways)
                yield first, second
            else:
                yield self.side_sense(number, 0, join.at, along), self.side_sense(number, 1, join.at, along)

    def _deep_sense(self, number: int, path: Path, a_ahead: bool, at: Point, along: Point) -> Literal:
        """The same of the seam at the end of a way that leads down to it, as far as nothing on that way lies turned;
        it ends at what is finished last, inside the unit. `a_ahead` says whether its side a lies ahead."""
        for into_b in path:
            side = self.units.units[number].sides[into_b]
            if self.may_turn(side.unit):
                return self.side_sense(number, int(into_b), at, along)
            at = self.units.find_point(at, side)
            along = turn_direction(along, plain_turn(-side.turn))
            number = side.unit
        return self.own(number) if a_ahead else -self.own(number)


def _sign(value: object) -> int:
    return (value > 0) - (value < 0)  # type: ignore[operator]
