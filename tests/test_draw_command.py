"""The command `draw` from outside: pictures on paper and in the terminal, and what it never writes over."""

from __future__ import annotations

import os
import pty
from pathlib import Path
from xml.etree import ElementTree

import pytest
from quilts import LAP
from test_command_line import SAMPLES, seamrun


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "lap.yaml").write_text(LAP, encoding="utf-8")
    (tmp_path / "loose.yaml").write_bytes(SAMPLES[0].read_bytes())
    return tmp_path


WAYS = [("--quilt",), ("--press",), ("--block", "pinwheel"), ("--press", "--block", "nine patch")]
of_every_way = pytest.mark.parametrize("way", WAYS, ids=" ".join)


@of_every_way
def test_without_a_file_the_picture_is_plain_text_of_80_columns(way: tuple[str, ...], folder: Path) -> None:
    ran = seamrun("draw", "lap.yaml", *way, cwd=folder, COLORTERM="truecolor")
    assert (ran.returncode, ran.stderr) == (0, "")
    lines = ran.stdout.splitlines()
    assert all(len(line) <= 80 and line == line.rstrip() and "\x1b" not in line for line in lines)
    assert lines[0].startswith("Tidewater lap quilt: ")
    assert ("press map" in lines[0]) == ("--press" in way)
    assert lines[-1].startswith("n navy, s shell")
    assert [path.name for path in sorted(folder.iterdir())] == ["lap.yaml", "loose.yaml"]


@of_every_way
def test_a_file_has_the_same_bytes_under_every_hash_seed_and_locale(way: tuple[str, ...], folder: Path) -> None:
    written = set()
    for seed, locale in (("0", "C.UTF-8"), ("1", "POSIX"), ("2", "en_US.ISO-8859-1")):
        ran = seamrun("draw", "lap.yaml", *way, "-o", f"{seed}.svg", cwd=folder, PYTHONHASHSEED=seed, LC_ALL=locale)
        assert (ran.returncode, ran.stderr) == (0, "")
        assert ran.stdout == f"{seed}.svg is drawn\n"
        written.add((folder / f"{seed}.svg").read_bytes())
    assert len(written) == 1
    assert ElementTree.fromstring(next(iter(written)).decode()).tag == "{http://www.w3.org/2000/svg}svg"


def test_a_file_that_is_there_is_left_as_it_is_unless_asked(folder: Path) -> None:
    (folder / "lap.svg").write_text("mine", encoding="utf-8")
    ran = seamrun("draw", "lap.yaml", "--quilt", "-o", "lap.svg", cwd=folder)
    assert (ran.returncode, ran.stdout) == (1, "")
    assert "lap.svg is there already and is left as it is" in ran.stderr
    assert "--overwrite" in ran.stderr
    assert (folder / "lap.svg").read_text(encoding="utf-8") == "mine"
    ran = seamrun("draw", "lap.yaml", "--quilt", "-o", "lap.svg", "--overwrite", cwd=folder)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert (folder / "lap.svg").read_text(encoding="utf-8").startswith("<svg ")
    assert sorted(path.name for path in folder.iterdir()) == ["lap.svg", "lap.yaml", "loose.yaml"]


def test_a_link_that_leads_nowhere_counts_as_there(folder: Path) -> None:
    (folder / "lap.svg").symlink_to(folder / "elsewhere.svg")
    assert seamrun("draw", "lap.yaml", "--quilt", "-o", "lap.svg", cwd=folder).returncode == 1
    assert not (folder / "elsewhere.svg").exists()


@pytest.mark.parametrize("overwrite", [(), ("--overwrite",)])
def test_what_cannot_be_written_is_status_1_with_the_reason(overwrite: tuple[str, ...], folder: Path) -> None:
    for name in ("no such folder/lap.svg", *(["folder.svg"] if overwrite else [])):
        if name == "folder.svg":
            (folder / name).mkdir()
        ran = seamrun("draw", "lap.yaml", "--quilt", "-o", name, *overwrite, cwd=folder)
        assert (ran.returncode, ran.stdout) == (1, "")
        assert ran.stderr.startswith(f"seamrun: {name} cannot be written: ")
    assert not list(folder.glob("*.new"))


@pytest.mark.parametrize("way", [("--quilt",), ("--press",)], ids=" ".join)
def test_a_project_without_a_quilt_has_no_picture_of_one(way: tuple[str, ...], folder: Path) -> None:
    ran = seamrun("draw", "loose.yaml", *way, "-o", "loose.svg", cwd=folder)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "seamrun: loose.yaml has no quilt, only loose blocks: draw one of them with --block\n"
    assert not (folder / "loose.svg").exists()


