"""Commands are declared once, whole, and every reader of the declaration shows them."""

from __future__ import annotations

import importlib
import pkgutil
import re

import pytest
from rich.cells import cell_len
from textual.app import App
from textual.binding import Binding
from textual.screen import Screen

import tui.screens
from tui.bindings import bindings_at, fit_words, footer_words
from tui.commands import COMMANDS, Command, commands_at, spell_keys
from tui.keymap import keys_of

KEYS = keys_of({})
SCREENS = [
    one
    for module in pkgutil.iter_modules(tui.screens.__path__)
    for one in vars(importlib.import_module(f"tui.screens.{module.name}")).values()
    if isinstance(one, type) and issubclass(one, Screen | App) and one.__module__ == f"tui.screens.{module.name}"
]
# The homes of each screen with a key line, and what must be in it at 60 columns
KEY_LINES = {
    ("bench", "app"): {"space one", "enter all", "u take back", "? keys", "q leave"},
    ("page", "app"): {"esc back", "↓ down", "pgdn page down", "? keys"},
    ("block", "page", "app"): {"esc back", "n next block", "? keys"},
    ("cloth", "page", "app"): {"esc back", "n next cloth", "? keys"},
    ("return", "app"): {"enter go on", "? keys", "q leave"},
    ("leave", "page"): {"esc back", "enter leave"},
}


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.id)
def test_a_command_is_declared_whole(command: Command) -> None:
    assert re.fullmatch(r"[a-z]+\.[a-z_]+", command.id)
    assert command.action.isidentifier()
    assert all(command.keys.split(","))
    assert command.label == command.label.strip().lower()
    assert 0 < len(command.label) <= 16
    assert command.help[0].isupper()
    assert not command.help.endswith((".", "!"))
    assert "[" not in command.label + command.help


def test_ids_are_told_apart() -> None:
    assert len({command.id for command in COMMANDS}) == len(COMMANDS)
    assert len({(command.home, command.action) for command in COMMANDS}) == len(COMMANDS)


def test_every_command_stands_at_its_home() -> None:
    homes = dict.fromkeys(command.home for command in COMMANDS)
    assert [command for home in homes for command in commands_at(home)] == list(COMMANDS)
    assert commands_at("attic") == ()


@pytest.mark.parametrize("home", dict.fromkeys(command.home for command in COMMANDS))
def test_no_two_commands_of_a_home_share_a_key(home: str) -> None:
    keys = [key for command in commands_at(home) for key in command.keys.split(",")]
    assert len(set(keys)) == len(keys)


def test_what_holds_everywhere_shares_no_key_with_bench_or_page() -> None:
    for homes in (("app", "bench"), ("app", "page", "block"), ("app", "page", "cloth")):
        keys = [key for home in homes for command in commands_at(home) for key in command.keys.split(",")]
        assert len(set(keys)) == len(keys)


def test_bindings_carry_the_id_the_keys_and_the_help_of_their_command() -> None:
    for command in commands_at("bench"):
        binding = next(one for one in bindings_at("bench") if isinstance(one, Binding) and one.id == command.id)
        assert (binding.key, binding.action, binding.tooltip) == (command.keys, command.action, command.help)
        assert not binding.show  # the key line is ours


def test_there_are_screens_to_look_at() -> None:
    names = {one.__name__ for one in SCREENS}
    assert {"BenchScreen", "PageScreen", "ComeBackScreen", "LeaveScreen", "ChooseApp"} <= names


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
def test_every_binding_of_ours_has_an_id(screen: type[Screen[object]]) -> None:
    for binding in vars(screen).get("BINDINGS", ()):
        assert isinstance(binding, Binding)
        assert binding.id


@pytest.mark.parametrize(("homes", "needed"), KEY_LINES.items(), ids=lambda one: "-".join(sorted(one))[:24])
@pytest.mark.parametrize("width", [58, 78, 118])
def test_the_key_line_fits_and_shows_what_is_needed_most(homes: tuple[str, ...], needed: set[str], width: int) -> None:
    words = footer_words(homes, KEYS, width)
    assert len(words) <= width
    assert needed <= set(words.split(" · "))


def test_the_key_line_has_whole_commands_only_in_the_order_of_need() -> None:
    whole = footer_words(("bench", "app"), KEYS, 1000).split(" · ")
    assert whole == ["space one", "enter all", "u take back", "? keys", "q leave", "s sheet", "b block"]
    for width in range(100):
        words = footer_words(("bench", "app"), KEYS, width)
        assert len(words) <= width
        shown = words.split(" · ") if words else []
        assert shown == whole[: len(shown)]


def test_no_word_of_the_key_line_is_cut_however_wide_its_letters_are() -> None:
    parts = ("pgup pgdn look on", "縫 return to the step at hand")
    for width in range(60):
        words = fit_words(parts, width)
        assert cell_len(words) <= width
        assert words in ("", parts[0], " · ".join(parts))
    assert fit_words(parts, 48) == parts[0]
    assert fit_words(parts, 49) == " · ".join(parts)


def test_the_key_line_shows_the_makers_own_keys() -> None:
    keys = keys_of({"bench.one": "f5,x", "app.keys": "k"})
    assert footer_words(("bench", "app"), keys, 41) == "f5 one · enter all · u take back · k keys"


@pytest.mark.parametrize(
    ("keys", "words"),
    [("question_mark", "?"), ("q,ctrl+q", "q or ctrl+q"), ("escape,backspace", "esc or backspace"), ("left", "←"),
     ("pagedown,space", "pgdn or space"), ("full_stop", "full stop"), ("f5", "f5")],
)  # fmt: skip
def test_keys_are_spelt_for_the_eye(keys: str, words: str) -> None:
    assert spell_keys(keys) == words
