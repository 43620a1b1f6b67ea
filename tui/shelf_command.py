"""The command `blocks`: what is on the shelf, or one block of it with its picture."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator

from planner.count_shelf import count_seams, plan_alone
from planner.print_shelf import WIDTH, Counted, describe_block, print_block, print_heading, print_shelf
from planner.reading.nearest_name import NearestName
from planner.reading.shelf_block import ShelfBlock
from planner.shelf import SHELF
from tui.draw_block import draw_block
from tui.fabric_colours import colour_fabrics
from tui.print_canvas import print_canvas
from tui.spell_path import spell_path

FAULT = 2
_ROWS = 25  # of a picture: the block is named and told on the same page


def answer_blocks(name: str | None, as_json: bool) -> int:
    """Print the shelf, or one block of it; the exit status."""
    if name is None:
        # One after the other, so that lines are there while stars and hexagons are still worked out
        shelf = (Counted(block, count_seams(plan_alone(block))) for block in SHELF.list_blocks())
        if as_json:
            print(json.dumps({"blocks": [describe_block(*counted) for counted in shelf]}, ensure_ascii=False))
        else:
            _print(print_shelf(shelf))
        return 0
    wanted = " ".join(name.split())
    block = SHELF.find(wanted)
    if block is None:
        near = NearestName().find(wanted, SHELF.list_names())
        hint = f"did you mean {near}?" if near else "seamrun blocks lists what is there"
        print(f"seamrun: there is no block {spell_path(wanted)} on the shelf; {hint}", file=sys.stderr)
        return FAULT
    if as_json:
        print(json.dumps(describe_block(block, count_seams(plan_alone(block))), ensure_ascii=False))
    else:
        _print(_show(block))
    return 0


def _show(block: ShelfBlock) -> Iterator[str]:
    plan = plan_alone(block)
    yield from print_heading(block)
    yield ""
    canvas = draw_block(plan, 0, WIDTH, _ROWS, numbered=False, marked_seam=None)
    yield from print_canvas(canvas, colour_fabrics(plan.project.fabrics))
    yield ""
    yield from print_block(block, count_seams(plan))


def _print(lines: Iterator[str]) -> None:
    for line in lines:
        print(line)
