"""Where on a patch its letter has room beside the arrows and numbers that lie on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.pictures.paper import Paper, Room, distance, midway, reach_from
from planner.pictures.svg_elements import Spot, share


class Taken(NamedTuple):
    """A disc that something else lies on."""

    middle: Spot
    reach: int


class FreeRoom:
    """Room on the patches of a picture, with some of it taken."""

    def __init__(self, paper: Paper, taken: Sequence[Taken]) -> None:
        self._paper = paper
        self._step = max(1, paper.typical, 2 * max((one.reach for one in taken), default=0))
        self._near: dict[tuple[int, int], list[Taken]] = {}
        for one in taken:
            self._near.setdefault(self._cell(one.middle), []).append(one)

    def _cell(self, spot: Spot) -> tuple[int, int]:
        return spot[0] // self._step, spot[1] // self._step

    def find(self, patch: int, wanted: int) -> Room:
        """The spot of a patch that has the most room round it, near its middle where there is as much as is wanted."""
        room = self._paper.rooms[patch]
        least = share(wanted, 60)
        best = None
        for spot, reach in self._offer(patch, room):
            free = min([reach, *self._gaps(spot)])
            if best is None or free > best.reach:
                best = Room(spot, free)
            if free >= min(least, room.reach):
                break
        assert best is not None
        return Room(best.middle, max(best.reach, share(room.reach, 35)))

    def _offer(self, patch: int, room: Room) -> Iterator[tuple[Spot, int]]:
        """Spots of a patch, its middle first, and how far each is from the patch's edge."""
        yield room.middle, room.reach
        outline = self._paper.outlines[patch]
        middles = [midway(first, last) for first, last in zip(outline, (*outline[1:], outline[0]), strict=True)]
        for part in (30, 45, 60):
            for corner in (*outline, *middles):
                x = room.middle[0] + (corner[0] - room.middle[0]) * part // 100
                y = room.middle[1] + (corner[1] - room.middle[1]) * part // 100
                yield (x, y), reach_from((x, y), outline)

    def _gaps(self, spot: Spot) -> Iterator[int]:
        """How far it is to what is taken nearby."""
        column, row = self._cell(spot)
        for near in ((column + x, row + y) for x in (-1, 0, 1) for y in (-1, 0, 1)):
            for one in self._near.get(near, ()):
                yield distance(spot, one.middle) - one.reach
