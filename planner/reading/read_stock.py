"""Of a fabric: how much it shrinks along and across, and what pieces of it are there already."""

from __future__ import annotations

import re
from fractions import Fraction

from planner.measure import read_number
from planner.project import SHRINKAGE
from planner.reading.collect_faults import quote
from planner.reading.lengths import LONGEST_SIDE, Lengths
from planner.reading.read_keys import Entry, Reading, at, read_list, read_text, read_two

MOST_SHRINKAGE = 25  # per cent
MOST_STOCK = 200  # pieces of one fabric
SMALLEST_STOCK = Fraction(1)  # inches along either side

_PERCENT = re.compile(r"(.*\S)\s*%")


def read_shrinkage(
    reading: Reading, entry: Entry | None, where: str, of: str = "length", usual: Fraction = SHRINKAGE
) -> Fraction:
    """The part of its length (or `of` its width) that cloth loses in the wash, in per cent: `3 %`, `2.5`, `0`; what is
    `usual` where nothing is written."""
    wanted = f"what it loses of its {of} in the wash, 0 to {MOST_SHRINKAGE} per cent, like 3 %"
    text = None if entry is None else read_text(reading, entry.node, where, wanted)
    if entry is None or text is None:
        return usual
    found = _PERCENT.fullmatch(text)
    try:
        share = read_number(found[1] if found is not None else text)
    except ValueError as wrong:
        reading.add(entry.node.line, where, f"{wrong}; here it is {wanted}")
        return usual
    if share > MOST_SHRINKAGE:
        reading.add(entry.node.line, where, f"{quote(text)} is not right here; write {wanted}")
        return usual
    return share / 100


def read_stock(
    reading: Reading, entry: Entry | None, where: str, lengths: Lengths
) -> tuple[tuple[Fraction, Fraction], ...]:
    """Pieces of cloth, wide x high, of which all can be used."""
    wanted = "the pieces that are there, wide x high: [18 x 21, 10 x 12]"
    nodes = None if entry is None else read_list(reading, entry.node, where, entry.line, wanted)
    if nodes is None:
        return ()
    if len(nodes) > MOST_STOCK:
        words = f"there are {len(nodes):,} pieces; at most {MOST_STOCK} are looked at"
        reading.add(nodes[MOST_STOCK].line, where, words)
        return ()
    found = []
    for number, node in enumerate(nodes, 1):
        place = at(where, str(number))
        size = read_two(reading, node, place, "a piece of cloth, wide x high, like 18 x 21", lengths.read)
        if size is None or lengths.measure is None:
            continue
        if min(size) < SMALLEST_STOCK or max(size) > LONGEST_SIDE:
            least, most = lengths.spell(SMALLEST_STOCK), lengths.spell(LONGEST_SIDE)
            reading.add(node.line, place, f"a side is {least} to {most} long, not {lengths.spell(*size)}")
            continue
        found.append(size)
    return tuple(found)
