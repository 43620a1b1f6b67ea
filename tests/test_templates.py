"""Templates: what is printed is what the cut list says, in true size, read back from the file by another library."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from io import BytesIO
from itertools import pairwise
from math import dist, hypot

import pytest
from pdf_pages import Drawn, Outline, PageRead, Point, read_pages
from planned import plan_sample, plan_text, print_out
from pypdf import PdfReader
from shapely.geometry import LineString, Polygon, box

from planner.checks.surd import approach, read_surd
from planner.cloth.draw_templates import draw_templates
from planner.cloth.pdf_text import measure_words
from planner.cloth.templates import list_templates
from planner.plan import Plan

OFF = 1 / 1000  # inches by which what is printed may be off; a ruler shows 1/16, a careful eye 1/64
MARGIN = 0.5

SHAPES = r"""
project: Tidewater templates
fabrics:
  navy:  {value: dark}
  shell: {value: light}
  coral: {value: medium}
blocks:
  star: {block: eight-pointed star, size: 12, fabrics: {dark: navy, medium: coral, light: shell}}
  house:
    size: 8 x 6
    box: 8 x 6
    patches:
      - {fabric: navy, corners: "0,0 3,0 0,5"}
      - {fabric: shell, corners: "3,0 8,0 8,2 0,6 0,5"}
      - {fabric: coral, corners: "8,2 8,6 0,6"}
  hour: {size: 5, rows: [[(navy \ shell) / (navy \ shell)]]}
  bent:
    size: 6
    box: 2 x 2
    patches:
      - {fabric: navy, corners: "0,0 2,0 2,1 1,1 1,2 0,2"}
      - {fabric: coral, corners: "1,1 2,1 2,2 1,2"}
make:
  - {block: star, count: 1}
  - {block: house, count: 2}
  - {block: hour, count: 2}
  - {block: bent, count: 1}
"""

HEXAGONS = """
project: Tidewater hexagons
fabrics:
  navy:  {value: dark}
  shell: {value: light}
blocks:
  six:
    size: 4 x 2r3
    box: 2 x r3
    patches:
      - {fabric: navy, corners: "1/2,0 3/2,0 2,1/2r3 3/2,r3 1/2,r3 0,1/2r3"}
      - {fabric: shell, corners: "0,0 1/2,0 0,1/2r3"}
      - {fabric: shell, corners: "3/2,0 2,0 2,1/2r3"}
      - {fabric: shell, corners: "2,1/2r3 2,r3 3/2,r3"}
      - {fabric: shell, corners: "0,1/2r3 1/2,r3 0,r3"}
make:
  - {block: six, count: 3}
"""

PRINTS = r"""
project: Tidewater prints
measure: cm
fabrics:
  gulls: {value: dark, directional: true}
  shell: {value: light}
blocks:
  pinwheel:
    size: 16
    rows: [[gulls \ shell, gulls / shell], [shell / gulls, shell \ gulls]]
make:
  - {block: pinwheel, count: 2}
"""

LARGE = r"""
project: Tidewater large
fabrics:
  navy:  {value: dark}
  shell: {value: light}
blocks:
  corner:
    size: 24
    rows: [[navy \ shell]]
  strip: {size: 9 x 1, rows: [[navy]]}
make:
  - {block: corner, count: 2}
  - {block: strip, count: 4}
