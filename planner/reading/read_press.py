"""What the maker wants of the pressing -> wishes in their order."""

from __future__ import annotations

from planner.project import ALL_WISHES, WISHES, Wish
from planner.reading.read_keys import Entry, Reading, read_choice, read_list
from planner.reading.read_yaml import Listed


def read_prefer(reading: Reading, entry: Entry | None) -> tuple[Wish, ...]:
    """The wishes behind the key `prefer` of press; those there are without it."""
    if entry is None:
        return WISHES
    if isinstance(entry.node, Listed) and not entry.node.nodes:
        return ()  # no wish at all
    where = "press, prefer"
    nodes = read_list(reading, entry.node, where, entry.line, f"wishes in [ ]: [{', '.join(ALL_WISHES)}]") or []
    wishes: list[Wish] = []
    for node in nodes:
        wish = read_choice(reading, node, where, ALL_WISHES)
        if wish in wishes:
            reading.add(node.line, where, f"'{wish}' is here twice; each wish counts once")
        elif wish is not None:
            wishes.append(wish)
    return tuple(wishes)
