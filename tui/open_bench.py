"""The command `seamrun FILE`: read, plan, open the progress, show the bench, say goodbye."""

from __future__ import annotations

import os
import shlex
import shutil
import sys
import time
from pathlib import Path

from planner.tally import count_up, find_made
from tui.bench import Bench
from tui.find_strays import hint_at_strays
from tui.load import load_project, tell_faults
from tui.load_at_once import loading
from tui.plan_slowly import plan_for_bench
from tui.progress import ProgressTrouble, open_progress
from tui.settings import load_settings
from tui.spell_path import spell_path


def open_bench(file: str | None) -> int:
    """Open the bench on a project file, or offer some; the exit status."""
    settings, settings_name, faults = load_settings()
    if settings is None:
        tell_faults(settings_name, faults)
        return 2
    said: tuple[str, ...] = ()
    if file is None:
        chosen = _choose()
        if isinstance(chosen, int):
            return chosen
        file, words = chosen
        said = (words,) if words else ()
    project = load_project(file)
    if project is None:
        return 2
    try:
        progress = open_progress(file)
    except ProgressTrouble as trouble:
        print(f"seamrun: {trouble.words}", file=sys.stderr)
        return 1
    with progress:
        planning = plan_for_bench(project, find_made(count_up(progress.events)))
        if planning.status:
            return planning.status
        if planning.was_stopped:
            print("seamrun: planning was stopped; what is sewn stays saved", file=sys.stderr)
            return 1
        if planning.plan is None:
            tell_faults(file, planning.faults)
            return 2
        try:
            bench = Bench(planning.plan, progress, _now)
        except ProgressTrouble as trouble:
            print(f"seamrun: {trouble.words}", file=sys.stderr)
            return 1
        if not bench.has_come_back:
            said = (*said, *hint_at_strays(file))
        bench.notices = (*said, *bench.notices)
        with loading():
            from tui.app import SeamrunApp
        app = SeamrunApp(bench, settings, time.monotonic)
        app.run()
        status = app.return_code or 0
        return status or _say_goodbye(bench, file)


def _now() -> int:
    return time.time_ns() // 1_000_000


def _choose() -> tuple[str, str] | int:
    """A file to open and words about it, or the exit status."""
    from tui.choose_project import copy_sample, list_offers
    from tui.screens.choose import ChooseApp

    folder = Path.cwd()
    choosing = ChooseApp(list_offers(folder))
    offer = choosing.run()
    if offer is None:
        return choosing.return_code or 0
    if not offer.is_sample:
        return offer.file.name, ""
    try:
        copy, words = copy_sample(offer.file, folder)
    except OSError as trouble:
        print(f"seamrun: no copy of the sample can be put here: {trouble.strerror}", file=sys.stderr)
        return 1
    return copy.name, words


def _say_goodbye(bench: Bench, file: str) -> int:
    """The last line: whether all is saved, and how to go on; the exit status."""
    done, total = bench.session.totals
    told = bench.make_sure()
    if told.words:
        print(f"seamrun: {told.words}", file=sys.stderr)
    saved = "not" if told.is_trouble else "all"
    go_on = f"{_command()} {spell_path(shlex.quote(file))}"
    print(f"{done} of {total} done, {saved} saved. Is the iron off? Go on with: {go_on}")
    return 1 if told.is_trouble else 0


def _command() -> str:
    """How this program was called, so that it can be called so again."""
    called = sys.argv[0]
    if os.path.basename(called) == "__main__.py":
        return "python -m tui"
    return "seamrun" if shutil.which("seamrun") == os.path.abspath(called) else called
