"""Drafts that no order of straight seams sews: drawn by hand, and at random on a grid."""

from __future__ import annotations

import random

Cell = tuple[int, int]
Corner = tuple[int, int]
Outline = list[Corner]

FABRICS = "fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium}}"

WINDMILL = f"""
project: Tidewater windmill
{FABRICS}
blocks:
  windmill:
    size: 9
    box: 3
    patches:
      - {{fabric: navy, corners: "0,0 2,0 2,1 0,1"}}
      - {{fabric: shell, corners: "2,0 3,0 3,2 2,2"}}
      - {{fabric: navy, corners: "1,2 3,2 3,3 1,3"}}
      - {{fabric: shell, corners: "0,1 1,1 1,3 0,3"}}
      - {{fabric: coral, corners: "1,1 2,1 2,2 1,2"}}
make: [{{block: windmill, count: 4}}]
"""

# A windmill round a windmill that turns the same way, and one round one that turns the other way
NESTED = f"""
project: Tidewater windmills
{FABRICS}
blocks:
  same way:
    size: 10
    box: 5
    patches:
      - {{fabric: navy, corners: "0,0 4,0 4,1 0,1"}}
      - {{fabric: shell, corners: "4,0 5,0 5,4 4,4"}}
      - {{fabric: navy, corners: "1,4 5,4 5,5 1,5"}}
      - {{fabric: shell, corners: "0,1 1,1 1,5 0,5"}}
      - {{fabric: navy, corners: "1,1 3,1 3,2 1,2"}}
      - {{fabric: shell, corners: "3,1 4,1 4,3 3,3"}}
      - {{fabric: navy, corners: "2,3 4,3 4,4 2,4"}}
      - {{fabric: shell, corners: "1,2 2,2 2,4 1,4"}}
      - {{fabric: coral, corners: "2,2 3,2 3,3 2,3"}}
  other way:
    size: 10
    box: 5
    patches:
      - {{fabric: navy, corners: "0,0 4,0 4,1 0,1"}}
      - {{fabric: shell, corners: "4,0 5,0 5,4 4,4"}}
      - {{fabric: navy, corners: "1,4 5,4 5,5 1,5"}}
      - {{fabric: shell, corners: "0,1 1,1 1,5 0,5"}}
      - {{fabric: navy, corners: "2,1 4,1 4,2 2,2"}}
      - {{fabric: shell, corners: "3,2 4,2 4,4 3,4"}}
      - {{fabric: navy, corners: "1,3 3,3 3,4 1,4"}}
      - {{fabric: shell, corners: "1,1 2,1 2,3 1,3"}}
      - {{fabric: coral, corners: "2,2 3,2 3,3 2,3"}}
make: [{{block: same way, count: 4}}, {{block: other way, count: 1}}]
"""

# A square in the corner of two slanting strips; three patches that meet at one point
CORNERS = f"""
project: Tidewater windows
{FABRICS}
blocks:
  window:
    size: 6
    box: 4
    patches:
      - {{fabric: coral, corners: "1,0 4,0 4,3 1,3"}}
      - {{fabric: navy, corners: "0,0 1,0 1,3 0,4"}}
      - {{fabric: shell, corners: "0,4 1,3 4,3 4,4"}}
  meeting:
    size: 6
    patches:
      - {{fabric: navy, corners: "0,0 6,0 3,2 0,2"}}
      - {{fabric: shell, corners: "0,2 3,2 3,6 0,6"}}
      - {{fabric: coral, corners: "3,2 6,0 6,6 3,6"}}
    box: 6
make: [{{block: window, count: 4}}, {{block: meeting, count: 2}}]
"""

STAR = f"""
project: Tidewater star
{FABRICS}
blocks:
  star: {{size: 12, ring: {{of: 8, diamonds: [navy, coral], fill: shell}}}}
make: [{{block: star, count: 4}}]
"""

BENT = {"windmill": WINDMILL, "nested": NESTED, "corners": CORNERS, "star": STAR}


