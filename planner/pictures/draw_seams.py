"""Seams on a picture: lines, numbers in the order of sewing, arrows for the way the allowances fall, and clashes."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from planner.pictures.draw_cloth import line_weight, write_upright
from planner.pictures.find_room import Taken
from planner.pictures.find_versions import Versions
from planner.pictures.paper import Paper, distance, midway
from planner.pictures.svg_elements import (
    Attributes,
    Spot,
    share,
    spell_decimal,
    spell_points,
    spell_spot,
    write_element,
    write_group,
)
from planner.pictures.trace_seams import Line, find_clashes, number_seams, trace_seams

FIRST, SECOND, CLASH = "#a33c00", "#004f9e", "#b00020"
DASHES = {1: (60, 20), 2: (14, 18)}  # hundredths of a patch of the middle size: a long dash, a dot; and the gap
VERSION_COLOURS = {1: FIRST, 2: SECOND}
_ARROW_EVERY = 500  # hundredths of a patch of the middle size


class _Stretch(NamedTuple):
    """A stretch of a seam on the paper. `toward`: where the allowances fall there, as a vector; None: both ways."""

    start: Spot
    end: Spot
    toward: Spot | None

    @property
    def length(self) -> int:
        return distance(self.start, self.end)


def trace_on_paper(paper: Paper, block: int) -> list[tuple[Line, list[_Stretch]]]:
    """Every seam with its stretches between the points where other seams end on it."""
    traced = []
    for line in trace_seams(paper.plan, block):
        turns_at = None if line.turns_at is None else paper.spot(line.turns_at)
        stretches = []
        is_left = line.falls_left
        for leg in line.legs:
            stops = [paper.spot(point) for point in leg]
            dx, dy = stops[-1][0] - stops[0][0], stops[-1][1] - stops[0][1]
            for first, last in pairwise(stops):
                if first == turns_at and is_left is not None:
                    is_left = not is_left
                way = None if is_left is None else (-dy, dx) if is_left else (dy, -dx)
                stretches.append(_Stretch(first, last, way))
        traced.append((line, stretches))
    return traced


Traced = list[tuple[Line, list[_Stretch]]]


def draw_lines(paper: Paper, traced: Traced, first_seam: int, versions: Versions | None = None, block: int = 0) -> str:
    """Every seam as a line, named as the plan names it. Those of kinds pressed two ways are dashed or dotted."""
    lines = []
    for line, stretches in traced:
        corners = [paper.spot(leg[0]) for leg in line.legs]
        corners.append(stretches[-1].end)
        told: Attributes = {"id": f"s{first_seam + line.number}", "points": spell_points(corners)}
        version = versions.version_of(block, line.number) if versions else 0
        if version:
            told |= _style(paper, version)
        lines.append(write_element("polyline", told))
    look: Attributes = {"fill": "none", "stroke": "#000", "stroke-width": line_weight(paper), "stroke-linecap": "butt"}
    return write_group({"id": "seams", **look}, lines)


def _style(paper: Paper, version: int) -> Attributes:
    dash, gap = (share(paper.typical, part) for part in DASHES[version])
    return {
        "class": f"version-{version}",
        "stroke": VERSION_COLOURS[version],
        "stroke-width": 4 * line_weight(paper),
        "stroke-dasharray": f"{spell_decimal(dash)} {spell_decimal(gap)}",
    }


def draw_bands(paper: Paper, traced: Traced, versions: Versions, block: int) -> str:
    """The allowances of kinds that are pressed two ways, hatched where they come to lie: slanting strokes for the
    larger pile, straight ones for the other."""
    wide = min(paper.length(1) * _allowance(paper), share(paper.thinnest, 30))
    lines: dict[int, list[str]] = {1: [], 2: []}
    for line, stretches in traced:
        version = versions.version_of(block, line.number)
        if version:
            paths = "".join(_hatch(one, version, wide) for one in _join_stretches(stretches))
            lines[version].append(write_element("path", {"d": paths}))
    groups = [
        write_group(
            {"class": f"hatch-{version}", "stroke": VERSION_COLOURS[version], "stroke-width": line_weight(paper)}, paths
        )
        for version, paths in lines.items()
    ]
    return write_group({"id": "versions", "fill": "none"}, groups)


def _hatch(band: _Stretch, version: int, wide: int) -> str:
    """Strokes from a seam over its allowances."""
    assert band.toward is not None
    return hatch(band.start, band.end, _scale(band.toward, wide), wide, version)


def hatch(start: Spot, end: Spot, across: Spot, step: int, version: int) -> str:
    """Strokes of a hatched band as the `d` of a path: `across` leads over the band."""
    length = distance(start, end)
    along = end[0] - start[0], end[1] - start[1]
    slant = step if version == 1 else 0
    strokes = []
    for at in range(step // 2, length - slant, max(1, step)):
        x, y = start[0] + along[0] * at // length, start[1] + along[1] * at // length
        dx, dy = across[0] + along[0] * slant // length, across[1] + along[1] * slant // length
        strokes.append(f"M{spell_spot((x, y))}L{spell_spot((x + dx, y + dy))}")
    return "".join(strokes)


def _allowance(paper: Paper) -> int:
    """The seam allowance in grid units, rounded up."""
    return -(-paper.plan.project.seam.numerator * paper.plan.blocks.scale // paper.plan.project.seam.denominator)


def _join_stretches(stretches: list[_Stretch]) -> list[_Stretch]:
    """Stretches that follow one another and fall alike, as one."""
    joined = [stretches[0]]
    for one in stretches[1:]:
        if one.toward == joined[-1].toward:
            joined[-1] = _Stretch(joined[-1].start, one.end, one.toward)
        else:
            joined.append(one)
    return joined


def _scale(vector: Spot, length: int) -> Spot:
    """A vector of the same direction and this length."""
    long = max(1, distance((0, 0), vector))
    return vector[0] * length // long, vector[1] * length // long


class Arrow(NamedTuple):
    """An arrow on a seam: its tail, and from there to its tip; one that is pressed open has two tips, one at each end
    of that way, and its tail between them."""

    seam: int
    tail: Spot
    way: Spot
    is_open: bool

    def take(self) -> tuple[Taken, ...]:
        """The room it takes."""
        (x, y), (dx, dy) = self.tail, self.way
        size = distance((0, 0), self.way)
        ends = (30, 75, -75) if self.is_open else (30, 75)
        return tuple(Taken((x + dx * part // 100, y + dy * part // 100), share(size, 36)) for part in ends)


def place_arrows(paper: Paper, traced: Traced, is_numbered: bool = False) -> list[Arrow]:
    """An arrow on every seam, and more of them on long ones. With `is_numbered` there is one beside each number."""
    arrows = []
    offset = share(number_size(paper), 65) if is_numbered else 0
    for line, stretches in traced:
        places = [_best(stretches)] if is_numbered and line.turns_at is None else _spread(paper, stretches)
        for one in places:
            size = _arrow_size(paper, one.length, is_numbered)
            x, y = midway(one.start, one.end)
            if one.toward is None:
                across = (one.end[1] - one.start[1], one.start[0] - one.end[0])
                arrows.append(Arrow(line.number, (x, y), _scale(across, size + offset), is_open=True))
            else:
                dx, dy = _scale(one.toward, offset)
                arrows.append(Arrow(line.number, (x + dx, y + dy), _scale(one.toward, size), is_open=False))
    return arrows


def draw_arrows(paper: Paper, arrows: list[Arrow], first_seam: int) -> str:
    """Each arrow is a polygon: its fourth corner is the tip, the last and the first are at the tail. An open one has
    tips at the third and the eighth."""
    lines = []
    for arrow in arrows:
        corners = (_double_arrow if arrow.is_open else _arrow)(arrow.tail, arrow.way)
        told: Attributes = {"class": "open" if arrow.is_open else "arrow", "data-seam": f"s{first_seam + arrow.seam}"}
        lines.append(write_element("polygon", {**told, "points": spell_points(corners)}))
    halo: Attributes = {"fill": "#000", "stroke": "#fff", "stroke-width": line_weight(paper)}
    return write_group({"id": "arrows", **halo, "paint-order": "stroke"}, lines)


def _arrow_size(paper: Paper, stretch: int, is_numbered: bool) -> int:
    """How long an arrow is on a stretch of this length."""
    most = share(paper.thinnest, 45 if is_numbered else 70)
    return max(min(share(paper.typical, 34), most, share(stretch, 70)), share(paper.typical, 8))


def _best(stretches: list[_Stretch]) -> _Stretch:
    """The longest stretch; of equally long ones (to a tenth) the one nearest to the seam's middle."""
    middle = midway(stretches[0].start, stretches[-1].end)
    longest = max(one.length for one in stretches)
    long = [one for one in stretches if 10 * one.length >= 9 * longest]
    return min(long, key=lambda one: distance(midway(one.start, one.end), middle))


