"""Numbers drawn ahead for the kernel: the same ones, in the same order, however often a row is filled up."""

from __future__ import annotations

import numpy as np

from linesim.engine.compiled.draws import BLOCK, Blocks, next_number
from linesim.engine.contract import records as r
from linesim.engine.contract.layout import Stream
from linesim.engine.contract.streams import Draws
from linesim.line.distributions import Constant, Exponential

STREAMS = [
    Stream("turn", "defects", None),
    Stream("turn.1", "cycle", Constant(3.0)),
    Stream("jam", "x", Exponential(9)),
]
HOT, FIXED, RARE = range(3)
AT_ONCE = 7
SEED, REPLICATION = 1, 2


def drawn(number: int, count: int) -> list[int]:
    draws = Draws(STREAMS[number], SEED, REPLICATION)
    return [draws.next() for _ in range(count)]


def test_a_row_gives_the_numbers_of_its_stream_one_by_one_while_it_is_filled_up_again_and_again() -> None:
    blocks = Blocks(STREAMS, SEED, REPLICATION, AT_ONCE)
    floor = np.zeros(r.HEADER_SIZE, dtype=np.int64)
    floor[r.COLUMNS] = blocks.numbers.shape[1]
    found: dict[int, list[int]] = {HOT: [], FIXED: [], RARE: []}
    refills = 0
    while len(found[HOT]) < 3 * BLOCK:
        for stream, count in ((HOT, AT_ONCE), (FIXED, AT_ONCE), (RARE, 1)):  # one decision of the kernel
            found[stream] += [next_number(floor, blocks.numbers.reshape(-1), stream) for _ in range(count)]
        if floor[r.DRAWS_LOW]:
            floor[r.DRAWS_LOW] = 0
            blocks.refill()
            refills += 1
    assert refills < 9, "rows grow, so that a long run seldom comes back for more"
    for stream, numbers in found.items():
        assert numbers == drawn(stream, len(numbers))


def test_a_line_without_chance_never_asks_for_more() -> None:
    blocks = Blocks(STREAMS[FIXED : FIXED + 1], SEED, REPLICATION, AT_ONCE)
    floor = np.zeros(r.HEADER_SIZE, dtype=np.int64)
    floor[r.COLUMNS] = blocks.numbers.shape[1]
    assert {next_number(floor, blocks.numbers.reshape(-1), 0) for _ in range(3 * BLOCK)} == {3_000_000}
    assert not floor[r.DRAWS_LOW]
