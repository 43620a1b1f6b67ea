"""A draft of straight lines across a box -> its record, patch by patch: a fabric for each face between the lines."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import chain
from math import lcm
from typing import NamedTuple

from planner.project import DrawnPatch, Patches
from planner.reading.check_filling import MOST_FLAWS, spell_corners
from planner.reading.collect_faults import quote, spell_count
from planner.reading.file_keys import FACE, Keys
from planner.reading.find_faces import Faces, Line, WrongLine, find_faces, find_point_in, find_wrong
from planner.reading.names import Names
from planner.reading.polygon import box_round, where_in
from planner.reading.read_keys import (
    Entry,
    Found,
    Reading,
    at,
    has_grid,
    read_fabric,
    read_keys,
    read_list,
    read_text,
    read_two,
    tell_missing,
)
from planner.reading.read_patches import have_room, read_point
from planner.reading.read_yaml import Keyed, Node, Text
from planner.surd import Exact, ExactOutline, ExactPoint, Surd, denominator_of

MOST_LINES = 60
_FINEST_CROSSINGS = 10**40  # a dozen lines from anywhere to anywhere stay below it
_MOST_SHOWN = 12  # faces, each by a point in it, in words

_LINE = 'two points, "0,2 2,0"'
_LINES = f"a list of lines, each {_LINE}"
_AT = 'a point in the face, "1,1"'
_BEYOND = re.compile(r"([-/.\d]{1,40}),([-/.\d]{1,40})\s+([-/.\d]{1,40}),([-/.\d]{1,40})")
_FACES = 'a list: fabrics in reading order, or {fabric: navy, at: "1,1"} with a point in each face'


class _Named(NamedTuple):
    """A fabric that is named for a face, and the line of the file that does it."""

    fabric: str
    line: int


class _ReadLine(NamedTuple):
    """A line, or where one that can't be drawn would `run`; None where that is not known."""

    line: Line | None
    runs: tuple[Line, ...] | None


def read_lines(reading: Reading, names: Names, found: Found, keys: Keys, where: str) -> Patches | None:
    """The draft among the keys of a block, a part or a cell, or None and its faults."""
    for key in ("box", "faces"):
        tell_missing(reading, found, keys, key, where)
    box_entry, faces_entry, entry = found.get("box"), found.get("faces"), found.entries["lines"]
    box = None
    if box_entry is not None:
        box = read_two(reading, box_entry.node, at(where, "box"), "wide x high, like 4 x 3", reading.read_number)
    nodes = read_list(reading, entry.node, at(where, "lines"), entry.line, _LINES) or []
    if len(nodes) > MOST_LINES:
        words = f"{len(nodes)} lines are too many for one draft, at most {MOST_LINES}; make parts of it"
        reading.add(entry.line, at(where, "lines"), words)
        return None
    places = [at(where, f"drawn line {number}") for number in range(1, len(nodes) + 1)]
    read = [_read_line(reading, node, place, box) for node, place in zip(nodes, places, strict=True)]
    lines = [one.line for one in read]
    whole = [line for line in lines if line is not None]
    faces = None
    if box is not None and whole and len(whole) == len(nodes):
        faces = find_faces(box, whole)
        _tell_wrong(reading, faces, nodes, entry, where)
        if not faces.outlines or not _have_grid(reading, box, whole, faces, entry, where):
            faces = None
    elif box is not None and whole:
        # What can be told of the others all the same
        runs = [run for one in read if one.line is None for run in one.runs or ()]
        is_known = all(one.runs is not None for one in read)
        _tell_wrong(reading, Faces((), find_wrong(box, lines, runs if is_known else None)), nodes, entry, where)
    if faces_entry is None:
        return None
    drawn = _read_faces(reading, names, faces_entry, faces.outlines if faces is not None else (), where)
    return Patches(box, drawn, entry.line) if box is not None and drawn else None


def _read_line(reading: Reading, node: Node, where: str, box: ExactPoint | None) -> _ReadLine:
    points = _read_points(reading, node, where, _LINE)
    if points is None:
        return _ReadLine(None, _find_run(reading, node))
    wrong = None
    if len(points) != 2:
        wrong = f"a line runs between two points, here are {len(points)}; write {_LINE}"
    elif points[0] == points[1]:
        wrong = "both its ends are the same point"
    elif box is not None:
        wrong = _why_outside(box, points)
    if wrong is not None:
        reading.add(node.line, where, wrong)
        return _ReadLine(None, _find_run(reading, node))
    return _ReadLine((points[0], points[1]), ())


