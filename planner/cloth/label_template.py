"""Where the words and the grain arrow of a template go: inside its seam line, as large as they fit.

Billionths of an inch, x right, y down.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import isqrt
from typing import NamedTuple

from planner.cloth.inside import do_meet, is_inside
from planner.cloth.pdf_text import measure_words
from planner.cloth.templates import Template
from planner.cloth.turn_template import Way
from planner.pictures.svg_elements import ONE, Spot, share

_LINE = 125  # from baseline to baseline, in hundredths of the size of the type
_POINT = ONE // 72
_TALL, _MIDDLE, _SMALL = (13, 11, 10, 9), (9, 8, 7), (11, 9, 7, 6, 5)
_MOST_LETTERS = 4
_LEAST_ARROW = ONE * 3 // 8  # beside words
_ARROWS = tuple(ONE * eighths // 8 for eighths in (16, 12, 8, 6, 4, 3, 2, 1))
_HALF_ARROW = share(ONE, 10)  # what it keeps free on either side
_STEPS = 12  # places that are tried across and down


class Arrow(NamedTuple):
    start: Spot
    end: Spot


class Label(NamedTuple):
    """Lines of text, each with the spot where it begins; `size` is that of the type. No words or no arrow where there
    is no room for them."""

    lines: tuple[tuple[str, Spot], ...]
    size: int
    arrow: Arrow | None


def label_template(template: Template, room: Sequence[Spot], ways: Sequence[Way], part: str) -> Label:
    """The label in a room: the outline of the seam line, or a part of that. `ways` are those in which the arrow may
    point; `part` says which part of a template that is larger than a page, else it is empty."""
    middles = list(_list_middles(room))
    for words, size in _list_words(template, part):
        wide = max(measure_words(line, size) for line in words) + share(size, 60)  # with a little room on both sides
        high = share(size, _LINE) * len(words)
        for middle in (spot for spot in middles if is_inside(_box(spot, wide, high), room)):
            box = _box(middle, wide, high + size // 2)
            arrow = _find_arrow(room, middles, ways, box, _LEAST_ARROW)
            if arrow is not None:
                return Label(_place(words, size, middle), size, arrow)
            break  # elsewhere is hardly more room
    return Label((), 0, _find_arrow(room, middles, ways, (), 0))


def _list_words(template: Template, part: str) -> Iterator[tuple[list[str], int]]:
    """What can be said, the fullest first, and in which size of type."""
    cuts = [f"{fabric.count} {fabric.fabric}{fabric.to_pile}" for fabric in template.fabrics]
    letters = [fabric.pile or fabric.letter for fabric in template.fabrics]
    few = len(letters) <= _MOST_LETTERS
    first = ", ".join(letters) if few else f"{len(letters)} fabrics"
    if few and all(fabric.pile for fabric in template.fabrics):  # a letter alone is a mark of a part
        first = f"pile{'' if len(letters) == 1 else 's'} {first}"
    last = [template.name, *say_lie(template), *([part] if part else [])]
    counts = zip(letters, template.fabrics, strict=True)
    short = ", ".join(f"{letter} {one.count}" for letter, one in counts) if few else f"cut {template.count}"
    fullest = [f"cut {', '.join(cuts)}"] if few else [f"cut {template.count} in all"]
    by_line = [f"cut {cuts[0]}", *cuts[1:]] if few else fullest
    tries = [
        (_TALL, [first, *fullest, *last]),
        (_TALL, [first, *by_line, *last]),
        (_MIDDLE, [first, *fullest, *last]),
        (_MIDDLE, [first, *by_line, *last]),
        (_TALL, [first, *fullest]),
        (_MIDDLE, [first, *by_line]),
        (_SMALL, [short]),
        (_SMALL, [first]),
    ]
    for sizes, lines in tries:
        for points in sizes:
            yield lines, points * _POINT


def say_lie(template: Template) -> list[str]:
    """What to mind in laying it on the cloth, where not either side will do, and what is cut off of it."""
    told = []
    if template.has_way:
        told.append("print up along the arrow")
    elif template.is_one_way:
        told.append("not mirrored")
    if template.is_blunt:
        told.append("points trimmed")
    return told


def _list_middles(room: Sequence[Spot]) -> Iterator[Spot]:
    """Places for the middle of something, those near the middle of the room first."""
    xs, ys = [x for x, _ in room], [y for _, y in room]
    left, top, wide, high = min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)
    middle = _find_centre(room)
    grid = [
        (left + wide * across // (2 * _STEPS), top + high * down // (2 * _STEPS))
        for across in range(1, 2 * _STEPS, 2)
        for down in range(1, 2 * _STEPS, 2)
    ]
    yield middle
    yield from sorted(grid, key=lambda spot: ((spot[0] - middle[0]) ** 2 + (spot[1] - middle[1]) ** 2, spot))


def _find_centre(room: Sequence[Spot]) -> Spot:
    """The centre of gravity."""
    pairs = [(room[number - 1], room[number]) for number in range(len(room))]
    crosses = [ax * by - ay * bx for (ax, ay), (bx, by) in pairs]
    six = 3 * sum(crosses)
    x, y = (sum((a[axis] + b[axis]) * cross for (a, b), cross in zip(pairs, crosses, strict=True)) for axis in (0, 1))
    return x // six, y // six


def _box(middle: Spot, wide: int, high: int) -> tuple[Spot, ...]:
    x, y = middle
    left, top = x - wide // 2, y - high // 2
    return (left, top), (left + wide, top), (left + wide, top + high), (left, top + high)


def _place(words: Sequence[str], size: int, middle: Spot) -> tuple[tuple[str, Spot], ...]:
    """Lines one under the other, each in the middle."""
    line = share(size, _LINE)
    top = middle[1] - line * len(words) // 2
    return tuple(
        (text, (middle[0] - measure_words(text, size) // 2, top + line * number + size))
        for number, text in enumerate(words)
    )


def _find_arrow(
    room: Sequence[Spot], middles: Sequence[Spot], ways: Sequence[Way], besides: Sequence[Spot], least: int
) -> Arrow | None:
    """The longest arrow in the room that leaves something else free, as near to the middle as can be."""
    for length in _ARROWS:
        if length < least:
            return None
        for middle in middles:
            for way in ways:
                arrow = _point(middle, way, length)
                box = _surround(arrow, way)
                if is_inside(box, room) and not (besides and do_meet(box, besides)):
                    return arrow
    return None


def _point(middle: Spot, way: Way, length: int) -> Arrow:
    x, y = (round(part * length / 2) for part in way)
    return Arrow((middle[0] - x, middle[1] - y), (middle[0] + x, middle[1] + y))


def _surround(arrow: Arrow, way: Way) -> tuple[Spot, ...]:
    """The rectangle that an arrow fills."""
    x, y = (round(part * _HALF_ARROW) for part in way)
    (ax, ay), (bx, by) = arrow
    return (ax - y, ay + x), (bx - y, by + x), (bx + y, by - x), (ax + y, ay - x)


def draw_head(tip: Spot, tail: Spot) -> tuple[Spot, ...]:
    """The head of an arrow, a triangle at its tip."""
    (tx, ty), (fx, fy) = tip, tail
    dx, dy = tx - fx, ty - fy
    length = isqrt(dx * dx + dy * dy)
    long = min(share(ONE, 11), share(length, 40))
    bx, by = tx - dx * long // length, ty - dy * long // length
    sx, sy = -dy * long * 2 // (5 * length), dx * long * 2 // (5 * length)
    return tip, (bx + sx, by + sy), (bx - sx, by - sy)