"""


TEXTS = {"shapes": SHAPES, "hexagons": HEXAGONS, "prints": PRINTS, "large": LARGE}
NAMES = [*TEXTS, "harbour-stars", "tidewater-sampler", "slipway-on-point", "lantern-logs"]


@cache
def plan_of(name: str) -> Plan:
    return plan_text(TEXTS[name]) if name in TEXTS else plan_sample(name)


@cache
def pages_of(name: str, paper: str = "letter", with_all: bool = True) -> list[PageRead]:
    return read_pages(draw_templates(plan_of(name), paper, with_all).file)


of_every_plan = pytest.mark.parametrize("name", NAMES)
of_both_papers = pytest.mark.parametrize(("paper", "size"), [("letter", (8.5, 11)), ("a4", (210 / 25.4, 297 / 25.4))])


def read_number(text: str) -> float:
    return float(approach(read_surd(text), 1 << 80))


def read_corners(points: Sequence[Sequence[str]]) -> Outline:
    return tuple((read_number(x), read_number(y)) for x, y in points)


def can_lie_on(first: Outline, second: Outline, off: float = OFF) -> complex | None:
    """How an outline is turned, but not turned over, so that moved there each corner lies on one of another: a complex
    number of size 1; None where it cannot be."""
    if len(first) != len(second):
        return None
    for start in range(len(second)):
        turned = (*second[start:], *second[:start])
        ax, ay = first[0]
        bx, by = turned[0]
        one, other = complex(first[1][0] - ax, first[1][1] - ay), complex(turned[1][0] - bx, turned[1][1] - by)
        turn = other / one / abs(other / one)
        laid = [complex(x - ax, y - ay) * turn + complex(bx, by) for x, y in first]
        if all(dist((z.real, z.imag), spot) < off for z, spot in zip(laid, turned, strict=True)):
            return turn
    return None


def pair_lines(page: PageRead) -> list[tuple[Drawn, Drawn]]:
    """Each cut line with its seam line, which is drawn next."""
    return list(zip(page.cut_lines, page.seam_lines, strict=True))


def find_edges(cut: Outline, seam: Outline) -> list[tuple[Point, Point]]:
    """For each side of a seam line the edge of the outline to cut that lies beyond its middle."""
    edges = [(start, end) for start, end in pairwise((*cut, cut[0]))]
    found = []
    for (ax, ay), (bx, by) in pairwise((*seam, seam[0])):
        middle = (ax + bx) / 2, (ay + by) / 2
        long = dist((ax, ay), (bx, by))
        out = LineString([middle, (middle[0] + (by - ay) / long * 9, middle[1] - (bx - ax) / long * 9)])
        found.append(min((edge for edge in edges if LineString(edge).intersects(out)), key=_how_far_from(out)))
    return found


def _how_far_from(out: LineString) -> Callable[[tuple[Point, Point]], float]:
    return lambda edge: out.project(LineString(edge).intersection(out))


def restore_points(cut: Outline, seam: Outline) -> Outline:
    """The outline to cut before its points were cut off, corner for corner with its seam line."""
    edges = find_edges(cut, seam)
    return tuple(_cross(edges[number - 1], edge) for number, edge in enumerate(edges))


def _cross(first: tuple[Point, Point], second: tuple[Point, Point]) -> Point:
    (ax, ay), (bx, by) = first
    (cx, cy), (dx, dy) = second
    part = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / ((bx - ax) * (dy - cy) - (by - ay) * (dx - cx))
    return ax + (bx - ax) * part, ay + (by - ay) * part


def restore_page(page: PageRead) -> list[Outline]:
    return [restore_points(cut.corners, seam.corners) for cut, seam in pair_lines(page)]


def is_turned_over(outline: Outline, drawn: Outline) -> bool:
    """Whether a shape that is its own mirror image but for 1/64 in of rounding is drawn as it lies turned over."""
    over = tuple((-x, y) for x, y in reversed(outline))
    return can_lie_on(over, outline, 1 / 32) is not None and can_lie_on(over, drawn, 1 / 32) is not None


@of_every_plan
def test_every_piece_of_the_cut_list_is_printed_in_true_size(name: str) -> None:
    plan = plan_of(name)
    drawn = [outline for page in pages_of(name) for outline in restore_page(page)]
    wanted = [read_corners(entry["corners"]) for entry in print_out(plan)["cut"]]
    assert wanted
    for outline in wanted:
        assert any(can_lie_on(outline, one) or is_turned_over(outline, one) for one in drawn), outline
    for outline in drawn:  # and nothing else
        assert any(can_lie_on(one, outline) for one in wanted), outline


@of_every_plan
def test_a_sharp_point_is_cut_off_one_allowance_beyond_the_seam_and_no_other_corner(name: str) -> None:
    """Each edge of it ends where that of a square would; the neighbour's edge meets it there."""
    allowance = float(plan_of(name).project.seam)
    for page in pages_of(name):
        for cut, line in pair_lines(page):
            whole, wanted = restore_points(cut.corners, line.corners), []
            for number, (corner, inner) in enumerate(zip(whole, line.corners, strict=True)):
                ends = []
                for start in (line.corners[number - 1], line.corners[(number + 1) % len(whole)]):
                    long = dist(start, inner)
                    x, y = (inner[0] - start[0]) / long, (inner[1] - start[1]) / long
                    reach = (corner[0] - inner[0]) * x + (corner[1] - inner[1]) * y
                    ends.append((reach, (inner[0] + x * allowance, inner[1] + y * allowance), (-y, x)))
                if all(reach > 1.5 * allowance for reach, _, _ in ends):
                    (_, at, along), (_, to, other) = ends
                    squares = [(at, (at[0] + along[0], at[1] + along[1])), (to, (to[0] + other[0], to[1] + other[1]))]
                    before, after = (whole[number - 1], corner), (corner, whole[(number + 1) % len(whole)])
                    wanted += [_cross(squares[0], before), _cross(squares[1], after)]
                else:
                    wanted.append(corner)
            assert len(cut.corners) == len(wanted)
            assert all(dist(one, other) < OFF for one, other in zip(cut.corners, wanted, strict=True))