def _find_run(reading: Reading, node: Node) -> tuple[Line, ...] | None:
    """Where a line that can't be drawn would run: beyond the box, or nowhere; None where that is not known."""
    text = node.value if isinstance(node, Text) else ""
    found = _BEYOND.fullmatch(text.strip())
    if found is None:
        return None
    try:
        ax, ay, bx, by = (
            -reading.read_number(number[1:]) if number.startswith("-") else reading.read_number(number)
            for number in found.groups()
        )
    except ValueError:
        return None
    if any(isinstance(number, Surd) for number in (ax, ay, bx, by)):
        return None
    start, end = (ax, ay), (bx, by)
    return () if start == end else ((start, end),)


def _read_points(reading: Reading, node: Node, where: str, wanted: str) -> list[ExactPoint] | None:
    text = read_text(reading, node, where, wanted)
    if text is None:
        return None
    if "," not in text:
        reading.add(node.line, where, f"{quote(text)} has no comma; inside [ ] a comma needs quotes: {wanted}")
        return None
    try:
        points = [read_point(reading, point, "point") for point in text.split()]
    except ValueError as trouble:
        reading.add(node.line, where, str(trouble))
        return None
    return points if have_room(reading, points, node.line, where, text) else None


def _why_outside(box: ExactPoint, points: Sequence[ExactPoint]) -> str | None:
    outside = [point for point in points if point[0] > box[0] or point[1] > box[1]]
    if not outside:
        return None
    reaches = f"x goes from 0 to {_spell(box[0])}, y to {_spell(box[1])}"
    return f"{spell_corners(outside[:1])} lies outside the box: {reaches}"


def _have_grid(
    reading: Reading, box: ExactPoint, lines: Sequence[Line], faces: Faces, entry: Entry, where: str
) -> bool:
    """Whether what is written lies on a grid that is not absurdly fine, and what lines meet in on one that is finer."""
    written = chain.from_iterable(end for line in lines for end in line)
    if not has_grid(reading, (*box, *written), entry, where):
        return False
    finest = 1
    for number in chain.from_iterable(corner for outline in faces.outlines for corner in outline):
        finest = lcm(finest, denominator_of(number))
    if finest > _FINEST_CROSSINGS:
        words = "these lines cross in points with too many different fractions; let more of them meet in one point"
        reading.add(entry.line, at(where, "lines"), words)
    return finest <= _FINEST_CROSSINGS


def _tell_wrong(reading: Reading, faces: Faces, nodes: Sequence[Node], entry: Entry, where: str) -> None:
    for wrong in faces.wrong:
        reading.add(nodes[wrong.line].line, at(where, f"drawn line {wrong.line + 1}"), _spell_wrong(wrong, nodes))
    for begins, point in faces.pinched:
        words = f"the face that begins at {spell_corners((begins,))} touches itself at {spell_corners((point,))}"
        reading.add(entry.line, at(where, "lines"), f"{words}; draw a line more there, so that it is two patches")


def _spell_wrong(wrong: WrongLine, nodes: Sequence[Node]) -> str:
    places = [spell_corners((place,)) for place in wrong.places]
    if wrong.kind == "end":
        return f"it ends at {places[0]}, where no other line is and no border; a line goes on until it meets one"
    if wrong.kind == "loose":
        return "nothing joins it to the border, so it is inside of a face; a patch has no hole"
    stretch = f"from {places[0]} to {places[1]}"
    if wrong.kind == "same":
        return f"{stretch} it cuts nothing: the same face lies on both sides of it"
    if wrong.other is None:
        return f"{stretch} it runs along the border of the box, where it cuts nothing; take it out"
    other = f"drawn line {wrong.other + 1} (line {nodes[wrong.other].line})"
    return f"{stretch} it runs along {other}; draw each line once"


def _read_faces(
    reading: Reading, names: Names, entry: Entry, outlines: Sequence[ExactOutline], where: str
) -> tuple[DrawnPatch, ...]:
    """A patch for each face; none where there is a fault. Where there are no outlines only the names are looked at."""
    where = at(where, "faces")
    nodes = read_list(reading, entry.node, where, entry.line, _FACES) or []
    if any(isinstance(node, Keyed) for node in nodes):
        named = _PointReader(reading, names, outlines).read(nodes, entry, where)
    else:
        named = _read_in_order(reading, names, nodes, entry, outlines, where)
    if not outlines or len(named) != len(outlines):
        return ()
    patches = ((*named[number], outline) for number, outline in enumerate(outlines))
    return tuple(DrawnPatch(fabric, outline, line) for fabric, line, outline in patches)