def draw_patches(chance: random.Random, wide: int, high: int, most: int) -> list[Outline]:
    """At most so many patches that fill a grid: cells thrown together, none round another, none touching itself."""
    while True:
        group = {(x, y): x * high + y for x in range(wide) for y in range(high)}
        many = wide * high
        while many > most or (many > 3 and chance.random() < 0.3):
            cell = chance.choice(sorted(group))
            x, y = chance.choice(((1, 0), (0, 1)))
            other = (cell[0] + x, cell[1] + y)
            if other not in group or group[other] == group[cell]:
                continue
            gone = group[other]
            group = {place: group[cell] if number == gone else number for place, number in group.items()}
            many -= 1
        cells: dict[int, list[Cell]] = {}
        for place, number in group.items():
            cells.setdefault(number, []).append(place)
        outlines = [_go_round(members) for members in cells.values()]
        if all(outlines):
            return [outline for outline in outlines if outline]


def _go_round(cells: list[Cell]) -> Outline | None:
    edges = set()
    for x, y in cells:
        corners = ((x, y), (x + 1, y), (x + 1, y + 1), (x, y + 1))
        edges |= {(corners[place - 1], corner) for place, corner in enumerate(corners)}
    outer = [edge for edge in edges if edge[::-1] not in edges]
    following = dict(outer)
    if len(following) < len(outer):
        return None
    found = [min(following)]
    while (here := following[found[-1]]) != found[0]:
        found.append(here)
    return found if len(found) == len(outer) else None


def write_patches(outlines: list[Outline], chance: random.Random, wide: int, high: int) -> str:
    """A project with one block of these patches, in fabrics by chance."""
    lines = [
        f'      - {{fabric: {chance.choice(("navy", "shell", "coral"))}, corners: "'
        + " ".join(f"{x},{y}" for x, y in outline)
        + '"}'
        for outline in outlines
    ]
    return "\n".join(
        [
            f"project: Tidewater cells\n{FABRICS}\nblocks:\n  cells:",
            f"    size: {wide} x {high}\n    box: {wide} x {high}",
            "    patches:",
            *lines,
            "make: [{block: cells, count: 2}]\n",
        ]
    )


def write_quilt(chance: random.Random) -> str:
    """A project with a quilt of one or two blocks: windmills, windmills in windmills, and such that are drawn by
    chance; some of the blocks lie turned."""
    names = ("wave", "wind")[: chance.choice((1, 1, 2))]
    blocks = "".join(_write_block(chance, name) for name in names)
    rows, columns = chance.choice(((1, 2), (2, 2), (2, 3), (3, 2), (3, 3)))
    turns = ("",) if chance.random() < 0.5 else ("", "", "", " turn 90", " turn 180", " turn 270")
    lying = [", ".join(chance.choice(names) + chance.choice(turns) for _ in range(columns)) for _ in range(rows)]
    joining = chance.choice(("rows", "webbed", "quarters") if rows == columns == 2 else ("rows", "webbed"))
    listed = "".join(f"    - [{row}]\n" for row in lying)
    return f"project: Tidewater cells\n{FABRICS}\nblocks:\n{blocks}quilt:\n  joining: {joining}\n  rows:\n{listed}"


def _write_block(chance: random.Random, name: str) -> str:
    drawn = [WINDMILL, *NESTED.split("other way:")]
    choice = chance.randrange(5)
    if choice < len(drawn):
        box = 3 if choice == 0 else 5
        patches = [line for line in drawn[choice].splitlines() if "corners" in line]
    else:
        box = chance.choice((4, 5))
        outlines = draw_patches(chance, box, box, chance.choice((5, 6, 8, 9)))
        patches = [
            f'      - {{fabric: shell, corners: "{" ".join(f"{x},{y}" for x, y in outline)}"}}' for outline in outlines
        ]
    cloths = chance.choice((("navy", "shell"), ("navy",), ("navy", "coral")))
    for place, line in enumerate(patches):
        if choice >= len(drawn) or chance.random() < 0.3:
            before, _, after = line.partition("fabric: ")
            patches[place] = f"{before}fabric: {chance.choice(cloths)},{after.partition(',')[2]}"
    return f"  {name}:\n    size: 12\n    box: {box}\n    patches:\n" + "\n".join(patches) + "\n"
