"""The keys of a project file, declared once: the reader, its faults and the JSON Schema all read these tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Holds = Literal[
    "line",
    "measure",
    "length",
    "fabrics",
    "parts",
    "blocks",
    "make",
    "press",
    "handling",
    "value",
    "weight",
    "colour",
    "letter",
    "size",
    "box",
    "rows",
    "proportions",
    "patches",
    "logs",
    "fabric",
    "fabric list",
    "corners",
    "numbers",
    "pair",
    "sides",
    "block",
    "count",
    "swap",
    "wishes",
    "minutes",
    "nothing yet",
]
DraftKind = Literal["rows", "patches", "logs"]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a mapping. `needed` holds wherever the mapping (or, with `draft`, a draft of that kind) is there."""

    name: str
    holds: Holds
    help: str
    needed: bool = False
    draft: DraftKind | None = None  # the kind of draft this key belongs to
    not_yet: str = ""  # why it can't be used yet, and what to write instead
    instead: str = ""  # the key that is written instead


@dataclass(frozen=True, slots=True)
class Keys:
    """One mapping of the file: what it is, in the maker's words, and its keys in the order they are usually written."""

    title: str
    keys: tuple[Key, ...]

    def find(self, name: str) -> Key | None:
        """The key of this name."""
        return next((key for key in self.keys if key.name == name), None)

    @property
    def names(self) -> tuple[str, ...]:
        """The names that may be written today."""
        return tuple(key.name for key in self.keys if not key.not_yet)


DRAFT_KINDS: tuple[DraftKind, ...] = ("rows", "patches", "logs")

_DRAFT_KEYS = (
    Key("rows", "rows", "a grid: a list of rows, each a list of cells", draft="rows"),
    Key("widths", "proportions", "how wide the columns are to one another; all equal if left out", draft="rows"),
    Key("heights", "proportions", "how high the rows are to one another; all equal if left out", draft="rows"),
    Key("box", "box", "the drafting box, wide x high: 4 x 3", needed=True, draft="patches"),
    Key("patches", "patches", "patch by patch: a list of fabrics and corners", draft="patches"),
    Key("logs", "logs", "strips round a centre, sewn one after the other", draft="logs"),
)

DRAFT = Keys("a draft", _DRAFT_KEYS)
PART = Keys("a part", _DRAFT_KEYS)
BLOCK = Keys(
    "a block",
    (
        Key("size", "size", "the finished size: 12, or 12 x 9 for 12 wide and 9 high", needed=True),
        Key("parts", "parts", "units that only this block uses"),
        *_DRAFT_KEYS,
    ),
)
FABRIC = Keys(
    "a fabric",
    (
        Key("value", "value", "how dark it is: light, medium, dark, or 1, the lightest, to 10", needed=True),
        Key("weight", "weight", "how heavy the cloth is: light, medium or heavy; medium if left out"),
        Key("colour", "colour", 'its colour in pictures, in quotes: "#e8735a"; chosen by value if left out'),
        Key("letter", "letter", "one or two small letters or digits that stand for it where colour does not show"),
    ),
)
PATCH = Keys(
    "a patch",
    (
        Key("fabric", "fabric", "the name of its fabric", needed=True),
        Key("corners", "corners", 'its corners in box units, in quotes: "0,0 2,0 0,2"', needed=True),
    ),
)
LOGS = Keys(
    "logs",
    (
        Key("centre", "fabric", "the fabric of the centre", needed=True),
        Key("centre size", "pair", "one number, or 2 x 3; 1 if left out"),
        Key("around", "fabric list", "the fabrics of the logs, in the order they are sewn", needed=True),
        Key("width", "numbers", "how wide a log is: one number, or a list that is repeated; 1 if left out"),
        Key("sides", "sides", "where the logs go in turn; right, bottom, left, top if left out"),
    ),
)
MAKE = Keys(
    "an entry of make",
    (
        Key("block", "block", "the name of the block", needed=True),
        Key("count", "count", "how many of it: 1 to 1000", needed=True),
        Key("swap", "swap", "other fabrics for this batch: {navy: coral}"),
    ),
)
PRESS = Keys(
    "press",
    (
        Key("prefer", "wishes", "wishes for pressing, the first counts most"),
        Key(
            "keep",
            "nothing yet",
            "directions that are fixed",
            not_yet="fixed pressing directions can't be kept yet; use prefer, a list of wishes",
            instead="prefer",
        ),
    ),
)
HANDLING = Keys(
    "handling",
    (
        Key("trip", "minutes", "minutes for one trip to the iron; 3 if left out"),
        Key("pile", "minutes", "minutes for setting up the piles of one kind of unit; 2 if left out"),
    ),
)
PROJECT = Keys(
    "a project",
    (
        Key("project", "line", "the name of the project, one line", needed=True),
        Key("measure", "measure", "in or cm: what a bare number means, and what the sheet prints; in if left out"),
        Key("seam", "length", "the seam allowance; 1/4 in, or 0.75 cm where measure is cm, if left out"),
        Key("thread", "line", "the thread, told at the start of an evening"),
        Key("fabrics", "fabrics", "the fabrics by name", needed=True),
        Key("parts", "parts", "units that several blocks share, by name"),
        Key("blocks", "blocks", "the blocks by name", needed=True),
        Key("make", "make", "what is made: a list of blocks and counts", needed=True),
        Key(
            "quilt",
            "nothing yet",
            "a layout of joined blocks",
            not_yet="joining blocks into a quilt can't be planned yet; use make, a list of blocks and counts",
            instead="make",
        ),
        Key("press", "press", "wishes for pressing"),
        Key("handling", "handling", "minutes that passes and piles take"),
    ),
)
