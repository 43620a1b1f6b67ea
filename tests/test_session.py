"""The maker's place: whatever keys are pressed, in whatever order, the counts come out and nothing is lost."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from planned import SAMPLES, draw_project, plan_it, plan_text, read_sample, read_text
from press_drafts import write_grids
from quilts import QUILTS
from unit_forms import draw_patch, draw_pile

from planner.event import Event
from planner.project import ALL_WISHES, Project
from planner.session import (
    Session,
    can_spoil,
    count_one,
    find_lying,
    finish_step,
    fold,
    give_letters,
    measure_wrong,
    spoil,
    take_back,
)
from planner.sheet import BlockWork, CutWork, SewWork, Sheet, Stage, Step, UnitWork, write_sheet
from planner.tally import Tally, count_up, find_made

Key = Callable[[Session, int], Event | None]

KEYS: dict[str, Key] = {
    "one": count_one,
    "all": finish_step,
    "back": take_back,
    "spoil in hand": lambda session, at: spoil(session, at, counted=False),
    "spoil counted": lambda session, at: spoil_counted(session, at),
    "too small": lambda session, at: measure_some(session, at, "too small", 1, "sew again"),
    "too large": lambda session, at: measure_some(session, at, "too large", 2, "sew again"),
    "cut anew": lambda session, at: measure_some(session, at, "too small", 1, "spoiled"),
}
# Mostly keys that lead on; long lists, so that they lead through all stages
key_lists = st.lists(st.sampled_from([*KEYS, *["one"] * 4, *["all"] * 12]), min_size=20, max_size=150)

JETTY = """
project: Jetty
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
parts:
  little four: {rows: [[navy, shell], [shell, navy]]}
blocks:
  jetty:
    size: 12
    rows:
      - [little four, coral]
      - [coral, little four]
  buoy:
    size: 6
    rows:
      - [navy \\ shell, navy / shell]
      - [shell / navy, shell \\ navy]
make:
  - {block: jetty, count: 3}
  - {block: buoy, count: 1}
