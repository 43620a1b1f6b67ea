"""Project files, good and bad: what is read out of them, and what is told about them."""

from __future__ import annotations

import random
import re
import time
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
import yaml
from drafts import projects
from hypothesis import example, given, settings
from hypothesis import strategies as st

from planner.fault import Fault, spell_fault
from planner.project import Project
from planner.reading import read_yaml
from planner.reading.read_project import read_project, read_project_bytes, read_project_file

HERE = Path(__file__).parent
INVALID = sorted((HERE / "invalid").glob("*.yaml"))
VALID = sorted((HERE / "valid").glob("*.yaml"))
MARK = re.compile(r"# fault: (.*)$")
EXPECT = re.compile(r"# expect: ([\w.]+) = (.*)$")

SMALL = """\
project: Tidewater sewing evening
fabrics:
  navy: {value: dark}
  shell: {value: light}
blocks:
  wave:
    size: 6
    rows:
      - [navy, shell]
make:
  - {block: wave, count: 2}
"""
GRID = "    rows:\n      - [navy, shell]\n"  # the draft in it


def marks_of(path: Path) -> list[tuple[int, str]]:
    """(line, words) for each fault a file should have: marked in its lines, or listed in the file beside it."""
    beside = path.with_suffix(".faults")
    if beside.exists():
        lines = beside.read_text(encoding="utf-8").splitlines()
        return [(int(line.split(": ", 1)[0]), line.split(": ", 1)[1]) for line in lines]
    marks = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        found = MARK.search(line)
        if found:
            marks += [(number, words) for words in found[1].split(" ; fault: ")]
    return marks


def test_there_are_cases_good_and_bad():
    assert len(INVALID) > 40
    assert len(VALID) > 3


@pytest.mark.parametrize("path", INVALID, ids=lambda path: path.stem)
@pytest.mark.parametrize("loader", [yaml.BaseLoader, getattr(yaml, "CBaseLoader", yaml.BaseLoader)])
def test_each_marked_fault_is_told_on_its_line_and_no_other(path, loader, monkeypatch):
    monkeypatch.setattr(read_yaml, "_loader", loader)
    project, faults = read_project_file(path)
    marks = marks_of(path)
    assert marks, "a bad file without a mark"
    told = [f"{fault.line}: {spell_fault('', fault)}" for fault in faults]
    for line, words in marks:
        assert any(fault.line == line and words in spell_fault("", fault) for fault in faults), (line, words, told)
    assert Counter(fault.line for fault in faults) == Counter(line for line, _ in marks), told
    assert project is None
    assert [fault.line for fault in faults] == sorted(fault.line for fault in faults)


def look_up(record: object, path: str) -> str:
    for step in path.split("."):
        record = record[int(step)] if step.isdecimal() else getattr(record, step)
    return str(record)


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
@pytest.mark.parametrize("loader", [yaml.BaseLoader, getattr(yaml, "CBaseLoader", yaml.BaseLoader)])
def test_each_good_file_is_read_as_expected(path, loader, monkeypatch):
    monkeypatch.setattr(read_yaml, "_loader", loader)
    project, faults = read_project_file(path)
    assert faults == ()
    expected = [found.groups() for found in map(EXPECT.match, path.read_text("utf-8").splitlines()) if found]
    assert expected, "a good file without an expectation"
    assert {step: look_up(project, step) for step, _ in expected} == dict(expected)


def has_only_tuples(record: object) -> bool:
    if isinstance(record, list | dict | set):
        return False
    parts = record if isinstance(record, tuple) else [getattr(record, name) for name in dir_of(record)]
    return all(has_only_tuples(part) for part in parts)


def dir_of(record: object) -> list[str]:
    return list(getattr(record, "__dataclass_fields__", ()))


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_a_project_is_frozen_through_and_through(path):
    project, _ = read_project_file(path)
    assert has_only_tuples(project)
    assert hash(project) == hash(read_project_file(path)[0])


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_a_byte_order_mark_and_other_line_ends_change_nothing(path):
    data = path.read_bytes()
    project, _ = read_project_bytes(data)
    assert read_project_bytes(b"\xef\xbb\xbf" + data) == (project, ())
    for end in (b"\r\n", b"\r"):
        assert read_project_bytes(data.replace(b"\n", end)) == (project, ())


