"""A block of the shelf: a draft whose fabrics are roles, and what tells a maker which one it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from planner.project import Draft, Fabric
from planner.surd import Exact


class Role(NamedTuple):
    """What one fabric does in the block: a stand-in, called by the role's name, for pictures; and words for where."""

    fabric: Fabric
    what: str

    @property
    def name(self) -> str:
        return self.fabric.name


@dataclass(frozen=True, slots=True)
class ShelfBlock:
    """A draft in which roles stand for fabrics. `size` is what it is usually made in: width and height in inches."""

    name: str
    also_called: tuple[str, ...]
    roles: tuple[Role, ...]
    size: tuple[Exact, Exact]
    draft: Draft
    patches: int
    roots: tuple[int, ...]  # 2 or 3 where it has a number with such a root in it
    keeps_shape: bool  # whether something in it is not stretched

    @property
    def role_names(self) -> tuple[str, ...]:
        return tuple(role.name for role in self.roles)


class Shelf(Protocol):
    """Where blocks are taken from. Capitals do not matter."""

    def find(self, name: str) -> ShelfBlock | None:
        """The block of this name, or that is also called so."""

    def list_names(self) -> Sequence[str]:
        """Every name, and what blocks are also called."""


def list_rooted(shelf: Shelf) -> dict[int, list[str]]:
    """For each root the blocks of the shelf that have it, by name."""
    blocks = {block.name: block for name in shelf.list_names() if (block := shelf.find(name)) is not None}
    found: dict[int, list[str]] = {}
    for name in sorted(blocks):
        for root in blocks[name].roots:
            found.setdefault(root, []).append(name)
    return found


class _EmptyShelf:
    def find(self, name: str) -> ShelfBlock | None:
        return None

    def list_names(self) -> Sequence[str]:
        return ()


EMPTY_SHELF: Shelf = _EmptyShelf()
