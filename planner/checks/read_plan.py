"""A plan as its checkers see it: names looked up, corners in whole steps of one scale, or such with a root.

The checkers share this room with each other, but nothing with the planner: they read the plan's text by themselves,
so that a mistake of the planner can't hide in code that both use.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm
from typing import Literal, NamedTuple

from planner.checks.plan_file import Plan, PlanPatch, PlanPoint, PlanSeam
from planner.checks.rooted import Number, Rooted, build, divide, sum_up
from planner.checks.surd import read_rooted

Point = tuple[Number, Number]
Outline = tuple[Point, ...]  # its inside on the side that a turn from x to y leads to; no corner on a straight line

THE_QUILT = -1  # the frame of what is joined into the top


class BlockRead(NamedTuple):
    id: str
    width: Number
    height: Number
    is_loose: bool


class PatchRead(NamedTuple):
    """`is_askew`: its grain runs half a right angle from the frame, as that of setting triangles does. `has_way`: its
    print has a top, which points up as one looks at the block, or at the quilt."""

    id: str
    frame: int  # where it lies: a loose block by its place among the blocks, or `THE_QUILT`
    block: int | None  # its place among the blocks
    fabric: str
    outline: Outline
    is_askew: bool
    has_way: bool = False

    @property
    def cloth(self) -> tuple[str, bool]:
        """What it is cut from, and how that lies: patches of another cloth are never the same."""
        return self.fabric, self.is_askew


class SeamRead(NamedTuple):
    """A seam and its result. A side is told by its place: the patches first, then the seams.

    One that is set in goes along its `legs`. One that is spun is pressed as told up to a point, and beyond it to the
    other side. One that closes a partial seam has one side, in which the slit lies, and is pressed to a side of that.
    """

    id: str
    frame: int
    block: int | None
    a: int
    b: int | None
    start: Point
    end: Point
    press: Literal["a", "b", "open"]
    legs: tuple[tuple[Point, Point], ...] = ()
    spin: Point | None = None
    is_partial: bool = False
    closes: int | None = None  # the place of the partial seam among the seams

    @property
    def sides(self) -> tuple[int, ...]:
        return (self.a,) if self.b is None else (self.a, self.b)

    @property
    def way(self) -> tuple[Point, ...]:
        """The points that it leads from, turns at and leads to."""
        return (self.start, *(last for _, last in self.legs[:-1]), self.end)


class Work(NamedTuple):
    """Patches and the seams that sew them, each side earlier than its seam and used once at most.

    All coordinates are steps of 1/scale inch. On point the quilt's frame is that of its blocks, so that the quilt is
    a rectangle turned by half a right angle.
    """

    scale: int
    allowance: Fraction  # inches
    is_on_point: bool
    blocks: tuple[BlockRead, ...]
    patches: tuple[PatchRead, ...]
    seams: tuple[SeamRead, ...]
    root: int | None = None  # 2 or 3 where a coordinate has that root

    def name(self, side: int) -> str:
        return self.patches[side].id if side < len(self.patches) else self.seams[side - len(self.patches)].id

    def inches(self, steps: Number) -> Number:
        return divide(steps, self.scale)

    def spell(self, point: Point) -> str:
        """A point for a complaint: `6, 13/2`."""
        return ", ".join(str(self.inches(steps)) for steps in point)

    def spell_way(self, way: Sequence[Point]) -> str:
        """A way for a complaint: `from 0, 6 by 6, 6 to 6, 12`."""
        first, *turns, last = map(self.spell, way)
        return " ".join((f"from {first}", *(f"by {turn}" for turn in turns), f"to {last}"))

    def find_pressed(self, seam: SeamRead) -> int | None:
        """The side that the allowances fall to: of a seam that closes another a side of that; None where open."""
        whole = seam if seam.closes is None else self.seams[seam.closes]
        return {"a": whole.a, "b": whole.b, "open": None}[seam.press]


def read_work(plan: Plan) -> tuple[Work | None, tuple[str, ...]]:
    """The work of a plan that is shaped as `plan_file` says, or what keeps it from being followed."""
    return _Reading(plan).read()


class _Reading:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.complaints: list[str] = []
        self.lengths: dict[str, Number] = {}  # few texts, many times
        self.scale = 1
        self.root: int | None = None
        self.block_places: dict[str, int] = {}
        self.side_places: dict[str, int] = {}
        self.side_blocks: list[tuple[int, int | None] | None] = []  # frame and block; None where they are not known
        self.blocks: list[BlockRead] = []
        self.user: dict[int, str] = {}
        self.closed_by: dict[str, str] = {}

    def read(self) -> tuple[Work | None, tuple[str, ...]]:
        plan = self.plan
        self._read_lengths()
        if self.complaints:
            return None, tuple(self.complaints)
        allowance = self.lengths[plan["project"]["seam"]]
        if isinstance(allowance, Rooted):
            return None, ("project: the seam allowance has a root",)
        self._read_blocks()
        fabrics = {fabric["id"]: fabric.get("directional", False) for fabric in plan["fabrics"]}
        patches = [self._read_patch(patch, fabrics) for patch in plan["patches"]]
        seams = [self._read_seam(seam) for seam in plan["seams"]]
        if not self.complaints:
            self._check_closed()
        if self.complaints:
            return None, tuple(self.complaints)
        return Work(
            self.scale,
            Fraction(allowance),
            plan["project"]["on_point"],
            tuple(self.blocks),
            tuple(patch for patch in patches if patch),
            tuple(seam for seam in seams if seam),
            self.root,
        ), ()

    def _read_lengths(self) -> None:
        plan = self.plan
        self._read_texts("project", [plan["project"]["seam"]])
        for block in plan["blocks"]:
            self._read_texts(f"block {block['id']}", block["size"])
        for patch in plan["patches"]:
            self._read_texts(f"patch {patch['id']}", (text for corner in patch["corners"] for text in corner))
        for seam in plan["seams"]:
            points = [seam["from"], seam["to"], *(point for leg in seam.get("legs", ()) for point in leg)]
            points += [seam["spin"]] if "spin" in seam else []
            self._read_texts(f"seam {seam['id']}", (text for point in points for text in point))
        numbers = [part for length in self.lengths.values() for part in _split(length)]
        self.scale = lcm(*(number.denominator for number in numbers))
        roots = {length.of for length in self.lengths.values() if isinstance(length, Rooted)}
        self.root = max(roots, default=None)
        if len(roots) > 1:
            self.complaints.append(f"project: roots of {' and of '.join(map(str, sorted(roots)))} are in one plan")

    def _read_texts(self, where: str, texts: Iterable[str]) -> None:
        for text in texts:
            if text not in self.lengths:
                try:
                    self.lengths[text] = read_rooted(text)
                except ValueError as error:
                    self.complaints.append(f"{where}: {error}")

    def _steps(self, text: str) -> Number:
        length = self.lengths[text]
        if isinstance(length, Rooted):
            return build(int(length.plain * self.scale), int(length.times * self.scale), length.of)
        return int(length * self.scale)

    def _point(self, point: PlanPoint) -> Point:
        x, y = point
        return self._steps(x), self._steps(y)

    def _read_blocks(self) -> None:
        for block in self.plan["blocks"]:
            if block["id"] in self.block_places:
                self.complaints.append(f"block {block['id']}: the name is used twice")
            self.block_places[block["id"]] = len(self.blocks)
            width, height = self._point(block["size"])
            if width <= 0 or height <= 0:
                self.complaints.append(f"block {block['id']}: its size is nothing")
            self.blocks.append(BlockRead(block["id"], width, height, block["loose"]))
        if self.plan["project"]["on_point"] and all(block.is_loose for block in self.blocks):
            self.complaints.append("project: no block is in the quilt that is on point")

    def _find_place(self, where: str, name: str | None) -> tuple[int, int | None] | None:
        """The frame and the block of what is said to belong to a block, or to none."""
        if name is None:
            return THE_QUILT, None
        place = self.block_places.get(name)
        if place is None:
            self.complaints.append(f"{where}: there is no block {name}")
            return None
        return (place if self.blocks[place].is_loose else THE_QUILT), place

    def _read_patch(self, patch: PlanPatch, fabrics: dict[str, bool]) -> PatchRead | None:
        where = f"patch {patch['id']}"
        place = self._find_place(where, patch["block"])
        self._name_side(where, patch["id"], place)
        if patch["fabric"] not in fabrics:
            self.complaints.append(f"{where}: there is no fabric {patch['fabric']}")
        outline = trim_outline([self._point(corner) for corner in patch["corners"]])
        if len(outline) < 3 or crosses_itself(outline):
            self.complaints.append(f"{where}: its corners are no outline")
            return None
        if place is None:
            return None
        has_way = fabrics.get(patch["fabric"], False)
        is_of_edges = patch["block"] is None or (has_way and place[0] == THE_QUILT)
        is_askew = is_of_edges and self.plan["project"]["on_point"]
        return PatchRead(patch["id"], *place, patch["fabric"], outline, is_askew, has_way)

    def _read_seam(self, seam: PlanSeam) -> SeamRead | None:
        where = f"seam {seam['id']}"
        place = self._find_place(where, seam["block"])
        if seam["press"] not in ("a", "b", "open"):
            self.complaints.append(f"{where}: it is pressed to '{seam['press']}', which is no side")
        closes = self._read_closing(seam)
        a = self._find_side(seam["id"], "a", seam["a"], place)
        b = None if seam["b"] is None else self._find_side(seam["id"], "b", seam["b"], place)
        self._name_side(where, seam["id"], place)
        if place is None or a is None or (b is None) != (seam["b"] is None):
            return None
        of_a, of_b = self.side_blocks[a], None if b is None else self.side_blocks[b]
        if place[1] is None and of_a is not None and of_a[1] is not None and of_a == of_b:
            self.complaints.append(f"{where}: both its sides are of block {self.blocks[of_a[1]].id}")
        start, end = self._point(seam["from"]), self._point(seam["to"])
        legs = self._read_legs(where, seam, start, end)
        spin = self._point(seam["spin"]) if "spin" in seam else None
        is_partial = bool(seam.get("partial"))
        return SeamRead(seam["id"], *place, a, b, start, end, seam["press"], legs, spin, is_partial, closes)

    def _read_closing(self, seam: PlanSeam) -> int | None:
        """The partial seam that this one closes, by its place among the seams; complaints of what can't be so."""
        where, closes = f"seam {seam['id']}", seam.get("closes")
        if seam.get("partial") and "spin" in seam:
            self.complaints.append(f"{where}: it is partial, and spun")
        if closes is None:
            if seam["b"] is None:
                self.complaints.append(f"{where}: it has no side b, and closes no seam")
            return None
        place = self.side_places.get(closes, -1) - len(self.plan["patches"])
        why_not = self._why_not_closing(seam, closes, place)
        if why_not:
            self.complaints.append(f"{where}: {why_not}")
        self.closed_by.setdefault(closes, seam["id"])
        return place

    def _why_not_closing(self, seam: PlanSeam, closes: str, place: int) -> str | None:
        if seam["b"] is not None:
            return f"it closes {closes}, and has a side b"
        if any(seam.get(key) for key in ("partial", "set_in", "legs", "spin")):
            return f"it closes {closes}, so it is not partial, set in or spun"
        if place < 0:
            return f"it closes {closes}, which is no earlier seam"
        part = self.plan["seams"][place]
        if not part.get("partial"):
            return f"it closes {closes}, which is not partial"
        if closes in self.closed_by:
            return f"{closes} is already closed by {self.closed_by[closes]}"
        if seam["a"] in self.side_places and not self._lies_in(closes, seam["a"]):
            return f"{closes} does not lie in its side a, {seam['a']}"
        if seam["press"] != part["press"]:
            return f"it is pressed to '{seam['press']}', and {closes}, which it closes, to '{part['press']}'"
        return None

    def _lies_in(self, name: str, side: str) -> bool:
        """Whether a seam is one of those that a side was sewn with."""
        while name != side and self.side_places[name] in self.user:
            name = self.user[self.side_places[name]]
        return name == side

    def _check_closed(self) -> None:
        for seam in self.plan["seams"]:
            if seam.get("partial") and seam["id"] not in self.closed_by:
                self.complaints.append(f"seam {seam['id']}: it is partial, and never closed")

    def _read_legs(self, where: str, seam: PlanSeam, start: Point, end: Point) -> tuple[tuple[Point, Point], ...]:
        """The stretches of a seam that is set in, which lead from its one end to its other."""
        legs = [(self._point(first), self._point(last)) for first, last in seam.get("legs", ())]
        if bool(seam.get("set_in")) != bool(legs):
            self.complaints.append(f"{where}: it is set in and has no legs, or the other way round")
        elif legs and [start, *(last for _, last in legs)] != [*(first for first, _ in legs), end]:
            self.complaints.append(f"{where}: its legs do not lead from its one end to its other")
        return tuple(legs)

    def _find_side(self, seam: str, side: str, name: str, place: tuple[int, int | None] | None) -> int | None:
        """A side of a seam; one of a seam of a block lies in that block."""
        where = f"seam {seam}: side {side}, {name},"
        found = self.side_places.get(name)
        if found is None:
            self.complaints.append(f"{where} is no patch and no earlier seam")
            return None
        if found in self.user:
            self.complaints.append(f"{where} is already used by {self.user[found]}")
        self.user[found] = seam
        known = self.side_blocks[found]
        if place is not None and known is not None:
            frame, block = place
            if known[0] != frame or block not in (None, known[1]):
                self.complaints.append(f"{where} lies in another block")
        return found

    def _name_side(self, where: str, name: str, place: tuple[int, int | None] | None) -> None:
        if name in self.side_places:
            self.complaints.append(f"{where}: the name is used twice")
        self.side_places[name] = len(self.side_blocks)
        self.side_blocks.append(place)