@given(projects())
@settings(max_examples=40, deadline=None)
def test_every_project_that_can_be_written_is_read(text):
    project, faults = read_project(text)
    assert faults == ()
    assert project is not None


# --- anything at all


def is_answer(project: Project | None, faults: tuple[Fault, ...], text: str) -> bool:
    """A project or faults, on lines that are there, in words a terminal can show."""
    lines = len(re.split("\r\n|\r|\n", text))
    return (project is None) == bool(faults) and all(
        1 <= fault.line <= lines and fault.words and spell_fault("", fault).isprintable() for fault in faults
    )


@given(st.text(max_size=300))
@example("\ud800")
@example("\ufeff")
@example("a: b\x85c: d")
@example("project: \ufeff\u202e\n")
@example("x: {" * 40)
@example("? {a: b}\n")
@example("%YAML 3.0\n---\n")
@example("!<tag:x> a")
@example('"\\')
@example("make: [*a, &b c, !d e]")
@settings(max_examples=150, deadline=None)
def test_any_text_gives_a_project_or_faults(text):
    assert is_answer(*read_project(text), text)


@given(st.binary(max_size=200))
@settings(max_examples=60, deadline=None)
def test_any_bytes_give_a_project_or_faults(data):
    assert is_answer(*read_project_bytes(data), data.decode("utf-8", "replace"))


TEXTS = [path.read_text("utf-8") for path in (*VALID, *INVALID)]
SIGNS = st.sampled_from([*"{}[]():,-#'\"\\/|&*!?%@ \t\n0ax", "\x1b", "é", "- ", ": ", " #", "turn 90", "1/0", "<<"])


@given(st.sampled_from(TEXTS), st.lists(st.tuples(st.integers(0, 10**6), SIGNS | st.none()), max_size=4))
@settings(max_examples=150, deadline=None)
def test_spoilt_texts_give_a_project_or_faults(text, changes):
    for at, sign in changes:
        at %= len(text) + 1
        text = text[:at] + (sign or "") + text[at + 1 :]
    assert is_answer(*read_project(text), text)


@given(st.sampled_from(TEXTS), st.integers(0, 10**6), st.integers(1, 4), st.booleans())
@settings(max_examples=100, deadline=None)
def test_texts_with_lines_cut_or_doubled_give_a_project_or_faults(text, first, count, is_doubled):
    lines = text.splitlines(keepends=True)
    first %= len(lines) or 1
    lines[first : first + count] = lines[first : first + count] * 2 if is_doubled else []
    text = "".join(lines)
    assert is_answer(*read_project(text), text)


# --- the file itself


def only_fault(answer) -> Fault:
    project, faults = answer
    assert project is None
    (fault,) = faults
    return fault


def test_a_missing_file_a_folder_and_a_name_that_is_none_are_faults_on_line_1(tmp_path):
    assert only_fault(read_project_file(tmp_path / "none.yaml")) == Fault(
        1, "", "there is no such file; check the name and the folder"
    )
    assert "this is a folder" in only_fault(read_project_file(tmp_path)).words
    assert "its name is no file name" in only_fault(read_project_file("a\0b")).words
    (tmp_path / "file").write_text(SMALL)
    assert "can't be read" in only_fault(read_project_file(tmp_path / "file" / "inside")).words


