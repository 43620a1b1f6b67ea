"""Do the patches of a draft fill its box exactly once, and if not, where.

Whether they do is told by their outlines alone: every side must be undone by the sides of its neighbours, or by the
border of the box. What is not undone borders an overlap, a gap, or what lies outside. Only where something is left
over are patches compared with one another.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import gcd, lcm
from typing import NamedTuple

from planner.measure import spell_number, spell_rooted
from planner.reading.polygon import (
    Box,
    box_round,
    drop_straight_corners,
    find_overlap,
    find_touch,
    pairs_that_touch,
    run_clockwise,
    turn_at,
    twice_area,
    where_in,
)
from planner.surd import Exact, Grid, Surd, approach, denominator_of, divide, to_grid, to_least, to_length

Corner = tuple[Exact, Exact]
Corners = tuple[Corner, ...]
_Point = tuple[Grid, Grid]

MOST_FLAWS = 20  # of one kind, told for one draft
_MOST_PARTNERS = 3
_MOST_BORDERS = 160  # what is left over of more sides than this is not traced


class Flaw(NamedTuple):
    """Something wrong: with one patch, counted from 0, or with the draft as a whole."""

    patch: int | None
    words: str


@dataclass(slots=True)
class Effort:
    """How much may still be compared in all drafts of a file: counted, so that words never depend on time."""

    left: int = 400_000

    def take(self, steps: int) -> bool:
        """Whether so many steps may still be done."""
        self.left -= steps
        return self.left >= 0


def why_no_outline(corners: Corners) -> str | None:
    """Why the corners of one patch, straight ones dropped, are no polygon with an area."""
    if len(corners) < 3:
        return "these corners enclose no area"
    touch = find_touch(_scale(corners, lcm(*(denominator_of(number) for corner in corners for number in corner))))
    if touch is not None:
        one, two = (spell_corners((corners[at], corners[(at + 1) % len(corners)])) for at in touch)
        return f"the outline crosses or touches itself: the side {one} meets the side {two}; go round it once"
    return None


def find_flaws(
    box: Corner, outlines: Sequence[Corners | None], lines: Sequence[int], effort: Effort | None = None
) -> list[Flaw]:
    """What keeps patches from filling a box once. Outlines are simple polygons in box units.

    None stands for a patch whose outline could not be read: then nothing is said about gaps. `lines` are those of the
    patches, for the words.
    """
    effort = effort or Effort()
    known = [at for at, outline in enumerate(outlines) if outline is not None]
    numbers = [number for outline in outlines if outline for corner in outline for number in corner]
    scale = lcm(*map(denominator_of, (*box, *numbers)))
    polygons = {at: run_clockwise(_scale(outlines[at] or (), scale)) for at in known}
    width, height = _scale((box,), scale)[0]
    frame = ((0, 0), (width, 0), (width, height), (0, height))
    left_over = _find_left_over([*polygons.values(), tuple(reversed(frame))])
    if not left_over:
        return []
    flaws = [
        Flaw(at, f"reaches outside the box {_spell_box(box)}: x goes from 0 to {_spell(box[0])}, y to {_spell(box[1])}")
        for at in known
        if not _is_inside(box_round(polygons[at]), width, height)
    ]
    flaws += _find_overlaps(polygons, lines, scale, effort)
    if len(known) == len(outlines):
        gaps = _find_gaps(left_over, scale, effort)
        if gaps is None or not flaws + gaps:
            gaps = [Flaw(None, f"the patches do not fill the box {_spell_box(box)} exactly once")]
        flaws += gaps
    return flaws


def spell_corners(corners: Sequence[Corner]) -> str:
    """Corners as they are written in the file: `0,0 3/2,0 1-1/2,4 1+r2,4`."""
    return " ".join(f"{_spell(x)},{_spell(y)}" for x, y in corners)


def _spell(value: Exact) -> str:
    return spell_rooted(to_length(value))


def _spell_box(box: Corner) -> str:
    return " x ".join(spell_number(side) if isinstance(side, Fraction) else _spell(side) for side in box)


def _spell_near(value: Exact) -> str:
    if isinstance(value, Surd):
        whole, rest = divmod(round(approach(value) * 100), 100)
        return f"{whole}.{rest:02}"
    return _spell(value) if value.denominator <= 100 else _spell(Fraction(round(value * 100), 100))


def _scale(corners: Corners, scale: int) -> tuple[_Point, ...]:
    return tuple((to_grid(x, scale), to_grid(y, scale)) for x, y in corners)


def _is_inside(box: Box[Grid], width: Grid, height: Grid) -> bool:
    return box.west >= 0 and box.north >= 0 and box.east <= width and box.south <= height


class _LeftOver(NamedTuple):
    """A stretch that is left over, in steps of one scale. Inside of it (clockwise) patches lie `more` times more often
    than outside."""

    start: _Point
    end: _Point
    more: int


class _Border(NamedTuple):
    """The same in box units, and perhaps only a part of it."""

    start: Corner
    end: Corner
    more: int


def _find_left_over(polygons: Sequence[tuple[_Point, ...]]) -> list[_LeftOver]:
    """The sides of clockwise polygons that no other undoes; no two of them lie upon one another."""
    lines: defaultdict[tuple[Grid, Grid, Grid], defaultdict[_Point, int]] = defaultdict(lambda: defaultdict(int))
    for corners in polygons:
        x, y = corners[-1]
        for end_x, end_y in corners:
            dx, dy = end_x - x, end_y - y
            if isinstance(dx, int) and isinstance(dy, int):
                common = gcd(dx, dy)
                dx, dy = dx // common, dy // common
            else:
                dx, dy = to_least(dx, dy)
            if (dx, dy) < (0, 0):
                line = lines[-dx, -dy, dy * x - dx * y]
                line[end_x, end_y] -= 1
                line[x, y] += 1
            else:
                line = lines[dx, dy, dx * y - dy * x]
                line[x, y] += 1
                line[end_x, end_y] -= 1
            x, y = end_x, end_y
    left_over = []
    for line in lines.values():
        if not any(line.values()):
            continue
        more = 0
        # along a line points come in their own order: x rises, or y where x stays
        for point, after in pairwise(sorted(line)):
            more += line[point]
            if more:
                left_over.append(_LeftOver(point, after, more) if more > 0 else _LeftOver(after, point, -more))
    return sorted(left_over)


def _find_overlaps(
    polygons: dict[int, tuple[_Point, ...]], lines: Sequence[int], scale: int, effort: Effort
) -> list[Flaw]:
    """For each patch the earlier ones that it overlaps, the first few of them."""
    known = list(polygons)
    if not known:
        return []
    boxes = [box_round(polygons[at]) for at in known]
    if _is_crowded_level(boxes):
        boxes = [Box(box.north, box.west, box.south, box.east) for box in boxes]
    partners: defaultdict[int, list[tuple[int, str]]] = defaultdict(list)
    for one, two in pairs_that_touch(boxes):
        if not effort.take(1):
            break
        first, second = sorted((known[one], known[two]))
        if not boxes[one].overlaps(boxes[two]) or len(partners[second]) >= _MOST_PARTNERS:
            continue
        if not effort.take(len(polygons[first]) * len(polygons[second])):
            break
        place = find_overlap(polygons[first], polygons[second])
        if place is not None:
            over = place.over * scale
            near = f"{_spell_near(divide(place.x, over))},{_spell_near(divide(place.y, over))}"
            partners[second].append((first, near))
    flaws = []
    for at, met in sorted((at, sorted(met)) for at, met in partners.items() if met):
        others = ", ".join(f"patch {other + 1} (line {lines[other]}) at {near}" for other, near in met)
        flaws.append(Flaw(at, f"overlaps {others}; patches lie side by side"))
    return _cap(flaws, "overlaps")


def _is_crowded_level(boxes: Sequence[Box[Grid]]) -> bool:
    """Whether the boxes lie closer to one another from west to east than from north to south."""
    whole = box_round([corner for box in boxes for corner in ((box.west, box.north), (box.east, box.south))])
    level = sum(box.east - box.west for box in boxes) * (whole.south - whole.north)
    upright = sum(box.south - box.north for box in boxes) * (whole.east - whole.west)
    return level > upright


def _find_gaps(left_over: list[_LeftOver], scale: int, effort: Effort) -> list[Flaw] | None:
    """The places in the box that no patch covers, with their corners; None where too much is wrong to say."""
    if len(left_over) > _MOST_BORDERS or not effort.take(len(left_over) * len(left_over)):
        return None
    borders = _split_at_crossings([_Border(_unscale(a, scale), _unscale(b, scale), more) for a, b, more in left_over])
    # the box counts once less than the patches, so where nothing lies the count is -1
    round_gaps: list[tuple[Corner, Corner]] = []
    for border in borders:
        inside = _count_inside(border, borders)
        if inside == -1:
            round_gaps.append((border.start, border.end))
        elif inside - border.more == -1:
            round_gaps.append((border.end, border.start))
    loops = sorted(_begin_above(drop_straight_corners(loop)) for loop in _trace(round_gaps))
    gaps = [loop for loop in loops if twice_area(loop) > 0]
    holes = [loop for loop in loops if twice_area(loop) < 0]
    flaws = []
    for gap in gaps:
        corners = spell_corners(gap)
        standing = " (less the patches that stand free in it)" if any(_is_in(hole, gap) for hole in holes) else ""
        flaws.append(Flaw(None, f'the patches leave a gap; what is missing there{standing}: corners: "{corners}"'))
    return _cap(flaws, "gaps")


def _unscale(point: _Point, scale: int) -> Corner:
    return divide(point[0], scale), divide(point[1], scale)


def _begin_above(loop: Corners) -> Corners:
    """The same loop from its uppermost, then leftmost corner."""
    first = min(range(len(loop)), key=lambda at: (loop[at][1], loop[at][0]))
    return loop[first:] + loop[:first]


def _is_in(hole: Corners, gap: Corners) -> bool:
    places = {where_in(gap, corner) for corner in hole}
    return -1 not in places


def _split_at_crossings(left_over: list[_Border]) -> list[_Border]:
    """The same stretches, cut where they meet."""
    cuts: list[set[Corner]] = [set() for _ in left_over]
    boxes = [box_round((border.start, border.end)) for border in left_over]
    for one, two in pairs_that_touch(boxes):
        a, b, _ = left_over[one]
        c, d, _ = left_over[two]
        abc, abd, cda, cdb = turn_at(a, b, c), turn_at(a, b, d), turn_at(c, d, a), turn_at(c, d, b)
        if abc * abd < 0 and cda * cdb < 0:
            part = divide(abc, abc - abd)
            meeting = (c[0] + (d[0] - c[0]) * part, c[1] + (d[1] - c[1]) * part)
            cuts[one].add(meeting)
            cuts[two].add(meeting)
            continue
        for turn, point, at in ((abc, c, one), (abd, d, one), (cda, a, two), (cdb, b, two)):
            if turn == 0 and boxes[at].touches(Box(*point, *point)):
                cuts[at].add(point)
    split = []
    for (start, end, more), points in zip(left_over, cuts, strict=True):
        way = sorted(points | {start, end}, reverse=end < start)
        split += [_Border(one, two, more) for one, two in pairwise(way)]
    return split


def _count_inside(border: _Border, borders: list[_Border]) -> int:
    """How often patches lie just inside of a border, the box taken away once."""
    (x, y), (end_x, end_y), more = border
    # a ray from the middle to the east; where the border is level one to the south, which turns the sense round
    is_level = y == end_y
    if is_level:
        (x, y), (end_x, end_y) = (y, x), (end_y, end_x)
    at_x, at_y = divide(x + end_x, 2), divide(y + end_y, 2)
    count = 0
    for other in borders:
        if other is border:
            continue
        a, b = other.start, other.end
        if is_level:
            a, b = (a[1], a[0]), (b[1], b[0])
        if (a[1] <= at_y) == (b[1] <= at_y):
            continue
        is_down = a[1] < b[1]
        turn = turn_at(a, b, (at_x, at_y))
        if (turn > 0) == is_down and turn != 0:
            count += other.more if is_down else -other.more
    if is_level:
        count = -count
    is_ahead = end_y > y if not is_level else end_y < y
    return count + more if is_ahead else count


def _trace(stretches: list[tuple[Corner, Corner]]) -> Iterator[Corners]:
    """Closed loops out of stretches that run clockwise round something; where several go on, the sharpest turn."""
    onward: defaultdict[Corner, list[Corner]] = defaultdict(list)
    for start, end in stretches:
        onward[start].append(end)
    traced: set[tuple[Corner, Corner]] = set()
    for first in stretches:
        loop = []
        before, here = first
        while (before, here) not in traced:
            traced.add((before, here))
            loop.append(before)
            following = onward[here][0]
            for choice in onward[here][1:]:
                if _turns_sharper(before, here, choice, following):
                    following = choice
            before, here = here, following
        if loop:
            yield tuple(loop)


def _turns_sharper(before: Corner, here: Corner, one: Corner, other: Corner) -> bool:
    """Whether going on to one point turns further clockwise than going on to the other."""
    turn_one, turn_other = turn_at(before, here, one), turn_at(before, here, other)
    if (turn_one > 0) != (turn_other > 0):
        return turn_one > 0
    if (turn_one < 0) != (turn_other < 0):
        return turn_other < 0
    return turn_at(here, other, one) > 0


def _cap(flaws: list[Flaw], kind: str) -> list[Flaw]:
    if len(flaws) <= MOST_FLAWS:
        return flaws
    return [*flaws[:MOST_FLAWS], Flaw(None, f"and {len(flaws) - MOST_FLAWS} more {kind}")]
