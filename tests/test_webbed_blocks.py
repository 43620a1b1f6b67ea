"""Blocks whose cells are webbed: rows cut alike, fed copy after copy, never clipped apart."""

from __future__ import annotations

import random
from collections import Counter, defaultdict
from collections.abc import Sequence
from fractions import Fraction
from functools import cache

import pytest
from planned import plan_text, print_out, read_text, why_wrong
from unit_forms import draw_pile, draw_pressed, draw_sewn, read_seams
from webbed_drafts import write_webbed

from planner.checks import plan_file
from planner.name_piles import Chain
from planner.plan import Plan
from planner.print_sheet import print_sheet
from planner.say_now import say_now
from planner.say_step import Speaker
from planner.session import Session, count_one, find_lying, finish_step, spoil, take_back
from planner.sheet import ClipWork, SewWork, Sheet, StripWork, UnitWork, assign_letters, write_sheet
from planner.summarise import summarise
from planner.tally import find_made

HEAD = "project: Tidewater trial\nfabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}\n"
NINE = "size: 6, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]"
PORT = "size: 8, rows: [[navy, shell, coral, navy], [coral, navy / shell, shell, navy], [shell, coral, navy, shell]]"
# Its first cell is ready two passes later than the others
WAITS = "[[navy, shell, coral], [shell, navy, coral], [{rows: [[navy, shell], [shell, coral]]}, navy, shell]]"
SEEDS = [*range(12), *(f"even {seed}" for seed in range(8))]


def one_block(keys: str, count: int = 3) -> str:
    return f"{HEAD}blocks:\n  nine: {{{keys}, joining: webbed}}\nmake: [{{block: nine, count: {count}}}]\n"


@cache
def plan_seed(seed: int | str) -> Plan:
    word, _, number = str(seed).rpartition(" ")
    return plan_text(write_webbed(random.Random(str(seed)), is_even=word == "even"))


@cache
def sheet_seed(seed: int | str) -> Sheet:
    return write_sheet(plan_seed(seed))


def chains_of(sheet: Sheet) -> list[tuple[int, Chain]]:
    return [(step.pass_number, step.work.chain) for step in sheet.steps if isinstance(step.work, SewWork)]


def walk(session: Session, all_at_once: bool) -> list[tuple[str, Chain, int]]:
    """All keys to the end: of each that counts a pair or a press in a web of cells the stage, the chain, and the number
    of the block it is counted of."""
    told: list[tuple[str, Chain, int]] = []
    for number in range(20_000):
        step = session.step
        if step is None:
            break
        if isinstance(step.work, SewWork | UnitWork) and step.work.chain.web and step.work.chain.web.of:
            told.append((step.stage, step.work.chain, session.done_of(step) + 1))
        event = finish_step(session, number) if all_at_once else count_one(session, number)
        assert event is not None
        session = session.after(event)
    assert session.step is None
    assert session.totals[0] == session.totals[1]
    assert not session.stock.surplus
    return told


@pytest.mark.parametrize("seed", SEEDS)
def test_plans_with_webbed_blocks_are_right_for_the_checkers(seed: int | str) -> None:
    assert why_wrong(print_out(plan_seed(seed))) == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_column_of_a_web_is_sewn_in_one_pass_row_after_row(seed: int | str) -> None:
    columns: dict[tuple[str, int], list[tuple[int, int]]] = defaultdict(list)
    pairs: dict[str, set[int]] = defaultdict(set)
    rows: dict[str, int] = {}
    for pass_number, chain in chains_of(sheet_seed(seed)):
        if chain.web and chain.web.of:
            columns[chain.web.of, chain.web.columns].append((pass_number, chain.web.row))
            pairs[chain.web.of].add(chain.pairs)
            rows[chain.web.of] = chain.web.rows
    assert columns
    for (web, _), fed in columns.items():
        assert [row for _, row in fed] == list(range(1, rows[web] + 1))
        assert len({pass_number for pass_number, _ in fed}) == 1
    for numbers in pairs.values():
        assert len(numbers) == 1