def test_points_of_diamonds_and_triangles_are_cut_off_and_told() -> None:
    told = {len(template.seam): template for template in list_templates(plan_of("shapes")) if template.is_blunt}
    assert (len(told[4].cut), len(told[3].cut)) == (6, 5)  # two points of four, two of three
    text = "\n".join(page.text for page in pages_of("shapes"))
    assert "over all, points trimmed: cut" in text.replace("\n", " ")
    assert "\npoints trimmed\n" in text
    hexagons = {len(template.seam): template.is_blunt for template in list_templates(plan_of("hexagons"))}
    assert hexagons == {6: False, 3: True}
    assert not any(template.is_blunt for template in list_templates(plan_of("lantern-logs"), True))


@of_every_plan
def test_every_seam_line_is_a_finished_patch(name: str) -> None:
    patches = {tuple(map(tuple, patch["corners"])) for patch in print_out(plan_of(name))["patches"]}
    finished = [read_corners(corners) for corners in patches]
    for page in pages_of(name):
        for line in page.seam_lines:
            assert any(can_lie_on(one, line.corners, 1e-6) for one in finished), line.corners


@of_every_plan
def test_the_allowance_is_never_short_and_hardly_ever_more(name: str) -> None:
    seam = float(plan_of(name).project.seam)
    for page in pages_of(name):
        for cut, line in pair_lines(page):
            inside = Polygon(line.corners)
            assert Polygon(cut.corners).buffer(OFF).contains(inside)
            edges = find_edges(cut.corners, line.corners)
            for start, end in pairwise((*cut.corners, cut.corners[0])):
                gap = LineString([start, end]).distance(inside)
                # Half a square is cut 7/2 allowances larger than its leg, not 2 + r2 of them; roots go up to a 1/16
                assert seam - 1e-6 <= gap <= (1.07 if (start, end) in edges else 2**0.5) * seam + 1 / 16


@of_every_plan
def test_what_to_cut_is_told_under_every_template(name: str) -> None:
    plan = plan_of(name)
    text = " ".join(words.text for page in pages_of(name) for words in page.words)
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    for entry in plan.cut:
        assert f"{entry.count} {entry.fabric} ({letters[entry.fabric]})" in text
    # Added up they are the patches
    counts = [cut.count for template in list_templates(plan, True) for cut in template.fabrics]
    assert sum(counts) == len(print_out(plan)["patches"])


