"""Patches that can't be cut: with its allowances the outline would run into itself, as at a slot that is too narrow."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from planner.cut_sizes import Length, measure_side, widen_outline
from planner.measure import Root
from planner.project import Block, DrawnPatch, Patches
from planner.reading.fit_drafts import walk_drafts
from planner.reading.polygon import find_touch, is_convex, is_simple, run_clockwise, turn_at, where_in
from planner.surd import Exact, ExactOutline, ExactPoint, divide, sign_of


class Uncut(NamedTuple):
    """A patch of a draft that no cut gives. `cell` says where in the block the draft is put, nothing for the block as a
    whole; `sides` are those that leave no room for two allowances, in box units; `slot` how wide it is between two of
    them, in inches, where they run side by side."""

    patch: DrawnPatch
    cell: str
    sides: tuple[tuple[ExactPoint, ExactPoint], ...]
    slot: Length | None


class _Gap(NamedTuple):
    """What is wrong between two sides of an outline, or at one, by their numbers: side 0 begins at corner 0."""

    sides: tuple[int, ...]
    slot: Length | None = None


def find_uncut(block: Block, seam: Fraction) -> list[Uncut]:
    """The patches of a block that can't be cut with an allowance of `seam` inches, each once, at the first of its
    sizes."""
    found: dict[tuple[int, int], Uncut] = {}
    for draft, (wide, high), cell in walk_drafts(block, _has_inner_corners):
        for number, patch in enumerate(draft.patches):
            corners = run_clockwise(patch.corners)
            if is_convex(corners) or (id(draft), number) in found:
                continue
            across, down = divide(wide, draft.box[0]), divide(high, draft.box[1])
            gap = why_not_cut(tuple((x * across, y * down) for x, y in corners), seam)
            if gap is not None:
                sides = tuple((corners[side], corners[(side + 1) % len(corners)]) for side in gap.sides)
                found[id(draft), number] = Uncut(patch, cell, sides, gap.slot)
    return list(found.values())


def _has_inner_corners(draft: Patches) -> bool:
    return not all(is_convex(patch.corners) for patch in draft.patches)


def why_not_cut(outline: ExactOutline, seam: Fraction) -> _Gap | None:
    """Where the allowances of a simple outline, clockwise, in inches, run into each other; None where it can be cut.

    It can where the outline to cut is simple, goes round the finished one, and has its sides in the same order: a side
    that runs the other way is nearer than an allowance to what comes after it.
    """
    cut = widen_outline(outline, seam)
    turned = [number for number, (side, wider) in enumerate(_pair(outline, cut)) if _along(side, wider) <= 0]
    if not turned and is_simple(cut) and _goes_round(cut, outline):
        return None
    slots = sorted(_find_slots(outline, 2 * seam), key=lambda slot: (slot[0], slot[1]))
    if slots:
        _, sides, width = slots[0]
        return _Gap(sides, width)
    touch = None if turned else find_touch(cut)
    return _Gap((turned[0],) if turned else touch or (0,))


_Side = tuple[ExactPoint, ExactPoint]


def _sides_of(outline: ExactOutline) -> list[_Side]:
    return list(zip(outline, (*outline[1:], outline[0]), strict=True))


def _pair(outline: ExactOutline, cut: ExactOutline) -> Iterator[tuple[_Side, _Side]]:
    return zip(_sides_of(outline), _sides_of(cut), strict=True)


def _along(one: _Side, other: _Side) -> int:
    """1 where two sides run the same way, more or less."""
    (a, b), (c, d) = one, other
    return sign_of((b[0] - a[0]) * (d[0] - c[0]) + (b[1] - a[1]) * (d[1] - c[1]))


def _goes_round(cut: ExactOutline, outline: ExactOutline) -> bool:
    """Whether all of an outline lies inside of a simple one to cut."""
    return (
        sign_of(_twice_area(cut)) > 0
        and all(where_in(cut, corner) > 0 for corner in outline)
        and not any(where_in(outline, corner) >= 0 for corner in cut)
        and not any(_cross(one, other) for one in _sides_of(outline) for other in _sides_of(cut))
    )


def _twice_area(outline: ExactOutline) -> Exact:
    first = outline[0]
    return sum((turn_at(first, one, other) for one, other in _sides_of(outline)), Fraction(0))


def _cross(one: _Side, other: _Side) -> bool:
    (a, b), (c, d) = one, other
    return (
        sign_of(turn_at(a, b, c)) * sign_of(turn_at(a, b, d)) < 0
        and sign_of(turn_at(c, d, a)) * sign_of(turn_at(c, d, b)) < 0
    )


def _find_slots(outline: ExactOutline, least: Fraction) -> Iterator[tuple[Fraction, tuple[int, int], Length]]:
    """Pairs of sides that run side by side outside of the outline, at most `least` inches apart: about how far, for
    sorting, the two sides, and how far exactly."""
    sides = _sides_of(outline)
    for second, (c, d) in enumerate(sides):
        for first, (a, b) in enumerate(sides[:second]):
            away = turn_at(a, b, c)
            if turn_at(a, b, d) != away or away >= 0 or _along((a, b), (c, d)) > 0:
                continue
            x, y = b[0] - a[0], b[1] - a[1]
            square = x * x + y * y
            if away * away > least * least * square:
                continue
            # How far along the first each end lies, in shares of it
            from_c, from_d = (divide((p[0] - a[0]) * x + (p[1] - a[1]) * y, square) for p in (c, d))
            low, high = max(from_d, Fraction(0)), min(from_c, Fraction(1))
            if low >= high:
                continue
            half = divide(low + high, 2)
            # Half way over: the way from one to the other is square to both
            over = divide(away, 2 * square)
            middle = a[0] + x * half - y * over, a[1] + y * half + x * over
            if where_in(outline, middle) < 0:
                share = divide(away, square)
                width = measure_side(x * share, y * share)
                yield width.approach() if isinstance(width, Root) else width, (first, second), width
