"""Steps in the maker's words: what the hands do first, why second. The sheet and the bench say the same."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from planner.blocks import Point
from planner.build_units import Side
from planner.cut_list import CutEntry
from planner.cut_sizes import Length, Piece, lengthen, measure_side
from planner.feed_units import count_eighths
from planner.find_cuts import turn_vector
from planner.find_joins import is_on_normal_side
from planner.measure import Root, Shown, spell_number, square_root
from planner.name_piles import Chain, Lying, Outcome
from planner.press_seams import turn_marks
from planner.sheet import (
    ArrangeWork,
    BlockWork,
    ClipWork,
    CutWork,
    LayOutWork,
    MachineWork,
    SewWork,
    Sheet,
    Step,
    UnitWork,
    feed_chain,
    feed_turn,
    pins_of,
)
from planner.surd import Grid, approach, size_of

COUNTED = {
    "machine": ("check", "checks"),
    "cut": ("cut", "cuts"),
    "arrange": ("row", "rows"),
    "lay out": ("pile", "piles"),
    "sew": ("pair", "pairs"),
    "clip": ("chain", "chains"),
    "press": ("press", "presses"),
    "trim": ("unit", "units"),
    "measure": ("check", "checks"),
    "square up": ("block", "blocks"),
    "finish": ("check", "checks"),
}
_WAYS = ("up", "up and to the right", "to the right", "down and to the right", "down", "down and to the left",
         "to the left", "up and to the left")  # fmt: skip


class StepWords(NamedTuple):
    """`verb` and `what` are the large words; `does` says how, line by line; `why` comes second."""

    verb: str
    what: str
    does: tuple[str, ...]
    why: tuple[str, ...]

    @property
    def in_one_line(self) -> str:
        return ". ".join([f"{self.verb} {self.what}", *(line.rstrip(".") for line in (*self.does, *self.why))]) + "."


class Now(NamedTuple):
    """How a step stands: what the words are about where it is not done as planned.

    `pieces`: of a cut, how many are still to cut. `piles`: to lay out, with how many of each. `chains`: to clip, with
    the pairs in each. `row`: of the quilt, which one is laid out next, from 0.
    """

    pieces: int = 0
    piles: tuple[tuple[str, int], ...] = ()
    chains: tuple[tuple[Chain, int], ...] = ()
    row: int | None = None


class Speaker:
    """Says the steps of one sheet with the letters of its piles."""

    def __init__(self, sheet: Sheet, letters: Mapping[str, str]) -> None:
        self.sheet = sheet
        self.plan = sheet.plan
        self.letters = letters
        self.ruler = self.plan.ruler

    def letter(self, pile: str) -> str:
        """A pile's letter; of a whole block that nothing is sewn from, its name."""
        return self.letters.get(pile, "?")

    # -- sizes and names

    def to_cut(self, size: Fraction) -> str:
        return self.ruler.to_cut(size).words

    def sides(self, sizes: tuple[Length, Length]) -> str:
        """Two sides to measure: `3 1/2 x 6 1/2`."""
        return self.ruler.sides(self.ruler.to_measure(sizes[0]), self.ruler.to_measure(sizes[1]))

    def measure_of(self, number: int) -> str:
        """What a unit must measure after pressing."""
        piece = self.plan.words.piece(number)
        if self.plan.words.has_inner_corner(number):
            return f"{self.sides(self.plan.words.unfinished(number))} over all"
        if piece.shape in ("square", "rectangle"):
            return self.sides(self.plan.words.unfinished(number))
        if piece.shape == "half-square triangle":
            return f"{self.ruler.to_measure(piece.cut[0]).words}{self.ruler.ending} along each short side"
        if piece.shape == "quarter-square triangle":
            return f"{self.ruler.to_measure(piece.cut[1]).words}{self.ruler.ending} along the long side"
        return f"{self.sides(self.plan.words.unfinished(number))} over all"

    def name_piece(self, fabric: str, piece: Piece) -> str:
        """A patch in words: `navy square 3 1/2`."""
        short, long = (self.ruler.to_cut(size) for size in piece.cut)
        end = self.ruler.ending
        if piece.shape == "square":
            return f"{fabric} square {short.words}{end}"
        if piece.shape == "rectangle":
            return f"{fabric} {self.ruler.sides(short, long)}"
        if piece.shape == "half-square triangle":
            return f"{fabric} triangle, half of a {_name_square(short, end)}"
        if piece.shape == "quarter-square triangle":
            return f"{fabric} triangle, quarter of a {_name_square(long, end)}"
        return f"{fabric} piece, {self.ruler.sides(short, long)} over all"

    def name_pile(self, pile: str) -> str:
        """What lies in a pile: `navy square 3 1/2`, `navy-shell pair 3 1/2 x 6 1/2`."""
        entry = self._entries.get(pile)
        if entry is not None:
            return self.name_piece(entry.fabric, entry.piece)
        number = self.plan.piles.piles[pile].unit
        return f"{self.plan.words.name(number)} {self.measure_of(number)}"

    @cached_property
    def _entries(self) -> dict[str, CutEntry]:
        return {self.plan.piles.unit_names[entry.units[0]]: entry for entry in self.plan.cut}

    # -- steps

    def say(self, step: Step, now: Now | None = None) -> StepWords:
        """The words of a step: as planned, or of what is to do now."""
        work = step.work
        if isinstance(work, MachineWork):
            return self._say_machine(work)
        if isinstance(work, CutWork):
            return self._say_cut(work, now)
        if isinstance(work, LayOutWork):
            return self._say_lay_out(work, step, now)
        if isinstance(work, ArrangeWork):
            return self._say_arrange(work, now)
        if isinstance(work, SewWork):
            return self._say_sew(work.chain)
        if isinstance(work, ClipWork):
            return self._say_clip(work, now)
        if isinstance(work, UnitWork):
            if step.stage == "press":
                return self._say_press(work.chain, work.outcome)
            if step.stage == "trim":
                return self._say_trim(work)
            return self._say_measure(work)
        if isinstance(work, BlockWork):
            return self._say_square_up(work)
        return StepWords(
            "IRON OFF",
            "and put away",
            ("Switch the iron off and let it cool out of reach", "Take the needle up, unplug, close the blades"),
            (self.say_done(),),
        )

    def say_done(self) -> str:
        """What can be done next with what is sewn."""
        loose = any(block.copies for block in self.plan.blocks.drafted if not block.is_top)
        if self.plan.blocks.top is None:
            return "The blocks are done: each can be finished and quilted by itself"
        return "The top is done" + ("; each loose block can be finished and quilted by itself" if loose else "")

    def _say_machine(self, work: MachineWork) -> StepWords:
        seam = self.ruler.exact(self.plan.project.seam)
        if work.topic == "needle":
            thread = f", thread {self.plan.project.thread}" if self.plan.project.thread else ""
            return StepWords(
                "SET UP",
                "needle and bobbin",
                (f"A fresh needle, a full bobbin{thread}", "Switch the machine off while you change the needle"),
                ("Thread near the blocks' colours shows least; follow your machine's manual",),
            )
        if work.topic == "stitch":
            return StepWords(
                "SET UP",
                f"stitch, and allowance {seam}",
                (
                    "A straight stitch, about 2.5 mm long",
                    f"Set the guide so that the seam lies {seam} from the raw edge",
                ),
                ("Sit close and upright, in good light; get up and stretch every half hour",),
            )
        strip = self.plan.project.seam * 2 + self._inch
        wide = 3 * self._inch + 2 * self.plan.project.seam
        return StepWords(
            "TEST",
            "the seam",
            (
                f"Cut three strips {self.to_cut(strip)}{self.ruler.ending} wide; sew them side by side and press",
                f"The three together must measure {self.ruler.to_measure(wide).words}{self.ruler.ending}, "
                f"the middle one {self.ruler.to_measure(self._inch).words}{self.ruler.ending}",
            ),
            ("Too small: the allowance is too deep; too large: too narrow. Move the guide and test again",),
        )

    @property
    def _inch(self) -> Fraction:
        """What each strip of the test seam shows when sewn: 1 in; in centimetres 2.5, which a ruler shows."""
        return Fraction(1) if self.plan.project.measure == "in" else Fraction(125, 127)

    def mat_words(self, work: CutWork, pieces: int | None = None) -> str:
        """A line of the cut list as it is done on the cutting mat, for so many pieces (None: for all)."""
        piece = work.entry.piece
        pieces = work.entry.count if pieces is None else pieces
        squares = -(-pieces // work.per)
        end = self.ruler.ending
        short, long = (self.ruler.to_cut(size).words for size in piece.cut)
        if piece.shape == "square":
            return f"{_many(squares, 'square')} {short}{end}"
        if piece.shape == "rectangle":
            return f"{_many(squares, 'rectangle')} {short} x {long}{end}"
        if work.per > 1:
            size, how = (short, "corner to corner") if work.per == 2 else (long, "corner to corner both ways")
            spare = squares * work.per - pieces
            left = "" if not spare else f" ({'one is' if spare == 1 else f'{spare} are'} left over)"
            each = "each cut" if squares > 1 else "cut"
            return f"{_many(squares, 'square')} {size}{end}, {each} {how}: {_many(pieces, 'triangle')}{left}"
        return f"{_many(pieces, 'piece')} by outline, {short} x {long}{end} over all"

    def outline_words(self, piece: Piece) -> str:
        """The corners of a piece that no rule of squares cuts."""
        corners = "; ".join(
            f"{self.ruler.to_measure(x).words}, {self.ruler.to_measure(y).words}" for x, y in piece.corners
        )
        return f"Corners, from the upper left of the box to the right and down, right side up: {corners}"

    def _say_cut(self, work: CutWork, now: Now | None) -> StepWords:
        piece = work.entry.piece
        does = [self.mat_words(work, now.pieces if now and now.pieces else None)]
        if piece.shape == "other":
            does.append(self.outline_words(piece))
        what = work.entry.fabric
        letter = self.letters.get(work.pile)
        if letter is not None:
            what = f"{what} for pile {letter}"
            does.append(f"Write {letter} on a slip and pin it on")
        why = [_grain_words(piece)]
        if piece.shape == "other":
            why.append("Its mark is the top of the box; mirrored it does not fit")
        elif any(not self.ruler.to_cut(size).exact for size in piece.cut):
            exact = " x ".join(spell_number(size) for size in dict.fromkeys(piece.cut))
            why.append(f"Exactly {exact} in: between the lines of the ruler, so cut a little more")
        why.append("Cut away from yourself, close the blade after every cut")
        return StepWords("CUT", what, tuple(does), tuple(why))

    def _say_lay_out(self, work: LayOutWork, step: Step, now: Now | None) -> StepWords:
        piles = now.piles if now else work.piles
        how = "Right sides up. Sewn units lie all alike, the arrow on their slip (the mark) at their top"
        if 0 < self._joining_pass <= step.pass_number:
            how = "What lies in the quilt stays there: take it from its place, and lay what is sewn back there"
        return StepWords(
            "LAY OUT",
            f"{_many(len(piles), 'pile')} for pass {step.pass_number}",
            tuple(f"{self.letter(pile)}: {many} of {self.name_pile(pile)}" for pile, many in piles),
            (how, "Move a slip to the next unit when the one it is pinned to is sewn"),
        )

    @cached_property
    def _joining_pass(self) -> int:
        """The pass before which the quilt is laid out; 0 where there is none."""
        return next((step.pass_number for step in self.sheet.steps if isinstance(step.work, ArrangeWork)), 0)

    def _say_arrange(self, work: ArrangeWork, now: Now | None) -> StepWords:
        quilt = self.plan.project.quilt
        assert quilt is not None
        rows: dict[str, list[int]] = {}
        for number, row in enumerate(work.rows, 1):
            if now is not None and now.row is not None and number != now.row + 1:
                continue  # the picture shows them all
            rows.setdefault(self._row_words(row), []).append(number)
        does = []
        for words, numbers in rows.items():
            which = f"Row {numbers[0]}" if len(numbers) == 1 else f"Rows {_list_words([str(one) for one in numbers])}"
            does.append(f"{which}: {words}")
        if quilt.sashing is not None:
            posts = f", {quilt.sashing.posts} posts where they cross" if quilt.sashing.posts else ""
            does.append(f"{_begin_large(quilt.sashing.fabric)} sashes between them{posts}")
        if quilt.setting is not None:
            does.append(f"{_begin_large(quilt.setting)} triangles fill the edges")
        why = "The mark of each slip points as told: so the joins nest"
        return StepWords(
            "LAY OUT", "the quilt, row by row", tuple(does), (why, "What is not sewn yet: leave its place")
        )

    def _row_words(self, row: tuple[Lying, ...]) -> str:
        """One row of the quilt: what lies where, and where the marks point."""
        words = [self._lying_words(lying) for lying in row]
        if len(words) > 2 and len(set(words)) == 1:
            return f"{len(words)} times {words[0]}"
        if len(words) > 3 and words == [words[place % 2] for place in range(len(words))]:
            return f"{words[0]}, {words[1]}, in turn, {len(words)} blocks"
        return ", ".join(words)

    def _lying_words(self, lying: Lying) -> str:
        top = self.plan.blocks.top
        # On point "up" in the blocks' frame is up and to the right as one sees it
        askew = 1 if top is not None and top.on_point else 0
        mark = f" mark {_WAYS[(2 * lying.turn + askew) % 8]}" if self.has_mark(lying.pile) else ""
        return f"{self.letter(lying.pile)}{mark}"

    def order_of(self, chain: Chain) -> tuple[Lying, Lying]:
        """The pile underneath, then the pile on top."""
        feed = feed_chain(self.plan, chain)
        return (chain.b, chain.a) if feed.a_on_top else (chain.a, chain.b)

    def _say_sew(self, chain: Chain) -> StepWords:
        feed = feed_chain(self.plan, chain)
        under, top = self.order_of(chain)
        eighths = feed_turn(self.plan, chain)
        low, high = self.letter(under.pile), self.letter(top.pile)
        both = f"two {high}" if low == high else f"{high} on {low}"
        page = f"turn {high} over onto {low}" if low != high else "turn it over onto the left one"
        does = [f"Left {low}{self._mark(under, eighths)}, right {high}{self._mark(top, eighths)}: {page}, like a page"]
        if self.plan.units.units[chain.unit].legs:
            does += self._set_in_words()
        else:
            does.append(f"Right sides together; sew {self._edge(chain, low, high)}, upper end first")
            does += self._end_words(chain, low, high)
        if chain.row:
            does.append(self._web_words(chain))
        does.append(self._pin_words(chain))
        does += self._match_words(chain, high, low)
        if feed.bias_a or feed.bias_b:
            which = "The edge underneath is" if feed.bias_a != feed.bias_b else "Both edges are"
            does.append(f"{which} on the bias: do not pull")
        if not self.plan.units.units[chain.unit].legs and not chain.row:
            between = "; a few stitches between pairs" if chain.pairs > 1 else ""
            does.append(f"A scrap first and last{between}")
        piles = " or ".join(self.letter(outcome.pile) for outcome in chain.outcomes.values())
        why = [f"Becomes {piles}, {self.plan.words.name(chain.unit)}; for {self.used_in(chain)}"]
        return StepWords("SEW", both, tuple(does), tuple(why))

    def _web_words(self, chain: Chain) -> str:
        """That the threads between the rows of a webbed quilt stay."""
        assert chain.web is not None
        columns = f"Columns {chain.web.columns} and {chain.web.columns + 1}, row {chain.row}"
        last = len(self.plan.project.quilt.rows) if self.plan.project.quilt else 0
        how = "feed it first" if chain.row == 1 else f"feed it right after row {chain.row - 1}, a few stitches between"
        after = "cut the thread after it" if chain.row == last else "do not clip: the threads hold the rows in order"
        return f"{columns}, as the quilt lies: {how}; {after}"

    def _set_in_words(self) -> list[str]:
        """How a border strip with slanting ends is set in, one at a time."""
        seam = self.ruler.exact(self.plan.project.seam)
        return [
            f"Right sides together; sew the inside edge, upper end first: begin {seam} from the one inner corner, stop "
            f"{seam} from the other, a backstitch at each",
            "Then each corner: fold so that the two slanting ends meet, and sew from the inner corner out to the edge; "
            f"begin at the stitch {seam} inside, catch no allowance",
        ]

    def _end_words(self, chain: Chain, low: str, high: str) -> list[str]:
        """Where the raw edges are not even at an end, because the two meet the border askew: what stands out there."""
        out: dict[str, list[str]] = {}
        even = []
        for end, (under, top) in zip(("upper", "lower"), self._reach_of_ends(chain), strict=True):
            size = self.ruler.to_measure(abs(under - top)).words.removeprefix("about ")
            if size == "0":
                even.append(end)
                continue
            which = low if under > top else high
            if low == high:
                which = f"the {low} {'underneath' if under > top else 'on top'}"
            out.setdefault(f"{which} stands out {size}{self.ruler.ending}", []).append(end)
        if not out:
            return []
        words = [f"{what} at {'both ends' if len(ends) == 2 else f'the {ends[0]} end'}" for what, ends in out.items()]
        if even:
            words.insert(0, f"edges even at the {even[0]} end")
        told = [_begin_large("; ".join(words))]
        if self.plan.words.has_inner_corner(chain.unit):
            (under, top), _ = self._reach_of_ends(chain)
            seam = self.ruler.exact(self.plan.project.seam)
            longer = low if under > top else high
            told.append(
                f"Begin and stop {seam} from the ends of {longer}, a backstitch at each: the corners come later"
            )
        return told

    def _reach_of_ends(self, chain: Chain) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
        """How far the raw edges go beyond the seam at its first and last end: (underneath, on top), in inches."""
        plan = self.plan
        unit = plan.units.units[chain.unit]
        feed = feed_chain(plan, chain)
        assert unit.a is not None
        assert unit.b is not None
        sides = (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b)
        first, last = (
            [
                find_reach(
                    tuple(plan.units.place_point(p, side) for p in plan.words.outline_with_corners(side.unit)),
                    end,
                    other,
                )
                for side in sides
            ]
            for end, other in ((feed.first, feed.last), (feed.last, feed.first))
        )
        seam = plan.project.seam
        return (first[0] * seam, first[1] * seam), (last[0] * seam, last[1] * seam)

    def used_in(self, chain: Chain) -> str:
        """The blocks that a chain's units are for: `4 pinwheel, 2 double four patch`."""
        blocks = self.plan.blocks.drafted
        copies: dict[str, int] = {}
        for number in chain.blocks:
            if blocks[number].is_top:
                continue
            copies[blocks[number].title] = copies.get(blocks[number].title, 0) + blocks[number].copies
        for number, pieces in chain.in_quilt.items():
            name = f"{blocks[number].title} of the quilt"
            copies[name] = len(pieces)
        words = [f"{many} {name}" for name, many in copies.items()]
        return ", ".join(words) or "the quilt"

    def _mark(self, lying: Lying, eighths: int) -> str:
        """Where a pile's mark points as the unit lies beside the machine; of a triangle, where its square corner is."""
        return f" (mark {_WAYS[(2 * lying.turn + eighths) % 8]})" if self.has_mark(lying.pile) else ""

    def has_mark(self, pile: str) -> bool:
        """Whether it matters which way the slip's mark points: not for what looks the same all round, nor for patches
        whose shape and edge to sew say how they lie."""
        unit = self.plan.units.units[self.plan.piles.piles[pile].unit]
        entry = self._entries.get(pile)
        is_plain = unit.shape >= 0 and entry is not None and entry.piece.shape != "other"
        return unit.period != 1 and not is_plain

    def _edge(self, chain: Chain, low: str, high: str) -> str:
        """The edges that are sewn together: by their length where both are rectangles, else by their looks."""
        unit = self.plan.units.units[chain.unit]
        assert unit.a is not None
        assert unit.b is not None
        (px, py), (qx, qy) = unit.seam
        if self._is_box(unit.a.unit) and self._is_box(unit.b.unit):
            finished = measure_side(*(self.plan.blocks.inches(way) for way in (qx - px, qy - py)))
            along = lengthen(finished, 2 * self.plan.project.seam)
            shown = self.ruler.to_measure(along)
            size = f"{shown.words}{self.ruler.ending}"
            return f"the {size} edge" if shown.exact else f"the edge of {size}"
        under, top = self._looks_of_edges(chain)
        if under == top:
            return f"{under}s" if under.startswith("the ") else "the edges between them"
        return f"{top} of {high} to {under} of {low}"

    def _is_box(self, number: int) -> bool:
        return self.plan.words.is_rectangle(number) or self.plan.words.piece(number).shape in ("square", "rectangle")

    def _looks_of_edges(self, chain: Chain) -> tuple[str, str]:
        """The edge to sew as it looks on the unit underneath and on the one on top."""
        unit = self.plan.units.units[chain.unit]
        feed = feed_chain(self.plan, chain)
        assert unit.a is not None
        assert unit.b is not None
        a, b = (self._look_of_edge(side, feed.first, feed.last) for side in (unit.a, unit.b))
        return (b, a) if feed.a_on_top else (a, b)

    def _look_of_edge(self, side: Side, first: Point, last: Point) -> str:
        """The long or the short edge; of a triangle's two short ones, the one with the square corner at this end."""
        outline = [self.plan.units.place_point(point, side) for point in self.plan.words.outline(side.unit)]
        square = _distance(first, last)
        others = [_distance(outline[number - 1], point) for number, point in enumerate(outline)]
        others.remove(square)
        if all(other < square for other in others):
            return "the long edge"
        if len(outline) == 3 and square in others:
            (corner,) = [point for point in outline if point not in (first, last)]
            is_square = (last[0] - first[0]) * (corner[0] - first[0]) + (last[1] - first[1]) * (corner[1] - first[1])
            return f"the short edge (square corner at the {'upper' if is_square == 0 else 'lower'} end)"
        if all(other > square for other in others):
            return "the short edge"
        return "an edge"

    def _pin_words(self, chain: Chain) -> str:
        feed = feed_chain(self.plan, chain)
        pins = len(pins_of(self.plan, chain.unit))
        inner = sum(match.at not in (feed.first, feed.last) for match in chain.matches)
        between = pins - 2 - inner
        parts = ["both ends"]
        if inner:
            parts.append(_many(inner, "join") if inner > 1 else "the join")
        if between:
            parts.append(f"{between} between")
        return f"Pins: {pins}, {' and '.join(parts) if len(parts) < 3 else ', '.join(parts)}; out before the needle"

    def ridges(self, chain: Chain) -> list[tuple[Point, bool, bool]]:
        """The joins from the first end on: where, and whether the ridge on top and the one underneath run up."""
        feed = feed_chain(self.plan, chain)
        ahead_is_up = feed.first == self.plan.units.units[chain.unit].seam[1]
        found = []
        for match in sorted(chain.matches, reverse=ahead_is_up):
            a_up, b_up = match.a_falls_ahead == ahead_is_up, match.b_falls_ahead == ahead_is_up
            found.append((match.at, *((a_up, b_up) if feed.a_on_top else (b_up, a_up))))
        return found

    def _match_words(self, chain: Chain, high: str, low: str) -> list[str]:
        ridges = self.ridges(chain)
        if high == low:
            high, low = f"the {high} on top", f"the {low} underneath"
        locking = [(top, under) for _, top, under in ridges if top != under]
        words = []
        if len(locking) == 1:
            top_way, under_way = ("up" if up else "down" for up in locking[0])
            at = "At the join" if len(ridges) == 1 else "At one join"
            words.append(f"{at} the ridge of {high} runs {top_way}, that of {low} {under_way}: push until they lock")
        elif len(locking) > 1:
            ways = [("up" if top else "down") for top, _ in locking]
            all_alike = f"all {ways[0]}" if len(set(ways)) == 1 else ", ".join(ways)
            words.append(
                f"At the joins, from the upper end, the ridges of {high} run {all_alike}, those of {low} the "
                "other way: push each until it locks"
            )
        for place, (_, top, under) in enumerate(ridges, 1):
            if top == under:
                which = "the join" if len(ridges) == 1 else f"join {place} from the upper end"
                words.append(
                    f"At {which} both ridges run {'up' if top else 'down'} and cannot lock: a pin on each side"
                )
        return words

    def _say_clip(self, work: ClipWork, now: Now | None) -> StepWords:
        chains = now.chains if now else tuple((chain, chain.pairs) for chain in work.chains)
        return StepWords(
            "CLIP",
            "the chains apart, and count",
            tuple(
                f"{_many(pairs, 'pair')} of {' and '.join(self.letter(o.pile) for o in chain.outcomes.values())}"
                f", from {self.letter(chain.a.pile)} and {self.letter(chain.b.pile)}"
                for chain, pairs in chains
            ),
            ("A number that is off shows now which pair is missing; keep the heaps apart",),
        )

    def toward(self, chain: Chain, outcome: Outcome) -> str:
        """Where the allowances go, in words: `toward the navy`, or `toward C` where fabrics do not tell the sides
        apart, or by how the two lay under the needle where they come from one pile; `open`, or `spun`."""
        if outcome.is_open:
            return "open"
        if outcome.is_spun:
            return "spun"
        a, b = (self._along(chain, side) for side in (True, False))
        to, other = (a, b) if outcome.to_a else (b, a)
        if len(to) == 1 and not to & other:
            (fabric,) = to
            unit = self.plan.units.units[chain.unit]
            away = unit.b if outcome.to_a else unit.a
            assert away is not None
            at_seam = " at the seam" if fabric in self.plan.words.fabrics(away.unit) else ""
            return f"toward the {fabric}{at_seam}"
        if chain.a.pile == chain.b.pile and self._is_even(chain):
            return "to either side, all alike"
        return f"toward {self._side_words(chain, outcome.to_a)}"

    def _side_words(self, chain: Chain, is_a: bool) -> str:
        """A side of a seam by its pile, or by how the two lay under the needle where they come from one pile."""
        pile, other = (chain.a.pile, chain.b.pile) if is_a else (chain.b.pile, chain.a.pile)
        if pile != other:
            return self.letter(pile)
        on_top = feed_chain(self.plan, chain).a_on_top == is_a
        return f"the {self.letter(pile)} that lay {'on top' if on_top else 'underneath'}"

    def _is_even(self, chain: Chain) -> bool:
        """Whether a half turn carries the unit onto itself, its other seams' press directions too."""
        unpressed = chain.name.partition(":")[2]
        unit = self.plan.units.units[chain.unit]
        return unit.period == 2 and turn_marks(self.plan.units, chain.unit, unpressed) == unpressed

    def arrow(self, chain: Chain, outcome: Outcome) -> tuple[int, str]:
        """The way the allowances fall as the pile lies, mark at the top: in eighths of a turn from up, and in words."""
        unit = self.plan.units.units[chain.unit]
        (px, py), (qx, qy) = unit.seam
        assert unit.a is not None
        on_normal = is_on_normal_side(self.plan.units, unit.a, unit.seam) == outcome.to_a
        way: Point = (py - qy, qx - px) if on_normal else (qy - py, px - qx)
        way = turn_vector(way, -outcome.turn % 4)
        # count_eighths says how far the way is from straight down
        eighths = (4 - count_eighths(way)) % 8
        return eighths, _WAYS[eighths].replace("to the ", "")

    def _along(self, chain: Chain, side_a: bool) -> set[str]:
        """The fabrics of one side along the seam."""
        unit = self.plan.units.units[chain.unit]
        side = unit.a if side_a else unit.b
        assert side is not None
        (px, py), (qx, qy) = unit.seam
        found = set()
        for placed in self.plan.units.place_patches(side):
            on_seam = [(x - px) * (qy - py) == (y - py) * (qx - px) for x, y in self.plan.units.cuts.outline(placed)]
            if sum(on_seam) == 2:
                found.add(self.plan.units.cuts.shapes[placed[2]].fabric)
        return found

    def _say_press(self, chain: Chain, outcome: Outcome) -> StepWords:
        letter = self.letter(outcome.pile)
        toward = self.toward(chain, outcome)
        does = [f"Set the seam flat, then fold the unit open: allowances {toward}"]
        if outcome.is_open:
            does = ["Set the seam flat, then press its two allowances apart, one to each side"]
        elif outcome.is_spun:
            does = self._spin_words(chain, outcome)
        for other in chain.outcomes.values():
            if other.pile != outcome.pile:
                does.append(
                    f"{outcome.pairs} this way; the other {other.pairs} of the chain go "
                    f"{self.toward(chain, other)} and are pile {self.letter(other.pile)}"
                )
        _, way = self.arrow(chain, outcome)
        falls = f"these allowances fall {way}"
        if outcome.is_open:
            falls = f"{self._side_words(chain, outcome.to_a)} lies {way}"
        elif outcome.is_spun:
            falls = f"the allowances of the {self._end_word(chain, outcome)} half fall {way}"
        does.append(f"Pin slip {letter} on, its mark up where {falls}")
        does.append("From the back, then from the front; lift the iron, do not slide it")
        why = _begin_large(self._why(chain, outcome))
        if self._is_even(chain) and not outcome.is_open:
            why = "Either way will do: half a turn makes them alike"
        return StepWords("PRESS", f"{letter} {toward}", tuple(does), (why, "Hot: mind your fingers and the cord"))

    def _spin_words(self, chain: Chain, outcome: Outcome) -> list[str]:
        """How the four allowances of a centre are laid round its point."""
        unit = self.plan.units.units[chain.unit]
        assert unit.a is not None
        # On the normal's side at the first end: round the point that is clockwise as one sees it from the back
        on_normal = is_on_normal_side(self.plan.units, unit.a, unit.seam) == outcome.to_a
        way = "clockwise" if on_normal else "counterclockwise"
        return [
            "Fold the unit open. At the crossing take out the few stitches of the short seams that lie in this seam's "
            "allowance, 2 or 3 on each side, no deeper",
            f"From the back lay all four allowances round the point, {way}, and press the middle flat",
        ]

    def _end_word(self, chain: Chain, outcome: Outcome) -> str:
        """Where the first end of a chain's seam lies in its pile: `left`, `upper`, `lower right`."""
        (px, py), (qx, qy) = self.plan.units.units[chain.unit].seam
        x, y = turn_vector((px - qx, py - qy), -outcome.turn % 4)
        words = ["upper" if y < 0 else "lower"] if y else []
        words += ["left" if x < 0 else "right"] if x else []
        return " ".join(words)

    def _why(self, chain: Chain, outcome: Outcome) -> str:
        for block, seams in enumerate(self.plan.units.seams):
            if block not in chain.blocks:
                continue
            for number, seam in enumerate(seams):
                is_alike = seam.unit == chain.unit and self.plan.pressing.to_a[block][number] == outcome.to_a
                if is_alike and self.plan.press_words.is_open(block, number) == outcome.is_open:
                    return self.plan.press_words.why(block, number)
        return "as the rest of its pile"

    def _say_trim(self, work: UnitWork) -> StepWords:
        letter = self.letter(work.outcome.pile)
        return StepWords(
            "TRIM",
            f"the dog ears of {letter}",
            ("Cut off the points of allowance that stick out, even with the edges",),
            ("They would make the next seam thick and hide where the edges meet",),
        )

    def _say_measure(self, work: UnitWork) -> StepWords:
        letter = self.letter(work.outcome.pile)
        return StepWords(
            "MEASURE",
            f"{letter}: {self.measure_of(work.chain.unit)}",
            ("Every one, pressed and flat",),
            ("Too small: the allowance was too deep; too large: too narrow",),
        )

    def _say_square_up(self, work: BlockWork) -> StepWords:
        block = self.plan.blocks.drafted[work.block]
        seam = self.plan.project.seam
        finished = self.plan.quilt_size if block.is_top else self.plan.block_size(work.block)
        size = self.sides((lengthen(finished[0], 2 * seam), lengthen(finished[1], 2 * seam)))
        return StepWords(
            "SQUARE UP",
            f"{block.title} to {size}",
            (
                *([f"Pile {self.letters[work.pile]}"] if work.pile in self.letters else []),
                "Trim each side straight; both diagonals must be alike"
                if block.is_top
                else f"Centre the ruler on the design and trim to {size}",
                f"{self.ruler.exact(seam)} stays outside the design on all four sides",
            ),
            (f"Finished it is {self.sides(finished)}",),
        )


def find_reach(outline: tuple[Point, ...], end: Point, other: Point) -> Fraction:
    """How far a raw edge goes beyond an end of its seam, for an allowance of 1: the tangent's half-angle rule.

    `outline` is the finished outline, `end` and `other` the ends of the seam on it. At a corner of angle t the raw
    edge ends 1 / tan(t / 2) beyond it, which is (1 + cos t) / sin t. Within 2**-39 of the exact value.
    """
    place = outline.index(end)
    before, after = outline[place - 1], outline[(place + 1) % len(outline)]
    along = (other[0] - end[0], other[1] - end[1])
    neighbour = before if after == other else after
    border = (neighbour[0] - end[0], neighbour[1] - end[1])
    dot = along[0] * border[0] + along[1] * border[1]
    if dot == 0:
        return Fraction(1)
    cross = approach(size_of(along[0] * border[1] - along[1] * border[0]))
    lengths = square_root(Fraction(approach(_distance((0, 0), along) * _distance((0, 0), border))))
    both = lengths.up_to(Fraction(1, 1 << 40)) if isinstance(lengths, Root) else lengths
    return (both + approach(dot)) / cross


def _distance(start: Point, end: Point) -> Grid:
    """Squared."""
    return (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2


def _name_square(size: Shown, ending: str) -> str:
    return f"{size.words}{ending} square" if size.exact else f"square of {size.words}{ending}"


def _grain_words(piece: Piece) -> str:
    if piece.shape == "half-square triangle":
        return "Grain along the two short sides; the long side is on the bias"
    if piece.shape == "quarter-square triangle":
        return "Grain along the long side; the two short sides are on the bias"
    if piece.shape == "other":
        return "Grain along the sides of the box round it"
    return "Grain along its sides"


def _list_words(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _begin_large(words: str) -> str:
    return words[:1].upper() + words[1:]


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
