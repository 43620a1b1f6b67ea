"""Choices that hang together: of two tied ones, each decides the other."""

from __future__ import annotations


class Ties:
    """Bits 0 to n-1, some of them tied to be equal or opposite (union-find with parities)."""

    def __init__(self, many: int) -> None:
        self._up = list(range(many))
        self._opposite = [False] * many  # to the bit it hangs on

    def copy(self) -> Ties:
        other = Ties(0)
        other._up, other._opposite = self._up.copy(), self._opposite.copy()
        return other

    def find(self, bit: int) -> tuple[int, bool]:
        """The bit that decides this one, and whether it decides the opposite."""
        way = []
        while self._up[bit] != bit:
            way.append(bit)
            bit = self._up[bit]
        opposite = False
        for one in reversed(way):  # hang everything on the way straight onto the end of it
            opposite ^= self._opposite[one]
            self._up[one], self._opposite[one] = bit, opposite
        return bit, opposite

    def tie(self, first: int, second: int, opposite: bool) -> bool:
        """Tie two bits; False where they are tied already the other way, and nothing is changed."""
        (a, a_opposite), (b, b_opposite) = self.find(first), self.find(second)
        if a == b:
            return a_opposite ^ b_opposite == opposite
        low, high = min(a, b), max(a, b)
        self._up[high], self._opposite[high] = low, a_opposite ^ b_opposite ^ opposite
        return True
