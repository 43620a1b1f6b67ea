"""Strips in the maker's words: where they are cut, what comes out of each, and from which of them a pile is cut."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from planner.cloth.cut_strips import Source, StripCut, list_cuts_of
from planner.cloth.name_rectangle import name_rectangle, spell_size
from planner.cloth.place_pieces import Strip
from planner.cloth.rectangles import Rectangle
from planner.measure import Ruler

ON_WRONG_SIDE = "on the wrong side in pencil or soap, never ink"
_MOST_TOLD = 4  # unlike strips of one width that are told one by one
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six")


class StripWords:
    """Says the strips of one sheet; `letter` gives the letter of a pile, or nothing where it has none."""

    def __init__(self, ruler: Ruler, letter: Callable[[str], str]) -> None:
        self.ruler = ruler
        self.letter = letter

    def name(self, cut: StripCut, many: int) -> str:
        """`3 strips of slate 3 7/8 wide`; of more than a ruler's length `1 length of slate, 26 5/8`."""
        size = self._size(cut.wide, cut)
        if cut.is_long:
            return f"{many} {'length' if many == 1 else 'lengths'} of {cut.fabric}, {size}"
        return f"{many} {'strip' if many == 1 else 'strips'} of {cut.fabric} {size} wide"

    def say_does(self, cut: StripCut) -> Iterator[str]:
        """What the hands do, line by line."""
        if cut.is_first:
            yield from self._say_begin(cut)
        elif cut.is_long:
            yield f"Across the whole cloth, {self._size(cut.wide, cut)} from the squared end"
        else:
            yield "Across from the squared end, one below the other"
        if cut.is_long:
            yield "Then cut it along the selvage, its widest pieces first"
        yield from self._say_gives(cut)
        if cut.is_last and cut.stock is None:
            told = [f"{self._size(length, cut)} {{}}for {what}" for what, length in cut.cloth.more]
            if told:
                yield f"Leave the rest whole: {', '.join(told).replace('{}', 'of its length is ', 1).replace('{}', '')}"

    def _say_begin(self, cut: StripCut) -> Iterator[str]:
        stock = cut.stock
        if stock is None:
            wash = "Wash and press" if cut.cloth.fabric.shrinkage else "Press"
            yield f"{wash} {cut.fabric}, fold it selvage to selvage, two layers at most, and square one end"
            if cut.is_long:
                size = self._size(cut.wide, cut)
                yield f"Unfold it: across the whole cloth, {size} from the end; cut the selvages off"
            else:
                yield "Across from the squared end, from selvage to selvage; cut the selvages off"
            return
        size = " x ".join(spell_size(self.ruler, side, is_down=True) for side in (stock.wide, stock.high))
        which = f"piece {cut.piece} that is there, {size}{self.ruler.ending}"
        way = "along its grain" if stock.is_turned else "across its grain"
        yield f"From {which}: press it, square an end, cut {way}"

    def _say_gives(self, cut: StripCut) -> Iterator[str]:
        strips = cut.strips
        if len(strips) > _MOST_TOLD:
            yield f"Together they give {self._list_pieces(cut, strips)}"
            return
        told = []
        for strip in strips:
            pieces = self._list_pieces(cut, (strip._replace(times=1),))
            if len(strips) == 1:
                who = "It gives" if strip.times == 1 else "Each gives"
            else:
                who = f"{_spell_number(strip.times)} {'gives' if strip.times == 1 else 'give'}"
                who += " each" if strip.times > 1 else ""
            told.append(f"{who} {pieces}{self._say_whole(cut, strip)}")
        yield from told

    def _list_pieces(self, cut: StripCut, strips: Sequence[Strip]) -> str:
        held: dict[Rectangle, int] = {}
        for strip in strips:
            for run in strip.runs:
                one = cut.cloth.rectangles[run.rectangle]
                if _is_long_strip(one):  # for whichever seams
                    one = one._replace(what="strip ", makes=1, count=0)
                held[one] = held.get(one, 0) + run.pieces * strip.times
        words = [self._count_pieces(one, many) for one, many in held.items()]
        return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"

    def _count_pieces(self, rectangle: Rectangle, many: int) -> str:
        letters = [letter for letter in map(self.letter, rectangle.piles) if letter]
        to = f" for {' '.join(letters)}" if letters else ""
        if _is_long_strip(rectangle):
            wide, high = (spell_size(self.ruler, side) for side in (rectangle.wide, rectangle.high))
            return f"{many} {'strip' if many == 1 else 'strips'} {high} x {wide}{self.ruler.ending}{to}"
        return f"{many} {name_rectangle(rectangle, self.ruler, many, has_parts=False)}{to}"

    def _say_whole(self, cut: StripCut, strip: Strip) -> str:
        """Of a strip that is nothing but one piece what is left to cut of it."""
        if cut.cloth.rectangles[strip.runs[0].rectangle].is_row:
            return ""
        if len(strip.runs) != 1 or strip.runs[0].pieces != 1 or strip.runs[0].high != strip.high:
            return ""
        if strip.runs[0].wide == cut.room:
            return ": it stays whole, no cross cut"
        return ": no cross cut but to its length"

    def say_sources(self, sources: Sequence[Source], has_counts: bool = True) -> str:
        """From which strips the pieces of a pile are cut: `Out of the strips 3 7/8 wide`; how many from which where it
        `has_counts` and there are several."""
        alike: dict[tuple[Fraction, int], list[Source]] = {}
        for source in sources:
            alike.setdefault((source.cut.wide, source.cut.piece), []).append(source)
        told = []
        for (_, piece), found in alike.items():
            cut, first = found[0].cut, found[0]
            many = sum(source.count for source in found)
            count = f"{many} " if has_counts and len(alike) > 1 and not first.is_shared else ""
            kind = "length" if cut.is_long else "strip"
            noun = f"the {kind}" if cut.count == 1 else f"the {kind}s"
            where = f"{noun} {self._size(cut.wide, cut)}{'' if cut.is_long else ' wide'}"
            where += f" of piece {piece}" if piece else ""
            told.append(f"{count}out of {where}{self._say_down(found)}")
        line = "; ".join(told)
        return f"{line[:1].upper()}{line[1:]}"

    def _say_down(self, found: Sequence[Source]) -> str:
        """What is cut away of a strip that is wider than the piece, and what is left to cut of one that is not."""
        cut, first = found[0].cut, found[0]
        if len(found) > 1:
            return ""
        if first.high < cut.wide:
            times = f", {first.deep} one above the other in the strip" if first.deep > 1 else ""
            return f", cut down to {self._size(first.high, cut)}{times}"
        if first.row is not None:
            return ""
        if first.wide == cut.room:
            return ": whole strips, no cross cut"
        return ": only cut to length" if 2 * first.wide > cut.room else ""

    def say_again(self, sources: Sequence[Source]) -> str:
        """Where more is cut than was planned: `out of what is left at the end of a strip 3 7/8 wide`."""
        narrow = min(sources, key=lambda source: source.cut.wide)
        wide, high = narrow.wide, narrow.high
        if narrow.row is not None:  # one piece needs no whole row; with its slanted ends it may be as wide as two
            wide, high = narrow.row.wide * 2 / narrow.row.makes, narrow.row.high
        size = self._size(high, narrow.cut)
        held = [cut for cut in list_cuts_of(narrow.cut.cloth) if _has_rest(cut, wide, high)]
        if not held:
            return f"out of one strip more, {size} wide: no strip has so much left at its end"
        cut = min(held, key=lambda one: one.wide)
        piece = f" of piece {cut.piece}" if cut.piece else ""
        where = f"a {'length' if cut.is_long else 'strip'} {self._size(cut.wide, cut)} wide{piece}"
        return f"out of what is left at the end of {where}; else out of one strip more, {size} wide"

    def say_rows_off(self, sources: Sequence[Source]) -> Iterator[str]:
        """Where rows of slanted pieces are part of wider strips: how they are cut off first, and how they lie then."""
        told = []
        for source in sources:
            row = source.row
            if row is None or (source.high == row.high and source.high == source.cut.wide):
                continue
            many = max(1, source.count // row.makes)
            rows = f"{many} {'row' if many == 1 else 'rows'} {self._size(row.high, source.cut)} wide"
            way = "along" if source.high == row.high else "across"
            strip = "the strip" if source.cut.count == 1 else "the strips"
            piece = f" of piece {source.cut.piece}" if source.cut.piece else ""
            told.append(f"{rows}, {way} {strip} {self._size(source.cut.wide, source.cut)} wide{piece}")
        if told:
            yield f"First cut off {'; '.join(told)}"
            yield "Lay each row before you, its length from left to right"

    def _size(self, length: Fraction, cut: StripCut) -> str:
        return f"{spell_size(self.ruler, length)}{self.ruler.ending}"


def _has_rest(cut: StripCut, wide: Fraction, high: Fraction) -> bool:
    """Whether at the end of a strip so much is left."""
    ends = (max(run.x + run.across * run.wide for run in strip.runs) for strip in cut.strips)
    return cut.wide >= high and any(cut.room - end >= wide for end in ends)


def _is_long_strip(rectangle: Rectangle) -> bool:
    """Whether it goes to the machine as a strip, by a method."""
    return rectangle.what.startswith("strip ") and not rectangle.is_row


def _spell_number(many: int) -> str:
    return _NUMBERS[many] if many < len(_NUMBERS) else str(many)
