"""Rings of links that contradict each other: short, and no link of them can be spared."""

from __future__ import annotations

from itertools import combinations, product

from hypothesis import given
from hypothesis import strategies as st

from planner.find_ring import Link, find_ring
from planner.tie_bits import Ties

MANY = 6
drawn = st.lists(st.tuples(st.integers(0, MANY - 1), st.integers(0, MANY - 1), st.booleans()), min_size=1, max_size=12)


def can_hold(links: list[tuple[int, int, bool]]) -> bool:
    ties = Ties(MANY)
    return all(ties.tie(*link) for link in links)


def count_broken(links: list[tuple[int, int, bool]], bits: tuple[bool, ...]) -> list[bool]:
    """For each link whether it does not hold."""
    return [(bits[first] != bits[second]) != is_opposite for first, second, is_opposite in links]


@given(drawn)
def test_each_link_that_is_broken_has_a_ring_and_no_link_of_that_can_be_spared(
    links: list[tuple[int, int, bool]],
) -> None:
    broken = min((count_broken(links, bits) for bits in product((False, True), repeat=MANY)), key=sum)
    told = [Link(*link, not is_broken) for link, is_broken in zip(links, broken, strict=True)]
    for place, is_broken in enumerate(broken):
        if not is_broken:
            continue
        ring = find_ring(told, place)
        assert ring[0] == place
        assert len(set(ring)) == len(ring)
        assert not can_hold([links[one] for one in ring])
        for spared in ring:
            assert can_hold([links[one] for one in ring if one != spared])


@given(drawn)
def test_a_ring_is_no_longer_than_the_shortest_of_links_that_hold(links: list[tuple[int, int, bool]]) -> None:
    broken = min((count_broken(links, bits) for bits in product((False, True), repeat=MANY)), key=sum)
    told = [Link(*link, not is_broken) for link, is_broken in zip(links, broken, strict=True)]
    holding = [place for place, is_broken in enumerate(broken) if not is_broken]
    for place, is_broken in enumerate(broken):
        if is_broken:
            shortest = next(
                many
                for many in range(MANY + 1)
                if any(
                    not can_hold([links[place], *(links[one] for one in others)])
                    for others in combinations(holding, many)
                )
            )
            assert len(find_ring(told, place)) <= shortest + 1


def test_what_does_not_contradict_has_no_ring() -> None:
    links = [Link(0, 1, True, False), Link(1, 2, True, True), Link(0, 2, False, True)]
    assert find_ring(links, 0) == ()
    assert find_ring([Link(0, 0, True, False)], 0) == (0,)
