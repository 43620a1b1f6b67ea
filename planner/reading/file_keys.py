"""The keys of a project file, declared once: the reader, its faults and the JSON Schema all read these tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from planner.project import Joining, Layout, Toward

Holds = Literal[
    "line",
    "measure",
    "length",
    "fabrics",
    "parts",
    "blocks",
    "make",
    "quilt",
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
    "quilt rows",
    "turn",
    "layout",
    "sashing",
    "borders",
    "border corners",
    "joining",
    "wishes",
    "keep",
    "point",
    "toward",
    "minutes",
    "passes",
    "steps",
]
DraftKind = Literal["rows", "patches", "logs"]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a mapping. `needed` holds wherever the mapping is there (or a draft or layout that the key is of)."""

    name: str
    holds: Holds
    help: str
    needed: bool = False
    draft: DraftKind | None = None  # the kind of draft this key belongs to
    layout: Layout | None = None  # the layout of a quilt this key belongs to
    why_not: str = ""  # why it can't be used, and what to write instead


@dataclass(frozen=True, slots=True)
class Keys:
    """One mapping of the file: what it is, in the maker's words, and its keys in the order they are usually written.

    Of the keys of `one_of` at least one is there.
    """

    title: str
    keys: tuple[Key, ...]
    one_of: tuple[str, ...] = ()

    def find(self, name: str) -> Key | None:
        """The key of this name."""
        return next((key for key in self.keys if key.name == name), None)

    @property
    def names(self) -> tuple[str, ...]:
        """The names that may be written."""
        return tuple(key.name for key in self.keys if not key.why_not)


DRAFT_KINDS: tuple[DraftKind, ...] = ("rows", "patches", "logs")
LAYOUTS: tuple[Layout, ...] = get_args(Layout)
JOININGS: tuple[Joining, ...] = get_args(Joining)
TOWARDS: tuple[Toward, ...] = get_args(Toward)
MITRED = "mitred"  # what may stand where else the fabric of a border's corners is named
TURNS = ("90", "180", "270")  # clockwise
MOST_BORDERS = 8
MOST_PASSES = 1_000
MOST_STEPS = 100_000_000

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
        Key("width", "length", "how wide the cloth is sold, selvages and all; 42 in if left out"),
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
QUILT_BLOCK = Keys(
    "a block of the quilt",
    (
        Key("block", "block", "the name of the block", needed=True),
        Key("turn", "turn", "how far it is turned, clockwise: 90, 180 or 270"),
        Key("swap", "swap", "other fabrics for this one: {navy: coral}"),
        Key(
            "mirrored",
            "line",
            "swaps left and right",
            why_not="a block is not mirrored in the quilt: cloth has a right side; draw the mirrored block",
        ),
    ),
)
SASHING = Keys(
    "sashing",
    (
        Key("width", "length", "how wide the strips between the blocks are, finished", needed=True),
        Key("fabric", "fabric", "the fabric of the strips", needed=True),
        Key("posts", "fabric", "the fabric of the squares where strips cross; if left out, strips run through"),
    ),
)
BORDER = Keys(
    "a border",
    (
        Key("width", "length", "how wide the border is, finished", needed=True),
        Key("fabric", "fabric", "the fabric of the border", needed=True),
        Key("corners", "border corners", "a fabric for squares in the corners, or mitred; if left out, straight"),
    ),
)
QUILT = Keys(
    "a quilt",
    (
        Key("rows", "quilt rows", "the blocks row by row from the top down: [[a, b], [b, a turn 90]]", needed=True),
        Key("layout", "layout", "straight, or on point: stood on their corners; straight if left out"),
        Key("setting", "fabric", "the fabric of the triangles that fill the edges", needed=True, layout="on point"),
        Key("sashing", "sashing", "strips between the blocks", layout="straight"),
        Key("border", "borders", "a frame round it all, or a list of them from the inside out"),
        Key("joining", "joining", "how the blocks are joined: in rows, in quarters or webbed"),
    ),
)
KEEP = Keys(
    "an entry of keep",
    (
        Key("block", "block", "the name of the block", needed=True),
        Key("at", "point", 'a point on the seam in the finished block, x right, y down: "6 1/2, 3"', needed=True),
        Key("toward", "toward", "where the allowances go: left, right, up, down or open", needed=True),
    ),
)
PRESS = Keys(
    "press",
    (
        Key("prefer", "wishes", "wishes for pressing, the first counts most"),
        Key("keep", "keep", "directions that are fixed, before every wish: a list of seams"),
    ),
)
HANDLING = Keys(
    "handling",
    (
        Key("trip", "minutes", "minutes for one trip to the iron; 3 if left out"),
        Key("pile", "minutes", "minutes for setting up the piles of one kind of unit; 2 if left out"),
        Key("passes", "passes", "in how many passes it is sewn; what takes the least time if left out"),
        Key("steps", "steps", "how long the least is searched for, in steps of the solver; 25000 if left out"),
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
        Key("make", "make", "a list of loose blocks and counts"),
        Key("quilt", "quilt", "rows of blocks that are joined into a top"),
        Key("press", "press", "wishes for pressing, and directions that are fixed"),
        Key("handling", "handling", "minutes that passes and piles take"),
    ),
    one_of=("make", "quilt"),
)
