"""A seam that stops half way is drawn heavy as far as its stop, and no farther, in what becomes of a pair."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from planned import plan_text

from planner.name_piles import Chain
from planner.say_step import Speaker
from planner.sheet import SewWork, assign_letters, write_sheet
from tui.draw import Canvas, draw_pair

HEAVY = set("╻╹┃┒┖┚┎┠┨┰┸╂┧┦┟┞")
SEWN = HEAVY | set("║╫2")  # the number of the second corner stands on the end of its stretch
HEAD = "project: Tidewater\nfabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}\nblocks:\n"
WINDMILL = f"{HEAD}  one: {{block: bright hopes, fabrics: {{dark: navy, medium: shell, centre: coral}}}}\n"
STAR = f"{HEAD}  one: {{block: eight-pointed star, size: 12, fabrics: {{dark: navy, medium: coral, light: shell}}}}\n"


def chains_of(text: str) -> Iterator[tuple[Speaker, Chain]]:
    sheet = write_sheet(plan_text(f"{text}make: [{{block: one, count: 2}}]\n"))
    speaker = Speaker(sheet, assign_letters(sheet))
    for step in sheet.steps:
        if isinstance(step.work, SewWork) and sheet.plan.units.units[step.work.chain.unit].closes is None:
            yield speaker, step.work.chain


def rows_of(canvas: Canvas, signs: set[str], first: int, last: int) -> list[int]:
    """The rows in which such signs stand, in these columns."""
    return [row for row, cells in enumerate(canvas) if any(cell.text in signs for cell in cells[first:last])]


@pytest.mark.parametrize("text", [WINDMILL, STAR])
def test_what_becomes_of_a_pair_has_the_seam_beside_the_edges_that_are_sewn(text: str) -> None:
    """The edges that are sewn, double or heavy in the pair, stand in the same rows as the heavy line of the result."""
    seen = 0
    for speaker, chain in chains_of(text):
        for width in (56, 76, 110):
            for height in range(5, 20):
                canvas = draw_pair(speaker, chain, width, height)
                label = "".join(cell.text for cell in canvas[0]) if canvas is not None else ""
                if canvas is None or "becomes" not in label:
                    continue
                at = label.index("becomes")
                assert rows_of(canvas, HEAVY, at, len(label)) == rows_of(canvas, SEWN, 0, at)
                seen += 1
    assert seen > 20


def test_the_first_seam_of_a_windmill_ends_in_the_middle_of_its_centre() -> None:
    speaker, chain = next(iter(chains_of(WINDMILL)))
    canvas = draw_pair(speaker, chain, 76, 12)
    assert canvas is not None
    middle = len("".join(cell.text for cell in canvas[0]).split("becomes")[0])
    lines = ["".join(cell.text for cell in row)[middle:].strip() for row in canvas[1:]]
    assert lines == [
        "┌─────┰───────────┐",
        "│ s s ┃ c c c c c │",
        "│ s s ┃ c c c c c │",
        "│ s s ╹ c c c c c │",
        "│ s s   c c c c c │",
        "│ s s   c c c c c │",
        "│ s s  ───────────┘",
        "│ s s",
        "│ s s",
        "└─────",
    ]
