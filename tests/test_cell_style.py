"""The picture on the screen: all its signs, the fabrics' colours, and words in the theme's."""

from __future__ import annotations

import pytest
from rich.color import Color
from rich.style import Style
from textual.app import App, ComposeResult

from tui.canvas import BLANK, Canvas, Cell
from tui.fabric_colours import FabricColour, contrast
from tui.widgets.cell_style import Page, has_strong_cloth, style_of
from tui.widgets.lines import Lines

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
    def __init__(self) -> None:
        super().__init__()
        self.shown = Lines(CANVAS, COLOURS)

    def compose(self) -> ComposeResult:
        yield self.shown


def lines_of(shown: Lines) -> list[str]:
    return [shown.render_line(y).text.rstrip() for y in range(3)]


@pytest.mark.parametrize("theme", ["textual-dark", "textual-light"])
async def test_words_and_lines_can_be_read_in_dark_and_in_light(theme: str) -> None:
    app = OnePicture()
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


async def test_every_sign_is_there_and_without_colour_too(monkeypatch: pytest.MonkeyPatch) -> None:
    for value in (None, "1"):
        monkeypatch.delenv("NO_COLOR", raising=False)
        if value:
            monkeypatch.setenv("NO_COLOR", value)
        app = OnePicture()
        async with app.run_test(size=(40, 10)) as pilot:
            await pilot.pause()
            assert app.no_color == bool(value)
            assert lines_of(app.shown) == ["C", "n│s║", "[/]╫"]


def test_a_picture_says_whether_one_part_of_it_is_meant() -> None:
    assert not has_strong_cloth(CANVAS)
    assert has_strong_cloth(((NAVY._replace(strong=True),),))


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
