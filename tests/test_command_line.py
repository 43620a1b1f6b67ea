"""The command line from outside: what it prints, where, and with which status."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).parent.parent
SAMPLES = sorted((TOP / "projects").glob("*.yaml"))


def seamrun(*arguments: str, cwd: Path = TOP, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "tui", *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(TOP), **environment},
        stdin=subprocess.DEVNULL,
        check=False,
    )


def test_there_are_samples() -> None:
    assert len(SAMPLES) >= 3


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda file: file.stem)
def test_a_sample_has_the_same_bytes_under_every_hash_seed_locale_and_folder(sample: Path, tmp_path: Path) -> None:
    (tmp_path / sample.name).write_bytes(sample.read_bytes())
    ways = (
        (str(sample), TOP, "0", "C.UTF-8"),
        (f"./{sample.name}", tmp_path, "2", "en_US.ISO-8859-1"),
        (sample.name, tmp_path, "1", "POSIX"),
    )
    for command in (("sheet",), ("sheet", "--json"), ("order",), ("press",), ("cloth",), ("cloth", "--json")):
        answers = {
            seamrun(*command, file, cwd=folder, PYTHONHASHSEED=seed, LC_ALL=locale).stdout
            for file, folder, seed, locale in (ways if command == ("sheet",) else ways[:2])
        }
        assert len(answers) == 1
        assert next(iter(answers))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda file: file.stem)
def test_the_sheet_is_plain_text_with_one_step_a_line(sample: Path) -> None:
    ran = seamrun("sheet", str(sample))
    assert (ran.returncode, ran.stderr) == (0, "")
    assert all(letter.isprintable() or letter == "\n" for letter in ran.stdout)
    numbers = [line.partition(".")[0] for line in ran.stdout.splitlines() if line[:1].isdigit()]
    assert numbers == [str(number) for number in range(1, len(numbers) + 1)]
    assert len(numbers) > 20


def test_check_summarises_and_says_what_is_unused(tmp_path: Path) -> None:
    text = SAMPLES[0].read_text(encoding="utf-8").replace("fabrics:\n", "fabrics:\n  kelp: {value: 7}\n")
    (tmp_path / "stars.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("check", "stars.yaml", cwd=tmp_path)
    assert ran.returncode == 0
    assert "12 blocks, 204 patches, 192 seams" in ran.stdout
    assert "48 of 48 joins nest" in ran.stdout
    assert "16 kinds of unit in 6 passes: 50 minutes of handling (proven the least)" in ran.stdout
    assert "Not used: fabric kelp" in ran.stdout


def test_the_plan_says_what_is_proven_in_the_numbers_of_check() -> None:
    proof = json.loads(seamrun("sheet", "--json", str(SAMPLES[0])).stdout)["proof"]
    assert proof == {
        "handling": {"passes": 6, "kinds": 16, "minutes": "50", "at_least": "50"},
        "clashes": {"count": 0, "at_least": 0},
        "versions": {"count": 0, "at_least": 0},
    }


def test_check_tells_sizes_off_the_ruler_and_the_nearest_that_are_not(tmp_path: Path) -> None:
    cells = ", ".join(["slate"] * 7)
    (tmp_path / "seven.yaml").write_text(
        "project: sevens\nfabrics: {slate: {value: 8}}\nblocks:\n  seven: {size: 12, rows: ["
        + ", ".join([f"[{cells}]"] * 7)
        + "]}\nmake: [{block: seven, count: 1}]\n",
        encoding="utf-8",
    )
    ran = seamrun("check", "seven.yaml", cwd=tmp_path)
    assert ran.returncode == 0
    assert "seven at 12 x 12 is cut 2 3/14 in; no such size at 11 3/8 x 11 3/8 or 12 1/4 x 12 1/4" in ran.stdout


def test_check_of_several_files_goes_on_and_ends_with_the_worst_status(tmp_path: Path) -> None:
    (tmp_path / "bad.yaml").write_text("project: [1]\n", encoding="utf-8")
    ran = seamrun("check", str(tmp_path / "bad.yaml"), str(SAMPLES[0]), str(tmp_path / "none.yaml"))
    assert ran.returncode == 2
    assert "Harbour stars" in ran.stdout
    assert f"{tmp_path / 'bad.yaml'}:1:" in ran.stderr
    assert f"{tmp_path / 'none.yaml'}:1:" in ran.stderr


@pytest.mark.parametrize("command", ["check", "sheet", "where", "order", "press"])
@pytest.mark.parametrize("name", ["none.yaml", ".", "bad.yaml", "latin.yaml"])
def test_input_at_fault_is_status_2_with_a_fault_line_and_nothing_on_stdout(
    command: str, name: str, tmp_path: Path
) -> None:
    (tmp_path / "bad.yaml").write_text("project: a\nfabrics: {}\n", encoding="utf-8")
    (tmp_path / "latin.yaml").write_bytes(b"project: caf\xe9\n")
    ran = seamrun(command, name, cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert all(line.startswith(f"{name}:") for line in ran.stderr.splitlines())
    assert ran.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["bad.yaml", "latin.yaml"]


def test_where_says_the_place_and_as_json() -> None:
    ran = seamrun("where", str(SAMPLES[0]), "--json")
    answer = json.loads(ran.stdout)
    assert answer["done"] == 0
    assert answer["total"] > 500
    assert answer["next"] == "Set up needle and bobbin"
    assert seamrun("where", str(SAMPLES[0])).stdout.startswith(f"0 of {answer['total']}. Next: Set up needle")


def test_where_and_sheet_leave_no_file_behind(tmp_path: Path) -> None:
    (tmp_path / "stars.yaml").write_bytes(SAMPLES[0].read_bytes())
    for command in (("where",), ("sheet",), ("sheet", "--as-sewn"), ("check",), ("order",), ("press",)):
        assert seamrun(*command, "stars.yaml", cwd=tmp_path).returncode == 0
    assert [path.name for path in tmp_path.iterdir()] == ["stars.yaml"]


def test_order_shows_what_another_pass_would_save_and_as_json(tmp_path: Path) -> None:
    text = "project: Strips\nfabrics: {navy: {value: 9}, shell: {value: 1}}\nblocks:\n  strip: {size: 6 x 1, rows: [["
    text += "shell, navy, navy, navy, shell, navy]]}\nmake: [{block: strip, count: 1}]\n"
    (tmp_path / "strip.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("order", "strip.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert all(len(line) <= 60 for line in ran.stdout.splitlines())
    answer = json.loads(seamrun("order", "strip.yaml", "--json", cwd=tmp_path).stdout)
    assert ran.stdout.count("proven") == len(answer["passes"]) > 0
    fewest = answer["passes"][0]["passes"]
    (tmp_path / "strip.yaml").write_text(f"{text}handling: {{passes: {fewest - 1}}}\n", encoding="utf-8")
    for command in ("order", "press", "check", "sheet"):
        ran = seamrun(command, "strip.yaml", cwd=tmp_path)
        assert (ran.returncode, ran.stdout) == (2, "")
        assert f"strip.yaml:6: handling, passes: at least {fewest} passes are needed" in ran.stderr


def test_press_explains_what_cannot_nest_and_as_json(tmp_path: Path) -> None:
    text = "project: Kept\nfabrics: {navy: {value: 9}, shell: {value: 1}}\nblocks:\n"
    text += "  four: {size: 6, rows: [[navy, shell], [shell, navy]]}\nmake: [{block: four, count: 1}]\n"
    text += "press:\n  keep:\n"
    text += '    - {block: four, at: "1, 3", toward: up}\n    - {block: four, at: "5, 3", toward: up}\n'
    (tmp_path / "four.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("press", "four.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert "In four at 3, 3 a join can't nest." in ran.stdout
    assert '    - {block: four, at: "1, 3", toward: open}' in ran.stdout.splitlines()
    answer = json.loads(seamrun("press", "four.yaml", "--json", cwd=tmp_path).stdout)
    assert (answer["joins"], answer["clashing"], len(answer["clashes"])) == (1, 1, 1)


def test_new_begins_a_project_that_checks_and_never_overwrites(tmp_path: Path) -> None:
    assert seamrun("new", "lap.yaml", cwd=tmp_path).returncode == 0
    before = (tmp_path / "lap.yaml").read_bytes()
    assert seamrun("check", "lap.yaml", cwd=tmp_path).returncode == 0
    again = seamrun("new", "lap.yaml", cwd=tmp_path)
    assert (again.returncode, again.stdout) == (1, "")
    assert "lap.yaml is there already" in again.stderr
    assert (tmp_path / "lap.yaml").read_bytes() == before
    assert seamrun("new", "no such folder/lap.yaml", cwd=tmp_path).returncode == 1


def test_schema_version_and_help_answer() -> None:
    assert json.loads(seamrun("schema").stdout)["$schema"].startswith("https://json-schema.org/")
    assert seamrun("--version").stdout.startswith("seamrun ")
    help_page = seamrun("--help").stdout
    for command in ("new", "check", "sheet", "where", "order", "press", "draw", "blocks", "schema"):
        assert f"seamrun {command}" in help_page
    assert seamrun("sheet", "--help").stdout == help_page


@pytest.mark.parametrize(
    "arguments",
    [("sheet",), ("sheet", "a", "b"), ("check",), ("sheet", "--wide", "a"), ("a", "b"), ("--fast",), ("schema", "x"),
     ("sheet", "--json", "--as-sewn", "a"), ("order",), ("press", "a", "b"), ("order", "--wide", "a")],
)  # fmt: skip
def test_a_command_line_that_cannot_be_understood_is_status_2_with_a_hint(arguments: tuple[str, ...]) -> None:
    ran = seamrun(*arguments)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("seamrun: ")
    assert "Traceback" not in ran.stderr


@pytest.mark.parametrize(("typed", "near"), [("chek", "check"), ("sheets", "sheet"), ("wher", "where")])
def test_a_misspelt_command_is_answered_with_the_nearest_there_is(typed: str, near: str) -> None:
    ran = seamrun(typed, str(SAMPLES[0]))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert f"there is no command {typed}; did you mean {near}?" in ran.stderr


def test_what_is_like_no_command_is_taken_for_a_second_project() -> None:
    ran = seamrun("tide", str(SAMPLES[0]))
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "one project at a time, not 2" in ran.stderr


def test_the_bench_without_a_terminal_is_status_1() -> None:
    ran = seamrun(str(SAMPLES[0]))
    assert ran.returncode == 1
    assert "needs a terminal" in ran.stderr


@pytest.mark.parametrize("arguments", [("sheet", "--json"), ("sheet",), ("check",)])
def test_a_closed_pipe_ends_quietly(arguments: tuple[str, ...]) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with subprocess.Popen(
        [sys.executable, "-m", "tui", *arguments, str(SAMPLES[0])],
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
        cwd=TOP,
    ) as process:
        os.close(writing)
        _, said = process.communicate(timeout=30)
    assert (process.returncode, said) == (0, "")


# Streams that fail, names that are none

STREAMS = pytest.mark.skipif(not os.path.exists("/dev/full"), reason="the system has no disk that is always full")
ANSWERS = [("sheet", str(SAMPLES[0])), ("sheet", "--json", str(SAMPLES[0])), ("check", str(SAMPLES[0])),
           ("where", str(SAMPLES[0])), ("schema",), ("--help",), ("--version",), ("new", "lap.yaml")]  # fmt: skip


def in_shell(where: str, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run in a shell that leads or closes streams: `>/dev/full`, `2>&-`."""
    return subprocess.run(
        ["/bin/sh", "-c", f'exec "$@" {where}', "sh", sys.executable, "-m", "tui", *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(TOP)},
        check=False,
    )


