"""Patches -> what to cut: for each fabric and shape the finished size, the size to cut, and how many."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from planner.batch_seams import Batches
from planner.build_units import Units
from planner.cut_prints import size_patch
from planner.cut_sizes import Piece
from planner.project import Fabric
from planner.turn_prints import NO_WAY, is_aslant


@dataclass(frozen=True, slots=True)
class CutEntry:
    """One line of the cut list. `units` are the patches (units of one patch) that are cut by it; `up` is where their
    print points as they lie in their pile (see `turn_prints`)."""

    fabric: str
    piece: Piece
    count: int
    units: tuple[int, ...]
    up: int = NO_WAY


def list_cuts(units: Units, batches: Batches, fabrics: tuple[Fabric, ...], seam: Fraction) -> tuple[CutEntry, ...]:
    """All pieces to cut, by fabric as written, then the largest first. `seam` is the allowance in inches.

    Pieces equal after turning, never after mirroring, are one entry; squares and rectangles at any angle. Of a print
    with a direction those that lie alike on the cloth (in blocks that stand on point, those by themselves).
    """
    blocks = units.cuts.blocks
    found: dict[tuple[str, object], CutEntry] = {}
    for number, unit in enumerate(units.units):
        if unit.shape < 0 or not batches.count_of[number]:
            continue
        shape = units.cuts.shapes[unit.shape]
        outline = blocks.outline_inches(shape.outline)
        piece = size_patch(outline, seam, shape.askew, shape.up)
        # Two others may share a box; the outline, turned one certain way, tells them apart
        look: object = piece.finished if piece.shape != "other" else outline
        if shape.up != NO_WAY:
            look = piece.finished, piece.corners, is_aslant(shape.up)
        key = (shape.fabric, (piece.shape, look))
        known = found.get(key, CutEntry(shape.fabric, piece, 0, (), shape.up))
        found[key] = replace(known, count=known.count + batches.count_of[number], units=(*known.units, number))
    order = {fabric.name: place for place, fabric in enumerate(fabrics)}
    return tuple(sorted(found.values(), key=lambda entry: (order[entry.fabric], _rank(entry))))


def _rank(entry: CutEntry) -> tuple[object, ...]:
    piece = entry.piece
    # Of triangles that come out of the same squares those first that the squares are counted by
    most = 0 if entry.up == NO_WAY else -entry.count
    return -piece.cut[1], -piece.cut[0], piece.shape, most, piece.corners
