"""Quilts, press maps and layouts in cells: what can be read on them without any colour."""

from __future__ import annotations

from functools import cache
from textwrap import dedent

import pytest
from planned import SAMPLES, plan_sample, plan_text
from quilts import QUILTS

from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import ArrangeWork, assign_letters, write_sheet
from tui.canvas import Canvas
from tui.draw import draw_layout, draw_press, draw_quilt, press_room
from tui.lay_axis import lay_axis
from tui.paint_scene import ARROWS, MARKS, TURNED
from tui.place_quilt import find_pieces, mark_of
from tui.tell_picture import tell_press, tell_quilt

SIZES = [(58, 16), (78, 20), (118, 36)]  # of the picture on terminals of 60x20, 80x24, 120x40
NAMES = tuple(name for name in (*QUILTS, *SAMPLES) if name not in ("kept", "spun"))

at_every_size = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")


@cache
def plan_of(name: str) -> Plan:
    return plan_text(QUILTS[name]) if name in QUILTS else plan_sample(name)


def quilts() -> list[str]:
    return [name for name in NAMES if plan_of(name).blocks.top is not None]


@cache
def speaker_of(name: str) -> Speaker:
    sheet = write_sheet(plan_of(name))
    return Speaker(sheet, assign_letters(sheet))


def text_of(canvas: Canvas) -> str:
    """All rows; blanks before all of them and behind each are left out."""
    return picture("\n".join("".join(cell.text for cell in row).rstrip() for row in canvas))


def picture(text: str) -> str:
    return dedent(text).strip("\n")


def assert_fits(canvas: Canvas, width: int, height: int) -> None:
    assert 0 < len(canvas) <= height
    assert len({len(row) for row in canvas}) == 1
    assert 0 < len(canvas[0]) <= width
    assert all(len(cell.text) == 1 for row in canvas for cell in row)


def test_there_are_quilts_to_look_at() -> None:
    assert len(quilts()) >= 6


@at_every_size
@pytest.mark.parametrize("name", quilts())
def test_a_quilt_fits_the_screen_and_shows_every_turned_block(name: str, size: tuple[int, int]) -> None:
    plan = plan_of(name)
    top = plan.blocks.top
    assert top is not None
    sight = draw_quilt(plan, *size)
    assert_fits(sight.canvas, *size)
    text = text_of(sight.canvas)
    marks = sorted(filter(None, (mark_of(plan, piece) for piece in top.pieces if piece.block >= 0)))
    assert sorted(sign for sign in text if sign in TURNED) == marks
    assert not set(text) & set(MARKS)  # those are of slips
    told = " ".join(tell_quilt(plan, sight))
    assert ("turned" in told) == bool(marks)
    used = {patch.fabric for patch in plan.blocks.drafted[-1].patches}
    for fabric in plan.project.fabrics:
        if fabric.name in used:
            assert f"{fabric.letter} {fabric.name}" in told
            if sight.is_whole:
                assert fabric.letter in text
    if not sight.is_whole:
        assert "Numbers: blocks. 1 " in told
        assert "1" in text


def test_a_quilt_is_drawn_patch_by_patch_with_the_borders_of_its_blocks() -> None:
    sight = draw_quilt(plan_of("boards"), 40, 40)
    assert sight.is_whole
    assert text_of(draw_quilt(plan_of("boards"), 30, 16).canvas) == picture(
        """
        ┌──────┬──────┬──────┐
        │n s n │n s n │n s n │
        │s n s │s n s │s n s │
        │n s n │n s▽n │n s n │
        ├──────┼──────┼──────┤
        │n s n │n s n │n s n │
        │s n s │s n s │s n s │
        │n s▽n │n s n │n s▽n │
        ├──────┼──────┼──────┤
        │n s n │n s n │n s n │
        │s n s │s n s │s n s │
        │n s n │n s▽n │n s n │
        └──────┴──────┴──────┘
        """
    )


def test_sashing_and_borders_lie_round_the_blocks() -> None:
    assert text_of(draw_quilt(plan_of("lap"), 60, 18).canvas) == picture(
        """
        n  s s s s s s s s s s s s s  n
        n ┌──────┐ s┌──────┐ s┌──────┐n
         s│n s n │c │ns n s│c │c s n │s
         s│s n s▷│c │ s  n │c │c s n▷│s
         s│n s n │c │ n s  │c │c s n │s
         s└──────┘n └──────┘n └──────┘s
         s  c c c n  c c c  n  c c c  s
         s┌──────┐c ┌──────┐c ┌──────┐s
         s│ns n s│c │n s n │c │ns n s│s
         s│ s  n▷│c │s n s │c │ s  n │s
         s│ n s  │c │n s n │c │ n s  │s
        n └──────┘ s└──────┘ s└──────┘n
        n  s s s s s s s s s s s s s  n
        """
    )


