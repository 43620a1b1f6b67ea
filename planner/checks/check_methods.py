"""What methods give and what is cut for them, worked out anew from the plan's patches and seams: whether the cloth's
JSON says the same. It shares no code with what chose them."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from planner.checks.read_plan import SeamRead, Work, read_work
from planner.checks.rooted import divide
from planner.checks.size_pieces import Piece, lay_on_grain, size_piece
from planner.checks.surd import root_of

Json = Mapping[str, Any]
Key = tuple[Fraction, ...]  # two sides, the shorter first, and how many patches come out of it
Cut = Counter[tuple[str, Key]]  # rectangles, by fabric

SQUARED = Fraction(1, 2)  # inches that squaring the end of a strip set takes
_PER = {"half-square triangle": 2, "quarter-square triangle": 4}


class ByMethod(NamedTuple):
    """Of each fabric the patches that methods give, by what they would be cut from, and the rectangles of methods."""

    patches: Cut
    rectangles: Cut
    wrong: tuple[str, ...] = ()


class _Unit(NamedTuple):
    """One unit of a batch: its fabrics and pieces, those of each side of its last seam, and how long that seam is."""

    sides: tuple[tuple[tuple[str, Piece], ...], ...]
    seam: Fraction

    @property
    def leaves(self) -> tuple[tuple[str, Piece], ...]:
        return tuple(leaf for side in self.sides for leaf in side)


def count_by_method(cloth: Json, plan: Json) -> ByMethod:
    """What methods other than patch by patch are for; nothing where no such method is taken."""
    told = [one for one in cloth["methods"] if one.get("inside") or one["method"] != "one by one"]
    if not told:
        return ByMethod(Counter(), Counter())
    work, complaints = read_work(plan)  # type: ignore[arg-type]
    if work is None:
        return ByMethod(Counter(), Counter(), complaints)
    return _Counting(work, plan).count(told)


def key_of(piece: Piece) -> Key:
    """What a piece is cut from where it is cut by itself."""
    assert piece.cut is not None
    short, long = (side.plain for side in piece.cut)
    makes = _PER.get(piece.shape, 1)
    return (long, long, Fraction(makes)) if makes > 1 else (short, long, Fraction(1))


class _Counting:
    def __init__(self, work: Work, plan: Json) -> None:
        self.work = work
        self.seam = work.allowance
        self.mark = Fraction(1, 8) if plan["project"]["measure"] == "in" else Fraction(10, 254)
        self.batches: dict[str, Json] = {batch["id"]: batch for batch in plan["batches"]}
        self.place = {seam.id: number for number, seam in enumerate(work.seams, len(work.patches))}
        self.taken: set[int] = set()  # seams that a method sews whole, with all inside of them
        self.patches: Cut = Counter()
        self.rectangles: Cut = Counter()
        self.pieces: dict[object, Piece] = {}

    def count(self, told: Sequence[Json]) -> ByMethod:
        wrong: list[str] = []
        # What holds others comes before them
        by_size = sorted(told, key=lambda one: -len(self._leaves(self.place[self._seams(one)[0]])))
        for one in by_size:
            wrong += self._count_one(one)
        return ByMethod(self.patches, self.rectangles, tuple(wrong))

    def _seams(self, told: Json) -> Sequence[str]:
        seams: Sequence[str] = self.batches[told["batch"]]["seams"]
        return seams

    def _count_one(self, told: Json) -> Iterator[str]:
        where = f"method of {told['unit']} ({told['batch']})"
        seams = [self.place[seam] for seam in self._seams(told)]
        if told["units"] != len(seams):
            yield f"{where}: {told['units']} units are told, and there are {len(seams)}"
        free = [seam for seam in seams if seam not in self.taken]
        if told.get("inside"):
            if free:
                yield f"{where}: {len(free)} of it come out of no longer strip set"
            return
        said = self.batches[told["batch"]].get("method")
        if said != told["method"]:
            yield f"{where}: it is sewn {told['method']} here, and in the plan {said or 'one by one'}"
        way = next((way for way in told["ways"] if way["method"] == told["method"]), None)
        if way is None or not free:
            yield f"{where}: {told['method']} is none of its ways"
            return
        for seam in free:
            self._take(seam)
        unit = self._read_unit(free[0])
        for fabric, piece in unit.leaves:
            self.patches[fabric, key_of(piece)] += len(free)
        cut: Cut = Counter()
        for one in way["cut"]:
            short, long = sorted((_read(one["w"]), _read(one["h"])))
            cut[one["fabric"], (short, long, Fraction(one["makes"]))] += one["count"]
        self.rectangles.update(cut)
        oversize = _read(told.get("oversize", "0"))
        if told["method"] in ("strip sets", "from strips"):
            why = self._why_not_strips(unit, len(free), told["method"] == "strip sets", cut)
        else:
            right = self._cut_squares(unit, len(free), told["method"], oversize)
            why = "" if right == cut else f"what is cut for {len(free)} of it should be {_spell(right)}"
            if right is None:
                why = f"{told['method']} is no way to sew it"
        if why:
            yield f"{where}: {why}"

    def _take(self, seam: int) -> None:
        waiting = [seam]
        while waiting:
            number = waiting.pop()
            if number >= len(self.work.patches):
                self.taken.add(number)
                waiting += self._seam(number).sides

    def _seam(self, number: int) -> SeamRead:
        return self.work.seams[number - len(self.work.patches)]

    def _leaves(self, number: int) -> list[int]:
        if number < len(self.work.patches):
            return [number]
        return [leaf for side in self._seam(number).sides for leaf in self._leaves(side)]

    def _read_unit(self, number: int) -> _Unit:
        seam = self._seam(number)
        sides = tuple(
            tuple((self.work.patches[leaf].fabric, self._piece(leaf)) for leaf in self._leaves(side))
            for side in seam.sides
        )
        dx, dy = (seam.end[axis] - seam.start[axis] for axis in (0, 1))
        length = root_of(divide(dx * dx + dy * dy, self.work.scale**2))
        return _Unit(sides, length.plain)  # only of a row it matters, and there it has no root

    def _piece(self, leaf: int) -> Piece:
        patch = self.work.patches[leaf]
        key = patch.outline, patch.is_askew
        if key not in self.pieces:
            self.pieces[key] = size_piece(lay_on_grain(patch), self.work)
        return self.pieces[key]

    def _cut_squares(self, unit: _Unit, needed: int, method: str, oversize: Fraction) -> Cut | None:
        """The squares and rectangles of a method that begins with such; None where it is none for this unit."""
        shapes = sorted(piece.shape for _, piece in unit.leaves)
        cut: Cut = Counter()

        def add(fabric: str, wide: Fraction, high: Fraction, makes: int, count: int) -> None:
            short, long = sorted((wide, high))
            cut[fabric, (short, long, Fraction(makes))] += count

        if shapes == ["half-square triangle"] * 2:
            for fabric, piece in unit.leaves:
                side = key_of(piece)[0]
                if method == "two at a time":
                    add(fabric, side + oversize, side + oversize, 2, _up(needed, 2))
                elif method == "eight at a time":
                    add(fabric, 2 * (side + oversize), 2 * (side + oversize), 8, _up(needed, 8))
                elif method == "four at a time":
                    large = self._square_for_four(side)
                    add(fabric, large, large, 4, _up(needed, 4))
            return cut or None
        if shapes == ["quarter-square triangle"] * 4 and method == "two at a time":
            first, second = ([fabric for fabric, _ in side] for side in unit.sides)
            side = key_of(unit.leaves[0][1])[0] + oversize
            couples = _up(needed, 2)  # two half squares each
            is_one_kind = sorted(first) == sorted(second)
            for fabrics in [first] if is_one_kind else [first, second]:
                for fabric in fabrics:
                    add(fabric, side, side, 4, couples if is_one_kind else _up(couples, 2))
            return cut
        if shapes == ["half-square triangle"] * 2 + ["quarter-square triangle"]:
            goose = next(leaf for leaf in unit.leaves if leaf[1].shape == "quarter-square triangle")
            skies = [leaf for leaf in unit.leaves if leaf[1].shape == "half-square triangle"]
            large, small = key_of(goose[1])[0], key_of(skies[0][1])[0]
            if method == "four at a time" and skies[0][0] == skies[1][0]:
                add(goose[0], large + oversize, large + oversize, 4, _up(needed, 4))
                add(skies[0][0], small + oversize, small + oversize, 2, 4 * _up(needed, 4))
                return cut
            if method == "stitch and flip":
                wide, high = large - 3 * self.seam, (large - 5 * self.seam) / 2 + 2 * self.seam
                add(goose[0], wide, high, 1, needed)
                for fabric, _ in skies:
                    add(fabric, high, high, 1, needed)
                return cut
        return None

    def _square_for_four(self, side: Fraction) -> Fraction:
        """The least square, on a line of the ruler, whose units sewn all round can be trimmed to size: their diagonal
        is what is left of its side."""
        unit = side - Fraction(3, 2) * self.seam  # with its allowances
        lines = 1
        while (lines * self.mark - 2 * self.seam) ** 2 < 2 * unit * unit or lines * self.mark < 2 * self.seam:
            lines += 1
        return lines * self.mark

    def _why_not_strips(self, unit: _Unit, needed: int, is_set: bool, cut: Cut) -> str:
        """Why strips do not come to so many units; nothing where they do."""
        if is_set:
            segment = unit.seam + 2 * self.seam
            across: Counter[tuple[str, Fraction]] = Counter()
            for fabric, piece in unit.leaves:
                sides = list(key_of(piece)[:2])
                if segment not in sides:
                    return f"no segment of it is {segment} wide"
                sides.remove(segment)
                across[fabric, sides[0]] += 1
            spare = 0
        else:
            side = key_of(unit.leaves[0][1])[0] - Fraction(3, 2) * self.seam
            lines = 1
            while (lines * self.mark - self.seam) ** 2 * 2 < side * side or lines * self.mark < self.seam:
                lines += 1
            segment = lines * self.mark
            across = Counter((fabric, segment) for fabric, _ in unit.leaves)
            spare = 1  # half a triangle is lost at each end
        # As many strips of each length for every place of a set, and as long as their segments take
        by_count: dict[int, Counter[tuple[str, Fraction]]] = defaultdict(Counter)
        for (fabric, (short, long, makes)), count in cut.items():
            each = int(makes)
            length = (each + spare) * segment + SQUARED
            if length not in (short, long):
                return f"a strip for {each} of it should be {length} long"
            by_count[each][fabric, short if length == long else long] += count
        given = 0
        for each, strips in by_count.items():
            sets = {strips[one] // times for one, times in across.items()}
            if len(sets) != 1 or strips != Counter({one: times * max(sets) for one, times in across.items()}):
                return f"its strips for {each} segments are not those of whole sets"
            given += each * max(sets)
        return "" if given == needed else f"its strips give {given}, and {needed} are needed"


def _up(many: int, per: int) -> int:
    return -(-many // per)


def _read(text: str) -> Fraction:
    return sum((Fraction(part) for part in text.split(" ")), Fraction(0))


def _spell(cut: Cut | None) -> str:
    told = (f"{count} {fabric} {long} x {short}" for (fabric, (short, long, _)), count in sorted((cut or {}).items()))
    return ", ".join(told)
