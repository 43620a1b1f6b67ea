"""Pictures in the terminal: everything stands where the plan's geometry says, in every size."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import dist
from typing import Any

import pytest
from drafts import write_project
from hypothesis import given, settings
from hypothesis import strategies as st
from planned import plan_it, plan_sample, plan_text, print_out, read_text
from rich.cells import cell_len
from shapely import LineString, Point, Polygon

from planner.name_piles import Chain, Outcome
from planner.plan import Plan
from planner.say_step import Speaker
from planner.sheet import SewWork, UnitWork, assign_letters, feed_of, pins_of, write_sheet
from tui.draw import Canvas, Cell, block_room, draw_block, draw_outcome, draw_pair, draw_pile

SIZES = ((0, 0), (1, 1), (12, 3), (24, 4), (40, 5), (56, 6), (76, 9), (110, 14), (160, 45))
ARROWS = {"↑": (0, -1), "↗": (1, -1), "→": (1, 0), "↘": (1, 1), "↓": (0, 1), "↙": (-1, 1), "←": (-1, 0), "↖": (-1, -1)}
MARKS = {
    "up": "▲",
    "up and to the right": "◥",
    "to the right": "▶",
    "down and to the right": "◢",
    "down": "▼",
    "down and to the left": "◣",
    "to the left": "◀",
    "up and to the left": "◤",
}
LEFT_AND_RIGHT = re.compile(r"Left \S+?(?: \(mark ([^)]+)\))?, right \S+?(?: \(mark ([^)]+)\))?: turn ")
HEAD = """
project: Tidewater trial
fabrics:
  navy: {value: dark}
  shell: {value: light}
  coral: {value: medium, letter: co}
