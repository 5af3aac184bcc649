"""Workers as threads of this process: the compiled engine lets them run side by side."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager

from linesim.study.sweeps.blocks import Block, Done, work


class Threads:
    """So many threads; see `executing.Workers`."""

    def __init__(self, pool: ThreadPoolExecutor, count: int) -> None:
        self.count = count
        self._pool, self._stopped = pool, threading.Event()

    def submit(self, block: Block) -> Future[Done]:
        return self._pool.submit(work, block, lambda: not self._stopped.is_set())

    def check(self) -> None:
        """Threads don't go away."""

    def stop(self) -> None:
        self._stopped.set()


@contextmanager
def threads(count: int) -> Iterator[Threads]:
    """So many threads, gone at the end."""
    with ThreadPoolExecutor(count, thread_name_prefix="sweep") as pool:
        yield Threads(pool, count)
