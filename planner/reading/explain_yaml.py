"""Why a text is no YAML, in words for the maker. Its lines end in a line feed alone, and it has no tabs."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import yaml

from planner.reading.collect_faults import quote

BACKSLASH = "a backslash inside double quotes is eaten; take the double quotes away, a backslash needs none"
NO_COLON = "a colon is missing behind the key; write key: value, with a space behind the colon"

# a remark that begins without a blank and holds what the line needs: a bracket or comma, or the colon of a key
_SWALLOWED_END = re.compile(r"(?<= )#[^\s#][^\n]*[\]},]")
_SWALLOWED_COLON = re.compile(r"(?<= )#[^\s#][^\n]*:")
_QUOTED = re.compile(r"'(?:[^'\n]|'')*'|\"(?:[^\"\\\n]|\\.)*\"")
_MOST_LINES = 50
_LONGEST_LINE = 1_000


class Trap(NamedTuple):
    """What stopped the parser and can be read over: the fault, and the characters that did it."""

    line: int
    words: str
    places: list[int]


def lines_of(text: str, places: Sequence[int]) -> Iterator[int]:
    """The lines, from 1, of rising places in the text."""
    line, last = 1, 0
    for place in places:
        line += text.count("\n", last, place)
        last = place
        yield line


def find_trap(text: str, trouble: yaml.YAMLError) -> Trap | None:
    """What a maker did not mean: an escape, or a `#` that swallowed the end of its line."""
    stop, start = _marks(trouble)
    if stop is None:
        return None
    context = str(trouble.context)  # type: ignore[attr-defined]
    if start is not None and "quoted scalar" in context:
        return find_escapes(text, start.index, stop.index + 1, start.line + 1)
    if start is None or "flow" not in context:
        # what is missing in a line shows in the next one
        return _find_swallowed(_SWALLOWED_COLON, text, _start_of_line(text, stop.index, 1), max(stop.line - 1, 0), stop)
    return _find_swallowed(_SWALLOWED_END, text, _start_of_line(text, start.index, 0), start.line, stop)


def find_escapes(text: str, start: int, end: int, line: int) -> Trap | None:
    """The backslashes of a text in double quotes, between two places.

    Of a text that goes over several lines only those in its first line: there, one may stand before the closing
    quotes, which then close nothing.
    """
    if text[start : start + 1] != '"':
        return None
    end = min(end, len(text), max(_end_of_line(text, start), text.find("\\", start) + 1))
    places = [at for at in range(start, end) if text[at] == "\\"]
    return Trap(line, BACKSLASH, places) if places else None


def _find_swallowed(remark: re.Pattern[str], text: str, begin: int, above: int, stop: yaml.Mark) -> Trap | None:
    """The first remark that holds what its line needs; `above` counts the lines above `begin`."""
    for line in range(above + 1, min(stop.line + 1, above + _MOST_LINES) + 1):
        end = _end_of_line(text, begin)
        shown = text[begin : min(end, begin + _LONGEST_LINE)]
        # what stands in quotes is no remark: blank it, keeping the places
        found = remark.search(_QUOTED.sub(lambda quoted: "_" * len(quoted[0]), shown))
        if found is not None:
            words = f"what follows # is a remark and is not read: {quote(shown[found.start() :].strip())}"
            return Trap(line, f"{words}; put quotes round the value", [begin + found.start()])
        begin = end + 1
    return None


def _start_of_line(text: str, index: int, lines_up: int) -> int:
    for _ in range(lines_up):
        index = max(text.rfind("\n", 0, index), 0)
    return text.rfind("\n", 0, index) + 1


def _end_of_line(text: str, index: int) -> int:
    end = text.find("\n", index)
    return end if end >= 0 else len(text)


def explain_trouble(text: str, trouble: yaml.YAMLError) -> tuple[int, str, str]:
    """(line, where, words) of the one fault for a text that is no YAML."""
    stop, start = _marks(trouble)
    if stop is None:
        return 1, "", "this can't be read as YAML; check quotes, brackets and indentation"
    line, words = _find_words(text, str(trouble.problem), str(trouble.context), start, stop)  # type: ignore[attr-defined]
    # what is missing at the end is missed on a line that may not be there
    return min(line, text.rstrip().count("\n") + 1), "", words


def _find_words(text: str, problem: str, context: str, start: yaml.Mark | None, stop: yaml.Mark) -> tuple[int, str]:
    here = stop.line + 1
    begun = start.line + 1 if start is not None else here
    if "cannot start any token" in problem:
        return here, f"a text can't begin with {quote(text[stop.index : stop.index + 1])}; put quotes round it"
    if "mapping values are not allowed" in problem:
        above = text[_start_of_line(text, stop.index, 1) : _start_of_line(text, stop.index, 0)].strip()
        if above and not above.startswith("#") and ": " not in above and not above.endswith(":"):
            return here - 1, NO_COLON
        return here, "a colon too many, or a key in the wrong place; put quotes round a value that has a colon in it"
    if "quoted scalar" in context:
        return begun, "the quotes that begin here do not end; close them"
    if "flow" in context:
        sign = text[start.index : start.index + 1] if start is not None else ""
        bracket = f"the '{sign}'" if sign and sign in "[{" else "a bracket"
        if begun != here:
            return begun, f"{bracket} that begins here is not closed; close it, or look for a comma that is missing"
        return here, f"a comma is missing between two entries, or {bracket} is not closed"
    if "document start" in problem:
        return here, "this line belongs to nothing above it; check the line above for its colon and the indentation"
    if "block" in context and "scalar" not in context:
        return here, "this line does not line up with those above; what belongs together begins in the same column"
    if "expected ':'" in problem:
        return begun, NO_COLON
    if any(word in context for word in ("alias", "anchor", "tag", "directive")):
        return here, "a text can't begin with & * ! or %, which mean something else in YAML; put quotes round it"
    return here, "this can't be read as YAML; check quotes, brackets and indentation"


def _marks(trouble: yaml.YAMLError) -> tuple[yaml.Mark | None, yaml.Mark | None]:
    """Where the parser stopped, and where what it was reading began."""
    if not isinstance(trouble, yaml.MarkedYAMLError):
        return None, None
    stop = trouble.problem_mark or trouble.context_mark
    return stop, trouble.context_mark
