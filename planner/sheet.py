"""Plan -> run sheet: every step of the work in order, each named by what it is.

A step's name is made of content (what is cut, which unit with which press marks, which stage), never of its number:
so a log of names still fits after the project has changed. Each step carries what a screen or a printer needs.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from hashlib import sha256
from itertools import pairwise
from math import floor
from typing import Any, Literal

from planner.bend_cuts import lies_on
from planner.blocks import Point
from planner.cloth.choose_methods import Choice
from planner.cloth.cloth import Cloth, work_out_cloth
from planner.cloth.cut_by_method import Instead, choose_where_asked, cut_by_method
from planner.cloth.cut_strips import Source, StripCut, find_sources, list_strip_cuts
from planner.cloth.method_parts import MethodParts
from planner.cloth.used_strips import Layout, read_layout, spell_layout
from planner.cut_list import CutEntry
from planner.fault import Fault
from planner.feed_units import Feed, count_eighths
from planner.look_round import find_stops, has_ears
from planner.name_piles import Chain, Lying, Outcome
from planner.plan import Plan
from planner.share_squares import find_leads
from planner.spread_passes import spread_passes
from planner.surd import Grid, Surd

Stage = Literal[
    "machine", "cut", "arrange", "lay out", "sew", "clip", "press", "trim", "measure", "square up", "finish"
]
Topic = Literal["needle", "stitch", "test seam"]
BY_METHOD = " by method "  # in the name of a cutting step, before how many patches come out of what is counted
TOPICS: tuple[Topic, ...] = ("needle", "stitch", "test seam")


@dataclass(frozen=True, slots=True)
class MachineWork:
    topic: Topic


@dataclass(frozen=True, slots=True)
class StripWork:
    """The strips of one width of one fabric."""

    cut: StripCut


@dataclass(frozen=True, slots=True)
class CutWork:
    """`per` pieces come out of one thing that is counted: 2 of a square cut corner to corner, 4 of one cut twice.

    Of a print with a direction such a square gives one of each way to lie. They are counted by the way that most is
    needed of; `rest` are the entries (with their piles) of the others, which come out of the squares of pile `lead`.
    `instead` is what is cut where the maker asked for another method than patch by patch. `sources` are the strips that
    it is cut from, the first cut first; none where it is not known how it lies on the cloth.
    """

    entry: CutEntry
    pile: str
    per: int
    lead: str = ""
    rest: tuple[tuple[CutEntry, str], ...] = ()
    instead: Instead | None = None
    sources: tuple[Source, ...] = ()

    @property
    def per_alone(self) -> int:
        """`per` where the pieces are cut by themselves."""
        return self.per if self.instead is None else count_per(self.entry)


@dataclass(frozen=True, slots=True)
class LayOutWork:
    """The piles that a pass begins with, and how many lie in each."""

    piles: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class ArrangeWork:
    """Laying out the quilt: for each row the piles of its blocks from the left, and how they lie."""

    rows: tuple[tuple[Lying, ...], ...]


@dataclass(frozen=True, slots=True)
class SewWork:
    chain: Chain


@dataclass(frozen=True, slots=True)
class ClipWork:
    chains: tuple[Chain, ...]


@dataclass(frozen=True, slots=True)
class UnitWork:
    """Pressing, trimming or measuring what comes out of a chain on one side."""

    chain: Chain
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class BlockWork:
    """Squaring up the copies of a block: `block` is its number among the drafted ones."""

    block: int
    pile: str


@dataclass(frozen=True, slots=True)
class FinishWork:
    pass


Work = (
    MachineWork
    | StripWork
    | CutWork
    | ArrangeWork
    | LayOutWork
    | SewWork
    | ClipWork
    | UnitWork
    | BlockWork
    | FinishWork
)


@dataclass(frozen=True, slots=True)
class Step:
    """`count` of what the bench counts one by one; `pass_number` 0 before the first pass, else the pass it is in."""

    name: str
    stage: Stage
    pass_number: int
    count: int
    work: Work

    def total(self, more: int = 0) -> int:
        """How many to count when `more` pieces or units are needed than planned."""
        if isinstance(self.work, CutWork) and more:
            # Where strips of unlike lengths are counted, fewer would do for the pieces
            beyond = self.count - -(-self.work.entry.count // self.work.per)
            return max(0, -(-(self.work.entry.count + more) // self.work.per) + beyond)
        return self.count + more


@dataclass(frozen=True)
class Sheet:
    """All steps in order. Piles that a maker handles have names; `assign_letters` gives them letters.

    `cloth` is what the strips are cut from; None where pieces don't fit on it, as `faults` say.
    """

    plan: Plan
    steps: tuple[Step, ...]
    cloth: Cloth | None = None
    faults: tuple[Fault, ...] = ()

    @cached_property
    def number_of(self) -> dict[str, int]:
        """Each step's place, by its name."""
        return {step.name: number for number, step in enumerate(self.steps)}

    @cached_property
    def _by_pass(self) -> dict[int, tuple[Step, ...]]:
        found: dict[int, list[Step]] = {}
        for step in self.steps:
            if step.stage not in ("square up", "finish"):
                found.setdefault(step.pass_number, []).append(step)
        return {number: tuple(steps) for number, steps in found.items()}

    def steps_of_pass(self, pass_number: int) -> tuple[Step, ...]:
        """The steps of a pass, from laying out to measuring; 0: what comes before the first."""
        return self._by_pass.get(pass_number, ())

    def chains_of_pass(self, pass_number: int) -> Iterator[Chain]:
        """What is sewn in a pass."""
        return (step.work.chain for step in self.steps_of_pass(pass_number) if isinstance(step.work, SewWork))

    @cached_property
    def strip_layouts(self) -> dict[str, tuple[Layout, dict[str, Any]]]:
        """For each fabric that has strips how its pieces lie in them, and the same as it stands in the log."""
        counts: dict[str, dict[str, int]] = {}
        cuts: dict[str, list[StripCut]] = {}
        for step in self.steps:
            if isinstance(step.work, StripWork):
                cuts.setdefault(step.work.cut.fabric, []).append(step.work.cut)
            elif isinstance(step.work, CutWork):
                of_fabric = counts.setdefault(step.work.entry.fabric, {})
                of_fabric[step.work.pile] = of_fabric.get(step.work.pile, 0) + step.count
        layouts = {fabric: read_layout(strips, counts.get(fabric, {})) for fabric, strips in cuts.items()}
        return {fabric: (layout, spell_layout(layout)) for fabric, layout in layouts.items()}

    @cached_property
    def made_by(self) -> dict[str, tuple[int, ...]]:
        """For each pile the steps after which something lies in it."""
        last: dict[tuple[str, str], int] = {}
        for number, step in enumerate(self.steps):
            if isinstance(step.work, CutWork):
                last[(step.name, step.work.pile)] = number
            elif isinstance(step.work, UnitWork):
                last[(step.work.chain.name, step.work.outcome.pile)] = number
        found: dict[str, list[int]] = {}
        for (_, pile), number in last.items():
            found.setdefault(pile, []).append(number)
        return {pile: tuple(numbers) for pile, numbers in found.items()}

    @cached_property
    def refilled_by(self) -> dict[str, int]:
        """For each pile of patches the cutting step that gives more of it: where it is cut in several parts, that of
        which fewest come out of one thing."""
        found: dict[str, int] = {}
        for number, step in enumerate(self.steps):
            if isinstance(step.work, CutWork):
                known = self.steps[found.setdefault(step.work.pile, number)].work
                if isinstance(known, CutWork) and step.work.per < known.per:
                    found[step.work.pile] = number
        return found

    @cached_property
    def used_by(self) -> dict[str, tuple[int, ...]]:
        """For each pile the sewing steps that take from it; a chain that joins equals takes two and stands twice."""
        found: dict[str, list[int]] = {}
        for number, step in enumerate(self.steps):
            if isinstance(step.work, SewWork):
                for side in step.work.chain.sides:
                    found.setdefault(side.pile, []).append(number)
        return {pile: tuple(numbers) for pile, numbers in found.items()}

    @cached_property
    def chain_steps(self) -> dict[str, dict[Stage, tuple[int, ...]]]:
        """For each chain its steps by stage; pressing and what follows once for each outcome."""
        found: dict[str, dict[Stage, list[int]]] = {}
        for number, step in enumerate(self.steps):
            if isinstance(step.work, SewWork | UnitWork):
                found.setdefault(step.work.chain.name, {}).setdefault(step.stage, []).append(number)
        return {name: {stage: tuple(numbers) for stage, numbers in stages.items()} for name, stages in found.items()}

    @cached_property
    def passes(self) -> int:
        return max((step.pass_number for step in self.steps), default=0)

    @cached_property
    def turns(self) -> dict[int, tuple[int, ...]]:
        """Steps that are done block after block: for each step of a webbed block those of its stage and pass, which
        take turns."""
        found: dict[object, list[int]] = {}
        for number, step in enumerate(self.steps):
            if isinstance(step.work, SewWork | UnitWork) and step.work.chain.web and step.work.chain.web.of:
                found.setdefault((step.stage, step.pass_number, step.work.chain.web.of), []).append(number)
        return {number: tuple(numbers) for numbers in found.values() for number in numbers}


