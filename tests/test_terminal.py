"""The whole program from outside, in a terminal: what stands on the screen, what is left behind, with which status."""

from __future__ import annotations

import os
import random
import re
import signal
import sys
from pathlib import Path

import pytest
from benches import done_until, number_of, sheet_of
from planned import SAMPLES
from terminal import SIZES, Terminal

from tui.progress import open_progress

FILE = "tidewater-sampler.yaml"
SHEET = sheet_of("tidewater-sampler")
TOTAL = sum(step.count for step in SHEET.steps)
SEWING = number_of(SHEET, "sew", least=4)
MANY = SHEET.steps[SEWING].count
ENDS = ((signal.SIGTERM, 143), (signal.SIGHUP, 129), (signal.SIGINT, 130), (signal.SIGQUIT, 131))
PALETTE, PAGE_UP, ENTER = b"\x10", b"\x1b[5~", b"\r"
COLOUR = re.compile(rb"\x1b\[(?:[0-9;]*;)?(?:3[0-8]|4[0-8]|9[0-7]|10[0-7])(?:;[0-9;]*)?m")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the sampler in it."""
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "sewing home" / "state"))
    (tmp_path / "sewing home").mkdir()
    (tmp_path / "sewing").mkdir()
    (tmp_path / "sewing" / FILE).write_bytes(SAMPLES["tidewater-sampler"].read_bytes())
    return tmp_path / "sewing"


def stop_at(folder: Path, number: int, done: int = 0) -> None:
    """The evening before: the work stopped at a step, after so many of it."""
    with open_progress(folder / FILE) as progress:
        progress.append(*done_until(SHEET, number, done))


def write_settings(folder: Path, text: str) -> Path:
    file = folder.parent / "sewing home" / "settings.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def write_large_project(folder: Path) -> str:
    """A project whose planning takes long: three blocks of 1,024 patches at random."""
    chance = random.Random(1)
    fabrics = ("navy", "shell", "coral", "reed", "slate", "sand")
    text = "project: Spring tide\nfabrics:\n" + "".join(f"  {name}: {{value: medium}}\n" for name in fabrics)
    text += "blocks:\n"
    for name in ("ebb", "flow", "slack water"):
        text += f"  {name}:\n    size: 64\n    rows:\n"
        text += "".join(f"      - [{', '.join(chance.choices(fabrics, k=32))}]\n" for _ in range(32))
    text += "make: [{block: ebb, count: 2}, {block: flow, count: 2}, {block: slack water, count: 2}]\n"
    (folder / "tide.yaml").write_text(text, encoding="utf-8")
    return "tide.yaml"


# Counting and coming back


@pytest.mark.parametrize("size", SIZES)
def test_the_first_screen_says_what_to_do_and_keys_count(folder: Path, size: tuple[int, int]) -> None:
    with Terminal(folder, FILE, size=size) as terminal:
        terminal.wait_for("SET UP needle and bobbin", f"{TOTAL} in all", "space one", "enter all", "u take back")
        terminal.press("space")
        terminal.wait_for("SET UP stitch, and allowance 1/4", f"{TOTAL - 1} in all")
        terminal.press("enter")
        terminal.wait_for("TEST the seam", f"{TOTAL - 2} in all")
        terminal.press("u")
        terminal.wait_for("SET UP stitch, and allowance 1/4", f"{TOTAL - 1} in all", "Taken back")
        assert all(len(line) <= size[0] for line in terminal.lines)


def test_a_kill_in_the_middle_loses_nothing_and_the_last_key_can_still_be_taken_back(folder: Path) -> None:
    stop_at(folder, SEWING, done=1)
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("You stopped in pass 1", f"after 1 of {MANY}", "enter go on")
        terminal.press("enter")
        terminal.wait_for("SEW", f"1 of {MANY}", f"to go: {MANY - 1} pairs")
        terminal.press("space")
        terminal.wait_for(f"2 of {MANY}", f"to go: {MANY - 2} pairs")
        terminal.kill()
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("You stopped in pass 1", f"after 2 of {MANY}", "In the chain at the machine")
        terminal.press("space")
        terminal.wait_for("SEW", f"2 of {MANY}")
        terminal.press("u")
        terminal.wait_for(f"1 of {MANY}", "Taken back: 1 counted at sew")
    with Terminal(folder, "where", FILE) as terminal:
        assert terminal.wait_end() == 0
        assert f"Next in pass 1 of 4: Sew J on M (1 of {MANY})." in terminal.words()


def test_a_held_key_counts_once_and_the_same_key_after_a_pause_counts_again(folder: Path) -> None:
    write_settings(folder, "held_key: 700\n")  # a busy machine must not make a pause of its own
    stop_at(folder, SEWING)
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("You stopped", "enter go on")
        terminal.press("enter")
        terminal.wait_for(f"0 of {MANY}", "space one")
        terminal.press("space", "space")
        terminal.wait_for(f"1 of {MANY}", "Held key: counted once")
        terminal.press_again("space", pause=0.7)
        terminal.wait_for(f"2 of {MANY}")
        assert "Held key" not in terminal.text()


def test_a_second_bench_looks_on_and_follows_the_first(folder: Path) -> None:
    with Terminal(folder, FILE) as first:
        first.wait_for("SET UP needle and bobbin")
        with Terminal(folder, FILE, size=(60, 20)) as second:
            second.wait_for("LOOKING ON: another bench has this project", "SET UP needle", f"{TOTAL} in all")
            second.press("space")
            second.wait_for("Another bench has this project: this one only looks on", f"{TOTAL} in all")
            first.press("space")
            first.wait_for("SET UP stitch", f"{TOTAL - 1} in all")
            second.wait_for("LOOKING ON", "SET UP stitch", f"{TOTAL - 1} in all")
            second.press("q")
            second.wait_for("Looking on. Leave?", "enter leave")
            second.press("enter")
            assert second.wait_end() == 0
        first.press("enter")
        first.wait_for("TEST the seam")


# Leaving


def test_leaving_says_goodbye_and_leaves_the_terminal_as_it_was(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        assert terminal.is_in_alternate_screen
        assert not terminal.is_as_before
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
        terminal.press("q")
        terminal.wait_for("Saved. Leave?", "Is the iron off?", "enter leave")
        terminal.press("enter")
        assert terminal.wait_end() == 0
        assert terminal.is_as_before
        goodbye = f"1 of {TOTAL} done, all saved. Is the iron off? Go on with: python -m tui {FILE}"
        assert "".join(terminal.lines) == goodbye


@pytest.mark.parametrize("is_on_path", [True, False])
def test_the_goodbye_names_the_command_as_it_was_called(folder: Path, is_on_path: bool) -> None:
    programs = folder.parent / "bin"
    programs.mkdir()
    script = programs / "seamrun"
    script.write_text(f"#!{sys.executable}\nfrom tui.__main__ import main\n\nmain()\n", encoding="utf-8")
    script.chmod(0o755)
    way = {"PATH": f"{programs}{os.pathsep}{os.environ['PATH']}"} if is_on_path else {}
    with Terminal(folder, FILE, size=(250, 24), command=(str(script),), environment=way) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("q")
        terminal.wait_for("Leave?")
        terminal.press("enter")
        assert terminal.wait_end() == 0
        assert terminal.words().endswith(f"Go on with: {'seamrun' if is_on_path else script} {FILE}")


def test_leaving_can_be_thought_over(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("ctrl+q")
        terminal.wait_for("Leave?", "esc back")
        terminal.press("escape")
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")


@pytest.mark.parametrize(("number", "status"), ENDS)
def test_an_end_from_outside_leaves_the_terminal_as_it_was_without_a_word(
    folder: Path, number: signal.Signals, status: int
) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
        terminal.send(number)
        assert terminal.wait_end() == status
        assert terminal.is_as_before
        assert terminal.words() == ""
    with Terminal(folder, "where", FILE) as terminal:
        assert terminal.wait_end() == 0
        assert terminal.words().startswith(f"1 of {TOTAL}. Next: Set up stitch")


def test_a_closed_window_ends_with_the_status_of_a_hangup(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.close_window()
        assert terminal.wait_end() == 129


def test_a_closed_window_ends_the_bench_and_loses_nothing(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
        terminal.close_window()
        assert terminal.wait_end() > 0
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("You stopped", "SET UP stitch")


def test_ctrl_c_counts_nothing_and_ends_nothing(folder: Path) -> None:
    """A habit of the fingers, or copying: neither may cost the maker the bench or a count."""
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space", "ctrl+c", "ctrl+c", "enter")
        terminal.wait_for("TEST the seam", f"{TOTAL - 2} in all")
        terminal.press("s")
        terminal.wait_for("The whole sheet", f"2 of {TOTAL} counted")
        terminal.press("ctrl+c", "escape")
        terminal.wait_for("TEST the seam")
        terminal.press("u")
        terminal.wait_for("SET UP stitch", f"{TOTAL - 1} in all")


@pytest.mark.parametrize(
    "stray", [b"\xff", b"\xc3", b"\xe2\x82", b"\xf0\x9f\xa7\xc0\xaf"], ids=lambda stray: stray.hex()
)
def test_a_byte_that_is_no_character_is_nothing(folder: Path, stray: bytes) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.send_bytes(stray + b" ")
        terminal.wait_for("SET UP stitch", f"{TOTAL - 1} in all")
        terminal.press("u")
        terminal.wait_for("SET UP needle", f"{TOTAL} in all")


def test_a_bench_that_dies_of_a_bug_ends_with_status_1_and_the_terminal_as_it_was(folder: Path) -> None:
    code = "import tui.held_keys as keys; keys.HeldKeys.is_held = None; from tui.__main__ import main; main()"
    with Terminal(folder, FILE, command=(sys.executable, "-c", code)) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        assert terminal.wait_end() == 1
        assert terminal.is_as_before
    code = """
