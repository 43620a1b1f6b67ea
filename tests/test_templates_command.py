"""The command `cloth --pdf` from outside: what it writes, what it never writes over, what it says."""

from __future__ import annotations

from pathlib import Path

import pytest
from pdf_pages import read_pages
from test_command_line import SAMPLES, seamrun

from tui.__main__ import UsageFault, run

STARS = next(path for path in SAMPLES if path.stem == "harbour-stars")
LOGS = next(path for path in SAMPLES if path.stem == "lantern-logs")  # centimetres, rectangles only


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for sample in (STARS, LOGS):
        (tmp_path / sample.name).write_bytes(sample.read_bytes())
    return tmp_path


def test_templates_are_written_and_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cloth", "harbour-stars.yaml", "--pdf", "stars.pdf"]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert out.splitlines() == [
        "stars.pdf is drawn: 2 templates on 1 page, Letter",
        "Print at 100 %, not fitted to the page; measure both squares of a page before you cut by it.",
    ]
    assert len(read_pages((folder / "stars.pdf").read_bytes())) == 1


def test_the_measure_of_the_project_chooses_the_paper(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for project, paper, wide in (
        ("harbour-stars.yaml", (), 8.5),
        ("harbour-stars.yaml", ("--paper", "a4"), 21 / 2.54),
        ("lantern-logs.yaml", (), 21 / 2.54),
        ("lantern-logs.yaml", ("--paper=letter",), 8.5),
    ):
        assert run(["cloth", project, "--pdf", "out.pdf", "--all", "--overwrite", *paper]) == 0
        assert read_pages((folder / "out.pdf").read_bytes())[0].width == pytest.approx(wide, abs=1e-6)
    assert capsys.readouterr().err == ""


def test_the_file_has_the_same_bytes_under_every_hash_seed_and_locale(folder: Path) -> None:
    written = set()
    for seed, locale in (("0", "C.UTF-8"), ("1", "POSIX"), ("2", "en_US.ISO-8859-1")):
        options = ("--pdf", f"{seed}.pdf", "--all")
        ran = seamrun("cloth", "harbour-stars.yaml", *options, cwd=folder, PYTHONHASHSEED=seed, LC_ALL=locale)
        assert (ran.returncode, ran.stderr) == (0, "")
        written.add((folder / f"{seed}.pdf").read_bytes())
    assert len(written) == 1
    assert next(iter(written)).startswith(b"%PDF-1.7\n")


def test_a_file_that_is_there_is_left_as_it_is_unless_asked(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "stars.pdf").write_text("mine", encoding="utf-8")
    assert run(["cloth", "harbour-stars.yaml", "--pdf", "stars.pdf"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert "stars.pdf is there already and is left as it is" in err
    assert (folder / "stars.pdf").read_text(encoding="utf-8") == "mine"
    assert run(["cloth", "harbour-stars.yaml", "--pdf", "stars.pdf", "--overwrite"]) == 0
    assert (folder / "stars.pdf").read_bytes().startswith(b"%PDF-")
    assert not list(folder.glob("*.new"))


def test_where_all_is_cut_by_the_ruler_nothing_is_written(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cloth", "lantern-logs.yaml", "--pdf", "logs.pdf"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err == "seamrun: all of lantern-logs.yaml is cut by the ruler; --all draws squares and rectangles\n"
    assert not (folder / "logs.pdf").exists()


def test_a_template_of_too_many_pages_is_told_and_left_out(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = "project: Tidewater\nfabrics:\n  navy: {value: dark}\n  shell: {value: light}\n"
    text += "blocks:\n  sail: {size: 900, rows: [[navy / shell]]}\nmake:\n  - {block: sail, count: 1}\n"
    (folder / "sail.yaml").write_text(text, encoding="utf-8")
    assert run(["cloth", "sail.yaml", "--pdf", "sail.pdf"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err.startswith("seamrun: template 1 is left out: triangle, half of a 900 7/8 square would take more than 40")
    assert not (folder / "sail.pdf").exists()


def test_what_cannot_be_written_is_status_1_with_the_reason(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cloth", "harbour-stars.yaml", "--pdf", "no such folder/stars.pdf"]) == 1
    assert capsys.readouterr().err.startswith("seamrun: no such folder/stars.pdf cannot be written: ")


def test_a_fault_of_the_project_comes_as_ever(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "bad.yaml").write_text("project: [1]\n", encoding="utf-8")
    assert run(["cloth", "bad.yaml", "--pdf", "bad.pdf"]) == 2
    assert capsys.readouterr().err.startswith("bad.yaml:1:")
    assert not (folder / "bad.pdf").exists()


@pytest.mark.parametrize(
    "arguments",
    [
        ("--pdf",),
        ("--pdf", "stars.png"),
        ("--pdf", "stars.pdf", "--paper", "a5"),
        ("--pdf", "stars.pdf", "--paper"),
        ("--pdf", "stars.pdf", "--wide"),
        ("--pdf", "stars.pdf", "lantern-logs.yaml"),
    ],
    ids=" ".join,
)
def test_options_that_do_not_go_together_are_a_usage_fault(arguments: tuple[str, ...], folder: Path) -> None:
    with pytest.raises(UsageFault):
        run(["cloth", "harbour-stars.yaml", *arguments])
    assert not list(folder.glob("*.pdf"))
