"""A bench that is killed has kept everything it said it kept, and nothing by halves."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tui.progress import open_progress, read_events

HOUSE = Path(__file__).parent.parent
KILLS = 10
LARGEST = 1_000_000  # hundreds of pages, so that a kill falls between two of them

WRITER = """
import random, sys
from planner.event import Event
from tui.progress import open_progress
progress = open_progress(sys.argv[1])
assert progress.can_write and not progress.said, progress.said
sizes = random.Random(int(sys.argv[2]))
while True:
    number = len(progress.events) + 1
    progress.append(Event("done", str(number), number, "x" * sizes.randrange(LARGEST), number))
    print(number, flush=True)
"""


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    return tmp_path / "lap.yaml"


def write_until_killed(project: Path, seed: int, pause: float) -> int:
    """The last number that the child printed, after the append of it had returned."""
    script = WRITER.replace("LARGEST", str(LARGEST))
    child = subprocess.Popen(
        [sys.executable, "-c", script, str(project), str(seed)],
        cwd=HOUSE,
        env=os.environ | {"PYTHONDONTWRITEBYTECODE": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert child.stdout is not None
    first = child.stdout.readline()
    time.sleep(pause)
    child.kill()
    printed, words = child.communicate()
    assert first, words
    return int((first + printed).split("\n")[-2])  # a half-printed last line is dropped


def test_a_killed_bench_has_lost_nothing_it_kept(project: Path) -> None:
    pauses = random.Random(7)
    before = 0
    for kill in range(KILLS):
        last = write_until_killed(project, kill, pauses.uniform(0.0, 0.06))
        if kill % 2:
            events, said = read_events(project)
        else:
            with open_progress(project) as progress:
                events, said = progress.events, progress.said
                assert progress.can_write
        assert said == ()
        assert len(events) in (last, last + 1)
        assert [event.count for event in events] == list(range(1, len(events) + 1))
        assert all(event.body == "x" * len(event.body) for event in events)
        assert last > before
        before = len(events)
    assert not list(project.parent.glob("*set-aside*"))


def test_a_kill_frees_the_project(project: Path) -> None:
    code = (
        "import sys, time; from tui.progress import open_progress; "
        "progress = open_progress(sys.argv[1]); print(progress.can_write, flush=True); time.sleep(60)"
    )
    child = subprocess.Popen([sys.executable, "-c", code, str(project)], cwd=HOUSE, stdout=subprocess.PIPE, text=True)
    assert child.stdout is not None
    assert child.stdout.readline() == "True\n"
    with open_progress(project) as onlooker:
        assert not onlooker.can_write
    child.kill()
    child.communicate()
    with open_progress(project) as progress:
        assert progress.can_write
        assert progress.said == ()
