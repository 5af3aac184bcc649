"""One replication of a line, from empty to the horizon."""

from __future__ import annotations

from collections.abc import Callable

from linesim.engine.contract.layout import lay_out
from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.trace import Trace
from linesim.engine.simpy.shop import Shop
from linesim.line.model import Line


def run(
    line: Line,
    seed: int,
    replication: int,
    warmup_us: int,
    horizon_us: int,
    window_us: int,
    trace: bool = False,
    on_progress: Callable[[int], None] | None = None,
    look_everywhere: bool = False,
) -> tuple[Ledger, Trace | None]:
    """Run a line and return its ledger, and its trace if wanted.

    warmup_us, horizon_us, window_us: end of the warm-up, end of the run, length of an output window [us].
    on_progress is called with the time reached at each window's end [us].
    look_everywhere: decide by looking at the whole line each time; slow, and must give the same trace.
    Raises: LockUp when the line can go no further.
    """
    shop = Shop(lay_out(line), seed, replication, trace, look_everywhere)
    for edge in window_edges(warmup_us, horizon_us, window_us):
        shop.run_until(edge)
        if edge > 0:
            shop.books.close_window()
        if edge == warmup_us:
            shop.books.start_measuring()
        if on_progress is not None:
            on_progress(edge)
    ledger = shop.books.ledger(seed, replication, warmup_us, window_us, shop.events)
    return ledger, shop.books.trace() if trace else None


def window_edges(warmup_us: int, horizon_us: int, window_us: int) -> list[int]:
    """Ends of the output windows [us]: full ones from the end of the warm-up on; the last before it may be cut."""
    before = range(window_us, warmup_us, window_us)
    after = range(warmup_us + window_us, horizon_us, window_us)
    return [*before, warmup_us, *after, horizon_us]
