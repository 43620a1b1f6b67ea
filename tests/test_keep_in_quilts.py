"""What the maker keeps holds in every copy of its block, loose and in the quilt, however a copy lies."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

import pytest
from drawn_quilts import Quilt, draw_quilt, expect_blocks, write_quilt
from planned import plan_text, print_out, read_text, why_wrong
from points import Point, find_side, read_outline, read_point

from planner.checks import plan_file
from planner.fault import Fault
from planner.plan import plan_project
from planner.reading.read_project import read_project

WAYS = {(-1, 0): "left", (1, 0): "right", (0, -1): "up", (0, 1): "down"}
# They look different after every turn, so that how they lie can be seen
LOPSIDED = ("sail", "hook", "wave", "plank", "upright")


class Own(NamedTuple):
    """A seam of a copy of a block, seen as the block is drawn: its ends, and where its allowances fall (None: open)."""

    copy: str
    draft: str
    start: Point
    end: Point
    falls: Point | None

    @property
    def middle(self) -> Point:
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


def list_own(quilt: Quilt, printed: plan_file.Plan) -> Iterator[Own]:
    """The seams of every copy of every block; the quilt has no border."""
    seams = {seam["id"]: seam for seam in printed["seams"]}
    outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
    lying = {block["id"]: (Fraction(0), Fraction(0), 0) for block in printed["blocks"]}
    joined = [block["id"] for block in printed["blocks"] if not block["loose"]]
    here = [one for row in quilt.rows for one in row]
    for name, place, one in zip(joined, expect_blocks(quilt), here, strict=True):
        lying[name] = (place.left, place.top, one.turn)
    sizes = {block["id"]: read_point(block["size"]) for block in printed["blocks"]}
    drafts = {block["id"]: block["draft"] for block in printed["blocks"]}
    for seam in printed["seams"]:
        name = seam["block"]
        if name is None:
            continue
        left, top, turn = lying[name]
        ends = [(x - left, y - top) for x, y in (read_point(seam["from"]), read_point(seam["to"]))]
        falls = None
        if seam["press"] != "open":
            side = seam["a"] if seam["press"] == "a" else seam["b"] or ""
            while side not in outlines:
                side = seams[side]["a"]
            corners = [(x - left, y - top) for x, y in outlines[side]]
            toward = find_side(ends[0], ends[1], corners)
            falls = ((ends[0][1] - ends[1][1]) * toward, (ends[1][0] - ends[0][0]) * toward)
        wide, high = sizes[name]
        for _ in range(turn):  # a quarter back, counterclockwise
            ends = [(y, wide - x) for x, y in ends]
            falls = None if falls is None else (falls[1], -falls[0])
            wide, high = high, wide
        yield Own(name, drafts[name], *sorted(ends), falls)


def is_fallen(falls: Point | None, toward: str) -> bool:
    if toward == "open" or falls is None:
        return falls is None and toward == "open"
    way = next(way for way, word in WAYS.items() if word == toward)
    return falls[0] * way[0] + falls[1] * way[1] > 0


def draw_kept(seed: int) -> tuple[Quilt, list[tuple[str, Point, str]], plan_file.Plan]:
    """A quilt of lopsided blocks, what is kept in them, and the plan."""
    chance = random.Random(seed)
    drawn = draw_quilt(chance, drafts=LOPSIDED)
    loose = tuple((name, 1) for name in sorted({here.draft for row in drawn.rows for here in row})[:1])
    quilt = drawn._replace(borders=(), loose=loose)
    before = list(list_own(quilt, print_out(plan_text(write_quilt(quilt, loose)))))
    keep: dict[tuple[str, Point], str] = {}
    for own in chance.sample(before, min(len(before), chance.randint(1, 3))):
        dx, dy = own.end[0] - own.start[0], own.end[1] - own.start[1]
        words = ["open", *(word for way, word in WAYS.items() if way[0] * dy != way[1] * dx)]
        if (own.draft, own.middle) not in keep:
            keep[own.draft, own.middle] = chance.choice(words)
    lines = [
        f'    - {{block: {name}, at: "{spell(at[0])}, {spell(at[1])}", toward: {toward}}}'
        for (name, at), toward in keep.items()
    ]
    press = "\n".join(["press:", "  keep:", *lines])
    printed = print_out(plan_text(write_quilt(quilt, loose, press=press)))
    return quilt, [(name, at, toward) for (name, at), toward in keep.items()], printed


def spell(number: Fraction) -> str:
    whole, rest = divmod(number, 1)
    return f"{whole} {rest}" if whole and rest else str(number)


@pytest.mark.parametrize("first", range(0, 40, 10))
def test_what_is_kept_holds_in_every_copy_in_the_direction_of_the_block(first: int) -> None:
    turned = opened = copies = 0
    for seed in range(first, first + 10):
        quilt, keep, printed = draw_kept(seed)
        assert why_wrong(printed) == (), seed
        seams = list(list_own(quilt, printed))
        for name, at, toward in keep:
            met = [own for own in seams if own.draft == name and own.middle == at]
            of_draft = [block["id"] for block in printed["blocks"] if block["draft"] == name]
            assert [own.copy for own in met] == of_draft or {own.copy for own in met} == set(of_draft), seed
            assert all(is_fallen(own.falls, toward) for own in met), (seed, name, at, toward)
            copies += len(met)
            opened += toward == "open"
        turned += any(here.turn for row in quilt.rows for here in row)
    assert turned > 2
    assert opened
    assert copies > 20


BOARD = """
project: Kept
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  board: {size: 8, rows: [[{rows: [[navy, shell]]}], [{rows: [[shell, navy]]}]]}
  plain: {size: 8, rows: [[shell]]}