"""


@cache
def sheets() -> tuple[Sheet, ...]:
    """Small ones, so that a few keys lead to the end."""
    texts = [JETTY, *(write_grids(random.Random(seed), 14) for seed in (3, 4, 5))]
    return (*(write_sheet(plan_text(text)) for text in texts), write_sheet(plan_it(draw_project(2, 9, 2, 3))))


def spoil_counted(session: Session, at: int) -> Event | None:
    """One of the counted ones is ruined; refused just where there is none that has not gone on."""
    event = spoil(session, at, counted=True)
    number = session.place
    if number is not None and can_spoil(session.sheet.steps[number]):
        assert (event is not None) == (count_still_there(session, number) > 0)
    return event


def measure_some(session: Session, at: int, size: str, many: int, remedy: str) -> Event | None:
    if session.place is None or session.can_do(session.place) < many:
        return None
    return measure_wrong(session, at, many, size, "spoiled" if remedy == "spoiled" else "sew again")


def count_still_there(session: Session, number: int) -> int:
    """How many of those that are counted at a step wait for what comes after it."""
    step = session.sheet.steps[number]
    work = step.work
    if isinstance(work, CutWork):
        return session.stock_of(work.pile) // work.per
    if isinstance(work, SewWork):
        return session.waiting_for(session.sheet.chain_steps[work.chain.name]["press"][0])
    if isinstance(work, UnitWork):
        after = find_step_after(session.sheet, number)
        return session.stock_of(work.outcome.pile) if after is None else session.waiting_for(after)
    return session.tally.done.get(step.name, 0) - session.tally.lost.get(step.name, 0)


def find_step_after(sheet: Sheet, number: int) -> int | None:
    """The step at which the same units are trimmed or measured next; None where they go on their pile."""
    work = sheet.steps[number].work
    assert isinstance(work, UnitWork)
    for other in range(number + 1, len(sheet.steps)):
        there = sheet.steps[other].work
        if isinstance(there, UnitWork) and there.chain == work.chain and there.outcome == work.outcome:
            return other
    return None


def press_keys(sheet: Sheet, names: list[str]) -> Iterator[tuple[str, Session, Event, Session]]:
    """Each key that does something, with the session before it and after it."""
    session = Session(sheet)
    for at, name in enumerate(names, 1):
        event = KEYS[name](session, at)
        if event is not None:
            before, session = session, session.after(event)
            yield name, before, event, session


def press_all(sheet: Sheet, names: list[str]) -> Session:
    """The session after all of these keys."""
    after = [session for *_, session in press_keys(sheet, names)]
    return after[-1] if after else Session(sheet)


def finish_all(session: Session) -> Session:
    """Finish step after step; the steps at hand are few, however often some are come back to."""
    for _ in range(10 * len(session.sheet.steps) + 200):
        event = finish_step(session, 0)
        if event is None:
            return session
        session = session.after(event)
    raise AssertionError("it never ends")


def tell(session: Session) -> object:
    """All that can be seen of a session."""
    tally = session.tally
    counts = [{name: many for name, many in kept.items() if many} for kept in (tally.done, tally.more, tally.lost)]
    returned = {name: many for name, many in tally.returned.items() if many}
    lying = list(find_lying(session))
    return counts, returned, session.place, session.totals, lying, tally.last_key, tally.letters, session.stock.surplus


def assert_sound(session: Session) -> None:
    """No step counts more than its total, and nothing is taken that is not there."""
    for number, step in enumerate(session.sheet.steps):
        assert 0 <= session.tally.done.get(step.name, 0) <= session.total_of(step), step.name
        assert 0 <= session.can_do(number) <= session.left_of(step)
        if isinstance(step.work, UnitWork):
            assert session.waiting_for(number) >= 0, step.name
    for pile in session.sheet.made_by:
        assert session.stock_of(pile) >= 0, pile
    assert session.stock.surplus == {}
    done, total = session.totals
    assert (session.place is None) == (done == total)
    if session.place is not None:
        assert session.can_do(session.place) > 0, "the place is one where something can be done"


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 4), key_lists)
def test_counts_stay_sound_whatever_keys_are_pressed(which: int, names: list[str]) -> None:
    for _, _, _, session in press_keys(sheets()[which], names):
        assert_sound(session)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 4), key_lists)
def test_everything_ends_at_the_total_with_no_unit_left_over(which: int, names: list[str]) -> None:
    sheet = sheets()[which]
    session = finish_all(press_all(sheet, names))
    assert_sound(session)
    done, total = session.totals
    assert done == total >= sum(step.count for step in sheet.steps)
    spare = {step.work.pile: step.work.per - 1 for step in sheet.steps if isinstance(step.work, CutWork)}
    for pile in sheet.made_by:  # of squares cut into triangles some may be left over
        assert 0 <= session.stock_of(pile) <= spare.get(pile, 0)
    assert {lying.where for lying in find_lying(session)} <= {"pile"}


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 4), key_lists)
def test_taking_back_returns_to_the_state_before_however_often(which: int, names: list[str]) -> None:
    sheet = sheets()[which]
    before: list[object] = []
    for name, was, _, _ in press_keys(sheet, names):
        if name == "back":
            before.pop()
        else:
            before.append(tell(was))
    session = press_all(sheet, names)
    while before:
        event = take_back(session, 0)
        assert event is not None
        session = session.after(event)
        assert tell(session) == before.pop()
    assert take_back(session, 0) is None


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 4), key_lists)
def test_folding_the_log_gives_the_same_session(which: int, names: list[str]) -> None:
    sheet = sheets()[which]
    events = [event for _, _, event, _ in press_keys(sheet, names)]
    session = press_all(sheet, names)
    assert fold(events, sheet) == session
    assert count_up(events) == session.tally


def test_enter_at_three_of_eight_and_back_is_three_of_eight() -> None:
    session = Session(sheets()[0])
    while session.step is None or session.step.count < 8:
        session = press(session, finish_step)
    for _ in range(3):
        session = press(session, count_one)
    step = session.step
    assert step is not None
    assert (session.done_of(step), session.total_of(step)) == (3, step.count)
    finished = press(session, finish_step)
    assert finished.left_of(step) == 0
    back = press(finished, take_back)
    assert back.step == step
    assert back.done_of(step) == 3


def press(session: Session, key: Key) -> Session:
    event = key(session, 1)
    assert event is not None
    return session.after(event)


# --- events that are none


def some_session() -> Session:
    session = Session(sheets()[0])
    for _ in range(12):
        session = press(session, finish_step)
    return press(session, KEYS["spoil in hand"])


@given(kind=st.text(), step=st.text(), count=st.integers(), body=st.text())
def test_events_of_unknown_kind_change_nothing(kind: str, step: str, count: int, body: str) -> None:
    if kind not in ("done", "back", "spoiled", "wrong", "letters", "told"):
        session = some_session()
        assert session.after(Event(kind, step, count, body, 1)) == session


bodies = st.one_of(
    st.text(),
    st.sampled_from(
        ['{"done": {"cut": Infinity}}', '{"done": 1}', '{"done": {"cut": null}}', '{"more": [1]}', "[]", "[" * 100_000]
    ),
    st.recursive(st.none() | st.booleans() | st.text(max_size=3), lambda inner: st.lists(inner, max_size=2)).map(repr),
)


@settings(max_examples=100, deadline=None)
@given(kind=st.sampled_from(["spoiled", "wrong", "letters"]), body=bodies)
@example(kind="letters", body='{"a": 1}')
@example(kind="letters", body='{"a": ["A"]}')
def test_events_with_a_broken_body_count_nothing(kind: str, body: str) -> None:
    session = some_session()
    step = session.step
    assert step is not None
    after = session.after(Event(kind, step.name, 1, body, 1))
    assert tell(after)[:5] == tell(session)[:5]  # type: ignore[index]
    assert after.tally.letters == session.tally.letters


def test_letters_that_are_given_are_kept() -> None:
    session = some_session().after(give_letters({"pile": ("Q", "navy square 3 1/2")}, 5))
    assert session.tally.letters == {"pile": "Q"}
    assert session.tally.words == {"pile": "navy square 3 1/2"}


# --- spoiling


def find_stages(sheet: Sheet) -> dict[Stage, list[int]]:
    """The numbers of the steps of each sort at which something can be spoiled."""
    found: dict[Stage, list[int]] = {}
    for number, step in enumerate(sheet.steps):
        if isinstance(step.work, CutWork | SewWork | UnitWork | BlockWork):
            found.setdefault(step.stage, []).append(number)
    return found


def go_to(sheet: Sheet, number: int) -> Session:
    """A session whose place is a step, with nothing counted there yet."""
    session = Session(sheet)
    while session.place != number:
        session = press(session, finish_step)
    return session


def count_patches(sheet: Sheet, step: Step) -> dict[str, int]:
    """By pile the patches that one of what is counted at a step is made of."""
    plan, work = sheet.plan, step.work
    if isinstance(work, CutWork):
        return {work.pile: work.per}
    piles = {
        draw_patch(plan, number).lay(): plan.piles.unit_names[number] for entry in plan.cut for number in entry.units
    }
    if isinstance(work, BlockWork):
        form = draw_pile(plan, work.pile)
    else:
        assert isinstance(work, SewWork | UnitWork)
        form = draw_pile(plan, next(iter(work.chain.outcomes)))
    return dict(Counter(piles[patch.lay()] for patch in form.split()))


def read_recut(session: Session) -> dict[str, int]:
    """By pile how many pieces more than planned are to be cut."""
    cuts = [step for step in session.sheet.steps if isinstance(step.work, CutWork)]
    more = {step.work.pile: session.tally.more.get(step.name, 0) for step in cuts if isinstance(step.work, CutWork)}
    return {pile: many for pile, many in more.items() if many}


def test_a_pair_is_ruined_only_once() -> None:
    sheet = sheets()[0]
    session = press(go_to(sheet, find_stages(sheet)["sew"][0]), count_one)
    session = press(session, lambda session, at: spoil(session, at, counted=True))
    assert spoil(session, 1, counted=True) is None


SPOILED = [0, 1, 4]


@pytest.mark.parametrize("which", SPOILED)
@pytest.mark.parametrize("is_counted", [False, True], ids=["in hand", "counted"])
def test_spoiling_at_any_stage_brings_back_just_the_patches_of_one_unit(which: int, is_counted: bool) -> None:
    sheet = sheets()[which]
    stages = find_stages(sheet)
    assert stages.keys() >= {"cut", "sew", "press", "measure", "square up"}
    for numbers in stages.values():
        for number in numbers:
            step = sheet.steps[number]
            session = go_to(sheet, number)
            if is_counted:
                session = press(session, count_one)
                if session.place != number:  # it was the only one: the next step has it
                    continue
            spoiled = press(session, lambda session, at: spoil(session, at, counted=is_counted))
            assert read_recut(spoiled) == count_patches(sheet, step), step.name
            assert spoiled.done_of(step) == 1
            assert spoiled.total_of(step) == step.count + 1 or isinstance(step.work, CutWork)
            assert_sound(spoiled)
            assert_sound(finish_all(spoiled))


@pytest.mark.parametrize("which", SPOILED)
def test_after_spoiling_the_place_is_the_chain_first_then_the_cutting_then_the_chain_again(which: int) -> None:
    sheet = sheets()[which]
    waited = 0
    for number in find_stages(sheet)["sew"]:
        step = sheet.steps[number]
        session = go_to(sheet, number)
        session = press(session, KEYS["spoil in hand"])
        left = session.left_of(step)
        assert left == step.count
        assert session.place == number or step.count == 1, "the rest of the chain comes first"
        while session.place == number:  # as far as what lies there goes: it may be meant for another chain
            session = press(session, finish_step)
            assert session.left_of(step) < left
            left = session.left_of(step)
        places = []
        while session.left_of(step):
            assert session.place is not None
            places.append(session.place)
            session = press(session, finish_step)
        if places:
            assert places == sorted(places), "from the cutting up to the chain"
            assert isinstance(sheet.steps[places[0]].work, CutWork)
            assert places[-1] == number
        waited += bool(places)
    assert waited > 1


@pytest.mark.parametrize("which", SPOILED)
def test_what_measures_wrong_and_is_sewn_again_needs_no_cutting(which: int) -> None:
    sheet = sheets()[which]
    for number in (*find_stages(sheet)["measure"], *find_stages(sheet)["square up"]):
        session = go_to(sheet, number)
        lying = sum(lying.many for lying in find_lying(session))
        wrong = press(session, KEYS["too small"])
        assert read_recut(wrong) == {}
        assert_sound(wrong)
        assert sum(lying.many for lying in find_lying(wrong)) == lying + 1, "one unit has become its two sides"
        assert_sound(finish_all(wrong))


@pytest.mark.parametrize("which", SPOILED)
def test_what_measures_wrong_and_is_spoiled_is_cut_anew(which: int) -> None:
    sheet = sheets()[which]
    for number in (*find_stages(sheet)["measure"], *find_stages(sheet)["square up"]):
        wrong = press(go_to(sheet, number), KEYS["cut anew"])
        assert read_recut(wrong) == count_patches(sheet, sheet.steps[number])
        assert_sound(wrong)


# --- a project that changes in the middle of the work


def test_counts_carry_over_when_fewer_or_more_are_made() -> None:
    texts = {count: JETTY.replace("count: 3", f"count: {count}") for count in (6, 5, 8)}  # two little fours each
    sheet = write_sheet(plan_text(texts[6]))
    (number,) = [
        number
        for number in find_stages(sheet)["sew"]
        if sheet.steps[number].count == 12 and sheet.steps[number].pass_number == 2
    ]
    session = go_to(sheet, number)
    for _ in range(8):
        session = press(session, count_one)
    for count, total in ((6, 12), (5, 10), (8, 16)):
        changed = Session(write_sheet(plan_text(texts[count])), session.tally)
        step = changed.sheet.steps[changed.sheet.number_of[sheet.steps[number].name]]
        assert (changed.done_of(step), changed.total_of(step)) == (8, total)
        assert finish_all(changed).totals[0] == finish_all(changed).totals[1]
    fewer = Session(write_sheet(plan_text(texts[5])), session.tally)
    by_stage = Counter({name.split(" ")[0]: many for name, many in fewer.stock.surplus.items()})
    assert len(fewer.stock.surplus) == 2
    assert by_stage == {"sew": 4, "cut": 2}, "of one block: its pairs of navy and shell, and two coral"


def work_on(chance: random.Random, sheet: Sheet) -> Session:
    """A session somewhere in the work of a maker who spoils nothing."""
    session = Session(sheet)
    for _ in range(chance.randint(1, 2 * len(sheet.steps))):
        event = KEYS[chance.choice(["one", "all", "all", "all", "all", "back", "too small"])](session, 1)
        if event is not None:
            session = session.after(event)
    return session


def find_begun(session: Session) -> set[str]:
    """The names of the steps of which something is counted; but for strips, for how the pieces lie on the cloth is
    worked out anew."""
    return {name for name, many in session.tally.done.items() if many and not name.startswith("strip ")}


CHANGES: Mapping[str, Callable[[random.Random, Project], Project]] = {
    "nothing": lambda chance, project: project,
    "wishes": lambda chance, project: replace(project, prefer=tuple(chance.sample(ALL_WISHES, chance.randint(0, 6)))),
    "counts": lambda chance, project: replace(
        project, make=tuple(replace(make, count=make.count + chance.randint(0, 3)) for make in project.make)
    ),
}


@pytest.mark.parametrize("change", CHANGES)
@pytest.mark.parametrize("name", [*SAMPLES, *(f"seed {seed}" for seed in (0, 1, 2, 3, 5, 7, 8, 10, 12, 14))])
def test_planning_again_keeps_every_step_that_was_begun(name: str, change: str) -> None:
    project = read_sample(name) if name in SAMPLES else draw_project(int(name.removeprefix("seed ")), 20, 2, 3)
    sheet = write_sheet(plan_it(project))
    for trial in range(2):
        chance = random.Random(f"{name} {trial}")
        session = work_on(chance, sheet)
        begun = find_begun(session)
        changed = write_sheet(plan_it(CHANGES[change](chance, project), find_made(session.tally)))
        assert begun <= changed.number_of.keys()
        again = Session(changed, session.tally)
        assert again.stock.surplus == {}
        assert all(again.done_of(changed.steps[changed.number_of[step]]) == session.tally.done[step] for step in begun)
        done, total = finish_all(again).totals
        assert done == total


def test_what_is_spun_stays_spun_when_that_is_no_longer_wished_for() -> None:
    project = read_text(QUILTS["spun"])
    session = Session(write_sheet(plan_it(project)))
    while session.step is None or session.step.stage != "square up":
        session = press(session, finish_step)
    changed = write_sheet(plan_it(replace(project, prefer=("dark",)), find_made(session.tally)))
    assert find_begun(session) <= changed.number_of.keys()
    assert plan_it(replace(project, prefer=("dark",))).pressing.is_spun == (frozenset(),), "else none is spun"


def test_planning_again_after_a_block_was_spoiled_keeps_every_step_that_was_begun() -> None:
    project = read_sample("tidewater-sampler")
    sheet = write_sheet(plan_it(project))
    dishes = next(n for n, block in enumerate(sheet.plan.blocks.drafted) if block.name == "broken dishes")
    last = sheet.plan.units.roots[dishes].unit
    (sew,) = [
        number
        for number in find_stages(sheet)["sew"]
        if isinstance(work := sheet.steps[number].work, SewWork) and work.chain.unit == last
    ]
    session = press(go_to(sheet, sew), KEYS["spoil in hand"])
    while session.place is not None:
        again = write_sheet(plan_it(project, find_made(session.tally)))
        assert find_begun(session) <= again.number_of.keys()
        session = press(session, finish_step)


def test_what_is_laid_out_stays_so_when_equal_units_change_places() -> None:
    project = draw_project(1317, 24, 3, 3)
    session = Session(write_sheet(plan_it(project)))
    while session.step is None or (session.step.pass_number, session.step.stage) != (2, "sew"):
        session = press(session, finish_step)
    session = press(session, finish_step)
    again = write_sheet(plan_it(replace(project, prefer=("dark",)), find_made(session.tally)))
    assert find_begun(session) <= again.number_of.keys()


def test_only_what_is_sewn_and_still_there_counts_as_made() -> None:
    sheet = sheets()[0]
    (sew,) = [number for number in find_stages(sheet)["sew"] if sheet.steps[number].count == 12]
    work = sheet.steps[sew].work
    assert isinstance(work, SewWork)
    (outcome,) = work.chain.outcomes.values()
    (press_step,), (measure_step,) = (sheet.chain_steps[work.chain.name][stage] for stage in ("press", "measure"))

    def count_made(session: Session) -> tuple[int, int]:
        """How many of this chain are sewn, and how many are pressed too."""
        there = find_made(session.tally).there
        sewn, pressed = (name.partition(":") for name in (work.chain.name, outcome.pile))
        return there.get((sewn[0], sewn[2]), 0), there.get((pressed[0], pressed[2]), 0)

    def lose(many: int) -> Key:
        return lambda session, at: spoil(session, at, counted=True, many=many)

    session = go_to(sheet, sew)
    assert count_made(session) == (0, 0)
    for _ in range(5):
        session = press(session, count_one)
    assert count_made(session) == (5, 0)
    assert count_made(press(session, lose(1))) == (4, 0)
    session = go_to(sheet, press_step)
    for _ in range(3):
        session = press(session, count_one)
    assert count_made(session) == (12, 3)
    assert count_made(press(session, lose(2))) == (10, 1)
    session = press(go_to(sheet, measure_step), count_one)
    assert count_made(session) == (12, 12)
    assert count_made(press(session, lose(1))) == (11, 11)
    assert count_made(press(session, KEYS["too small"])) == (11, 11)


def test_the_same_work_planned_without_what_is_made_would_lose_steps() -> None:
    """Beside the test above: wishes do change names, so that it is `find_made` that keeps them."""
    project = read_sample("tidewater-sampler")
    session = Session(write_sheet(plan_it(project)))
    while session.step is not None and session.step.stage != "square up":
        session = press(session, finish_step)
    changed = write_sheet(plan_it(replace(project, prefer=("needle", "outward"))))
    assert not session.tally.done.keys() <= changed.number_of.keys()


def test_a_tally_of_nothing_has_nothing_to_take_back() -> None:
    session = Session(sheets()[0], Tally())
    assert take_back(session, 1) is None
    assert session.after(Event("back", "", 1, "", 1)).tally.done == {}
