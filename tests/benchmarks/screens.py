"""What the bench costs that stays open: until its first screen stands, and until a key has shown."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from functools import partial
from itertools import count
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory

from planner.event import Event
from planner.plan import plan_project
from planner.reading.read_project import read_project
from planner.sheet import write_sheet
from tests.benchmarks.answers import write_quilt
from tests.benchmarks.pairs import Figure, compare
from tests.terminal import TOP, Terminal
from tui.progress import open_progress

FILE = "harbour-stars.yaml"
SMALL_APP = (sys.executable, str(Path(__file__).parent / "small_app.py"))
SIZES = ((80, 24), (120, 40))
PAUSE = 0.25  # seconds between two presses of one key, so that it is no held key


def measure_first_screen() -> Iterator[Figure]:
    """`seamrun FILE` against the smallest app, until as much text stands on both screens."""
    for size in SIZES:
        with TemporaryDirectory() as folder, _bench(Path(folder), size) as terminal:
            terminal.wait_for("SET UP needle and bobbin", "space one")
            text = terminal.text()
        yield compare(
            f"first screen of seamrun {FILE}, {size[0]}x{size[1]}",
            partial(_time_start, _bench, size, text),
            "the smallest app with as much text",
            partial(_time_start, partial(_small_app, text), size, text),
            limit=1.8,
            rounds=9,
        )


def measure_key() -> Iterator[Figure]:
    """A key from its press to the new tally, saved before it shows, against the smallest app."""
    for size in SIZES:
        with ExitStack() as open_at_end:
            folder = Path(open_at_end.enter_context(TemporaryDirectory()))
            copyfile(TOP / "projects" / FILE, folder / FILE)
            most = _stop_at_longest_chain(folder)
            bench = open_at_end.enter_context(_bench(folder, size))
            bench.wait_for("You stopped")
            bench.press("enter")
            bench.wait_for("SEW", f"10 of {most}")
            text = bench.text().replace(f"10 of {most}", f"@@ of {most}")
            small = open_at_end.enter_context(_small_app(text, folder, size))
            small.wait_for("SEW", f"10 of {most}")
            yield compare(
                f"a key to its repaint, {size[0]}x{size[1]}",
                partial(_time_key, bench, most, count(11)),
                "the smallest app changing as much text",
                partial(_time_key, small, most, count(11)),
                limit=4,
                rounds=20,
            )


def measure_large_key() -> Iterator[Figure]:
    """A key on a quilt of 32 x 32 double nine patches (50,176 patches) against a key on the small project."""
    size = SIZES[0]
    with ExitStack() as open_at_end:
        benches = []
        for text in (write_quilt(32), (TOP / "projects" / FILE).read_text(encoding="utf-8")):
            folder = Path(open_at_end.enter_context(TemporaryDirectory()))
            (folder / FILE).write_text(text, encoding="utf-8")
            most = _stop_at_longest_chain(folder)
            bench = open_at_end.enter_context(Terminal(folder, FILE, size=size, environment=_state_in(folder)))
            bench.wait_for("You stopped")
            bench.press("enter")
            bench.wait_for("SEW", f"10 of {most}")
            benches.append((bench, most))
        yield compare(
            "a key on a quilt of 50,176 patches",
            partial(_time_key, *benches[0], count(11)),
            "a key on a project of 204",
            partial(_time_key, *benches[1], count(11)),
            limit=2,
            rounds=20,
        )


def _bench(folder: Path, size: tuple[int, int]) -> Terminal:
    copyfile(TOP / "projects" / FILE, folder / FILE)
    return Terminal(folder, FILE, size=size, environment=_state_in(folder))


def _small_app(text: str, folder: Path, size: tuple[int, int]) -> Terminal:
    (folder / "text").write_text(text, encoding="utf-8")
    return Terminal(folder, "text", size=size, command=SMALL_APP)


def _state_in(folder: Path) -> dict[str, str]:
    return {"SEAMRUN_STATE": str(folder / "state"), "SEAMRUN_SETTINGS": str(folder / "settings.yaml")}


def _time_start(start: Callable[[Path, tuple[int, int]], Terminal], size: tuple[int, int], text: str) -> float:
    """Seconds from starting a program until as many letters as `text` has stand on its screen."""
    letters = len("".join(text.split()))
    with TemporaryDirectory() as folder:
        began = time.perf_counter()
        with start(Path(folder), size) as terminal:
            terminal.wait_until(lambda: len("".join(terminal.text().split())) >= letters, "all of the text")
            return time.perf_counter() - began


def _time_key(terminal: Terminal, most: int, numbers: Iterator[int]) -> float:
    """Seconds from a key until the next number stands on the screen."""
    time.sleep(PAUSE)
    number = next(numbers)
    began = time.perf_counter()
    terminal.press("space")
    terminal.wait_for(f"{number} of {most}")
    return time.perf_counter() - began


def _stop_at_longest_chain(folder: Path) -> int:
    """Progress that ends after ten pairs of the longest chain; how many that chain has."""
    project, faults = read_project((folder / FILE).read_text(encoding="utf-8"))
    assert project is not None, faults
    plan, faults = plan_project(project)
    assert plan is not None, faults
    steps = write_sheet(plan).steps
    longest = max((step for step in steps if step.stage == "sew"), key=lambda step: step.count)
    os.environ.update(_state_in(folder))
    with open_progress(folder / FILE) as progress:
        for step in steps[: steps.index(longest)]:
            progress.append(Event("done", step.name, step.count, "", 1))
        progress.append(Event("done", longest.name, 10, "", 1))
    return longest.count
