"""Triangles of a print with a direction -> which of them come out of the same squares.

A square with its print upright, cut from corner to corner, gives two triangles that lie two ways, and one that is cut
both ways gives four. So the squares are counted by what most is needed of, and the rest of each is the others.
"""

from __future__ import annotations

from planner.cut_list import CutEntry
from planner.cut_prints import runs_down
from planner.turn_prints import NO_WAY


def find_leads(entries: tuple[CutEntry, ...]) -> dict[int, int]:
    """For each entry of triangles with such a print the one (both by their places) whose squares they come out of: the
    first of several, and it has the most. It may be the entry itself."""
    leads: dict[int, int] = {}
    first: dict[object, int] = {}
    for place, entry in enumerate(entries):
        piece = entry.piece
        if entry.up == NO_WAY or piece.shape not in ("half-square triangle", "quarter-square triangle"):
            continue
        leads[place] = first.setdefault((entry.fabric, piece.shape, piece.finished, entry.up, runs_down(piece)), place)
    return leads
