"""Units that a grid makes clumsy, patch by patch: flying geese, a square in a square, corners cut off.

Patches are fabrics and outlines in a box whose size is told beside them; x runs right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from planner.project import Heading
from planner.surd import Exact, ExactOutline, ExactPoint

Drawn = tuple[str, ExactOutline]

ZERO, HALF, ONE, TWO = Fraction(0), Fraction(1, 2), Fraction(1), Fraction(2)


def draw_geese(goose: Sequence[str], sky: Sequence[str], point: Heading, count: int) -> tuple[ExactPoint, list[Drawn]]:
    """The box of so many geese, each twice as wide as long, one behind another; and their patches, from the top down
    or from left to right. Fabrics are gone through over and over."""
    drawn: list[Drawn] = []
    is_upright = point in ("up", "down")
    for at in range(count):
        near, far = Fraction(at), Fraction(at + 1)
        tip, base = (near, far) if point in ("up", "left") else (far, near)
        large: ExactOutline = ((ZERO, base), (ONE, tip), (TWO, base))
        small: list[ExactOutline] = [((side, base), (side, tip), (ONE, tip)) for side in (ZERO, TWO)]
        fabrics = (goose[at % len(goose)], *[sky[at % len(sky)]] * 2)
        for fabric, outline in zip(fabrics, (large, *small), strict=True):
            drawn.append((fabric, outline if is_upright else tuple((y, x) for x, y in outline)))
    long = Fraction(count)
    return ((TWO, long) if is_upright else (long, TWO)), drawn


def draw_square(centre: str, around: Sequence[str]) -> list[Drawn]:
    """A square in a box of 1, and round it triangles on its four sides, round by round; each round makes it a square
    that stands askew to the one before. The last round has its corners in those of the box."""
    outline: ExactOutline = ((ZERO, ZERO), (ONE, ZERO), (ONE, ONE), (ZERO, ONE))
    rounds: list[list[Drawn]] = []
    for fabric in reversed(around):
        middles = [_middle(one, other) for one, other in zip(outline, outline[1:] + outline[:1], strict=True)]
        rounds.append([(fabric, (middles[at - 1], corner, middles[at])) for at, corner in enumerate(outline)])
        outline = tuple(middles)
    return [(centre, outline), *(patch for one in reversed(rounds) for patch in one)]


def draw_snowball(
    centre: str, corners: tuple[str | None, str | None, str | None, str | None], box: ExactPoint, size: Exact
) -> list[Drawn]:
    """What is left of a box, and the triangles of `size` along both sides that are cut off its corners, clockwise from
    the upper left one; None leaves a corner on. The corners fit in."""
    (wide, high), drawn = box, list[Drawn]()
    left: list[ExactPoint] = []
    places: list[tuple[ExactPoint, ExactPoint, ExactPoint]] = [
        ((ZERO, size), (ZERO, ZERO), (size, ZERO)),
        ((wide - size, ZERO), (wide, ZERO), (wide, size)),
        ((wide, high - size), (wide, high), (wide - size, high)),
        ((size, high), (ZERO, high), (ZERO, high - size)),
    ]
    for fabric, place in zip(corners, places, strict=True):
        if fabric is not None:
            drawn.append((fabric, place))
        left += [place[1]] if fabric is None else [place[0], place[2]]
    return [(centre, tuple(dict.fromkeys(left))), *drawn]


def _middle(one: ExactPoint, other: ExactPoint) -> ExactPoint:
    return (one[0] + other[0]) * HALF, (one[1] + other[1]) * HALF