LAYOUT
press:
  keep:
    - {block: BLOCK, at: "AT", toward: TOWARD}
"""
QUILT = "quilt: {rows: [[board, board turn 90], [plain, board]]}"
LOOSE = "make: [{block: board, count: 2}, {block: plain, count: 1}]"


def find_fault(layout: str, block: str, at: str, toward: str) -> Fault:
    text = BOARD.replace("LAYOUT", layout).replace("BLOCK", block).replace("AT", at).replace("TOWARD", toward)
    project, faults = read_project(text)
    assert project is None
    (fault,) = faults
    assert fault.line == text.split("\n").index(f'    - {{block: {block}, at: "{at}", toward: {toward}}}') + 1
    assert fault.where == "press, keep, entry 1"
    return fault


@pytest.mark.parametrize("layout", [QUILT, LOOSE, f"{LOOSE}\n{QUILT}"], ids=["quilt", "loose", "both"])
@pytest.mark.parametrize(
    ("block", "at", "toward", "words"),
    [
        ("board", "3, 3", "left", "no seam runs through this point; seams nearby have their middles at"),
        ("board", "4, 4", "left", "seams meet at this point; seams nearby have their middles at"),
        ("board", "2, 4", "left", "this seam can't be pressed left; write up or down, or open"),
        ("board", "4, 2", "up", "this seam can't be pressed up; write left or right, or open"),
        ("plain", "4, 2", "up", "this block has no seam"),
    ],
)
def test_a_point_that_names_no_seam_to_press_so_is_told_once(
    layout: str, block: str, at: str, toward: str, words: str
) -> None:
    fault = find_fault(layout, block, at, toward)
    assert words in fault.words
    if "nearby" in words:
        assert '"4, 2"' in fault.words or '"4, 4"' in fault.words


@pytest.mark.parametrize(("at", "opened"), [("2, 4", 4), ("4, 2", 4)])
def test_joins_of_a_seam_that_is_kept_open_are_open_and_no_clash(at: str, opened: int) -> None:
    layout = "quilt: {rows: [[board, board], [board, board], [plain, plain]]}"
    text = BOARD.replace("LAYOUT", layout).replace("BLOCK", "board").replace("AT", at).replace("TOWARD", "open")
    printed = print_out(plan_text(text))
    assert why_wrong(printed) == ()
    is_open = {seam["id"] for seam in printed["seams"] if seam["press"] == "open"}
    assert len(is_open) == opened
    touched = [join for join in printed["joins"] if is_open & {join["a"], join["b"]}]
    assert touched
    assert all((join["nests"], join["why"]) == (False, "open") for join in touched)
    assert all(join["nests"] for join in printed["joins"] if join not in touched)
    assert printed.get("proof", {})["clashes"] == {"count": 0, "at_least": 0}


def test_one_seam_kept_at_two_directions_is_told() -> None:
    text = BOARD.replace("LAYOUT", QUILT).replace("BLOCK", "board").replace("AT", "2, 4").replace("TOWARD", "up")
    text += '    - {block: board, at: "6, 4", toward: down}\n'
    plan, faults = plan_project(read_text(text))
    assert plan is None
    words = "this seam is kept at another direction already; keep one of the two"
    assert [fault[1:] for fault in faults] == [("press, keep, entry 2", words)]


def test_a_block_that_is_not_said_to_lie_turned_is_pressed_as_it_is_drawn() -> None:
    for toward, falls in (("up", (0, -1)), ("down", (0, 1))):
        layout = "quilt: {rows: [[plain], [board]]}"
        text = BOARD.replace("LAYOUT", layout).replace("BLOCK", "board").replace("AT", "2, 4").replace("TOWARD", toward)
        plan = plan_text(text)
        assert plan.turning.turned == {}
        printed = print_out(plan)
        (seam,) = [seam for seam in printed["seams"] if seam["block"] == "b2" and seam["from"][1] == seam["to"][1]]
        (start, end) = read_point(seam["from"]), read_point(seam["to"])
        outlines = {patch["id"]: read_outline(patch) for patch in printed["patches"]}
        pair = next(one for one in printed["seams"] if one["id"] == (seam["a"] if seam["press"] == "a" else seam["b"]))
        assert (min(y for _, y in outlines[pair["a"]]) >= start[1]) == (falls == (0, 1))
        assert start[1] == end[1]
