"""Steps in the maker's words: what the hands do first, why second. The sheet and the bench say the same."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import cached_property
from itertools import groupby, pairwise
from typing import NamedTuple

from planner.bend_cuts import lies_on
from planner.blocks import Point
from planner.build_units import Side, Unit
from planner.cloth.cut_by_method import Instead
from planner.cloth.say_methods import MethodWords, is_in_strips
from planner.cloth.say_rows import has_ruled_cuts, say_row
from planner.cloth.say_strips import ON_WRONG_SIDE, StripWords
from planner.cut_list import CutEntry
from planner.cut_sizes import Length, Piece, is_mirrored, lengthen, measure_side
from planner.feed_units import Feed, count_eighths
from planner.find_cuts import turn_vector
from planner.look_along import SeamSides
from planner.measure import Root
from planner.name_piece import is_level, name_piece, show_cut
from planner.name_piles import Chain, Lying, Outcome
from planner.press_seams import turn_marks
from planner.say_bends import BendWords, tell_apart
from planner.say_bias import BiasWords
from planner.say_laid import LaidWords
from planner.say_prints import WAYS, say_cut, say_grain, say_lying, say_way
from planner.say_trim import say_trim
from planner.say_webs import HANGS, STAYS, WebWords, is_webbed
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
    StripWork,
    UnitWork,
    feed_chain,
    feed_turn,
    is_sewn_singly,
    pins_of,
    stretches_of,
)
from planner.surd import Grid
from planner.turn_prints import NO_WAY, UPRIGHT
from planner.turns import to_eighths

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


def counted(step: Step) -> tuple[str, str]:
    """What is counted at a step, one and several."""
    if isinstance(step.work, StripWork):
        return ("length", "lengths") if step.work.cut.is_long else ("strip", "strips")
    is_one_sided = isinstance(step.work, SewWork) and len(step.work.chain.sides) == 1
    return ("seam", "seams") if is_one_sided else COUNTED[step.stage]


_PART = "part of "
_TOO_SMALL = "Too small: the allowance was too deep; too large: too narrow"
_TOO_SMALL_TRIMMED = "Too small: trimmed too far, or the allowance was too deep; too large: trim again"
_MANY_WAYS = 5  # ridges that are told one by one are fewer
VERSION = "'"  # behind a pile's letter: a further version of the same unit


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

    `pieces`: of a cut, how many are still to cut; `is_again` where they come on top of what was planned, of which all
    are cut; of strips, where some are cut up already. `strips`: how many of one width in all. `piles`: to lay out, with
    how many of each. `chains`: to clip, with the pairs in each. `row`: of the quilt, which one is laid out next, from
    0. `copy`: of a webbed block, which one of those that are sewn alike, from 1.
    """

    pieces: int = 0
    piles: tuple[tuple[str, int], ...] = ()
    chains: tuple[tuple[Chain, int], ...] = ()
    row: int | None = None
    copy: int = 0
    strips: int = 0
    is_again: bool = False


