"""A step in words as it stands in a session: of what is still to do, not of what was planned."""

from __future__ import annotations

from planner.name_piles import Chain
from planner.say_step import Now, Speaker, StepWords
from planner.session import Session
from planner.sheet import (
    ArrangeWork,
    ClipWork,
    CutWork,
    LayOutWork,
    SewWork,
    Step,
    StripWork,
    UnitWork,
    sides_in_piles,
)


def say_now(session: Session, speaker: Speaker, step: Step) -> StepWords:
    """The words for the bench. A step that is done is said as it was planned."""
    return speaker.say(step, find_now(session, step) if session.left_of(step) else None)


def find_now(session: Session, step: Step) -> Now:
    """What is still to cut, to lay out or to clip, and which row of the quilt is next."""
    work = step.work
    done = session.done_of(step)
    if isinstance(work, CutWork):
        pieces = max(1, session.stock.pieces_needed(step, work) - done * work.per)
        return Now(pieces=pieces, is_again=done >= step.count)
    if isinstance(work, StripWork):
        return Now(strips=session.total_of(step), is_again=session.has_cut_up(step))
    if isinstance(work, LayOutWork):
        return Now(piles=_find_piles(session, step, work)[done:])
    if isinstance(work, ClipWork):
        return Now(chains=_find_chains(session, work, done, is_at_hand=step == session.step))
    if isinstance(work, SewWork | UnitWork) and work.chain.web is not None and work.chain.web.of:
        return Now(copy=min(done, step.count - 1) + 1)
    if isinstance(work, ArrangeWork):
        return Now(row=min(done, len(work.rows) - 1))
    return Now()


def _find_piles(session: Session, step: Step, work: LayOutWork) -> tuple[tuple[str, int], ...]:
    """The piles of a pass with how many of each its seams still take; those that give nothing any more come last."""
    needed: dict[str, int] = {}
    for other in session.sheet.steps_of_pass(step.pass_number):
        if isinstance(other.work, SewWork):
            for side in sides_in_piles(session.sheet.plan, other.work.chain):
                needed[side.pile] = needed.get(side.pile, 0) + session.left_of(other)
    piles = [(pile, needed.get(pile, 0)) for pile, _ in work.piles]
    return tuple(sorted(piles, key=lambda pile: not pile[1]))


def _find_chains(session: Session, work: ClipWork, done: int, is_at_hand: bool) -> tuple[tuple[Chain, int], ...]:
    """The chains that hang at the machine, with their pairs; after the last one those that were sewn again. Of a step
    that is looked at ahead also what is still to sew before it."""
    waiting = [(chain, _count_pairs(session, chain, is_at_hand)) for chain in work.chains]
    return tuple((chain, pairs) for chain, pairs in (waiting[done:] or waiting) if pairs > 0)


def _count_pairs(session: Session, chain: Chain, is_at_hand: bool) -> int:
    stages = session.sheet.chain_steps[chain.name]
    to_sew = 0 if is_at_hand else sum(session.left_of(session.sheet.steps[number]) for number in stages["sew"])
    return session.waiting_for(stages["press"][0]) + to_sew
