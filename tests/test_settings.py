"""The maker's settings: read with their lines, refused with words that say what would be right."""

from __future__ import annotations

import gc
import subprocess
import sys
from dataclasses import fields
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.load_at_once import loading
from tui.settings import Settings, load_settings, read_settings, settings_file


def read(text: str) -> Settings:
    settings, faults = read_settings(text)
    assert faults == ()
    assert settings is not None
    return settings


def faults_of(text: str) -> list[tuple[int, str, str]]:
    settings, faults = read_settings(text)
    assert settings is None
    return [(fault.line, fault.where, fault.words) for fault in faults]


@pytest.mark.parametrize("text", ["", "\n\n", "   \n"])
def test_an_empty_file_leaves_all_as_it_comes(text: str) -> None:
    assert read(text) == Settings()


def test_as_it_comes_is_dark_in_small_print_with_a_short_pause() -> None:
    assert Settings() == Settings(theme="dark", large_print=False, held_key=150, keymap={})


def test_every_setting_is_read() -> None:
    text = "theme: light\nlarge_print: true\nheld_key: 300  # slow hands\nkeymap:\n  bench.one: f5\n  app.keys: k,f1\n"
    settings = read(text)
    assert settings == Settings(
        theme="light", large_print=True, held_key=300, keymap={"bench.one": "f5", "app.keys": "k,f1"}
    )


def test_every_setting_says_what_it_is_for() -> None:
    source = Path(__file__).parent.parent / "tui" / "settings.py"
    lines = source.read_text(encoding="utf-8").splitlines()
    for name in (one.name for one in fields(Settings)):
        place = next(number for number, line in enumerate(lines) if line.startswith(f"    {name}: "))
        assert lines[place + 1].strip().startswith('"""'), name


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("theme: light\ncolour: red\n", 2, "there is no setting colour"),
        ("theme: pink\n", 1, "theme: write dark or light"),
        ("theme:\n", 1, "theme: write dark or light"),
        ("theme: {a: b}\n", 1, "theme: write dark or light"),
        ("\nlarge_print: perhaps\n", 2, "large_print: write true or false"),
        ("held_key: 49\n", 1, "held_key: write a whole number of milliseconds from 50 to 2000"),
        ("held_key: 2001\n", 1, "held_key: write a whole number of milliseconds from 50 to 2000"),
        ("held_key: '0500'\nlarge_print: 'no'\nheld_keys: 1\n", 3, "there is no setting held_keys"),
        ("held_key: 1e2\n", 1, "held_key: write a whole number of milliseconds from 50 to 2000"),
        ("held_key: soon\n", 1, "held_key: write a whole number of milliseconds from 50 to 2000"),
        ("held_key: [150]\n", 1, "held_key: write a whole number of milliseconds from 50 to 2000"),
        ("theme: dark\nkeymap: f5\n", 2, "keymap: write commands with their keys, like {bench.one: f5}"),
        ("keymap: [f5]\n", 1, "keymap: write commands with their keys, like {bench.one: f5}"),
        ("theme: dark\nheld_key: 99\ntheme: light\n", 3, "theme is written twice; keep one"),
    ],
)
def test_what_is_wrong_is_told_with_its_line_and_what_would_be_right(text: str, line: int, words: str) -> None:
    ((at, where, said),) = faults_of(text)
    assert (at, where) == (line, "settings")
    assert said.startswith(words)


def test_a_misspelt_setting_is_told_with_the_nearest_there_is() -> None:
    ((_, _, said),) = faults_of("large_prnt: true\n")
    assert "large_print" in said


def test_faults_of_keys_have_the_line_of_their_command() -> None:
    text = "keymap:\n  bench.one: f5\n  bench.onee: f6\n  app.sheet: ctrl+m\n  bench.back: [u]\n  bench.one: f7\n"
    found = faults_of(text)
    assert [line for line, _, _ in found] == [3, 4, 5, 6]
    assert {where for _, where, _ in found} == {"keymap"}
    assert "bench.back takes keys" in found[2][2]
    assert "bench.one is written twice" in found[3][2]


def test_faults_of_settings_and_of_keys_are_told_at_once() -> None:
    assert [line for line, _, _ in faults_of("theme: pink\nkeymap:\n  bench.onee: f6\n")] == [1, 3]


@pytest.mark.parametrize("text", ["- theme\n", "theme\n", "theme: 'dark\n", "theme: &a dark\n", "a:\n\tb: c\n"])
def test_what_is_no_mapping_is_a_fault_with_a_line(text: str) -> None:
    found = faults_of(text)
    assert found
    assert all(line >= 1 and said for line, _, said in found)


@given(st.one_of(st.text(), st.text(alphabet="themlarg_pintkybo.:{}[]-' \n05#,")))
def test_any_text_at_all_is_read_or_refused(text: str) -> None:
    settings, faults = read_settings(text)
    assert (settings is None) == bool(faults)


@pytest.mark.parametrize(
    ("text", "is_large"), [("true", True), ("Yes", True), ("on", True), ("no", False), ("OFF", False)]
)
def test_yes_and_no_are_read_as_people_write_them(text: str, is_large: bool) -> None:
    assert read(f"large_print: {text}\n").large_print is is_large


# Starting


def test_the_way_to_the_bench_loads_no_pydantic() -> None:
    code = "import sys, tui.open_bench, tui.app, tui.screens.bench; print('pydantic' in sys.modules)"
    top = Path(__file__).parent.parent
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=top, check=True)
    assert ran.stdout.strip() == "False"


def test_nothing_is_thrown_away_while_loading_and_all_is_as_before_afterwards() -> None:
    assert gc.isenabled()
    with loading():
        assert not gc.isenabled()
    assert gc.isenabled()
    with pytest.raises(ImportError), loading():
        raise ImportError
    assert gc.isenabled()
    gc.unfreeze()


# The file


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "settings.yaml"
    monkeypatch.setenv("SEAMRUN_SETTINGS", str(path))
    return path


def test_the_environment_names_the_file(file: Path) -> None:
    assert settings_file() == file


def test_without_it_the_file_lies_in_the_users_configuration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("SEAMRUN_SETTINGS", raising=False)
    for name in ("HOME", "XDG_CONFIG_HOME", "APPDATA"):
        monkeypatch.setenv(name, str(tmp_path))
    assert settings_file().parts[-2:] == ("seamrun", "settings.yaml")


def test_a_file_that_is_not_there_leaves_all_as_it_comes_and_is_not_made(file: Path) -> None:
    assert load_settings() == (Settings(), str(file), ())
    assert not file.exists()


def test_a_file_is_read(file: Path) -> None:
    file.write_text("theme: light\n", encoding="utf-8")
    assert load_settings() == (Settings(theme="light"), str(file), ())


@pytest.mark.parametrize(("content", "words"), [(b"theme: d\xe4rk\n", "is no UTF-8 text"), (None, "cannot be read")])
def test_a_file_that_cannot_be_read_is_a_fault_of_its_first_line(file: Path, content: bytes | None, words: str) -> None:
    if content is None:
        file.mkdir()
    else:
        file.write_bytes(content)
    settings, name, (fault,) = load_settings()
    assert (settings, name, fault.line) == (None, str(file), 1)
    assert fault.words.startswith(words)
