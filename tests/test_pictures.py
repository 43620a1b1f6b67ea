"""The SVG pictures, read back and compared with the plan as other programs read it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from math import hypot, sqrt
from typing import Any
from xml.etree import ElementTree

import pytest
from planned import SAMPLES, plan_sample, plan_text, print_out
from quilts import QUILTS

from planner.pictures.draw_cloth import Cloth
from planner.pictures.draw_svg import draw_block, draw_press_map, draw_quilt
from planner.pictures.svg_elements import ONE, spell_decimal
from planner.plan import Plan
from tui.fabric_colours import colour_fabrics, contrast

PLANS = (*QUILTS, *SAMPLES)
SVG = "{http://www.w3.org/2000/svg}"
CM = 2.54
Spot = tuple[float, float]
Printed = dict[str, Any]
AS_NEAR = 1e-7  # pictures are exact to a billionth; what has a root is rounded there

of_every_plan = pytest.mark.parametrize("name", PLANS)


@cache
def plan_of(name: str) -> Plan:
    return plan_text(QUILTS[name]) if name in QUILTS else plan_sample(name)


@cache
def printed_of(name: str) -> Printed:
    return dict(print_out(plan_of(name)))


def colours_of(plan: Plan) -> dict[str, Cloth]:
    return {name: Cloth(*colour) for name, colour in colour_fabrics(plan.project.fabrics).items()}


class Picture:
    """An SVG file as a reader sees it; lengths in inches, in the frame of the block or of the quilt's blocks."""

    def __init__(self, text: str) -> None:
        self.root = ElementTree.fromstring(text)
        self.inch = CM if self.root.attrib["width"].endswith("cm") else 1.0

    def layer(self, name: str) -> ElementTree.Element:
        """An element by its id; an empty one where there is none."""
        found = [one for one in self.root.iter() if one.attrib.get("id") == name]
        assert len(found) <= 1
        return found[0] if found else ElementTree.Element("g")

    def spots(self, points: str) -> list[Spot]:
        pairs = [pair.split(",") for pair in points.split()]
        return [(float(x) / self.inch, float(y) / self.inch) for x, y in pairs]

    def patches(self) -> dict[str, tuple[str, list[Spot]]]:
        """For each name the fabric and the corners."""
        return {
            one.attrib["id"]: (group.attrib["data-fabric"], self.spots(one.attrib["points"]))
            for group in self.layer("patches")
            for one in group
        }

    def seams(self) -> dict[str, tuple[str, list[Spot]]]:
        """For each name its class and its way."""
        return {
            one.attrib["id"]: (one.attrib.get("class", ""), self.spots(one.attrib["points"]))
            for one in self.layer("seams")
        }

    def arrows(self) -> Iterator[tuple[str, str, Spot, Spot]]:
        """Seam, class, tail and tip."""
        for one in self.layer("arrows"):
            corners = self.spots(one.attrib["points"])
            if one.attrib["class"] == "open":
                yield one.attrib["data-seam"], "open", corners[7], corners[2]
            else:
                (ax, ay), (bx, by) = corners[0], corners[6]
                yield one.attrib["data-seam"], "arrow", ((ax + bx) / 2, (ay + by) / 2), corners[3]


def read(text: str) -> float:
    """A length of the plan: `6 1/2`, `13/2 + 3/4*sqrt(2)`."""
    value = 0.0
    for sign, part in re.findall(r"(^|[+-] )([^ ]+(?: \d+/\d+)?)", text):
        plain, _, of = part.partition("sqrt(")
        root = sqrt(float(of.rstrip(")"))) if of else 1.0
        words = plain.rstrip("*").split() or ["1"]
        total = sum(
            float(word.partition("/")[0]) / float(word.partition("/")[2] or 1)
            for word in (one.lstrip("-") for one in words)
        )
        is_minus = sign.startswith("-") or words[0].startswith("-")
        value += (-total if is_minus else total) * root
    return value


def read_spot(texts: list[str]) -> Spot:
    return read(texts[0]), read(texts[1])


def way_of(seam: Printed) -> list[Spot]:
    legs = seam.get("legs", [[seam["from"], seam["to"]]])
    return [read_spot(legs[0][0]), *(read_spot(leg[1]) for leg in legs)]


