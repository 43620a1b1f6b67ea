"""Plan -> templates: the pieces that are drawn round rather than cut by a ruler, each shape once for all its fabrics.

Inches, x right, y down, as the piece is seen on the right side of the cloth; its grain runs along x and y.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from planner.cloth.blunt_points import blunt_points
from planner.cloth.choose_methods import leave_cut
from planner.cloth.cut_by_method import choose_where_asked
from planner.cloth.fit_seam_line import fit_seam_line
from planner.cut_list import CutEntry
from planner.cut_sizes import Corner, is_mirrored
from planner.name_piece import name_piece
from planner.plan import Plan
from planner.turn_prints import NO_WAY

BY_THE_RULER = ("square", "rectangle")
_NEAR = Fraction(1, 1 << 30)


@dataclass(frozen=True, slots=True)
class CutOf:
    """So many of a template in one fabric; `letter` is the fabric's, `pile` that of the pile they go to, if known."""

    letter: str
    fabric: str
    count: int
    pile: str = ""

    @property
    def to_pile(self) -> str:
        """To be said after the fabric: ` [B]`."""
        return f" [{self.pile}]" if self.pile else ""


@dataclass(frozen=True, slots=True)
class Template:
    """One shape to cut. `cut` and `seam` are outlines, clockwise; where it `is_blunt` the sharp points of `cut` are cut
    off, else they go corner for corner. Where it `has_way` the print of
    its fabrics stands upright as the template lies here. One that `is_one_way` is another shape when it is turned over.
    """

    number: int
    name: str
    cut: tuple[Corner, ...]
    seam: tuple[Corner, ...]
    fabrics: tuple[CutOf, ...]
    has_way: bool
    is_one_way: bool
    is_blunt: bool

    @property
    def count(self) -> int:
        return sum(fabric.count for fabric in self.fabrics)


def list_templates(
    plan: Plan, with_all: bool = False, piles: Mapping[str, str] = MappingProxyType({})
) -> tuple[Template, ...]:
    """The templates in the order of the cut list, numbered from 1; squares and rectangles only `with_all`. `piles` are
    the letters of the piles."""
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    found: dict[object, list[CutEntry]] = {}
    for entry in leave_cut(plan, choose_where_asked(plan)):  # what a method cuts whole needs none
        if with_all or entry.piece.shape not in BY_THE_RULER:
            found.setdefault(_tell(entry), []).append(entry)
    templates = []
    for number, entries in enumerate(_turn_over(plan, found.values()), 1):
        first = entries[0]
        seam_line, has_way = fit_seam_line(plan.units, first, plan.project.seam), first.up != NO_WAY
        cut = blunt_points(first.piece.corners, seam_line, plan.project.seam)
        templates.append(
            Template(
                number,
                name_piece(first.piece, plan.ruler),
                cut,
                seam_line,
                tuple(
                    CutOf(
                        letters[entry.fabric],
                        entry.fabric,
                        entry.count,
                        piles.get(plan.piles.unit_names[entry.units[0]], ""),
                    )
                    for entry in entries
                ),
                has_way,
                not (_is_even(seam_line) if has_way else _is_mirrored(seam_line)),
                len(cut) > len(seam_line),
            )
        )
    return tuple(templates)


def _turn_over(plan: Plan, groups: Iterable[list[CutEntry]]) -> Iterator[list[CutEntry]]:
    """Together what one template does for when it is turned over: shapes that are their own mirror image, and lie on
    the grain as each other's. Their corners are rounded each by itself, so the seam lines tell."""
    even: list[tuple[list[CutEntry], tuple[Corner, ...]]] = []
    kept: list[list[CutEntry]] = []
    for entries in groups:
        first = entries[0]
        if first.up != NO_WAY or first.piece.shape != "other" or not is_mirrored(first.piece.corners):
            kept.append(entries)
            continue
        line = fit_seam_line(plan.units, first, plan.project.seam)
        known = next((known for known, seen in even if _is_turned_over(line, seen)), None)
        if known is None:
            even.append((entries, line))
            kept.append(entries)
        else:
            known += entries
    yield from kept


def _is_turned_over(one: tuple[Corner, ...], other: tuple[Corner, ...]) -> bool:
    """Whether one lies as the mirror image of the other, but for quarter turns."""
    wanted, corners = _lay(other), tuple((-x, y) for x, y in one)
    for _ in range(4):
        corners = tuple((-y, x) for x, y in corners)
        if len(one) == len(other) and all(any(_is_near(spot, to) for to in wanted) for spot in _lay(corners)):
            return True
    return False


def _tell(entry: CutEntry) -> object:
    """The same for pieces that are cut by one template: quarter turns make no difference but to a print."""
    corners = entry.piece.corners
    ways = [_lay(corners)]
    if entry.up == NO_WAY:
        for _ in range(3):
            corners = tuple((-y, x) for x, y in corners)
            ways.append(_lay(corners))
    return entry.piece.shape, entry.piece.finished, entry.up != NO_WAY, min(ways)


def _lay(corners: tuple[Corner, ...]) -> tuple[Corner, ...]:
    """Moved to 0, 0, from the uppermost, then leftmost corner on."""
    left, top = min(x for x, _ in corners), min(y for _, y in corners)
    first = min(range(len(corners)), key=lambda number: corners[number][::-1])
    return tuple((x - left, y - top) for x, y in (*corners[first:], *corners[:first]))


def _is_even(outline: tuple[Corner, ...]) -> bool:
    """Whether left and right are alike."""
    both = min(x for x, _ in outline) + max(x for x, _ in outline)
    return all(any(_is_near((both - x, y), other) for other in outline) for x, y in outline)


def _is_mirrored(outline: tuple[Corner, ...]) -> bool:
    """Whether an outline can be laid onto its mirror image."""
    around = [_measure_corner(outline, number) for number in range(len(outline))]
    back = [(after, before, along) for before, after, along in reversed(around)]
    return any(
        all(_is_near(one, other) for one, other in zip(around, (*back[start:], *back[:start]), strict=True))
        for start in range(len(back))
    )


def _measure_corner(outline: tuple[Corner, ...], number: int) -> tuple[Fraction, ...]:
    """The squares of the sides before and after a corner, and how far one runs along the other."""
    (ax, ay), (bx, by), (cx, cy) = outline[number - 1], outline[number], outline[(number + 1) % len(outline)]
    first, second = (bx - ax, by - ay), (cx - bx, cy - by)
    along = first[0] * second[0] + first[1] * second[1]
    return first[0] ** 2 + first[1] ** 2, second[0] ** 2 + second[1] ** 2, along


def _is_near(one: Sequence[Fraction], other: Sequence[Fraction]) -> bool:
    """Whether all numbers are the same but for roots that were cut off."""
    return all(abs(a - b) < _NEAR for a, b in zip(one, other, strict=True))
