"""All that comes after the top -> plain text that fits 60 columns, or one object for other programs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from planner.cloth.back_from_stock import StockBacking
from planner.cloth.backing import Backing
from planner.cloth.bed_sizes import BEDS, Size, cover_mattress, fill_quilt, fill_top, find_bed
from planner.cloth.binding import Binding
from planner.cloth.buy import SQUARED_END
from planner.cloth.finish_quilt import Backed, Bedded, Bound, Cloth, Cushion, Finished, finish_quilt, list_blocks
from planner.cloth.fold_lines import fold_lines
from planner.cloth.round_length import YARD, ToBuy
from planner.cloth.thread import count_to_inch
from planner.finish import BackingChoice, BedChoice, Finish, choose_drop
from planner.measure import INCHES_PER_CM, Ruler, spell_number
from planner.plan import Plan

_TOGETHER = re.compile(r"(?<=\d) (?=\d+/\d|(?:cm|mm|m|yd)\b|%)")
_SEAMS = {0: "one piece", 1: "one seam", 2: "two seams"}


def describe_finish(plan: Plan) -> tuple[str, ...]:
    """Lines: backing, batting, binding and so on; what of it is there."""
    finished = finish_quilt(plan)
    teller = _Teller(plan.ruler, finished)
    return tuple(line for sentence in teller.tell() for line in _fold(sentence))


def write_finish(plan: Plan) -> dict[str, object]:
    """The same as one object; lengths are inches, as the plan spells them. What there is none of is null."""
    finished = finish_quilt(plan)
    backing, batting, binding, sleeve = finished.backing, finished.batting, finished.binding, finished.sleeve
    return {
        "top": None if finished.top is None else _spell(*finished.top),
        "backing": None if backing is None else _describe_backed(backing),
        "batting": None
        if batting is None
        else {
            "size": _spell(batting.wide, batting.high),
            "run": batting.run,
            "lengths": batting.lengths,
            "length": spell_number(batting.length),
        },
        "binding": None if binding is None else _describe_bound(binding),
        "sleeve": None
        if sleeve is None
        else {
            **_describe_cloth(sleeve.cloth, sleeve.tube.cloth),
            "cut": _spell(sleeve.tube.long, sleeve.tube.deep),
            "strips": sleeve.tube.strips,
        },
        "pillows": [_describe_cushion(one) for one in finished.pillows],
        "bed": None if finished.bed is None else _describe_bed(finished.bed),
        "thread": {
            "seams": spell_number(finished.thread.seams),
            "stitches": finished.thread.stitches,
            "length": spell_number(finished.thread.length),
            "bobbin": spell_number(finished.thread.bobbin),
        },
    }


def print_beds(plan: Plan) -> Iterator[str]:
    """A table for each size of block: how many of them a bed takes, all over the quilt and on the mattress alone."""
    bed = plan.project.finish.bed if plan.project.finish is not None else None
    drop = bed.drop if bed is not None else choose_drop(plan.project.measure)
    tuck = bed.tuck if bed is not None else Fraction(0)
    show = _Lengths(plan.ruler)
    for size in list_blocks(plan):
        yield f"Blocks of {show.sides(size)}, finished"
        rows = [("bed", "quilt", "all over", "on top")]
        for one in BEDS:
            mattress = one.wide, one.long
            quilt = cover_mattress(mattress, drop, tuck) if one.hangs else mattress
            full, few = fill_quilt(quilt, size), fill_top(one, size)
            rows.append(
                (
                    one.name,
                    show.quilt(quilt),
                    f"{full.across} x {full.down} = {full.blocks}",
                    f"{few.across} x {few.down} = {few.blocks}",
                )
            )
        wide = [max(map(len, column)) for column in zip(*rows, strict=True)]
        for row in rows:
            yield "  ".join(text.ljust(length) for text, length in zip(row, wide, strict=True)).rstrip()
        yield ""
    yield from _fold(
        f"All over: as many as go into a quilt that hangs down {show(drop)} at both sides and at the foot"
        f"{f' and is {show(tuck)} longer for the pillows' if tuck else ''}. On top: as many as lie on the mattress "
        "below the pillows. Borders make up the rest. Crib and lap quilts hang down nowhere."
    )
    for source in dict.fromkeys(one.source for one in BEDS):
        told = [one for one in BEDS if one.source == source]
        yield from _fold(f"{', '.join(one.name for one in told)}: {source}.")
    for one in BEDS:
        if one.others:
            yield from _fold(f"{one.name}: also {one.others}.")


def describe_beds(plan: Plan) -> dict[str, object]:
    """The same as one object."""
    bed = plan.project.finish.bed if plan.project.finish is not None else None
    drop = bed.drop if bed is not None else choose_drop(plan.project.measure)
    tuck = bed.tuck if bed is not None else Fraction(0)
    return {
        "drop": spell_number(drop),
        "tuck": spell_number(tuck),
        "beds": [
            {
                "bed": one.name,
                "mattress": _spell(one.wide, one.long),
                "source": one.source,
                "quilt": _spell(*quilt),
                "blocks": [
                    {
                        "size": _spell(*size),
                        "all_over": [full.across, full.down],
                        "borders": _spell(*full.borders),
                        "on_the_mattress": [few.across, few.down],
                    }
                    for size in list_blocks(plan)
                    for full, few in ((fill_quilt(quilt, size), fill_top(one, size)),)
                ],
            }
            for one in BEDS
            for quilt in (cover_mattress((one.wide, one.long), drop, tuck) if one.hangs else (one.wide, one.long),)
        ],
    }


class _Lengths:
    """Lengths for the eye: rounded up to a line of the ruler, as everything here is cut or bought."""

    def __init__(self, ruler: Ruler) -> None:
        self.ruler = ruler

    def __call__(self, length: Fraction) -> str:
        return f"{self.ruler.to_cut(length).words}{self.ruler.ending}"

    def sides(self, size: Size) -> str:
        return self.ruler.sides(self.ruler.to_cut(size[0]), self.ruler.to_cut(size[1]))

    def quilt(self, size: Size) -> str:
        """Two sides of a bed's quilt, in centimetres without their tenths: mattresses are told in inches."""
        if self.ruler.measure == "in":
            return self.sides(size)
        wide, high = (round(side / INCHES_PER_CM) for side in size)
        return f"{wide} x {high} cm"

    def buy(self, bought: ToBuy) -> str:
        """In the maker's measure first: `3 1/4 yd (3 m)`."""
        yards, metres = f"{spell_number(bought.yards)} yd", f"{_spell_tenths(bought.metres)} m"
        return f"{yards} ({metres})" if self.ruler.measure == "in" else f"{metres} ({yards})"

    def buying(self, cloth: Cloth, length: Fraction) -> str:
        """`113 of cloth: buy 3 1/4 yd (3 m)`; of a fabric that is listed, where it is counted."""
        if cloth.is_listed:
            return f"{self(length)} of cloth, counted with {cloth.fabric}"
        return f"{self(length)} of cloth: buy {self.buy(cloth.buy(length))}"

    def cloth(self, cloth: Cloth) -> str:
        """`navy, 42 wide`."""
        width = self(cloth.sold)
        return f"{cloth.fabric}, {width} wide" if cloth.fabric is not None else f"cloth {width} wide"