def _read_in_order(
    reading: Reading, names: Names, nodes: Sequence[Node], entry: Entry, outlines: Sequence[ExactOutline], where: str
) -> dict[int, _Named]:
    """The fabrics of the faces by their numbers, as they are listed."""
    named: dict[int, _Named] = {}
    for number, node in enumerate(nodes):
        fabric = read_fabric(reading, names, node, at(where, f"face {number + 1}"))
        if fabric is not None:
            named[number] = _Named(fabric, node.line)
    if nodes and outlines and len(nodes) != len(outlines):
        points = " ".join(_spell_point_in(outline) for outline in outlines[:_MOST_SHOWN])
        more = " and so on" if len(outlines) > _MOST_SHOWN else ""
        many = f"{spell_count(len(nodes), 'fabric')} for {spell_count(len(outlines), 'face')}"
        reading.add(entry.line, where, f"{many}; a point in each, in reading order: {points}{more}")
        return {}
    return named


class _PointReader:
    """Reads fabrics that are named by points in faces."""

    def __init__(self, reading: Reading, names: Names, outlines: Sequence[ExactOutline]) -> None:
        self._reading = reading
        self._names = names
        self._faces = [(box_round(outline), outline) for outline in outlines]
        self._named: dict[int, _Named] = {}
        self._has_faults = False

    def read(self, nodes: Sequence[Node], entry: Entry, where: str) -> dict[int, _Named]:
        """The fabrics of the faces by their numbers."""
        for number, node in enumerate(nodes, 1):
            self._read_entry(node, at(where, f"entry {number}"))
        if not self._has_faults:
            bare = [outline for number, (_, outline) in enumerate(self._faces) if number not in self._named]
            for outline in bare[:MOST_FLAWS]:
                words = f'no fabric for the face with the corners "{spell_corners(outline)}"'
                self._reading.add(entry.line, where, f"{words}; a point in it is {_spell_point_in(outline)}")
            if len(bare) > MOST_FLAWS:
                self._reading.add(entry.line, where, f"and {len(bare) - MOST_FLAWS} more faces without a fabric")
        return self._named

    def _read_entry(self, node: Node, where: str) -> None:
        found = None
        if isinstance(node, Text):
            words = f'either every face is named by a point in it, or none; write {{fabric: {node.value}, at: "1,1"}}'
            self._reading.add(node.line, where, words)
        else:
            found = read_keys(self._reading, node, FACE, where, node.line)
        fabric_entry, at_entry = (None, None) if found is None else (found.get("fabric"), found.get("at"))
        fabric, points = None, None
        if fabric_entry is not None:
            fabric = read_fabric(self._reading, self._names, fabric_entry.node, at(where, "fabric"))
        if at_entry is not None:
            points = _read_points(self._reading, at_entry.node, at(where, "at"), _AT)
        if fabric is None or points is None or at_entry is None:
            self._has_faults = True
        for point in points or ():
            wrong = self._name(point, _Named(fabric or "", at_entry.node.line if at_entry is not None else node.line))
            if wrong is not None:
                self._has_faults = True
                self._reading.add(node.line, at(where, "at"), wrong)

    def _name(self, point: ExactPoint, named: _Named) -> str | None:
        """Name the face round a point; words where that is wrong."""
        if not self._faces:
            return None
        for number, (box, outline) in enumerate(self._faces):
            if box.north > point[1]:  # and so are all that follow
                break
            if box.south < point[1] or box.east < point[0] or box.west > point[0]:
                continue
            place = where_in(outline, point)
            if place == 0:
                return f"{spell_corners((point,))} lies on a line or on the border; name a point inside of a face"
            if place < 0:
                continue
            first = self._named.setdefault(number, named)
            if first is named:
                return None
            return f"{spell_corners((point,))} lies in a face that has its fabric already (line {first.line})"
        return f"{spell_corners((point,))} lies outside the box"


def _spell_point_in(outline: ExactOutline) -> str:
    """A point in a face, as it is written behind `at`."""
    return f'"{spell_corners((find_point_in(outline),))}"'


def _spell(value: Exact) -> str:
    return spell_corners(((value, value),)).partition(",")[0]
