"""Bench -> what its screen shows: the step at hand, or one that is looked at."""

from __future__ import annotations

from collections.abc import Mapping

from planner.say_made import say_made
from planner.say_now import say_now
from planner.say_step import counted
from planner.session import Session, find_clip
from planner.sheet import SewWork, Step, UnitWork
from tui.bench import Bench
from tui.commands import COMMANDS, spell_keys
from tui.lay_out_card import CardView

KEYS = {command.id: command.keys for command in COMMANDS}  # as they are where the maker has none of their own


def view_step(
    bench: Bench,
    look: int | None,
    notice: str = "",
    is_trouble: bool = False,
    keys: Mapping[str, str] = KEYS,
) -> CardView:
    """The card of the step at hand, or of step number `look` while the maker looks ahead or back.

    `keys` are the maker's, by command id.
    """
    session, speaker = bench.session, bench.speaker
    number = session.place if look is None else look
    if number is None:
        return _view_end(bench, notice, is_trouble, keys)
    step = session.sheet.steps[number]
    done, total = session.done_of(step), session.total_of(step)
    words = say_now(session, speaker, step)
    return CardView(
        project=session.sheet.plan.project.name,
        place=_place(session, step),
        banner=_banner(session, number, look, bench.can_write),
        verb=words.verb,
        what=words.what,
        done=done,
        total=total,
        left=_left(session, step),
        does=(*_again(bench, step), *words.does),
        why=words.why,
        then=_then(bench, number),
        notice=notice,
        is_trouble=is_trouble,
        picture=(step.name, done if step.stage in ("lay out", "arrange") else 0),
        keeps_why=step.stage == "sew",
        rest=f"{spell_keys(keys['app.sheet'])}: all of it",
        is_bent=isinstance(step.work, SewWork) and session.sheet.plan.units.units[step.work.chain.unit].is_bent,
        large=spell_keys(keys["bench.picture"]),
    )


def _place(session: Session, step: Step) -> str:
    done, total = session.totals
    share = f"{done * 100 // total} %" if total else ""
    if step.stage in ("square up", "finish"):
        return f"at the end   {share}"
    if step.pass_number:
        return f"pass {step.pass_number} of {session.sheet.passes}   {share}"
    return f"before pass 1   {share}"


def _banner(session: Session, number: int, look: int | None, can_write: bool) -> str:
    if look is None or look == session.place:
        return "" if can_write else "LOOKING ON: another bench has this project"
    way = "AHEAD" if session.place is None or look > session.place else "BACK"
    return f"LOOKING {way}: step {number + 1} of {len(session.sheet.steps)}, nothing is counted"


def _left(session: Session, step: Step) -> tuple[str, ...]:
    """What is left of the step, of the pass and in all."""
    left = session.left_of(step)
    one, several = counted(step)
    words = [f"to go: {left} {one if left == 1 else several}" if left else "all done"]
    if step.pass_number and step.stage not in ("square up", "finish"):
        in_pass = sum(session.left_of(other) for other in session.sheet.steps_of_pass(step.pass_number))
        words.append(f"{in_pass} in the pass")
    done, total = session.totals
    words.append(f"{total - done} in all")
    return tuple(words)


def _again(bench: Bench, step: Step) -> tuple[str, ...]:
    """Says that a step is there again, because something was ruined or unpicked."""
    more = bench.session.tally.more.get(step.name, 0)
    if not more or not bench.session.left_of(step):
        return ()
    waits = bench.session.left_of(step) - bench.session.can_do(bench.session.sheet.number_of[step.name])
    again = f"{more} of these {'is' if more == 1 else 'are'} to make again"
    if waits <= 0:
        return (again,)
    return (f"{again}; {waits} {'waits for its pieces' if waits == 1 else 'wait for their pieces'}",)


def _then(bench: Bench, number: int) -> str:
    """What comes after this step, in a few words."""
    session, speaker = bench.session, bench.speaker
    steps = session.sheet.steps
    step = steps[number]
    if isinstance(step.work, SewWork):
        chain = step.work.chain
        words = [] if find_clip(session.sheet, step) is None else [f"clip {session.total_of(step)}"]
        for outcome in chain.outcomes.values():
            words.append(f"press {speaker.letter(outcome.pile)} {speaker.toward(chain, outcome)}")
        for other in session.sheet.chain_steps[chain.name].get("measure", ())[:1]:
            work = steps[other].work
            assert isinstance(work, UnitWork)
            words.append(f"measure {speaker.measure_of(work.chain.unit)}")
        return f"then {' · '.join(words)}"
    following = next((other for other in range(number + 1, len(steps)) if session.left_of(steps[other])), None)
    if following is None:
        return ""
    words_after = say_now(session, speaker, steps[following])
    return f"then {words_after.verb.lower()} {words_after.what}"


def _view_end(bench: Bench, notice: str, is_trouble: bool, keys: Mapping[str, str]) -> CardView:
    done, total = bench.session.totals
    blocks = say_made(bench.sheet.plan.blocks)
    return CardView(
        project=bench.sheet.plan.project.name,
        place="100 %",
        banner="" if bench.can_write else "LOOKING ON: another bench has this project",
        verb="ALL SEWN",
        what="",
        done=done,
        total=total,
        left=(f"{done} counted, none to go",),
        does=(f"Done: {blocks}", "Is the iron off?"),
        why=(bench.speaker.say_done(),),
        then=f"{spell_keys(keys['bench.back'])} takes the last key back",
        notice=notice,
        is_trouble=is_trouble,
    )


def name_lying(bench: Bench) -> list[tuple[str, list[str]]]:
    """What lies where, in words: headings and lines."""
    from planner.session import find_lying

    places: dict[str, list[str]] = {"chain": [], "iron": [], "web": [], "pile": []}
    for lying in find_lying(bench.session):
        letter = bench.speaker.letter(lying.pile)
        places[lying.where].append(f"{letter}  {bench.speaker.count_pile(lying.pile, lying.many)}")
    strips = [bench.speaker.strips.name(cut, many) for cut, many in bench.session.lying_strips]
    return [
        *([("On the cutting mat, to cut across", strips)] if strips else []),
        ("In the chain at the machine, not clipped", places["chain"] or ["nothing"]),
        ("To press, trim or measure", places["iron"] or ["nothing"]),
        *([("Hanging in webs", places["web"])] if places["web"] else []),
        ("On the piles", places["pile"] or ["nothing"]),
        *([("Left over, not needed now", bench.name_surplus())] if bench.name_surplus() else []),
        ("Finished", [f"{many} {title}" for title, many in bench.session.stock.finished_blocks()] or ["nothing yet"]),
    ]
