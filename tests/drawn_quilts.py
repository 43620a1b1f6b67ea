"""Random small quilts as texts of project files, each with what it must come to, worked out here by itself.

x runs right, y down; turns are quarters, clockwise. All lengths are inches.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil
from types import MappingProxyType
from typing import NamedTuple

from hypothesis import strategies as st

Point = tuple[Fraction, Fraction]
Rooted = tuple[Fraction, Fraction]  # plain + times * sqrt(2)
SEAM = Fraction(1, 4)
CLOTH = {"navy": 42, "shell": 16, "coral": 13, "sand": 42}  # how wide it is sold; 2 in of it can't be used
VALUES = {"navy": "dark", "shell": "light", "coral": "medium", "sand": "4"}
# Of each draft its finished size and its patches: a fabric, and corners
DRAFTS = {
    "plain": ("6 x 6", ["shell 0,0 6,0 6,6 0,6"]),
    "rail": ("6 x 6", ["navy 0,0 2,0 2,6 0,6", "shell 2,0 4,0 4,6 2,6", "navy 4,0 6,0 6,6 4,6"]),
    "sail": ("6 x 6", ["navy 0,0 6,0 0,6", "shell 6,0 6,6 0,6"]),
    "four": (
        "6 x 6",
        ["navy 0,0 3,0 3,3 0,3", "shell 3,0 6,0 6,3 3,3", "shell 0,3 3,3 3,6 0,6", "navy 3,3 6,3 6,6 3,6"],
    ),
    "hook": ("6 x 6", ["navy 0,0 6,0 6,2 0,2", "shell 0,2 2,2 2,6 0,6", "coral 2,2 6,2 6,6 2,6"]),
    "wave": ("6 x 4", ["navy 0,0 6,0 0,4", "shell 6,0 6,4 0,4"]),
    "plank": ("6 x 4", ["coral 0,0 6,0 6,2 0,2", "navy 0,2 6,2 6,4 0,4"]),
    "upright": ("4 x 6", ["navy 0,0 2,0 2,6 0,6", "coral 2,0 4,0 4,6 2,6"]),
}
MITRED = "mitred"
SQUARE = tuple(name for name, (size, _) in DRAFTS.items() if size == "6 x 6")


class Drawn(NamedTuple):
    """A patch: its corners sorted, which tells a convex outline."""

    fabric: str
    corners: tuple[tuple[Rooted, Rooted], ...]


class Here(NamedTuple):
    """A block of the quilt: its draft, the quarters it is turned by, and two fabrics that are exchanged in it."""

    draft: str
    turn: int
    swap: tuple[str, str] | None = None


Border = tuple[Fraction, str, str | None]  # width, fabric, fabric of posts (or `mitred`)


class Quilt(NamedTuple):
    """A project file, and what it says: rows of blocks, sashing (width, fabric, fabric of posts) and borders."""

    text: str
    rows: tuple[tuple[Here, ...], ...]
    sashing: tuple[Fraction, str, str | None] | None = None
    borders: tuple[Border, ...] = ()
    is_on_point: bool = False
    loose: tuple[tuple[str, int], ...] = ()


def quilts() -> st.SearchStrategy[Quilt]:
    # By seeds, since random numbers that hypothesis picks itself are mostly the least ones: quilts of one block
    return st.integers(0, 9_999).map(lambda seed: draw_quilt(random.Random(seed)))


def draw_quilt(
    chance: random.Random, most_across: int = 3, most_down: int = 3, drafts: Sequence[str] = tuple(DRAFTS)
) -> Quilt:
    """The same `random.Random(seed)` gives the same quilt; its drafts are some of those named."""
    square = [name for name in drafts if name in SQUARE]
    few = chance.sample(square, min(len(square), chance.choice((1, 1, 2, 3))))
    if chance.random() < 0.25:
        return _draw_on_point(chance, few, most_across, min(most_down, 3))
    across, down = chance.randint(1, most_across), chance.randint(1, most_down)
    levels = [chance.choice((6, 6, 4)) if set(drafts) - set(SQUARE) else 6 for _ in range(down)]
    rows = tuple(tuple(_draw_block(chance, few, drafts, high) for _ in range(across)) for high in levels)
    sashing = None
    if across * down > 1 and chance.random() < 0.5:
        sashing = (chance.choice((Fraction(1), Fraction(3, 2))), "sand", chance.choice((None, "coral")))
    return _write(chance, Quilt("", rows, sashing, _draw_borders(chance, (None, None, "navy", MITRED))))


def _draw_borders(chance: random.Random, corners: Sequence[str | None]) -> tuple[Border, ...]:
    widths = (Fraction(2), Fraction(5, 2), Fraction(1, 2))
    return tuple(
        (chance.choice(widths), chance.choice(("shell", "coral", "sand")), chance.choice(corners))
        for _ in range(chance.choice((0, 0, 1, 2)))
    )


def _draw_on_point(chance: random.Random, few: Sequence[str], most_across: int, most_down: int) -> Quilt:
    long = chance.randint(1, most_across)
    down = chance.choice([rows for rows in (1, 3) if rows <= most_down]) if long > 1 else 1
    rows = tuple(tuple(_draw_block(chance, few, few, 6) for _ in range(long - number % 2)) for number in range(down))
    return _write(chance, Quilt("", rows, borders=_draw_borders(chance, (None, "navy")), is_on_point=True))


def _draw_block(chance: random.Random, few: Sequence[str], drafts: Sequence[str], high: int) -> Here:
    """A block that is 6 wide and so high as it lies."""
    if high == 4:
        level = [(name, turns) for name, turns in (("wave", (0, 2)), ("plank", (0, 2)), ("upright", (1, 3)))]
        name, turns = chance.choice([one for one in level if one[0] in drafts])
        return Here(name, chance.choice(turns))
    swap = ("navy", "shell") if chance.random() < 0.15 else None
    return Here(chance.choice(few), chance.choice((0, 0, 0, 1, 2, 3)), swap)


def _write(chance: random.Random, quilt: Quilt) -> Quilt:
    names = sorted({here.draft for row in quilt.rows for here in row})
    loose = tuple((name, chance.randint(1, 2)) for name in names if chance.random() < 0.2)
    joining = chance.choice((None, None, "rows", "quarters", "webbed"))
    return quilt._replace(text=write_quilt(quilt, loose, joining), loose=loose)


def write_quilt(
    quilt: Quilt, loose: Sequence[tuple[str, int]] = (), joining: str | None = None, press: str = ""
) -> str:
    """The project file of a quilt."""
    lines = ["project: Tidewater top", "fabrics:"]
    lines += [f"  {name}: {{value: {VALUES[name]}, width: {wide}}}" for name, wide in CLOTH.items()]
    lines.append("blocks:")
    for name in sorted({here.draft for row in quilt.rows for here in row}):
        size, patches = DRAFTS[name]
        lines += [f"  {name}:", f"    size: {size}", f"    box: {size}", "    patches:"]
        for patch in patches:
            fabric, _, corners = patch.partition(" ")
            lines.append(f'      - {{fabric: {fabric}, corners: "{corners}"}}')
    if loose:
        lines += ["make:", *(f"  - {{block: {name}, count: {count}}}" for name, count in loose)]
    lines += ["quilt:", "  rows:", *(f"    - [{', '.join(map(_spell_here, row))}]" for row in quilt.rows)]
    if quilt.is_on_point:
        lines += ["  layout: on point", "  setting: sand"]
    if quilt.sashing:
        width, fabric, posts = quilt.sashing
        lines.append(f"  sashing: {{width: {width}, fabric: {fabric}{f', posts: {posts}' if posts else ''}}}")
    if quilt.borders:
        lines.append("  border:")
        for width, fabric, posts in quilt.borders:
            lines.append(f"    - {{width: {width}, fabric: {fabric}{f', corners: {posts}' if posts else ''}}}")
    if joining:
        lines.append(f"  joining: {joining}")
    return "\n".join((*lines, press, ""))


def _spell_here(here: Here) -> str:
    if here.swap:
        one, other = here.swap
        turned = f", turn: {90 * here.turn}" if here.turn else ""
        return f"{{block: {here.draft}{turned}, swap: {{{one}: {other}, {other}: {one}}}}}"
    return f"{here.draft} turn {90 * here.turn}" if here.turn else here.draft


# --- what it must come to


def read_rooted(text: str) -> Rooted:
    """A coordinate of a plan: `6 1/2`, `13/2 + 3/4*sqrt(2)`, `sqrt(2)`."""
    plain, times = Fraction(0), Fraction(0)
    for term in text.split(" + "):
        if term.endswith("sqrt(2)"):
            times += Fraction(term.removesuffix("sqrt(2)").removesuffix("*") or 1)
        else:
            plain += sum(Fraction(word) for word in term.split())
    return plain, times


def measure(number: Rooted) -> float:
    return float(number[0]) + float(number[1]) * 2**0.5


class Place(NamedTuple):
    """A block where it lies in the quilt without its borders, with its patches, which lie as they do with them."""

    draft: str
    left: Fraction
    top: Fraction
    width: Fraction
    height: Fraction
    patches: tuple[Drawn, ...]


def frame_of(quilt: Quilt) -> Fraction:
    """How wide all borders are together."""
    return sum((width for width, _, _ in quilt.borders), start=Fraction(0))


def expect_blocks(quilt: Quilt) -> tuple[Place, ...]:
    """All blocks in the order of the rows. The box round the whole quilt begins at 0, 0."""
    return _expect_on_point(quilt) if quilt.is_on_point else _expect_straight(quilt)


def _expect_straight(quilt: Quilt) -> tuple[Place, ...]:
    gap = quilt.sashing[0] if quilt.sashing else Fraction(0)
    places, top = [], Fraction(0)
    for row in quilt.rows:
        left = Fraction(0)
        for here in row:
            places.append(_place(here, left, top, (frame_of(quilt), Fraction(0))))
            left += places[-1].width + gap
        top += places[-1].height + gap
    return tuple(places)


def _expect_on_point(quilt: Quilt) -> tuple[Place, ...]:
    """The frame is turned: one block to the right in the quilt is one on in x and one back in y; one row down is half
    a block each. A border moves it all by its own width, slantwise."""
    across = len(quilt.rows[0])
    places = []
    for down, row in enumerate(quilt.rows):
        for number, here in enumerate(row):
            right, below = Fraction(2 * number + 1 + down % 2, 2), Fraction(down + 1, 2)  # of its middle, in diagonals
            x, y = (right + below) * 6, (below - right + across) * 6
            places.append(_place(here, x - 3, y - 3, (Fraction(0), frame_of(quilt))))
    return tuple(places)


def _place(here: Here, left: Fraction, top: Fraction, moved: Rooted) -> Place:
    size, patches = DRAFTS[here.draft]
    wide, high = (Fraction(side) for side in size.split(" x "))
    drawn = []
    for patch in patches:
        fabric, *corners = patch.split()
        if here.swap and fabric in here.swap:
            fabric = here.swap[fabric == here.swap[0]]
        points = [(Fraction(x), Fraction(y)) for x, y in (corner.split(",") for corner in corners)]
        turned_high = [high, wide, high, wide]
        for turn in range(here.turn):
            points = [(turned_high[turn] - y, x) for x, y in points]
        lying = (((x + left + moved[0], moved[1]), (y + top + moved[0], moved[1])) for x, y in points)
        drawn.append(Drawn(fabric, tuple(sorted(lying))))
    if here.turn % 2:
        wide, high = high, wide
    return Place(here.draft, left, top, wide, high, tuple(sorted(drawn)))


def expect_size(quilt: Quilt) -> tuple[Fraction, Fraction]:
    """Width and height without borders, as one looks at the quilt; on point in sixths of a block's diagonal."""
    if quilt.is_on_point:
        return Fraction(6 * len(quilt.rows[0])), Fraction(3 * (len(quilt.rows) + 1))
    last = expect_blocks(quilt)[-1]
    return last.left + last.width, last.top + last.height