def write_sheet(plan: Plan, laid: tuple[Cloth | None, tuple[Fault, ...]] | None = None) -> Sheet:
    """The whole run sheet of a plan. `laid` is its cloth where that is worked out already, or is not asked for."""
    cloth, faults = work_out_cloth(plan) if laid is None else laid
    steps: list[Step] = [Step(f"machine {topic}", "machine", 0, 1, MachineWork(topic)) for topic in TOPICS]
    choices = choose_where_asked(plan)
    steps += _cut_steps(plan, cloth, choices)
    parts = MethodParts(plan, choices)
    only_blocks = _find_only_blocks(plan)
    pass_of = spread_passes(plan.batches, plan.piles)
    joining = _find_joining_pass(plan, pass_of)
    passes = max(pass_of.values(), default=0)
    by_pass: dict[int, list[Chain]] = {number: [] for number in range(1, passes + 1)}
    for batch in plan.batches.batches:
        for chain in plan.piles.chains[batch.kind]:
            by_pass[pass_of[chain.name]].append(chain)
    for pass_number, chains in by_pass.items():
        if pass_number == joining:
            steps.append(_arrange_step(plan, pass_number))
        # The rows of a web come last, in their order: that is what holds them
        steps += _pass_steps(plan, pass_number, sorted(chains, key=_place_in_web), only_blocks, parts)
    for number, block in enumerate(plan.blocks.drafted):
        if not block.copies:
            continue  # it is squared up as a unit, before it is joined
        pile = plan.piles.blocks[number].pile
        name = f"square up {pile} {block.name}"
        steps.append(Step(name, "square up", passes, block.copies, BlockWork(number, pile)))
    steps.append(Step("finish", "finish", passes, 1, FinishWork()))
    return Sheet(plan, tuple(steps), cloth, faults)


