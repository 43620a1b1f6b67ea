"""A whole plan from drafts, trees and pressing, by brute force and shapely: right by other means than the checkers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from math import ceil, isqrt
from typing import Any, NamedTuple, cast

from brute_force import Draft, Point, Polygon, Seam, Tree, does_nest, find_joins, find_seams
from shapely import Polygon as ShapelyPolygon  # type: ignore[import-untyped]
from shapely import convex_hull, unary_union

from planner.checks.plan_file import Plan

SIDES = ("a", "b")


class Cut(NamedTuple):
    shape: str
    finished: tuple[str, str]
    cut: tuple[str, str]
    corners: Polygon


def write_plan(sewn: Sequence[tuple[Draft, Tree]], bits: Sequence[int], allowance: Fraction) -> Plan:
    """The plan of these blocks, each seam pressed to its side a (0) or b (1), in the order of `find_seams`."""
    plan: dict[str, Any] = {
        "plan": 1,
        "project": {"name": "Tidewater", "seam": str(allowance), "measure": "in", "on_point": False},
    }
    for key in ("fabrics", "blocks", "patches", "seams", "joins", "batches", "cut"):
        plan[key] = []
    kinds: dict[object, dict[str, Any]] = {}
    left = list(bits)
    for number, (draft, tree) in enumerate(sewn, start=1):
        block = f"b{number}"
        patches = [f"{block}p{place}" for place in range(len(draft.patches))]
        for name, patch in zip(patches, draft.patches, strict=True):
            corners = [_spell(point) for point in patch.corners]
            plan["patches"].append({"id": name, "block": block, "fabric": patch.fabric, "corners": corners})
        points = [point for patch in draft.patches for point in patch.corners]
        size = [str(max(point[axis] for point in points)) for axis in (0, 1)]
        plan["blocks"].append({"id": block, "draft": "tidewater", "size": size, "loose": True})
        seams = find_seams(draft, tree)
        own, left = left[: len(seams)], left[len(seams) :]
        names = [f"{block}s{place}" for place in range(len(seams))]
        results = dict(zip((seam.a | seam.b for seam in seams), names, strict=True))
        depths: dict[frozenset[int], int] = {}
        for name, seam, bit in zip(names, seams, own, strict=True):
            a, b = (patches[min(side)] if len(side) == 1 else results[side] for side in (seam.a, seam.b))
            start, end = seam.ends
            plan["seams"].append(
                {"id": name, "block": block, "a": a, "b": b, "from": _spell(start), "to": _spell(end)}
                | {"press": SIDES[bit], "why": ""}
            )
            depths[seam.a | seam.b] = 1 + max(depths.get(seam.a, 0), depths.get(seam.b, 0))
            unit = {"seams": [], "pass": depths[seam.a | seam.b], "unfinished": _measure_unit(draft, seam, allowance)}
            kinds.setdefault(seam.form, unit)["seams"].append(name)
        for join in find_joins(seams):
            nests = does_nest(draft, seams, join, tuple(own))
            entry = {"seam": names[join.seam], "at": _spell(join.at), "a": names[join.a], "b": names[join.b]}
            plan["joins"].append(entry | {"nests": nests, "why": "" if nests else "both fall one way"})
    plan["batches"] = [{"id": f"B{number}", "unit": "a unit"} | kind for number, kind in enumerate(kinds.values())]
    fabrics = sorted({patch.fabric for draft, _ in sewn for patch in draft.patches})
    plan["fabrics"] = [{"id": fabric, "value": "dark", "weight": "light"} for fabric in fabrics]
    cuts = Counter((patch.fabric, _cut_piece(patch.corners, allowance)) for draft, _ in sewn for patch in draft.patches)
    for (fabric, cut), count in cuts.items():
        entry = {"fabric": fabric, "shape": cut.shape, "finished": list(cut.finished), "cut": list(cut.cut)}
        plan["cut"].append(entry | {"count": count, "corners": [_spell(point) for point in cut.corners]})
    return cast(Plan, plan)


def _spell(point: Point) -> list[str]:
    return [str(Fraction(number)) for number in point]


def _measure_unit(draft: Draft, seam: Seam, allowance: Fraction) -> list[str]:
    """Unfinished sides of a convex unit, its outline taken as the hull of its patches' corners."""
    hull = convex_hull(unary_union([ShapelyPolygon(draft.patches[place].corners) for place in seam.a | seam.b]))
    exact = {(float(x), float(y)): (x, y) for place in seam.a | seam.b for x, y in draft.patches[place].corners}
    corners = _trim(tuple(exact[point] for point in hull.exterior.coords[:-1]))
    cut = _cut_piece(corners, allowance)
    if cut.shape not in ("square", "rectangle"):
        return list(cut.cut)
    return [
        f"{2 * allowance} + {side}" if "sqrt" in side else str(Fraction(side) + 2 * allowance) for side in cut.finished
    ]