@pytest.mark.parametrize("seed", SEEDS)
def test_as_many_webs_are_sewn_as_there_are_copies_of_webbed_blocks(seed: int | str) -> None:
    plan = plan_seed(seed)
    blocks = [number for number, block in enumerate(plan.blocks.drafted) if block.web]
    copies = sum(plan.blocks.count(number) for number in blocks)
    webs = {chain.web.of: chain.pairs for _, chain in chains_of(sheet_seed(seed)) if chain.web and chain.web.of}
    assert sum(webs.values()) == copies


@pytest.mark.parametrize("seed", SEEDS)
def test_what_a_chain_of_a_web_makes_lies_in_the_pile_it_says(seed: int | str) -> None:
    plan = plan_seed(seed)
    sewn: Counter[object] = Counter()
    for _, chain in chains_of(sheet_seed(seed)):
        assert chain.pairs == sum(outcome.pairs for outcome in chain.outcomes.values())
        sewn[draw_sewn(plan, chain).lay()] += chain.pairs
        for outcome in chain.outcomes.values():
            assert draw_pressed(plan, chain, outcome) == draw_pile(plan, outcome.pile).place(outcome.turn, (0, 0))
    assert sewn == Counter(seam.sewn.lay() for seam in read_seams(plan, print_out(plan)))


def cuts_of_rows(plan: Plan, printed: plan_file.Plan) -> dict[tuple[str, Fraction], set[object]]:
    """For each webbed block that is made loose, and each of its rows, where the row is parted between which columns:
    out of the JSON alone but for where the columns and rows are."""
    webs = {block.name: block.web for block in plan.blocks.drafted if block.web}
    drafts = {block["id"]: block["draft"] for block in printed["blocks"] if block["loose"]}
    boxes = {patch["id"]: [read_box(patch["corners"])] for patch in printed["patches"] if patch["block"] in drafts}
    found: dict[tuple[str, Fraction], set[object]] = defaultdict(set)
    for seam in printed["seams"]:
        block = seam["block"]
        if block is None or drafts.get(block) not in webs:
            continue
        web = webs[drafts[block]]
        assert web is not None
        columns, rows = ([plan.blocks.inches(at) for at in side] for side in web)
        both = [*boxes.get(seam["a"], ()), *boxes.get(seam["b"] or "", ())]
        boxes[seam["id"]] = both
        (x, y), (end_x, end_y) = ([read_inches(at) for at in point] for point in (seam["from"], seam["to"]))
        if x == end_x and x in columns:
            assert {y, end_y} <= {*rows}
            extent = min(box[0] for box in both), x, max(box[2] for box in both)
            found[block, min(y, end_y)].add(extent)
    return found


def read_inches(text: str) -> Fraction:
    return sum(map(Fraction, text.split()), Fraction(0))  # "6 1/2"


def read_box(corners: Sequence[Sequence[str]]) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    xs, ys = ([read_inches(corner[axis]) for corner in corners] for axis in (0, 1))
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize("seed", SEEDS)
def test_all_rows_of_a_web_are_cut_alike(seed: int | str) -> None:
    plan = plan_seed(seed)
    by_block: dict[str, list[set[object]]] = defaultdict(list)
    for (block, _), extents in cuts_of_rows(plan, print_out(plan)).items():
        by_block[block].append(extents)
    for rows in by_block.values():
        assert len(rows) > 1
        assert all(extents == rows[0] for extents in rows)


@pytest.mark.parametrize("stage", ["sew", "press"])
def test_webs_are_sewn_and_pressed_one_block_after_the_other(stage: str) -> None:
    sheet = write_sheet(plan_text(one_block(PORT, count=4)))
    pass_of = {chain.name: pass_number for pass_number, chain in chains_of(sheet)}
    told = [
        (pass_of[chain.name], copy, chain.web.columns, chain.web.row)
        for at, chain, copy in walk(Session(sheet), all_at_once=False)
        if at == stage and chain.web
    ]
    assert told == sorted(told)
    assert len(told) == 4 * 3 * 3  # blocks, rows, columns but one


@pytest.mark.parametrize("seed", SEEDS)
def test_webs_are_walked_to_the_end_step_by_step(seed: int | str) -> None:
    walk(Session(sheet_seed(seed)), all_at_once=True)


@pytest.mark.parametrize("seed", SEEDS[::5])
def test_webs_are_walked_to_the_end_pair_by_pair(seed: int | str) -> None:
    walk(Session(sheet_seed(seed)), all_at_once=False)


