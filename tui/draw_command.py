"""The command `draw`: a block, the quilt or the press map, as text in the terminal or as an SVG file."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Mapping
from shutil import get_terminal_size
from typing import NamedTuple

from planner.pictures import draw_svg
from planner.pictures.draw_cloth import Cloth
from planner.plan import Plan
from planner.reading.nearest_name import NearestName
from planner.say_made import say_block
from tui.canvas import Canvas
from tui.draw_block import block_room, draw_block
from tui.draw_press import draw_press
from tui.draw_quilt import draw_quilt
from tui.fabric_colours import FabricColour, colour_fabrics
from tui.lay_out_card import wrap_words
from tui.load import load_plan
from tui.print_canvas import print_canvas
from tui.tell_picture import tell_block, tell_press, tell_quilt
from tui.write_file import COULD_NOT, why_not_free, write_file

FAULT = 2
_COLUMNS = 80  # where there is no terminal
_MOST_ROWS = 400


class Wanted(NamedTuple):
    """What to draw. `block` is the name that was asked for, None for the quilt; `file` where the SVG goes, None for
    the terminal."""

    block: str | None
    press: bool
    file: str | None
    overwrite: bool = False


def answer_draw(project: str, wanted: Wanted) -> int:
    """Draw it; the exit status."""
    if wanted.file is not None and not wanted.overwrite and why_not_free(wanted.file):
        return COULD_NOT
    plan = load_plan(project)
    if plan is None:
        return FAULT
    block = _find_block(plan, project, wanted.block)
    if isinstance(block, str):
        print(f"seamrun: {block}", file=sys.stderr)
        return FAULT
    colours = colour_fabrics(plan.project.fabrics)
    if wanted.file is None:
        for line in _draw_text(plan, block, wanted.press, colours):
            print(line)
        return 0
    drawn = _draw_svg(plan, block, wanted.press, colours).encode("utf-8")
    status = write_file(drawn, wanted.file, wanted.overwrite)
    if not status:
        print(f"{wanted.file} is drawn")
    return status


def _find_block(plan: Plan, project: str, name: str | None) -> int | str:
    """The number of a drafted block, or words that say why there is none."""
    drafted = plan.blocks.drafted
    if name is None:
        if plan.blocks.top is None:
            return f"{project} has no quilt, only loose blocks: draw one of them with --block"
        return len(drafted) - 1
    wanted = " ".join(name.split())
    blocks = [number for number, block in enumerate(drafted) if not block.is_top]
    for number in blocks:
        if drafted[number].title == wanted:
            return number
    same = [number for number in blocks if drafted[number].name == wanted]
    if len(same) == 1:
        return same[0]
    if same:
        titles = " or ".join(f'"{drafted[number].title}"' for number in same)
        return f"{wanted} is made in {len(same)} sets of fabrics: write --block with {titles}"
    if any(block.name == wanted for block in plan.project.blocks):
        return f"block {wanted} is not made in {project}: put it under make or into the quilt"
    near = NearestName().suggest(wanted, tuple(dict.fromkeys(drafted[number].name for number in blocks)))
    return f"{project} has no block {wanted}{near}"


def _draw_svg(plan: Plan, block: int, press: bool, colours: Mapping[str, FabricColour]) -> str:
    cloth = {name: Cloth(*colour) for name, colour in colours.items()}
    if press:
        return draw_svg.draw_press_map(plan, block, cloth)
    if plan.blocks.drafted[block].is_top:
        return draw_svg.draw_quilt(plan, cloth)
    return draw_svg.draw_block(plan, block, cloth)


def _draw_text(plan: Plan, block: int, press: bool, colours: Mapping[str, FabricColour]) -> Iterable[str]:
    """A title, the picture and what its signs mean; in colour only where the terminal has all of them."""
    width = get_terminal_size((_COLUMNS, 24)).columns if sys.stdout.isatty() else _COLUMNS
    canvas: Canvas
    told: tuple[str, ...]
    if press:
        drawn = draw_press(plan, block, width, _MOST_ROWS)
        canvas, told = drawn.canvas, tell_press(plan, block, drawn)
    elif plan.blocks.drafted[block].is_top:
        sight = draw_quilt(plan, width, _MOST_ROWS)
        canvas, told = sight.canvas, tell_quilt(plan, sight)
    else:
        wide = min(width, block_room(plan, block)[0])  # larger says no more
        canvas = draw_block(plan, block, wide, _MOST_ROWS, numbered=True, marked_seam=None)
        told = tell_block(plan, block)
    title = say_block(plan.blocks, block)
    yield from wrap_words(f"{plan.project.name}: {'press map of ' if press else ''}{title}", width, 2)
    yield ""
    yield from print_canvas(canvas, colours)
    yield ""
    for line in told:
        yield from wrap_words(line, width, 2)
