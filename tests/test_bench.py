"""The bench without a screen: nothing shows that is not saved, and a changed project finds its place again."""

from __future__ import annotations

from pathlib import Path

import pytest
from benches import EVENING, Clock, bench_on, done_until, number_of
from planned import plan_text

from planner.event import Event
from planner.plan import Plan
from planner.say_now import say_now
from planner.session import fold
from planner.sheet import Stage, write_sheet
from tui.bench import LOOK_ON, OTHER_SHEET, TAKEN_OVER, Bench, Told
from tui.progress import ProgressTrouble, open_progress, read_events
from tui.view_step import name_lying

PROJECT = """
project: Tidewater table
fabrics: {{navy: {{value: dark}}, shell: {{value: light}}, coral: {{value: medium}}}}
blocks:
  four patch: {{size: 6, rows: [[navy, shell], [shell, navy]]}}
  pair: {{size: 6, rows: [[coral, shell]]}}
make: [{make}]
"""
FOUR = plan_text(PROJECT.format(make="{block: four patch, count: 4}"))
TWO = plan_text(PROJECT.format(make="{block: four patch, count: 2}"))
TWO_AND_PAIRS = plan_text(PROJECT.format(make="{block: four patch, count: 2}, {block: pair, count: 3}"))
PAIRS = plan_text(PROJECT.format(make="{block: pair, count: 3}"))
THREES = plan_text("""
project: Tidewater table
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}
parts: {two: {rows: [[navy, shell]]}}
blocks: {three: {size: 6, rows: [[two], [coral]]}}
make: [{block: three, count: 3}]
""")  # the pair of the four patch in another block
SHEET = write_sheet(FOUR)
FULL = ProgressTrouble("Not saved. The disk is full. Make room, then try again.")


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path / "state"))
    return tmp_path / "table.yaml"


def at(stage: Stage, done: int = 0) -> tuple[Event, ...]:
    return done_until(SHEET, number_of(SHEET, stage), done)


def place_of(bench: Bench) -> tuple[str, int]:
    """The stage at hand and how many are counted there."""
    step = bench.session.step
    assert step is not None
    return step.stage, bench.session.done_of(step)


def letters_of(bench: Bench) -> dict[str, str]:
    """Letters by what lies in the pile."""
    return {bench.speaker.name_pile(pile): bench.speaker.letter(pile) for pile in bench.speaker.plan.piles.piles}


# Keys


