"""Blocks of runs given to workers, threads or others, and what they finish kept as it comes.

Nothing here decides what is run, only when and by whom. A worker that dies takes its block with it. The block is sent
again; if it is lost again, its runs are suspects: when all else is done they run one by one with nobody beside them, so
that no run is blamed for what its neighbour did.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, wait
from typing import Any, Protocol

from linesim.study.sweeps.blocks import Block, Done, Run

BLOCK_S = 2.0  # work in a block, so that handing it over and storing it cost little beside it
LEAST_SHARE = 0.1  # of that, in the blocks at the end
MOST_RUNS = 500
MOST_TRIES = 3  # of a run whose worker died, with nobody beside it
PATIENCE_S = 0.2  # between two looks whether the user wants to stop
LAST_WAIT_S = 20.0  # for what is under way when a sweep stops
AHEAD = 2  # blocks that wait for a worker, so that none of them waits for us


class Workers(Protocol):
    """Whoever does blocks."""

    count: int

    def submit(self, block: Block) -> Future[Done]:
        """Hands a block over."""

    def check(self) -> None:
        """Raises OSError if nobody is there any more."""

    def stop(self) -> None:
        """Tells those at work to come back with what they have."""


def execute(
    runs: Iterable[Run],
    block_of: Callable[[Sequence[Run]], Block],
    workers: Workers,
    keep: Callable[[list[dict[str, Any]]], None],
    enough: Callable[[], bool] = lambda: False,
) -> None:
    """Has all runs done and gives their rows to `keep`, block by block, in any order.

    block_of: makes a block of some runs. enough: once it is true, what is under way is the last. A run whose worker
    dies three times with nobody beside it is kept with that as its error. When the user stops or something fails, what
    is under way is given up, and what it has finished is kept.
    """
    waiting, again = deque(runs), deque[Block]()
    suspects: deque[Run] = deque()
    under_way: dict[Future[Done], tuple[Block, bool]] = {}  # block, and whether it was lost before
    pace = _Pace()
    try:
        while under_way or ((waiting or again) and not enough()):
            while (waiting or again) and not enough() and len(under_way) < workers.count + AHEAD:
                second = bool(again)
                block = again.popleft() if second else block_of(_next(waiting, pace.runs(len(waiting), workers.count)))
                under_way[workers.submit(block)] = (block, second)
            for future in wait(under_way, PATIENCE_S, FIRST_COMPLETED).done:
                block, second = under_way.pop(future)
                done = _result(future, workers)
                if done is not None:
                    pace.note(done)
                    keep(done.rows)
                elif second:
                    suspects.extend(block.runs)
                else:
                    again.append(block)
            workers.check()
        for suspect in suspects if not enough() else ():
            keep(_alone(suspect, block_of, workers, under_way))
    except BaseException:
        workers.stop()
        for future in wait(under_way, LAST_WAIT_S).done:
            if not future.cancelled() and future.exception() is None and future.result().rows:
                keep(future.result().rows)
        raise


def _next(waiting: deque[Run], count: int) -> list[Run]:
    return [waiting.popleft() for _ in range(count)]


def _result(future: Future[Done], workers: Workers) -> Done | None:
    """What a block brings; None if it was lost with its worker."""
    try:
        return future.result()
    except Exception:
        workers.check()
        return None


def _alone(
    run: Run,
    block_of: Callable[[Sequence[Run]], Block],
    workers: Workers,
    under_way: dict[Future[Done], tuple[Block, bool]],
) -> list[dict[str, Any]]:
    """The row of a run that has the workers to itself."""
    block = block_of([run])
    for _ in range(MOST_TRIES):
        future = workers.submit(block)
        under_way[future] = (block, True)
        while not wait([future], PATIENCE_S).done:
            workers.check()
        del under_way[future]
        done = _result(future, workers)
        if done is not None:
            return done.rows
    return [{**run._asdict(), "error": f"its worker died with it {MOST_TRIES} times, nobody beside it"}]


class _Pace:
    """How many runs make a block of about two seconds, from how long those before took."""

    def __init__(self) -> None:
        self._runs, self._took_s = 0, 0.0

    def note(self, done: Done) -> None:
        self._runs, self._took_s = self._runs + len(done.rows), self._took_s + done.took_s

    def runs(self, left: int, workers: int) -> int:
        """At the end blocks get smaller, so that all workers end together."""
        if not self._runs:
            return 1
        fitting = max(1, int(BLOCK_S / max(self._took_s / self._runs, BLOCK_S / MOST_RUNS)))
        at_the_end = math.ceil(max(left / (2 * workers), LEAST_SHARE * fitting))
        return min(left, fitting, at_the_end)
