"""Faults found while a file is read: collected, cleaned for the screen, told in the order of their lines."""

from __future__ import annotations

from planner.fault import Fault

MOST_FAULTS = 2_000


class FaultList:
    """Takes faults as they are found. What a maker wrote may be quoted in them: it is cleaned here, once."""

    def __init__(self) -> None:
        self._found: dict[Fault, None] = {}
        self._left_out = 0

    def add(self, line: int, where: str, words: str) -> None:
        """One more fault; the same one twice is told once."""
        if len(self._found) >= MOST_FAULTS:
            self._left_out += 1
            return
        self._found[Fault(line, clean_words(where), clean_words(words))] = None

    def tell(self) -> tuple[Fault, ...]:
        """All faults by line; of one line in the order in which they were found."""
        told = sorted(self._found, key=lambda fault: fault.line)
        if self._left_out:
            told.append(Fault(told[-1].line, "", f"and {self._left_out} more faults, not told here"))
        return tuple(told)

    def __len__(self) -> int:
        return len(self._found)


def quote(text: str) -> str:
    """What the maker wrote, cut where it is long: `'navy'`."""
    shown = text if len(text) <= 60 else text[:57] + "..."
    return f"'{shown}'"


def spell_count(number: int, kind: str) -> str:
    """`1 number`, `3 columns`."""
    return f"{number} {kind}" if number == 1 else f"{number} {kind}s"


def clean_words(text: str) -> str:
    """The text without what a terminal would obey or hide: `<U+001B>` stands for it."""
    if text.isprintable():
        return text
    return "".join(char if char.isprintable() else " " if char.isspace() else f"<U+{ord(char):04X}>" for char in text)
