"""A PDF file of templates, read back by another library than the one that wrote it: inches from a page's upper left."""

from __future__ import annotations

from io import BytesIO
from typing import NamedTuple

from pypdf import PdfReader
from pypdf.generic import ContentStream

Point = tuple[float, float]
Outline = tuple[Point, ...]


class Drawn(NamedTuple):
    """One path. `window` is the rectangle it is cropped to: left, top, right, bottom."""

    corners: Outline
    is_closed: bool
    is_filled: bool
    width: float
    is_dashed: bool
    window: tuple[float, float, float, float] | None


class Words(NamedTuple):
    text: str
    at: Point
    size: float
    window: tuple[float, float, float, float] | None


class PageRead(NamedTuple):
    width: float
    height: float
    paths: list[Drawn]
    words: list[Words]

    @property
    def text(self) -> str:
        return "\n".join(words.text for words in self.words)

    @property
    def cut_lines(self) -> list[Drawn]:
        """The solid outlines of templates: drawn with the thickest line."""
        thickest = 0.0125
        return [path for path in self.paths if path.is_closed and not path.is_filled and path.width == thickest]

    @property
    def seam_lines(self) -> list[Drawn]:
        return [path for path in self.paths if path.is_closed and not path.is_filled and path.is_dashed]


def read_pages(file: bytes) -> list[PageRead]:
    reader = PdfReader(BytesIO(file), strict=True)
    return [_read_page(page, reader) for page in reader.pages]


def _read_page(page, reader: PdfReader) -> PageRead:
    box = page.mediabox
    width, height = float(box.width) / 72, float(box.height) / 72
    matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    line, is_dashed, window = 0.0, False, None
    kept = []
    corners: list[Point] = []
    is_closed = False
    crop: tuple[float, float, float, float] | None = None
    paths: list[Drawn] = []
    words: list[Words] = []
    size, at = 0.0, (0.0, 0.0)

    def place(x: float, y: float) -> Point:
        a, b, c, d, e, f = matrix
        return (a * x + c * y + e) / 72, height - (b * x + d * y + f) / 72

    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        name = operator.decode()
        numbers = [float(one) for one in operands if isinstance(one, (int, float))]
        if name == "cm":
            assert matrix == (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), "one scale for the whole page"
            matrix = tuple(numbers)
        elif name == "w":
            line = numbers[0]
        elif name == "d":
            is_dashed = bool(operands[0])
        elif name == "q":
            kept.append((line, is_dashed, window))
        elif name == "Q":
            line, is_dashed, window = kept.pop()
        elif name == "m":
            corners, is_closed = [place(*numbers)], False
        elif name == "l":
            corners.append(place(*numbers))
        elif name == "h":
            is_closed = True
        elif name == "re":
            x, y, wide, high = numbers
            (left, top), (right, bottom) = place(x, y), place(x + wide, y + high)
            crop = left, top, right, bottom
        elif name == "W":
            window = crop
        elif name in "Sf":
            paths.append(Drawn(tuple(corners), is_closed, name == "f", line, is_dashed, window))
        elif name == "Tm":
            size, at = numbers[0], place(*numbers[4:])
        elif name == "Tj":
            words.append(Words(_decode(operands[0]), at, size, window))
        else:
            assert name in ("BT", "ET", "Tf", "n"), name
    assert not kept
    return PageRead(width, height, paths, words)


def _decode(text: str | bytes) -> str:
    return text.decode("cp1252") if isinstance(text, bytes) else str(text)
