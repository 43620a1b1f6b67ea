"""Small plans written by hand, right in every number, for the checkers' tests to break."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import cast

from planner.checks.plan_file import Plan


def write(
    blocks: str,
    patches: str,
    seams: str,
    joins: str,
    batches: str,
    cut: str,
    fabrics: str = "navy shell",
    on_point: bool = False,
) -> Plan:
    """A plan from lines of words; `-` stands for no block, and in a point `2+3*r` for 2 + 3*sqrt(2), `r3` for sqrt(3).

    blocks  `b1 12 x 12` (`b1 12 x 12 joined`)    seams    `s1 b1 = p1 + p2, 6,0 - 6,6, a`
    patches `p1 b1 navy 0,0 6,0 6,6`              joins    `s3 at 6,6 of s1 s2 nests` (clashes, open)
            sewn in part `s1 b1 = p1 + p2 in part, 6,0 - 6,3, a`, finished `s4 b1 = s3 closes s1, 6,3 - 6,6, a`;
            set in with its corners `s2 b1 = s1 + p3, 0,6 - 6,6 - 6,12, a`
    batches `B1 pass 1: s1 s2, 6 1/2 x 12 1/2`    cut      `2 navy square, 6 x 6, 6 1/2 x 6 1/2, 0,0 13/2,0 ...`
    """
    return cast(
        Plan,
        {
            "plan": 1,
            "project": {"name": "Tidewater", "seam": "1/4", "measure": "in", "on_point": on_point},
            "fabrics": [{"id": name, "value": "medium", "weight": "medium"} for name in fabrics.split()],
            "blocks": [_write_block(line) for line in _lines(blocks)],
            "patches": [_write_patch(line) for line in _lines(patches)],
            "seams": [_write_seam(line) for line in _lines(seams)],
            "joins": [_write_join(line) for line in _lines(joins)],
            "batches": [_write_batch(line) for line in _lines(batches)],
            "cut": [_write_cut(line) for line in _lines(cut)],
        },
    )


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _points(words: Sequence[str]) -> list[list[str]]:
    return [_read_point(word) for word in words]


def _read_point(word: str) -> list[str]:
    return re.sub(r"r(3?)", lambda root: f"sqrt({root[1] or 2})", word.replace("+", " + ")).split(",")


def _write_block(line: str) -> object:
    name, _, size = line.removesuffix(" joined").partition(" ")
    return {"id": name, "draft": "tidewater", "size": size.split(" x "), "loose": not line.endswith("joined")}


def _name_block(word: str) -> str | None:
    return None if word == "-" else word


def _write_patch(line: str) -> object:
    name, block, fabric, *corners = line.split()
    return {"id": name, "block": _name_block(block), "fabric": fabric, "corners": _points(corners)}


def _write_seam(line: str) -> object:
    sides, ends, press = line.split(", ")
    name, block, _, a, how, b, *in_part = sides.split()
    way = _points(ends.split(" - "))
    seam: dict[str, object] = {"id": name, "block": _name_block(block), "a": a, "b": None if how == "closes" else b}
    seam |= {"closes": b} if how == "closes" else {}
    seam |= {"partial": True} if in_part else {}
    seam |= {"set_in": True, "legs": [list(leg) for leg in pairwise(way)]} if len(way) > 2 else {}
    return seam | {"from": way[0], "to": way[-1], "press": press, "why": "so that it nests"}


def _write_join(line: str) -> object:
    seam, _, at, _, a, b, how = line.split()
    why = {"nests": "", "clashes": "both fall one way", "open": "open"}[how]
    return {"seam": seam, "at": _read_point(at), "a": a, "b": b, "nests": how == "nests", "why": why}


def _write_batch(line: str) -> object:
    head, _, rest = line.partition(": ")
    seams, _, unfinished = rest.partition(", ")
    name, _, number = head.split()
    batch = {"id": name, "pass": int(number), "seams": seams.split(), "unit": "a unit"}
    return batch | {"unfinished": unfinished.split(" x ")}


def _write_cut(line: str) -> object:
    told, finished, cut, corners = line.split(", ")
    count, fabric, shape = told.split(maxsplit=2)
    entry = {"fabric": fabric, "shape": shape, "finished": finished.split(" x "), "cut": cut.split(" x ")}
    return entry | {"count": int(count), "corners": _points(corners.split())}


FOUR_PATCH = write(
    blocks="b1 12 x 12",
    patches="""
        p1 b1 navy 0,0 6,0 6,6 0,6
        p2 b1 shell 6,0 12,0 12,6 6,6
        p3 b1 shell 0,6 6,6 6,12 0,12
        p4 b1 navy 6,6 12,6 12,12 6,12
    """,
    seams="""
        s1 b1 = p1 + p2, 6,0 - 6,6, a
        s2 b1 = p3 + p4, 6,6 - 6,12, b
        s3 b1 = s1 + s2, 0,6 - 12,6, a
    """,
    joins="s3 at 6,6 of s1 s2 nests",
    batches="""
        B1 pass 1: s1 s2, 6 1/2 x 12 1/2
        B2 pass 2: s3, 12 1/2 x 12 1/2
    """,
    cut="""
        2 navy square, 6 x 6, 6 1/2 x 6 1/2, 0,0 13/2,0 13/2,13/2 0,13/2
        2 shell square, 6 x 6, 6.5 x 13/2, 0,0 0,6.5 6.5,6.5 6.5,0
    """,
)

# The same square of two triangles, four times: the first two sewn from one side, the others from the other.
PINWHEEL = write(
    blocks="b1 12 x 12",
    patches="""
        p1 b1 navy 0,0 0,6 6,6
        p2 b1 shell 0,0 6,0 6,6
        p3 b1 navy 6,0 12,0 6,6
        p4 b1 shell 12,0 12,6 6,6
        p5 b1 shell 0,6 6,6 0,12
        p6 b1 navy 6,6 6,12 0,12
        p7 b1 shell 6,6 6,12 12,12
        p8 b1 navy 6,6 12,6 12,12
    """,
    seams="""
        s1 b1 = p1 + p2, 0,0 - 6,6, a
        s2 b1 = p3 + p4, 12,0 - 6,6, a
        s3 b1 = p5 + p6, 6,6 - 0,12, b
        s4 b1 = p7 + p8, 6,6 - 12,12, b
        s5 b1 = s1 + s2, 6,0 - 6,6, a
        s6 b1 = s3 + s4, 6,6 - 6,12, b
        s7 b1 = s5 + s6, 0,6 - 12,6, a
    """,
    joins="""
        s5 at 6,6 of s1 s2 nests
        s6 at 6,6 of s3 s4 nests
        s7 at 6,6 of s5 s6 nests
    """,
    batches="""
        B1 pass 1: s1 s2 s3 s4, 6 1/2 x 6 1/2
        B2 pass 2: s5 s6, 6 1/2 x 12 1/2
        B3 pass 3: s7, 12 1/2 x 12 1/2
    """,
    cut="""
        4 navy half-square triangle, 6 x 6, 6 7/8 x 6 7/8, 0,0 55/8,0 0,55/8
        4 shell half-square triangle, 6 x 6, 6 7/8 x 6 7/8, 55/8,55/8 55/8,0 0,55/8
    """,
)

# Two blocks of the same three strips, sewn in the two orders that there are.
THREE_STRIPS = write(
    fabrics="navy shell coral",
    blocks="""
        b1 6 x 6
        b2 6 x 6
    """,
    patches="""
        p1 b1 navy 0,0 2,0 2,6 0,6
        p2 b1 shell 2,0 4,0 4,6 2,6
        p3 b1 coral 4,0 6,0 6,6 4,6
        p4 b2 navy 0,0 2,0 2,6 0,6
        p5 b2 shell 2,0 4,0 4,6 2,6
        p6 b2 coral 4,0 6,0 6,6 4,6
    """,
    seams="""
        s1 b1 = p1 + p2, 2,0 - 2,6, a
        s2 b2 = p5 + p6, 4,0 - 4,6, b
        s3 b1 = s1 + p3, 4,6 - 4,0, b
        s4 b2 = p4 + s2, 2,0 - 2,6, a
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 4 1/2 x 6 1/2
        B2 pass 1: s2, 4 1/2 x 6 1/2
        B3 pass 2: s3, 6 1/2 x 6 1/2
        B4 pass 2: s4, 6 1/2 x 6 1/2
    """,
    cut="""
        2 navy rectangle, 2 x 6, 2 1/2 x 6 1/2, 0,0 5/2,0 5/2,13/2 0,13/2
        2 shell rectangle, 2 x 6, 2 1/2 x 6 1/2, 0,0 13/2,0 13/2,5/2 0,5/2
        2 coral rectangle, 2 x 6, 2 1/2 x 6 1/2, 0,0 5/2,0 5/2,13/2 0,13/2
    """,
)

# A square on its point in a square: roots in what is cut and in what is measured. The corners overhang, so that
# the box round the unit with one corner reaches 1/4 beyond two of its sides and 1/4 * sqrt(2) beyond the third.
SQUARE_IN_SQUARE = write(
    blocks="b1 8 x 8",
    patches="""
        p0 b1 shell 4,0 8,4 4,8 0,4
        p1 b1 navy 0,0 4,0 0,4
        p2 b1 navy 8,0 8,4 4,0
        p3 b1 navy 8,8 4,8 8,4
        p4 b1 navy 0,8 0,4 4,8
    """,
    seams="""
        s1 b1 = p0 + p1, 4,0 - 0,4, b
        s2 b1 = s1 + p3, 8,4 - 4,8, b
        s3 b1 = s2 + p2, 4,0 - 8,4, b
        s4 b1 = s3 + p4, 0,4 - 4,8, b
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 33/4 + 1/4*sqrt(2) x 33/4 + 1/4*sqrt(2)
        B2 pass 2: s2, 8 1/2 x 8 1/2
        B3 pass 3: s3, 8 1/2 x 8 1/2
        B4 pass 4: s4, 8 1/2 x 8 1/2
    """,
    cut="""
        1 shell square, 4*sqrt(2) x 4*sqrt(2), 6 3/16 x 6 3/16, 0,0 99/16,0 99/16,99/16 0,99/16
        4 navy half-square triangle, 4 x 4, 4 7/8 x 4 7/8, 0,0 39/8,0 0,39/8
    """,
)

# Four triangles with their long sides on the outside, where the grain must run.
HOURGLASS = write(
    blocks="b1 6 x 6",
    patches="""
        p1 b1 navy 0,0 6,0 3,3
        p2 b1 shell 6,0 6,6 3,3
        p3 b1 navy 6,6 0,6 3,3
        p4 b1 shell 0,6 0,0 3,3
    """,
    seams="""
        s1 b1 = p1 + p2, 6,0 - 3,3, a
        s2 b1 = p4 + p3, 0,6 - 3,3, b
        s3 b1 = s1 + s2, 0,0 - 6,6, a
    """,
    joins="s3 at 3,3 of s1 s2 nests",
    batches="""
        B1 pass 1: s1 s2, 6 7/8 x 6 7/8
        B2 pass 2: s3, 6 1/2 x 6 1/2
    """,
    cut="""
        2 navy quarter-square triangle, 3 x 6, 3 5/8 x 7 1/4, 0,0 29/4,0 29/8,29/8
        2 shell quarter-square triangle, 3 x 6, 3 5/8 x 7 1/4, 29/8,0 29/8,29/4 0,29/8
    """,
)

# A slanted strip between two mirrored trapezoids (slopes of 3 to 4, so that all lengths are plain fractions).
SLANTED = write(
    fabrics="navy shell",
    blocks="b1 9 x 4",
    patches="""
        p1 b1 navy 0,0 4,0 1,4 0,4
        p2 b1 shell 4,0 8,0 5,4 1,4
        p3 b1 navy 8,0 9,0 9,4 5,4
    """,
    seams="""
        s1 b1 = p1 + p2, 4,0 - 1,4, a
        s2 b1 = s1 + p3, 8,0 - 5,4, b
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 4 1/2 x 8 3/4
        B2 pass 2: s2, 4 1/2 x 9 1/2
    """,
    cut="""
        2 navy other, 4 x 4, 4 1/2 x 4 3/4, -1/4,-1/4 9/2,-1/4 9/8,17/4 -1/4,17/4
        1 shell other, 4 x 7, 4 1/2 x 8, 31/8,-1/4 17/2,-1/4 41/8,17/4 1/2,17/4
    """,
)

# A block by itself, and the same twice in a quilt, once turned by a quarter, with a strip between them and a pieced
# one below.
JOINED = write(
    fabrics="navy shell coral",
    blocks="""
        b1 6 x 6
        b2 6 x 6 joined
        b3 6 x 6 joined
    """,
    patches="""
        p1 b1 navy 0,0 3,0 3,6 0,6
        p2 b1 shell 3,0 6,0 6,6 3,6
        p3 b2 navy 0,0 3,0 3,6 0,6
        p4 b2 shell 3,0 6,0 6,6 3,6
        p5 b3 navy 8,0 14,0 14,3 8,3
        p6 b3 shell 8,3 14,3 14,6 8,6
        p7 - coral 6,0 8,0 8,6 6,6
        p8 - coral 0,6 6,6 6,8 0,8
        p9 - coral 6,6 14,6 14,8 6,8
    """,
    seams="""
        s1 b1 = p1 + p2, 3,0 - 3,6, a
        s2 b2 = p3 + p4, 3,0 - 3,6, a
        s3 b3 = p5 + p6, 8,3 - 14,3, a
        s4 - = s2 + p7, 6,0 - 6,6, a
        s5 - = s4 + s3, 8,0 - 8,6, b
        s6 - = p8 + p9, 6,6 - 6,8, b
        s7 - = s5 + s6, 0,6 - 14,6, b
    """,
    joins="s7 at 6,6 of s4 s6 nests",
    batches="""
        B1 pass 1: s1 s2 s3, 6 1/2 x 6 1/2
        B2 pass 1: s6, 2 1/2 x 14 1/2
        B3 pass 2: s4, 6 1/2 x 8 1/2
        B4 pass 3: s5, 6 1/2 x 14 1/2
        B5 pass 4: s7, 8 1/2 x 14 1/2
    """,
    cut="""
        3 navy rectangle, 3 x 6, 3 1/2 x 6 1/2, 0,0 7/2,0 7/2,13/2 0,13/2
        3 shell rectangle, 3 x 6, 3 1/2 x 6 1/2, 0,0 7/2,0 7/2,13/2 0,13/2
        2 coral rectangle, 2 x 6, 2 1/2 x 6 1/2, 0,0 5/2,0 5/2,13/2 0,13/2
        1 coral rectangle, 2 x 8, 2 1/2 x 8 1/2, 0,0 5/2,0 5/2,17/2 0,17/2
    """,
)

# Five squares on point. In their frame they are a cross, the triangles round them have their grain along the slanting
# edges, and the whole is a square on its point: 16 * sqrt(2).
ON_POINT = write(
    on_point=True,
    fabrics="navy sand",
    blocks="""
        b1 8 x 8 joined
        b2 8 x 8 joined
        b3 8 x 8 joined
        b4 8 x 8 joined
        b5 8 x 8 joined
    """,
    patches="""
        p1 b1 navy 12,4 20,4 20,12 12,12
        p2 b2 navy 4,12 12,12 12,20 4,20
        p3 b3 navy 12,12 20,12 20,20 12,20
        p4 b4 navy 20,12 28,12 28,20 20,20
        p5 b5 navy 12,20 20,20 20,28 12,28
        p6 - sand 4,12 12,4 12,12
        p7 - sand 20,4 28,12 20,12
        p8 - sand 20,28 20,20 28,20
        p9 - sand 12,28 4,20 12,20
        p10 - sand 12,4 16,0 20,4
        p11 - sand 0,16 4,12 4,20
        p12 - sand 32,16 28,12 28,20
        p13 - sand 12,28 16,32 20,28
    """,
    seams="""
        s1 - = p6 + p1, 12,4 - 12,12, a
        s2 - = s1 + p7, 20,4 - 20,12, b
        s3 - = s2 + p10, 12,4 - 20,4, b
        s4 - = p8 + p5, 20,20 - 20,28, a
        s5 - = s4 + p9, 12,20 - 12,28, b
        s6 - = s5 + p13, 12,28 - 20,28, b
        s7 - = p11 + p2, 4,12 - 4,20, a
        s8 - = s7 + p3, 12,12 - 12,20, b
        s9 - = s8 + p4, 20,12 - 20,20, a
        s10 - = s9 + p12, 28,12 - 28,20, b
        s11 - = s3 + s10, 4,12 - 28,12, a
        s12 - = s11 + s6, 4,20 - 28,20, b
    """,
    joins="""
        s11 at 12,12 of s1 s8 nests
        s11 at 20,12 of s2 s9 nests
        s12 at 12,20 of s8 s5 nests
        s12 at 20,20 of s9 s4 nests
    """,
    batches="""
        B1 pass 1: s1 s4, 8 1/2 x 33/2 + 1/4*sqrt(2)
        B2 pass 1: s7, 8 1/2 x 49/4 + 1/4*sqrt(2)
        B3 pass 2: s2 s5, 8 1/2 x 49/2 + 1/2*sqrt(2)
        B4 pass 2: s8, 8 1/2 x 81/4 + 1/4*sqrt(2)
        B5 pass 3: s3 s6, 12 5/8 x 25 1/4
        B6 pass 3: s9, 8 1/2 x 113/4 + 1/4*sqrt(2)
        B7 pass 4: s10, 8 1/2 x 32 + 1/2*sqrt(2)
        B8 pass 5: s11, 81/4 + 1/4*sqrt(2) x 32 + 1/2*sqrt(2)
        B9 pass 6: s12, 1/2 + 16*sqrt(2) x 1/2 + 16*sqrt(2)
    """,
    cut="""
        5 navy square, 8 x 8, 8 1/2 x 8 1/2, 0,0 17/2,0 17/2,17/2 0,17/2
        4 sand quarter-square triangle, 4*sqrt(2) x 8*sqrt(2), 6 5/16 x 12 5/8, 0,0 101/8,0 101/16,101/16
        4 sand half-square triangle, 4*sqrt(2) x 4*sqrt(2), 6 9/16 x 6 9/16, 0,0 105/16,0 0,105/16
    """,
)

# One square on point in a frame 2 wide. The frame is plain along its own edges, so in the frame of the block it has
# roots.
FRAMED_ON_POINT = write(
    on_point=True,
    fabrics="navy sand coral",
    blocks="b1 8 x 8 joined",
    patches="""
        p1 b1 navy 4+2*r,4+2*r 12+2*r,4+2*r 12+2*r,12+2*r 4+2*r,12+2*r
        p2 - sand 2*r,8+2*r 4+2*r,4+2*r 4+2*r,12+2*r
        p3 - sand 16+2*r,8+2*r 12+2*r,12+2*r 12+2*r,4+2*r
        p4 - sand 8+2*r,2*r 12+2*r,4+2*r 4+2*r,4+2*r
        p5 - sand 8+2*r,16+2*r 4+2*r,12+2*r 12+2*r,12+2*r
        p6 - coral 2*r,8+2*r 8+2*r,2*r 8+r,r r,8+r
        p7 - coral 8+2*r,16+2*r 16+2*r,8+2*r 16+3*r,8+3*r 8+3*r,16+3*r
        p8 - coral 8+r,r 16+3*r,8+3*r 16+4*r,8+2*r 8+2*r,0
        p9 - coral r,8+r 8+3*r,16+3*r 8+2*r,16+4*r 0,8+2*r
    """,
    seams="""
        s1 - = p2 + p1, 4+2*r,4+2*r - 4+2*r,12+2*r, a
        s2 - = s1 + p3, 12+2*r,4+2*r - 12+2*r,12+2*r, b
        s3 - = s2 + p4, 4+2*r,4+2*r - 12+2*r,4+2*r, b
        s4 - = s3 + p5, 4+2*r,12+2*r - 12+2*r,12+2*r, b
        s5 - = s4 + p6, 2*r,8+2*r - 8+2*r,2*r, b
        s6 - = s5 + p7, 8+2*r,16+2*r - 16+2*r,8+2*r, b
        s7 - = s6 + p8, 8+r,r - 16+3*r,8+3*r, b
        s8 - = s7 + p9, r,8+r - 8+3*r,16+3*r, a
    """,
    joins="",
    batches="""
        B1 pass 1: s1, 8 1/2 x 49/4 + 1/4*sqrt(2)
        B2 pass 2: s2, 8 1/2 x 16 + 1/2*sqrt(2)
        B3 pass 3: s3, 49/4 + 1/4*sqrt(2) x 16 + 1/2*sqrt(2)
        B4 pass 4: s4, 1/2 + 8*sqrt(2) x 1/2 + 8*sqrt(2)
        B5 pass 5: s5, 1/2 + 8*sqrt(2) x 5/2 + 8*sqrt(2)
        B6 pass 6: s6, 1/2 + 8*sqrt(2) x 9/2 + 8*sqrt(2)
        B7 pass 7: s7, 5/2 + 8*sqrt(2) x 9/2 + 8*sqrt(2)
        B8 pass 8: s8, 9/2 + 8*sqrt(2) x 9/2 + 8*sqrt(2)
    """,
    cut="""
        1 navy square, 8 x 8, 8 1/2 x 8 1/2, 0,0 17/2,0 17/2,17/2 0,17/2
        4 sand half-square triangle, 4*sqrt(2) x 4*sqrt(2), 6 9/16 x 6 9/16, 0,0 105/16,0 0,105/16
        2 coral rectangle, 2 x 8*sqrt(2), 2 1/2 x 11 7/8, 0,0 5/2,0 5/2,95/8 0,95/8
        2 coral rectangle, 2 x 4 + 8*sqrt(2), 2 1/2 x 15 7/8, 0,0 5/2,0 5/2,127/8 0,127/8
    """,
)

GOOD = {
    "four patch": FOUR_PATCH,
    "pinwheel": PINWHEEL,
    "three strips": THREE_STRIPS,
    "square in square": SQUARE_IN_SQUARE,
    "hourglass": HOURGLASS,
    "slanted": SLANTED,
    "joined": JOINED,
    "on point": ON_POINT,
    "framed on point": FRAMED_ON_POINT,
}
