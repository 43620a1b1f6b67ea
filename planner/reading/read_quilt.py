"""The quilt of a project file -> its record: rows of blocks, sashing, borders, and how it is joined."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from planner.project import MOST_PATCHES, WIDEST_CLOTH, BlockHere, Border, Joining, Layout, Quilt, Sashing
from planner.reading.count_quilt import count_quilt_patches
from planner.reading.file_keys import BORDER, JOININGS, LAYOUTS, MITRED, MOST_BORDERS, QUILT, SASHING
from planner.reading.fit_quilt import fit_on_point, fit_straight
from planner.reading.known import Known
from planner.reading.lengths import read_width
from planner.reading.names import Names, tidy_name
from planner.reading.read_keys import (
    Entry,
    Found,
    Reading,
    at,
    read_choice,
    read_fabric,
    read_keys,
    read_list,
    tell_missing,
)
from planner.reading.read_quilt_rows import QuiltRow, read_quilt_rows
from planner.reading.read_yaml import Listed, Node, Text
from planner.surd import DIAGONAL

_NOT_THERE = {
    "sashing": "sashing on point is not there yet; take it out, or lay the blocks straight",
    "setting": "setting triangles belong to layout: on point; take them out, or write layout: on point",
}


class ReadQuilt(NamedTuple):
    """A quilt, and the blocks that it names; not whole where one could not be read. Without a quilt either none is
    written or its faults are told."""

    quilt: Quilt | None
    named: frozenset[str]
    is_whole: bool


def read_quilt(reading: Reading, entry: Entry | None, known: Known, patches: int) -> ReadQuilt:
    """The quilt behind the key `quilt`. `patches` are those of the loose blocks: with them the quilt has no more than a
    project may."""
    if entry is None:
        return ReadQuilt(None, frozenset(), True)
    found = read_keys(reading, entry.node, QUILT, "quilt", entry.line)
    if found is None:
        return ReadQuilt(None, frozenset(), False)
    rows = read_quilt_rows(reading, found.get("rows"), known)
    layout = _read_layout(reading, found.get("layout"))
    _check_layout(reading, found, layout)
    if layout == "straight":
        fit_straight(reading, rows, known)
    elif layout == "on point":
        fit_on_point(reading, rows, known)
    setting = _read_fabric(reading, found.get("setting"), known.names, "quilt, setting")
    sashing = _read_sashing(reading, found.get("sashing"), known)
    if sashing is not None and layout == "straight" and sum(len(row.blocks) for row in rows) == 1:
        words = "strips lie between blocks, and this quilt has one block; take sashing out, or make it a border"
        reading.add(sashing.line, "quilt, sashing", words)
    borders = _read_borders(reading, found.get("border"), known)
    for border in borders:
        if border.mitred and layout == "on point":
            words = "mitred corners on point are not there yet; take corners out, or name a fabric for squares there"
            reading.add(border.line, "quilt, border", words)
    joining: Joining | None = None
    joined = found.get("joining")
    if joined is not None:
        joining = read_choice(reading, joined.node, "quilt, joining", JOININGS)
    whole, is_whole = _take_whole(rows)
    named = frozenset(here.block for row in whole for here in row)
    if layout is None or not whole or not is_whole:
        return ReadQuilt(None, named, is_whole and bool(rows))
    quilt = Quilt(whole, layout, setting, sashing, borders, joining, entry.line)
    count = patches + count_quilt_patches(quilt, known)
    if patches <= MOST_PATCHES < count:
        words = f"with the quilt there are {count:,} patches; a project has at most {MOST_PATCHES:,}"
        reading.add(entry.line, "quilt", words)
    return ReadQuilt(quilt, named, True)


def _take_whole(rows: Sequence[QuiltRow]) -> tuple[tuple[tuple[BlockHere, ...], ...], bool]:
    """The blocks that could be read, and whether these are all."""
    whole = tuple(tuple(here for here in row.blocks if here is not None) for row in rows)
    return whole, all(row.blocks and len(row.blocks) == len(kept) for row, kept in zip(rows, whole, strict=True))


def _read_layout(reading: Reading, entry: Entry | None) -> Layout | None:
    layout = "straight" if entry is None else read_choice(reading, entry.node, "quilt, layout", LAYOUTS)
    if entry is not None and layout == "on point":  # its diagonals have a root of 2, whatever its blocks have
        reading.has_room_for(DIAGONAL, entry.node.line, "quilt, layout", layout)
    return layout


def _check_layout(reading: Reading, found: Found, layout: Layout | None) -> None:
    """Tell keys that belong to the other layout, and those that this one needs."""
    for key in QUILT.keys:
        if layout is None or key.layout is None:
            continue
        if key.layout == layout:
            if key.needed:
                tell_missing(reading, found, QUILT, key.name, "quilt")
        elif key.name in found.entries:
            reading.add(found.entries[key.name].line, at("quilt", key.name), _NOT_THERE[key.name])


def _read_fabric(reading: Reading, entry: Entry | None, names: Names, where: str) -> str | None:
    return None if entry is None else read_fabric(reading, names, entry.node, where)


def _read_sashing(reading: Reading, entry: Entry | None, known: Known) -> Sashing | None:
    where = "quilt, sashing"
    found = None if entry is None else read_keys(reading, entry.node, SASHING, where, entry.line)
    if entry is None or found is None:
        return None
    width = read_width(reading, found.get("width"), at(where, "width"), known.lengths)
    fabric = _read_fabric(reading, found.get("fabric"), known.names, at(where, "fabric"))
    posts = _read_fabric(reading, found.get("posts"), known.names, at(where, "posts"))
    return Sashing(width, fabric, posts, entry.line) if width is not None and fabric is not None else None


def _read_borders(reading: Reading, entry: Entry | None, known: Known) -> tuple[Border, ...]:
    """One border, or several from the inside out."""
    if entry is None:
        return ()
    where = "quilt, border"
    if not isinstance(entry.node, Listed):
        read = [_read_border(reading, entry.node, entry.line, known, where)]
    else:
        wanted = "borders from the inside out: - {width: 2, fabric: navy}"
        nodes = read_list(reading, entry.node, where, entry.line, wanted) or []
        if len(nodes) > MOST_BORDERS:
            words = f"there are {len(nodes):,} borders; a quilt has at most {MOST_BORDERS}"
            reading.add(nodes[MOST_BORDERS].line, where, words)
        read = [
            _read_border(reading, node, node.line, known, f"{where} {number}")
            for number, node in enumerate(nodes[:MOST_BORDERS], 1)
        ]
    return tuple(border for border in read if border is not None)


def _read_border(reading: Reading, node: Node, line: int, known: Known, where: str) -> Border | None:
    found = read_keys(reading, node, BORDER, where, line)
    if found is None:
        return None
    width = read_width(reading, found.get("width"), at(where, "width"), known.lengths)
    fabric = _read_fabric(reading, found.get("fabric"), known.names, at(where, "fabric"))
    corners = found.get("corners")
    is_mitred = corners is not None and isinstance(corners.node, Text) and tidy_name(corners.node.value) == MITRED
    posts = None if is_mitred else _read_corners(reading, corners, known.names, at(where, "corners"))
    if width is None or fabric is None:
        return None
    widest = (known.usable.get(fabric, WIDEST_CLOTH) - 5 * (known.lengths.seam or 0)) / 2
    if is_mitred and width > widest:
        words = "this mitred border is too wide for pieces of its fabric; take wider cloth, or squares in the corners"
        reading.add(line, where, words)
    return Border(width, fabric, posts, is_mitred, line)


def _read_corners(reading: Reading, entry: Entry | None, names: Names, where: str) -> str | None:
    """The fabric of squares in the corners."""
    if entry is None:
        return None
    text = tidy_name(entry.node.value) if isinstance(entry.node, Text) else ""
    if text and text not in names.fabrics and reading.nearest.find(text, (MITRED, *names.fabrics)) == MITRED:
        reading.add(entry.node.line, where, f"no fabric is named '{text}'; did you mean '{MITRED}'?")
        return None
    return read_fabric(reading, names, entry.node, where)
