"""What the maker chooses for all that comes after the top: backing, batting, binding, sleeve, pillows, bed, thread.

Lengths are inches as `Fraction`, minutes play no role here. Where nothing is written the records hold what is usual, in
the maker's measure (`choose_usual`); each of these is told wherever it is used, since makers differ in them.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal

from planner.measure import INCHES_PER_CM, Measure

Run = Literal["along", "across"]
BindingCut = Literal["straight", "bias"]
BindingJoin = Literal["slanted", "square"]

_CM = INCHES_PER_CM


@dataclass(frozen=True, slots=True)
class BackingChoice:
    """`overhang` is what the backing is larger than the top on every side, `seam` the allowance of its long seams. With
    `width` it is cloth of that width, as sold; without, that of the fabric. `run` says how the long seams run."""

    fabric: str | None = None
    width: Fraction | None = None
    overhang: Fraction = Fraction(4)
    seam: Fraction = Fraction(1, 2)
    run: Run | None = None


@dataclass(frozen=True, slots=True)
class BattingChoice:
    """`width` is that of the roll; without it the batting comes in one piece, and its size is told."""

    overhang: Fraction = Fraction(4)
    width: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BindingChoice:
    """`width` is the strip as it is cut; `extra` what is added to the way round, for corners and for closing."""

    fabric: str | None = None
    width: Fraction = Fraction(5, 2)
    cut: BindingCut = "straight"
    join: BindingJoin = "slanted"
    extra: Fraction = Fraction(10)


@dataclass(frozen=True, slots=True)
class SleeveChoice:
    """A tube for a rod on the back of a quilt that hangs; `depth` is how deep it lies there."""

    fabric: str | None = None
    depth: Fraction = Fraction(4)


@dataclass(frozen=True, slots=True)
class PillowChoice:
    """Pillows out of loose blocks: the side of a pillow, the fabric of its border and back, and by how much the two
    halves of the back lie over each other."""

    size: Fraction
    fabric: str | None = None
    overlap: Fraction = Fraction(4)


@dataclass(frozen=True, slots=True)
class BedChoice:
    """The mattress (`name` where it is one of the table), how far the quilt hangs down at both sides and at the foot,
    and how much longer it is for the pillows."""

    name: str | None
    wide: Fraction
    long: Fraction
    drop: Fraction = Fraction(12)
    tuck: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class ThreadChoice:
    """`ratio` is the thread for an inch of seam, both threads together; `waste` the part more that ends and unpicking
    take; `stitch` how long a stitch is."""

    ratio: Fraction = Fraction(5, 2)
    waste: Fraction = Fraction(15, 100)
    stitch: Fraction = Fraction(5, 2) * _CM / 10


@dataclass(frozen=True, slots=True)
class Finish:
    """None where the maker wants none of it."""

    backing: BackingChoice | None = field(default_factory=BackingChoice)
    batting: BattingChoice | None = field(default_factory=BattingChoice)
    binding: BindingChoice | None = field(default_factory=BindingChoice)
    sleeve: SleeveChoice | None = None
    pillow: PillowChoice | None = None
    bed: BedChoice | None = None
    thread: ThreadChoice = field(default_factory=ThreadChoice)

    @property
    def fabrics(self) -> tuple[str, ...]:
        """The fabrics that are named in it, each once."""
        parts = (self.backing, self.binding, self.sleeve, self.pillow)
        return tuple(dict.fromkeys(part.fabric for part in parts if part is not None and part.fabric is not None))


def choose_usual(measure: Measure) -> Finish:
    """What counts where nothing is written: round numbers of the maker's own measure."""
    if measure == "in":
        return Finish()
    return Finish(
        BackingChoice(overhang=10 * _CM, seam=_CM),
        BattingChoice(overhang=10 * _CM),
        BindingChoice(width=Fraction(13, 2) * _CM, extra=25 * _CM),
    )


def choose_sleeve(measure: Measure) -> SleeveChoice:
    """The usual sleeve."""
    return SleeveChoice() if measure == "in" else SleeveChoice(depth=10 * _CM)


def choose_overlap(measure: Measure) -> Fraction:
    """By how much the halves of a pillow's back usually lie over each other."""
    return Fraction(4) if measure == "in" else 10 * _CM


def choose_drop(measure: Measure) -> Fraction:
    """How far a quilt usually hangs down at the sides of a bed."""
    return Fraction(12) if measure == "in" else 30 * _CM