class Speaker:
    """Says the steps of one sheet with the letters of its piles."""

    def __init__(self, sheet: Sheet, letters: Mapping[str, str]) -> None:
        self.sheet = sheet
        self.plan = sheet.plan
        self.letters = letters
        self.ruler = self.plan.ruler
        self.bends = BendWords(self.plan)
        self.webs = WebWords(self.plan)
        self.methods = MethodWords(self.plan)
        self.laid = LaidWords(sheet, self.methods, self.name_pile)
        self.bias = BiasWords(self.plan, letters.get)
        self.strips = StripWords(self.ruler, lambda pile: letters.get(pile, ""))

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
        sizes, rounded = self.plan.words.unfinished(number), self.plan.words.is_rounded(number)
        short, long = (self.ruler.to_measure(size, is_up) for size, is_up in zip(sizes, rounded, strict=True))
        if self.plan.words.has_inner_corner(number):
            return f"{self.ruler.sides(short, long)} over all"
        if piece.shape in ("square", "rectangle"):
            return self.ruler.sides(short, long)
        if piece.shape == "half-square triangle":
            return f"{short.words}{self.ruler.ending} along each short side"
        if piece.shape == "quarter-square triangle":
            return f"{long.words}{self.ruler.ending} along the long side"
        return f"{self.ruler.sides(short, long)} over all"

    def name_piece(self, fabric: str, piece: Piece) -> str:
        """A patch in words: `navy square 3 1/2`."""
        return f"{fabric} {name_piece(piece, self.ruler)}"

    def name_pile(self, pile: str) -> str:
        """What lies in a pile: `navy square 3 1/2`, `navy-shell pair 3 1/2 x 6 1/2`."""
        entry = self._entries.get(pile)
        if entry is not None:
            lying = self._lying_on_cloth(entry)
            return self.name_piece(entry.fabric, entry.piece) + (f", {lying}" if lying else "")
        number = self.plan.piles.piles[pile].unit
        layout = self.plan.words.layouts.get(number)
        if layout is not None:
            return f"{layout.words}, {self.measure_of(number)}"
        return f"{self.plan.words.name(number)} {self.measure_of(number)}"

    def count_pile(self, pile: str, many: int) -> str:
        """So many of a pile: `16 of navy square 3 1/2`; of what joins the quilt `3 like row 1, columns 1 to 2, 14 x 9`,
        or where there is only one `row 2, 14 x 40`."""
        layout = self.plan.words.layouts.get(self.plan.piles.piles[pile].unit)
        if pile in self._whole_piles:
            return f"{many} of {self.name_pile(pile)}, as they are cut: {self._whole_piles[pile]}"
        if layout is None or not many:
            return f"{many} of {self.name_pile(pile)}"
        return self.name_pile(pile) if layout.alike == 1 else f"{many} like {self.name_pile(pile)}"

    def _lying_on_cloth(self, entry: CutEntry) -> str:
        """How a piece of a print with a direction lies on the cloth; nothing for other fabrics."""
        if entry.up == NO_WAY:
            return ""
        return say_lying(entry.piece, [f"{one.words}{self.ruler.ending}" for one in show_cut(entry.piece, self.ruler)])

    @cached_property
    def _whole_piles(self) -> dict[str, str]:
        """Piles of patches that are cut, some of them or all, by another method than patch by patch: as what."""
        found = {}
        for place, parts in self.methods.instead.items():
            sizes = (self.methods.name_sizes(part) for part in parts if part.wholes)
            found[self.plan.piles.unit_names[self.plan.cut[place].units[0]]] = ", ".join(dict.fromkeys(sizes))
        return found

    @cached_property
    def _entries(self) -> dict[str, CutEntry]:
        return {self.plan.piles.unit_names[entry.units[0]]: entry for entry in self.plan.cut}

    # -- steps

    def say(self, step: Step, now: Now | None = None) -> StepWords:
        """The words of a step: as planned, or of what is to do now."""
        work = step.work
        if isinstance(work, MachineWork):
            return self._say_machine(work)
        if isinstance(work, StripWork):
            return self._say_strips(work, now)
        if isinstance(work, CutWork):
            return self._say_cut(work, now)
        if isinstance(work, LayOutWork):
            return self._say_lay_out(work, step, now)
        if isinstance(work, ArrangeWork):
            return self._say_arrange(work, now)
        if isinstance(work, SewWork):
            return self._say_sew(work.chain, now.copy if now else 0)
        if isinstance(work, ClipWork):
            return self._say_clip(work, step, now)
        if isinstance(work, UnitWork):
            if step.stage == "press":
                return self._say_press(work.chain, work.outcome, now.copy if now else 0)
            if step.stage == "trim":
                return self._say_trim(work)
            return self._say_measure(work, now.copy if now else 0)
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
        if work.entry.up != NO_WAY:
            return self._mat_words_of_print(work, pieces)
        if work.instead is not None:
            return self._mat_words_by_method(work, work.instead, pieces)
        piece = work.entry.piece
        pieces = work.entry.count if pieces is None else pieces
        squares = -(-pieces // work.per)
        end = self.ruler.ending
        short, long = (one.words for one in show_cut(piece, self.ruler))
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
        wide, high = (long, short) if is_level(piece) else (short, long)
        row = next((one.row for one in work.sources if one.row), None)
        if row is not None and row.slants is not None:
            return f"{_many(pieces, row.slants.noun)}, {wide}{end} wide and {high}{end} high over all"
        return f"{_many(pieces, 'piece')} by outline, {wide}{end} wide and {high}{end} high over all"

    def _mat_words_by_method(self, work: CutWork, instead: Instead, pieces: int | None) -> str:
        """The same where the maker asked for another method than patch by patch."""
        words = [self.methods.say_cut(instead)]
        if instead.singly:
            words.append(self.mat_words(replace(work, per=work.per_alone, instead=None), instead.singly))
        if pieces is not None and pieces != work.entry.count:
            words.append(f"{-(-pieces // work.per)} to cut now")
        return "; ".join(words)

    def _mat_words_of_print(self, work: CutWork, pieces: int | None) -> str:
        """The same of a print with a direction."""
        entry, piece = work.entry, work.entry.piece
        pieces = entry.count if pieces is None else pieces
        lying = self._lying_on_cloth(entry)
        if not work.lead:
            words = self.mat_words(replace(work, entry=replace(entry, up=NO_WAY)), pieces)
            return f"{words}, print upright" if not lying or lying.startswith("print aslant") else f"{words}, {lying}"
        triangles = f"{_many(pieces, 'triangle')}, {lying}"
        if work.lead != work.pile:
            return f"{triangles}: out of the squares for {self._pile_words(work.lead)}"
        size = show_cut(piece, self.ruler)[piece.shape == "quarter-square triangle"].words
        cut = f"{'each cut' if pieces > 1 else 'cut'} {say_cut(piece)}"
        return f"{_many(pieces, 'square')} {size}{self.ruler.ending}, print upright, {cut}: {triangles}"

    def _rest_words(self, work: CutWork) -> str:
        """What the squares that a triangle is cut from give besides."""
        if work.lead != work.pile:
            return "Where none is left cut one more such square"
        left = work.entry.count * (1 if work.entry.piece.shape == "half-square triangle" else 3)
        words = []
        for entry, pile in work.rest:
            words.append(f"{entry.count} for {self._pile_words(pile)} ({self._lying_on_cloth(entry)})")
            left -= entry.count
        if left:
            words.append("one left over" if left == 1 else f"{left} left over")
        return f"What else comes out of them: {', '.join(words)}"

    def _pile_words(self, pile: str) -> str:
        letter = self.letters.get(pile)
        return f"pile {letter}" if letter else self.name_pile(pile)

    def outline_words(self, piece: Piece) -> str:
        """The corners of a piece that no rule of squares cuts."""
        rounded = piece.rounded[::-1] if is_level(piece) else piece.rounded
        corners = "; ".join(
            ", ".join(
                self.ruler.to_measure(place, is_rounded and place != 0).words
                for place, is_rounded in zip(corner, rounded, strict=True)
            )
            for corner in piece.corners
        )
        return f"Corners, from the upper left of the box to the right and down, right side up: {corners}"

    def _say_strips(self, work: StripWork, now: Now | None) -> StepWords:
        many = now.strips if now and now.strips else work.cut.count
        does, why = list(self.strips.say_does(work.cut)), ["Cut away from yourself, close the blade after every cut"]
        if now is not None and now.is_again:
            does.append("Strips that were cut up before are reckoned with what is left of them")
        if work.cut.is_first:
            why.insert(0, "The widest first: out of a ruined one you may cut a narrower one; count it at its step")
        return StepWords("CUT", self.strips.name(work.cut, many), tuple(does), tuple(why))

    def say_sources(self, work: CutWork, is_again: bool = False) -> str:
        """From which strips a pile is cut; nothing where that is not known, or where it comes out of squares that are
        cut for another pile."""
        if not work.sources or (work.lead and work.lead != work.pile):
            return ""
        if is_again:
            return _begin_large(self.strips.say_again(work.sources))
        return self.strips.say_sources(work.sources, work.instead is None)

    def say_spoiled_cut(self, work: CutWork) -> str:
        """What follows where one cut is ruined: nothing is sewn of it yet."""
        if not work.sources or (work.lead and work.lead != work.pile):
            return "one more is cut in its place"
        return f"one more is cut in its place, {self.strips.say_again(work.sources)}"

    def _say_cut(self, work: CutWork, now: Now | None) -> StepWords:
        piece = work.entry.piece
        does = [self.mat_words(work, now.pieces if now and now.pieces else None)]
        sources = self.say_sources(work, now is not None and now.is_again)
        if sources:
            does.append(sources)
        if work.pile in self._told_faults:
            does.append(self._told_faults[work.pile])
        batches = {whole.batch for whole in work.instead.wholes} if work.instead is not None else ()
        does += self.bias.say_of_pile(work.pile, batches)
        if work.lead:
            does.append(self._rest_words(work))
        row = None if now is not None and now.is_again else next((one.row for one in work.sources if one.row), None)
        if row is not None:
            does += self.strips.say_rows_off(work.sources)
            does += say_row(row, self.ruler, is_mirrored(piece.corners))
        is_ruled = row is not None and has_ruled_cuts(row) and all(one.row for one in work.sources)
        if not is_ruled and (piece.shape == "other" or self._lying_on_cloth(work.entry) == "print aslant"):
            does.append(self.outline_words(piece))
            does.append(self._mark_words(piece))
        what = work.entry.fabric
        letter = self.letters.get(work.pile)
        if letter is not None:
            what = f"{what} for pile {letter}"
            does.append(self._slip_words(work, letter))
        is_print = work.entry.up != NO_WAY
        why = [say_grain(piece) if is_print and piece.shape in ("square", "rectangle") else _tell_grain(work)]
        if piece.shape == "other" and not is_print:
            mirrored = "" if is_mirrored(piece.corners) else "; mirrored it does not fit"
            why.append(f"Its mark is the top of the box{mirrored}")
        elif not any(isinstance(size, Root) for size in piece.finished) and any(
            not self.ruler.to_cut(size).exact for size in _list_sizes(work)
        ):
            exact = " x ".join(self.ruler.exact(size).removesuffix(" cm") for size in dict.fromkeys(_list_sizes(work)))
            why.append(f"Exactly {exact} {self.ruler.measure}: between the lines of the ruler, so cut a little more")
        why.append("Cut away from yourself, close the blade after every cut")
        return StepWords("CUT", what, tuple(does), tuple(why))

    def _slip_words(self, work: CutWork, letter: str) -> str:
        """What is written on a slip; where one pile is cut in several sizes, which of them this is."""
        if self._cut_in_parts.get(work.pile, 1) == 1:
            return f"Write {letter} on a slip and pin it on{_slip_words(work.entry.up)}"
        size = name_piece(work.entry.piece, self.ruler)
        if work.instead is not None and work.instead.wholes:
            size = self.methods.name_sizes(work.instead)
        return f"Write {letter}, {size}, on a slip and pin it on; keep it apart from the other sizes of {letter}"

    @cached_property
    def _cut_in_parts(self) -> Counter[str]:
        """In how many steps each pile is cut."""
        return Counter(step.work.pile for step in self.sheet.steps if isinstance(step.work, CutWork))

    def _mark_words(self, piece: Piece) -> str:
        """How an outline is marked on the cloth."""
        turned = "" if is_mirrored(piece.corners) else ": there it lies mirrored"
        return f"Mark it {ON_WRONG_SIDE}{turned}; cut on the inner edge of the mark"

    @cached_property
    def _told_faults(self) -> dict[str, str]:
        """By the first pile of each fabric why it has no strips."""
        told: dict[str, str] = {}
        for fault in self.sheet.faults:
            pile = next(
                (
                    step.work.pile
                    for step in self.sheet.steps
                    if isinstance(step.work, CutWork) and fault.where == f"fabric {step.work.entry.fabric}"
                ),
                None,
            )
            if pile is not None:
                told.setdefault(pile, f"No strips are worked out: {fault.words}")
        return told

    def _say_lay_out(self, work: LayOutWork, step: Step, now: Now | None) -> StepWords:
        piles = now.piles if now else work.piles
        prints = "".join(dict.fromkeys(map(self._prints_words, (pile for pile, _ in piles))))
        how = f"Right sides up{prints}. Sewn units lie all alike, the arrow on their slip (the mark) at their top"
        if 0 < self._joining_pass <= step.pass_number:
            how = "What lies in the quilt stays there: take it from its place, and lay what is sewn back there"
        return StepWords(
            "LAY OUT",
            f"{_many(len(piles), 'pile')} for pass {step.pass_number}",
            tuple(f"{self.letter(pile)}: {self._laid_words(pile, many, step)}" for pile, many in piles),
            (
                how,
                "Move a slip to the next unit when the one it is pinned to is sewn",
                *((HANGS,) if any(map(self.webs.has_hanging, self.sheet.chains_of_pass(step.pass_number))) else ()),
            ),
        )

    def _laid_words(self, pile: str, many: int, step: Step) -> str:
        if self.plan.piles.piles[pile].unit in self.plan.words.layouts:
            return self.count_pile(pile, many)
        return self.laid.say(pile, many, step.pass_number)

    def _prints_words(self, pile: str) -> str:
        """Where the prints of what lies in a pile point; nothing where none has a direction."""
        shapes = [self.plan.units.cuts.shapes[shape] for _, _, shape in self._unit_of(pile).patches]
        up = max(shape.up for shape in shapes)
        return f", {say_way(up).replace('print', 'prints')}" if up != NO_WAY else ""

    def _unit_of(self, pile: str) -> Unit:
        return self.plan.units.units[self.plan.piles.piles[pile].unit]

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
        names = self._name_blocks([lying for row in work.rows for lying in row])
        if names:
            does.append(names)
        if quilt.sashing is not None:
            posts = f", {quilt.sashing.posts} posts where they cross" if quilt.sashing.posts else ""
            does.append(f"{_begin_large(quilt.sashing.fabric)} sashes between them{posts}")
        if quilt.setting is not None:
            does.append(f"{_begin_large(quilt.setting)} triangles fill the edges")
        why = "The mark of each slip points as told: so the joins nest"
        if any(fabric.directional for fabric in self.plan.project.fabrics):
            why += ", and prints stand upright"
        return StepWords(
            "LAY OUT", "the quilt, row by row", tuple(does), (why, "What is not sewn yet: leave its place")
        )

    def _name_blocks(self, lying: list[Lying]) -> str:
        """What the letters stand for: `AF: nine patch; AG: buoy`."""
        named = {self.letter(one.pile): self.name_block(one.pile) for one in lying}
        return "; ".join(f"{letter}: {name}" for letter, name in named.items() if name not in ("", letter))

    def name_block(self, pile: str) -> str:
        """The name of the whole block that lies in a pile; nothing for what is none."""
        return self.plan.words.block_titles.get(self.plan.piles.piles[pile].unit, "")

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
        mark = f" mark {WAYS[(to_eighths(lying.turn) + askew) % 8]}" if self.has_mark(lying.pile) else ""
        return f"{self.letter(lying.pile)}{mark}"

    def order_of(self, chain: Chain) -> tuple[Lying, Lying]:
        """The pile underneath, then the pile on top: the same one where a seam is finished."""
        feed = feed_chain(self.plan, chain)
        a, b = chain.sides[0], chain.sides[-1]
        return (b, a) if feed.a_on_top else (a, b)

    def _lay_words(self, chain: Chain, side: Lying, eighths: int) -> str:
        """How a side lies beside the machine: as its slip's mark says, or as it hangs in a web."""
        if not self.webs.is_hanging(chain, side):
            return f"{self.letter(side.pile)}{self._mark(side, eighths)}"
        if chain.row_seam is None:
            return f"{self.letter(side.pile)} as it hangs"
        return f"{self.letter(side.pile)} ({self.webs.rows(chain)[side is self.order_of(chain)[1]]})"

    def _say_sew(self, chain: Chain, copy: int) -> StepWords:
        feed = feed_chain(self.plan, chain)
        under, top = self.order_of(chain)
        eighths = feed_turn(self.plan, chain)
        low, high = self.letter(under.pile), self.letter(top.pile)
        both = f"two {high}" if low == high else f"{high} on {low}"
        page = f"turn {high} over onto {low}" if low != high else "turn it over onto the left one"
        unit = self.plan.units.units[chain.unit]
        left, right = (self._lay_words(chain, side, eighths) for side in (under, top))
        by_method, is_all = self.methods.say_sew(chain.unit, self._pairs_of_kind(chain))
        if is_all:
            if any(part.choice.unit.family == "row" for part in self.methods.parts.of(chain.unit)):
                by_method += (f"Left {left}, right {right}: {page}, like a page; sew the long edge",)
            return self._say_by_method(chain, by_method)
        does = [*by_method, f"Left {left}, right {right}: {page}, like a page"]
        if by_method:
            does.insert(len(by_method), "The rest pair by pair:")
        if unit.closes:
            both = f"the rest of {low}"
            does = self.bends.finish(unit, feed, low, chain.a.turn)
        elif unit.open_rest and not unit.legs:
            does += self.bends.part(unit, feed, self._edge(chain, low, high), low, high)
            does += self._end_words(chain, low, high)
            does += self.bends.loose_end(unit)
        elif unit.legs:
            is_mitre = self.bends.is_mitre(chain.unit)
            does += self._set_in_words() if is_mitre else self.bends.set_in(unit, feed, low, high)
        else:
            does.append(f"Right sides together; sew {self._edge(chain, low, high)}, upper end first")
            does += self._end_words(chain, low, high)
            does += self._short_words(chain, unit, feed, low, high)
            does += self.bends.loose_end(unit)
        if chain.web is not None:
            does.append(self.webs.feed(chain, copy))
        elif chain.row_seam is not None:
            does.append(self.webs.join(chain))
        does.append(self._pin_words(chain))
        does += self._match_words(chain, high, low)
        if unit.legs and (feed.bias_a or feed.bias_b):
            does.append("Where an edge is on the bias, do not pull")
        elif feed.bias_a or feed.bias_b:
            which = "The edge underneath is" if feed.bias_a != feed.bias_b else "Both edges are"
            does.append(f"{which} on the bias: do not pull")
        does += self._thread_words(chain)
        does += self._version_words(chain)
        piles = " or ".join(self.letter(outcome.pile) for outcome in chain.outcomes.values())
        becomes = f"Becomes {piles}, {self.plan.words.name(chain.unit)}"
        used_in = self.used_in(chain)
        why = becomes if used_in == "the quilt" else f"{becomes}; for {used_in}"  # where in the quilt its name says
        return StepWords("SEW", both, tuple(does), (why,))

    def _pairs_of_kind(self, chain: Chain) -> int:
        """How many pairs are sewn alike, in whatever piles they lie."""
        kind = self.plan.units.units[chain.unit].kind
        return sum(other.pairs for other in self.plan.piles.chains[kind])

    def _say_by_method(self, chain: Chain, does: tuple[str, ...]) -> StepWords:
        """A chain that is not sewn pair by pair."""
        piles = " or ".join(self.letter(outcome.pile) for outcome in chain.outcomes.values())
        becomes = f"Becomes {piles}, {self.plan.words.name(chain.unit)}"
        both = " and ".join(dict.fromkeys(self.letter(side.pile) for side in chain.sides))
        return StepWords("SEW", both, (*does, *self._version_words(chain)), (becomes,))

    def _thread_words(self, chain: Chain) -> list[str]:
        """How pairs follow one another; of rows of a web and of strips that are set in this is told already."""
        unit = self.plan.units.units[chain.unit]
        if chain.row or (unit.legs and self.bends.is_mitre(chain.unit)):
            return []
        if is_sewn_singly(self.plan, chain):
            return ["Not in a chain: cut the threads after each seam"]
        return [f"A scrap first and last{'; a few stitches between pairs' if chain.pairs > 1 else ''}"]

    def _version_words(self, chain: Chain) -> list[str]:
        """Of piles with a mark behind their letter what it means, where they come to be first."""
        return [
            f"{letter} is {letter.rstrip(VERSION)} pressed another way, itself or inside: keep the two apart"
            for pile, letter in ((outcome.pile, self.letter(outcome.pile)) for outcome in chain.outcomes.values())
            if self._first_made.get(pile) == chain.name
        ]

    @cached_property
    def _first_made(self) -> dict[str, str]:
        """For each pile that is a further version of another one the chain that makes the first of it."""
        plain = {self.letter(pile) for pile in self.sheet.made_by}
        found: dict[str, str] = {}
        for step in self.sheet.steps:
            if isinstance(step.work, SewWork):
                for outcome in step.work.chain.outcomes.values():
                    letter = self.letter(outcome.pile)
                    if letter.endswith(VERSION) and letter.rstrip(VERSION) in plain:
                        found.setdefault(outcome.pile, step.work.chain.name)
        return found

    def _set_in_words(self) -> list[str]:
        """How a border strip with slanting ends is set in, one at a time."""
        seam = self.ruler.exact(self.plan.project.seam)
        return [
            f"Right sides together; sew the inside edge, upper end first: begin {seam} from the one inner corner, stop "
            f"{seam} from the other, a backstitch at each",
            f"Then each corner: fold so that the slanting ends meet; sew from the stitch {seam} inside out to the "
            "edge, catch no allowance; cut the threads after each seam",
        ]

    def _end_words(self, chain: Chain, low: str, high: str) -> list[str]:
        """Where the raw edges are not even at an end, because the two meet the border askew: what stands out there."""
        unit, feed = self.plan.units.units[chain.unit], feed_chain(self.plan, chain)
        out: dict[str, list[str]] = {}
        even = []
        for which, at in (("upper", feed.first), ("lower", feed.last)):
            what = self._say_end(unit, feed, at, low, high)
            if what:
                out.setdefault(what, []).append(which)
            else:
                even.append(which)
        if not out:
            return []
        words = [f"{what} at {'both ends' if len(ends) == 2 else f'the {ends[0]} end'}" for what, ends in out.items()]
        if even:
            words.insert(0, f"edges even at the {even[0]} end")
        told = [_begin_large("; ".join(words))]
        if chain.unit in self.plan.words.layouts and self.plan.words.has_inner_corner(chain.unit):
            under, top = self.bends.find_ends(unit, feed, feed.first)
            seam = self.ruler.exact(self.plan.project.seam)
            is_below = self.bends.go_beyond(feed.first, under) > self.bends.go_beyond(feed.first, top)
            longer = low if is_below else high
            told.append(
                f"Begin and stop {seam} from the ends of {longer}, a backstitch at each: the corners come later"
            )
        return told

    def _say_end(self, unit: Unit, feed: Feed, at: Point, low: str, high: str) -> str:
        """What stands out at one end of a straight seam; nothing where the raw edges are even."""
        ends = self.bends.find_ends(unit, feed, at)
        names = tell_apart(low, high)
        for name, end in zip(names, ends, strict=True):
            if end.corner.bend < 0 and not end.beyond:
                return f"the seam ends in the inner corner of {name}"
            if end.corner.bend < 0:  # where its raw edge ends there is no matter of the allowance alone
                long = self.ruler.to_measure(self.bends.go_beyond(at, end))
                return f"{name} goes on {long.words}{self.ruler.ending} (finished) to its inner corner"
        under, top = (self.bends.go_beyond(at, end) for end in ends)
        size = self.ruler.to_measure(abs(under - top)).words
        if size in ("0", "about 0"):
            return ""
        return f"{names[under < top]} stands out {size}{self.ruler.ending}"

    def _short_words(self, chain: Chain, unit: Unit, feed: Feed, low: str, high: str) -> list[str]:
        """Where a seam stops before the edge; of strips with slanting ends that is told already."""
        is_layout = chain.unit in self.plan.words.layouts
        has_none = is_layout or not (unit.is_bent or self.plan.words.has_inner_corner(chain.unit))
        return [] if has_none else self.bends.ends(unit, feed, low, high)

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
        return f" (mark {WAYS[(to_eighths(lying.turn) + eighths) % 8]})" if self.has_mark(lying.pile) else ""

    def has_mark(self, pile: str) -> bool:
        """Whether it matters which way the slip's mark points: not for what looks the same all round, nor for patches
        whose shape and edge to sew say how they lie (and whose print, if any, has no direction)."""
        unit = self._unit_of(pile)
        entry = self._entries.get(pile)
        is_plain = unit.shape >= 0 and entry is not None and entry.piece.shape != "other" and entry.up == NO_WAY
        return unit.period != 1 and not is_plain

    def _edge(self, chain: Chain, low: str, high: str) -> str:
        """The edges that are sewn together: by their length where both are rectangles, else by their looks."""
        unit = self.plan.units.units[chain.unit]
        assert unit.a is not None
        assert unit.b is not None
        feed = feed_chain(self.plan, chain)
        first, last = feed.first, feed.last
        if unit.open_rest:  # what is left open is of the same edges
            last = next(end for end in unit.open_rest if end != last)
        sides = (unit.b, unit.a) if feed.a_on_top else (unit.a, unit.b)
        under, top = (self._look_of_edge(side, first, last) for side in sides)
        is_part = any(look.startswith(_PART) for look in (under, top))
        is_bare = under == top and not under.startswith("the ")
        if is_part or (is_bare and any(self._is_box(side.unit) for side in sides)):
            under, top = (self._look_of_edge(side, first, last, by_length=True) for side in sides)
        if self._is_box(unit.a.unit) and self._is_box(unit.b.unit) and not is_part:
            return self._show_edge((first, last), *sides)
        if under == top and not is_part:
            return under.replace("edge", "edges", 1) if under.startswith("the ") else "the edges between them"
        low, high = tell_apart(low, high)
        return f"{top} of {high} to {under} of {low}"

    def _show_edge(self, edge: tuple[Point, Point], *sides: Side) -> str:
        """An edge of a rectangle by its length, raw; of a patch, which was just cut, by the size that was cut."""
        (px, py), (qx, qy) = edge
        finished = measure_side(*(self.plan.blocks.inches(way) for way in (qx - px, qy - py)))
        for side in sides:
            if self.plan.units.units[side.unit].shape >= 0:
                piece = self.plan.words.piece(side.unit)
                for whole, cut in zip(piece.finished, piece.cut, strict=True):
                    if whole == finished:
                        return f"the {self.to_cut(cut)}{self.ruler.ending} edge"
        shown = self.ruler.to_measure(lengthen(finished, 2 * self.plan.project.seam))
        size = f"{shown.words}{self.ruler.ending}"
        return f"the {size} edge" if shown.exact else f"the edge of {size}"

    def _is_box(self, number: int) -> bool:
        return self.plan.words.is_rectangle(number) or self.plan.words.piece(number).shape in ("square", "rectangle")

    def _look_of_edge(self, side: Side, first: Point, last: Point, by_length: bool = False) -> str:
        """The long or the short edge, or part of it; of two that are alike in a triangle, the one where both meet at
        this end. `by_length` tells the edge of a rectangle by that."""
        outline = self.plan.units.place_points(self.plan.words.outline(side.unit), side)
        edges = [(outline[number - 1], point) for number, point in enumerate(outline)]
        edge = next(edge for edge in edges if lies_on(first, *edge) and lies_on(last, *edge))
        square = _distance(*edge)
        others = [_distance(*other) for other in edges if other != edge]
        part = _PART if square != _distance(first, last) else ""
        if by_length and self._is_box(side.unit):
            return f"{part}{self._show_edge(edge, side)}"
        if all(other < square for other in others):
            return f"{part}the long edge"
        if not part and len(outline) == 3 and others.count(square) == 1:
            (corner,) = [point for point in outline if point not in (first, last)]
            end = "upper" if _distance(first, corner) == square else "lower"
            if sum(others) == 3 * square:
                return f"the short edge (square corner at the {end} end)"
            which = "long" if min(others) < square else "short"
            return f"the {which} edge (both {which} ones meet at the {end} end)"
        if all(other > square for other in others):
            return f"{part}the short edge"
        return f"{part}an edge"

    def _pin_words(self, chain: Chain) -> str:
        pins = len(pins_of(self.plan, chain.unit))
        stretches = stretches_of(self.plan, chain.unit)
        ends = {stretches[0][0], *(end for _, end in stretches)}
        inner = sum(match.at not in ends for match in chain.matches)
        between = pins - len(ends) - inner
        parts = ["both ends"]
        if len(stretches) > 1:
            parts.append(_many(len(stretches) - 1, "corner dot") if len(stretches) > 2 else "the corner dot")
        if inner:
            parts.append(_many(inner, "join") if inner > 1 else "the join")
        if between:
            parts.append(f"{between} between")
        return f"Pins: {pins}, {' and '.join(parts) if len(parts) < 3 else ', '.join(parts)}; out before the needle"

    def ridges(self, chain: Chain) -> list[tuple[Point, bool, bool]]:
        """The joins from the first end on: where, and whether the ridge on top and the one underneath run up. Of a seam
        that turns those of its first stretch."""
        feed = feed_chain(self.plan, chain)
        start, end = feed.first, feed.last
        ahead_is_up = feed.first == self.plan.units.units[chain.unit].seam[1]
        found = []
        for match in sorted((one for one in chain.matches if lies_on(one.at, start, end)), reverse=ahead_is_up):
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
            ways = _list_ways([("up" if top else "down") for top, _ in locking])
            words.append(
                f"At the joins, from the upper end, the ridges of {high} run {ways}, those of {low} the "
                "other way: push each until it locks"
            )
        for place, (_, top, under) in enumerate(ridges, 1):
            if top == under:
                which = "the join" if len(ridges) == 1 else f"join {place} from the upper end"
                words.append(
                    f"At {which} both ridges run {'up' if top else 'down'} and cannot lock: a pin on each side"
                )
        feed = feed_chain(self.plan, chain)
        for match in chain.matches:
            if not lies_on(match.at, feed.first, feed.last):
                how = "push until the ridges lock" if match.nests else "the ridges cannot lock: a pin on each side"
                words.append(f"At the join beyond the corner {how}")
        return list(dict.fromkeys(words))

    def _say_clip(self, work: ClipWork, step: Step, now: Now | None) -> StepWords:
        chains = now.chains if now else tuple((chain, chain.pairs) for chain in work.chains)
        return StepWords(
            "CLIP",
            "the chains apart, and count",
            tuple(
                f"{self._clip_words(chain, pairs)}, from {' and '.join(self.letter(side.pile) for side in chain.sides)}"
                for chain, pairs in chains
            ),
            (
                "A number that is off shows now which pair is missing; keep the heaps apart",
                *((STAYS,) if any(map(is_webbed, self.sheet.chains_of_pass(step.pass_number))) else ()),
            ),
        )

    def _clip_words(self, chain: Chain, pairs: int) -> str:
        letters = " and ".join(self.letter(outcome.pile) for outcome in chain.outcomes.values())
        return self.methods.say_clipped(chain.unit, pairs, letters) or f"{_many(pairs, 'pair')} of {letters}"

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
            away = unit.sides[-1] if outcome.to_a else unit.sides[0]
            at_seam = " at the seam" if fabric in self.plan.words.fabrics(away.unit) else ""
            return f"toward the {fabric}{at_seam}"
        if len(chain.sides) == 2 and chain.a.pile == chain.b.pile and self._is_even(chain):
            return "to either side, all alike"
        return f"toward {self._side_words(chain, outcome.to_a)}"

    def _side_words(self, chain: Chain, is_a: bool) -> str:
        """A side of a seam by its pile, or by how the two lay under the needle where they come from one pile."""
        a, b = chain.sides[0].pile, chain.sides[-1].pile
        pile, other = (a, b) if is_a else (b, a)
        if pile != other:
            return self.letter(pile)
        on_top = feed_chain(self.plan, chain).a_on_top == is_a
        what = self.letter(pile) if len(chain.sides) == 2 else "side"
        return f"the {what} that lay {'on top' if on_top else 'underneath'}"

    def _is_even(self, chain: Chain) -> bool:
        """Whether a half turn carries the unit onto itself, its other seams' press directions too."""
        unpressed = chain.unpressed
        unit = self.plan.units.units[chain.unit]
        return unit.period == 2 and turn_marks(self.plan.units, chain.unit, unpressed) == unpressed

    def arrow(self, chain: Chain, outcome: Outcome) -> tuple[int, str]:
        """The way the allowances fall as the pile lies, mark at the top: in eighths of a turn from up, and in words."""
        unit = self.plan.units.units[chain.unit]
        (px, py), (qx, qy) = unit.seam
        assert unit.a is not None
        on_normal = unit.a_on_normal == outcome.to_a
        way: Point = (py - qy, qx - px) if on_normal else (qy - py, px - qx)
        way = turn_vector(way, -outcome.turn % 4)
        # count_eighths says how far the way is from straight down
        eighths = (4 - count_eighths(way)) % 8
        return eighths, WAYS[eighths].replace("to the ", "")

    def _along(self, chain: Chain, side_a: bool) -> set[str]:
        """The fabrics of one side along the seam."""
        a, b = self._seam_sides.look(self.plan.units.units[chain.unit])
        return set((a if side_a else b).lengths)

    @cached_property
    def _seam_sides(self) -> SeamSides:
        return SeamSides(self.plan.units)

    def _say_press(self, chain: Chain, outcome: Outcome, copy: int) -> StepWords:
        letter = self.letter(outcome.pile)
        toward = self.toward(chain, outcome)
        unit = self.plan.units.units[chain.unit]
        does = [f"Set the seam flat, then fold the unit open: allowances {toward}"]
        if unit.open_rest:
            does.append("Press only what is sewn; the open end stays as it is")
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
        if unit.begins_outside:
            falls = f"the allowances of the stretch sewn first fall {way}"
        if outcome.is_open:
            falls = f"{self._side_words(chain, outcome.to_a)} lies {way}"
        elif outcome.is_spun:
            falls = f"the allowances of the {self._end_word(chain, outcome)} half fall {way}"
        if chain.stays_hanging:
            does.append(self.webs.hang(chain, outcome, copy))
        else:
            does.append(f"Pin slip {letter} on, its mark up where {falls}")
        does.append("From the back, then from the front; lift the iron, do not slide it")
        does += self.methods.say_pressed(chain.unit)
        why = _begin_large(self._why(chain, outcome))
        if self._is_even(chain) and not outcome.is_open:
            why = "Either way will do: half a turn makes them alike"
        return StepWords("PRESS", f"{letter} {toward}", tuple(does), (why, "Hot: mind your fingers and the cord"))

    def _spin_words(self, chain: Chain, outcome: Outcome) -> list[str]:
        """How the four allowances of a centre are laid round its point."""
        unit = self.plan.units.units[chain.unit]
        assert unit.a is not None
        # On the normal's side at the first end: round the point that is clockwise as one sees it from the back
        on_normal = unit.a_on_normal == outcome.to_a
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
        number = work.chain.unit
        part = self.methods.find_trim(number)
        if part is not None and part.trim_to is not None:
            which, size = letter, self.measure_of(number)
            if not part.is_last:
                which, size = f"{letter}, each half square", f"{self.to_cut(part.trim_to)}{self.ruler.ending}"
            return StepWords(
                "TRIM",
                f"{which} to {size}",
                self.methods.say_trimmed(number, part),
                ("Cut away from yourself, close the blade after every cut",),
            )
        return StepWords(
            "TRIM",
            f"the dog ears of {letter}",
            ("Cut off the points of allowance that stick out, even with the edges",),
            ("They would make the next seam thick and hide where the edges meet",),
        )

    def _say_measure(self, work: UnitWork, copy: int) -> StepWords:
        letter = self.letter(work.outcome.pile)
        which = self.webs.place(work.chain, copy) if work.chain.web is not None else "Every one"
        return StepWords(
            "MEASURE",
            f"{letter}: {self.measure_of(work.chain.unit)}",
            (f"{which}, pressed and flat", *self.methods.say_measured(work.chain.unit)),
            (_TOO_SMALL if self.methods.find_trim(work.chain.unit) is None else _TOO_SMALL_TRIMMED,),
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
                *say_trim(self.plan, block, size),
                f"{self.ruler.exact(seam)} stays outside the design on all four sides",
            ),
            (f"Finished it is {self.sides(finished)}",),
        )


