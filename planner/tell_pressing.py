"""Press directions in words: why a seam falls as it does, and what to do where a join cannot nest."""

from __future__ import annotations

from types import MappingProxyType

from planner.build_units import Units
from planner.find_joins import Join, Joins, joins_of_block
from planner.find_kept import Kept
from planner.press_seams import Pressing, lean_outward
from planner.project import Wish

_GRANTED = {
    "light-weight": "away from the heavier cloth",
    "plain": "toward the side with fewer seams",
    "dark": "toward the darker fabric",
    "outward": "outward, away from the block's middle",
}
_DENIED = {
    "light-weight": "toward the heavier cloth",
    "plain": "toward the side with more seams",
    "dark": "toward the lighter fabric",
    "outward": "inward",
}


class PressWords:
    """The words for every seam of every drafted block."""

    def __init__(
        self,
        units: Units,
        joins: Joins,
        pressing: Pressing,
        prefer: tuple[Wish, ...],
        kept: Kept = MappingProxyType({}),
    ) -> None:
        self.kept = kept
        self.units = units
        self.pressing = pressing
        self.prefer = prefer
        # For each block and seam: how many joins it has a part in, and how many of them nest
        self.matches: list[list[list[bool]]] = [[[] for _ in seams] for seams in units.seams]
        for block in range(len(units.seams)):
            for _, join, first, second in joins_of_block(units, joins, block):
                nests = self.nests(block, join, first, second)
                if self.is_open(block, first) or self.is_open(block, second):
                    continue
                self.matches[block][first].append(nests)
                self.matches[block][second].append(nests)

    def nests(self, block: int, join: Join, first: int, second: int) -> bool:
        """Whether the allowances of a join's two seams fall opposite ways along the seam being sewn."""
        if self.is_open(block, first) or self.is_open(block, second):
            return False
        first_to_a = self.pressing.falls_to_a(block, first, join.a_last)
        second_to_a = self.pressing.falls_to_a(block, second, join.b_last)
        return (first_to_a == join.a_ahead) != (second_to_a == join.b_ahead)

    def is_open(self, block: int, number: int) -> bool:
        """Whether a seam's allowances are pressed apart."""
        return number in self.pressing.is_open[block]

    def why_not_nesting(self, block: int, join: Join, first: int, second: int) -> str:
        """What keeps a join from nesting: "" where it nests, "open" where a seam is pressed open."""
        if self.nests(block, join, first, second):
            return ""
        return "open" if self.is_open(block, first) or self.is_open(block, second) else HOW_WITHOUT_NESTING

    def why(self, block: int, number: int) -> str:
        """The first wish that has a say, granted or not; and what the direction does for the joins."""
        if (block, number) in self.kept:
            return "as you keep it"
        if number in self.pressing.is_spun[block]:
            return "spun: at the point all four allowances run round"
        matches = self.matches[block][number]
        nesting = sum(matches)
        at_joins = f"nests at {nesting} {'join' if nesting == 1 else 'joins'}" if nesting else ""
        wish, granted = self._first_wish(block, number)
        if wish is None:
            return f"either side would do; {at_joins}" if at_joins else "either side would do"
        if granted:
            return f"{_GRANTED[wish]}; {at_joins}" if at_joins else _GRANTED[wish]
        return (
            f"{_DENIED[wish]}, so that it {at_joins}" if at_joins else f"{_DENIED[wish]}, like the others of its kind"
        )

    def _first_wish(self, block: int, number: int) -> tuple[str | None, bool]:
        seam = self.units.seams[block][number]
        leaning = self.pressing.leanings[seam.unit]
        to_a = self.pressing.to_a[block][number]
        says: dict[str, bool | None] = {
            "light-weight": leaning.light_weight,
            "plain": leaning.plain,
            "dark": leaning.dark,
        }
        for wish in self.prefer:
            lean = lean_outward(self.units, block, number) if wish == "outward" else says.get(wish)
            if lean is not None:
                return wish, lean == to_a
        return None, False


HOW_WITHOUT_NESTING = "both allowances fall the same way: a pin on each side of the point keeps it"
