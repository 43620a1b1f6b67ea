"""What a project's blocks are drawn as, in floating numbers, for what is compared with shapely."""

from __future__ import annotations

from math import sqrt

from shapely import Polygon, unary_union  # type: ignore[import-untyped]

from planner.blocks import Blocks, lay_out_blocks
from planner.reading.read_project import read_project
from planner.surd import Exact, Surd

FABRICS = "fabrics: {navy: {value: dark}, shell: {value: light}, coral: {value: 5}, reed: {value: 6}}\n"
Shapes = list[tuple[str, Polygon]]


def write_block(size: str, draft: str, parts: str = "") -> str:
    """A project that makes one block; its draft and its parts are mappings of one line, without their brackets."""
    held = f"parts: {{{parts}}}\n" if parts else ""
    blocks = f"blocks:\n  wave: {{size: {size}, {draft}}}\nmake: [{{block: wave, count: 1}}]\n"
    return f"project: Tidewater\n{FABRICS}{held}{blocks}"


def draw_one(size: str, draft: str, parts: str = "") -> Shapes:
    """The fabrics and polygons, in inches, of the block of `write_block`."""
    project, faults = read_project(write_block(size, draft, parts))
    assert faults == ()
    assert project is not None
    blocks = lay_out_blocks(project)
    return [(patch.fabric, Polygon(to_floats(blocks, patch.outline))) for patch in blocks.drafted[0].patches]


def tell_faults(size: str, draft: str, parts: str = "") -> list[str]:
    """The words of the faults of that block, each with its place."""
    project, faults = read_project(write_block(size, draft, parts))
    assert (project is None) == bool(faults)
    return [f"{fault.where}: {fault.words}" for fault in faults]


def to_floats(blocks: Blocks, outline: tuple[tuple[object, object], ...]) -> list[tuple[float, float]]:
    return [(to_float(x), to_float(y)) for x, y in blocks.outline_inches(outline)]  # type: ignore[arg-type]


def to_float(value: Exact) -> float:
    if isinstance(value, Surd):
        return float(value.plain) + float(value.times) * sqrt(value.of)
    return float(value)


def fill_once(shapes: Shapes, width: float, height: float) -> bool:
    """Whether polygons, all with an area and simple, lie side by side and fill a box."""
    polygons = [polygon for _, polygon in shapes]
    whole = unary_union(polygons)
    return (
        all(polygon.is_valid and polygon.area > 1e-6 for polygon in polygons)
        and abs(sum(polygon.area for polygon in polygons) - width * height) < 1e-9 * width * height
        and abs(whole.area - width * height) < 1e-9 * width * height
        and max(abs(a - b) for a, b in zip(whole.bounds, (0, 0, width, height), strict=True)) < 1e-9
    )
