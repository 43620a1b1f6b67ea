"""Which picture belongs to a step, and what its letters and signs stand for."""

from __future__ import annotations

from collections.abc import Iterable

from planner.plan import Plan
from planner.say_now import find_now
from planner.sheet import ArrangeWork, BlockWork, CutWork, LayOutWork, SewWork, Step, StripWork, UnitWork
from tui.bench import Bench
from tui.canvas import BLANK, Cell
from tui.draw import Canvas, draw_block, draw_layout, draw_outcome, draw_pair, draw_pile, draw_quilt, draw_rest
from tui.draw_cut import draw_cut, draw_strips
from tui.draw_squares import draw_squares
from tui.lay_out_card import wrap_words
from tui.paint_scene import even_rows, spell_label
from tui.tell_picture import tell_fabrics, tell_quilt, tell_signs

_BEFORE_WORDS, _LEAST_WORDS = 4, 22  # columns before words beside a picture, and that they need


def draw_step(bench: Bench, look: int | None, width: int, height: int) -> Canvas | None:
    """The picture of the step at hand, or of step `look`; None where there is none, or no room for it."""
    session = bench.session
    number = session.place if look is None else look
    if number is None:
        return None
    step = session.sheet.steps[number]
    plan, work = session.sheet.plan, step.work
    if isinstance(work, BlockWork):
        return _draw_block(plan, work.block, width, height)
    canvas = _draw(bench, step, width, height)
    if canvas is None or isinstance(work, ArrangeWork):
        return canvas
    return _add_words(canvas, (tell_signs(plan, canvas),), width, height) or canvas  # words give way to the picture


def _draw(bench: Bench, step: Step, width: int, height: int) -> Canvas | None:
    session, speaker = bench.session, bench.speaker
    work = step.work
    done = min(session.done_of(step), step.count - 1)
    if isinstance(work, SewWork):
        if speaker.methods.method_of(work.chain.unit) is not None:  # squares or strips, not the two piles
            squares = draw_squares(speaker, work, width, height)
            outcome = next(iter(work.chain.outcomes.values()))
            return squares or draw_outcome(speaker, work.chain, outcome, width, height)
        is_rest = session.sheet.plan.units.units[work.chain.unit].closes is not None
        return (draw_rest if is_rest else draw_pair)(speaker, work.chain, width, height)
    if isinstance(work, UnitWork):
        return draw_outcome(speaker, work.chain, work.outcome, width, height)
    if isinstance(work, StripWork):
        return draw_strips(speaker, work.cut, width, height)
    if isinstance(work, CutWork):
        return draw_cut(speaker, work, width, height)
    if isinstance(work, LayOutWork):
        piles = find_now(session, step).piles or work.piles[done:]
        return draw_pile(speaker, piles[0][0], width, height)
    if isinstance(work, ArrangeWork):
        return draw_layout(speaker, work, done, width, height)
    return None


def _draw_block(plan: Plan, block: int, width: int, height: int) -> Canvas | None:
    """A block, or the quilt, as it is squared up, and what its letters and signs stand for: beside it, else below."""
    canvas, told = _show_block(plan, block, width, height)
    with_words = _add_words(canvas, told, width, height)
    below = len(_spell(told, width))
    if with_words is None and below < height:
        canvas, told = _show_block(plan, block, width, height - below)
        with_words = _add_words(canvas, told, width, height)
    return with_words or canvas


def _add_words(canvas: Canvas, told: Iterable[str], width: int, height: int) -> Canvas | None:
    """A picture with words beside it, else below it; None where there is no room for them."""
    room = width - len(canvas[0]) - _BEFORE_WORDS if canvas else 0
    words = _spell(told, room) if room >= _LEAST_WORDS else []
    if words and len(words) < len(canvas):
        words = [[], *words, *[[]] * (len(canvas) - len(words) - 1)]
        return even_rows([[*row, *[BLANK] * _BEFORE_WORDS, *more] for row, more in zip(canvas, words, strict=True)])
    words = _spell(told, width)
    return even_rows([*canvas, *words]) if len(canvas) + len(words) <= height else None


def _show_block(plan: Plan, block: int, width: int, height: int) -> tuple[Canvas, tuple[str, ...]]:
    if not plan.blocks.drafted[block].is_top:
        canvas = draw_block(plan, block, width, height, numbered=False, marked_seam=None)
        return canvas, (tell_fabrics(plan, block),)
    sight = draw_quilt(plan, width, height)
    return sight.canvas, tell_quilt(plan, sight)


def _spell(lines: Iterable[str], width: int) -> list[list[Cell]]:
    wrapped = (line for words in lines if words for line in wrap_words(words, width, indent=2))
    return [spell_label(line, range(0), len(line)) for line in wrapped]
