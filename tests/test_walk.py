"""The bench by keys alone, from the first step to the last, in every size: what must be read stands on the screen."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from benches import Clock, bench_on, done_until, number_of, sheet_of
from planned import SAMPLES, plan_sample, plan_text
from quilts import QUILTS
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widget import Widget
from webbed_drafts import WEBBED

from planner.event import Event
from planner.plan import Plan
from planner.say_step import counted
from planner.session import fold
from planner.sheet import CutWork, Stage, write_sheet
from planner.tally import NOTHING_MADE
from tui.answers import answer_where
from tui.app import THEMES, SeamrunApp
from tui.bench import Bench
from tui.choose_project import Offer
from tui.commands import COMMANDS, spell_keys
from tui.draw import Canvas
from tui.draw_step import draw_step
from tui.keymap import check_keymap
from tui.large_print import spell_large
from tui.lay_out_card import CardView
from tui.plan_slowly import Planning
from tui.progress import read_events
from tui.screens.ask import AskScreen
from tui.screens.bench import BenchScreen
from tui.screens.blocks import BlocksScreen
from tui.screens.choose import ChooseApp
from tui.screens.cloth import ClothScreen
from tui.screens.come_back import ComeBackScreen
from tui.screens.leave import LeaveScreen
from tui.screens.measured_wrong import MeasuredWrongScreen
from tui.screens.page import PageScreen
from tui.screens.planning import PlanningApp
from tui.screens.spoiled import SpoiledScreen
from tui.settings import Settings
from tui.view_step import name_lying, view_step
from tui.widgets.key_line import KeyLine
from tui.widgets.lines import Lines

SIZES = ((60, 20), (80, 24), (120, 40))
SAMPLER = "tidewater-sampler"
SHEET = sheet_of(SAMPLER)
AT_HAND = ("lay out", "clip")  # stages whose words begin at the pile or chain at hand
HOMES: dict[str, Any] = {
    "app": SeamrunApp,
    "bench": BenchScreen,
    "page": PageScreen,
    "block": BlocksScreen,
    "cloth": ClothScreen,
    "return": ComeBackScreen,
    "leave": LeaveScreen,
    "ask": AskScreen,
    "spoiled": SpoiledScreen,
    "wrong": MeasuredWrongScreen,
}
PAGES = {
    "s": "The whole sheet",
    "c": "What to cut",
    "p": "What lies where",
    "b": " of 6",
    "f": "Cloth",
    "question_mark": "Keys",
}

at_every_size = pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A project file to keep progress beside."""
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    path = tmp_path / f"{SAMPLER}.yaml"
    path.write_bytes(SAMPLES[SAMPLER].read_bytes())
    return path


class Maker:
    """Sits at a bench: presses keys, reads the screen."""

    def __init__(self, app: SeamrunApp, pilot: Pilot[None], clock: Clock) -> None:
        self.app = app
        self.bench = app.bench
        self.pilot = pilot
        self.clock = clock

    @property
    def screen(self) -> Screen[Any]:
        return self.app.screen

    @property
    def at_bench(self) -> BenchScreen:
        assert isinstance(self.screen, BenchScreen)
        return self.screen

    async def press(self, *keys: str) -> None:
        """Press keys, and after each let all that follows from it happen, also on a screen that it opened."""
        for key in keys:
            self.app.simulate_key(key)
            for _ in range(6):
                await self.pilot.pause(0)

    async def count(self, *keys: str) -> None:
        """Press keys that open no screen: waits until each is dealt with and no longer, for long walks."""
        for key in keys:
            dealt_with = asyncio.Event()
            self.app.simulate_key(key)
            self.app.call_later(self.screen.call_later, dealt_with.set)
            await asyncio.wait_for(dealt_with.wait(), 20)

    def read(self) -> str:
        """All words on the screen, row by row of each widget, every stretch of blanks as one."""
        return join(*(line for widget in leaves_of(self.screen) for line in lines_of(widget)))

    def read_through(self, lines: Lines) -> str:
        """All words of a page from its first line to its last, every stretch of blanks as one."""
        read = []
        height = lines.scrollable_content_region.height
        for top in range(0, lines.max_scroll_y + height, height):
            lines.scroll_to(0, top, animate=False, immediate=True)
            read += lines_of(lines)[top - lines.scroll_offset.y :]
        return join(*read)

    def card(self) -> str:
        return join(*lines_of(self.at_bench.card))

    @property
    def view(self) -> CardView:
        view = self.at_bench.card.view
        assert view is not None
        return view


