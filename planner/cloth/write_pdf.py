"""Pages -> the bytes of a PDF file. Nothing is compressed, dated or numbered at random: same pages, same bytes.

A page is drawn in billionths of an inch, x right, y down from its upper left corner; one inch of it is one inch on
paper. Its one typeface is a standard one that every reader has, so nothing is embedded.
"""

from __future__ import annotations

from collections.abc import Sequence

from planner.cloth.pdf_text import write_string, write_title
from planner.pictures.svg_elements import Spot, spell_decimal

POINTS = 72  # to an inch


class Page:
    """One page as it is drawn, its size in billionths of an inch."""

    def __init__(self, width: int, height: int) -> None:
        self.width = width
        self.height = height
        scale = f"{POINTS} 0 0 -{POINTS} 0 {spell_decimal(POINTS * height)} cm"
        self._lines = [scale]

    def set_line(self, width: int, dashes: Sequence[int] = ()) -> None:
        """How lines are drawn from here on: how thick, and with dashes and gaps that long in turn."""
        self._lines.append(f"{spell_decimal(width)} w [{' '.join(map(spell_decimal, dashes))}] 0 d")

    def draw_line(self, start: Spot, end: Spot) -> None:
        self._lines.append(f"{_spell(start)} m {_spell(end)} l S")

    def draw_outline(self, corners: Sequence[Spot], is_filled: bool = False) -> None:
        """A closed outline."""
        first, *rest = map(_spell, corners)
        self._lines.append(f"{first} m {' '.join(f'{corner} l' for corner in rest)} h {'f' if is_filled else 'S'}")

    def write_words(self, words: str, spot: Spot, size: int) -> None:
        """A line of text, level; `spot` is where its baseline begins, `size` that of the type."""
        tall = spell_decimal(size)
        self._lines.append(f"BT /F1 1 Tf {tall} 0 0 -{tall} {_spell(spot)} Tm {write_string(words)} Tj ET")

    def begin_window(self, left: int, top: int, right: int, bottom: int) -> None:
        """From here to `end_window` nothing is drawn outside this rectangle."""
        corner, size = (left, top), (right - left, bottom - top)
        self._lines.append(f"q {_spell(corner)} {_spell(size)} re W n")

    def end_window(self) -> None:
        self._lines.append("Q")

    @property
    def content(self) -> bytes:
        return "\n".join(self._lines).encode("ascii")


def write_pdf(pages: Sequence[Page], title: str) -> bytes:
    """The file. It asks readers not to scale what is printed, and to print on one side."""
    numbers = [5 + 2 * place for place in range(len(pages))]
    wishes = "/ViewerPreferences << /PrintScaling /None /Duplex /Simplex /DisplayDocTitle true >>"
    objects = [
        f"<< /Type /Catalog /Pages 2 0 R {wishes} >>".encode("ascii"),
        f"<< /Type /Pages /Count {len(pages)} /Kids [{' '.join(f'{number} 0 R' for number in numbers)}] >>".encode(),
        b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding >>",
        f"<< /Title {write_title(title)} >>".encode("ascii"),
    ]
    for number, page in zip(numbers, pages, strict=True):
        size = f"{spell_decimal(POINTS * page.width)} {spell_decimal(POINTS * page.height)}"
        shown = f"/MediaBox [0 0 {size}] /Resources << /Font << /F1 3 0 R >> >> /Contents {number + 1} 0 R"
        objects.append(f"<< /Type /Page /Parent 2 0 R {shown} >>".encode("ascii"))
        content = page.content
        objects.append(b"<< /Length %d >>\nstream\n%b\nendstream" % (len(content), content))
    return _bind(objects)


def _bind(objects: Sequence[bytes]) -> bytes:
    """Objects, numbered from 1, with the table of where each begins; the first is the catalogue, the fourth says what
    the file is."""
    file = bytearray(b"%PDF-1.7\n")
    begins = []
    for number, content in enumerate(objects, 1):
        begins.append(len(file))
        file += b"%d 0 obj\n%b\nendobj\n" % (number, content)
    table = len(file)
    file += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    for begin in begins:
        file += b"%010d 00000 n \n" % begin
    file += b"trailer\n<< /Size %d /Root 1 0 R /Info 4 0 R >>\n" % (len(objects) + 1)
    file += b"startxref\n%d\n%%%%EOF\n" % table
    return bytes(file)


def _spell(spot: Spot) -> str:
    return f"{spell_decimal(spot[0])} {spell_decimal(spot[1])}"
