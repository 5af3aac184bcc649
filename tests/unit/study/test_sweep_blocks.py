"""How runs of a sweep are cut into blocks for workers."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Future
from typing import Any

from linesim.study.sweeps.blocks import Block, Done, Run, Times
from linesim.study.sweeps.executing import BLOCK_S, LEAST_SHARE, execute

RUN_S = 1 / 128
FULL = int(BLOCK_S / RUN_S)


class Punctual:
    """Two workers who do a block in an instant and say that each run took them RUN_S."""

    count = 2

    def __init__(self) -> None:
        self.blocks: list[int] = []

    def submit(self, block: Block) -> Future[Done]:
        self.blocks.append(len(block.runs))
        future: Future[Done] = Future()
        future.set_result(Done([run._asdict() for run in block.runs], len(block.runs) * RUN_S))
        return future

    def check(self) -> None:
        pass

    def stop(self) -> None:
        pass


def block_of(runs: Sequence[Run]) -> Block:
    return Block(runs, {}, Times(0, 1, 1), 1, "compiled")


def test_blocks_take_about_two_seconds_and_get_smaller_at_the_end_but_not_tiny() -> None:
    workers, kept = Punctual(), list[dict[str, Any]]()
    runs = [Run(point, replication) for point in range(1, 401) for replication in range(1, 6)]
    execute(runs, block_of, workers, kept.extend)
    assert sorted((row["point"], row["replication"]) for row in kept) == runs, "every run once"
    known = workers.blocks[4:]  # two at work and two that wait begin before anybody knows how long a run takes
    assert set(workers.blocks[:4]) == {1}
    assert max(known) == known[0] == FULL
    assert known == sorted(known, reverse=True)
    assert min(known[:-1]) >= LEAST_SHARE * FULL, "but for what is left at last"


def test_long_runs_go_one_by_one() -> None:
    class Slow(Punctual):
        def submit(self, block: Block) -> Future[Done]:
            self.blocks.append(len(block.runs))
            future: Future[Done] = Future()
            future.set_result(Done([run._asdict() for run in block.runs], 60.0 * len(block.runs)))
            return future

    workers, kept = Slow(), list[dict[str, Any]]()
    execute([Run(1, number) for number in range(1, 10)], block_of, workers, kept.extend)
    assert workers.blocks == [1] * 9
