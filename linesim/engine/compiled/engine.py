"""One replication of a line, on the compiled kernel."""

from __future__ import annotations

from collections.abc import Callable

from linesim.engine.compiled.shop import Shop
from linesim.engine.contract.layout import laid_out
from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.replication import play
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.line.model import Line


def run(
    line: Line,
    seed: int,
    replication: int,
    times: Times,
    trace: bool = False,
    on_progress: Callable[[int], None] | None = None,
    look_everywhere: bool = False,
) -> tuple[Ledger, Trace | None]:
    """As the readable engine's `run`, with the same result.

    on_progress is called with the time reached [us]: at the end of the warm-up and, behind it, each simulated week or a
    hundred times.
    look_everywhere: decide by looking at the whole line each time; slow, and must give the same trace.
    Raises: LockUp when the line can go no further.
    """
    shop = Shop(laid_out(line), seed, replication, trace, look_everywhere)
    return play(shop, seed, replication, times, on_progress)
