"""Seams -> stitches and thread."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import floor
from typing import NamedTuple

from planner.blocks import Point
from planner.finish import ThreadChoice
from planner.measure import Root
from planner.plan import Plan
from planner.surd import root_of

_FINE = Fraction(1, 64)  # inches up to which a seam with a root in its length is rounded
LOCKSTITCH = 2  # threads that lie along the seam: one above, one below


class Thread(NamedTuple):
    """Inches of seam; stitches; thread with the waste in it; how much of that is on the bobbin."""

    seams: Fraction
    stitches: int
    length: Fraction
    bobbin: Fraction


def find_thread(plan: Plan, choice: ThreadChoice) -> Thread:
    """What all seams of the plan take, the pieced strips of borders not counted."""
    seams = sum_seams(plan)
    length = need_thread(seams, choice.ratio, choice.waste)
    return Thread(seams, count_stitches(seams, choice.stitch), length, length / 2)


def sum_seams(plan: Plan) -> Fraction:
    """Inches that are sewn, the allowances at both ends of each seam included."""
    total = Fraction(0)
    for number, count in enumerate(plan.batches.count_of):
        unit = plan.units.units[number]
        if unit.a is None or not count:
            continue
        length = sum(_measure_legs(plan, unit.legs or unit.seam), Fraction(0))
        # One that turns, stops half way or finishes another is not sewn through at both ends, but backstitched
        total += count * (length + 2 * plan.project.seam)
    return total


def _measure_legs(plan: Plan, way: tuple[Point, ...]) -> Iterator[Fraction]:
    for (px, py), (qx, qy) in pairwise(way):
        square = (qx - px) * (qx - px) + (qy - py) * (qy - py)
        length = root_of(plan.blocks.inches(square) * Fraction(1, plan.blocks.scale))
        yield length.up_to(_FINE) if isinstance(length, Root) else length


def find_ratio(thickness: Fraction, stitches: int, runs: int = LOCKSTITCH) -> Fraction:
    """Inches of thread for an inch of seam: the threads along it, and at each stitch down and up through the cloth.
    `thickness` is that of all layers, in inches; `stitches` are those of an inch."""
    return runs + 2 * thickness * stitches


def measure_ratio(seam: Fraction, *threads: Fraction) -> Fraction:
    """The same from a seam that was unpicked, and the threads that came out of it."""
    return sum(threads, Fraction(0)) / seam


def need_thread(seam: Fraction, ratio: Fraction, waste: Fraction) -> Fraction:
    """Inches of thread for a seam, with a part more for what is lost."""
    return seam * ratio * (1 + waste)


def count_to_inch(stitch: Fraction) -> int:
    """Whole stitches in an inch; `stitch` is the length of one, in inches."""
    return floor(1 / stitch)


def count_stitches(seam: Fraction, stitch: Fraction) -> int:
    """Stitches in a seam, the last one begun counted."""
    return -floor(-seam / stitch)
