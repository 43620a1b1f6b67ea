"""What is written about the files is so: examples are read and planned, and no key goes without a word."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from planner.checks import plan_file
from planner.plan import plan_project
from planner.plan_json import write_plan
from planner.project import ALL_WISHES
from planner.reading import file_keys
from planner.reading.read_project import read_project

PROJECTS = Path(__file__).parent.parent / "projects"
PROJECT_FILE = (PROJECTS / "PROJECT-FILE.md").read_text("utf-8")
PLAN_FILE = (PROJECTS / "PLAN-FILE.md").read_text("utf-8")
YAML = re.findall(r"```yaml\n(.*?)```", PROJECT_FILE, re.DOTALL)
WHOLE = [text for text in YAML if text.startswith("project:")]
REST = {
    "project": "project: Tidewater\n",
    "fabrics": "fabrics: {navy: {value: dark}, shell: {value: light}}\n",
    "blocks": "blocks: {pinwheel: {size: 12, rows: [[navy, shell]]}}\n",
}
SAIL = """
project: Tidewater
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks: {sail: {size: 6, rows: [[navy / shell]]}}
make: [{block: sail, count: 1}]
"""


def test_there_are_examples() -> None:
    assert len(WHOLE) > 2
    assert len(YAML) > len(WHOLE)


@pytest.mark.parametrize("text", WHOLE, ids=lambda text: text.splitlines()[0])
def test_a_whole_example_is_read_and_uses_all_that_is_written(text: str) -> None:
    project, faults = read_project(text)
    assert faults == ()
    assert project is not None
    assert project.unused == ()


@pytest.mark.parametrize("text", [text for text in YAML if text not in WHOLE], ids=lambda text: text.split(":")[0])
def test_a_part_of_a_project_is_read_within_one(text: str) -> None:
    whole = text + "".join(rest for key, rest in REST.items() if not re.search(f"^{key}:", text, re.MULTILINE))
    block = re.search(r"^blocks:(?: \{|\n  )(\w+)", whole, re.MULTILINE)
    assert block is not None
    assert read_project(f"{whole}make: [{{block: {block[1]}, count: 1}}]\n")[1] == ()


def test_every_key_of_the_project_file_is_told() -> None:
    tables = [table for table in vars(file_keys).values() if isinstance(table, file_keys.Keys)]
    names = {name for table in tables for name in table.names}
    assert len(names) > 30
    assert [name for name in sorted(names) if f"`{name}`" not in PROJECT_FILE] == []
    for words in (file_keys.LAYOUTS, file_keys.JOININGS, file_keys.TOWARDS, ALL_WISHES):
        assert [word for word in words if f"`{word}`" not in PROJECT_FILE] == []


def test_the_plan_that_is_shown_is_the_plan_that_is_made() -> None:
    project, _ = read_project(SAIL)
    assert project is not None
    plan, _ = plan_project(project)
    assert plan is not None
    shown = re.search(r"```json\n(.*?)```", PLAN_FILE, re.DOTALL)
    assert shown is not None
    assert json.loads(shown[1]) == json.loads(write_plan(plan))


def test_every_field_of_the_plan_is_told() -> None:
    kinds = [kind for kind in vars(plan_file).values() if hasattr(kind, "__required_keys__")]
    fields = {field for kind in kinds for field in kind.__required_keys__ | kind.__optional_keys__}
    assert len(fields) > 30
    told = set(re.findall(r"[`\"](\w+)[`\"]", PLAN_FILE)) | set(re.findall(r"^## (.*)$", PLAN_FILE, re.MULTILINE))
    assert sorted(fields - told) == []