import tui.terminal_driver as driver
driver._decode_what_can_be = None
from tui.__main__ import main
main()
"""
    with Terminal(folder, FILE, command=(sys.executable, "-c", code)) as terminal:  # in the thread that reads keys
        assert terminal.wait_end() == 1
        assert "all saved" not in terminal.text()


def test_progress_lost_while_open_is_kept_anew_and_told(folder: Path) -> None:
    kept = folder / f"{FILE}.progress"
    with Terminal(folder, FILE, size=(120, 40)) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
        kept.unlink()
        terminal.press("enter")
        terminal.wait_for("TEST the seam", f"{FILE}.progress was removed. All that is counted is kept anew.")
        kept.write_bytes(b"not ours" * 1000)
        terminal.press("q")
        terminal.wait_for("Saved. Leave?", f"It is set aside as {FILE}.progress.set-aside-1.")
        kept.unlink()
        terminal.press("enter")
        assert terminal.wait_end() == 0
        assert f"{FILE}.progress was removed. All that is counted is kept anew." in terminal.words()
        assert f"2 of {TOTAL} done, all saved." in terminal.words()
    with Terminal(folder, "where", FILE) as terminal:
        assert terminal.wait_end() == 0
        assert terminal.words().startswith(f"2 of {TOTAL}.")


def test_leaving_says_that_it_is_not_saved_where_it_cannot_be(folder: Path) -> None:
    kept = folder / f"{FILE}.progress"
    with Terminal(folder, FILE, size=(120, 40)) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
        kept.unlink()
        kept.mkdir()
        terminal.press("q")
        terminal.wait_for("Not saved. Leave?", f"Not saved. {FILE}.progress is no plain file.")
        terminal.press("enter")
        assert terminal.wait_end() == 1
        assert f"Not saved. {FILE}.progress is no plain file." in terminal.words()
        assert f"1 of {TOTAL} done, not saved." in terminal.words()


def test_an_onlooker_takes_over_when_the_first_bench_was_killed(folder: Path) -> None:
    with Terminal(folder, FILE) as first:
        first.wait_for("SET UP needle and bobbin")
        with Terminal(folder, FILE) as second:
            second.wait_for("LOOKING ON")
            first.press("space")
            first.wait_for("SET UP stitch")
            first.kill()
            second.press("space")
            second.wait_for("The other bench has left: this one counts from here on.", "SET UP stitch")
            second.wait_gone("LOOKING ON")
            second.press_again("space")
            second.wait_for("TEST the seam", f"{TOTAL - 2} in all")


def test_a_renamed_project_is_told_of_the_progress_that_is_without_one(folder: Path) -> None:
    stop_at(folder, SEWING)
    (folder / FILE).rename(folder / "shore.yaml")
    with Terminal(folder, "shore.yaml") as terminal:
        terminal.wait_for("SET UP needle", f"{FILE}.progress is here without a project. Was this one renamed?")
        terminal.wait_for("rename it to shore.yaml.progress")
        terminal.press("q")
        terminal.wait_for("Leave?")
        terminal.press("enter")
        assert terminal.wait_end() == 0
    (folder / f"{FILE}.progress").replace(folder / "shore.yaml.progress")
    with Terminal(folder, "shore.yaml") as terminal:
        terminal.wait_for("You stopped in pass 1")
        assert "without a project" not in terminal.text()


def test_keys_too_many_while_the_palette_comes_and_goes_do_nothing(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        terminal.send_bytes(PALETTE + PAGE_UP)  # before its list is laid out
        terminal.wait_for("Search for commands", "Ahead Look at the next step")
        terminal.send_bytes(ENTER + ENTER)
        terminal.wait_for("LOOKING AHEAD: step 2 of", f"{TOTAL} in all")
        terminal.press("escape")
        terminal.wait_for("SET UP needle and bobbin", f"{TOTAL} in all")
        terminal.press("space")
        terminal.wait_for("SET UP stitch", f"{TOTAL - 1} in all")


# Sizes, colours, settings


def test_a_window_of_another_size_in_the_middle_shows_the_same_step(folder: Path) -> None:
    stop_at(folder, SEWING, done=2)
    tally = f"2 of {MANY}"
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("You stopped", "enter go on")
        terminal.press("enter")
        terminal.wait_for("SEW", tally, "b block")
        terminal.resize(60, 20)
        terminal.wait_for("SEW", tally, "q leave")
        terminal.wait_gone("b block")
        terminal.resize(20, 5)
        terminal.wait_for("SEW", tally)
        terminal.press("space")
        terminal.resize(120, 40)
        terminal.wait_for("SEW", f"3 of {MANY}", "b block", "▶ sew")  # the list of the pass stands beside the card


def test_a_wide_window_made_narrow_shows_the_same_step(folder: Path) -> None:
    stop_at(folder, SEWING, done=2)
    with Terminal(folder, FILE, size=(120, 40)) as terminal:
        terminal.wait_for("You stopped", "enter go on")
        terminal.press("enter")
        terminal.wait_for("SEW", "▶ sew")
        terminal.resize(48, 18)
        terminal.wait_until(lambda: "SEW" in terminal.text() or not terminal.is_in_alternate_screen, "the card")
        assert terminal.is_in_alternate_screen


def test_no_color_writes_no_colour_at_all(folder: Path) -> None:
    stop_at(folder, SEWING)
    with Terminal(folder, FILE, environment={"NO_COLOR": "1"}) as terminal:
        terminal.wait_for("You stopped", "enter go on")
        terminal.press("enter")
        terminal.wait_for("SEW", "space one")
        assert COLOUR.findall(terminal.output) == []


def test_no_color_holds_from_the_first_question_to_the_bench(folder: Path) -> None:
    with Terminal(folder, environment={"NO_COLOR": "1"}) as terminal:
        terminal.wait_for("What do you want to sew?", "enter open")
        terminal.press("enter")
        terminal.wait_for("SET UP needle", "space one")
        assert COLOUR.findall(terminal.output) == []


def test_without_colour_all_words_and_letters_are_there(folder: Path) -> None:
    stop_at(folder, SEWING)
    screens = []
    for environment in ({}, {"NO_COLOR": "1"}, {"NO_COLOR": ""}):
        with Terminal(folder, FILE, environment=environment) as terminal:
            terminal.wait_for("You stopped", "enter go on")
            terminal.press("enter")
            terminal.wait_for("SEW", "space one", "q leave")
            screens.append(terminal.text())
    assert screens[0] == screens[1] == screens[2]
    assert "s s│" in screens[0]  # cloth told by its fabric's letter


def test_settings_give_the_light_theme_and_keys_of_ones_own(folder: Path) -> None:
    write_settings(folder, "theme: light\nkeymap: {bench.one: f5, app.keys: 'k,question_mark'}\n")
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin", "f5 one", "k keys")
        background = terminal.cell(40, 15).bg
        assert min(int(background[at : at + 2], 16) for at in (0, 2, 4)) > 0xC0
        terminal.press("space", "f5")
        terminal.wait_for("SET UP stitch", f"{TOTAL - 1} in all")
        terminal.press("k")
        terminal.wait_for("At the bench", "f5 Count one")


def test_dark_is_dark(folder: Path) -> None:
    with Terminal(folder, FILE) as terminal:
        terminal.wait_for("SET UP needle and bobbin")
        background = terminal.cell(40, 15).bg
        assert max(int(background[at : at + 2], 16) for at in (0, 2, 4)) < 0x40


def test_wrong_settings_are_told_with_file_and_line_before_any_screen(folder: Path) -> None:
    file = write_settings(folder, "theme: light\nkeymap:\n  bench.one: ctrl+i\n  bench.onee: f5\n")
    with Terminal(folder, FILE, size=(200, 24)) as terminal:
        assert terminal.wait_end() == 2
        said = terminal.output.decode().splitlines()
        assert said[0].startswith(f"{file}:3: keymap: ")
        assert said[1].startswith(f"{file}:4: keymap: ")
        assert len(said) == 2
        assert "\x1b" not in terminal.output.decode()
    assert sorted(path.name for path in folder.iterdir()) == [FILE]


# Trouble with files


def test_damaged_progress_is_set_aside_and_told(folder: Path) -> None:
    (folder / f"{FILE}.progress").write_bytes(b"no progress at all " * 100)
    with Terminal(folder, FILE, size=(60, 20)) as terminal:
        terminal.wait_for("SET UP needle and bobbin", f"{FILE}.progress was damaged")
        terminal.wait_for(f"set aside as {FILE}.progress.set-aside-1, and progress begins anew")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
    assert (folder / f"{FILE}.progress.set-aside-1").read_bytes() == b"no progress at all " * 100


def test_a_project_at_fault_is_told_without_any_screen(folder: Path) -> None:
    text = (folder / FILE).read_text(encoding="utf-8").replace("- [navy, shell]", "- [navy, shel]")
    (folder / FILE).write_text(text, encoding="utf-8")
    with Terminal(folder, FILE) as terminal:
        assert terminal.wait_end() == 2
        assert terminal.lines[0].startswith(f"{FILE}:14: part little four, row 1, cell 2: ")
        assert "named 'shel'; did you mean 'shell'?" in terminal.words()
        assert b"\x1b" not in terminal.output
    assert sorted(path.name for path in folder.iterdir()) == [FILE]


def test_a_folder_that_cannot_be_written_keeps_progress_elsewhere_and_says_so(folder: Path) -> None:
    folder.chmod(0o555)
    probe = (sys.executable, "-c", "import os; print('open' if os.access('.', os.W_OK) else 'shut')")
    with Terminal(folder, command=probe, is_powerless=True) as terminal:
        terminal.wait_end()
        if "shut" not in terminal.text():
            pytest.skip("here every folder can be written")
    for verb in ("SET UP needle", "SET UP stitch"):
        with Terminal(folder, FILE, is_powerless=True) as terminal:
            terminal.wait_for(verb)
            if verb == "SET UP needle":
                terminal.wait_for("The project's folder can't be written", "Progress is kept in")
                terminal.press("space")
                terminal.wait_for("SET UP stitch")
    folder.chmod(0o755)
    assert [path.name for path in folder.iterdir()] == [FILE]


# Before the bench


def test_without_a_file_samples_are_offered_and_one_is_copied(folder: Path) -> None:
    empty = folder.parent / "empty"
    empty.mkdir()
    with Terminal(empty, size=(60, 20)) as terminal:
        terminal.wait_for("What do you want to sew?", "Samples", "Tidewater sampler", "Harbour stars", "enter open")
        terminal.press(*["down"] * list(SAMPLES).index("tidewater-sampler"), "enter")
        terminal.wait_for("SET UP needle", "Tidewater sampler", f"{FILE} is a copy of the sample, in this folder")
        terminal.press("space")
        terminal.wait_for("SET UP stitch")
    assert (empty / FILE).read_bytes() == SAMPLES["tidewater-sampler"].read_bytes()
    with Terminal(empty) as terminal:
        terminal.wait_for("In this folder", "Samples", "enter open")
        terminal.press("enter")
        terminal.wait_for("You stopped", "SET UP stitch")


def test_the_offer_can_be_left(folder: Path) -> None:
    with Terminal(folder) as terminal:
        terminal.wait_for("What do you want to sew?", f"Tidewater sampler {FILE}", "esc leave")
        terminal.press("escape")
        assert terminal.wait_end() == 0
        assert terminal.is_as_before
    assert [path.name for path in folder.iterdir()] == [FILE]


@pytest.mark.parametrize("key", ["escape", "ctrl+c"])
def test_planning_that_takes_long_says_so_and_can_be_stopped(folder: Path, key: str) -> None:
    with Terminal(folder, write_large_project(folder)) as terminal:
        terminal.wait_for("Spring tide", "Planning:", "esc stop. Nothing is lost")
        terminal.press(key)
        assert terminal.wait_end() == 1
        assert terminal.is_as_before
        assert terminal.words() == "seamrun: planning was stopped; what is sewn stays saved"


@pytest.mark.parametrize(("number", "status"), ENDS)
def test_an_end_from_outside_while_planning_leaves_the_terminal_as_it_was(
    folder: Path, number: signal.Signals, status: int
) -> None:
    with Terminal(folder, write_large_project(folder)) as terminal:
        terminal.wait_for("Planning:")
        terminal.send(number)
        assert terminal.wait_end() == status
        assert terminal.is_as_before


@pytest.mark.parametrize(("number", "status"), ENDS)
def test_an_end_from_outside_while_choosing_leaves_the_terminal_as_it_was(
    folder: Path, number: signal.Signals, status: int
) -> None:
    with Terminal(folder) as terminal:
        terminal.wait_for("What do you want to sew?")
        terminal.send(number)
        assert terminal.wait_end() == status
        assert terminal.is_as_before
