"""Units that can be sewn in several ways -> what each method takes for as many as are needed.

A method's `rectangles` are what is cut for it, exactly; minutes are an estimate (see `pace`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.method_sizes import (
    count_segments,
    count_triangles,
    square_for_eight,
    square_for_four,
    square_for_halves,
    square_for_quarters,
    strip_for_halves,
)
from planner.cloth.method_units import Family, MethodUnit
from planner.cloth.pace import PACE, REACH, Handwork, Pace, count_strokes
from planner.cloth.rectangles import Rectangle
from planner.measure import spell_number
from planner.project import WIDEST_CLOTH, Method

DIAGONAL = Fraction(99, 70)  # of a square of 1, near enough for the time a seam takes
SQUARED = Fraction(1, 2)  # inches of a strip set, or of a pair of strips, that go with squaring its end
ON_BIAS = "all its edges lie on the bias"


class Terms(NamedTuple):
    """What all methods of a project go by: inches, and minutes for the piles of one kind. `oversize` is added to each
    square that is sewn before it is cut up; the units are trimmed then. `mark` is what a ruler is read by."""

    seam: Fraction
    oversize: Fraction
    usable: Mapping[str, Fraction]
    pile: Fraction
    mark: Fraction
    pace: Pace = PACE


@dataclass(frozen=True, slots=True)
class Way:
    """One method for all units of a batch.

    `made` come out, at least the needed ones. `pieces` are the squares, strips or patches that are cut, `work.cuts`
    strokes of the blade, before sewing and after. `trim_to` are the sizes that units are trimmed to on the way, the
    unfinished size last; none where nothing but points is trimmed. `beware` is what speaks against it.
    """

    method: Method
    made: int
    pieces: int
    rectangles: tuple[Rectangle, ...]
    work: Handwork
    minutes: Fraction
    trim_to: tuple[Fraction, ...] = ()
    beware: str = ""

    @property
    def cloth(self) -> Fraction:
        """Square inches of what is cut."""
        return sum((one.count * one.wide * one.high for one in self.rectangles), Fraction(0))


def list_ways(unit: MethodUnit, needed: int, terms: Terms) -> tuple[Way, ...]:
    """All methods that give `needed` of a unit (at least 1), their squares no wider than the cloth, patch by patch
    first."""
    singly, *quick = _LISTS[unit.family](unit, needed, terms)
    return singly, *(way for way in quick if _fits(way, terms))


def _fits(way: Way, terms: Terms) -> bool:
    return all(
        (min(one.wide, one.high) if one.may_turn else one.wide) <= _usable(terms, one.fabric) for one in way.rectangles
    )


def why_not_quick(unit: MethodUnit, terms: Terms) -> str:
    """Why there is no method for a unit but patch by patch; nothing where there is one."""
    if unit.family == "hourglass" and unit.is_mirrored:
        return "squares sewn in pairs give half of these mirrored"
    if unit.family == "row" and not _segments(unit, terms):
        return "a segment is longer than a strip"
    return ""


def _way(
    method: Method,
    made: int,
    pieces: int,
    cut: Sequence[Rectangle],
    work: Handwork,
    terms: Terms,
    piles: int,
    *,
    trim_to: tuple[Fraction, ...] = (),
    beware: str = "",
) -> Way:
    """`work.cuts` are those after sewing; those on the mat are added here."""
    strokes = sum(count_strokes(one.count, one.wide, _usable(terms, one.fabric)) for one in cut)
    work = work._replace(cuts=work.cuts + strokes)
    return Way(method, made, pieces, tuple(cut), work, work.minutes(terms.pace) + piles * terms.pile, trim_to, beware)


def _usable(terms: Terms, fabric: str) -> Fraction:
    return terms.usable.get(fabric, WIDEST_CLOTH)


def _squares(fabrics: Sequence[str], size: Fraction, per_fabric: int, makes: int, how: str) -> list[Rectangle]:
    """So many squares for each time a fabric is named."""
    what = f"square {spell_number(size)}, {how}"
    times = Counter(fabrics)
    return [Rectangle(name, size, size, True, per_fabric * many, makes, what) for name, many in times.items()]


def _cut_singly(fabrics: Sequence[str], size: Fraction, needed: int, per: int) -> list[Rectangle]:
    """The squares for `needed` triangles each time a fabric is named, `per` of them from each square."""
    what = f"square {spell_number(size)}, {'halved' if per == 2 else 'quartered'}"
    times = Counter(fabrics)
    return [Rectangle(name, size, size, True, _up(needed * many, per), per, what) for name, many in times.items()]


def _up(many: int, per: int) -> int:
    return -(-many // per)


def _parting(cut: Sequence[Rectangle]) -> int:
    """Strokes that part squares into triangles, two layers at once."""
    return sum(_up(one.count, 2) * (one.makes // 2) for one in cut)


def _sew_triangle_squares(unit: MethodUnit, needed: int, terms: Terms) -> Iterator[Way]:
    leg, seam, more = unit.size[0], terms.seam, terms.oversize
    sewn = leg + 2 * seam
    square = square_for_halves(leg, seam)
    cut = _cut_singly(unit.cloths, square, needed, 2)
    work = Handwork(_parting(cut), 0, needed, needed, needed * square * DIAGONAL, needed)
    yield _way("one by one", needed, 2 * needed, cut, work, terms, 1)

    pairs, size = _up(needed, 2), square + more
    cut = _squares(unit.cloths, size, pairs, 2, "two at a time")
    yield _quick("two at a time", unit, pairs, 2, cut, terms, seams=2, lines=1, cuts=1, inches=2 * size * DIAGONAL)

    pairs, size = _up(needed, 4), square_for_four(leg, seam, terms.mark)
    cut = _squares(unit.cloths, size, pairs, 4, "four at a time")
    work = Handwork(2 * pairs, 0, pairs, 4 * pairs, 4 * pairs * size, 4 * pairs, 4 * pairs)
    yield _way("four at a time", 4 * pairs, 2 * pairs, cut, work, terms, 1, trim_to=(sewn,), beware=ON_BIAS)

    pairs, size = _up(needed, 8), square_for_eight(leg, seam) + 2 * more
    cut = _squares(unit.cloths, size, pairs, 8, "eight at a time")
    yield _quick("eight at a time", unit, pairs, 8, cut, terms, seams=4, lines=2, cuts=4, inches=4 * size * DIAGONAL)

    strip = strip_for_halves(leg, seam, terms.mark)
    length = min(_usable(terms, fabric) for fabric in unit.cloths) - SQUARED
    per = count_triangles(length, strip)
    if per:
        yield _from_strips(unit, needed, terms, strip, per, sewn)


def _quick(
    method: Method,
    unit: MethodUnit,
    pairs: int,
    per: int,
    cut: Sequence[Rectangle],
    terms: Terms,
    *,
    seams: int,
    lines: int,
    cuts: int,
    inches: Fraction,
) -> Way:
    """Pairs of squares sewn beside drawn lines: what each pair takes; `per` units come out of each."""
    made = pairs * per
    is_large = bool(terms.oversize)
    work = Handwork(cuts * pairs, lines * pairs, pairs, seams * pairs, pairs * inches, made, made if is_large else 0)
    trim_to = (unit.size[0] + 2 * terms.seam,) if is_large else ()
    return _way(method, made, 2 * pairs, cut, work, terms, 1, trim_to=trim_to)


def _from_strips(unit: MethodUnit, needed: int, terms: Terms, strip: Fraction, per: int, sewn: Fraction) -> Way:
    cut = []
    work = Handwork(presses=needed, trims=needed)
    for sets, many in _share(needed, per):
        length = (many + 1) * strip + SQUARED
        what = f"strip for {unit.name}"
        times = Counter(unit.cloths)
        cut += [Rectangle(name, length, strip, False, sets * twice, many, what) for name, twice in times.items()]
        work = work._replace(
            cuts=work.cuts + sets * (many + 1),
            laid=work.laid + sets * _reach(length),
            seams=work.seams + 2 * sets,
            inches=work.inches + 2 * sets * length,
        )
    strips = sum(one.count for one in cut)
    return _way("from strips", needed, strips, cut, work, terms, 1, trim_to=(sewn,), beware=ON_BIAS)


def _share(needed: int, per: int) -> list[tuple[int, int]]:
    """(sets, how many each gives): full ones, then one with the rest."""
    full, rest = divmod(needed, per)
    return [(sets, many) for sets, many in ((full, per), (int(rest > 0), rest)) if sets]


def _reach(length: Fraction) -> int:
    """How often one takes hold along a long seam."""
    return -(-length // REACH)


def _sew_hourglasses(unit: MethodUnit, needed: int, terms: Terms) -> Iterator[Way]:
    long, seam, more = unit.size[0], terms.seam, terms.oversize
    square = square_for_quarters(long, seam)
    cut = _cut_singly(unit.cloths, square, needed, 4)
    inches = needed * (2 * square / 2 + (long + 2 * seam)) * DIAGONAL
    work = Handwork(_parting(cut), 0, 3 * needed, 3 * needed, inches, 3 * needed)
    yield _way("one by one", needed, 4 * needed, cut, work, terms, unit.kinds)
    if unit.is_mirrored:
        return
    first, second = unit.cloths[:2], unit.cloths[2:]
    couples = _up(needed, 2)  # of half squares, laid on one another
    size, middle = square + more, square_for_halves(long, seam) + more
    # One couple takes two half squares: of one pair of squares, or one of each of two
    halves = [(first, 2 * couples)] if sorted(first) == sorted(second) else [(first, couples), (second, couples)]
    cut, squares, sewn_first = [], 0, 0
    for fabrics, many in halves:
        pairs = _up(many, 2)
        cut += _squares(fabrics, size, pairs, 4, "two at a time, twice")
        squares += pairs
        sewn_first += 2 * pairs
    cut = _merge(cut)
    trims = sewn_first + 2 * couples if more else 0
    work = Handwork(
        squares + couples,
        squares + couples,
        squares + couples,
        2 * (squares + couples),
        2 * (squares * size + couples * middle) * DIAGONAL,
        sewn_first + 2 * couples,
        trims,
    )
    trim_to = (middle, long + 2 * seam) if more else ()
    yield _way("two at a time", 2 * couples, 2 * squares, cut, work, terms, 2, trim_to=trim_to)


def _merge(cut: Sequence[Rectangle]) -> list[Rectangle]:
    """Equal rectangles of one fabric in one entry."""
    many: dict[Rectangle, int] = {}
    for one in cut:
        alike = one._replace(count=0)
        many[alike] = many.get(alike, 0) + one.count
    return [one._replace(count=count) for one, count in many.items()]


def _sew_geese(unit: MethodUnit, needed: int, terms: Terms) -> Iterator[Way]:
    (wide, high), seam, more = unit.size, terms.seam, terms.oversize
    goose, *skies = unit.cloths
    large, small = square_for_quarters(wide, seam), square_for_halves(high, seam)
    cut = [*_cut_singly([goose], large, needed, 4), *_cut_singly(skies, small, needed, 2)]
    seam_length = small * DIAGONAL
    work = Handwork(_parting(cut), 0, 2 * needed, 2 * needed, 2 * needed * seam_length, 2 * needed)
    yield _way("one by one", needed, 3 * needed, cut, work, terms, unit.kinds)

    size, corner = (wide + 2 * seam, high + 2 * seam), high + 2 * seam
    body = f"rectangle {spell_number(size[1])} x {spell_number(size[0])}, its corners flipped"
    cut = [
        Rectangle(goose, size[0], size[1], True, needed, 1, body),
        *_squares(skies, corner, needed, 1, "stitched and flipped"),
    ]
    twice = 2 * needed
    work = Handwork(twice, twice, twice, twice, twice * corner * DIAGONAL, twice)
    yield _way("stitch and flip", needed, 3 * needed, cut, work, terms, 2)

    if skies[0] != skies[1]:
        return
    fours, large, small = _up(needed, 4), large + more, small + more
    cut = [
        *_squares([goose], large, fours, 4, "four geese"),
        *_squares(skies[:1], small, 4 * fours, 2, "four geese"),
    ]
    made = 4 * fours
    work = Handwork(
        3 * fours,  # the large square once, then each half with its third corner
        4 * fours,
        4 * fours,
        6 * fours,
        fours * (2 * large + 4 * small) * DIAGONAL,
        6 * fours,
        made if more else 0,
    )
    trims = (high + 2 * seam,) if more else ()
    yield _way("four at a time", made, 5 * fours, cut, work, terms, 2, trim_to=trims)


def _segments(unit: MethodUnit, terms: Terms) -> int:
    """How many segments a strip set of whole strips gives."""
    length = min(_usable(terms, fabric) for fabric in unit.cloths) - SQUARED
    return count_segments(length, unit.size[0] + 2 * terms.seam) if length > 0 else 0


def _sew_rows(unit: MethodUnit, needed: int, terms: Terms) -> Iterator[Way]:
    segment = unit.size[0] + 2 * terms.seam
    strips = list(zip(unit.cloths, (width + 2 * terms.seam for width in unit.widths), strict=True))
    long = len(strips) - 1
    cut = []
    for (fabric, width), many in Counter(strips).items():
        short, side = sorted((width, segment))
        kind = f"square {spell_number(side)}" if short == side else f"rectangle {spell_number(short)} x "
        what = kind if short == side else f"{kind}{spell_number(side)}"
        cut.append(Rectangle(fabric, side, short, True, needed * many, 1, what))
    work = Handwork(0, 0, long * needed, long * needed, long * needed * segment, long * needed)
    yield _way("one by one", needed, len(strips) * needed, cut, work, terms, unit.kinds)

    per = _segments(unit, terms)
    if not per:
        return
    cut, sets = [], 0
    work = Handwork()
    for many in _split(needed, unit.ways_pressed):
        for count, each in _share(many, per):
            length = each * segment + SQUARED
            for (fabric, width), times in Counter(strips).items():
                what = f"strip set {unit.name}"
                cut.append(Rectangle(fabric, length, width, False, count * times, each, what))
            sets += count
            work = work._replace(
                cuts=work.cuts + count * (each + 1),
                laid=work.laid + count * long * _reach(length),
                seams=work.seams + count * long,
                inches=work.inches + count * long * length,
                presses=work.presses + count * long * _reach(length),
            )
    yield _way("strip sets", needed, len(strips) * sets, _merge(cut), work, terms, 1)


def _split(needed: int, ways_pressed: Sequence[int]) -> list[int]:
    """As many of each version as are still needed, the most frequent one first: a set is pressed one way."""
    left, found = needed, []
    for many in ways_pressed:
        found.append(min(left, many))
        left -= found[-1]
    if left:
        found.append(left)
    return [many for many in found if many]


_LISTS: Mapping[Family, Callable[[MethodUnit, int, Terms], Iterator[Way]]] = {
    "triangle square": _sew_triangle_squares,
    "hourglass": _sew_hourglasses,
    "flying goose": _sew_geese,
    "row": _sew_rows,
}
