"""Pictures of squares that a method sews whole: one on another, with the lines that are drawn on the upper ones."""

from __future__ import annotations

from fractions import Fraction

from planner.cloth.method_parts import Part
from planner.say_step import Speaker
from planner.sheet import SewWork
from tui.canvas import Canvas, Easel
from tui.paint_scene import even_rows, spell_label

_TALLEST, _LOWEST = 13, 5  # rows of a square
_WORDS = "slanting: the line to draw"
_Box = tuple[Fraction, Fraction, str]  # where its upper left corner is on the diagonal, its side, its fabric


def draw_squares(speaker: Speaker, work: SewWork, width: int, height: int) -> Canvas | None:
    """What is laid together at the machine; None where the method has no such squares, or they would be too small."""
    part = next(iter(speaker.methods.parts.of(work.chain.unit)), None)
    boxes = _find_boxes(part) if part is not None else ()
    rows = min(_TALLEST, height - 2, (width - 1) // 2)
    if part is None or not boxes or rows < _LOWEST or width < len(_WORDS):
        return None
    side = boxes[0][1]
    easel = Easel(2 * rows + 1, rows + 1)

    def spot(x: Fraction, y: Fraction) -> tuple[float, float]:
        return float(0.5 + x * 2 * rows / side), float(0.5 + y * rows / side)

    for number, (at, wide, _) in enumerate(boxes):
        corners = [spot(at, at), spot(at + wide, at), spot(at + wide, at + wide), spot(at, at + wide)]
        easel.fill(number, corners)
        for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
            easel.rule(start, end, "edge")
    zero = Fraction(0)
    easel.rule(spot(zero, zero), spot(side, side), "seam")
    if part.way.method == "eight at a time":
        easel.rule(spot(zero, side), spot(side, zero), "seam")
    letters = {fabric.name: fabric.letter for fabric in speaker.plan.project.fabrics}
    fabrics = [fabric for _, _, fabric in boxes]
    easel.write_letters([letters[fabric] for fabric in fabrics])
    words = spell_label(_WORDS, range(0), len(_WORDS))
    return even_rows([words, *easel.rows(fabrics)])


def _find_boxes(part: Part) -> tuple[_Box, ...]:
    """The squares that can be seen, the lowest first."""
    family, cut = part.choice.unit.family, part.way.rectangles
    if family == "flying goose" and part.way.method == "four at a time" and not part.is_last:
        large, small = cut
        far = large.wide - small.wide
        return (
            (Fraction(0), large.wide, large.fabric),
            (Fraction(0), small.wide, small.fabric),
            (far, small.wide, small.fabric),
        )
    is_first = family == "triangle square" or (family == "hourglass" and not part.is_last)
    if is_first and part.way.method in ("two at a time", "eight at a time"):
        return ((Fraction(0), cut[0].wide, cut[0].fabric),)
    return ()
