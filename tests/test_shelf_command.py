"""The command `blocks` from outside: the shelf as a table, one block with its picture, and both for other programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from test_command_line import seamrun

from planner.shelf import SHELF

NAMES = [block.name for block in SHELF.list_blocks()]


def test_the_table_has_every_block_and_fits_60_columns() -> None:
    ran = seamrun("blocks")
    assert (ran.returncode, ran.stderr) == (0, "")
    heading, *lines = ran.stdout.splitlines()
    assert heading.split() == ["block", "patches", "seams", "kinds", "passes", "sewn"]
    assert all(len(line) <= 60 and line == line.rstrip() for line in (heading, *lines))
    assert [name for name in NAMES if not any(line.startswith(name) for line in lines)] == []
    named = [line for line in lines if not line.startswith(" ")]  # a long name has its numbers on a line of their own
    assert named == sorted(named, key=lambda line: line[:20])
    assert len(named) == len(NAMES)
    (churn_dash,) = [line for line in lines if line.startswith("churn dash")]
    assert churn_dash.split() == ["churn", "dash", "17", "16", "8", "5", "straight"]
    (bright_hopes,) = [line for line in lines if line.startswith("bright hopes")]
    assert bright_hopes.split() == ["bright", "hopes", "5", "4", "5", "5", "partial"]


def test_the_table_for_other_programs_says_the_same() -> None:
    blocks = json.loads(seamrun("blocks", "--json").stdout)["blocks"]
    assert [block["name"] for block in blocks] == NAMES
    found = {block["name"]: block for block in blocks}
    assert found["attic windows"] == {
        "name": "attic windows",
        "also_called": [],
        "size": ["6", "6"],
        "roles": [
            {"name": "pane", "value": "medium", "for": "the square"},
            {"name": "dark", "value": "dark", "for": "the frame at its left"},
            {"name": "light", "value": "light", "for": "the sill below it"},
        ],
        "patches": 3,
        "seams": 2,
        "straight": 1,
        "partial": 0,
        "set_in": 1,
        "kinds": 2,
        "passes": 2,
    }
    assert json.loads(seamrun("blocks", "attic", "windows", "--json").stdout) == found["attic windows"]


@pytest.mark.parametrize("words", [("churn", "dash"), ("churn dash",), ("Hole", "in  the Barn", "door")], ids=" ".join)
def test_one_block_is_shown_with_its_roles_and_lines_for_a_project(words: tuple[str, ...]) -> None:
    ran = seamrun("blocks", *words, COLORTERM="truecolor")
    assert (ran.returncode, ran.stderr) == (0, "")
    lines = ran.stdout.splitlines()
    assert all(len(line) <= 60 and "\x1b" not in line for line in lines)
    assert lines[:2] == ["churn dash", "also called hole in the barn door, double monkey wrench"]
    assert "d dark: the ring of triangles and rails" in lines
    assert "l light: what is round it and the centre" in lines
    assert "│ l l l l l l ╱ │ l l l l l l l │ ╲ l l l l l l │" in lines
    assert "17 patches, 16 seams (all straight)" in ran.stdout.replace("\n", " ")
    assert "Usual size: 12 x 12 finished" in lines


@pytest.mark.parametrize(("name", "root"), [("eight-pointed star", 2), ("tumbling blocks", 3), ("churn dash", None)])
def test_a_block_with_a_root_says_so(name: str, root: int | None) -> None:
    shown = seamrun("blocks", name).stdout
    told = f"Its sizes have a root of {root}: one project has one root\n"
    assert (told in shown) == ("have a root" in shown) == (root is not None)


def test_the_lines_for_a_project_make_one(tmp_path: Path) -> None:
    shown = seamrun("blocks", "sawtooth star").stdout
    head = "project: Tidewater\nfabrics: {navy: {value: 9}, shell: {value: 2}, coral: {value: 5}}\n"
    (tmp_path / "star.yaml").write_text(head + shown[shown.index("blocks:\n") :], encoding="utf-8")
    ran = seamrun("check", "star.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "1 block, 17 patches, 16 seams" in ran.stdout


def test_a_block_that_is_not_there_is_answered_with_the_nearest() -> None:
    ran = seamrun("blocks", "chrun", "dash")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "seamrun: there is no block chrun dash on the shelf; did you mean churn dash?\n"
    ran = seamrun("blocks", "xyzzy\x1b[31m")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "seamrun: there is no block xyzzy?[31m on the shelf; seamrun blocks lists what is there\n"


def test_an_unknown_option_is_a_usage_fault() -> None:
    ran = seamrun("blocks", "--long")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "unknown option --long: the options here are --json" in ran.stderr


@pytest.mark.parametrize("words", [("--json",), ("storm", "at", "sea")], ids=" ".join)
def test_the_answer_has_the_same_bytes_under_every_hash_seed_and_folder(words: tuple[str, ...], tmp_path: Path) -> None:
    answers = {
        seamrun("blocks", *words, PYTHONHASHSEED="1", LC_ALL="C.UTF-8").stdout,
        seamrun("blocks", *words, cwd=tmp_path, PYTHONHASHSEED="2", LC_ALL="POSIX").stdout,
    }
    assert len(answers) == 1
    assert next(iter(answers))
