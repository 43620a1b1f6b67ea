"""Keys of the maker's own: every fault is told with the command's name, and no command is left without a key."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.commands import COMMANDS
from tui.keymap import check_keymap, keys_of

IDS = [command.id for command in COMMANDS]
# Which commands are heard on one screen: two of them may not have one key, where the maker chose it
SCREENS = (
    ("app", "bench"),
    ("app", "page"),
    ("app", "page", "block"),
    ("app", "page", "cloth"),
    ("app", "page", "return"),
    ("page", "leave"),
    ("ask", "spoiled"),
    ("ask", "wrong"),
)


def words_of(keymap: dict[str, str]) -> list[str]:
    return [words for _, words in check_keymap(keymap)]


def test_the_keys_as_they_come_are_sound() -> None:
    assert check_keymap({}) == ()
    assert check_keymap({command.id: command.keys for command in COMMANDS if command.home in ("bench", "app")}) == ()


def test_an_unknown_command_is_told_with_the_nearest_there_is() -> None:
    ((command, words),) = check_keymap({"bench.onee": "f5"})
    assert command == "bench.onee"
    assert words.startswith("there is no command bench.onee")
    assert "bench.one" in words.removeprefix("there is no command bench.onee")


@pytest.mark.parametrize("keys", ["", " ", "\t"])
def test_a_command_without_a_key_is_told(keys: str) -> None:
    assert words_of({"bench.one": keys}) == ["no key is given; write one like f5, or several with commas"]


@pytest.mark.parametrize(
    ("key", "arrives"), [("ctrl+i", "tab"), ("ctrl+m", "enter"), ("ctrl+h", "backspace"), ("shift+enter", "enter")]
)
def test_a_key_that_never_arrives_is_told_with_what_does(key: str, arrives: str) -> None:
    assert words_of({"app.sheet": key}) == [f"a terminal sends {arrives} for {key}; take another key"]


@pytest.mark.parametrize("key", ["f25", "f0", "spacebar", "ctrl+1", "ä", "ctrl + k", "?", "alt+x"])
def test_what_is_no_key_is_told(key: str) -> None:
    (words,) = words_of({"app.sheet": key})
    assert words.startswith(f"'{key}' is no key; write ")


@pytest.mark.parametrize("key", ["f5", "f24", "z", "Z", "7", "ctrl+k", "slash", "pageup", "delete"])
def test_what_a_terminal_sends_is_a_key(key: str) -> None:
    assert check_keymap({"bench.large": key}) == ()


def test_an_empty_place_between_commas_is_told() -> None:
    assert words_of({"app.sheet": "f5,,f6"}) == [
        "'' is no key; write a letter, space, enter, left, f5, ctrl+k, question_mark or the like"
    ]


@pytest.mark.parametrize(
    ("keymap", "both"),
    [
        ({"bench.one": "u"}, ("bench.one", "bench.back")),
        ({"bench.one": "s"}, ("bench.one", "app.sheet")),
        ({"app.sheet": "space"}, ("bench.one", "app.sheet")),
        ({"app.sheet": "down"}, ("app.sheet", "page.down")),
        ({"block.next": "escape"}, ("page.close", "block.next")),
        ({"spoiled.in_hand": "escape"}, ("ask.never_mind", "spoiled.in_hand")),
        ({"bench.one": "f5", "app.keys": "f5"}, ("bench.one", "app.keys")),
    ],
)
def test_one_key_for_two_commands_of_a_screen_names_both(keymap: dict[str, str], both: tuple[str, str]) -> None:
    (words,) = words_of(keymap)
    assert all(command in words for command in both)
    assert "give one of them another" in words


@pytest.mark.parametrize(
    "keymap",
    [
        {"bench.one": "u", "bench.back": "space"},  # exchanged
        {"bench.one": "n"},  # the next block's key, on another screen
        {"wrong.small": "t"},  # a question hears its own keys only
        {"bench.one": "f5,f6", "bench.all": "space"},
        {"bench.one": " f5 , f6 "},
        {"bench.one": "f5,f5"},
    ],
)
def test_keys_that_can_be_told_apart_are_sound(keymap: dict[str, str]) -> None:
    assert check_keymap(keymap) == ()


def test_all_faults_are_told_at_once() -> None:
    told = check_keymap({"bench.onee": "f5", "bench.one": "ctrl+i", "app.sheet": "", "bench.back": "enter"})
    assert {command for command, _ in told} == {"bench.onee", "bench.one", "app.sheet", "bench.back"}
    assert len(told) == 4


def test_the_makers_keys_stand_in_place_of_those_as_they_come() -> None:
    keys = keys_of({"bench.one": " f5 , x "})
    assert keys["bench.one"] == "f5,x"
    assert keys["app.quit"] == "q,ctrl+q"
    assert list(keys) == IDS


KEYS = st.sampled_from(("space", "enter", "u", "s", "f5", "n", "down", "escape", "x", "ctrl+k", "2"))


@given(st.dictionaries(st.sampled_from(IDS), st.lists(KEYS, min_size=1, max_size=2).map(",".join), max_size=4))
def test_a_sound_keymap_leaves_no_screen_with_one_key_for_two_commands(keymap: dict[str, str]) -> None:
    faults = check_keymap(keymap)
    keys = keys_of(keymap)
    shared = False
    for homes in SCREENS:
        users: dict[str, set[str]] = {}
        for command in COMMANDS:
            if command.home in homes:
                for key in keys[command.id].split(","):
                    users.setdefault(key, set()).add(command.id)
        shared |= any(len(found) > 1 and found & keymap.keys() for found in users.values())
    assert bool(faults) == shared


@given(st.dictionaries(st.text(max_size=12), st.text(max_size=12), max_size=4))
def test_any_texts_at_all_are_sound_or_told(keymap: dict[str, str]) -> None:
    told = check_keymap(keymap)
    assert {command for command in keymap if command not in IDS} <= {command for command, _ in told}
    assert all(words for _, words in told)
