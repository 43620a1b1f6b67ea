"""Proportions of what lies side by side -> their numbers, one for each."""

from __future__ import annotations

from fractions import Fraction

from planner.reading.collect_faults import spell_count
from planner.reading.read_keys import Entry, Reading, read_list, read_measured
from planner.surd import Exact

_NUMBERS = "numbers in [ ]: [1, 2, 1]"


def read_proportions(
    reading: Reading, entry: Entry | None, count: int, kind: str, where: str
) -> tuple[Exact, ...] | None:
    """One number for each of `count` things of a kind (`column`), all equal where nothing is written; None where there
    is a fault. A count of 0 is that of something whose fault is told already."""
    if entry is None:
        return (Fraction(1),) * count
    nodes = read_list(reading, entry.node, where, entry.line, _NUMBERS)
    if nodes is None:
        return None
    values = [read_measured(reading, node, where, "a number", reading.read_number) for node in nodes]
    if len(nodes) != count and count:
        words = f"{spell_count(len(nodes), 'number')} for {spell_count(count, kind)}; write one for each"
        reading.add(entry.node.line, where, words)
        return None
    kept = tuple(value for value in values if value is not None)
    return kept if len(kept) == len(nodes) else None