def _distance(start: Point, end: Point) -> Grid:
    """Squared."""
    return (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2


def _slip_words(up: int) -> str:
    """Where the mark of a slip goes on a piece whose print points to `up` as its pile lies."""
    if up == NO_WAY:
        return ""
    return ", mark at the top of the print" if up == UPRIGHT else f", mark up where the print points {WAYS[up // 45]}"


def _list_sizes(work: CutWork) -> tuple[Fraction, ...]:
    """The sizes that must be exact of what is cut; how long a strip is does not matter."""
    if work.instead is None or work.instead.singly:
        return work.entry.piece.cut
    sizes = []
    for whole in work.instead.wholes:
        sizes.append(whole.rectangle.high)
        if not is_in_strips(whole.method):
            sizes.append(whole.rectangle.wide)
    return tuple(sizes)


def _tell_grain(work: CutWork) -> str:
    """The grain of what is cut: of squares and strips that stay whole along their sides, whatever comes out of them."""
    patches = _grain_words(work.entry.piece)
    along = "Grain along its sides"
    if work.instead is None or patches == along:
        return patches
    if not work.instead.singly:
        return along
    return f"Whole ones: grain along their sides. Triangles: {patches[:1].lower()}{patches[1:]}"


def _grain_words(piece: Piece) -> str:
    if piece.shape == "half-square triangle":
        return "Grain along the two short sides; the long side is on the bias"
    if piece.shape == "quarter-square triangle":
        return "Grain along the long side; the two short sides are on the bias"
    if piece.shape == "other":
        return "Grain along the sides of the box round it"
    return "Grain along its sides"


def _list_ways(ways: list[str]) -> str:
    """Which way ridges run, from the first join on: `up, down`, `all up`, `down and up in turn`, `3 down, 2 up`."""
    if len(set(ways)) == 1:
        return f"all {ways[0]}"
    if len(ways) < _MANY_WAYS:
        return ", ".join(ways)
    if all(way != other for way, other in pairwise(ways)):
        return f"{ways[0]} and {ways[1]} in turn"
    runs = [(way, len(list(same))) for way, same in groupby(ways)]
    return ", ".join(way if many == 1 else f"{many} {way}" for way, many in runs)


def _list_words(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _begin_large(words: str) -> str:
    return words[:1].upper() + words[1:]


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
