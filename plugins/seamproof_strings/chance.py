"""Chance by a seed: the same on every machine and in every version."""

from __future__ import annotations

from typing import Final

_FACTOR: Final = 6364136223846793005
_STEP: Final = 1442695040888963407
_WORD: Final = 1 << 64


class Chance:
    """A row of numbers that look random and are fixed by a seed.

    Source: D. Knuth, The Art of Computer Programming, vol. 2, 3.3.4, table 1: the linear congruence for MMIX.
    """

    def __init__(self, seed: int) -> None:
        self._state = (seed * _STEP + _STEP) % _WORD
        for _ in range(4):
            self.between(0.0, 1.0)

    def between(self, low: float, high: float) -> float:
        """The next number, from low to high."""
        self._state = (self._state * _FACTOR + _STEP) % _WORD
        return low + (high - low) * (self._state >> 32) / (1 << 32)
