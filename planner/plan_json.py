"""Plan -> JSON, for other programs and for checks: the same bytes for the same project on every machine.

Copies of a block differ in nothing but their numbers, so the text of a block's patches, seams and joins is made once
and only numbered for each copy.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise

from planner.blocks import Point
from planner.build_units import Seam, Units
from planner.cloth.say_methods import MethodWords
from planner.cut_list import CutEntry
from planner.find_joins import Path, follow, joins_of_block
from planner.measure import spell_exact, spell_number
from planner.plan import Plan
from planner.surd import Grid, to_length
from planner.turn_prints import NO_WAY, UPRIGHT


def write_plan(plan: Plan) -> str:
    """The whole plan as JSON text, one patch, seam, join, batch or cut a line, ending in a line break."""
    writer = _Writer(plan)
    sections = [
        ('"plan"', "1"),
        ('"project"', _dump(writer.project())),
        ('"fabrics"', _list(map(_dump, writer.fabrics()))),
        ('"blocks"', _list(map(_dump, writer.blocks()))),
        ('"patches"', _list(writer.patches())),
        ('"seams"', _list(writer.seams())),
        ('"joins"', _list(writer.joins())),
        ('"batches"', _list(map(_dump, writer.batches()))),
        ('"cut"', _list(map(_dump, writer.cut()))),
        ('"proof"', _dump(writer.proof())),
    ]
    return "{\n" + ",\n".join(f"  {key}: {value}" for key, value in sections) + "\n}\n"


def _dump(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


_dump_text = cache(_dump)  # for the same few words over and over


def _list(lines: Iterator[str]) -> str:
    text = ",\n    ".join(lines)
    return f"[\n    {text}\n  ]" if text else "[]"


def _way_to_begun(units: Units, seam: Seam) -> Path:
    """The way to the seam that another one finishes."""
    closes = units.units[seam.unit].closes
    assert closes is not None
    return closes.way


class _Writer:
    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.words = plan.press_words
        self._spelled: dict[Grid, str] = {}
        self._points: dict[Point, str] = {}
        # Each copy of each block, the quilt last: which draft, and the numbers its first patch and first seam get
        self.copies: list[tuple[int, int, int]] = []
        self.loose = sum(count for drafted, count in plan.blocks.made if not plan.blocks.drafted[drafted].is_top)
        patch = seam = 1
        for drafted, count in plan.blocks.made:
            for _ in range(count):
                self.copies.append((drafted, patch, seam))
                patch += len(plan.blocks.drafted[drafted].patches)
                seam += len(plan.units.seams[drafted])

    def _spell(self, units: Grid) -> str:
        if units not in self._spelled:
            self._spelled[units] = spell_exact(to_length(self.plan.blocks.inches(units)))
        return self._spelled[units]

    def _point(self, point: Point) -> str:
        text = self._points.get(point)
        if text is None:
            text = self._points[point] = f'["{self._spell(point[0])}", "{self._spell(point[1])}"]'
        return text

    def project(self) -> dict[str, object]:
        project = self.plan.project
        return {
            "name": project.name,
            "seam": spell_number(project.seam),
            "measure": project.measure,
            "on_point": self.plan.blocks.top is not None and self.plan.blocks.top.on_point,
        }

    def fabrics(self) -> Iterator[dict[str, object]]:
        used = {patch.fabric for block in self.plan.blocks.drafted for patch in block.patches}
        for fabric in self.plan.project.fabrics:
            if fabric.name in used:
                way = {"directional": True} if fabric.directional else {}
                yield {"id": fabric.name, "value": fabric.written, "weight": fabric.weight, **way}

    def blocks(self) -> Iterator[dict[str, object]]:
        for number, (drafted, _, _) in enumerate(self.copies, 1):
            block = self.plan.blocks.drafted[drafted]
            if not block.is_top:
                size = [self._spell(block.width), self._spell(block.height)]
                yield {"id": f"b{number}", "draft": block.name, "size": size, "loose": True}
        top = self.plan.blocks.top
        if top is not None:
            for piece, name in zip(top.pieces, self._piece_names(), strict=True):
                if piece.block >= 0:
                    block = self.plan.blocks.drafted[piece.block]
                    sides = (block.width, block.height) if piece.turn % 2 == 0 else (block.height, block.width)
                    size = [self._spell(side) for side in sides]
                    yield {"id": json.loads(name), "draft": block.name, "size": size, "loose": False}

    def _piece_names(self) -> list[str]:
        """For each piece of the top the block that it is, as JSON text; `null` where it is none."""
        top = self.plan.blocks.top
        assert top is not None
        names, number = [], self.loose
        for piece in top.pieces:
            number += piece.block >= 0
            names.append(f'"b{number}"' if piece.block >= 0 else "null")
        return names

    def _owners(self, number: int, drafted: int, of_seams: bool) -> list[str]:
        """The block of each patch (or each seam) of one copy, as JSON text."""
        block = self.plan.blocks.drafted[drafted]
        if not block.is_top:
            many = len(self.plan.units.seams[drafted]) if of_seams else len(block.patches)
            return [f'"b{number}"'] * many
        names = [*self._piece_names(), "null"]  # -1 finds the last
        return [names[piece] for piece in self.plan.units.piece_of[of_seams]]

    def patches(self) -> Iterator[str]:
        texts = [
            [
                f'"fabric": {_dump_text(patch.fabric)}, "corners": [{", ".join(map(self._point, patch.outline))}]}}'
                for patch in block.patches
            ]
            for block in self.plan.blocks.drafted
        ]
        for number, (drafted, first, _) in enumerate(self.copies, 1):
            owners = self._owners(number, drafted, of_seams=False)
            for patch, (text, owner) in enumerate(zip(texts[drafted], owners, strict=True), first):
                yield f'{{"id": "p{patch}", "block": {owner}, {text}'

    def seams(self) -> Iterator[str]:
        units = self.plan.units
        texts = []
        for block, seams in enumerate(units.seams):
            lines = []
            for number, seam in enumerate(seams):
                ends = (units.place_point(point, seam) for point in units.units[seam.unit].seam)
                start, end = map(self._point, ends)
                press = "a" if self.plan.pressing.to_a[block][number] else "b"
                if self.words.is_open(block, number):
                    press = "open"
                why = _dump_text(self.words.why(block, number))
                if number in self.plan.pressing.is_spun[block]:
                    (join,) = self.plan.joins.joins[seam.unit]
                    why += f', "spin": {self._point(units.place_point(join.at, seam))}'
                set_in = '"partial": true, ' if units.units[seam.unit].open_rest else ""
                if units.units[seam.unit].legs:
                    way = [self._point(units.place_point(p, seam)) for p in units.units[seam.unit].legs]
                    start, end = way[0], way[-1]
                    legs = ", ".join(f"[{p}, {q}]" for p, q in pairwise(way))
                    set_in += f'"set_in": true, "legs": [{legs}], '
                lines.append(f'"from": {start}, "to": {end}, {set_in}"press": "{press}", "why": {why}}}')
            texts.append(lines)
        for number, (drafted, first_patch, first_seam) in enumerate(self.copies, 1):
            owners = self._owners(number, drafted, of_seams=True)
            for place, (seam, text) in enumerate(zip(units.seams[drafted], texts[drafted], strict=True), first_seam):
                sides = [f'"p{first_patch + ~side}"' if side < 0 else f'"s{first_seam + side}"' for side in seam.sides]
                if len(sides) == 1:
                    begun = follow(units.seams[drafted], place - first_seam, _way_to_begun(units, seam))
                    sides.append(f'null, "closes": "s{first_seam + begun}"')
                a, b = sides
                yield f'{{"id": "s{place}", "block": {owners[place - first_seam]}, "a": {a}, "b": {b}, {text}'

    def joins(self) -> Iterator[str]:
        units = self.plan.units
        found = []
        for block, seams in enumerate(units.seams):
            lines = []
            for number, join, first, second in joins_of_block(units, self.plan.joins, block):
                at = self._point(units.place_point(join.at, seams[number]))
                nests = self.words.nests(block, join, first, second)
                why = self.words.why_not_nesting(block, join, first, second)
                lines.append((number, at, first, second, f'"nests": {_dump_text(nests)}, "why": {_dump_text(why)}}}'))
            found.append(lines)
        for drafted, _, base in self.copies:
            for number, at, first, second, text in found[drafted]:
                yield (
                    f'{{"seam": "s{base + number}", "at": {at}, "a": "s{base + first}", "b": "s{base + second}", {text}'
                )

    def batches(self) -> Iterator[dict[str, object]]:
        units, methods = self.plan.units, MethodWords(self.plan)
        of_kind: dict[int, list[str]] = {batch.kind: [] for batch in self.plan.batches.batches}
        kinds = [[units.units[seam.unit].kind for seam in seams] for seams in units.seams]
        for drafted, _, base in self.copies:
            for place, kind in enumerate(kinds[drafted], base):
                of_kind[kind].append(f"s{place}")
        for number, batch in enumerate(self.plan.batches.batches, 1):
            method = methods.method_of(batch.units[0])
            yield {
                "id": f"B{number}",
                "pass": batch.pass_number,
                "seams": of_kind[batch.kind],
                "unit": self.plan.words.name(batch.units[0]),
                "unfinished": [spell_exact(side) for side in self.plan.words.unfinished(batch.units[0])],
                **({} if method is None else {"method": method}),
            }

    def cut(self) -> Iterator[dict[str, object]]:
        # What lies alike on the cloth is one entry here, though it may lie otherwise in its block
        counts: dict[CutEntry, int] = {}
        for entry in self.plan.cut:
            alike = entry if entry.up == NO_WAY else replace(entry, count=0, units=(), up=UPRIGHT)
            counts[alike] = counts.get(alike, 0) + entry.count
        for entry, count in counts.items():
            piece = entry.piece
            yield {
                "fabric": entry.fabric,
                "shape": piece.shape,
                "finished": [spell_exact(side) for side in piece.finished],
                "cut": [spell_number(side) for side in piece.cut],
                "count": count,
                "corners": [[spell_number(x), spell_number(y)] for x, y in piece.corners],
            }

    def proof(self) -> dict[str, object]:
        handled, pressing = self.plan.handled, self.plan.pressing
        return {
            "handling": {
                "passes": handled.passes,
                "kinds": handled.kinds,
                "minutes": spell_number(handled.minutes),
                "at_least": spell_number(handled.at_least),
            },
            "clashes": {"count": pressing.clashes, "at_least": self.plan.least_clashes},
            "versions": {"count": pressing.two_ways, "at_least": self.plan.least_versions},
        }
