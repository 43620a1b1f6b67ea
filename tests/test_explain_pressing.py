"""What is said of the pressing is so: rings can't nest and no part of them can be spared, and what helps does."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from fractions import Fraction
from functools import cache
from itertools import product

import pytest
from brute_force import Draft, Join, Seam, Tree, _judge, does_nest, find_joins, find_seams, read_sewn
from planned import SAMPLES, plan_it, plan_sample, plan_text, print_out, read_sample, read_text
from press_drafts import write_ring
from test_press_optimum import ask_all, count_denied, draw_set, read_bits, weigh

from planner.checks.check_joins import count_clashes, count_versions
from planner.explain_clashes import Tie, count_at_open, list_seams
from planner.explain_pressing import Explained, explain_pressing
from planner.place_seams import SeamPlace
from planner.plan import Plan
from planner.print_pressing import WIDTH, describe_pressing, print_pressing, spell_keep
from planner.project import Keep
from planner.sheet import UnitWork, assign_letters, write_sheet

FOUR = """\
project: Kept
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  four patch: {size: 6, rows: [[navy, shell], [shell, navy]]}
make: [{block: four patch, count: 2}]
press:
  keep:
    - {block: four patch, at: "1, 3", toward: up}
    - {block: four patch, at: "5, 3", toward: up}
"""
SIZES = {1: (1, 2), 2: (2, 1), 3: (1, 2), 4: (2, 1)}  # by seed: seams above and below, an odd number in all
RINGS = [write_ring(random.Random(seed), *sizes, copies=1 + seed % 2) for seed, sizes in SIZES.items()]
IN_QUILT = "quilt: {rows: [[ring, ring turn 90], [ring turn 180, ring]]}\n"
# Between four patches of a quilt nothing is free: each upright seam is kept left, and turned blocks lie the other way
KEPT_IN_QUILT = """\
project: Kept all over
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: 5}}
blocks:
  pair: {size: 6, rows: [[navy, shell]]}
quilt: {rows: [[pair, pair turn 90], [pair, pair]], joining: rows}
press:
  keep:
    - {block: pair, at: "3, 2", toward: left}
"""
TURNED = """\
project: Turned
fabrics: {navy: {value: dark}, shell: {value: light}}
blocks:
  nine: {size: 6, rows: [[navy, shell, navy], [shell, navy, shell], [navy, shell, navy]]}
