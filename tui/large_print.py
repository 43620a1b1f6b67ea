"""Words in block digits, to be read across the room: the verb, the letters and the tally, nothing else."""

from __future__ import annotations

# Each letter five columns wide and five rows high; a row is five bits, the left one highest.
_ROWS = {
    "A": (14, 17, 31, 17, 17), "B": (30, 17, 30, 17, 30), "C": (15, 16, 16, 16, 15), "D": (30, 17, 17, 17, 30),
    "E": (31, 16, 30, 16, 31), "F": (31, 16, 30, 16, 16), "G": (15, 16, 19, 17, 15), "H": (17, 17, 31, 17, 17),
    "I": (14, 4, 4, 4, 14), "J": (7, 2, 2, 18, 12), "K": (17, 18, 28, 18, 17), "L": (16, 16, 16, 16, 31),
    "M": (17, 27, 21, 17, 17), "N": (17, 25, 21, 19, 17), "O": (14, 17, 17, 17, 14), "P": (30, 17, 30, 16, 16),
    "Q": (14, 17, 21, 18, 13), "R": (30, 17, 30, 18, 17), "S": (15, 16, 14, 1, 30), "T": (31, 4, 4, 4, 4),
    "U": (17, 17, 17, 17, 14), "V": (17, 17, 17, 10, 4), "W": (17, 17, 21, 27, 17), "X": (17, 10, 4, 10, 17),
    "Y": (17, 10, 4, 4, 4), "Z": (31, 2, 4, 8, 31), "0": (14, 19, 21, 25, 14), "1": (4, 12, 4, 4, 14),
    "2": (30, 1, 14, 16, 31), "3": (30, 1, 14, 1, 30), "4": (18, 18, 31, 2, 2), "5": (31, 16, 30, 1, 30),
    "6": (14, 16, 30, 17, 14), "7": (31, 1, 2, 4, 4), "8": (14, 17, 14, 17, 14), "9": (14, 17, 15, 1, 14),
    "'": (4, 4, 0, 0, 0), "/": (1, 2, 4, 8, 16), " ": (0, 0, 0, 0, 0), "-": (0, 0, 14, 0, 0),
}  # fmt: skip


def spell_large(text: str, width: int) -> tuple[str, ...] | None:
    """Five rows of text, each letter twice as wide where that fits; None where `width` is too narrow for either.

    Characters that have no large form are left out.
    """
    letters = [_ROWS[letter] for letter in text.upper() if letter in _ROWS]
    for scale in (2, 1):
        if len(letters) * 6 * scale - scale <= width:
            return tuple(
                (" " * scale)
                .join(
                    "".join(("█" if row[line] >> bit & 1 else " ") * scale for bit in (4, 3, 2, 1, 0))
                    for row in letters
                )
                .rstrip()
                for line in range(5)
            )
    return None
