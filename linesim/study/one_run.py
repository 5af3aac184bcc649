"""One replication of a line on the engine that was chosen, and the seed of a study that was given none."""

from __future__ import annotations

import secrets
from collections.abc import Callable

from linesim.engine.contract import Ledger, Trace
from linesim.line import Line

Run = tuple[Ledger, Trace | None]


def drawn_seed() -> int:
    """A seed for a study that was given none; short enough to be copied by hand."""
    return secrets.randbelow(10**6)


def run_once(
    engine: str,
    line: Line,
    seed: int,
    replication: int,
    warmup_us: int,
    horizon_us: int,
    window_us: int,
    trace: bool = False,
    on_progress: Callable[[int], None] | None = None,
) -> Run:
    """One replication on "simpy" or "compiled"; times in whole microseconds. `on_progress` gets the time reached."""
    run = _compiled() if engine == "compiled" else _readable()
    return run(line, seed, replication, warmup_us, horizon_us, window_us, trace, on_progress)


def _readable() -> Callable[..., Run]:
    from linesim.engine.simpy import run

    return run


def _compiled() -> Callable[..., Run]:
    from linesim.engine.compiled import run

    return run
