"""Random numbers for the kernel: drawn ahead in blocks, a row a stream, refilled between two calls.

A row holds the column of its next number, the column from which it is called low (behind the end for a constant, whose
numbers never run out), and the numbers themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from linesim.engine.contract.layout import Stream
from linesim.engine.contract.ledger import to_us
from linesim.engine.contract.records import COLUMNS, DRAWS_LOW
from linesim.engine.contract.streams import draw, generator
from linesim.line.distributions import Constant

NEXT, LOW_FROM, FIRST = range(3)
BLOCK = 4096  # a row holds so many, and twice what one decision may use up
FIRST_BLOCK = 512  # most streams of a short run need no more; each filling brings four times the one before
GROWS = 4


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


@dataclass
class _Drawn:
    """A row with chance in it. block: numbers that it was last filled up to."""

    row: np.ndarray
    stream: Stream
    source: np.random.Generator
    block: int = FIRST_BLOCK // GROWS


class Blocks:
    """The rows of all streams of one replication: `numbers`, int64, shape (streams, columns)."""

    def __init__(self, streams: Sequence[Stream], seed: int, replication: int, most_at_once: int) -> None:
        """most_at_once: how many numbers of one stream a round may use up."""
        self._spare = 2 * most_at_once
        columns = FIRST + BLOCK + self._spare
        self.numbers = np.empty((max(1, len(streams)), columns), dtype=np.int64)
        self._drawn: list[_Drawn] = []
        for row, stream in zip(self.numbers, streams, strict=False):
            if isinstance(stream.distribution, Constant):
                row[:FIRST] = FIRST, columns + 1
                row[FIRST:] = to_us(stream.distribution.value)
            else:
                row[:FIRST] = columns, columns - most_at_once
                self._drawn.append(_Drawn(row, stream, generator(seed, replication, stream.owner, stream.purpose)))
        self.refill()

    def refill(self) -> None:
        """Fill up every row of which half is used; what is left stands before what is new, at the end of the row."""
        for drawn in self._drawn:
            row = drawn.row
            if len(row) - row[NEXT] <= drawn.block // 2 + self._spare:
                left = row[row[NEXT] :].copy()
                drawn.block = min(GROWS * drawn.block, BLOCK)
                first = len(row) - drawn.block - self._spare
                row[NEXT] = first
                row[first : first + len(left)] = left
                row[first + len(left) :] = draw(drawn.stream, drawn.source, len(row) - first - len(left))
