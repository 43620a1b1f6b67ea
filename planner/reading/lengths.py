"""The lengths of one project file: read in the maker's measure, and told in it."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from planner.measure import Measure, Ruler, read_length, read_rooted_length, spell_number, spell_rooted
from planner.reading.read_keys import Entry, Reading, read_measured
from planner.surd import Exact, Surd, from_length, to_length

LONGEST_SIDE = Fraction(1_000)  # inches, finished


class Lengths(NamedTuple):
    """What lengths are read and compared with; None where it could not be read, and then they are not compared."""

    measure: Measure | None
    seam: Fraction | None

    def read(self, text: str) -> Fraction:
        """A length in inches. ValueError, with words for the maker, as that of measure."""
        return read_length(text, self.measure or "in")

    def read_rooted(self, text: str) -> Exact:
        """A length in inches, which may have a root in it. ValueError as `read`."""
        return from_length(read_rooted_length(text, self.measure or "in"))

    def spell(self, *lengths: Exact) -> str:
        """One length in words, or several with an x between them: `6 1/2 in`, `12 x 9 in`, `30.5 cm`; with a root to
        the nearest line of a ruler: `about 8 1/2 in`."""
        ruler = Ruler(self.measure or "in")
        spelled = (ruler.exact(to_length(length)).removesuffix(" cm") for length in lengths)
        return " x ".join(spelled) + f" {ruler.measure}"


def spell_proportion(value: Exact) -> str:
    """A number without an ending, as a maker writes it: `6 1/2`, `4+2r2`."""
    return spell_rooted(to_length(value)) if isinstance(value, Surd) else spell_number(value)


def read_width(reading: Reading, entry: Entry | None, where: str, lengths: Lengths) -> Fraction | None:
    """The finished width of strips: above 0, and not absurdly wide."""
    if entry is None:
        return None
    width = read_measured(reading, entry.node, where, "the finished width, like 2 or 1 1/2 in", lengths.read)
    if width is not None and lengths.measure is not None and width > LONGEST_SIDE:
        words = f"{lengths.spell(width)} is too wide; at most {lengths.spell(LONGEST_SIDE)}"
        reading.add(entry.node.line, where, words)
    return width