blocks:
"""
DRAFTS = {
    "pair": "{size: 6, rows: [[navy, shell]]}",
    "four patch": "{size: 6, rows: [[navy, shell], [shell, navy]]}",
    "nine patch": "{size: 9, rows: [[navy, shell, navy], [shell, coral, shell], [navy, shell, coral]]}",
    "triangles": "{size: 6, rows: [[navy / shell]]}",
    "quarters": r"{size: 8, rows: [[(navy \ shell) / (coral \ navy)]]}",
    "strips": "{size: 12, rows: [[navy, shell, coral, navy, shell, coral]]}",
    "long strip": "{size: 24 x 2, rows: [[navy, shell]]}",
    "slant": '{size: 8 x 4, box: 8 x 4, patches: [{fabric: navy, corners: "0,0 2,0 5,4 0,4"}, '
    '{fabric: shell, corners: "2,0 8,0 8,4 5,4"}]}',
    "pinwheel": r"{size: 12, rows: [[navy \ shell, navy / shell], [shell / navy, shell \ navy]]}",
    "logs": "{size: 10, logs: {centre: coral, around: [navy, navy, shell, shell, navy, navy, shell, shell]}}",
    "one": "{size: 6, rows: [[coral]]}",
}


@cache
def plan_of(draft: str) -> Plan:
    return plan_text(f"{HEAD}  {draft}: {DRAFTS[draft]}\nmake: [{{block: {draft}, count: 2}}]\n")


@cache
def speaker_of(plan: str | int) -> Speaker:
    """Of a draft, of a sample, or of a random project."""
    if isinstance(plan, int):
        found = plan_it(read_text(write_project(random.Random(plan), 24, 2, 2)))
    else:
        found = plan_of(plan) if plan in DRAFTS else plan_sample(plan)
    sheet = write_sheet(found)
    return Speaker(sheet, assign_letters(sheet))


ALL = (*DRAFTS, "tidewater-sampler", "harbour-stars", "lantern-logs", 3, 5, 8)


def chains_of(speaker: Speaker) -> Iterator[Chain]:
    for step in speaker.sheet.steps:
        if isinstance(step.work, SewWork):
            yield step.work.chain


def outcomes_of(speaker: Speaker) -> Iterator[tuple[Chain, Outcome]]:
    for step in speaker.sheet.steps:
        if isinstance(step.work, UnitWork) and step.stage == "press":
            yield step.work.chain, step.work.outcome


def draw_all(speaker: Speaker, width: int, height: int) -> Iterator[Canvas | None]:
    for chain in chains_of(speaker):
        yield draw_pair(speaker, chain, width, height)
    for chain, outcome in outcomes_of(speaker):
        yield draw_outcome(speaker, chain, outcome, width, height)
    for pile in speaker.plan.piles.piles:
        yield draw_pile(speaker, pile, width, height)
    for block, seams in enumerate(speaker.plan.units.seams):
        for numbered in (False, True):
            for marked in (None, *range(len(seams))[-1:]):
                yield draw_block(speaker.plan, block, width, height, numbered, marked)


def text_of(canvas: Canvas | None) -> str:
    assert canvas is not None
    return "\n".join("".join(cell.text for cell in row).rstrip() for row in canvas)


def picture(text: str) -> str:
    """A picture drawn in a test, its left border cut off."""
    return "\n".join(line.split("|", 1)[1].rstrip() for line in text.strip().split("\n"))


def edges_of(canvas: Canvas) -> tuple[int, int]:
    """The columns of the two edges to sew."""
    rows = [[column for column, cell in enumerate(row) if cell.text in "║╫"] for row in canvas]
    found = {tuple(columns) for columns in rows if columns}
    assert len(found) == 1, "the edges are not upright"
    ((left, right),) = found
    return left, right


def edge_rows(canvas: Canvas) -> list[int]:
    left, _ = edges_of(canvas)
    return [number for number, row in enumerate(canvas) if row[left].text in "║╫"]


def units_in(canvas: Canvas) -> tuple[list[list[Cell]], list[list[Cell]]]:
    """The cells of the unit on the left and of the unit on the right, without the row of labels."""
    left, right = edges_of(canvas)
    label = "".join(cell.text for cell in canvas[0])
    end = label.find("becomes") - 1 if "becomes" in label else len(canvas[0])
    return [list(row[:left]) for row in canvas[1:]], [list(row[right + 1 : end]) for row in canvas[1:]]


# -- every picture, every size


def assert_is_canvas(canvas: Canvas | None, width: int, height: int) -> None:
    if canvas is None:
        return
    assert len(canvas) <= height
    assert len({len(row) for row in canvas}) <= 1
    for row in canvas:
        assert len(row) <= width
        for cell in row:
            assert len(cell.text) == 1
            assert cell_len(cell.text) == 1
            assert (cell.role == "cloth") <= (cell.fabric is not None)
            assert (cell.role == "blank") <= (cell.text == " " and cell.fabric is None)


@pytest.mark.parametrize(("width", "height"), SIZES)
@pytest.mark.parametrize("plan", ALL)
def test_rows_are_equally_wide_and_no_larger_than_the_room(plan: str | int, width: int, height: int) -> None:
    for canvas in draw_all(speaker_of(plan), width, height):
        assert_is_canvas(canvas, width, height)


@settings(max_examples=12, deadline=None)
@given(st.randoms(use_true_random=False), st.integers(0, 120), st.integers(0, 30))
def test_random_projects_are_drawn_in_any_room(chance: random.Random, width: int, height: int) -> None:
    sheet = write_sheet(plan_it(read_text(write_project(chance, 14, 2, 2))))
    for canvas in draw_all(Speaker(sheet, assign_letters(sheet)), width, height):
        assert_is_canvas(canvas, width, height)


@pytest.mark.parametrize("plan", ALL)
def test_where_there_is_no_room_there_is_no_picture(plan: str | int) -> None:
    speaker = speaker_of(plan)
    assert all(draw_pair(speaker, chain, 12, 3) is None for chain in chains_of(speaker))
    assert all(draw_outcome(speaker, *both, 3, 2) is None for both in outcomes_of(speaker))
    assert all(draw_pile(speaker, pile, 3, 9) is None for pile in speaker.plan.piles.piles)
    assert draw_block(speaker.plan, 0, 0, 9, numbered=False, marked_seam=None) == ()


@pytest.mark.parametrize("plan", ALL)
def test_on_a_common_screen_every_pair_has_its_picture(plan: str | int) -> None:
    speaker = speaker_of(plan)
    assert all(draw_pair(speaker, chain, 110, 14) is not None for chain in chains_of(speaker))


# -- the pair


def test_a_four_patch_is_sewn_like_this() -> None:
    speaker = speaker_of("four patch")
    first, second = chains_of(speaker)
    assert text_of(draw_pair(speaker, first, 60, 6)) == picture("""
        |A  underneath          B  on top    becomes C
        |    ┌───────╫ in first ╫───────┐    ┌───────┰───────┐
        |    │ n n n ║          ║ s s s │    │ n n n ┃ s s s │
        |    │ n n n ║          ║ s s s │    │ n n n ┃ s s s │
        |    │ n n n ║          ║ s s s │    │ n n n ┃ s s s │
        |    └───────╫╌╌╌╌╌╌╌╌╌╌╫───────┘    └───────┸───────┘
    """)
    # Both seams are pressed to the navy: so the left ridge runs up, the right one down, and they lock
    assert text_of(draw_pair(speaker, second, 60, 6)) == picture("""
        |C  underneath          C  on top    becomes D
        |        ┌───╫ in first ╫───┐        ┌───┰───┐
        |        │ n ║          ║ s │        │ n ┃ s │
        |        ├─▶↑╫╌╌╌╌╌╌╌╌╌╌╫↓◀─┤        ├───╂───┤
        |        │ s ║          ║ n │        │ s ┃ n │
        |        └───╫╌╌╌╌╌╌╌╌╌╌╫───┘        └───┸───┘
    """)


def test_the_long_edge_of_a_triangle_is_stood_upright() -> None:
    speaker = speaker_of("triangles")
    (chain,) = chains_of(speaker)
    # 8 1/2 in long: two pins between the ends
    assert text_of(draw_pair(speaker, chain, 60, 8)) == picture("""
        |A  underneath          B  on top    becomes C
        |            ╫ in first ╫                  ╻
        |          ╱ ║          ║ ╲              ╱ ┃ ╲
        |        ╱ n ╫╌╌╌╌╌╌╌╌╌╌╫ s ╲          ╱ n ┃ s ╲
        |        n n ║          ║ s s          n n ┃ s s
        |        ╲ n ╫╌╌╌╌╌╌╌╌╌╌╫ s ╱          ╲ n ┃ s ╱
        |          ╲ ║          ║ ╱              ╲ ┃ ╱
        |            ╫╌╌╌╌╌╌╌╌╌╌╫                  ╹
    """)


def test_words_are_shortened_before_the_picture_is_lost() -> None:
    speaker = speaker_of("pair")
    (chain,) = chains_of(speaker)
    heads = {
        width: re.sub(" {2,}", "  ", text_of(draw_pair(speaker, chain, width, 9)).split("\n")[0])
        for width in (100, 60, 44, 26)
    }
    assert heads == {
        100: "A  underneath, right side up  B  on top, turned over  becomes C",
        60: "A  underneath  B  on top  becomes C",
        44: "A  underneath  B  on top",
        26: "A  B  on top",
    }


def pairs_of(speaker: Speaker, width: int = 150, height: int = 40) -> Iterator[tuple[Chain, Canvas]]:
    for chain in chains_of(speaker):
        canvas = draw_pair(speaker, chain, width, height)
        assert canvas is not None
        yield chain, canvas


@pytest.mark.parametrize("plan", ALL)
def test_the_pile_underneath_lies_left_and_the_one_on_top_right(plan: str | int) -> None:
    speaker = speaker_of(plan)
    for chain, canvas in pairs_of(speaker):
        labels = re.split(" {3,}", "".join(cell.text for cell in canvas[0]).strip())
        for label, cells, lying in zip(labels, units_in(canvas), speaker.order_of(chain), strict=False):
            assert label.split()[0] == speaker.letter(lying.pile)
            shown = {cell.fabric for row in cells for cell in row if cell.fabric is not None}
            assert shown == set(speaker.plan.words.fabrics(speaker.plan.piles.piles[lying.pile].unit))
        assert "underneath" in labels[0]
        assert "on top" in labels[1]


@pytest.mark.parametrize("plan", ALL)
def test_beside_the_edges_lie_the_fabrics_that_are_sewn_from_the_first_end_down(plan: str | int) -> None:
    """Along the seam, from the end that goes in first, the cloth at both edges is what the plan has there."""
    speaker = speaker_of(plan)
    units = speaker.plan.units
    for chain, canvas in pairs_of(speaker):
        feed, unit = feed_of(speaker.plan, chain.unit), units.units[chain.unit]
        seam = LineString([feed.first, feed.last])
        left, right = edges_of(canvas)
        rows = edge_rows(canvas)
        for side, is_top in ((unit.a, feed.a_on_top), (unit.b, not feed.a_on_top)):
            assert side is not None
            column = right + 1 if is_top else left - 1
            for placed in units.place_patches(side):
                border = Polygon(units.cuts.outline(placed)).intersection(seam)
                if border.length * len(rows) < 2.5 * seam.length:
                    continue  # no cell there is sure to lie well within this patch
                share = seam.project(border.centroid) / seam.length
                cell = canvas[rows[int(share * len(rows))]][column]
                fabric = units.cuts.shapes[placed[2]].fabric
                assert cell.fabric == fabric or cell.role == "edge", (share, cell)


@pytest.mark.parametrize("plan", ALL)
def test_marks_point_as_the_words_say(plan: str | int) -> None:
    speaker = speaker_of(plan)
    for step in speaker.sheet.steps:
        if not isinstance(step.work, SewWork):
            continue
        canvas = draw_pair(speaker, step.work.chain, 150, 40)
        assert canvas is not None
        # "Left D (mark up), right E (mark down and to the right): turn E over onto D, like a page"
        told = LEFT_AND_RIGHT.match(speaker.say(step).does[0])
        assert told is not None
        for way, cells in zip(told.groups(), units_in(canvas), strict=True):
            marks = [cell.text for row in cells for cell in row if cell.role == "mark"]
            assert marks == ([MARKS[way]] if way else [])


@pytest.mark.parametrize("plan", ALL)
def test_ridges_and_pins_stand_where_they_are_under_the_needle(plan: str | int) -> None:
    speaker = speaker_of(plan)
    for chain, canvas in pairs_of(speaker):
        left, right = edges_of(canvas)
        rows = edge_rows(canvas)
        assert rows == list(range(rows[0], rows[-1] + 1))
        feed = feed_of(speaker.plan, chain.unit)
        share = (len(rows) - 1) / dist(feed.first, feed.last)
        pins = [row for row in rows if canvas[row][left].role == "pin"]
        wanted = [rows[0] + share * dist(feed.first, point) for point in pins_of(speaker.plan, chain.unit)]
        assert len(pins) == len(wanted)
        assert all(abs(pin - want) <= 1 for pin, want in zip(pins, wanted, strict=True))
        assert (pins[0], pins[-1]) == (rows[0], rows[-1])
        assert all(canvas[row][right].text == canvas[row][left].text for row in rows)

        ridges = speaker.ridges(chain)
        found = [(row, canvas[row][left - 1].text, canvas[row][right + 1].text) for row in range(len(canvas))]
        found = [one for one in found if canvas[one[0]][left - 1].role == "ridge"]
        signs = {True: "↑", False: "↓"}
        assert [one[1:] for one in found] == [(signs[under], signs[top]) for _, top, under in ridges]
        wanted = [rows[0] + share * dist(feed.first, at) for at, _, _ in ridges]
        assert all(abs(row - want) <= 1 for (row, _, _), want in zip(found, wanted, strict=True))
        assert {one[0] for one in found} <= set(pins)


@pytest.mark.parametrize("plan", ALL)
def test_each_join_has_a_row_of_its_own_in_every_size(plan: str | int) -> None:
    speaker = speaker_of(plan)
    for width, height in SIZES:
        for chain in chains_of(speaker):
            canvas = draw_pair(speaker, chain, width, height)
            if canvas is not None:
                left, _ = edges_of(canvas)
                ridges = [row[left - 1].text for row in canvas if row[left - 1].role == "ridge"]
                assert len(ridges) == len(speaker.ridges(chain))


@pytest.mark.parametrize("plan", ALL)
def test_what_goes_in_first_is_said_at_the_upper_end(plan: str | int) -> None:
    for _, canvas in pairs_of(speaker_of(plan)):
        left, right = edges_of(canvas)
        first = edge_rows(canvas)[0]
        assert "".join(cell.text for cell in canvas[first][left + 1 : right]).strip() == "in first"


@pytest.mark.parametrize("plan", ALL)
def test_what_becomes_of_a_pair_is_the_two_side_by_side_with_one_seam(plan: str | int) -> None:
    for _, canvas in pairs_of(speaker_of(plan)):
        label = "".join(cell.text for cell in canvas[0])
        if "becomes" not in label:
            continue
        sides = units_in(canvas)
        result = [row[label.index("becomes") :] for row in canvas[1:]]
        fabrics = [[cell.fabric for cell in row if cell.fabric is not None] for row in result]
        # Signs of the pair (marks, ridges) may stand on lines, which have no fabric at the border
        signs = ("ridge", "mark")
        both = [
            [cell.fabric for side in sides for cell in side[row] if cell.fabric is not None and cell.role not in signs]
            for row in range(len(result))
        ]
        for row, (whole, parts) in enumerate(zip(fabrics, both, strict=True)):
            assert set(parts) <= set(whole), row
            assert abs(len(whole) - len(parts)) <= 4


def test_equal_patches_are_drawn_equally_large_where_there_is_room() -> None:
    speaker = speaker_of("nine patch")
    for chain, canvas in pairs_of(speaker, 110, 14):
        lines = [row for row in range(1, len(canvas)) if any(cell.text in "─━" for cell in canvas[row][:2])]
        assert len({below - above for above, below in pairwise(lines)}) <= 1, chain


def test_a_square_looks_square() -> None:
    speaker = speaker_of("one")
    for height in (6, 8, 10):
        canvas = draw_pile(speaker, speaker.plan.piles.blocks[0].pile, 60, height)
        assert canvas is not None
        width = max(len(line) for line in text_of(canvas[1:]).split("\n"))
        assert width == 2 * (len(canvas) - 1) - 1


# -- what comes from the iron, and what lies in a pile


@pytest.mark.parametrize("plan", ALL)
def test_arrows_point_as_the_words_say_and_to_the_side_that_is_pressed_to(plan: str | int) -> None:
    speaker = speaker_of(plan)
    units = speaker.plan.units
    checked = 0
    for chain, outcome in outcomes_of(speaker):
        canvas = draw_outcome(speaker, chain, outcome, 150, 50)
        assert canvas is not None
        arrows = [(x, y) for y, row in enumerate(canvas) for x, cell in enumerate(row) if cell.role == "ridge"]
        eighths, _ = speaker.arrow(chain, outcome)
        assert arrows
        unit = units.units[chain.unit]
        fabrics = {}
        for side, is_a in ((unit.a, True), (unit.b, False)):
            assert side is not None
            seam = LineString(unit.seam)
            fabrics[is_a] = {
                units.cuts.shapes[placed[2]].fabric
                for placed in units.place_patches(side)
                if Polygon(units.cuts.outline(placed)).intersection(seam).length > 0
            }
        for x, y in arrows:
            arrow = canvas[y][x].text
            assert arrow == "".join(ARROWS)[eighths]
            across, down = ARROWS[arrow]
            near = canvas[y + down][x + (2 if down == 0 else 1) * across]
            if near.role == "cloth" and not fabrics[True] & fabrics[False]:
                assert near.fabric in fabrics[outcome.to_a]
                checked += 1
    assert checked or plan in ("one", "logs", *(name for name in ALL if isinstance(name, int)))


@pytest.mark.parametrize("plan", ALL)
def test_a_slip_has_its_mark_at_the_top(plan: str | int) -> None:
    speaker = speaker_of(plan)
    names = speaker.plan.piles.unit_names
    outlined = {names[entry.units[0]] for entry in speaker.plan.cut if entry.piece.shape == "other"}
    for pile in speaker.plan.piles.piles.values():
        canvas = draw_pile(speaker, pile.name, 120, 40)
        assert canvas is not None
        marks = [(row, cell.text) for row, cells in enumerate(canvas) for cell in cells if cell.role == "mark"]
        unit = speaker.plan.units.units[pile.unit]
        if unit.period == 1 or (unit.shape >= 0 and pile.name not in outlined):
            assert marks == []
        else:
            ((row, mark),) = marks
            assert mark == "▲"
            assert row < len(canvas) / 2


# -- whole blocks


def cells_of(canvas: Canvas, plan: Plan, block: int) -> list[tuple[int, int, int]]:
    """Column, row and patch of every cell that lies well within a patch.

    The border of the block runs through the middle of the outermost cells.
    """
    drafted = plan.blocks.drafted[block]
    across, down = drafted.width / (len(canvas[0]) - 1), drafted.height / (len(canvas) - 1)
    found = []
    for number, patch in enumerate(drafted.patches):
        inner = Polygon(patch.outline).buffer(-max(across, down) / 2)
        if inner.is_empty:
            continue
        left, top, right, bottom = inner.bounds
        for y in range(int(top / down), int(bottom / down) + 2):
            for x in range(int(left / across), int(right / across) + 2):
                if inner.contains(Point(x * across, y * down)):
                    found.append((x, y, number))
    return found


def blocks_of(plan: Plan) -> range:
    return range(len(plan.blocks.drafted))


@pytest.mark.parametrize("plan", ALL)
def test_a_block_is_drawn_patch_by_patch(plan: str | int) -> None:
    found = speaker_of(plan).plan
    letters = {fabric.name: fabric.letter for fabric in found.project.fabrics}
    for block in blocks_of(found):
        canvas = draw_block(found, block, *block_room(found, block), numbered=False, marked_seam=None)
        drafted = found.blocks.drafted[block]
        written: dict[int, str] = {}
        for x, y, number in cells_of(canvas, found, block):
            cell = canvas[y][x]
            assert cell.fabric == drafted.patches[number].fabric
            if cell.role == "cloth":
                written[number] = written.get(number, "") + cell.text
        for number, text in written.items():
            letter = letters[drafted.patches[number].fabric]
            assert set(text) <= {*letter, " "}
            assert letter[0] in text or len(text) < 6


@pytest.mark.parametrize("plan", [plan for plan in ALL if plan != "one"])
def test_numbers_follow_the_batches_and_stand_on_their_seams(plan: str | int) -> None:
    found = speaker_of(plan).plan
    sheet = print_out(found)
    seams = {seam["id"]: seam for seam in sheet["seams"]}
    patches = {patch["id"]: patch for patch in sheet["patches"]}
    order = [seam for batch in sheet["batches"] for seam in batch["seams"]]
    copy = 0
    for block, count in found.blocks.made:
        copy += 1
        canvas = draw_block(found, block, *block_room(found, block), numbered=True, marked_seam=None)
        tags = find_tags(canvas)
        mine = [seam for seam in order if seams[seam]["block"] == f"b{copy}"]
        assert sorted(tags) == list(range(1, len(mine) + 1))
        place = 0
        batches = [[seam for seam in batch["seams"] if seam in set(mine)] for batch in sheet["batches"]]
        for batch in batches:
            numbers = range(place + 1, place + len(batch) + 1)
            place += len(batch)
            assert match_tags([tags[number] for number in numbers], batch, seams, patches, canvas, found, block)
        copy += count - 1


Tag = tuple[float, float, str]  # column and row of its middle, and its arrow


def find_tags(canvas: Canvas) -> dict[int, Tag]:
    found = {}
    for y, row in enumerate(canvas):
        text = "".join(cell.text if cell.role == "label" else " " for cell in row)
        for tag in re.finditer(r"(\d+)([↑↗→↘↓↙←↖])", text):
            assert int(tag[1]) not in found
            found[int(tag[1])] = ((tag.start() + tag.end() - 1) / 2, float(y), tag[2])
    return found


def match_tags(
    tags: list[Tag],
    batch: list[str],
    seams: Mapping[str, Any],
    patches: Mapping[str, Any],
    canvas: Canvas,
    plan: Plan,
    block: int,
) -> bool:
    """Whether each seam of a batch has one of the tags on it, whose arrow points to the side that is pressed to."""
    drafted = plan.blocks.drafted[block]
    across = (len(canvas[0]) - 1) / float(plan.blocks.inches(drafted.width))
    down = (len(canvas) - 1) / float(plan.blocks.inches(drafted.height))
    left = list(tags)
    for name in batch:
        seam = seams[name]
        start, end = (at_cell(point, across, down) for point in (seam["from"], seam["to"]))
        line = LineString([start, end])
        on_line = [tag for tag in left if line.distance(Point(tag[0], tag[1])) <= 1.6]
        tag = min(on_line, key=lambda tag: line.distance(Point(tag[0], tag[1])), default=None)
        if tag is None:
            return False
        left.remove(tag)
        side = seam[seam["press"]]
        while side not in patches:
            side = seams[side]["a"]
        inside = Polygon([at_cell(corner, across, down) for corner in patches[side]["corners"]]).centroid
        step_x, step_y = ARROWS[tag[2]]
        (ax, ay), (bx, by) = start, end
        # The same side of the seam, seen from its middle: where the arrow points, and where the side lies
        cross = (bx - ax) * (inside.y - ay) - (by - ay) * (inside.x - ax)
        arrow = (bx - ax) * step_y - (by - ay) * 2 * step_x
        if cross * arrow <= 0:
            return False
    return not left


def at_cell(point: list[str], across: float, down: float) -> tuple[float, float]:
    x, y = (float(sum(map(Fraction, text.split()))) for text in point)
    return x * across, y * down


@pytest.mark.parametrize("plan", ALL)
def test_only_the_unit_of_the_marked_seam_is_strong(plan: str | int) -> None:
    found = speaker_of(plan).plan
    for block in blocks_of(found):
        seams = found.units.seams[block]
        inside: list[set[int]] = []
        for seam in seams:
            inside.append(set().union(*({~side} if side < 0 else inside[side] for side in (seam.a, seam.b))))
        room = block_room(found, block)
        for number in {*range(len(seams))[:1], len(seams) // 2, *range(len(seams))[-1:]} - {len(seams)}:
            canvas = draw_block(found, block, *room, numbered=False, marked_seam=number)
            for x, y, place in cells_of(canvas, found, block):
                assert canvas[y][x].role != "cloth" or canvas[y][x].strong == (place in inside[number])


def test_a_marked_unit_stands_out_without_colour_however_small_the_block() -> None:
    plan = speaker_of("nine patch").plan
    large = text_of(draw_block(plan, 0, 13, 7, numbered=False, marked_seam=0))
    assert {"┃", "━"} <= set(large)
    small = draw_block(plan, 0, 6, 3, numbered=False, marked_seam=0)
    signs = {(cell.text, cell.strong) for row in small for cell in row if cell.text != " "}
    assert {text for text, strong in signs if not strong} == {"·"}
    assert {text for text, strong in signs if strong} <= {"n", "s", "c", "o"}


def test_numbers_without_room_are_left_out() -> None:
    plan = speaker_of("pinwheel").plan
    tags = {size: len(find_tags(draw_block(plan, 0, *size, numbered=True, marked_seam=None))) for size in SIZES[1:]}
    assert tags[1, 1] == 0
    assert tags[76, 9] == tags[160, 45] == 7
