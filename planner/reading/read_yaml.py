"""The text of a project file -> nodes that know their lines. The only room that knows YAML.

Every scalar stays text. What YAML would do behind the maker's back (anchors, aliases, tags, escapes, what a `#` or a
comma swallows) is a fault with an explanation; as far as the text can be read in spite of it, it is, so that the
faults behind it are told too.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeGuard

import yaml

from planner.reading.collect_faults import FaultList, quote
from planner.reading.explain_yaml import BACKSLASH, Trap, explain_trouble, find_escapes, find_trap, lines_of

MOST_BYTES = 1_000_000
MOST_DEPTH = 30
_MOST_REPAIRS = 8
_TOO_LARGE = "the file is over 1 MB; a project file is much smaller"
_REPAIRABLE = 100_000  # characters: a longer text is not read again for the sake of the faults behind a trap

# no matter for a project file: C0 and C1 controls, line ends that no editor counts, half surrogates, non-characters
_CONTROL = re.compile("[^\t\n\r\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_LINE_END = re.compile(r"\r\n|\r")
_TAB_INDENTED = re.compile(r"^ *\t[ \t]*(?=[^\s#])", re.MULTILINE)
_REMARK = re.compile(r" +(#[^\n]*[^\n ]|#)")
_COLON = re.compile(r"\s*:")

_loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader


@dataclass(slots=True)
class Text:
    """A scalar as text. `remark` is what stands behind it on its line after a `#`, where it has no quotes."""

    value: str
    line: int
    remark: str = ""


@dataclass(slots=True)
class Listed:
    """A list. `start` is its place in the text."""

    line: int
    start: int
    nodes: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Keyed:
    """A mapping, in the order of the file; a key may be there twice. `start` is its place in the text.

    It is not whole where a key could not be read, so that nothing can be said to be missing in it.
    """

    line: int
    start: int
    pairs: list[tuple[Text, Node]] = field(default_factory=list)
    is_whole: bool = True


@dataclass(slots=True)
class Unread:
    """A place whose fault is told already."""

    line: int


Node = Text | Listed | Keyed | Unread


def read_bytes_of(path: Path | str, faults: FaultList) -> bytes | None:
    """The bytes of a file, or None and a fault on line 1."""
    try:
        with open(path, "rb") as file:
            return file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        faults.add(1, "", "there is no such file; check the name and the folder")
    except IsADirectoryError:
        faults.add(1, "", "this is a folder; name the project file in it")
    except PermissionError:
        faults.add(1, "", "this file may not be read; check its permissions")
    except (OSError, ValueError) as trouble:
        reason = trouble.strerror if isinstance(trouble, OSError) and trouble.strerror else "its name is no file name"
        faults.add(1, "", f"this file can't be read: {reason}")
    return None


def decode_text(found: bytes, faults: FaultList) -> str | None:
    """The text of a file, or None and a fault on line 1."""
    if len(found) > MOST_BYTES:
        faults.add(1, "", _TOO_LARGE)
        return None
    try:
        return found.decode("utf-8")
    except UnicodeDecodeError as trouble:
        line = 1 + _LINE_END.sub("\n", found[: trouble.start].decode("utf-8", "replace")).count("\n")
        faults.add(1, "", f"the file is no UTF-8 text: line {line} holds a byte that is none; save it as UTF-8")
        return None


def read_nodes(text: str, faults: FaultList) -> Keyed | None:
    """The nodes of the whole file, or None where nothing behind the faults can be read."""
    if len(text) > MOST_BYTES:
        faults.add(1, "", _TOO_LARGE)
        return None
    text = _LINE_END.sub("\n", text.removeprefix("\ufeff"))
    spoilt = [found.start() for found in _CONTROL.finditer(text)]
    has_controls = bool(spoilt)
    if has_controls:
        _tell_controls(text, spoilt, faults)
        text = _CONTROL.sub(" ", text)
    tabs = [found.end() for found in _TAB_INDENTED.finditer(text)]
    for line in lines_of(text, tabs):
        faults.add(line, "", "a tab stands where the indentation is; indent with spaces")
    if tabs:
        return None  # how far its lines are indented, and so what belongs to what, is not known
    text = text.replace("\t", " ")
    for _ in range(_MOST_REPAIRS + 1):
        walk = _EventWalk(text, sorted(spoilt))
        trouble = walk.go()
        # an escaped quote shows where the quotes seem to end, so it comes last
        trap = find_trap(text, trouble) or walk.escape if trouble else None
        if trap is None:
            break
        # tell what the trap is, put something harmless there, and read on for what else is wrong
        faults.add(trap.line, "", trap.words)
        if len(text) > _REPAIRABLE:
            break
        for at in trap.places:
            text = text[:at] + "_" + text[at + 1 :]
        spoilt += trap.places
    for line, words in walk.told:
        faults.add(line, "", words)
    if trouble is None:
        return _check_root(walk.root, faults, has_controls)
    if trap is None and not has_controls:
        faults.add(*explain_trouble(text, trouble))
    return None


def _tell_controls(text: str, places: list[int], faults: FaultList) -> None:
    last = -1
    for at, line in zip(places, lines_of(text, places), strict=True):
        if line != last:
            faults.add(line, "", f"there is a control character, U+{ord(text[at]):04X}, in this line; take it out")
        last = line


def _check_root(root: Node | None, faults: FaultList, has_controls: bool) -> Keyed | None:
    if root is None or (isinstance(root, Text) and not root.value):
        if not faults:
            faults.add(1, "", "the file is empty; it needs project, fabrics, blocks and make or quilt")
        return None
    if isinstance(root, Keyed):
        return root
    if not isinstance(root, Unread) and not has_controls:
        keys = "write project: and its name, then fabrics, blocks and make or quilt"
        faults.add(1, "", f"a project file is made of keys: {keys}")
    return None


class _EventWalk:
    """One walk over the events of a text: refuses what is not allowed, and builds the nodes on the way."""

    def __init__(self, text: str, spoilt: list[int]) -> None:
        self.root: Node | None = None
        self.told: list[tuple[int, str]] = []
        self.escape: Trap | None = None  # the first backslash that was read over
        self._text = text
        self._spoilt = spoilt  # places where the text is not what the maker wrote
        self._open: list[Listed | _OpenKeys] = []

    def go(self) -> yaml.YAMLError | None:
        """Walk to the end. The trouble that stopped the walk is returned; too deep a text, or a second one, stops it
        with a fault and nothing read."""
        documents = 0
        try:
            for event in yaml.parse(self._text, Loader=_loader):
                line, start, end = _span(event)
                if isinstance(event, yaml.ScalarEvent):
                    self._put(self._read_scalar(event, line, start, end), start, end)
                elif isinstance(event, yaml.CollectionStartEvent):
                    if len(self._open) >= MOST_DEPTH:
                        self._stop(line, f"this is nested deeper than {MOST_DEPTH}; use parts instead")
                        break
                    self._check_marks(event, line)
                    if isinstance(event, yaml.SequenceStartEvent):
                        self._open.append(Listed(line, start))
                    else:
                        self._open.append(_OpenKeys(Keyed(line, start), bool(event.flow_style)))
                elif isinstance(event, yaml.CollectionEndEvent):
                    self._leave(end)
                elif isinstance(event, yaml.AliasEvent):
                    words = f"'*{event.anchor}' is an alias, which is not used here; write it out, or use quotes"
                    self.told.append((line, words))
                    self._put(Unread(line), start, end)
                elif isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    if documents > 1:
                        self._stop(line, "a second document begins here; a project file has one, so take out the ---")
                        break
        except yaml.YAMLError as trouble:
            self.root = None
            return trouble
        return None

    def _stop(self, line: int, words: str) -> None:
        self.told.append((line, words))
        self.root = Unread(line)

    def _check_marks(self, event: yaml.ScalarEvent | yaml.CollectionStartEvent, line: int) -> None:
        if event.anchor is not None:
            words = f"'&{event.anchor}' is an anchor, which is not used here; take it out, or use quotes"
            self.told.append((line, words))
        if event.tag is not None:
            self.told.append((line, "what begins with ! is a tag, which is not used here; take it out, or use quotes"))

    def _read_scalar(self, event: yaml.ScalarEvent, line: int, start: int, end: int) -> Text | Unread:
        self._check_marks(event, line)
        if self._spoilt and self._is_spoilt(start, end):
            return Unread(line)
        if event.style == '"' and "\\" in self._text[start:end]:
            self.told.append((line, BACKSLASH))
            self.escape = self.escape or find_escapes(self._text, start, end, line)
            return Unread(line)
        remark = None if event.style else _REMARK.match(self._text, end)
        return Text(event.value, line, remark[1] if remark else "")

    def _is_spoilt(self, start: int, end: int) -> bool:
        at = bisect_left(self._spoilt, start)
        return at < len(self._spoilt) and self._spoilt[at] < end

    def _leave(self, end: int) -> None:
        done = self._open.pop()
        if isinstance(done, _OpenKeys):
            self._tell_alone(done)
            self._put(done.node, done.node.start, end)
        else:
            self._put(done, done.start, end)

    def _put(self, node: Node, start: int, end: int) -> None:
        if not self._open:
            self.root = node
            return
        place = self._open[-1]
        if isinstance(place, Listed):
            place.nodes.append(self._check_swallowed(node, "", end) if _is_empty(node, start, end) else node)
        elif place.key is None:
            self._begin_pair(place, node, end)
        else:
            self._end_pair(place, place.key, node, start, end)
            place.key = None

    def _begin_pair(self, place: _OpenKeys, node: Node, end: int) -> None:
        place.key_end = end
        if isinstance(node, Text | Unread):
            place.key = node
            return
        place.key = Unread(node.line)
        self.told.append((node.line, "a key is one text, no list and no mapping; put quotes round it"))

    def _end_pair(self, place: _OpenKeys, key: Text | Unread, node: Node, start: int, end: int) -> None:
        if isinstance(key, Unread):
            place.node.is_whole = False
            return
        if _is_empty(node, start, end):
            colon = _COLON.match(self._text, place.key_end)
            if colon is None:
                self._note_alone(place, key)
                return
            node.line = key.line
            node = self._check_swallowed(node, key.value, colon.end())
        self._tell_alone(place)
        place.node.pairs.append((key, node))
        place.value_start = start

    def _check_swallowed(self, node: Node, key: str, start: int) -> Node:
        """An empty value, or unread where it is empty because a `#` swallowed it."""
        remark = _REMARK.match(self._text, start)
        if remark is None or remark[1].startswith("# "):
            return node
        shown = f'{key}: "{remark[1]}"' if key else f'"{remark[1]}"'
        words = f"what follows # is a remark and is not read, so there is no value; with quotes it is one: {shown}"
        self.told.append((node.line, words))
        return Unread(node.line)

    def _note_alone(self, place: _OpenKeys, key: Text) -> None:
        place.node.is_whole = False
        name, colon, rest = key.value.partition(":")
        if colon:
            self.told.append((key.line, f"put a space behind the colon: {name}: {rest.strip()}"))
        else:
            place.alone = place.alone or key
            place.alone_end = place.key_end

    def _tell_alone(self, place: _OpenKeys) -> None:
        """Tell of keys without a colon: in braces, what a comma cut off from the value before it."""
        if place.alone is None:
            return
        word, place.alone = place.alone, None
        if not place.is_flow or not place.node.pairs:
            self.told.append((word.line, f"{quote(word.value)} stands alone; behind a key come a colon and its value"))
            return
        key, value = place.node.pairs[-1]
        if isinstance(value, Text):
            whole = " ".join(self._text[place.value_start : place.alone_end].split())
            words = f"inside {{ }} a comma ends the value, so {quote(word.value)} stands alone"
            self.told.append((value.line, f'{words}; with quotes it is one value: {key.value}: "{whole}"'))
            place.node.pairs[-1] = (key, Unread(value.line))
        elif not isinstance(value, Unread):
            self.told.append((word.line, f"{quote(word.value)} stands alone; behind a key come a colon and its value"))


@dataclass(slots=True)
class _OpenKeys:
    """A mapping that is being read."""

    node: Keyed
    is_flow: bool
    key: Text | Unread | None = None  # read, waiting for its value
    key_end: int = 0
    value_start: int = 0  # of the last value
    alone: Text | None = None  # the first of the keys without a colon behind the last value
    alone_end: int = 0  # of the last of them


def _is_empty(node: Node, start: int, end: int) -> TypeGuard[Text]:
    return start == end and isinstance(node, Text)


def _span(event: Any) -> tuple[int, int, int]:
    """Line, first place, and the place behind the last, of an event: the marks are there, whatever the stubs say."""
    return event.start_mark.line + 1, event.start_mark.index, event.end_mark.index