def test_one_template_serves_all_fabrics_of_its_shape() -> None:
    page = pages_of("harbour-stars", with_all=False)[0]
    captions = page.text.replace("\n", " ")
    assert "1. triangle, half of a 3 7/8 square, points trimmed: cut 64 slate (s), 32 amber (a)" in captions
    assert "s, a\ncut 64 slate, 32 amber\ntriangle, half of a 3 7/8 square" in page.text


def test_squares_and_rectangles_are_drawn_only_where_they_are_asked_for() -> None:
    plan = plan_of("tidewater-sampler")
    few, every = list_templates(plan), list_templates(plan, True)
    assert 0 < len(few) < len(every)
    assert not any(template.name.startswith("square") for template in few)
    assert any(template.name.startswith("square") for template in every)
    assert [template.number for template in every] == list(range(1, len(every) + 1))
    assert draw_templates(plan_of("lantern-logs"), "a4").pages == 0


@of_both_papers
def test_every_page_has_its_size_and_both_squares_to_check_it(paper: str, size: tuple[float, float]) -> None:
    for name in ("shapes", "large"):
        pages = pages_of(name, paper)
        for number, page in enumerate(pages, 1):
            assert (page.width, page.height) == pytest.approx(size, abs=1e-6)
            thin = [path.corners for path in page.paths if path.is_closed and path.width == 0.005 and not path.window]
            sides = [max(x for x, _ in corners) - min(x for x, _ in corners) for corners in thin]
            assert sides == pytest.approx([1, 2 / 2.54], abs=1e-6)
            for corners, side in zip(thin, (1, 2 / 2.54), strict=True):
                assert can_lie_on(((0, 0), (side, 0), (side, side), (0, side)), corners, 1e-6)
            assert f"page {number} of {len(pages)}" in page.text
            assert plan_of(name).project.name in page.text
            assert "Print at 100 %" in page.text


@of_both_papers
@of_every_plan
def test_everything_lies_on_the_page_and_nothing_on_another(name: str, paper: str, size: tuple[float, float]) -> None:
    body = box(MARGIN - OFF, MARGIN - OFF, size[0] - MARGIN + OFF, size[1] - MARGIN + OFF)
    for page in pages_of(name, paper):
        places = []
        for path in page.paths:
            shape = Polygon(path.corners) if path.is_closed else LineString(path.corners)
            shown = shape.intersection(box(*path.window)) if path.window else shape
            assert shown.is_empty or body.contains(shown)
            if path in page.cut_lines:
                places.append(shown)
        squares = [Polygon(path.corners) for path in page.paths[:2]]
        for number, one in enumerate(places):
            assert not any(one.intersects(other) for other in (*places[:number], *squares))
        for words in page.words:
            assert body.contains(box(*words.at, words.at[0] + OFF, words.at[1] + OFF))


@of_every_plan
def test_words_and_arrow_lie_inside_the_seam_line(name: str) -> None:
    labelled = 0
    for page in pages_of(name):
        for number, (cut, seam) in enumerate(pair_lines(page)):
            outside, inside = Polygon(cut.corners), Polygon(seam.corners).buffer(1e-6)
            arrow = find_arrow(page, number)
            assert inside.contains(LineString(arrow))
            assert dist(*arrow) > 0.1
            for words in page.words:
                wide = measure_words(words.text, 10**6) / 10**6 * words.size
                x, y = words.at
                is_mark = len(words.text) == 1 and words.text.isupper()
                is_of_another = words.window != cut.window or not outside.intersects(
                    LineString([(x, y), (x + wide, y)])
                )
                if is_mark or is_of_another:
                    continue
                assert inside.contains(box(x, y - 0.7 * words.size, x + wide, y))  # capitals are not as high as that
                assert not LineString(arrow).intersects(box(x, y - 0.7 * words.size, x + wide, y))
                labelled += 1
    assert labelled