def are_near(first: list[Spot], second: list[Spot]) -> bool:
    return len(first) == len(second) and all(
        abs(ax - bx) < AS_NEAR and abs(ay - by) < AS_NEAR for (ax, ay), (bx, by) in zip(first, second, strict=True)
    )


def is_same_outline(first: list[Spot], second: list[Spot]) -> bool:
    """The same corners in the same round, from whichever one begins."""
    return any(
        are_near(first, turned)
        for way in (second, second[::-1])
        for turned in (way[at:] + way[:at] for at in range(len(way)))
    )


def pictures_of(name: str, press: bool) -> Iterator[tuple[Picture, set[str], set[str]]]:
    """Every picture of a plan, with the patches and the seams that must be on it."""
    plan, printed = plan_of(name), printed_of(name)
    for number, block in enumerate(plan.blocks.drafted):
        if block.is_top or not block.copies:
            continue
        # The first loose block of this kind stands for all
        before = sum(count for drafted, count in plan.blocks.made[: [d for d, _ in plan.blocks.made].index(number)])
        owner = f"b{before + 1}"
        draw = draw_press_map if press else draw_block
        patches = {one["id"] for one in printed["patches"] if one["block"] == owner}
        seams = {one["id"] for one in printed["seams"] if one["block"] == owner}
        yield Picture(draw(plan, number, colours_of(plan))), patches, seams
    if plan.blocks.top is not None:
        loose = {one["id"] for one in printed["blocks"] if one["loose"]}
        patches = {one["id"] for one in printed["patches"] if one["block"] not in loose}
        seams = {one["id"] for one in printed["seams"] if one["block"] not in loose}
        top = len(plan.blocks.drafted) - 1
        text = draw_press_map(plan, top, colours_of(plan)) if press else draw_quilt(plan, colours_of(plan))
        yield Picture(text), patches, seams if press else set()


@of_every_plan
@pytest.mark.parametrize("press", [False, True])
def test_the_patches_are_those_of_the_plan(name: str, press: bool) -> None:
    printed = {one["id"]: one for one in printed_of(name)["patches"]}
    many = 0
    for picture, patches, _ in pictures_of(name, press):
        drawn = picture.patches()
        assert set(drawn) == patches
        for patch, (fabric, corners) in drawn.items():
            assert fabric == printed[patch]["fabric"]
            assert is_same_outline(corners, [read_spot(corner) for corner in printed[patch]["corners"]])
        many += len(drawn)
    assert many > 0


@of_every_plan
@pytest.mark.parametrize("press", [False, True])
def test_the_seams_are_those_of_the_plan(name: str, press: bool) -> None:
    printed = {one["id"]: one for one in printed_of(name)["seams"]}
    many = 0
    for picture, _, seams in pictures_of(name, press):
        drawn = picture.seams()
        assert set(drawn) == seams
        for seam, (_, way) in drawn.items():
            told = way_of(printed[seam])
            assert are_near(way, told) or are_near(way, told[::-1])
        many += len(drawn)
    assert many > 0 or plan_of(name).blocks.top is not None


