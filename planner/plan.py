"""Project -> plan: all that is worked out, from the first cut to the last join."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from planner.batch_seams import Batches, batch_seams
from planner.blocks import Blocks, lay_out_blocks
from planner.build_units import Units, build_units
from planner.choose_cuts import Choice, choose_cuts
from planner.cut_list import CutEntry, list_cuts
from planner.fault import Fault
from planner.feed_units import Feed, feed_units
from planner.find_cuts import Stuck, always, find_cuts
from planner.find_joins import Joins, find_joins
from planner.fit_ruler import OffRuler, find_off_ruler
from planner.measure import Ruler, spell_number
from planner.name_piles import Piles, name_piles, name_units
from planner.press_seams import Pressing, Sewn, press_seams
from planner.project import Project
from planner.tally import NOTHING_MADE, Made
from planner.word_units import UnitWords


class Handled(NamedTuple):
    """Trips to the iron and kinds of unit, in minutes, and the fewest minutes that are proven necessary."""

    passes: int
    kinds: int
    minutes: Fraction
    at_least: Fraction

    @property
    def is_proven(self) -> bool:
        return self.minutes == self.at_least


@dataclass(frozen=True)
class Plan:
    """Everything a sheet, a summary or a picture needs. Coordinates in grid units, `blocks.scale` to an inch."""

    project: Project
    blocks: Blocks
    choice: Choice
    units: Units
    batches: Batches
    joins: Joins
    feeds: tuple[Feed | None, ...]
    pressing: Pressing
    cut: tuple[CutEntry, ...]
    piles: Piles
    off_ruler: tuple[OffRuler, ...]

    @property
    def ruler(self) -> Ruler:
        return Ruler(self.project.measure)

    @property
    def handled(self) -> Handled:
        passes, kinds = self.batches.passes, len(self.batches.batches)
        handling = self.project.handling
        return Handled(passes, kinds, handling.trip * passes + handling.pile * kinds, self.choice.at_least)

    @cached_property
    def words(self) -> UnitWords:
        return UnitWords(self.units, self.project.seam)


def plan_project(
    project: Project,
    made: Made = NOTHING_MADE,
    keep_going: Callable[[], bool] = always,
) -> tuple[Plan | None, tuple[Fault, ...]]:
    """The plan, or why there is none. `made` says what is sewn and pressed already.

    `keep_going` is asked now and then; once it says False the planning ends with `InterruptedError`.
    """
    blocks = lay_out_blocks(project)
    cuts = find_cuts(blocks, keep_going)
    if cuts.stuck:
        return None, tuple(dict.fromkeys(_tell_stuck(stuck, blocks) for stuck in cuts.stuck))
    choice = choose_cuts(cuts, project.handling, keep_going)
    units = build_units(cuts, choice)
    batches = batch_seams(units)
    joins = find_joins(units)
    feeds = feed_units(units)
    cut = list_cuts(units, batches, project.fabrics, project.seam)
    names = name_units(units, cut)
    sewn = _find_sewn(names, made)
    pressing = press_seams(units, batches, joins, feeds, project.fabrics, project.prefer, sewn, keep_going)
    piles = name_piles(units, joins, pressing, names)
    off_ruler = find_off_ruler(blocks, project.seam, Ruler(project.measure))
    return Plan(project, blocks, choice, units, batches, joins, feeds, pressing, cut, piles, off_ruler), ()


def _find_sewn(names: tuple[str, ...], made: Made) -> tuple[Sewn, ...]:
    number_of = {name: number for number, name in enumerate(names)}
    return tuple(
        sorted(
            Sewn(number_of[name], marks, made.there.get((name, marks), 0))
            for name, marks in made.begun
            if name in number_of
        )
    )


def _tell_stuck(stuck: Stuck, blocks: Blocks) -> Fault:
    """Says where the straight order ends, and what kind of seam the block needs there."""
    left, top, right, bottom = (spell_number(blocks.inches(units)) for units in stuck.box)
    fabrics = ", ".join(dict.fromkeys(patch.fabric for patch in stuck.patches))
    where = f"the {len(stuck.patches)} patches ({fabrics}) between {left}, {top} and {right}, {bottom}"
    if stuck.for_parts:
        words = f"only a seam through a part would divide {where}: draw its parts so that straight seams go round them"
    else:
        need = "a set-in seam" if _has_inner_corner(stuck) or _has_star_point(stuck) else "a partial seam"
        words = (
            f"no straight seam divides {where}; that needs {need}, which is not there yet: redraw it so that straight "
            "seams from border to border do"
        )
    return Fault(stuck.block.line, f"block {stuck.block.name}", words)


def _has_inner_corner(stuck: Stuck) -> bool:
    for patch in stuck.patches:
        outline = patch.outline
        for number, (x, y) in enumerate(outline):
            ax, ay = outline[number - 1]
            bx, by = outline[(number + 1) % len(outline)]
            if (x - ax) * (by - y) - (y - ay) * (bx - x) < 0:
                return True
    return False


def _has_star_point(stuck: Stuck) -> bool:
    """Whether at some inner point three or more patches meet by their corners and no seam runs straight through."""
    corners: dict[tuple[int, int], list[tuple[tuple[int, int], tuple[int, int]]]] = {}
    for patch in stuck.patches:
        outline = patch.outline
        for number, (x, y) in enumerate(outline):
            ax, ay = outline[number - 1]
            bx, by = outline[(number + 1) % len(outline)]
            corners.setdefault((x, y), []).append(((ax - x, ay - y), (bx - x, by - y)))
    for meeting in corners.values():
        outgoing = [after for _, after in meeting]
        incoming = [before for before, _ in meeting]
        # Every side that leaves the point is also a side that comes to it: so patches lie all round the point
        if len(meeting) > 2 and all(any(_is_same_way(a, b) for b in incoming) for a in outgoing):
            straight = any(_is_same_way(a, (-b[0], -b[1])) for a in outgoing for b in outgoing)
            if not straight:
                return True
    return False


def _is_same_way(first: tuple[int, int], second: tuple[int, int]) -> bool:
    return first[0] * second[1] == first[1] * second[0] and first[0] * second[0] + first[1] * second[1] > 0
