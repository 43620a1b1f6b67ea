"""Progress on disk: kept, found again, set aside, and what is said about it."""

from __future__ import annotations

import os
import sqlite3
import stat
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.event import Event
from tui import progress_file
from tui.progress import Progress, ProgressTrouble, open_progress, read_events
from tui.progress_place import find_places

HOUSE = Path(__file__).parent.parent
NOBODY = 65534


def done(number: int) -> Event:
    return Event("done", "3f2a", 1, f'{{"pile": "C", "number": {number}}}', 1_700_000_000_000 + number)


FEW = tuple(done(number) for number in range(3))


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    (tmp_path / "sewing").mkdir()
    return tmp_path / "sewing"


@pytest.fixture
def project(folder: Path) -> Path:
    path = folder / "lap.yaml"
    path.write_text("project: Tidewater lap quilt\n", encoding="utf-8")
    return path


@pytest.fixture
def kept(project: Path) -> Path:
    """A progress file with FEW in it."""
    keep(project, *FEW)
    return beside(project)


def beside(project: Path) -> Path:
    return project.with_name(f"{project.name}.progress")


def keep(project: Path, *events: Event) -> None:
    with open_progress(project) as progress:
        progress.append(*events)


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def change(file: Path, *lines: str) -> None:
    connection = sqlite3.connect(file)
    connection.executescript(";".join(lines))
    connection.close()


# Kept and found again


def test_events_come_back_in_order_and_unchanged(project: Path) -> None:
    with open_progress(project) as progress:
        assert (progress.events, progress.said, progress.can_write) == ((), (), True)
        for event in FEW:
            progress.append(event)
        assert progress.events == FEW
    with open_progress(project) as progress:
        assert progress.events == FEW
        progress.append(done(3))
    assert read_events(project) == ((*FEW, done(3)), ())


