"""What is set in is sewn one by one: no chain to clip, and after the machine it waits for the iron."""

from __future__ import annotations

from pathlib import Path

import pytest
from benches import bench_on, done_until
from planned import plan_sample, plan_text

from planner.plan import Plan
from planner.say_step import Speaker
from planner.session import find_clip, find_lying, fold
from planner.sheet import ClipWork, SewWork, assign_letters, is_sewn_singly, write_sheet
from tui.view_step import view_step

MITRED = """
project: Tidewater frame
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
blocks:
  four patch: {size: 6, rows: [[navy, shell], [shell, navy]]}
quilt:
  rows: [[four patch, four patch]]
  border: {width: 2, fabric: coral, corners: mitred}
"""


@pytest.mark.parametrize("plan", [plan_text(MITRED), plan_sample("moorings-lap")], ids=["frame", "moorings"])
def test_mitred_strips_are_in_no_chain_and_all_else_is_in_one(plan: Plan, tmp_path: Path) -> None:
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    clipped = {chain.name for step in sheet.steps if isinstance(step.work, ClipWork) for chain in step.work.chains}
    singly = 0
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        is_alone = is_sewn_singly(plan, step.work.chain)
        singly += is_alone
        assert (step.work.chain.name in clipped) != is_alone
        assert (find_clip(sheet, step) is None) == is_alone
        words = " ".join(speaker.say(step).does)
        assert ("cut the threads after each seam" in words) == is_alone
        assert ("A scrap first and last" in words) != is_alone
    assert singly == 4  # two strips are sewn on from corner to corner, two are set in between them


def test_what_is_sewn_singly_lies_at_the_iron_not_in_a_chain(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    plan = plan_text(MITRED)
    sheet = write_sheet(plan)
    for number, step in enumerate(sheet.steps):
        if isinstance(step.work, SewWork):
            where = [lying.where for lying in find_lying(fold(done_until(sheet, number, 1), sheet))]
            assert ("iron" in where) == is_sewn_singly(plan, step.work.chain)
            assert ("chain" in where) != is_sewn_singly(plan, step.work.chain)
    with bench_on(tmp_path / "lap.yaml", plan) as bench:
        for number, step in enumerate(sheet.steps):
            if isinstance(step.work, SewWork):
                then = view_step(bench, number).then
                assert ("clip" in then) != is_sewn_singly(plan, step.work.chain)
