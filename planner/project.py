"""What the maker wrote, read and checked: the records of a project file.

Lengths are inches as `Fraction`; proportions and box units are `Fraction` without a unit. Those that are `Exact` may
have a root in them, in one project always the same one. Records are frozen, hold tuples only, and know the line they
were written in.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal, get_args

from planner.finish import Finish
from planner.measure import Measure
from planner.surd import Exact

Weight = Literal["light", "medium", "heavy"]
Wish = Literal["light-weight", "plain", "dark", "outward", "needle", "spin"]
Side = Literal["right", "bottom", "left", "top"]
Stroke = Literal["/", "\\", "|"]
Change = Literal["turn 90", "turn 180", "turn 270", "mirrored"]
Layout = Literal["straight", "on point"]
Joining = Literal["rows", "quarters", "webbed"]
Heading = Literal["up", "right", "down", "left"]
Toward = Literal["left", "right", "up", "down", "open"]
Method = Literal[
    "one by one", "two at a time", "four at a time", "eight at a time", "from strips", "stitch and flip", "strip sets"
]
Asked = Method | Literal["quickest"]

WEIGHTS: tuple[Weight, ...] = ("light", "medium", "heavy")
WISHES: tuple[Wish, ...] = ("light-weight", "plain", "dark", "outward", "needle")  # where the maker names none
ALL_WISHES: tuple[Wish, ...] = (*WISHES, "spin")
TRIANGLE_METHODS: tuple[Asked, ...] = (
    "one by one",
    "two at a time",
    "four at a time",
    "eight at a time",
    "from strips",
    "quickest",
)
HOURGLASS_METHODS: tuple[Asked, ...] = ("one by one", "two at a time", "quickest")
GOOSE_METHODS: tuple[Asked, ...] = ("one by one", "stitch and flip", "four at a time", "quickest")
ROW_METHODS: tuple[Asked, ...] = ("one by one", "strip sets", "quickest")
ANY_METHOD: tuple[Asked, ...] = (*get_args(Method), "quickest")
SIDES: tuple[Side, ...] = ("right", "bottom", "left", "top")
VALUE_WORDS = {"light": 2, "medium": 5, "dark": 9}
MOST_COPIES = 1_000
MOST_PATCHES = 250_000
SOLVER_STEPS = 25_000  # counted, never timed: the same project gives the same plan on every machine
SHRINKAGE = Fraction(3, 100)  # the part of its length that cotton is taken to lose in the wash (told where it matters)
YARD_STEP = Fraction(1, 8)  # yards; what a length to buy is rounded up to, where the maker says nothing else
SELVAGES = Fraction(2)  # inches of the width of cloth that go with the selvages and with squaring up
WIDEST_CLOTH = Fraction(40)  # inches that can be used of cloth sold 42 in wide (an assumption, told where it matters)


@dataclass(frozen=True, slots=True)
class Fabric:
    name: str
    value: int  # 1, the lightest, to 10
    written: str  # the value as the maker wrote it: "dark", "7"
    weight: Weight
    colour: str | None  # "#rrggbb", as it is drawn; None: chosen by value
    letter: str  # one or two small letters or digits, told apart where colour does not show
    line: int
    usable: Fraction = WIDEST_CLOTH  # how long a strip can be cut across it; a longer one is pieced
    directional: bool = False  # its print has a top, and stands upright in the finished block or quilt
    shrinkage: Fraction = SHRINKAGE
    stock: tuple[tuple[Fraction, Fraction], ...] = ()  # pieces that are there already, wide and high, washed
    lengthwise: bool = False  # its long strips are cut along the selvage
    narrows: Fraction = Fraction(0)  # the part of its width that it loses in the wash

    @property
    def width(self) -> Fraction:
        """As it is sold."""
        return (self.usable + SELVAGES) / (1 - self.narrows)


def find_usable(width: Fraction, narrows: Fraction) -> Fraction:
    """What can be used of the width of cloth, in inches: pressed, shrunk across by this part of it, and squared up."""
    return width * (1 - narrows) - SELVAGES


@dataclass(frozen=True, slots=True)
class FabricHere:
    """A cell, or a half of one, that is one fabric."""

    fabric: str


@dataclass(frozen=True, slots=True)
class PartHere:
    """A part put into a cell. `part` is the part itself, found by name already; changes in the order written."""

    part: Part
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, slots=True)
class DraftHere:
    """A cell that is a draft of its own."""

    draft: Draft


@dataclass(frozen=True, slots=True)
class Cut:
    """A cell, or a half of one, cut by a line of the whole cell. `left` lies left of the line."""

    stroke: Stroke
    left: Cell
    right: Cell


Cell = FabricHere | PartHere | DraftHere | Cut


@dataclass(frozen=True, slots=True)
class Rows:
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[Exact, ...]  # one for each column, never empty: all 1 where left out
    heights: tuple[Exact, ...]


@dataclass(frozen=True, slots=True)
class DrawnPatch:
    fabric: str
    corners: tuple[tuple[Exact, Exact], ...]  # box units, x right, y down, in the sense they were written
    line: int


@dataclass(frozen=True, slots=True)
class Patches:
    box: tuple[Exact, Exact]  # wide, high
    patches: tuple[DrawnPatch, ...]
    line: int  # of the key of the draft
    keeps_shape: bool = False  # put only into what has the proportions of its box: a stretched star is none


@dataclass(frozen=True, slots=True)
class Logs:
    centre: str
    centre_size: tuple[Exact, Exact]
    around: tuple[str, ...]
    widths: tuple[Exact, ...]  # one for each log, written out
    sides: tuple[Side, ...]  # one for each log, written out


Draft = Rows | Patches | Logs


@dataclass(frozen=True, slots=True)
class Part:
    name: str
    draft: Draft
    line: int


@dataclass(frozen=True, slots=True)
class Block:
    name: str
    width: Exact  # finished
    height: Exact
    draft: Draft
    line: int
    is_webbed: bool = False  # its cells are joined in a web: the threads between its rows are not cut (`Rows` only)
    roles: tuple[tuple[str, str], ...] = ()  # of a block from the shelf: (role that its draft names, the fabric for it)


@dataclass(frozen=True, slots=True)
class Make:
    """A batch of loose blocks: so many of one block, in these fabrics."""

    block: str
    count: int
    swap: tuple[tuple[str, str], ...]  # (fabric of the draft, fabric it is made in), all at once, sorted
    line: int


@dataclass(frozen=True, slots=True)
class BlockHere:
    """A block in its place in the quilt, turned clockwise by `turn` quarters."""

    block: str
    turn: int
    swap: tuple[tuple[str, str], ...]  # as in `Make`
    line: int


@dataclass(frozen=True, slots=True)
class Sashing:
    """Strips between the blocks, `width` wide; where they cross a post, or (None) strips that run through."""

    width: Fraction
    fabric: str
    posts: str | None
    line: int


@dataclass(frozen=True, slots=True)
class Border:
    """A frame of strips round what is there already: side strips first, then the upper and lower ones all across; with
    `posts` the corners are squares of that fabric, with `mitred` the strips meet at half a right angle."""

    width: Fraction
    fabric: str
    posts: str | None
    mitred: bool
    line: int


@dataclass(frozen=True, slots=True)
class Quilt:
    """Blocks that are joined into a top. `rows` as one sees them from the top down.

    On point the rows are equally long and short by one in turn, the first and the last long; `setting` is the fabric
    of the triangles that fill the edges. `borders` from the inside out. `joining` is the maker's choice, if any.
    """

    rows: tuple[tuple[BlockHere, ...], ...]
    layout: Layout
    setting: str | None
    sashing: Sashing | None
    borders: tuple[Border, ...]
    joining: Joining | None
    line: int


@dataclass(frozen=True, slots=True)
class Keep:
    """A pressing direction that the maker fixed: of the seam through `at` (inches, x right, y down) in every copy of
    the block."""

    block: str
    at: tuple[Exact, Exact]
    toward: Toward
    line: int
    entry: int = 0  # of the list of these, from 1; 0: not written in the file


@dataclass(frozen=True, slots=True)
class Handling:
    """Minutes: for one trip to the iron, and for setting up the piles of one kind of unit; and in how many passes at
    most the maker wants the fewest kinds (None: as many as take the least time), with the line that says so."""

    trip: Fraction = Fraction(3)
    pile: Fraction = Fraction(2)
    passes: int | None = None
    passes_line: int = 1
    steps: int = SOLVER_STEPS  # how long the least is searched for at each number of passes, in steps of the solver


@dataclass(frozen=True, slots=True)
class UnitMethod:
    """The method that the maker fixed for some units: those of this name, in this block, of this finished size (inches,
    the shorter side first), as far as each is said; the name or the block is."""

    unit: str | None
    block: str | None
    size: tuple[Exact, Exact] | None
    method: Asked
    line: int


@dataclass(frozen=True, slots=True)
class Methods:
    """By which method units are cut and sewn, where it applies: triangle squares, hourglasses, flying geese, rows of
    equally high patches; `units` go before these. `oversize` is added to every square that is cut up after sewing; its
    units are trimmed."""

    triangles: Asked = "one by one"
    hourglasses: Asked = "one by one"
    geese: Asked = "one by one"
    rows: Asked = "one by one"
    oversize: Fraction = Fraction(0)
    units: tuple[UnitMethod, ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    name: str
    measure: Measure
    seam: Fraction  # the allowance
    thread: str | None
    fabrics: tuple[Fabric, ...]
    blocks: tuple[Block, ...]
    make: tuple[Make, ...]
    prefer: tuple[Wish, ...] = WISHES
    handling: Handling = field(default_factory=Handling)
    quilt: Quilt | None = None
    keep: tuple[Keep, ...] = ()
    unused: tuple[str, ...] = ()  # words for what is written and not used: "fabric coral", "part little four"
    methods: Methods = field(default_factory=Methods)
    finish: Finish | None = None  # None where the maker says nothing of it
    yards: Fraction = YARD_STEP  # what a length to buy is rounded up to, in yards
