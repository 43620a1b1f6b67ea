"""Centres that are spun, and quilts whose rows stay together by their threads."""

from __future__ import annotations

import pytest
from planned import plan_text, print_out, why_wrong

from planner.plan import Plan
from planner.session import Session, count_one, finish_step
from planner.sheet import ClipWork, SewWork, write_sheet

HEAD = "project: Tidewater trial\nfabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}\n"
FOUR = "  four: {size: 6, rows: [[navy, shell], [shell, navy]]}\n"
PINWHEEL = "  pinwheel: {size: 6, rows: [[navy \\ shell, navy / shell], [shell / navy, shell \\ navy]]}\n"
NINE = "  nine: {size: 6, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]}\n"
SPIN = "press: {prefer: [plain, dark, outward, needle, spin]}\n"


def count_spun(plan: Plan) -> int:
    return sum(len(spun) * block.copies for spun, block in zip(plan.pressing.is_spun, plan.blocks.drafted, strict=True))


@pytest.mark.parametrize(
    ("blocks", "made", "spun"),
    [
        (FOUR, "make: [{block: four, count: 3}]\n", 3),
        (PINWHEEL, "make: [{block: pinwheel, count: 2}]\n", 2),
        (NINE, "make: [{block: nine, count: 2}]\n", 0),  # each of its seams has two joins, or none
        (FOUR + PINWHEEL, "quilt: {rows: [[four, pinwheel], [pinwheel, four]]}\n", 4),  # joining seams have three joins
    ],
)
def test_every_centre_of_four_seams_is_spun_where_that_is_wished_for(blocks: str, made: str, spun: int) -> None:
    plan = plan_text(f"{HEAD}blocks:\n{blocks}{made}{SPIN}")
    assert count_spun(plan) == spun
    assert why_wrong(print_out(plan)) == ()
    without = plan_text(f"{HEAD}blocks:\n{blocks}{made}")
    assert count_spun(without) == 0
    assert (plan.pressing.clashes, plan.pressing.two_ways) == (without.pressing.clashes, without.pressing.two_ways)


def test_what_is_kept_at_one_side_is_not_spun() -> None:
    keep = '  keep: [{block: four, at: "3, 1", toward: left}]\n'
    text = f"{HEAD}blocks:\n{FOUR}make: [{{block: four, count: 1}}]\npress:\n  prefer: [spin]\n{keep}"
    kept = plan_text(text)
    # The seam through 3, 1 is the last one: pressed left all along
    assert count_spun(kept) == 0
    assert count_spun(plan_text(text.replace(keep, ""))) == 1


def test_a_wish_that_comes_first_is_not_given_up_for_spinning() -> None:
    blocks = "  pair: {size: 6, rows: [[navy, shell], [shell, coral]]}\n"
    text = f"{HEAD}blocks:\n{blocks}make: [{{block: pair, count: 1}}]\n"
    first = plan_text(f"{text}press: {{prefer: [dark, spin]}}\n")
    last = plan_text(f"{text}press: {{prefer: [spin, dark]}}\n")
    assert (count_spun(first), count_spun(last)) == (0, 1)


WEBBED = f"{HEAD}blocks:\n{NINE}{FOUR}quilt:\n  joining: webbed\n  rows:\n" + "".join(
    f"    - [{first}, {second}, {first}, {second}]\n" for first, second in (("nine", "four"), ("four", "nine")) * 2
)


def test_the_rows_of_a_webbed_quilt_are_fed_in_their_order_and_not_clipped() -> None:
    sheet = write_sheet(plan_text(WEBBED))
    by_pass: dict[tuple[int, int], list[int]] = {}
    for step in sheet.steps:
        if isinstance(step.work, SewWork) and step.work.chain.web:
            web = step.work.chain.web
            by_pass.setdefault((step.pass_number, web.columns), []).append(web.row)
        if isinstance(step.work, ClipWork):
            assert all(not chain.row for chain in step.work.chains)
    assert by_pass
    for rows in by_pass.values():
        assert rows == [1, 2, 3, 4]


def test_a_webbed_quilt_is_walked_to_its_end() -> None:
    session = Session(write_sheet(plan_text(WEBBED)))
    for number in range(2_000):
        event = finish_step(session, number) if number % 3 else count_one(session, number)
        if event is None:
            break
        session = session.after(event)
    assert session.step is None
    assert session.totals[0] == session.totals[1]
    assert not session.stock.surplus


TURNED_ROWS = "rows: [[nine, four, four], [four, four, nine], [four, four, four], [plain, plain, plain]]"
FIVE = "rows: [[nine, four, plain, four, nine], [plain, plain, nine, four, four], [four, nine, four, nine, four]]"


@pytest.mark.parametrize(
    "quilt",
    [
        TURNED_ROWS,
        f"{TURNED_ROWS}, sashing: {{width: 1, fabric: coral}}",
        f"{TURNED_ROWS}, sashing: {{width: 1, fabric: coral, posts: navy}}, border: {{width: 2, fabric: shell}}",
        f"{FIVE}, border: {{width: 2, fabric: coral, corners: mitred}}",
        f"{FIVE}, sashing: {{width: 1, fabric: coral, posts: navy}}",
    ],
)
def test_all_rows_of_a_webbed_quilt_are_parted_alike_and_a_column_is_sewn_in_one_pass(quilt: str) -> None:
    blocks = f"{NINE}{FOUR}  plain: {{size: 6, rows: [[coral]]}}\n"
    plan = plan_text(f"{HEAD}blocks:\n{blocks}quilt: {{joining: webbed, {quilt}}}\n")
    assert why_wrong(print_out(plan)) == ()
    fed: dict[object, list[tuple[int, int]]] = {}
    for step in write_sheet(plan).steps:
        if isinstance(step.work, SewWork) and step.work.chain.web:
            web = step.work.chain.web
            fed.setdefault(web.across, []).append((step.pass_number, web.row))
    rows = quilt.split("]]")[0].count("[") - 1
    columns = quilt.split("]")[0].count(",")
    assert len(fed) == columns * (2 if "sashing" in quilt else 1)
    for column in fed.values():
        assert [row for _, row in column] == list(range(1, rows + 1))
        assert len({pass_number for pass_number, _ in column}) == 1
