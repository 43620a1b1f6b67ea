"""The keys of a project file, declared once: the reader, its faults and the JSON Schema all read these tables."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from planner.finish import BindingCut, BindingJoin, Run
from planner.project import Heading, Joining, Layout, Toward

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
    "true or false",
    "size",
    "box",
    "rows",
    "proportions",
    "patches",
    "lines",
    "faces",
    "strips",
    "geese",
    "square",
    "snowball",
    "logs",
    "fabric",
    "fabric list",
    "fabrics in turn",
    "corners",
    "points",
    "heading",
    "ring",
    "diamonds",
    "hexagons",
    "fabric rows",
    "snowball corners",
    "one number",
    "numbers",
    "pair",
    "sides",
    "block",
    "count",
    "swap",
    "roles",
    "quilt rows",
    "turn",
    "layout",
    "sashing",
    "borders",
    "border corners",
    "joining",
    "block joining",
    "wishes",
    "keep",
    "point",
    "toward",
    "minutes",
    "passes",
    "steps",
    "methods",
    "method of triangles",
    "method of hourglasses",
    "method of geese",
    "method of rows",
    "any method",
    "methods of units",
    "unit name",
    "finish",
    "backing",
    "batting",
    "binding",
    "sleeve",
    "pillow",
    "bed",
    "thread use",
    "length from 0",
    "run",
    "binding cut",
    "binding join",
    "mattress",
    "ratio",
    "percent",
    "yard step",
    "stock",
]
Truth = Literal["true", "false"]
DraftKind = Literal["rows", "strips", "logs", "geese", "square", "snowball", "ring", "hexagons", "lines", "patches"]


@dataclass(frozen=True, slots=True)
class Key:
    """One key of a mapping. `needed` holds wherever the mapping is there (or a draft or layout that the key is of)."""

    name: str
    holds: Holds
    help: str
    needed: bool = False
    drafts: tuple[DraftKind, ...] = ()  # the kinds of draft this key belongs to
    layout: Layout | None = None  # the layout of a quilt this key belongs to
    why_not: str = ""  # why it can't be used, and what to write instead


@dataclass(frozen=True, slots=True)
class Keys:
    """One mapping of the file: what it is, in the maker's words, and its keys in the order they are usually written.

    Of the keys of `one_of` at least one is there; where `is_either`, no more than one.
    """

    title: str
    keys: tuple[Key, ...]
    one_of: tuple[str, ...] = ()
    is_either: bool = False

    def find(self, name: str) -> Key | None:
        """The key of this name."""
        return next((key for key in self.keys if key.name == name), None)

    @property
    def names(self) -> tuple[str, ...]:
        """The names that may be written."""
        return tuple(key.name for key in self.keys if not key.why_not)


DRAFT_KINDS: tuple[DraftKind, ...] = get_args(DraftKind)
LAYOUTS: tuple[Layout, ...] = get_args(Layout)
JOININGS: tuple[Joining, ...] = get_args(Joining)
TOWARDS: tuple[Toward, ...] = get_args(Toward)
HEADINGS: tuple[Heading, ...] = get_args(Heading)
DIAMONDS = ("8", "6")
MITRED = "mitred"  # what may stand where else the fabric of a border's corners is named
TRUTHS: tuple[Truth, ...] = get_args(Truth)
YARD_STEPS = ("1/8", "1/4", "1/3", "1/2", "1")
NONE = "none"  # what may stand where else backing, batting or binding are told
RUNS: tuple[Run, ...] = get_args(Run)
BINDING_CUTS: tuple[BindingCut, ...] = get_args(BindingCut)
BINDING_JOINS: tuple[BindingJoin, ...] = get_args(BindingJoin)
WEBBED = "webbed"  # how a block can be joined, but as is quickest
TURNS = ("90", "180", "270")  # clockwise
MOST_BORDERS = 8
MOST_PASSES = 1_000
MOST_STEPS = 100_000_000

_DRAFT_KEYS = (
    Key("rows", "rows", "a grid: a list of rows, each a list of cells", drafts=("rows",)),
    Key("widths", "proportions", "how wide the columns are to one another; all equal if left out", drafts=("rows",)),
    Key("heights", "proportions", "how high the rows are to one another; all equal if left out", drafts=("rows",)),
    Key("strips", "strips", "strips across or down, side by side", drafts=("strips",)),
    Key("logs", "logs", "strips round a centre, sewn one after the other", drafts=("logs",)),
    Key("geese", "geese", "flying geese, one or several in a row", drafts=("geese",)),
    Key("square", "square", "a square in a square, as often as wanted", drafts=("square",)),
    Key("snowball", "snowball", "a square or rectangle with its corners cut off", drafts=("snowball",)),
    Key("ring", "ring", "diamonds round a point: a star of eight or six", drafts=("ring",)),
    Key("hexagons", "hexagons", "hexagons in rows", drafts=("hexagons",)),
    Key("box", "box", "the drafting box, wide x high: 4 x 3", needed=True, drafts=("lines", "patches")),
    Key("lines", "lines", 'straight lines across the box, each from point to point: ["0,2 2,0"]', drafts=("lines",)),
    Key("faces", "faces", "a fabric for each face between the lines", needed=True, drafts=("lines",)),
    Key("patches", "patches", "patch by patch: a list of fabrics and corners", drafts=("patches",)),
)

_NO_JOINING = Key(
    "joining",
    "block joining",
    "how its cells are joined",
    why_not="only a block is webbed, and this is sewn as a unit; write joining in the block itself, or take it out",
)
DRAFT = Keys("a draft", (*_DRAFT_KEYS, _NO_JOINING))
PART = Keys("a part", (*_DRAFT_KEYS, _NO_JOINING))
BLOCK = Keys(
    "a block",
    (
        Key("size", "size", "the finished size: 12, or 12 x 9 for 12 wide and 9 high", needed=True),
        Key("parts", "parts", "units that only this block uses"),
        *_DRAFT_KEYS,
        Key(
            "joining",
            "block joining",
            "webbed: column to column, the threads between its rows uncut; as is quickest if left out",
            drafts=("rows",),
        ),
    ),
)
FROM_SHELF = Keys(
    "a block from the shelf",
    (
        Key("block", "block", "the name of a block of the shelf; seamrun blocks lists them", needed=True),
        Key("fabrics", "roles", "a fabric for each of its roles: {dark: navy, light: shell}", needed=True),
        Key("size", "size", "the finished size: 12, or 12 x 9 for 12 wide and 9 high; its usual size if left out"),
        Key(
            "joining",
            "block joining",
            "webbed, of a block that is drawn as rows: column to column; as is quickest if left out",
        ),
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
        Key("directional", "true or false", "true where its print has a top and must stand upright; false if left out"),
        Key("shrinkage", "percent", "what it loses of its length in the wash, in per cent; 3 % if left out"),
        Key("narrows", "percent", "what it loses of its width in the wash, in per cent; none if left out"),
        Key(
            "lengthwise",
            "true or false",
            "true where strips over 24 in are cut along the selvage; as takes least cloth if left out",
        ),
        Key("stock", "stock", "pieces of it that are there already, wide x high: [18 x 21, 10 x 12]"),
    ),
)
PATCH = Keys(
    "a patch",
    (
        Key("fabric", "fabric", "the name of its fabric", needed=True),
        Key("corners", "corners", 'its corners in box units, in quotes: "0,0 2,0 0,2"', needed=True),
    ),
)
FACE = Keys(
    "a face",
    (
        Key("fabric", "fabric", "the name of its fabric", needed=True),
        Key("at", "points", 'a point inside of it in box units, in quotes: "1,1"; several for several', needed=True),
    ),
)
STRIPS = Keys(
    "strips",
    (
        Key("across", "fabric list", "fabrics of strips that run from left to right"),
        Key("down", "fabric list", "fabrics of strips that run from the top down"),
        Key("widths", "proportions", "how wide the strips are to one another; all equal if left out"),
    ),
    one_of=("across", "down"),
    is_either=True,
)
GEESE = Keys(
    "geese",
    (
        Key("goose", "fabrics in turn", "the fabric of the large triangles, or a list in turn", needed=True),
        Key("sky", "fabrics in turn", "the fabric of the small triangles, or a list in turn", needed=True),
        Key("point", "heading", "where they point: up, right, down or left; up if left out"),
        Key("count", "count", "how many; as many as fabrics are listed if left out"),
    ),
)
SQUARE = Keys(
    "square",
    (
        Key("centre", "fabric", "the fabric of the innermost square", needed=True),
        Key("around", "fabrics in turn", "the fabric of the triangles round it, or a list of rounds", needed=True),
    ),
)
SNOWBALL = Keys(
    "snowball",
    (
        Key("centre", "fabric", "the fabric of what is left between the corners", needed=True),
        Key("corners", "snowball corners", "the fabric of all four corners, or of some by name", needed=True),
        Key("box", "pair", "wide x high, in units of your own; 3 if left out"),
        Key("size", "one number", "how far a corner reaches along both its sides, in these units; 1 if left out"),
    ),
)
SNOWBALL_CORNERS = Keys(
    "corners",
    (
        Key("top left", "fabric", "the fabric of the upper left corner"),
        Key("top right", "fabric", "the fabric of the upper right corner"),
        Key("bottom right", "fabric", "the fabric of the lower right corner"),
        Key("bottom left", "fabric", "the fabric of the lower left corner"),
    ),
)
RING = Keys(
    "ring",
    (
        Key("of", "diamonds", "how many diamonds: 8, or 6", needed=True),
        Key("diamonds", "fabrics in turn", "the fabric of the diamonds, or a list in turn", needed=True),
        Key("fill", "fabrics in turn", "the fabric of what fills the box round them, or a list in turn", needed=True),
    ),
)
HEXAGONS = Keys(
    "hexagons",
    (
        Key("rows", "fabric rows", "the fabrics row by row, long rows and such with one less in turn", needed=True),
        Key("edge", "fabric", "the fabric of what fills the box round them", needed=True),
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
UNIT_METHOD = Keys(
    "an entry of units",
    (
        Key("unit", "unit name", "what the sheet calls the unit: navy-shell triangle square"),
        Key("block", "block", "the block whose units are meant"),
        Key("size", "size", "the finished size of the unit, where several are called alike: 3, or 6 x 3"),
        Key("method", "any method", "how it is cut and sewn", needed=True),
    ),
    one_of=("unit", "block"),
)
METHODS = Keys(
    "methods",
    (
        Key("triangles", "method of triangles", "how squares of two triangles are sewn; one by one if left out"),
        Key("hourglasses", "method of hourglasses", "how squares of four triangles are; one by one if left out"),
        Key("geese", "method of geese", "how flying geese are; one by one if left out"),
        Key("rows", "method of rows", "how rows of equally high patches are; one by one if left out"),
        Key("oversize", "length", "what is added to squares that are cut up after sewing; nothing if left out"),
        Key("units", "methods of units", "methods for some units alone, which go before the others: a list"),
    ),
)
BACKING = Keys(
    "backing",
    (
        Key("fabric", "fabric", "its fabric; told without a name if left out"),
        Key("width", "length", "how wide its cloth is sold, where it is not the width of its fabric: 108 in"),
        Key("overhang", "length from 0", "how much larger it is than the top on every side; 4 in, or 10 cm"),
        Key("seam", "length", "the allowance of its long seams; 1/2 in, or 1 cm"),
        Key("run", "run", "how its seams lie: along the quilt or across it; what takes least cloth if left out"),
    ),
)
BATTING = Keys(
    "batting",
    (
        Key("overhang", "length from 0", "how much larger it is than the top on every side; 4 in, or 10 cm"),
        Key("width", "length", "how wide the roll is; in one piece if left out"),
    ),
)
BINDING = Keys(
    "binding",
    (
        Key("fabric", "fabric", "its fabric; told without a name if left out"),
        Key("width", "length", "how wide a strip is cut; 2 1/2 in, or 6.5 cm"),
        Key("cut", "binding cut", "straight across the cloth, or bias; straight if left out"),
        Key("joins", "binding join", "how strips are joined: slanted or square; slanted if left out"),
        Key("extra", "length from 0", "what corners and closing take, in all; 10 in, or 25 cm"),
    ),
)
SLEEVE = Keys(
    "sleeve",
    (
        Key("fabric", "fabric", "its fabric; told without a name if left out"),
        Key("depth", "length", "how deep it lies on the back; 4 in, or 10 cm", needed=True),
    ),
)
PILLOW = Keys(
    "pillow",
    (
        Key("size", "length", "the side of a pillow, finished", needed=True),
        Key("fabric", "fabric", "the fabric of its border and back; told without a name if left out"),
        Key("overlap", "length from 0", "how far the halves of its back lie over each other; 4 in, or 10 cm"),
    ),
)
BED = Keys(
    "bed",
    (
        Key("mattress", "mattress", "its name, or its size: queen, or 60 x 80", needed=True),
        Key("drop", "length from 0", "how far it hangs down at both sides and the foot; 12 in, 30 cm; crib, lap: 0"),
        Key("tuck", "length from 0", "how much longer it is for the pillows; 0 if left out"),
    ),
)
THREAD_USE = Keys(
    "thread",
    (
        Key("ratio", "ratio", "inches of thread for an inch of seam, both threads together; 2 1/2 if left out"),
        Key("waste", "percent", "what ends and unpicking take, in per cent: 15 % if left out"),
        Key("stitch", "length", "how long a stitch is; 2.5 mm if left out"),
    ),
)
FINISH = Keys(
    "finish",
    (
        Key("backing", "backing", "the back of the quilt; none where there is none"),
        Key("batting", "batting", "the layer in the middle; none where there is none"),
        Key("binding", "binding", "the strip round the edge; none where there is none"),
        Key("sleeve", "sleeve", "a tube on the back, for the rod of a quilt that hangs"),
        Key("pillow", "pillow", "pillows made of the loose blocks"),
        Key("bed", "bed", "the bed that the quilt is for"),
        Key("thread", "thread use", "how much thread the seams take"),
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
        Key("methods", "methods", "by which methods triangles, geese and rows are cut and sewn"),
        Key("yards", "yard step", "what yards to buy are rounded up to: 1/8, 1/4, 1/3, 1/2 or 1; 1/8 if left out"),
        Key("finish", "finish", "backing, batting, binding and all that comes after the top"),
    ),
    one_of=("make", "quilt"),
)
