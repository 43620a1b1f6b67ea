"""Cloth -> plain text that fits 60 columns: what to buy, how to cut it, by which methods, what comes after the top."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import floor

from planner.cloth.buy import SQUARED_END
from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.cloth_json import spell_metres
from planner.cloth.fold_lines import fold_lines
from planner.cloth.lay_lengthwise import LONG
from planner.cloth.name_rectangle import name_rectangle, spell_size
from planner.cloth.place_pieces import Strip
from planner.cloth.print_finish import describe_finish
from planner.cloth.print_methods import print_methods
from planner.measure import Ruler, spell_number
from planner.project import find_usable
from planner.say_bias import BiasWords
from planner.sheet import assign_letters, write_sheet

HOW_TO_CUT = (
    "The widest strips first, from the squared end, in two layers at most. Then each strip from its own squared end, "
    "in the order told: equal pieces side by side, and one above the other where the strip is high enough."
)


def print_cloth(cloth: Cloth, known: Mapping[str, str] | None = None) -> Iterator[str]:
    """Lines: the buying list with what it assumes, then fabric by fabric the strips, the widest first. `known` are the
    letters that the bench has given to piles: they stay."""
    plan = cloth.plan
    ruler = plan.ruler
    letters = assign_letters(write_sheet(plan, (cloth, ())), known)
    yield plan.project.name
    yield ""
    yield from _print_buying(cloth, ruler)
    if any(one.rectangles for one in cloth.fabrics):
        yield ""
        yield "Cut"
        yield from _fold(HOW_TO_CUT)
        if known:
            yield from _fold("The letters of the piles are those at the bench.")
    for one in cloth.fabrics:
        if one.rectangles:
            yield ""
            yield from _print_fabric(one, ruler, letters)
    bias = list(BiasWords(plan, letters.get).say_all())
    if bias:
        yield ""
        yield "On the bias outside"
        yield from (line for words in bias for line in _fold(words, 2))
    methods = list(print_methods(plan))
    if methods:
        yield ""
        yield from methods
    finish = describe_finish(plan)
    if finish:
        yield ""
        yield "After the top"
        yield from finish


def _print_buying(cloth: Cloth, ruler: Ruler) -> Iterator[str]:
    yield "Buy"
    name = max(6, *(len(one.fabric.name) for one in cloth.fabrics)) if cloth.fabrics else 6
    unit = ruler.measure
    longs = {one.fabric.name: ruler.to_cut(one.bought.layout).words for one in cloth.fabrics}
    wide = max(9, *map(len, longs.values())) if longs else 9
    yield f"  {'fabric':<{name}}  {'yards':>7}  {'metres':>6}  {f'{unit} long':>{wide}}  filled"
    for one in cloth.fabrics:
        buy = one.bought.buy
        if not one.bought.layout:
            yield f"  {one.fabric.name:<{name}}  nothing: all comes out of what is there"
            continue
        yield (
            f"  {one.fabric.name:<{name}}  {spell_number(buy.yards):>7}  {spell_metres(buy.metres):>6}  "
            f"{longs[one.fabric.name]:>{wide}}  {share_filled(one):>6}"
        )
        for what, length in one.more:
            yield from _fold(f"of it {spell_size(ruler, length)} {unit} for {what}", 4)
    yield from _tell_assumed(cloth, ruler)


def share_filled(one: FabricCloth) -> str:
    """How much of the layout becomes pieces: `84 %`."""
    laid = sum(many * each.wide * each.high for each, many in zip(one.rectangles, one.missing, strict=True))
    return f"{floor(100 * laid / (one.length * one.fabric.usable))} %" if one.length else "-"


def _tell_assumed(cloth: Cloth, ruler: Ruler) -> Iterator[str]:
    unit = ruler.measure
    by_width: dict[tuple[Fraction, Fraction, Fraction], list[str]] = {}
    for one in cloth.fabrics:
        by_width.setdefault((one.width, one.fabric.shrinkage, one.fabric.narrows), []).append(one.fabric.name)
    for (width, shrinkage, narrows), names in by_width.items():
        of = f"{', '.join(names)}: " if len(by_width) > 1 else ""
        percent = spell_number(shrinkage * 100)
        across = f" and {spell_number(narrows * 100)} % of its width (narrows)" if narrows else ""
        usable = spell_size(ruler, find_usable(width, narrows), is_down=True)
        yield from _fold(
            f"{of}Cloth {spell_size(ruler, width, is_down=True)} {unit} wide as sold (width), {usable} of it used "
            f"without the selvages; it loses {percent} % of its length{across} in the wash (shrinkage)."
        )
    yield from _fold(
        f"Yards go up to the next {spell_number(cloth.plan.project.yards)} (yards), metres to the next 10 cm. In them "
        f"are {spell_size(ruler, SQUARED_END)} {unit} to square the end{_say_again(cloth, ruler)}."
    )


def _say_again(cloth: Cloth, ruler: Ruler) -> str:
    """What is spare of each fabric."""
    spare = [(one.fabric.name, one.bought.margin) for one in cloth.fabrics if one.bought.margin]
    told = ", ".join(f"{name} {spell_size(ruler, margin)}" for name, margin in spare)
    if not told:
        return ""
    return f", and enough to cut any one strip again: {told} {ruler.measure}"


def _print_fabric(one: FabricCloth, ruler: Ruler, letters: Mapping[str, str]) -> Iterator[str]:
    unit = ruler.measure
    for number, piece in enumerate(one.stock, 1):
        size = f"{spell_size(ruler, piece.wide, is_down=True)} x {spell_size(ruler, piece.high, is_down=True)} {unit}"
        title = f"{one.fabric.name}, piece {number} that is there, {size}"
        if not piece.strips:
            yield from _fold(f"{title}: {piece.why_empty}")
            continue
        way = "along the grain" if piece.is_turned else "across"
        yield from _fold(f"{title}: strips {way}")
        yield from _print_strips(one, piece.strips, ruler, letters)
    if one.stock and one.strips:
        missing = [
            f"{many} x {name_rectangle(each, ruler)}"
            for each, many in zip(one.rectangles, one.missing, strict=True)
            if many
        ]
        yield from _fold(f"{one.fabric.name}: missing are {'; '.join(missing)}. From cloth:")
    if not one.strips:
        return
    proof = "no layout of this kind is shorter"
    if one.length != one.at_least:
        least = floor(one.at_least / ruler.step) * ruler.step
        proof = f"no layout of this kind is shorter than {spell_size(ruler, least)}"
    length = spell_size(ruler, one.length)
    yield from _fold(f"{one.fabric.name}: {length} {unit} long; {proof}")
    yield from _print_strips(one, one.strips, ruler, letters)


def _print_strips(one: FabricCloth, strips: Sequence[Strip], ruler: Ruler, letters: Mapping[str, str]) -> Iterator[str]:
    """Each width of strip once, the widest first; equal strips together, in each the cross cuts in their order."""
    widths: dict[Fraction, list[Strip]] = {}
    for strip in strips:
        widths.setdefault(strip.high, []).append(strip)
    for high, alike in widths.items():
        many = sum(strip.times for strip in alike)
        size = f"{spell_size(ruler, high)}{ruler.ending}"
        if high > LONG:  # no strip any more
            yield f"  {many} {'length' if many == 1 else 'lengths'} of {size}, cut along"
        else:
            yield f"  {many} {'strip' if many == 1 else 'strips'} {size} wide"
        for strip in alike:
            each = f"{strip.times} x " if len(alike) > 1 else "each " if strip.times > 1 else ""
            yield from _fold(f"{each}{say_strip(one, strip, ruler, letters)}", 4)


def say_strip(one: FabricCloth, strip: Strip, ruler: Ruler, letters: Mapping[str, str]) -> str:
    """What is cut from one strip, in the order of its cross cuts: `4 squares 3 1/2 [C]; 1 rectangle 2 1/2 x 30 [B]`."""
    pieces: dict[int, int] = {}
    for run in strip.runs:
        pieces[run.rectangle] = pieces.get(run.rectangle, 0) + run.pieces
    parts = []
    for number, count in pieces.items():
        rectangle = one.rectangles[number]
        labels = " ".join(letters[pile] for pile in rectangle.piles if pile in letters)
        parts.append(f"{count} {name_rectangle(rectangle, ruler, count)}{f' [{labels}]' if labels else ''}")
    return "; ".join(parts)


def _fold(text: str, indent: int = 0) -> list[str]:
    return fold_lines(text, " " * indent, " " * (indent + 2) if indent else "")
