"""The command `cloth --pdf`: templates in true size, as a PDF file to print."""

from __future__ import annotations

import sys
from typing import NamedTuple

from planner.cloth.draw_templates import draw_templates
from planner.cloth.split_template import MOST_PARTS
from planner.cloth.template_page import PAPERS
from planner.plan import Plan
from planner.sheet import assign_letters, write_sheet
from tui.load_with_letters import load_with_letters
from tui.write_file import COULD_NOT, why_not_free, write_file

FAULT = 2


class Wanted(NamedTuple):
    """`paper` is "letter" or "a4", or None where the project's measure says which. `with_all`: squares and rectangles
    too."""

    file: str
    paper: str | None
    with_all: bool
    overwrite: bool


def answer_templates(project: str, wanted: Wanted) -> int:
    """Write them; the exit status."""
    if not wanted.overwrite and why_not_free(wanted.file):
        return COULD_NOT
    plan, known = load_with_letters(project)
    if plan is None:
        return FAULT
    paper = wanted.paper or _choose_paper(plan)
    drawn = draw_templates(plan, paper, wanted.with_all, assign_letters(write_sheet(plan), known))
    for template in drawn.left_out:
        words = f"{template.name} would take more than {MOST_PARTS} pages"
        print(f"seamrun: template {template.number} is left out: {words}", file=sys.stderr)
    if drawn.pages and drawn.not_shown:
        told = ", ".join(f"{letter} is {name}" for letter, name in drawn.not_shown)
        print(f"seamrun: the pages have western letters only, others are shown as ?: {told}", file=sys.stderr)
    if not drawn.pages:
        if not drawn.left_out:
            print(f"seamrun: all of {project} is cut by the ruler; --all draws squares and rectangles", file=sys.stderr)
        return COULD_NOT
    status = write_file(drawn.file, wanted.file, wanted.overwrite)
    if not status:
        many = "1 template" if drawn.templates == 1 else f"{drawn.templates} templates"
        pages = "1 page" if drawn.pages == 1 else f"{drawn.pages} pages"
        print(f"{wanted.file} is drawn: {many} on {pages}, {PAPERS[paper].title}")
        print("Print at 100 %, not fitted to the page; measure both squares of a page before you cut by it.")
    return status


def _choose_paper(plan: Plan) -> str:
    return "letter" if plan.project.measure == "in" else "a4"