def join(*lines: str) -> str:
    return " ".join(" ".join(lines).split())


def leaves_of(screen: Screen[Any]) -> Iterator[Widget]:
    for widget in screen.walk_children(Widget):
        if not widget.children and widget.display and widget.region:
            yield widget


def lines_of(widget: Widget) -> list[str]:
    """What can be seen of a widget: scroll bars lie over the last columns and rows of what it draws."""
    width, height = widget.scrollable_content_region.size
    return [widget.render_line(y).text[:width] for y in range(height)]


@asynccontextmanager
async def sit_down(
    file: Path,
    *events: Event,
    size: tuple[int, int] = (80, 24),
    plan: Plan | None = None,
    settings: Settings | None = None,
) -> AsyncIterator[Maker]:
    """A maker at the bench of a project, at the step that these events lead to."""
    clock = Clock()
    with bench_on(file, plan or plan_sample(SAMPLER), *events, clock=clock) as bench:
        app = SeamrunApp(bench, settings or Settings(), clock)
        app.animation_level = "none"
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            maker = Maker(app, pilot, clock)
            if bench.has_come_back:
                assert isinstance(app.screen, ComeBackScreen)
                await maker.press("enter")
            yield maker


def at(stage: Stage, least: int = 1, done: int = 0) -> tuple[Event, ...]:
    """Events that lead to a step of a stage."""
    return done_until(SHEET, number_of(SHEET, stage, least), done)


# What must stand on the card


def check_card(maker: Maker) -> None:
    """All words of the step and the tally are on the screen, uncut; the key line fits; the counts agree."""
    screen, bench, view = maker.at_bench, maker.bench, maker.view
    assert view == view_step(bench, screen.look, view.notice, view.is_trouble)
    assert screen.region.contains_region(screen.card.region)
    number = screen.look if screen.look is not None else bench.session.place
    stage = "" if number is None else bench.sheet.steps[number].stage
    card = maker.card()
    missing = [text for text in must_show(view, card) if join(text) not in card]
    if stage in AT_HAND and missing == list(view.does[-len(missing) :]) != list(view.does):
        assert "and so on: " in card
        missing = []  # a long list may be cut behind its first line
    assert missing == [], "\n".join(lines_of(screen.card))
    check_key_line(screen, "bench", "app")


def must_show(view: CardView, card: str) -> Iterator[str]:
    tally = f"{view.done} of {view.total}"
    if view.total > 1:
        yield tally
    yield view.place
    yield view.banner
    yield view.verb
    title = f"{view.verb} {view.what}"
    if join(title) not in card:  # it wraps, and the tally stands at the end of its first line
        start = next(part for part in (title[:n] for n in range(len(title), 0, -1)) if f"{join(part)} {tally}" in card)
        yield f"{start} {tally} {title[len(start) :]}"
    yield " · ".join(view.left)
    yield from view.does
    yield view.notice


def check_key_line(screen: Screen[Any], *homes: str) -> None:
    """The key line holds whole commands only: at the bench those that count, and while looking the way back."""
    line = screen.query_one(KeyLine)
    (row,) = lines_of(line)
    assert len(row) == line.size.width == screen.size.width
    shown = row.strip().split(" · ")
    if isinstance(screen, BenchScreen) and screen.look is not None:
        assert shown == ["← → look on", "esc return to the step at hand"]
        return
    keys = {f"{spell_keys(one.keys.split(',')[0])} {one.label}" for one in COMMANDS if one.home in homes}
    assert set(shown) <= keys
    if "bench" in homes:
        assert {"space one", "enter all", "u take back", "? keys"} <= set(shown)


