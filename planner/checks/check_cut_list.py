"""Is a plan's cut list right, and why not: every patch once, in the right shape, never short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.checks.fit_outline import does_fit
from planner.checks.plan_file import Plan, PlanCut, PlanPoint, PlanShape
from planner.checks.read_plan import Outline, Work, read_work
from planner.checks.sew_outlines import is_convex
from planner.checks.size_pieces import (
    Corner,
    Pair,
    Piece,
    Widened,
    lay_on_grain,
    read_pair,
    size_piece,
    why_not_pair,
    widen,
)
from planner.checks.surd import approach, read_surd

_SIXTEENTH = Fraction(1, 16)
_FINE = 1 << 40


class _Told(NamedTuple):
    """What an entry of the plan or a heap of patches is told by; those of another shape have outlines besides."""

    fabric: str
    shape: PlanShape
    finished: Pair

    def __str__(self) -> str:
        return f"{self.fabric} {self.shape} {self.finished[0]} x {self.finished[1]}"


class _Heap(NamedTuple):
    """Patches that are cut alike."""

    piece: Piece
    outline: Outline
    needed: int


def why_not_cut(plan: Plan) -> tuple[str, ...]:
    """What is wrong with the cut list, given the patches; empty when it is right. Patches must be convex."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    bent = tuple(f"patch {patch.id}: it is not convex" for patch in work.patches if not is_convex(patch.outline))
    if bent:
        return bent
    return (*_check_entries(plan, work), *_check_fabrics(plan))


def _check_fabrics(plan: Plan) -> Iterator[str]:
    used = {patch["fabric"] for patch in plan["patches"]}
    yield from (f"fabric {fabric['id']}: no patch is of it" for fabric in plan["fabrics"] if fabric["id"] not in used)


def _check_entries(plan: Plan, work: Work) -> Iterator[str]:
    try:
        heaps = _heap_patches(work)
    except ValueError as error:
        yield f"cut: {error}"
        return
    entries: dict[_Told, list[PlanCut]] = defaultdict(list)
    for entry in plan["cut"]:
        try:
            entries[_Told(entry["fabric"], entry["shape"], read_pair(entry["finished"]))].append(entry)
        except ValueError as error:
            yield f"cut {entry['fabric']} {entry['shape']}: finished {error}"
    for told in sorted(heaps.keys() | entries.keys(), key=str):
        there = entries.get(told, [])
        if told.shape == "other":
            yield from _match_others(told, heaps.get(told, []), there, work)
            continue
        for heap in heaps.get(told, []):  # one, if any
            if not there:
                yield f"cut {told}: {heap.needed} are missing"
                continue
            yield from _check_entry(told, heap, there[0])
            there = there[1:]
        for entry in there:
            yield f"cut {told}: {entry['count']} too many"


def _heap_patches(work: Work) -> dict[_Told, list[_Heap]]:
    """Patches cut alike: of the four shapes by their sizes, of others by their outlines, turned by quarters."""
    counts: dict[tuple[str, Outline], int] = defaultdict(int)
    for patch in work.patches:
        counts[patch.fabric, _lay_least(lay_on_grain(patch))] += 1
    heaps: dict[_Told, list[_Heap]] = defaultdict(list)
    for (fabric, outline), count in counts.items():
        piece = size_piece(outline, work)
        alike = heaps[_Told(fabric, piece.shape, piece.finished)]
        if alike and piece.shape != "other":
            alike[0] = alike[0]._replace(needed=alike[0].needed + count)
        else:
            alike.append(_Heap(piece, outline, count))
    return heaps


def _lay_least(outline: Outline) -> Outline:
    """The same for outlines that are equal after moves and quarter turns."""
    ways = []
    for _ in range(4):
        first = outline.index(min(outline))
        left, top = outline[first]
        ways.append(tuple((x - left, y - top) for x, y in (*outline[first:], *outline[:first])))
        outline = tuple((-y, x) for x, y in outline)
    return min(ways)


