"""A sheet and a tally -> the maker's place: what is at hand, what is still to do, what lies where.

Pure: a key at the bench makes one new event, and the session after it is a new session. Nothing here reads a clock;
times come with the events.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from typing import Literal, NamedTuple

from planner.cloth.cut_strips import StripCut
from planner.count_strips import StripCount
from planner.event import Event
from planner.sheet import BlockWork, ClipWork, CutWork, LayOutWork, SewWork, Sheet, Stage, Step, StripWork, UnitWork
from planner.stock import Stock
from planner.tally import Tally, count_up

Remedy = Literal["sew again", "spoiled"]


@dataclass(frozen=True)
class Session:
    sheet: Sheet
    tally: Tally = field(default_factory=Tally)

    def after(self, event: Event) -> Session:
        """The session after one more event."""
        return Session(self.sheet, self.tally.after(event))

    def done_of(self, step: Step) -> int:
        """How many are counted of a step, at most its total. What a pass needs no more (nothing is left to sew, or
        nothing to press) is done; of strips so many that the others are enough for what is still to cut."""
        total = self.total_of(step)
        if isinstance(step.work, StripWork):
            free = self._strips.of(step.work.cut.fabric).free.get(step.name, 0)
            return max(0, min(self.tally.done.get(step.name, 0) + free, total))
        if step.stage in ("lay out", "clip") and step.name not in self.tally.done and self._is_past(step):
            return total
        return min(self.tally.done.get(step.name, 0), total)

    @cached_property
    def _strips(self) -> StripCount:
        return StripCount(self.sheet, self.tally, self.stock, self._share_of)

    def ruined_of(self, cut: StripCut) -> Fraction:
        """How many inches of strips are ruined of the same cloth, or the same piece of the stock."""
        return sum(
            (
                self.tally.lost.get(step.name, 0) * step.work.cut.wide
                for step in self.sheet.steps
                if isinstance(step.work, StripWork)
                and (step.work.cut.fabric, step.work.cut.piece) == (cut.fabric, cut.piece)
            ),
            Fraction(0),
        )

    def has_cut_up(self, step: Step) -> bool:
        """Whether strips are counted otherwise than they were cut, because the project has changed since."""
        return isinstance(step.work, StripWork) and self._strips.of(step.work.cut.fabric).spare is not None

    def spell_strips(self, step: Step) -> dict[str, object]:
        """For the log of a cut: how the strips of its fabric lie in this sheet, where the log does not have it."""
        if isinstance(step.work, StripWork):
            return self._strips.spell(step.work.cut.fabric)
        return self._strips.spell(step.work.entry.fabric) if isinstance(step.work, CutWork) else {}

    @cached_property
    def _share_of(self) -> dict[str, Fraction]:
        """How much of each pile is cut."""
        share_of: dict[str, Fraction] = {}
        for step in self.sheet.steps:
            if isinstance(step.work, CutWork):
                done = self.tally.done.get(step.name, 0)
                share = Fraction(min(done, step.count), step.count) if step.count else Fraction(1)
                share = share if self.stock.total_of(step) > done else Fraction(1)
                share_of[step.work.pile] = min(share, share_of.get(step.work.pile, share))
        return share_of

    @property
    def lying_strips(self) -> list[tuple[StripCut, int]]:
        """The strips that are cut and not yet cut across, and how many."""
        found = []
        for step in self.sheet.steps:
            if isinstance(step.work, StripWork):
                there = self.tally.done.get(step.name, 0) - self.tally.lost.get(step.name, 0)
                many = min(there, self._strips.count_unfinished(step) - self.left_of(step))
                found += [(step.work.cut, many)] if many > 0 else []
        return found

    @cached_property
    def spare_strips(self) -> dict[str, int]:
        """Strips that were cut and lie in the layout no more, by the name of their step, as long as something is still
        to cut from their fabric."""
        cutting = {
            step.work.entry.fabric
            for step in self.sheet.steps
            if isinstance(step.work, CutWork) and self.tally.done.get(step.name, 0) < step.count
        }
        found = {}
        for name, done in self.tally.done.items():
            if name.startswith("strip ") and name.split(" ", 2)[2].partition("@")[0] in cutting:
                number = self.sheet.number_of.get(name)
                total = 0 if number is None else self.total_of(self.sheet.steps[number])
                known = self._strips.of(name.split(" ", 2)[2].partition("@")[0]).spare
                spare = done - total - (self.tally.lost.get(name, 0) if number is None else 0)
                spare = spare if known is None else known.get(name, 0)
                if spare > 0:
                    found[name] = spare
        return found

    def _is_past(self, step: Step) -> bool:
        stage: Stage = "sew" if isinstance(step.work, LayOutWork) else "press"
        numbers = [
            number
            for other in self.sheet.steps_of_pass(step.pass_number)
            if isinstance(other.work, SewWork)
            for number in self.sheet.chain_steps[other.work.chain.name][stage]
        ]
        return all(self.left_of(self.sheet.steps[number]) == 0 for number in numbers)

    @cached_property
    def stock(self) -> Stock:
        """What lies where."""
        return Stock(self.sheet, self.tally)

    def total_of(self, step: Step) -> int:
        return self.stock.total_of(step)

    def left_of(self, step: Step) -> int:
        return self.total_of(step) - self.done_of(step)

    @cached_property
    def totals(self) -> tuple[int, int]:
        """All that is counted, and all there is to count."""
        steps = self.sheet.steps
        return sum(map(self.done_of, steps)), sum(map(self.total_of, steps))

    @cached_property
    def place(self) -> int | None:
        """The number of the step at hand; None when all is done.

        The step of the last key, as long as something can be done there: a pair that waits for a new patch does not
        keep the rest of the chain waiting. Else the first step with something to do.
        """
        steps = self.sheet.steps
        number = self.sheet.number_of.get(self.tally.cursor)
        strip = None if number is None else self._find_strip_before(number)
        if strip is not None:
            return strip
        here = None if number is None else self._find_turn(number)
        if here is not None:
            return here
        open_steps = [number for number, step in enumerate(steps) if self.left_of(step)]
        first = next((number for number in open_steps if self.can_do(number)), None)
        return next(iter(open_steps), None) if first is None else self._find_turn(first)

    def _find_strip_before(self, number: int) -> int | None:
        """Where a pile is cut that is not done, the step of strips of it that are still to cut: after the project has
        changed there may be such. None where there are none."""
        work = self.sheet.steps[number].work
        if not isinstance(work, CutWork) or not self.left_of(self.sheet.steps[number]):
            return None
        places = (self.sheet.number_of.get(f"strip {source.cut.name}") for source in work.sources)
        return next((one for one in places if one is not None and self.left_of(self.sheet.steps[one])), None)

    def _find_turn(self, number: int) -> int | None:
        """A step itself where something can be done there; of webbed blocks, which are sewn one after the other, the
        step whose turn it is. None where nothing can be done."""
        steps = self.sheet.steps
        turns = self.sheet.turns.get(number, (number,))
        possible = [(-self.left_of(steps[one]), one) for one in turns if self.left_of(steps[one]) and self.can_do(one)]
        return min(possible)[1] if possible else None

    @property
    def step(self) -> Step | None:
        return None if self.place is None else self.sheet.steps[self.place]

    def can_do(self, number: int) -> int:
        """How many of a step can be counted now: as many as are left and as there is something in hand for."""
        step = self.sheet.steps[number]
        left = self.left_of(step)
        if isinstance(step.work, SewWork):
            sides = [side.pile for side in step.work.chain.sides]
            return max(0, min(left, *(self.stock_of(pile) // sides.count(pile) for pile in sides)))
        if isinstance(step.work, UnitWork):
            return max(0, min(left, self.waiting_for(number)))
        if isinstance(step.work, BlockWork):
            return max(0, min(left, self.stock_of(step.work.pile)))
        if isinstance(step.work, ClipWork) and any(
            self.can_do(self.sheet.chain_steps[chain.name]["sew"][0]) for chain in step.work.chains
        ):
            return 0  # first all that can be sewn of the pass
        return left

    def stock_of(self, pile: str) -> int:
        """How many pieces or units lie in a pile now."""
        return self.stock.stock_of(pile)

    def waiting_for(self, number: int) -> int:
        """How many units wait to be pressed, trimmed or measured at a step: what the stage before has let through."""
        step = self.sheet.steps[number]
        assert isinstance(step.work, UnitWork)
        own = self.tally.done.get(step.name, 0)
        stages = self.sheet.chain_steps[step.work.chain.name]
        if step.stage == "press":
            sew = self.sheet.steps[stages["sew"][0]].name
            through = self.tally.done.get(sew, 0) - self.tally.lost.get(sew, 0)
            others = sum(
                self.tally.done.get(self.sheet.steps[other].name, 0) for other in stages["press"] if other != number
            )
            return through - others - own
        before = self.sheet.steps[self._stage_before(number)].name
        return self.tally.done.get(before, 0) - self.tally.lost.get(before, 0) - own

    def _stage_before(self, number: int) -> int:
        step = self.sheet.steps[number]
        assert isinstance(step.work, UnitWork)
        order = _outcome_steps(self.sheet, step)
        return order[order.index(number) - 1]


def _outcome_steps(sheet: Sheet, step: Step) -> list[int]:
    """The steps that a unit of this step's outcome goes through, sewing first."""
    assert isinstance(step.work, UnitWork)
    chain, outcome = step.work.chain, step.work.outcome
    numbers = [number for stage in sheet.chain_steps[chain.name].values() for number in stage]
    found = []
    for number in sorted(numbers):
        work = sheet.steps[number].work
        if isinstance(work, SewWork) or (isinstance(work, UnitWork) and work.outcome.pile == outcome.pile):
            found.append(number)
    return found