def _spread(paper: Paper, stretches: list[_Stretch]) -> list[_Stretch]:
    """Stretches for the arrows of a seam, evenly along it; of a spun one at least one on each half."""
    found: dict[_Stretch, None] = {}
    for piece in _join_stretches(stretches):
        inside = [one for one in stretches if one.toward == piece.toward]
        many = max(1, 100 * piece.length // (_ARROW_EVERY * paper.typical))
        longest = max(one.length for one in inside)
        long = [one for one in inside if 2 * one.length >= longest]
        (ax, ay), (bx, by) = piece.start, piece.end
        for place in range(many):
            part = 2 * place + 1
            target = (ax + (bx - ax) * part // (2 * many), ay + (by - ay) * part // (2 * many))
            nearest = min(long, key=lambda one: distance(midway(one.start, one.end), target))
            found[nearest] = None
    return list(found)


def _arrow(tail: Spot, way: Spot) -> tuple[Spot, ...]:
    """A solid arrow from its tail: the fourth of its seven corners is the tip."""
    x, y = tail
    dx, dy = way
    side_x, side_y = -dy, dx

    def at(along: int, aside: int) -> Spot:
        return x + (along * dx + aside * side_x) // 100, y + (along * dy + aside * side_y) // 100

    return at(0, -9), at(45, -9), at(45, -30), at(100, 0), at(45, 30), at(45, 9), at(0, 9)


def _double_arrow(middle: Spot, way: Spot) -> tuple[Spot, ...]:
    """An arrow both ways from its middle."""
    first = _arrow(middle, way)
    second = _arrow(middle, (-way[0], -way[1]))
    return *first[1:6], *second[1:6]


def number_size(paper: Paper) -> int:
    """How high the numbers of seams are."""
    return min(share(paper.typical, 20), share(paper.thinnest, 36))


class Number(NamedTuple):
    """A seam's number in the order of sewing, on white."""

    words: str
    middle: Spot
    size: int

    @property
    def box(self) -> Spot:
        """How wide and how high the white is."""
        return share(self.size, 40 + 60 * len(self.words)), share(self.size, 120)

    def take(self) -> Taken:
        """The room it takes."""
        return Taken(self.middle, max(self.box) // 2)


def place_numbers(paper: Paper, traced: Traced, block: int) -> list[Number]:
    """Where each seam's number stands."""
    numbers = number_seams(paper.plan, block)
    placed = []
    for line, stretches in traced:
        one = _best(stretches)
        size = min(number_size(paper), share(one.length, 60))
        placed.append(Number(str(numbers[line.number]), midway(one.start, one.end), size))
    return placed


def draw_numbers(paper: Paper, numbers: list[Number]) -> str:
    """The numbers, in the order of the seams."""
    lines = []
    for number in numbers:
        (x, y), (wide, high) = number.middle, number.box
        box: Attributes = {"x": x - wide // 2, "y": y - high // 2, "width": wide, "height": high, "rx": high // 3}
        lines.append(write_element("rect", {**box, "fill": "#fff"}))
        lines.append(write_upright(paper, (x, y), number.size, number.words, {"font-size": number.size}))
    return write_group({"id": "numbers", "text-anchor": "middle"}, lines)


def draw_clashes(paper: Paper, block: int) -> str:
    """A cross in a circle at every join that does not nest."""
    size = min(share(paper.typical, 14), share(paper.thinnest, 40))
    lines = [write_clash(paper.spot(point), size) for point in find_clashes(paper.plan, block)]
    return write_group({"id": "clashes", **CLASH_LOOK, "stroke-width": share(size, 18)}, lines)


CLASH_LOOK: Attributes = {"fill": "#fff", "stroke": CLASH}


def write_clash(at: Spot, size: int) -> str:
    """A cross in a circle of this radius."""
    x, y = at
    half = share(size, 62)
    cross = [
        write_element("line", {"x1": x - half, "y1": y - way * half, "x2": x + half, "y2": y + way * half})
        for way in (1, -1)
    ]
    return write_group({"class": "clash"}, [write_element("circle", {"cx": x, "cy": y, "r": size}), *cross])


def write_arrow(middle: Spot, way: Spot, is_open: bool) -> str:
    """An arrow on a seam as it stands in a legend."""
    corners = _double_arrow(middle, way) if is_open else _arrow(middle, way)
    return write_element("polygon", {"points": spell_points(corners)})
