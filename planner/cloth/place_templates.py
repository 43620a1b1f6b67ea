"""Templates -> pages: how each is turned, and which go side by side.

Billionths of an inch from the upper left corner of a page, x right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from planner.cloth.label_template import label_template
from planner.cloth.split_template import split_template
from planner.cloth.template_page import HEAD, LEADING, MARGIN, Paper, Placed, write_caption
from planner.cloth.templates import Template
from planner.cloth.turn_template import QUARTERS, Turned, list_slants, move, turn_template
from planner.pictures.svg_elements import ONE, share

_GAP = share(ONE, 20)
_NARROWEST = 2 * ONE  # of a caption


class Placement(NamedTuple):
    """All pages, and the templates that are on none since they would take more than `MOST_PARTS` each."""

    pages: tuple[tuple[Placed, ...], ...]
    left_out: tuple[Template, ...]


class _Slot(NamedTuple):
    """What takes a place on a page of several."""

    turned: Turned
    caption: tuple[str, ...]
    width: int
    height: int


def place_templates(templates: Sequence[Template], paper: Paper) -> Placement:
    """Those that fit on a page, the highest first, then those in parts."""
    slots, parts, left_out = [], [], []
    for template in templates:
        slot = _fit_slot(template, paper)
        if slot is not None:
            slots.append(slot)
            continue
        split = split_template(template, paper)
        if split:
            parts += split
        else:
            left_out.append(template)
    pages = [*_fill_pages(slots, paper), *((part,) for part in parts)]
    return _number_anew(pages, left_out)


def _number_anew(pages: Sequence[tuple[Placed, ...]], left_out: Sequence[Template]) -> Placement:
    """Numbered as they lie: page by page, row by row; last what is left out."""
    shown = [one.template.number for page in pages for one in page]
    order = {old: new for new, old in enumerate(dict.fromkeys((*shown, *(one.number for one in left_out))), 1)}

    def renumber(one: Placed) -> Placed:
        old, new = one.template.number, order[one.template.number]
        first = f"{new}. {one.caption[0].removeprefix(f'{old}. ')}"
        return one._replace(template=replace(one.template, number=new), caption=(first, *one.caption[1:]))

    return Placement(
        tuple(tuple(renumber(one) for one in page) for page in pages),
        tuple(replace(one, number=order[one.number]) for one in left_out),
    )


def _fit_slot(template: Template, paper: Paper) -> _Slot | None:
    """The template turned so that it fits on a page, lying low rather than standing; None where it does not."""
    wide, high = paper.body
    for turns in (QUARTERS, list_slants()):
        fitting = []
        for turn in turns:
            turned = turn_template(template, turn)
            width = max(turned.width, min(_NARROWEST, wide))
            caption = write_caption(template, width)
            height = turned.height + LEADING * len(caption) + share(ONE, 10)
            if turned.width <= wide and height <= high:
                fitting.append(_Slot(turned, caption, width, height))
        if fitting:
            return min(fitting, key=lambda slot: (slot.height, slot.width))
    return None


def _fill_pages(slots: Sequence[_Slot], paper: Paper) -> list[tuple[Placed, ...]]:
    """Rows of templates, each in the first row that has room for it."""
    wide, high = paper.body
    pages: list[list[Placed]] = []
    rows: list[tuple[int, int, int, int]] = []  # page, top, height, how far it is filled
    ends: list[int] = []  # of each page how far down it is filled
    for slot in sorted(slots, key=lambda slot: (-slot.height, slot.turned.template.number)):
        for place, (page, top, height, filled) in enumerate(rows):
            if slot.height <= height and filled + slot.width <= wide:
                rows[place] = (page, top, height, filled + slot.width + _GAP)
                pages[page].append(_put(slot, filled, top))
                break
        else:
            page = next((page for page, end in enumerate(ends) if end + slot.height <= high), len(ends))
            if page == len(ends):
                ends.append(0)
                pages.append([])
            rows.append((page, ends[page], slot.height, slot.width + _GAP))
            pages[page].append(_put(slot, 0, ends[page]))
            ends[page] += slot.height + _GAP
    return [tuple(sorted(page, key=_read)) for page in pages]


def _read(placed: Placed) -> tuple[int, int]:
    """Templates of a row have their upper edges at one height."""
    return min(y for _, y in placed.cut), min(x for x, _ in placed.cut)


def _put(slot: _Slot, x: int, y: int) -> Placed:
    left, top = MARGIN + x, MARGIN + HEAD + y
    turned = slot.turned
    cut, seam = move(turned.cut, left, top), move(turned.seam, left, top)
    label = label_template(turned.template, seam, turned.ways, "")
    return Placed(turned.template, cut, seam, label, slot.caption, (left, top + turned.height + LEADING))
