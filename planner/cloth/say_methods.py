"""Methods -> what the hands do by them, at the steps of the sheet: cutting, sewing, and what comes after pressing.

The sheet keeps its steps: what a method sews in fewer seams is counted by the pairs that come out of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from planner.cloth.choose_methods import Choice
from planner.cloth.cut_by_method import Instead, Whole, choose_where_asked, cut_by_method
from planner.cloth.method_sizes import square_for_halves
from planner.cloth.rectangles import Rectangle
from planner.cloth.say_strips import ON_WRONG_SIDE
from planner.measure import Ruler
from planner.plan import Plan
from planner.project import Method


class _Part(NamedTuple):
    """A unit that a method sews: so many of it, as its last seam or on the way there."""

    choice: Choice
    many: int
    is_last: bool


class MethodWords:
    """Says the methods of one plan; has nothing to say where every patch is cut and sewn by itself."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.ruler: Ruler = plan.ruler
        self.choices = choose_where_asked(plan)
        self.instead = cut_by_method(plan, self.choices)
        self._parts: dict[int, list[_Part]] = {}
        for choice in self.choices:
            for number in plan.batches.batches[choice.unit.batch].units:
                self._parts.setdefault(number, []).append(_Part(choice, choice.needed, True))
            for number in dict.fromkeys(choice.unit.inside):
                many = choice.needed * choice.unit.inside.count(number)
                self._parts.setdefault(number, []).append(_Part(choice, many, False))

    def method_of(self, number: int) -> Method | None:
        """By which method a unit's last seam is sewn, where that is not pair by pair."""
        parts = self._parts.get(number)
        chosen = parts[0].choice.chosen if parts else None
        return chosen.method if chosen is not None else None

    # -- cutting

    def say_cut(self, instead: Instead) -> str:
        """What is cut in place of patches: `3 squares 7 3/4, left whole (eight at a time)`."""
        together: dict[Whole, int] = {}
        for whole in instead.wholes:
            alike = whole._replace(batch=0, rectangle=whole.rectangle._replace(count=0, what=""))
            together[alike] = together.get(alike, 0) + whole.rectangle.count
        counted = (one._replace(rectangle=one.rectangle._replace(count=many)) for one, many in together.items())
        return "; ".join(f"{self._count(whole)} ({whole.method})" for whole in counted)

    def _count(self, whole: Whole) -> str:
        one = whole.rectangle
        many, end = one.count, self.ruler.ending
        wide, high = (self.ruler.to_cut(side).words for side in (one.wide, one.high))
        if whole.method in ("strip sets", "from strips"):
            return f"{many} {'strip' if many == 1 else 'strips'} {high}{end} wide, {wide}{end} long"
        if one.wide == one.high:
            left = "" if whole.method == "stitch and flip" else ", left whole"
            return f"{many} {'square' if many == 1 else 'squares'} {wide}{end}{left}"
        return f"{many} {'rectangle' if many == 1 else 'rectangles'} {high} x {wide}{end}"

    # -- sewing

    def say_sew(self, number: int, pairs: int) -> tuple[tuple[str, ...], bool]:
        """What is done at the machine for a unit's last seam; and whether all `pairs` of the unit are sewn so."""
        parts = self._parts.get(number, [])
        lines = tuple(line for part in parts for line in self._say_part(part))
        return lines, sum(part.many for part in parts) >= pairs

    def _say_part(self, part: _Part) -> Iterator[str]:
        chosen = part.choice.chosen
        assert chosen is not None
        yield f"By {chosen.method}, {part.many} in all: count what comes out"
        yield from self._LINES[part.choice.unit.family, chosen.method](self, part)
        if part.is_last and chosen.trim_to:
            yield f"After pressing trim to {self._size(chosen.trim_to[-1])}"

    def say_pressed(self, number: int) -> tuple[str, ...]:
        """What is done once a unit's last seam is pressed."""
        lines = []
        for part in self._parts.get(number, ()):
            chosen = part.choice.chosen
            if part.is_last and chosen is not None and chosen.method == "strip sets":
                segment = part.choice.unit.size[0] + 2 * self.plan.project.seam
                lines.append(f"Then square an end and cut the sets across: {part.many} segments {self._size(segment)}")
        return tuple(lines)

    def say_measured(self, number: int) -> tuple[str, ...]:
        """What is measured of a unit that is not cut apart yet."""
        lines = []
        for part in self._parts.get(number, ()):
            family, chosen = part.choice.unit.family, part.choice.chosen
            if part.is_last or chosen is None or chosen.method == "stitch and flip":
                continue
            if family == "row":
                short, long = self.plan.words.unfinished(number)
                across = long if short == part.choice.unit.size[0] + 2 * self.plan.project.seam else short
                lines.append(f"Still in strips: each set measures {self.ruler.to_measure(across).words} across")
            elif family == "hourglass":
                half = square_for_halves(part.choice.unit.size[0], self.plan.project.seam)
                lines.append(f"Not cut further yet: each half square measures {self._size(half)}")
            else:
                lines.append("Not cut further yet: the geese are measured when they are done")
        return tuple(lines)

    def _size(self, size: Fraction) -> str:
        return f"{self.ruler.to_cut(size).words}{self.ruler.ending}"

    @property
    def _seam(self) -> str:
        return self.ruler.exact(self.plan.project.seam)

    def _squares(self, part: _Part) -> tuple[Rectangle, ...]:
        assert part.choice.chosen is not None
        return part.choice.chosen.rectangles

    def _pairs_of_squares(self, part: _Part) -> str:
        squares = self._squares(part)
        pairs = sum(one.count for one in squares) // 2
        return f"{pairs} {'pair' if pairs == 1 else 'pairs'} of squares {self._size(squares[0].wide)}"

    def _say_two(self, part: _Part) -> Iterator[str]:
        pairs = self._pairs_of_squares(part)
        yield f"{pairs}, right sides together: draw a line from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it, then cut on the line: 2 of each pair"

    def _say_four(self, part: _Part) -> Iterator[str]:
        yield f"{self._pairs_of_squares(part)}, right sides together: sew {self._seam} from the edge all round"
        yield "Cut from corner to corner both ways: 4 of each pair. Their edges are on the bias: do not pull"

    def _say_eight(self, part: _Part) -> Iterator[str]:
        pairs = self._pairs_of_squares(part)
        yield f"{pairs}, right sides together: draw both lines from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from each line on both sides of it"
        yield "Cut down and across the middle, then on both lines: 8 of each pair"

    def _say_strips(self, part: _Part) -> Iterator[str]:
        strips = self._squares(part)
        pairs = sum(one.count for one in strips) // 2
        yield (
            f"{pairs} {'pair' if pairs == 1 else 'pairs'} of strips {self._size(strips[0].high)} wide, right sides "
            f"together: sew {self._seam} from both long edges"
        )
        yield "Cut triangles head to foot, the long side on one edge, the tip at the other"
        yield "Undo the stitches across the tips"
        yield "Their edges are on the bias: do not pull"

    def _say_hourglass(self, part: _Part) -> Iterator[str]:
        if not part.is_last:
            yield from self._say_two(part)
            yield "Each half square counts for two pairs; do not cut it further"
            chosen = part.choice.chosen
            if chosen is not None and len(chosen.trim_to) > 1:
                yield f"After pressing trim to {self._size(chosen.trim_to[0])}"
            return
        half = square_for_halves(part.choice.unit.size[0], self.plan.project.seam)
        yield f"Two half squares (about {self._size(half)}), unlike fabrics on one another, seams locked"
        yield f"Draw a line across the seam from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it"
        yield "Cut on the line: 2 of each two half squares"

    def _say_flip(self, part: _Part) -> Iterator[str]:
        corner = part.choice.unit.size[1] + 2 * self.plan.project.seam
        which = "the other end" if part.is_last else "one end"
        yield f"A square {self._size(corner)} on {which} of the rectangle, right sides together, edges even"
        yield f"Draw a line through it from the lower outer corner to the upper inner one (tip up), {ON_WRONG_SIDE}"
        yield "Sew on the line"
        yield f"Cut {self._seam} outside the seam, fold the corner out"

    def _say_geese(self, part: _Part) -> Iterator[str]:
        if not part.is_last:
            yield "Two small squares on opposite corners of a large one, right sides together; they overlap a little"
            yield f"Draw a line through both from corner to corner, {ON_WRONG_SIDE}"
            yield f"Sew {self._seam} from the line on both sides of it"
            yield "Cut on the line: each half counts for two pairs; do not cut it further"
            return
        yield "A small square on the large corner of each half, right sides together"
        yield f"Draw a line from that corner to between the small triangles, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it"
        yield "Cut on the line: 2 geese of each half, which had their first seam on unlike sides: both lie in one pile"

    def _say_set(self, part: _Part) -> Iterator[str]:
        strips, widths = self._squares(part), part.choice.unit.widths
        width = widths[0] + 2 * self.plan.project.seam
        fabric = part.choice.unit.cloths[0]
        times = sum(
            one == (fabric, widths[0]) for one in zip(part.choice.unit.cloths, widths, strict=True)
        )  # in one set
        first = [one for one in strips if (one.fabric, one.high) == (fabric, width)]
        sets = " and ".join(f"{one.count // times} of {self._size(one.wide)}" for one in first)
        yield f"Sew strips along their long edges, not patches; strips of a set are equally long: {sets}"
        if not part.is_last:
            yield "More strips are sewn to them later; do not cut them across yet"

    _LINES = {
        ("triangle square", "two at a time"): _say_two,
        ("triangle square", "four at a time"): _say_four,
        ("triangle square", "eight at a time"): _say_eight,
        ("triangle square", "from strips"): _say_strips,
        ("hourglass", "two at a time"): _say_hourglass,
        ("flying goose", "stitch and flip"): _say_flip,
        ("flying goose", "four at a time"): _say_geese,
        ("row", "strip sets"): _say_set,
    }
