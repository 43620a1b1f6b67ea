"""Without a file: the project files of this folder, and the samples that come with the program."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

MOST_LOOKED_AT = 200


class Offer(NamedTuple):
    """A file to open, and what it is. A sample is copied into the folder first."""

    file: Path
    words: str
    is_sample: bool


def find_samples() -> Path:
    """The folder of the samples: in the package, or beside it in a checkout."""
    here = Path(__file__).parent
    inside = here / "samples"
    return inside if inside.is_dir() else here.parent / "projects"


def list_offers(folder: Path) -> list[Offer]:
    """The project files of a folder, then the samples, each by name."""
    own = [Offer(file, words, False) for file, words in _find_projects(folder)]
    samples = [Offer(file, words, True) for file, words in _find_projects(find_samples())]
    return own + samples


def _find_projects(folder: Path) -> Iterator[tuple[Path, str]]:
    try:
        names = sorted(entry.name for entry in os.scandir(folder) if entry.is_file())
    except OSError:
        return
    for name in [name for name in names if name.endswith((".yaml", ".yml"))][:MOST_LOOKED_AT]:
        title = _read_title(folder / name)
        if title is not None:
            yield folder / name, title


def _read_title(file: Path) -> str | None:
    """What stands behind `project:` at the start of a line; None where the file is no project file."""
    try:
        with open(file, encoding="utf-8", errors="replace") as lines:
            head = lines.read(4_000)
    except OSError:
        return None
    for line in head.splitlines():
        key, colon, rest = line.partition(":")
        if colon and key == "project":
            return "".join(letter if letter.isprintable() else " " for letter in rest.strip(" \"'"))[:80]
    return None


def copy_sample(sample: Path, folder: Path) -> tuple[Path, str]:
    """A copy of a sample in a folder, and words that say so; a file that is there is never overwritten.

    OSError where the folder cannot be written.
    """
    content = sample.read_bytes()
    number = 1
    while True:
        name = sample.name if number == 1 else f"{sample.stem}-{number}{sample.suffix}"
        copy = folder / name
        try:
            with open(copy, "xb") as new:
                new.write(content)
            return copy, f"{name} is a copy of the sample, in this folder: change it as you like"
        except FileExistsError:
            if copy.is_file() and copy.read_bytes() == content:
                return copy, f"{name}, the copy of the sample that is here already"
            number += 1