# The quilts among the samples are large: each is walked in one size, and a small quilt of its kind in another
IN_ONE_SIZE = {
    "moorings-lap": (80, 24),
    "slipway-on-point": (60, 20),
    "lap": (60, 20),
    "on point": (120, 40),
}
TEXTS = {**QUILTS, "webbed": WEBBED}
WALKS = [
    *((name, size) for name in (*SAMPLES, "webbed") if name not in IN_ONE_SIZE for size in SIZES),
    *IN_ONE_SIZE.items(),
]


@pytest.mark.parametrize(
    ("name", "size"), WALKS, ids=lambda value: "x".join(map(str, value)) if isinstance(value, tuple) else value
)
async def test_a_whole_walk_by_keys_shows_every_step_uncut(
    name: str, size: tuple[int, int], file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(TEXTS[name] if name in TEXTS else SAMPLES[name].read_text("utf-8"), encoding="utf-8")
    plan = plan_text(TEXTS[name]) if name in TEXTS else plan_sample(name)
    walk = Walk(file)
    half = len(write_sheet(plan).steps) // 2
    async with sit_down(file, size=size, plan=plan) as maker:
        while walk.turns < half:
            await walk.take_step(maker)
        await maker.press("q", "enter")
        stopped = maker.bench.session.totals
    capsys.readouterr()
    assert answer_where(str(file), as_json=True) == 0
    where = json.loads(capsys.readouterr().out)
    assert (where["done"], where["total"]) == stopped
    async with sit_down(file, size=size, plan=plan) as maker:
        assert maker.bench.session.totals == stopped
        while maker.bench.session.place is not None:
            await walk.take_step(maker)
        check_card(maker)
        assert maker.view.verb == "ALL SEWN"
        await maker.count("space", "enter")
        assert "All is done" in maker.card()
        stopped = maker.bench.session.totals
    capsys.readouterr()
    assert answer_where(str(file), as_json=True) == 0
    where = json.loads(capsys.readouterr().out)
    assert (where["done"], where["total"], where["next"]) == (*stopped, None)
    assert stopped[0] == stopped[1]
    assert walk.ways == {"spoiled in hand", "spoiled counted", "sew again", "cut anew", "taken back", "looked", "again"}


class Walk:
    """A maker's way through a sheet: now by ones, now all at once, with mishaps, looking round now and then."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.turns = 0
        self.ways: set[str] = set()

    async def take_step(self, maker: Maker) -> None:
        """See to the step at hand, whatever it is."""
        self.turns += 1
        assert self.turns < 1000, "the walk goes round in circles"
        self._check(maker)
        if self.turns % 12 == 5:
            await self._look_round(maker)
        await self._have_a_mishap(maker)
        session = maker.bench.session
        before = (session.place, session.totals)
        step = session.step
        if step is None:
            return
        if session.left_of(step) > 1:
            await maker.count("space")
            assert maker.bench.session.totals == (before[1][0] + 1, before[1][1])
            self._check(maker)
        await maker.count("enter")
        if self.turns % 9 == 4:
            await self._take_back(maker)
        assert maker.bench.session.totals[0] > before[1][0]

    def _check(self, maker: Maker) -> None:
        check_card(maker)
        if "to make again" in maker.card():
            self.ways.add("again")
        session = fold(read_events(self.file)[0], maker.bench.sheet)
        assert session.totals == maker.bench.session.totals
        assert session.place == maker.bench.session.place

    async def _look_round(self, maker: Maker) -> None:
        before = (maker.bench.progress.events, maker.bench.session.place)
        for keys in (("right",), ("right", "right"), ("left",), ("left", "left", "left", "left")):
            await maker.count(*keys)
            check_card(maker)
            if maker.at_bench.look is not None:
                assert "LOOKING" in maker.card()
        await maker.count("right", "right")
        await maker.count("escape")
        assert (maker.bench.progress.events, maker.bench.session.place) == before
        assert "LOOKING" not in maker.card()
        self.ways.add("looked")

    async def _take_back(self, maker: Maker) -> None:
        after = maker.bench.session.totals
        place = maker.bench.session.place
        last = maker.bench.session.tally.last_key
        assert last is not None
        await maker.count("u")
        assert maker.bench.session.totals == (after[0] - last.count, after[1])
        assert "Taken back" in maker.card()
        self._check(maker)
        await maker.count("enter")
        assert (maker.bench.session.totals, maker.bench.session.place) == (after, place)
        self.ways.add("taken back")

    async def _have_a_mishap(self, maker: Maker) -> None:
        """The first time that each can happen."""
        step = maker.bench.session.step
        assert step is not None
        left, total = maker.bench.session.left_of(step), maker.bench.session.totals
        if step.stage == "cut" and left > 1 and "spoiled in hand" not in self.ways:
            await maker.press("x")
            assert isinstance(maker.screen, SpoiledScreen)
            await maker.press("enter")
            self.ways.add("spoiled in hand")
        elif step.stage == "sew" and left > 1 and "spoiled counted" not in self.ways:
            await maker.count("space")
            await maker.press("x")
            assert "one of the 1 that are counted" in maker.read()
            await maker.press("2")
            self.ways.add("spoiled counted")
        elif step.stage == "measure" and left > 1 and "sew again" not in self.ways:
            await maker.press("w", "up", "s", "m")
            self.ways.add("sew again")
        elif step.stage in ("measure", "square up") and "sew again" in self.ways and "cut anew" not in self.ways:
            await maker.press("w", "l", "x")
            self.ways.add("cut anew")
        else:
            return
        assert maker.bench.session.totals[1] > total[1]
        self._check(maker)


# Keys and commands


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_every_command_has_its_action_at_home(command) -> None:  # type: ignore[no-untyped-def]
    home = HOMES[command.home]
    action = getattr(home, f"action_{command.action}", None)
    assert callable(action)
    ours = any(f"action_{command.action}" in vars(one) for one in home.__mro__ if one.__module__.startswith("tui."))
    assert ours or command.id == "app.palette"
    assert command.home == "app" or command.home in home.HOMES or home is PageScreen


async def test_the_palette_lists_every_command_of_the_screen_and_runs_it(file: Path) -> None:
    async with sit_down(file, *at("sew", least=3)) as maker:
        listed = [command.title.lower() for command in maker.app.get_system_commands(maker.app.screen)]
        homes = ("bench", "app")
        assert listed == [one.label for one in COMMANDS if one.home in homes and one.id != "app.palette"]
        await maker.pilot.press("ctrl+p", *"spoiled", "enter")
        await maker.pilot.pause()
        assert isinstance(maker.screen, SpoiledScreen)
        await maker.press("escape", "s")
        listed = [command.title.lower() for command in maker.app.get_system_commands(maker.app.screen)]
        assert {"page down", "back", "sheet", "leave"} <= set(listed)
        assert "one" not in listed


@pytest.mark.parametrize("key", ["pageup", "pagedown"])
async def test_paging_in_a_palette_without_room_does_nothing(file: Path, key: str) -> None:
    async with sit_down(file, size=(40, 4)) as maker:
        await maker.press("ctrl+p", key, "escape")
        assert isinstance(maker.screen, BenchScreen)


async def test_a_held_key_counts_once_and_says_so(file: Path) -> None:
    async with sit_down(file, *at("sew", least=4)) as maker:
        before = maker.bench.session.totals[0]
        maker.clock.is_standing = True
        await maker.count("space", "space", "space")
        assert maker.bench.session.totals[0] == before + 1
        assert "Held key: counted once" in maker.card()
        await maker.count("u")
        assert maker.bench.session.totals[0] == before
        await maker.count("space")
        assert maker.bench.session.totals[0] == before + 1
        maker.clock.is_standing = False
        await maker.count("space", "space")
        assert maker.bench.session.totals[0] == before + 3
        assert "Held key" not in maker.card()


@pytest.mark.parametrize("key", ["space", "enter", "u", "x", "w"])
async def test_looking_never_counts(file: Path, key: str) -> None:
    async with sit_down(file, *at("measure", least=2, done=1)) as maker:
        before = maker.bench.progress.events
        for way in ("right", "left"):
            await maker.press(way, key)
            assert maker.bench.progress.events == before
            assert f"LOOKING {'AHEAD' if way == 'right' else 'BACK'}" in maker.card()
            assert "Looking only: esc returns to the step at hand" in maker.card()
            assert "← → look on · esc return to the step at hand" in maker.read()
            await maker.press("escape")
            assert "LOOKING" not in maker.card()


async def test_looking_ends_at_both_ends_of_the_sheet(file: Path) -> None:
    async with sit_down(file, *at("lay out")) as maker:
        last = len(SHEET.steps)
        await maker.count(*["left"] * (number_of(SHEET, "lay out") + 3))
        assert f"LOOKING BACK: step 1 of {last}" in maker.card()
        await maker.count(*["right"] * (last + 3))
        assert f"LOOKING AHEAD: step {last} of {last}" in maker.card()
        check_card(maker)


async def test_a_mishap_that_is_thought_over_changes_nothing(file: Path) -> None:
    async with sit_down(file, *at("measure", least=2)) as maker:
        before = maker.bench.progress.events
        await maker.press("x", "escape", "w", "escape", "w", "up", "l", "escape")
        await maker.press("x", "2")  # there is no counted one to ruin
        assert isinstance(maker.screen, SpoiledScreen)
        await maker.press("escape")
        assert isinstance(maker.screen, BenchScreen)
        assert maker.bench.progress.events == before


@pytest.mark.parametrize(("stage", "key", "words"), [
    ("machine", "x", "Nothing can be spoiled at this step"),
    ("lay out", "x", "Nothing can be spoiled at this step"),
    ("sew", "w", "This key is for a step that measures units"),
    ("machine", "w", "Is the test seam wrong? Move the guide and sew it again; count it when it measures right"),
])  # fmt: skip
async def test_a_key_that_does_nothing_here_says_so(file: Path, stage: Stage, key: str, words: str) -> None:
    async with sit_down(file, *at(stage)) as maker:
        before = maker.bench.progress.events
        await maker.press(key)
        assert words in maker.card()
        assert maker.bench.progress.events == before


async def test_keys_of_ones_own_are_heard_and_shown_in_place_of_the_old(file: Path) -> None:
    settings = Settings(keymap={"bench.one": "f5", "page.close": "z", "bench.place": "f6", "bench.ahead": "f7"})
    async with sit_down(file, settings=settings) as maker:
        assert "f5 one" in maker.read()
        await maker.press("space")
        assert maker.bench.session.totals[0] == 0
        await maker.press("f5")
        assert maker.bench.session.totals[0] == 1
        await maker.press("f7")
        assert "← f7 look on · f6 return to the step at hand" in maker.read()
        await maker.press("f5")
        assert "Looking only: f6 returns to the step at hand" in maker.card()
        assert "esc" not in maker.read()
        await maker.press("f6")
        assert maker.at_bench.look is None
        await maker.press("question_mark")
        assert "f5 Count one" in maker.read()
        await maker.press("escape")
        assert isinstance(maker.screen, PageScreen)
        await maker.press("z")
        assert isinstance(maker.screen, BenchScreen)


async def test_the_end_names_the_makers_key_that_takes_back(file: Path) -> None:
    async with sit_down(
        file, *done_until(SHEET, len(SHEET.steps)), settings=Settings(keymap={"bench.back": "f8"})
    ) as maker:
        assert "f8 takes the last key back" in maker.card()
    async with sit_down(file) as maker:
        assert "u takes the last key back" in maker.card()


@pytest.mark.parametrize("keymap", [{"page.down": "j", "page.close": "down"}, {"page.close": "end"}], ids=str)
async def test_a_page_hears_the_makers_keys_first(file: Path, keymap: dict[str, str]) -> None:
    assert check_keymap(keymap) == ()
    async with sit_down(file, settings=Settings(keymap=keymap)) as maker:
        await maker.press("s")
        await maker.pilot.press(keymap["page.close"])
        assert isinstance(maker.screen, BenchScreen)


# Looks


async def test_a_picture_is_drawn_once_for_a_step_and_a_size(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[tuple[int | None, int]] = []

    def draw(bench: Bench, look: int | None, width: int, height: int) -> Canvas | None:
        drawn.append((look if look is not None else bench.session.place, width))
        return draw_step(bench, look, width, height)

    monkeypatch.setattr("tui.screens.bench.draw_step", draw)
    async with sit_down(file, *at("sew", least=4)) as maker:
        number = maker.bench.session.place
        assert number is not None
        await maker.press("space", "space", "t", "s", "escape", "l", "l")
        assert drawn == [(number, maker.at_bench.card.size.width - 2)]
        await maker.press("right", "left")
        assert [place for place, _ in drawn[1:]] == [number + 1, number]
        await maker.pilot.resize_terminal(100, 30)
        await maker.press("space")
        assert drawn[3:] == [(number, maker.at_bench.card.size.width - 2)]


@at_every_size
async def test_the_theme_changes_and_all_words_stay(file: Path, size: tuple[int, int]) -> None:
    async with sit_down(file, *at("sew", least=3), size=size) as maker:
        words = maker.card()
        for theme, is_light in (("light", True), ("dark", False)):
            await maker.press("t")
            assert maker.app.theme == THEMES[theme]
            assert maker.card() == words
            colour = maker.at_bench.card.background_colors[1]
            assert (colour.brightness > 0.5) is is_light
            check_card(maker)


@at_every_size
async def test_large_print_shows_the_verb_the_letters_and_the_tally(file: Path, size: tuple[int, int]) -> None:
    async with sit_down(file, *at("sew", least=3, done=1), size=size) as maker:
        await maker.press("l")
        shown = [line.strip() for line in lines_of(maker.at_bench.card)]
        width = maker.at_bench.card.size.width
        letters = maker.view.what.split(":")[0]
        for text in (maker.view.verb, letters, f"{maker.view.done}/{maker.view.total}"):
            large = spell_large(text, width)
            assert large is not None, text
            first = shown.index(large[0].strip())
            assert shown[first : first + 5] == [line.strip() for line in large]
        await maker.press("space")
        assert maker.view.done == 2
        await maker.press("l")
        check_card(maker)


async def test_large_print_can_be_the_beginning(file: Path) -> None:
    async with sit_down(file, *at("sew", least=3), settings=Settings(large_print=True, theme="light")) as maker:
        assert "█" in maker.card()
        assert "Right sides together" not in maker.card()
        assert maker.app.theme == THEMES["light"]


async def test_a_wide_window_leaves_the_card_no_less_room_than_a_small_one(file: Path) -> None:
    rooms = {}
    async with sit_down(file, *at("sew", least=3)) as maker:
        for width, height in ((80, 24), (100, 30), (119, 40), (120, 40), (160, 50)):
            await maker.pilot.resize_terminal(width, height)
            await maker.pilot.pause()
            card = maker.at_bench.card
            rooms[width] = card.size.width
            assert card.size.width >= rooms[80]
            assert maker.at_bench.side.display == (width >= 120)


# Pages


async def test_a_page_stays_where_it_was_when_the_window_changes(file: Path) -> None:
    async with sit_down(file, *at("sew", least=3)) as maker:
        await maker.press("s")
        assert isinstance(maker.screen, PageScreen)
        lines = maker.screen.lines
        assert join(lines_of(lines)[3]).startswith("▶")  # the step at hand
        lines.scroll_to(0, 40, animate=False, immediate=True)
        top = join(lines_of(lines)[0])[:20]
        for size in ((60, 20), (120, 40), (30, 8), (80, 24)):
            await maker.pilot.resize_terminal(*size)
            await maker.pilot.pause()
            assert join(lines_of(lines)[0])[:20] == top


@at_every_size
async def test_every_page_opens_scrolls_and_closes(file: Path, size: tuple[int, int]) -> None:
    async with sit_down(file, *at("sew", least=3), size=size) as maker:
        for key, title in PAGES.items():
            await maker.press(key)
            page = maker.screen
            assert isinstance(page, PageScreen)
            assert title in maker.read()
            check_key_line(page, *page.HOMES)
            lines = page.lines
            lines.scroll_home(animate=False, immediate=True)
            if lines.max_scroll_y:
                await maker.pilot.press("down")
                assert lines.scroll_offset.y == 1
                await maker.pilot.press("pagedown")
                assert lines.scroll_offset.y > 1
                await maker.pilot.press("pageup", "up")
                assert lines.scroll_offset.y == 0
                lines.scroll_to(0, lines.max_scroll_y - 1, animate=False, immediate=True)
                await maker.pilot.press("pagedown")
                assert lines.scroll_offset.y == lines.max_scroll_y
            await maker.press("escape")
            check_card(maker)


@at_every_size
async def test_pages_show_their_lines_uncut(file: Path, size: tuple[int, int]) -> None:
    async with sit_down(file, *at("measure", least=2), size=size) as maker:
        mats = [maker.bench.speaker.mat_words(step.work) for step in SHEET.steps if isinstance(step.work, CutWork)]
        whole = {
            "s": list(sheet_lines(maker.bench)),
            "c": mats,
            "p": [line for _, found in name_lying(maker.bench) for line in found],
            "question_mark": [one.help for one in COMMANDS if one.home in ("bench", "app", "page", "block")],
        }
        for key, texts in whole.items():
            await maker.press(key)
            page = maker.screen
            assert isinstance(page, PageScreen)
            shown = maker.read_through(page.lines)
            assert [text for text in texts if join(text) not in shown] == []


async def test_a_page_shows_its_lines_uncut_after_every_change_of_width(file: Path) -> None:
    async with sit_down(file, *at("measure", least=2), size=(70, 20)) as maker:
        await maker.press("s")
        page = maker.screen
        assert isinstance(page, PageScreen)
        for width in (*range(64, 56, -1), *range(57, 64)):
            await maker.pilot.resize_terminal(width, 20)
            shown = maker.read_through(page.lines)
            assert [text for text in sheet_lines(maker.bench) if join(text) not in shown] == [], width


def sheet_lines(bench: Bench) -> Iterator[str]:
    """The lines of the whole sheet, as they must be read."""
    for number, step in enumerate(SHEET.steps, 1):
        words = bench.speaker.say(step)
        noun = counted(step)[step.count > 1]
        done = bench.session.done_of(step)
        yield f"{number}. {words.verb.capitalize()} {words.what}: {done} of {step.count} {noun}"


@at_every_size
async def test_pages_on_top_of_one_another_close_back_to_the_bench(file: Path, size: tuple[int, int]) -> None:
    async with sit_down(file, size=size) as maker:
        depth = len(maker.app.screen_stack)
        for key, title in (*PAGES.items(), *reversed(PAGES.items())):
            await maker.press(key)
            assert title in maker.read()
            assert len(maker.app.screen_stack) == depth + 1
        await maker.press("backspace")
        assert isinstance(maker.screen, BenchScreen)


async def test_a_wide_page_of_a_block_goes_from_block_to_block(file: Path) -> None:
    async with sit_down(file, size=(60, 20)) as maker:
        await maker.press("b")
        seen = []
        for _ in SHEET.plan.blocks.drafted:
            seen.append(maker.read())
            await maker.press("n")
        assert len(set(seen)) == len(seen)
        assert maker.read() == seen[0]
        await maker.press("N")
        assert maker.read() == seen[-1]
        assert "block 6 of 6" in seen[-1]


async def test_the_whole_sheet_opens_at_the_place(file: Path) -> None:
    async with sit_down(file, *at("square up"), size=(60, 20)) as maker:
        await maker.press("s")
        assert "▶" in maker.read()


@pytest.mark.parametrize("way", [(), ("b", "c"), ("right",), ("x", "escape"), ("q", "s")], ids=str)
async def test_the_bench_can_be_left_from_anywhere(file: Path, way: tuple[str, ...]) -> None:
    async with sit_down(file, *at("sew", least=3)) as maker:
        await maker.press(*way, "q")
        assert isinstance(maker.screen, LeaveScreen)
        assert "Is the iron off?" in maker.read()
        check_key_line(maker.screen, *maker.screen.HOMES)
        await maker.press("enter")
        await maker.pilot.pause()
        assert maker.app.return_code == 0
        assert not maker.app.is_running


@at_every_size
async def test_coming_back_shows_where_it_stopped_and_what_lies_where(file: Path, size: tuple[int, int]) -> None:
    clock = Clock()
    with bench_on(file, plan_sample(SAMPLER), *at("sew", least=3, done=2), clock=clock) as bench:
        app = SeamrunApp(bench, Settings(), clock)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            maker = Maker(app, pilot, clock)
            words = maker.read()
            for text in ("You stopped in pass 1 of 4, after 2 of 4", "In the chain at the machine, not clipped"):
                assert text in words
            check_key_line(maker.screen, "return", "app")
            before = bench.progress.events
            await maker.press("s", "escape")
            assert isinstance(maker.screen, ComeBackScreen)
            await maker.press("q", "escape", "enter")
            check_card(maker)
            assert bench.progress.events == before


# Names that look like something else


ODD = "Sea [b]x[/b] and [/] [red]foam"


@pytest.fixture
def odd_plan() -> Plan:
    return plan_text(
        f"project: '{ODD}'\nthread: '[/b] grey [i]y[/i]'\nfabrics: {{navy: {{value: dark}}, shell: {{value: light}}}}\n"
        "blocks: {four patch: {size: 6, rows: [[navy, shell], [shell, navy]]}}\nmake: [{block: four patch, count: 2}]\n"
    )


@at_every_size
async def test_names_that_look_like_markup_are_shown_as_they_are(
    file: Path, size: tuple[int, int], odd_plan: Plan
) -> None:
    async with sit_down(file, size=size, plan=odd_plan) as maker:
        assert ODD in maker.card()
        assert "thread [/b] grey [i]y[/i]" in maker.card()
        for key in PAGES:
            await maker.press(key)
        await maker.press("escape", "space", "q")
        assert isinstance(maker.screen, LeaveScreen)
    clock = Clock()
    with bench_on(file, odd_plan, clock=clock) as bench:
        app = SeamrunApp(bench, Settings(), clock)
        async with app.run_test(size=size) as pilot:
            await pilot.pause()
            words = Maker(app, pilot, clock).read()
            assert ODD in words
            assert "[/b] grey [i]y[/i] thread" in words


async def test_offers_that_look_like_markup_are_shown_as_they_are() -> None:
    app = ChooseApp([Offer(Path("a [b]b.yaml"), ODD, False)])
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        words = join(*(line for widget in leaves_of(app.screen) for line in lines_of(widget)))
        assert f"{ODD} a [b]b.yaml" in words
        await pilot.press("enter")
    assert app.return_value is not None
    assert app.return_value.words == ODD


async def test_a_project_that_is_being_planned_is_named_as_it_is(odd_plan: Plan) -> None:
    app = PlanningApp(Planning(odd_plan.project, NOTHING_MADE), Clock())
    async with app.run_test(size=(60, 20)) as pilot:
        await pilot.pause()
        assert ODD in join(*(line for widget in leaves_of(app.screen) for line in lines_of(widget)))
        await pilot.press("escape")
    assert app._planning.was_stopped


# A second bench


async def test_who_looks_on_is_told_and_follows(file: Path) -> None:
    with bench_on(file, plan_sample(SAMPLER)) as first:
        async with sit_down(file) as maker:
            assert "LOOKING ON: another bench has this project" in maker.card()
            for key in ("space", "enter", "u", "x", "w"):
                await maker.press(key)
                assert maker.view.is_trouble
                assert isinstance(maker.screen, BenchScreen)
            first.count_one()
            maker.at_bench._look_again()
            assert "SET UP stitch" in maker.card()
            assert maker.bench.session.totals == first.session.totals