def side_of(start: Spot, end: Spot, spot: Spot) -> float:
    """How far a spot lies from a line, with a sign for the side."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return ((spot[1] - start[1]) * dx - (spot[0] - start[0]) * dy) / hypot(dx, dy)


def leg_at(way: list[Spot], spot: Spot) -> tuple[Spot, Spot]:
    """The stretch of a way that a spot is nearest to."""

    def away(leg: tuple[Spot, Spot]) -> float:
        (ax, ay), (bx, by) = leg
        along = ((spot[0] - ax) * (bx - ax) + (spot[1] - ay) * (by - ay)) / hypot(bx - ax, by - ay) ** 2
        along = min(1.0, max(0.0, along))
        return hypot(ax + along * (bx - ax) - spot[0], ay + along * (by - ay) - spot[1])

    return min(pairwise(way), key=away)


def patches_of(side: str, printed: Printed) -> Iterator[list[Spot]]:
    """The outlines of all patches of one side of a seam."""
    seams = {one["id"]: one for one in printed["seams"]}
    patches = {one["id"]: one for one in printed["patches"]}
    waiting = [side]
    while waiting:
        here = waiting.pop()
        if here in seams:
            waiting += [seams[here]["a"], seams[here]["b"]]
        else:
            yield [read_spot(corner) for corner in patches[here]["corners"]]


def side_at(side: str, leg: tuple[Spot, Spot], printed: Printed) -> float:
    """On which side of a stretch a patch of `side` lies that has an edge along it."""
    for corners in patches_of(side, printed):
        for first, last in pairwise([*corners, corners[0]]):
            if (
                abs(side_of(*leg, first)) < AS_NEAR
                and abs(side_of(*leg, last)) < AS_NEAR
                and do_overlap(leg, (first, last))
            ):
                return max((side_of(*leg, corner) for corner in corners), key=abs)
    raise AssertionError("nothing of this side lies along the seam")


def do_overlap(first: tuple[Spot, Spot], second: tuple[Spot, Spot]) -> bool:
    """Whether two stretches of one line have more than a point in common."""
    (ax, ay), (bx, by) = first
    long = hypot(bx - ax, by - ay)
    along = sorted(((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long for x, y in second)
    return along[0] < long - AS_NEAR and along[1] > AS_NEAR


@of_every_plan
def test_every_arrow_points_to_the_side_that_the_plan_presses_to(name: str) -> None:
    printed = printed_of(name)
    seams = {one["id"]: one for one in printed["seams"]}
    kinds_seen = set()
    for press in (False, True):
        for picture, _, drawn in pictures_of(name, press):
            seen: dict[str, set[float]] = {}
            for seam, kind, tail, tip in picture.arrows():
                told = seams[seam]
                way = way_of(told)
                leg = leg_at(way, tail)
                kinds_seen.add(kind)
                if told["press"] == "open":
                    assert kind == "open"
                    assert side_of(*leg, tail) == pytest.approx(-side_of(*leg, tip), abs=AS_NEAR)
                    seen[seam] = {0.0}
                    continue
                assert kind == "arrow"
                reach = side_of(*leg, tip)
                assert abs(reach) > abs(side_of(*leg, tail))
                toward_a = (reach > 0) == (side_at(told["a"], leg, printed) > 0)
                if "spin" in told:
                    at = read_spot(told["spin"])
                    is_beyond = hypot(tail[0] - way[0][0], tail[1] - way[0][1]) > hypot(
                        at[0] - way[0][0], at[1] - way[0][1]
                    )
                    toward_a ^= is_beyond
                    seen.setdefault(seam, set()).add(float(is_beyond))
                else:
                    seen[seam] = {0.0}
                assert toward_a == (told["press"] == "a"), seam
            assert set(seen) == drawn  # no seam without an arrow
            assert all(seen[seam] == {0.0, 1.0} for seam in drawn if "spin" in seams[seam])
    assert kinds_seen == ({"arrow", "open"} if name == "kept" else {"arrow"})


@of_every_plan
def test_every_clash_is_marked_and_nothing_else(name: str) -> None:
    printed = printed_of(name)
    found = 0
    for picture, _, seams in pictures_of(name, press=True):
        circles = list(picture.layer("clashes").iter(f"{SVG}circle"))
        drawn = sorted(
            (float(one.attrib["cx"]) / picture.inch, float(one.attrib["cy"]) / picture.inch) for one in circles
        )
        told = {
            read_spot(join["at"])
            for join in printed["joins"]
            if join["seam"] in seams and not join["nests"] and join["why"] != "open"
        }
        assert are_near(drawn, sorted(told))
        found += len(drawn)
        has_sign = any("not nest" in "".join(one.itertext()) for one in picture.layer("legend").iter(f"{SVG}text"))
        assert has_sign == bool(drawn)
    assert (found > 0) == (name == "kept")


@of_every_plan
def test_kinds_pressed_two_ways_are_told_apart_by_pattern_and_colour(name: str) -> None:
    printed = printed_of(name)
    batch_of = {seam: batch["id"] for batch in printed["batches"] for seam in batch["seams"]}
    versions: dict[str, set[str]] = {}
    drawn: set[str] = set()
    for picture, _, seams in pictures_of(name, press=True):
        drawn |= seams
        looks: dict[str, set[tuple[str, str]]] = {}
        for one in picture.layer("seams"):
            version = one.attrib.get("class", "")
            if version:
                versions.setdefault(batch_of[one.attrib["id"]], set()).add(version)
                looks.setdefault(version, set()).add((one.attrib["stroke-dasharray"], one.attrib["stroke"]))
        assert all(len(look) == 1 for look in looks.values())
        assert len({dash for look in looks.values() for dash, _ in look}) == len(looks)
        assert len({colour for look in looks.values() for _, colour in look}) == len(looks)
        hatched = [group.attrib["class"][-1] for group in picture.layer("versions") if len(group)]
        assert sorted(hatched) == sorted(version[-1] for version in looks)
    assert len(versions) == printed["proof"]["versions"]["count"]
    if name == "two ways":
        assert len(versions) == 2
        assert all(both == {"version-1", "version-2"} for both in versions.values())


def test_the_two_piles_of_a_kind_are_those_that_lie_alike() -> None:
    """The first blocks of the sample's rows are pressed like one another or not as the arrows of the plan say."""
    plan = plan_of("two ways")
    printed = printed_of("two ways")
    batch_of = {seam: batch["id"] for batch in printed["batches"] for seam in batch["seams"]}
    (picture, _, _) = next(pictures_of("two ways", press=True))
    ways: dict[tuple[str, str], set[str]] = {}
    for one in picture.layer("seams"):
        version = one.attrib.get("class", "")
        if version:
            told = next(seam for seam in printed["seams"] if seam["id"] == one.attrib["id"])
            if told["block"] is not None:  # no block of it lies turned: the same side is the same way
                ways.setdefault((batch_of[told["id"]], version), set()).add(told["press"])
    assert not plan.turned
    assert all(len(presses) == 1 for presses in ways.values())


