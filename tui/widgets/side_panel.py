"""Beside the card on a wide screen: the block with the unit marked in it, and the pass as a list."""

from __future__ import annotations

from collections.abc import Mapping

from rich.cells import cell_len
from textual.strip import Strip

from planner.sheet import ArrangeWork, BlockWork, SewWork, Step, UnitWork
from tui.bench import Bench
from tui.draw import draw_block, draw_quilt
from tui.draw_boxes import FADED
from tui.fabric_colours import FabricColour
from tui.lay_out_card import Row, Span, shorten, wrap_words
from tui.tell_picture import tell_beside
from tui.widgets.cell_style import has_strong_cloth
from tui.widgets.rows import RowsWidget

BLOCK_HEIGHT = 17


class SidePanel(RowsWidget):
    """Told which step to show by `show`; draws nothing while it is hidden."""

    def __init__(self, bench: Bench, colours: Mapping[str, FabricColour]) -> None:
        super().__init__()
        self.colours = colours
        self._bench = bench
        self._look: int | None = None
        self._rows: list[Row] | None = None
        self._is_faint = False
        self._drawn: tuple[object, list[Row]] | None = None

    def show(self, look: int | None) -> None:
        """Show the block and the pass of the step at hand, or of step `look`."""
        self._look = look
        self._rows = None
        self.refresh()

    def on_resize(self) -> None:
        self._rows = None

    def render_line(self, y: int) -> Strip:
        if self._rows is None:
            self._rows = self._lay_out(self.size.width, self.size.height)
        return self.strip_of(self._rows[y] if y < len(self._rows) else (), self.size.width, self._is_faint)

    def _lay_out(self, width: int, height: int) -> list[Row]:
        session = self._bench.session
        number = session.place if self._look is None else self._look
        if number is None:
            return []
        step = session.sheet.steps[number]
        rows = [*self._draw(step, width), ()]
        return rows + self._list_pass(number, step, width, height - len(rows))

    def _draw(self, step: Step, width: int) -> list[Row]:
        plan = self._bench.sheet.plan
        block = 0
        chain = step.work.chain if isinstance(step.work, SewWork | UnitWork) else None
        if chain is not None:
            block = chain.shown_in
        elif isinstance(step.work, BlockWork):
            block = step.work.block
        elif isinstance(step.work, ArrangeWork):
            block = len(plan.blocks.drafted) - 1
        state = (block, chain.name if chain else "", width)
        if self._drawn is None or self._drawn[0] != state:
            seam = None
            if chain is not None:
                kind = plan.units.units[chain.unit].kind
                seams = plan.units.seams[block]
                first = next(place for place, one in enumerate(seams) if plan.units.units[one.unit].kind == kind)
                seam = chain.seam_in.get(block, first)
            sight = draw_quilt(plan, width, BLOCK_HEIGHT, seam) if plan.blocks.drafted[block].is_top else None
            canvas = (
                sight.canvas
                if sight
                else draw_block(plan, block, width, BLOCK_HEIGHT, numbered=False, marked_seam=seam)
            )
            self._is_faint = has_strong_cloth(canvas)
            is_marked = any(cell.text == FADED for row in canvas for cell in row)
            told = (
                (Span(line, "quiet"),)
                for words in tell_beside(plan, block, sight, is_marked)
                for line in wrap_words(words, width, indent=2)
            )
            name = plan.blocks.drafted[block].title
            self._drawn = (state, [(Span(shorten(name, width), "strong"),), *canvas, *told])
        return self._drawn[1]

    def _list_pass(self, number: int, step: Step, width: int, height: int) -> list[Row]:
        """The steps of this pass, the one at hand among them."""
        session, speaker = self._bench.session, self._bench.speaker
        steps = session.sheet.steps
        same = [
            place
            for place, other in enumerate(steps)
            if (other.pass_number, other.stage == "cut") == (step.pass_number, step.stage == "cut")
        ]
        first = max(0, min(same.index(number) - height // 3, len(same) - height))
        rows: list[Row] = []
        for place in same[first : first + height]:
            other = steps[place]
            words = speaker.say(other)
            left = session.left_of(other)
            mark = "▶" if place == number else "✓" if not left else " "
            tally = f"{session.done_of(other)}/{session.total_of(other)}"
            text = f"{mark} {words.verb.lower()} {words.what}"
            room = width - len(tally) - 1
            text = shorten(text, room)
            gap = " " * max(1, room + 1 - cell_len(text))
            role = "strong" if place == number else "plain"
            rows.append((Span(text + gap, role), Span(tally, role)))  # type: ignore[arg-type]
        return rows