quilt: {rows: [[nine, nine, nine, nine], [nine, nine, nine, nine], [nine, nine, nine, nine]]}
"""


@cache
def read_clashing() -> tuple[tuple[str, Plan, Explained], ...]:
    texts = [FOUR, *RINGS, *(text + IN_QUILT for text in RINGS[:2]), KEPT_IN_QUILT]
    plans = [plan_text(text) for text in texts]
    return tuple((text, plan, explain_pressing(plan)) for text, plan in zip(texts, plans, strict=True))


class Block:
    """A block as brute force sees it: its seams, and its joins."""

    def __init__(self, sewn: tuple[Draft, Tree]) -> None:
        self.draft, tree = sewn
        self.seams: tuple[Seam, ...] = find_seams(self.draft, tree)
        self.joins: tuple[Join, ...] = find_joins(self.seams)

    def find_seam(self, place: SeamPlace) -> int:
        """The one seam that the point lies on."""
        assert place.at is not None
        (number,) = [number for number, seam in enumerate(self.seams) if lies_on(place.at, *seam.ends)]
        return number

    def holds(self, tie: Tie, bits: tuple[int, ...]) -> bool:
        """Whether a tie of a ring holds."""
        first = self.find_seam(tie.first)
        if tie.second is None:
            assert tie.keep is not None
            seam, axis = self.seams[first], ["left", "right", "up", "down"].index(tie.keep.toward) // 2
            patches = seam.b if bits[first] else seam.a
            places = [corner[axis] for patch in patches for corner in self.draft.patches[patch].corners]
            line = seam.ends[0][axis]
            return (max(places) > line) == (tie.keep.toward in ("right", "down"))
        both = {first, self.find_seam(tie.second)}
        (join,) = [join for join in self.joins if {join.a, join.b} == both and join.at == tie.at]
        return does_nest(self.draft, self.seams, join, bits)


def lies_on(point: tuple[Fraction, Fraction], start: tuple[Fraction, Fraction], end: tuple[Fraction, Fraction]) -> bool:
    cross = (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])
    return cross == 0 and min(start, end) <= point <= max(start, end)


def find_loose(plan: Plan, name: str) -> Block:
    """A loose block of this name."""
    printed = print_out(plan)
    place = next(number for number, one in enumerate(printed["blocks"]) if one["draft"] == name and one["loose"])
    return Block(read_sewn(printed)[place])


def test_no_ring_can_hold_and_without_any_one_of_its_ties_it_can() -> None:
    rings = kept = 0
    for _, plan, told in read_clashing():
        for clash in told.clashes if plan.project.make else ():
            block = find_loose(plan, clash.block)
            ways = list(product((0, 1), repeat=len(block.seams)))
            held = [[block.holds(tie, bits) for tie in clash.ring] for bits in ways]
            assert not any(map(all, held))
            for spared in range(len(clash.ring)):
                assert any(all(row[:spared] + row[spared + 1 :]) for row in held)
            rings += 1
            kept += any(tie.keep for tie in clash.ring)
    assert (rings, kept) == (len(RINGS) + 3, 1)


def test_a_ring_leads_from_seam_to_seam_and_back() -> None:
    for _, _, told in read_clashing():
        for clash in told.clashes:
            seams = [seam for tie in clash.ring for seam in (tie.first, tie.second) if seam is not None]
            ends = [seam for seam in list_seams(clash) if seams.count(seam) != 2]
            assert not ends, "each seam is in two ties"


def test_every_join_that_clashes_is_told_as_often_as_it_is_there() -> None:
    for _, plan, told in read_clashing():
        assert sum(clash.times for clash in told.clashes) == plan.pressing.clashes > 0
        assert told.nesting + told.at_open + plan.pressing.clashes == told.joins == len(print_out(plan)["joins"])


def test_a_clash_of_equal_blocks_is_told_once_with_its_places() -> None:
    _, plan, told = read_clashing()[1 + len(RINGS)]
    (clash,) = told.clashes
    assert (clash.block, clash.loose) == ("ring", 2)
    assert sorted(clash.places) == [(1, 1), (1, 2), (2, 1), (2, 2)]
    assert "in the quilt row 1: 1, 2; row 2: 1, 2" in " ".join("\n".join(print_pressing(plan, told)).split())


def test_a_clash_between_blocks_of_a_quilt_names_them_and_what_is_kept() -> None:
    _, plan, told = read_clashing()[-1]
    words = " ".join("\n".join(print_pressing(plan, told)).split())
    assert "In the quilt at 3, 6 a join can't nest" in words
    assert "seam through 3, 3 of pair (row 1, 1) and the upright seam through 3, 3 of pair (row 2, 1)" in words
    assert "is kept left (line 8)" in words
    assert all(clash.block == "" for clash in told.clashes)
    assert {tie.keep.line for clash in told.clashes for tie in clash.ring if tie.keep} == {8}


def add_line(text: str, line: str, instead_of: int | None) -> str:
    """The text of a project file with an entry under press, keep, or with one entry in place of another."""
    lines = text.splitlines()
    if instead_of is not None:
        lines[instead_of - 1] = f"    {line}" if line else ""
    elif "press:" in lines:
        lines.append(f"    {line}")
    else:
        lines += ["press:", "  keep:", f"    {line}"]
    if lines[-1] == "" and lines[-2] == "  keep:":
        lines = lines[:-3]
    return "\n".join(line for line in lines if line) + "\n"


def test_what_helps_is_what_comes_out_when_it_is_written() -> None:
    helped = taken_out = 0
    for text, plan, told in read_clashing():
        for clash in told.clashes:
            assert [help_.clashes for help_ in clash.helps] == sorted(help_.clashes for help_ in clash.helps)
            for help_ in clash.helps:
                line = spell_keep(help_.keep, plan.project.measure) if help_.keep else ""
                again = plan_text(add_line(text, line, help_.instead_of.line if help_.instead_of else None))
                printed = print_out(again)
                open_joins = sum(join["why"] == "open" for join in printed["joins"])
                assert (help_.clashes, help_.at_open) == (count_clashes(printed), open_joins)
                assert help_.two_ways == count_versions(printed).kinds
                assert help_.clashes < plan.pressing.clashes
                helped += 1
                taken_out += not line
    assert helped > 15
    assert taken_out > 1


def test_every_seam_of_a_ring_is_tried_and_what_is_not_told_does_not_help() -> None:
    for text, plan, told in read_clashing()[1 : 1 + len(RINGS)]:
        (clash,) = told.clashes
        told_at = {help_.keep.at for help_ in clash.helps if help_.keep}
        for seam in list_seams(clash):
            assert seam.at is not None
            keep = Keep("ring", seam.at, "open", 0)
            again = plan_text(add_line(text, spell_keep(keep, "in"), None))
            assert (again.pressing.clashes < plan.pressing.clashes) == (seam.at in told_at)


@pytest.mark.parametrize("name", ["jetty", "net's end", "7 rails", "sjögrön", "yes", "null", "ebb-", "1-2"])
def test_the_line_to_write_is_read_whatever_the_block_is_called(name: str) -> None:
    for measure, at in (("in", "3, 1"), ("cm", "2.5, 1")):
        size, quoted = (6 if measure == "in" else 5), json.dumps(name, ensure_ascii=False)
        text = f"project: Names\nmeasure: {measure}\nfabrics: {{navy: {{value: 2}}, shell: {{value: 8}}}}\n"
        text += f"blocks:\n  {quoted}: {{size: {size}, rows: [[navy, shell]]}}\nmake: [{{block: {quoted}, count: 1}}]\n"
        written = f'{text}press: {{keep: [{{block: {quoted}, at: "{at}", toward: open}}]}}\n'
        (keep,) = read_text(written).keep
        again = read_text(add_line(text, spell_keep(keep, "cm" if measure == "cm" else "in"), None))
        assert [replace(one, line=0) for one in again.keep] == [replace(keep, line=0)]


def test_wishes_are_counted_as_the_json_has_them() -> None:
    tried = 0
    for _, plan in (*draw_set("drafts")[:40], *draw_set("grids")[:30]):
        printed = print_out(plan)
        asked = ask_all(plan, printed)
        denied = count_denied(printed, asked, read_bits(printed))
        told = explain_pressing(plan).wishes
        assert [one.wish for one in told] == list(plan.project.prefer)
        assert [one.of for one in told] == list(map(len, asked))
        assert [one.of - one.granted for one in told] == list(denied)
        tried += sum(one.of for one in told) > 0
    assert tried > 30


def write_outward(left: int, right: int, prefer: str) -> str:
    """One kind of pair that lies left of the middle in one block, right of it in the other."""
    return f"""\