@of_every_plan
def test_numbers_go_from_one_to_the_last_in_the_order_of_the_batches(name: str) -> None:
    batches = printed_of(name)["batches"]
    place = {seam: at for at, batch in enumerate(batches) for seam in batch["seams"]}
    for picture, _, seams in pictures_of(name, press=False):
        numbers = [int("".join(one.itertext())) for one in picture.layer("numbers").iter(f"{SVG}text")]
        order = dict(zip(picture.seams(), numbers, strict=True))
        assert sorted(numbers) == list(range(1, len(seams) + 1))
        assert [place[seam] for seam in sorted(order, key=lambda seam: order[seam])] == sorted(place[s] for s in seams)


@of_every_plan
def test_a_picture_has_its_real_size(name: str) -> None:
    plan = plan_of(name)
    for picture, _, _ in pictures_of(name, press=True):
        unit = plan.project.measure
        wide, high = picture.root.attrib["width"], picture.root.attrib["height"]
        assert picture.root.attrib["viewBox"] == f"0 0 {wide.removesuffix(unit)} {high.removesuffix(unit)}"
        border = picture.layer("border")
        spots = [spot for _, corners in picture.patches().values() for spot in corners]
        turn = "rotate(45)" in picture.layer("picture").attrib["transform"]
        assert turn == (plan.blocks.top is not None and plan.blocks.top.on_point)
        seen = [((x - y) / sqrt(2), (x + y) / sqrt(2)) for x, y in spots] if turn else spots
        for side, values in (("width", [x for x, _ in seen]), ("height", [y for _, y in seen])):
            size = float(border.attrib[side]) / picture.inch
            assert size == pytest.approx(max(values) - min(values), abs=AS_NEAR)
        assert float(border.attrib["width"]) <= float(wide.removesuffix(unit))


@of_every_plan
def test_the_picture_lies_inside_its_border(name: str) -> None:
    """What the transform of the picture makes of the patches fills the border exactly."""
    for picture, _, _ in pictures_of(name, press=False):
        move = picture.layer("picture").attrib["transform"]
        shift_x, shift_y = map(float, re.findall(r"translate\((\S+) (\S+)\)", move)[0])
        xs, ys = [], []
        for _, corners in picture.patches().values():
            for x, y in corners:
                x, y = x * picture.inch, y * picture.inch
                if "rotate(45)" in move:
                    x, y = (x - y) / sqrt(2), (x + y) / sqrt(2)
                xs.append(x + shift_x)
                ys.append(y + shift_y)
        border = {side: float(picture.layer("border").attrib[side]) for side in ("x", "y", "width", "height")}
        assert (min(xs), min(ys)) == pytest.approx((border["x"], border["y"]), abs=AS_NEAR)
        assert max(xs) == pytest.approx(border["x"] + border["width"], abs=AS_NEAR)
        assert max(ys) == pytest.approx(border["y"] + border["height"], abs=AS_NEAR)


