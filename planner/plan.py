"""Project -> plan: all that is worked out, from the first cut to the last join."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from planner.batch_seams import Batches, batch_seams
from planner.blocks import Blocks, lay_out_blocks
from planner.build_units import Turned, Units, build_units
from planner.choose_cuts import Choice, choose_cuts
from planner.cut_list import CutEntry, list_cuts
from planner.fault import Fault
from planner.feed_units import Feed, feed_units
from planner.find_bends import find_seams
from planner.find_cuts import Cuts, Stuck, always
from planner.find_joins import Joins, find_joins
from planner.find_kept import Kept, find_kept
from planner.fit_ruler import OffRuler, find_off_ruler
from planner.measure import Root, Ruler, spell_exact
from planner.name_piles import Piles, name_piles, name_units
from planner.press_seams import Pressing, Sewn, press_seams
from planner.project import Project
from planner.surd import TooCoarse, to_length
from planner.tally import NOTHING_MADE, Made
from planner.tell_pressing import PressWords
from planner.turn_blocks import MOST_JUDGED, Turning, turn_blocks
from planner.word_units import UnitWords

FEW_CONFLICTS = 10_000  # that may be met in judging one of many ways to join a quilt


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
    turning: Turning
    batches: Batches
    joins: Joins
    feeds: tuple[Feed | None, ...]
    kept: Kept
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

    @property
    def least_clashes(self) -> int:
        """The fewest joins without a hold that are proven necessary."""
        return self.pressing.clashes_at_least if self.turning.is_proven else 0

    @property
    def least_versions(self) -> int:
        """The fewest kinds pressed two ways that are proven necessary where as few joins clash."""
        is_proven = self.turning.is_proven and self.least_clashes == self.pressing.clashes
        return self.pressing.two_ways_at_least if is_proven else 0

    @property
    def quilt_size(self) -> tuple[Fraction | Root, Fraction | Root]:
        """Width and height of the finished quilt as one looks at it. ValueError where there is none."""
        wide, high = self.blocks.quilt_size
        return to_length(wide), to_length(high)

    def block_size(self, block: int) -> tuple[Fraction | Root, Fraction | Root]:
        """Width and height of a drafted block, finished, in its own frame."""
        drafted = self.blocks.drafted[block]
        return to_length(self.blocks.inches(drafted.width)), to_length(self.blocks.inches(drafted.height))

    @cached_property
    def has_bends(self) -> bool:
        """Whether any seam turns."""
        return any(unit.legs for unit in self.units.units)

    @cached_property
    def turned(self) -> Turned:
        """The blocks of the quilt that lie otherwise than they are drawn there (they look the same): the corner of
        their place, and by how many quarters clockwise."""
        pieces = self.blocks.top.pieces if self.blocks.top else ()
        both = zip(pieces, self.units.joined, strict=True)
        turns = {(piece.x, piece.y): self.units.turn_of_piece(piece, last) for piece, last in both}
        return {corner: turn for corner, turn in turns.items() if turn}

    @cached_property
    def press_words(self) -> PressWords:
        return PressWords(self.units, self.joins, self.pressing, self.project.prefer, self.kept)

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
    blocks, joined = _join_finely(project, keep_going)
    if isinstance(joined, tuple):
        return None, joined
    choice, units, turning = joined.choice, joined.units, joined.turning
    batches = batch_seams(units)
    joins = joined.joins
    feeds = feed_units(units)
    cut = list_cuts(units, batches, project.fabrics, project.seam)
    names = name_units(units, cut)
    sewn = _find_sewn(names, made)
    kept, _ = find_kept(project, units)
    pressing = press_seams(units, batches, joins, feeds, project.fabrics, project.prefer, sewn, keep_going, kept)
    piles = name_piles(units, joins, pressing, names)
    off_ruler = find_off_ruler(blocks, project.seam, Ruler(project.measure))
    return Plan(
        project, blocks, choice, units, turning, batches, joins, feeds, kept, pressing, cut, piles, off_ruler
    ), ()


@dataclass(frozen=True, slots=True)
class _Joined:
    """One way to sew it all: the cuts of every block and of the top, and how its blocks are turned."""

    cuts: Cuts
    choice: Choice
    units: Units
    joins: Joins
    turning: Turning


def _join_finely(project: Project, keep_going: Callable[[], bool]) -> tuple[Blocks, _Joined | tuple[Fault, ...]]:
    """The blocks and the best way to sew them, on a grid on which every seam can stop half way along a patch."""
    finer = 1
    while True:
        blocks = lay_out_blocks(project, finer)
        try:
            return blocks, _join_best(project, blocks, keep_going)
        except TooCoarse:
            finer *= 2


def _join_best(project: Project, blocks: Blocks, keep_going: Callable[[], bool]) -> _Joined | tuple[Fault, ...]:
    """The way with the least handling. Where the maker leaves open how a quilt is joined, rows are looked at too: among
    ways that take equally long the one that can be pressed better is taken, and among those the shorter seams."""
    best = _join(project, blocks, keep_going)
    if isinstance(best, tuple) or blocks.top is None or blocks.top.joining:
        return best
    weight = _weigh(project, best)
    is_least = weight[-1] == best.choice.at_least
    if best.turning.is_perfect and (is_least or len(best.units.seams[-1]) > MOST_JUDGED):
        return best
    in_rows = replace(blocks, top=replace(blocks.top, joining="rows"))
    rows = _join(project, in_rows, keep_going)
    if isinstance(rows, tuple):
        return best
    weight_of_rows = _weigh(project, rows)
    if weight_of_rows > weight:
        return best
    # What is proven of rows alone is no proof for all ways
    rows = replace(rows, choice=replace(rows.choice, at_least=best.choice.at_least))
    if weight_of_rows < weight:
        return rows
    if best.turning.is_perfect or len(best.units.seams[-1]) > MOST_JUDGED:
        return best
    if rows.turning.is_perfect:
        return rows
    return min(best, rows, key=lambda way: judge_pressing(project, way.units, keep_going))


def _weigh(project: Project, way: _Joined) -> tuple[Fraction | int, ...]:
    """The minutes; where the maker says how many passes, first the kinds."""
    batches, handling = batch_seams(way.units), project.handling
    kinds = len(batches.batches)
    minutes = handling.trip * batches.passes + handling.pile * kinds
    return (minutes,) if handling.passes is None else (kinds, minutes)


class Cut(NamedTuple):
    """What is sewn, before any block of a quilt is turned."""

    cuts: Cuts
    choice: Choice
    units: Units


def cut_blocks(project: Project, blocks: Blocks, keep_going: Callable[[], bool] = always) -> Cut | tuple[Fault, ...]:
    """The best trees of these blocks, joined as `blocks` says; or why there are none."""
    cuts = find_seams(blocks, keep_going)
    if cuts.stuck:
        return tuple(dict.fromkeys(_tell_stuck(stuck, blocks) for stuck in cuts.stuck))
    choice = choose_cuts(cuts, project.handling, keep_going, project.handling.steps)
    most = project.handling.passes
    if most is not None and most < choice.fewest_passes:
        least = choice.fewest_passes
        words = f"at least {least} passes are needed; write {least} or more, or leave it out"
        return (Fault(project.handling.passes_line, "handling, passes", words),)
    return Cut(cuts, choice, build_units(cuts, choice))


def _join(project: Project, blocks: Blocks, keep_going: Callable[[], bool]) -> _Joined | tuple[Fault, ...]:
    cut = cut_blocks(project, blocks, keep_going)
    if not isinstance(cut, Cut):
        return cut
    cuts, choice, units = cut
    kept, faults = find_kept(project, units)
    if faults:
        return faults

    def judge(turning: Turning) -> tuple[int, ...]:
        return judge_pressing(project, build_units(cuts, choice, turning.turned, turning.flipped), keep_going)

    joins = find_joins(units)
    turning = turn_blocks(units, joins, kept, judge, keep_going)
    if turning.is_any:
        units = build_units(cuts, choice, turning.turned, turning.flipped)
        joins = find_joins(units)
    return _Joined(cuts, choice, units, joins, turning)


def judge_pressing(project: Project, units: Units, keep_going: Callable[[], bool] = always) -> tuple[int, int, int]:
    """How well all can be pressed at best: joins that clash, kinds pressed two ways, units in second piles."""
    kept, _ = find_kept(project, units)
    joins, feeds = find_joins(units), feed_units(units)
    pressing = press_seams(
        units, batch_seams(units), joins, feeds, project.fabrics, (), (), keep_going, kept, FEW_CONFLICTS
    )
    return pressing.clashes, pressing.two_ways, pressing.second


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
    """Says what cannot be sewn, and where."""
    left, top, right, bottom = (spell_exact(to_length(blocks.inches(units))) for units in stuck.box)
    fabrics = ", ".join(dict.fromkeys(patch.fabric for patch in stuck.patches))
    where = f"the {len(stuck.patches)} patches ({fabrics}) between {left}, {top} and {right}, {bottom}"
    if stuck.for_parts:
        words = f"only a seam through a part would divide {where}: draw its parts so that seams go round them"
    else:
        words = f"no seam divides {where}, however it turns: redraw it so that patches meet along whole edges"
    return Fault(stuck.block.line, f"block {stuck.block.name}", words)