def fold(events: Iterable[Event], sheet: Sheet) -> Session:
    """The present state of a log on a sheet. The same events always give the same session."""
    return Session(sheet, count_up(events))


def count_one(session: Session, at: int) -> Event | None:
    """One pair, press, check or cut is done; None where nothing can be counted."""
    return _count(session, 1, at)


def finish_step(session: Session, at: int) -> Event | None:
    """All that can be counted of the step at hand is done."""
    return _count(session, None, at)


def _count(session: Session, many: int | None, at: int) -> Event | None:
    if session.place is None or session.step is None:
        return None
    # Where nothing can be done and yet something is left, the log does not fit the sheet: the maker's word counts
    possible = session.can_do(session.place) or session.left_of(session.step)
    body = _spell_sewing(session) or _spell_body(session.spell_strips(session.step))
    return Event("done", session.step.name, possible if many is None else many, body, at)


def _spell_body(body: Mapping[str, object]) -> str:
    return json.dumps(body, sort_keys=True) if body else ""


def _spell_sewing(session: Session) -> str:
    """For the log of a sewing step: the piles that it takes from, so that it is known when the sheet has changed, and
    that its chain is to clip again where it was clipped before."""
    if session.step is None or not isinstance(session.step.work, SewWork):
        return ""
    body: dict[str, object] = _name_sides(session.step.work)
    clip = find_clip(session.sheet, session.step)
    if clip is not None and session.left_of(clip) == 0:
        body["more"] = {clip.name: 1}
    return json.dumps(body)


