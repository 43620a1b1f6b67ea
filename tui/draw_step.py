"""Which picture belongs to a step."""

from __future__ import annotations

from planner.say_now import find_now
from planner.sheet import ArrangeWork, BlockWork, CutWork, LayOutWork, SewWork, UnitWork
from tui.bench import Bench
from tui.draw import Canvas, draw_block, draw_layout, draw_outcome, draw_pair, draw_pile, draw_quilt


def draw_step(bench: Bench, look: int | None, width: int, height: int) -> Canvas | None:
    """The picture of the step at hand, or of step `look`; None where there is none, or no room for it."""
    session, speaker = bench.session, bench.speaker
    number = session.place if look is None else look
    if number is None:
        return None
    step = session.sheet.steps[number]
    work = step.work
    done = min(session.done_of(step), step.count - 1)
    if isinstance(work, SewWork):
        return draw_pair(speaker, work.chain, width, height)
    if isinstance(work, UnitWork):
        return draw_outcome(speaker, work.chain, work.outcome, width, height)
    if isinstance(work, CutWork):
        return draw_pile(speaker, work.pile, width, height)
    if isinstance(work, LayOutWork):
        piles = find_now(session, step).piles or work.piles[done:]
        return draw_pile(speaker, piles[0][0], width, height)
    if isinstance(work, ArrangeWork):
        return draw_layout(speaker, work, done, width, height)
    if isinstance(work, BlockWork) and session.sheet.plan.blocks.drafted[work.block].is_top:
        return draw_quilt(session.sheet.plan, width, height).canvas
    if isinstance(work, BlockWork):
        return draw_block(session.sheet.plan, work.block, width, height, numbered=False, marked_seam=None)
    return None
