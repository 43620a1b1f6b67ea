"""The pictures of the samples' steps as they stand on the card: every patch of what is sewn or pressed can be read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from pathlib import Path

import pytest
from benches import bench_on, done_until, sheet_of
from planned import SAMPLES, plan_sample
from shapely import Polygon, contains_xy

from planner.plan import Plan
from planner.session import fold
from planner.sheet import BlockWork, SewWork, Step, UnitWork
from tui.bench import Bench
from tui.canvas import BLANK
from tui.draw import Canvas, Cell
from tui.draw_step import draw_step
from tui.lay_out_card import lay_out_card
from tui.paint_scene import MARKS
from tui.scene import Scene, lay_as_pile, nearly, show_side, show_unit, stand_up
from tui.view_step import view_step

CARD = (78, 23)  # columns and rows of the card at 80x24
HALVES = (0.0, 0.5, -0.5)
Cells = Sequence[Sequence[Cell]]


def picture_on_card(bench: Bench, width: int, height: int) -> Canvas:
    """The picture as the card shows it at the step at hand, without words but for its heading; empty where it shows
    none."""
    rows = lay_out_card(view_step(bench, None), width, height, lambda wide, high: draw_step(bench, None, wide, high))
    pictured = [row for row in rows if any(isinstance(part, Cell) for part in row)]
    heading, *cells = (tuple(part for part in row if isinstance(part, Cell)) for row in pictured) if pictured else [()]
    drawn = (tuple(BLANK if cell.role == "label" else cell for cell in row) for row in cells)
    return (heading, *(row for row in drawn if any(cell != BLANK for cell in row))) if pictured else ()


def steps_at_hand(bench: Bench) -> Iterator[Step]:
    """Every sewing and pressing step in turn, the bench being at it with all before it done."""
    for number, step in enumerate(bench.sheet.steps):
        if step.stage in ("sew", "press"):
            bench.session = fold(done_until(bench.sheet, number), bench.sheet)
            assert bench.session.place == number
            yield step


def joins_the_quilt(plan: Plan, step: Step) -> bool:
    """Whether a step is no part of any block."""
    assert isinstance(step.work, SewWork | UnitWork)
    return plan.blocks.drafted[step.work.chain.shown_in].is_top


def units_at(bench: Bench, step: Step, canvas: Canvas) -> list[tuple[Scene, Cells]]:
    """Each unit of a step's picture as the geometry has it, with the cells that show it."""
    plan, work = bench.sheet.plan, step.work
    if isinstance(work, UnitWork):
        turn = lay_as_pile(plan, work.chain.unit, work.outcome.turn)
        return [(show_unit(plan, work.chain.unit).turned(turn), canvas[1:])]
    assert isinstance(work, SewWork)
    edges = {column for row in canvas for column, cell in enumerate(row) if cell.text in "║╫"}
    label = "".join(cell.text for cell in canvas[0])
    end = label.find("becomes") - 1 if "becomes" in label else len(label)
    cells = [row[: min(edges)] for row in canvas[1:]], [row[max(edges) + 1 : end] for row in canvas[1:]]
    unit, turn = plan.units.units[work.chain.unit], stand_up(plan, work.chain)
    assert unit.a is not None
    assert unit.b is not None
    scenes = sorted((show_side(plan, side).turned(turn) for side in (unit.a, unit.b)), key=lambda scene: scene.box[0])
    return list(zip(scenes, cells, strict=True))  # what lies underneath lies left of the seam


def name_unreadable(plan: Plan, scene: Scene, cells: Cells) -> list[str]:
    """The fabrics of the patches that show no letter; ["all"] where the picture does not fit the geometry at all."""
    letters = {fabric.name: fabric.letter for fabric in plan.project.fabrics}
    places = product(range(len(cells)), range(len(cells[0])))
    shown = [(row, column) for row, column in places if cells[row][column].role != "blank"]
    rows, columns = ({place[axis] for place in shown} for axis in (0, 1))
    top, left, down, right = min(rows), min(columns), max(rows) + 1, max(columns) + 1
    cloth = [(row, column) for row, column in shown if cells[row][column].role == "cloth"]
    x0, y0, x1, y1 = map(nearly, scene.box)
    patches = [Polygon([(nearly(x), nearly(y)) for x, y in outline]) for outline in scene.patches]
    best = ["all"]
    # Borders run through the middle of a column or row of their own, or between two of them
    for bounds in product(HALVES, repeat=4):
        west, east, north, south = (at + half for at, half in zip((left, right, top, down), bounds, strict=True))
        if west == east or north == south:
            continue
        xs = [x0 + (column + 0.5 - west) * (x1 - x0) / (east - west) for _, column in cloth]
        ys = [y0 + (row + 0.5 - north) * (y1 - y0) / (south - north) for row, _ in cloth]
        inside = [contains_xy(patch, xs, ys) for patch in patches]
        fits = all(
            any(within[number] and cells[row][column].fabric == fabric
                for within, fabric in zip(inside, scene.fabrics, strict=True))
            for number, (row, column) in enumerate(cloth)
        )  # fmt: skip
        if not fits:
            continue
        missing = [
            fabric
            for within, fabric in zip(inside, scene.fabrics, strict=True)
            if not any(
                within[number] and spell(cells[row], column, len(letters[fabric])) == letters[fabric]
                for number, (row, column) in enumerate(cloth)
            )
        ]
        if best == ["all"] or len(missing) < len(best):
            best = missing
        if not best:
            break
    return best