class _Teller:
    """Finds words for what comes after the top."""

    def __init__(self, ruler: Ruler, finished: Finished) -> None:
        self.show = _Lengths(ruler)
        self.finished = finished
        self.finish: Finish = finished.finish

    def tell(self) -> Iterator[str]:
        show, finished = self.show, self.finished
        if finished.top is not None:
            yield f"The top, before it is bound: {show.sides(finished.top)}."
        if finished.backing is not None:
            yield from self._tell_backing(finished.backing)
        yield from self._tell_batting()
        if finished.binding is not None:
            yield from self._tell_binding(finished.binding)
        if finished.sleeve is not None:
            cloth, tube = finished.sleeve
            pieced = f", of {tube.strips} strips joined" if tube.strips > 1 else ""
            yield (
                f"Hanging sleeve: {show(tube.deep)} deep, {show(tube.long)} long{pieced}, of {show.cloth(cloth)}: "
                f"{show.buying(cloth, tube.cloth)}. Ends are hemmed; it lies double."
            )
        for one in finished.pillows:
            yield self._tell_pillow(one)
        if finished.bed is not None and self.finish.bed is not None:
            yield from self._tell_bed(finished.bed, self.finish.bed)
        parts = (finished.backing, finished.binding, finished.sleeve, *finished.pillows)
        if any(part is not None and not part.cloth.is_listed for part in parts):
            yield f"To buy: {show(SQUARED_END)} for squaring the end and what the cloth shrinks are in it."
        if finished.thread.seams:
            yield self._tell_thread()

    def _tell_backing(self, backed: Backed) -> Iterator[str]:
        show, choice = self.show, self.finish.backing
        assert choice is not None
        need = backed.taken
        cloth = backed.cloth
        if backed.from_stock is not None:
            yield self._tell_from_stock(backed.from_stock, cloth, choice)
            yield f"  Or of cloth to buy: {self._say_way(need)}: {show(need.cloth)} of cloth."
            return
        allowance = f", allowance {show(choice.seam)}" if need.seams else ""
        yield (
            f"Backing: {show(choice.overhang)} larger than the top on every side. Of {show.cloth(cloth)} "
            f"({show(cloth.usable)} of it used): {self._say_way(need)}{allowance}. That is "
            f"{show.sides((need.wide, need.high))}, and takes {show.buying(cloth, need.cloth)}."
            f"{self._say_least(backed)}"
        )
        for way in backed.ways:
            if way != need:
                saves = " (less cloth, more seams)" if way.cloth < need.cloth else ""
                yield f"  Or {self._say_way(way)}: {show(way.cloth)} of cloth{saves}."
        for way, overhang in backed.thrifty[:1]:
            yield (
                f"  With {show.ruler.to_measure(overhang).words}{show.ruler.ending} over at two sides "
                f"{_many(way.lengths, 'length')} of {show(way.panel)} {_do(way.lengths)}: {show(way.cloth)} of cloth."
            )

    @staticmethod
    def _say_least(backed: Backed) -> str:
        """Why it is not the way with the least cloth, where it is not."""
        if all(way.cloth >= backed.taken.cloth for way in backed.ways):
            return ""
        is_least = all(way.pieces or way.cloth >= backed.taken.cloth for way in backed.ways)
        return " No way in whole lengths takes less." if is_least else " Its seams lie as the project says."

    def _tell_from_stock(self, found: StockBacking, cloth: Cloth, choice: BackingChoice) -> str:
        show = self.show
        places = [str(place + 1) for place in found.places]
        pieces = f"piece {places[0]}" if len(places) == 1 else f"pieces {', '.join(places[:-1])} and {places[-1]}"
        how = f"1 length of {show(found.panel)}, no seam"
        if found.lengths > 1:
            each = "; ".join(f"{many} of piece {place + 1}, {show(wide)} wide" for place, many, wide in found.taken)
            seams = _SEAMS.get(found.lengths - 1, f"{found.lengths - 1} seams")
            how = (
                f"{found.lengths} lengths of {show(found.panel)} ({each}), {seams} {found.run} the quilt, "
                f"allowance {show(choice.seam)}"
            )
        size = show.sides((found.wide, found.high))
        return (
            f"Backing: {show(choice.overhang)} larger than the top on every side. It comes out of the {cloth.fabric} "
            f"that is there, {pieces}: {how}. That is {size}; nothing is bought for it, "
            f"and no patches are cut from {'that piece' if len(places) == 1 else 'these pieces'}."
        )

    def _say_way(self, way: Backing) -> str:
        """`2 lengths of 56 1/2, one seam across the quilt`."""
        show = self.show
        words = f"{_many(way.lengths, 'length')} of {show(way.panel)}"
        if way.is_split:
            words += ", one of them split along the middle, a half to each side"
        if way.pieces:
            of = f" of {way.pieces} pieces" if way.pieces > 1 else ""
            words += f" and a strip{of} {show(way.strip)} wide, cut across{' and joined' if of else ''}"
        if not way.seams:
            return f"{words}, no seam"
        return f"{words}, {_SEAMS.get(way.seams, f'{way.seams} seams')} {way.run} the quilt"

    def _tell_batting(self) -> Iterator[str]:
        show, batting, choice = self.show, self.finished.batting, self.finish.batting
        if batting is None or choice is None:
            return
        words = f"Batting: {show.sides((batting.wide, batting.high))}, {show(choice.overhang)} over on every side"
        if choice.width is not None:
            joined = f", butted, {batting.run} the quilt" if batting.lengths > 1 else ""
            words += (
                f"; off a roll {show(choice.width)} wide {_many(batting.lengths, 'length')} of {show(batting.panel)}"
                f"{joined}: {show(batting.length)}"
            )
        yield f"{words}."

    def _tell_binding(self, bound: Bound) -> Iterator[str]:
        show, choice, strip, cloth = self.show, self.finish.binding, bound.strip, bound.cloth
        assert choice is not None
        yield (
            f"Binding: {show(strip.around)} round and {show(choice.extra)} for corners and closing, "
            f"{show(strip.length)} in all."
        )
        if isinstance(strip, Binding):
            joins = f", {choice.join} joins" if strip.joins else ""
            yield (
                f"  {_many(strip.strips, 'strip')} {show(choice.width)} wide, cut across {show.cloth(cloth)}{joins}: "
                f"{show.buying(cloth, strip.cloth)}."
            )
            return
        square = f", or a square of {show(strip.square)}" if strip.square is not None else ""
        yield (
            f"  On the bias, {show(choice.width)} wide, in one, out of the whole width of {show.cloth(cloth)}{square}: "
            f"{show.buying(cloth, strip.cloth)}."
        )

    def _tell_pillow(self, one: Cushion) -> str:
        show, choice = self.show, self.finish.pillow
        assert choice is not None
        if one.top is None:
            return f"Pillows of {show(choice.size)}: {one.block} is larger than that."
        borders = ""
        if one.top.sides or one.top.ends:
            borders = f" and a border, {show(one.top.sides)} wide at the sides, {show(one.top.ends)} above and below,"
        words = (
            f"Pillows of {show(choice.size)}: {_many(one.top.blocks, 'block')} of {one.block}{borders} on each; your "
            f"{one.blocks} do for {one.made}."
        )
        if not one.made:
            return words
        return (
            f"{words} Backs: 2 pieces {show.sides(one.top.back)} each, of {show.cloth(one.cloth)}; with the "
            f"borders {show.buying(one.cloth, one.length)}."
        )

    def _tell_bed(self, bedded: Bedded, choice: BedChoice) -> Iterator[str]:
        show = self.show
        name = f"{choice.name}, " if choice.name is not None else ""
        source = f" ({find_bed(choice.name).source})" if choice.name is not None else ""
        tuck = f" and {show(choice.tuck)} more for the pillows" if choice.tuck else ""
        yield (
            f"Bed: {name}{show.sides((choice.wide, choice.long))}{source}. With {show(choice.drop)} hanging down at "
            f"both sides and at the foot{tuck} a quilt is {show.sides(bedded.wanted)}."
        )
        if bedded.hangs is not None:
            sides, foot = (self._say_drop(side) for side in bedded.hangs)
            yield f"  This quilt: {sides} at each side, {foot} at the foot."
        for size, filled in bedded.filled:
            yield (
                f"  Blocks of {show.sides(size)}: {filled.across} x {filled.down} = {filled.blocks}; left for borders "
                f"{show(filled.borders[0])} at each side, {show(filled.borders[1])} above and below."
            )

    def _say_drop(self, drop: Fraction) -> str:
        words = f"{self.show.ruler.to_measure(abs(drop)).words}{self.show.ruler.ending}"
        if not drop:
            return "as far as the edge"
        return f"{words} down" if drop > 0 else f"{words} short of the edge"

    def _tell_thread(self) -> str:
        thread, choice = self.finished.thread, self.finish.thread
        metre = 100 * INCHES_PER_CM
        yards, metres = ceil(thread.length / YARD), ceil(thread.length / metre)
        is_in_yards = self.show.ruler.measure == "in"
        seams = f"{ceil(thread.seams / YARD):,} yd" if is_in_yards else f"{ceil(thread.seams / metre):,} m"
        long = f"{yards:,} yd ({metres:,} m)" if is_in_yards else f"{metres:,} m ({yards:,} yd)"
        millimetres = _spell_tenths(choice.stitch / INCHES_PER_CM * 10)
        return (
            f"Thread: {seams} of seams, {spell_number(choice.ratio)} times as much thread and "
            f"{spell_number(choice.waste * 100)} % for ends: {long}, half of it on bobbins. About {thread.stitches:,} "
            f"stitches of {millimetres} mm, {count_to_inch(choice.stitch)} to the inch."
        )


