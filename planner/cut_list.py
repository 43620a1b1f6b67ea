"""Patches -> what to cut: for each fabric and shape the finished size, the size to cut, and how many."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from planner.batch_seams import Batches
from planner.blocks import Outline
from planner.build_units import Units
from planner.cut_prints import size_patch
from planner.cut_sizes import Piece
from planner.find_cuts import lay_at_origin, list_slants
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
    lying: dict[int, Outline] = {}
    for number, unit in enumerate(units.units):
        if unit.shape < 0 or not batches.count_of[number]:
            continue
        shape = units.cuts.shapes[unit.shape]
        outline = blocks.outline_inches(shape.outline)
        piece = size_patch(outline, seam, shape.askew, shape.up)
        if piece.shape == "other" and shape.between:
            if not lying:
                lying.update(_find_lying(units))
            outline = blocks.outline_inches(lying.get(unit.shape, shape.outline))  # only blocks are turned so
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


def _find_lying(units: Units) -> dict[int, Outline]:
    """For each shape that is turned by parts of a quarter too how one of its patches lies in a block: only so is its
    grain that of the block's edges. Of several ways the one with the fewest slanting sides."""
    shapes = units.cuts.shapes
    slants = list_slants(shapes)
    number = {(shape.fabric, shape.outline): place for place, shape in enumerate(shapes) if shape.region < 0}
    drawn = {
        number[patch.fabric, lay_at_origin(patch.outline)]
        for block in units.cuts.blocks.drafted
        if not block.is_top
        for patch in block.patches
    }
    lying: dict[int, Outline] = {}
    for place in sorted(drawn, key=lambda one: (slants[one], shapes[one].outline)):
        for start in (place, *(turned for turned, _, _ in shapes[place].between.values())):
            here = start
            while here not in lying:
                lying[here] = shapes[place].outline
                here = shapes[here].turned
    return lying


def _rank(entry: CutEntry) -> tuple[object, ...]:
    piece = entry.piece
    # Of triangles that come out of the same squares those first that the squares are counted by
    most = 0 if entry.up == NO_WAY else -entry.count
    return -piece.cut[1], -piece.cut[0], piece.shape, most, piece.corners
