"""Plan -> a PDF file of its templates in true size, with squares to check the print on every page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor
from types import MappingProxyType
from typing import NamedTuple

from planner.cloth.label_template import draw_head
from planner.cloth.pdf_text import is_shown, measure_words, shorten_words
from planner.cloth.place_templates import place_templates
from planner.cloth.template_page import LEADING, MARGIN, PAPERS, TYPE, Paper, Placed
from planner.cloth.templates import Template, list_templates
from planner.cloth.write_pdf import Page, write_pdf
from planner.measure import INCHES_PER_CM
from planner.pictures.svg_elements import ONE, Spot, share
from planner.plan import Plan

CUT_LINE, SEAM_LINE, THIN_LINE = share(ONE, 1) * 5 // 4, share(ONE, 1) * 3 // 4, share(ONE, 1) // 2
DASHES, DOTS = (share(ONE, 9), share(ONE, 5)), (share(ONE, 1), share(ONE, 4))
TWO_CM = floor(2 * INCHES_PER_CM * ONE)
_DOT = share(ONE, 1) * 3 // 2  # half the side of the dot at a corner of the seam line
_MARK = share(ONE, 12)  # half of how wide and high a mark is
_TITLE = ONE * 11 // 72


class Drawn(NamedTuple):
    """The file; how many templates are on how many pages; which were left out, being far too large; and the fabrics
    (letter and name) whose names the pages cannot show."""

    file: bytes
    templates: int
    pages: int
    left_out: tuple[Template, ...]
    not_shown: tuple[tuple[str, str], ...]


def draw_templates(
    plan: Plan, paper_name: str, with_all: bool = False, piles: Mapping[str, str] = MappingProxyType({})
) -> Drawn:
    """The templates of a plan; squares and rectangles only `with_all`. `piles` are the letters of the piles. Without
    any template the file has no page."""
    paper = PAPERS[paper_name]
    templates = list_templates(plan, with_all, piles)
    placed, left_out = place_templates(templates, paper)
    pages = []
    for number, here in enumerate(placed, 1):
        page = Page(paper.width, paper.height)
        _draw_head(page, plan, paper, number, len(placed))
        for one in here:
            _draw_placed(page, one)
        pages.append(page)
    names = {(cut.letter, cut.fabric) for template in templates for cut in template.fabrics}
    not_shown = tuple(sorted(one for one in names if not is_shown(one[1])))
    file = write_pdf(pages, f"{plan.project.name}: templates")
    return Drawn(file, len(templates) - len(left_out), len(pages), left_out, not_shown)


def _draw_head(page: Page, plan: Plan, paper: Paper, number: int, pages: int) -> None:
    right = paper.width - MARGIN
    page.set_line(THIN_LINE)
    first, second = right - ONE, right - ONE - share(ONE, 15) - TWO_CM
    for left, side, words in ((first, ONE, "1 in"), (second, TWO_CM, "2 cm")):
        page.draw_outline(_square(left, MARGIN, side))
        spot = (left + (side - measure_words(words, TYPE)) // 2, MARGIN + side // 2 + TYPE // 3)
        page.write_words(words, spot, TYPE)
    wide = second - share(ONE, 15) - MARGIN
    page.write_words(shorten_words(plan.project.name, _TITLE, wide), (MARGIN, MARGIN + _TITLE), _TITLE)
    seam = plan.ruler.exact(plan.project.seam)
    told = [
        f"Templates, page {number} of {pages}, {paper.title}; seam allowance {seam}",
        "Print at 100 %, not fitted to the page. Measure both squares before you cut.",
        "Solid line: cut. Dashed line: seam. Arrow: grain.",
        "Printed side up on the right side of the cloth, down on its wrong side.",
        "Where points are trimmed edges meet there: a piece cut so does not stand out there.",
    ]
    top = MARGIN + _TITLE + share(ONE, 10)
    for line, words in enumerate(told, 1):
        page.write_words(shorten_words(words, TYPE, wide), (MARGIN, top + LEADING * line), TYPE)


def _draw_placed(page: Page, placed: Placed) -> None:
    if placed.window is not None:
        page.begin_window(*placed.window)
    page.set_line(CUT_LINE)
    page.draw_outline(placed.cut)
    page.set_line(SEAM_LINE, DASHES)
    page.draw_outline(placed.seam)
    page.set_line(SEAM_LINE)
    for x, y in placed.seam:
        page.draw_outline(_square(x - _DOT, y - _DOT, 2 * _DOT), is_filled=True)
    _draw_label(page, placed)
    for mark in placed.marks:
        _draw_mark(page, mark.letter, mark.spot)
    if placed.window is not None:
        page.set_line(THIN_LINE, DOTS)
        for start, end in placed.joints:
            page.draw_line(start, end)
        page.end_window()
    x, y = placed.caption_at
    for line, words in enumerate(placed.caption):
        page.write_words(words, (x, y + LEADING * line), TYPE)


def _draw_label(page: Page, placed: Placed) -> None:
    label = placed.label
    for words, spot in label.lines:
        page.write_words(words, spot, label.size)
    if label.arrow is None:
        return
    start, end = label.arrow
    page.draw_line(start, end)
    page.draw_outline(draw_head(end, start), is_filled=True)
    if not placed.template.has_way:  # grain runs both ways, a print only up
        page.draw_outline(draw_head(start, end), is_filled=True)


def _draw_mark(page: Page, letter: str, spot: Spot) -> None:
    """A square on its corner, its middle on the line between two parts, and its letter on both sides of that."""
    x, y = spot
    page.set_line(THIN_LINE)
    page.draw_outline([(x - _MARK, y), (x, y - _MARK), (x + _MARK, y), (x, y + _MARK)])
    wide = measure_words(letter, TYPE)
    page.write_words(letter, (x - wide // 2, y + TYPE // 3), TYPE)


def _square(left: int, top: int, side: int) -> Sequence[Spot]:
    return [(left, top), (left + side, top), (left + side, top + side), (left, top + side)]
