"""Cells: what a text draws, against the faces that shapely cuts, and every way to write one wrongly."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box
from shapely.affinity import scale
from shapely.ops import split

from planner.project import Cut, FabricHere, Part, PartHere, Rows
from planner.reading.names import Names
from planner.reading.nearest_name import NearestName
from planner.reading.read_cells import names_in_cell, read_cell

FABRICS = ("navy", "shell", "coral", "reed")
FOUR = Part("little four", Rows(((FabricHere("navy"),),), (1,), (1,)), 1)


def names(budget: int = 1_000) -> Names:
    others = {"wave": "is a block, and a cell holds fabrics and parts; make it a part"}
    return Names(FABRICS, {"little four": FOUR, "torn": None}, {}, others, NearestName(budget))


def read(text: str):
    cell, wrong = read_cell(text, names())
    assert wrong == (), wrong
    return cell


def wrong_in(text: str) -> tuple[str, ...]:
    cell, wrong = read_cell(text, names())
    assert cell is None
    return wrong


NAVY, SHELL, CORAL = FabricHere("navy"), FabricHere("shell"), FabricHere("coral")


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("navy", NAVY),
        ("  navy ", NAVY),
        ("((navy))", NAVY),
        ("navy / shell", Cut("/", NAVY, SHELL)),
        ("navy/shell", Cut("/", NAVY, SHELL)),
        ("navy\\shell", Cut("\\", NAVY, SHELL)),
        ("navy | (shell)", Cut("|", NAVY, SHELL)),
        ("navy / (shell \\ coral)", Cut("/", NAVY, Cut("\\", SHELL, CORAL))),
        ("(navy \\ shell) / (shell\\navy)", Cut("/", Cut("\\", NAVY, SHELL), Cut("\\", SHELL, NAVY))),
        ("little four", PartHere(FOUR)),
        ("little   four turn 90", PartHere(FOUR, ("turn 90",))),
        ("little four mirrored turn 270", PartHere(FOUR, ("mirrored", "turn 270"))),
        ("little four turn 180 mirrored", PartHere(FOUR, ("turn 180", "mirrored"))),
        ("little four turn 90 | navy", Cut("|", PartHere(FOUR, ("turn 90",)), NAVY)),
        ("(navy | little four)", Cut("|", NAVY, PartHere(FOUR))),
    ],
)
def test_a_cell_draws_what_its_text_says(text, cell):
    assert read(text) == cell


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "this cell is empty; name a fabric or a part"),
        ("  ", "this cell is empty; name a fabric or a part"),
        ("navy /", "nothing stands right of the /; name a fabric there"),
        ("\\ navy", "nothing stands left of the \\; name a fabric there"),
        ("navy / / shell", "nothing stands right of the /; name a fabric there"),
        ("()", "there is nothing between the brackets; name a fabric there"),
        ("navy / shell \\ coral", "two strokes need brackets, like (navy \\ shell) / coral"),
        ("(navy", "there is a ( without its )"),
        ("(navy / shell", "there is a ( without its )"),
        ("navy)", "there is a ) without its ("),
        ("navy (shell)", "a stroke is missing between 'navy' and the ("),
        ("(navy) shell", "a stroke is missing between the ) and 'shell'"),
        ("(navy)(shell)", "a stroke is missing between ) and ("),
        ("(navy / shell) turn 90", "'turn' can't follow a bracket: only a part turns; make what is in brackets a part"),
        ("(navy) mirrored", "'mirrored' can't follow a bracket: only a part turns; make what is in brackets a part"),
        ("(" * 31 + "navy" + ")" * 31, "more than 30 brackets in one another"),
        ("navy turn 90", "'navy' is a fabric, and only a part turns; take out 'turn 90'"),
        ("turn 90", "'turn' needs the name of a part before it"),
        ("little four turn", "turn takes 90, 180 or 270, clockwise; nothing follows it"),
        ("little four turn 0", "turn takes 90, 180 or 270, clockwise; not '0'"),
        ("little four turn 90 turn 180", "'turn' is here twice; each change is made once at most"),
        ("little four mirrored mirrored", "'mirrored' is here twice; each change is made once at most"),
        ("little four mirrored 90", "'90' can't stand here; behind a part come turn 90, 180 or 270, and mirrored"),
        ("(navy / shell) / navy", "a second / along the first; a stroke is a line of the whole cell"),
        (
            "(navy | (shell / (navy | coral))) / coral",
            "a second / along the first; a stroke is a line of the whole cell",
        ),
        (
            "(navy \\ (shell / coral)) / reed",
            "a second / along the first; a stroke is a line of the whole cell",
        ),
        (
            "((navy | shell) \\ coral) / reed",
            "this | does not cut its half, it only touches it; a stroke goes through the middle",
        ),
        (
            "little four / navy",
            "the part 'little four' stands in a half that is no rectangle; only a fabric fits there",
        ),
        ("nvay", "no fabric or part is named 'nvay'; did you mean 'navy'?"),
        ("NAVY", "no fabric or part is named 'NAVY'; did you mean 'navy'?"),
        ("wave", "'wave' is a block, and a cell holds fabrics and parts; make it a part"),
        ("navy _ shell", "there is no stroke across; write {rows: [[navy], [shell]]}"),
        ("navy, shell", "'navy, shell' is one cell; put the cells of a row in [ ], with commas between them"),
        ("navy & shell", "'&' can't be in a name; use letters, digits, spaces, - and '"),
        ("'navy'", "''navy'' is no name; begin it with a letter or a digit"),
    ],
)
def test_a_cell_written_wrongly_is_told_in_these_words(text, words):
    assert wrong_in(text) == (words,)


def test_every_wrong_name_in_a_cell_is_told():
    assert wrong_in("nvay / (shelll \\ navy turn 90)") == (
        "no fabric or part is named 'nvay'; did you mean 'navy'?",
        "no fabric or part is named 'shelll'; did you mean 'shell'?",
        "'navy' is a fabric, and only a part turns; take out 'turn 90'",
    )


def test_a_part_that_could_not_be_read_is_no_fault_of_the_cell():
    assert read_cell("torn", names()) == (None, ())


def test_unknown_names_are_no_faults_where_the_names_are_not_all_known():
    partly = Names(FABRICS, {}, {}, {}, NearestName(), is_whole=False)
    assert read_cell("kelp / navy", partly) == (None, ())


def test_without_budget_an_unknown_name_is_told_without_a_suggestion():
    assert read_cell("nvay", Names(FABRICS * 3, {}, {}, {}, NearestName(0)))[1] == (
        "no fabric or part is named 'nvay'",
    )


def test_the_names_in_a_cell_are_found_whatever_its_form():
    assert list(names_in_cell("(little  four turn 90 | navy) / ) kelp \\ (")) == ["little four", "navy", "kelp"]


# --- strokes against shapely: every cell of three fabrics and strokes that a drawing allows, and no other

LINES = {
    "/": LineString([(-1, 2), (2, -1)]),
    "\\": LineString([(-1, -1), (2, 2)]),
    "|": LineString([(0.5, -1), (0.5, 2)]),
}
LEFT = {"/": (0.0, 0.0), "\\": (0.0, 1.0), "|": (0.0, 0.5)}  # a point that lies left of the line

trees = st.recursive(
    st.sampled_from(["navy", "shell", "little four"]),
    lambda inner: st.tuples(st.sampled_from("/\\|"), inner, inner),
    max_leaves=6,
)


def spell(tree) -> str:
    if isinstance(tree, str):
        return tree
    stroke, left, right = tree
    sides = [side if isinstance(side, str) else f"({spell(side)})" for side in (left, right)]
    return f"{sides[0]} {stroke} {sides[1]}"


def draw(tree, region: Polygon) -> bool:
    """Whether shapely can draw it: each stroke cuts its half in two, each part has a rectangle."""
    if isinstance(tree, str):
        return tree != "little four" or region.area == pytest.approx(box(*region.bounds).area)
    stroke, left, right = tree
    pieces = [piece for piece in split(region, LINES[stroke]).geoms if piece.area > 1e-9]
    if len(pieces) != 2:
        return False
    x, y = LEFT[stroke]
    pieces.sort(key=lambda piece: not is_on_side(piece, stroke, x, y))
    return draw(left, pieces[0]) and draw(right, pieces[1])


def is_on_side(piece: Polygon, stroke: str, x: float, y: float) -> bool:
    """Whether a piece lies on the side of the line on which the point lies."""
    (ax, ay), (bx, by) = LINES[stroke].coords
    middle = piece.centroid

    def side(px, py):
        return (bx - ax) * (py - ay) - (by - ay) * (px - ax)

    return side(middle.x, middle.y) * side(x, y) > 0


@given(trees)
@example(("/", ("\\", "navy", "shell"), ("|", "navy", "shell")))
@example(("|", "little four", ("/", "navy", ("\\", "shell", "navy"))))
@example(("\\", ("/", ("|", "navy", "shell"), "navy"), "navy"))
@settings(max_examples=150, deadline=None)
def test_strokes_that_cut_are_read_and_others_are_told(tree):
    cell, wrong = read_cell(spell(tree), names())
    assert (cell is not None) == draw(tree, box(0, 0, 1, 1))
    assert (cell is None) == bool(wrong)


@given(trees)
@settings(max_examples=60, deadline=None)
def test_mirroring_the_page_swaps_the_diagonals_and_the_sides(tree):
    def mirror(tree):
        if isinstance(tree, str):
            return tree
        stroke, left, right = tree
        return {"/": "\\", "\\": "/", "|": "|"}[stroke], mirror(right), mirror(left)

    # seen in a mirror, left and right change places, and so do the diagonals
    assert bool(read_cell(spell(tree), names()).wrong) == bool(read_cell(spell(mirror(tree)), names()).wrong)
    assert scale(LINES["/"], -1, 1, origin=(0.5, 0.5)).equals(LINES["\\"])


@given(st.text(alphabet="navyshel little four/\\|()turn 90mirored,'-", max_size=40))
@settings(max_examples=150)
def test_any_cell_is_read_or_told(text):
    cell, wrong = read_cell(text, names())
    assert cell is None or wrong == ()
    assert cell is not None or wrong or "torn" in text
