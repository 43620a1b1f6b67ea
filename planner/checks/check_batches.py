"""Are a plan's batches right, and why not: one batch for each kind of seam, its pass, its unfinished size."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.checks.list_turns import list_turns, turn_outline
from planner.checks.plan_file import Plan, PlanBatch
from planner.checks.read_plan import Outline, Work, read_work
from planner.checks.sew_outlines import sew_outlines
from planner.checks.size_pieces import why_not_unfinished
from planner.checks.surd import read_surd
from planner.checks.tell_kinds import tell_kinds


def why_not_grouped(plan: Plan) -> tuple[str, ...]:
    """What is wrong with the batches of a sewable plan; empty when they are right."""
    work, complaints = read_work(plan)
    if work is None:
        return complaints
    return tuple(_check(plan, work))


def _check(plan: Plan, work: Work) -> Iterator[str]:
    places = {seam.id: place for place, seam in enumerate(work.seams)}
    forms = [kind.form for kind in tell_kinds(work)]
    passes = _count_passes(work)
    yield from _check_names(plan, places)
    known = [(batch, [seam for seam in batch["seams"] if seam in places]) for batch in plan["batches"]]
    groups = [(batch, seams) for batch, seams in known if seams]
    yield from _check_kinds(groups, {seam: forms[place] for seam, place in places.items()})
    sewn = sew_outlines(work)
    for batch, seams in groups:
        first = places[seams[0]]
        if batch["pass"] != passes[first]:
            yield f"batch {batch['id']}: it is in pass {batch['pass']}, and belongs in pass {passes[first]}"
        yield from _check_unfinished(batch, sewn.find_outline(len(work.patches) + first), work)
    yield from _check_proof(plan, len(set(forms)), max(passes, default=0))


def _check_names(plan: Plan, places: dict[str, int]) -> Iterator[str]:
    names = Counter(batch["id"] for batch in plan["batches"])
    yield from (f"batch {name}: the name is used twice" for name, count in names.items() if count > 1)
    batch_of: dict[str, str] = {}
    for batch in plan["batches"]:
        if not batch["seams"]:
            yield f"batch {batch['id']}: it has no seam"
        for seam in batch["seams"]:
            if seam not in places:
                yield f"batch {batch['id']}: there is no seam {seam}"
            if seam in batch_of:
                yield f"seam {seam}: it is in {batch_of[seam]} and in {batch['id']}"
            batch_of[seam] = batch["id"]
    yield from (f"seam {seam}: it is in no batch" for seam in places if seam not in batch_of)


def _check_kinds(groups: list[tuple[PlanBatch, list[str]]], forms: dict[str, int]) -> Iterator[str]:
    met: dict[int, tuple[str, str]] = {}  # the batch and seam that each form was first met in
    for batch, seams in groups:
        first = seams[0]
        for seam in seams[1:]:
            if forms[seam] != forms[first]:
                yield f"batch {batch['id']}: {first} and {seam} are not identical"
        other, other_seam = met.setdefault(forms[first], (batch["id"], first))
        if other_seam != first:
            yield f"batch {batch['id']}: {first} is identical to {other_seam} of {other}"


def _check_unfinished(batch: PlanBatch, outline: Outline | None, work: Work) -> Iterator[str]:
    if outline is None:
        yield f"batch {batch['id']}: its unfinished size can't be checked, since its seams can't be sewn"
        return
    why_not = why_not_unfinished(outline, work, batch["unfinished"])
    # Its units may lie otherwise, so that the box is another; after a quarter turn it is the same
    turns = list_turns(work)
    others = (turn_outline(outline, turn) for turn in turns[1 : len(turns) // 4])
    if why_not and all(why_not_unfinished(turned, work, batch["unfinished"]) for turned in others):
        yield f"batch {batch['id']}: unfinished {why_not}"


def _count_passes(work: Work) -> list[int]:
    depths = [0] * len(work.patches)
    for seam in work.seams:
        depths.append(1 + max(depths[side] for side in seam.sides))
    return depths[len(work.patches) :]


def _check_proof(plan: Plan, kinds: int, passes: int) -> Iterator[str]:
    told = plan.get("proof", {}).get("handling")
    if told is None:
        return
    if (told["kinds"], told["passes"]) != (kinds, passes):
        yield f"proof: {told['kinds']} kinds in {told['passes']} passes, and should be {kinds} in {passes}"
    if read_surd(told["at_least"]).plain > read_surd(told["minutes"]).plain:
        yield f"proof: {told['minutes']} minutes can't be fewer than {told['at_least']}"
