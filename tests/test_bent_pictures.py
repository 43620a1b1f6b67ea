"""Pictures of seams that turn or are sewn in part: on small screens, with a page for where there is no room."""

from __future__ import annotations

import re
from itertools import pairwise
from math import dist
from pathlib import Path

import pytest
from benches import Clock, bench_on
from shapely import LineString, Polygon  # type: ignore[import-untyped]
from test_say_bends import DRAWN, as_floats, plan_drawn, speak

from planner.sheet import SewWork, feed_of
from tui.app import SeamrunApp
from tui.canvas import HEAVY_SLANT, Canvas
from tui.draw_step import draw_step
from tui.draw_unit import draw_outcome
from tui.lay_out_card import lay_out_card
from tui.scene import Scene, find_marked
from tui.settings import Settings
from tui.view_step import view_step

CARD = 80, 22  # columns and rows of the card at 80x24
STARS = ("eight-pointed star", "six-pointed star", "bright hopes", "attic windows")


@pytest.mark.parametrize("size", [CARD, (60, 18)])
@pytest.mark.parametrize("name", STARS)
def test_each_seam_has_a_picture_on_the_card_or_the_key_that_shows_it(
    name: str, size: tuple[int, int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "lap.yaml", plan_drawn(name)) as bench:
        for number, step in enumerate(bench.sheet.steps):
            if isinstance(step.work, SewWork):
                rows = lay_out_card(
                    view_step(bench, number), *size, lambda wide, high, at=number: draw_step(bench, at, wide, high)
                )
                shown = ["".join(part.text for part in row) for row in rows]
                has_picture = any("║" in row or "┃" in row or "━" in row for row in shown)
                hints = [row for row in shown if "v shows it" in row or "v: the picture" in row]
                assert has_picture != bool(hints), shown


def find_bent(name: str, corners: int) -> tuple[int, int]:
    """The number of a step that sews a seam with so many corners, and its unit's."""
    sheet, _ = speak(plan_drawn(name))
    for number, step in enumerate(sheet.steps):
        if isinstance(step.work, SewWork):
            unit = step.work.chain.unit
            if len(sheet.plan.units.units[unit].legs) == corners + 2:
                return number, unit
    raise AssertionError(name)


def text_of(canvas: Canvas | None) -> str:
    return "\n".join("".join(cell.text for cell in row) for row in canvas or ())


def test_slanting_stretches_are_dotted_and_corners_numbered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "lap.yaml", plan_drawn("eight-pointed star")) as bench:
        number, _ = find_bent("eight-pointed star", 2)
        text = text_of(draw_step(bench, number, 116, 40))
    assert text.count(HEAVY_SLANT) > 6
    assert f"{HEAVY_SLANT} the edges to sew where they slant" in text
    assert text.count("1") == text.count("2") == 2, text  # once on each side


async def test_the_picture_of_a_step_is_shown_large_by_its_key(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    number, _ = find_bent("eight-pointed star", 1)
    with bench_on(tmp_path / "lap.yaml", plan_drawn("eight-pointed star")) as bench:
        app = SeamrunApp(bench, Settings(), Clock())
        app.animation_level = "none"
        async with app.run_test(size=(60, 20)) as pilot:
            await pilot.pause()
            app.screen.look = number  # type: ignore[attr-defined]
            await pilot.press("v")
            await pilot.pause()
            page = app.screen
            rows = ["".join(part.text for part in row) for row in page.lines._rows]  # type: ignore[attr-defined]
            assert any("╫" in row for row in rows)
            assert any("Right sides together" in row for row in rows)
            await pilot.press("escape")
            await pilot.pause()
            assert app.screen.look == number  # type: ignore[attr-defined]


def test_a_mark_between_two_halves_that_are_as_near_is_on_the_left_one() -> None:
    left, right = ((0, 0), (2, 2), (0, 4)), ((4, 0), (4, 4), (2, 2))
    for patches, expected in (((left, right), 0), ((right, left), 1)):
        scene = Scene(patches, ("navy", "shell"), (), ((0, 0), (2, 2), (4, 0), (4, 4), (2, 2), (0, 4)))
        assert find_marked(scene, (2, 0), 0) == expected
        assert find_marked(scene, (2, 4), 4) == 1 - expected


def test_a_mark_stays_in_its_half_however_large_the_unit_is_drawn() -> None:
    sheet, speaker = speak(plan_drawn("eight-pointed star"))
    step = next(step for step in sheet.steps if step.stage == "press")
    chain = step.work.chain  # type: ignore[union-attr]
    outcome = step.work.outcome  # type: ignore[union-attr]
    halves = set()
    for height in range(7, 20):
        canvas = draw_outcome(speaker, chain, outcome, 78, height)
        halves |= {cell.fabric for row in canvas or () for cell in row if cell.role == "mark"}
    assert len(halves - {None}) == 1


@pytest.mark.parametrize("name", DRAWN)
def test_the_edges_that_a_seam_with_a_corner_names_are_along_it(name: str) -> None:
    plan = plan_drawn(name)
    sheet, speaker = speak(plan)
    seen = 0
    for step in sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        number = step.work.chain.unit
        unit, feed = plan.units.units[number], feed_of(plan, number)
        words = " ".join(speaker.say(step).does)
        first = re.search(r"[Ss]ew ([^;:]*) to ([^;:]*): ", words)
        then = re.search(r"till (?:it|its (\w+)) meets (?:the (\w+) of )?", words)
        if len(unit.legs) != 3 or first is None or then is None:
            continue
        way = unit.legs if feed.first == unit.legs[0] else unit.legs[::-1]
        beside: list[set[str]] = [set(), set()]
        for placed in unit.patches:
            outline = Polygon(as_floats(plan, plan.units.cuts.outline(placed))).exterior
            for place, stretch in enumerate(pairwise(as_floats(plan, way))):
                shared = LineString(stretch).buffer(1e-6).intersection(outline)
                if shared.length > 0.2 * dist(*stretch):
                    beside[place].add(plan.units.cuts.shapes[placed[2]].fabric)
        told = {match[1] for side in first.groups() if (match := re.match(r"the (\w+) of ", side))}
        assert told, words
        assert told <= beside[0], (told, beside, words)
        assert {fabric for fabric in then.groups() if fabric} <= beside[1], (then.groups(), beside)
        seen += 1
    assert seen or name not in ("star", "eight-pointed star")
