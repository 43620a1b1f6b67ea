"""The house: which room may know which, and what gets loaded for which answer."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent
PLANNER = sorted((TOP / "planner").rglob("*.py"))
FORBIDDEN = {"textual", "rich", "tui", "time", "datetime", "locale", "os", "random"}


def imports_of(file: Path) -> list[tuple[int, str]]:
    """Every module that a file imports anywhere in it, with the line."""
    found = []
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [(node.lineno, alias.name) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            found.append((node.lineno, node.module or ""))
    return found


@pytest.mark.parametrize("file", PLANNER, ids=lambda file: file.name)
def test_the_planner_knows_no_screen_no_clock_and_no_environment(file: Path) -> None:
    guilty = [(line, name) for line, name in imports_of(file) if name.partition(".")[0] in FORBIDDEN]
    assert guilty == []


@pytest.mark.parametrize("file", PLANNER, ids=lambda file: file.name)
def test_the_planner_holds_no_float(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    constants = [node for node in ast.walk(tree) if isinstance(node, ast.Constant)]
    floats = [node.lineno for node in constants if isinstance(node.value, float)]
    calls = [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "float"
    ]
    allowed = {"nearest_name.py"}  # likeness of names, nothing that is measured
    assert file.name in allowed or (floats, calls) == ([], [])


def test_no_checker_imports_the_solver_it_checks() -> None:
    solvers = {
        "find_cuts", "choose_cuts", "build_units", "batch_seams", "find_joins", "press_seams", "least_cost",
        "cut_sizes", "cut_list", "name_piles", "blocks", "plan", "plan_json", "prove_cuts", "tie_bits", "feed_units",
        "lay_out_top", "turn_blocks", "find_kept", "set_in_borders", "spin_seams", "frame_on_point", "measure",
    }  # fmt: skip
    checks = sorted((TOP / "planner" / "checks").glob("*.py"))
    assert checks
    for file in checks:
        for line, name in imports_of(file):
            assert name.rpartition(".")[2] not in solvers, f"{file.name}:{line} imports {name}"


def test_data_flows_one_way_through_the_planner() -> None:
    """No two rooms of the planner import each other, however long the way round."""
    knows = {
        ".".join(file.relative_to(TOP).with_suffix("").parts): {
            name for _, name in imports_of(file) if name.startswith("planner.")
        }
        for file in PLANNER
    }
    done: set[str] = set()

    def walk(room: str, way: tuple[str, ...]) -> None:
        assert room not in way, f"a ring: {' -> '.join((*way, room))}"
        if room not in done:
            for other in knows.get(room, ()):
                walk(other, (*way, room))
            done.add(room)

    for room in knows:
        walk(room, ())


@pytest.mark.parametrize(
    ("modules", "absent"),
    [
        ("planner.plan, planner.print_sheet, planner.session", ("textual", "rich", "tui", "pydantic")),
        ("tui.__main__, tui.answers, tui.progress", ("textual", "rich", "pydantic")),
        ("tui.bench, tui.view_step, tui.draw, tui.fabric_colours", ("textual", "pydantic")),
    ],
)
def test_what_is_not_needed_is_not_loaded(modules: str, absent: tuple[str, ...]) -> None:
    code = f"import sys, {modules}; print([name for name in {absent!r} if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=TOP, check=True)
    assert ran.stdout.strip() == "[]"
