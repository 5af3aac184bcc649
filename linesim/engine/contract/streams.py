"""Named random streams: one for each seed, replication, owner and purpose.

Adding a station or a buffer shifts nobody else's numbers, so that two layouts can be compared on common random numbers.
What is drawn ahead in a block is the finished whole number, so the size of the blocks does not matter.
"""

from __future__ import annotations

import hashlib

import numpy as np

from linesim.engine.contract.ledger import US, to_us
from linesim.line.distributions import Constant, Distribution

CHANCE_SCALE = 10**9  # chances are whole numbers of parts per billion
BLOCK = 256


def generator(seed: int, replication: int, owner: str, purpose: str) -> np.random.Generator:
    """The generator of one stream. Its key is a digest of the name, so that names need no numbers."""
    digest = hashlib.sha256(f"{owner}\n{purpose}".encode()).digest()
    words = [int.from_bytes(digest[at : at + 4], "big") for at in (0, 4)]
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(seed, spawn_key=(replication, *words))))


def draw_durations(distribution: Distribution, source: np.random.Generator, size: int) -> np.ndarray:
    """Durations in whole microseconds, int64, shape (size,)."""
    return np.floor(distribution.draw(source, size) * US + 0.5).astype(np.int64)


def draw_chances(source: np.random.Generator, size: int) -> np.ndarray:
    """Equally likely whole numbers from 0 to CHANCE_SCALE - 1, int64, shape (size,)."""
    return source.integers(0, CHANCE_SCALE, size)


def draw_start_age(source: np.random.Generator, every: int) -> int:
    """How much of its interval a stop has behind it when the run starts: equally likely from 0 to every - 1."""
    return int(source.integers(0, every))


class Durations:
    """A stream of durations [us], drawn ahead in blocks."""

    def __init__(self, distribution: Distribution, source: np.random.Generator | None) -> None:
        self._distribution = distribution
        self._source = source
        self._constant = to_us(distribution.value) if isinstance(distribution, Constant) else None
        self._left: list[int] = []

    def next(self) -> int:
        if self._constant is not None:
            return self._constant
        if not self._left:
            assert self._source is not None
            self._left = draw_durations(self._distribution, self._source, BLOCK)[::-1].tolist()
        return self._left.pop()


class Chances:
    """A stream of whole numbers to compare with chances, drawn ahead in blocks."""

    def __init__(self, source: np.random.Generator) -> None:
        self._source = source
        self._left: list[int] = []

    def next(self) -> int:
        if not self._left:
            self._left = draw_chances(self._source, BLOCK)[::-1].tolist()
        return self._left.pop()
