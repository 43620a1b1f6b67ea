"""Small random drafts with patches of any shape: a grid, some of its squares cut across, and neighbours put together.

There is nothing in them that helps: few can be sewn straight, some can't be sewn at all.
"""

from __future__ import annotations

import random
from fractions import Fraction
from itertools import pairwise

Point = tuple[Fraction, Fraction]
Polygon = tuple[Point, ...]


def draw_draft(chance: random.Random, most_patches: int) -> tuple[Polygon, ...]:
    """Patches of a block, their corners clockwise as one looks at them; the squares of the grid are 2 wide."""
    wide, high = chance.randint(2, 4), chance.randint(2, 3)
    faces = [face for x in range(wide) for y in range(high) for face in _draw_cell(chance, x, y)]
    many = chance.randint(2, most_patches)
    while len(faces) > many:
        one, other = chance.sample(range(len(faces)), 2)
        merged = _merge(faces[one], faces[other])
        if merged is not None:
            faces = [face for place, face in enumerate(faces) if place not in (one, other)] + [merged]
    return tuple(_leave_out_straight(face) for face in faces)


def _draw_cell(chance: random.Random, x: int, y: int) -> list[Polygon]:
    square = [(Fraction(2 * (x + i)), Fraction(2 * (y + j))) for i, j in ((0, 0), (1, 0), (1, 1), (0, 1))]
    if chance.random() < 0.6:
        return [tuple(square)]
    first = chance.choice((0, 1))
    square = square[first:] + square[:first]
    return [tuple(square[:3]), (*square[2:], square[0])]


def _merge(one: Polygon, other: Polygon) -> Polygon | None:
    """The outline of two faces; None where it would touch itself, or they do not border on each other."""
    edges = [*_list_edges(one), *_list_edges(other)]
    outer = [edge for edge in edges if edge[::-1] not in edges]
    rest = dict(outer)
    if len(outer) == len(edges) or len(rest) < len(outer):
        return None
    first = min(rest)
    way = [first]
    while rest[way[-1]] != first:
        way.append(rest[way[-1]])
    return tuple(way) if len(way) == len(rest) else None


def _list_edges(polygon: Polygon) -> list[tuple[Point, Point]]:
    return list(pairwise((*polygon, polygon[0])))


def _leave_out_straight(polygon: Polygon) -> Polygon:
    kept = []
    for place, (x, y) in enumerate(polygon):
        (bx, by), (ax, ay) = polygon[place - 1], polygon[(place + 1) % len(polygon)]
        if (x - bx) * (ay - y) != (y - by) * (ax - x):
            kept.append((x, y))
    return tuple(kept)
