"""What the commands cost that answer and end: starting, and growing with the number of blocks."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from planner.cloth.cloth import work_out_cloth
from planner.cloth.cloth_json import write_cloth
from planner.cloth.lay_strips import lay_once
from planner.plan import Plan, plan_project
from planner.plan_json import write_plan
from planner.project import Project
from planner.reading.read_project import read_project
from tests.benchmarks.pairs import Figure, Measure, compare

TOP = Path(__file__).parent.parent.parent
IMPORTS = "from pydantic import BaseModel; import yaml; from pysat.examples.rc2 import RC2"
DOUBLE_NINE_PATCH = """\
project: Tidewater nine patches
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}, coral: {{value: medium}}}}
parts:
  nine patch:
    rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]
blocks:
  double nine patch:
    size: 13 1/2
    rows:
      - [nine patch, coral, nine patch]
      - [coral, nine patch, coral]
      - [nine patch, coral, nine patch]
make: [{{block: double nine patch, count: {count}}}]
"""
FABRICS = ("navy", "shell", "coral", "sand")
GRID = """\
project: Tidewater squares
fabrics: {{navy: {{value: 9}}, shell: {{value: 2}}, coral: {{value: 5}}, sand: {{value: 3}}}}
blocks: {{squares: {{size: {size}, rows: [{rows}]}}}}
make: [{{block: squares, count: 1}}]
"""


def measure_check() -> Iterator[Figure]:
    """`seamrun check` against importing the three large packages that it may use."""
    yield compare(
        "seamrun check projects/tidewater-sampler.yaml",
        _running("-m", "tui", "check", "projects/tidewater-sampler.yaml"),
        "importing pydantic, yaml and RC2",
        _running("-c", IMPORTS),
        limit=2,
        rounds=11,
    )


def measure_growth() -> Iterator[Figure]:
    """Four times the blocks: the whole command, and the work alone in one process."""
    with TemporaryDirectory() as folder:
        files = {}
        for count in (50, 200):
            files[count] = Path(folder) / f"{count}.yaml"
            files[count].write_text(DOUBLE_NINE_PATCH.format(count=count), encoding="utf-8")
        yield compare(
            "seamrun sheet --json, 200 double nine patches",
            _running("-m", "tui", "sheet", "--json", str(files[200])),
            "50 of them",
            _running("-m", "tui", "sheet", "--json", str(files[50])),
            limit=4.4,
            rounds=5,
        )
    yield compare(
        "process time of planning 200 double nine patches to JSON, without start",
        _planning(_read(200)),
        "50 of them",
        _planning(_read(50)),
        limit=4.4,
        rounds=5,
    )
    # No two parts of it are alike, so kinds of unit grow with the patches: four times as many, and a level more
    yield compare(
        "process time of planning 200 x 200 squares at random to JSON",
        _planning(_draw_grid(200)),
        "100 x 100 of them",
        _planning(_draw_grid(100)),
        limit=5.5,
        rounds=3,
    )


def measure_quilts() -> Iterator[Figure]:
    """A quilt of 16 x 16 double nine patches to JSON: against importing the screen's package, and against a quarter."""
    with TemporaryDirectory() as folder:
        files = {}
        for side in (8, 16):
            files[side] = Path(folder) / f"{side}.yaml"
            files[side].write_text(write_quilt(side), encoding="utf-8")
        whole = _running("-m", "tui", "sheet", "--json", str(files[16]))
        name = "seamrun sheet --json, a quilt of 16 x 16 double nine patches"
        yield compare(name, whole, "importing textual.app", _running("-c", "import textual.app"), limit=6, rounds=5)
        quarter = _running("-m", "tui", "sheet", "--json", str(files[8]))
        yield compare(name, whole, "8 x 8 of them", quarter, limit=4.4, rounds=5)


def measure_cloth() -> Iterator[Figure]:
    """The cloth of 12,544 patches against planning them, and four times the patches against a quarter of them."""
    plans = {side: _plan(_read_text(write_quilt(side))) for side in (8, 16)}
    yield compare(
        "process time of working out the cloth of 16 x 16 double nine patches to JSON",
        _laying(plans[16]),
        "planning them",
        _planning(plans[16].project),
        limit=1,
        rounds=5,
    )
    yield compare(
        "process time of their layout alone",
        _laying(plans[16], to_json=False),
        "that of 8 x 8 of them",
        _laying(plans[8], to_json=False),
        limit=4.4,
        rounds=11,
    )


def write_quilt(side: int) -> str:
    """A project file: so many double nine patches across and down."""
    row = f"    - [{', '.join(['double nine patch'] * side)}]\n"
    return DOUBLE_NINE_PATCH.partition("make:")[0].format() + "quilt:\n  rows:\n" + row * side


def _running(*arguments: str) -> Measure:
    # Compiled once, as where it is installed: the warming up writes what the rounds read
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}

    def run() -> float:
        began = time.perf_counter()
        subprocess.run([sys.executable, *arguments], cwd=TOP, env=environment, stdout=subprocess.DEVNULL, check=True)
        return time.perf_counter() - began

    return run


def _read(count: int) -> Project:
    return _read_text(DOUBLE_NINE_PATCH.format(count=count))


def _read_text(text: str) -> Project:
    project, faults = read_project(text)
    assert project is not None, faults
    return project


def _draw_grid(across: int) -> Project:
    chance = random.Random(across)
    rows = ", ".join(f"[{', '.join(chance.choice(FABRICS) for _ in range(across))}]" for _ in range(across))
    project, faults = read_project(GRID.format(size=across, rows=rows))
    assert project is not None, faults
    return project


def _plan(project: Project) -> Plan:
    plan, faults = plan_project(project)
    assert plan is not None, faults
    return plan


def _laying(plan: Plan, *, to_json: bool = True) -> Measure:
    def run() -> float:
        lay_once.cache_clear()
        began = time.process_time()
        cloth, faults = work_out_cloth(plan)
        assert cloth is not None, faults
        if to_json:
            write_cloth(cloth)
        return time.process_time() - began

    return run


def _planning(project: Project) -> Measure:
    def run() -> float:
        began = time.process_time()
        write_plan(_plan(project))
        return time.process_time() - began

    return run
