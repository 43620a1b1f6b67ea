"""Random projects: valid texts of project files that can be sewn by straight seams alone, from a seed or hypothesis."""

from __future__ import annotations

import random
import re
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

FABRICS = (
    "navy",
    "shell",
    "coral",
    "reed",
    "slate",
    "sand",
    "pale sky",
    "deep-sea",
    "lantern's red",
    "2024",
    "yes",
    "sjögrön",
)
PART_NAMES = ("little four", "corner", "wave", "buoy", "7 rails", "net's end", "mooring")
BLOCK_NAMES = ("tidewater", "inlet steps", "jetty", "ebb and flow", "sandbar")
SIDES = ("right", "bottom", "left", "top")
WISHES = ("light-weight", "plain", "dark", "outward", "needle")

Point = tuple[Fraction, Fraction]
Value = Any  # text, a list of values, or a dict of them: what the file holds
SQUARE: list[Point] = [(Fraction(x), Fraction(y)) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
PLAIN = re.compile(r"[\w(][\w '\"()/\\|.-]*")


def projects(most_patches: int = 40, most_blocks: int = 3, most_copies: int = 4) -> st.SearchStrategy[str]:
    """Texts of project files; the arguments are those of `write_project`."""
    return st.randoms(use_true_random=False).map(
        lambda chance: write_project(chance, most_patches, most_blocks, most_copies)
    )


def write_project(
    chance: random.Random, most_patches: int = 40, most_blocks: int = 3, most_copies: int = 4, prints: int = 0
) -> str:
    """One project file as text. No block has more patches than told, nor is any made in more copies. So many of a
    hundred fabrics have a print with a direction.

    The same `random.Random(seed)` gives the same text.
    """
    return _ProjectWriter(chance, most_patches, most_copies, prints).write(most_blocks)


def cut_box(chance: random.Random, width: Fraction, height: Fraction, count: int) -> list[list[Point]]:
    """At most so many polygons, made from a box by straight cuts, each through one polygon: a straight order exists."""
    pieces = [[(x * width, y * height) for x, y in SQUARE]]
    for _ in range(4 * count):
        if len(pieces) >= count:
            break
        place = max(chance.sample(range(len(pieces)), min(2, len(pieces))), key=lambda at: abs(_twice_area(pieces[at])))
        halves = _cut_anywhere(chance, pieces[place])
        least = width * height / (8 * count)
        if all(abs(_twice_area(half)) > least and _is_short(half) for half in halves):
            pieces[place : place + 1] = halves
    return pieces


def _cut_anywhere(chance: random.Random, polygon: list[Point]) -> list[list[Point]]:
    first, second = sorted(chance.sample(range(len(polygon)), 2))
    start, end = (_pick_on_side(chance, polygon, side) for side in (first, second))
    one = [start, *polygon[first + 1 : second + 1], end]
    other = [end, *polygon[second + 1 :], *polygon[: first + 1], start]
    return [[point for at, point in enumerate(half) if point != half[at - 1]] for half in (one, other)]


def _pick_on_side(chance: random.Random, polygon: list[Point], side: int) -> Point:
    start, end = polygon[side], polygon[(side + 1) % len(polygon)]
    share = chance.choice((Fraction(0), Fraction(0), Fraction(1, 2), Fraction(1, 2), Fraction(1, 3), Fraction(3, 4)))
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _twice_area(polygon: list[Point]) -> Fraction:
    return sum(
        (polygon[at - 1][0] * y - polygon[at - 1][1] * x for at, (x, y) in enumerate(polygon)), start=Fraction(0)
    )


def _is_short(polygon: list[Point]) -> bool:
    return all(number.denominator < 10_000 for point in polygon for number in point)


class _ProjectWriter:
    def __init__(self, chance: random.Random, most_patches: int, most_copies: int, prints: int = 0) -> None:
        self.chance = chance
        self.most_patches = most_patches
        self.most_copies = most_copies
        self.prints = prints
        self.fabrics: list[str] = []
        self.parts: dict[str, int] = {}  # those that may be used here, with the count of their patches

    def maybe(self, percent: int) -> bool:
        return self.chance.randrange(100) >= 100 - percent  # the least number says no, so that failures shrink

    def write(self, most_blocks: int) -> str:
        chance = self.chance
        self.fabrics = chance.sample(FABRICS, chance.randint(2, 5))
        project: dict[str, Value] = {"project": chance.choice(("Tidewater evenings", "Inlet sampler 2"))}
        measure = chance.choice((None, "in", "cm"))
        if measure:
            project["measure"] = measure
        if self.maybe(40):
            project["seam"] = chance.choice(("1/4 in", "3/8 in", "6 mm", '0.25"', "0.7 cm"))
        if self.maybe(30):
            project["thread"] = "light grey"
        project["fabrics"] = self._write_fabrics()
        shared = self._write_parts(PART_NAMES[:4])
        if shared:
            project["parts"] = shared
        names = chance.sample(BLOCK_NAMES, chance.randint(1, most_blocks))
        project["blocks"] = {name: self._write_block(measure or "in") for name in names}
        project["make"] = self._write_make(names)
        if self.maybe(30):
            wishes = chance.sample(WISHES, chance.randint(1, len(WISHES)))
            project["press"] = {"prefer": wishes}
        if self.maybe(30):
            project["handling"] = {"trip": chance.choice(("3", "1", "4 1/2")), "pile": chance.choice(("2", "0.5", "5"))}
        return self._spell(project)

    def _write_fabrics(self) -> dict[str, Value]:
        chance = self.chance
        letters = chance.sample(["a", "b", "co", "d1", "n", "zz", "7"], len(self.fabrics))
        fabrics: dict[str, Value] = {}
        for fabric, letter in zip(self.fabrics, letters, strict=True):
            entry = {"value": chance.choice(("light", "medium", "dark", "1", "3", "6", "10"))}
            if self.maybe(40):
                entry["weight"] = chance.choice(("light", "medium", "heavy"))
            if self.maybe(20):
                entry["colour"] = f"#{chance.randrange(1 << 24):06x}"
            if self.maybe(20):
                entry["letter"] = letter
            if self.prints and self.maybe(self.prints):
                entry["directional"] = "true"
            fabrics[fabric] = entry
        return fabrics

    def _write_parts(self, names: tuple[str, ...]) -> dict[str, Value]:
        """Some parts, each of them free to use those before it."""
        parts = {}
        for name in names[: self.chance.choice((0, 0, 1, 2, 3))]:
            draft, count = self._write_draft(max(2, self.most_patches // 4))
            parts[name] = draft
            self.parts[name] = count
        return parts

    def _write_block(self, measure: str) -> dict[str, Value]:
        shared = dict(self.parts)
        block: dict[str, Value] = {"size": self._write_size(measure)}
        own = self._write_parts(PART_NAMES[4:]) if self.maybe(25) else {}
        if own:
            block["parts"] = own
        draft, _ = self._write_draft(self.most_patches)
        block.update(draft)
        self.parts = shared
        return block

    def _write_size(self, measure: str) -> str:
        sizes = (
            ("12", "6 1/2", "6-1/2", "7.5", "12 x 9", "9 x 13 1/2") if measure == "in" else ("30", "20 x 27.5", "33")
        )
        size: str = self.chance.choice((*sizes, '12"', "24 cm x 9 in", "240 mm"))
        return size

    def _write_make(self, names: list[str]) -> list[Value]:
        make: list[Value] = []
        for name in names:
            for _ in range(self.chance.choice((1, 1, 1, 2))):
                entry: dict[str, Value] = {"block": name, "count": str(self.chance.randint(1, self.most_copies))}
                if self.maybe(35):
                    swapped = self.chance.sample(self.fabrics, self.chance.randint(1, len(self.fabrics) - 1))
                    entry["swap"] = {fabric: self.chance.choice(self.fabrics) for fabric in swapped}
                make.append(entry)
        return make

    # --- drafts: each with the count of its patches, which is never above `room`

    def _write_draft(self, room: int) -> tuple[dict[str, Value], int]:
        kind = self.chance.choice(("rows", "rows", "rows", "patches", "logs"))
        if kind == "patches":
            return self._write_patches(room)
        if kind == "logs" and room >= 2:
            return self._write_logs(room)
        return self._write_rows(room)

    def _write_rows(self, room: int) -> tuple[dict[str, Value], int]:
        high, wide = 1, 1
        while self.maybe(80) and high < 7 and wide < 7:
            if (high + 1) * wide <= room and self.maybe(50):
                high += 1
            elif high * (wide + 1) <= room:
                wide += 1
        left = room - high * wide
        written: list[tuple[Value, int]] = []
        for _ in range(high * wide):
            # the same again makes equal units
            again = written and self.maybe(30)
            cell, count = self.chance.choice(written) if again else self._write_cell(1 + left)
            if count - 1 > left:
                cell, count = self._pick_fabric(), 1
            left -= count - 1
            written.append((cell, count))
        cells = [cell for cell, _ in written]
        draft: dict[str, Value] = {"rows": [cells[first : first + wide] for first in range(0, high * wide, wide)]}
        for key, number in (("widths", wide), ("heights", high)):
            if self.maybe(30):
                draft[key] = [self.chance.choice(("1", "2", "3", "1.5", "1 1/2", "2/3")) for _ in range(number)]
        return draft, room - left

    def _write_patches(self, room: int) -> tuple[dict[str, Value], int]:
        chance = self.chance
        width, height = (Fraction(chance.choice(("4", "3", "6", "4.5", "12"))) for _ in range(2))
        pieces = cut_box(chance, width, height, chance.randint(1, min(room, 9)))
        patches = []
        for piece in pieces:
            corners = self._add_corner(piece) if self.maybe(10) else piece
            first = chance.randrange(len(corners))
            corners = [*corners[first:], *corners[:first]][:: chance.choice((1, -1))]
            written = " ".join(f"{self._write_box_number(x)},{self._write_box_number(y)}" for x, y in corners)
            patches.append({"fabric": self._pick_fabric(), "corners": written})
        chance.shuffle(patches)
        box = f"{self._write_box_number(width)} x {self._write_box_number(height)}"
        return {"box": box, "patches": patches}, len(pieces)

    def _add_corner(self, piece: list[Point]) -> list[Point]:
        """With one more corner in the middle of a side, as a maker writes where a neighbour's corner is."""
        (x, y), (to_x, to_y) = piece[0], piece[1]
        return [piece[0], ((x + to_x) / 2, (y + to_y) / 2), *piece[1:]]

    def _write_box_number(self, number: Fraction) -> str:
        whole, rest = divmod(number.numerator, number.denominator)
        if rest and whole and self.maybe(30):
            return f"{whole}-{rest}/{number.denominator}"
        if rest and 100 % number.denominator == 0 and self.maybe(30):
            return f"{whole}.{rest * 100 // number.denominator:02d}".rstrip("0")
        return str(number)

    def _write_logs(self, room: int) -> tuple[dict[str, Value], int]:
        chance = self.chance
        around = [self._pick_fabric() for _ in range(chance.randint(1, min(room - 1, 8)))]
        logs: dict[str, Value] = {"centre": self._pick_fabric(), "around": around}
        if self.maybe(50):
            logs["centre size"] = chance.choice(("2", "2 x 3", "1 1/2"))
        if self.maybe(50):
            logs["width"] = chance.choice(("1", "1/2", ["1", "2"], ["1", "1", "3/2"]))
        if self.maybe(50):
            logs["sides"] = chance.choice(
                (["left", "right", "top", "bottom"], ["right", "bottom"], chance.sample(SIDES, 3), ["top"])
            )
        return {"logs": logs}, 1 + len(around)

    # --- cells

    def _pick_fabric(self) -> str:
        return self.chance.choice(self.fabrics)

    def _write_cell(self, room: int) -> tuple[Value, int]:
        if room >= 3 and self.maybe(8):
            return self._write_draft(min(room, 9))
        return self._write_half(SQUARE, room, is_whole=True)

    def _write_half(self, polygon: list[Point], room: int, is_whole: bool = False) -> tuple[str, int]:
        """A cell, or a half of one with brackets where it needs them."""
        parts = [name for name, count in self.parts.items() if count <= room]
        is_box = len(polygon) == 4 and all(
            x == polygon[at - 1][0] or y == polygon[at - 1][1] for at, (x, y) in enumerate(polygon)
        )
        if parts and is_box and self.maybe(40):
            name = self.chance.choice(parts)
            changes = [self.chance.choice(("turn 90", "turn 180", "turn 270")), "mirrored"]
            self.chance.shuffle(changes)
            kept = [change for change in changes if self.maybe(40)]
            return " ".join((name, *kept)), self.parts[name]
        if room >= 2 and self.maybe(45 if is_whole else 25):
            stroke = self.chance.choice("/\\|")
            halves = [_crop(polygon, stroke, side) for side in (-1, 1)]
            if all(halves):
                left, count = self._write_half(halves[0], room - 1)
                right, more = self._write_half(halves[1], room - count)
                cell = self.chance.choice((f"{left} {stroke} {right}", f"{left}{stroke}{right}"))
                return cell if is_whole else f"({cell})", count + more
        fabric = self._pick_fabric()
        return f"({fabric})" if self.maybe(3) else fabric, 1

    # --- text

    def _spell(self, project: dict[str, Value]) -> str:
        lines = []
        for key, value in project.items():
            if key in ("fabrics", "parts", "blocks"):
                lines.append(f"{key}:")
                for name, entry in value.items():
                    lines += self._spell_entry(name, entry)
            elif key == "make":
                lines.append("make:")
                lines += [f"  - {_spell_flow(entry)}" for entry in value]
            else:
                lines.append(f"{key}: {_spell_flow(value)}")
            if self.maybe(10):
                lines.append("# for the second evening")
        return "\n".join(lines) + "\n"

    def _spell_entry(self, name: str, entry: dict[str, Value]) -> list[str]:
        if self.maybe(30):
            return [f"  {name}: {_spell_flow(entry)}"]
        lines = [f"  {name}:"]
        for key, value in entry.items():
            if key in ("rows", "patches"):
                lines += [f"    {key}:", *(f"      - {_spell_flow(row)}" for row in value)]
            else:
                lines.append(f"    {key}: {_spell_flow(value)}")
        return lines


def _crop(polygon: list[Point], stroke: str, side: int) -> list[Point]:
    """What lies left (-1) or right (1) of a stroke through the whole cell; empty where that is nothing."""

    def measure(point: Point) -> Fraction:
        x, y = point
        return side * {"/": x + y - 1, "\\": x - y, "|": x - Fraction(1, 2)}[stroke]

    kept: list[Point] = []
    for at, point in enumerate(polygon):
        before = polygon[at - 1]
        here, there = measure(point), measure(before)
        if (here > 0) != (there > 0) and here != 0 and there != 0:
            share = there / (there - here)
            kept.append((before[0] + share * (point[0] - before[0]), before[1] + share * (point[1] - before[1])))
        if here >= 0:
            kept.append(point)
    return kept if len(kept) > 2 and _twice_area(kept) else []


def _spell_flow(value: Value) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_spell_flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_spell_flow(inner) for inner in value) + "]"
    return value if PLAIN.fullmatch(value) else f'"{value}"'
