"""Joins that cannot nest: the seams that force it, in a ring from join to join, and what helps.

Each seam of such a ring decides the next; the last one comes back to the first and says the contrary. So one of its
joins clashes, whichever; with any one of them left out the rest nest.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import NamedTuple

from planner.find_cuts import always
from planner.find_joins import Join, joins_of_block
from planner.find_ring import Link, find_ring
from planner.place_seams import SeamPlace, SeamPlaces, Spot
from planner.plan import Plan, plan_project
from planner.project import Keep

MOST_TRIED = 12  # plans that are made to see what helps
MOST_PATCHES_TRIED = 4_000  # of a larger project none is
_KEPT = "kept"


class Tie(NamedTuple):
    """Two seams that meet at a join and must fall opposite ways there; or one seam that is kept (`keep`)."""

    first: SeamPlace
    second: SeamPlace | None
    at: Spot | None
    keep: Keep | None = None


class Help(NamedTuple):
    """A change of what the maker keeps, and what the whole project comes to with it: joins that clash, joins where a
    seam is pressed open, kinds pressed two ways. `keep` is to be written (None: nothing), `instead_of` to be taken
    out."""

    keep: Keep | None
    instead_of: Keep | None
    clashes: int
    at_open: int
    two_ways: int


class Clash(NamedTuple):
    """A join that does not nest, the first of the ring, and how often there is such a one: in `loose` loose blocks and
    in the blocks of the quilt at `places` (row, column), or once where it joins the quilt."""

    ring: tuple[Tie, ...]
    loose: int
    places: tuple[tuple[int, int], ...]
    helps: tuple[Help, ...]  # the best first

    @property
    def times(self) -> int:
        return max(1, self.loose + len(self.places))

    @property
    def block(self) -> str:
        """The block that holds all of the ring; "" where the ring runs through several, or through the quilt."""
        seams = {(seam.block, seam.row, seam.column) for seam in list_seams(self)}
        return next(iter(seams))[0] if len(seams) == 1 else ""


def list_seams(clash: Clash) -> tuple[SeamPlace, ...]:
    """The seams of a ring, each once, in their order."""
    both = (seam for tie in clash.ring for seam in (tie.first, tie.second) if seam is not None)
    return tuple(dict.fromkeys(both))


def explain_clashes(plan: Plan, keep_going: Callable[[], bool] = always) -> tuple[Clash, ...]:
    """All joins that clash, those that are the same in several blocks once."""
    if not plan.pressing.clashes:
        return ()
    places = SeamPlaces(plan)
    found: dict[object, Clash] = {}
    for block, drafted in enumerate(plan.blocks.drafted):
        for ring in _find_rings(plan, places, block) if drafted.copies else ():
            clash = Clash(ring, 0, (), ())
            first = ring[0].first
            loose = 0 if drafted.is_top else drafted.copies
            inside = ((first.row, first.column),) if clash.block and drafted.is_top else ()
            same = found.setdefault(_spell(clash), clash)
            found[_spell(clash)] = same._replace(loose=same.loose + loose, places=same.places + inside)
    helper = _Helper(plan, places, keep_going)
    return tuple(clash._replace(helps=helper.find_helps(clash)) for clash in found.values())


def _spell(clash: Clash) -> object:
    """The same for rings that are the same in several blocks."""
    if not clash.block:
        return clash.ring

    def anywhere(seam: SeamPlace | None) -> SeamPlace | None:
        return seam._replace(row=0, column=0) if seam is not None else None

    return tuple((anywhere(tie.first), anywhere(tie.second), tie.at) for tie in clash.ring)


class _Met(NamedTuple):
    """A link of the formula: a join (of a seam that is sewn, where two others meet), or one seam that is kept."""

    number: int
    join: Join | None
    first: int
    second: int


def _find_rings(plan: Plan, places: SeamPlaces, block: int) -> Iterator[tuple[Tie, ...]]:
    """For each join of a block that clashes the ring that forces it."""
    words, pressing = plan.press_words, plan.pressing

    def end(number: int, is_last: bool) -> tuple[int, bool]:
        return number, is_last and number in pressing.is_spun[block]

    links: list[Link] = []
    met: list[_Met] = []
    for number, join, first, second in joins_of_block(plan.units, plan.joins, block):
        if not pressing.is_open[block] & {first, second}:
            holds = words.nests(block, join, first, second)
            ends = end(first, join.a_last), end(second, join.b_last)
            links.append(Link(*ends, join.a_ahead == join.b_ahead, holds))
            met.append(_Met(number, join, first, second))
    joins = len(links)
    for (kept_in, number), to_a in plan.kept.items():
        if kept_in == block and to_a is not None:
            links.append(Link(end(number, False), _KEPT, not to_a, True))
            met.append(_Met(number, None, number, number))
    links += [Link((number, False), (number, True), True, True) for number in sorted(pressing.is_spun[block])]
    met += [_Met(number, None, number, number) for number in sorted(pressing.is_spun[block])]
    for place in range(joins):
        if not links[place].holds:
            ring = find_ring(links, place) or (place,)
            yield tuple(_tie(plan, places, block, met[one]) for one in ring)


def _tie(plan: Plan, places: SeamPlaces, block: int, met: _Met) -> Tie:
    first = places.find(block, met.first)
    if met.join is None:
        return Tie(first, None, None, _find_keep(plan, places, first))
    return Tie(first, places.find(block, met.second), places.find_join(block, met.number, met.join))


def _find_keep(plan: Plan, places: SeamPlaces, seam: SeamPlace) -> Keep | None:
    """What the maker wrote of a seam, if anything."""
    return next((keep for keep in plan.project.keep if places.is_at(seam, keep.block, keep.at)), None)


class _Helper:
    """Tries what helps against clashes, by planning again."""

    def __init__(self, plan: Plan, places: SeamPlaces, keep_going: Callable[[], bool]) -> None:
        self.plan = plan
        self.places = places
        self.keep_going = keep_going
        self.known: dict[tuple[Keep | None, Keep | None], Help | None] = {}
        patches = sum(len(block.patches) for block in plan.blocks.drafted)
        self.left = MOST_TRIED if patches <= MOST_PATCHES_TRIED else 0

    def find_helps(self, clash: Clash) -> tuple[Help, ...]:
        """The changes with which fewer joins clash, the best first."""
        found: list[Help] = []
        for seam in list_seams(clash):
            if seam.at is None:
                continue  # what joins the quilt can't be kept
            written = _find_keep(self.plan, self.places, seam)
            at = seam.at if written is None else written.at
            ways: list[Keep | None] = [Keep(seam.block, at, "open", 0)]
            if written is not None:
                ways.append(None)
            for keep in ways:
                tried = self._try(keep, written)
                if tried is not None and tried.clashes < self.plan.pressing.clashes:
                    found.append(tried)
        return tuple(sorted(dict.fromkeys(found), key=lambda one: (one.clashes, one.at_open, one.two_ways)))

    def _try(self, keep: Keep | None, instead_of: Keep | None) -> Help | None:
        key = keep, instead_of
        if key not in self.known and self.left:
            self.left -= 1
            self.known[key] = self._plan_again(keep, instead_of)
        return self.known.get(key)

    def _plan_again(self, keep: Keep | None, instead_of: Keep | None) -> Help | None:
        project = self.plan.project
        kept = tuple(one for one in project.keep if one != instead_of) + ((keep,) if keep is not None else ())
        again, _ = plan_project(replace(project, keep=kept), keep_going=self.keep_going)
        if again is None:
            return None
        return Help(keep, instead_of, again.pressing.clashes, count_at_open(again), again.pressing.two_ways)


def count_at_open(plan: Plan) -> int:
    """Joins where a seam is pressed open: there is nothing to nest."""
    return sum(
        drafted.copies
        for block, drafted in enumerate(plan.blocks.drafted)
        for _, _, first, second in joins_of_block(plan.units, plan.joins, block)
        if plan.pressing.is_open[block] & {first, second}
    )
