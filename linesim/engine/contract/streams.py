"""Named random streams: one for each seed, replication, owner and purpose.

Adding a station or a buffer shifts nobody else's numbers, so that two layouts can be compared on common random numbers.
What is drawn ahead in a block is the finished whole number, so the size of the blocks does not matter.
"""

from __future__ import annotations

import hashlib

import numpy as np

from linesim.engine.contract.layout.form import CHANCE_SCALE, Stoppage, Stream
from linesim.engine.contract.ledger import US
from linesim.line.distributions import Distribution

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


def draw(stream: Stream, source: np.random.Generator, size: int) -> np.ndarray:
    """The next numbers of a stream, int64, shape (size,)."""
    if stream.sd:
        return np.floor(source.standard_normal(size) * stream.sd + 0.5).astype(np.int64)
    if stream.distribution is None:
        return draw_chances(source, size)
    return draw_durations(stream.distribution, source, size)


class Draws:
    """The numbers of one stream, one after the other, drawn ahead in blocks."""

    def __init__(self, stream: Stream, seed: int, replication: int, block: int = BLOCK) -> None:
        self._stream = stream
        self._source = generator(seed, replication, stream.owner, stream.purpose)
        self._block = block
        self._left: list[int] = []

    def next(self) -> int:
        if not self._left:
            self._left = draw(self._stream, self._source, self._block)[::-1].tolist()
        return self._left.pop()


def start_age(stop: Stoppage, every: int, seed: int, replication: int) -> int:
    """How far a stop is on its way when the run starts [parts or us]: as given, or equally likely up to `every`."""
    if stop.start_age is not None:
        return stop.start_age
    return int(generator(seed, replication, stop.owner.name, f"{stop.purpose}.age").integers(0, every))
