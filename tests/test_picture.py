"""The picture on the screen: all its signs, the fabrics' colours, and words in the theme's."""

from __future__ import annotations

import pytest
from rich.color import Color
from rich.style import Style
from textual.app import App, ComposeResult

from tui.canvas import BLANK, Canvas, Cell
from tui.fabric_colours import FabricColour, contrast
from tui.widgets.picture import Page, Picture, strip_of, style_of

COLOURS = {"navy": FabricColour("#2c4b71", "#ffffff"), "shell": FabricColour("#f4cac1", "#000000")}
PAGE = Page(Style(color="#e0e0e0", bgcolor="#121212"), Style(color="#a0a0a0", bgcolor="#121212"))
NAVY, SHELL = Cell(" ", "navy", "cloth"), Cell(" ", "shell", "cloth")
SEAM = Cell("│", "navy", "seam")
CANVAS: Canvas = (
    (Cell("C", None, "label", True), BLANK, BLANK, BLANK, BLANK),
    (NAVY._replace(text="n"), SEAM, SHELL._replace(text="s"), Cell("║", None, "sew", True), BLANK),
    (NAVY._replace(text="["), NAVY._replace(text="/"), SHELL._replace(text="]"), Cell("╫", None, "pin", True), BLANK),
)


class OnePicture(App[None]):
    def __init__(self, canvas: Canvas | None) -> None:
        super().__init__()
        self.shown = Picture(COLOURS)
        self.first = canvas

    def compose(self) -> ComposeResult:
        yield self.shown

    def on_mount(self) -> None:
        self.shown.canvas = self.first


def lines_of(picture: Picture) -> list[str]:
    return [picture.render_line(y).text for y in range(picture.size.height)]


async def test_a_picture_is_as_large_as_its_canvas_and_shows_every_sign() -> None:
    app = OnePicture(CANVAS)
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        assert app.shown.size == (5, 3)
        assert lines_of(app.shown) == ["C    ", "n│s║ ", "[/]╫ "]


async def test_another_canvas_takes_its_place_and_none_takes_no_room() -> None:
    app = OnePicture(CANVAS)
    async with app.run_test(size=(40, 10)) as pilot:
        app.shown.canvas = CANVAS[:1]
        await pilot.pause()
        assert lines_of(app.shown) == ["C    "]
        app.shown.canvas = None
        await pilot.pause()
        assert app.shown.size.height == 0


@pytest.mark.parametrize("theme", ["textual-dark", "textual-light"])
async def test_words_and_lines_can_be_read_in_dark_and_in_light(theme: str) -> None:
    app = OnePicture(CANVAS)
    app.theme = theme
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        for y in range(3):
            for segment in app.shown.render_line(y):
                style = segment.style
                if segment.text.strip() and style is not None:
                    assert style.color is not None
                    assert style.bgcolor is not None
                    colours = [color.get_truecolor().hex for color in (style.color, style.bgcolor)]
                    assert contrast(*colours) >= 4.5, segment


async def test_without_colour_all_signs_are_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = OnePicture(CANVAS)
    async with app.run_test(size=(40, 10)) as pilot:
        await pilot.pause()
        assert app.no_color
        assert lines_of(app.shown) == ["C    ", "n│s║ ", "[/]╫ "]


def test_cloth_has_its_own_colours_and_what_lies_beside_it_the_pages() -> None:
    cloth, line, _, edge, blank = (style_of(cell, COLOURS, PAGE) for cell in CANVAS[1])
    navy = (Color.parse("#ffffff"), Color.parse("#2c4b71"))
    assert (cloth.color, cloth.bgcolor) == navy
    assert (line.color, line.bgcolor) == navy
    assert (edge.color, edge.bgcolor) == (PAGE.words.color, PAGE.words.bgcolor)
    assert edge.bold
    assert not cloth.bold
    assert blank == PAGE.words


def test_an_unknown_fabric_is_written_as_words_are() -> None:
    assert style_of(Cell("x", "reed", "cloth"), COLOURS, PAGE) == PAGE.words


def test_cloth_that_is_not_meant_goes_toward_the_page_and_can_still_be_read() -> None:
    meant, rest = Cell("n", "navy", "cloth", True), Cell("n", "navy", "cloth")
    strong, faint = (style_of(cell, COLOURS, PAGE, is_faint=True) for cell in (meant, rest))
    assert strong == style_of(meant, COLOURS, PAGE)
    assert strong.bgcolor is not None
    assert faint.bgcolor is not None
    assert faint.color is not None
    page = "#121212"
    assert contrast(faint.bgcolor.get_truecolor().hex, page) < contrast(strong.bgcolor.get_truecolor().hex, page)
    assert contrast(faint.bgcolor.get_truecolor().hex, faint.color.get_truecolor().hex) >= 4.5


def test_cells_of_one_style_are_one_segment() -> None:
    strip = strip_of([Cell(sign, "navy", "cloth") for sign in " n n "], COLOURS, PAGE)
    assert [segment.text for segment in strip] == [" n n "]
    assert strip.cell_length == 5