def test_no_row_of_a_web_is_clipped_from_another() -> None:
    sheet = write_sheet(plan_text(one_block(NINE)))
    words = print_sheet(sheet)
    clipped = [chain for step in sheet.steps if isinstance(step.work, ClipWork) for chain in step.work.chains]
    assert clipped
    assert not any(chain.row for chain in clipped)
    assert all(chain.row_seam for chain in clipped)
    assert "The threads between the rows of a web stay: do not clip those" in words


def test_the_maker_is_told_the_block_the_column_and_the_row() -> None:
    session = Session(write_sheet(plan_text(one_block(NINE))))
    speaker = Speaker(session.sheet, assign_letters(session.sheet))
    said: list[str] = []
    number = 0
    while session.step is not None and len(said) < 4:
        if isinstance(session.step.work, SewWork):
            said.append(next(line for line in say_now(session, speaker, session.step).does if "Columns" in line))
        event = count_one(session, number)
        assert event is not None
        session, number = session.after(event), number + 1
    threads = "do not clip: the threads hold the rows in order"
    assert said == [
        f"Columns 1 and 2, row 1, of nine 1 of 3: feed it first; {threads}",
        f"Columns 1 and 2, row 2, of nine 1 of 3: feed it right after row 1, a few stitches between; {threads}",
        "Columns 1 and 2, row 3, of nine 1 of 3: feed it right after row 2, a few stitches between; "
        "cut the thread after it",
        f"Columns 1 and 2, row 1, of nine 2 of 3: feed it first; {threads}",
    ]


def test_left_and_right_at_the_machine_are_left_and_right_in_the_block() -> None:
    cells = "[[navy, shell, coral], [coral, navy, shell], [shell, coral, navy]]"
    sheet = write_sheet(plan_text(one_block(f"size: 6, rows: {cells}", count=2)))
    speaker = Speaker(sheet, assign_letters(sheet))
    rows = (("navy", "shell", "coral"), ("coral", "navy", "shell"), ("shell", "coral", "navy"))
    seen = set()
    for _, chain in chains_of(sheet):
        if not chain.web:
            continue
        row, columns = chain.web.row - 1, chain.web.columns
        for place, lying in zip((columns - 1, columns), speaker.order_of(chain), strict=True):
            fabrics = speaker.plan.words.fabrics(speaker.plan.piles.piles[lying.pile].unit)
            assert rows[row][place] in fabrics
            if len(fabrics) == 1:
                assert not speaker.webs.is_hanging(chain, lying)
                seen.add((row, place))
    assert len(seen) == 9  # every cell comes out of a pile, once


def test_where_allowances_fall_in_a_web_is_told_as_the_block_lies() -> None:
    plan = plan_text(one_block(PORT, count=1))
    sheet = write_sheet(plan)
    speaker = Speaker(sheet, assign_letters(sheet))
    printed = print_out(plan)
    boxes = {patch["id"]: [read_box(patch["corners"])] for patch in printed["patches"]}
    falls: dict[tuple[str, int, int], str] = {}  # columns are 2 wide, rows 8/3 high
    for seam in printed["seams"]:
        (x, y), (end_x, end_y) = ([read_inches(at) for at in point] for point in (seam["from"], seam["to"]))
        assert seam["press"] != "open"
        pressed = boxes[seam[seam["press"]] or ""]
        boxes[seam["id"]] = [*boxes[seam["a"]], *boxes[seam["b"] or ""]]
        if x == end_x:
            row = int(min(y, end_y) * Fraction(3, 8)) + 1
            falls["column", int(x / 2), row] = "left" if pressed[0][0] < x else "right"
        elif y == end_y:
            falls["row", int(y * Fraction(3, 8)), 0] = "up" if pressed[0][1] < y else "down"
    told = 0
    for step in sheet.steps:
        if isinstance(step.work, UnitWork) and step.stage == "press":
            chain, words = step.work.chain, speaker.say(step).in_one_line
            place = None
            if chain.web:
                place = ("column", chain.web.columns, chain.web.row)
            elif chain.row_seam and not chain.row_seam.is_last:
                place = ("row", chain.row_seam.above, 0)
            if place:
                told += 1
                assert f"these allowances fall {falls[place]} as the block lies" in words
    assert told == 10


