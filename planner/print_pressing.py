"""What is explained of the pressing -> plain text that fits 60 columns, or one object for other programs."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import groupby
from textwrap import wrap

from planner.explain_clashes import Clash, Help, Tie, list_seams
from planner.explain_pressing import Explained, Heap
from planner.measure import Measure
from planner.place_seams import SeamPlace, Spot, say_spot
from planner.plan import Plan
from planner.project import Keep

WIDTH = 60
MOST_CLASHES = 8  # that are told one by one
_PLAIN_NAME = re.compile(r"[a-z](?:[a-z -]*[a-z])?")
_QUARTERS = {1: "a quarter round", 2: "half round", 3: "three quarters round"}


def print_pressing(plan: Plan, told: Explained) -> Iterator[str]:
    """Lines: joins, kinds in two piles, what clashes, wishes, blocks to turn, what is kept."""
    yield plan.project.name
    yield ""
    yield from _fold(_say_joins(plan, told))
    yield from _print_two_ways(plan, told)
    for clash in told.clashes[:MOST_CLASHES]:
        yield from _print_clash(plan, clash)
    if len(told.clashes) > MOST_CLASHES:
        yield ""
        yield f"And {len(told.clashes) - MOST_CLASHES} places more; --json has them all."
    yield from _print_wishes(told)
    yield from _print_turned(plan, told)
    if told.kept:
        yield ""
        yield "What you keep:"
        for keep in told.kept:
            yield from _fold(f"{keep.block} at {say_spot(keep.at, plan.project.measure)}: {keep.toward}", 2)


def spell_keep(keep: Keep, measure: Measure) -> str:
    """An entry of a project file, under press, keep."""
    name = keep.block if _PLAIN_NAME.fullmatch(keep.block) else json.dumps(keep.block, ensure_ascii=False)
    at = say_spot(keep.at, measure)
    return f'- {{block: {name}, at: "{at}", toward: {keep.toward}}}'


def _say_joins(plan: Plan, told: Explained) -> str:
    clashes = plan.pressing.clashes
    nested = f"{told.nesting} of {_many(told.joins, 'join')} nest"
    if not told.joins:
        nested = "There is no join"
    elif told.nesting == told.joins:
        nested = f"All {told.joins} joins nest" if told.joins > 1 else "The one join nests"
    words = [nested]
    if told.at_open:
        words.append(f"{told.at_open} lie at open seams")
    if clashes:
        least = plan.least_clashes
        words.append(
            f"{clashes} can't ({'proven the fewest' if clashes == least else f'the fewest found, at least {least}'})"
        )
    return ", ".join(words) + "."


def _print_two_ways(plan: Plan, told: Explained) -> Iterator[str]:
    versions, least = plan.pressing.two_ways, plan.least_versions
    if not versions:
        yield "No kind is pressed two ways: one pile for each."
        return
    proof = "proven the fewest" if versions == least else f"the fewest found, at least {least}"
    yield from _fold(f"{_many(versions, 'kind')} pressed two ways ({proof}):")
    for kind in told.two_ways:
        yield from _fold(kind.unit, 2)
        for heap in (kind.first, kind.second):
            yield from _fold(_say_heap(heap), 4)


def _say_heap(heap: Heap) -> str:
    piles = f"{' and '.join(heap.letters)}: " if heap.letters else ""
    return f"{piles}{heap.units}, in {', '.join(heap.blocks)}"


def _print_clash(plan: Plan, clash: Clash) -> Iterator[str]:
    measure = plan.project.measure
    first = clash.ring[0]
    yield ""
    where = f"In {clash.block}" if clash.block else "In the quilt"
    at = f" at {say_spot(first.at, measure)}" if first.at is not None else ""
    yield from _fold(f"{where}{at} a join can't nest{_say_times(clash)}.")
    seams = list_seams(clash)
    if len(clash.ring) > 1:
        yield "Not all of these can hold; each decides the next:"
    for tie in clash.ring:
        yield from _fold(f"- {_say_tie(plan, clash, tie)}", 2)
    if len(clash.ring) > 1:
        yield from _fold("Without any one of them the rest can hold. What helps:")
    yield from _fold("- A pin on each side of the point keeps it.", 2)
    free = "each unit may fall its own way already"
    if any(tie.keep is not None for tie in clash.ring):
        free = "what you keep holds in all copies"
    yield from _fold(f"- One more version does not: {free}.", 2)
    opens = [one for one in clash.helps if one.keep is not None]
    frees = [one for one in clash.helps if one.keep is None and one.instead_of is not None]
    if opens:
        yield from _print_open(plan, opens[0])
    elif not clash.helps and all(seam.at is None for seam in seams):
        yield from _fold("- These seams join the quilt; none of them can be kept open.", 2)
    for one in frees[:1]:
        assert one.instead_of is not None
        yield from _fold(f"- Without what you keep in line {one.instead_of.line}: {_say_after(plan, one)}.", 2)


def _print_open(plan: Plan, best: Help) -> Iterator[str]:
    assert best.keep is not None
    instead = f" instead of line {best.instead_of.line}" if best.instead_of is not None else ""
    yield from _fold(f"- An open seam: {_say_after(plan, best)}. In press, keep{instead}:", 2)
    yield f"    {spell_keep(best.keep, plan.project.measure)}"


def _say_after(plan: Plan, one: Help) -> str:
    """What a change comes to, in the whole project."""
    now = plan.pressing
    words = ["no join clashes" if not one.clashes else f"{one.clashes} clash instead of {now.clashes}"]
    if one.at_open:
        words.append(f"{_many(one.at_open, 'join')} {'lies' if one.at_open == 1 else 'lie'} at open seams")
    if one.two_ways != now.two_ways:
        words.append(f"{_many(one.two_ways, 'kind')} pressed two ways instead of {now.two_ways}")
    return ", ".join(words)


def _say_times(clash: Clash) -> str:
    """In how many blocks, where it is more than one, or in one of many."""
    words = []
    if clash.loose > 1:
        words.append(f"in each of {clash.loose} loose")
    if clash.places:
        by_row = groupby(sorted(clash.places), key=lambda place: place[0])
        rows = [f"row {row}: {', '.join(str(column) for _, column in places)}" for row, places in by_row]
        words.append(f"in the quilt {'; '.join(rows)}")
    return f", {' and '.join(words)}" if words else ""


def _say_tie(plan: Plan, clash: Clash, tie: Tie) -> str:
    measure = plan.project.measure
    seams = [_say_seam(plan, clash, seam) for seam in (tie.first, tie.second) if seam is not None]
    if tie.second is None:
        if tie.keep is None:
            return f"{seams[0]} is spun"
        return f"{seams[0]} is kept {tie.keep.toward} (line {tie.keep.line})"
    return f"{' and '.join(seams)} fall opposite ways{_say_at(tie.at, measure)}"


def _say_at(at: Spot | None, measure: Measure) -> str:
    return "" if at is None else f" at {say_spot(at, measure)}"


def _say_seam(plan: Plan, clash: Clash, seam: SeamPlace) -> str:
    words = seam.say(plan.project.measure)
    if clash.block or not seam.block:
        return words
    return f"{words} of {seam.block} (row {seam.row}, {seam.column})"


def _print_wishes(told: Explained) -> Iterator[str]:
    if not told.wishes:
        return
    yield ""
    yield "Wishes in their order, in seams:"
    wide = max(len(one.wish) for one in told.wishes)
    for one in told.wishes:
        yield f"  {one.wish.ljust(wide)}  {f'{one.granted} of {one.of}' if one.of else 'has no say here'}"
    if told.more is not None:
        gains = [
            f"{then.wish} {then.granted} of {then.of}"
            for then, now in zip(told.more.wishes, told.wishes, strict=True)
            if then.granted != now.granted
        ]
        what = f"One kind more pressed two ways ({', '.join(told.more.units)})"
        if not told.more.units:
            what = f"Larger second piles ({told.more.second} units in all)"
        yield from _fold(f"{what} would make it {', '.join(gains)}.")
    elif not told.is_more_known:
        yield from _fold("What one kind more pressed two ways would grant is too much to work out here.")
    else:
        yield "One kind more pressed two ways would grant no more."


def _print_turned(plan: Plan, told: Explained) -> Iterator[str]:
    if told.turned:
        yield ""
        yield "Blocks to turn in the quilt, from the left:"
    rows: dict[str, list[str]] = {}
    for row, blocks in groupby(told.turned, key=lambda one: one.row):
        by_turn: dict[int, list[str]] = {}
        for one in blocks:
            by_turn.setdefault(one.quarters, []).append(str(one.column))
        words = "; ".join(f"{', '.join(columns)} {_QUARTERS[turn]}" for turn, columns in sorted(by_turn.items()))
        rows.setdefault(words, []).append(str(row))
    for words, numbers in rows.items():
        yield from _fold(f"{'row' if len(numbers) == 1 else 'rows'} {', '.join(numbers)}: {words}", 2)
    if plan.turning.flipped:
        yield ""
        yield from _fold("Units inside blocks lie turned too, where they look the same: the sheet says how each lies.")


def describe_pressing(plan: Plan, told: Explained) -> dict[str, object]:
    """The same as one object."""
    return {
        "joins": told.joins,
        "nesting": told.nesting,
        "open": told.at_open,
        "clashing": plan.pressing.clashes,
        "two_ways": [
            {"unit": kind.unit, "piles": [_describe_heap(heap) for heap in (kind.first, kind.second)]}
            for kind in told.two_ways
        ],
        "clashes": [_describe_clash(plan, clash) for clash in told.clashes],
        "wishes": [one._asdict() for one in told.wishes],
        "one_more": None
        if told.more is None
        else {
            "units": list(told.more.units),
            "second_piles": told.more.second,
            "wishes": [one._asdict() for one in told.more.wishes],
        },
        "one_more_known": told.is_more_known,
        "turned": [one._asdict() for one in told.turned],
        "kept": [_describe_keep(plan, keep) for keep in told.kept],
    }


def _describe_heap(heap: Heap) -> dict[str, object]:
    return {"letters": list(heap.letters), "units": heap.units, "blocks": list(heap.blocks)}


def _describe_clash(plan: Plan, clash: Clash) -> dict[str, object]:
    return {
        "block": clash.block or None,
        "loose": clash.loose,
        "places": [{"row": row, "column": column} for row, column in clash.places],
        "ring": [
            {
                "seams": [_describe_seam(plan, seam) for seam in (tie.first, tie.second) if seam is not None],
                "at": None if tie.at is None else say_spot(tie.at, plan.project.measure),
                "kept": None if tie.keep is None else _describe_keep(plan, tie.keep),
            }
            for tie in clash.ring
        ],
        "helps": [
            {
                "write": None if one.keep is None else spell_keep(one.keep, plan.project.measure),
                "instead_of": None if one.instead_of is None else one.instead_of.line,
                "clashing": one.clashes,
                "open": one.at_open,
                "two_ways": one.two_ways,
            }
            for one in clash.helps
        ],
    }


def _describe_seam(plan: Plan, seam: SeamPlace) -> dict[str, object]:
    return {
        "block": seam.block or None,
        "row": seam.row or None,
        "column": seam.column or None,
        "at": None if seam.at is None else say_spot(seam.at, plan.project.measure),
        "words": seam.say(plan.project.measure),
    }


def _describe_keep(plan: Plan, keep: Keep) -> dict[str, object]:
    at = say_spot(keep.at, plan.project.measure)
    return {"block": keep.block, "at": at, "toward": keep.toward, "line": keep.line}


def _fold(text: str, indent: int = 0) -> list[str]:
    margin = " " * indent
    hanging = margin + ("  " if indent else "")
    return wrap(
        text, WIDTH, initial_indent=margin, subsequent_indent=hanging, break_long_words=False, break_on_hyphens=False
    )


def _many(count: int, noun: str) -> str:
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
