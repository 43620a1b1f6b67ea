"""Methods -> what the hands do by them, at the steps of the sheet: cutting, sewing, and what comes after pressing.

The sheet keeps its steps: what a method sews in fewer seams is counted by the pairs that come out of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.cloth.cut_by_method import Instead, Whole, choose_where_asked, cut_by_method
from planner.cloth.method_parts import MethodParts, Part
from planner.cloth.method_sizes import square_for_halves
from planner.cloth.rectangles import Rectangle
from planner.cloth.say_strips import ON_WRONG_SIDE
from planner.measure import Ruler
from planner.plan import Plan
from planner.project import Method


class MethodWords:
    """Says the methods of one plan; has nothing to say where every patch is cut and sewn by itself."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.ruler: Ruler = plan.ruler
        self.choices = choose_where_asked(plan)
        self.instead = cut_by_method(plan, self.choices)
        self.parts = MethodParts(plan, self.choices)

    def method_of(self, number: int) -> Method | None:
        """By which method a unit's last seam is sewn, where that is not pair by pair."""
        return next((part.way.method for part in self.parts.of(number)), None)

    # -- cutting

    def say_cut(self, instead: Instead) -> str:
        """What is cut in place of patches: `3 squares 7 3/4, left whole (eight at a time)`."""
        together: dict[Whole, int] = {}
        for whole in instead.wholes:
            alike = whole._replace(batch=0, rectangle=whole.rectangle._replace(count=0, what=""))
            together[alike] = together.get(alike, 0) + whole.rectangle.count
        counted = (one._replace(rectangle=one.rectangle._replace(count=many)) for one, many in together.items())
        return "; ".join(
            f"{self.count(whole.method, whole.rectangle)}{_left_whole(whole)} ({whole.method})" for whole in counted
        )

    def name_sizes(self, instead: Instead) -> str:
        """What tells the squares or strips of one part of a pile from those of the others: `squares 7 3/4`,
        `strips 39 and 14 1/2 long`."""
        names = []
        for whole in instead.wholes:
            if is_in_strips(whole.method):
                names.append(self.ruler.to_cut(whole.rectangle.wide).words)
            else:
                names.append(self.count(whole.method, whole.rectangle).partition(" ")[2])
        words = " and ".join(dict.fromkeys(names))
        return f"strips {words}{self.ruler.ending} long" if is_in_strips(instead.wholes[0].method) else words

    def count(self, method: Method, one: Rectangle) -> str:
        """So many squares or strips: `3 squares 7 3/4`, `1 strip 2 wide, 18 long`."""
        many, end = one.count, self.ruler.ending
        wide, high = (self.ruler.to_cut(side).words for side in (one.wide, one.high))
        if is_in_strips(method):
            return f"{many} {'strip' if many == 1 else 'strips'} {high}{end} wide, {wide}{end} long"
        if one.wide == one.high:
            return f"{many} {'square' if many == 1 else 'squares'} {wide}{end}"
        return f"{many} {'rectangle' if many == 1 else 'rectangles'} {high} x {wide}{end}"

    # -- sewing

    def say_sew(self, number: int, pairs: int) -> tuple[tuple[str, ...], bool]:
        """What is done at the machine for a unit's last seam; and whether all `pairs` of the unit are sewn so."""
        parts = self.parts.of(number)
        lines = tuple(line for part in parts for line in self._say_part(part))
        return lines, sum(part.many for part in parts) >= pairs

    def _say_part(self, part: Part) -> Iterator[str]:
        out = f"{part.many + part.more} come out, {part.more} more than needed" if part.more else "count what comes out"
        yield f"By {part.way.method}, {part.many} needed: {out}"
        yield from self._LINES[part.choice.unit.family, part.way.method](self, part)

    def say_clipped(self, number: int, pairs: int, letters: str) -> str:
        """How many of a unit are counted before pressing, where all of it is sewn by a method; else nothing."""
        parts = self.parts.of(number)
        if not parts or self.parts.count_singly(number):
            return ""
        method = parts[0].way.method
        if method != "stitch and flip" and all(
            not part.is_last and part.choice.unit.family in ("hourglass", "flying goose") for part in parts
        ):
            halves = -(-(pairs + sum(part.more for part in parts)) // 2)
            return f"{halves} {'half' if halves == 1 else 'halves'} of {letters}, each for two, by {method}"
        more = sum(part.more for part in parts)
        return f"{pairs} of {letters}, by {method}{f', and {more} more' if more else ''}"

    def say_pressed(self, number: int) -> tuple[str, ...]:
        """What is done once a unit's last seam is pressed, and what measures then that is no unit yet."""
        lines = []
        for part in self.parts.of(number):
            size = part.choice.unit.size[0]
            if part.choice.unit.family == "row":
                segment = size + 2 * self.plan.project.seam
                short, long = self.plan.words.unfinished(number)
                across = long if short == segment else short
                lines.append(f"Each set measures {self.ruler.to_measure(across).words}{self.ruler.ending} across")
                if part.is_last:
                    lines.append(
                        f"Then square an end and cut the sets across: {part.many} segments {self._size(segment)}"
                    )
                else:
                    lines.append("Sets that get more strips stay whole")
            elif part.choice.unit.family == "hourglass" and not part.is_last and part.trim_to is None:
                half = square_for_halves(size, self.plan.project.seam)
                lines.append(f"Pressed, each half square measures {self._size(half)}")
        return tuple(dict.fromkeys(lines))

    def say_measured(self, number: int) -> tuple[str, ...]:
        """Of a unit some of which are not cut apart yet how many these are."""
        lines = []
        for part in self.parts.of(number):
            if not part.is_last:
                how = "in strips still" if part.choice.unit.family == "row" else "half made"
                lines.append(f"{part.many} of them are {how}: not to be measured yet")
        return tuple(lines)

    def find_trim(self, number: int) -> Part | None:
        """By what a unit is trimmed to a size once it is pressed; None where at most its points are cut off."""
        return next((part for part in self.parts.of(number) if part.trim_to is not None), None)

    def say_trimmed(self, number: int, part: Part) -> tuple[str, ...]:
        """How the ruler lies on what is trimmed to its size."""
        family = part.choice.unit.family
        lines = []
        others = self.parts.count_singly(number) + sum(one.many for one in self.parts.of(number) if one is not part)
        if others:
            lines.append(f"Those sewn {part.way.method}, {part.many} of them; of the others cut off the dog ears only")
        if family == "flying goose":
            lines.append(
                f"Lay the ruler so that {self._seam} stays beyond the tip of the goose, and its two seams run out at "
                "the other corners; trim all four sides"
            )
        elif family == "hourglass" and part.is_last:
            lines.append("Lay both diagonals of the ruler on the seams; trim two sides, turn it, trim the other two")
        else:
            lines.append("Lay the diagonal of the ruler on the seam; trim two sides, turn it, trim the other two")
        if not part.is_last:
            lines.append("Each half square counts for two")
        return tuple(lines)

    def _size(self, size: Fraction) -> str:
        return f"{self.ruler.to_cut(size).words}{self.ruler.ending}"

    @property
    def _seam(self) -> str:
        return self.ruler.exact(self.plan.project.seam)

    def _squares(self, part: Part) -> tuple[Rectangle, ...]:
        return part.way.rectangles

    def _pairs_of_squares(self, part: Part) -> str:
        squares = self._squares(part)
        pairs = sum(one.count for one in squares) // 2
        return f"{pairs} {'pair' if pairs == 1 else 'pairs'} of squares {self._size(squares[0].wide)}"

    def _say_two(self, part: Part) -> Iterator[str]:
        pairs = self._pairs_of_squares(part)
        yield f"{pairs}, right sides together: draw a line from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it, then cut on the line: 2 of each pair"

    def _say_four(self, part: Part) -> Iterator[str]:
        yield f"{self._pairs_of_squares(part)}, right sides together: sew {self._seam} from the edge all round"
        yield "Cut from corner to corner both ways: 4 of each pair. Their edges are on the bias: do not pull"

    def _say_eight(self, part: Part) -> Iterator[str]:
        pairs = self._pairs_of_squares(part)
        yield f"{pairs}, right sides together: draw both lines from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from each line on both sides of it"
        yield "Cut down and across the middle, then on both lines: 8 of each pair"

    def _say_strips(self, part: Part) -> Iterator[str]:
        strips = self._squares(part)
        pairs = sum(one.count for one in strips) // 2
        yield (
            f"{pairs} {'pair' if pairs == 1 else 'pairs'} of strips {self._size(strips[0].high)} wide, right sides "
            f"together: sew {self._seam} from both long edges"
        )
        yield "Cut triangles head to foot, the long side on one edge, the tip at the other"
        yield "Undo the stitches across the tips"
        yield "Their edges are on the bias: do not pull"

    def _say_hourglass(self, part: Part) -> Iterator[str]:
        if not part.is_last:
            yield from self._say_two(part)
            yield "Each half square counts for two pairs; do not cut it further"
            return
        half = square_for_halves(part.choice.unit.size[0], self.plan.project.seam)
        yield f"Two half squares (about {self._size(half)}), unlike fabrics on one another, seams locked"
        yield f"Draw a line across the seam from corner to corner, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it"
        yield "Cut on the line: 2 of each two half squares"

    def _say_flip(self, part: Part) -> Iterator[str]:
        corner = part.choice.unit.size[1] + 2 * self.plan.project.seam
        which = "the other end" if part.is_last else "one end"
        yield f"A square {self._size(corner)} on {which} of the rectangle, right sides together, edges even"
        yield f"Draw a line through it from the lower outer corner to the upper inner one (tip up), {ON_WRONG_SIDE}"
        yield "Sew on the line"
        yield f"Cut {self._seam} outside the seam, fold the corner out"

    def _say_geese(self, part: Part) -> Iterator[str]:
        large, small = self._squares(part)
        if not part.is_last:
            yield (
                f"{small.count // 2} small squares {self._size(small.wide)} on {large.count} large "
                f"{'one' if large.count == 1 else 'ones'} {self._size(large.wide)}, right sides together: two on each, "
                "in opposite corners, edges even; in the middle they overlap a little"
            )
            yield (
                f"Draw a line from corner to corner of the large one, through both small ones and where they overlap, "
                f"{ON_WRONG_SIDE}"
            )
            yield f"Sew {self._seam} from the line on both sides of it"
            yield "Cut on the line: each half counts for two pairs; do not cut it further"
            return
        yield (
            f"{small.count // 2} small squares {self._size(small.wide)}, one in the large corner of each half, right "
            "sides together, edges even"
        )
        yield f"Draw a line from that corner to between the small triangles, {ON_WRONG_SIDE}"
        yield f"Sew {self._seam} from the line on both sides of it"
        yield "Cut on the line: 2 geese of each half, which had their first seam on unlike sides: both lie in one pile"

    def _say_set(self, part: Part) -> Iterator[str]:
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


def is_in_strips(method: Method) -> bool:
    """Whether a method begins with strips."""
    return method in ("strip sets", "from strips")


def _left_whole(whole: Whole) -> str:
    """For squares that others would cut up now."""
    is_square = whole.rectangle.wide == whole.rectangle.high
    return ", left whole" if is_square and whole.method != "stitch and flip" else ""
