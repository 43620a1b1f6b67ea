"""A draft that is drawn patch by patch -> its record; the patches fill their box exactly once."""

from __future__ import annotations

import re
from itertools import chain

from planner.measure import HOW_TO_WRITE
from planner.project import DrawnPatch, Patches
from planner.reading.check_filling import Corners, find_flaws, why_no_outline
from planner.reading.collect_faults import quote
from planner.reading.file_keys import PATCH, Keys
from planner.reading.names import Names
from planner.reading.polygon import drop_straight_corners
from planner.reading.read_keys import (
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
from planner.reading.read_yaml import Node
from planner.surd import Exact

MOST_CORNERS = 60
_LONGEST_NUMBER = 40  # characters

_CORNERS = 'the corners in quotes: "0,0 2,0 0,2"'
_PATCHES = 'a list of patches: - {fabric: navy, corners: "0,0 2,0 0,2"}'
_CORNER = re.compile(r"([^,]+),([^,]+)")


def read_patches(reading: Reading, names: Names, found: Found, keys: Keys, where: str) -> Patches | None:
    """The draft among the keys of a block, a part or a cell, or None and its faults."""
    tell_missing(reading, found, keys, "box", where)
    box_entry, entry = found.get("box"), found.entries["patches"]
    box = None
    if box_entry is not None:
        box = read_two(reading, box_entry.node, at(where, "box"), "wide x high, like 4 x 3", reading.read_number)
    nodes = read_list(reading, entry.node, at(where, "patches"), entry.line, _PATCHES) or []
    places = [at(where, f"patch {number}") for number in range(1, len(nodes) + 1)]
    read = [_read_patch(reading, names, node, place) for node, place in zip(nodes, places, strict=True)]
    outlines = [outline for _, outline in read]
    numbers = tuple(chain.from_iterable(corner for outline in outlines if outline for corner in outline))
    if box is None or not nodes or not has_grid(reading, (*box, *numbers), entry, where):
        return None
    is_filled = None not in outlines
    for patch, words in find_flaws(box, outlines, [node.line for node in nodes], reading.effort):
        is_filled = False
        if patch is None:
            reading.add(entry.line, at(where, "patches"), words)
        else:
            reading.add(nodes[patch].line, places[patch], words)
    drawn = tuple(
        DrawnPatch(fabric, outline, node.line)
        for node, (fabric, outline) in zip(nodes, read, strict=True)
        if fabric is not None and outline is not None
    )
    if not is_filled or len(drawn) != len(nodes):
        return None
    return Patches(box, drawn, entry.line)


def _read_patch(reading: Reading, names: Names, node: Node, where: str) -> tuple[str | None, Corners | None]:
    found = read_keys(reading, node, PATCH, where, node.line)
    if found is None:
        return None, None
    fabric, corners = found.get("fabric"), found.get("corners")
    return (
        None if fabric is None else read_fabric(reading, names, fabric.node, at(where, "fabric")),
        None if corners is None else _read_corners(reading, corners.node, at(where, "corners")),
    )


def _read_corners(reading: Reading, node: Node, where: str) -> Corners | None:
    text = read_text(reading, node, where, _CORNERS)
    if text is None:
        return None
    try:
        corners = [read_point(reading, corner, "corner") for corner in text.split()]
        if not have_room(reading, corners, node.line, where, text):
            return None
        if len(corners) < 3:
            raise ValueError(f"a patch has three corners or more, this one {len(corners)}; write {_CORNERS}")
        if len(corners) > MOST_CORNERS:
            raise ValueError(f"a patch has at most {MOST_CORNERS} corners, this one {len(corners)}; make it two")
        outline = drop_straight_corners(corners)
        wrong = why_no_outline(outline)
        if wrong is not None:
            raise ValueError(wrong)
    except ValueError as trouble:
        reading.add(node.line, where, str(trouble))
        return None
    return outline


def read_point(reading: Reading, text: str, kind: str) -> tuple[Exact, Exact]:
    """A point in box units, `3/2,1+r2`; `kind` says what stands there. ValueError with words for the maker."""
    pair = _CORNER.fullmatch(text)
    if pair is None:
        raise ValueError(f"{quote(text)} is no {kind}; write x,y without blanks, and a blank between {kind}s")
    for number in pair.groups():
        if number.startswith("-"):
            raise ValueError(f"{quote(text)} lies outside the box: its upper left corner is 0,0")
        if len(number) > _LONGEST_NUMBER:
            raise ValueError(f"{quote(number)} is no number; {HOW_TO_WRITE}")
    return reading.read_number(pair[1]), reading.read_number(pair[2])


def have_room(reading: Reading, points: list[tuple[Exact, Exact]], line: int, where: str, text: str) -> bool:
    """Whether all numbers of points go together with those before them (see `Reading.has_room_for`)."""
    if not reading.has_roots:
        return True
    return all(reading.has_room_for(number, line, where, text) for point in points for number in point)