def _place_in_web(chain: Chain) -> tuple[int, int, str, int, int, Grid]:
    """Webbed blocks one after the other, then the web of the quilt."""
    web = chain.web
    if web is None:
        return (0, 0, "", 0, 0, 0)
    return (1 if web.of else 2, chain.shown_in, web.of, web.columns, web.row, web.across)


def _find_joining_pass(plan: Plan, pass_of: Mapping[str, int]) -> int:
    """The first pass in which a block of the quilt is joined to something; 0 where nothing is."""
    if plan.blocks.top is None:
        return 0
    of_patch, of_seam = plan.units.piece_of
    joints = (
        seam
        for seam, piece in zip(plan.units.seams[-1], of_seam, strict=True)
        if piece < 0 and any((of_seam[side] if side >= 0 else of_patch[~side]) >= 0 for side in seam.sides)
    )
    kinds = {plan.units.units[seam.unit].kind for seam in joints}
    return min((pass_of[chain.name] for kind in kinds for chain in plan.piles.chains[kind]), default=0)


def _arrange_step(plan: Plan, pass_number: int) -> Step:
    assert plan.project.quilt is not None
    lying = [one for one in plan.piles.top if one is not None]
    rows = []
    for row in plan.project.quilt.rows:  # the pieces of the top begin with the blocks, row by row
        rows.append(tuple(lying[: len(row)]))
        lying = lying[len(row) :]
    key = sha256(repr([[(one.pile, one.turn) for one in row] for row in rows]).encode()).hexdigest()[:16]
    return Step(f"arrange {key}", "arrange", pass_number, len(rows), ArrangeWork(tuple(rows)))


