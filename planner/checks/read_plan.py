"""A plan as its checkers see it: names looked up, corners in whole steps of one scale.

The checkers share this room with each other, but nothing with the planner: they read the plan's text by themselves,
so that a mistake of the planner can't hide in code that both use.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import lcm
from typing import Literal, NamedTuple

from planner.checks.plan_file import Plan, PlanPatch, PlanPoint, PlanSeam
from planner.checks.surd import read_surd

Point = tuple[int, int]
Outline = tuple[Point, ...]  # its inside on the side that a turn from x to y leads to; no corner on a straight line

_NOT_YET = ("partial", "closes", "set_in", "legs")


class BlockRead(NamedTuple):
    id: str
    width: int
    height: int


class PatchRead(NamedTuple):
    id: str
    block: int  # its place among the blocks
    fabric: str
    outline: Outline


class SeamRead(NamedTuple):
    """A seam and its result. A side is told by its place: the patches first, then the seams."""

    id: str
    block: int
    a: int
    b: int
    start: Point
    end: Point
    press: Literal["a", "b", "open"]

    @property
    def pressed(self) -> int | None:
        """The side that the allowances fall to."""
        return {"a": self.a, "b": self.b, "open": None}[self.press]


class Work(NamedTuple):
    """Patches and the seams that sew them, each side earlier than its seam and used once at most.

    All whole numbers are steps of 1/scale inch.
    """

    scale: int
    allowance: Fraction  # inches
    blocks: tuple[BlockRead, ...]
    patches: tuple[PatchRead, ...]
    seams: tuple[SeamRead, ...]

    def name(self, side: int) -> str:
        return self.patches[side].id if side < len(self.patches) else self.seams[side - len(self.patches)].id

    def inches(self, step: int) -> Fraction:
        return Fraction(step, self.scale)

    def spell(self, point: Point) -> str:
        """A point for a complaint: `6, 13/2`."""
        return ", ".join(str(self.inches(step)) for step in point)


def read_work(plan: Plan) -> tuple[Work | None, tuple[str, ...]]:
    """The work of a plan that is shaped as `plan_file` says, or what keeps it from being followed."""
    return _Reading(plan).read()


class _Reading:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.complaints: list[str] = []
        self.lengths: dict[str, Fraction] = {}  # few texts, many times
        self.scale = 1
        self.block_places: dict[str, int] = {}
        self.side_places: dict[str, int] = {}
        self.side_blocks: list[int | None] = []
        self.user: dict[int, str] = {}

    def read(self) -> tuple[Work | None, tuple[str, ...]]:
        plan = self.plan
        self._read_lengths()
        if plan["project"]["on_point"]:
            self.complaints.append("project: a quilt on point is not checked yet")
        if self.complaints:
            return None, tuple(self.complaints)
        allowance = self.lengths[plan["project"]["seam"]]
        blocks = self._read_blocks()
        fabrics = {fabric["id"] for fabric in plan["fabrics"]}
        patches = [self._read_patch(patch, fabrics) for patch in plan["patches"]]
        seams = [self._read_seam(seam) for seam in plan["seams"]]
        if self.complaints:
            return None, tuple(self.complaints)
        return Work(
            self.scale,
            allowance,
            tuple(blocks),
            tuple(patch for patch in patches if patch),
            tuple(seam for seam in seams if seam),
        ), ()

    def _read_lengths(self) -> None:
        plan = self.plan
        self._read_texts("project", [plan["project"]["seam"]])
        for block in plan["blocks"]:
            self._read_texts(f"block {block['id']}", block["size"])
        for patch in plan["patches"]:
            self._read_texts(f"patch {patch['id']}", (text for corner in patch["corners"] for text in corner))
        for seam in plan["seams"]:
            self._read_texts(f"seam {seam['id']}", (*seam["from"], *seam["to"]))
        self.scale = lcm(*(length.denominator for length in self.lengths.values()))

    def _read_texts(self, where: str, texts: Iterable[str]) -> None:
        for text in texts:
            if text in self.lengths:
                continue
            try:
                length = read_surd(text)
            except ValueError as error:
                self.complaints.append(f"{where}: {error}")
                continue
            if length.square:
                self.complaints.append(f"{where}: '{text}' has a root: not checked yet")
            self.lengths[text] = length.plain

    def _steps(self, text: str) -> int:
        return int(self.lengths[text] * self.scale)

    def _point(self, point: PlanPoint) -> Point:
        x, y = point
        return self._steps(x), self._steps(y)

    def _read_blocks(self) -> list[BlockRead]:
        blocks: list[BlockRead] = []
        for block in self.plan["blocks"]:
            if block["id"] in self.block_places:
                self.complaints.append(f"block {block['id']}: the name is used twice")
            if not block["loose"]:
                self.complaints.append(f"block {block['id']}: a block of a quilt is not checked yet")
            self.block_places[block["id"]] = len(blocks)
            width, height = self._point(block["size"])
            if width <= 0 or height <= 0:
                self.complaints.append(f"block {block['id']}: its size is nothing")
            blocks.append(BlockRead(block["id"], width, height))
        return blocks

    def _find_block(self, where: str, name: str | None) -> int | None:
        if name is None:
            self.complaints.append(f"{where}: what belongs to no block is not checked yet")
        elif name not in self.block_places:
            self.complaints.append(f"{where}: there is no block {name}")
        return None if name is None else self.block_places.get(name)

    def _read_patch(self, patch: PlanPatch, fabrics: set[str]) -> PatchRead | None:
        where = f"patch {patch['id']}"
        block = self._find_block(where, patch["block"])
        self._name_side(where, patch["id"], block)
        if patch["fabric"] not in fabrics:
            self.complaints.append(f"{where}: there is no fabric {patch['fabric']}")
        outline = trim_outline([self._point(corner) for corner in patch["corners"]])
        if len(outline) < 3 or crosses_itself(outline):
            self.complaints.append(f"{where}: its corners are no outline")
            return None
        return None if block is None else PatchRead(patch["id"], block, patch["fabric"], outline)

    def _read_seam(self, seam: PlanSeam) -> SeamRead | None:
        where = f"seam {seam['id']}"
        block = self._find_block(where, seam["block"])
        if any(seam.get(key) for key in _NOT_YET) or seam["b"] is None:
            self.complaints.append(f"{where}: partial and set-in seams are not checked yet")
            self._name_side(where, seam["id"], block)
            return None
        if seam["press"] not in ("a", "b", "open"):
            self.complaints.append(f"{where}: it is pressed to '{seam['press']}', which is no side")
        a = self._find_side(seam["id"], "a", seam["a"], block)
        b = self._find_side(seam["id"], "b", seam["b"], block)
        self._name_side(where, seam["id"], block)
        if block is None or a is None or b is None:
            return None
        return SeamRead(seam["id"], block, a, b, self._point(seam["from"]), self._point(seam["to"]), seam["press"])

    def _find_side(self, seam: str, side: str, name: str, block: int | None) -> int | None:
        where = f"seam {seam}: side {side}, {name},"
        place = self.side_places.get(name)
        if place is None:
            self.complaints.append(f"{where} is no patch and no earlier seam")
            return None
        if place in self.user:
            self.complaints.append(f"{where} is already used by {self.user[place]}")
        self.user[place] = seam
        if block is not None and self.side_blocks[place] not in (None, block):
            self.complaints.append(f"{where} lies in another block")
        return place

    def _name_side(self, where: str, name: str, block: int | None) -> None:
        if name in self.side_places:
            self.complaints.append(f"{where}: the name is used twice")
        self.side_places[name] = len(self.side_blocks)
        self.side_blocks.append(block)


def cross(start: Point, middle: Point, end: Point) -> int:
    """Above 0 where the way start, middle, end turns from x to y, 0 where it is straight."""
    return (middle[0] - start[0]) * (end[1] - middle[1]) - (middle[1] - start[1]) * (end[0] - middle[0])


def twice_area(corners: Sequence[Point]) -> int:
    """Twice the signed area: above 0 where the corners turn from x to y."""
    return sum(
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
