"""Templates -> pages: how each is turned, and which go side by side.

Billionths of an inch from the upper left corner of a page, x right, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
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
    return Placement(tuple(pages), tuple(left_out))


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
    return [tuple(page) for page in pages]


def _put(slot: _Slot, x: int, y: int) -> Placed:
    left, top = MARGIN + x, MARGIN + HEAD + y
    turned = slot.turned
    cut, seam = move(turned.cut, left, top), move(turned.seam, left, top)
    label = label_template(turned.template, seam, turned.ways, "")
    return Placed(turned.template, cut, seam, label, slot.caption, (left, top + turned.height + LEADING))