def test_a_key_counts_is_saved_and_says_nothing(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as bench:
        assert bench.count_one() == Told("")
        assert place_of(bench) == ("sew", 1)
        assert bench.finish_step() == Told("")
        assert place_of(bench) == ("clip", 0)
        assert fold(read_events(file)[0], bench.sheet).tally == bench.session.tally


def test_events_carry_the_time_of_their_key(file: Path) -> None:
    clock = Clock()
    with bench_on(file, FOUR, clock=clock) as bench:
        before = clock.now()
        bench.count_one()
        bench.count_one()
        first, second = bench.progress.events[-2:]
        assert before < first.at < second.at < clock.now()
        assert first.at > EVENING


def test_keys_are_taken_back_one_by_one_to_the_first_and_no_further(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as bench:
        before = bench.session
        bench.count_one()
        bench.spoil(counted=True)
        bench.finish_step()
        assert [bench.take_back().words for _ in range(3)] == [
            "Taken back: 7 counted at sew",
            "Taken back: 1 spoiled",
            "Taken back: 1 counted at sew",
        ]
        assert bench.session.totals == before.totals
        assert place_of(bench) == ("sew", 0)
        while not bench.take_back().is_trouble:
            pass
        assert bench.take_back() == Told("Nothing to take back", is_trouble=True)
        assert bench.session.totals[0] == 0


@pytest.mark.parametrize("stage", ["lay out", "square up"])
def test_a_key_is_named_by_its_stage_when_it_is_taken_back(file: Path, stage: Stage) -> None:
    with bench_on(file, FOUR, *at(stage)) as bench:
        bench.count_one()
        assert bench.take_back().words.startswith("Taken back: 1 counted at ")


def test_when_all_is_done_a_key_says_so(file: Path) -> None:
    with bench_on(file, FOUR, *done_until(SHEET, len(SHEET.steps))) as bench:
        done = bench.session.totals
        assert done[0] == done[1]
        assert bench.count_one() == bench.finish_step() == Told("All is done", is_trouble=True)
        assert bench.spoil(counted=False).is_trouble
        assert bench.measure_wrong(1, "too small", "spoiled").is_trouble
        assert bench.session.totals == done


@pytest.mark.parametrize(("stage", "can"), [("machine", False), ("cut", True), ("lay out", False), ("sew", True),
                                            ("clip", False), ("press", True), ("measure", True), ("square up", True),
                                            ("finish", False)])  # fmt: skip
def test_something_can_be_spoiled_where_cloth_is_worked_on(file: Path, stage: Stage, can: bool) -> None:
    with bench_on(file, FOUR, *at(stage)) as bench:
        assert (bench.why_not_spoil == "") is can
        before = bench.session.totals
        told = bench.spoil(counted=False)
        assert told.is_trouble is not can
        assert (bench.session.totals[1] > before[1]) is can


def test_what_measures_wrong_goes_back_to_the_machine_or_is_cut_anew(file: Path) -> None:
    with bench_on(file, FOUR, *at("measure")) as bench:
        before = bench.session.totals
        told = bench.measure_wrong(2, "too small", "sew again")
        assert told == Told("2 too small: unpick them; their two sides are on their piles again")
        # Two pairs are sewn and pressed again and still to measure; what is sewn again is clipped again
        assert bench.session.totals == (before[0], before[1] + 5)
        bench.take_back()
        told = bench.measure_wrong(1, "too large", "spoiled")
        assert told == Told("1 too large: cut and sew again")
        assert bench.session.totals[1] > before[1] + 3
    with bench_on(file.with_name("other.yaml"), FOUR, *at("sew")) as bench:
        assert bench.why_not_measure_wrong == "This key is for a step that measures units"
        assert bench.measure_wrong(1, "too small", "spoiled").is_trouble


def test_a_test_seam_that_measures_wrong_is_sewn_again_and_changes_nothing(file: Path) -> None:
    with bench_on(file, FOUR, *at("machine")) as bench:
        before = bench.progress.events
        words = "Is the test seam wrong? Move the guide and sew it again; count it when it measures right"
        assert bench.measure_wrong(1, "too small", "sew again") == Told(words, is_trouble=True)
        assert bench.progress.events == before


# Trouble with the disk


def test_what_cannot_be_saved_is_told_and_does_not_count(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with bench_on(file, FOUR, *at("measure", done=1)) as bench:
        before = bench.session

        def fail(*events: Event) -> None:
            raise FULL

        with monkeypatch.context() as full:
            full.setattr(bench.progress, "append", fail)
            for told in (
                bench.count_one(),
                bench.finish_step(),
                bench.take_back(),
                bench.spoil(counted=True),
                bench.measure_wrong(1, "too small", "sew again"),
            ):
                assert told == Told(FULL.words, is_trouble=True)
                assert bench.session is before
        assert bench.count_one() == Told("")
        assert place_of(bench) == ("measure", 2)


def test_progress_that_is_taken_away_from_under_the_bench_is_kept_anew_and_told_once(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as bench:
        file.with_name("table.yaml.progress").unlink()
        assert bench.count_one() == Told("table.yaml.progress was removed. All that is counted is kept anew.")
        assert place_of(bench) == ("sew", 1)
        assert bench.count_one() == Told("")
        assert bench.make_sure() == Told("")
        assert fold(read_events(file)[0], bench.sheet).tally == bench.session.tally


def test_leaving_makes_sure_that_all_is_saved_or_says_that_it_is_not(file: Path) -> None:
    kept = file.with_name("table.yaml.progress")
    with bench_on(file, FOUR, *at("sew")) as bench:
        assert bench.make_sure() == Told("")
        kept.write_bytes(b"not ours" * 1000)
        assert "was damaged. It is set aside as table.yaml.progress.set-aside-1." in bench.make_sure().words
        assert bench.make_sure() == Told("")
        kept.unlink()
        kept.mkdir()
        told = bench.make_sure()
        assert told.is_trouble
        assert told.words.startswith("Not saved. table.yaml.progress is no plain file.")
        kept.rmdir()
        assert bench.make_sure() == Told("table.yaml.progress was removed. All that is counted is kept anew.")
        assert read_events(file)[0] == bench.progress.events


def test_a_bench_that_cannot_save_its_letters_does_not_open(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(progress: object, *events: Event) -> None:
        raise FULL

    monkeypatch.setattr("tui.progress.Progress.append", fail)
    with pytest.raises(ProgressTrouble), bench_on(file, FOUR):
        pass


# Coming back


def test_a_new_bench_has_nothing_to_come_back_to_and_one_with_a_key_has(file: Path) -> None:
    with bench_on(file, FOUR) as bench:
        assert not bench.has_come_back
        assert bench.notices == ()
    with bench_on(file, FOUR) as bench:  # letters alone are no work
        assert not bench.has_come_back
        bench.count_one()
    with bench_on(file, FOUR) as bench:
        assert bench.has_come_back
        assert bench.session.totals[0] == 1


def test_opening_again_adds_nothing_to_the_log(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew", done=3)) as bench:
        events = bench.progress.events
    with bench_on(file, FOUR) as bench:
        assert bench.progress.events == events
        assert place_of(bench) == ("sew", 3)


def test_last_keys_can_be_taken_back_at_another_bench(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as bench:
        bench.count_one()
    with bench_on(file, FOUR) as bench:
        assert bench.take_back().words == "Taken back: 1 counted at sew"
        assert place_of(bench) == ("sew", 0)


# A project that changes


def test_what_is_cut_and_sewn_and_needed_no_more_is_told_once(file: Path) -> None:
    with bench_on(file, FOUR, *at("clip")) as bench:
        assert bench.notices == ()
    # All that was cut is inside what was sewn: the pairs alone are named
    sewn = "The project has changed: 4 of C sewn (navy-shell pair 3 1/2 x 6 1/2), more than it needs now"
    with bench_on(file, TWO_AND_PAIRS) as bench:
        assert bench.notices == (sewn,)
    with bench_on(file, TWO_AND_PAIRS) as bench:
        assert bench.notices == ()


def test_what_is_cut_and_inside_nothing_is_told_beside_what_is_sewn(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew", done=5)):  # 8 of each are cut
        pass
    left = ("3 of A cut (navy square 3 1/2)", "3 of B cut (shell square 3 1/2)",
            "1 of C sewn (navy-shell pair 3 1/2 x 6 1/2)")  # fmt: skip
    with bench_on(file, TWO) as bench:
        assert bench.notices == tuple(f"The project has changed: {what}, more than it needs now" for what in left)
    with bench_on(file, TWO) as bench:
        assert bench.notices == ()
        assert tuple(bench.name_surplus()) == left


def test_what_is_left_over_and_what_is_finished_lies_where_it_can_be_read(file: Path) -> None:
    with bench_on(file, FOUR, *at("square up", done=3)) as bench:
        lying = dict(name_lying(bench))
        assert lying["Finished"] == ["3 four patch"]
        assert "Left over, not needed now" not in lying
    with bench_on(file, PAIRS) as bench:
        lying = dict(name_lying(bench))
        assert lying["Finished"] == ["nothing yet"]
        assert "3 of D squared up (four patch block 6 1/2 x 6 1/2)" in lying["Left over, not needed now"]
        assert lying["Left over, not needed now"] == bench.name_surplus()


def test_what_is_inside_what_is_left_over_is_not_named_again_however_deep(file: Path) -> None:
    with bench_on(file, FOUR, *at("square up", done=3)):
        pass
    with bench_on(file, PAIRS) as bench:
        assert bench.name_surplus() == [
            "1 of D sewn (four patch block 6 1/2 x 6 1/2)",
            "3 of D squared up (four patch block 6 1/2 x 6 1/2)",
        ]


def test_what_is_inside_finished_blocks_is_made_again_where_it_is_needed(file: Path) -> None:
    with bench_on(file, FOUR, *done_until(SHEET, len(SHEET.steps))):
        pass
    with bench_on(file, THREES) as bench:
        made = {bench.speaker.say(step).what: step for step in bench.sheet.steps if step.stage in ("cut", "sew")}
        counts = {what: (bench.session.done_of(step), bench.session.total_of(step)) for what, step in made.items()}
        assert counts["B on A"] == (8, 11)
        assert counts["navy for pile A"] == counts["shell for pile B"] == (8, 11)
        while bench.session.step is not None:
            assert bench.session.can_do(bench.session.place or 0) > 0
            assert bench.count_one() == Told("")
        assert bench.session.totals[0] == bench.session.totals[1]


def test_what_is_wanted_again_is_surplus_no_more_and_another_change_is_told(file: Path) -> None:
    with bench_on(file, FOUR, *at("clip")):
        pass
    with bench_on(file, TWO) as bench:
        assert len(bench.notices) == 1
    with bench_on(file, FOUR) as bench:
        assert bench.notices == ()
        assert place_of(bench) == ("clip", 0)
    with bench_on(file, PAIRS) as bench:
        assert bench.notices == (
            "The project has changed: 8 of C sewn (navy-shell pair 3 1/2 x 6 1/2), more than it needs now",
        )


def test_counts_carry_over_and_the_work_goes_on_at_what_is_new(file: Path) -> None:
    with bench_on(file, FOUR, *at("clip")):
        pass
    with bench_on(file, TWO_AND_PAIRS) as bench:
        step = bench.session.step
        assert step is not None
        assert step.stage == "cut"
        assert bench.speaker.say(step).does[0] == "3 rectangles 3 1/2 x 6 1/2"  # of a pair
        sewn = next(one for one in bench.sheet.steps if one.stage == "sew")
        assert (bench.session.done_of(sewn), bench.session.total_of(sewn)) == (4, 4)


def test_more_blocks_go_on_where_the_counting_stopped(file: Path) -> None:
    with bench_on(file, TWO) as bench:
        while bench.session.step is not None and bench.session.step.stage != "sew":
            bench.finish_step()
        for _ in range(3):
            bench.count_one()
        assert place_of(bench) == ("sew", 3)
    with bench_on(file, FOUR) as bench:
        sewn = next(one for one in bench.sheet.steps if one.stage == "sew")
        assert (bench.session.done_of(sewn), bench.session.total_of(sewn)) == (3, 8)
        assert bench.notices == ()
        # One pair more can be sewn from what is cut; the maker was at this chain
        assert place_of(bench) == ("sew", 3)
        bench.finish_step()
        assert place_of(bench)[0] == "cut"


def test_a_clip_that_is_looked_at_ahead_lists_all_that_will_hang(file: Path) -> None:
    with bench_on(file, FOUR) as bench:
        clip = next(one for one in bench.sheet.steps if one.stage == "clip")
        planned = bench.speaker.say(clip).does
        assert planned
        seen = 0
        while bench.session.step is not None and bench.session.step.stage != "press":
            assert say_now(bench.session, bench.speaker, clip).does == planned
            seen += bench.session.step.stage == "sew"
            bench.count_one()
        assert seen > 1


def test_pairs_sewn_after_their_chain_was_clipped_are_a_chain_to_clip(file: Path) -> None:
    with bench_on(file, TWO) as bench:
        while bench.session.step is not None and bench.session.step.stage != "press":
            bench.finish_step()
        assert place_of(bench) == ("press", 0)
    with bench_on(file, FOUR) as bench:
        clip = next(one for one in bench.sheet.steps if one.stage == "clip")
        while bench.session.step is not None and bench.session.step.stage != "sew":
            bench.finish_step()
        assert place_of(bench) == ("sew", 4)
        assert bench.session.left_of(clip) == 0
        bench.count_one()
        assert bench.session.left_of(clip) == 1
        bench.take_back()
        assert bench.session.left_of(clip) == 0
        bench.count_one()
        bench.finish_step()
        assert place_of(bench) == ("clip", 1)
        assert dict(name_lying(bench))["In the chain at the machine, not clipped"] != ["nothing"]
        bench.finish_step()
        assert bench.session.left_of(clip) == 0
        while bench.session.step is not None:
            assert bench.finish_step() == Told("")
        assert bench.session.totals[0] == bench.session.totals[1]


@pytest.mark.parametrize("plan", [TWO, TWO_AND_PAIRS, PAIRS], ids=["fewer", "others", "none"])
def test_letters_stay_with_their_piles_whatever_changes(file: Path, plan: Plan) -> None:
    with bench_on(file, FOUR, *at("press")) as bench:
        before = letters_of(bench)
        given = set(before.values())
    with bench_on(file, plan) as bench:
        after = letters_of(bench)
        for what, letter in after.items():
            if what in before:
                assert letter == before[what]
            else:
                assert letter not in given
        assert len(set(after.values())) == len(after)
    with bench_on(file, FOUR) as bench:
        assert letters_of(bench) == before


# A second bench


def test_a_second_bench_saves_nothing_and_follows_the_first(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as first, bench_on(file, FOUR) as second:
        assert (first.can_write, second.can_write) == (True, False)
        before = first.progress.events
        for told in (second.count_one(), second.finish_step(), second.take_back(), second.spoil(counted=False)):
            assert told == Told(LOOK_ON, is_trouble=True)
        assert first.progress.events == before
        assert not second.look_again()
        first.count_one()
        first.spoil(counted=True)
        assert second.look_again()
        assert second.session.tally == first.session.tally
        assert letters_of(second) == letters_of(first)
        assert not second.look_again()


def test_a_second_bench_takes_over_the_letters_that_the_first_gives(file: Path) -> None:
    with bench_on(file, FOUR, *at("press")):
        pass
    with bench_on(file, TWO_AND_PAIRS) as first, bench_on(file, TWO_AND_PAIRS) as second:
        second.look_again()
        assert letters_of(second) == letters_of(first)


def test_a_bench_that_looked_on_takes_over_at_the_next_key_when_the_other_has_left(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as first:
        first.count_one()
        second = stack_bench(file)
        assert second.count_one() == Told(LOOK_ON, is_trouble=True)
        first.count_one()
    with second.progress:
        assert second.count_one() == Told(TAKEN_OVER)
        assert second.can_write
        assert place_of(second) == ("sew", 2)
        assert second.count_one() == Told("")
        assert fold(read_events(file)[0], second.sheet).tally == second.session.tally
        with bench_on(file, FOUR) as third:
            assert not third.can_write


def test_a_bench_on_another_sheet_does_not_take_over_and_says_how_to_go_on(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as first:
        second = stack_bench(file, PAIRS)
        first.count_one()
    with second.progress:
        before = read_events(file)[0]
        assert second.count_one() == Told(OTHER_SHEET, is_trouble=True)
        assert not second.can_write
        assert read_events(file)[0] == before


def test_looking_on_goes_on_when_the_file_was_replaced(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")) as first:
        second = stack_bench(file)
        with second.progress:
            file.with_name("table.yaml.progress").unlink()
            first.count_one()
            assert second.look_again()
            assert second.session.tally == first.session.tally
            first.count_one()
            assert second.look_again()
            assert second.session.tally == first.session.tally


def stack_bench(file: Path, plan: Plan = FOUR) -> Bench:
    """One more bench on a project, to be closed by its progress."""
    return Bench(plan, open_progress(file), Clock().now)


def test_a_bench_that_looked_on_can_count_when_it_is_opened_again(file: Path) -> None:
    with bench_on(file, FOUR, *at("sew")), bench_on(file, FOUR) as second:
        assert second.count_one().is_trouble
    with bench_on(file, FOUR) as second:
        assert second.count_one() == Told("")
