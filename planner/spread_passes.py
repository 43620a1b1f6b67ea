"""Chains -> the pass in which each is sewn at the bench: that of its batch, but that a web is sewn as one.

The rows of a web hang together, so a column of it is joined in one pass, in all its rows: when the last of its units is
there. What is made of them waits for that.
"""

from __future__ import annotations

from collections.abc import Mapping

from planner.batch_seams import Batches
from planner.name_piles import Chain, Piles


def spread_passes(batches: Batches, piles: Piles) -> Mapping[str, int]:
    """The pass of each chain, by its name; from 1."""
    chains = [(chain, batch.pass_number) for batch in batches.batches for chain in piles.chains[batch.kind]]
    passes = {chain.name: number for chain, number in chains}
    if not any(_is_tied(chain) for chain, _ in chains):
        return passes
    columns: dict[object, int] = {}
    # Batches come in the order of sewing, so that a round settles all but what a column has put off
    for _ in chains:
        before = dict(passes), dict(columns)
        for chain, number in chains:
            here = max(passes[chain.name], number, *(passes[other] + 1 for other in chain.after))
            if chain.web is not None and _is_tied(chain):
                key = (chain.web.of, chain.web.across)
                here = columns[key] = max(here, columns.get(key, 0))
            passes[chain.name] = here
        if (passes, columns) == before:
            return passes
    raise AssertionError("bug: the columns of a web wait for one another")


def _is_tied(chain: Chain) -> bool:
    return chain.web is not None and chain.web.is_even
