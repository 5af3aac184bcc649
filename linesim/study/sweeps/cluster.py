"""Workers in processes of their own, on this machine or many: the only file that knows Dask."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import re
import time
from collections.abc import Iterator
from concurrent.futures import Future
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from weakref import WeakSet

from linesim.line import LineError, Problem
from linesim.study.sweeps.blocks import Block, Done, work

LOCAL = "local"
WAIT_S = 60.0  # for a first worker, and for another when all are gone
ADDRESS = r"(\w+://)?[^/]+:\d+/?"
LOGS = ("distributed", "distributed.client")


class DaskWorkers:
    """The workers of a Dask client; see `executing.Workers`."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._sent: WeakSet[Any] = WeakSet()  # what Dask holds of each block
        self._seen_s = time.monotonic()
        self.count = sum(client.nthreads().values())

    def submit(self, block: Block) -> Future[Done]:
        sent, future = self._client.submit(work, block, pure=False, retries=0), Future[Done]()
        self._sent.add(sent)
        self._client.loop.add_callback(_hand_on, sent, future)
        return future

    def check(self) -> None:
        try:
            there = self._client.status == "running" and len(self._client.nthreads())
        except Exception:  # whatever a connection that breaks just now may raise
            there = False
        if there is False:
            raise ConnectionError("the scheduler of the cluster is gone")
        if there:
            self._seen_s = time.monotonic()
        elif time.monotonic() - self._seen_s > WAIT_S:
            raise ConnectionError(f"no worker of the cluster has been there for {WAIT_S:.0f} s")

    def stop(self) -> None:
        """What is under way can't be reached; it is run again when the sweep goes on."""
        with contextlib.suppress(Exception):  # the connection may be what failed
            self._client.cancel(list(self._sent))


async def _hand_on(sent: Any, future: Future[Done]) -> None:
    """Gives a future whatever comes of a block.

    Dask's own executor forgets a block whose result is lost with its worker and whose second try is lost, too; whoever
    waits for that one waits for ever.
    """
    try:
        done = await sent
    except asyncio.CancelledError:  # Dask ends
        future.cancel()
        future.set_running_or_notify_cancel()
        raise
    except Exception as error:
        future.set_exception(error)
    else:
        future.set_result(done)


@contextmanager
def cluster(where: str, count: int) -> Iterator[DaskWorkers]:
    """The workers of a cluster, connected.

    where: "local" for so many processes of this machine, the address of a Dask scheduler (tcp://host:8786), or the path
    of its scheduler file. Raises LineError if Dask is not installed or no worker answers within a minute.
    """
    try:
        import dask
        from distributed import Client, LocalCluster
    except ImportError:
        fix = "install it with: pip install 'linesim[cluster]', or leave cluster out for threads of this machine"
        raise LineError([Problem("cluster", where, "needs Dask, which is not installed", fix)], "the sweep") from None
    if where != LOCAL and not Path(where).is_file() and not re.fullmatch(ADDRESS, where):
        rule, fix = "is neither local, nor an address, nor a file", "look where the scheduler has written its file"
        raise LineError([Problem("cluster", where, rule, fix)], "the sweep")
    with _quiet(), contextlib.ExitStack() as opened:
        try:
            if where == LOCAL:
                with dask.config.set({"distributed.scheduler.allowed-failures": 0}):  # whose fault it was, we find out
                    own = LocalCluster(n_workers=count, threads_per_worker=1, dashboard_address=None)
                target: dict[str, Any] = {"address": opened.enter_context(contextlib.closing(own))}
            else:
                target = {"scheduler_file" if Path(where).is_file() else "address": where}
            client = Client(**target, timeout=WAIT_S, set_as_default=False)
            opened.enter_context(contextlib.closing(client))
            client.wait_for_workers(1, timeout=WAIT_S)
        except (OSError, TimeoutError, ValueError) as error:
            fix = "start a scheduler and workers, or write cluster=local"
            raise LineError([Problem("cluster", where, f"no worker answers ({error})", fix)], "the sweep") from None
        yield DaskWorkers(client)


@contextmanager
def _quiet() -> Iterator[None]:
    """What we tell in our words, Dask does not tell before us in pages."""
    levels = {name: logging.getLogger(name).level for name in LOGS}
    try:
        for name in LOGS:
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)
        yield
    finally:
        for name, level in levels.items():
            logging.getLogger(name).setLevel(level)
