"""What the JSON Schema can tell of blocks that are taken from the shelf. Which blocks and roles there are, it can't."""

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
blocks:
  churn dash: {block: churn dash, fabrics: {dark: navy, light: shell}}
  paw: {block: Bear's Paw, size: 7 in, fabrics: {dark: navy, light: shell}}
  web: {block: nine patch, joining: webbed, fabrics: {dark: navy, light: shell}}
make: [{block: paw, count: 2}]
"""

WRONG = {
    "no fabrics": (", fabrics: {dark: navy, light: shell}", ""),
    "fabrics in a list": ("fabrics: {dark: navy, light: shell}", "fabrics: [navy, shell]"),
    "no role at all": ("fabrics: {dark: navy, light: shell}", "fabrics: {}"),
    "a role without a fabric": ("dark: navy", "dark: [navy]"),
    "a draft beside it": ("block: churn dash, ", "block: churn dash, rows: [[navy]], "),
    "parts beside it": ("block: churn dash, ", "block: churn dash, parts: {a: {rows: [[navy]]}}, "),
    "a block that is a list": ("block: churn dash", "block: [churn dash]"),
    "no block": ("block: churn dash, ", "size: 12, "),
    "a size that is none": ("size: 7 in", "size: seven"),
    "joining in rows": ("joining: webbed", "joining: rows"),
}


def test_the_file_that_is_spoilt_below_is_good() -> None:
    assert read_project(GOOD)[1] == ()
    assert CHECK.is_valid(load(GOOD))


@pytest.mark.parametrize("name", WRONG)
def test_it_refuses(name: str) -> None:
    old, new = WRONG[name]
    assert old in GOOD
    text = GOOD.replace(old, new, 1)
    assert read_project(text)[0] is None
    assert not CHECK.is_valid(load(text))
