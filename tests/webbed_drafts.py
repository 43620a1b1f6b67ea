"""Random projects with webbed blocks: loose and in a quilt, with cells that are units, and without."""

from __future__ import annotations

import random
from collections.abc import Sequence

FABRICS = ("navy", "shell", "coral")
HEAD = """project: Tidewater trial
fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: medium, weight: heavy}}
parts:
  little four: {rows: [[navy, shell], [shell, navy]]}
  little pair: {rows: [[coral, navy]]}
  little kite: {rows: [[navy \\ shell, coral], [coral, shell / navy]]}
"""
CELLS = (
    "{0}",
    "{0}",
    "{0}",
    "{0} \\ {1}",
    "{0} / {1}",
    "({0} \\ {1}) / ({1} \\ {0})",
    "little four",
    "little pair",
    "little pair turn 90",
    "little kite turn 180",
    "{{rows: [[{0}], [{1}]]}}",
)


def write_webbed(chance: random.Random, is_even: bool = False, most: int = 4) -> str:
    """One or two blocks of so many columns and rows at most, the first one webbed, made loose or joined to a quilt, or
    both. `is_even`: nothing but checks of two fabrics, which look the same when they are turned."""
    blocks = []
    for number in range(chance.choice((1, 2))):
        columns, rows = chance.randint(2, most), chance.randint(2, most)
        cells = [[_write_cell(chance, row + column, is_even) for column in range(columns)] for row in range(rows)]
        joining = "webbed" if number == 0 or chance.random() < 0.5 else ""
        blocks.append(_write_block(f"float {number + 1}", cells, joining, chance, is_even))
        if chance.random() < 0.3:  # the same once more, joined as is quickest
            blocks.append(_write_block(f"float {number + 1} again", cells, "", chance, is_even))
    names = [block.partition(":")[0].strip() for block in blocks]
    lines = ["blocks:", *blocks]
    kind = chance.choice(("make", "quilt", "both"))
    if kind != "quilt":
        lines += ["make:", *(f"  - {{block: {name}, count: {chance.choice((1, 2, 5))}}}" for name in names)]
    if kind != "make":
        turns = ("", "", " turn 90", " turn 180", " turn 270")
        wide = chance.randint(1, 2)
        lines += ["quilt:", *(["  joining: webbed"] if chance.random() < 0.3 else []), "  rows:"]
        for number in range(chance.randint(1, 2)):
            row = [f"{chance.choice(names)}{chance.choice(turns)}" for _ in range(wide)]
            row[0] = row[0] if number else names[0]
            lines.append(f"    - [{', '.join(row)}]")
    return "\n".join((HEAD + lines[0], *lines[1:], ""))


def _write_block(name: str, cells: Sequence[Sequence[str]], joining: str, chance: random.Random, is_even: bool) -> str:
    rows = ", ".join(f"[{', '.join(row)}]" for row in cells)
    keys = ["size: 12", f"rows: [{rows}]"]
    if not is_even and chance.random() < 0.5:
        keys.append(f"widths: [{', '.join(str(chance.choice((1, 1, 2))) for _ in cells[0])}]")
        keys.append(f"heights: [{', '.join(str(chance.choice((1, 1, 2))) for _ in cells)}]")
    if joining:
        keys.append(f"joining: {joining}")
    return f"  {name}: {{{', '.join(keys)}}}"


def _write_cell(chance: random.Random, place: int, is_even: bool) -> str:
    if is_even:
        return FABRICS[place % 2]
    return chance.choice(CELLS).format(*chance.sample(FABRICS, 2))


WEBBED = f"""{HEAD}blocks:
  tide steps:
    size: 8 x 6
    joining: webbed
    rows: [[navy, navy \\ shell, coral, navy], [coral, little four, shell, coral], [navy, coral, shell, navy]]
make: [{{block: tide steps, count: 3}}]
"""
