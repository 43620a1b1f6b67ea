"""How large a scene is drawn, and in how much detail: cells for a length across and down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import floor
from typing import Literal, NamedTuple

from planner.surd import Grid
from tui.canvas import Spot
from tui.scene import Scene, nearly

# outlined: the border and all seams have cells of their own. ruled: the seams have. plain: neither, all is cloth.
Detail = Literal["outlined", "ruled", "plain"]
ALL_DETAILS: tuple[Detail, ...] = ("outlined", "ruled", "plain")

LARGEST_PATCH = 6.0  # rows: a patch that is drawn larger says no more
_NARROWEST = 5.0  # columns of cloth, where stretching gives them
_FLATTEST = 3.0  # rows of cloth, where stretching gives them
_MOST_STRETCH = 3.0
_HAIR = 1e-6


class Fit(NamedTuple):
    """Columns for a length across, rows for a length down."""

    across: float
    down: float
    detail: Detail

    def rows(self, high: float) -> int:
        """How many rows a scene takes."""
        return max(1, floor(high * self.down + 0.5) + {"outlined": 1, "ruled": -1, "plain": 0}[self.detail])

    def columns(self, wide: float) -> int:
        """How many columns a scene takes."""
        return max(1, floor(wide * self.across + 0.5) + {"outlined": 1, "ruled": -1, "plain": 0}[self.detail])

    @property
    def start(self) -> float:
        """Where a scene's upper left begins, in cells: a border that has cells of its own runs through their middle."""
        return {"outlined": 0.5, "ruled": -0.5, "plain": 0.0}[self.detail]


class View(NamedTuple):
    """Where the points of a scene lie on an easel: `left` and `top` are drawn at column `x` and row `y`."""

    left: float | Grid
    top: float | Grid
    x: float
    y: float
    across: float
    down: float

    def spot(self, x: float | Grid, y: float | Grid) -> Spot:
        across, down = nearly(x) - nearly(self.left), nearly(y) - nearly(self.top)
        return self.x + across * self.across, self.y + down * self.down


class Extent(NamedTuple):
    """What a fit depends on: the whole scene, the narrowest part that must be seen in it, its corners and patches."""

    wide: float
    high: float
    narrowest: float
    step_down: int
    typical_side: float
    least_wide: float  # the narrowest patch, and the flattest
    least_high: float
    is_upright: bool  # every side of every patch is upright or level


def measure_scenes(*scenes: Scene) -> Extent:
    """The extent of scenes of one frame that lie side by side."""
    boxes = [scene.box for scene in scenes]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    right, bottom = max(box[2] for box in boxes), max(box[3] for box in boxes)
    whole = Scene(
        tuple(outline for scene in scenes for outline in scene.patches),
        (),
        (),
        ((left, top), (right, top), (right, bottom), (left, bottom)),
    )
    return Extent(
        nearly(right - left),
        nearly(bottom - top),
        nearly(min(box[2] - box[0] for box in boxes)),
        whole.step_down,
        whole.typical_side,
        min(wide for wide, _ in whole.sides_of_patches),
        min(high for _, high in whole.sides_of_patches),
        whole.is_upright,
    )


def offer_fits(
    extent: Extent, columns: Mapping[Detail, float], rows: int, largest: float = LARGEST_PATCH
) -> Iterator[Fit]:
    """Fits that take at most so many rows, and whose cloth is at most so many columns wide; the best first.

    Those come first that show most; of these the ones that draw equal patches equally large.
    """
    fits: dict[Detail, list[Fit]] = {"outlined": [], "ruled": [], "plain": []}
    for detail in fits:
        taken = {"outlined": 1, "ruled": -1, "plain": 0}[detail]
        most_down, most_across = (rows - taken) / extent.high, columns[detail] / extent.wide
        down = min(most_down, most_across / 2, largest / extent.typical_side)
        if down <= 0:
            continue
        whole = floor(down * extent.step_down + _HAIR) if extent.step_down else 0
        for scale in ([whole / extent.step_down] if whole else []) + [down]:
            fit = _stretch(extent, Fit(2 * scale, scale, detail), most_across, most_down)
            if detail == "plain" or (extent.least_high * fit.down > 1.5 and extent.least_wide * fit.across > 1.5):
                fits[detail].append(fit)
    for even in (True, False):
        for detail in ("outlined", "ruled"):
            pair = fits[detail]
            # an even fit is worth some size, not all of it
            if len(pair) == 2 and even and pair[0].down >= 0.6 * pair[1].down:
                yield pair[0]
            elif pair and not even:
                yield pair[-1]
    yield from fits["plain"]


def _stretch(extent: Extent, fit: Fit, most_across: float, most_down: float) -> Fit:
    """A long thin scene is drawn less thin where else nothing would be seen of it; it stays longer than wide, and
    slanting lines keep their slant."""
    if not extent.is_upright:
        return fit
    across, down = fit.across, fit.down
    if extent.narrowest * across < _NARROWEST:
        longer = 2 * down * extent.high / extent.wide
        across = max(across, min(_NARROWEST / extent.narrowest, _MOST_STRETCH * across, most_across, longer))
    if extent.high * down < _FLATTEST:
        longer = across * extent.narrowest / (2 * extent.high)
        down = max(down, min(_FLATTEST / extent.high, _MOST_STRETCH * down, most_down, longer))
    return Fit(across, down, fit.detail)