def expect_strips(
    quilt: Quilt, cloth: Mapping[str, int] = MappingProxyType(CLOTH)
) -> list[tuple[str, Fraction, Fraction]]:
    """Every patch of sashing and borders of a straight quilt without mitred ones: fabric, the shorter and the longer
    side. Longer than the cloth is wide, with its allowances, a strip is pieced from equal lengths."""
    strips: list[tuple[str, Fraction, Fraction]] = []
    blocks, across = expect_blocks(quilt), len(quilt.rows[0])
    widths, heights = [block.width for block in blocks[:across]], [block.height for block in blocks[::across]]
    if quilt.sashing:
        wide, fabric, posts = quilt.sashing
        strips += [(fabric, wide, high) for high in heights for _ in widths[1:]]
        for _ in heights[1:]:
            if posts:
                strips += [(fabric, wide, block) for block in widths]
                strips += [(posts, wide, wide)] * (across - 1)
            else:
                strips.append((fabric, wide, sum(widths, start=Fraction(0)) + wide * (across - 1)))
    wide_in, high_in = expect_size(quilt)
    for wide, fabric, posts in quilt.borders:
        strips += [(fabric, wide, high_in)] * 2
        strips += [(fabric, wide, wide_in if posts else wide_in + 2 * wide)] * 2
        strips += [(posts, wide, wide)] * 4 if posts else []
        wide_in, high_in = wide_in + 2 * wide, high_in + 2 * wide
    pieced = []
    for fabric, wide, long in strips:
        many = ceil(long / (cloth[fabric] - 2 - 2 * SEAM))
        pieced += [(fabric, *sorted((wide, long / many)))] * many
    return sorted(pieced)
