"""The first screen of another evening: where the work stopped, and what lies where."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from planner.say_now import say_now
from tui.bench import Bench
from tui.bindings import bindings_at
from tui.lay_out_card import Span
from tui.screens.page import PageScreen
from tui.screens.pages import lying_lines


class ComeBackScreen(PageScreen):
    HOMES = ("return", "app")
    IS_PAGE = False
    BINDINGS = [*bindings_at("return"), *bindings_at("page")]

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        super().__init__(f"{bench.sheet.plan.project.name}   {_when(bench)}", _lines(bench), keys, indent=6)

    def action_go_on(self) -> None:
        self.dismiss()


def _when(bench: Bench) -> str:
    last = datetime.fromtimestamp(bench.session.tally.last_at / 1000)
    today = datetime.fromtimestamp(bench.now() / 1000)
    days = (today.date() - last.date()).days
    day = {0: "today", 1: "yesterday"}.get(days, f"{last.year}-{last.month:02}-{last.day:02}")
    return f"last key: {day}, {last.hour}:{last.minute:02}"


def _lines(bench: Bench) -> list[Span]:
    session, speaker = bench.session, bench.speaker
    step = session.step
    lines: list[Span] = [*(Span(words, "strong") for words in bench.notices)]
    if step is None:
        lines += [Span("All is sewn."), Span("")]
    else:
        words = say_now(session, speaker, step)
        where = f"in pass {step.pass_number} of {session.sheet.passes}" if step.pass_number else "before the first pass"
        at = f"after {session.done_of(step)} of {session.total_of(step)}"
        lines += [
            Span(f"You stopped {where}, {at}:", "plain"),
            Span(f"   {words.verb} {words.what}", "title"),
            Span(""),
        ]
    lines += lying_lines(bench)
    project = bench.sheet.plan.project
    thread = f", {project.thread} thread" if project.thread else ""
    seam = speaker.ruler.exact(project.seam)
    lines += [
        Span("At the machine", "title"),
        Span(f"   {seam} seam{thread}, stitch about 2.5"),
        Span("   Bobbin full? Needle straight? If anything was changed, sew the test seam again"),
    ]
    return lines
