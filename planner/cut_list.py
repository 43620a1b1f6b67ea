"""Patches -> what to cut: for each fabric and shape the finished size, the size to cut, and how many."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from planner.batch_seams import Batches
from planner.build_units import Units
from planner.cut_sizes import Piece, size_piece
from planner.project import Fabric


@dataclass(frozen=True, slots=True)
class CutEntry:
    """One line of the cut list. `units` are the patches (units of one patch) that are cut by it."""

    fabric: str
    piece: Piece
    count: int
    units: tuple[int, ...]


def list_cuts(units: Units, batches: Batches, fabrics: tuple[Fabric, ...], seam: Fraction) -> tuple[CutEntry, ...]:
    """All pieces to cut, by fabric as written, then the largest first. `seam` is the allowance in inches.

    Pieces equal after turning, never after mirroring, are one entry; squares and rectangles at any angle.
    """
    blocks = units.cuts.blocks
    found: dict[tuple[str, object], tuple[Piece, int, tuple[int, ...]]] = {}
    for number, unit in enumerate(units.units):
        if unit.shape < 0 or not batches.count_of[number]:
            continue
        shape = units.cuts.shapes[unit.shape]
        outline = blocks.outline_inches(shape.outline)
        piece = size_piece(outline, seam, shape.askew)
        # Two others may share a box; the outline, turned one certain way, tells them apart
        key = (shape.fabric, (piece.shape, piece.finished) if piece.shape != "other" else (piece.shape, outline))
        _, count, members = found.get(key, (piece, 0, ()))
        found[key] = (piece, count + batches.count_of[number], (*members, number))
    order = {fabric.name: place for place, fabric in enumerate(fabrics)}
    entries = [CutEntry(fabric, piece, count, members) for (fabric, _), (piece, count, members) in found.items()]
    return tuple(sorted(entries, key=lambda entry: (order[entry.fabric], _rank(entry.piece))))


def _rank(piece: Piece) -> tuple[object, ...]:
    return -piece.cut[1], -piece.cut[0], piece.shape, piece.corners