ANY_TEXT = st.text(st.characters(exclude_categories=()))
ANY_WHOLE = st.integers(-(2**63), 2**63 - 1)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.builds(Event, ANY_TEXT, ANY_TEXT, ANY_WHOLE, ANY_TEXT, ANY_WHOLE), max_size=6))
def test_any_event_comes_back_unchanged(events: list[Event]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ["SEAMRUN_STATE"] = folder
        try:
            project = Path(folder) / "lap.yaml"
            keep(project, *events)
            assert read_events(project) == (tuple(events), ())
        finally:
            del os.environ["SEAMRUN_STATE"]


@pytest.mark.parametrize("text", ["\ud800", "\udcff\x00", "\ufeffn", "\x00", "\U0010ffff", "'); DROP TABLE events; --"])
def test_odd_text_comes_back_unchanged(project: Path, text: str) -> None:
    keep(project, Event(text, text, 1, text, 0))
    assert read_events(project)[0] == (Event(text, text, 1, text, 0),)


@pytest.mark.parametrize(
    "event",
    [
        Event("done", "", 1.5, "", 0),  # type: ignore[arg-type]
        Event("done", "", True, "", 0),
        Event("done", "", 2**63, "", 0),
        Event("done", "", 1, "", -(2**63) - 1),
        Event("done", None, 1, "", 0),  # type: ignore[arg-type]
        Event("done", "", 1, b"", 0),  # type: ignore[arg-type]
    ],
)
def test_what_is_no_event_is_refused_and_none_beside_it_kept(project: Path, event: Event) -> None:
    with open_progress(project) as progress:
        with pytest.raises(ValueError, match="is no event"):
            progress.append(done(0), event)
        assert progress.events == ()
        progress.append(done(1))
    assert read_events(project)[0] == (done(1),)


def test_an_append_is_on_the_disk_when_it_returns(project: Path) -> None:
    with open_progress(project) as progress:
        connection = connection_of(progress)
        assert connection.execute("PRAGMA synchronous").fetchone() == (3,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        progress.append(done(0))
        assert not connection.in_transaction
        assert read_events(project)[0] == (done(0),)
        assert names_in(project.parent) == ["lap.yaml", "lap.yaml.progress", "lap.yaml.progress.lock"]


def test_reading_makes_no_file(project: Path) -> None:
    assert read_events(project) == ((), ())
    assert names_in(project.parent) == ["lap.yaml"]
    assert names_in(project.parent.parent) == ["sewing"]


def test_reading_leaves_the_bytes_as_they_are(project: Path, kept: Path) -> None:
    before = kept.read_bytes()
    assert read_events(project) == (FEW, ())
    assert kept.read_bytes() == before


def test_an_empty_file_is_a_new_one(project: Path) -> None:
    beside(project).touch()
    assert read_events(project) == ((), ())
    with open_progress(project) as progress:
        assert (progress.events, progress.said) == ((), ())
        progress.append(done(0))
    assert read_events(project)[0] == (done(0),)


def test_two_names_of_one_project_share_one_progress(project: Path, kept: Path) -> None:
    other = project.parent.parent / "tonight.yaml"
    other.symlink_to(project)
    assert read_events(other) == (FEW, ())
    keep(other, done(3))
    assert read_events(project)[0] == (*FEW, done(3))
    assert not beside(other).exists()


ANY_BYTES = pytest.mark.skipif(sys.platform != "linux", reason="the system takes names of characters only")


@pytest.mark.parametrize(
    "name",
    ["a?b#c%41.yaml", "sewing night.yaml", pytest.param(b"\xff\xfe.yaml", marks=ANY_BYTES), "x\ny.yaml"],
)
def test_any_file_name_will_do(folder: Path, name: str | bytes) -> None:
    project = folder / os.fsdecode(name)
    keep(project, *FEW)
    assert beside(project).exists()
    assert read_events(project) == (FEW, ())


@ANY_BYTES
def test_what_is_said_can_be_shown_on_any_screen(folder: Path) -> None:
    project = folder / os.fsdecode(b"\xffl\x1bap.yaml")
    beside(project).write_bytes(b"not ours")
    with open_progress(project) as progress:
        (words,) = progress.said
    assert words.isprintable()
    assert words.encode("utf-8")
    assert "l?ap.yaml.progress.set-aside-1" in words


def test_fifty_thousand_events_open_at_once(project: Path) -> None:
    keep(project, *map(done, range(50_000)))
    start = time.perf_counter()
    with open_progress(project) as progress:
        took = time.perf_counter() - start
        assert len(progress.events) == 50_000
    assert took < 1.5  # 0.1 on an idle machine


def test_no_screen_is_loaded_to_read_progress(project: Path, kept: Path) -> None:
    code = (
        "import sys; from tui.progress import read_events; print(len(read_events(sys.argv[1])[0])); "
        "print({'textual', 'rich', 'pydantic', 'platformdirs'} & set(sys.modules))"
    )
    ran = subprocess.run([sys.executable, "-c", code, str(project)], cwd=HOUSE, capture_output=True, text=True)
    assert ran.stdout.split("\n")[:2] == ["3", "set()"], ran.stderr


# Another bench


def test_a_second_bench_looks_on(project: Path) -> None:
    code = """
import sys
from tui.progress import ProgressTrouble, open_progress
with open_progress(sys.argv[1]) as progress:
    print(progress.can_write, len(progress.events), *progress.said)
    try:
        progress.append(progress.events[0])
    except ProgressTrouble as trouble:
        print(trouble.words)
"""
    with open_progress(project) as progress:
        progress.append(*FEW)
        ran = subprocess.run([sys.executable, "-c", code, str(project)], cwd=HOUSE, capture_output=True, text=True)
        assert ran.stdout.split("\n") == [
            "False 3 Another bench has this project open. This one looks on and saves nothing.",
            "Not saved. Another bench has this project open, this one looks on.",
            "",
        ], ran.stderr
        progress.append(done(3))
    assert read_events(project)[0] == (*FEW, done(3))


def test_looking_on_shows_what_the_other_adds(project: Path) -> None:
    with open_progress(project) as progress:
        with open_progress(project) as onlooker:
            assert not onlooker.can_write
            assert onlooker.reread() == ()
            progress.append(done(0), done(1))
            assert onlooker.reread() == (done(0), done(1))
            assert onlooker.reread() == ()
            progress.append(done(2))
            assert onlooker.reread() == (done(2),)
            assert onlooker.events == FEW
        assert progress.reread() == ()


def test_looking_on_before_there_is_anything_to_see(project: Path) -> None:
    from tui.bench_lock import take_lock

    lock = take_lock(f"{beside(project)}.lock")  # as a bench that has not come further yet
    with open_progress(project) as onlooker:
        assert (onlooker.events, onlooker.reread(), onlooker.can_write) == ((), (), False)
        lock.release()
        keep(project, *FEW)
        assert onlooker.reread() == FEW
        keep(project, done(3))
        assert onlooker.reread() == (done(3),)


def test_looking_on_tells_when_the_file_is_no_longer_the_same(project: Path, kept: Path) -> None:
    with open_progress(project), open_progress(project) as onlooker:
        change(kept, "UPDATE events SET step = 'other' WHERE number = 3")
        with pytest.raises(ProgressTrouble, match="was changed by another program"):
            onlooker.reread()
        kept.rename(kept.with_name("elsewhere"))
        with pytest.raises(ProgressTrouble, match="was removed or replaced"):
            onlooker.reread()


def test_the_lock_is_free_again_after_leaving(project: Path) -> None:
    for _ in range(2):
        with open_progress(project) as progress:
            assert progress.can_write


def test_trouble_at_opening_lets_go_of_the_lock(project: Path, kept: Path) -> None:
    change(kept, "PRAGMA user_version = 9")
    with pytest.raises(ProgressTrouble):
        open_progress(project)
    change(kept, "PRAGMA user_version = 1")
    with open_progress(project) as progress:
        assert progress.can_write


def test_where_no_lock_can_be_held_it_is_said_and_nothing_is_overwritten(
    project: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fcntl = pytest.importorskip("fcntl")

    def refuse(handle: int, how: int) -> None:
        raise OSError(37, "No locks available")

    monkeypatch.setattr(fcntl, "flock", refuse)
    with open_progress(project) as first, open_progress(project) as second:
        assert first.said == ("No lock can be held in this folder. Open the project at one bench only.",)
        assert first.can_write
        assert second.can_write
        first.append(done(0))
        with pytest.raises(ProgressTrouble, match=r"^Not saved\. .* was changed by another program"):
            second.append(done(1))
    assert read_events(project)[0] == (done(0),)


# Damaged


def tear(file: Path) -> None:
    file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])


def overwrite(start: int, by: bytes) -> Callable[[Path], None]:
    def mangle(file: Path) -> None:
        whole = bytearray(file.read_bytes())
        whole[start : start + len(by)] = by
        file.write_bytes(whole)

    return mangle


def by_hand(*lines: str) -> Callable[[Path], None]:
    return lambda file: change(file, *lines)


DAMAGES = {
    "torn in the middle": tear,
    "torn inside a page": lambda file: file.write_bytes(file.read_bytes()[:-1000]),
    "all zeros": lambda file: file.write_bytes(bytes(file.stat().st_size)),
    "a text": lambda file: file.write_bytes(b"done: 12\n"),
    "head overwritten": overwrite(0, b"sewn"),
    "table page overwritten": overwrite(4096, b"\xff" * 64),
    "table page zeroed": overwrite(4096, bytes(4096)),
    "count no whole number": by_hand("UPDATE events SET count = 1.5 WHERE number = 2"),
    "count a word": by_hand("UPDATE events SET count = 'two' WHERE number = 2"),
    "body no text": by_hand("UPDATE events SET body = x'00ff' WHERE number = 2"),
    "text no characters": by_hand("UPDATE events SET step = CAST(x'ff' AS TEXT) WHERE number = 2"),
    "an event missing": by_hand("DELETE FROM events WHERE number = 2"),
    "the first missing": by_hand("DELETE FROM events WHERE number = 1"),
    "no table": by_hand("DROP TABLE events"),
    "another table": by_hand("DROP TABLE events", "CREATE TABLE events (number INTEGER PRIMARY KEY, kind TEXT)"),
    "no version": by_hand("PRAGMA user_version = 0"),
}


@pytest.mark.parametrize("damage", DAMAGES)
def test_a_damaged_file_is_set_aside_and_a_new_one_begun(project: Path, kept: Path, damage: str) -> None:
    DAMAGES[damage](kept)
    bytes_before = kept.read_bytes()
    with pytest.raises(ProgressTrouble, match=r"^lap\.yaml\.progress is damaged and does not count\."):
        read_events(project)
    with open_progress(project) as progress:
        assert progress.said == (
            "lap.yaml.progress was damaged. It is set aside as lap.yaml.progress.set-aside-1, "
            "and progress begins anew.",
        )
        assert progress.events == ()
        progress.append(done(7))
    assert kept.with_name("lap.yaml.progress.set-aside-1").read_bytes() == bytes_before
    assert read_events(project) == ((done(7),), ())


def test_setting_aside_overwrites_nothing(project: Path, kept: Path) -> None:
    first, second, third = (kept.with_name(f"lap.yaml.progress.set-aside-{number}") for number in (1, 2, 3))
    first.write_bytes(b"older")
    second.with_name(f"{second.name}-journal").write_bytes(b"older too")
    kept.write_bytes(b"not ours")
    with open_progress(project) as progress:
        assert third.name in progress.said[0]
    assert first.read_bytes() == b"older"
    assert not second.exists()
    assert second.with_name(f"{second.name}-journal").read_bytes() == b"older too"
    assert third.read_bytes() == b"not ours"


def test_a_journal_is_set_aside_with_its_file(project: Path, kept: Path) -> None:
    kept.write_bytes(b"not ours")
    journal = kept.with_name(f"{kept.name}-journal")
    journal.write_bytes(bytes(600))  # what is not to be played back is left alone
    open_progress(project).close()
    assert not journal.exists()
    assert kept.with_name("lap.yaml.progress.set-aside-1-journal").read_bytes() == bytes(600)


# Not damaged, and still no progress


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("PRAGMA application_id = 7", "belongs to another program"),
        ("PRAGMA application_id = 0", "belongs to another program"),
        ("PRAGMA user_version = 2", "was written by a later release"),
    ],
)
def test_a_file_that_is_not_ours_is_left_untouched(project: Path, kept: Path, line: str, words: str) -> None:
    change(kept, line)
    before, names = kept.read_bytes(), names_in(project.parent)
    for look in (open_progress, read_events):
        with pytest.raises(ProgressTrouble, match=words):
            look(project)
    assert kept.read_bytes() == before
    assert names_in(project.parent) == names


