"""What is wrong with the maker's input, as data: never raised, always collected and told all at once."""

from __future__ import annotations

from typing import NamedTuple


class Fault(NamedTuple):
    """One fault of a project file. `line` counts from 1; `words` say what is wrong and what would be right."""

    line: int
    where: str
    words: str


def spell_fault(file: str, fault: Fault) -> str:
    """`FILE:LINE: where: what is wrong, and what would be right`, FILE as it was typed."""
    where = f" {fault.where}:" if fault.where else ""
    return f"{file}:{fault.line}:{where} {fault.words}"
