"""The bench: the step at hand, in large plain words, and the keys that count."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.reactive import reactive
from textual.screen import Screen

from tui.bench import Bench, Told
from tui.bindings import bindings_at
from tui.commands import spell_keys
from tui.draw import Canvas
from tui.draw_step import draw_step
from tui.fabric_colours import colour_fabrics
from tui.progress import ProgressTrouble
from tui.view_step import view_step
from tui.widgets.card import Card
from tui.widgets.key_line import KeyLine
from tui.widgets.side_panel import SidePanel

LOOKS_AGAIN = 2.0  # seconds between two looks at what another bench has added


class BenchScreen(Screen[None]):
    HOMES = ("bench", "app")
    BINDINGS = bindings_at("bench")
    CSS_PATH = "bench.tcss"

    look: reactive[int | None] = reactive(None, init=False)

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        super().__init__()
        self.bench = bench
        self._keys = keys
        self._told = Told(" · ".join(bench.notices))
        self.colours = colour_fabrics(bench.sheet.plan.project.fabrics)
        self.card = Card(self._draw, self.colours)
        self.side = SidePanel(bench, self.colours)
        self.key_line = KeyLine(self.HOMES, keys)

    def compose(self) -> ComposeResult:
        with Horizontal(id="desk"):
            yield self.card
            yield self.side
        yield self.key_line

    def on_mount(self) -> None:
        self.card.large = self.app.settings.large_print  # type: ignore[attr-defined]
        self._show()
        if not self.bench.can_write:
            self.set_interval(LOOKS_AGAIN, self._look_again)

    def _look_again(self) -> None:
        with suppress(ProgressTrouble):  # it can't be read at this moment; the next look may go well
            if self.bench.look_again():
                self._show()

    def _draw(self, width: int, height: int) -> Canvas | None:
        return draw_step(self.bench, self.look, width, height)

    def _show(self) -> None:
        self.card.view = view_step(self.bench, self.look, self._told.words, self._told.is_trouble, self._keys)
        self.side.show(self.look)
        self.key_line.say(*(() if self.look is None else self._looking_words()))

    def _looking_words(self) -> tuple[str, ...]:
        keys = {name: spell_keys(self._keys[f"bench.{name}"]) for name in ("behind", "ahead", "place")}
        return f"{keys['behind']} {keys['ahead']} look on", f"{keys['place']} return to the step at hand"

    def watch_look(self) -> None:
        self._told = Told("")
        self._show()

    def tell(self, told: Told) -> None:
        """Show what a key did, and the place after it."""
        self._told = told
        self._show()

    def _is_not_to_count(self, key: str) -> bool:
        """Whether this key is one too many: held down, or pressed while looking elsewhere."""
        if self.app.held_keys.is_held(key):  # type: ignore[attr-defined]
            self.tell(Told("Held key: counted once"))
            return True
        if self.look is not None:
            key = spell_keys(self._keys["bench.place"])
            self.tell(Told(f"Looking only: {key} returns to the step at hand", is_trouble=True))
            return True
        return False

    def action_count_one(self) -> None:
        if not self._is_not_to_count("one"):
            self.tell(self.bench.count_one())

    def action_finish_step(self) -> None:
        if not self._is_not_to_count("all"):
            self.tell(self.bench.finish_step())

    def action_take_back(self) -> None:
        if not self._is_not_to_count("back"):
            self.tell(self.bench.take_back())

    def _look(self, by: int) -> None:
        last = len(self.bench.sheet.steps) - 1
        place = self.bench.session.place
        here = self.look if self.look is not None else (last + 1 if place is None else place)
        there = min(max(here + by, 0), last)
        self.look = None if there == place else there

    def action_look_ahead(self) -> None:
        self._look(1)

    def action_look_behind(self) -> None:
        self._look(-1)

    def action_return_to_place(self) -> None:
        self.look = None

    def action_show_picture(self) -> None:
        from tui.screens.picture import picture_page

        self.app.push_screen(picture_page(self.bench, self.look, self._keys, self.size.width))

    def action_toggle_large(self) -> None:
        self.card.large = not self.card.large

    def action_spoil(self) -> None:
        if self._is_not_to_count("spoiled"):
            return
        if self.bench.why_not_spoil or not self.bench.can_write:
            self.tell(self.bench.spoil(counted=False))
            return
        from tui.screens.spoiled import SpoiledScreen

        def answer(counted: bool | None) -> None:
            if counted is not None:
                self.tell(self.bench.spoil(counted))

        self.app.push_screen(SpoiledScreen(self.bench, self._keys), answer)

    def action_measure_wrong(self) -> None:
        if self._is_not_to_count("wrong"):
            return
        if self.bench.why_not_measure_wrong or not self.bench.can_write:
            self.tell(self.bench.measure_wrong(1, "too small", "spoiled"))
            return
        from tui.screens.measured_wrong import MeasuredWrongScreen, Wrong

        def answer(wrong: Wrong | None) -> None:
            if wrong is not None:
                self.tell(self.bench.measure_wrong(wrong.many, wrong.size, wrong.remedy))

        self.app.push_screen(MeasuredWrongScreen(self.bench, self._keys), answer)
