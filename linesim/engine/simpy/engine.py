"""One replication of a line, told by SimPy processes."""

from __future__ import annotations

from collections.abc import Callable

from linesim.engine.contract.layout import laid_out
from linesim.engine.contract.ledger import Ledger
from linesim.engine.contract.replication import play
from linesim.engine.contract.times import Times
from linesim.engine.contract.trace import Trace
from linesim.engine.simpy.shop import Shop
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
    """Run a line and return its ledger, and its trace if wanted.

    on_progress is called with the time reached [us], a hundred times and at the end of the warm-up.
    look_everywhere: decide by looking at the whole line each time; slow, and must give the same trace.
    Raises: LockUp when the line can go no further.
    """
    shop = Shop(laid_out(line), seed, replication, trace, look_everywhere)
    return play(shop, seed, replication, times, on_progress)