def _name_sides(work: SewWork) -> dict[str, object]:
    return {"from": [side.pile for side in work.chain.sides]}


def take_back(session: Session, at: int) -> Event | None:
    """Undo the last key; None where there is none."""
    return None if session.tally.last_key is None else Event("back", session.tally.last_key.step, 1, "", at)


def give_letters(letters: Mapping[str, tuple[str, str]], at: int) -> Event:
    """Letters given to piles, with what each pile is in words: a letter never moves to another pile."""
    return Event("letters", "", len(letters), json.dumps(dict(sorted(letters.items())), ensure_ascii=False), at)


def count_there(session: Session, number: int) -> int:
    """How many that are counted at a step are still there to be ruined: not ruined before, not gone on."""
    step = session.sheet.steps[number]
    work = step.work
    done = session.tally.done.get(step.name, 0)
    lost = session.tally.lost.get(step.name, 0)
    if isinstance(work, CutWork):
        return min(done, max(0, session.stock_of(work.pile)) // work.per)
    if isinstance(work, SewWork):
        return max(0, session.waiting_for(session.sheet.chain_steps[work.chain.name]["press"][0]))
    if isinstance(work, UnitWork):
        order = _outcome_steps(session.sheet, step)
        after = order[order.index(number) + 1 :]
        return max(0, session.waiting_for(after[0]) if after else session.stock_of(work.outcome.pile))
    return max(0, done - lost)


def can_spoil(step: Step) -> bool:
    """Whether something can be ruined at a step."""
    return isinstance(step.work, StripWork | CutWork | SewWork | UnitWork | BlockWork)


def spoil(session: Session, at: int, counted: bool, many: int = 1) -> Event | None:
    """Units of the step at hand are ruined: their patches are cut and all their seams sewn again.

    `counted` says whether they are on the tally already; else they go onto it now, and so does what replaces them.
    """
    if session.place is None or session.step is None or not can_spoil(session.step):
        return None
    if counted and count_there(session, session.place) < many:
        return None
    need = _Need(session)
    need.replace(session.place, many)
    body: dict[str, object] = {"more": need.more, "lost": {session.step.name: many}}
    body |= session.spell_strips(session.step)
    if isinstance(session.step.work, SewWork):
        body |= _name_sides(session.step.work)
    if not counted:
        body["done"] = {session.step.name: many}
    if isinstance(session.step.work, CutWork):  # what is counted there is squares, and a ruined one is all its pieces
        pieces = many * session.step.work.per
        body["more"] = body["lost"] = {session.step.name: pieces}
    return Event("spoiled", session.step.name, many, json.dumps(body, sort_keys=True), at)


def measure_wrong(session: Session, at: int, many: int, size: str, remedy: Remedy) -> Event | None:
    """Units measured too small or too large (`size`, for the log): sewn again from their two sides, or cut anew."""
    step = session.step
    if step is None or session.place is None or step.stage not in ("measure", "square up"):
        return None
    if remedy == "spoiled":
        event = spoil(session, at, counted=False, many=many)
        return None if event is None else event._replace(kind="wrong", body=_with_size(event.body, size))
    number = _last_unit_step(session.sheet, session.place)
    if number is None:
        return None
    order = _outcome_steps(session.sheet, session.sheet.steps[number])
    through = order[: order.index(session.place)] if session.place in order else order
    names = [session.sheet.steps[place].name for place in through]
    more = dict.fromkeys(names, many)
    clip = find_clip(session.sheet, session.sheet.steps[through[0]])
    if clip is not None and session.left_of(clip) == 0:
        more[clip.name] = 1
    body = {"more": more, "lost": {names[-1]: many}, "returned": {names[0]: many}, "size": size}
    return Event("wrong", step.name, many, json.dumps(body, sort_keys=True), at)


def _with_size(body: str, size: str) -> str:
    return json.dumps({**json.loads(body), "size": size}, sort_keys=True)


def _last_unit_step(sheet: Sheet, place: int) -> int | None:
    """The last step of a chain that brings forth what is measured at `place`."""
    work = sheet.steps[place].work
    if isinstance(work, UnitWork):
        return place
    if isinstance(work, BlockWork):
        made = sheet.made_by.get(work.pile, ())
        return made[-1] if made and isinstance(sheet.steps[made[-1]].work, UnitWork) else None
    return None


def find_clip(sheet: Sheet, sewing: Step) -> Step | None:
    """The step at which a chain is clipped; None for rows that stay together, and for what is sewn singly."""
    assert isinstance(sewing.work, SewWork)
    name = sewing.work.chain.name
    return next(
        (
            step
            for step in sheet.steps_of_pass(sewing.pass_number)
            if isinstance(step.work, ClipWork) and any(chain.name == name for chain in step.work.chains)
        ),
        None,
    )


class _Need:
    """Works out what must be done again to replace ruined units."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.sheet = session.sheet
        self.more: dict[str, int] = {}

    def replace(self, number: int, many: int) -> None:
        """Replace what is ruined at a step: that step and all before it on the way there once more."""
        step = self.sheet.steps[number]
        work = step.work
        if isinstance(work, StripWork | CutWork):
            self._add(step, many)
        elif isinstance(work, SewWork):
            self._add(step, many)
            self._clip_again(step)
            for side in work.chain.sides:
                self.refill(side.pile, many)
        elif isinstance(work, UnitWork):
            order = _outcome_steps(self.sheet, step)
            for place in order[1 : order.index(number) + 1]:
                self._add(self.sheet.steps[place], many)
            self.replace(order[0], many)
        elif isinstance(work, BlockWork):
            self._add(step, many)
            self.refill(work.pile, many)

    def refill(self, pile: str, many: int) -> None:
        """Make so many more of a pile, by the first way there is to make it."""
        makers = self.sheet.made_by.get(pile, ())
        if makers:
            self.replace(self.sheet.refilled_by.get(pile, makers[0]), many)

    def _clip_again(self, sewing: Step) -> None:
        """Pairs that are sewn again after their chain was clipped are a chain of their own."""
        clip = find_clip(self.sheet, sewing)
        if clip is not None and self.session.left_of(clip) == 0:
            self.more[clip.name] = self.more.get(clip.name, 0) + 1

    def _add(self, step: Step, many: int) -> None:
        self.more[step.name] = self.more.get(step.name, 0) + many


class Lying(NamedTuple):
    """So many of a pile, or of what will be one, and where: in the chain, at the iron, in a web, or on its pile."""

    where: Literal["chain", "iron", "web", "pile"]
    pile: str
    many: int


def find_lying(session: Session) -> Iterator[Lying]:
    """What lies where, now: chains at the machine, then what waits for the iron or the ruler, then the piles."""
    sheet = session.sheet
    clipped = _find_clipped(session)
    at_iron: Counter[str] = Counter()
    for number, step in enumerate(sheet.steps):
        if not isinstance(step.work, SewWork):
            continue
        chain = step.work.chain
        pile = next(iter(chain.outcomes))
        waiting = max(0, session.waiting_for(sheet.chain_steps[chain.name]["press"][0]))
        if waiting:
            if number in clipped or find_clip(sheet, step) is None:
                at_iron[pile] += waiting
            else:
                yield Lying("chain", pile, waiting)
        for stage, numbers in sheet.chain_steps[chain.name].items():
            if stage in ("trim", "measure"):
                for place in numbers:
                    work = sheet.steps[place].work
                    assert isinstance(work, UnitWork)
                    at_iron[work.outcome.pile] += max(0, session.waiting_for(place))
    yield from (Lying("iron", pile, many) for pile, many in at_iron.items() if many)
    for pile, makers in sheet.made_by.items():
        if session.stock_of(pile) > 0:
            works = [sheet.steps[number].work for number in makers]
            hangs = all(isinstance(work, UnitWork) and work.chain.stays_hanging for work in works)
            yield Lying("web" if hangs else "pile", pile, session.stock_of(pile))


def _find_clipped(session: Session) -> set[int]:
    """The sewing steps whose chains are clipped; none of a pass where there is one to clip again."""
    sheet = session.sheet
    clipped: set[int] = set()
    for step in sheet.steps:
        if isinstance(step.work, ClipWork):
            done = session.done_of(step)
            is_again = done >= len(step.work.chains) and session.left_of(step) > 0
            for chain in () if is_again else step.work.chains[:done]:
                clipped.add(sheet.chain_steps[chain.name]["sew"][0])
    return clipped