def _describe_cloth(cloth: Cloth, length: Fraction) -> dict[str, object]:
    bought = None if cloth.is_listed else cloth.buy(length)
    return {
        "fabric": cloth.fabric,
        "width": spell_number(cloth.sold),
        "usable": spell_number(cloth.usable),
        "length": spell_number(length),
        "buy": None
        if bought is None
        else {"yards": spell_number(bought.yards), "metres": _spell_tenths(bought.metres)},
    }


def _describe_backed(backed: Backed) -> dict[str, object]:
    stock = backed.from_stock
    bought = backed.taken.cloth if stock is None else Fraction(0)
    found = {**_describe_cloth(backed.cloth, bought), **_describe_way(backed.taken)}
    if stock is not None:
        found["from_stock"] = {
            "run": stock.run,
            "seams": stock.lengths - 1,
            "panel": spell_number(stock.panel),
            "size": _spell(stock.wide, stock.high),
            "pieces": [
                {"piece": place + 1, "lengths": many, "wide": spell_number(wide)} for place, many, wide in stock.taken
            ],
        }
    found["ways"] = [_describe_way(way) for way in backed.ways]
    found["with_less_overhang"] = [
        {**_describe_way(way), "overhang": spell_number(overhang)} for way, overhang in backed.thrifty
    ]
    return found


