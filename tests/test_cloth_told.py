"""What `seamrun cloth` tells: in the project's measure, with the letters of the bench, of all cloth that there is."""

from __future__ import annotations

import csv
import re
import xml.etree.ElementTree as ET
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from layouts import lay
from pdf_pages import read_pages
from planned import plan_text

from planner.cloth.cloth import Cloth
from planner.cloth.cloth_csv import write_csv
from planner.cloth.draw_layout import draw_layout
from planner.cloth.draw_layout_svg import draw_layout_svg
from planner.cloth.draw_templates import draw_templates
from planner.cloth.print_cloth import print_cloth
from planner.cloth.print_finish import describe_finish
from planner.cloth.templates import list_templates
from planner.pictures import draw_cloth
from planner.print_sheet import print_sheet
from planner.session import give_letters
from planner.sheet import assign_letters, write_sheet
from planner.summarise import summarise
from tui.__main__ import run
from tui.progress import open_progress

CUSHIONS = """\
project: Tidewater cushions
measure: cm
fabrics:
  reed: {value: dark, width: 110}
  coral: {value: medium, width: 110, stock: [45 x 55]}
  shell: {value: light, width: 110}
blocks:
  hopes: {block: bright hopes, size: 15, fabrics: {dark: reed, medium: coral, centre: shell}}
make: [{block: hopes, count: 4}]
"""
WALL = """\
project: Tidewater wall
fabrics:
  slate: {value: dark, width: 44}
  shell: {value: light, width: 44}
  coral: {value: medium, width: 44, stock: [18 x 21, 18 x 21, 9 x 14]}
  sand: {value: 3, width: 44}
blocks:
  compass: {block: eight-pointed star, size: 8, fabrics: {dark: slate, medium: coral, light: shell}}
quilt:
  rows: [[compass, compass], [compass, compass]]
  sashing: {width: 1 1/2, fabric: sand, posts: slate}
  border: {width: 13, fabric: sand}
finish:
  backing: {fabric: sand}
  batting: {overhang: 3}
  binding: {fabric: slate, width: 2 1/4}
  sleeve: {depth: 4, fabric: sand}
"""


@cache
def cushions() -> Cloth:
    return lay(plan_text(CUSHIONS))


@cache
def wall() -> Cloth:
    return lay(plan_text(WALL))


def rows_of(cloth: Cloth) -> list[dict[str, str]]:
    return list(csv.DictReader(write_csv(cloth).splitlines()))


def test_sheet_and_summary_tell_sizes_between_the_lines_in_the_projects_measure() -> None:
    sheet = print_sheet(write_sheet(cushions().plan))
    assert "Exactly 5.25 x 12.75 cm: between the lines of the ruler" in sheet
    assert " in: between" not in sheet
    assert any("is cut 5.25, 12.75 cm" in line for line in summarise(cushions().plan))


def test_the_table_of_a_project_in_centimetres_is_in_centimetres() -> None:
    rows = rows_of(cushions())
    assert {"strip_cm", "across_cm", "along_cm"} <= set(rows[0])
    cut = [row for row in rows if row["line"] == "cut"]
    assert {(row["across_cm"], row["along_cm"]) for row in cut if row["fabric"] == "reed"} == {("12.8", "5.3")}
    assert {row["from"] for row in cut if row["fabric"] == "coral"} == {"stock 45 x 55"}
    assert not any(re.search(r"\d/\d", value) for row in cut for value in row.values())


def test_the_table_has_what_comes_after_the_top() -> None:
    told = {row["for"]: row for row in rows_of(wall()) if row["line"] == "finish"}
    assert list(told) == ["backing", "batting", "binding", "hanging sleeve"]
    finish = {what: length for one in wall().fabrics for what, length in one.more}
    for what in finish:
        row = told[what]
        along, pieces = (Fraction(sum(Fraction(part) for part in row[key].split())) for key in ("along_in", "pieces"))
        assert along * pieces == finish[what]
        assert (row["across_in"], row["yards"]) == ("42", "")  # counted with its fabric
    assert told["batting"]["fabric"] == ""
    usual = plan_text(WALL[: WALL.index("finish:")])
    bought = {row["for"]: row for row in rows_of(lay(usual)) if row["line"] == "finish"}
    assert bought["backing"]["yards"]
    assert bought["backing"]["fabric"] == ""


