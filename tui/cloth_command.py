"""The command `cloth`: what to buy and how to cut it, as text, JSON, CSV or a picture of each fabric's layout."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from typing import Literal

from planner.cloth.cloth import work_out_cloth
from planner.sheet import assign_letters, write_sheet
from tui.load import load_plan, tell_faults
from tui.load_with_letters import load_with_letters
from tui.write_file import COULD_NOT, why_not_free, write_file

FAULT = 2
Form = Literal["text", "json", "csv", "layout"]
FORMS: Mapping[str, Form] = {"": "text", "--json": "json", "--csv": "csv", "--layout": "layout"}


def answer_cloth(file: str, form: Form, svg: str | None = None, overwrite: bool = False) -> int:
    """Print the cloth of a project, or write its layout to an SVG file; the exit status."""
    if svg is not None and not overwrite and why_not_free(svg):
        return COULD_NOT
    has_letters = svg is not None or form in ("text", "layout")
    plan, known = load_with_letters(file) if has_letters else (load_plan(file), {})
    if plan is None:
        return FAULT
    cloth, faults = work_out_cloth(plan)
    if cloth is None:
        tell_faults(file, faults)
        return FAULT
    if svg is not None:
        from planner.cloth.draw_layout_svg import draw_layout_svg
        from planner.pictures.draw_cloth import Cloth
        from tui.fabric_colours import colour_fabrics

        colours = {name: Cloth(*colour) for name, colour in colour_fabrics(plan.project.fabrics).items()}
        letters = assign_letters(write_sheet(plan, (cloth, ())), known)
        status = write_file(draw_layout_svg(cloth, colours, letters).encode(), svg, overwrite)
        if not status:
            print(f"{svg} is drawn: the layout of {len(cloth.fabrics)} fabrics, a quarter of their size")
        return status
    if form == "json":
        from planner.cloth.cloth_json import write_cloth

        sys.stdout.write(write_cloth(cloth))
    elif form == "csv":
        from planner.cloth.cloth_csv import write_csv

        sys.stdout.write(write_csv(cloth))
    else:
        from planner.cloth.draw_layout import draw_layout
        from planner.cloth.print_cloth import print_cloth

        if form == "layout":
            lines = draw_layout(cloth, assign_letters(write_sheet(plan, (cloth, ())), known))
        else:
            lines = print_cloth(cloth, known)
        for line in lines:
            print(line)
    return 0
