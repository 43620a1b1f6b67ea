"""The JSON Schema: every good file passes, what a schema can tell is told, and it says what the tables say."""

from __future__ import annotations

import copy
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
import yaml
from drafts import projects
from hypothesis import given, settings
from jsonschema import Draft202012Validator

from planner.reading import file_keys
from planner.reading.file_schema import build_schema
from planner.reading.read_project import read_project

HERE = Path(__file__).parent
VALID = [*sorted((HERE / "valid").glob("*.yaml")), *sorted((HERE.parent / "projects").glob("*.yaml"))]
SCHEMA = build_schema()
CHECK = Draft202012Validator(SCHEMA)


def with_text_keys(value):
    """As an editor sees it: keys are texts, whatever an ordinary YAML reader makes of them."""
    if isinstance(value, dict):
        return {key if isinstance(key, str) else str(key): with_text_keys(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [with_text_keys(inner) for inner in value]
    return value


def load(text: str):
    return with_text_keys(yaml.safe_load(text.replace("\t", " ")))


def test_it_is_a_valid_schema_of_draft_2020_12():
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


@pytest.mark.parametrize("path", VALID, ids=lambda path: path.stem)
def test_good_files_pass(path):
    assert [error.message for error in CHECK.iter_errors(load(path.read_text("utf-8")))] == []


@given(projects())
@settings(max_examples=20, deadline=None)
def test_every_project_that_can_be_written_passes(text):
    assert CHECK.is_valid(load(text)), text


GOOD = """
project: Tidewater
fabrics: {navy: {value: dark}, shell: {value: 2}}
parts: {four: {rows: [[navy, shell]]}}
blocks:
  wave: {size: 6, rows: [[navy, {rows: [[shell], [four turn 90]]}]]}
  jetty:
    {size: 6 x 4, box: 2, patches: [{fabric: navy, corners: "0,0 2,0 0,2"}, {fabric: shell, corners: "2,0 2,2 0,2"}]}
  buoy: {size: 6, logs: {centre: navy, around: [shell]}}
make: [{block: wave, count: 2}]
quilt:
  rows: [[wave, buoy turn 90], [{block: buoy, turn: 270, swap: {navy: shell}}, wave]]
  layout: straight
  sashing: {width: 1 1/2, fabric: navy, posts: shell}
  border: [{width: 2, fabric: navy}, {width: 1 in, fabric: shell, corners: mitred}]
  joining: webbed
press: {prefer: [dark, spin], keep: [{block: wave, at: "3, 1 1/2 in", toward: open}]}
handling: {passes: 3}
"""

WRONG = {
    "an unknown key": ("make:", "makes: 1\nmake:"),
    "an unknown key of a fabric": ("{value: dark}", "{value: dark, size: 3}"),
    "an unknown key in a cell": ("{rows: [[shell], [four turn 90]]}", "{rows: [[shell]], size: 3}"),
    "a key that is missing": ("project: Tidewater", "thread: grey"),
    "a block without a size": ("size: 6, rows", "rows"),
    "a block without a draft": ("{size: 6, logs: {centre: navy, around: [shell]}}", "{size: 6}"),
    "two drafts": ("size: 6, logs", "size: 6, rows: [[navy]], logs"),
    "a part without a draft": ("{rows: [[navy, shell]]}", "{widths: [1]}"),
    "patches without a box": ("box: 2, ", ""),
    "a box with rows": ("size: 6, rows", "size: 6, box: 2, rows"),
    "widths with logs": ("size: 6, logs", "size: 6, widths: [1], logs"),
    "a value that is none": ("value: dark", "value: drak"),
    "a value over 10": ("value: 2", "value: 11"),
    "a number in words": ("size: 6 x 4", "size: six"),
    "a size below nothing": ("size: 6 x 4", "size: -6"),
    "three numbers": ("size: 6 x 4", "size: 6 x 4 x 2"),
    "two corners": ('"0,0 2,0 0,2"', '"0,0 2,0"'),
    "corners with blanks": ('"0,0 2,0 0,2"', '"0, 0 2, 0 0, 2"'),
    "a count of none": ("count: 2", "count: 0"),
    "a count over 1000": ("count: 2", "count: 1001"),
    "an empty make": ("[{block: wave, count: 2}]", "[]"),
    "rows that are no lists": ("[[navy, shell]]", "[navy, shell]"),
    "an empty row": ("[[navy, shell]]", "[[]]"),
    "a mark in a name": ("four: {rows", "fo#ur: {rows"),
    "a comma in a cell": ("[[navy, shell]]", "[['navy, shell']]"),
    "a wish that is none": ("[dark, spin]", "[outwards]"),
    "a wish twice": ("[dark, spin]", "[dark, dark]"),
    "a side that is none": ("around: [shell]", "around: [shell], sides: [up]"),
    "a quilt without rows": ("rows: [[wave, buoy turn 90], [{block: buoy, turn: 270, swap: {navy: shell}}, wave]]", ""),
    "a quilt that is a list": ("quilt:\n", "quilt: [[wave]]\nparts of it:\n"),
    "an empty row of a quilt": ("[[wave, buoy", "[[], [wave, buoy"),
    "a block that is turned by an eighth": ("buoy turn 90", "buoy turn 45"),
    "a block that is turned by nothing": ("buoy turn 90", "buoy turn"),
    "a block that is turned twice": ("buoy turn 90", "buoy turn 90 turn 90"),
    "a block that is mirrored": ("buoy turn 90", "buoy mirrored"),
    "a block that is mirrored by a key": ("turn: 270", "mirrored: true"),
    "a turn by an eighth": ("turn: 270", "turn: 45"),
    "a place without a block": ("{block: buoy, turn: 270", "{turn: 270"),
    "a cell in a place of a quilt": ("buoy turn 90", "buoy / wave"),
    "a layout that is none": ("layout: straight", "layout: on-point"),
    "on point without a setting": ("layout: straight", "layout: on point"),
    "on point with sashing": ("layout: straight", "layout: on point\n  setting: navy"),
    "a setting in a straight layout": ("layout: straight", "setting: navy"),
    "sashing without a width": ("{width: 1 1/2, fabric", "{fabric"),
    "sashing of no width": ("{width: 1 1/2, fabric", "{width: 0, fabric"),
    "a border without a fabric": ("{width: 2, fabric: navy}", "{width: 2}"),
    "no border": ("[{width: 2, fabric: navy}, {width: 1 in, fabric: shell, corners: mitred}]", "[]"),
    "nine borders": ("border: [", "border: [" + "{width: 2, fabric: navy}, " * 7),
    "a joining that is none": ("webbed", "web"),
    "an empty keep": ('[{block: wave, at: "3, 1 1/2 in", toward: open}]', "[]"),
    "a point that is a number": ('at: "3, 1 1/2 in"', "at: 3"),
    "a point of three": ('at: "3, 1 1/2 in"', 'at: "3, 1, 2"'),
    "a way that is none": ("toward: open", "toward: north"),
    "a keep without a way": (", toward: open", ""),
    "no passes": ("passes: 3", "passes: 0"),
    "passes over 1000": ("passes: 3", "passes: 1001"),
    "cloth of no width": ("{value: dark}", "{value: dark, width: 0}"),
    "a colour without its sign": ("{value: dark}", "{value: dark, colour: e8735a}"),
    "a letter too long": ("{value: dark}", "{value: dark, letter: abc}"),
    "a measure that is none": ("make:", "measure: inch\nmake:"),
    "a fabric that is a word": ("{value: dark}", "dark"),
}


def test_the_file_that_is_spoilt_below_is_good():
    assert read_project(GOOD)[1] == ()
    assert CHECK.is_valid(load(GOOD))


@pytest.mark.parametrize("name", WRONG)
def test_it_refuses(name):
    old, new = WRONG[name]
    assert old in GOOD
    text = GOOD.replace(old, new, 1)
    assert read_project(text)[0] is None
    assert not CHECK.is_valid(load(text))


def test_loose_blocks_or_a_quilt_are_enough_and_neither_is_not():
    make, quilt = GOOD.index("make:"), GOOD.index("quilt:")
    press = GOOD.index("press:")
    for text, is_enough in (
        (GOOD[:quilt] + GOOD[press:], True),
        (GOOD[:make] + GOOD[quilt:], True),
        (GOOD[:make] + GOOD[press:], False),
    ):
        assert (read_project(text)[0] is not None) == CHECK.is_valid(load(text)) == is_enough


def test_one_border_needs_no_list_and_on_point_needs_a_setting():
    border = "border: [{width: 2, fabric: navy}, {width: 1 in, fabric: shell, corners: mitred}]"
    text = GOOD.replace(border, "border: {width: 2, fabric: navy}")
    assert text != GOOD
    on_point = GOOD.replace("layout: straight", "layout: on point\n  setting: navy")
    on_point = on_point.replace("  sashing: {width: 1 1/2, fabric: navy, posts: shell}\n", "")
    on_point = on_point.replace("corners: mitred", "corners: navy")
    on_point = on_point.replace(
        "[[wave, buoy turn 90], [{block: buoy, turn: 270, swap: {navy: shell}}, wave]]", "[[wave]]"
    )
    for good in (text, on_point):
        assert read_project(good)[1] == ()
        assert CHECK.is_valid(load(good))


def test_numbers_and_names_may_be_what_an_ordinary_yaml_reader_makes_of_them():
    text = GOOD.replace("navy", "yes").replace("shell", "2024").replace("size: 6 x 4", "size: 6.5")
    loaded = load(text)
    assert loaded["blocks"]["wave"]["rows"][0][0] is True
    assert loaded["blocks"]["jetty"]["size"] == 6.5
    assert read_project(text)[1] == ()
    assert CHECK.is_valid(loaded)


def test_every_key_of_the_tables_is_in_it_with_its_help():
    said = json.dumps(SCHEMA)
    tables = [table for table in vars(file_keys).values() if isinstance(table, file_keys.Keys)]
    assert len(tables) > 8
    allowed = {name for table in tables for name in table.names}  # a key may be another table's, and not this one's
    for table in tables:
        for key in table.keys:
            assert (json.dumps({key.name: 0})[1:-3] in said) == (key.name in allowed)
            assert (json.dumps(key.help) in said) == (not key.why_not)


def test_it_is_the_same_in_every_process():
    words = "import json; from planner.reading.file_schema import build_schema; print(json.dumps(build_schema()))"
    answers = set()
    for seed in "01":
        run = subprocess.run(
            [sys.executable, "-c", words],
            cwd=HERE.parent,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        answers.add(run.stdout)
    assert [json.loads(answer) for answer in answers] == [SCHEMA]


def test_building_it_twice_gives_two_that_can_be_changed_apart():
    kept = copy.deepcopy(SCHEMA)
    build_schema()["properties"].clear()
    assert build_schema() == kept


def test_reading_a_project_loads_no_pydantic():
    words = "import sys; import planner.reading.read_project; sys.exit('pydantic' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", words], cwd=HERE.parent, check=False).returncode == 0
