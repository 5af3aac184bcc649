"""One replication, window by window, the same for both engines."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from linesim.engine.contract import records as r
from linesim.engine.contract.books import Books
from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.records import Floor
from linesim.engine.contract.trace import Trace


class Shop(Protocol):
    """What an engine offers: a floor with its books, and time that goes on."""

    books: Books

    @property
    def floor(self) -> Floor: ...

    def run_until(self, time_us: int) -> None: ...


def play(
    shop: Shop,
    seed: int,
    replication: int,
    warmup_us: int,
    horizon_us: int,
    window_us: int,
    on_progress: Callable[[int], None] | None = None,
) -> tuple[Ledger, Trace | None]:
    """Run a shop from time 0 to the horizon; returns its ledger, and its trace if it keeps one."""
    for edge in window_edges(warmup_us, horizon_us, window_us):
        shop.run_until(edge)
        if edge > 0:
            shop.books.close_window()
        if edge == warmup_us:
            shop.books.start_measuring()
        if on_progress is not None:
            on_progress(edge)
    ledger = shop.books.ledger(seed, replication, warmup_us, window_us)
    return ledger, shop.books.trace() if shop.floor[r.TRACING] else None


def window_edges(warmup_us: int, horizon_us: int, window_us: int) -> list[int]:
    """Ends of the output windows [us]: full ones from the end of the warm-up on; the last before it may be cut."""
    before = range(window_us, warmup_us, window_us)
    after = range(warmup_us + window_us, horizon_us, window_us)
    return [*before, warmup_us, *after, horizon_us]
