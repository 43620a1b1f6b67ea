"""The text of a project file -> the project, or all that is wrong with the file."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

from planner.fault import Fault
from planner.measure import INCHES_PER_CM, Measure, read_number
from planner.project import YARD_STEP, Handling, Project
from planner.reading.collect_faults import FaultList
from planner.reading.file_keys import HANDLING, MOST_PASSES, MOST_STEPS, PRESS, PROJECT, YARD_STEPS
from planner.reading.known import Known
from planner.reading.lengths import Lengths
from planner.reading.list_unused import list_unused
from planner.reading.names import Names
from planner.reading.read_blocks import read_blocks
from planner.reading.read_fabrics import read_fabrics
from planner.reading.read_finish import read_finish
from planner.reading.read_keep import read_keep
from planner.reading.read_keys import (
    Entry,
    Found,
    Reading,
    at,
    read_choice,
    read_keys,
    read_line,
    read_measured,
    read_whole,
)
from planner.reading.read_make import read_make
from planner.reading.read_methods import read_methods
from planner.reading.read_press import read_prefer
from planner.reading.read_quilt import read_quilt
from planner.reading.read_yaml import Keyed, decode_text, read_bytes_of, read_nodes
from planner.reading.shelf_block import Shelf, list_rooted
from planner.shelf import SHELF

Answer = tuple[Project | None, tuple[Fault, ...]]

MEASURES: tuple[Measure, ...] = ("in", "cm")
SEAMS: Mapping[Measure, Fraction] = {"in": Fraction(1, 4), "cm": Fraction(3, 4) * INCHES_PER_CM}
WIDEST_SEAM = 4  # inches
MOST_MINUTES = 1_000


def read_project_file(path: Path | str) -> Answer:
    """The project in a file. A file that can't be read is a fault on line 1."""
    faults = FaultList()
    found = read_bytes_of(path, faults)
    return read_project_bytes(found) if found is not None else (None, faults.tell())


def read_project_bytes(data: bytes) -> Answer:
    """The project in the bytes of a file: UTF-8, at most 1 MB."""
    faults = FaultList()
    text = decode_text(data, faults)
    return read_project(text) if text is not None else (None, faults.tell())


def read_project(text: str, shelf: Shelf = SHELF) -> Answer:
    """The project in a text, or None and all faults, by line. There is a project just where there is no fault. `shelf`
    is where blocks are taken from."""
    faults = FaultList()
    root = read_nodes(text, faults)
    project = _read_root(Reading(faults), root, shelf) if root is not None else None
    return (None, faults.tell()) if faults else (project, ())


def _read_root(reading: Reading, root: Keyed, shelf: Shelf) -> Project | None:
    found = read_keys(reading, root, PROJECT, "", 1)
    if found is None:
        return None
    name = _read_line(reading, found, "project", "the name of the project")
    thread = _read_line(reading, found, "thread", "the thread, in one line")
    measure = _read_measure(reading, found.get("measure"))
    seam = _read_seam(reading, found.get("seam"), measure)
    lengths = Lengths(measure, seam)
    fabrics = read_fabrics(reading, found.get("fabrics"), lengths)
    faults_before = len(reading.faults)
    blocks = read_blocks(reading, found.get("parts"), found.get("blocks"), fabrics, lengths, shelf)
    drafts_are_whole = len(reading.faults) == faults_before
    names = Names(fabrics.lines, blocks.file_parts, {}, {}, reading.nearest, fabrics.is_whole)
    usable = {fabric.name: fabric.usable for fabric in fabrics.fabrics}
    narrows = {fabric.name: fabric.narrows for fabric in fabrics.fabrics}
    known = Known(blocks, names, lengths, usable, shelf, narrows)
    make = read_make(reading, found.get("make"), known)
    quilt = read_quilt(reading, found.get("quilt"), known, make.patches)
    press = found.get("press")
    pressed = None if press is None else read_keys(reading, press.node, PRESS, "press", press.line)
    prefer = read_prefer(reading, pressed.get("prefer") if pressed is not None else None)
    made = make.named | quilt.named if make.is_whole and quilt.is_whole else None
    keep = read_keep(reading, pressed.get("keep") if pressed is not None else None, known, made, drafts_are_whole)
    handling = _read_handling(reading, found.get("handling"))
    methods = read_methods(reading, found.get("methods"), known, made)
    yards = YARD_STEP
    entry = found.get("yards")
    if entry is not None:
        yards = read_number(read_choice(reading, entry.node, "yards", YARD_STEPS) or YARD_STEPS[0])
    finish = read_finish(reading, found.get("finish"), known)
    reading.tell_roots(list_rooted(shelf) if len(reading.roots) > 1 else None)
    if reading.faults or name is None or measure is None or seam is None:
        return None
    read = tuple(block for block, _ in blocks.blocks.values() if block is not None)
    return Project(
        name,
        measure,
        seam,
        thread,
        fabrics.fabrics,
        read,
        make.make,
        prefer,
        handling,
        quilt.quilt,
        keep,
        list_unused(fabrics.fabrics, blocks.parts, read, make.make, quilt.quilt, finish),
        methods=methods,
        finish=finish,
        yards=yards,
    )


def _read_line(reading: Reading, found: Found, key: str, wanted: str) -> str | None:
    entry = found.get(key)
    return None if entry is None else read_line(reading, entry.node, key, wanted)


def _read_measure(reading: Reading, entry: Entry | None) -> Measure | None:
    return "in" if entry is None else read_choice(reading, entry.node, "measure", MEASURES)


def _read_seam(reading: Reading, entry: Entry | None, measure: Measure | None) -> Fraction | None:
    if entry is None:
        return SEAMS[measure] if measure is not None else None
    wanted = "the seam allowance, like 1/4 in or 0.75 cm"
    seam = read_measured(reading, entry.node, "seam", wanted, Lengths(measure, None).read)
    if seam is not None and measure is not None and seam > WIDEST_SEAM:
        reading.add(entry.node.line, "seam", f"a seam allowance over {WIDEST_SEAM} in is too wide; write {wanted}")
    return seam if measure is not None else None


def _read_handling(reading: Reading, entry: Entry | None) -> Handling:
    found = None if entry is None else read_keys(reading, entry.node, HANDLING, "handling", entry.line)
    default = Handling()
    if found is None:
        return default
    trip = _read_minutes(reading, found, "trip", default.trip)
    pile = _read_minutes(reading, found, "pile", default.pile)
    steps = _read_count(reading, found, "steps", MOST_STEPS) or default.steps
    passes = _read_count(reading, found, "passes", MOST_PASSES)
    line = found.entries["passes"].line if "passes" in found.entries else default.passes_line
    return Handling(trip, pile, passes, line, steps)


def _read_count(reading: Reading, found: Found, key: str, most: int) -> int | None:
    entry = found.get(key)
    return None if entry is None else read_whole(reading, entry.node, at("handling", key), 1, most)


def _read_minutes(reading: Reading, found: Found, key: str, default: Fraction) -> Fraction:
    entry = found.get(key)
    if entry is None:
        return default
    where = at("handling", key)
    minutes = read_measured(reading, entry.node, where, "minutes, like 3 or 2 1/2", read_number)
    if minutes is not None and minutes > MOST_MINUTES:
        reading.add(entry.node.line, where, f"this is too long; at most {MOST_MINUTES:,} minutes")
    return default if minutes is None else minutes
