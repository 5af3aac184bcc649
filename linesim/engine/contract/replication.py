"""One replication, stretch by stretch, the same for both engines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from linesim.engine.contract import records as r
from linesim.engine.contract.books import Books
from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.records import Floor
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace

MOST_STRETCHES = 100  # behind the warm-up


class Shop(Protocol):
    """What an engine offers: a floor with its books, and time that goes on.

    shortest_stretch_us: how long it should at least go on before it tells how far it is.
    """

    books: Books
    shortest_stretch_us: int

    @property
    def floor(self) -> Floor: ...

    def run_until(self, time_us: int) -> None: ...


def play(
    shop: Shop,
    seed: int,
    replication: int,
    times: Times,
    on_progress: Callable[[int], None] | None = None,
) -> tuple[Ledger, Trace | None]:
    """Run a shop from time 0 to the horizon; returns its ledger, and its trace if it keeps one."""
    shop.books.begin(times.window_us)
    for time_us in stretches(times.warmup_us, times.horizon_us, shop.shortest_stretch_us):
        shop.run_until(time_us)
        if time_us == times.warmup_us:
            shop.books.start_measuring()
        if on_progress is not None:
            on_progress(time_us)
    ledger = shop.books.ledger(seed, replication, times.warmup_us, times.window_us)
    return ledger, shop.books.trace() if shop.floor[r.TRACING] else None


def stretches(warmup_us: int, horizon_us: int, shortest_us: int) -> list[int]:
    """Ends of the stretches after which an engine tells how far it is [us]: the warm-up, and a hundred equal ones
    behind it, or fewer if they were shorter than `shortest_us`."""
    count = min(MOST_STRETCHES, max(1, (horizon_us - warmup_us) // shortest_us))
    ends = (warmup_us + (horizon_us - warmup_us) * n // count for n in range(count + 1))
    return sorted(set(ends))