def test_a_file_that_may_not_be_read_is_a_fault(tmp_path, monkeypatch):
    def forbid(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", forbid)
    assert "may not be read" in only_fault(read_project_file(tmp_path / "any.yaml")).words


def test_what_is_no_utf_8_is_a_fault_that_names_the_line():
    fault = only_fault(read_project_bytes(SMALL.encode() + b"thread: gr\xfcn\n"))
    assert fault.line == 1
    assert "no UTF-8 text: line 12 " in fault.words
    assert "no UTF-8" in only_fault(read_project_bytes(SMALL.encode("utf-16"))).words


def test_a_file_over_1_mb_is_refused_and_one_below_is_read():
    filling = "# " + "x" * 77 + "\n"
    text = SMALL + filling * ((1_000_000 - len(SMALL)) // len(filling))
    assert read_project_bytes(text.encode())[1] == ()
    for longer in (text + filling * 2, text[:-90] + "é" * 100):
        assert only_fault(read_project_bytes(longer.encode())) == Fault(
            1, "", "the file is over 1 MB; a project file is much smaller"
        )
    assert "over 1 MB" in only_fault(read_project(text + filling * 2)).words


def test_in_a_long_file_a_backslash_is_told_though_it_is_not_read_again():
    text = SMALL.replace("[navy,", '["navy \\s",') + "# more\n" * 20_000
    fault = only_fault(read_project(text))
    assert fault.line == 9
    assert "a backslash inside double quotes is eaten" in fault.words


def test_bytes_of_another_kind_of_file_are_told_as_such():
    project, faults = read_project_bytes(b"\x00\x01\x02\x03" * 1_000 + b"\n" + b"PK\x03\x04")
    assert project is None
    assert [fault.line for fault in faults] == [1, 2]
    assert all("control character" in fault.words for fault in faults)


# --- limits


def with_fabrics(count: int) -> str:
    names = "".join(f"  tide {number}: {{value: 5}}\n" for number in range(count))
    blocks = "blocks:\n  wave: {size: 6, rows: [[tide 0]]}\nmake: [{block: wave, count: 1}]\n"
    return f"project: Many\nfabrics:\n{names}{blocks}"


def test_there_are_at_most_1000_fabrics_each_with_a_letter_of_its_own():
    project, faults = read_project(with_fabrics(1_000))
    assert faults == ()
    letters = [fabric.letter for fabric in project.fabrics]
    assert len(set(letters)) == 1_000
    assert all(re.fullmatch("[a-z0-9]{1,2}", letter) for letter in letters)
    assert only_fault(read_project(with_fabrics(1_001))) == Fault(
        1003, "fabrics", "there are 1,001 fabrics; a project has at most 1,000"
    )


def with_doubling(levels: int, count: int = 1) -> str:
    """Parts that each hold the one before twice: 2 ** levels patches in the last."""
    parts = "".join(f"  p{at}: {{rows: [[p{at - 1}, p{at - 1}]]}}\n" for at in range(1, levels + 1))
    return (
        "project: Doubling\nfabrics:\n  navy: {value: dark}\nparts:\n  p0: {rows: [[navy]]}\n"
        f"{parts}blocks:\n  wave: {{size: 6, rows: [[p{levels}]]}}\nmake:\n  - {{block: wave, count: {count}}}\n"
    )


def test_parts_that_would_explode_are_told_and_never_built():
    assert read_project(with_doubling(17))[1] == ()
    fault = only_fault(read_project(with_doubling(25)))
    assert fault == Fault(5 + 18, "part p18", "this has 262,144 patches; a project has at most 250,000")


def test_patches_are_counted_over_all_that_is_made():
    assert read_project(with_doubling(7, 1000))[1] == ()
    assert read_project(with_doubling(8, 976))[1] == ()
    fault = only_fault(read_project(with_doubling(8, 977)))
    assert fault.line == 17
    assert fault.where == "make, entry 1, count"
    assert fault.words == "with these there are 250,112 patches; a project has at most 250,000"


def test_parts_lie_in_one_another_to_a_depth_of_30():
    def chain(levels):
        parts = "".join(f"  p{at}: {{rows: [[p{at - 1}]]}}\n" for at in range(levels - 1, 0, -1))
        return (
            f"project: Chain\nfabrics:\n  navy: {{value: dark}}\nparts:\n{parts}  p0: {{rows: [[navy]]}}\n"
            f"blocks:\n  wave: {{size: 6, rows: [[p{levels - 1}]]}}\nmake: [{{block: wave, count: 1}}]\n"
        )

    assert read_project(chain(30))[1] == ()
    fault = only_fault(read_project(chain(40)))
    assert fault.where == "part p30"
    assert "more than 30 parts lie in one another" in fault.words


def test_a_name_has_at_most_40_characters_and_a_title_80():
    assert read_project(SMALL.replace("wave", "w" * 40))[1] == ()
    longer = SMALL.replace("  navy:", f"  {'n' * 41}: {{value: 5}}\n  navy:")
    assert "too long for a name; at most 40" in only_fault(read_project(longer)).words
    assert read_project(SMALL.replace("Tidewater sewing evening", "t" * 80))[1] == ()
    assert "at most 80 fit" in only_fault(read_project(SMALL.replace("Tidewater sewing evening", "t" * 81))).words


def nested(levels: int) -> str:
    """A draft in a cell of a draft, and so on; the file is nested 3 + 3 * levels deep."""
    return SMALL.replace("[navy, shell]", "[" + "{rows: [[" * levels + "navy" + "]]}" * levels + "]")


def test_a_file_is_nested_to_a_depth_of_30():
    assert read_project(nested(8))[1] == ()
    fault = only_fault(read_project(nested(9)))
    assert fault.words == "this is nested deeper than 30; use parts instead"
    assert fault.line == 9


def test_a_patch_has_at_most_60_corners():
    def zigzag(corners):
        teeth = " ".join(f"{at},{1 + at % 2}" for at in range(corners - 2, -1, -1))
        return SMALL.replace(GRID, f'    box: 99 x 9\n    patches: [{{fabric: navy, corners: "0,0 {teeth}"}}]\n')

    assert "leave a gap" in only_fault(read_project(zigzag(60))).words
    assert "at most 60 corners" in only_fault(read_project(zigzag(61))).words


ODD = [f"1/{number}" for number in (1_000_003, 1_000_033, 1_000_037)]


@pytest.mark.parametrize(
    "draft",
    [
        f"    rows: [[navy, navy, navy]]\n    widths: [{', '.join(ODD)}]\n",
        f"    logs: {{centre: navy, around: [shell], width: [{', '.join(ODD)}]}}\n",
        f"    patches: [{{fabric: navy, corners: '0,0 {ODD[0]},1 {ODD[1]},{ODD[2]}'}}]\n    box: 1\n",
    ],
    ids=["rows", "logs", "patches"],
)
def test_fractions_without_a_common_grid_are_refused(draft):
    assert "too many different fractions" in only_fault(read_project(SMALL.replace(GRID, draft))).words


def test_numbers_of_absurd_length_are_refused():
    for old, new in (("size: 6", f"size: {'1' * 90}"), ("count: 2", f"count: {'1' * 90}")):
        assert "'1111111" in only_fault(read_project(SMALL.replace(old, new))).words
    corners = f"    box: 1\n    patches: [{{fabric: navy, corners: '0,0 {'1' * 5_000},0 0,1'}}]\n"
    assert "1...' is no number" in only_fault(read_project(SMALL.replace(GRID, corners))).words


def test_faults_beyond_2000_are_counted():
    text = SMALL.replace("- [navy, shell]", "\n".join(f"- [none{at}]" for at in range(3_000)).replace("\n", "\n      "))
    _, faults = read_project(text)
    assert len(faults) == 2_001
    assert faults[-1].words == "and 1000 more faults, not told here"


# --- speed


def stretch(line: str, least: int = 950_000) -> str:
    return line * (least // len(line))


def patch_rows(count: int) -> str:
    return "".join(f'      - {{fabric: navy, corners: "{x},0 {x + 1},0 {x + 1},1 {x},1"}}\n' for x in range(count))


HOSTILE = {
    "cells": SMALL.replace("- [navy, shell]", "- [" + stretch("navy / shell, ") + "navy]"),
    "cells all different": SMALL.replace("- [navy, shell]", "- [" + ", ".join(f"x{at}" for at in range(110_000)) + "]"),
    "rows": SMALL.replace("- [navy, shell]", stretch("- [a, b]\n      ")),
    "patches": SMALL.replace(GRID, f"    box: 16000 x 1\n    patches:\n{patch_rows(16_000)}"),
    "patches with a gap": SMALL.replace(GRID, f"    box: 16001 x 1\n    patches:\n{patch_rows(16_000)}"),
    "patches one on another": SMALL.replace(
        GRID,
        "    box: 9\n    patches:\n" + stretch('      - {fabric: navy, corners: "0,0 9,0 9,9 0,9"}\n'),
    ),
    "fabrics": with_fabrics(30_000),
    "unknown keys": SMALL + "".join(f"k{at}: 1\n" for at in range(90_000)),
    "brackets": SMALL.replace("navy, shell", "(" * 900_000),
    "strokes": SMALL.replace("navy, shell", "navy" + " / navy" * 100_000),
    "open lists": SMALL + "x: " + "[" * 900_000,
    "open lists with blanks": SMALL + "x: " + "[ " * 400_000,
    "blanks in a number": SMALL.replace("size: 6", "size: '1" + " " * 900_000 + "z'"),
    "blanks in a cell": SMALL.replace("[navy", "['navy" + " " * 900_000 + "'"),
    "blanks before remarks": SMALL + stretch("# " + " " * 900 + "\n"),
    "one long word": SMALL.replace("navy, shell", "a" * 900_000),
    "remarks": SMALL + "x: [" + " #x" * 300_000,
    "quotes": SMALL + "x: [" + " 'x" * 300_000,
    "escapes": SMALL + 'x: "' + "\\q" * 400_000,
    "anchors": SMALL + "x: [" + stretch("&a b, ") + "]\n",
    "lone words": SMALL + "x: {" + stretch("a, ") + "}\n",
    "parts in a chain": SMALL.replace(
        "blocks:", "parts:\n" + "".join(f"  p{at}: {{rows: [[p{at + 1}, p0]]}}\n" for at in range(25_000)) + "blocks:"
    ),
    "blocks with parts": SMALL.replace(
        "make:",
        "".join(f"  b{n}: {{size: 1, parts: {{q: {{rows: [[navy]]}}}}, rows: [[q, zz{n}]]}}\n" for n in range(15_000))
        + "make:",
    ),
    "widths": SMALL.replace("make:", "    widths: [" + ", ".join(f"1/{at}" for at in range(1, 110_000)) + "]\nmake:"),
    "swaps": SMALL.replace("count: 2", "count: 2, swap: {" + ", ".join(f"f{at}: g{at}" for at in range(60_000)) + "}"),
    "places of a quilt": SMALL + "quilt: {rows: [[" + stretch("wave, ") + "wave]]}\n",
    "places of a quilt all different": SMALL
    + "quilt: {rows: [["
    + ", ".join(f"x{at}" for at in range(110_000))
    + "]]}",
    "rows of a quilt below a long one": SMALL
    + f"quilt:\n  rows:\n    - [{'wave, ' * 70_000}wave]\n"
    + "    - [wave]\n" * 40_000,
    "blocks of a quilt that do not fit": SMALL
    + "quilt:\n  rows:\n"
    + "    - [{block: wave, turn: 90}, wave]\n" * 24_000
    + "  layout: on point\n",
    "borders": SMALL + "quilt:\n  rows: [[wave]]\n  border:\n" + stretch("    - {width: 2, fabric: navy}\n"),
    "kept directions": SMALL + "press:\n  keep:\n" + stretch('    - {block: wave, at: "3, 3", toward: left}\n'),
    "control characters": SMALL + "\x01\n" * 450_000,
    "a key written very often": SMALL + stretch("project: a\n"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_in_seconds(name):
    text = HOSTILE[name]
    before = time.process_time()
    project, faults = read_project(text)
    took = time.process_time() - before
    assert (project is None) == bool(faults)
    assert took < 6, took


def test_a_usual_file_is_read_in_a_few_milliseconds():
    text = (HERE / "valid" / "tidewater.yaml").read_text("utf-8")
    read_project(text)
    times = []
    for _ in range(5):
        before = time.process_time()
        read_project(text)
        times.append(time.process_time() - before)
    assert min(times) < 0.01


def test_the_same_text_gives_the_same_answer():
    chance = random.Random(7)
    texts = chance.sample(TEXTS, 10)
    assert [read_project(text) for text in texts] == [read_project(text) for text in texts]


def test_lengths_are_fractions_of_an_inch():
    project, _ = read_project(SMALL.replace("size: 6", "size: 6.1 cm"))
    assert project.blocks[0].width == Fraction(61, 10) * Fraction(50, 127)
