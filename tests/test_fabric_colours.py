"""Colours of fabrics: the maker's own, else as light as the value says, and every letter readable on its cloth."""

from __future__ import annotations

import re
from itertools import combinations

import pytest

from planner.project import Fabric
from tui.fabric_colours import BLACK, WHITE, FabricColour, colour_fabrics, contrast, write_on


def fabric(name: str, value: int = 5, colour: str | None = None) -> Fabric:
    return Fabric(name, value, str(value), "medium", colour, name[:1], 1)


def parts(colour: str) -> tuple[int, int, int]:
    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return red, green, blue


def test_the_makers_own_colour_is_taken_as_it_is() -> None:
    colours = colour_fabrics([fabric("coral", colour="#e8735a"), fabric("ink", colour="#101020")])
    assert colours == {"coral": FabricColour("#e8735a", BLACK), "ink": FabricColour("#101020", WHITE)}


# The values of the guidelines' own definition (WCAG 2): black on white is 21, a colour on itself 1; #767676 is the
# lightest grey that is known to pass 4.5 on white
@pytest.mark.parametrize(
    ("first", "second", "least", "most"),
    [(BLACK, WHITE, 21, 21), ("#336699", "#336699", 1, 1), ("#767676", WHITE, 4.5, 4.6), ("#777777", WHITE, 4.4, 4.5)],
)
def test_contrast_is_that_of_the_guidelines(first: str, second: str, least: float, most: float) -> None:
    assert least <= round(contrast(first, second), 3) <= most
    assert contrast(first, second) == contrast(second, first)


def test_what_is_written_on_any_cloth_can_be_read() -> None:
    steps = ("00", "33", "66", "77", "99", "cc", "ff")
    for red in steps:
        for green in steps:
            for blue in steps:
                cloth = f"#{red}{green}{blue}"
                assert write_on(cloth) in (BLACK, WHITE)
                assert contrast(cloth, write_on(cloth)) >= 4.5


def test_chosen_colours_can_be_read_and_are_colours() -> None:
    for value in range(1, 11):
        for colour in colour_fabrics([fabric(f"{place} {value}", value) for place in range(20)]).values():
            assert re.fullmatch("#[0-9a-f]{6}", colour.cloth)
            assert contrast(*colour) >= 4.5


def test_a_darker_value_is_a_darker_cloth() -> None:
    for place in range(12):
        row = [
            colour_fabrics([*(fabric(f"before {n}") for n in range(place)), fabric("this", value)])["this"].cloth
            for value in range(1, 11)
        ]
        brightness = [contrast(cloth, BLACK) for cloth in row]
        assert brightness == sorted(brightness, reverse=True)
        assert len(set(brightness)) == 10


@pytest.mark.parametrize("value", range(1, 11))
def test_fabrics_of_one_value_are_told_apart_by_hue(value: int) -> None:
    colours = [colour.cloth for colour in colour_fabrics([fabric(f"{n}", value) for n in range(6)]).values()]
    for first, second in combinations(colours, 2):
        assert sum(abs(a - b) for a, b in zip(parts(first), parts(second), strict=True)) >= 20


def test_chosen_colours_are_muted() -> None:
    for value in range(1, 11):
        for colour in colour_fabrics([fabric(f"{n}", value) for n in range(12)]).values():
            assert max(parts(colour.cloth)) - min(parts(colour.cloth)) <= 110


def test_a_fabric_added_at_the_end_or_coloured_by_the_maker_changes_no_other() -> None:
    few = [fabric("navy", 9), fabric("shell", 2)]
    colours = colour_fabrics([*few, fabric("reed", 4)])
    assert {name: colours[name] for name in ("navy", "shell")} == colour_fabrics(few)
    assert colour_fabrics([fabric("navy", 9, "#223355"), few[1]])["shell"] == colours["shell"]