@of_every_plan
def test_every_patch_has_its_letter_on_it_and_each_fabric_a_line_of_the_legend(name: str) -> None:
    plan = plan_of(name)
    letters = {fabric.letter: fabric.name for fabric in plan.project.fabrics}
    for press in (False, True):
        for picture, _, _ in pictures_of(name, press):
            outlines = list(picture.patches().values())
            hits = [0] * len(outlines)
            for one in picture.layer("letters").iter(f"{SVG}text"):
                # Letters stand upright: in a picture that is turned they are turned back round their place
                size = float(next(group.attrib["font-size"] for group in picture.layer("letters") if one in group))
                at = float(one.attrib["x"]) / picture.inch, (float(one.attrib["y"]) - 0.36 * size) / picture.inch
                inside = [place for place, (_, corners) in enumerate(outlines) if is_inside(at, corners)]
                assert len(inside) == 1
                assert outlines[inside[0]][0] == letters["".join(one.itertext())]
                hits[inside[0]] += 1
            assert set(hits) == {1}
            legend = ["".join(one.itertext()) for one in picture.layer("legend").iter(f"{SVG}text")]
            assert {fabric for fabric, _ in outlines} <= set(legend)


def is_inside(spot: Spot, corners: list[Spot]) -> bool:
    sides = [side_of(first, last, spot) for first, last in pairwise([*corners, corners[0]])]
    return all(side > 0 for side in sides) or all(side < 0 for side in sides)


@pytest.mark.parametrize("name", QUILTS)
def test_blocks_that_lie_turned_are_marked_with_the_turn(name: str) -> None:
    plan = plan_of(name)
    if plan.blocks.top is None:
        return
    picture = Picture(draw_quilt(plan, colours_of(plan)))
    marks = {}
    for one in picture.layer("turned"):
        (x, y), *_ = picture.spots(one.attrib["points"])
        marks[x, y] = (one.attrib["data-turn"], one.attrib["fill"])
    told = 0
    for piece in plan.blocks.top.pieces:
        if piece.block < 0:
            continue
        block = plan.blocks.drafted[piece.block]
        wide, high = (block.width, block.height) if piece.turn % 2 == 0 else (block.height, block.width)
        scale = plan.blocks.scale
        inside = [
            mark
            for (x, y), mark in marks.items()
            if piece.x / scale < x < (piece.x + wide) / scale and piece.y / scale < y < (piece.y + high) / scale
        ]
        extra = plan.turned.get((piece.x, piece.y), 0)
        turn = (piece.turn + extra) % 4
        expected = [(str(90 * turn), "#fff" if extra else "#000")] if piece.turn or extra else []
        assert inside == expected
        told += len(expected)
    assert len(marks) == told == {"lap": 3, "boards": 4}.get(name, 0)


def test_a_picture_is_told_to_who_cannot_see_it() -> None:
    picture = Picture(draw_press_map(plan_of("kept"), 0, colours_of(plan_of("kept"))))
    assert picture.root.attrib["role"] == "img"
    assert picture.root.attrib["aria-labelledby"].split() == ["title", "desc"]
    assert "".join(picture.layer("title").itertext()) == "four patch, 6 x 6 finished: press map"
    assert "A join that does not nest" in "".join(picture.layer("desc").itertext())


def test_names_cannot_break_the_file() -> None:
    text = QUILTS["kept"].replace("four patch", "four-patch '9'").replace("Tidewater kept", 'a < b & "c"')
    plan = plan_text(text)
    picture = Picture(draw_block(plan, 0, colours_of(plan)))
    assert "four-patch '9'" in "".join(picture.layer("title").itertext())


def test_words_on_cloth_can_be_read() -> None:
    for name in QUILTS:
        plan = plan_of(name)
        for number in range(len(plan.blocks.drafted)):
            picture = Picture(draw_press_map(plan, number, colours_of(plan)))
            fills = {group.attrib["data-fabric"]: group.attrib["fill"] for group in picture.layer("patches")}
            for group in picture.layer("letters"):
                assert group.attrib["fill"] == "#555"
            assert all(contrast("#555555", fill) >= 3 for fill in fills.values())


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (ONE, "1"),
        (3 * ONE // 2, "1.5"),
        (-ONE // 4, "-0.25"),
        (1, "0.000000001"),
        (-ONE, "-1"),
        (10 * ONE, "10"),
    ],
)
def test_lengths_are_spelt_as_plain_decimals(value: int, text: str) -> None:
    assert spell_decimal(value) == text
