"""Blocks of the shelf -> plain text that fits 60 columns, or objects for other programs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap
from typing import NamedTuple

from planner.count_shelf import Counts
from planner.measure import Ruler, spell_exact
from planner.reading.shelf_block import Role, ShelfBlock
from planner.surd import Exact, to_length

WIDTH = 60

_LONGEST = 22  # characters of a name that has its numbers beside it
_HEADING = ("patches", "seams", "kinds", "passes")
_SEWN = 8  # columns for how it is sewn
# The fabrics of a snippet, for roles as light, medium and dark as these
_LIGHT = ("shell", "sand", "foam", "dune")
_MEDIUM = ("coral", "reed", "amber", "kelp")
_DARK = ("navy", "slate", "wrack", "tar")


class Counted(NamedTuple):
    """A block, and what there is to sew."""

    block: ShelfBlock
    counts: Counts


def print_shelf(shelf: Iterable[Counted]) -> Iterator[str]:
    """A line for each block (two where its name is long), under a heading."""
    yield _align("block", _HEADING, "sewn")
    for block, counts in shelf:
        numbers = [str(number) for number in (counts.patches, counts.seams, counts.kinds, counts.passes)]
        sewn = wrap(", ".join(_list_ways(counts)), _SEWN)
        name = block.name
        if len(name) > _LONGEST:
            yield name
            name = ""
        yield _align(name, numbers, sewn[0])
        yield from (_align("", [""] * len(numbers), more) for more in sewn[1:])


def print_heading(block: ShelfBlock) -> Iterator[str]:
    """The name of one block, and what else it is called."""
    yield block.name
    if block.also_called:
        yield from wrap(f"also called {', '.join(block.also_called)}", WIDTH)


def print_block(block: ShelfBlock, counts: Counts) -> Iterator[str]:
    """What a maker wants to know of one block, and lines to put into a project."""
    for role in block.roles:
        yield from wrap(f"{role.fabric.letter} {role.name}: {role.what}", WIDTH, subsequent_indent="  ")
    yield ""
    ruler = Ruler("in")
    sides = ruler.sides(*(ruler.to_measure(to_length(side)) for side in block.size))
    kinds = f"{counts.kinds} kinds of unit in {counts.passes} passes"
    yield from wrap(f"{counts.patches} patches, {counts.seams} seams ({_say_ways(counts)}), {kinds}", WIDTH)
    yield f"Usual size: {sides} finished"
    for root in block.roots:
        yield from wrap(f"Its sizes have a root of {root}: one project has one root", WIDTH)
    yield ""
    yield "For a project, with fabrics of your own:"
    yield ""
    yield from write_snippet(block)


def write_snippet(block: ShelfBlock) -> Iterator[str]:
    """Lines of a project file that take the block from the shelf and make one of it."""
    pairs = [f"{role}: {fabric}" for role, fabric in _name_fabrics(block.roles).items()]
    yield "blocks:"
    yield f"  {block.name}:"
    yield f"    block: {block.name}"
    yield f"    size: {_write_size(*block.size)}"
    in_line = f"    fabrics: {{{', '.join(pairs)}}}"
    yield from [in_line] if len(in_line) <= WIDTH else ["    fabrics:", *(f"      {pair}" for pair in pairs)]
    yield "make:"
    yield f"  - {{block: {block.name}, count: 1}}"


def describe_block(block: ShelfBlock, counts: Counts) -> dict[str, object]:
    """One block as an object."""
    return {
        "name": block.name,
        "also_called": list(block.also_called),
        "size": [spell_exact(to_length(side)) for side in block.size],
        "roles": [{"name": role.name, "value": role.fabric.written, "for": role.what} for role in block.roles],
        "patches": counts.patches,
        "seams": counts.seams,
        "straight": counts.straight,
        "partial": counts.partial,
        "set_in": counts.set_in,
        "kinds": counts.kinds,
        "passes": counts.passes,
    }


def _align(name: str, numbers: Iterable[str], sewn: str) -> str:
    columns = [number.rjust(len(heading)) for number, heading in zip(numbers, _HEADING, strict=True)]
    return f"{name.ljust(_LONGEST)} {' '.join(columns)}  {sewn}".rstrip()


def _list_ways(counts: Counts) -> list[str]:
    ways = [("partial", counts.partial), ("set in", counts.set_in)]
    return [way for way, count in ways if count] or ["straight"]


def _say_ways(counts: Counts) -> str:
    if counts.straight == counts.seams:
        return "all straight"
    ways = [(counts.partial, "partial"), (counts.set_in, "set in")]
    return ", ".join(f"{count} {way}" for count, way in ways if count)


def _write_size(wide: Exact, high: Exact) -> str:
    """As a project file has it."""
    ruler = Ruler("in")
    sides = [ruler.as_written(to_length(side)) for side in (wide, high)]
    return sides[0] if wide == high else " x ".join(sides)


def _name_fabrics(roles: Iterable[Role]) -> dict[str, str]:
    """A fabric of our own for each role, no two alike."""
    left = {one: list(names) for one, names in (("light", _LIGHT), ("medium", _MEDIUM), ("dark", _DARK))}
    named = {}
    for role in roles:
        value = role.fabric.value
        named[role.name] = left["light" if value < 4 else "medium" if value < 8 else "dark"].pop(0)
    return named
