"""Plan -> all that comes after the top: what the maker chose, worked out for this quilt or these loose blocks."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from planner.cloth.back_from_stock import StockBacking, back_from_stock
from planner.cloth.backing import Backing, find_backings, find_thrifty, take_least
from planner.cloth.batting import Batting, find_batting
from planner.cloth.bed_sizes import Filled, Size, cover_mattress, fill_quilt, find_drop
from planner.cloth.binding import BiasBinding, Binding, find_bias_binding, find_binding
from planner.cloth.buy import SQUARED_END
from planner.cloth.pillow import Pillow, find_pillow
from planner.cloth.round_length import ToBuy, round_to_buy, swell
from planner.cloth.sleeve import Sleeve, find_sleeve
from planner.cloth.squares import count_in
from planner.cloth.thread import Thread, find_thread
from planner.finish import Finish, choose_usual
from planner.measure import Root
from planner.plan import Plan
from planner.project import SELVAGES, SHRINKAGE, WIDEST_CLOTH, YARD_STEP, find_usable
from planner.surd import Exact, to_length


class Cloth(NamedTuple):
    """Cloth that a part of the finish is cut from: its fabric where it is named, how wide it is sold and can be used
    (inches), and what part of its length and of its width shrinks away."""

    fabric: str | None
    usable: Fraction
    shrinkage: Fraction

    step: Fraction = YARD_STEP  # yards that a length to buy is rounded up to
    is_own: bool = False  # of a width of its own, so that it is bought by itself
    narrows: Fraction = Fraction(0)

    @property
    def is_listed(self) -> bool:
        """Whether it is bought together with what the patches take of its fabric."""
        return self.fabric is not None and not self.is_own

    @property
    def sold(self) -> Fraction:
        return (self.usable + SELVAGES) / (1 - self.narrows)

    def buy(self, length: Fraction) -> ToBuy:
        """What is bought for so many inches of it, as cut after washing, with the end that is squared."""
        return round_to_buy(swell(length + SQUARED_END, self.shrinkage) if length else length, self.step)


class Backed(NamedTuple):
    """The backing that is taken, all ways to piece it, and those that save cloth where two sides may overhang less
    (with that overhang). All of it is of cloth that is bought, and none is bought where it comes `from_stock`."""

    cloth: Cloth
    taken: Backing
    ways: tuple[Backing, ...]
    thrifty: tuple[tuple[Backing, Fraction], ...]
    from_stock: StockBacking | None = None


class Bound(NamedTuple):
    cloth: Cloth
    strip: Binding | BiasBinding


class Sleeved(NamedTuple):
    cloth: Cloth
    tube: Sleeve


class Cushion(NamedTuple):
    """Pillows out of one kind of loose block; `made` is how many the blocks do for. No `top` where the block is larger
    than the pillow. `length` is that of the cloth for the borders and backs of all of them."""

    block: str
    blocks: int
    cloth: Cloth
    top: Pillow | None
    made: int
    length: Fraction


class Bedded(NamedTuple):
    """`wanted` covers the mattress as the maker asked; `hangs` is what the quilt of the project does there (at each
    side, at the foot), `filled` how many of its blocks would fill what is wanted."""

    wanted: Size
    hangs: Size | None
    filled: tuple[tuple[Size, Filled], ...]


@dataclass(frozen=True, slots=True)
class Finished:
    """None where there is none. `top` is the quilt with its outer allowances, before it is bound, up to a line of the
    ruler; None where there is no quilt."""

    finish: Finish
    top: Size | None
    backing: Backed | None
    batting: Batting | None
    binding: Bound | None
    sleeve: Sleeved | None
    pillows: tuple[Cushion, ...]
    bed: Bedded | None
    thread: Thread


def finish_quilt(plan: Plan) -> Finished:
    """Backing, batting, binding and the rest; pillows of loose blocks; thread for every seam."""
    finish = plan.project.finish or choose_usual(plan.project.measure)
    top = measure_top(plan)
    return Finished(
        finish,
        top,
        None if top is None else _back(plan, finish, top),
        None if top is None else _fill(finish, top),
        None if top is None else _bind(plan, finish, top),
        None if top is None else _hang(plan, finish, top),
        tuple(_list_cushions(plan, finish)),
        _make_bed(plan, finish),
        find_thread(plan, finish.thread),
    )


def list_lengths(finished: Finished) -> tuple[tuple[str, str, Fraction], ...]:
    """What is cut from named fabrics beside the patches: fabric, what for, inches of its length all across."""
    parts: list[tuple[Cloth, str, Fraction]] = []
    if finished.backing is not None and finished.backing.from_stock is None:
        parts.append((finished.backing.cloth, "backing", finished.backing.taken.cloth))
    if finished.binding is not None:
        parts.append((finished.binding.cloth, "binding", finished.binding.strip.cloth))
    if finished.sleeve is not None:
        parts.append((finished.sleeve.cloth, "hanging sleeve", finished.sleeve.tube.cloth))
    parts += [(one.cloth, f"pillows of {one.block}", one.length) for one in finished.pillows if one.made]
    return tuple((cloth.fabric, what, length) for cloth, what, length in parts if cloth.is_listed and cloth.fabric)


def list_kept(finished: Finished) -> dict[str, dict[int, str]]:
    """The pieces of cloth that are there and that no patches are cut from: fabric -> place in its stock -> what for."""
    backing = finished.backing
    if backing is None or backing.from_stock is None or backing.cloth.fabric is None:
        return {}
    return {backing.cloth.fabric: dict.fromkeys(backing.from_stock.places, "backing")}


def measure_top(plan: Plan) -> Size | None:
    """The quilt with its outer allowances, as one looks at it."""
    if plan.blocks.top is None:
        return None
    wide, high = (_round_up(plan, side) + 2 * plan.project.seam for side in plan.quilt_size)
    return wide, high


def list_blocks(plan: Plan) -> tuple[Size, ...]:
    """The finished sizes of the blocks that are made, each once, in their order; up to a line of the ruler."""
    sizes = []
    for block in plan.blocks.drafted:
        if not block.is_top:
            wide, high = (to_length(plan.blocks.inches(side)) for side in (block.width, block.height))
            sizes.append((_round_up(plan, wide), _round_up(plan, high)))
    return tuple(dict.fromkeys(sizes))


def _round_up(plan: Plan, side: Fraction | Root | Exact) -> Fraction:
    if isinstance(side, Root):
        return side.up_to(plan.ruler.step)
    assert isinstance(side, Fraction)
    return side


def _find_cloth(plan: Plan, fabric: str | None, sold: Fraction | None = None) -> Cloth:
    usable, shrinkage, narrows = WIDEST_CLOTH, SHRINKAGE, Fraction(0)
    for one in plan.project.fabrics:
        if one.name == fabric:
            usable, shrinkage, narrows = one.usable, one.shrinkage, one.narrows
    if sold is not None:
        usable = find_usable(sold, narrows)
    return Cloth(fabric, usable, shrinkage, plan.project.yards, sold is not None, narrows)


def _back(plan: Plan, finish: Finish, top: Size) -> Backed | None:
    choice = finish.backing
    if choice is None:
        return None
    cloth = _find_cloth(plan, choice.fabric, choice.width)
    need = top[0] + 2 * choice.overhang, top[1] + 2 * choice.overhang
    ways = find_backings(need, cloth.usable, choice.seam)
    thrifty = find_thrifty(top, choice.overhang, cloth.usable, choice.seam) if choice.run is None else ()
    named = next((one for one in plan.project.fabrics if one.name == choice.fabric), None)
    found = None
    if named is not None and cloth.is_listed:
        found = back_from_stock(need, named.stock, choice.seam, choice.run, named.directional)
    return Backed(cloth, take_least(ways, choice.run), ways, thrifty, found)


def _fill(finish: Finish, top: Size) -> Batting | None:
    choice = finish.batting
    return None if choice is None else find_batting(top, choice.overhang, choice.width)


def _bind(plan: Plan, finish: Finish, top: Size) -> Bound | None:
    choice = finish.binding
    if choice is None:
        return None
    cloth = _find_cloth(plan, choice.fabric)
    around = 2 * (top[0] + top[1])
    if choice.cut == "bias":
        return Bound(cloth, find_bias_binding(around, choice.extra, choice.width, cloth.usable))
    return Bound(cloth, find_binding(around, choice.extra, choice.width, cloth.usable, choice.join))


def _hang(plan: Plan, finish: Finish, top: Size) -> Sleeved | None:
    choice = finish.sleeve
    if choice is None:
        return None
    cloth = _find_cloth(plan, choice.fabric)
    return Sleeved(cloth, find_sleeve(top[0], choice.depth, cloth.usable))


def _list_cushions(plan: Plan, finish: Finish) -> list[Cushion]:
    choice = finish.pillow
    if choice is None:
        return []
    cloth = _find_cloth(plan, choice.fabric)
    found = []
    for block in plan.blocks.drafted:
        if block.is_top or not block.copies:
            continue
        sides = [_round_up(plan, to_length(plan.blocks.inches(side))) for side in (block.width, block.height)]
        pillow = find_pillow(choice.size, (sides[0], sides[1]), choice.overlap, plan.project.seam)
        made = block.copies // pillow.blocks if pillow is not None else 0
        pieces = (pillow.back, *pillow.strips) if pillow is not None else ()
        length = sum((lay_pairs(piece, made, cloth.usable) for piece in pieces), Fraction(0))
        found.append(Cushion(block.title, block.copies, cloth, pillow, made, length))
    return found


def lay_pairs(piece: Size, made: int, usable: Fraction) -> Fraction:
    """The length of cloth for two equal pieces for each of so many, in rows across the cloth; the side that takes less
    lies across. One side at least is no longer than the cloth is wide."""
    lengths = []
    for across, along in (piece, piece[::-1]):
        in_row = count_in(usable, across)
        if in_row:
            lengths.append(ceil(Fraction(2 * made, in_row)) * along)
    return min(lengths)


def _make_bed(plan: Plan, finish: Finish) -> Bedded | None:
    choice = finish.bed
    if choice is None:
        return None
    mattress = choice.wide, choice.long
    wanted = cover_mattress(mattress, choice.drop, choice.tuck)
    quilt = plan.project.quilt
    hangs = None
    if plan.blocks.top is not None:
        wide, high = (_round_up(plan, side) for side in plan.quilt_size)
        hangs = find_drop(mattress, (wide, high), choice.tuck)
    sashing = quilt.sashing.width if quilt is not None and quilt.sashing is not None else Fraction(0)
    return Bedded(wanted, hangs, tuple((size, fill_quilt(wanted, size, sashing)) for size in list_blocks(plan)))
