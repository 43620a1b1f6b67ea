"""A layout that has changed while it was cut -> which of its strips are still to cut.

What is cut already is no strip any more: a strip of which pieces were cut is as long as what is left of it. What is
still to cut is laid into what is left, the longest piece first, into the shortest rest that holds it; for what does not
fit, strips are cut.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

from planner.cloth.cut_strips import StripCut

_Layout = Mapping[str, Any]  # as it stands in the log, read from JSON


@dataclass(frozen=True, slots=True)
class Column:
    """Pieces on top of one another in a strip: `rectangle` is its number in the layout."""

    rectangle: int
    wide: Fraction
    deep: int
    pieces: int


@dataclass(frozen=True, slots=True)
class Whole:
    """One strip as it is before it is cut across, by the name of its step."""

    name: str
    room: Fraction
    columns: tuple[Column, ...]


class Rest(NamedTuple):
    """What is left of a strip, and how long it was."""

    left: Fraction
    room: Fraction


@dataclass(frozen=True, slots=True)
class Layout:
    """How the pieces of one fabric lay in strips: each strip by itself, in the order of cutting; of each rectangle how
    many there were and for which piles; and how much there was to count of each pile."""

    strips: tuple[Whole, ...]
    rectangles: tuple[tuple[int, tuple[str, ...]], ...]
    counts: Mapping[str, int]

    def share_done(self, done: Mapping[str, int]) -> dict[str, Fraction]:
        """Of each pile how much is cut, where so much is counted of it; more than 1 where more was cut."""
        return {pile: Fraction(done.get(pile, 0), many) for pile, many in self.counts.items() if many}

    def count_ready(self, share_of: Mapping[str, Fraction]) -> list[int]:
        """Of each rectangle how many are cut, where such a share is cut of each pile."""
        found = []
        for count, piles in self.rectangles:
            share = min((share_of.get(pile, Fraction(0)) for pile in piles), default=Fraction(0))
            found.append(int(count * share // 1))
        return found


def read_layout(cuts: Sequence[StripCut], counts: Mapping[str, int]) -> Layout:
    """Of the strips of one fabric as the sheet has them."""
    strips = []
    for cut in cuts:
        for strip in cut.strips:
            columns = tuple(Column(run.rectangle, run.wide, run.deep, run.pieces) for run in strip.runs)
            strips += [Whole(f"strip {cut.name}", cut.room, columns)] * strip.times
    rectangles = tuple((one.count, one.piles) for one in cuts[0].cloth.rectangles) if cuts else ()
    return Layout(tuple(strips), rectangles, counts)


def spell_layout(layout: Layout) -> dict[str, Any]:
    """For the log: equal strips that follow one another once, with how many."""
    strips: list[list[Any]] = []
    for one in layout.strips:
        columns = [[column.rectangle, str(column.wide), column.deep, column.pieces] for column in one.columns]
        spelled = [one.name, str(one.room), columns]
        if strips and strips[-1][1:] == spelled:
            strips[-1][0] += 1
        else:
            strips.append([1, *spelled])
    return {
        "strips": strips,
        "rectangles": [[count, list(piles)] for count, piles in layout.rectangles],
        "counts": dict(layout.counts),
    }


def read_spelled(spelled: _Layout) -> Layout:
    """A layout from the log. Raises what reading odd JSON raises: KeyError, TypeError, ValueError."""
    strips: list[Whole] = []
    for times, name, room, columns in spelled["strips"]:
        parts = tuple(Column(int(one), Fraction(wide), int(deep), int(many)) for one, wide, deep, many in columns)
        strips += [Whole(str(name), Fraction(room), parts)] * int(times)
    rectangles = tuple((int(count), tuple(map(str, piles))) for count, piles in spelled["rectangles"])
    if any(column.deep < 1 or not 0 <= column.rectangle < len(rectangles) for one in strips for column in one.columns):
        raise ValueError("columns that hold nothing")
    return Layout(tuple(strips), rectangles, {str(pile): int(many) for pile, many in spelled["counts"].items()})


def list_rests(layout: Layout, there: Mapping[str, int], share_of: Mapping[str, Fraction]) -> dict[str, list[Rest]]:
    """How long each strip that is `there` still is, by the name of its step: the first ones of the layout, whole where
    it has fewer of them."""
    ready = layout.count_ready(share_of)
    found: dict[str, list[Rest]] = {name: [] for name, many in there.items() if many > 0}
    rooms = {one.name: one.room for one in layout.strips}
    for one in layout.strips:
        rests = found.get(one.name)
        if rests is None or len(rests) >= there[one.name]:
            continue
        rest = one.room
        for column in one.columns:
            cut = min(ready[column.rectangle], column.pieces)
            ready[column.rectangle] -= cut
            rest -= column.wide * (cut // column.deep)
        rests.append(Rest(rest, one.room))
    for name, rests in found.items():
        if name in rooms:
            rests += [Rest(rooms[name], rooms[name])] * (there[name] - len(rests))
    return found


def guess_rests(
    layout: Layout, cuts: Sequence[StripCut], there: Mapping[str, int], share_of: Mapping[str, Fraction]
) -> dict[str, list[Rest]]:
    """The same where nobody wrote down how the pieces lay: each came out of the narrowest strips that it fits into."""
    rooms = {f"strip {cut.name}": cut.room for cut in cuts}
    usable = cuts[0].cloth.fabric.usable
    found = {name: [Rest(rooms.get(name, usable), rooms.get(name, usable))] * many for name, many in there.items()}
    widths = sorted((Fraction(name.split(" ")[1]), name) for name in found)
    for one, many in zip(cuts[0].cloth.rectangles, layout.count_ready(share_of), strict=True):
        short, long = sorted((one.wide, one.high))
        for wide, name in widths:
            if wide < short:
                continue
            deep = int(wide // short)
            rests = found[name]
            for place, rest in enumerate(rests):
                columns = min(int(rest.left // long), -(-many // deep))
                rests[place] = rest._replace(left=rest.left - columns * long)
                many -= min(many, columns * deep)
            if not many:
                break
    return found


def count_to_cut(
    layout: Layout, rests: Mapping[str, Sequence[Rest]], share_of: Mapping[str, Fraction]
) -> dict[str, tuple[int, int]]:
    """By the name of a strip's step how many are still to cut, and how many whole ones are there that nothing is cut
    from. `rests` is what is there already."""
    ready = layout.count_ready(share_of)
    wanted: dict[str, list[list[Fraction]]] = {}
    rooms: dict[str, Fraction] = {}
    for one in layout.strips:
        rooms[one.name] = one.room
        left = []
        for column in one.columns:
            cut = min(ready[column.rectangle], column.pieces)
            ready[column.rectangle] -= cut
            left += [column.wide] * -(-(column.pieces - cut) // column.deep)
        wanted.setdefault(one.name, []).append(left)
    found = {name: (0, sum(one.left == one.room for one in here)) for name, here in rests.items()}
    for name, strips in wanted.items():
        here = sorted(one.left for one in rests.get(name, ()))
        unfinished = sum(map(bool, strips))
        whole = sum(rest >= rooms[name] for rest in here)
        if whole == len(here) and unfinished == len(strips):  # as laid out, where nothing is cut up
            found[name] = max(0, unfinished - whole), max(0, whole - unfinished)
            continue
        columns = sorted((wide for left in strips for wide in left), reverse=True)
        more, spare = _lay(columns, here, rooms[name])
        if unfinished - whole <= more:
            more, spare = max(0, unfinished - whole), max(spare, whole - unfinished)
        found[name] = more, spare
    return found


def _lay(columns: Sequence[Fraction], rests: Sequence[Fraction], room: Fraction) -> tuple[int, int]:
    """How many whole strips it takes beside the rests, and how many of the rests that are whole stay so."""
    free, more = list(rests), 0
    for wide in columns:
        place = next((place for place, rest in enumerate(free) if rest >= wide), None)
        if place is None:
            more += 1
            free.append(room)
            place = len(free) - 1
        free[place] -= wide
    return more, sum(rest >= room for rest in free[: len(rests)])


def is_of_fabric(name: str, fabric: str) -> bool:
    """Whether the name of a step (`strip 9/2 slate@18x21 1`) is that of strips of a fabric."""
    return name.startswith("strip ") and name.split(" ", 2)[-1].partition("@")[0] == fabric
