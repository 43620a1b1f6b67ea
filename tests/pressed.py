"""What can be reached by pressing and turning, told from a plan's JSON: each quilt as a draft with one tree, and the
least of all ways to press it, all of them weighed at once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import lcm
from typing import cast

import numpy as np
from brute_force import Draft, Patch, Point, Pressing, Tree, _weigh_bits, find_seams
from points import read_outline

from planner.checks import plan_file

MOST_SEAMS = 16
Sewn = tuple[Draft, Tree]


def read_top(printed: plan_file.Plan) -> tuple[Draft, Tree, dict[str, tuple[int, ...]]]:
    """The quilt of a plan as one draft and its tree; and which of its patches each block has."""
    joined = {block["id"] for block in printed["blocks"] if not block["loose"]}
    patches = [patch for patch in printed["patches"] if patch["block"] is None or patch["block"] in joined]
    blocks: dict[str, tuple[int, ...]] = dict.fromkeys(joined, ())
    for place, patch in enumerate(patches):
        if patch["block"] is not None:
            blocks[patch["block"]] += (place,)
    return *_read_sewn(printed, patches), blocks


def read_all(printed: plan_file.Plan) -> tuple[Sewn, ...]:
    """Every loose block, and the quilt, in the order of the plan's seams."""
    sewn = []
    for block in printed["blocks"]:
        if block["loose"]:
            sewn.append(_read_sewn(printed, [patch for patch in printed["patches"] if patch["block"] == block["id"]]))
    if len(sewn) < len(printed["blocks"]):
        draft, tree, _ = read_top(printed)
        sewn.append((draft, tree))
    return tuple(sewn)


def _read_sewn(printed: plan_file.Plan, patches: Sequence[plan_file.PlanPatch]) -> Sewn:
    """These patches and the tree they are sewn by. Corners are in steps that fit all of them: whole numbers are tried
    much faster than fractions. Roots are refused."""
    trees: dict[str, Tree] = {patch["id"]: place for place, patch in enumerate(patches)}
    root = patches[0]["id"]
    for seam in printed["seams"]:
        if seam["a"] in trees:
            root = seam["id"]
            trees[root] = (trees[seam["a"]], trees[seam["b"] or ""])
    steps = find_steps(printed)
    drawn = []
    for patch in patches:
        corners = [(int(x * steps), int(y * steps)) for x, y in read_outline(patch)]
        # Setting triangles are cut with another grain: they are of another cloth, as it were
        is_askew = patch["block"] is None and printed["project"]["on_point"]
        fabric = f"{patch['fabric']} askew" if is_askew else patch["fabric"]
        drawn.append(Patch(fabric, tuple(cast(Point, corner) for corner in corners)))
    return Draft(tuple(drawn)), trees[root]


def find_steps(printed: plan_file.Plan) -> int:
    """Into how many steps an inch is parted, so that every corner lies on one."""
    numbers = {number for patch in printed["patches"] for corner in read_outline(patch) for number in corner}
    return lcm(*(number.denominator for number in numbers))


def find_least(sewn: tuple[Sewn, ...], alike: Sequence[tuple[int, int]] = ()) -> Pressing:
    """The least (clashes, kinds pressed two ways, units in second piles) of all ways to press these; with seams that
    are to be pressed `alike` (both to their side a or both to b), of those ways that do so."""
    weighed = _weigh_bits(sewn)
    many = len(weighed.seams)
    assert many <= MOST_SEAMS, "trying everything takes too long"
    bits = ((np.arange(1 << many)[:, None] >> np.arange(many)) & 1).astype(bool)
    clashes = np.zeros(1 << many, dtype=np.int32)
    for a, ways_a, b, ways_b in weighed.joins:
        # both ways of a bit differ, so that a seam falls ahead where its bit is that of its way ahead
        clashes += (bits[:, a] ^ ways_a[0]) == (bits[:, b] ^ ways_b[0])
    members = defaultdict(list)
    for place, (form, versions) in enumerate(weighed.seams):
        if form is not None:
            members[form].append((place, bool(versions[0])))
    two_ways = np.zeros_like(clashes)
    second = np.zeros_like(clashes)
    for piles in members.values():
        count = sum((bits[:, place] ^ first).astype(np.int32) for place, first in piles)
        smaller = np.minimum(count, len(piles) - count)
        two_ways += smaller > 0
        second += smaller
    # in one number, so that the least of all is found at once
    rank = (clashes * (many + 1) + two_ways) * (many + 1) + second
    for one, other in alike:
        rank = np.where(bits[:, one] == bits[:, other], rank, (many + 1) ** 4)
    best = int(rank.argmin())
    return Pressing(int(clashes[best]), int(two_ways[best]), int(second[best]))


# --- turning


def find_turns(draft: Draft, tree: Tree, block: tuple[int, ...]) -> dict[int, dict[int, int]]:
    """The quarter turns, clockwise, that carry a block's patches and the lines of its seams onto themselves; for each
    the patch that comes to lie where a patch was."""
    points = [point for place in block for point in draft.patches[place].corners]
    left, top, right, bottom = (
        pick(point[axis] for point in points) for pick, axis in ((min, 0), (min, 1), (max, 0), (max, 1))
    )
    lines = {tuple(sorted(seam.ends)) for seam in find_seams(draft, tree) if seam.a | seam.b <= frozenset(block)}
    where = {(draft.patches[place].fabric, frozenset(draft.patches[place].corners)): place for place in block}
    turns = {0: {place: place for place in block}}
    for turn in (1, 2, 3):
        if turn % 2 and right - left != bottom - top:
            continue

        def move(point: Point, turn: int = turn) -> Point:
            x, y = point[0] - left, point[1] - top
            wide, high = right - left, bottom - top
            for _ in range(turn):
                x, y = high - y, x
                wide, high = high, wide
            return x + left, y + top

        goes = {
            place: where.get((patch.fabric, frozenset(map(move, patch.corners))))
            for place in block
            for patch in (draft.patches[place],)
        }
        if None not in goes.values() and {tuple(sorted(map(move, line))) for line in lines} == lines:
            turns[turn] = {place: to for place, to in goes.items() if to is not None}
    return turns


def turn_leaves(tree: Tree, goes: Mapping[int, int]) -> Tree:
    """The tree of a quilt with some blocks turned: each patch in the place of another."""
    if isinstance(tree, int):
        return goes.get(tree, tree)
    return turn_leaves(tree[0], goes), turn_leaves(tree[1], goes)


def pair_alike(draft: Draft, tree: Tree, blocks: Sequence[tuple[int, ...]]) -> list[tuple[int, int]]:
    """The seams that correspond in equal blocks, told by their places among all seams of the tree."""
    seams = find_seams(draft, tree)
    inside = [[place for place, seam in enumerate(seams) if seam.a | seam.b <= frozenset(block)] for block in blocks]
    return [pair for other in inside[1:] for pair in zip(inside[0], other, strict=True)]


def corner_of(draft: Draft, block: tuple[int, ...]) -> Point:
    """The upper left corner of the box round a block."""
    points = [point for place in block for point in draft.patches[place].corners]
    return min(x for x, _ in points), min(y for _, y in points)
