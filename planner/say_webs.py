"""Webs in the maker's words: where a seam is in them, and that their threads stay."""

from __future__ import annotations

from planner.name_piles import Chain, Lying, Outcome
from planner.plan import Plan
from planner.sheet import feed_chain, sides_in_piles

HANGS = "What hangs in a web stays so, and lies in no pile"
STAYS = "The threads between the rows of a web stay: do not clip those"


class WebWords:
    """What is said of the webs of one plan: of the quilt's, and of webbed blocks."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan

    def feed(self, chain: Chain, copy: int) -> str:
        """How a seam within a row is fed: after which other one, and whether the thread is cut behind it. `copy`: in
        which block of those that are webbed alike, from 1; 0 where all are meant."""
        assert chain.web is not None
        row = chain.web.row
        same = " of the same block" if chain.web.of and not copy and chain.pairs > 1 else ""
        how = "feed it first" if row == 1 else f"feed it right after row {row - 1}{same}, a few stitches between"
        is_last = row == chain.web.rows
        after = "cut the thread after it" if is_last else "do not clip: the threads hold the rows in order"
        return f"{self.place(chain, copy)}: {how}; {after}"

    def place(self, chain: Chain, copy: int) -> str:
        """Where a seam is in its web."""
        assert chain.web is not None
        columns = f"Columns {chain.web.columns} and {chain.web.columns + 1}, row {chain.web.row}"
        if not chain.web.of:
            return f"{columns}, as the quilt lies"
        if chain.pairs == 1:
            return f"{columns}, of the one {self._name(chain)}"
        if copy:
            return f"{columns}, of {self._name(chain)} {copy} of {chain.pairs}"
        return f"{columns}, of each {self._name(chain)}, one block after the other"

    def _name(self, chain: Chain) -> str:
        return self.plan.blocks.drafted[chain.shown_in].title

    def is_hanging(self, chain: Chain, side: Lying) -> bool:
        """Whether a side of a chain hangs in the web of a block, so that it lies as the block does."""
        in_block = chain.row_seam is not None or (chain.web is not None and bool(chain.web.of))
        return in_block and not any(one is side for one in sides_in_piles(self.plan, chain))

    def has_hanging(self, chain: Chain) -> bool:
        """Whether a side of a chain hangs in the web of a block."""
        return any(self.is_hanging(chain, side) for side in chain.sides)

    def rows(self, chain: Chain) -> tuple[str, str]:
        """Which rows of a block lie on the left at the machine, and which on the right."""
        seam = chain.row_seam
        assert seam is not None
        above, below = _spell_rows(seam.first, seam.above), _spell_rows(seam.above + 1, seam.last)
        a_is_left = not feed_chain(self.plan, chain).a_on_top
        return (above, below) if a_is_left == seam.a_is_above else (below, above)

    def join(self, chain: Chain) -> str:
        """That rows which are joined hang together before."""
        assert chain.row_seam is not None
        each = "the" if chain.pairs == 1 else "each"
        return f"The rows of {each} {self._name(chain)} hang together: leave the threads between them"

    def lie(self, chain: Chain, outcome: Outcome) -> Outcome | None:
        """What becomes of a chain, in the block's frame instead of its pile's; None where it does not hang in the web
        of a block, or no quarter turns lead there."""
        seam = chain.web or chain.row_seam
        if seam is None or not chain.stays_hanging or not isinstance(seam.turn, int):
            return None
        return outcome._replace(turn=seam.turn)

    def hang(self, chain: Chain, outcome: Outcome, copy: int) -> str:
        """Instead of a slip: which way the allowances of what stays hanging fall as the block lies."""
        if chain.web is not None:
            place = self.place(chain, copy)
            way = "right" if outcome.to_a == feed_chain(self.plan, chain).a_on_top else "left"
        else:
            assert chain.row_seam is not None
            rows = _spell_rows(chain.row_seam.first, chain.row_seam.last)
            place = f"R{rows[1:]} of {'the' if chain.pairs == 1 else 'each'} {self._name(chain)}"
            way = "up" if outcome.to_a == chain.row_seam.a_is_above else "down"
        falls = "" if outcome.is_open or outcome.is_spun else f": these allowances fall {way} as the block lies"
        return f"{place}{falls}; it hangs there, so it needs no slip"


def is_webbed(chain: Chain) -> bool:
    """Whether a seam is one of a web, within a row or between rows."""
    return chain.web is not None or chain.row_seam is not None


def _spell_rows(first: int, last: int) -> str:
    if first == last:
        return f"row {first}"
    return f"rows {first} {'and' if last == first + 1 else 'to'} {last}"