project: Outward
fabrics: {{navy: {{value: 5}}, shell: {{value: 7}}, coral: {{value: 5}}}}
blocks:
  ebb: {{size: 8 x 2, rows: [[pair, coral]]}}
  flow: {{size: 8 x 2, rows: [[coral, pair]]}}
parts:
  pair: {{rows: [[navy, shell]]}}
make: [{{block: ebb, count: {left}}}, {{block: flow, count: {right}}}]
press: {{prefer: [{prefer}]}}
"""


def find_freer(plan: Plan) -> tuple[int, ...]:
    """Of all that can be tried with as few clashes and at most one kind more pressed two ways: the least denied."""
    printed = print_out(plan)
    asked, weighed = ask_all(plan, printed), weigh(read_sewn(printed))
    ways = []
    for bits in product((0, 1), repeat=len(printed["seams"])):
        judged = _judge(weighed, bits)
        if judged.clashes == plan.pressing.clashes and judged.kinds_two_ways <= plan.pressing.two_ways + 1:
            ways.append(count_denied(printed, asked, bits))
    return min(ways)


def test_what_one_kind_more_would_grant_is_the_most_that_can_be_tried() -> None:
    gained = 0
    outward = [
        plan_text(write_outward(*counts, prefer))
        for counts in ((1, 1), (1, 2), (3, 1))
        for prefer in ("outward", "dark, outward", "outward, dark")
    ]
    drawn = (*draw_set("single copies"), *draw_set("grids")[10:40], *(("outward", plan) for plan in outward))
    for draft, plan in drawn:
        told = explain_pressing(plan)
        assert told.is_more_known
        granted = told.more.wishes if told.more else told.wishes
        assert tuple(one.of - one.granted for one in granted) == find_freer(plan), draft
        if told.more:
            assert [one.granted for one in told.more.wishes] > [one.granted for one in told.wishes]
            gained += 1
    assert gained > 5


def test_what_lies_in_two_piles_is_what_the_json_and_the_sheet_have() -> None:
    tried = 0
    for _, plan in (*draw_set("grids"), ("sampler", plan_it(read_sample("tidewater-sampler")))):
        told, sheet = explain_pressing(plan), write_sheet(plan)
        versions = count_versions(print_out(plan))
        assert len(told.two_ways) == versions.kinds
        assert sum(kind.second.units for kind in told.two_ways) == versions.in_second_piles
        letters = assign_letters(sheet)
        pressed: dict[str, int] = {}
        for step in sheet.steps:
            if step.stage == "press" and isinstance(step.work, UnitWork):
                letter = letters[step.work.outcome.pile]
                pressed[letter] = pressed.get(letter, 0) + step.count
        names = {block.name for block in plan.blocks.drafted}
        for kind in told.two_ways:
            for heap in (kind.first, kind.second):
                assert heap.letters
                assert heap.units == sum(pressed[letter] for letter in heap.letters)
                assert heap.blocks
                assert set(heap.blocks) <= names
            assert kind.first.units >= kind.second.units
            tried += 1
    assert tried > 10


def test_the_blocks_to_turn_are_told_by_row_and_place() -> None:
    plan = plan_text(TURNED)
    told = explain_pressing(plan)
    assert plan.turning.turned
    turned = {(6 * (one.column - 1), 6 * (one.row - 1)): one.quarters for one in told.turned}
    scale = plan.blocks.scale
    assert {(x * scale, y * scale): quarters for (x, y), quarters in turned.items()} == plan.turning.turned
    lines = list(print_pressing(plan, told))
    start = lines.index("Blocks to turn in the quilt, from the left:") + 1
    for line in lines[start : start + len({one.row for one in told.turned})]:
        rows, _, columns = line.strip().partition(": ")
        for row in rows.removeprefix("rows").removeprefix("row").split(", ") if line.startswith("  row") else ():
            assert columns == f"{', '.join(str(one.column) for one in told.turned if one.row == int(row))} half round"
            turned = {place: turn for place, turn in turned.items() if place[1] != 6 * (int(row) - 1)}
    assert not turned, "every row is told"
    assert any(line.startswith("All ") and line.endswith(" joins nest.") for line in lines)


@pytest.mark.parametrize("name", [*SAMPLES, "clashing"])
def test_the_words_fit_sixty_columns_and_the_object_says_the_same(name: str) -> None:
    plans = [plan for _, plan, _ in read_clashing()] if name == "clashing" else [plan_sample(name)]
    for plan in plans:
        told = explain_pressing(plan)
        lines = list(print_pressing(plan, told))
        keeps = [line for line in lines if line.startswith("    - {block:")]
        assert all(len(line) <= WIDTH for line in lines if line not in keeps)
        answer = json.loads(json.dumps(describe_pressing(plan, told)))
        assert answer["clashing"] == plan.pressing.clashes
        assert answer["nesting"] + answer["open"] + answer["clashing"] == answer["joins"]
        assert [len(one["ring"]) for one in answer["clashes"]] == [len(clash.ring) for clash in told.clashes]
        written = [one["write"] for clash in answer["clashes"] for one in clash["helps"] if one["write"]]
        assert {line.strip() for line in keeps} <= set(written)
        assert [one["wish"] for one in answer["wishes"]] == list(plan.project.prefer)


def test_open_seams_are_counted() -> None:
    plan = plan_text(FOUR.replace('"1, 3", toward: up', '"1, 3", toward: open'))
    told = explain_pressing(plan)
    assert (told.clashes, told.at_open, count_at_open(plan)) == ((), 2, 2)
    assert "0 of 2 joins nest, 2 lie at open seams." in list(print_pressing(plan, told))
