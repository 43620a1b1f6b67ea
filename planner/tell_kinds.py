"""Which units of a plan are of one kind: the same patches in the same places, sewn by the same seams."""

from __future__ import annotations

from typing import NamedTuple

from planner.read_plan import Outline, Point, Work

_Box = tuple[int, int, int, int]
_QUARTERS = (0, 1, 2, 3)


class Kind(NamedTuple):
    """What a seam's result is, however it lies."""

    form: int  # equal for units of one kind
    looks_turned_the_same: bool  # a half turn carries it onto itself, seams too
    pressed_to: tuple[Point, int] | None  # the side pressed to, told as if all units of the kind lay alike; None: open


def tell_kinds(work: Work) -> tuple[Kind, ...]:
    """One kind for each seam, in their order.

    A unit's form is the fabric and outline of a patch, or both sides' forms and places; a side's own seams are part
    of its form, so equal forms are sewn in the same way all through. Each form is numbered once, in each of the four
    quarter turns; the least of its four numbers stands for all of them.
    """
    numbers: dict[object, int] = {}
    boxes: list[_Box] = []
    forms: list[tuple[int, ...]] = []
    for patch in work.patches:
        boxes.append(_find_box(patch.outline))
        laid = [(patch.fabric, _lay(patch.outline, quarters)) for quarters in _QUARTERS]
        forms.append(tuple(numbers.setdefault(lies, len(numbers)) for lies in laid))
    kinds = []
    for seam in work.seams:
        box = _join_boxes(boxes[seam.a], boxes[seam.b])
        sides = {
            side: [_place_side(box, boxes[side], forms[side], quarters) for quarters in _QUARTERS]
            for side in (seam.a, seam.b)
        }
        turns = [tuple(sorted((sides[seam.a][quarters], sides[seam.b][quarters]))) for quarters in _QUARTERS]
        form = tuple(numbers.setdefault(turn, len(numbers)) for turn in turns)
        boxes.append(box)
        forms.append(form)
        kinds.append(
            Kind(
                min(form),
                form[0] == form[2],
                None if seam.pressed is None else sides[seam.pressed][form.index(min(form))],
            )
        )
    return tuple(kinds)


def _place_side(box: _Box, side: _Box, form: tuple[int, ...], quarters: int) -> tuple[Point, int]:
    left, top = _turn_box(box, quarters)
    side_left, side_top = _turn_box(side, quarters)
    return (side_left - left, side_top - top), form[quarters]


def _turn(point: Point, quarters: int) -> Point:
    x, y = point
    return ((x, y), (-y, x), (-x, -y), (y, -x))[quarters]


def _turn_box(box: _Box, quarters: int) -> Point:
    """The upper left corner of a box after so many quarter turns about 0,0."""
    left, top, right, bottom = box
    return _turn(((left, top), (left, bottom), (right, bottom), (right, top))[quarters], quarters)


def _lay(outline: Outline, quarters: int) -> Outline:
    """The outline turned, its box moved to 0,0, told from its first corner."""
    left, top = _turn_box(_find_box(outline), quarters)
    turned = [_turn(corner, quarters) for corner in outline]
    first = turned.index(min(turned))
    return tuple((x - left, y - top) for x, y in (*turned[first:], *turned[:first]))


def _find_box(outline: Outline) -> _Box:
    xs, ys = zip(*outline, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _join_boxes(first: _Box, second: _Box) -> _Box:
    return (
        min(first[0], second[0]),
        min(first[1], second[1]),
        max(first[2], second[2]),
        max(first[3], second[3]),
    )
