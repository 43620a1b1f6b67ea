"""Names in a project file: what may be one, and what is known under it where."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from planner.project import Part
from planner.reading.collect_faults import quote
from planner.reading.nearest_name import NearestName
from planner.reading.shelf_block import EMPTY_SHELF, Shelf

LONGEST_NAME = 40
CHANGE_WORDS = ("turn", "mirrored")  # what a cell does to a part, so no words of a name


def tidy_name(text: str) -> str:
    """The name as it is known: several spaces are one, and an accent is the same however it was typed."""
    name = " ".join(text.split())
    return name if name.isascii() else unicodedata.normalize("NFC", name)


def why_no_name(name: str) -> str | None:
    """Why a tidied text is no name, and what would be right."""
    if not name:
        return "a name is missing"
    if len(name) > LONGEST_NAME:
        return f"{quote(name)} is too long for a name; at most {LONGEST_NAME} characters"
    if not (name[0].isalpha() or name[0].isdecimal()):
        return f"{quote(name)} is no name; begin it with a letter or a digit"
    for char in name:
        if not (char.isalpha() or char.isdecimal() or char in " -'" or unicodedata.category(char).startswith("M")):
            return f"'{char}' can't be in a name; use letters, digits, spaces, - and '"
    for word in CHANGE_WORDS:
        if word in name.split(" "):
            return f"'{word}' can't be a word of a name; in a cell it changes a part"
    return None


@dataclass(frozen=True, slots=True)
class Names:
    """What may be named in one place of the file: the fabrics, the file's parts and a block's own.

    A part that is written but could not be read is None: its faults are told elsewhere. Where the fabrics or the parts
    could not be read as a whole (`is_whole` is false), an unknown name may be one of them and is no fault. `others` is
    what else has a name, and why it can't be in a cell; blocks of the `shelf` can't either.
    """

    fabrics: Collection[str]
    parts: Mapping[str, Part | None]
    own_parts: Mapping[str, Part | None]
    others: Mapping[str, str]
    nearest: NearestName
    is_whole: bool = True
    shelf: Shelf = EMPTY_SHELF

    def has_part(self, name: str) -> bool:
        """Whether a part of this name is written, readable or not."""
        return name in self.own_parts or name in self.parts

    def find_part(self, name: str) -> Part | None:
        """The part of this name; a block's own comes first."""
        return self.own_parts[name] if name in self.own_parts else self.parts[name]

    def why_unknown(self, name: str) -> str:
        """Words for a name that is neither fabric nor part."""
        if name in self.others:
            return f"{quote(name)} {self.others[name]}"
        wrong = why_no_name(name)
        if wrong is not None:
            return wrong
        if self.shelf.find(name) is not None:
            words = "is a block of the shelf; those are whole blocks and do not go into a cell"
            return f"{quote(name)} {words}: take it among the blocks, or draw a part like it"
        near = self.nearest.suggest(name, self.fabrics, self.own_parts, self.parts)
        return f"no fabric or part is named {quote(name)}{near}"

    def why_no_fabric(self, name: str) -> str:
        """Words for a name where only a fabric may stand."""
        if self.has_part(name):
            return f"{quote(name)} is a part; only a fabric can be named here"
        return why_no_name(name) or f"no fabric is named {quote(name)}{self.nearest.suggest(name, self.fabrics)}"
