"""The page round a picture: its real size, title and description, and the legend below it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from planner.pictures.draw_cloth import Colours, fill_of, line_weight
from planner.pictures.draw_seams import CLASH_LOOK, DASHES, VERSION_COLOURS, hatch, write_arrow, write_clash
from planner.pictures.paper import Paper
from planner.pictures.svg_elements import Attributes, share, spell_decimal, write_element, write_group, write_text

_LETTER_WIDE = 55  # hundredths of a letter's height: how wide it is, about
_FEWEST_LETTERS = 56  # of the legend that a page is wide at least


class Sign(NamedTuple):
    """One line of the legend: what it looks like ("" for words alone), and what it means."""

    look: str
    words: str


class _Legend:
    def __init__(self, paper: Paper, signs: Sequence[Sign], colours: Colours, is_pale: bool) -> None:
        self.paper = paper
        self.signs = signs
        self.colours = colours
        self.is_pale = is_pale
        # Readable on paper, and beside a picture of any size
        self.letter = max(paper.inches(15), paper.width // 80, paper.height // 100)
        self.margin = 2 * self.letter
        self.width = max(paper.width, _FEWEST_LETTERS * self.letter * _LETTER_WIDE // 100)
        self.height = 0

    def draw(self, title: str, left: int, top: int) -> list[str]:
        """All lines; `height` says afterwards how high they are."""
        y = top + self.letter
        bold: Attributes = {"x": left, "y": y, "font-size": share(self.letter, 120), "font-weight": "bold"}
        lines = [write_element("text", bold, write_text(title))]
        y += share(self.letter, 190)
        for words in self._draw_fabrics(left, y):
            lines.append(words)
        y += self._rows_of_fabrics * share(self.letter, 170)
        for sign in self.signs:
            indent = 3 * self.letter if sign.look else 0
            if sign.look:
                lines.append(self._draw_sign(sign.look, left, y - share(self.letter, 36)))
            for row in wrap(sign.words, (self.width - indent) * 100 // (self.letter * _LETTER_WIDE)):
                lines.append(write_element("text", {"x": left + indent, "y": y}, write_text(row)))
                y += share(self.letter, 140)
            y += share(self.letter, 40)
        self.height = y - top
        return lines

    def _draw_fabrics(self, left: int, top: int) -> Iterator[str]:
        """The fabrics of the picture with their colours and letters, as many in a row as there is room for."""
        used = {patch.fabric for patch in self.paper.drafted.patches}
        x, y, side = left, top, share(self.letter, 150)
        self._rows_of_fabrics = 1
        for fabric in self.paper.plan.project.fabrics:
            if fabric.name not in used:
                continue
            wide = 2 * side + len(fabric.name) * self.letter * _LETTER_WIDE // 100
            if x + wide > left + self.width and x > left:
                x, y = left, y + share(self.letter, 170)
                self._rows_of_fabrics += 1
            cloth = self.colours[fabric.name]
            box: Attributes = {"x": x, "y": y - share(self.letter, 110), "width": side, "height": side}
            yield write_element("rect", {**box, "fill": fill_of(cloth, self.is_pale), "stroke": "#000", **self._thin})
            text: Attributes = {"x": x + side // 2, "y": y, "text-anchor": "middle"}
            colour = "#555" if self.is_pale else cloth.text
            yield write_element("text", {**text, "fill": colour}, write_text(fabric.letter))
            yield write_element("text", {"x": x + share(side, 120), "y": y}, write_text(fabric.name))
            x += wide + self.letter

    @property
    def _thin(self) -> Attributes:
        return {"stroke-width": share(self.letter, 6)}

    def _draw_sign(self, look: str, left: int, middle: int) -> str:
        """A sign of the picture, as large as the words."""
        end, at = left + 2 * self.letter, (left + self.letter, middle)
        line: Attributes = {"x1": left, "y1": middle, "x2": end, "y2": middle, "stroke": "#000", **self._thin}
        if look in ("arrow", "open"):
            arrow = write_arrow(at, (0, share(self.letter, -70)), is_open=look == "open")
            return write_element("line", line) + arrow
        if look == "border":
            return write_element("line", {**line, "stroke-width": share(self.letter, 18)})
        if look == "clash":
            return write_group(
                {**CLASH_LOOK, "stroke-width": share(self.letter, 10)}, [write_clash(at, share(self.letter, 50))]
            )
        if look in ("turned", "drawn"):
            x, y = at
            half = share(self.letter, 45)
            corners = f"{_two(x, y - half)} {_two(x + half, y + half)} {_two(x - half, y + half)}"
            fill = "#fff" if look == "turned" else "#000"
            return write_element("polygon", {"points": corners, "fill": fill, "stroke": "#000", **self._thin})
        version = 1 if look == "first" else 2
        dash, gap = (share(3 * self.letter, part) for part in DASHES[version])
        stroke: Attributes = {
            "stroke": VERSION_COLOURS[version],
            "stroke-width": share(self.letter, 22),
            "stroke-dasharray": f"{spell_decimal(dash)} {spell_decimal(gap)}",
        }
        wide = share(self.letter, 50)
        strokes = hatch((left, middle), (end, middle), (0, wide), wide, version)
        band: Attributes = {"d": strokes, "stroke": VERSION_COLOURS[version], "stroke-width": share(self.letter, 8)}
        return write_element("path", band) + write_element("line", {**line, **stroke})


def _two(x: int, y: int) -> str:
    return f"{spell_decimal(x)},{spell_decimal(y)}"


def lay_out_page(
    paper: Paper,
    colours: Colours,
    title: str,
    words: str,
    layers: Sequence[str],
    signs: Sequence[Sign],
    is_pale: bool = False,
) -> str:
    """The whole file. `layers` are drawn one over the other in the frame of the block."""
    legend = _Legend(paper, signs, colours, is_pale)
    margin = legend.margin
    below = legend.draw(title, margin, margin + paper.height + margin)
    width, height = legend.width + 2 * margin, 3 * margin + paper.height + legend.height
    picture = write_group({"id": "picture", "transform": paper.place(margin, margin)}, layers)
    border: Attributes = {"x": margin, "y": margin, "width": paper.width, "height": paper.height, "fill": "none"}
    border |= {"stroke": "#000", "stroke-width": 2 * line_weight(paper)}
    page: Attributes = {
        "xmlns": "http://www.w3.org/2000/svg",
        "width": f"{spell_decimal(width)}{paper.unit}",
        "height": f"{spell_decimal(height)}{paper.unit}",
        "viewBox": f"0 0 {spell_decimal(width)} {spell_decimal(height)}",
        "role": "img",
        "aria-labelledby": "title desc",
        "font-family": "sans-serif",
    }
    inside = [
        "",
        write_element("title", {"id": "title"}, write_text(title)),
        write_element("desc", {"id": "desc"}, write_text(words)),
        write_element("rect", {"id": "page", "width": width, "height": height, "fill": "#fff"}),
        picture,
        write_element("rect", {"id": "border", **border}),
        write_group({"id": "legend", "font-size": legend.letter}, below),
        "",
    ]
    return write_element("svg", page, "\n".join(inside)) + "\n"


def wrap(words: str, width: int) -> list[str]:
    """Lines of at most so many letters; a longer word stands alone."""
    lines = [""]
    for word in words.split(" "):
        if lines[-1] and len(lines[-1]) + 1 + len(word) > width:
            lines.append(word)
        else:
            lines[-1] = f"{lines[-1]} {word}" if lines[-1] else word
    return lines