def test_a_folder_in_its_place_is_told_and_left(project: Path) -> None:
    beside(project).mkdir()
    for look in (open_progress, read_events):
        with pytest.raises(ProgressTrouble, match=r"lap\.yaml\.progress is no plain file"):
            look(project)
    assert beside(project).is_dir()


def test_a_project_inside_a_file_is_told(project: Path) -> None:
    with pytest.raises(ProgressTrouble, match="Not a directory"):
        open_progress(project / "inner.yaml")
    assert read_events(project / "inner.yaml") == ((), ())


def test_a_missing_folder_is_told_and_not_made(folder: Path) -> None:
    with pytest.raises(ProgressTrouble, match="No such file"):
        open_progress(folder / "gone" / "lap.yaml")
    assert names_in(folder) == []


def test_a_busy_file_is_told_and_never_renamed(project: Path, kept: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(progress_file, "PATIENCE", 0.05)
    other = sqlite3.connect(kept, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    names = names_in(project.parent)
    for look in (open_progress, read_events):
        with pytest.raises(ProgressTrouble, match=r"lap\.yaml\.progress is busy"):
            look(project)
    other.execute("ROLLBACK")
    assert names_in(project.parent) == names
    with open_progress(project) as progress:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(ProgressTrouble, match=r"^Not saved\. lap\.yaml\.progress is busy"):
            progress.append(done(3))
        other.execute("ROLLBACK")
        monkeypatch.setattr(progress_file, "PAUSE", 0)
        wait_until_kept(progress, done(4))
    other.close()
    assert read_events(project)[0] == (*FEW, done(4))


def wait_until_kept(progress: Progress, event: Event) -> None:
    """Try again, as a maker does who was told to wait a moment."""
    end = time.monotonic() + 20
    while True:
        try:
            progress.append(event)
            return
        except ProgressTrouble:
            assert time.monotonic() < end
            time.sleep(0.02)


def test_while_another_program_holds_the_file_keys_are_refused_at_once(
    project: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(progress_file, "PAUSE", 600)
    other = sqlite3.connect(kept, isolation_level=None)
    with open_progress(project) as progress:
        assert connection_of(progress).execute("PRAGMA busy_timeout").fetchone()[0] <= 100  # milliseconds
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(ProgressTrouble, match=r"^Not saved\. lap\.yaml\.progress is busy"):
            progress.append(done(3))
        asked: list[str] = []
        connection_of(progress).set_trace_callback(asked.append)
        for _ in range(3):
            with pytest.raises(ProgressTrouble, match=r"^Not saved\. lap\.yaml\.progress is busy"):
                progress.append(done(3))
        assert asked == []
        assert progress.make_sure() == ()
    other.close()


def connection_of(progress: Progress) -> sqlite3.Connection:
    assert progress._file is not None
    return progress._file._connection


def test_a_full_disk_is_told_and_the_next_append_goes_well(project: Path) -> None:
    big = Event("note", "", 1, "x" * 50_000, 0)
    with open_progress(project) as progress:
        progress.append(*FEW)
        pages = connection_of(progress).execute("PRAGMA page_count").fetchone()[0]
        connection_of(progress).execute(f"PRAGMA max_page_count = {pages}").fetchall()
        with pytest.raises(ProgressTrouble) as caught:
            progress.append(big)
        assert caught.value.words == "Not saved. The disk is full. Make room, then try again."
        assert progress.events == FEW == read_events(project)[0]
        progress.append(done(3))  # fits what room there is
        connection_of(progress).execute("PRAGMA max_page_count = 100000").fetchall()
        progress.append(big)
        assert progress.events == (*FEW, done(3), big)
    assert read_events(project) == ((*FEW, done(3), big), ())


@pytest.mark.skipif(os.name != "posix", reason="limits of a process are the system's own")
def test_a_write_that_the_system_refuses_leaves_the_file_whole(project: Path, kept: Path) -> None:
    code = """
import resource, sys
from planner.event import Event
from tui.progress import ProgressTrouble, open_progress
big = Event("note", "", 1, "x" * 200_000, 0)
with open_progress(sys.argv[1]) as progress:
    resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, resource.RLIM_INFINITY))
    try:
        progress.append(big)
    except ProgressTrouble as trouble:
        print(trouble.words)
    print(len(progress.events))
    resource.setrlimit(resource.RLIMIT_FSIZE, (resource.RLIM_INFINITY, resource.RLIM_INFINITY))
    progress.append(big, big)
"""
    ran = subprocess.run([sys.executable, "-c", code, str(project)], cwd=HOUSE, capture_output=True, text=True)
    assert ran.stdout.split("\n") == [
        "Not saved. The disk could not read or write lap.yaml.progress. Check the disk, then try again.",
        "3",
        "",
    ], ran.stderr
    events, said = read_events(project)
    assert (events[:3], len(events), said) == (FEW, 5, ())


class FailsAfterCommit:
    """A connection to a disk that breaks down between the commit and its answer, once."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self.connection = connection
        self.has_failed = False

    def __getattr__(self, name: str) -> object:
        return getattr(self.connection, name)

    def execute(self, line: str, values: tuple[int, ...] = ()) -> sqlite3.Cursor:
        cursor = self.connection.execute(line, values)
        if line == "COMMIT" and not self.has_failed:
            self.has_failed = True
            error = sqlite3.OperationalError("disk I/O error")
            error.sqlite_errorcode = sqlite3.SQLITE_IOERR
            raise error
        return cursor


@pytest.mark.parametrize("next_one", [done(3), done(4)], ids=["the same once more", "another"])
def test_what_was_told_not_saved_is_not_there_beside_the_next(project: Path, kept: Path, next_one: Event) -> None:
    with open_progress(project) as progress:
        assert progress._file is not None
        progress._file._connection = FailsAfterCommit(connection_of(progress))  # type: ignore[assignment]
        with pytest.raises(ProgressTrouble, match=r"^Not saved\. The disk could not"):
            progress.append(done(3))
        assert progress.events == FEW
        progress.append(next_one)
        assert progress.events == (*FEW, next_one)
    assert read_events(project)[0] == (*FEW, next_one)


ANEW = "All that is counted is kept anew."
ASIDE = "lap.yaml.progress.set-aside-1"


def lose(file: Path) -> None:
    file.unlink()


def empty(file: Path) -> None:
    os.truncate(file, 0)


LOSSES = {
    "removed": (lose, "lap.yaml.progress was removed."),
    "emptied": (empty, "lap.yaml.progress had lost a part."),
    "torn": (tear, f"lap.yaml.progress was damaged. It is set aside as {ASIDE}."),
    "overwritten": (lambda file: file.write_bytes(b"not ours" * 1000), f"lap.yaml.progress was damaged. It is set "
                    f"aside as {ASIDE}."),
    "one row deleted": (by_hand("DELETE FROM events WHERE number = 2"), f"lap.yaml.progress was damaged. It is set "
                        f"aside as {ASIDE}."),
    "last row deleted": (by_hand("DELETE FROM events WHERE number = 3"), "lap.yaml.progress had lost a part."),
    "one row changed": (by_hand("UPDATE events SET count = 7 WHERE number = 2"), "lap.yaml.progress was changed by "
                        f"another program. It is set aside as {ASIDE}."),
}  # fmt: skip
losing = pytest.mark.parametrize(("harm", "words"), LOSSES.values(), ids=list(LOSSES))


@losing
def test_what_is_lost_under_an_open_bench_is_kept_anew_with_the_next_key(
    project: Path, kept: Path, harm: Callable[[Path], None], words: str
) -> None:
    with open_progress(project) as progress:
        harm(kept)
        harmed = kept.read_bytes() if kept.exists() else b""
        assert progress.append(done(3)) == (f"{words} {ANEW}",)
        assert progress.append(done(4)) == ()
        assert progress.events == (*FEW, done(3), done(4))
    assert read_events(project) == ((*FEW, done(3), done(4)), ())
    if ASIDE in words:
        assert kept.with_name(ASIDE).read_bytes() == harmed
    else:
        assert not kept.with_name(ASIDE).exists()


@losing
def test_what_is_lost_under_an_open_bench_is_kept_anew_when_it_makes_sure(
    project: Path, kept: Path, harm: Callable[[Path], None], words: str
) -> None:
    with open_progress(project) as progress:
        assert progress.make_sure() == ()
        harm(kept)
        assert progress.make_sure() == (f"{words} {ANEW}",)
        assert progress.make_sure() == ()
        progress.append(done(3))
    assert read_events(project) == ((*FEW, done(3)), ())


def test_a_copy_in_its_place_is_gone_on_with_without_a_word(project: Path, kept: Path) -> None:
    with open_progress(project) as progress:
        copy = kept.with_name("copy")
        copy.write_bytes(kept.read_bytes())
        copy.replace(kept)
        assert progress.append(done(3)) == ()
    assert read_events(project) == ((*FEW, done(3)), ())


def test_what_goes_on_from_this_bench_elsewhere_is_told_and_not_written(project: Path, kept: Path) -> None:
    with open_progress(project) as progress:
        change(kept, "INSERT INTO events VALUES (4, 'done', '', 1, '', 0)")
        before = kept.read_bytes()
        for look in (lambda: progress.append(done(3)), progress.make_sure):
            with pytest.raises(ProgressTrouble, match=r"^Not saved\. .* was changed by another program"):
                look()
        assert kept.read_bytes() == before


def test_nothing_is_set_aside_where_another_bench_may_have_written_it(project: Path, kept: Path) -> None:
    with open_progress(project) as progress:
        kept.unlink()
        kept.with_name(f"{kept.name}.lock").unlink()
        with open_progress(project) as other:
            other.append(done(7))
            with pytest.raises(ProgressTrouble, match=r"^Not saved\. .* was changed by another program"):
                progress.append(done(3))
        assert read_events(project) == ((done(7),), ())


@pytest.mark.parametrize("is_folder", [True, False])
def test_what_cannot_be_kept_anew_is_told_until_it_can(project: Path, kept: Path, is_folder: bool) -> None:
    away = project.parent.with_name("elsewhere")
    with open_progress(project) as progress:
        if is_folder:
            project.parent.rename(away)
        else:
            kept.unlink()
            kept.mkdir()
        for look in (lambda: progress.append(done(3)), progress.make_sure, lambda: progress.append(done(3))):
            with pytest.raises(ProgressTrouble, match=r"^Not saved\. .*lap\.yaml\.progress is "):
                look()
        assert progress.events == FEW
        if is_folder:
            away.rename(project.parent)
        else:
            kept.rmdir()
        progress.append(done(3))
    assert read_events(project) == ((*FEW, done(3)), ())


# A folder that can't be written

REFUSED = pytest.mark.skipif(os.name != "posix", reason="permission bits are those of POSIX")
AS_SEWER = """
import os, shutil, sys, tempfile, urllib.parse
from planner.event import Event
from tui.progress import ProgressTrouble, open_progress, read_events
if os.geteuid() == 0:
    os.setgroups([])
    os.setgid({nobody})
    os.setuid({nobody})
project = sys.argv[1]
def told(look):
    try:
        look(project)
    except ProgressTrouble as trouble:
        return trouble.words
{code}
"""


class Room:
    """A folder that another process, without the rights of root, may read but not write."""

    def __init__(self, root: Path) -> None:
        self.folder = root / "shelf"
        self.state = root / "state"
        self.project = self.folder / "lap.yaml"
        self.folder.mkdir()
        self.state.mkdir()
        self.state.chmod(0o777)
        self.project.write_text("project: Tidewater lap quilt\n", encoding="utf-8")
        self.away = Path(find_places(self.project)[1].path)

    def ask(self, code: str) -> list[str]:
        """Run the code as somebody who can't write into the folder; the lines that it prints."""
        modes = {path: stat.S_IMODE(path.stat().st_mode) for path in (*self.folder.iterdir(), self.folder)}
        for path, mode in modes.items():
            path.chmod(mode & 0o555)
        script = AS_SEWER.format(nobody=NOBODY, code=code)
        ran = subprocess.run(
            [sys.executable, "-c", script, str(self.project)], cwd=HOUSE, capture_output=True, text=True
        )
        for path, mode in modes.items():
            path.chmod(mode)
        assert not ran.stderr, ran.stderr
        return ran.stdout.splitlines()

    @property
    def words(self) -> dict[str, str]:
        return {
            "away": f"The project's folder can't be written. Progress is kept in {self.away}.",
            "both": f"lap.yaml.progress can't be written. It counts, and what is sewn now is kept in {self.away}.",
            "there": f"Progress is kept in {self.away}.",
        }


@pytest.fixture
def room(monkeypatch: pytest.MonkeyPatch) -> Iterator[Room]:
    with tempfile.TemporaryDirectory() as root:  # tmp_path is closed to all but its owner
        os.chmod(root, 0o755)
        monkeypatch.setenv("SEAMRUN_STATE", f"{root}/state")
        yield Room(Path(root).resolve())


SHOW = """
with open_progress(project) as progress:
    print(progress.can_write, [event.count for event in progress.events])
    print(*progress.said)
"""
ADD = """
with open_progress(project) as progress:
    progress.append(Event("done", "", {count}, "", 0))
"""
READ = "events, said = read_events(project); print([event.count for event in events]); print(*said)"


def counted(number: int) -> Event:
    return Event("done", "", number, "", 0)


@REFUSED
def test_where_the_folder_is_closed_progress_is_kept_in_the_state_folder(room: Room) -> None:
    assert room.ask(READ) == ["[]", ""]
    assert room.ask(SHOW) == ["True []", room.words["away"]]
    room.ask(ADD.format(count=1))
    room.ask(ADD.format(count=2))
    assert room.ask(SHOW) == ["True [1, 2]", room.words["away"]]
    assert room.ask(READ) == ["[1, 2]", room.words["there"]]
    assert names_in(room.folder) == ["lap.yaml"]


@REFUSED
@pytest.mark.parametrize("has_lock", [True, False])
def test_what_lies_beside_a_closed_project_counts(room: Room, has_lock: bool) -> None:
    keep(room.project, counted(1), counted(2))
    if not has_lock:
        (room.folder / "lap.yaml.progress.lock").unlink()
    before = beside(room.project).read_bytes()
    assert room.ask(READ) == ["[1, 2]", ""]
    assert room.ask(SHOW) == ["True [1, 2]", room.words["both"]]
    room.ask(ADD.format(count=3))
    assert room.ask(SHOW) == ["True [1, 2, 3]", room.words["both"]]
    assert room.ask(READ) == ["[1, 2, 3]", room.words["there"]]
    assert beside(room.project).read_bytes() == before


@REFUSED
def test_a_file_that_alone_is_closed_counts_too(room: Room) -> None:
    keep(room.project, counted(1))
    room.folder.chmod(0o777)
    code = SHOW + ADD.format(count=2) + READ
    beside(room.project).chmod(0o444)
    script = AS_SEWER.format(nobody=NOBODY, code=code)
    ran = subprocess.run([sys.executable, "-c", script, str(room.project)], cwd=HOUSE, capture_output=True, text=True)
    assert ran.stdout.splitlines() == ["True [1]", room.words["both"], "[1, 2]", room.words["there"]], ran.stderr


@REFUSED
def test_an_open_folder_gets_back_what_was_kept_away(room: Room) -> None:
    keep(room.project, counted(1))
    room.ask(ADD.format(count=2))
    assert read_events(room.project) == ((counted(1), counted(2)), (room.words["there"],))
    with open_progress(room.project) as progress:
        assert progress.events == (counted(1), counted(2))
        assert progress.said == (f"What was kept in {room.away} is beside the project again.",)
        progress.append(counted(3))
    assert not room.away.exists()
    with open_progress(room.project) as progress:
        assert progress.said == ()
        assert progress.path == str(beside(room.project))
    assert room.ask(SHOW) == ["True [1, 2, 3]", room.words["both"]]


@REFUSED
def test_a_closed_project_that_went_on_elsewhere_is_caught_up_with(room: Room) -> None:
    keep(room.project, counted(1))
    room.ask(ADD.format(count=2))
    room.away.rename(room.state / "hidden")
    keep(room.project, counted(2), counted(3))  # as from another machine
    (room.state / "hidden").rename(room.away)
    assert room.ask(READ) == ["[1, 2, 3]", ""]
    assert room.ask(SHOW) == ["True [1, 2, 3]", room.words["both"]]
    assert not room.away.with_name(f"{room.away.name}.set-aside-1").exists()


@REFUSED
@pytest.mark.parametrize("is_closed", [True, False])
def test_where_both_went_on_the_one_beside_the_project_counts(room: Room, is_closed: bool) -> None:
    keep(room.project, counted(1))
    room.ask(ADD.format(count=2) + ADD.format(count=4))
    room.away.rename(room.state / "hidden")
    keep(room.project, counted(3))
    (room.state / "hidden").rename(room.away)
    parted = f"{room.away} went on by itself"
    aside = room.away.with_name(f"{room.away.name}.set-aside-1")
    told = f"{parted}. It does not count and is set aside as {aside}."
    assert room.ask(READ) == ["[1, 3]", f"{parted} and does not count."]
    if is_closed:
        assert room.ask(SHOW) == ["True [1, 3]", f"{told} {room.words['both']}"]
    else:
        with open_progress(room.project) as progress:
            assert (progress.events, progress.said) == ((counted(1), counted(3)), (told,))
    with sqlite3.connect(aside) as connection:
        assert connection.execute("SELECT count FROM events").fetchall() == [(1,), (2,), (4,)]
    connection.close()


@REFUSED
def test_damage_in_what_was_kept_away_is_told_when_the_folder_opens(room: Room) -> None:
    keep(room.project, counted(1))
    room.away.write_bytes(b"not ours")
    aside = room.away.with_name(f"{room.away.name}.set-aside-1")
    with open_progress(room.project) as progress:
        assert progress.events == (counted(1),)
        assert progress.said == (f"{room.away} was damaged. It is set aside as {aside}.",)
    assert aside.read_bytes() == b"not ours"


@REFUSED
@pytest.mark.parametrize("beside_it", [(), (counted(1), counted(2))])
def test_what_is_kept_away_has_one_bench_too(room: Room, beside_it: tuple[Event, ...]) -> None:
    if beside_it:
        keep(room.project, *beside_it)
        (room.folder / "lap.yaml.progress.lock").unlink()
    code = """
with open_progress(project) as first, open_progress(project) as second:
    print(first.can_write, second.can_write)
    first.append(Event("done", "", 5, "", 0))
    print([event.count for event in second.reread()])
"""
    assert room.ask(code) == ["True False", "[5]"]


@REFUSED
def test_a_bench_beside_the_project_is_seen_from_where_it_is_closed(room: Room) -> None:
    with open_progress(room.project) as progress:
        progress.append(counted(1))
        onlooking = "Another bench has this project open. This one looks on and saves nothing."
        assert room.ask(SHOW) == ["False [1]", onlooking]
        progress.append(counted(2))
    assert names_in(room.state) == []


@REFUSED
def test_a_bench_that_keeps_away_is_seen_when_the_folder_opens(room: Room) -> None:
    keep(room.project, counted(1))
    (room.folder / "lap.yaml.progress.lock").unlink()
    room.ask(ADD.format(count=2))
    from tui.bench_lock import take_lock

    lock = take_lock(f"{room.away}.lock")
    with open_progress(room.project) as progress:
        assert not progress.can_write
        assert progress.events == (counted(1), counted(2))
    lock.release()


@REFUSED
def test_damage_in_a_closed_folder_is_told_and_left(room: Room) -> None:
    beside(room.project).write_bytes(b"not ours")
    damaged = "lap.yaml.progress is damaged and does not count."
    assert room.ask(SHOW) == ["True []", f"{damaged} {room.words['away']}"]
    assert names_in(room.folder) == ["lap.yaml", "lap.yaml.progress"]
    assert beside(room.project).read_bytes() == b"not ours"


@REFUSED
def test_a_file_that_may_not_be_read_is_told(room: Room) -> None:
    keep(room.project, counted(1))
    beside(room.project).chmod(0)
    assert room.ask("print(told(open_progress)); print(told(read_events))") == [
        "lap.yaml.progress can't be read: Permission denied.",
        "lap.yaml.progress can't be read: Permission denied.",
    ]
    assert names_in(room.state) == [f"{room.away.name}.lock"]


WIDE = tuple(Event("done", "", number, "n" * 3000, 0) for number in range(40))


@REFUSED
def test_what_was_begun_at_a_kill_is_left_out_in_a_closed_folder(room: Room) -> None:
    keep(room.project, *WIDE)
    leave_hot_journal(beside(room.project))
    look = "print(read_events(project) == (WIDE, ())); p = open_progress(project); print(p.events == WIDE, *p.said)"
    wide = 'WIDE = tuple(Event("done", "", number, "n" * 3000, 0) for number in range(40)); '
    assert room.ask(wide + look) == ["True", f"True {room.words['both']}"]
    assert beside(room.project).with_name("lap.yaml.progress-journal").exists()


def test_what_was_begun_at_a_kill_is_left_out(project: Path) -> None:
    keep(project, *WIDE)
    leave_hot_journal(beside(project))
    assert read_events(project) == (WIDE, ())
    leave_hot_journal(beside(project))
    with open_progress(project) as progress:
        assert (progress.events, progress.said) == (WIDE, ())


def leave_hot_journal(file: Path) -> None:
    """Leave the file as a kill in the middle of a big transaction does: half written, with what undoes it beside."""
    connection = sqlite3.connect(file, isolation_level=None)
    connection.execute("PRAGMA cache_size = 1")  # so that pages go to the file before the commit
    connection.execute("BEGIN IMMEDIATE")
    connection.execute("UPDATE events SET body = replace(body, 'n', 'x')")
    journal = file.with_name(f"{file.name}-journal")
    torn, undo = file.read_bytes(), journal.read_bytes()
    connection.execute("ROLLBACK")
    connection.close()
    assert undo[:1] != b"\0"
    assert b"xxxx" in torn
    file.write_bytes(torn)
    journal.write_bytes(undo)


@REFUSED
def test_where_nothing_can_be_written_it_is_told(room: Room) -> None:
    code = """
os.environ["SEAMRUN_STATE"] = project
print(told(open_progress))
os.environ["SEAMRUN_STATE"] = project + "/inner"
print(told(open_progress))
print(told(read_events))
os.environ["SEAMRUN_STATE"] = os.path.dirname(project) + "/inner"
print(told(open_progress))
"""
    assert room.ask(code) == [
        f"{room.project} can't be used: File exists.",
        f"{room.project}/inner can't be used: Not a directory.",
        "None",
        f"{room.folder}/inner can't be used: Permission denied.",
    ]


def test_the_state_folder_is_the_users_own(project: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import platformdirs

    for value in ("", None):
        if value is None:
            monkeypatch.delenv("SEAMRUN_STATE")
        else:
            monkeypatch.setenv("SEAMRUN_STATE", value)
        away = Path(find_places(project)[1].path)
        assert away.parent == Path(platformdirs.user_state_dir("seamrun", appauthor=False))
        assert away.name.startswith("lap.yaml-")


def test_projects_of_one_name_are_kept_apart_in_the_state_folder(project: Path, tmp_path: Path) -> None:
    assert find_places(project)[1] != find_places(tmp_path / project.name)[1]
    assert find_places(project)[1] == find_places(project.parent / ".." / "sewing" / project.name)[1]