def _split(length: Number) -> tuple[int | Fraction, ...]:
    return (length.plain, length.times) if isinstance(length, Rooted) else (length,)


def cross(start: Point, middle: Point, end: Point) -> Number:
    """Above 0 where the way start, middle, end turns from x to y, 0 where it is straight."""
    return (middle[0] - start[0]) * (end[1] - middle[1]) - (middle[1] - start[1]) * (end[0] - middle[0])


def twice_area(corners: Sequence[Point]) -> Number:
    """Twice the signed area: above 0 where the corners turn from x to y."""
    return sum_up(
        corners[place - 1][0] * corner[1] - corners[place - 1][1] * corner[0] for place, corner in enumerate(corners)
    )


def trim_outline(corners: Sequence[Point]) -> Outline:
    """The outline in its one sense of rotation, without the corners that lie on a straight line; () without area."""
    kept = list(corners)
    place = 0
    unmoved = 0
    while len(kept) > 2 and unmoved < len(kept):
        place %= len(kept)
        if cross(kept[place - 1], kept[place], kept[(place + 1) % len(kept)]) == 0:
            del kept[place]
            place -= 1
            unmoved = 0
        else:
            place += 1
            unmoved += 1
    area = twice_area(kept)
    if len(kept) < 3 or area == 0:
        return ()
    return tuple(kept) if area > 0 else tuple(reversed(kept))


def crosses_itself(outline: Outline) -> bool:
    """Whether two sides of it touch that are no neighbours. Patches have few corners: each side with each."""
    sides = [(outline[place - 1], corner) for place, corner in enumerate(outline)]
    return any(
        _touch(sides[first], sides[second])
        for first in range(len(sides))
        for second in range(first + 2, len(sides))
        if not (first == 0 and second == len(sides) - 1)
    )


def _touch(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    if any(
        max(first[0][axis], first[1][axis]) < min(second[0][axis], second[1][axis])
        or max(second[0][axis], second[1][axis]) < min(first[0][axis], first[1][axis])
        for axis in (0, 1)
    ):
        return False
    apart = cross(*first, second[0]) * cross(*first, second[1])
    across = cross(*second, first[0]) * cross(*second, first[1])
    return apart <= 0 and across <= 0