def find_arrow(page: PageRead, number: int) -> tuple[Point, Point]:
    """The grain line of a template of the page: the open stretch drawn after its seam line."""
    at = page.paths.index(page.seam_lines[number])
    arrow = next(path for path in page.paths[at:] if not path.is_closed)
    return arrow.corners[0], arrow.corners[1]


def test_the_arrow_runs_along_the_grain() -> None:
    along_a_leg = along_the_long_side = 0
    for page in pages_of("harbour-stars", with_all=False):
        for number, outline in enumerate(restore_page(page)):
            (ax, ay), (bx, by) = find_arrow(page, number)
            sides = sorted(pairwise((*outline, outline[0])), key=lambda side: dist(*side))
            is_along = [abs((bx - ax) * (q[1] - p[1]) - (by - ay) * (q[0] - p[0])) < 1e-6 for p, q in sides]
            if dist(*sides[2]) == pytest.approx(7.25):  # a quarter of a square has its long side on the grain
                assert is_along == [False, False, True]
                along_the_long_side += 1
            else:
                assert sorted(is_along) == [False, False, True]
                assert not is_along[2]
                along_a_leg += 1
    assert (along_a_leg, along_the_long_side) == (1, 1)


def test_an_arrow_of_a_print_has_one_head_and_one_of_plain_cloth_two() -> None:
    templates = {template.number: template for template in list_templates(plan_of("prints"))}
    heads = {}
    for page in pages_of("prints", with_all=False):
        triangles = [path for path in page.paths if path.is_filled and len(path.corners) == 3]
        for place, number in enumerate(numbers_of(page)):
            ends = find_arrow(page, place)
            heads[number] = [any(dist(head.corners[0], end) < 1e-6 for head in triangles) for end in ends]
    assert set(heads) == set(templates)
    assert {template.has_way for template in templates.values()} == {True, False}
    for number, template in templates.items():
        assert heads[number] == ([False, True] if template.has_way else [True, True])
        assert any(cut.fabric == "gulls" for cut in template.fabrics) == template.has_way


def test_the_arrow_of_a_print_points_up_as_it_lies_on_the_cloth() -> None:
    entries = print_out(plan_of("prints"))["cut"]
    seen = 0
    for page in pages_of("prints", with_all=False):
        for place, number in enumerate(numbers_of(page)):
            entry = entries[number - 1]
            if entry["fabric"] != "gulls":
                continue
            turn = can_lie_on(read_corners(entry["corners"]), restore_page(page)[place])
            start, end = find_arrow(page, place)
            assert turn is not None
            assert abs(complex(end[0] - start[0], end[1] - start[1]) / dist(start, end) + 1j * turn) < 1e-6
            seen += 1
    assert seen == 4


def numbers_of(page: PageRead) -> list[int]:
    """The numbers of the templates of a page, as their captions tell them."""
    return [int(words.text.split(".")[0]) for words in page.words if words.text.split(".")[0].isdigit()]


def test_what_is_another_shape_when_turned_over_is_told() -> None:
    told = {template.name: template.is_one_way for template in list_templates(plan_of("shapes"), True)}
    assert any(told.values())
    assert not told["triangle, quarter of a 6 1/4 square"]
    shapes = list_templates(plan_of("shapes"))
    assert sum(len(shape.seam) == 3 and shape.is_one_way for shape in shapes) == 2  # the roofs of the house
    diamonds = [shape for shape in shapes if shape.name.startswith("piece, about 3 x")]
    assert diamonds
    assert not any(shape.is_one_way for shape in diamonds)


def test_what_fits_only_aslant_lies_aslant_on_one_page() -> None:
    drawn = [line for page in pages_of("large") for line in page.cut_lines if not line.window]
    strip = next(line for line in drawn if can_lie_on(((0, 0), (9.5, 0), (9.5, 1.5), (0, 1.5)), line.corners))
    (ax, ay), (bx, by) = strip.corners[:2]
    assert min(abs(bx - ax), abs(by - ay)) > 1


