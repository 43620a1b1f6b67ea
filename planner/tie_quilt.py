"""A webbed quilt -> the stretches of its rows that are whole before they join their neighbours, so that all rows are
parted at the same columns, half to half from the left. On point rows begin and end at other columns: not there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.blocks import DraftedBlock, Part, Piece
from planner.draw_drafts import halve
from planner.surd import Grid

Span = tuple[Grid, Grid]


def find_spans(pieces: Sequence[Piece], drafted: Sequence[DraftedBlock]) -> tuple[list[Span], list[Span]]:
    """Where each row of blocks of the quilt begins and ends, and each column."""
    down, across = set(), set()
    for piece in pieces:
        if piece.block >= 0:
            wide, high = drafted[piece.block].width, drafted[piece.block].height
            wide, high = (high, wide) if piece.turn % 2 else (wide, high)
            down.add((piece.y, piece.y + high))
            across.add((piece.x, piece.x + wide))
    return sorted(down), sorted(across)


def list_stretches(pieces: Sequence[Piece], drafted: Sequence[DraftedBlock]) -> Iterator[Part]:
    """The boxes round these stretches, whole rows too. A sash goes with what lies right of it."""
    rows, columns = find_spans(pieces, drafted)
    for top, bottom in rows:
        for start, end in halve(0, len(columns)):
            left = columns[start - 1][1] if start else columns[0][0]
            if left != columns[end - 1][0]:  # more than one piece
                yield left, top, columns[end - 1][1], bottom
