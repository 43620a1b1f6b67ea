"""The card's rows: every size gets exactly its rows, what is needed most stays, and nothing runs over the edge."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import pytest
from benches import Clock, bench_on, done_until, sheet_of
from hypothesis import example, given
from hypothesis import strategies as st
from planned import SAMPLES, plan_sample
from rich.cells import cell_len

from tui.draw import Canvas, Cell
from tui.large_print import spell_large
from tui.lay_out_card import CardView, Row, Span, lay_out_card, wrap_words
from tui.lay_out_large import lay_out_large
from tui.view_step import view_step

SIZES = ((58, 19), (78, 23), (76, 39))  # of the card at 60x20, 80x24, 120x40
VIEW = CardView(
    project="Tidewater sampler",
    place="pass 1 of 4   22 %",
    banner="",
    verb="SEW",
    what="C on D",
    done=2,
    total=8,
    left=("to go: 6 pairs", "20 in the pass", "110 in all"),
    does=(
        "Left D (mark up), right C (mark to the right): turn C over onto D, like a page",
        "Right sides together; sew the 3 1/2 edge, upper end first",
        "Pins: 2, both ends; out before the needle",
    ),
    why=("Becomes G, navy-shell pair; for 4 pinwheel",),
    then="then clip 8 · press G toward the navy · measure 3 1/2 x 6 1/2",
    notice="",
    is_trouble=False,
)


def no_picture(width: int, height: int) -> Canvas | None:
    return None


def lay_out(
    view: CardView, width: int = 58, height: int = 19, picture: Callable[[int, int], Canvas | None] = no_picture
) -> tuple[str, ...]:
    return texts(lay_out_card(view, width, height, picture))


def texts(rows: Sequence[Row]) -> tuple[str, ...]:
    return tuple("".join(part.text for part in row) for row in rows)


def words_in(rows: Sequence[str]) -> str:
    return " ".join(" ".join(rows).split())


def fill(width: int, height: int) -> Canvas:
    """A picture that takes all the room it is given."""
    return tuple(tuple(Cell("#", "navy", "cloth") for _ in range(width)) for _ in range(height))


# Wrapping

WORDS = st.text(alphabet=st.sampled_from("abc 12/½潮,"), max_size=60)


@given(WORDS, st.integers(2, 30), st.integers(0, 6))
@example("  1", 2, 0)
def test_wrapped_lines_fit_and_lose_nothing_but_blanks(text: str, width: int, indent: int) -> None:
    lines = wrap_words(text, max(width, indent + 2), indent)
    assert lines
    assert all(cell_len(line) <= max(width, indent + 2) for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(line.startswith(" " * indent) for line in lines[1:])


def test_words_are_broken_only_where_they_are_longer_than_a_line() -> None:
    assert wrap_words("sew the 3 1/2 edge", 9, 2) == ["sew the 3", "  1/2", "  edge"]
    assert wrap_words("undertow", 5, 1) == ["under", " tow"]
    assert wrap_words("", 5) == [""]
    assert wrap_words("  sew it", 6, 2) == ["  sew", "  it"]


@pytest.mark.parametrize("width", [-3, 0, 1])
def test_wrapping_into_next_to_nothing_ends(width: int) -> None:
    assert "".join(wrap_words("sew", width)) == "sew"


# The card


@pytest.mark.parametrize("height", [1, 2, 5, 9, 12, 19, 39])
@pytest.mark.parametrize("width", [9, 20, 40, 58, 78, 118])
def test_a_card_has_exactly_its_rows_and_none_runs_over(width: int, height: int) -> None:
    trouble = "tidewater-sampler.yaml.progress was removed or replaced while the bench had it open. Put it back."
    for view in (
        VIEW,
        VIEW._replace(banner="LOOKING AHEAD: nothing is counted"),
        VIEW._replace(notice="Taken back"),
        VIEW._replace(notice=trouble),
    ):
        rows = lay_out(view, width, height, fill)
        assert len(rows) == height
        assert all(cell_len(row) <= width for row in rows)


@pytest.mark.parametrize("width", [1, 7, 8, 9])
def test_a_card_of_next_to_no_width_is_laid_out(width: int) -> None:
    assert len(lay_out(VIEW, width)) == 19


def test_what_is_read_first_stands_first() -> None:
    left = "to go: 6 pairs · 20 in the pass · 110 in all"
    for width in (58, 78):
        rows = lay_out(VIEW, width)
        assert rows[0].startswith("Tidewater sampler")
        assert rows[0].endswith("pass 1 of 4   22 %")
        assert rows[1].startswith("SEW  C on D")
        assert rows[1].endswith("2 of 8")
        assert rows[2].startswith("██")
        assert rows[2].endswith(left)
        order = [words_in(rows).index(text) for text in (*VIEW.does, *VIEW.why, VIEW.then)]
        assert order == sorted(order)


def test_a_long_project_name_gives_way_to_the_place() -> None:
    rows = lay_out(VIEW._replace(project="Tidewater " * 8))
    assert rows[0].endswith("…  pass 1 of 4   22 %")
    assert len(rows[0]) == 58


def test_a_long_title_wraps_beside_the_tally() -> None:
    rows = lay_out(VIEW._replace(verb="SQUARE UP", what="harbour star (slate for amber, amber for slate) to 12 1/2"))
    assert rows[1].endswith("2 of 8")
    assert words_in((rows[1].removesuffix("2 of 8"), rows[2])) == (
        "SQUARE UP harbour star (slate for amber, amber for slate) to 12 1/2"
    )


def test_names_in_wide_letters_leave_the_place_and_the_tally_on_the_screen() -> None:
    rows = lay_out(VIEW._replace(project="潮だまりのキルト", what="星のブロック to 12 1/2"))
    assert cell_len(rows[0]) <= 58
    assert cell_len(rows[1]) <= 58


@pytest.mark.parametrize("done", [0, 1, 4, 7, 8])
def test_the_bar_is_as_full_as_the_tally_and_never_fuller(done: int) -> None:
    bar = lay_out(VIEW._replace(done=done))[2].split()[0]
    assert bar == "█" * (done * len(bar) // 8) + "░" * (len(bar) - done * len(bar) // 8)


def test_a_step_of_one_has_no_bar_and_says_when_it_is_done() -> None:
    rows = lay_out(VIEW._replace(done=0, total=1))
    assert "█" not in words_in(rows)
    assert rows[1].strip() == "SEW  C on D"
    assert lay_out(VIEW._replace(done=1, total=1))[1].endswith("done")


def test_what_is_needed_least_goes_first_when_rows_run_out() -> None:
    def has(height: int) -> tuple[bool, bool, bool]:
        words = words_in(lay_out(VIEW, 58, height))
        return VIEW.why[0] in words, VIEW.then[:20] in words, all(text in words for text in VIEW.does)

    least = 7  # rows of head and words
    heights = [has(height) for height in range(19, least - 1, -1)]
    assert heights[0] == (True, True, True)
    assert heights[-1] == (False, False, True)
    assert (False, True, True) in heights
    assert heights == sorted(heights, reverse=True)
    assert "and so on: 2 more lines" in lay_out(VIEW, 58, least - 1)


def test_what_a_key_did_stands_last_and_is_never_cut() -> None:
    notice = "tidewater-sampler.yaml.progress was removed or replaced while the bench had it open. Put it back."
    for height in (5, 9, 19):
        rows = lay_out(VIEW._replace(notice=notice), 58, height)
        assert words_in(rows[-2:]) == notice
    marked = lay_out_card(VIEW._replace(notice="Not saved", is_trouble=True), 58, 19, no_picture)[-1]
    assert marked == (Span("Not saved", "trouble"),)
    plain = lay_out_card(VIEW._replace(notice="Taken back"), 58, 19, no_picture)[-1]
    assert plain == (Span("Taken back", "strong"),)


def test_looking_is_said_above_the_verb() -> None:
    banner = "LOOKING AHEAD: step 9 of 40, nothing is counted"
    rows = lay_out(VIEW._replace(banner=banner))
    assert rows[1] == banner
    assert rows[2].startswith("SEW")
    rows = lay_out(VIEW._replace(banner=banner), width=30)
    assert words_in(rows[1:3]) == banner
    assert rows[3].startswith("SEW")


def test_a_picture_gets_the_room_that_words_leave_and_none_where_it_would_be_too_small() -> None:
    asked: list[tuple[int, int]] = []

    def draw(width: int, height: int) -> Canvas:
        asked.append((width, height))
        return fill(width, height)

    rows = lay_out(VIEW, 58, 23, draw)
    assert all(text in words_in(rows) for text in (*VIEW.does, *VIEW.why, VIEW.then[:20]))
    ((width, height),) = asked
    assert width == 56
    assert [row for row in rows if "#" in row] == ["  " + "#" * 56] * height
    assert 5 <= height <= 19
    for least in range(1, 23):
        lay_out(VIEW, 58, least, draw)
    assert min(height for _, height in asked) == 5
    lay_out(VIEW, 58, 60, draw)
    assert asked[-1][1] == 19


def test_without_a_picture_no_room_is_left_for_one() -> None:
    rows = lay_out(VIEW)
    assert rows[3] == ""
    assert rows[4].startswith("Left D")


# Steps of the samples


@pytest.mark.parametrize("sample", SAMPLES)
def test_every_step_fits_a_narrow_card_with_a_notice_too(sample: str, tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    sheet = sheet_of(sample)
    notice = "One spoiled: its patches are to cut again, then it is sewn again"
    with bench_on(tmp_path / "lap.yaml", plan_sample(sample), clock=Clock()) as bench:
        for number, step in enumerate(sheet.steps):
            view = view_step(bench, number, notice)
            for width, height in SIZES:
                words = words_in(lay_out(view, width, height))
                missing = [text for text in (*view.does, notice) if text not in words]
                # A long list may be cut behind its first line
                assert not missing or (step.stage in ("lay out", "clip") and view.does[0] in words), (step.name, width)


def test_a_list_that_is_cut_says_so() -> None:
    piles = tuple(f"{letter}: 4 of navy square 3 1/2" for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    rows = lay_out(VIEW._replace(verb="LAY OUT", what="26 piles for pass 1", does=piles))
    assert piles[0] in words_in(rows)
    shown = sum(pile in words_in(rows) for pile in piles)
    assert 1 < shown < 26
    assert rows[-1] == f"and so on: {26 - shown} more lines"


def test_the_words_of_a_list_begin_at_the_pile_at_hand(tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    monkeypatch.setenv("SEAMRUN_STATE", str(tmp_path))
    sheet = sheet_of("tidewater-sampler")
    number = next(n for n, step in enumerate(sheet.steps) if step.stage == "lay out")
    events = done_until(sheet, number, done=9)
    with bench_on(tmp_path / "lap.yaml", plan_sample("tidewater-sampler"), *events) as bench:
        at_hand = view_step(bench, None).does
        assert len(at_hand) == sheet.steps[number].count - 9
        assert bench.count_one().words == ""
        assert view_step(bench, None).does == at_hand[1:]


# Large print


def large(view: CardView, width: int = 58, height: int = 19) -> tuple[str, ...]:
    return texts(lay_out_large(view, width, height))


@pytest.mark.parametrize("height", [1, 5, 19, 39])
@pytest.mark.parametrize("width", [10, 40, 58, 118])
def test_large_print_has_exactly_its_rows_and_none_runs_over(width: int, height: int) -> None:
    rows = large(VIEW, width, height)
    assert len(rows) == height
    assert all(cell_len(row) <= width for row in rows)


def test_large_print_is_verb_letters_and_tally() -> None:
    rows = large(VIEW)
    for place, text in enumerate(("SEW", "C on D", "2/8")):
        shape = spell_large(text, 58)
        assert shape is not None
        assert rows[6 * place : 6 * place + 5] == shape


def test_where_rows_run_out_the_verb_shrinks_first_and_the_letters_last() -> None:
    def shown_large(height: int) -> list[str]:
        rows = large(VIEW, height=height)
        shapes = {text: spell_large(text, 58) for text in ("SEW", "C on D", "2/8")}
        return [text for text, shape in shapes.items() if any(rows[at : at + 5] == shape for at in range(len(rows)))]

    heights = {height: shown_large(height) for height in range(19, 5, -1)}
    assert heights[19] == ["SEW", "C on D", "2/8"]
    assert heights[14] == ["C on D", "2/8"]
    assert heights[10] == ["C on D"]
    assert heights[6] == []
    for height in range(6, 20):
        words = words_in(large(VIEW, height=height))
        assert "SEW" in heights[height] or "SEW" in words
        assert "2/8" in heights[height] or "2 of 8" in words
    counts = [len(found) for found in heights.values()]
    assert counts == sorted(counts, reverse=True)


def test_what_is_too_long_for_large_print_is_said_in_plain_words() -> None:
    rows = large(VIEW._replace(verb="SQUARE UP", what="harbour star to 12 1/2 x 12 1/2"), width=30)
    assert "SQUARE UP" in rows
    assert "harbour star to 12 1/2 x 12" in words_in(rows)


@pytest.mark.parametrize(
    ("what", "letters"),
    [("C on D", "C ON D"), ("two AD", "TWO AD"), ("G': 3 1/2", "G'"), ("AA' toward the navy", "AA'")],
)
def test_the_letters_are_told_from_the_rest_of_the_words(what: str, letters: str) -> None:
    shape = spell_large(letters, 118)
    assert shape is not None
    assert large(VIEW._replace(what=what), width=118)[6:11] == shape


def test_large_letters_are_twice_as_wide_where_there_is_room() -> None:
    narrow, wide = spell_large("SEW", 17), spell_large("SEW", 34)
    assert narrow is not None
    assert wide is not None
    assert max(map(len, narrow)) == 17
    assert max(map(len, wide)) == 34
    assert spell_large("SEW", 16) is None


def test_trouble_is_never_cut_off_large_print() -> None:
    notice = "tidewater-sampler.yaml.progress was removed or replaced while the bench had it open. Put it back."
    assert notice in words_in(large(VIEW._replace(notice=notice, is_trouble=True)))
