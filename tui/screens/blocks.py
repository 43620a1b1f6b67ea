"""A block of the project: its seams numbered in the order of sewing, with press arrows."""

from __future__ import annotations

from collections.abc import Mapping

from planner.say_made import say_block
from planner.sheet import SewWork, UnitWork
from tui.bench import Bench
from tui.bindings import bindings_at
from tui.draw import block_room, draw_block
from tui.fabric_colours import colour_fabrics
from tui.lay_out_card import Row, Span
from tui.screens.page import PageScreen


class BlocksScreen(PageScreen):
    HOMES = ("block", "page", "app")
    BINDINGS = [*bindings_at("block"), *bindings_at("page")]

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        self._bench = bench
        self._block = _block_at_hand(bench)
        colours = colour_fabrics(bench.sheet.plan.project.fabrics)
        super().__init__(self._title(), self._rows(), keys, colours)

    def _title(self) -> str:
        blocks = self._bench.sheet.plan.blocks.drafted
        which = f"   block {self._block + 1} of {len(blocks)}" if len(blocks) > 1 else ""
        return f"{say_block(self._bench.sheet.plan.blocks, self._block)}{which}"

    def _rows(self) -> list[Span | Row]:
        plan = self._bench.sheet.plan
        width, height = block_room(plan, self._block)
        canvas = draw_block(plan, self._block, width, height, numbered=True, marked_seam=None)
        fabrics = {patch.fabric for patch in plan.blocks.drafted[self._block].patches}
        legend = ", ".join(f"{one.letter} {one.name}" for one in plan.project.fabrics if one.name in fabrics)
        head = [Span("Numbers: seams in the order of sewing. Arrows: the way the allowances fall."), Span(legend)]
        return [*head, Span(""), *canvas]

    def _go(self, by: int) -> None:
        self._block = (self._block + by) % len(self._bench.sheet.plan.blocks.drafted)
        self.heading.say(self._title())
        self.lines.show(self._rows())

    def action_next_block(self) -> None:
        self._go(1)

    def action_block_before(self) -> None:
        self._go(-1)


def _block_at_hand(bench: Bench) -> int:
    """The block that the step at hand works on first; the first of the project where it works on none."""
    step = bench.session.step
    if step is not None and isinstance(step.work, SewWork | UnitWork):
        return step.work.chain.shown_in
    return 0