def _trim(corners: Polygon) -> Polygon:
    """Without the corners on a straight line, which the hull keeps where floats are not straight."""
    kept = []
    for place, (x, y) in enumerate(corners):
        (bx, by), (ax, ay) = corners[place - 1], corners[(place + 1) % len(corners)]
        if (x - bx) * (ay - y) != (y - by) * (ax - x):
            kept.append((x, y))
    return tuple(kept)


def _cut_piece(corners: Polygon, allowance: Fraction) -> Cut:
    corners = _lay(_trim(corners))
    squares = [
        (corners[place - 1][0] - x) ** 2 + (corners[place - 1][1] - y) ** 2 for place, (x, y) in enumerate(corners)
    ]
    if len(corners) == 4 and squares[0] == squares[2] and squares[1] == squares[3]:
        first, second = sorted(squares[:2])
        diagonal = (corners[0][0] - corners[2][0]) ** 2 + (corners[0][1] - corners[2][1]) ** 2
        if diagonal == first + second:
            wide, high = (_add(side, 2 * allowance) for side in (first, second))
            shape = "square" if first == second else "rectangle"
            return Cut(shape, (_root(first), _root(second)), (str(wide), str(high)), _box(wide, high))
    if len(corners) == 3 and 2 * sorted(squares)[0] == 2 * sorted(squares)[1] == max(squares):
        long = squares.index(max(squares))
        if corners[long][0] == corners[long - 1][0] or corners[long][1] == corners[long - 1][1]:
            whole = _add(max(squares), 5 * allowance)
            half = whole / 2
            finished = (_root(max(squares) / 4), _root(max(squares)))
            outline: Polygon = ((Fraction(0), Fraction(0)), (whole, Fraction(0)), (half, half))
            return Cut("quarter-square triangle", finished, (str(half), str(whole)), outline)
        leg = _add(min(squares), Fraction(7, 2) * allowance)
        return Cut("half-square triangle", (_root(min(squares)),) * 2, (str(leg), str(leg)), _box(leg, leg)[:3])
    xs, ys = zip(*corners, strict=True)
    shorter, longer = sorted((max(xs) - min(xs), max(ys) - min(ys)))
    widened = _widen(corners, allowance, all(isqrt(_whole(square)) ** 2 == _whole(square) for square in squares))
    xs, ys = zip(*widened, strict=True)
    cut = sorted((max(xs) - min(xs), max(ys) - min(ys)))
    return Cut("other", (str(shorter), str(longer)), (str(cut[0]), str(cut[1])), widened)


def _lay(corners: Polygon) -> Polygon:
    """The least of its four turns, so that pieces cut alike are laid alike."""
    ways = []
    for _ in range(4):
        corners = tuple((-y, x) for x, y in corners)
        if sum(corners[at - 1][0] * y - corners[at - 1][1] * x for at, (x, y) in enumerate(corners)) < 0:
            corners = corners[::-1]
        first = corners.index(min(corners))
        left, top = corners[first]
        ways.append(tuple((Fraction(x - left), Fraction(y - top)) for x, y in (*corners[first:], *corners[:first])))
    return min(ways)


def _whole(square: Fraction) -> int:
    """A whole number that is a square if the fraction is one."""
    return square.numerator * square.denominator


def _root(square: Fraction) -> str:
    under = _whole(square)
    if isqrt(under) ** 2 == under:
        return str(Fraction(isqrt(under), square.denominator))
    return f"1/{square.denominator}*sqrt({under})"


def _add(square: Fraction, more: Fraction) -> Fraction:
    """sqrt(square) and more; where it has a root, up to the next 1/16."""
    root = _root(square)
    return Fraction(root) + more if "sqrt" not in root else Fraction(ceil((float(square) ** 0.5 + more) * 16), 16)


def _box(wide: Fraction, high: Fraction) -> Polygon:
    nothing = Fraction(0)
    return ((wide, nothing), (nothing, nothing), (nothing, high), (wide, high))


def _widen(corners: Polygon, allowance: Fraction, is_exact: bool) -> Polygon:
    """Wider by the allowance, its corners pointed; where that has no exact fraction a little more."""
    more = float(allowance) + (0 if is_exact else 0.0005)
    widened = ShapelyPolygon(corners).buffer(more, join_style="mitre", mitre_limit=10_000)
    points = widened.exterior.coords[:-1]
    denominator = 10**6 if is_exact else 10**9
    return tuple(
        (Fraction(x).limit_denominator(denominator), Fraction(y).limit_denominator(denominator)) for x, y in points
    )
