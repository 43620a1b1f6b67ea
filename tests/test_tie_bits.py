"""Ties between bits, against a graph in which every tie is a link."""

from __future__ import annotations

from itertools import pairwise

import networkx as nx  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from planner.tie_bits import Ties

MANY = 8
ties = st.lists(st.tuples(st.integers(0, MANY - 1), st.integers(0, MANY - 1), st.booleans()), max_size=20)


def is_opposite(graph: nx.Graph, first: int, second: int) -> bool | None:
    """Whether two bits are tied the other way round, by the links on the way; None where nothing ties them."""
    if not nx.has_path(graph, first, second):
        return None
    way = nx.shortest_path(graph, first, second)
    return sum(graph[a][b]["opposite"] for a, b in pairwise(way)) % 2 == 1


@given(ties)
def test_bits_are_tied_as_the_links_between_them_say(wanted: list[tuple[int, int, bool]]) -> None:
    bits, graph = Ties(MANY), nx.empty_graph(MANY)
    for first, second, opposite in wanted:
        before = is_opposite(graph, first, second) if first != second else False
        copied = bits.copy()
        assert bits.tie(first, second, opposite) == (before is None or before == opposite)
        assert copied.find(first)[0] != copied.find(second)[0] or before is not None, "a copy stays as it was"
        if before is None:
            graph.add_edge(first, second, opposite=opposite)
    found = [bits.find(bit) for bit in range(MANY)]
    for first in range(MANY):
        assert found[found[first][0]] == (found[first][0], False), "what decides is decided by nothing else"
        for second in range(MANY):
            same = found[first][0] == found[second][0]
            tied = is_opposite(graph, first, second)
            assert tied == ((found[first][1] != found[second][1]) if same else None)


@given(ties)
def test_of_bits_that_are_tied_the_first_decides(wanted: list[tuple[int, int, bool]]) -> None:
    bits = Ties(MANY)
    for first, second, opposite in wanted:
        bits.tie(first, second, opposite)
    for bit in range(MANY):
        decides, _ = bits.find(bit)
        assert decides == min(other for other in range(MANY) if bits.find(other)[0] == decides)
