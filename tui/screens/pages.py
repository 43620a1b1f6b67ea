"""The pages that are nothing but words: the whole sheet, the cut list, what lies where, the keys."""

from __future__ import annotations

from collections.abc import Mapping

from planner.say_now import say_now
from planner.say_slender import tell_slender
from planner.say_step import counted
from planner.sheet import CutWork, StripWork
from planner.summarise import tell_off_ruler
from tui.bench import Bench, fabric_at_hand
from tui.commands import COMMANDS, spell_keys
from tui.lay_out_card import Span
from tui.screens.page import PageScreen
from tui.tell_picture import SIGNS
from tui.view_step import name_lying

Keys = Mapping[str, str]


def sheet_page(bench: Bench, keys: Keys) -> PageScreen:
    """Every step with its tally, headed by passes, beginning at the place; that one with all its words."""
    session, speaker = bench.session, bench.speaker
    lines: list[Span] = []
    start = 0
    heading = ""
    for number, step in enumerate(session.sheet.steps):
        title = {
            "machine": "Before the first stitch",
            "cut": "Cutting",
            "square up": "At the end",
            "finish": "At the end",
        }.get(step.stage, f"Pass {step.pass_number} of {session.sheet.passes}")
        if title != heading:
            heading = title
            lines += [Span(""), Span(title, "title")]
        words = speaker.say(step)
        done, total = session.done_of(step), session.total_of(step)
        one, several = counted(step)
        mark = "▶" if number == session.place else "✓" if done >= total else " "
        if number == session.place:
            start = len(lines)
        tally = f"{done} of {total} {one if total == 1 else several}"
        text = f"{mark} {number + 1}. {words.verb.capitalize()} {words.what}: {tally}"
        lines.append(Span(text, "strong" if number == session.place else "plain"))
        if number == session.place:  # a card on a small screen may have no room for all of it
            now = say_now(session, speaker, step)
            lines += [*(Span(f"     {line}") for line in now.does), *(Span(f"     {line}", "why") for line in now.why)]
    done, total = session.totals
    return PageScreen(f"The whole sheet   {done} of {total} counted", lines, keys, start=start, indent=5)


def cuts_page(bench: Bench, keys: Keys) -> PageScreen:
    """The cut list in the words of the cutting mat, fabric by fabric, with what is done; it begins at the fabric at
    hand."""
    session, speaker = bench.session, bench.speaker
    lines: list[Span] = []
    start = 0
    fabric = ""
    for step in session.sheet.steps:
        if not isinstance(step.work, StripWork | CutWork):
            continue
        words = speaker.say(step)
        here = step.work.cut.fabric if isinstance(step.work, StripWork) else step.work.entry.fabric
        if here != fabric:
            fabric = here
            start = len(lines) if here == fabric_at_hand(bench) else start
            lines += [Span(""), Span(fabric, "title")]
        if isinstance(step.work, StripWork):
            mark = "✓" if not session.left_of(step) else " "
            lines.append(Span(f"{mark} {words.what}", "strong"))
            lines += [Span(f"    {line}") for line in words.does]
            continue
        pieces = session.stock.pieces_needed(step, step.work)
        mark = "✓" if not session.left_of(step) else " "
        letter = speaker.letters.get(step.work.pile)
        pile = f"   pile {letter}" if letter else ""
        lines.append(Span(f"{mark} {speaker.mat_words(step.work, pieces)}{pile}", "strong"))
        lines += [Span(f"    {line}") for line in words.does[1:] if not line.startswith("Write ")]
        lines.append(Span(f"    {words.why[0]}", "why"))
    told = [*tell_off_ruler(bench.sheet.plan), *tell_slender(bench.sheet.plan)]
    lines += [Span(""), *(Span(words) for words in told)]
    how = f"{spell_keys(keys['app.cloth'])}: how the pieces lie on each fabric, and what to buy of it"
    lines += [Span(""), Span(how)]
    lines += [Span(""), Span("Blades: cut away from yourself, close them after every cut; your tools' manuals count")]
    return PageScreen("What to cut", lines[1:], keys, start=start, indent=4)


def piles_page(bench: Bench, keys: Keys) -> PageScreen:
    """What lies where, now."""
    return PageScreen("What lies where", lying_lines(bench), keys, indent=6)


def lying_lines(bench: Bench) -> list[Span]:
    """Chain, iron and piles, a heading and a line each."""
    lines: list[Span] = []
    for heading, found in name_lying(bench):
        lines += [Span(heading, "title"), *(Span(f"   {line}") for line in found), Span("")]
    return lines


def keys_page(bench: Bench, keys: Keys) -> PageScreen:
    """Every command with its keys, by where it works."""
    lines: list[Span] = []
    homes = {
        "bench": "At the bench",
        "app": "Everywhere",
        "page": "On a page",
        "block": "Looking at a block",
        "cloth": "Looking at the cloth",
    }
    for home, heading in homes.items():
        lines += [Span(""), Span(heading, "title")]
        for command in COMMANDS:
            if command.home == home:
                lines.append(Span(f"  {spell_keys(keys[command.id]):<14} {command.help}"))
    lines += [
        Span(""),
        Span("Your own keys", "title"),
        Span("  Write them into the settings file, by command: keymap: {bench.one: f5}. The commands are named:"),
        *(Span(f"    {command.id:<16} {command.label}") for command in COMMANDS),
        Span("  The same file, settings.yaml, keeps the theme and large print: theme: light, large_print: true"),
        Span(""),
        Span("Good to know", "title"),
        Span("  Every key is saved before it shows. Close the lid, pull the plug: you go on where you stopped."),
        Span("  If the bench was killed and the terminal looks odd afterwards, type reset and press enter."),
        Span("  Palette and pages work over SSH and in tmux; seamrun sheet FILE prints all of it as plain text."),
        Span(""),
        *_legend(bench),
    ]
    return PageScreen("Keys", lines[1:], keys, indent=17)


def _legend(bench: Bench) -> list[Span]:
    """The letters that stand for fabrics in the pictures, and their signs."""
    fabrics = bench.sheet.plan.project.fabrics
    return [
        Span("Fabrics in the pictures", "title"),
        *(Span(f"  {one.letter:<3} {one.name}") for one in fabrics),
        Span(""),
        Span("Signs in the pictures", "title"),
        *(Span(f"  {sign:<3} {words}") for sign, words in SIGNS),
    ]