@pytest.mark.parametrize("seed", SEEDS)
def test_what_hangs_in_a_web_is_shown_as_the_block_lies(seed: int | str) -> None:
    speaker = Speaker(sheet_seed(seed), {})
    shown = 0
    for _, chain in chains_of(speaker.sheet):
        for outcome in chain.outcomes.values():
            hanging = speaker.webs.lie(chain, outcome)
            assert (hanging is not None) == chain.stays_hanging
            if hanging is None or outcome.is_open or outcome.is_spun:
                continue
            shown += 1
            _, way = speaker.arrow(chain, hanging)
            assert f"these allowances fall {way} as the block lies" in speaker.webs.hang(chain, outcome, 0)
    assert shown


def test_a_seam_of_a_web_is_known_in_its_block_by_its_place() -> None:
    quilt = "quilt: {rows: [[port, port turn 90], [port turn 180, port]]}\n"
    for made in ("make: [{block: port, count: 2}]\n", quilt):
        plan = plan_text(f"{HEAD}blocks:\n  port: {{{PORT}, joining: webbed}}\n{made}")
        bounds = plan.blocks.drafted[0].web
        assert bounds is not None
        seen = set()
        for _, chain in chains_of(write_sheet(plan)):
            if chain.web:
                seam = plan.units.seams[0][chain.seam_in[0]]
                ends = sorted(plan.units.place_point(point, seam) for point in plan.units.units[seam.unit].seam)
                row = chain.web.row
                assert ends == [(bounds.columns[chain.web.columns], at) for at in bounds.rows[row - 1 : row + 1]]
                seen.add((chain.web.columns, row))
        assert len(seen) == 9


def test_rows_that_are_joined_are_told_by_their_numbers() -> None:
    words = print_sheet(write_sheet(plan_text(one_block(NINE))))
    assert "(row 1), right" in words or "(row 2), right" in words
    assert "(row 3)" in words
    assert "(rows 1 and 2)" in words


def test_rows_wait_for_the_row_whose_cells_take_longest() -> None:
    plan = plan_text(one_block(f"size: 6, rows: {WAITS}", count=2))
    sheet = write_sheet(plan)
    passes = {(chain.web.columns, chain.web.row): pass_number for pass_number, chain in chains_of(sheet) if chain.web}
    assert passes == {(column, row): column + 2 for column in (1, 2) for row in (1, 2, 3)}
    # The plan's own passes are those of single seams; the bench needs one more, for rows wait for one another
    assert sheet.passes == 6
    assert why_wrong(print_out(plan)) == ()
    walk(Session(sheet), all_at_once=False)


def test_a_webbed_block_in_a_quilt_is_a_web_wherever_it_lies() -> None:
    quilt = "quilt:\n  rows:\n    - [port, port turn 90]\n    - [port turn 180, port]\n"
    plan = plan_text(f"{HEAD}blocks:\n  port: {{{PORT}, joining: webbed}}\n{quilt}")
    webs = [chain for _, chain in chains_of(write_sheet(plan)) if chain.web]
    assert {chain.pairs for chain in webs} == {4}
    places = [(chain.web.columns, chain.web.row) for chain in webs if chain.web]
    assert sorted(places) == [(columns, row) for columns in (1, 2, 3) for row in (1, 2, 3)]
    assert why_wrong(print_out(plan)) == ()


def test_an_equal_block_that_is_not_webbed_is_cut_as_is_quickest() -> None:
    cells = "size: 8, rows: [[navy, navy, shell, shell], [navy, navy, shell, shell]]"
    text = f"{HEAD}blocks:\n  tied: {{{cells}, joining: webbed}}\n  free: {{{cells}}}\n"
    plan = plan_text(f"{text}make: [{{block: tied, count: 2}}, {{block: free, count: 2}}]\n")
    assert why_wrong(print_out(plan)) == ()
    loose = [chain for _, chain in chains_of(write_sheet(plan)) if not chain.web and not chain.row_seam]
    assert loose
    for _, chain in chains_of(write_sheet(plan)):
        blocks = {plan.blocks.drafted[number].name for number in chain.blocks}
        assert blocks == ({"tied"} if chain.web or chain.row_seam else {"free"})