def test_a_quilt_without_room_is_drawn_block_by_block() -> None:
    sight = draw_quilt(plan_of("boards"), 20, 7)
    assert not sight.is_whole
    assert text_of(sight.canvas) == picture(
        """
        ┌────┬────┬────┐
        │  1 │ 1▽ │  1 │
        ├────┼────┼────┤
        │ 1▽ │  1 │ 1▽ │
        ├────┼────┼────┤
        │  1 │ 1▽ │  1 │
        └────┴────┴────┘
        """
    )


def test_a_quilt_on_point_stands_as_one_looks_at_it() -> None:
    assert text_of(draw_quilt(plan_of("on point"), 60, 24).canvas) == picture(
        """
        c c c c c ╱ ╲ c c c c c c c c c c ╱ ╲ c c c c c
        c c c c ╱ n n ╲ c c c c c c c c ╱ n n ╲ c c c c
        c c c ╱s s s s s╲ c c c c c c ╱s s s s s╲ c c c
        c c ╱s s s s s s s╲ c c c c ╱s s s s s s s╲ c c
        c ╱  s s s n s s s  ╲ c c ╱  s s s n s s s  ╲ c
        ╱s  n  s n n n s s  n ╲ ╱s  n  s n n n s s  n ╲
        ╲s  n  s n n n s s  n ╱ ╲s  n  s n n n s s  n ╱
        c ╲  s s s n s s s  ╱ c c ╲  s s s n s s s  ╱ c
        c c ╲s s s n s s s╱ c c c c ╲s s s n s s s╱ c c
        c c c ╲s n n n s╱ c c c c c c ╲s n n n s╱ c c c
        c c c c ╲ s s ╱ c c c c c c c c ╲ s s ╱ c c c c
        c c c c c ╲ ╱ c c c c c c c c c c ╲ ╱ c c c c c
        c c c c c ╱ ╲ c c c c c c c c c c ╱ ╲ c c c c c
        c c c c ╱ n n ╲ c c c c c c c c ╱ n n ╲ c c c c
        c c c ╱s s s s s╲ c c c c c c ╱s s s s s╲ c c c
        c c ╱s s s s s s s╲ c c c c ╱s s s s s s s╲ c c
        c ╱  s s s n s s s  ╲ c c ╱  s s s n s s s  ╲ c
        ╱s  n  s n n n s s  n ╲ ╱s  n  s n n n s s  n ╲
        ╲s  n  s n n n s s  n ╱ ╲s  n  s n n n s s  n ╱
        c ╲  s s s n s s s  ╱ c c ╲  s s s n s s s  ╱ c
        c c ╲s s s n s s s╱ c c c c ╲s s s n s s s╱ c c
        c c c ╲s n n n s╱ c c c c c c ╲s n n n s╱ c c c
        c c c c ╲ s s ╱ c c c c c c c c ╲ s s ╱ c c c c
        c c c c c ╲ ╱ c c c c c c c c c c ╲ ╱ c c c c c
        """
    )
    assert text_of(draw_quilt(plan_of("on point"), 20, 5).canvas) == "1 1\n 2\n1 1"


