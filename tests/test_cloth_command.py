"""`seamrun cloth` from outside: what it prints, where, and with which status."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from planned import SAMPLES
from test_command_line import seamrun

SAMPLE = str(SAMPLES["harbour-stars"])
WIDE = """\
project: Tidewater wide
fabrics:
  navy: {value: dark, width: 20}
  shell: {value: light}
blocks: {wave: {size: 60, rows: [[navy, shell]]}}
make: [{block: wave, count: 1}]
"""


def test_the_answer_has_a_buying_list_and_strips_for_each_fabric() -> None:
    ran = seamrun("cloth", SAMPLE)
    assert (ran.returncode, ran.stderr) == (0, "")
    lines = ran.stdout.splitlines()
    assert lines[:3] == ["Harbour stars", "", "Buy"]
    assert [line.split()[0] for line in lines[4:7]] == ["slate", "foam", "amber"]
    assert "  2 strips 7 1/4 wide" in lines or "  3 strips 7 1/4 wide" in lines


def test_json_and_table_and_picture_are_other_forms_of_it() -> None:
    told = json.loads(seamrun("cloth", SAMPLE, "--json").stdout)
    table = seamrun("cloth", SAMPLE, "--csv").stdout.splitlines()
    picture = seamrun("cloth", SAMPLE, "--layout").stdout.splitlines()
    for fabric in told["fabrics"]:
        assert any(line.startswith(f"buy,{fabric['id']},cloth,{fabric['buy']['yards']},") for line in table)
        assert any(line.startswith(f"{fabric['id']}: 40 in wide, ") for line in picture)


def test_the_picture_goes_to_a_file_that_is_not_there_yet(tmp_path: Path) -> None:
    file = tmp_path / "layout.svg"
    assert seamrun("cloth", SAMPLE, "--layout", "-o", str(file)).returncode == 0
    drawn = file.read_bytes()
    assert ET.fromstring(drawn).tag.endswith("svg")
    again = seamrun("cloth", SAMPLE, "--layout", "-o", str(file))
    assert again.returncode == 1
    assert "is there already" in again.stderr
    assert seamrun("cloth", SAMPLE, "--layout", "-o", str(file), "--overwrite").returncode == 0
    assert file.read_bytes() == drawn


def test_a_fabric_narrower_than_a_piece_is_a_fault_with_its_line(tmp_path: Path) -> None:
    file = tmp_path / "wide.yaml"
    file.write_text(WIDE, encoding="utf-8")
    ran = seamrun("cloth", "wide.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("wide.yaml:3: fabric navy: a piece is cut ")
    assert "write a width of at least 32 1/2 in" in ran.stderr


def test_everything_that_is_wrong_with_the_cloth_is_told_at_once(tmp_path: Path) -> None:
    text = WIDE.replace("width: 20", "width: 0, shrinkage: 100 %, stock: [0 x 1]").replace(
        "value: light", "value: light, width: 1000000000, shrinkage: -1, stock: [9 x 1/1000000]"
    )
    (tmp_path / "wide.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("cloth", "wide.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    told = [line.partition(": ")[0] + ": " + line.split(": ")[1] for line in ran.stderr.splitlines()]
    assert told == [
        *(f"wide.yaml:3: fabric navy, {key}" for key in ("width", "shrinkage", "stock, 1")),
        *(f"wide.yaml:4: fabric shell, {key}" for key in ("width", "shrinkage", "stock, 1")),
    ]
    assert "at most nine digits in a row are read" in ran.stderr


@pytest.mark.parametrize(
    ("keys", "size", "words"),
    [
        ("width: 20, directional: true", "60 x 20", "30 1/2 x 20 1/2 in, print upright, and only 18 in"),
        ("width: 20, lengthwise: true", "60 x 20", "20 1/2 x 30 1/2 in, along the selvage, and only 18 in"),
        ("width: 20, narrows: 10 %", "60", "write a width of at least about 36 1/8 in, or divide the piece by a seam"),
        ("width: 130", "1000", "no cloth is so wide: divide the piece by seams"),
        ("stock: [1000 x 1000]", "90", "write a width of at least 47 1/2 in"),
    ],
)
def test_a_piece_that_does_not_fit_says_how_it_would_lie_and_what_would_do(
    keys: str, size: str, words: str, tmp_path: Path
) -> None:
    text = WIDE.replace("width: 20", keys).replace("size: 60", f"size: {size}")
    (tmp_path / "wide.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("cloth", "wide.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert words in ran.stderr.splitlines()[0]


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--json", "--csv"), "--json and --csv are two answers"),
        (("--json", "--pdf", "x.pdf"), "--json and --pdf are two answers"),
        (("-o", "x.svg"), "-o FILE.svg goes with --layout"),
        (("--layout", "-o", "x.png"), "its name ends in .svg"),
        (("--paper", "a4"), "--paper and --all go with --pdf"),
        (("--overwrite",), "--overwrite goes with"),
        (("--turbo",), "unknown option --turbo"),
    ],
)
def test_options_that_do_not_go_together_are_told(options: tuple[str, ...], words: str) -> None:
    ran = seamrun("cloth", SAMPLE, *options)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert words in ran.stderr
