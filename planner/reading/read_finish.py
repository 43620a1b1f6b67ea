"""The rest of the quilt, behind the key `finish` -> what the maker chooses of it; all faults of it at once."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple, TypeVar

from planner.cloth.bed_sizes import BED_NAMES, find_bed
from planner.cloth.binding import lose_in_join
from planner.finish import (
    BackingChoice,
    BattingChoice,
    BedChoice,
    BindingChoice,
    Finish,
    PillowChoice,
    Run,
    SleeveChoice,
    ThreadChoice,
    choose_drop,
    choose_overlap,
    choose_usual,
)
from planner.measure import INCHES_PER_CM, read_number, spell_number
from planner.project import SELVAGES, WIDEST_CLOTH, find_usable
from planner.reading.collect_faults import quote
from planner.reading.file_keys import (
    BACKING,
    BATTING,
    BED,
    BINDING,
    BINDING_CUTS,
    BINDING_JOINS,
    FINISH,
    NONE,
    PILLOW,
    RUNS,
    SLEEVE,
    THREAD_USE,
    Keys,
)
from planner.reading.known import Known
from planner.reading.lengths import LONGEST_SIDE
from planner.reading.read_fabrics import NARROWEST, WIDEST
from planner.reading.read_keys import (
    Entry,
    Found,
    Reading,
    at,
    read_choice,
    read_fabric,
    read_keys,
    read_text,
    read_two,
)
from planner.reading.read_yaml import Text

C = TypeVar("C", BackingChoice, BattingChoice, BindingChoice)

WIDEST_OVERHANG = Fraction(24)  # inches, this and all below
WIDEST_SEAM = Fraction(4)
WIDEST_STRIP = Fraction(12)
MOST_EXTRA = Fraction(100)
LONGEST_DROP = Fraction(60)
LEAST_STITCH, MOST_STITCH = INCHES_PER_CM / 20, INCHES_PER_CM * Fraction(6, 10)  # 0.5 mm, 6 mm
LEAST_RATIO, MOST_RATIO = Fraction(2), Fraction(10)
MOST_WASTE = Fraction(100)  # per cent
_PERCENT = re.compile(r"(.*?)\s*%?")


class _Place(NamedTuple):
    """One mapping inside `finish`, while it is read."""

    reading: Reading
    found: Found
    where: str
    known: Known

    def read_length(
        self,
        key: str,
        usual: Fraction,
        most: Fraction,
        least: Fraction = Fraction(0),
        is_above: bool = True,
        in_words: str = "",
    ) -> Fraction:
        """A length from `least` (above it, where that is asked) to `most`, in inches; `usual` where none is there. The
        bounds in words, where they are best told in another measure."""
        spell = self.known.lengths.spell
        bounds = f"over {spell(least)} and at most {spell(most)}" if is_above else f"{spell(least)} to {spell(most)}"
        if is_above and not least:
            bounds = f"above 0 and at most {spell(most)}"
        return self._read_number(
            key, usual, least, most, is_above, self.known.lengths.read, f"a length, {in_words or bounds}"
        )

    def read_plain(self, key: str, usual: Fraction, least: Fraction, most: Fraction) -> Fraction:
        """A number without a measure."""
        wanted = f"a number from {spell_number(least)} to {spell_number(most)}"
        return self._read_number(key, usual, least, most, False, read_number, wanted)

    def read_percent(self, key: str, usual: Fraction) -> Fraction:
        """A part of a whole, written in per cent."""
        wanted = f"per cent, 0 to {spell_number(MOST_WASTE)}"
        return self._read_number(key, usual * 100, Fraction(0), MOST_WASTE, False, _read_percent, wanted) / 100

    def _read_number(
        self,
        key: str,
        usual: Fraction,
        least: Fraction,
        most: Fraction,
        is_above: bool,
        read: Callable[[str], Fraction],
        wanted: str,
    ) -> Fraction:
        entry = self.found.get(key)
        where = at(self.where, key)
        text = None if entry is None else read_text(self.reading, entry.node, where, wanted)
        if entry is None or text is None:
            return usual
        try:
            value = read(text)
        except ValueError as wrong:
            self.reading.add(entry.node.line, where, str(wrong))
            return usual
        if self.known.lengths.measure is None and read == self.known.lengths.read:
            return usual  # nothing to compare it with
        if value > most or value < least or (is_above and value == least):
            self.reading.add(entry.node.line, where, f"{quote(text)} is not right here; write {wanted}")
            return usual
        return value

    def read_fabric(self) -> str | None:
        entry = self.found.get("fabric")
        where = at(self.where, "fabric")
        return None if entry is None else read_fabric(self.reading, self.known.names, entry.node, where)

    def find_usable(self, fabric: str | None) -> Fraction:
        """How wide the cloth of a fabric can be used."""
        return self.known.usable.get(fabric, WIDEST_CLOTH) if fabric is not None else WIDEST_CLOTH

    def add(self, key: str, words: str) -> None:
        """A fault at a key, or at the mapping where the key is not there."""
        entry = self.found.get(key)
        line = self.found.line if entry is None else entry.node.line
        self.reading.add(line, at(self.where, key), words)


def read_finish(reading: Reading, entry: Entry | None, known: Known) -> Finish | None:
    """What the maker writes of the rest of the quilt; None where nothing is written."""
    found = None if entry is None else read_keys(reading, entry.node, FINISH, "finish", entry.line)
    if found is None:
        return None
    usual = choose_usual(known.lengths.measure or "in")
    assert usual.backing is not None
    assert usual.batting is not None
    assert usual.binding is not None
    backing = _read_or_none(reading, found, "backing", BACKING, known, _read_backing, usual.backing)
    batting = _read_or_none(reading, found, "batting", BATTING, known, _read_batting, usual.batting)
    binding = _read_or_none(reading, found, "binding", BINDING, known, _read_binding, usual.binding)
    return Finish(
        backing,
        batting,
        binding,
        _read_sleeve(_open(reading, found, "sleeve", SLEEVE, known)),
        _read_pillow(_open(reading, found, "pillow", PILLOW, known)),
        _read_bed(_open(reading, found, "bed", BED, known)),
        _read_thread(_open(reading, found, "thread", THREAD_USE, known)),
    )


def _open(reading: Reading, found: Found, key: str, keys: Keys, known: Known) -> _Place | None:
    entry = found.get(key)
    where = at("finish", key)
    inside = None if entry is None else read_keys(reading, entry.node, keys, where, entry.line)
    return None if inside is None else _Place(reading, inside, where, known)


def _read_or_none(
    reading: Reading,
    found: Found,
    key: str,
    keys: Keys,
    known: Known,
    read: Callable[[_Place, C], C],
    usual: C,
) -> C | None:
    """One of those that are there without being written, and that the word none leaves out."""
    entry = found.get(key)
    if entry is not None and isinstance(entry.node, Text) and entry.node.value.strip() == NONE:
        return None
    place = _open(reading, found, key, keys, known)
    return usual if place is None else read(place, usual)


def _read_backing(place: _Place, usual: BackingChoice) -> BackingChoice:
    fabric = place.read_fabric()
    overhang = place.read_length("overhang", usual.overhang, WIDEST_OVERHANG, is_above=False)
    seam = place.read_length("seam", usual.seam, WIDEST_SEAM)
    run: Run | None = None
    entry = place.found.get("run")
    if entry is not None:
        run = read_choice(place.reading, entry.node, at(place.where, "run"), RUNS)
    width: Fraction | None = None
    usable = place.find_usable(fabric)
    if place.found.get("width") is not None:
        width = place.read_length("width", usable + SELVAGES, WIDEST, NARROWEST, is_above=False)
        usable = find_usable(width, place.known.narrows.get(fabric or "", Fraction(0)))
    if usable <= 2 * seam:
        spell = place.known.lengths.spell
        words = f"of cloth that can be used {spell(usable)} wide, two allowances of {spell(seam)} leave nothing"
        place.add("seam", f"{words}; take a narrower seam or wider cloth")
    return BackingChoice(fabric, width, overhang, seam, run)


def _read_batting(place: _Place, usual: BattingChoice) -> BattingChoice:
    overhang = place.read_length("overhang", usual.overhang, WIDEST_OVERHANG, is_above=False)
    if place.found.get("width") is None:
        return BattingChoice(overhang)
    return BattingChoice(overhang, place.read_length("width", WIDEST, WIDEST, NARROWEST, is_above=False))


def _read_binding(place: _Place, usual: BindingChoice) -> BindingChoice:
    fabric = place.read_fabric()
    least = 2 * place.known.lengths.seam if place.known.lengths.seam is not None else Fraction(0)
    width = place.read_length("width", usual.width, max(WIDEST_STRIP, usual.width), least)
    choice = replace(usual, fabric=fabric, width=width)
    cut, join = place.found.get("cut"), place.found.get("joins")
    if cut is not None:
        chosen = read_choice(place.reading, cut.node, at(place.where, "cut"), BINDING_CUTS)
        choice = replace(choice, cut=chosen or usual.cut)
    if join is not None:
        joined = read_choice(place.reading, join.node, at(place.where, "joins"), BINDING_JOINS)
        choice = replace(choice, join=joined or usual.join)
    usable = place.find_usable(fabric)
    if usable <= lose_in_join(width, choice.join):
        words = f"of cloth that can be used {place.known.lengths.spell(usable)} wide the joins take all of a strip"
        place.add("width", f"{words}; take wider cloth, or a narrower strip")
    return replace(choice, extra=place.read_length("extra", usual.extra, MOST_EXTRA, is_above=False))


def _read_sleeve(place: _Place | None) -> SleeveChoice | None:
    if place is None:
        return None
    return SleeveChoice(place.read_fabric(), place.read_length("depth", SleeveChoice().depth, WIDEST_STRIP))


def _read_pillow(place: _Place | None) -> PillowChoice | None:
    if place is None:
        return None
    size = place.read_length("size", Fraction(16), LONGEST_SIDE)
    fabric = place.read_fabric()
    usable, seam = place.find_usable(fabric), place.known.lengths.seam or Fraction(0)
    if size + 2 * seam > usable:
        spell = place.known.lengths.spell
        words = f"a pillow of {spell(size)} does not fit on cloth that can be used {spell(usable)} wide"
        place.add("size", f"{words}; at most {spell(usable - 2 * seam)}")
    overlap = place.read_length(
        "overlap", choose_overlap(place.known.lengths.measure or "in"), WIDEST_OVERHANG, is_above=False
    )
    return PillowChoice(size, fabric, overlap)


def _read_bed(place: _Place | None) -> BedChoice | None:
    if place is None:
        return None
    usual = choose_drop(place.known.lengths.measure or "in")
    drop = place.read_length("drop", usual, LONGEST_DROP, is_above=False)
    tuck = place.read_length("tuck", Fraction(0), LONGEST_DROP, is_above=False)
    entry = place.found.get("mattress")
    where = at(place.where, "mattress")
    wanted = f"{', '.join(BED_NAMES)}, or its size: 60 x 80"
    text = None if entry is None else read_text(place.reading, entry.node, where, wanted)
    if entry is None or text is None:
        return None
    if text in BED_NAMES:
        bed = find_bed(text)
        if not bed.hangs and place.found.get("drop") is None:
            drop = Fraction(0)
        return BedChoice(text, bed.wide, bed.long, drop, tuck)
    if not any(char.isdigit() for char in text):
        near = place.reading.nearest.suggest(text, BED_NAMES)
        place.reading.add(entry.node.line, where, f"no mattress is named {quote(text)}{near}; write {wanted}")
        return None
    size = read_two(place.reading, entry.node, where, wanted, place.known.lengths.read)
    if size is None or place.known.lengths.measure is None:
        return None
    if max(size) > LONGEST_SIDE:
        spell = place.known.lengths.spell
        place.reading.add(entry.node.line, where, f"{spell(*size)} is too large; at most {spell(LONGEST_SIDE)}")
        return None
    return BedChoice(None, size[0], size[1], drop, tuck)


def _read_thread(place: _Place | None) -> ThreadChoice:
    usual = ThreadChoice()
    if place is None:
        return usual
    return ThreadChoice(
        place.read_plain("ratio", usual.ratio, LEAST_RATIO, MOST_RATIO),
        place.read_percent("waste", usual.waste),
        place.read_length("stitch", usual.stitch, MOST_STITCH, LEAST_STITCH, False, "0.5 mm to 6 mm"),
    )


def _read_percent(text: str) -> Fraction:
    found = _PERCENT.fullmatch(text)
    return read_number(found[1] if found is not None else text)
