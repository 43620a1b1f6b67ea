"""The layout of each fabric as one SVG picture, true to scale: every rectangle, its pile's letters, the rest of the
cloth pale. Equal strips are drawn once. The same bytes on every machine."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import floor

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.nest_rows import list_cuts
from planner.cloth.place_pieces import Strip
from planner.cloth.rectangles import Rectangle
from planner.pictures.draw_cloth import Colours
from planner.pictures.svg_elements import ONE, Attributes, share, spell_decimal, write_element, write_group, write_text
from planner.sheet import assign_letters, write_sheet
from planner.surd import Exact

MARGIN, HEAD, LINE = ONE, ONE * 3 // 2, ONE // 20
_UNITS = ONE  # billionths of an inch: the page is measured in inches of cloth
_SMALLEST, _LARGEST = ONE // 4, ONE * 3 // 2  # of letters


def draw_layout_svg(cloth: Cloth, colours: Colours, letters: Mapping[str, str] | None = None) -> str:
    """An SVG file of all fabrics, one below the other; `colours` by fabric, `letters` by pile: those of a new sheet
    where none are told."""
    letters = assign_letters(write_sheet(cloth.plan, (cloth, ()))) if letters is None else letters
    y, widest = MARGIN, 0
    groups = []
    for one in cloth.fabrics:
        wide = _length(max(one.fabric.usable, *(piece.room for piece in one.stock), Fraction(0)))
        widest = max(widest, wide)
        lines, y = _draw_fabric(one, y, colours, letters)
        groups.append(write_group({"class": "fabric", "data-fabric": one.fabric.name}, lines))
    width, height = widest + 2 * MARGIN + 4 * ONE, y
    size = {"width": f"{spell_decimal(share(width, 25))}in", "height": f"{spell_decimal(share(height, 25))}in"}
    box = f"0 0 {spell_decimal(width)} {spell_decimal(height)}"
    title = write_element("title", {}, write_text(f"{cloth.plan.project.name}: layout of the cloth"))
    head: Attributes = {"xmlns": "http://www.w3.org/2000/svg", **size, "viewBox": box, "font-family": "sans-serif"}
    return write_element("svg", head, "\n", title, "\n", "\n".join(group for group in groups if group), "\n") + "\n"


def _length(inches: Exact) -> int:
    return floor(inches * _UNITS + Fraction(1, 2))


def _draw_fabric(one: FabricCloth, y: int, colours: Colours, letters: Mapping[str, str]) -> tuple[list[str], int]:
    """Its elements from `y` down, and where the next one begins."""
    lines = [write_element("text", {"x": MARGIN, "y": y + ONE, "font-size": ONE}, write_text(one.fabric.name))]
    y += HEAD
    for number, piece in enumerate(one.stock, 1):
        if not piece.strips:
            continue
        told = write_text(f"piece {number} that is there")
        lines.append(write_element("text", {"x": MARGIN, "y": y + ONE, "font-size": ONE}, told))
        y += HEAD
        for strip in piece.strips:
            lines += _draw_strip(one, strip, piece.room, y, colours, letters)
            y += _length(strip.high) + LINE
        y += MARGIN
    for strip in one.strips:
        lines += _draw_strip(one, strip, one.fabric.usable, y, colours, letters)
        y += _length(strip.high) + LINE
    return lines, y + MARGIN


def _draw_strip(
    one: FabricCloth, strip: Strip, room: Fraction, y: int, colours: Colours, letters: Mapping[str, str]
) -> Iterator[str]:
    colour = colours[one.fabric.name]
    wide, high = _length(room), _length(strip.high)
    edge: Attributes = {"stroke": "#555", "stroke-width": LINE}
    yield write_element("rect", {"x": MARGIN, "y": y, "width": wide, "height": high, "fill": "#f4f4f4", **edge})
    for run in strip.runs:
        rectangle = one.rectangles[run.rectangle]
        name = _find_label(rectangle, letters)
        for column in range(run.across):
            for row in range(run.deep):
                left = MARGIN + _length(run.x + column * run.wide)
                top = y + _length(run.y + row * run.high)
                sides = _length(run.wide), _length(run.high)
                yield write_element(
                    "rect",
                    {"x": left, "y": top, "width": sides[0], "height": sides[1], "fill": colour.cloth, **edge},
                )
                yield from _draw_slants(rectangle, left, top, edge)
                size = min(_LARGEST, share(min(sides), 50), sides[0] // max(1, len(name)))
                if name and size >= _SMALLEST:
                    at: Attributes = {
                        "x": left + sides[0] // 2,
                        "y": top + sides[1] // 2 + share(size, 36),
                        "font-size": size,
                    }
                    yield write_element("text", {**at, "text-anchor": "middle", "fill": colour.text}, write_text(name))
    if strip.times > 1:
        at = {"x": MARGIN + wide + ONE // 2, "y": y + high // 2 + share(ONE, 36), "font-size": ONE}
        yield write_element("text", at, write_text(f"{strip.times} times"))


def _draw_slants(row: Rectangle, left: int, top: int, edge: Attributes) -> Iterator[str]:
    """The slanting cuts of a row of pieces."""
    if not row.is_row or row.slants is None:
        return
    for upper, lower in list_cuts(row.slants, row.makes):
        ends = {"x1": left + _length(upper), "y1": top, "x2": left + _length(lower), "y2": top + _length(row.high)}
        yield write_element("line", {**ends, **edge})


def _find_label(rectangle: Rectangle, letters: Mapping[str, str]) -> str:
    return " ".join(letters[pile] for pile in rectangle.piles if pile in letters)
