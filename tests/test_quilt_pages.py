"""A quilt on the screens of the workspace: its page, its press map, the panel beside the card, the layout step."""

from __future__ import annotations

from pathlib import Path
from types import ModuleType

import pytest
from benches import done_until
from planned import plan_text
from quilts import KEPT, LAP, ON_POINT
from test_walk import SIZES, Maker, lines_of, sit_down

import tui.screens.blocks
import tui.widgets.side_panel
from planner.event import Event
from planner.plan import Plan
from planner.sheet import Stage, write_sheet
from tui.screens.blocks import BlocksScreen

PLANS = {"lap": plan_text(LAP), "on point": plan_text(ON_POINT)}
at_every_size = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
of_both = pytest.mark.parametrize("name", PLANS)


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project file to keep progress beside."""
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    path = tmp_path / "lap.yaml"
    path.write_text(LAP, encoding="utf-8")
    return path


def at(plan: Plan, stage: Stage, done: int = 0) -> tuple[Event, ...]:
    sheet = write_sheet(plan)
    return done_until(sheet, next(n for n, step in enumerate(sheet.steps) if step.stage == stage), done)


def page_of(maker: Maker) -> BlocksScreen:
    assert isinstance(maker.screen, BlocksScreen)
    return maker.screen


def words_of(maker: Maker) -> list[str]:
    """The lines of the page that have words or a picture on them."""
    return [line for line in lines_of(page_of(maker).lines) if line.strip()]


@at_every_size
@of_both
async def test_the_page_of_the_quilt_opens_at_the_layout_and_fits_the_screen(
    name: str, size: tuple[int, int], file: Path
) -> None:
    async with sit_down(file, *at(PLANS[name], "arrange"), size=size, plan=PLANS[name]) as maker:
        await maker.press("b")
        page = page_of(maker)
        assert "a quilt of " in maker.read()
        assert (page.lines.max_scroll_x, page.lines.max_scroll_y) == (0, 0)
        await maker.pilot.resize_terminal(60, 20)
        assert page.lines.max_scroll_x == 0


@at_every_size
async def test_one_key_leads_to_the_press_map_and_back(size: tuple[int, int], file: Path) -> None:
    plan = PLANS["lap"]
    async with sit_down(file, *at(plan, "arrange"), size=size, plan=plan) as maker:
        await maker.press("b")
        before = words_of(maker)
        await maker.press("m")
        assert "press map of a quilt of 6 blocks" in maker.read()
        assert "Arrows: the way the allowances fall." in maker.read()
        assert words_of(maker) != before
        seen = [maker.read()]
        for _ in plan.blocks.drafted[1:]:
            await maker.press("n")
            assert maker.read().startswith("press map of ")
            seen.append(maker.read())
        assert len(set(seen)) == len(seen)
        await maker.press("n", "m")
        assert words_of(maker) == before


async def test_a_clash_is_told_on_the_press_map(file: Path) -> None:
    plan = plan_text(KEPT)
    async with sit_down(file, plan=plan) as maker:
        await maker.press("b", "m")
        assert "⊗ a join that does not nest: a pin on each side of the point." in maker.read()


def count_calls(monkeypatch: pytest.MonkeyPatch, module: ModuleType, name: str) -> list[object]:
    """What a function of a module is called with from now on."""
    calls: list[object] = []
    call = getattr(module, name)

    def spy(*args: object, **words: object) -> object:
        calls.append(args)
        return call(*args, **words)

    monkeypatch.setattr(module, name, spy)
    return calls


@of_both
async def test_what_was_shown_once_is_not_drawn_again(name: str, file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = [
        count_calls(monkeypatch, tui.screens.blocks, drawing) for drawing in ("draw_quilt", "draw_press", "draw_block")
    ]
    plan = PLANS[name]
    async with sit_down(file, *at(plan, "arrange"), size=(80, 24), plan=plan) as maker:
        await maker.press("b", "m", *(["n", "m"] * len(plan.blocks.drafted)))
        many = list(map(len, drawn))
        assert all(many)
        await maker.press("down", "up", "m", "m", *(["n"] * len(plan.blocks.drafted)), "right", "left")
        assert list(map(len, drawn)) == many


async def test_the_panel_draws_the_quilt_once_for_a_step(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = count_calls(monkeypatch, tui.widgets.side_panel, "draw_quilt")
    plan = PLANS["lap"]
    sheet = write_sheet(plan)
    number = next(
        n
        for n, step in enumerate(sheet.steps)
        if step.stage == "sew" and step.count > 1 and not step.work.chain.in_quilt  # type: ignore[union-attr]
    )
    async with sit_down(file, *done_until(sheet, number), size=(120, 40), plan=plan) as maker:
        assert len(drawn) == 1
        assert "the quilt" in maker.read()
        await maker.count("space", "space", "u")
        assert len(drawn) == 1


@at_every_size
@of_both
async def test_the_layout_is_drawn_with_the_row_at_hand_strong_and_told(
    name: str, size: tuple[int, int], file: Path
) -> None:
    plan = PLANS[name]
    async with sit_down(file, *at(plan, "arrange", done=1), size=size, plan=plan) as maker:
        card = lines_of(maker.at_bench.card)
        rows = [line for line in card if line.strip().startswith(("row ", "▶ row "))]
        many = len(plan.project.quilt.rows) if plan.project.quilt else 0
        assert len(rows) == many
        assert [line.strip().startswith("▶") for line in rows] == [number == 1 for number in range(many)]
        assert "Row 2: " in maker.card()
        assert "Row 1: " not in maker.card()
        if many > 2:
            await maker.count("space")
            assert "Row 3: " in maker.card()
            assert "▶ row 3" in maker.card()


async def test_beside_the_card_the_picture_tells_its_letters_and_signs(file: Path) -> None:
    plan = PLANS["lap"]
    sheet = write_sheet(plan)
    joining = next(n for n, step in enumerate(sheet.steps) if step.stage == "sew" and not step.work.chain.in_quilt)  # type: ignore[union-attr]
    async with sit_down(file, *done_until(sheet, joining), size=(120, 40), plan=plan) as maker:
        panel = "\n".join(lines_of(maker.at_bench.side))
        for fabric in plan.project.fabrics:
            assert f"{fabric.letter} {fabric.name}" in panel
        assert "· not in what is sewn here" in panel
        assert "lie turned" in panel
        assert "▶ sew" in panel
