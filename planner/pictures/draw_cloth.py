"""The cloth of a picture: patches in their colours with letters, the borders of blocks, and which blocks lie turned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from planner.pictures.find_room import FreeRoom, Taken
from planner.pictures.paper import Paper
from planner.pictures.svg_elements import (
    Attributes,
    Spot,
    share,
    spell_decimal,
    spell_points,
    write_element,
    write_group,
    write_text,
)
from planner.say_prints import draw_way
from planner.turn_prints import NO_WAY

_LARGEST_LETTER = 42  # hundredths of a patch of the middle size
_LARGEST_SHARE = {1: 120, 2: 95, 3: 70}  # hundredths of the room there is, by how many letters there are
_UPRIGHT = "rotate(-45 {} {})"  # of words in a picture that is turned


class Cloth(NamedTuple):
    """The colours of a fabric as `#rrggbb`: of the cloth, and of what is written on it."""

    cloth: str
    text: str


Colours = Mapping[str, Cloth]


def draw_patches(paper: Paper, colours: Colours, first_patch: int, is_pale: bool = False) -> str:
    """Every patch, named as the plan names it from number `first_patch` on, in groups by fabric."""
    lines: dict[str, list[str]] = {}
    for number, (patch, outline) in enumerate(zip(paper.drafted.patches, paper.outlines, strict=True), first_patch):
        polygon = write_element("polygon", {"id": f"p{number}", "points": spell_points(outline)})
        lines.setdefault(patch.fabric, []).append(polygon)
    edge: Attributes = {"stroke": "#fff", "stroke-width": 3 * line_weight(paper), "stroke-linejoin": "round"}
    groups = [
        write_group({"class": "fabric", "data-fabric": fabric, "fill": fill_of(colours[fabric], is_pale)}, inside)
        for fabric, inside in lines.items()
    ]
    return write_group({"id": "patches", **edge}, groups)


def fill_of(cloth: Cloth, is_pale: bool) -> str:
    """The cloth's colour, or one of it and white, so that lines and arrows stand out on it."""
    if not is_pale:
        return cloth.cloth
    parts = (int(cloth.cloth[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{255 - (255 - part) * 3 // 10:02x}" for part in parts)


def draw_letters(paper: Paper, colours: Colours, is_pale: bool = False, taken: Sequence[Taken] = ()) -> str:
    """The letter of its fabric on every patch, as large as there is room for it beside what is `taken`."""
    letters = {fabric.name: fabric.letter for fabric in paper.plan.project.fabrics}
    free = FreeRoom(paper, taken)
    lines: dict[tuple[str, int], list[str]] = {}
    for number, patch in enumerate(paper.drafted.patches):
        letter = letters[patch.fabric]
        if patch.up != NO_WAY:
            letter += draw_way(paper.see_up(patch.up))
        room = free.find(number, share(paper.typical, _LARGEST_LETTER))
        size = min(share(room.reach, _LARGEST_SHARE[len(letter)]), share(paper.typical, _LARGEST_LETTER))
        lines.setdefault((patch.fabric, size), []).append(write_upright(paper, room.middle, size, letter, {}))
    groups = [
        write_group({"fill": "#555" if is_pale else colours[fabric].text, "font-size": size}, inside)
        for (fabric, size), inside in lines.items()
    ]
    return write_group({"id": "letters", "text-anchor": "middle"}, groups)


def write_upright(paper: Paper, at: Spot, size: int, words: str, attributes: Attributes) -> str:
    """Words whose middle lies at a spot, upright as one looks at the picture."""
    x, y = at
    turned: Attributes = {}
    if paper.is_askew:
        turned = {"transform": _UPRIGHT.format(spell_decimal(x), spell_decimal(y))}
    return write_element("text", {"x": x, "y": y + share(size, 36), **turned, **attributes}, write_text(words))


def draw_block_borders(paper: Paper) -> str:
    """The blocks of the quilt, a little stronger than the seams."""
    if not paper.drafted.is_top:
        return ""
    lines = [
        write_element("rect", {"x": left, "y": top, "width": right - left, "height": bottom - top})
        for _, (left, top, right, bottom) in _boxes(paper)
    ]
    stroke: Attributes = {"fill": "none", "stroke": "#000", "stroke-width": 2 * line_weight(paper)}
    return write_group({"id": "blocks", **stroke}, lines)


def _boxes(paper: Paper) -> Iterator[tuple[int, tuple[int, int, int, int]]]:
    """The blocks of the quilt: which of its pieces, and left, top, right and bottom."""
    top = paper.plan.blocks.top
    assert top is not None
    for number, piece in enumerate(top.pieces):
        if piece.block >= 0:
            block = paper.plan.blocks.drafted[piece.block]
            wide, high = (block.width, block.height) if piece.turn % 2 == 0 else (block.height, block.width)
            x, y = piece.x, piece.y
            yield number, (paper.length(x), paper.length(y), paper.length(x + wide), paper.length(y + high))


class Turns(NamedTuple):
    """How many blocks lie turned as the maker drew it, and how many are turned beyond that so that joins nest."""

    drawn: int
    found: int


def count_turned(paper: Paper) -> Turns:
    """The blocks of the quilt that lie turned."""
    top = paper.plan.blocks.top
    assert top is not None
    found = paper.plan.turned
    extra = [found.get((piece.x, piece.y), 0) for piece in top.pieces if piece.block >= 0]
    drawn = [piece.turn for piece in top.pieces if piece.block >= 0]
    return Turns(sum(turn > 0 and not more for turn, more in zip(drawn, extra, strict=True)), sum(map(bool, extra)))


def draw_turned(paper: Paper) -> str:
    """A triangle in every block that lies turned, pointing at the edge that is the upper one as the block is drawn."""
    top = paper.plan.blocks.top
    if not paper.drafted.is_top or top is None:
        return ""
    lines = []
    for number, (left, above, right, below) in _boxes(paper):
        piece = top.pieces[number]
        extra = paper.plan.turned.get((piece.x, piece.y), 0)
        turn = (piece.turn + extra) % 4
        if not piece.turn and not extra:
            continue
        up_x, up_y = ((0, -1), (1, 0), (0, 1), (-1, 0))[turn]
        wide, high = right - left, below - above
        size = share(min(wide, high), 9)
        middle = (left + right) // 2, (above + below) // 2
        reach = (wide if up_x else high) // 2 - size // 2
        tip = middle[0] + up_x * reach, middle[1] + up_y * reach
        base = tip[0] - up_x * size, tip[1] - up_y * size
        half = share(size, 60)
        corners = (tip, (base[0] - up_y * half, base[1] + up_x * half), (base[0] + up_y * half, base[1] - up_x * half))
        lines.append(
            write_element(
                "polygon",
                {
                    "points": spell_points(corners),
                    "fill": "#fff" if extra else "#000",
                    "data-turn": str(90 * turn),
                    "stroke-width": share(size, 10),
                },
            )
        )
    return write_group({"id": "turned", "stroke": "#000", "stroke-linejoin": "round"}, lines)


def line_weight(paper: Paper) -> int:
    """How thick a seam is drawn."""
    return min(share(paper.typical, 2), max(paper.inches(3), paper.width // 600))
