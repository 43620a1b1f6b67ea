"""The plan as JSON, as types: what `sheet --json` prints. Lengths are inches as exact text: `"6 1/2"`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NotRequired, TypedDict

PlanPoint = Sequence[str]  # x to the right, y down
PlanShape = Literal["square", "rectangle", "half-square triangle", "quarter-square triangle", "other"]


class PlanProject(TypedDict):
    name: str
    seam: str  # the allowance
    measure: Literal["in", "cm"]
    on_point: bool


class PlanFabric(TypedDict):
    id: str
    value: str  # as written: "dark", "7"
    weight: Literal["light", "medium", "heavy"]
    directional: NotRequired[bool]  # its print has a top, and stands upright


class PlanBlock(TypedDict):
    id: str
    draft: str
    size: Sequence[str]  # finished, width and height as it lies
    loose: bool


class PlanPatch(TypedDict):
    id: str
    block: str | None
    fabric: str
    corners: Sequence[PlanPoint]  # finished outline, in the frame of its block


# By its items, since `from` and `pass` can't be written as attributes.
PlanSeam = TypedDict(
    "PlanSeam",
    {
        "id": str,
        "block": str | None,
        "a": str,  # a patch or an earlier seam (its result)
        "b": str | None,  # None where the seam closes a partial one
        "from": PlanPoint,
        "to": PlanPoint,
        "press": Literal["a", "b", "open"],
        "why": str,
        "partial": NotRequired[bool],
        "closes": NotRequired[str],
        "set_in": NotRequired[bool],
        "legs": NotRequired[Sequence[Sequence[PlanPoint]]],
        "spin": NotRequired[PlanPoint],  # `press` holds from `from` to this point, beyond it the other side
    },
)


class PlanJoin(TypedDict):
    seam: str
    at: PlanPoint
    a: str
    b: str
    nests: bool
    why: str


PlanBatch = TypedDict(
    "PlanBatch",
    {
        "id": str,
        "pass": int,
        "seams": Sequence[str],
        "unit": str,
        "unfinished": Sequence[str],
        "method": NotRequired[str],  # where it is not sewn pair by pair
    },
)


class PlanCut(TypedDict):
    fabric: str
    shape: PlanShape
    finished: Sequence[str]  # the shorter first
    cut: Sequence[str]
    count: int
    corners: Sequence[PlanPoint]


class PlanHandling(TypedDict):
    passes: int
    kinds: int
    minutes: str
    at_least: str


class PlanCount(TypedDict):
    count: int
    at_least: int


class PlanProof(TypedDict):
    handling: NotRequired[PlanHandling]
    clashes: NotRequired[PlanCount]
    versions: NotRequired[PlanCount]


class Plan(TypedDict):
    plan: Literal[1]
    project: PlanProject
    fabrics: Sequence[PlanFabric]
    blocks: Sequence[PlanBlock]
    patches: Sequence[PlanPatch]
    seams: Sequence[PlanSeam]
    joins: Sequence[PlanJoin]
    batches: Sequence[PlanBatch]
    cut: Sequence[PlanCut]
    proof: NotRequired[PlanProof]
