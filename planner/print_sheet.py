"""Sheet -> plain text for a printer, a pipe or a screen reader: one step a line, nothing but words."""

from __future__ import annotations

from collections.abc import Iterator

from planner.say_made import say_made
from planner.say_now import say_now
from planner.say_slender import tell_slender
from planner.say_step import Speaker, counted
from planner.session import Session
from planner.sheet import Sheet, Step, StripWork, assign_letters
from planner.summarise import tell_off_ruler


def print_sheet(sheet: Sheet) -> str:
    """The run sheet of a project as nothing is done yet."""
    return _join(_lines(sheet, Speaker(sheet, assign_letters(sheet)), None))


def print_as_sewn(session: Session) -> str:
    """The run sheet as the bench has it: its letters, its directions, what is done, what is made again."""
    speaker = Speaker(session.sheet, assign_letters(session.sheet, session.tally.letters))
    return _join(_lines(session.sheet, speaker, session))


def _join(lines: Iterator[str]) -> str:
    return "".join(f"{line}\n" for line in lines)


def _lines(sheet: Sheet, speaker: Speaker, session: Session | None) -> Iterator[str]:
    project, plan = sheet.plan.project, sheet.plan
    yield project.name
    seam = speaker.ruler.exact(project.seam)
    unit = "inches" if project.measure == "in" else "cm"
    yield f"To make: {say_made(plan.blocks)}. Seam allowance {seam}. Sizes in {unit}."
    if session is not None:
        done, total = session.totals
        yield f"Done: {done} of {total}."
    yield from tell_off_ruler(plan)
    yield from tell_slender(plan)
    heading = ""
    for number, step in enumerate(sheet.steps, 1):
        title = _title(step, sheet)
        if title != heading:
            heading = title
            yield ""
            yield heading
        yield f"{number}. {_state(step, session)}{_say(step, speaker, session)}"


def _title(step: Step, sheet: Sheet) -> str:
    if step.stage == "machine":
        return "Before the first stitch"
    if step.stage == "cut":
        return "Cutting"
    if step.stage in ("square up", "finish"):
        return "At the end"
    return f"Pass {step.pass_number} of {sheet.passes}"


def _state(step: Step, session: Session | None) -> str:
    if session is None:
        return ""
    left, done = session.left_of(step), session.done_of(step)
    if not left:
        return "[done] "
    return f"[{done} of {session.total_of(step)}] " if done else ""


def _say(step: Step, speaker: Speaker, session: Session | None) -> str:
    total = step.count if session is None else session.total_of(step)
    words = speaker.say(step) if session is None else say_now(session, speaker, step)
    verb = words.verb.capitalize()
    one, several = counted(step)
    is_told = step.stage in ("machine", "finish", "lay out") or isinstance(step.work, StripWork)  # by its own words
    tally = "" if is_told else f", {total} {one if total == 1 else several}"
    rest = ". ".join(line.rstrip(".") for line in (*words.does, *words.why))
    return f"{verb} {words.what}{tally}. {rest}."
