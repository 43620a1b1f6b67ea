"""Numbers with a root as a maker writes them: what is read, what is refused, how they are spelled and rounded."""

from __future__ import annotations

import re
from decimal import Decimal, localcontext
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from planner.checks.surd import Surd as Read
from planner.checks.surd import next_above, read_surd
from planner.measure import (
    INCHES_PER_CM,
    Root,
    Ruler,
    read_length,
    read_number,
    read_rooted,
    read_rooted_length,
    spell_exact,
    spell_rooted,
)

INCH, CM = Ruler("in"), Ruler("cm")
HALF = Fraction(1, 2)
parts = st.fractions(min_value=-500, max_value=500, max_denominator=60)
roots = st.builds(Root, parts, parts.filter(bool), st.sampled_from([2, 3]))
inner = roots.filter(lambda root: not root.is_below(Fraction(0)))
nested = st.builds(Root, parts, parts.filter(bool), inner)


def evaluate(value: Fraction | Root | int) -> Decimal:
    """To fifty digits."""
    with localcontext(prec=70):
        if isinstance(value, Root):
            return evaluate(value.plain) + evaluate(value.times) * evaluate(value.of).sqrt()
        value = Fraction(value)
        return Decimal(value.numerator) / Decimal(value.denominator)


@pytest.mark.parametrize(
    ("text", "plain", "times", "of"),
    [
        ("r2", 0, 1, 2),
        ("r3", 0, 1, 3),
        ("4+2r2", 4, 2, 2),
        ("2-1/2r3", 2, "-1/2", 3),  # the sign takes the term away; it is no 2 1/2
        ("3/2r2", 0, "3/2", 2),
        ("1 1/2r2", 0, "3/2", 2),
        ("0.5r3", 0, "1/2", 3),
        ("4 + 2 r2", 4, 2, 2),
        (" 6 1/2 + 1 1/2r2 ", "13/2", "3/2", 2),
        ("6-1/2+r2", "13/2", 1, 2),
        ("6-1/2-1/2r2", "13/2", "-1/2", 2),
        ("r2-1", -1, 1, 2),
        ("2r3+1 1/2", "3/2", 2, 3),
    ],
)
def test_a_term_with_a_root_is_added_or_taken_away(text: str, plain: str | int, times: str | int, of: int) -> None:
    assert read_rooted(text) == Root(Fraction(plain), Fraction(times), of)


@pytest.mark.parametrize("text", ["12", "6.5", "6 1/2", "6-1/2", "1/4"])
def test_what_has_no_root_is_read_as_ever(text: str) -> None:
    assert read_rooted(text) == read_number(text)


def test_no_root_at_all_is_a_plain_number() -> None:
    assert read_rooted("4+0r2") == Fraction(4)
    assert read_rooted("0r3") == 0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2-2r2", "'2-2r2' is below 0: r2 is about 1.414"),
        ("1.7-r3", "below 0: r3 is about 1.732"),
        ("1-r2", "below 0"),
        ("r5", "there is no r5; r2 is the root of 2, r3 that of 3"),
        ("r4", "there is no r4"),
        ("2r22", "there is no r22"),
        ("r2+r3", "no number with one root in it; write it like r2, 4+2r2, 2-1/2r3 or 3/2r2"),
        ("r2r2", "no number with one root"),
        ("1+r2+1", "no number with one root"),
        ("r2+1-1/2", "no number with one root"),  # a half taken away, or the half of 1 1/2?
        ("-r2", "no number with one root"),
        ("+r2", "no number with one root"),
        ("2*r2", "no number with one root"),
        ("r2/2", "no number with one root"),
        ("4+1/0r2", "divides by zero"),
        ("4++r2", "no number with one root"),
        ("r 2 in", "no number with one root"),
        ("4+2r² ", "is no number"),
        ("rr", "is no number"),
        ("1e3+r2", "no number with one root"),
        ("1234567890r2", "no number with one root"),
    ],
)
def test_what_is_no_number_with_a_root_is_refused_with_words(text: str, words: str) -> None:
    with pytest.raises(ValueError, match=re.escape(words)):
        read_rooted(text)


@given(st.text(alphabet="r2345+-/. x1", max_size=12))
@example("2-1/2r3")
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        value = read_rooted(text)
    except ValueError:
        return
    assert evaluate(value) >= 0


