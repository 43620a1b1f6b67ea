"""How much a search has looked at, in steps that are counted and never timed: the same answer on every machine."""

from __future__ import annotations


class Steps:
    """Steps that a search may still take. Once they are used up it ends with the best that it has found."""

    def __init__(self, most: int) -> None:
        self.left = most

    def take(self, many: int = 1) -> None:
        self.left -= many

    @property
    def are_over(self) -> bool:
        return self.left <= 0
