"""The shelf: traditional blocks that come with the program, each in a file of its own, read when one is asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, cached_property
from pathlib import Path

from planner.fault import spell_fault
from planner.reading.collect_faults import FaultList
from planner.reading.read_shelf_block import read_shelf_block
from planner.reading.read_yaml import decode_text, read_bytes_of
from planner.reading.shelf_block import ShelfBlock

_ENDING = ".yaml"


class PackagedShelf:
    """The blocks in one folder. Nothing is read before a block is asked for, and no file twice."""

    def __init__(self, folder: Path | None = None) -> None:
        """Without a folder: that of the package."""
        self._given = folder

    @cached_property
    def folder(self) -> Path:
        return self._given if self._given is not None else _find_folder()

    def find(self, name: str) -> ShelfBlock | None:
        """The block of this name, or that is also called so; capitals do not matter."""
        called = name.casefold()
        file = name_file(called)
        if file in self._files:
            block = _read(self.folder / file)
            if block.name == called:
                return block
        return self._by_name.get(called)

    def list_names(self) -> Sequence[str]:
        """Every name, and what blocks are also called."""
        return tuple(self._by_name)

    def list_blocks(self) -> tuple[ShelfBlock, ...]:
        """All blocks, by name."""
        return tuple(sorted((_read(self.folder / file) for file in self._files), key=lambda block: block.name))

    @cached_property
    def _files(self) -> frozenset[str]:
        return frozenset(path.name for path in self.folder.glob(f"*{_ENDING}"))

    @cached_property
    def _by_name(self) -> Mapping[str, ShelfBlock]:
        blocks = self.list_blocks()
        known = {other: block for block in blocks for other in block.also_called}
        return known | {block.name: block for block in blocks}


SHELF = PackagedShelf()


def name_file(name: str) -> str:
    """The file a block is in: `bears-paw.yaml` for bear's paw."""
    return name.replace("'", "").replace(" ", "-") + _ENDING


@cache
def _read(file: Path) -> ShelfBlock:
    """The block in a file. ValueError where the file is at fault: it is one of ours."""
    faults = FaultList()
    found = read_bytes_of(file, faults)
    text = decode_text(found, faults) if found is not None else None
    block, wrong = read_shelf_block(text) if text is not None else (None, faults.tell())
    if block is None:
        raise ValueError("\n".join(spell_fault(file.name, fault) for fault in wrong))
    return block


def _find_folder() -> Path:
    """In the package, or beside it in a checkout."""
    here = Path(__file__).parent
    inside = here / "shelf_blocks"
    return inside if inside.is_dir() else here.parent / "projects" / "blocks"
