"""A method that is fixed for some units alone: by what the sheet calls them, by their block, by their size."""

from __future__ import annotations

from pathlib import Path

import pytest
from planned import plan_text, read_text

from planner.cloth.choose_methods import choose_methods
from planner.cloth.why_not_fixed import why_not_fixed
from planner.fault import Fault
from planner.tally import NOTHING_MADE
from tui.load import load_plan
from tui.plan_slowly import plan_for_bench

PROJECT = """
project: Evening at the inlet
fabrics:
  navy:  {value: dark}
  shell: {value: light}
  kelp:  {value: 5, directional: true}
blocks:
  sail:  {size: 3, rows: [[navy / shell]]}
  small: {size: 4, rows: [[navy / shell, shell / navy], [shell / navy, navy / shell]]}
  wheel: {size: 12, rows: [[navy / shell, shell / navy], [shell / navy, navy / shell]]}
  wide:  {size: 12 x 6, rows: [[navy / shell, shell]]}
  nine:
    size: 6
    rows: [[{rows: [[navy, shell, navy]]}], [{rows: [[shell, navy, shell]]}], [{rows: [[navy, shell, navy]]}]]
  print: {size: 6, rows: [[navy / kelp]]}
make:
  - {block: sail, count: 24}
  - {block: small, count: 4}
  - {block: wheel, count: 6}
  - {block: wide, count: 2}
  - {block: nine, count: 6}
  - {block: print, count: 2}
methods:
  triangles: two at a time
  units:
"""
TRIANGLES = "navy-shell triangle square"


def fix(*entries: str) -> tuple[dict[tuple[str, str], str], tuple[Fault, ...]]:
    """By which method each unit, with its finished width, is sewn; and what is wrong with the entries."""
    plan = plan_text(PROJECT + "".join(f"    - {{{entry}}}\n" for entry in entries))
    sewn: dict[tuple[str, str], str] = {}
    for choice in choose_methods(plan):
        if choice.chosen is not None:
            sewn[choice.unit.name, str(choice.unit.size[0])] = choice.chosen.method
    return sewn, why_not_fixed(plan)


def test_what_is_fixed_by_name_goes_for_every_unit_of_that_name() -> None:
    sewn, faults = fix(f"unit: {TRIANGLES}, method: eight at a time")
    assert faults == ()
    assert sewn[TRIANGLES, "2"] == sewn[TRIANGLES, "6"] == "eight at a time"
    # A unit that is a whole block has the name of the block
    assert sewn["sail block", "3"] == "two at a time"


def test_what_is_fixed_by_block_goes_for_its_units_alone() -> None:
    sewn, faults = fix("block: small, method: eight at a time", "block: sail, method: one by one")
    assert faults == ()
    assert [sewn[TRIANGLES, "2"], sewn[TRIANGLES, "6"]] == ["eight at a time", "two at a time"]
    assert sewn["sail block", "3"] == "one by one"


def test_the_entry_that_says_more_goes_first_in_whatever_order() -> None:
    entries = [
        "block: small, method: from strips",
        f"unit: {TRIANGLES}, method: one by one",
        f"unit: {TRIANGLES}, size: 6, method: eight at a time",
    ]
    for order in (entries, entries[::-1]):
        sewn, faults = fix(*order)
        assert faults == ()
        assert [sewn[TRIANGLES, "2"], sewn[TRIANGLES, "6"]] == ["one by one", "eight at a time"]


@pytest.mark.parametrize(
    ("entries", "words"),
    [
        (
            ["unit: navy-shel triangle square, method: quickest"],
            f"is called 'navy-shel triangle square'; did you mean '{TRIANGLES}'?",
        ),
        (
            [f"unit: {TRIANGLES}, block: nine, method: quickest"],
            f"no unit in block nine is called '{TRIANGLES}'; it is in small, wheel and wide",
        ),
        ([f"unit: {TRIANGLES}, size: 3, method: quickest"], f"no '{TRIANGLES}' is 3 finished; there is 2 and 6"),
        (
            [f"unit: {TRIANGLES}, method: strip sets"],
            "cannot be sewn strip sets: it is a triangle square, which is sewn one by one, two at a time,",
        ),
        (
            ["unit: nine block, method: quickest"],
            "'nine block' cannot be sewn quickest: it is no square of triangles, goose or row",
        ),
        (
            ["block: print, method: two at a time"],
            "'print block' cannot be sewn two at a time: it has a print with a direction",
        ),
        (
            [
                f"unit: {TRIANGLES}, block: wheel, method: one by one",
                f"unit: {TRIANGLES}, block: wide, method: eight at a time",
            ],
            f"'{TRIANGLES}' is sewn in one way wherever it is, and line 26 fixes it already; keep one",
        ),
        (
            ["block: nine, method: strip sets", "unit: navy-shell pair, method: one by one"],
            "'navy-shell pair' cannot be sewn one by one: it comes out of a longer strip set",
        ),
    ],
)
def test_an_entry_that_cannot_be_followed_is_a_fault(entries: list[str], words: str) -> None:
    _, faults = fix(*entries)
    ((line, where, said),) = faults
    assert line == PROJECT.count("\n") + len(entries)
    assert where == f"methods, units, entry {len(entries)}"
    assert words in said


def test_a_block_may_hold_units_that_a_method_is_not_for() -> None:
    _, faults = fix("block: nine, method: strip sets")
    assert faults == ()
    _, faults = fix("block: wide, method: eight at a time")
    assert faults == ()


def test_one_by_one_is_never_wrong_for_what_has_one_way_alone() -> None:
    _, faults = fix("unit: nine block, method: one by one")
    assert faults == ()


def test_every_command_and_the_bench_tell_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = f"{PROJECT}    - {{block: sail, method: strip sets}}\n"
    file = tmp_path / "evening.yaml"
    file.write_text(text, encoding="utf-8")
    assert load_plan(str(file)) is None
    told = capsys.readouterr().err
    assert told.startswith(
        f"{file}:{text.count(chr(10))}: methods, units, entry 1: 'sail block' cannot be sewn strip sets"
    )
    planning = plan_for_bench(read_text(text), NOTHING_MADE)
    assert planning.plan is None
    assert len(planning.faults) == 1