def _describe_way(way: Backing) -> dict[str, object]:
    return {
        "run": way.run,
        "seams": way.seams,
        "lengths": way.lengths,
        "panel": spell_number(way.panel),
        "split": way.is_split,
        "strip": spell_number(way.strip),
        "pieces": way.pieces,
        "size": _spell(way.wide, way.high),
        "cloth": spell_number(way.cloth),
    }


def _describe_bound(bound: Bound) -> dict[str, object]:
    strip = bound.strip
    found = _describe_cloth(bound.cloth, strip.cloth)
    found |= {"around": spell_number(strip.around), "needed": spell_number(strip.length)}
    if isinstance(strip, Binding):
        return {**found, "cut": "straight", "strips": strip.strips, "made": spell_number(strip.made)}
    return {**found, "cut": "bias", "square": None if strip.square is None else spell_number(strip.square)}


def _describe_cushion(one: Cushion) -> dict[str, object]:
    found: dict[str, object] = {"block": one.block, "count": one.made}
    if one.top is None:
        return found
    top = one.top
    return {
        **found,
        **_describe_cloth(one.cloth, one.length),
        "blocks": [top.across, top.down],
        "borders": _spell(top.sides, top.ends),
        "back": _spell(*top.back),
    }


def _describe_bed(bedded: Bedded) -> dict[str, object]:
    return {
        "wanted": _spell(*bedded.wanted),
        "hangs": None if bedded.hangs is None else _spell(*bedded.hangs),
        "blocks": [
            {"size": _spell(*size), "count": [filled.across, filled.down], "borders": _spell(*filled.borders)}
            for size, filled in bedded.filled
        ],
    }


def _spell(*lengths: Fraction) -> list[str]:
    return [spell_number(length) for length in lengths]


def _spell_tenths(value: Fraction) -> str:
    """A number of tenths as a decimal."""
    whole, tenths = divmod(round(value * 10), 10)
    return f"{whole}.{tenths}"


def _do(count: int) -> str:
    return "does" if count == 1 else "do"


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


def _fold(sentence: str) -> list[str]:
    """Lines in which no number is parted from its fraction or its measure."""
    indent = "  " if sentence.startswith("  ") else ""
    return fold_lines(sentence.strip(), indent, "  ", _TOGETHER)