def test_a_spoiled_pair_of_a_web_is_made_again_and_all_comes_out() -> None:
    session = Session(write_sheet(plan_text(one_block(PORT, count=3))))
    spoiled = 0
    for number in range(5_000):
        step = session.step
        if step is None:
            break
        event = None
        if spoiled < 3 and isinstance(step.work, SewWork) and step.work.chain.row == 2:
            event = spoil(session, number, counted=False)
            spoiled += 1
        event = event or count_one(session, number)
        assert event is not None
        session = session.after(event)
    assert spoiled == 3
    assert session.step is None
    assert session.totals[0] == session.totals[1]


def test_taking_back_in_a_web_returns_to_the_row_before() -> None:
    session = Session(write_sheet(plan_text(one_block(NINE))))
    rows = []
    for number in range(60):
        assert session.step is not None
        if isinstance(session.step.work, SewWork):
            rows.append(session.step.work.chain.row)
            if len(rows) == 6:
                break
        event = count_one(session, number)
        assert event is not None
        session = session.after(event)
    assert rows == [1, 2, 3, 1, 2, 3]
    for expected in (2, 1, 3):
        event = take_back(session, 100)
        assert event is not None
        session = session.after(event)
        assert session.step is not None
        assert isinstance(session.step.work, SewWork)
        assert session.step.work.chain.row == expected


def test_what_hangs_in_a_web_is_told_apart_from_what_lies_on_piles() -> None:
    session = Session(write_sheet(plan_text(one_block(NINE))))
    while session.step is not None and session.step.pass_number < 2:
        event = finish_step(session, 0)
        assert event is not None
        session = session.after(event)
    found = sorted((lying.where, lying.many) for lying in find_lying(session))
    assert found == [("pile", 3), ("pile", 6), ("web", 9)]


def test_what_is_sewn_of_a_web_is_known_when_the_project_is_planned_again() -> None:
    session = Session(write_sheet(plan_text(one_block(NINE))))
    for number in range(40):
        event = count_one(session, number)
        assert event is not None
        session = session.after(event)
    made = find_made(session.tally)
    names = {unit for unit, _ in made.begun}
    assert names
    for unit, marks in made.begun:
        assert unit in session.sheet.plan.piles.unit_names
        assert set(marks) <= set("+-=<>.")
        assert len(marks) == len(session.sheet.plan.units.units[session.sheet.plan.piles.unit_names.index(unit)].seams)


def test_a_block_of_parts_that_looks_the_same_half_turned_is_one_kind_to_the_proof() -> None:
    block = "  bar: {size: 6, rows: [[{rows: [[navy, shell]]}, navy]], widths: [2, 1]}\n"
    plan = plan_text(f"{HEAD}blocks:\n{block}quilt: {{joining: webbed, rows: [[bar, bar], [bar, bar turn 180]]}}\n")
    assert why_wrong(print_out(plan)) == ()
    assert plan.handled.is_proven


def test_many_copies_take_no_more_steps_than_one() -> None:
    few, many = (write_sheet(plan_text(one_block(PORT, count=count))) for count in (2, 1_000))
    steps = [[step for step in sheet.steps if not isinstance(step.work, StripWork)] for sheet in (few, many)]
    assert len(steps[0]) == len(steps[1])
    assert len(many.steps) <= len(few.steps) + len(many.plan.cut), "a strip width for each size at most"


def test_joining_left_out_is_no_web() -> None:
    text = one_block(NINE)
    assert read_text(text).blocks[0].is_webbed
    plain = plan_text(text.replace(", joining: webbed", ""))
    assert not read_text(text.replace(", joining: webbed", "")).blocks[0].is_webbed
    assert not any(chain.web for _, chain in chains_of(write_sheet(plain)))


def test_the_summary_names_webbed_blocks_and_tells_when_their_rows_wait() -> None:
    even, uneven = (
        plan_text(one_block(f"size: 6, rows: {rows}")) for rows in ("[[navy, shell], [shell, navy]]", WAITS)
    )
    assert [line for line in summarise(even) if "Webbed" in line] == ["Webbed, the rows of each block uncut: nine"]
    assert "1 pass more on the sheet: the rows of a web wait for one another" in summarise(uneven)
    assert not any("wait" in line for line in summarise(even))
