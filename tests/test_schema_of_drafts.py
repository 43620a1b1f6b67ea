"""What the JSON Schema can tell of drafts that are no grid, no logs and not patch by patch."""

from __future__ import annotations

import pytest
from jsonschema import Draft202012Validator
from test_file_schema import load

from planner.reading.file_schema import build_schema
from planner.reading.read_project import read_project

CHECK = Draft202012Validator(build_schema())

GOOD = """
project: Tidewater
fabrics: {navy: {value: dark}, shell: {value: 2}}
parts:
  kite: {box: 2, lines: ["0,0 2,1", "0,0 1,2"], faces: [shell, navy, shell]}
  sail: {box: 2, lines: ["0,0 2,2"], faces: [{fabric: navy, at: "1,1/2"}, {fabric: shell, at: "1/2,1"}]}
blocks:
  rails: {size: 6, strips: {across: [navy, shell], widths: [1, 1 1/2]}}
  flight: {size: 6, geese: {goose: [navy, shell], sky: shell, point: left, count: 3}}
  centre: {size: 6, square: {centre: navy, around: [shell, navy]}}
  ball: {size: 6, snowball: {centre: navy, corners: {top left: shell}, box: 4 x 3, size: 1 1/2}}
  cells: {size: 6, rows: [[kite, sail], [{strips: {down: [navy]}}, {snowball: {centre: navy, corners: shell}}]]}
make: [{block: rails, count: 2}]
"""
ROOTED = """
project: Tidewater
fabrics: {navy: {value: dark}, shell: {value: 2}}
parts:
  star: {ring: {of: 6, diamonds: [navy, shell], fill: shell}}
  field: {hexagons: {rows: [[navy, shell], [navy]], edge: shell}}
blocks:
  plain: {size: 6, rows: [[navy]]}
make: [{block: plain, count: 2}]
"""

WRONG = {
    "lines without a box": ('{box: 2, lines: ["0,0 2,1"', '{lines: ["0,0 2,1"'),
    "lines without faces": (", faces: [shell, navy, shell]", ""),
    "a line of one point": ('"0,0 2,1", ', '"0,0", '),
    "a line of three points": ('"0,0 2,1", ', '"0,0 1,1 2,1", '),
    "no lines": ('["0,0 2,2"]', "[]"),
    "faces that are one": ("faces: [shell, navy, shell]", "faces: shell"),
    "a face without a point": ('{fabric: navy, at: "1,1/2"}', "{fabric: navy}"),
    "a point that is none": ('at: "1,1/2"', 'at: "1 1/2"'),
    "faces by point and in order": ('{fabric: navy, at: "1,1/2"}', "navy"),
    "strips both ways": ("strips: {across: [navy, shell]", "strips: {across: [navy, shell], down: [navy]"),
    "strips neither way": ("across: [navy, shell], ", ""),
    "strips that are a list": ("strips: {down: [navy]}", "strips: [navy]"),
    "widths beside strips": ("size: 6, strips", "size: 6, widths: [1], strips"),
    "geese without a sky": (", sky: shell", ""),
    "geese that point nowhere": ("point: left", "point: west"),
    "no goose": ("count: 3", "count: 0"),
    "a square without a centre": ("square: {centre: navy, ", "square: {"),
    "a square with nothing round it": ("around: [shell, navy]", "around: []"),
    "a corner that is none": ("top left", "upper left"),
    "a corner of no size": ("size: 1 1/2}", "size: 0}"),
    "snowball and square": ("size: 6, snowball", "size: 6, square: {centre: navy, around: shell}, snowball"),
}
ROOTED_WRONG = {
    "a ring of seven": ("of: 6", "of: 7"),
    "a ring without fill": (", fill: shell", ""),
    "a ring without diamonds": ("diamonds: [navy, shell], ", ""),
    "hexagons without an edge": (", edge: shell", ""),
    "a row of hexagons that is no list": ("[[navy, shell], [navy]]", "[navy, shell]"),
    "a row without hexagons": ("[[navy, shell], [navy]]", "[[navy], []]"),
}


@pytest.mark.parametrize("text", [GOOD, ROOTED])
def test_what_is_spoilt_below_is_good(text: str) -> None:
    assert read_project(text)[1] == ()
    assert CHECK.is_valid(load(text))


@pytest.mark.parametrize(
    ("text", "old", "new"),
    [*((GOOD, *change) for change in WRONG.values()), *((ROOTED, *change) for change in ROOTED_WRONG.values())],
    ids=[*WRONG, *ROOTED_WRONG],
)
def test_it_refuses(text: str, old: str, new: str) -> None:
    assert old in text
    spoilt = text.replace(old, new, 1)
    assert read_project(spoilt)[0] is None
    assert not CHECK.is_valid(load(spoilt))


@pytest.mark.parametrize("size", ["r2", "4r2", "4+2r2", "2-1/2r3", "3/2r2 x 1 1/2+r2", "r3-1 in", "6 x 4r3 cm"])
def test_a_size_may_have_a_root(size: str) -> None:
    text = GOOD.replace("rails: {size: 6,", f"rails: {{size: {size},")
    assert read_project(text)[1] == ()
    assert CHECK.is_valid(load(text))


@pytest.mark.parametrize("size", ["r5", "4r", "2r2r2", "r2+r2", "4+2r2+1", "rr2"])
def test_a_root_that_is_none_is_refused(size: str) -> None:
    text = GOOD.replace("rails: {size: 6,", f"rails: {{size: {size},")
    assert read_project(text)[0] is None
    assert not CHECK.is_valid(load(text))


def test_points_and_proportions_may_have_a_root() -> None:
    text = GOOD.replace('box: 2, lines: ["0,0 2,2"]', 'box: 2+r2, lines: ["0,0 2+r2,r2+2"]')
    text = text.replace("widths: [1, 1 1/2]", "widths: [1, 1/2r2]").replace("box: 4 x 3, size: 1 1/2", "box: 2+r2")
    assert text.count("r2") == 5
    assert read_project(text)[1] == ()
    assert CHECK.is_valid(load(text))