def test_pieces_that_are_there_are_drawn_too() -> None:
    lines = list(draw_layout(cushions()))
    title = "coral, piece 1 that is there, 45 x 55 cm"
    start = next(number for number, line in enumerate(lines) if line.startswith(title))
    assert any("8 of" in line for line in lines[start:])
    assert not any("no cloth to cut" in line for line in lines)
    colours = {one.fabric.name: draw_cloth.Cloth(f"#22334{n}", "#fff") for n, one in enumerate(cushions().fabrics)}
    root = ET.fromstring(draw_layout_svg(cushions(), colours))
    coral = [rect for rect in root.iter("{http://www.w3.org/2000/svg}rect") if rect.get("fill") == "#223341"]
    assert len(coral) == 8


def test_one_strip_can_be_cut_again_of_every_fabric_and_its_width_is_told() -> None:
    for one in wall().fabrics:
        assert one.bought.margin <= max((strip.high for strip in one.strips), default=0)
    sand = next(one for one in wall().fabrics if one.fabric.name == "sand")
    assert f"sand {sand.bought.margin.numerator // sand.bought.margin.denominator} " in " ".join(print_cloth(wall()))


def test_a_backing_that_is_not_the_least_cloth_says_by_what_rule_it_is_taken() -> None:
    words = " ".join(" ".join(describe_finish(wall().plan)).split())
    assert "(less cloth, more seams)" in words
    assert "No way in whole lengths takes less." in words


def test_a_diamond_that_is_its_own_mirror_image_is_one_template_for_both_fabrics() -> None:
    (diamond,) = [one for one in list_templates(wall().plan) if len(one.seam) == 4]
    assert sorted(cut.fabric for cut in diamond.fabrics) == ["coral", "slate"]


def test_templates_tell_the_letters_of_their_piles_and_are_numbered_as_they_lie() -> None:
    plan = wall().plan
    letters = assign_letters(write_sheet(plan))
    pages = read_pages(draw_templates(plan, "letter", True, letters).file)
    text = " ".join(" ".join(page.text for page in pages).split())
    for entry in plan.cut:
        letter = letters[plan.piles.unit_names[entry.units[0]]]
        assert f"[{letter}]" in text
    numbers = [int(found[1]) for page in pages for found in re.finditer(r"^(\d+)\. ", page.text, re.MULTILINE)]
    assert list(dict.fromkeys(numbers)) == sorted(set(numbers))
    assert "edges meet there" in text


def test_what_is_left_whole_is_told_once() -> None:
    sheet = print_sheet(write_sheet(wall().plan))
    left = [line for line in sheet.splitlines() if "Leave the rest whole" in line]
    assert left
    assert all(line.count("Leave the rest whole") == 1 for line in left)
    assert any(re.search(r"of its length is for backing, \d+ for hanging sleeve", line) for line in left)


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A project whose bench has given other letters than a new sheet would."""
    file = tmp_path / "wall.yaml"
    file.write_text(WALL, encoding="utf-8")
    letters = assign_letters(write_sheet(wall().plan))
    with open_progress(file) as progress:
        progress.append(give_letters({pile: (f"Q{letter}", "") for pile, letter in letters.items()}, 1))
    return file


@pytest.mark.parametrize("form", [(), ("--layout",)])
def test_cloth_has_the_letters_of_the_bench(
    kept: Path, form: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    before = {path.name: path.read_bytes() for path in kept.parent.iterdir()}
    assert run(["cloth", str(kept), *form]) == 0
    text = capsys.readouterr().out
    assert "QA" in text
    assert not re.search(r"\[[A-P]\]", text)
    assert {path.name: path.read_bytes() for path in kept.parent.iterdir()} == before


def test_files_drawn_of_cloth_have_the_letters_of_the_bench(kept: Path) -> None:
    pdf, svg = kept.with_suffix(".pdf"), kept.with_suffix(".svg")
    assert run(["cloth", str(kept), "--pdf", str(pdf)]) == 0
    assert run(["cloth", str(kept), "--layout", "-o", str(svg)]) == 0
    assert "[Q" in " ".join(page.text for page in read_pages(pdf.read_bytes()))
    assert ">QA<" in svg.read_text(encoding="utf-8")


@pytest.mark.parametrize("form", ["--json", "--csv"])
def test_progress_never_changes_the_cloth_for_other_programs(
    kept: Path, form: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["cloth", str(kept), form]) == 0
    with_progress = capsys.readouterr().out
    kept.with_name(f"{kept.name}.progress").unlink()
    assert run(["cloth", str(kept), form]) == 0
    assert capsys.readouterr().out == with_progress


def test_damaged_progress_is_told_and_cloth_has_the_letters_of_a_new_sheet(
    kept: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept.with_name(f"{kept.name}.progress").write_bytes(b"no log at all")
    assert run(["cloth", str(kept)]) == 0
    told = capsys.readouterr()
    assert "damaged" in told.err
    assert "[A]" in told.out