@of_both_papers
def test_parts_of_a_large_template_fit_together(paper: str, size: tuple[float, float]) -> None:
    pages = [page for page in pages_of("large", paper) if page.cut_lines[0].window]
    assert len(pages) > 4
    whole = Polygon(pages[0].cut_lines[0].corners)
    origin = pages[0].cut_lines[0].corners[0]
    marks: dict[str, list[Point]] = {}
    joints: list[tuple[Point, Point]] = []
    covered = Polygon()
    for number, page in enumerate(pages, 1):
        (cut,) = page.cut_lines
        dx, dy = origin[0] - cut.corners[0][0], origin[1] - cut.corners[0][1]
        moved = [(x + dx, y + dy) for x, y in cut.corners]
        assert all(dist(one, other) < 1e-6 for one, other in zip(moved, pages[0].cut_lines[0].corners, strict=True))
        assert cut.window is not None
        left, top, right, bottom = cut.window
        covered = covered.union(box(left + dx, top + dy, right + dx, bottom + dy))
        assert f"part {number} of {len(pages)}" in page.text
        for words in page.words:
            if words.window and len(words.text) == 1 and words.text.isupper():
                marks.setdefault(words.text, []).append((words.at[0] + dx, words.at[1] + dy))
                assert left < words.at[0] < right
                assert top < words.at[1] < bottom
        lines = [path.corners for path in page.paths if not path.is_closed and path.is_dashed]
        joints += [((ax + dx, ay + dy), (bx + dx, by + dy)) for (ax, ay), (bx, by) in lines]
    assert covered.buffer(1e-6).contains(whole)
    assert len(marks) >= len(pages) - 1
    for twice in marks.values():
        assert len(twice) == 2
        assert dist(*twice) < 1e-6
        # Each lies on the template, where a joint runs
        assert any(LineString(joint).distance(LineString([twice[0], twice[1]])) < 0.1 for joint in joints)
    # Each joint is drawn on both of the pages that meet there
    for start, end in joints:
        near = [line for line in joints if hypot(*(a - b for a, b in zip(line[0], start, strict=True))) < 8]
        axis = 0 if start[0] == pytest.approx(end[0]) else 1
        same = [line for line in near if line[0][axis] == pytest.approx(start[axis], abs=1e-6)]
        assert len(same) >= 2


def test_what_would_take_far_too_many_pages_is_left_out() -> None:
    plan = plan_text(LARGE.replace("size: 24", "size: 900"))
    drawn = draw_templates(plan, "letter", True)
    assert [template.name for template in drawn.left_out] == ["triangle, half of a 900 7/8 square"]
    assert drawn.templates == 1
    assert len(read_pages(drawn.file)) == drawn.pages == 1


def test_names_in_other_letters_are_told_by_the_fabrics_letter() -> None:
    text = SHAPES.replace("Tidewater templates", r"Große (Flut) \ ŝlick").replace("shell", "море")
    drawn = draw_templates(plan_text(text), "letter")
    assert [name for _, name in drawn.not_shown] == ["море"]
    pages = read_pages(drawn.file)
    assert r"Große (Flut) \ slick" in pages[0].text
    assert f"???? ({drawn.not_shown[0][0]})" in " ".join(page.text for page in pages).replace("\n", " ")


def test_widths_of_words_are_those_of_the_typeface() -> None:
    metrics = pytest.importorskip("pypdf._codecs.core_font_metrics").CORE_FONT_METRICS["Helvetica"]
    widths = metrics.character_widths
    for letter in map(chr, range(32, 127)):
        told = widths.get(letter)
        if told is not None:
            assert measure_words(letter, 1000) == told, letter


def test_a_reader_is_asked_not_to_scale_the_pages() -> None:
    reader = PdfReader(BytesIO(draw_templates(plan_of("shapes"), "letter").file), strict=True)
    assert reader.viewer_preferences is not None
    assert reader.viewer_preferences.print_scaling == "/None"
    assert reader.metadata is not None
    assert reader.metadata.title == "Tidewater templates: templates"
    assert reader.metadata.creation_date is None
    assert "/ID" not in reader.trailer
