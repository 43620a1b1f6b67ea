"""All answers to small questions, by trying everything: slow, short, and sharing no code with the planner.

Polygons are tuples of (x, y), both `Fraction` (forms are sorted as text), y down. A tree is the place of a patch in
its draft, or a pair of trees: the two sides of a seam. Seams are straight.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from itertools import product
from typing import NamedTuple

from planner.checks.plan_file import Plan

Point = tuple[Fraction, Fraction]
Polygon = tuple[Point, ...]
Tree = int | tuple["Tree", "Tree"]


class Patch(NamedTuple):
    fabric: str
    corners: Polygon


class Draft(NamedTuple):
    """Patches of one block, and the rectangles (left, top, right, bottom) of what is sewn as a unit first."""

    patches: tuple[Patch, ...]
    parts: tuple[tuple[Fraction, Fraction, Fraction, Fraction], ...] = ()


class Handling(NamedTuple):
    minutes: Fraction
    passes: int
    kinds: int


class Pressing(NamedTuple):
    clashes: int
    kinds_two_ways: int
    in_second_piles: int


class Seam(NamedTuple):
    """One seam of a tree: the patches of its sides, its ends, and what kind it is of."""

    a: frozenset[int]
    b: frozenset[int]
    ends: tuple[Point, Point]
    form: object  # equal for identical seams
    turns: int  # quarter turns that bring it to its form
    is_turned_the_same: bool


class Join(NamedTuple):
    at: Point
    seam: int  # places in the tuple of seams
    a: int
    b: int


def read_sewn(plan: Plan) -> tuple[tuple[Draft, Tree], ...]:
    """The blocks of a plan file with the trees they are sewn by, in the order of its blocks; parts are not in it."""
    sewn = []
    for block in plan["blocks"]:
        patches = [patch for patch in plan["patches"] if patch["block"] == block["id"]]
        trees: dict[str, Tree] = {patch["id"]: place for place, patch in enumerate(patches)}
        root = next(iter(trees), "")
        for seam in plan["seams"]:
            if seam["block"] == block["id"]:
                assert seam["b"] is not None, "a partial seam"
                root = seam["id"]
                trees[root] = (trees[seam["a"]], trees[seam["b"]])
        corners = [tuple((_read(x), _read(y)) for x, y in patch["corners"]) for patch in patches]
        drawn = tuple(Patch(patch["fabric"], outline) for patch, outline in zip(patches, corners, strict=True))
        sewn.append((Draft(drawn), trees[root]))
    return tuple(sewn)


def _read(text: str) -> Fraction:
    value = sum(Fraction(word) for word in text.lstrip("-").split())
    return Fraction(-value if text.startswith("-") else value)


# --- trees


def enumerate_trees(draft: Draft) -> tuple[Tree, ...]:
    """Every way to sew at most 10 patches by straight seams; no part is cut before it is all that is left."""
    assert len(draft.patches) <= 10, "trying everything takes too long"
    polygons = [patch.corners for patch in draft.patches]
    parts = {
        frozenset(place for place, polygon in enumerate(polygons) if all(_is_inside(point, part) for point in polygon))
        for part in draft.parts
    }

    @cache
    def sew(region: frozenset[int]) -> tuple[Tree, ...]:
        if len(region) == 1:
            return tuple(region)
        closed = [part for part in parts if part < region]
        trees: list[Tree] = []
        for half in find_halves(region):
            if all(part <= half or not part & half for part in closed):
                trees += product(sew(half), sew(region - half))
        return tuple(trees)

    def find_halves(region: frozenset[int]) -> list[frozenset[int]]:
        """One half for each straight cut: the one with the first patch."""
        halves = set()
        for place in region:
            for start, end in _sides(polygons[place]):
                left = {other for other in region if all(_turn(start, end, point) <= 0 for point in polygons[other])}
                right = {other for other in region if all(_turn(start, end, point) >= 0 for point in polygons[other])}
                if left and right and left | right == region:
                    halves.add(frozenset(left if min(region) in left else right))
        return sorted(halves, key=sorted)

    return sew(frozenset(range(len(polygons))))


def _is_inside(point: Point, part: tuple[Fraction, Fraction, Fraction, Fraction]) -> bool:
    return part[0] <= point[0] <= part[2] and part[1] <= point[1] <= part[3]


def _sides(polygon: Polygon) -> list[tuple[Point, Point]]:
    return list(zip(polygon, (*polygon[1:], polygon[0]), strict=True))


def _turn(start: Point, end: Point, point: Point) -> Fraction:
    return (end[0] - start[0]) * (point[1] - start[1]) - (end[1] - start[1]) * (point[0] - start[0])


# --- seams, kinds, joins


def find_seams(draft: Draft, tree: Tree) -> tuple[Seam, ...]:
    """All seams of a tree, each after those it is sewn on."""
    seams: list[Seam] = []

    def walk(tree: Tree) -> frozenset[int]:
        if isinstance(tree, int):
            return frozenset((tree,))
        a, b = walk(tree[0]), walk(tree[1])
        seams.append(Seam(a, b, _find_ends(draft, a, b), *_find_form(draft, tree)))
        return a | b

    walk(tree)
    return tuple(seams)


def _find_form(draft: Draft, tree: Tree) -> tuple[object, int, bool]:
    """What `Seam` says of form and turns."""
    forms = [_write_form(draft, tree, turns) for turns in range(4)]
    form = min(forms, key=repr)
    return form, forms.index(form), forms[0] == forms[2]


def _write_form(draft: Draft, tree: Tree, turns: int) -> object:
    """Both sides of the last seam, their patches and seam lines turned and moved to 0,0. Equal for identical units."""
    turned = {place: [_rotate(point, turns) for point in draft.patches[place].corners] for place in _leaves(tree)}
    low = [min(point[axis] for points in turned.values() for point in points) for axis in (0, 1)]

    def move(points: Iterable[Point]) -> tuple[Point, ...]:
        return tuple(sorted((point[0] - low[0], point[1] - low[1]) for point in points))

    def hold(tree: Tree) -> tuple[list[object], list[object]]:
        """The patches and the seam lines of a side."""
        if isinstance(tree, int):  # convex: the corners alone tell the outline
            return [(draft.patches[tree].fabric, move(_strip(turned[tree])))], []
        sides = [hold(side) for side in tree]
        line = _find_ends(draft, frozenset(_leaves(tree[0])), frozenset(_leaves(tree[1])))
        return sides[0][0] + sides[1][0], [*sides[0][1], *sides[1][1], move(_rotate(end, turns) for end in line)]

    assert not isinstance(tree, int), "a patch is sewn by no seam"
    sides = [tuple(tuple(sorted(held, key=repr)) for held in hold(side)) for side in tree]
    return tuple(sorted(sides, key=repr))


def _strip(points: list[Point]) -> list[Point]:
    """Without the corners that lie on a straight line."""
    return [
        point
        for place, point in enumerate(points)
        if _turn(points[place - 1], point, points[(place + 1) % len(points)]) != 0
    ]


def _rotate(point: Point, turns: int) -> Point:
    for _ in range(turns):
        point = (-point[1], point[0])
    return point


def _leaves(tree: Tree) -> tuple[int, ...]:
    return (tree,) if isinstance(tree, int) else (*_leaves(tree[0]), *_leaves(tree[1]))


def _find_ends(draft: Draft, a: frozenset[int], b: frozenset[int]) -> tuple[Point, Point]:
    """The ends of the straight border between two sides: every corner that lies on the one line between them."""
    points_a = [point for place in a for point in draft.patches[place].corners]
    points_b = [point for place in b for point in draft.patches[place].corners]
    for place in a:
        for start, end in _sides(draft.patches[place].corners):
            sides_a, sides_b = ([_turn(start, end, point) for point in points] for points in (points_a, points_b))
            if (max(sides_a) <= 0 <= min(sides_b)) or (max(sides_b) <= 0 <= min(sides_a)):
                on_line = [point for point, side in zip(points_a, sides_a, strict=True) if side == 0]
                return min(on_line), max(on_line)
    raise AssertionError("no straight line between the two sides")


def find_joins(seams: tuple[Seam, ...]) -> tuple[Join, ...]:
    """Each point of a seam where a seam of either side ends; of several of one side, the one sewn last."""
    joins = []
    for place, seam in enumerate(seams):
        last_at: list[dict[Point, int]] = [{}, {}]
        for inner, other in enumerate(seams):
            for side, patches in enumerate((seam.a, seam.b)):
                if other.a | other.b <= patches:
                    for end in other.ends:
                        if _is_between(end, *seam.ends):
                            last_at[side][end] = inner  # the later ones are sewn later
        joins += [Join(at, place, a, last_at[1][at]) for at, a in last_at[0].items() if at in last_at[1]]
    return tuple(joins)


def _between(start: Point, end: Point) -> Point:
    return end[0] - start[0], end[1] - start[1]


def _is_between(point: Point, start: Point, end: Point) -> bool:
    return _turn(start, end, point) == 0 and min(start, end) <= point <= max(start, end)


# --- least handling


def least_handling(drafts: tuple[Draft, ...], trip: Fraction | int = 3, pile: Fraction | int = 2) -> Handling:
    """The least trip x passes + pile x kinds over all trees of all drafts; kinds that drafts share count once.

    Of equal minutes the fewest passes. AssertionError where a draft has no straight tree.
    """
    choices = []
    for draft in drafts:
        trees = enumerate_trees(draft)
        known: dict[Tree, frozenset[object]] = {}
        ways = {(_depth(tree), _collect_kinds(draft, tree, known)) for tree in trees}
        assert ways, "no straight cut"
        choices.append([way for way in ways if not any(other[0] <= way[0] and other[1] < way[1] for other in ways)])
    best = None
    for chosen in product(*choices):
        passes = max(way[0] for way in chosen)
        kinds = len(frozenset[object]().union(*(way[1] for way in chosen)))
        handling = Handling(Fraction(trip) * passes + Fraction(pile) * kinds, passes, kinds)
        best = handling if best is None else min(best, handling)
    assert best is not None, "no draft"
    return best


def _collect_kinds(draft: Draft, tree: Tree, known: dict[Tree, frozenset[object]]) -> frozenset[object]:
    if isinstance(tree, int):
        return frozenset()
    if tree not in known:
        form = _find_form(draft, tree)[0]
        sides = (_collect_kinds(draft, side, known) for side in tree)
        known[tree] = frozenset((form,)).union(*sides)
    return known[tree]


def _depth(tree: Tree) -> int:
    return 0 if isinstance(tree, int) else 1 + max(_depth(tree[0]), _depth(tree[1]))


# --- least pressing


def least_pressing(sewn: tuple[tuple[Draft, Tree], ...]) -> Pressing:
    """The least (clashes, kinds pressed two ways, units in second piles) for these blocks, each copy listed.

    Every seam is pressed to one side or the other. At most 12 seams in all.
    """
    weighed = _weigh_bits(sewn)
    assert len(weighed.seams) <= 12, "trying everything takes too long"
    return min(_judge(weighed, bits) for bits in product((0, 1), repeat=len(weighed.seams)))


def judge_pressing(sewn: tuple[tuple[Draft, Tree], ...], bits: tuple[int, ...]) -> Pressing:
    """What pressing each seam to its side a (0) or b (1) costs; bits in the order of `find_seams`, block by block."""
    return _judge(_weigh_bits(sewn), bits)


def does_nest(draft: Draft, seams: tuple[Seam, ...], join: Join, bits: tuple[int, ...]) -> bool:
    """Whether the allowances of a join fall opposite ways along the seam that is sewn."""
    ways = {_does_fall_ahead(draft, seams[inner], seams[join.seam], bits[inner]) for inner in (join.a, join.b)}
    return len(ways) == 2


class _Weighed(NamedTuple):
    """What bits mean: of each join its two seams and the way either bit of theirs falls, of each seam its form (None
    where it can be turned) and the version of either bit.
    """

    joins: tuple[tuple[int, tuple[bool, bool], int, tuple[bool, bool]], ...]
    seams: tuple[tuple[object, tuple[object, object]], ...]


def _weigh_bits(sewn: tuple[tuple[Draft, Tree], ...]) -> _Weighed:
    all_joins: list[tuple[int, tuple[bool, bool], int, tuple[bool, bool]]] = []
    all_seams: list[tuple[object, tuple[object, object]]] = []
    for draft, tree in sewn:
        seams = find_seams(draft, tree)
        first = len(all_seams)
        for join in find_joins(seams):
            a, b = (
                [_does_fall_ahead(draft, seams[inner], seams[join.seam], bit) for bit in (0, 1)]
                for inner in (join.a, join.b)
            )
            all_joins.append((first + join.a, (a[0], a[1]), first + join.b, (b[0], b[1])))
        for seam in seams:
            form = None if seam.is_turned_the_same else seam.form
            all_seams.append((form, (_tell_version(draft, seam, 0), _tell_version(draft, seam, 1))))
    return _Weighed(tuple(all_joins), tuple(all_seams))


def _judge(weighed: _Weighed, bits: tuple[int, ...]) -> Pressing:
    clashes = sum(ways_a[bits[a]] == ways_b[bits[b]] for a, ways_a, b, ways_b in weighed.joins)
    piles: dict[object, Counter[object]] = defaultdict(Counter)
    for (form, versions), bit in zip(weighed.seams, bits, strict=True):
        if form is not None:
            piles[form][versions[bit]] += 1
    two_ways = [pile for pile in piles.values() if len(pile) > 1]
    return Pressing(clashes, len(two_ways), sum(min(pile.values()) for pile in two_ways))


def _does_fall_ahead(draft: Draft, seam: Seam, across: Seam, bit: int) -> bool:
    """Whether the allowances of a seam fall toward the end of the seam that is sewn across it."""
    pressed = seam.b if bit else seam.a
    ahead = _turn((Fraction(0), Fraction(0)), _between(*seam.ends), _between(*across.ends))
    corners = [point for place in pressed for point in draft.patches[place].corners]
    return any(_turn(*seam.ends, point) * ahead > 0 for point in corners)


def _tell_version(draft: Draft, seam: Seam, bit: int) -> object:
    """On which side of the seam the pressed side lies, the unit turned to its form."""
    pressed = seam.b if bit else seam.a
    corners = [_rotate(point, seam.turns) for place in pressed for point in draft.patches[place].corners]
    start, end = sorted(_rotate(point, seam.turns) for point in seam.ends)
    return sum((_turn(start, end, point) for point in corners), start=Fraction(0)) > 0