def _check_entry(told: _Told, heap: _Heap, entry: PlanCut) -> Iterator[str]:
    if entry["count"] != heap.needed:
        yield f"cut {told}: {entry['count']} are told, and {heap.needed} needed"
    cut = heap.piece.cut
    if cut is None:
        return
    why_not = why_not_pair(entry["cut"], cut)
    if why_not:
        yield f"cut {told}: cut {why_not}"
        return
    if not _is_outline_of(told.shape, (cut[0].plain, cut[1].plain), entry["corners"]):
        yield f"cut {told}: its corners are not those of the cut size"


def _is_outline_of(shape: PlanShape, cut: tuple[Fraction, Fraction], points: Sequence[PlanPoint]) -> bool:
    """Whether the corners, moved and turned by quarters, are a rectangle or triangle of these two lengths."""
    corners = _read_corners(points)
    if corners is None:
        return False
    low_x, low_y = (min(corner[axis] for corner in corners) for axis in (0, 1))
    laid = {(x - low_x, y - low_y) for x, y in corners}
    shorter, longer = cut
    for wide, high in ((shorter, longer), (longer, shorter)):
        box = ((Fraction(0), Fraction(0)), (wide, Fraction(0)), (wide, high), (Fraction(0), high))
        if shape == "half-square triangle":
            rights = [set(box) - {box[at]} for at in range(4)]
        elif shape == "quarter-square triangle":
            middles = ((wide / 2, Fraction(0)), (wide, high / 2), (wide / 2, high), (Fraction(0), high / 2))
            # the long side lies against the middle of the side across
            long_sides = (1, 3) if high == longer else (0, 2)
            rights = [{box[at], box[at - 3], middles[at - 2]} for at in long_sides]
        else:
            rights = [set(box)]
        if len(corners) == len(laid) and laid in rights:
            return True
    return False


def _match_others(told: _Told, heaps: list[_Heap], entries: list[PlanCut], work: Work) -> Iterator[str]:
    """Each heap needs an entry of its own whose outline holds it; two heaps may be so much alike that both would."""
    widened = [widen(heap.outline, work) for heap in heaps]
    fits = [[_does_entry_fit(entry, whole) for entry in entries] for whole in widened]
    heap_of: dict[int, int] = {}
    for heap in range(len(heaps)):
        _give_entry(heap, fits, heap_of, set())
    for entry, heap in sorted(heap_of.items()):
        yield from _check_entry(told, heaps[heap], entries[entry])
        yield from _check_box(told, entries[entry])
    matched = set(heap_of.values())
    for place, heap_left in enumerate(heaps):
        if place not in matched:
            yield f"cut {told}: {heap_left.needed} are missing"
    for place, entry_left in enumerate(entries):
        if place not in heap_of:
            corners = " ".join(",".join(corner) for corner in entry_left["corners"])
            yield f"cut {told}: {entry_left['count']} too many of {corners}"


def _give_entry(heap: int, fits: list[list[bool]], heap_of: dict[int, int], asked: set[int]) -> bool:
    for entry, does in enumerate(fits[heap]):
        if not does or entry in asked:
            continue
        asked.add(entry)
        if entry not in heap_of or _give_entry(heap_of[entry], fits, heap_of, asked):
            heap_of[entry] = heap
            return True
    return False


def _does_entry_fit(entry: PlanCut, widened: Widened) -> bool:
    corners = _read_corners(entry["corners"])
    return corners is not None and does_fit(corners, widened)


def _check_box(told: _Told, entry: PlanCut) -> Iterator[str]:
    corners = _read_corners(entry["corners"]) or ()
    box = sorted(max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1))
    try:
        cut = [approach(side, _FINE) for side in read_pair(entry["cut"])]
    except ValueError as error:
        yield f"cut {told}: cut {error}"
        return
    if not all(least <= side <= least + _SIXTEENTH for least, side in zip(box, cut, strict=True)):
        yield f"cut {told}: cut {' x '.join(entry['cut'])}, and the box round its corners is {box[0]} x {box[1]}"


def _read_corners(points: Sequence[PlanPoint]) -> tuple[Corner, ...] | None:
    """Corners of an outline in inches; None where one is no fraction."""
    try:
        read = [tuple(read_surd(text) for text in point) for point in points]
    except ValueError:
        return None
    if len(read) < 3 or any(number.square for corner in read for number in corner):
        return None
    return tuple((x.plain, y.plain) for x, y in read)
