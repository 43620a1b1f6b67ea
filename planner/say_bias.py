"""What is on the bias outside, in words: which edges, of which blocks, and what keeps them from stretching."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterator, Sequence
from functools import cached_property

from planner.blocks import Outline, Point
from planner.cut_sizes import QUARTER_SQUARE, SIXTEENTH, lengthen, measure_side
from planner.find_bias_edges import BiasEdge, BiasUnit, find_bias_edges, find_bias_units
from planner.look_along import is_bias
from planner.measure import Root
from planner.name_piece import name_piece
from planner.plan import Plan
from planner.turn_prints import NO_WAY

_MOST_BLOCKS = 3  # that are named


class BiasWords:
    """Works out what there is to warn of when it is first asked. `letter_of` gives the letter of a pile, or nothing
    where it has none."""

    def __init__(self, plan: Plan, letter_of: Callable[[str], str | None]) -> None:
        self.plan = plan
        self._letter_of = letter_of

    def say_of_pile(self, pile: str, batches: Container[int] = ()) -> list[str]:
        """The warnings at the cutting step of a pile; mostly none. `batches`: those that what is cut there goes to
        whole, by a method."""
        return [words for batch, words in self._of_pile.get(pile, ()) if batch is None or batch in batches]

    def say_all(self) -> Iterator[str]:
        """Every warning once."""
        yield from map(self._say_edge, self._edges)
        yield from map(self._say_unit, self._units)

    def summarise(self) -> Iterator[str]:
        """One line that names what there is; none where there is nothing."""
        names = [self._name_entry(edge.entry) for edge in self._edges]
        names += [f"{one.choice.unit.name} sewn {one.method}" for one in self._units]
        if names:
            blocks = [block for edge in self._edges for block in edge.blocks]
            blocks += [block for unit in self._units for block in unit.blocks]
            yield f"On the bias on the outside of {self._name_blocks(blocks)}: {'; '.join(dict.fromkeys(names))}"

    @cached_property
    def _edges(self) -> tuple[BiasEdge, ...]:
        return find_bias_edges(self.plan)

    @cached_property
    def _units(self) -> tuple[BiasUnit, ...]:
        return find_bias_units(self.plan)

    @cached_property
    def _of_pile(self) -> dict[str, list[tuple[int | None, str]]]:
        found: dict[str, list[tuple[int | None, str]]] = {}
        for edge in self._edges:
            found.setdefault(self._pile_of(edge.entry), []).append((None, self._say_edge(edge)))
        for unit in self._units:
            for place, entry in enumerate(self.plan.cut):
                if set(unit.choice.unit.leaves) & set(entry.units):
                    told = unit.choice.unit.batch, self._say_unit(unit)
                    found.setdefault(self._pile_of(place), []).append(told)
        return found

    def _pile_of(self, entry: int) -> str:
        return self.plan.piles.unit_names[self.plan.cut[entry].units[0]]

    def _name_entry(self, place: int) -> str:
        entry = self.plan.cut[place]
        return f"{entry.fabric} {name_piece(entry.piece, self.plan.ruler)}"

    def _say_edge(self, edge: BiasEdge) -> str:
        entry = self.plan.cut[edge.entry]
        which, is_one = self._name_sides(edge)
        name = self._letter_of(self._pile_of(edge.entry)) or self._name_entry(edge.entry)
        some = f" ({edge.places} of {entry.count})" if edge.places < entry.count else ""
        where = f"on the outside of {self._name_blocks(edge.blocks)}{some}"
        why = ", since its print stands upright" if entry.up != NO_WAY else ""
        if is_one:
            words = f"{which} of {name} lies {where} and is on the bias{why}: it stretches. {_keep('it')}"
        else:
            words = f"{which} of {name} lie {where} and are on the bias{why}: they stretch. {_keep('them')}"
        remedy = self._say_remedy(edge) if entry.up == NO_WAY else ""
        return f"{words}. {remedy}" if remedy else words

    def _say_unit(self, unit: BiasUnit) -> str:

        on_grain = [one.method for one in unit.choice.ways if not one.beware]
        return (
            f"Sewn {unit.method}, each {unit.choice.unit.name} has its edges on the bias, and some lie on the outside "
            f"of {self._name_blocks(unit.blocks)}: they stretch. {_keep('them')}. "
            f"Sewn {_list_or(on_grain)} they are on grain"
        )

    def _name_blocks(self, blocks: Sequence[int]) -> str:
        names = list(dict.fromkeys(self.plan.blocks.drafted[block].name for block in blocks))
        if len(names) > _MOST_BLOCKS:
            names = [*names[: _MOST_BLOCKS - 1], f"{len(names) - _MOST_BLOCKS + 1} more"]
        return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"

    def _name_sides(self, edge: BiasEdge) -> tuple[str, bool]:
        """`The long side`, and whether that is one."""
        piece = self.plan.cut[edge.entry].piece
        is_one = edge.most == 1
        if piece.shape == "quarter-square triangle":  # the long one is on grain
            return ("A short side" if is_one else "Both short sides"), is_one
        if piece.shape == "half-square triangle":
            return "The long side", is_one
        if edge.most == len(piece.corners):
            return "All sides", False
        return ("A side" if is_one else "Sides"), is_one

    def _say_remedy(self, edge: BiasEdge) -> str:
        """How else it could be cut, so that all of these sides are on grain; nothing where there is no such way."""
        units = {unit for unit, _ in edge.sides}
        shape = self.plan.units.cuts.shapes[self.plan.units.units[min(units)].shape]
        vectors = [_vector(shape.outline, number) for _, number in edge.sides]
        if len(units) > 1 or any(is_bias(vector, vectors[0]) for vector in vectors):
            return ""
        if self.plan.cut[edge.entry].piece.shape == "half-square triangle":
            return f"Cut from squares {self._size_quartered(vectors[0])} corner to corner both ways it is on grain"
        which = "that side" if edge.most == 1 else "those"
        return f"By a template that is laid with {which} along the grain it is not, but takes more cloth than told"

    def _size_quartered(self, long: Point) -> str:
        """The square that gives four triangles with this long side."""
        ruler = self.plan.ruler
        side = lengthen(measure_side(*map(self.plan.blocks.inches, long)), QUARTER_SQUARE * self.plan.project.seam)
        return f"{ruler.to_cut(side.up_to(SIXTEENTH) if isinstance(side, Root) else side).words}{ruler.ending}"


def _vector(outline: Outline, number: int) -> Point:
    """A side of an outline, from its start to its end."""
    (ax, ay), (bx, by) = outline[number], outline[(number + 1) % len(outline)]
    return bx - ax, by - ay


def _keep(what: str) -> str:
    return f"Handle {what} little, stay-stitch or starch {what}, and do not pull"


def _list_or(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} or {words[-1]}"
