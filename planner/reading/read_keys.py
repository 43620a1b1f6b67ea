"""Nodes -> keys and single values: the checks that every mapping, list and text of a project file has in common."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from math import lcm
from typing import NamedTuple, TypeVar

from planner.measure import read_rooted
from planner.reading.check_filling import Effort
from planner.reading.collect_faults import FaultList, quote
from planner.reading.file_keys import Keys
from planner.reading.names import Names, tidy_name, why_no_name
from planner.reading.nearest_name import NearestName
from planner.reading.read_yaml import Keyed, Listed, Node, Text, Unread
from planner.surd import Exact, Surd, denominator_of, from_length

T = TypeVar("T", bound=str)
V = TypeVar("V", bound=Exact)

LONGEST_LINE = 80
LONGEST_NUMBERS = 80  # no number, nor two with an x between them, takes more characters
_FINEST_GRID = 10**12
_BETWEEN = re.compile(r"\s*x\s*")
_WHOLE = re.compile(r"[0-9]{1,9}")
_JOINERS = "\u200c\u200d"  # some scripts need these to spell a word


class RootUsed(NamedTuple):
    """A number with a root, where it is written."""

    line: int
    where: str
    text: str


@dataclass(slots=True)
class Reading:
    """What goes along while one file is read."""

    faults: FaultList
    nearest: NearestName = field(default_factory=NearestName)
    effort: Effort = field(default_factory=Effort)
    keeps_shape: bool = False  # whether a draft was read that is not stretched
    numbers: dict[str, Exact] = field(default_factory=dict)  # proportions read so far
    has_roots: bool = False  # whether one of these has a root
    roots: dict[int, RootUsed] = field(default_factory=dict)  # of each root, the first place in the file

    def add(self, line: int, where: str, words: str) -> None:
        """One more fault."""
        self.faults.add(line, where, words)

    def read_number(self, text: str) -> Exact:
        """A proportion, with a root or without; the same text is read once. ValueError as that of measure."""
        value = self.numbers.get(text)
        if value is None:
            value = self.numbers[text] = from_length(read_rooted(text))
            self.has_roots = self.has_roots or isinstance(value, Surd)
        return value

    def has_room_for(self, value: Exact, line: int, where: str, text: str) -> bool:
        """Whether a number goes together with those before it: of a second root none does. `tell_roots` tells of it."""
        if not isinstance(value, Surd):
            return True
        used = RootUsed(line, where, text)
        self.roots[value.of] = min(self.roots.get(value.of, used), used, key=lambda one: one.line)
        return value.of == next(iter(self.roots))

    def tell_roots(self, blocks_of: Mapping[int, Sequence[str]] | None = None) -> None:
        """A fault where there are two roots in the file. `blocks_of` names the blocks of the shelf with each root."""
        used = sorted(self.roots.items(), key=lambda one: one[1].line)
        for of, (line, where, text) in used[1:]:
            first_of, (first_line, first_where, first_text) = used[0]
            words = f"{quote(text)} has r{of} in it, and {quote(first_text)} (line {first_line}, {first_where}) has"
            ways = (_say_where_it_goes(one, (blocks_of or {}).get(one, ())) for one in sorted((of, first_of)))
            apart = " and ".join(ways)
            self.add(line, where, f"{words} r{first_of}; one project has one root: make two projects, {apart}")


def _say_where_it_goes(root: int, blocks: Sequence[str]) -> str:
    also = ["a quilt on point"] if root == 2 else []
    if blocks:
        also.append(f"of the shelf {', '.join(blocks)}")
    return f"one for r{root}" + (f" ({', and '.join(also)})" if also else "")


class Entry(NamedTuple):
    """The value of a key, and the line of the key."""

    line: int
    node: Node


class Found(NamedTuple):
    """The known keys of a mapping. Where it is not whole, nothing can be said to be missing."""

    line: int  # of the mapping's own key
    entries: dict[str, Entry]
    is_whole: bool

    def get(self, name: str) -> Entry | None:
        """The entry of a key, where it is written."""
        return self.entries.get(name)


class Named(NamedTuple):
    """One entry of a mapping whose keys are names."""

    name: str
    line: int
    node: Node


def at(where: str, place: str) -> str:
    """A place inside of a place: `block pinwheel, row 2`."""
    return f"{where}, {place}" if where else place


def read_keys(
    reading: Reading, node: Node, keys: Keys, where: str, line: int, told_later: Sequence[str] = ()
) -> Found | None:
    """The keys of a mapping; unknown, doubled and missing ones are told. None where there is no mapping. Where those of
    `told_later` are missing, the caller tells it in words of its own."""
    if isinstance(node, Text) and not node.value:
        if not keys.one_of and not any(key.needed or key.drafts for key in keys.keys):
            reading.add(line, where, f"there is no value; write {' or '.join(f'{name}:' for name in keys.names)}")
            return None
        node = Keyed(line, 0)
    if not isinstance(node, Keyed):
        if not isinstance(node, Unread):
            names = ", ".join(f"{name}:" for name in keys.names[:3]) + (" and so on" if len(keys.names) > 3 else "")
            reading.add(node.line, where, f"{keys.title} is written with keys: {names}")
        return None
    entries: dict[str, Entry] = {}
    for written, value in node.pairs:
        name = tidy_name(written.value)
        key = keys.find(name)
        if key is None:
            near = reading.nearest.suggest(name, keys.names)
            reading.add(written.line, where, f"there is no key {quote(name)} in {keys.title}{near}")
        elif key.why_not:
            reading.add(written.line, at(where, name), key.why_not)
        elif name in entries:
            first = entries[name].line
            reading.add(written.line, where, f"the key {quote(name)} is written twice (first in line {first})")
        else:
            entries[name] = Entry(written.line, value)
    found = Found(line, entries, node.is_whole)
    for key in keys.keys:
        if key.needed and not key.drafts and key.layout is None and key.name not in told_later:
            tell_missing(reading, found, keys, key.name, where)
    if keys.one_of and found.is_whole and not any(name in entries for name in keys.one_of):
        helps = " or ".join(f"{key.name}, {key.help}" for key in keys.keys if key.name in keys.one_of)
        reading.add(line, where, f"{' or '.join(keys.one_of)} is missing; write {helps}")
    both = [name for name in entries if name in keys.one_of] if keys.is_either else []
    for name in both[1:]:
        reading.add(entries[name].line, where, f"{both[0]} and {name} can't both be there; keep one")
    return found


def tell_missing(reading: Reading, found: Found, keys: Keys, name: str, where: str, wanted: str = "") -> None:
    """A fault where a needed key is not there; `wanted` says what it holds, where more is known than in general."""
    key = keys.find(name)
    if key is not None and name not in found.entries and found.is_whole:
        reading.add(found.line, where, f"{name} is missing: {wanted or key.help}")


def read_named(reading: Reading, entry: Entry | None, where: str, kind: str) -> tuple[list[Named], bool]:
    """The entries of a mapping of names, each name once, and whether all of them could be read.

    `kind` is what they name: `fabric`, `part`, `block`.
    """
    if entry is None:
        return [], True
    node = entry.node
    if isinstance(node, Text) and not node.value:
        reading.add(entry.line, where, f"there is no {kind} in it; write a name, a colon and what the {kind} is")
        return [], False
    if not isinstance(node, Keyed):
        if not isinstance(node, Unread):
            reading.add(node.line, where, f"{where} are written with names as keys: a name, a colon and what it is")
        return [], False
    named: dict[str, Named] = {}
    is_whole = node.is_whole
    for written, value in node.pairs:
        name = tidy_name(written.value)
        wrong = why_no_name(name)
        if wrong is not None:
            reading.add(written.line, where, wrong)
            is_whole = False
        if name in named:
            first = named[name].line
            reading.add(written.line, where, f"the {kind} {quote(name)} is written twice (first in line {first})")
        else:
            named[name] = Named(name, written.line, value)
    if not named and is_whole:
        reading.add(entry.line, where, f"there is no {kind} in it; write a name, a colon and what the {kind} is")
    return list(named.values()), is_whole


def read_list(reading: Reading, node: Node, where: str, line: int, wanted: str) -> list[Node] | None:
    """The nodes of a list with at least one; `wanted` says what is written there."""
    if isinstance(node, Listed):
        if node.nodes:
            return node.nodes
        reading.add(node.line, where, f"the list is empty; write {wanted}")
    elif isinstance(node, Text) and not node.value:
        reading.add(line, where, f"there is no value; write {wanted}")
    elif not isinstance(node, Unread):
        reading.add(node.line, where, f"a list is needed here; write {wanted}")
    return None


def read_text(reading: Reading, node: Node, where: str, wanted: str) -> str | None:
    """A single value as text, without blanks round it; `wanted` says what is written there."""
    if isinstance(node, Text):
        value = node.value.strip()
        if value:
            return value
        reading.add(node.line, where, f"there is no value; write {wanted}")
    elif not isinstance(node, Unread):
        kind = "list" if isinstance(node, Listed) else "mapping"
        reading.add(node.line, where, f"a single value is needed here, no {kind}; write {wanted}")
    return None


def read_line(reading: Reading, node: Node, where: str, wanted: str) -> str | None:
    """A text of one line, as it is shown to the maker."""
    text = read_text(reading, node, where, wanted)
    if text is None or not isinstance(node, Text):
        return None
    wrong = _why_no_line(text, node.remark)
    if wrong is not None:
        reading.add(node.line, where, wrong)
        return None
    return text


def _why_no_line(text: str, remark: str) -> str | None:
    if "\n" in text:
        return "this has more than one line; write one"
    if len(text) > LONGEST_LINE:
        return f"this has {len(text)} characters; at most {LONGEST_LINE} fit"
    for char in text:
        if unicodedata.category(char) in ("Cc", "Cf") and char not in _JOINERS:
            return f"there is a hidden character in it, U+{ord(char):04X}; take it out"
    if remark[1:2].strip():
        swallowed = f"what follows # is a remark and is not read: {quote(remark)}"
        return f"{swallowed}; put quotes round the value, or a blank behind the #"
    return None


def read_fabric(reading: Reading, names: Names, node: Node, where: str) -> str | None:
    """The name of a fabric that is written in the file."""
    text = read_text(reading, node, where, "the name of a fabric")
    if text is None:
        return None
    name = tidy_name(text)
    if name in names.fabrics:
        return name
    if names.is_whole or names.has_part(name):
        reading.add(node.line, where, names.why_no_fabric(name))
    return None


def read_choice(reading: Reading, node: Node, where: str, choices: Sequence[T]) -> T | None:
    """One of some words."""
    wanted = spell_choices(choices)
    text = read_text(reading, node, where, wanted)
    if text is None:
        return None
    for choice in choices:
        if text == choice:
            return choice
    near = reading.nearest.find(text, choices)
    hint = f"; did you mean '{near}'?" if near else ""
    reading.add(node.line, where, f"{quote(text)} is none of {wanted}{hint}")
    return None


def spell_choices(choices: Sequence[str]) -> str:
    """`light, medium or heavy`."""
    return f"{', '.join(choices[:-1])} or {choices[-1]}"


def read_whole(reading: Reading, node: Node, where: str, least: int, most: int) -> int | None:
    """A whole number between two others."""
    wanted = f"a whole number from {least} to {most}"
    text = read_text(reading, node, where, wanted)
    if text is None:
        return None
    if _WHOLE.fullmatch(text) is None or not least <= int(text) <= most:
        reading.add(node.line, where, f"{quote(text)} is not right here; write {wanted}")
        return None
    return int(text)


def read_measured(reading: Reading, node: Node, where: str, wanted: str, read: Callable[[str], V]) -> V | None:
    """One number or length above 0, in the way of `read`."""
    text = read_text(reading, node, where, wanted)
    return None if text is None else _measure(reading, node, where, text, read)


def read_two(reading: Reading, node: Node, where: str, wanted: str, read: Callable[[str], V]) -> tuple[V, V] | None:
    """One number or length for both, or two: `12`, `12 x 9`; all above 0."""
    text = read_text(reading, node, where, wanted)
    if text is None:
        return None
    texts = _BETWEEN.split(text) if len(text) <= LONGEST_NUMBERS else []
    if len(texts) not in (1, 2) or not all(texts):
        wrong = f"{quote(text)} is neither one number nor two with an x between them"
        reading.add(node.line, where, f"{wrong}; write {wanted}")
        return None
    values = [_measure(reading, node, where, part, read) for part in texts]
    first, second = values[0], values[-1]
    return None if first is None or second is None else (first, second)


def _measure(reading: Reading, node: Node, where: str, text: str, read: Callable[[str], V]) -> V | None:
    try:
        value = read(text if len(text) <= LONGEST_NUMBERS else text[:LONGEST_NUMBERS] + "...")
    except ValueError as wrong:
        reading.add(node.line, where, str(wrong))
        return None
    if not value:
        reading.add(node.line, where, f"{quote(text)} is not above 0")
        return None
    return value if reading.has_room_for(value, node.line, where, text) else None


def has_grid(reading: Reading, numbers: tuple[Exact, ...], entry: Entry, where: str) -> bool:
    """Whether the numbers of a draft are multiples of one that is not absurdly small."""
    finest = 1
    for number in numbers:
        finest = lcm(finest, denominator_of(number))
        if finest > _FINEST_GRID:
            words = "the numbers of this draft have too many different fractions; write them in eighths, say"
            reading.add(entry.line, where, words)
            return False
    return True
