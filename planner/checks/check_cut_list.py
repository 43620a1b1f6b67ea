"""Is a plan's cut list right, and why not: every patch once, in the right shape, never short."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

from planner.checks.fit_outline import does_fit
from planner.checks.list_turns import list_turns, turn_outline
from planner.checks.plan_file import Plan, PlanCut, PlanPoint, PlanShape
from planner.checks.read_plan import Outline, Work, read_work
from planner.checks.size_pieces import (
    Corner,
    Pair,
    Piece,
    Widened,
    cut_upright,
    lay_on_grain,
    read_pair,
    size_piece,
    size_print,
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
    """Patches that are cut alike. Those whose print has a top (`has_way`) lie on the cloth as the outline does; others
    may lie in several ways between whole quarter turns, and are cut as they lie in one of them."""

    piece: Piece
    outline: Outline
    needed: int
    has_way: bool = False
    lying: tuple[Outline, ...] = ()

    def widen(self, work: Work) -> list[Widened]:
        if self.has_way:
            return [cut_upright(self.piece, self.outline, work)]
        return [widen(outline, work) for outline in self.lying or (self.outline,)]


def why_not_cut(plan: Plan) -> tuple[str, ...]:
    """What is wrong with the cut list, given the patches; empty when it is right."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    return (*_check_entries(plan, work), *_check_fabrics(plan))


def _check_fabrics(plan: Plan) -> Iterator[str]:
    used = {patch["fabric"] for patch in plan["patches"]}
    yield from (f"fabric {fabric['id']}: no patch is of it" for fabric in plan["fabrics"] if fabric["id"] not in used)


def _check_entries(plan: Plan, work: Work) -> Iterator[str]:
    entries: dict[_Told, list[PlanCut]] = defaultdict(list)
    for entry in plan["cut"]:
        try:
            entries[_Told(entry["fabric"], entry["shape"], read_pair(entry["finished"]))].append(entry)
        except ValueError as error:
            yield f"cut {entry['fabric']} {entry['shape']}: finished {error}"
    try:
        heaps = _heap_patches(work, entries)
    except ValueError as error:
        yield f"cut: {error}"
        return
    for told in sorted(heaps.keys() | entries.keys(), key=str):
        there, here = entries.get(told, []), heaps.get(told, [])
        if told.shape == "other" or any(heap.has_way for heap in here):
            yield from _match_by_outline(told, here, there, work)
            continue
        for heap in here:  # one, if any
            if not there:
                yield f"cut {told}: {heap.needed} are missing"
                continue
            yield from _check_entry(told, heap, there[0])
            there = there[1:]
        for entry in there:
            yield f"cut {told}: {entry['count']} too many"


def _heap_patches(work: Work, entries: Container[_Told]) -> dict[_Told, list[_Heap]]:
    """Patches cut alike: of the four shapes by their sizes, of others by their outlines, turned; of prints that have a
    top by their outlines, and those not turned. Others that lie in several ways are told as an entry tells them."""
    counts: dict[tuple[str, Outline, bool], int] = defaultdict(int)
    for patch in work.patches:
        counts[patch.fabric, _lay_least(lay_on_grain(patch), 1 if patch.has_way else 4), patch.has_way] += 1
    heaps: dict[_Told, list[_Heap]] = defaultdict(list)
    turned: dict[tuple[str, Outline], list[tuple[_Told, _Heap]]] = defaultdict(list)
    for (fabric, outline, has_way), count in counts.items():
        piece = size_print(outline, work) if has_way else size_piece(outline, work)
        heap = _Heap(piece, outline, count, has_way)
        told = _Told(fabric, piece.shape, piece.finished)
        alike = heaps[told] if has_way or piece.shape != "other" else []
        if has_way or (piece.shape != "other" and not alike):
            alike.append(heap)
        elif piece.shape != "other":
            alike[0] = alike[0]._replace(needed=alike[0].needed + count)
        else:
            turned[fabric, _turn_least(outline, work)].append((told, heap))
    for ways in turned.values():
        told = next((told for told, _ in ways if told in entries), ways[0][0])
        needed = sum(heap.needed for _, heap in ways)
        lying = tuple(heap.outline for way, heap in ways if way == told)
        heaps[told].append(ways[0][1]._replace(needed=needed, lying=lying))
    return heaps


def _turn_least(outline: Outline, work: Work) -> Outline:
    """The same for outlines that are equal after moves and all turns of the plan."""
    turns = list_turns(work)
    return min(_lay_least(turn_outline(outline, turn), 4) for turn in turns[: len(turns) // 4])


def _lay_least(outline: Outline, turns: int) -> Outline:
    """The same for outlines that are equal after moves, and quarter turns if four are made."""
    ways = []
    for _ in range(turns):
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
    if not heap.has_way and not _is_outline_of(told.shape, (cut[0].plain, cut[1].plain), entry["corners"]):
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


def _match_by_outline(told: _Told, heaps: list[_Heap], entries: list[PlanCut], work: Work) -> Iterator[str]:
    """Each heap needs an entry of its own whose outline holds it; two heaps may be so much alike that both would."""
    widened = [heap.widen(work) for heap in heaps]
    fits = [
        [any(_does_entry_fit(entry, one, not heap.has_way) for one in ways) for entry in entries]
        for heap, ways in zip(heaps, widened, strict=True)
    ]
    heap_of: dict[int, int] = {}
    for heap in range(len(heaps)):
        _give_entry(heap, fits, heap_of, set())
    for entry, heap in sorted(heap_of.items()):
        yield from _check_entry(told, heaps[heap], entries[entry])
        if told.shape == "other":
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


def _does_entry_fit(entry: PlanCut, widened: Widened, may_turn: bool) -> bool:
    corners = _read_corners(entry["corners"])
    return corners is not None and does_fit(corners, widened, may_turn)


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