@STREAMS
@pytest.mark.parametrize("arguments", ANSWERS, ids=lambda arguments: " ".join(arguments[:2])[:14])
def test_an_answer_that_cannot_be_written_is_told_in_one_line(arguments: tuple[str, ...], tmp_path: Path) -> None:
    ran = in_shell(">/dev/full", tmp_path, *arguments)
    assert (ran.returncode, ran.stderr) == (1, "seamrun: could not write: no space left on device\n")


@STREAMS
@pytest.mark.parametrize("where", [">&-", "<&-", "2>&-", "2>/dev/full", ">&- 2>&- <&-"])
def test_a_stream_that_is_closed_or_full_changes_no_status_and_moves_no_words(where: str, tmp_path: Path) -> None:
    good = in_shell(where, tmp_path, "check", str(SAMPLES[0]))
    assert (good.returncode, good.stderr) == (0, "")
    assert good.stdout.startswith("Harbour stars") is (">&- " not in f"{where} " or where.startswith("2"))
    for arguments in (("check", "none.yaml"), ("where", "none.yaml"), ("sheet",), ("chek", "a")):
        bad = in_shell(where, tmp_path, *arguments)
        assert (bad.returncode, bad.stdout) == (2, "")
        assert bool(bad.stderr) is ("2>" not in where)
        assert "Traceback" not in bad.stderr
    assert in_shell(where, tmp_path, str(SAMPLES[0])).returncode == 1
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["check", "sheet", "where", "new"])
def test_what_a_terminal_would_obey_in_a_name_is_shown_as_a_question_mark(command: str, tmp_path: Path) -> None:
    ran = seamrun(command, "a\x1b[31mb\n\u202e.yaml", cwd=tmp_path)
    assert ("\x1b" in ran.stderr + ran.stdout, "\u202e" in ran.stderr + ran.stdout) == (False, False)
    assert (ran.stderr + ran.stdout).startswith("a?[31mb??.yaml")
    for arguments in (("--\x1b[31m", "a"), ("che\x1bck", "a"), ("chec\x1bk", "b", "c")):
        assert "\x1b" not in seamrun(*arguments).stderr


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no pipes with names")
@pytest.mark.parametrize("command", ["check", "sheet", "where"])
def test_a_pipe_is_no_project_file_and_is_not_waited_for(command: str, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.yaml")
    ran = seamrun(command, "pipe.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "pipe.yaml:1: this is no regular file; name the project file\n"


@pytest.mark.parametrize("arguments", [("where",), ("where", "--json"), ("sheet", "--as-sewn")])
def test_how_far_it_is_cannot_be_told_from_damaged_progress(arguments: tuple[str, ...], tmp_path: Path) -> None:
    (tmp_path / "stars.yaml").write_bytes(SAMPLES[0].read_bytes())
    (tmp_path / "stars.yaml.progress").write_bytes(b"not ours" * 1000)
    ran = seamrun(*arguments, "stars.yaml", cwd=tmp_path)
    assert (ran.returncode, ran.stdout) == (1, "")
    assert ran.stderr.startswith("seamrun: stars.yaml.progress is damaged")


@pytest.mark.skipif(os.name != "posix", reason="interrupts are sent otherwise")
@pytest.mark.parametrize("loaded", ["signal", "tui.standard_streams", "tui.answers", "yaml", "planner.plan"])
def test_an_interrupt_while_modules_load_ends_without_a_word(loaded: str) -> None:
    code = f"""
import builtins, os, signal, sys
real = builtins.__import__
def load(name, *more):
    if name == {loaded!r}:
        os.kill(os.getpid(), signal.SIGINT)
    return real(name, *more)
builtins.__import__ = load
sys.argv[1:] = ["check", {str(SAMPLES[0])!r}]
from tui.__main__ import main
main()
"""
    ran = subprocess.run([sys.executable, "-c", code], cwd=TOP, capture_output=True, text=True, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (130, "", "")
