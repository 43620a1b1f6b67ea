"""Borders of a quilt on point -> the strips that lie round it, exact, in inches.

Along the quilt's edges lengths are counted in inches / sqrt(2) (a half diagonal of a block is then half its side, and a
border's width has a root); x and y of the blocks' frame are their sum and their difference.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.project import Border
from planner.surd import Exact, ExactOutline, Surd

Slanting = tuple[Exact, Exact, Exact, Exact, Exact]
_Box = tuple[Exact, Exact, Exact, Exact]  # left, top, right, bottom, along the quilt's edges
ZERO, ONE = Fraction(0), Fraction(1)


class Frame(NamedTuple):
    """Fabrics and corners of the strips, what is whole before anything is sewn round or onto it (left, top, right,
    bottom of the box round it, and x of its uppermost corner), and by how much all must be moved right and down to
    begin at 0, 0."""

    strips: tuple[tuple[str, ExactOutline], ...]
    inner: tuple[Slanting, ...]
    shift: Exact


def frame_on_point(borders: Iterable[Border], wide: Exact, high: Exact, longest: Mapping[str, Fraction]) -> Frame:
    """Border after border round a top of these sides (inches / sqrt(2)), whose upper left corner, as one looks at it,
    lies at 0, `wide` of the blocks' frame. No strip is longer than `longest` says of its fabric, in inches."""
    box: _Box = (ZERO, ZERO, wide, high)
    strips: list[tuple[str, ExactOutline]] = []
    inner: list[Slanting] = []
    for border in borders:
        left, top, right, bottom = box
        width = Surd(ZERO, border.width / 2, 2)
        outer = (left - width, top - width, right + width, bottom + width)
        frame = [(border.fabric, (outer[0], top, left, bottom)), (border.fabric, (right, top, outer[2], bottom))]
        for y0, y1 in ((outer[1], top), (bottom, outer[3])):
            if border.posts is None:
                frame.append((border.fabric, (outer[0], y0, outer[2], y1)))
            else:
                frame.append((border.posts, (outer[0], y0, left, y1)))
                frame.append((border.fabric, (left, y0, right, y1)))
                frame.append((border.posts, (right, y0, outer[2], y1)))
        inner.append(_slant(box, wide))
        for fabric, strip in frame:
            pieces = list(_divide(strip, longest[fabric]))
            strips += ((fabric, _turn(piece, wide)) for piece in pieces)
            if len(pieces) > 1:
                inner.append(_slant(strip, wide))
        box = outer
    return Frame(tuple(strips), tuple(inner), -2 * box[0])


def _divide(strip: _Box, longest: Fraction) -> Iterator[_Box]:
    """A strip in the fewest equal lengths of which none is too long."""
    left, top, right, bottom = strip
    wide, high = right - left, bottom - top
    many = ceil(max(wide, high) * Surd(ZERO, ONE, 2) / longest)
    for number in range(many):
        first, last = Fraction(number, many), Fraction(number + 1, many)
        if wide >= high:
            yield left + first * wide, top, left + last * wide, bottom
        else:
            yield left, top + first * high, right, top + last * high


def _slant(box: _Box, wide: Exact) -> Slanting:
    left, top, right, bottom = box
    return left + top, top - right + wide, right + bottom, bottom - left + wide, right + top


def _turn(box: _Box, wide: Exact) -> ExactOutline:
    """The corners of a box in the blocks' frame."""
    left, top, right, bottom = box
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return tuple((along + down, down - along + wide) for along, down in corners)
