"""A block of the project or the quilt: its seams numbered in the order of sewing, or its press map."""

from __future__ import annotations

from collections.abc import Mapping

from planner.say_made import say_block
from planner.sheet import ArrangeWork, SewWork, UnitWork
from tui.bench import Bench
from tui.bindings import bindings_at
from tui.draw import Canvas, block_room, draw_block, draw_press, draw_quilt, press_room
from tui.fabric_colours import colour_fabrics
from tui.lay_out_card import Row, Span, wrap_words
from tui.screens.page import PageScreen
from tui.tell_picture import tell_block, tell_press, tell_quilt

_BESIDE = (2, 3)  # columns and rows of a page that are not the picture's: scroll bar, title, key line, a blank


class BlocksScreen(PageScreen):
    HOMES = ("block", "page", "app")
    BINDINGS = [*bindings_at("block"), *bindings_at("page")]

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        self._bench = bench
        self._block = _block_at_hand(bench)
        self._is_press = False
        self._drawn: dict[object, list[Span | Row]] = {}  # what is shown once is not drawn again
        colours = colour_fabrics(bench.sheet.plan.project.fabrics)
        super().__init__(self._title(), [], keys, colours)

    def _title(self) -> str:
        blocks = self._bench.sheet.plan.blocks.drafted
        which = f"   block {self._block + 1} of {len(blocks)}" if len(blocks) > 1 else ""
        press = "press map of " if self._is_press else ""
        return f"{press}{say_block(self._bench.sheet.plan.blocks, self._block)}{which}"

    def on_mount(self) -> None:
        super().on_mount()
        self._show()

    def on_resize(self) -> None:
        # Only the quilt is fitted to the screen; a block is as large as its numbers need
        if self._bench.sheet.plan.blocks.drafted[self._block].is_top:
            self._show()

    def _show(self) -> None:
        self.heading.say(self._title())
        is_top = self._bench.sheet.plan.blocks.drafted[self._block].is_top
        state = (self._block, self._is_press, self.size if is_top else None)
        if state not in self._drawn:
            canvas, told = self._draw()
            self._drawn[state] = [*map(Span, told), Span(""), *canvas]
        self.lines.show(self._drawn[state])

    def _draw(self) -> tuple[Canvas, tuple[str, ...]]:
        """The picture and what its signs mean."""
        plan, block = self._bench.sheet.plan, self._block
        width = max(1, self.size.width - _BESIDE[0])
        height = max(1, self.size.height - _BESIDE[1])
        if self._is_press:
            drawn = draw_press(plan, block, *press_room(plan, block, width, height))
            return drawn.canvas, tell_press(plan, block, drawn)
        if not plan.blocks.drafted[block].is_top:
            canvas = draw_block(plan, block, *block_room(plan, block), numbered=True, marked_seam=None)
            return canvas, tell_block(plan, block)
        sight = draw_quilt(plan, width, height)
        told = tell_quilt(plan, sight)
        rows = sum(len(wrap_words(line, width, 2)) for line in told)
        if len(sight.canvas) + rows > height:  # what is told needs room too
            sight = draw_quilt(plan, width, max(1, height - rows))
            told = tell_quilt(plan, sight)
        return sight.canvas, told

    def _go(self, by: int) -> None:
        self._block = (self._block + by) % len(self._bench.sheet.plan.blocks.drafted)
        self._show()

    def action_next_block(self) -> None:
        self._go(1)

    def action_block_before(self) -> None:
        self._go(-1)

    def action_show_press(self) -> None:
        self._is_press = not self._is_press
        self._show()


def _block_at_hand(bench: Bench) -> int:
    """The block that the step at hand works on first; the first of the project where it works on none."""
    step = bench.session.step
    if step is not None and isinstance(step.work, SewWork | UnitWork):
        return step.work.chain.shown_in
    if step is not None and isinstance(step.work, ArrangeWork):
        return len(bench.sheet.plan.blocks.drafted) - 1
    return 0