def test_only_what_a_seam_joins_is_strong() -> None:
    for name in quilts():
        plan = plan_of(name)
        top = plan.blocks.top
        assert top is not None
        joints = [seam for seam, piece in enumerate(plan.units.piece_of[1]) if piece < 0]
        for seam in (joints[0], joints[len(joints) // 2], joints[-1]):
            sight = draw_quilt(plan, 118, 36, seam)
            pieces = find_pieces(plan, seam)
            strong = {cell.fabric for row in sight.canvas for cell in row if cell.strong and cell.role == "cloth"}
            if sight.is_whole:
                inside = [top.pieces[number] for number in pieces]
                patches = [
                    plan.blocks.drafted[-1].patches[number].fabric
                    for piece in inside
                    for number in range(
                        piece.first,
                        piece.first + (len(plan.blocks.drafted[piece.block].patches) if piece.block >= 0 else 1),
                    )
                ]
                assert strong == set(patches)
        assert find_pieces(plan, len(plan.units.seams[-1]) - 1) == frozenset(range(len(top.pieces)))


def test_the_pieces_of_a_seam_are_those_of_its_two_sides() -> None:
    plan = plan_of("lap")
    seams = plan.units.seams[-1]
    of_patch, of_seam = plan.units.piece_of
    for number, piece in enumerate(of_seam):
        if piece < 0:
            a, b = seams[number].a, seams[number].b
            both = [find_pieces(plan, side) for side in (a, b) if side >= 0]
            assert frozenset().union(*both) <= find_pieces(plan, number)
            assert sum(map(len, both)) + sum(side < 0 for side in (a, b)) == len(find_pieces(plan, number))


# Press maps


@at_every_size
@pytest.mark.parametrize("name", [*NAMES, "kept", "spun"])
def test_a_press_map_fits_and_has_an_arrow_for_every_seam(name: str, size: tuple[int, int]) -> None:
    plan = plan_of(name)
    for number, block in enumerate(plan.blocks.drafted):
        if not block.copies:
            continue
        fitted = draw_press(plan, number, *size)
        assert_fits(fitted.canvas, *size)
        drawn = draw_press(plan, number, *press_room(plan, number, *size))
        assert drawn.is_whole
        signs = [sign for row in drawn.canvas for sign in (cell.text for cell in row) if sign in ARROWS + "↕⤢↔⤡"]
        legs = sum(max(1, len(plan.units.units[seam.unit].legs) - 1) for seam in plan.units.seams[number])
        assert len(signs) == legs + len(plan.pressing.is_spun[number])
        told = " ".join(tell_press(plan, number, drawn))
        assert ("spun" in told) == bool(plan.pressing.is_spun[number])
        assert ("pressed open" in told) == bool(plan.pressing.is_open[number])
        assert ("not nest" in told) == (name == "kept" and block.name == "four patch")


def test_a_join_that_does_not_nest_is_marked_where_it_is() -> None:
    assert text_of(draw_press(plan_of("kept"), 0, 21, 11).canvas) == picture(
        """
        ┌─────────┬─────────┐
        │ n n n n │ s s s s │
        │ n n n n │ s s s s │
        │ n n n n ← s s s s │
        │ n n n n │ s s s s │
        ├────↓────⊗─────────┤
        │ c c c c │ n n n n │
        │ c c c c │ n n n n │
        │ c c c c ← n n n n │
        │ c c c c │ n n n n │
        └─────────┴─────────┘
        """
    )


def test_an_open_seam_has_an_arrow_both_ways() -> None:
    assert text_of(draw_press(plan_of("kept"), 1, 25, 6).canvas) == picture(
        """
        ┌──┬─┬──┬─┐
        │n │s│c │n│
        │n │s│c │n│
        │n ← ↔  → │
        │n │s│c │n│
        └──┴─┴──┴─┘
        """
    )


def test_the_halves_of_a_spun_seam_fall_two_ways() -> None:
    assert text_of(draw_press(plan_of("spun"), 0, 21, 11).canvas) == picture(
        """
        ┌─────────┬─────────┐
        │ n n n n │ s s s s │
        │ n n n n │ s s s s │
        │ n n n n → s s s s │
        │ n n n n │ s s s s │
        ├────↑────┼────↓────┤
        │ s s s s │ n n n n │
        │ s s s s │ n n n n │
        │ s s s s ← n n n n │
        │ s s s s │ n n n n │
        └─────────┴─────────┘
        """
    )


def test_the_smaller_pile_of_a_kind_pressed_two_ways_has_strong_seams() -> None:
    plan = plan_of("two ways")
    block = len(plan.blocks.drafted) - 1
    drawn = draw_press(plan, block, *press_room(plan, block, 78, 20))
    assert any(sign in "━┃" for row in drawn.canvas for sign in (cell.text for cell in row))
    told = tell_press(plan, block, drawn)
    assert sum(line.startswith("  ") for line in told) == plan.pressing.two_ways == 2


def test_a_press_map_without_room_has_the_seams_between_blocks() -> None:
    plan = plan_of("boards")
    drawn = draw_press(plan, len(plan.blocks.drafted) - 1, 20, 7)
    assert (drawn.is_whole, drawn.has_arrows) == (False, True)
    assert text_of(drawn.canvas) == picture(
        """
        ┌───┬───┬───┐
        │ 1 │ 1▽│ 1 │
        ├─↑─┼─↓─┼─↑─┤
        │ 1▽← 1 → 1▽│
        ├─↓─┼─↑─┼─↓─┤
        │ 1 │ 1▽│ 1 │
        └───┴───┴───┘
        """
    )


# The layout


def labels_of(canvas: Canvas, row: int) -> list[str]:
    """The letters and marks of a row, without the names of the blocks."""
    return "".join(cell.text if cell.role != "name" else " " for cell in canvas[row]).split()[3:]


def names_of(canvas: Canvas, row: int) -> list[str]:
    words = "".join(cell.text if cell.role == "name" or cell.text == " " else "  " for cell in canvas[row])
    return [name.strip() for name in words.split("  ") if name.strip()]


@pytest.mark.parametrize(("width", "names"), [(76, ["nine patch", "pinwheel", "flag"]), (45, ["nine p…"]), (30, [])])
def test_the_names_of_the_blocks_stand_beside_their_letters_where_all_have_room(width: int, names: list[str]) -> None:
    speaker = speaker_of("lap")
    step = next(step for step in speaker.sheet.steps if isinstance(step.work, ArrangeWork))
    assert isinstance(step.work, ArrangeWork)
    canvas = draw_layout(speaker, step.work, 0, width, 10)
    assert canvas is not None
    assert names_of(canvas, 0)[: len(names) or None] == names
    letters = [speaker.letter(lying.pile) for lying in step.work.rows[0]]
    told = f"{letters[0]}: nine patch; {letters[1]}: pinwheel; {letters[2]}: flag"
    assert told in speaker.say(step).does


@at_every_size
@pytest.mark.parametrize("name", quilts())
def test_the_layout_shows_every_row_with_its_piles_and_marks(name: str, size: tuple[int, int]) -> None:
    speaker = speaker_of(name)
    work = next(step.work for step in speaker.sheet.steps if isinstance(step.work, ArrangeWork))
    for row, lying in enumerate(work.rows):
        canvas = draw_layout(speaker, work, row, *size)
        assert canvas is not None
        assert_fits(canvas, *size)
        text = text_of(canvas).splitlines()
        assert len(text) == len(work.rows)
        assert [line.startswith("▶") for line in text] == [number == row for number in range(len(text))]
        words = labels_of(canvas, row)
        assert [word.rstrip(MARKS) for word in words] == [speaker.letter(one.pile) for one in lying]
        assert [word[-1] in MARKS for word in words] == [speaker.has_mark(one.pile) for one in lying]
        strong = {number for number, cells in enumerate(canvas) if any(cell.strong for cell in cells)}
        assert strong == {row}


def test_the_marks_of_the_layout_point_as_the_words_say() -> None:
    ways = dict(zip(MARKS, ("up", "up and to the right", "to the right", "down and to the right", "down",
                            "down and to the left", "to the left", "up and to the left"), strict=True))  # fmt: skip
    for name in quilts():
        speaker = speaker_of(name)
        step = next(step for step in speaker.sheet.steps if isinstance(step.work, ArrangeWork))
        assert isinstance(step.work, ArrangeWork)
        for row, lying in enumerate(step.work.rows):
            canvas = draw_layout(speaker, step.work, row, 118, 36)
            assert canvas is not None
            words = labels_of(canvas, row)
            said = [speaker._lying_words(one) for one in lying]
            assert said == [f"{word[:-1]} mark {ways[word[-1]]}" if word[-1] in MARKS else word for word in words]


def test_of_a_high_layout_the_rows_round_the_one_at_hand_are_shown() -> None:
    speaker = speaker_of("slipway-on-point")
    work = next(step.work for step in speaker.sheet.steps if isinstance(step.work, ArrangeWork))
    for row in range(len(work.rows)):
        canvas = draw_layout(speaker, work, row, 60, 3)
        assert canvas is not None
        assert len(canvas) == 3
        assert f"▶ row {row + 1} " in text_of(canvas)


def test_a_layout_without_room_for_one_row_is_not_drawn() -> None:
    speaker = speaker_of("lap")
    work = next(step.work for step in speaker.sheet.steps if isinstance(step.work, ArrangeWork))
    assert draw_layout(speaker, work, 0, 10, 5) is None
    assert draw_layout(speaker, work, 0, 60, 0) is None


# Axes


def test_lines_have_cells_of_their_own_and_boxes_keep_off_them() -> None:
    axis = lay_axis([(0, True), (6, True), (8, False), (10, True)], lambda length: int(length))
    assert axis.cells == 1 + 6 + 1 + 2 + 2 + 1
    assert [axis.on_line(value) for value in (0, 6, 10)] == [0.5, 7.5, 12.5]
    assert [axis.within(0, 6, value) for value in (0, 3, 6)] == [1, 4, 7]
    assert [axis.over(6, 10, value) for value in (6, 10)] == [7, 13]
    assert [axis.within(8, 10, value) for value in (8, 10)] == [10, 12]