def count_per(entry: CutEntry) -> int:
    """How many patches come out of one square or rectangle that is cut for them alone."""
    return {"half-square triangle": 2, "quarter-square triangle": 4}.get(entry.piece.shape, 1)


def _cut_steps(plan: Plan, cloth: Cloth | None, choices: tuple[Choice, ...]) -> Iterator[Step]:
    """Fabric by fabric its strips, then what is cut across them, from the widest strip to the narrowest."""
    cuts = () if cloth is None else list_strip_cuts(cloth)
    sources = find_sources(cuts)
    places = {id(cut): place for place, cut in enumerate(cuts)}
    piles = list(_pile_steps(plan, sources, choices))
    for fabric in dict.fromkeys(entry.fabric for entry in plan.cut):
        for cut in cuts:
            if cut.fabric == fabric:
                yield Step(f"strip {cut.name}", "cut", 0, cut.count, StripWork(cut))
        here = [(step, work) for step, work in piles if work.entry.fabric == fabric]
        # What comes out of the squares for another pile lies where those do
        here.sort(key=lambda one: min((places[id(source.cut)] for source in one[1].sources), default=len(cuts)))
        yield from (step for step, _ in here)


def _pile_steps(
    plan: Plan, sources: Mapping[str, tuple[Source, ...]], choices: tuple[Choice, ...]
) -> Iterator[tuple[Step, CutWork]]:
    leads = find_leads(plan.cut)
    instead = cut_by_method(plan, choices)
    piles = [plan.piles.unit_names[entry.units[0]] for entry in plan.cut]
    for place, (entry, pile) in enumerate(zip(plan.cut, piles, strict=True)):
        per = count_per(entry)
        # The allowance is part of the name: a piece cut for another one would not do
        name = f"cut {pile} {plan.project.seam}"
        work = CutWork(entry, pile, per)
        if place in leads:
            rest = tuple((plan.cut[one], piles[one]) for one, lead in leads.items() if lead == place != one)
            work = CutWork(entry, pile, 1, piles[leads[place]], rest)
        work = replace(work, sources=sources.get(pile, ()))
        if place not in instead:
            yield Step(name, "cut", 0, -(-entry.count // work.per), work), work
        for part in instead.get(place, ()):
            here = replace(work, entry=replace(entry, count=part.pieces), per=part.per)
            if part.wholes:
                here = replace(here, instead=part)
            if len(instead[place]) > 1:
                here = replace(here, sources=_choose_sources(work.sources, part, instead[place]))
            by_method = f"{BY_METHOD}{part.per}" if part.per != per else ""
            yield Step(f"{name}{by_method}", "cut", 0, part.count, here), here


def _choose_sources(sources: tuple[Source, ...], part: Instead, parts: tuple[Instead, ...]) -> tuple[Source, ...]:
    """Where one of several parts of a pile lies: by the sizes of its squares and strips, and of those of the others."""
    own, others = (
        {tuple(sorted((whole.rectangle.wide, whole.rectangle.high))) for one in group for whole in one.wholes}
        for group in ([part], [one for one in parts if one is not part])
    )
    return tuple(
        source
        for source in sources
        if (size := tuple(sorted((source.wide, source.high)))) in own or (part.singly and size not in others)
    )


def _find_only_blocks(plan: Plan) -> set[str]:
    """Piles that hold nothing but whole blocks: those are measured when they are squared up."""
    spare: dict[str, int] = {}
    for chains in plan.piles.chains.values():
        for chain in chains:
            for outcome in chain.outcomes.values():
                spare[outcome.pile] = spare.get(outcome.pile, 0) + outcome.pairs
    for block, lying in zip(plan.blocks.drafted, plan.piles.blocks, strict=True):
        spare[lying.pile] = spare.get(lying.pile, 0) - block.copies
    return {pile for pile, pairs in spare.items() if pairs <= 0}


def _pass_steps(
    plan: Plan, pass_number: int, chains: list[Chain], only_blocks: set[str], parts: MethodParts
) -> Iterator[Step]:
    needed: dict[str, int] = {}
    for chain in chains:
        for side in sides_in_piles(plan, chain):
            needed[side.pile] = needed.get(side.pile, 0) + chain.pairs
    # Named by the units alone: which way they are pressed may change without anything being laid out anew
    key = sha256(" ".join(sorted({chain.name.partition(":")[0] for chain in chains})).encode()).hexdigest()[:16]
    if needed:
        yield Step(f"lay out {key}", "lay out", pass_number, len(needed), LayOutWork(tuple(needed.items())))
    for chain in chains:
        yield Step(f"sew {chain.name}", "sew", pass_number, chain.pairs, SewWork(chain))
    clipped = tuple(chain for chain in chains if not chain.row and not is_sewn_singly(plan, chain))
    if clipped:
        yield Step(f"clip {key}", "clip", pass_number, len(clipped), ClipWork(clipped))
    # One trip to the iron for all of the pass, then one to the table
    for chain in chains:
        for outcome in _outcomes(chain):
            yield _unit_step("press", pass_number, chain, outcome)
    for chain in chains:
        if parts.is_trimmed(chain.unit, has_dog_ears(plan, chain.unit)):
            for outcome in _outcomes(chain):
                yield _unit_step("trim", pass_number, chain, outcome)
        for outcome in _outcomes(chain):
            if outcome.pile not in only_blocks and parts.is_measured(chain.unit):
                yield _unit_step("measure", pass_number, chain, outcome)


def sides_in_piles(plan: Plan, chain: Chain) -> tuple[Lying, ...]:
    """The sides of a chain that lie in piles: in a web those that hang in it do not, and a quilt lies as it is."""
    if chain.row_seam is not None:
        return ()
    if chain.web is None:
        return chain.sides
    left_first = chain.sides[::-1] if feed_chain(plan, chain).a_on_top else chain.sides
    return tuple(side for side, hangs in zip(left_first, chain.web.hangs, strict=True) if not hangs)


def _outcomes(chain: Chain) -> list[Outcome]:
    return sorted(chain.outcomes.values(), key=lambda outcome: (-outcome.pairs, outcome.pile))


def _unit_step(stage: Stage, pass_number: int, chain: Chain, outcome: Outcome) -> Step:
    name = f"{stage} {chain.name} {outcome.pile}"
    return Step(name, stage, pass_number, outcome.pairs, UnitWork(chain, outcome))


def has_dog_ears(plan: Plan, number: int) -> bool:
    """Whether points of allowance stick out at an end of a unit's last seam: where it meets the border askew."""
    return has_ears(plan.units, plan.units.units[number])


def is_sewn_singly(plan: Plan, chain: Chain) -> bool:
    """Whether each seam turns, stops half way, or begins and ends inside the cloth: no chain of pairs is fed."""
    unit = plan.units.units[chain.unit]
    if unit.legs or unit.closes or unit.open_rest:
        return True
    if not (unit.is_bent or plan.words.has_inner_corner(chain.unit)):
        return False
    return bool(find_stops(plan.units, unit))


def feed_of(plan: Plan, number: int) -> Feed:
    """How a unit's last seam is fed."""
    feed = plan.feeds[number]
    assert feed is not None, "a patch has no seam"
    return feed


def feed_chain(plan: Plan, chain: Chain) -> Feed:
    """How a chain is fed: as its unit is, but a web of rows always from the upper end of the quilt."""
    feed = feed_of(plan, chain.unit)
    if chain.web is None or chain.web.first == feed.first:
        return feed
    return feed._replace(a_on_top=not feed.a_on_top, first=feed.last, last=feed.first, why="web")


def feed_turn(plan: Plan, chain: Chain) -> int:
    """Eighths of a turn clockwise from the unit's frame to how its sides lie at the machine: first end up."""
    feed = feed_chain(plan, chain)
    return count_eighths((feed.last[0] - feed.first[0], feed.last[1] - feed.first[1]))


def pins_of(plan: Plan, number: int) -> tuple[Point, ...]:
    """Where a unit's last seam is pinned, from its first end under the needle: both ends, every join, and between
    them every 4 in or so where a stretch is longer than 6 in (common practice, no source)."""
    joins = [join.at for join in plan.joins.joins[number]]
    along: list[Point] = []
    for start, end in stretches_of(plan, number):
        here = {start, end, *(at for at in joins if lies_on(at, start, end))} - {*along}
        along += sorted(here, key=lambda point: _distance(start, point))
    pins = [along[0]]
    for start, end in pairwise(along):
        length, inch = _distance(start, end), plan.blocks.scale  # squared, in grid units
        between = 0
        if length > (6 * inch) ** 2:
            while (4 * inch * (between + 1)) ** 2 < length:
                between += 1
        for place in range(1, between + 1):
            x, y = (_part_of(end[axis] - start[axis], place, between + 1) for axis in (0, 1))
            pins.append((start[0] + x, start[1] + y))
        pins.append(end)
    return tuple(pins)


def stretches_of(plan: Plan, number: int) -> list[tuple[Point, Point]]:
    """The straight stretches of a unit's last seam, from its first end under the needle."""
    feed, unit = feed_of(plan, number), plan.units.units[number]
    if not unit.begins_outside:
        return [(feed.first, feed.last)]
    return list(pairwise(unit.legs if feed.first == unit.legs[0] else unit.legs[::-1]))


def _part_of(way: Grid, place: int, share: int) -> int:
    """So many shares of a way, rounded down."""
    return floor(way * place / share) if isinstance(way, Surd) else way * place // share


def _distance(start: Point, end: Point) -> Grid:
    """Squared."""
    return (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2


def assign_letters(sheet: Sheet, known: Mapping[str, str] | None = None) -> dict[str, str]:
    """A letter for every pile that is sewn from, in the order in which the piles come to be.

    `known` are letters given before: they stay, and no new pile gets one of them. Two versions of a unit share a
    letter, and the second has a mark: G and G'.
    """
    letters = dict(known or {})
    taken = set(letters.values())
    of_unit: dict[str, str] = {}
    for pile, letter in letters.items():
        of_unit.setdefault(pile.partition(":")[0], letter.rstrip("'"))
    place = 0
    for pile in _piles_in_order(sheet):
        if pile in letters:
            continue
        unit = pile.partition(":")[0]
        letter = of_unit.get(unit, "")
        while letter and letter in taken:
            letter += "'"
        while not letter:
            candidate = spell_letter(place)
            place += 1
            if candidate not in taken:
                letter = candidate
        letters[pile] = letter
        taken.add(letter)
        of_unit.setdefault(unit, letter)
    return letters


def _piles_in_order(sheet: Sheet) -> Iterator[str]:
    """Patches as the cut list has them, so that no letter depends on how they lie on the cloth; then the units."""
    for entry in sheet.plan.cut:
        pile = sheet.plan.piles.unit_names[entry.units[0]]
        if pile in sheet.used_by:
            yield pile
    for step in sheet.steps:
        if isinstance(step.work, UnitWork) and step.stage == "press":
            yield step.work.outcome.pile


def spell_letter(place: int) -> str:
    """A to Z, then AA, AB and so on."""
    letters = ""
    place += 1
    while place:
        place, rest = divmod(place - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