def test_an_unknown_block_is_answered_with_the_nearest(folder: Path) -> None:
    ran = seamrun("draw", "lap.yaml", "--block", "pinwhel", cwd=folder)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == "seamrun: lap.yaml has no block pinwhel; did you mean 'pinwheel'?\n"


def test_a_block_that_is_not_made_is_told_so(folder: Path) -> None:
    text = LAP.replace("blocks:\n", "blocks:\n  kelp: {size: 6, rows: [[navy]]}\n", 1)
    (folder / "lap.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("draw", "lap.yaml", "--block", "kelp", cwd=folder)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "block kelp is not made in lap.yaml" in ran.stderr


def test_a_block_in_other_fabrics_is_asked_for_by_its_title(folder: Path) -> None:
    text = LAP.replace(
        "count: 2}", "count: 1, swap: {navy: coral}}\n  - {block: pinwheel, count: 1, swap: {shell: coral}}"
    )
    text = text[: text.index("quilt:")]
    (folder / "lap.yaml").write_text(text, encoding="utf-8")
    ran = seamrun("draw", "lap.yaml", "--block", "pinwheel", cwd=folder)
    assert ran.returncode == 2
    assert '"pinwheel (coral for navy)" or "pinwheel (coral for shell)"' in ran.stderr
    ran = seamrun("draw", "lap.yaml", "--block", "pinwheel (coral for shell)", cwd=folder)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.endswith("n navy, c coral\n")


def test_a_fault_of_the_project_comes_as_ever(folder: Path) -> None:
    (folder / "bad.yaml").write_text("project: [1]\n", encoding="utf-8")
    ran = seamrun("draw", "bad.yaml", "--quilt", "-o", "bad.svg", cwd=folder)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("bad.yaml:1:")
    assert not (folder / "bad.svg").exists()


@pytest.mark.parametrize(
    "arguments",
    [
        (),
        ("--quilt", "--press"),
        ("--quilt", "--block", "pinwheel"),
        ("--block",),
        ("--block", "--quilt"),
        ("--block", "pinwheel", "--block", "flag"),
        ("--quilt", "-o"),
        ("--quilt", "-o", "lap.png"),
        ("--quilt", "--overwrite"),
        ("--quilt", "--wide"),
        ("--quilt", "loose.yaml"),
    ],
    ids=" ".join,
)
def test_options_that_do_not_go_together_are_a_usage_fault(arguments: tuple[str, ...], folder: Path) -> None:
    ran = seamrun("draw", "lap.yaml", *arguments, cwd=folder)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("seamrun: ")
    assert "seamrun --help" in ran.stderr
    assert sorted(path.name for path in folder.iterdir()) == ["lap.yaml", "loose.yaml"]


def test_the_value_of_an_option_can_stand_behind_a_sign(folder: Path) -> None:
    first = seamrun("draw", "--block=pinwheel", "lap.yaml", cwd=folder)
    assert first.returncode == 0
    assert first.stdout == seamrun("draw", "lap.yaml", "--block", "pinwheel", cwd=folder).stdout


@pytest.mark.parametrize(("colour", "is_wanted"), [({}, True), ({"NO_COLOR": "1"}, False), ({"COLORTERM": ""}, False)])
def test_a_terminal_with_all_colours_shows_the_fabrics_in_theirs(
    colour: dict[str, str], is_wanted: bool, folder: Path
) -> None:
    text = run_on_terminal(folder, {"COLORTERM": "truecolor", "TERM": "xterm", **colour})
    assert ("\x1b[38;2;" in text) == is_wanted
    assert "n navy" in text


def run_on_terminal(folder: Path, environment: dict[str, str]) -> str:
    """What `draw` prints where its output is a terminal."""
    import subprocess
    import sys

    top = Path(__file__).parent.parent
    near, far = pty.openpty()
    inherited = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "COLUMNS")}
    with subprocess.Popen(
        [sys.executable, "-m", "tui", "draw", "lap.yaml", "--quilt"],
        stdout=far,
        stdin=subprocess.DEVNULL,
        cwd=folder,
        env={**inherited, "PYTHONPATH": str(top), **environment},
    ) as process:
        os.close(far)
        read = b""
        while True:
            try:
                more = os.read(near, 65536)
            except OSError:  # the far end is closed
                break
            if not more:
                break
            read += more
        process.wait(timeout=30)
    os.close(near)
    assert process.returncode == 0
    return read.decode()
