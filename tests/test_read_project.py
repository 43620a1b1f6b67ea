"""Project files, good and bad: what is read out of them, and what is told about them."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
import yaml

from planner import read_yaml
from planner.fault import spell_fault
from planner.read_project import read_project_file

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
