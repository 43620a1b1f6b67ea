"""Is a layout of cloth right, and why not: all pieces there, none over another, none off the cloth, all cut from edge
to edge. It reads the JSON of the cloth and of the plan, and shares no code with what made them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from planner.checks.check_methods import count_by_method
from planner.checks.check_rows import why_not_in_row

Json = Mapping[str, Any]

_PER = {"half-square triangle": 2, "quarter-square triangle": 4}


class Box(NamedTuple):
    left: Fraction
    top: Fraction
    right: Fraction
    bottom: Fraction


def why_not_laid(cloth: Json, plan: Json | None = None) -> tuple[str, ...]:
    """What is wrong with the cloth's JSON, compared with the plan's where that is given; empty when it is right."""
    found: list[str] = []
    for fabric in cloth["fabrics"]:
        found += _check_fabric(fabric)
    if plan is not None:
        found += _check_counts(cloth, plan)
    return tuple(found)


def read_length(text: str) -> Fraction:
    """`6 1/2` as a fraction."""
    return sum((Fraction(part) for part in text.split(" ")), Fraction(0))


def _check_fabric(fabric: Json) -> Iterator[str]:
    name, usable, length = fabric["id"], read_length(fabric["usable"]), read_length(fabric["length"])
    boxes = [_read_box(one) for one in fabric["placed"]]
    yield from _check_sheet(f"fabric {name}", boxes, usable, length, in_strips=True)
    if max((box.bottom for box in boxes), default=Fraction(0)) != length:
        yield f"fabric {name}: its length {fabric['length']} is not where the last piece ends"
    if length < read_length(fabric["at_least"]):
        yield f"fabric {name}: it is shorter than what is said to be the least"
    strips = sum((read_length(strip["cut"]) * strip["count"] for strip in fabric["strips"]), Fraction(0))
    if strips != length:
        yield f"fabric {name}: its strips come to {strips}, and its length is {length}"
    widths = [read_length(strip["cut"]) for strip in fabric["strips"]]
    if widths != sorted(set(widths), reverse=True):
        yield f"fabric {name}: its strips are not told from the widest down"
    shrunk = read_length(fabric["width"]) * (1 - Fraction(fabric.get("narrows", "0")))
    if usable >= shrunk:
        yield f"fabric {name}: {fabric['usable']} is all of its width, or more, and the selvages are never used"
    yield from _check_buy(fabric, length)
    for number, piece in enumerate(fabric.get("stock", ()), 1):
        wide, high = map(read_length, piece["size"])
        inside = [_read_box(one) for one in piece["placed"]]
        yield from _check_sheet(f"fabric {name}, stock {number}", inside, wide, high, in_strips=False)


def _read_box(placed: Json) -> Box:
    x, y, wide, high = (read_length(placed[key]) for key in ("x", "y", "w", "h"))
    return Box(x, y, x + wide, y + high)


def _check_sheet(where: str, boxes: Sequence[Box], wide: Fraction, high: Fraction, *, in_strips: bool) -> Iterator[str]:
    for box in boxes:
        if box.left < 0 or box.top < 0 or box.right > wide or box.bottom > high:
            yield f"{where}: the piece at {box.left}, {box.top} leaves the cloth"
        if box.left >= box.right or box.top >= box.bottom:
            yield f"{where}: the piece at {box.left}, {box.top} has no area"
    for one, other in _find_overlaps(boxes):
        yield f"{where}: the pieces at {one.left}, {one.top} and {other.left}, {other.top} lie over each other"
        return
    ways = ((1,),) if in_strips else ((1,), (0,))
    if boxes and not any(_can_be_cut(list(boxes), way[0]) for way in ways):
        yield f"{where}: no cut from edge to edge parts its pieces"


def _find_overlaps(boxes: Sequence[Box]) -> Iterator[tuple[Box, Box]]:
    """Pairs that share area: down the cloth, with those that are not yet ended beside one another."""
    open_boxes: list[Box] = []
    for box in sorted(boxes, key=lambda one: (one.top, one.left)):
        open_boxes = [other for other in open_boxes if other.bottom > box.top]
        for other in open_boxes:
            if other.left < box.right and box.left < other.right:
                yield other, box
        open_boxes.append(box)


def _can_be_cut(boxes: list[Box], axis: int) -> bool:
    """Whether cuts from edge to edge part all pieces: first across this axis (1: strips one below the other)."""
    waiting = [(boxes, axis, False)]
    while waiting:
        here, axis, has_failed = waiting.pop()
        if len(here) == 1:
            continue
        groups = _part(here, axis)
        if len(groups) == 1:
            if has_failed:
                return False
            waiting.append((here, 1 - axis, True))
        else:
            waiting += [(group, 1 - axis, False) for group in groups]
    return True


def _part(boxes: list[Box], axis: int) -> list[list[Box]]:
    groups: list[list[Box]] = []
    reach = Fraction(0)
    for box in sorted(boxes, key=lambda one: one[axis]):
        if not groups or box[axis] >= reach:
            groups.append([])
        groups[-1].append(box)
        reach = max(reach, box[axis + 2])
    return groups


def _check_buy(fabric: Json, length: Fraction) -> Iterator[str]:
    more = sum((read_length(one["length"]) for one in fabric["more"]), Fraction(0))
    used = length + more
    needed = Fraction(0)
    if used:
        on_top = read_length(fabric["end"]) + read_length(fabric["margin"])
        needed = (used + on_top) / (1 - Fraction(fabric["shrinkage"]))
    yards = read_length(fabric["buy"]["yards"])
    metres = Fraction(fabric["buy"]["metres"])
    step = read_length(fabric["buy"].get("step", "1/8"))
    if not (yards - step) * 36 < needed <= yards * 36 or yards / step % 1:
        yield f"fabric {fabric['id']}: {fabric['buy']['yards']} yd are not {needed} in, up to the next {step} yd"
    in_metres = needed * Fraction(254, 10_000)
    if not metres - Fraction(1, 10) < in_metres <= metres or metres * 10 % 1:
        yield f"fabric {fabric['id']}: {fabric['buy']['metres']} m are not {needed} in, up to the next 10 cm"


def _check_counts(cloth: Json, plan: Json) -> Iterator[str]:
    """As many come out as the cut list asks for, in their sizes: of patches cut by themselves, and of methods."""
    by_method = count_by_method(cloth, plan)
    yield from by_method.wrong
    step = Fraction(1, 16) if plan["project"]["measure"] == "in" else Fraction(10, 254)
    directional = {fabric["id"] for fabric in plan["fabrics"] if fabric.get("directional")}
    needed: dict[str, Counter[tuple[Fraction, ...]]] = defaultdict(Counter)
    for entry in plan["cut"]:
        needed[entry["fabric"]][_size_entry(entry, entry["fabric"] in directional, step)] += entry["count"]
    made: dict[str, Counter[tuple[Fraction, ...]]] = defaultdict(Counter)
    most: dict[str, Counter[tuple[Fraction, ...]]] = defaultdict(Counter)
    rows: set[object] = set()
    for fabric in cloth["fabrics"]:
        name = fabric["id"]
        all_placed = [*fabric["placed"], *(one for piece in fabric.get("stock", ()) for one in piece["placed"])]
        for one in all_placed:
            size = read_length(one["w"]), read_length(one["h"])
            if "entry" in one:
                row = (name, one["entry"], size, one["makes"])
                if row not in rows:
                    rows.add(row)
                    yield from _check_row(one, plan, name, size, name in directional)
                needed[name][_size_entry(plan["cut"][one["entry"]], name in directional, step)] -= one["makes"]
                continue
            sides = size if name in directional else tuple(sorted(size))
            key = (*sides, Fraction(one["makes"]))
            made[name][key] += one["makes"]
            most[name][key] = one["makes"]
    for (name, key), count in by_method.patches.items():
        needed[name][key] -= count
    for (name, key), count in by_method.rectangles.items():
        needed[name][key] += count * int(key[2])
    for name in sorted(needed.keys() | made.keys()):
        for key in sorted(needed[name].keys() | made[name].keys()):
            wanted, there = needed[name][key], made[name][key]
            over = there - wanted
            # Triangles of a print come out of squares in pairs that lie two ways, and may be needed of one alone
            if over < 0 or (over >= max(1, most[name][key]) and name not in directional):
                told = " x ".join(map(str, key[:2]))
                yield f"fabric {name}: {wanted} patches of {told} are needed, and {there} come out"


def _check_row(placed: Json, plan: Json, fabric: str, size: tuple[Fraction, Fraction], has_way: bool) -> Iterator[str]:
    """A strip that slanted pieces come out of, side by side."""
    entry = plan["cut"][placed["entry"]]
    if entry["fabric"] != fabric or entry["shape"] != "other":
        yield f"fabric {fabric}: {placed['for']} is for no slanted piece of it"
        return
    why = [why_not_in_row(entry, *sides, placed["makes"], has_way) for sides in (size, size[::-1])]
    if all(why if not has_way else why[:1]):
        yield f"fabric {fabric}: {placed['for']}: {why[0]}"


def _size_entry(entry: Json, has_way: bool, step: Fraction) -> tuple[Fraction, ...]:
    """Two sides, and how many patches come out; of other shapes the box round them, up to a line of the ruler."""
    makes = _PER.get(entry["shape"], 1)
    if makes > 1:
        side = max(map(read_length, entry["cut"]))
        return side, side, Fraction(makes)
    if not has_way and entry["shape"] in ("square", "rectangle"):
        short, long = sorted(map(read_length, entry["cut"]))
        return short, long, Fraction(1)
    corners = [tuple(map(read_length, corner)) for corner in entry["corners"]]
    wide, high = (max(c[axis] for c in corners) - min(c[axis] for c in corners) for axis in (0, 1))
    if entry["shape"] == "other":
        wide, high = (-(-side // step) * step for side in (wide, high))
    return (wide, high, Fraction(1)) if has_way else (*sorted((wide, high)), Fraction(1))
