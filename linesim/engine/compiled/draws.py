"""Random numbers for the kernel: drawn ahead in blocks, a row a stream, refilled between two calls.

A row holds the column of its next number, the column from which it is called low (behind the end for a constant, whose
numbers never run out), and the numbers themselves.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from linesim.engine.contract.layout import Stream
from linesim.engine.contract.ledger import to_us
from linesim.engine.contract.records import COLUMNS, DRAWS_LOW
from linesim.engine.contract.streams import draw, generator
from linesim.line.distributions import Constant

NEXT, LOW_FROM, FIRST = range(3)
BLOCK = 1024  # and twice what one decision may use up


def next_number(floor: np.ndarray, numbers: np.ndarray, stream: int) -> int:
    """The next number of a stream; -1 where there is none."""
    if stream < 0:
        return -1
    columns = floor[COLUMNS]
    row = stream * columns
    at = numbers[row + NEXT]
    if numbers[row + LOW_FROM] <= columns:
        numbers[row + NEXT] = at + 1
        if at >= numbers[row + LOW_FROM]:
            floor[DRAWS_LOW] = 1
    return numbers[row + at]


class Blocks:
    """The rows of all streams of one replication: `numbers`, int64, shape (streams, columns)."""

    def __init__(self, streams: Sequence[Stream], seed: int, replication: int, most_at_once: int) -> None:
        """most_at_once: how many numbers of one stream a round may use up."""
        columns = FIRST + BLOCK + 2 * most_at_once
        self.numbers = np.empty((max(1, len(streams)), columns), dtype=np.int64)
        self._drawn: list[tuple[np.ndarray, Stream, np.random.Generator]] = []
        for row, stream in zip(self.numbers, streams, strict=False):
            if isinstance(stream.distribution, Constant):
                row[:FIRST] = FIRST, columns + 1
                row[FIRST:] = to_us(stream.distribution.value)
            else:
                source = generator(seed, replication, stream.owner, stream.purpose)
                row[:FIRST] = columns, columns - most_at_once
                self._drawn.append((row, stream, source))
        self.refill()

    def refill(self) -> None:
        """Fill up every row of which half is used."""
        for row, stream, source in self._drawn:
            used = int(row[NEXT])
            if used >= FIRST + BLOCK // 2:
                left = row[used:].copy()
                row[FIRST : FIRST + len(left)] = left
                row[FIRST + len(left) :] = draw(stream, source, len(row) - FIRST - len(left))
                row[NEXT] = FIRST
