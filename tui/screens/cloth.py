"""The cloth, one fabric at a time: what to buy, and each strip as it is cut, from the squared end down."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cached_property

from planner.cloth.cloth import Cloth, FabricCloth
from planner.cloth.cloth_json import spell_metres
from planner.cloth.draw_layout_svg import draw_layout_svg
from planner.cloth.lay_lengthwise import LONG
from planner.cloth.place_pieces import Strip
from planner.cloth.print_cloth import HOW_TO_CUT, say_strip, share_filled
from planner.cloth.spare_cloth import find_spare, say_share
from planner.cloth.use_stock import StockPiece
from planner.measure import Ruler, spell_number
from planner.pictures.draw_cloth import Cloth as Colour
from planner.sheet import StripWork
from tui.bench import Bench, fabric_at_hand
from tui.bindings import bindings_at
from tui.draw_strip import draw_strip
from tui.fabric_colours import colour_fabrics
from tui.lay_out_card import Row, Span
from tui.screens.page import PageScreen
from tui.write_file import why_not_written

_BESIDE = (3, 4)  # columns and rows of a page that are not a strip's: scroll bar and edges; title, words, key line
_LEAST = (20, 4)
_LONGEST = 60  # signs of a file's name before its ending


class ClothScreen(PageScreen):
    HOMES = ("cloth", "page", "app")
    BINDINGS = [*bindings_at("cloth"), *bindings_at("page")]

    def __init__(self, bench: Bench, keys: Mapping[str, str]) -> None:
        self._bench = bench
        names = [one.fabric.name for one in bench.sheet.cloth.fabrics] if bench.sheet.cloth else []
        here = fabric_at_hand(bench)
        self._fabric = names.index(here) if here in names else 0
        self._drawn: dict[object, list[Span | Row]] = {}  # what is shown once is not drawn again
        super().__init__("Cloth", [], keys, colour_fabrics(bench.sheet.plan.project.fabrics), indent=4)

    def on_mount(self) -> None:
        super().on_mount()
        self._show()

    def on_resize(self) -> None:
        self._show()

    def _show(self, *told: Span) -> None:
        cloth = self._bench.sheet.cloth
        if cloth is None:
            self.heading.say("Cloth   it cannot be cut as the project says")
            faults = self._bench.sheet.faults
            self.lines.show([Span(f"Line {fault.line}, {fault.where}: {fault.words}") for fault in faults])
            return
        one = cloth.fabrics[self._fabric]
        which = f"   fabric {self._fabric + 1} of {len(cloth.fabrics)}" if len(cloth.fabrics) > 1 else ""
        self.heading.say(f"Cloth   {one.fabric.name}{which}")
        state = (self._fabric, self.size)
        if state not in self._drawn:
            self._drawn[state] = list(self._draw(cloth, one))
        self.lines.show([*told, *self._drawn[state]])

    def _draw(self, cloth: Cloth, one: FabricCloth) -> Iterator[Span | Row]:
        ruler = cloth.plan.ruler
        yield from tell_fabric(one, ruler, self._find_ruined(one))
        widest = max(one.fabric.usable, *(_find_room(piece) for piece in one.stock), Fraction(0))
        for number, piece in enumerate(one.stock, 1):
            yield Span("")
            sides = (ruler.to_measure(side).words for side in (piece.wide, piece.high))
            size = f"{' x '.join(sides)} {ruler.measure}"
            way = "strips along the grain" if piece.is_turned else "strips across"
            yield Span(f"Piece {number} that is there, {size}: {way if piece.strips else piece.why_empty}", "title")
            yield from self._draw_strips(one, number, piece.strips, _find_room(piece), widest)
        if one.stock and one.strips:
            yield Span("")
            yield Span("From cloth that is bought", "title")
        yield from self._draw_strips(one, 0, one.strips, one.fabric.usable, widest)
        if one.rectangles:
            yield Span("")
            yield Span(HOW_TO_CUT, "why")

    def _draw_strips(
        self, one: FabricCloth, piece: int, strips: tuple[Strip, ...], room: Fraction, widest: Fraction
    ) -> Iterator[Span | Row]:
        """Of bought cloth, or of a `piece` that is there already, from 1."""
        width = max(_LEAST[0], self.size.width - _BESIDE[0])
        height = max(_LEAST[1], self.size.height - _BESIDE[1])
        letters, ruler = self._bench.speaker.letters, self._bench.sheet.plan.ruler
        for strip in strips:
            mark = "✓ " if (one.fabric.name, piece, strip.high) in self._cut_strips else ""
            yield Span("")
            name = name_strip(strip, ruler)
            yield Span(f"{mark}{name}: {say_strip(one, strip, ruler, letters)}", "strong")
            yield from draw_strip(one, strip, room, ruler, letters, width, height, widest)

    @cached_property
    def _cut_strips(self) -> set[tuple[str, int, Fraction]]:
        """By fabric, piece of its stock and width the strips of which none is left to cut."""
        session = self._bench.session
        cuts = [(step.work.cut, step) for step in session.sheet.steps if isinstance(step.work, StripWork)]
        return {(cut.fabric, cut.piece, cut.wide) for cut, step in cuts if not session.left_of(step)}

    def _find_ruined(self, one: FabricCloth) -> Fraction:
        """How many inches of strips of bought cloth are ruined."""
        session = self._bench.session
        cuts = (step.work.cut for step in session.sheet.steps if isinstance(step.work, StripWork))
        bought = next((cut for cut in cuts if cut.fabric == one.fabric.name and not cut.piece), None)
        return session.ruined_of(bought) if bought is not None else Fraction(0)

    def _go(self, by: int) -> None:
        if self._bench.sheet.cloth is not None:
            self._fabric = (self._fabric + by) % len(self._bench.sheet.cloth.fabrics)
            self._show()

    def action_next_fabric(self) -> None:
        self._go(1)

    def action_fabric_before(self) -> None:
        self._go(-1)

    def action_draw_to_file(self) -> None:
        cloth = self._bench.sheet.cloth
        if cloth is None:
            return
        file = name_file(cloth.plan.project.name)
        colours = {name: Colour(*colour) for name, colour in self.lines.colours.items()}
        trouble = why_not_written(draw_layout_svg(cloth, colours, self._bench.speaker.letters).encode(), file)
        told = trouble or f"{file} is drawn: the layout of {len(cloth.fabrics)} fabrics, a quarter of their size"
        self._show(Span(told, "trouble" if trouble else "strong"), Span(""))


def name_file(project: str) -> str:
    """Of the picture of all fabrics: `tidewater-lap-quilt-cloth.svg`."""
    words = "".join(sign if sign.isalnum() else " " for sign in project.lower()).split()
    return "-".join([*words, "cloth"])[-_LONGEST:] + ".svg"


def tell_fabric(one: FabricCloth, ruler: Ruler, ruined: Fraction = Fraction(0)) -> Iterator[Span]:
    """What to buy of a fabric, with `ruined` inches of strips that are cut again, and how its layout is to be read."""
    buy, unit = one.bought.buy, ruler.measure
    if one.bought.layout:
        again = f"; ruined strips: {say_share(find_spare(one), ruined, ruler)}" if ruined else ""
        yield Span(f"Buy {spell_number(buy.yards)} yd, {spell_metres(buy.metres)} m{again}", "strong")
    elif one.rectangles:
        yield Span("Nothing to buy: all comes out of what is there", "strong")
    for what, length in one.more:
        yield Span(f"of it {_size(ruler, length)} {unit} for {what}")
    if not one.rectangles:
        yield Span("No cloth to cut for the patches")
        return
    if one.strips:
        usable = ruler.to_measure(one.fabric.usable).words
        proof = ": no layout of this kind is shorter" if one.length == one.at_least else ""
        long = _size(ruler, one.length)
        yield Span(
            f"The layout is {long} {unit} long{proof}; {usable} {unit} of the width is used, {share_filled(one)} filled"
        )
    yield Span("In a frame: how many, their size, their pile. Dots are left over", "why")


def name_strip(strip: Strip, ruler: Ruler) -> str:
    """`2 strips 3 1/2 wide, in each`, in the maker's measure."""
    size = f"{_size(ruler, strip.high)}{ruler.ending}"
    if strip.high > LONG:  # no strip any more
        return f"{strip.times} lengths of {size}, in each" if strip.times > 1 else f"1 length of {size}, cut along"
    return f"{strip.times} strips {size} wide, in each" if strip.times > 1 else f"1 strip {size} wide"


def _find_room(piece: StockPiece) -> Fraction:
    """How long its strips can be."""
    return piece.high if piece.is_turned else piece.wide


def _size(ruler: Ruler, length: Fraction) -> str:
    return ruler.to_cut(length).words
