"""Which way a print with a direction points: it stands upright in the finished block, and in a quilt as one sees it.

`up` says how many degrees clockwise from straight up the top of a print points, in the frame that its patch lies in.
"""

from __future__ import annotations

NO_WAY = -1  # of a fabric without a direction, however it is turned
UPRIGHT = 0
ON_POINT = 315  # in the frame of blocks that stand on point the top of the quilt lies beyond the upper left corner


def turn_up(up: int, quarters: int) -> int:
    """Where a print points after so many quarter turns clockwise of its frame."""
    return up if up < 0 else (up + 90 * quarters) % 360


def turn_to_upright(up: int) -> int:
    """By how many quarters a print is turned clockwise to stand upright (on point: in the quilt)."""
    return (ON_POINT - up if is_aslant(up) else -up) % 360 // 90


def find_up(on_point: bool, turn: int = 0) -> int:
    """Where what is upright in the quilt points in the frame of a block that lies turned by so many quarters."""
    return turn_up(ON_POINT if on_point else UPRIGHT, -turn)


def see_up(up: int, is_askew: bool) -> int:
    """Where a print points as one looks at a picture; one that is askew shows its frame turned to stand on point."""
    return (up + 45) % 360 if is_askew and up != NO_WAY else up


def is_aslant(up: int) -> bool:
    """Whether a print runs half a right angle from the frame."""
    return up % 90 == 45


def spell_way(up: int, is_loose_too: bool) -> str:
    """How a block lies whose prints point so, as a maker writes it: ` turn 90`; nothing where it is upright. That it is
    on point only where it `is_loose_too`."""
    turn = turn_to_upright(up)
    return f"{' on point' if is_aslant(up) and is_loose_too else ''}{f' turn {90 * turn}' if turn else ''}"