@pytest.mark.parametrize(
    ("text", "ending"), [("4+2r2 in", 1), ("4+2r2", 1), ('4+2r2"', 1), ("4+2r2 cm", INCHES_PER_CM)]
)
def test_a_length_with_a_root_may_have_an_ending(text: str, ending: Fraction) -> None:
    assert read_rooted_length(text, "in") == Root(4 * Fraction(ending), 2 * Fraction(ending), 2)


def test_a_bare_length_with_a_root_is_in_the_measure() -> None:
    assert read_rooted_length("r2", "cm") == Root(Fraction(0), INCHES_PER_CM, 2)


def test_where_no_root_can_stand_it_is_said() -> None:
    for read in (read_number, lambda text: read_length(text, "in")):
        with pytest.raises(ValueError, match="has a root, and here can be none"):
            read("4+2r2")
    with pytest.raises(ValueError, match="'1-r2' is below 0"):
        read_rooted_length("1-r2 in", "cm")
    with pytest.raises(ValueError, match="'r2 ell' is no number with one root"):
        read_rooted_length("r2 ell", "in")


@given(roots)
def test_what_is_spelled_for_the_project_file_is_read_back(root: Root) -> None:
    if root.is_below(Fraction(0)):
        root = Root(-root.plain, -root.times, root.of)
    assert read_rooted(spell_rooted(root)) == root
    assert " " not in spell_rooted(root)


@given(st.one_of(roots, nested))
@example(Root(Fraction(0), Fraction(-1), 2))
@example(Root(HALF, Fraction(1), Root(Fraction(4), Fraction(2), 2)))
def test_what_is_spelled_for_the_plan_is_read_back_by_the_checkers(root: Root) -> None:
    read = read_surd(spell_exact(root))
    assert isinstance(read, Read)
    for step in (Fraction(1, 16), Fraction(1, 7)):
        assert next_above(read, step) == root.up_to(step)


@pytest.mark.parametrize(
    ("root", "words"),
    [
        (Root(Fraction(13, 2), Fraction(-3, 4), 2), "13/2 - 3/4*sqrt(2)"),
        (Root(Fraction(4), Fraction(-1), 3), "4 - sqrt(3)"),
        (Root(Fraction(-1, 2), Fraction(1), 3), "-1/2 + sqrt(3)"),
        (Root(Fraction(0), Fraction(-1), 3), "-sqrt(3)"),
        (Root(Fraction(0), Fraction(1), Root(Fraction(4), Fraction(2), 2)), "sqrt(4 + 2*sqrt(2))"),
        (Root(HALF, Fraction(1), Root(Fraction(4), Fraction(-2), 2)), "1/2 + sqrt(4 - 2*sqrt(2))"),
    ],
)
def test_a_root_that_is_taken_away_and_a_root_of_a_root_are_spelled_for_the_plan(root: Root, words: str) -> None:
    assert spell_exact(root) == words


@given(st.one_of(roots, nested), parts)
def test_a_root_is_compared_exactly(root: Root, bound: Fraction) -> None:
    assert root.is_below(bound) == (evaluate(root) < evaluate(bound))
    near = Fraction(round(evaluate(root) * 10**20), 10**20)
    assert root.is_below(near) == (evaluate(root) < evaluate(near))


@given(st.one_of(roots, nested), st.sampled_from([Fraction(1, 16), CM.step, Fraction(1, 7)]))
def test_rounding_up_goes_to_the_next_line(root: Root, step: Fraction) -> None:
    up = root.up_to(step)
    assert (up / step).denominator == 1
    assert evaluate(up - step) < evaluate(root) <= evaluate(up)


@given(inner)
def test_a_size_with_a_root_is_shown_to_the_nearest_line_and_marked(root: Root) -> None:
    shown = INCH.to_measure(root)
    near = read_number(shown.words.removeprefix("about "))
    assert abs(evaluate(near) - evaluate(root)) * 32 <= Decimal("1.0000000001")
    assert not shown.exact
    assert shown.words.startswith("about ")
    assert INCH.exact(root) == shown.words
    assert not INCH.is_on(root)


def test_a_place_with_a_root_is_told_as_the_project_file_has_it() -> None:
    assert INCH.as_written(Root(Fraction(3, 2), Fraction(1), 2)) == "3/2+r2"
    assert CM.as_written(Root(3 * INCHES_PER_CM, -INCHES_PER_CM, 2)) == "3-r2 cm"
    assert INCH.as_written(Fraction(13, 2)) == "6 1/2"
    assert CM.as_written(Fraction(7, 2) * INCHES_PER_CM) == "3.5 cm"