def spell(row: Sequence[Cell], column: int, long: int) -> str:
    return "".join(cell.text for cell in row[column : column + long])


@pytest.mark.parametrize("sample", SAMPLES)
def test_every_seam_and_every_press_has_a_picture_with_a_letter_on_each_patch(
    sample: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "lap.yaml", plan_sample(sample)) as bench:
        seen = 0
        unreadable = []
        for step in steps_at_hand(bench):
            canvas = picture_on_card(bench, *CARD)
            seen += 1
            if joins_the_quilt(bench.sheet.plan, step):
                continue  # of a strip of 1 in beside one of 60 in not every patch can be read
            words = bench.speaker.say(step)
            missing = ["no picture"] if not canvas else []
            for scene, cells in units_at(bench, step, canvas) if canvas else ():
                missing += name_unreadable(bench.sheet.plan, scene, cells)
            if missing:
                picture = "\n".join("".join(cell.text for cell in row) for row in canvas)
                unreadable.append(f"{words.verb} {words.what}: {', '.join(missing)}\n{picture}")
        assert seen == sum(step.stage in ("sew", "press") for step in sheet_of(sample).steps) > 20
        assert unreadable == [], "\n\n".join(unreadable)


def test_a_patch_without_its_letter_is_found_and_so_is_one_in_another_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    with bench_on(tmp_path / "lap.yaml", plan_sample("tidewater-sampler")) as bench:
        step = next(step for step in steps_at_hand(bench) if step.stage == "press")
        (scene, cells) = units_at(bench, step, picture_on_card(bench, *CARD))[0]
        plan = bench.sheet.plan
        assert name_unreadable(plan, scene, cells) == []
        for fabric in scene.fabrics:
            without = [[cell._replace(text=" ") if cell.fabric == fabric else cell for cell in row] for row in cells]
            assert name_unreadable(plan, scene, without) == [fabric]
        assert name_unreadable(plan, scene, [row[::-1] for row in cells]) == ["all"]


# What letters and signs stand for


def words_of(canvas: Canvas) -> str:
    """What is written beside and below a picture."""
    labels = ("".join(cell.text if cell.role == "label" else " " for cell in row) for row in canvas[1:])
    return " ".join(" ".join(labels).split())


@pytest.mark.parametrize("size", [(56, 12), (76, 12), (74, 19)], ids=["60", "80", "120"])
@pytest.mark.parametrize("sample", SAMPLES)
def test_squaring_up_shows_which_letter_is_which_fabric(
    sample: str, size: tuple[int, int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    plan = plan_sample(sample)
    with bench_on(tmp_path / "lap.yaml", plan) as bench:
        seen = 0
        for number, step in enumerate(bench.sheet.steps):
            if not isinstance(step.work, BlockWork):
                continue
            seen += 1
            canvas = draw_step(bench, number, *size)
            assert canvas is not None
            assert len(canvas) <= size[1]
            assert len(canvas[0]) <= size[0]
            told = words_of(((), *canvas))
            used = {patch.fabric for patch in plan.blocks.drafted[step.work.block].patches}
            for fabric in plan.project.fabrics:
                assert (f"{fabric.letter} {fabric.name}" in told) == (fabric.name in used)
            signs = {cell.text for row in canvas for cell in row if cell.role == "mark"}
            assert not signs & set(MARKS)  # those are of slips
            if signs:
                assert "that lie turned" in told or "that lies turned" in told
        assert seen


def test_steps_tell_their_letters_and_the_mark_where_there_is_room(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    plan = plan_sample("tidewater-sampler")
    with bench_on(tmp_path / "lap.yaml", plan) as bench:
        for number, step in enumerate(bench.sheet.steps):
            canvas = draw_step(bench, number, 74, 25)
            if canvas is None or isinstance(step.work, BlockWork):
                continue
            told = words_of(canvas)
            cloth = {(cell.fabric, cell.text) for row in canvas for cell in row if cell.role == "cloth"}
            for fabric in plan.project.fabrics:
                assert (f"{fabric.letter} {fabric.name}" in told) == ((fabric.name, fabric.letter) in cloth)
            has_mark = any(cell.role == "mark" for row in canvas for cell in row)
            assert ("the mark of its slip" in told) == has_mark
